"""A board while it is read: its lines, the words and names of a library, the open blocks, what was gathered so far."""

from __future__ import annotations

import re

from subgraph.library.compile import Compiled
from subgraph.notation.alone import Alone
from subgraph.notation.board import Role
from subgraph.notation.called import caller_of
from subgraph.notation.head import Head
from subgraph.notation.heads import heads_of
from subgraph.notation.items import Items
from subgraph.notation.lines import Line
from subgraph.notation.lookups import Lookups
from subgraph.notation.opened import Opened
from subgraph.notation.remarks import Remarks
from subgraph.notation.segments import Segments
from subgraph.notation.state import State
from subgraph.notation.table import Columns
from subgraph.notation.talk import Talk
from subgraph.notation.units import only_in_pounds
from subgraph.notation.words import Words, words_of
from subgraph.notation.wrapped import Wrapped

_FROM_ZERO = re.compile(r"^(?:at\s+|@\s*)?0?0:00(?!\s*-|\d)\W*(?:[a-z\d]|$)", re.I)


class OpenedBoard:
    """What all steps of reading share.

    Parameters
    ----------
    compiled : Compiled
        Library and names.
    lines : list of Line
        Of the board, at least one.
    pounds : bool
        Whether loads without a unit are in pounds.
    because : str
        Why, where the board did not say so.
    """

    def __init__(self, compiled: Compiled, lines: list[Line], *, pounds: bool, because: str = "") -> None:
        self.compiled = compiled
        self.lines = lines
        self.numbers = {line.number: n for n, line in enumerate(lines)}
        self.pounds = pounds
        self.words: Words = words_of(compiled.library)
        self.heads = heads_of(self.words)
        self.caller = caller_of(compiled)
        self.items = Items(self.caller)
        self.lookups = Lookups(self.caller)
        self.state = State()
        self.roles: dict[int, Role] = {}
        self.outside = False
        self.ahead = ""
        self.opened = Opened(self._ends_after, self._closes_all, self._next_head)
        self.by_clock = any(_FROM_ZERO.match(line.text) for line in lines)
        if because:
            self.state.assumed.append(f"loads without a unit are in lb: {because}")
        self.talk = Talk(self.words, self.heads)
        self.segments = Segments(self.heads, self.items, self.words, self.talk)
        self.columns = Columns(self.talk)
        self.remarks = Remarks(self.heads, self.items, self.talk)
        self.wrapped = Wrapped(self.heads, self.items, self.talk)
        self.last = lines[0]
        self.now = lines[0].number
        self.alone = Alone(self.caller, self.state, pounds=pounds)

    def in_pounds(self) -> bool:
        """Whether some pair without a unit makes sense in pounds alone."""
        movements = self.compiled.library.movements
        return any(only_in_pounds(v, movements[m] if m else None) for v, m in self.state.pairs)

    def _standing(self) -> set[str]:
        """Movements that stand on the board so far."""
        return {i.movement for d in self.opened.blocks for b in (d, *d.parts) for i in b.items if i.movement}

    def _open(self, line: Line, head: Head, *, items: bool, first: bool) -> None:
        """Let a heading do to the open block what it says; what has no place there is kept as a note."""
        self.state.assumed += [f"line {line.number}: {a}" for a in head.assumed]
        if not self.opened.open(line, head, items=items, first=first) and not items:
            self.state.note(line, line.text)

    def _ends_after(self, line: Line) -> bool:
        at = self.numbers[self.last.number] + 1
        following = self.lines[at] if at < len(self.lines) else None
        return following is None or following.gap or self.heads.take(following.text).starts

    def _closes_all(self, line: Line) -> bool:
        """Whether a format below a list is of that list: the board ends here, or a new piece begins."""
        at = self.numbers[self.last.number] + 1
        following = self.lines[at] if at < len(self.lines) else None
        return following is None or (following.gap and self.heads.take(following.text).starts)

    def _next_head(self, line: Line) -> tuple[Head, bool] | None:
        """What comes next says of its block, in this line or in the next, and whether a blank line parts them."""
        if self.ahead:
            return self.heads.take(self.ahead), False
        at = self.numbers[self.last.number] + 1
        following = self.lines[at] if at < len(self.lines) else None
        if following is None:
            return None
        head = self.heads.take(following.text)
        head.part = head.part or bool(following.label and len(following.label) == 1)
        return head, following.gap

    def _in_list(self) -> bool:
        draft = self.opened.innermost
        return draft is not None and bool(draft.head.scheme or draft.items)

    def _names_only(self) -> bool:
        """Whether the open list has names without amounts, so that a line of words may be one more."""
        draft = self.opened.innermost
        if draft is not None and draft.head.format == "intervals":
            return True
        return draft is None or bool(draft.head.scheme) or any(i.amount_is in ("none", "scheme") for i in draft.items)

    def _note(self, line: Line, text: str) -> Role:
        self.state.note(line, text)
        return "note"

    def _unread(self, line: Line, text: str, why: str, nearest: tuple[str, ...] = ()) -> Role:
        self.state.not_read(line, text, why, nearest)
        return "unread"
