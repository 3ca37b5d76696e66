"""Which block is open while the lines go by, and what a heading does to it: begin, nest, add, close."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from msgspec.structs import replace

from subgraph.notation.draft import Draft
from subgraph.notation.head import Head
from subgraph.notation.lines import Line
from subgraph.notation.numbers import Numbers

LONG_REST_S = 180.0  # a rest this long straight before a new piece is not one between rounds
_BY_CLOCK = ("emom", "intervals")


@dataclass(slots=True)
class Opened:
    """The blocks so far; `part` is the one inside the last, `role` what stands before or after the rounds.

    `ends_after` tells whether nothing of a list follows a line, `closes_all` whether nothing at all or a new piece,
    `next_head` what the next line says, and whether a blank line stands before it. `over` tells that a rest has ended
    the last block.
    """

    ends_after: Callable[[Line], bool]
    closes_all: Callable[[Line], bool]
    next_head: Callable[[Line], tuple[Head, bool] | None]
    blocks: list[Draft] = field(default_factory=list)
    part: Draft | None = None
    role: str | None = None
    then: bool = False
    over: bool = False
    team: Head | None = None

    @property
    def root(self) -> Draft | None:
        """The last block, None where there is none yet."""
        return self.blocks[-1] if self.blocks else None

    @property
    def innermost(self) -> Draft | None:
        """The block that an item would go to now."""
        return self.part or self.root

    def current(self, line: Line) -> Draft:
        """The block that an item of a line goes to, begun where there is none."""
        if self.part is not None and not self.part.empty:
            deep = self.part.item_indent
            if line.gap or (deep is not None and line.indent < deep):
                self.part = None
        if self.part is not None:
            return self.part
        if self.then and self.blocks and self.blocks[-1].head.format in _BY_CLOCK:
            self.then = False  # what comes after a piece by the clock is a piece of its own
            self.blocks.append(Draft(line.number, indent=line.indent))
        if not self.blocks:
            self.blocks.append(Draft(line.number, indent=line.indent))
        return self.blocks[-1]

    def on_one_line(self, line: Line) -> bool:
        """Whether all of a warm-up or cool-down stood on the line of its heading: what comes below is another piece."""
        root = self.root
        if root is None or root.parts or root.head.section not in ("warm-up", "cool-down") or not root.items:
            return False
        return all(i.line == root.line for i in root.items) and line.number != root.line

    def next_letter(self, line: Line) -> bool:
        """Whether the letter of a label such as B1 follows another: sets of their own, unless rounds hold them all."""
        last = self.root
        before = next((i.label for i in reversed(last.items) if i.label), None) if last and not last.parts else None
        if last is None or before is None or line.label is None or before[0] == "P":
            return False
        return line.label[0] == chr(ord(before[0]) + 1) and not (last.head.rounds or last.head.format)

    def label(self, line: Line) -> None:
        """A new letter begins a piece of its own."""
        last = self.root
        if last is not None and last.head.format and last.label is None and not line.gap:
            return  # letters number the items of a list
        if last is None or not last.empty:
            lettered = last is not None and (last.label or any(i.label for i in last.items))
            roof = (last.roof or last.head.section) if last is not None and lettered else None
            self.blocks.append(Draft(line.number, label=line.label, indent=line.indent, roof=roof))
            if self.team is not None:
                self.blocks[-1].merge(Head(partners=self.team.partners, split=self.team.split))
            self.part, self.role, self.over = None, None, False
        else:
            if last.label is None and last.head.partners and not last.head.format:
                self.team = last.head  # said above the letters: of all the pieces
            last.label, last.roof = line.label, last.head.section

    def open(self, line: Line, head: Head, *, items: bool, first: bool) -> bool:
        """Begin a block, a part of one, or add to the open one, as a heading has it.

        Parameters
        ----------
        line : Line
            Where it stands.
        head : Head
            What it says.
        items : bool
            Whether items follow on the same line.
        first : bool
            Whether it begins its line.

        Returns
        -------
        bool
            Whether there was a place for all that it says.
        """
        draft = self.current(line) if self.blocks else None
        root = self.root
        if head.role:
            if head.role == "cash-out":
                self.part = None
            self.role = None if items else head.role
            (self.root or self.current(line)).merge(head)
            return True
        if head.starts and (self.over or self.on_one_line(line)):
            self.begin(line, head)
            return True
        if self.over and (head.starts or head.then):
            self.begin(line, head)
            return True
        if head.starts:
            self.role = None
            clocked = root is not None and root.head.format in ("for-time", "amrap")
            head.then, self.then = head.then or (self.then and clocked), False
        elif head.then and not head.says and not items:
            self.then = True
        if self._takes_over(line, head, root):
            return True
        if self._mere_manner(line, head, root):
            return False
        if draft is None or root is None:
            self.begin(line, head)
        elif not head.starts:
            return self._add_to(line, head, draft, root)
        elif self._turns(line, head, draft):
            draft.later.append((len(draft.items), list(head.scheme)))
        elif self._closes(line, head, draft, items=items) or (draft.empty and not draft.conflicts(head)):
            draft.merge(head)
        elif root.only_buy_in and not root.conflicts(head) and not head.section:
            root.merge(head)
        elif self._nests(head, root, first=first, gap=line.gap):
            self._nest(line, head, root, first=first)
        elif draft.empty and head.section is None and draft.head.format is None:
            draft.merge(head)
        else:
            self.begin(line, head)
        return True

    def _takes_over(self, line: Line, head: Head, root: Draft | None) -> bool:
        """Whether a format is of what stands above: a lift named first, or work that opens an AMRAP by its clock."""
        if root is None or not head.format or root.parts or head.section or head.part or head.window:
            return False
        mine = root.head
        if (
            mine.format is None
            and len(root.items) == 1
            and (mine.duration_s is None or mine.section)
            and not head.then
            and not line.gap
        ):
            only = root.items[0]
            said = only.amount or only.sets or only.load_kg or only.percent or only.effort
            bare = not said and only.amount_is == "none"
            clocked = head.format == "emom" and bool(only.parts) and not only.sets
            if (bare or clocked) and not (mine.rounds or mine.scheme):
                root.merge(head)
                root.over = True
                return True
        if head.format == "amrap" and not head.duration_s and mine.duration_s and mine.format in (None, "amrap"):
            root.items = [replace(i, role=i.role or "buy-in") for i in root.items]
            root.merge(head)
            return True
        return False

    def _mere_manner(self, line: Line, head: Head, root: Draft | None) -> bool:
        """Whether "easy pace" or a bare length only repeats or colours a piece that has its format and clock."""
        if root is None or line.gap or root.head.format not in ("amrap", "emom", "intervals", "for-time"):
            return False
        if head.format == "work" and head.says == 1:
            return True
        again = head.duration_s and not head.format and head.says == 1
        return bool(again and root.head.duration_s)

    def _turns(self, line: Line, head: Head, draft: Draft) -> bool:
        """Whether a second list of as many numbers is for the items below it alone."""
        alone = not (head.format or head.section or head.rounds or head.part or head.then or line.gap)
        return alone and not draft.empty and bool(head.scheme) and len(head.scheme) == len(draft.head.scheme)

    def _closes(self, line: Line, head: Head, draft: Draft, *, items: bool) -> bool:
        """Whether rounds or a scheme below a list are for that list: nothing follows them."""
        if draft.empty or head.section or head.part or head.then or head.named or draft.conflicts(head):
            return False
        if head.format:
            free = draft.head.format is None and not draft.parts and not line.gap and not items
            return free and self.closes_all(line)
        bare = all(i.amount_is == "none" and i.role is None for i in draft.items)
        fits = bool(head.scheme) and draft.head.rounds in (None, len(head.scheme))
        if fits and bare and not draft.parts and draft.head.format == "emom":
            return True
        if draft.head.rounds or draft.head.scheme or draft.head.format in ("amrap", "emom"):
            return False
        if head.scheme and all(i.amount_is == "none" for i in draft.items):
            return True
        return self.ends_after(line)

    def after_rest(self, line: Line) -> None:
        """What has an amount of its own, behind a long rest at the end of a list of reps, is a piece of its own."""
        root = self.root
        if root is None or root is not self.innermost or not root.head.scheme or not root.rests:
            return
        at, rest = root.rests[-1]
        if at == len(root.items) and rest >= LONG_REST_S and all(i.amount_is != "each" for i in root.items):
            root.rests.pop()
            root.head.rest_s, root.head.rest_after = rest, True
            self.begin(line, Head())

    def after_rounds(self, line: Line) -> None:
        """What comes then in sets of its own is no part of rounds."""
        root = self.root
        if root and root is self.innermost and root.head.rounds and root.items and root.head.format != "amrap":
            self.begin(line, Head())

    def after_clock(self, line: Line, n: Numbers) -> None:
        """What comes then, on a line of its own, is done when the clock of the piece has run out.

        Unless it fits into the work: "300 m row, then max burpees" in intervals of three minutes.
        """
        root = self.root
        if root is None or root.parts or (root.items and root.items[-1].line == line.number):
            return
        clocked = root.head.rounds and (root.head.format == "emom" or root.head.work_s)
        longer = n.unit == "s" and n.amount_is == "each" and n.amount[0] >= (root.head.work_s or root.head.every_s or 0)
        filled = any(i.amount or i.amount_is == "max" for i in root.items) or n.amount_is == "max"
        if root.head.format in _BY_CLOCK and clocked and (longer or not filled):
            self.begin(line, Head())

    def after_scheme(self) -> None:
        """What comes then, with an amount of its own, is no part of a list of reps for time."""
        root = self.root
        if root and root.head.scheme and root.items and not root.parts and root.head.format in (None, "for-time"):
            root.wrap()

    def begin(self, line: Line, head: Head) -> None:
        """Begin a block of its own."""
        draft = Draft(line.number, indent=line.indent)
        draft.merge(head)
        if head.rest_s:
            draft.head.rest_s = head.rest_s
        self.blocks.append(draft)
        self.part, self.role, self.over = None, None, False

    def _nests(self, head: Head, root: Draft, *, first: bool, gap: bool) -> bool:
        if head.section or head.part or head.format in ("amrap", "emom", "intervals", "work"):
            return False
        if root.empty and root.head.rounds and head.rounds and not head.format:
            return True
        if head.then and root.items and (root.head.format in _BY_CLOCK or (head.format and root.head.duration_s)):
            return False  # what comes after the clock has run out
        if root.head.format in ("for-time", "amrap", "emom", "intervals") and (head.format is None or head.then):
            return bool(head.rounds or head.scheme)
        if self._plain_list(root) and head.format is None and not gap:
            return bool(head.rounds or head.scheme)
        return (head.then or not first) and bool(head.rounds or head.scheme)

    def _plain_list(self, root: Draft) -> bool:
        """Whether a block without any heading is work, not sets: rounds below it are then a part of it."""
        said = root.head
        section = said.section not in (None, "warm-up", "cool-down")
        bare = not (said.format or section or said.rounds or said.scheme or said.title or said.named)
        return bare and bool(root.items) and not any(i.sets or i.percent or i.effort or i.label for i in root.items)

    def _nest(self, line: Line, head: Head, root: Draft, *, first: bool) -> None:
        deep = root.item_indent is not None and line.indent >= root.item_indent > root.indent
        inside = (not first and not head.then) or head.sets_word or deep
        if (
            (root.head.rounds or root.head.scheme)
            and root.items
            and not inside
            and root.head.format not in ("emom", "amrap", "intervals")
        ):
            root.wrap()
        part = Draft(line.number, indent=line.indent)
        part.merge(head)
        part.head.format = None
        root.parts.append(part)
        root.parts_at.append(len(root.items))
        self.part = part

    def _rest_ends(self, line: Line, rest: float, draft: Draft) -> bool:
        """Whether a line of rest stands between two pieces: a new piece follows, and no rounds would have the rest."""
        following = self.next_head(line)
        head = draft.head
        if draft is not self.root or following is None or head.sets_word or head.format == "intervals":
            return False
        new, gap = following
        strong = bool(new.format or new.section or new.part or new.window or (new.starts and gap))
        longer = rest >= LONG_REST_S and len(new.scheme) > 2 and bool(head.rounds)
        if (
            not (strong or longer or (head.scheme and new.starts))
            or new.role
            or not (head.format or head.scheme or head.rounds)
        ):
            return False
        return bool(longer or not (head.rounds or head.scheme) or line.gap or (rest >= LONG_REST_S and not gap))

    def _add_to(self, line: Line, head: Head, draft: Draft, root: Draft) -> bool:
        """A line that begins nothing: a cap, a rest, who shares, a step; whether there was a place for all of it."""
        rest, head.rest_s = head.rest_s, None
        if line.gap and (head.partners or (head.split and not root.head.partners)) and not root.empty:
            self.begin(line, head)
            return True
        if head.then and not head.says and self.part is not None:
            self.part = None
            return True
        if head.then and head.outside and root.head.rounds and root.items:
            root.wrap()  # "5 x (a, b, c) then d"
            draft = root
        if head.time_cap_s:
            root.head.time_cap_s = root.head.time_cap_s or head.time_cap_s
            head.time_cap_s = None
        draft.merge(head)
        if rest is None:
            return True
        if root.head.format == "intervals" and root.head.rest_s:
            following = self.next_head(line)
            self.over = bool(root.items) and following is not None and following[0].starts
            return False
        if not draft.empty and not head.rest_between and (head.rest_after or self._rest_ends(line, rest, draft)):
            draft.head.rest_s, draft.head.rest_after, self.over = rest, True, draft is root
        elif head.rest_between or draft.empty:
            draft.head.rest_s = rest
        else:
            if draft.head.format == "emom" and draft.items and draft.items[-1].line == line.number:
                draft.items[-1] = replace(draft.items[-1], rest_s=rest)
                return True
            draft.rests.append((len(draft.items), rest))
        return True
