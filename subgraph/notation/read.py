"""Read a whole board: decide line by line, keep the block that is open, account for every line.

For each line the readings are tried in this order, and the first with enough evidence stands: a line for people, a
heading, items, numbers for what stands above, a title. What none of them explains is listed as unread.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.notation.adding import Adding
from subgraph.notation.below import in_place_of
from subgraph.notation.board import Reading, Role, Role_, Unread
from subgraph.notation.context import decide
from subgraph.notation.draft import Draft
from subgraph.notation.finish import finish
from subgraph.notation.head import Head
from subgraph.notation.lines import LONGEST, Line, lines_of
from subgraph.notation.numbers import Numbers
from subgraph.notation.pieces import looks_like_one
from subgraph.notation.segments import by_labels
from subgraph.notation.sheet import Sheets
from subgraph.notation.standards import joined
from subgraph.notation.units import pounds_on
from subgraph.notation.words import words_of

MOST_CHARACTERS = 16_000  # of one board; what comes after is listed as unread
LONGEST_TITLE = 8  # words
LONGEST_NAME = 4  # words
LARGEST_RATE = 3.0  # reps that are set equal to others only to say what they are worth

_SPOKEN = re.compile(r"\b(?:you|your|we|penalty|break|every\s+time|if|when)\b|[=?]", re.I)
_AT = re.compile(r"^(?:at\s+|@\s*)?\d{1,2}:\d\d(?!\s*-\s*\d|\d)\s*[:-]*\s*(?=[a-z\d]|$)", re.I)
_RESTS = re.compile(
    r"\W*(?:full\s+|complete\s+)?(?:rest|off|recover)(?:\s+minute)?(?:\s*(?:[/&+]|and|or)\s*[a-z]+)?\W*", re.I
)
_MINUTE = re.compile(r"^(?P<n>\d{1,2})\s*(?:'|st|nd|rd|th)\s*[:.)-]*\s+(?!min)(?=[a-z\d])", re.I)
_GREETING = re.compile(
    r"^\W*(?:good\s+(?:morning|evening|afternoon|day)|hi|hello|hey|morning|dear)\b(?!\s*x\b)[^@:]*$", re.I
)
_SUM = re.compile(r"\(?(?<![\w+.])(?P<n>\d{1,2}(?:\s*\+\s*\d{1,2})+)(?![\w+.])\)?")
_RESTS_SAID = re.compile(r"^\W*rest\b[^\d]*$", re.I)
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
    lines = joined(Sheets(words_of(compiled.library)).read(lines))
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


class _Board(Adding):
    """Decides line by line, and gives the whole reading."""

    def read(self) -> Reading:
        used = at = 0
        while at < len(self.lines):
            line, count = self.wrapped.joined(self.lines, at)
            used += sum(len(one.raw) for one in self.lines[at : at + count])
            for one in self.lines[at : at + count]:
                self.roles[one.number] = "heading"
            self.last = self.lines[at + count - 1]
            self.now = line.number
            self.roles[line.number] = self._line(line, used)
            at += count
        for number in (item.line for draft in self.opened.blocks for item in draft.all_items()):
            if self.roles[number] != "unread":
                self.roles[number] = "item"  # whatever else stands on the line
        listed = {one.line for one in self.state.unread}
        for note in self.state.notes:
            if self.roles[note.line] == "unread" and note.line not in listed:
                self.roles[note.line] = "note"  # all of it was kept as talk
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
        if line.heads:
            return "heading"
        if line.empty:
            return self._note(line, line.raw)
        if line.gap:
            self.columns.close()
        if self.by_clock and (found := _AT.match(line.text)):
            line = replace(line, text=line.text[found.end() :])
            self.opened.begin(line, Head(part=True))
            if not line.text:
                return "heading"
        if (found := _MINUTE.match(line.text)) and int(found["n"]) == self._next_slot():
            line = replace(line, text=f"min {found['n']}: {line.text[found.end() :]}")
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
        text, said = self.remarks.parted(text)
        if self._equal(text):
            text = text.replace("=", " or ", 1)
        elif self._said(text):
            self._shared(text)
            return self._note(line, line.raw)
        for remark in said:
            self.state.note(line, remark)
        roles: list[Role] = []
        for labelled in by_labels(replace(line, text=text)):
            parts = self.segments.of(labelled.text)
            for i, part in enumerate(parts):
                self.outside = i > 0 and parts[i - 1].endswith(")")
                self.ahead = parts[i + 1] if i + 1 < len(parts) else ""
                roles.append(self._segment(labelled, part, first=i == 0))
        for role in _STRONGEST:
            if role in roles:
                return role
        return "note"

    def _next_slot(self) -> int:
        """The minute that comes next in an open piece by the minute; 0 where none is open."""
        root = self.opened.root
        if root is None or root.head.format != "emom":
            return 0
        return 1 + max((*(i.slot or 0 for i in root.items), *(s for _, s in root.rest_slots)), default=0)

    def _said(self, text: str) -> bool:
        """Whether a line is for people: talk, or another movement for one that stands on the board."""
        if _GREETING.match(text) and self.numbers[self.now] == 0 and not re.search(r"\d\s*[a-z]", text, re.I):
            return True
        talk = self.talk.for_people(text) and not self._counted(text) and not self._is_name(text)
        return talk or in_place_of(text, self.caller, self._standing())

    def _is_name(self, text: str) -> bool:
        """Whether a line that sounds like talk is no more than a name: "Front squat waves"."""
        name = re.sub(r"\([^()]*\)", " ", text).strip(" :.-")
        called = self.caller.call(name) if 0 < len(name.split()) <= LONGEST_NAME else None
        return called is not None and called.sure and called.movement is not None

    def _equal(self, text: str) -> bool:
        """Whether two counted items are set equal and the first does not stand on the board yet: a choice."""
        sides = text.split("=")
        if len(sides) != 2 or not all(re.match(r"\W*\d", side) for side in sides):
            return False
        first, second = (self.items.piece(side) for side in sides)
        rate = first.numbers.amount[:1] <= [LARGEST_RATE]  # "1 DU = 3 SU" tells what one is worth
        return first.sure and second.sure and not rate and first.called.movement not in self._standing()

    def _counted(self, text: str) -> bool:
        """Whether a line that sounds like talk opens with a counted movement: "500 m row @ 22 strokes per minute"."""
        if not re.match(r"\d", text) or _SPOKEN.search(text):
            return False
        pieces = self.items.line(self.heads.take(text).rest)
        return bool(pieces) and pieces[0].sure and bool(pieces[0].numbers.amount)

    def _main_below(self, line: Line) -> bool:
        """Whether the version of the whole class stands further down."""
        return any(self.talk.main.match(other.text) for other in self.lines[self.numbers[line.number] + 1 :])

    def _shared(self, text: str) -> None:
        """Keep what a line for people says of sharing, where a team is known, and of rest by the time of the work."""
        root = self.opened.root
        if root is None:
            return
        head = self.heads.take(text)
        if root.head.partners and not root.head.split:
            root.head.split = head.split
        if not root.head.rest_s:
            root.head.rest_per_work = root.head.rest_per_work or head.rest_per_work

    def _ends_aside(self, line: Line, text: str) -> bool:
        head = self.heads.take(text)
        left = self.talk.left(head.rest)
        if self.state.aside_at == self.numbers[line.number] - 1 and not line.gap:
            return False  # the format of that version
        strong = bool(head.section or head.part or head.format in ("amrap", "emom", "intervals", "for-time"))
        return strong and (line.gap or not left or bool(head.section))

    def _segment(self, line: Line, text: str, *, first: bool) -> Role:
        if (behind := self.talk.behind_day(text)) is not None:
            self._new_day(line)
            text = behind
            if not re.search(r"\d", text) and not any(p.sure for p in self.items.line(self.heads.take(text).rest)):
                return self._words(line, text, self.heads.take(text), first=first)
        head = self.heads.take(text)
        head.outside = self.outside
        if head.wrong:
            return self._unread(line, text, head.wrong)
        if first and line.label and (len(line.label) == 1 or self.opened.next_letter(line)):
            self.opened.label(line)
        head.rest = self._counts_of_complex(head.rest)
        left = self.talk.left(head.rest)
        if self.talk.is_date(text):
            self._new_day(line)
            return "heading"
        if not left and head.says:
            self._open(line, head, items=False, first=first)
            return "heading"
        if _RESTS.fullmatch(head.rest) or ((line.mark or head.slot) and _RESTS_SAID.match(head.rest)):
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
        timed = re.search(r"\(\s*\d+\s*(?:'|min)", head.rest)
        title = bool(head.says or timed) and all(self.heads.is_name(p.name_text) for p in pieces)
        if not any(p.named for p in pieces) and (title or not any(looks_like_one(p) for p in pieces)):
            return self._words(line, text, head, first=first)
        return self._take_items(line, text, head, pieces, first=first)

    def _counts_of_complex(self, text: str) -> str:
        """The reps of a complex on the line below it, "5 sets of 2+1+1", given to its parts; the text without them."""
        found = _SUM.search(text)
        root = self.opened.innermost
        if not found or root is None or not root.items or re.search(r"[a-z]{3}\s*\+", text, re.I):
            return text
        counts = [float(n) for n in re.findall(r"\d+", found["n"])]
        last = root.items[-1]
        if len(counts) != len(last.parts) or 0 in counts:
            return text
        parts = tuple(replace(p, amount=n) for p, n in zip(last.parts, counts, strict=True))
        root.items[-1] = replace(last, parts=parts, amount=(counts[0],))
        before = re.sub(r"\bof\s*$|[x*(]\s*$", " ", text[: found.start()])
        return f"{before} {text[found.end() :]}"

    def _new_day(self, line: Line) -> None:
        """What stands below the name of a day goes on with nothing above it."""
        if self.opened.root is not None and not self.opened.root.empty:
            self.opened.begin(line, Head())

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
        opens = self.numbers[line.number] == 0 and len(words) <= LONGEST_TITLE and not self.lookups.near(left).movement
        if re.search(r"\d", left) and words and not opens and not self.talk.spoken(words) and '"' not in line.raw:
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

    def _decide_short(self) -> None:
        movements = self.compiled.library.movements
        for draft, position, short, bare in self.state.shorts:
            if position < len(draft.items):
                item = draft.items[position]
                reading = self.compiled.library.readings[short]
                draft.items[position] = decide(item, short, reading, self.state.sure, movements, bare=bare)
                self.state.assumed.append(f"line {item.line}: {draft.items[position].why}")
