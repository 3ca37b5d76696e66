"""What one line gives for its block."""

from __future__ import annotations

from dataclasses import dataclass, field, fields

from subgraph.notation.board import Format, Split
from subgraph.quantities import MOST

MOST_ROUNDS = 200
LONGEST_PIECE_S = 5 * 3600.0  # longer than any piece of a class
NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


_SAYS_NOTHING = (
    "rest title then outside assumed wrong rest_between rest_after rounds_each sets_word slot each_slot extra by_every"
)
_PLAIN = frozenset(_SAYS_NOTHING.split())  # what says nothing of the block by itself


@dataclass(slots=True)
class Head:
    """What one line gives for its block; `rest` is the text left over."""

    rest: str = ""
    section: str | None = None
    title: str | None = None
    format: Format | None = None
    rounds: int | None = None
    scheme: list[float] = field(default_factory=list)
    step: float | None = None
    time_cap_s: float | None = None
    duration_s: float | None = None
    every_s: float | None = None
    work_s: float | None = None
    rest_s: float | None = None
    rest_per_work: float | None = None
    round_rest_s: float | None = None
    rest_between: bool = False
    rest_after: bool = False
    rounds_each: bool = False
    partners: int | None = None
    split: Split | None = None
    role: str | None = None
    alternating: bool = False
    slot: int | None = None
    then: bool = False
    outside: bool = False
    part: bool = False
    ladder: bool = False
    sets_word: bool = False
    window: bool = False
    minutely: bool = False
    extra: bool = False
    named: bool = False
    each_slot: bool = False
    by_every: bool = False
    assumed: list[str] = field(default_factory=list)
    wrong: str | None = None

    @property
    def says(self) -> int:
        """How many things it says of its block."""
        return sum(bool(getattr(self, f.name)) for f in fields(self) if f.name not in _PLAIN)

    @property
    def starts(self) -> bool:
        """Whether it can only begin a piece: it names a format, a section, a scheme or rounds."""
        said = (self.format, self.section, self.rounds, self.scheme, self.part, self.role, self.window, self.named)
        return any(said)


def count(text: str) -> int:
    """A whole number, also in words."""
    text = text.lower()
    return NUMBERS.index(text) if text in NUMBERS else int(text)


def impossible(head: Head) -> str | None:
    """Why a clock or a count can't be meant."""
    clocks = {"time cap": head.time_cap_s, "length": head.duration_s, "interval": head.every_s, "work": head.work_s}
    for name, value in clocks.items():
        if value is not None and not 0 < value <= LONGEST_PIECE_S:
            return f"a {name} of {value:g} s is out of range"
    if head.rounds is not None and not 0 < head.rounds <= MOST_ROUNDS:
        return f"{head.rounds} rounds are out of range"
    if any(not 0 < v <= MOST["rep"] for v in head.scheme):
        return "a scheme with a number out of range"
    return None
