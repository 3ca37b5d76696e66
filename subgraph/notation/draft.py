"""A block in the making: what its headings and items say so far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from subgraph.notation.board import Item
from subgraph.notation.head import Head
from subgraph.notation.numbers import Numbers

_COPIED = (
    *("section", "format", "rounds", "step", "time_cap_s", "duration_s", "every_s", "work_s", "rest_s"),
    *("rest_per_work", "partners", "split"),
)


@dataclass(slots=True)
class Draft:
    """A block in the making."""

    line: int
    head: Head = field(default_factory=Head)
    items: list[Item] = field(default_factory=list)
    parts: list[Draft] = field(default_factory=list)
    laid: list[tuple[Numbers, str | None, int]] = field(default_factory=list)
    rests: list[tuple[int, float]] = field(default_factory=list)
    marks: list[int | None] = field(default_factory=list)
    times: list[float | None] = field(default_factory=list)
    default: Numbers | None = None
    later: list[tuple[int, list[float]]] = field(default_factory=list)
    rest_slots: list[tuple[int, int]] = field(default_factory=list)
    parts_at: list[int] = field(default_factory=list)
    roof: str | None = None
    over: bool = False
    within_s: float = 0.0
    indent: int = 0
    item_indent: int | None = None
    label: str | None = None
    default_at: int = 0

    def all_items(self) -> Iterator[Item]:
        """Its items, those of its parts among them."""
        yield from self.items
        for part in self.parts:
            yield from part.all_items()

    @property
    def empty(self) -> bool:
        """Whether it holds nothing to do yet."""
        return not self.items and not self.parts

    @property
    def only_buy_in(self) -> bool:
        """Whether all it holds so far stands before the rounds."""
        return bool(self.items) and not self.parts and all(i.role == "buy-in" for i in self.items)

    def conflicts(self, head: Head) -> bool:
        """Whether a heading says again, and otherwise, what is said already."""
        mine = self.head
        open_rounds = mine.format == "emom" and mine.rounds is None and self.empty
        if mine.format in ("amrap", "emom") and head.rounds and not head.format and not open_rounds:
            return True
        return any(
            getattr(mine, n) and getattr(head, n) and getattr(mine, n) != getattr(head, n)
            for n in ("format", "rounds", "scheme", "section", "window" if head.window else "format")
        ) or bool((mine.window and head.window) or (mine.named and head.named))

    def merge(self, head: Head) -> None:
        """Take over what a heading says."""
        mine = self.head
        for name in _COPIED:
            if name == "rest_s" and mine.format == "intervals" and mine.rest_s and head.format is None:
                continue  # a rest between rounds is not the one of each interval
            if (value := getattr(head, name)) is not None:
                setattr(mine, name, value)
        if head.scheme:
            mine.scheme = list(head.scheme)
        mine.title = head.title or mine.title
        mine.alternating = mine.alternating or head.alternating
        mine.ladder = mine.ladder or head.ladder
        mine.sets_word = mine.sets_word or head.sets_word
        mine.part = mine.part or head.part
        for name in ("window", "each_slot", "minutely", "extra", "named", "rest_after", "rounds_each"):
            setattr(mine, name, getattr(mine, name) or getattr(head, name))

    def wrap(self) -> None:
        """Put what is here so far into a part of its own, so that another may follow it."""
        before = [i for i in self.items if i.role == "buy-in"]
        inner = Draft(self.line, items=[i for i in self.items if i.role != "buy-in"], parts=self.parts)
        inner.head.rounds, inner.head.scheme, inner.head.step = self.head.rounds, self.head.scheme, self.head.step
        inner.head.rest_s, inner.default, inner.laid = self.head.rest_s, self.default, self.laid
        inner.rests = [(min(i, len(inner.items)), s) for i, s in self.rests]
        inner.parts_at = [max(0, at - len(before)) for at in self.parts_at]
        self.items, self.parts, self.parts_at = before, [inner], [len(before)]
        self.head.rounds, self.head.scheme, self.head.step, self.head.rest_s = None, [], None, None
        self.default, self.laid, self.rests = None, [], []
