"""How a body is held: joint angles and what carries it.

Angles are degrees, zero standing upright with the arms hanging, flexion positive. The trunk angle is counted from the
horizontal, seen with the person's right side towards the reader: 90 upright, 0 face down, 180 face up, -90 upside down.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any, Literal, get_args

from subgraph.errors import AskError, RangeError, UnknownNameError

__all__ = ["ANGLE_RANGES_DEG", "CONTACTS", "Contact", "Posture", "posture_from_mapping"]

Contact = Literal["hang", "hands", "elbows", "trunk", "seat", "knees", "feet"]
CONTACTS: tuple[Contact, ...] = get_args(Contact)  # from the hands to the feet

# What joints allow, with a margin for the very mobile; wider than the normal clinical ranges.
ANGLE_RANGES_DEG: dict[str, tuple[float, float]] = {
    "trunk_deg": (-180, 180),
    "hip_deg": (-40, 160),
    "knee_deg": (-10, 165),
    "ankle_deg": (-75, 55),
    "shoulder_deg": (-90, 200),
    "elbow_deg": (-10, 160),
    "head_deg": (-90, 90),
}
HEIGHT_RANGES_M: dict[str, tuple[float, float]] = {"hand_height_m": (-1.0, 6.0), "foot_height_m": (-1.0, 4.0)}


@dataclass(frozen=True, slots=True)
class Posture:
    """Joint angles and contacts of a body held still.

    Parameters
    ----------
    trunk_deg : float
        Direction from hip to shoulder, from the horizontal [deg]: 90 upright, 0 face down, 180 face up.
    hip_deg, knee_deg : float
        Flexion of both hips, both knees [deg]; 0 straight.
    ankle_deg : float or None
        Lifting of the toes from the right angle [deg]; None keeps the sole level.
    shoulder_deg : float
        Raising of the arms to the front [deg]: 0 along the trunk, 90 square to it, 180 overhead.
    elbow_deg : float
        Flexion [deg]; 0 straight.
    head_deg : float
        Bending of the neck to the front [deg].
    contacts : tuple of str
        What carries: `hang` (hands on a bar, pulling), `hands` (wrists, pressing), `elbows` (forearms on the floor),
        `trunk` (chest or upper back), `seat`, `knees`, `feet`. At most two carry at once; the feet rest where the
        knees carry.
    hand_height_m : float or None
        Height of what hands or elbows rest on [m]. Where hands and a lower contact carry together, the whole body is
        turned until both touch, and `trunk_deg` only chooses the nearer of two solutions. None leaves the hands where
        the angles put them.
    foot_height_m : float
        Height of what the lower contact (feet, knees, seat, trunk) rests on [m].

    Raises
    ------
    RangeError
        If an angle or a height lies outside its range; the message names the range.
    UnknownNameError
        If a contact is unknown.
    AskError
        If no contact, one twice, or more than two supports are named.

    Examples
    --------
    >>> Posture(trunk_deg=20, ankle_deg=0, shoulder_deg=90, contacts=("hands", "feet"), hand_height_m=0).supports
    ('hands', 'feet')
    """

    trunk_deg: float
    hip_deg: float = 0.0
    knee_deg: float = 0.0
    ankle_deg: float | None = None
    shoulder_deg: float = 0.0
    elbow_deg: float = 0.0
    head_deg: float = 0.0
    contacts: tuple[Contact, ...] = ("feet",)
    hand_height_m: float | None = None
    foot_height_m: float = 0.0

    def __post_init__(self) -> None:
        for name, (low, high) in (ANGLE_RANGES_DEG | HEIGHT_RANGES_M).items():
            value = getattr(self, name)
            if value is not None:
                RangeError.check(name, value, low, high, "deg" if name.endswith("_deg") else "m")
        for contact in self.contacts:
            if contact not in CONTACTS:
                raise _unknown("contact", contact, CONTACTS)
        if not self.contacts or len(set(self.contacts)) < len(self.contacts):
            raise AskError(
                f"contacts are {list(self.contacts)!r}", mend="name what carries the body, each contact once"
            )
        if len(self.supports) > 2:
            raise AskError(
                f"contacts {', '.join(self.contacts)} are more than two supports, whose shares statics cannot tell",
                mend="keep the two that carry most",
            )

    @property
    def supports(self) -> tuple[Contact, ...]:
        """Contacts that carry, from the hands to the feet; feet that merely rest are left out."""
        named = set(self.contacts)
        if "knees" in named or {"trunk", "seat"} <= named:
            named.discard("feet")
        return tuple(c for c in CONTACTS if c in named)


def posture_from_mapping(mapping: Mapping[str, Any]) -> Posture:
    """Build a posture from plain values as a YAML record holds them.

    Parameters
    ----------
    mapping : mapping of str to number, list or None
        Keys are the field names of `Posture` (angles in degrees, heights in metres); only `trunk_deg` is required;
        `contacts` is a list of names, or one name.

    Returns
    -------
    Posture
        The checked posture.

    Raises
    ------
    UnknownNameError
        If a key or a contact is unknown; the nearest names are given.
    RangeError
        If an angle or a height lies outside its range.
    AskError
        If `trunk_deg` is missing, a value is no number, or the contacts do not make sense.

    Examples
    --------
    >>> posture_from_mapping({"trunk_deg": 90, "contacts": ["feet"]}).hip_deg
    0.0
    >>> posture_from_mapping({"trunk_deg": 90, "nee_deg": 90})
    Traceback (most recent call last):
    ...
    subgraph.errors.UnknownNameError: no posture field is called 'nee_deg'; did you mean 'knee_deg'?
    """
    if not isinstance(mapping, Mapping):
        raise AskError(f"a posture is written as a mapping, not {mapping!r}", mend="for example {trunk_deg: 90}")
    known = tuple(f.name for f in fields(Posture))
    for key in mapping:
        if key not in known:
            raise _unknown("posture field", key, known)
    if "trunk_deg" not in mapping:
        raise AskError("trunk_deg is missing", mend="give it in degrees from the horizontal: 90 upright, 0 face down")
    values: dict[str, Any] = {}
    for key, value in mapping.items():
        if key == "contacts":
            names = [value] if isinstance(value, str) else value
            if not isinstance(names, (list, tuple)) or not all(isinstance(n, str) for n in names):
                raise AskError(f"contacts is {value!r}", mend=f"give a list of {', '.join(CONTACTS)}")
            values[key] = tuple(names)
        elif value is None and key in ("ankle_deg", "hand_height_m"):
            values[key] = None
        elif isinstance(value, bool) or not isinstance(value, (int, float)):
            unit = "degrees" if key.endswith("_deg") else "metres"
            raise AskError(f"{key} is {value!r}", mend=f"give a number of {unit}")
        else:
            values[key] = float(value)
    return Posture(**values)


def _unknown(kind: str, name: object, known: tuple[str, ...]) -> UnknownNameError:
    near = [k for k in known if k.startswith(f"{name}_")] or difflib.get_close_matches(
        str(name), known, n=3, cutoff=0.6
    )
    likeness = [difflib.SequenceMatcher(None, str(name), k).ratio() for k in near]
    near = [k for k, r in zip(near, likeness, strict=True) if r > max(likeness) - 0.1]
    mend = f"did you mean {' or '.join(repr(n) for n in near)}?" if near else f"use one of {', '.join(known)}"
    return UnknownNameError(f"no {kind} is called {name!r}", mend=mend, nearest=tuple(near))
