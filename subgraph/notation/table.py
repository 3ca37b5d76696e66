"""A table copied as plain text: columns of two standards become one line each, further versions are for people."""

from __future__ import annotations

import re

from subgraph.notation.pieces import Piece
from subgraph.notation.talk import Talk

CELL = " | "
_VALUE = re.compile(
    r"^@?\s*(?P<n>(?:2\s*x\s*)?\d+(?:\.\d+)?)\s*"
    r"(?P<unit>kgs?|lbs?|#|cals?|m|km|reps?|secs?|s|min|in|cm|ft|\"|')?\s*(?P<more>[a-z ]{0,20})$",
    re.I,
)


_WINDOW = re.compile(r"^\d{1,2}:\d\d\s*-\s*\d{1,2}:\d\d$")


class Columns:
    """Keeps the head of the table that is open while the lines go by."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk
        self.width = 0
        self.flat = False  # whether the columns stand side by side without anything between them

    def close(self) -> None:
        """After a gap a new table begins."""
        self.width, self.flat = 0, False

    def read(self, text: str) -> tuple[str | None, str]:
        """What to read of a line, and what of it is for people.

        Parameters
        ----------
        text : str
            With its cells parted by `CELL`.

        Returns
        -------
        tuple
            The text, None for the heading of the columns, and the further versions.
        """
        cells = [c.strip() for c in text.split(CELL)]
        if len(cells) > 1 and _WINDOW.match(cells[0]):
            return f"{cells[0]} {': '.join(cells[1:])}", ""
        if len(cells) < 2 and (flat := self._levels_in_a_row(text)) > 1:
            self.width, self.flat = flat, True
            return None, ""
        if len(cells) < 2:
            self.width = self.width if self.flat else 0
            return text, ""
        if self.talk.rows.match(cells[0]) and [c.lower() for c in cells[1:]] == list("abcd123")[: len(cells) - 1]:
            self.width, self.flat = len(cells) - 1, True
            return None, ""
        levels = sum(bool(self.talk.level.match(c) or self.talk.standard.match(c)) for c in cells)
        if levels and levels >= len(cells) - 1 and not re.search(r"\d\s*\w", text):
            labels = sum(bool(self.talk.rows.match(c)) for c in cells)
            self.width = len(cells) - max(labels, levels < len(cells))
            self.flat = self.width > 1
            return None, ""
        if (len(cells) == 3 or (len(cells) > 3 and self.width == 2)) and (joined := self._joined(cells)):
            return joined, ""
        if self.width > 1 and len(cells) > self.width:
            first = len(cells) - self.width + 1
            if first == 2 and re.match(r"\d+\s*[a-z]{2}", cells[1], re.I) and not re.search(r"\d", cells[0]):
                return cells[1], CELL.join(cells[2:])  # the row's own name only sorts it
            return " ".join(cells[:first]), CELL.join(cells[first:])
        if self.width:
            return cells[0], CELL.join(cells[1:])
        return text, ""

    def _levels_in_a_row(self, text: str) -> int:
        """How many words for standards a line holds, where it holds nothing else: "Rx Scaled"."""
        words = [w for w in re.split(r"[\s/|,;&+-]+", text) if w]
        count = at = 0
        while at < len(words):
            size = next((n for n in (3, 2, 1) if self._is_level(" ".join(words[at : at + n]))), 0)
            if not size:
                return 0
            count, at = count + 1, at + size
        return count

    def _is_level(self, words: str) -> bool:
        return bool(words) and bool(self.talk.standard.match(words) or self.talk.level.match(words))

    def first_of(self, pieces: list[Piece]) -> list[Piece]:
        """The first column's items of a line whose columns lost what stood between them; the others become choices."""
        if not self.flat or self.width < 2 or len(pieces) < 2 or len(pieces) % self.width:
            return pieces
        step = len(pieces) // self.width
        kept = pieces[:step]
        for place, piece in enumerate(kept):
            others = [p.called.movement for p in pieces[place + step :: step] if p.called.movement]
            piece.or_ += [i for i in dict.fromkeys(others) if i != piece.called.movement]
        return kept

    def _joined(self, cells: list[str]) -> str | None:
        """Name and a value for each of two standards as one item; None where they are no two values of a kind."""
        name, first, second = " ".join(cells[:-2]), cells[-2], cells[-1]
        one, two = _VALUE.match(first), _VALUE.match(second)
        if not re.search(r"[a-z]{2}", name, re.I):
            return None
        if one and two:
            if (one["unit"] or "").lower() != (two["unit"] or "").lower() or one["more"] != two["more"]:
                return None
            if one["n"] == two["n"]:
                return f"{name} {first}"
            pair = f"{one['n']}/{re.sub(r'^2 *x *', '', two['n'])} {one['unit'] or ''} {one['more']}"
            return f"{name} {pair}".strip()
        if self.width == 2 and not re.search(r"\d", first + second):
            return f"{_of_kind(first, name)} or {_of_kind(second, name)}"
        return None


def _of_kind(kind: str, name: str) -> str:
    """A column's word with the name of its row: "strict" of "Pull-up x9" is "strict Pull-up x9"; a name stays alone."""
    return kind if re.search(r"\d", kind) or len(kind.split()) > 1 else f"{kind} {name}"
