"""Segment masses, centres and lengths of a man or woman of any size.

The table is de Leva's (1996) adjustment of the gamma-scan figures of living young adults; limb rows are for one limb.
A `Body` scales its lengths with stature and its masses with body mass.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, get_args

from subgraph.errors import RangeError, UnknownNameError

__all__ = ["ALTERNATIVE_ENDS", "MEAN_SUBJECT", "SEGMENTS", "Body", "Dimensions", "Segment", "Sex", "dimensions"]

Sex = Literal["male", "female"]
STATURE_RANGE_M = (1.2, 2.3)
MASS_RANGE_KG = (25.0, 250.0)


@dataclass(frozen=True, slots=True)
class Segment:
    """One row of the segment table.

    Parameters
    ----------
    mass_fraction : float
        Mass of the segment [fraction of body mass].
    com_fraction : float
        Centre of mass from the first end point [fraction of length].
    length_mm : float
        Length between the end points, mean subject [mm].
    start, end : str
        First and second end point.
    """

    mass_fraction: float
    com_fraction: float
    length_mm: float
    start: str
    end: str


# de Leva (1996), table 4 (evidence ids deleva_male_*, deleva_female_*). Fractions: seen in a transcription (secondary).
# Lengths: male trunk, head, thigh, shank and foot seen (secondary), the rest from memory; where a segment has a second
# pair of end points the remembered length was proved against the seen fractions (evidence deleva_length_consistency).
SEGMENTS: dict[Sex, dict[str, Segment]] = {
    "male": {
        "head": Segment(0.0694, 0.5976, 203.3, "VERT", "MIDG"),
        "trunk": Segment(0.4346, 0.4486, 531.9, "SUPR", "MIDH"),
        "upper_trunk": Segment(0.1596, 0.2999, 170.7, "SUPR", "XYPH"),
        "middle_trunk": Segment(0.1633, 0.4502, 215.5, "XYPH", "OMPH"),
        "lower_trunk": Segment(0.1117, 0.6115, 145.7, "OMPH", "MIDH"),
        "upper_arm": Segment(0.0271, 0.5772, 281.7, "SJC", "EJC"),
        "forearm": Segment(0.0162, 0.4574, 268.9, "EJC", "WJC"),
        "hand": Segment(0.0061, 0.7900, 86.2, "WJC", "MET3"),
        "thigh": Segment(0.1416, 0.4095, 422.2, "HJC", "KJC"),
        "shank": Segment(0.0433, 0.4459, 434.0, "KJC", "LMAL"),
        "foot": Segment(0.0137, 0.4415, 258.1, "HEEL", "TTIP"),
    },
    "female": {
        "head": Segment(0.0668, 0.5894, 200.2, "VERT", "MIDG"),
        "trunk": Segment(0.4257, 0.4151, 529.3, "SUPR", "MIDH"),
        "upper_trunk": Segment(0.1545, 0.2077, 142.5, "SUPR", "XYPH"),
        "middle_trunk": Segment(0.1465, 0.4512, 205.3, "XYPH", "OMPH"),
        "lower_trunk": Segment(0.1247, 0.4920, 181.5, "OMPH", "MIDH"),
        "upper_arm": Segment(0.0255, 0.5754, 275.1, "SJC", "EJC"),
        "forearm": Segment(0.0138, 0.4559, 264.3, "EJC", "WJC"),
        "hand": Segment(0.0056, 0.7474, 78.0, "WJC", "MET3"),
        "thigh": Segment(0.1478, 0.3612, 368.5, "HJC", "KJC"),
        "shank": Segment(0.0481, 0.4416, 432.3, "KJC", "LMAL"),
        "foot": Segment(0.0129, 0.4014, 228.3, "HEEL", "TTIP"),
    },
}

# The same segments between other end points (same table; evidence deleva_male_alternative_ends and the female twin).
ALTERNATIVE_ENDS: dict[Sex, tuple[tuple[str, Segment], ...]] = {
    "male": (
        ("head", Segment(0.0694, 0.5002, 242.9, "VERT", "CERV")),
        ("trunk", Segment(0.4346, 0.5138, 603.3, "CERV", "MIDH")),
        ("trunk", Segment(0.4346, 0.4310, 515.5, "MIDS", "MIDH")),
        ("upper_trunk", Segment(0.1596, 0.5066, 242.1, "CERV", "XYPH")),
        ("forearm", Segment(0.0162, 0.4608, 266.9, "EJC", "STYL")),
        ("hand", Segment(0.0061, 0.3624, 187.9, "WJC", "DAC3")),
        ("hand", Segment(0.0061, 0.3691, 189.9, "STYL", "DAC3")),
        ("hand", Segment(0.0061, 0.7948, 88.2, "STYL", "MET3")),
        ("shank", Segment(0.0433, 0.4395, 440.3, "KJC", "AJC")),
        ("shank", Segment(0.0433, 0.4524, 427.7, "KJC", "SPHY")),
    ),
    "female": (
        ("head", Segment(0.0668, 0.4841, 243.7, "VERT", "CERV")),
        ("trunk", Segment(0.4257, 0.4964, 614.8, "CERV", "MIDH")),
        ("trunk", Segment(0.4257, 0.3782, 497.9, "MIDS", "MIDH")),
        ("upper_trunk", Segment(0.1545, 0.5050, 228.0, "CERV", "XYPH")),
        ("forearm", Segment(0.0138, 0.4592, 262.4, "EJC", "STYL")),
        ("hand", Segment(0.0056, 0.3427, 170.1, "WJC", "DAC3")),
        ("hand", Segment(0.0056, 0.3502, 172.0, "STYL", "DAC3")),
        ("hand", Segment(0.0056, 0.7534, 79.9, "STYL", "MET3")),
        ("shank", Segment(0.0481, 0.4352, 438.6, "KJC", "AJC")),
        ("shank", Segment(0.0481, 0.4481, 426.0, "KJC", "SPHY")),
    ),
}

# Stature [m] and mass [kg] of the mean subject (evidence deleva_sample; male stature secondary, the rest memory).
MEAN_SUBJECT: dict[Sex, tuple[float, float]] = {"male": (1.741, 73.0), "female": (1.735, 61.9)}

# Drillis and Contini (1966): height of the ankle over the sole (evidence drillis_heights; seen: memory).
ANKLE_HEIGHT_OF_STATURE = 0.039
# Where ankle and ball lie along the foot, from the heel. Seen: memory, no evidence entry; moving either by 0.05 of the
# foot moves the share on the hands of a flat push-up by less than 0.01.
ANKLE_OF_FOOT = 0.25
BALL_OF_FOOT = 0.73


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Lengths of one body between joint centres.

    Parameters
    ----------
    lower_trunk_m, shoulder_m, neck_m, vertex_m : float
        Distance from the hip along the trunk to navel level, shoulder, seventh neck vertebra and top of the head [m].
    lower_trunk_com_m, thorax_com_m, head_com_m : float
        Distance from the hip to the centres of mass of the trunk below the navel, the trunk above it and the head [m].
    upper_arm_m, forearm_m, grip_m : float
        Shoulder to elbow, elbow to wrist, wrist to third knuckle [m].
    thigh_m, shank_m : float
        Hip to knee, knee to ankle [m].
    ankle_height_m, ankle_to_heel_m, ankle_to_ball_m : float
        Ankle over the sole; heel behind and ball of the foot before the ankle, along the sole [m].
    ankle_to_toe_m, ankle_to_foot_com_m : float
        Toe tip and centre of mass of the foot before the ankle, along the sole [m].
    upper_arm_com_m, forearm_com_m, hand_com_m, thigh_com_m, shank_com_m : float
        Centres of mass of the limb segments from their upper joint [m].
    """

    lower_trunk_m: float
    shoulder_m: float
    neck_m: float
    vertex_m: float
    lower_trunk_com_m: float
    thorax_com_m: float
    head_com_m: float
    upper_arm_m: float
    forearm_m: float
    grip_m: float
    thigh_m: float
    shank_m: float
    ankle_height_m: float
    ankle_to_heel_m: float
    ankle_to_ball_m: float
    ankle_to_toe_m: float
    ankle_to_foot_com_m: float
    upper_arm_com_m: float
    forearm_com_m: float
    hand_com_m: float
    thigh_com_m: float
    shank_com_m: float


@lru_cache(maxsize=256)
def dimensions(sex: Sex, stature_m: float) -> Dimensions:
    """Scale the table to a stature.

    Parameters
    ----------
    sex : {'male', 'female'}
        Which half of the table.
    stature_m : float
        Standing height [m].

    Returns
    -------
    Dimensions
        Lengths between joint centres [m].

    Notes
    -----
    All lengths are in fixed proportion to stature. The head ends where the stature does: in the table the stack of
    lengths is 36 mm (man) taller than the subject, because the seventh neck vertebra lies behind and the head tilts.

    Examples
    --------
    >>> round(dimensions("male", 1.741).thigh_m, 4)
    0.4222

    References
    ----------
    de Leva (1996), table 4 [deleva_1996]. Drillis and Contini (1966), ankle height [drillis_contini_1966].
    """
    table = SEGMENTS[sex]
    between = {(name, s.start, s.end): s for name, s in ALTERNATIVE_ENDS[sex]}
    mean_mm = MEAN_SUBJECT[sex][0] * 1000
    scale = stature_m / mean_mm
    ankle = ANKLE_HEIGHT_OF_STATURE * mean_mm
    shank = between["shank", "KJC", "AJC"]
    low, mid, up = table["lower_trunk"], table["middle_trunk"], table["upper_trunk"]
    mid_com = low.length_mm + (1 - mid.com_fraction) * mid.length_mm
    up_com = low.length_mm + mid.length_mm + (1 - up.com_fraction) * up.length_mm
    thorax = (mid.mass_fraction * mid_com + up.mass_fraction * up_com) / (mid.mass_fraction + up.mass_fraction)
    vertex = mean_mm - ankle - shank.length_mm - table["thigh"].length_mm
    head = between["head", "VERT", "CERV"]
    foot = table["foot"]
    return Dimensions(
        lower_trunk_m=low.length_mm * scale,
        shoulder_m=between["trunk", "MIDS", "MIDH"].length_mm * scale,
        neck_m=between["trunk", "CERV", "MIDH"].length_mm * scale,
        vertex_m=vertex * scale,
        lower_trunk_com_m=(1 - low.com_fraction) * low.length_mm * scale,
        thorax_com_m=thorax * scale,
        head_com_m=(vertex - head.com_fraction * head.length_mm) * scale,
        upper_arm_m=table["upper_arm"].length_mm * scale,
        forearm_m=table["forearm"].length_mm * scale,
        grip_m=table["hand"].length_mm * scale,
        thigh_m=table["thigh"].length_mm * scale,
        shank_m=shank.length_mm * scale,
        ankle_height_m=ankle * scale,
        ankle_to_heel_m=ANKLE_OF_FOOT * foot.length_mm * scale,
        ankle_to_ball_m=(BALL_OF_FOOT - ANKLE_OF_FOOT) * foot.length_mm * scale,
        ankle_to_toe_m=(1 - ANKLE_OF_FOOT) * foot.length_mm * scale,
        ankle_to_foot_com_m=(foot.com_fraction - ANKLE_OF_FOOT) * foot.length_mm * scale,
        upper_arm_com_m=_com_mm(table["upper_arm"]) * scale,
        forearm_com_m=_com_mm(table["forearm"]) * scale,
        hand_com_m=_com_mm(table["hand"]) * scale,
        thigh_com_m=_com_mm(table["thigh"]) * scale,
        shank_com_m=_com_mm(shank) * scale,
    )


@dataclass(frozen=True, slots=True)
class Body:
    """A person as rigid segments in one plane, left and right together.

    Parameters
    ----------
    sex : {'male', 'female'}
        Which half of the segment table.
    stature_m : float
        Standing height [m], 1.2 to 2.3.
    mass_kg : float
        Body mass [kg], 25 to 250.

    Raises
    ------
    RangeError
        If stature or mass lies outside its range or is not a number; the message names the range.
    UnknownNameError
        If `sex` is neither of the two.

    Notes
    -----
    Fractions are those of lean young adults (100 men, 15 women); a heavy belly moves the trunk's centre of mass and is
    not represented. Other tables give the thigh up to 40 % less mass (evidence bsp_contradiction_thigh).

    Examples
    --------
    >>> Body("female", 1.65, 60).mass_kg
    60
    >>> Body("male", 5.0, 80)
    Traceback (most recent call last):
    ...
    subgraph.errors.RangeError: stature is 5 m; the accepted range is 1.2 to 2.3 m

    References
    ----------
    de Leva (1996), table 4 [deleva_1996].
    """

    sex: Sex
    stature_m: float
    mass_kg: float

    def __post_init__(self) -> None:
        if self.sex not in get_args(Sex):
            raise UnknownNameError(
                f"no segment table is called {self.sex!r}", mend="use one of male, female", nearest=get_args(Sex)
            )
        RangeError.check("stature", self.stature_m, *STATURE_RANGE_M, "m")
        RangeError.check("body mass", self.mass_kg, *MASS_RANGE_KG, "kg")

    @classmethod
    def mean(cls, sex: Sex) -> Body:
        """Give the mean subject of the segment table.

        Parameters
        ----------
        sex : {'male', 'female'}
            Which half of the table.

        Returns
        -------
        Body
            1.741 m and 73.0 kg (man), 1.735 m and 61.9 kg (woman).
        """
        return cls(sex, *MEAN_SUBJECT[sex])

    @property
    def dimensions(self) -> Dimensions:
        """Lengths between joint centres [m]."""
        return dimensions(self.sex, self.stature_m)

    def fraction(self, segment: str) -> float:
        """Share of body mass in a segment, both sides together where there are two.

        Parameters
        ----------
        segment : str
            Name of a row of the table, such as `thigh`.

        Returns
        -------
        float
            Mass [fraction of body mass].

        Examples
        --------
        >>> Body.mean("male").fraction("thigh")
        0.2832
        """
        row = SEGMENTS[self.sex].get(segment)
        if row is None:
            raise UnknownNameError(
                f"no segment is called {segment!r}", mend=f"use one of {', '.join(SEGMENTS['male'])}"
            )
        return row.mass_fraction * (2 if segment in _PAIRED else 1)


_PAIRED = frozenset({"upper_arm", "forearm", "hand", "thigh", "shank", "foot"})


def _com_mm(segment: Segment) -> float:
    return segment.com_fraction * segment.length_mm
