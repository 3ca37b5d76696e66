"""From a line to the items on it: one movement with its numbers, or several on one line.

A line is read whole first; only where that names nothing to the letter is it parted, at the strongest sign that leaves
movements on both sides.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from subgraph.library.records import Movement
from subgraph.notation.board import Item, Part
from subgraph.notation.called import Called, Caller, is_unit
from subgraph.notation.climbs import climb_in
from subgraph.notation.naming import weighted_form
from subgraph.notation.number_forms import AS_MANY
from subgraph.notation.numbers import Numbers
from subgraph.notation.pieces import Piece, bare, looks_like_one, outside_brackets
from subgraph.notation.scan_item import scan, scan_manner
from subgraph.notation.styles import given, styled
from subgraph.notation.units import settle
from subgraph.notation.whole_line import whole_line

NO_NAME = "distance without a name"  # called so in the library's `calls`
LEAST_RUN_M = 100  # a shorter distance without a name may be anything
LEAST_LIST = 3  # names with slashes between them that make a list and no choice
LEAST_WAY_M = 5  # of "20 m lunges"; a smaller number is minutes
MOST_PIECES = 150  # items of one line
_SEPARATORS = (  # the strongest first; `_read` knows the fourth and the last by their places
    re.compile(r"\s*[;|]\s*"),
    re.compile(
        r"\s+(?:>|->|=>)\s+|\s*,?\s*\b(?:then|(?:straight|directly|right|immediately)\s+(?:in)?to)\b[\s:,]*|\s+into\s+(?=\d|max\b)",
        re.I,
    ),
    re.compile(r"\s*,\s*(?!\d+\s*,)(?:and\s+)?", re.I),
    re.compile(r"\s+/\s+|(?<=[a-z])/(?=\s*\d+\s*[a-z])", re.I),
    re.compile(r"\.\s+(?=\d|[A-Z])"),
    re.compile(r"\s+\+\s*|(?<=[a-z])\+(?=\d)", re.I),
    re.compile(r"\s+(?:and|&|while)\s+", re.I),
    re.compile(r"\s+-\s+|:\s+"),
    re.compile(
        r"(?:(?<=[A-Za-z)\"#%])|(?<=\d/\d)|(?<=\d/\d\d)|(?<=/\d\d\.5))(?<!\bwith)(?<!\bat)(?<!\bof)\s+(?=(?:\d+(?:[.:/-]\d+)*)\s*(?:x\s*)?(?:[a-z]+\.?\s+)?[a-z(])",
        re.I,
    ),
    re.compile(r"(?:(?<=\dx\d)|(?<=\dx\d\d)|(?<=x\d\ds)|(?<=\dkg)|(?<=\d%))\s+(?=[a-z]{3})", re.I),
)
_OR = re.compile(r"[\s,(;]*\bor\b\s+|(?<=[a-z])\s+(?:OR)\s+", re.I)
_NAMED_NUMBER = re.compile(r"^(?:(?P<n>\d+(?:\.\d+)?)\s*x?\s+)?(?P<name>\S.*?)(?:\s+x\s*(?P<m>\d+))?$", re.I)
_COMPLEX = re.compile(r"\s*\+\s*")


_MEANWHILE = re.compile(
    r"\s*(?:\s-|[,;/(]|\bwhile\b)\s*(?=(?:the\s+|your\s+)?(?:other\s+)?partner\s+(?:holds?|holding|in|does|is\s+in)\b)",
    re.I,
)
_OF = re.compile(r"^(?:(?:a|the|some)\s+)?(?:[a-z]+\s+){1,2}of\s+(?=\d|max)|^on\s+(?:the\s+|an?\s+)?(?=[a-z])", re.I)
_PREFIX = re.compile(r"^(?P<name>[a-z][a-z '/&+-]{2,80}):\s+(?=.*\d)", re.I)
_RUN_ON = re.compile(r"(?<=[a-z]{2})(?=\d{1,3}\s+[a-z]{3})", re.I)
_GLUED = re.compile(r"(?<![a-wyz\d./:])(?P<n>\d{1,4})(?P<word>[a-z]{3,})\b", re.I)
_GROUP = re.compile(r"^\((?P<what>[^()]*)\)\s*(?P<tail>[^a-z]?.{1,40})$", re.I)


class Items:
    """Reads lines with the names of one library."""

    def __init__(self, caller: Caller) -> None:
        self.caller = caller
        self._on_foot = caller.compiled.library.movements[caller.known(NO_NAME) or ""].name

    def line(self, text: str) -> list[Piece]:
        """The pieces of a line, in order; a piece without a movement is kept where it has numbers or words."""
        text = bare(text)
        if (prefix := _PREFIX.match(text)) and self.caller.call(prefix["name"]).movement is None:
            text = text[prefix.end() :]
        text = self._parted_names(whole_line(text))
        text = _RUN_ON.sub(" ; ", text)
        text = bare(AS_MANY.sub(r"\g<what>", text))
        if (found := _GROUP.match(text)) and (pieces := self._group(found)):
            return pieces[:MOST_PIECES]
        if found := _MEANWHILE.search(text):
            pieces = self._read(text[found.end() :], 0)
            if all(p.named for p in pieces):
                return [*self._read(text[: found.start()], 0), *pieces][:MOST_PIECES]
        return self._read(text, 0)[:MOST_PIECES]

    def _parted_names(self, text: str) -> str:
        """Three or more names with slashes between them are a list, unless all are engines to choose from."""
        title, colon, listed = text.rpartition(": ")
        names = re.split(r"(?<=[a-z])/(?=[a-z])", listed.strip(" ;-"), flags=re.I)
        if len(names) < LEAST_LIST or re.search(r"\d", listed) or not all(self.piece(n).named for n in names):
            return text
        held = [self.movement(self.piece(n).called) for n in names]
        choice = all(m is not None and m.character == "cyclic" for m in held)
        return text if choice else title + colon + ", ".join(names)

    def _group(self, found: re.Match[str]) -> list[Piece] | None:
        """A list in brackets with numbers behind it for all that carry one: "(3 snatches + 6 burpees) @ 40 kg"."""
        tail = scan(found["tail"])
        if not tail.anything or tail.amount or re.search(r"[a-z]{3}", tail.rest, re.I):
            return None
        pieces = self._read(found["what"], 0)
        if len(pieces) < 2 or pieces[0].parts:
            return None
        for place, piece in enumerate(pieces):
            movement = self.movement(piece.called)
            if movement is not None and movement.load is not None and not (piece.numbers.load or piece.numbers.bare):
                pieces[place] = self.piece(f"{piece.text} {found['tail']}")
        return pieces

    def _read(self, text: str, level: int) -> list[Piece]:
        whole = self.piece(text)
        if (whole.sure and not whole.called.short) or level > 8 or len(text) < 4:
            return [whole]
        if whole.parts:
            return [whole]
        for position, separator in enumerate(_SEPARATORS):
            texts = [t for t in outside_brackets(separator, text) if t and t.strip()]
            if len(texts) < 2 or len(texts) > MOST_PIECES:
                continue
            firsts = [self.piece(t) for t in texts]
            if not self._worth(whole, firsts, position):
                continue
            if position == 7 and len(texts) == 2 and self._is_title(firsts[0]) and ":" in text:
                return self._read(texts[1], level + 1)
            if position == 3 and (choice := self._engines(text, firsts)):
                return [choice]
            found: list[Piece] = []
            for piece in firsts:
                found += [piece] if piece.sure else self._read(piece.text, level + 1)
            joined = self._joined(found)
            if position in (2, 7):
                return self._without_comments(joined)
            if position == 3:
                return self._chosen(joined)
            return joined
        return [whole]

    def _engines(self, text: str, pieces: list[Piece]) -> Piece | None:
        """A choice of engines, as in 400 m run / 500 m row: nobody writes two side by side to be done in turn."""
        held = [self.movement(p.called) for p in pieces]
        if not all(m is not None and m.character == "cyclic" and "m" in m.units for m in held):
            return None
        first = Piece(text, pieces[0].numbers, pieces[0].called)
        first.or_ = [m.id for m in held[1:] if m is not None]
        return first

    def _worth(self, whole: Piece, pieces: list[Piece], position: int) -> bool:
        """Whether parting gives more than the whole did: movements on both sides, or one and numbers that fit it."""
        named = sum(p.named or looks_like_one(p) for p in pieces)
        if position == 7 and len(pieces) == 2 and self._is_title(pieces[0]) and not whole.named:
            return (
                pieces[1].named
                or looks_like_one(pieces[1])
                or len(outside_brackets(_SEPARATORS[2], pieces[1].text)) > 1
            )
        if position == len(_SEPARATORS) - 1:
            return all(p.named for p in pieces)
        if position == len(_SEPARATORS) - 2 and not all(p.named or pieces[0].numbers.amount for p in pieces):
            return False
        if named >= 2 or (position < 3 and sum(p.named for p in pieces) >= 1 and not whole.named):
            return position not in (6, 7) or all(p.named or not p.name_text or p.numbers.amount for p in pieces)
        if position in (0, 1, 2) and not whole.named:
            return any(len(outside_brackets(s, p.text)) > 1 for p in pieces for s in _SEPARATORS[position + 1 :])
        return False

    def _without_comments(self, pieces: list[Piece]) -> list[Piece]:
        """A counted item keeps what follows it without a count: its kind, its load, or words that sound like a name."""
        kept: list[Piece] = []
        for piece in pieces:
            uncounted = not piece.numbers.amount and piece.numbers.amount_is != "max" and not piece.numbers.sets
            if not kept or not uncounted or not kept[-1].numbers.amount:
                kept.append(piece)
                continue
            last = kept[-1].numbers
            if not piece.named:
                if piece.name_text or not piece.numbers.load or last.load or last.bare:
                    kept.append(piece)
                else:
                    last.load, last.load_unit, last.pair = (
                        piece.numbers.load,
                        piece.numbers.load_unit,
                        piece.numbers.pair,
                    )
                    kept[-1].text += f", {piece.text}"
                continue
            kind = self.caller.call(f"{piece.name_text} {kept[-1].name_text}")
            if kind.movement and kind.sure:
                kept[-1].called = kind
            elif piece.sure:
                kept.append(piece)
                continue
            kept[-1].text += f", {piece.text}"
        return kept

    def _chosen(self, pieces: list[Piece]) -> list[Piece]:
        """A choice, where only the first of two names beside a slash is counted: "10 pull-ups / ring rows"."""
        first, *others = pieces
        bare = all(p.sure and not p.numbers.amount and not p.numbers.sets for p in others)
        counted = first.numbers.amount or first.numbers.sets
        if not others or not counted or not bare or any(p.numbers.amount_is == "max" for p in others):
            return pieces
        first.or_ += [p.called.movement for p in others if p.called.movement]
        return [first]

    def _is_title(self, piece: Piece) -> bool:
        """Whether the words before a colon only say whose or what the rest is: "Runner: 200 m run"."""
        return not piece.named and not piece.numbers.anything and 0 < len(piece.name_text.split()) <= 3

    def _joined(self, pieces: list[Piece]) -> list[Piece]:
        """Put numbers that stand alone to the movement that they belong to."""
        found: list[Piece] = []
        waiting = ""
        for piece in pieces:
            if found and styled(self.caller, found[-1], piece):
                continue
            if piece.named or looks_like_one(piece):
                if waiting:
                    piece = self.piece(f"{waiting} {piece.text}")
                    waiting = ""
                found.append(piece)
            elif found and self._far(piece) and found[-1].numbers.amount:
                found.append(self.piece(f"{piece.text} {self._on_foot}"))
            elif found:
                again = self.piece(f"{found[-1].text}, {piece.text}")
                if again.named and again.called.movement == found[-1].called.movement:
                    found[-1] = again
                elif given(self.caller, found, piece, self._unglued):
                    continue
                elif found[-1].named and not piece.numbers.anything and self.caller.only_how(piece.name_text):
                    found[-1].text += f", {piece.text}"
                else:
                    found.append(piece)
            elif len(pieces) > 1 and self._far(piece):
                found.append(self.piece(f"{piece.text} {self._on_foot}"))
            elif piece.numbers.anything and not piece.name_text:
                waiting = f"{waiting} {piece.text}".strip()
            else:
                found.append(piece)
        if waiting:
            found.append(self.piece(waiting))
        return found

    def _one_name(self, text: str) -> bool:
        """Whether a "+" stands inside one name: "DB hang clean + jerk"."""
        return not re.search(r"\+\s*\d", text) and self.caller.known(scan(text).rest.replace("+", " and ")) is not None

    def _far(self, piece: Piece) -> bool:
        """Whether a piece is only a distance, as of a run in a list: "400m / 15 OHS / 12 C2B"."""
        n = piece.numbers
        plain = not piece.name_text and not n.sets and n.amount_is == "each" and n.unit in ("m", "minute-or-metre")
        return plain and n.amount[0] >= LEAST_RUN_M

    def piece(self, text: str) -> Piece:
        """One text as one item."""
        text = bare(text)
        alternatives = [t for t in _OR.split(text) if t.strip(" ();,")]
        if len(alternatives) > 1 and (choice := self._choice(text, alternatives)):
            return choice
        if "+" in text and not self._one_name(text) and (whole := self._complex(text)):
            return whole
        climb = climb_in(text, self.caller.words)
        numbers = scan(self._unglued(climb.text if climb else text))
        if climb:
            numbers.height, numbers.high = [climb.cm], climb.high
        piece = Piece(text, numbers, self.caller.call(numbers.rest))
        if not piece.named and re.search(r"[a-z]/[a-z]", text, re.I) and (choice := self._slashed(piece)):
            return choice
        if piece.called.maker and numbers.unit not in ("cal", "m", "s", "minute-or-metre"):
            piece.called = Called(None, share=0.0)
        if not piece.sure and (named := self._to_the_letter(text)):
            return named
        if not piece.named and (found := _OF.match(text)):
            again = self.piece(text[found.end() :])
            if again.named:
                return again
        if not piece.named and numbers.amount_is == "max" and piece.name_text:
            piece.called = self.caller.call(piece.name_text)
        return piece

    def _unglued(self, text: str) -> str:
        """A number parted from the name that it is glued to: "10burpees", "200mrun"."""

        def part(found: re.Match[str]) -> str:
            word = found["word"]
            if is_unit(word):
                return found.group()
            if self.caller.is_word(word):
                return f"{found['n']} {word}"
            for unit in ("m", "k", "km", "cal", "min", "s", "x"):
                if word.lower().startswith(unit) and self.caller.is_word(word[len(unit) :]):
                    return f"{found['n']}{unit} {word[len(unit) :]}"
            return found.group()

        return _GLUED.sub(part, text)

    def _slashed(self, piece: Piece) -> Piece | None:
        """A choice written with slashes: "15 cal bike/row"."""
        names = [w.strip() for w in piece.name_text.split("/")]
        held = [self.caller.call(w) for w in names if w]
        if len(names) != len(held) or not all(c.movement and c.sure for c in held):
            return None
        choice = Piece(piece.text, piece.numbers, held[0])
        choice.or_ = [c.movement for c in held[1:] if c.movement]
        return choice

    def _to_the_letter(self, text: str) -> Piece | None:
        """A name that holds digits, commas or brackets: "90/90", "box jump (step down)"."""
        named = _NAMED_NUMBER.match(text)
        if not named or not re.search(r"\d|,|\(", named["name"]) or not (found := self.caller.known(named["name"])):
            return None
        numbers = Numbers("")
        if value := named["n"] or named["m"]:
            numbers.amount, numbers.amount_is, numbers.unit = [float(value)], "each", "bare"
        return Piece(text, numbers, Called(found))

    def _choice(self, text: str, texts: list[str]) -> Piece | None:
        pieces = [self.piece(t.strip(" ();,")) for t in texts]
        if not all(p.named for p in pieces):
            return None
        first = pieces[0]
        if not first.numbers.amount:
            giver = next((p for p in pieces if p.numbers.amount), None)
            if giver:
                first = Piece(text, giver.numbers, first.called)
        first.text = text
        first.or_ = [p.called.movement for p in pieces[1:] if p.called.movement]
        return first

    def _complex(self, text: str) -> Piece | None:
        """Lifts joined by "+": one set is all of them in turn."""
        text = re.sub(
            r"^[^+\d]*\bcomplex\b\s*(?P<with>[^+:]*?)\s*:\s*(?P<lifts>.*)$", r"\g<lifts> \g<with>", text, flags=re.I
        )
        outer = scan_manner(re.sub(r"^[^+\d]*\bcomplex\s*[:-]\s*", "", text, flags=re.I))
        if outer.amount:
            return None
        inner = " ".join(re.sub(r"\s*;[\s;]*", " ", outer.rest).split())
        counts: list[float] = []
        if found := re.search(r"\(?(?<![\w+])(?P<n>\d+(?:\s*\+\s*\d+)+)(?![\w+])\)?", inner):
            counts = [float(v) for v in re.findall(r"\d+", found["n"])]
            inner = f"{inner[: found.start()]} {inner[found.end() :]}".strip()
            inner = re.sub(r"\s*[x*:,@-]\s*$|(?<=\d)\s*[x*]\s*$", " x ", inner)
        before = re.match(r"^[\s(]*(?P<n>\d{1,2})\s*(?:sets?\s*(?:of|x|:)?|[x*])\s*(?=[(\da-z])", inner, re.I)
        sets = None
        if before:
            sets, inner = int(before["n"]), inner[before.end() :]
        elif after := re.search(
            r"[\s,:;@(-]*(?:(?P<n>\d{1,2})\s*(?:sets?\b(?:\s+of)?|[x*](?=\s|$))|[x*]\s*(?P<m>\d{1,2})\s*(?:sets?)?)\s*\)?\s*$",
            inner,
            re.I,
        ):
            sets, inner = int(after["n"] or after["m"]), inner[: after.start()]
        texts = [t for t in _COMPLEX.split(re.sub(r"[()]", " ", inner)) if t.strip()]
        if len(texts) < 2:
            return None
        pieces = [Piece(t, n := scan(t), self.caller.call(n.rest)) for t in texts]
        if not all(p.named and len(p.numbers.amount) < 2 for p in pieces):
            return None
        self._kit_of_first(pieces)
        if not self._one_implement(pieces):
            return None
        if len(counts) != len(pieces):
            counts = [p.numbers.amount[0] if p.numbers.amount else 1.0 for p in pieces]
        outer.bare = outer.bare or next((p.numbers.bare for p in pieces if p.numbers.bare), [])
        sets = sets or next((p.numbers.sets for p in pieces if p.numbers.sets), None)
        outer.sets = sets
        outer.amount, outer.amount_is, outer.unit = [counts[0]], "each", "rep"
        whole = Piece(text, outer, pieces[0].called)
        whole.parts = [(p.called, c, t.strip()) for p, c, t in zip(pieces, counts, texts, strict=True)]
        return whole

    def _kit_of_first(self, pieces: list[Piece]) -> None:
        """Parts of a complex are done with what the first one names: "5 KB cleans + 5 push press"."""
        kit = self.caller.kit_in(pieces[0].text)
        if kit is None:
            return
        for piece in pieces[1:]:
            if self.caller.kit_in(piece.text) is None and (form := self.caller.known(f"{kit} {piece.name_text}")):
                piece.called = Called(form)

    def _one_implement(self, pieces: list[Piece]) -> bool:
        """Whether all parts are lifts of one implement in few reps: then "+" makes a complex, else a list."""
        held = [self.movement(p.called) for p in pieces]
        kinds = {m.load.implement for m in held if m and m.load}
        few = all(
            not p.numbers.amount or (p.numbers.amount[0] <= 6 and p.numbers.unit in ("bare", "rep")) for p in pieces
        )
        return len(kinds) == 1 and all(m is not None and m.load for m in held) and few

    def movement(self, called: Called) -> Movement | None:
        """The record of a name."""
        return self.caller.compiled.library.movements[called.movement] if called.movement else None

    def _loaded(self, movement: Movement, piece: Piece, item: Item) -> tuple[Movement, Item]:
        """The form of a movement that is done with a load, where one is written with it."""
        library = self.caller.compiled.library
        kit = self.caller.with_kit(piece.text, movement.name) if item.load_kg else None
        other = kit or self.caller.loaded(piece.name_text)
        plain = weighted_form(movement, self.caller.compiled) if item.load_kg else None
        form = library.movements[other] if other else plain
        if form is None or form.load is None:
            return movement, item
        why = f"with a load: read as {form.name}"
        return form, replace(item, movement=form.id, name=form.name, why=f"{item.why}; {why}" if item.why else why)

    def item(self, piece: Piece, line: int, *, pounds: bool, assumed: list[str]) -> Item:
        """A piece as an item of a line.

        Parameters
        ----------
        piece : Piece
            As read.
        line : int
            Line number, from 1.
        pounds : bool
            Whether a load without a unit is in pounds.
        assumed : list of str
            What had to be assumed is added here.
        """
        movement = self.movement(piece.called)
        if movement is not None and "m" not in movement.units and piece.numbers.unit == "minute-or-metre":
            form = self.caller.moving(piece.name_text) if piece.numbers.amount[0] >= LEAST_WAY_M else None
            if form:
                movement = self.caller.compiled.library.movements[form]
                piece.called = Called(form)
        item = Item(
            line=line,
            as_written=piece.text,
            movement=piece.called.movement,
            name=movement.name if movement else piece.name_text or piece.text,
            or_=tuple(piece.or_),
        )
        item = settle(item, piece.numbers, movement, pounds=pounds, assumed=assumed)
        if movement and movement.load is None and (item.load_kg or item.percent) and not piece.parts:
            movement, item = self._loaded(movement, piece, item)
        if piece.parts:
            item = replace(
                item,
                parts=tuple(Part(c.movement, n, m.name if (m := self.movement(c)) else t) for c, n, t in piece.parts),
            )
        if item.effort is None and movement and movement.load and (effort := self.caller.effort(piece.text)):
            item = replace(item, effort=effort)
        if movement and not piece.called.sure:
            words = piece.name_text or piece.text
            item = replace(item, why=f"'{words}' read as {movement.name}" + (f"; {item.why}" if item.why else ""))
        return item
