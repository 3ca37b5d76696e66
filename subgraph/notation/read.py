"""Read a whole board: decide line by line, keep the block that is open, account for every line.

For each line the readings are tried in this order, and the first with enough evidence stands: a line for people, a
heading, items, numbers for what stands above, a title. What none of them explains is listed as unread.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.notation.alone import Alone
from subgraph.notation.below import in_place_of, loads_of
from subgraph.notation.board import Reading, Role, Role_, Unread
from subgraph.notation.called import caller_of
from subgraph.notation.context import decide
from subgraph.notation.draft import Draft
from subgraph.notation.finish import finish
from subgraph.notation.head import Head
from subgraph.notation.heads import heads_of
from subgraph.notation.items import Items, Piece, looks_like_one, rests_given
from subgraph.notation.lines import LONGEST, Line, lines_of
from subgraph.notation.lookups import Lookups
from subgraph.notation.numbers import Numbers
from subgraph.notation.opened import Opened
from subgraph.notation.segments import Segments, by_labels
from subgraph.notation.state import State
from subgraph.notation.table import Columns
from subgraph.notation.talk import Talk
from subgraph.notation.units import impossible, in_block, only_in_pounds, pounds_on
from subgraph.notation.words import Words, words_of
from subgraph.notation.wrapped import Wrapped

MOST_CHARACTERS = 16_000  # of one board; what comes after is listed as unread
LONGEST_TITLE = 8  # words

_FROM_ZERO = re.compile(r"^(?:at\s+|@\s*)?0?0:00(?!\s*-|\d)\W*[a-z\d]", re.I)
_AT = re.compile(r"^(?:at\s+|@\s*)?\d{1,2}:\d\d(?!\s*-\s*\d|\d)\s*[:-]*\s*(?=[a-z\d])", re.I)
_STRONGEST: tuple[Role, ...] = ("item", "unread", "heading", "note")


def read_board(text: str, compiled: Compiled, *, units: str | None = None) -> Reading:
    """Read a board.

    Parameters
    ----------
    text : str
        As pasted.
    compiled : Compiled
        Library and names.
    units : {'kg', 'lb'} or None
        Unit of loads without one; None lets the board decide.

    Returns
    -------
    Reading
        Blocks, the part of every line, notes, what is unread, what was assumed.

    Raises
    ------
    AskError
        Empty, or nothing in it could be read; the message lists the first lines with the nearest names.
    """
    lines = lines_of(text)
    if not lines:
        raise AskError("the board is empty", mend="paste the workout as it stands on the board")
    written = pounds_on(line.text for line in lines)
    pounds = written if units is None else units == "lb"
    reader = _Board(compiled, lines, pounds=bool(pounds))
    reading = reader.read()
    if pounds is None and reader.in_pounds():
        reading = _Board(compiled, lines, pounds=True, because="a pair on the board makes sense in lb alone").read()
    elif written and units is None and any("read as lb" in a for a in reading.assumed):
        reading = replace(
            reading, assumed=("loads without a unit are in lb, as elsewhere on the board", *reading.assumed)
        )
    if not any(i.movement for i in reading.items):
        raise _nothing(reading)
    return reading


def _nothing(reading: Reading) -> AskError:
    first = reading.unread[:3] or [Unread(n.line, n.text, "") for n in reading.notes[:3]]
    told = "; ".join(f"line {u.line}: '{u.text[:40]}'" for u in first) or "no line names a movement"
    near = tuple(dict.fromkeys(i for u in reading.unread[:3] for i in u.nearest))[:3]
    mend = f"nearest: {', '.join(near)}" if near else 'write items such as "15 toes-to-bar"'
    return AskError(f"nothing on the board could be read ({told})", mend=mend, nearest=near)


class _Board:
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
        self.segments = Segments(self.heads, self.items, self.words)
        self.state = State()
        self.roles: dict[int, Role] = {}
        self.outside = False
        self.opened = Opened(self._ends_after, self._closes_all)
        self.by_clock = any(_FROM_ZERO.match(line.text) for line in lines)
        if because:
            self.state.assumed.append(f"loads without a unit are in lb: {because}")
        self.talk = Talk(self.words, self.heads)
        self.columns = Columns(self.talk)
        self.wrapped = Wrapped(self.heads, self.items, self.talk)
        self.last = lines[0]
        self.alone = Alone(self.caller, self.state, pounds=pounds)

    def in_pounds(self) -> bool:
        """Whether some pair without a unit makes sense in pounds alone."""
        movements = self.compiled.library.movements
        return any(only_in_pounds(v, movements[m] if m else None) for v, m in self.state.pairs)

    def read(self) -> Reading:
        used = at = 0
        while at < len(self.lines):
            line, count = self.wrapped.joined(self.lines, at)
            used += sum(len(one.raw) for one in self.lines[at : at + count])
            for one in self.lines[at : at + count]:
                self.roles[one.number] = "heading"
            self.last = self.lines[at + count - 1]
            self.roles[line.number] = self._line(line, used)
            at += count
        self._decide_short()
        movements = self.compiled.library.movements
        blocks = [
            finish(d, movements, pounds=self.pounds, assumed=self.state.assumed)
            for d in self.opened.blocks
            if not d.empty or d.head.format
        ]
        return Reading(
            blocks=tuple(blocks),
            lines=tuple(Role_(number, role) for number, role in self.roles.items()),
            notes=tuple(self.state.notes),
            unread=tuple(self.state.unread),
            assumed=tuple(dict.fromkeys(self.state.assumed)),
            library=self.compiled.library.version,
        )

    # --- one line

    def _line(self, line: Line, used: int) -> Role:
        if len(line.raw) > LONGEST:
            return self._unread(line, line.raw[:80], f"longer than {LONGEST} characters")
        if used > MOST_CHARACTERS:
            return self._unread(line, line.raw[:80], f"beyond the first {MOST_CHARACTERS} characters")
        if line.empty:
            return self._note(line, line.raw)
        if line.gap:
            self.columns.close()
        if self.by_clock and (found := _AT.match(line.text)):
            line = replace(line, text=line.text[found.end() :])
            self.opened.begin(line, Head(part=True))
        text, further = self.columns.read(line.text)
        if text is None:
            return "heading"
        if further:
            self.state.note(line, further)
        if self.talk.aside.match(text) and not self.talk.is_load(text):
            self.state.aside = bool(self._standing()) or self._main_below(line)
            self.state.aside_at = self.numbers[line.number]
            return self._note(line, line.raw)
        if self.state.aside and self.talk.main.match(text):
            self.state.aside = False
            self.opened.begin(line, Head(title=text.strip(" :*")))
            return "heading"
        if self.state.aside and not self._ends_aside(line, text):
            return self._note(line, line.raw)
        self.state.aside = False
        if self.talk.for_people(text) or in_place_of(text, self.caller, self._standing()):
            self._shared(text)
            return self._note(line, line.raw)
        roles: list[Role] = []
        for labelled in by_labels(replace(line, text=text)):
            parts = self.segments.of(labelled.text)
            for i, part in enumerate(parts):
                self.outside = i > 0 and parts[i - 1].endswith(")")
                roles.append(self._segment(labelled, part, first=i == 0))
        for role in _STRONGEST:
            if role in roles:
                return role
        return "note"

    def _standing(self) -> set[str]:
        """Movements that stand on the board so far."""
        return {i.movement for d in self.opened.blocks for b in (d, *d.parts) for i in b.items if i.movement}

    def _main_below(self, line: Line) -> bool:
        """Whether the version of the whole class stands further down."""
        return any(self.talk.main.match(other.text) for other in self.lines[self.numbers[line.number] + 1 :])

    def _shared(self, text: str) -> None:
        """Keep what a line for people says of sharing, where a team is known."""
        root = self.opened.root
        if root is not None and root.head.partners and not root.head.split:
            root.head.split = self.heads.take(text).split

    def _ends_aside(self, line: Line, text: str) -> bool:
        head = self.heads.take(text)
        left = self.talk.left(head.rest)
        if self.state.aside_at == self.numbers[line.number] - 1 and not line.gap:
            return False  # the format of that version
        strong = bool(head.section or head.part or head.format in ("amrap", "emom", "intervals", "for-time"))
        return strong and (line.gap or not left or bool(head.section))

    def _segment(self, line: Line, text: str, *, first: bool) -> Role:
        head = self.heads.take(text)
        head.outside = self.outside
        if head.wrong:
            return self._unread(line, text, head.wrong)
        if first and line.label and len(line.label) == 1:
            self.opened.label(line)
        left = self.talk.left(head.rest)
        if self.talk.is_date(text):
            return "heading"
        if not left and head.says:
            self._open(line, head, items=False, first=first)
            return "heading"
        if re.fullmatch(r"\W*(?:full\s+)?rest(?:\s+minute)?\W*", head.rest, re.I):
            return self._rest(line, text, head, first=first)
        if head.then and not head.says and not re.search(r"[a-z\d]", left, re.I):
            self._open(line, head, items=False, first=first)
            return "heading"
        if quoted := re.fullmatch(r'\W*"([^"]{1,60})"\W*', head.rest):
            return self._words(line, quoted[1], head, first=first)
        pieces = self.columns.first_of(self.items.line(head.rest)) if re.search(r"[a-z]", left, re.I) else []
        if not any(p.named for p in pieces) and (numbers := self.talk.numbers_alone(head.rest)):
            return self._lay(line, head, numbers, first=first)
        pieces = self.lookups.named(pieces, in_list=self._in_list())
        if not any(p.named for p in pieces) and not any(looks_like_one(p) for p in pieces):
            return self._words(line, text, head, first=first)
        return self._take_items(line, text, head, pieces, first=first)

    def _rest(self, line: Line, text: str, head: Head, *, first: bool) -> Role:
        """A line that is only rest: a stretch of the clock or a minute of its own, else for people."""
        if head.window and self.opened.root is not None and not self.opened.root.empty:
            self.opened.root.head.rest_s = head.duration_s
            return "heading"
        if head.starts:
            self._open(line, head, items=False, first=first)
            return "heading"
        draft = self.opened.current(line)
        if not draft.empty and (head.slot or line.mark or draft.head.format == "emom"):
            draft.rest_slots.append((len(draft.items), head.slot or line.mark or 0))
            return "heading"
        return self._note(line, text)

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

    # --- items

    def _in_list(self) -> bool:
        draft = self.opened.innermost
        return draft is not None and bool(draft.head.scheme or draft.items)

    def _names_only(self) -> bool:
        """Whether the open list has names without amounts, so that a line of words may be one more."""
        draft = self.opened.innermost
        if draft is not None and draft.head.format == "intervals":
            return True
        return draft is None or bool(draft.head.scheme) or any(i.amount_is in ("none", "scheme") for i in draft.items)

    def _take_items(self, line: Line, text: str, head: Head, pieces: list[Piece], *, first: bool) -> Role:
        sure = [p for p in pieces if p.sure]
        doubtful = not sure and not any(p.numbers.anything for p in pieces)
        alone = len(text.split()) == 1 and not self._names_only()
        stations = head.format == "intervals" and all(p.named for p in pieces)
        if (
            doubtful
            and not stations
            and (alone or head.says or len(text.split()) > 6 or not any(p.named for p in pieces))
        ):
            return self._words(line, text, head, first=first)
        running = self.opened.innermost
        if head.by_every and running is not None and running.items and not line.gap and running.head.format:
            head = Head(head.rest)  # "5 burpees every minute" below a piece with a format of its own
            self.state.assumed.append(f"line {line.number}: by a clock of its own; read as once in each round")
        own_rest = head.rest_s if head.says == 1 and head.rest_s and not head.rest_between else None
        if own_rest and len(pieces) > 1 and not re.search(r";\W*$", head.rest):
            again = rests_given(self.items.line(text))  # a rest in the middle of a line is of what stands before it
            if len(again) == len(pieces) and any(p.numbers.rest_s for p in again):
                pieces, own_rest, head.rest_s = again, None, None
        if head.split and not head.starts and head.split != "shared" and self.opened.current(line).head.split:
            head.split = None
        if own_rest is None and (head.says or head.then or head.slot):
            self._open(line, head, items=True, first=first)
        if head.then and not head.starts and pieces[0].numbers.amount:
            self.opened.after_scheme()
        draft = self.opened.current(line)
        if self._new_piece(line, draft, pieces):
            self.opened.blocks.append(Draft(line.number, indent=line.indent))
            self.opened.part = None
            draft = self.opened.blocks[-1]
        if not head.says and not head.then and (self._or_else(text, draft) or self._loads(line, draft, pieces)):
            return "heading"
        self._titled(draft)
        named = [self._add(line, draft, piece, head) for piece in pieces]
        role: Role = "item" if any(named) else "unread"
        if own_rest and draft.items:
            draft.items[-1] = replace(draft.items[-1], rest_s=own_rest)
        if head.role == "cash-out" or head.role == "buy-in":
            self.opened.role = None
        return role

    def _or_else(self, text: str, draft: Draft) -> bool:
        """Whether a line only names another choice for the item above: "(or 15 cal bike)"."""
        other = re.match(r"\W*or\s+(?=\S)", text, re.I)
        if not other or not draft.items:
            return False
        pieces = self.items.line(text[other.end() :].rstrip(" )"))
        if not all(p.sure for p in pieces):
            return False
        ids = [p.called.movement for p in pieces if p.called.movement]
        draft.items[-1] = replace(draft.items[-1], or_=(*draft.items[-1].or_, *ids))
        return True

    def _titled(self, draft: Draft) -> None:
        """A bare name above the heading of a piece that lists its own items was its title."""
        if draft.over and len(draft.items) == 1 and draft.items[0].amount_is == "none" and not draft.default:
            title = draft.items.pop()
            draft.marks.clear()
            draft.times.clear()
            draft.head.title = draft.head.title or title.as_written
            self.roles[title.line] = "heading"
        draft.over = False

    def _loads(self, line: Line, draft: Draft, pieces: list[Piece]) -> bool:
        """Whether a line only gives the loads of what stands above; what has one keeps it, and the line is a note."""
        told: list[str] = []
        if not draft.items or not all(p.named for p in pieces):
            return False
        new = [self.items.item(p, line.number, pounds=self.pounds, assumed=told) for p in pieces]
        took = loads_of(pieces, draft.items, new)
        if took is None:
            return False
        if took:
            self.state.assumed += told
        else:
            self.state.note(line, line.raw)
        return True

    def _new_piece(self, line: Line, draft: Draft, pieces: list[Piece]) -> bool:
        """Whether sets of a lift after a blank line begin a piece of their own."""
        sets = any(p.numbers.sets or p.numbers.percent or p.numbers.effort for p in pieces)
        return line.gap and sets and not draft.empty and draft.head.format is not None

    def _add(self, line: Line, draft: Draft, piece: Piece, head: Head) -> bool:
        """Add a piece to the block; whether it is something to do, known or not."""
        text = piece.text.strip()
        if draft.head.format == "emom" and not draft.empty and re.fullmatch(r"\W*rest\W*", text, re.I):
            draft.rest_slots.append((len(draft.items), 0))
            return False
        if not piece.named and not looks_like_one(piece) and not self._stands_in_list(draft, piece):
            words = self.talk.left(piece.name_text)
            known = any(self.caller.known(w) for w in words.split() if len(w) > 2)
            if piece.numbers.anything and known and not self.talk.for_people(text) and not self.caller.only_how(words):
                self._unread(line, text, "no movement is named", self.lookups.near(words).nearest)
            elif text and (piece.numbers.anything or words):
                self.state.note(line, text)
            return False
        piece.numbers = in_block(piece.numbers, draft.head, place=len(draft.items) + 1)
        item = self.items.item(piece, line.number, pounds=self.pounds, assumed=self.state.assumed)
        if wrong := impossible(item):
            self._unread(line, text, wrong)
            return False
        item = replace(item, slot=head.slot, label=line.label, role=self.opened.role or head.role)
        if piece.numbers.step:
            draft.head.step, draft.head.ladder = piece.numbers.step, True
        pair = piece.numbers.bare or (list(piece.numbers.amount) if item.load_kg and not piece.numbers.load else [])
        if pair:
            self.state.pairs.append((pair, item.movement))
        if not piece.named:
            why = "could be more than one movement" if piece.called.ambiguous else "no movement is called so"
            if self.lookups.spent:
                why = "no movement is called so; too many unknown names to look for near ones"
            self._unread(line, text, why, piece.called.nearest)
        elif piece.called.short:
            bare = piece.numbers.unit == "bare"
            self.state.shorts.append((draft, len(draft.items), piece.called.short, bare))
        elif piece.sure:
            self.state.sure.append(item)
        draft.items.append(item)
        draft.item_indent = line.indent if draft.item_indent is None else draft.item_indent
        draft.marks.append(line.mark)
        timed = item.amount[0] if item.unit == "s" and item.amount_is == "each" and not item.sets else None
        draft.times.append(piece.numbers.max_for_s or timed)
        return True

    def _stands_in_list(self, draft: Draft, piece: Piece) -> bool:
        """Whether an unknown name without an amount is one of several names in a list of names."""
        names = draft.head.format == "intervals" or draft.head.scheme
        words = piece.name_text.split()
        said = self.talk.spoken(words) or self.caller.only_how(piece.name_text) or piece.numbers.rest_s
        return bool(names) and 0 < len(words) <= 3 and not said and any(len(w) > 3 for w in words)

    # --- numbers on a line of their own, titles, talk

    def _lay(self, line: Line, head: Head, numbers: list[tuple[Numbers, str | None]], *, first: bool) -> Role:
        """Numbers on a line of their own."""
        if head.says:
            self._open(line, head, items=False, first=first)
        return self.alone.lay(line, head, self.opened.current(line), numbers)

    def _words(self, line: Line, text: str, head: Head, *, first: bool) -> Role:
        """A line without a movement: a title, a date, talk, or unread."""
        left = " ".join(head.rest.replace(";", " ").split()).strip(" :,.-()\"'")
        words = left.split()
        if head.says:
            if words and self.caller.only_how(left):
                words = []
            if re.search(r"\d", left) and any(self.caller.known(w) for w in words if len(w) > 2):
                self._unread(line, left, "no movement is named", self.lookups.near(left).nearest)
            elif words and len(words) <= LONGEST_TITLE and not self.talk.for_people(left):
                head.title = left
            elif words:
                self.state.note(line, left)
            self._open(line, head, items=False, first=first)
            return "heading"
        draft = self.opened.current(line) if self.opened.blocks else None
        aside = re.fullmatch(r"\W*[(\[].*[)\]]\W*", line.raw) and not re.search(r"\d", left)
        if (
            words
            and draft is not None
            and draft.items
            and (self.caller.only_how(left) or words[0].lower() == "no" or aside)
        ):
            return self._note(line, text)
        if re.search(r"\d", left) and words and not self.talk.spoken(words) and '"' not in line.raw:
            called = self.lookups.near(left)
            return self._unread(line, text, "no movement is named", called.nearest)
        if self._titles(line, words, draft, text):
            title = Head(title=left)
            if draft is not None and draft.empty:
                draft.merge(title)
            else:
                self.opened.begin(line, title)
            return "heading"
        if (
            self._in_list()
            and 0 < len(words) <= 4
            and not line.gap
            and not re.search(r"[.!]$", line.raw)
            and not self.talk.spoken(words)
            and self._names_only()
        ):
            called = self.lookups.near(left)
            return self._unread(line, text, "no movement is called so", called.nearest)
        return self._note(line, text)

    def _titles(self, line: Line, words: list[str], draft: Draft | None, text: str) -> bool:
        """Whether a line may be the name of the piece below it."""
        if (
            not 0 < len(words) <= LONGEST_TITLE
            or line.bullet
            or self.talk.spoken(words)
            or re.search(r"[.!,;]$", line.raw)
        ):
            return False
        if draft is None or (draft.empty and draft.head.title is None):
            return True
        ends = line.raw.rstrip(" *_").endswith(":") or line.raw.lstrip().startswith(("#", "**", '"'))
        return (line.gap or ends) and len(words) <= 5 and (ends or text[:1].isupper())

    def _note(self, line: Line, text: str) -> Role:
        self.state.note(line, text)
        return "note"

    def _unread(self, line: Line, text: str, why: str, nearest: tuple[str, ...] = ()) -> Role:
        self.state.not_read(line, text, why, nearest)
        return "unread"

    def _decide_short(self) -> None:
        movements = self.compiled.library.movements
        for draft, position, short, bare in self.state.shorts:
            if position < len(draft.items):
                item = draft.items[position]
                reading = self.compiled.library.readings[short]
                draft.items[position] = decide(item, short, reading, self.state.sure, movements, bare=bare)
                self.state.assumed.append(f"line {item.line}: {draft.items[position].why}")
