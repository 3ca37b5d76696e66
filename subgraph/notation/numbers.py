"""What the numbers of one item say, and the small conversions behind it."""

from __future__ import annotations

import re
from copy import copy
from dataclasses import dataclass, field

from subgraph.notation.number_forms import (
    KG_PER_POOD,
    N,
    UnitWord,
)
from subgraph.quantities import KG_PER_LB, Unit


@dataclass(slots=True)
class Numbers:
    """What the numbers of an item say; `rest` holds the words left over.

    `course` tells that a distance is that of the way to and fro, `counted` the unit of a count that is left open
    ("row for cals"), `bracketed` that a lone number stands in brackets behind the name, `high` how high a
    climb is where that is written, `within_s` how long there is to build up to a heavy lift.
    """

    rest: str
    amount: list[float] = field(default_factory=list)
    amount_is: str = "none"
    unit: UnitWord | None = None
    glued: bool = False
    late: bool = False
    perhaps: bool = False
    sets: int | None = None
    load: list[float] = field(default_factory=list)
    load_unit: str | None = None
    pair: bool = False
    height: list[float] = field(default_factory=list)
    bare: list[float] = field(default_factory=list)
    percent: list[float] = field(default_factory=list)
    rpe: float | None = None
    tempo: str | None = None
    effort: str | None = None
    per_side: bool = False
    rest_s: float | None = None
    step: float | None = None
    feet: list[float] = field(default_factory=list)
    max_for_s: float | None = None
    course: bool = False
    counted: Unit | None = None
    bracketed: bool = False
    high: str = ""
    within_s: float | None = None

    def copy(self) -> Numbers:
        """The same, with lists of its own."""
        again = copy(self)
        for name in ("amount", "load", "height", "bare", "percent", "feet"):
            setattr(again, name, list(getattr(self, name)))
        return again

    @property
    def anything(self) -> bool:
        """Whether there was any number at all."""
        return (
            bool(
                self.amount
                or self.load
                or self.bare
                or self.height
                or self.percent
                or self.sets
                or self.tempo
                or self.rpe
            )
            or self.amount_is == "max"
        )


def seconds(text: str, *, default: float = 60.0) -> float:
    """Duration [s] of "12", "12 min", "90s", "1:30", "12'".

    Parameters
    ----------
    text : str
        One duration.
    default : float
        Seconds of a number without a unit [s].

    Examples
    --------
    >>> [seconds(t) for t in ("12", "90s", "1:30", "12'", "3-:00", ":")]
    [720.0, 90.0, 90.0, 720.0, 180.0, 0.0]
    """
    text = text.strip().lower()
    if found := re.match(r"(\d+)'(\d\d)", text):
        return float(found[1]) * 60 + float(found[2])
    if found := re.match(r"(\d*)\W*:\s*(\d\d?)", text):
        return float(found[1] or 0) * 60 + float(found[2])
    found = re.match(N, text)
    value = float(found.group()) if found else 0.0
    unit = text[found.end() :].strip(" -") if found else ""
    if not unit:
        return value * default
    if unit.startswith(("s", '"', "''")):
        return value
    return value * (3600.0 if unit.startswith("h") else 60.0)


def numbers_in(text: str) -> list[float]:
    """All plain numbers of a text."""
    return [float(n) for n in re.findall(N, text)]


def kilograms(value: float, unit: str) -> float:
    """A load in kilograms [kg], pounds and poods to one decimal."""
    unit = unit.lower()
    if unit[0] in "l#" or unit.startswith("pound"):
        return round(value * KG_PER_LB, 1)
    if unit.startswith(("pood", "pd")):
        return round(value * KG_PER_POOD, 1)
    return value


def cut(text: str, found: re.Match[str], instead: str = " ; ") -> str:
    """A text without what was found, and a sign in its place."""
    return f"{text[: found.start()]}{instead}{text[found.end() :]}"
