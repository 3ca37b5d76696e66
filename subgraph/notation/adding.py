"""Items of a line put into the open block, or told from lines that only speak of items above."""

from __future__ import annotations

import re

from msgspec.structs import replace

from subgraph.notation.as_written import as_on_line
from subgraph.notation.below import loads_of
from subgraph.notation.board import Item, Role
from subgraph.notation.draft import Draft
from subgraph.notation.head import Head
from subgraph.notation.lines import Line
from subgraph.notation.opened_board import OpenedBoard
from subgraph.notation.pieces import Piece, looks_like_one, rests_given
from subgraph.notation.units import impossible, in_block

_TWICE_ALL = re.compile(r"^\W*\d{1,2}x\s+\d")  # "2x 10 air squats, 5 inchworms"


_SAME = re.compile(r"\bsame\s+(?:bells?|bar|weight|load|dbs?|dumbbells?|kbs?|kettlebells?)\b", re.I)


class Adding(OpenedBoard):
    """Adds items to the block that is open."""

    def _words(self, line: Line, text: str, head: Head, *, first: bool) -> Role:
        """A line without a movement."""
        raise NotImplementedError

    def _take_items(self, line: Line, text: str, head: Head, pieces: list[Piece], *, first: bool) -> Role:
        if not head.rounds and len(pieces) > 1 and _TWICE_ALL.match(head.rest) and self._alike(pieces):
            head.rounds, pieces[0].numbers.sets = pieces[0].numbers.sets, None
        if len(pieces) == 1 and not head.says and self._heads_lifts(line, pieces[0]):
            self.opened.begin(line, Head(title=text.strip(" :")))
            return "heading"
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
        if (
            head.by_every
            and running is not None
            and running.items
            and not line.gap
            and (running.head.format or running.head.duration_s or running.head.partners)
        ):
            rounds = running.head.rounds or running.head.scheme or running.head.duration_s
            once = "read as once in each round" if rounds else "read as done once"
            head = Head(head.rest)  # "5 burpees every minute" below a piece with a format of its own
            self.state.assumed.append(f"line {line.number}: by a clock of its own; {once}")
        own_rest = head.rest_s if head.says == 1 and head.rest_s and not head.rest_between else None
        if own_rest and len(pieces) > 1 and not re.search(r";\W*$", head.rest):
            again = rests_given(self.items.line(text))  # a rest in the middle of a line is of what stands before it
            if len(again) == len(pieces) and any(p.numbers.rest_s for p in again):
                pieces, own_rest, head.rest_s = again, None, None
        own_split = head.split if (not head.starts or head.role) and not head.partners else None
        if head.role and own_split:
            head.split = None  # of the buy-in alone
        if own_rest and re.match(r"\W*rest\b", text, re.I) and not self.opened.current(line).empty:
            before = self.opened.current(line)  # "rest 30 s, 20 sit-ups": the rest is of what stands before it
            if before.items:
                before.items[-1] = replace(before.items[-1], rest_s=before.items[-1].rest_s or own_rest)
                own_rest = None
                head = Head(head.rest)
        if head.split in ("synchro", "each") and own_split:
            head.split = None
        if own_rest is None and (head.says or head.then or head.slot):
            self._open(line, head, items=True, first=first)
        built = pieces[0].numbers.sets or pieces[0].numbers.effort == "heavy"
        if head.then and not head.starts and first:
            self.opened.after_clock(line, pieces[0].numbers)
        if head.then and not head.starts and built:
            self.opened.after_rounds(line)
        elif head.then and not head.starts and pieces[0].numbers.amount:
            self.opened.after_scheme()
        if not head.says and pieces[0].numbers.amount_is == "each":
            self.opened.after_rest(line)
        draft = self.opened.current(line)
        below = draft.default is not None and 0 < draft.default_at == len(draft.items)
        if below and draft is self.opened.root and not draft.head.format and not pieces[0].numbers.anything:
            self.opened.begin(line, Head())  # sets stand below the lift above; here comes the next one
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
        if own_split and any(named):
            draft.items[-sum(named) :] = [replace(i, split=own_split) for i in draft.items[-sum(named) :]]
        if own_rest and draft.items:
            draft.items[-1] = replace(draft.items[-1], rest_s=own_rest)
        if head.role == "cash-out" or head.role == "buy-in":
            self.opened.role = None
        return role

    def _heads_lifts(self, line: Line, piece: Piece) -> bool:
        """Whether a bare name only heads the lifts below it, named again: "Jerks" above "Split jerk 6 x 2"."""
        opens = self.numbers[line.number] == 0
        if piece.numbers.anything or not (line.gap or opens) or self._names_only_open():
            return False
        at = self.numbers[self.last.number] + 1
        below = self.lines[at] if at < len(self.lines) else None
        if below is None or below.gap or below.heads:
            return False
        head = self.heads.take(below.text)
        lifts = self.items.line(head.rest) if head.says <= bool(head.rest_s) else []
        return bool(lifts) and lifts[0].sure and bool(lifts[0].numbers.sets)

    def _names_only_open(self) -> bool:
        draft = self.opened.innermost
        return draft is not None and bool(draft.head.scheme or draft.head.format == "intervals")

    def _alike(self, pieces: list[Piece]) -> bool:
        """Whether the sets of the first of some counted movements may be rounds of all."""
        first, *others = (p.numbers for p in pieces)
        return bool(first.sets) and all(n.amount and not n.sets for n in others)

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
        if sets and draft is self.opened.root and self.opened.on_one_line(line):
            return True
        return line.gap and sets and not draft.empty and draft.head.format is not None

    def _add(self, line: Line, draft: Draft, piece: Piece, head: Head) -> bool:
        """Add a piece to the block; whether it is something to do, known or not."""
        text = piece.text.strip()
        if draft.head.format == "emom" and not draft.empty and re.fullmatch(r"\W*rest\W*", text, re.I):
            draft.rest_slots.append((len(draft.items), 0))
            return False
        said = bool(piece.name_text) and not self.talk.left(
            " ".join(w for w in piece.name_text.split() if not self.talk.spoken([w]))
        )
        if not piece.named and (said or not looks_like_one(piece)) and not self._stands_in_list(draft, piece):
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
        item = replace(item, as_written=as_on_line(item.as_written, line.text))
        item = replace(item, slot=head.slot, label=line.label, role=self.opened.role or head.role)
        if piece.numbers.step:
            draft.head.step, draft.head.ladder = piece.numbers.step, True
        draft.within_s += piece.numbers.within_s or 0.0
        if not item.load_kg and _SAME.search(piece.text):
            item = self._same_load(item, draft)
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

    def _same_load(self, item: Item, draft: Draft) -> Item:
        """An item with the load of the last one that has one: "8 goblet squats, same bell"."""
        loaded = next((i for i in reversed(draft.items) if i.load_kg), None)
        return replace(item, load_kg=loaded.load_kg, per_hand=loaded.per_hand) if loaded else item

    def _stands_in_list(self, draft: Draft, piece: Piece) -> bool:
        """Whether an unknown name without an amount is one of several names in a list of names."""
        names = draft.head.format == "intervals" or draft.head.scheme
        words = piece.name_text.split()
        said = self.talk.spoken(words) or self.caller.only_how(piece.name_text) or piece.numbers.rest_s
        return bool(names) and 0 < len(words) <= 3 and not said and any(len(w) > 3 for w in words)
