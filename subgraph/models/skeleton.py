"""Where the joints and the segment masses of a body lie in a posture.

Coordinates are metres in the sagittal plane: x towards the side that an upright person faces, y up, origin on the
floor below the anchoring contact.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from subgraph.errors import AskError, RangeError
from subgraph.models.body import Body, Dimensions
from subgraph.models.posture import ANGLE_RANGES_DEG, Contact, Posture

__all__ = ["LoadAt", "Mass", "Point", "Skeleton", "centre_of_mass", "masses", "segment_positions"]

LoadAt = Literal["hands", "shoulders"]
LOAD_RANGE_KG = (0.0, 500.0)
# Shoulder centre over what the body lies on, share of stature: the lying centre of mass in the evidence note
# burpee_com_travel (derived there, about 0.06).
LYING_HEIGHT_OF_STATURE = 0.06


class Point(NamedTuple):
    """A place in the sagittal plane [m]."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Skeleton:
    """Joint centres and landmarks of a posture, left and right falling together.

    Parameters
    ----------
    trunk_deg : float
        Direction from hip to shoulder after the body was turned to its contacts [deg].
    vertex, neck, shoulder, elbow, wrist, grip, lumbar, hip, knee, ankle, heel, ball, toe : Point
        Places [m]; `lumbar` is the trunk's axis at navel level, about the fourth lumbar vertebra; `grip` the third
        knuckle; `ball` the ball of the foot.
    ankle_height_m : float
        Ankle over the sole, and radius of the heel [m].
    centres : tuple of Point
        Centres of mass of head, thorax, lower trunk, upper arm, forearm, hand, thigh, shank, foot [m].
    """

    trunk_deg: float
    vertex: Point
    neck: Point
    shoulder: Point
    elbow: Point
    wrist: Point
    grip: Point
    lumbar: Point
    hip: Point
    knee: Point
    ankle: Point
    heel: Point
    ball: Point
    toe: Point
    ankle_height_m: float
    centres: tuple[Point, ...]

    def contact(self, name: Contact) -> Point:
        """Give the place where a contact carries.

        Parameters
        ----------
        name : str
            A contact of `Posture`.

        Returns
        -------
        Point
            Joint centre or landmark [m]. Feet carry on the lower of the ball and the heel, taken as round about the
            ankle, so that a level sole or raised toes carry under the ankle.
        """
        if name == "feet":
            under = Point(self.ankle.x, self.ankle.y - self.ankle_height_m)
            return self.ball if self.ball.y < under.y - 1e-9 else under
        places = {"hang": self.grip, "hands": self.wrist, "elbows": self.elbow, "trunk": self.shoulder}
        return (places | {"seat": self.hip, "knees": self.knee})[name]


_PLACES = tuple(f.name for f in fields(Skeleton) if f.name not in ("trunk_deg", "ankle_height_m", "centres"))


class Mass(NamedTuple):
    """A point mass.

    Parameters
    ----------
    link : int
        Place in the chain: 0 arms, 1 head and thorax, 2 lower trunk, 3 thighs, 4 shanks and feet.
    share : float
        Mass [fraction of body mass].
    x, y : float
        Place [m].
    """

    link: int
    share: float
    x: float
    y: float


_PARTS: tuple[tuple[int, tuple[str, ...]], ...] = (
    (1, ("head",)),
    (1, ("middle_trunk", "upper_trunk")),
    (2, ("lower_trunk",)),
    (0, ("upper_arm",)),
    (0, ("forearm",)),
    (0, ("hand",)),
    (3, ("thigh",)),
    (4, ("shank",)),
    (4, ("foot",)),
)


@lru_cache(maxsize=4096)
def segment_positions(body: Body, posture: Posture) -> Skeleton:
    """Place the joints and segment centres of a body.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        Joint angles and contacts.

    Returns
    -------
    Skeleton
        Joint centres and landmarks [m].

    Raises
    ------
    RangeError
        If the hands can't reach their height, or the ankle can't keep the sole level; the message names the range.

    Notes
    -----
    Rigid segments, straight spine, no shoulder-blade travel. Joint centres of knees, elbows and wrists lie on what they
    rest on, the hips of a sitter too; the shoulders of a body that lies (contact `trunk` alone) 0.06 of stature above.
    Spreading the arms or legs sideways can't be told.

    Examples
    --------
    >>> round(segment_positions(Body.mean("male"), Posture(trunk_deg=90)).vertex.y, 3)  # standing: the stature
    1.741
    """
    turn = _turn_to_contacts(body, posture) if len(posture.supports) == 2 else posture.trunk_deg
    raw = _unanchored(body, posture, turn)
    if posture.ankle_deg is None and "feet" in posture.supports:
        ankle = _wrap(-90 - (turn - 180 + posture.hip_deg - posture.knee_deg))
        low, high = ANGLE_RANGES_DEG["ankle_deg"]
        if not low <= ankle <= high:
            mend = "give ankle_deg, so that heel or ball carries"
            raise RangeError("the ankle angle that keeps the sole level", ankle, low, high, "deg", mend=mend)
    name, height = _anchor(body, posture)
    at = raw.contact(name)
    return _moved(raw, -at.x, height - at.y)


def masses(body: Body, posture: Posture, *, load_kg: float = 0.0, load_at: LoadAt = "hands") -> tuple[Mass, ...]:
    """List the segment masses with their places, and the load.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        How held.
    load_kg : float
        External load, both hands together [kg], 0 to 500.
    load_at : {'hands', 'shoulders'}
        Where the load acts: the third knuckles, or the shoulder centres.

    Returns
    -------
    tuple of Mass
        Shares of body mass with places [m]; the shares of the segments add up to one.
    """
    RangeError.check("load", load_kg, *LOAD_RANGE_KG, "kg")
    if load_at not in ("hands", "shoulders"):
        raise AskError(f"load_at is {load_at!r}", mend="use one of hands, shoulders")
    frame = segment_positions(body, posture)
    total = sum(body.fraction(n) for _, names in _PARTS for n in names)  # 0.9999 for women: the table's rounding
    parts = [
        Mass(link, sum(body.fraction(n) for n in names) / total, *at)
        for (link, names), at in zip(_PARTS, frame.centres, strict=True)
    ]
    if load_kg:
        link, at = (0, frame.grip) if load_at == "hands" else (1, frame.shoulder)
        parts.append(Mass(link, load_kg / body.mass_kg, *at))
    return tuple(parts)


def centre_of_mass(body: Body, posture: Posture, *, load_kg: float = 0.0, load_at: LoadAt = "hands") -> Point:
    """Find the centre of mass of the body, with the load where there is one.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        How held.
    load_kg : float
        External load [kg].
    load_at : {'hands', 'shoulders'}
        Where the load acts.

    Returns
    -------
    Point
        Centre of mass [m].

    Notes
    -----
    Standing with hanging arms it lies at 0.574 (man) and 0.554 (woman) of stature; balance boards gave 0.562 and 0.554
    (seen: memory). Root-mean-square miss 0.024 of stature (`mechanics.COM_HEIGHT_SIGMA`).

    Examples
    --------
    >>> man = Body.mean("male")
    >>> round(centre_of_mass(man, Posture(trunk_deg=90)).y / man.stature_m, 2)  # published 0.56 to 0.57
    0.57

    References
    ----------
    de Leva (1996), table 4 [deleva_1996]. Croskey et al. (1922) [croskey_1922].
    """
    parts = masses(body, posture, load_kg=load_kg, load_at=load_at)
    whole = sum(p.share for p in parts)
    return Point(sum(p.share * p.x for p in parts) / whole, sum(p.share * p.y for p in parts) / whole)


def _wrap(deg: float) -> float:
    return (deg + 180) % 360 - 180


def _go(start: Point, deg: float, length: float) -> Point:
    angle = math.radians(deg)
    return Point(start.x + length * math.cos(angle), start.y + length * math.sin(angle))


def _moved(s: Skeleton, dx: float, dy: float) -> Skeleton:
    points: dict[str, Any] = {name: Point(at.x + dx, at.y + dy) for name in _PLACES for at in (getattr(s, name),)}
    return replace(s, **points, centres=tuple(Point(p.x + dx, p.y + dy) for p in s.centres))


def _unanchored(body: Body, posture: Posture, trunk: float) -> Skeleton:
    d: Dimensions = body.dimensions
    hip = Point(0.0, 0.0)
    lumbar, shoulder = _go(hip, trunk, d.lower_trunk_m), _go(hip, trunk, d.shoulder_m)
    neck = _go(hip, trunk, d.neck_m)
    head = trunk - posture.head_deg
    upper_arm = trunk - 180 + posture.shoulder_deg
    forearm = upper_arm + posture.elbow_deg
    elbow = _go(shoulder, upper_arm, d.upper_arm_m)
    wrist = _go(elbow, forearm, d.forearm_m)
    thigh = trunk - 180 + posture.hip_deg
    shank = thigh - posture.knee_deg
    knee = _go(hip, thigh, d.thigh_m)
    ankle = _go(knee, shank, d.shank_m)
    level = posture.ankle_deg is None and "feet" in posture.supports
    sole = 0.0 if level else shank + 90 + (posture.ankle_deg or 0.0)
    under = _go(ankle, sole - 90, d.ankle_height_m)
    return Skeleton(
        trunk_deg=trunk,
        vertex=_go(neck, head, d.vertex_m - d.neck_m),
        neck=neck,
        shoulder=shoulder,
        elbow=elbow,
        wrist=wrist,
        grip=_go(wrist, forearm, d.grip_m),
        lumbar=lumbar,
        hip=hip,
        knee=knee,
        ankle=ankle,
        heel=_go(under, sole, -d.ankle_to_heel_m),
        ball=_go(under, sole, d.ankle_to_ball_m),
        toe=_go(under, sole, d.ankle_to_toe_m),
        ankle_height_m=d.ankle_height_m,
        centres=(
            _go(neck, head, d.head_com_m - d.neck_m),
            _go(hip, trunk, d.thorax_com_m),
            _go(hip, trunk, d.lower_trunk_com_m),
            _go(shoulder, upper_arm, d.upper_arm_com_m),
            _go(elbow, forearm, d.forearm_com_m),
            _go(wrist, forearm, d.hand_com_m),
            _go(hip, thigh, d.thigh_com_m),
            _go(knee, shank, d.shank_com_m),
            _go(_go(ankle, sole - 90, d.ankle_height_m / 2), sole, d.ankle_to_foot_com_m),
        ),
    )


def _anchor(body: Body, posture: Posture) -> tuple[Contact, float]:
    """Give the contact that fixes the body in space, and the height of its joint centre."""
    name = posture.supports[-1]
    if name in ("hang", "hands", "elbows"):
        return name, posture.hand_height_m or 0.0
    lying = LYING_HEIGHT_OF_STATURE * body.stature_m if name == "trunk" else 0.0
    return name, posture.foot_height_m + lying


def _turn_to_contacts(body: Body, posture: Posture) -> float:
    """Turn the body as a whole until hands and lower contact are at their heights; the nearest solution wins."""
    upper, lower = posture.supports
    if upper not in ("hang", "hands", "elbows") or posture.hand_height_m is None:
        return posture.trunk_deg
    wanted = posture.hand_height_m - _anchor(body, posture)[1]

    def gap(turn: float) -> float:
        frame = _unanchored(body, posture, turn)
        return frame.contact(upper).y - frame.contact(lower).y - wanted

    start, step = posture.trunk_deg, 2.0
    last = {1: gap(start), -1: gap(start)}
    seen = [last[1]]
    for k in range(1, 61):
        for side in (1, -1):
            here = gap(start + side * k * step)
            seen.append(here)
            if last[side] * here <= 0:
                return _bisect(gap, start + side * (k - 1) * step, start + side * k * step)
            last[side] = here
    low, high = posture.hand_height_m + min(seen), posture.hand_height_m + max(seen)
    mend = f"with these joint angles and the {lower} at {posture.foot_height_m:g} m"
    raise RangeError(f"height of the {upper}", posture.hand_height_m, low, high, "m", mend=mend)


def _bisect(gap: Callable[[float], float], low: float, high: float) -> float:
    at_low = gap(low)
    for _ in range(50):
        middle = (low + high) / 2
        if at_low * gap(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2
