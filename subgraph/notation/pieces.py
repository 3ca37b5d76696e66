"""A piece of a line: its text with what its numbers and its name say, and where lines may be parted."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from subgraph.notation.called import Called
from subgraph.notation.numbers import Numbers

LONGEST_UNKNOWN_S = 600  # of a name that nobody knows

_KITS = "dumbbell dumbbells kettlebell kettlebells db dbs kb kbs barbell barbells plate plates"
KIT = frozenset(_KITS.split())
_SMALL = (
    "per into from should take takes between for about in at is are be to of if when until every each than then"
    " week weeks day days month months year years hour hours thing things people am pm out"
    " approx total so set sets reps stay under above below keep pace damper stroke strokes rate"
)
_NO_NAMES = frozenset(_SMALL.split())  # words that no name of a movement holds


_COUNTED_LAST = re.compile(
    r"(?:\bx\s*\d[\d/-]*|\d\s*(?:reps?|m|s|secs?|mins?|cals?|km|x|'|\"|%|kgs?|lbs?|#)"
    r"(?:\s*(?:/|per|each|ea|a|e/)\s*(?:side|arm|leg|s)\b)?)\W*$|\d\s*x\s*\d[\d/-]*\W*$",
    re.I,
)


@dataclass(slots=True)
class Piece:
    """A text with what its numbers and its name say."""

    text: str
    numbers: Numbers
    called: Called
    or_: list[str] = field(default_factory=list)
    parts: list[tuple[Called, float, str]] = field(default_factory=list)
    styled: str = ""

    @property
    def named(self) -> bool:
        """Whether a movement was found."""
        return self.called.movement is not None

    @property
    def sure(self) -> bool:
        """Whether its name is known to the letter."""
        return self.named and self.called.sure

    @property
    def name_text(self) -> str:
        """The words left when the numbers are out."""
        return " ".join(re.sub(r"[^\w\s&+'/()-]+", " ", self.numbers.rest).split()).strip(" -+&/")


def bare(text: str) -> str:
    """Without stops at the ends and brackets around the whole."""
    text = re.sub(
        r"^[\s;:,.]*(?:stop\s+(?:and|&|to)\s+)?(?:do|perform|complete|get)\s+(?=\d|max)", "", text, flags=re.I
    )
    text = re.sub(r"^(?:an?|the|some|your)\s+(?=\d)", "", text, flags=re.I)
    text = re.sub(r"^[\s;:,.]+(?!\d)|^[\s;,]+|[\s;:,]+$", "", text)
    inner = text[1:-1]
    return bare(inner) if text[:1] == "(" and text[-1:] == ")" and "(" not in inner and ")" not in inner else text


def looks_like_one(piece: Piece) -> bool:
    """Whether an unknown name stands where a movement would: after an amount, and short."""
    words = piece.name_text.split()
    outside = re.match(r"\W*(?:x\s*)?\d", piece.text) or _COUNTED_LAST.search(piece.text)
    known = not piece.named and bool(piece.numbers.amount) and (outside or piece.numbers.sets)
    if not known or not 0 < len(words) <= 5 or not any(len(w) > 2 for w in words):
        return False
    if piece.numbers.unit == "s" and piece.numbers.amount[0] >= LONGEST_UNKNOWN_S:
        return False  # "40 min grind" is a title
    if all(w.lower() in KIT for w in words):
        return False
    return not any(w.lower().strip("'") in _NO_NAMES for w in words)


def rests_given(pieces: list[Piece]) -> list[Piece]:
    """Pieces with those that only say a rest given to the piece before."""
    found: list[Piece] = []
    for piece in pieces:
        if found and not piece.named and not piece.name_text and piece.numbers.rest_s:
            found[-1].numbers.rest_s = found[-1].numbers.rest_s or piece.numbers.rest_s
        else:
            found.append(piece)
    return found


def outside_brackets(separator: re.Pattern[str], text: str) -> list[str]:
    """Split at a sign, but never inside brackets."""
    found, start = [], 0
    for sign in separator.finditer(text):
        before = text[: sign.start()]
        if before.count("(") > before.count(")"):
            continue
        found.append(text[start : sign.start()])
        start = sign.end()
    return [*found, text[start:]]
