"""A table copied as plain text: columns of two standards become one line each, further versions are for people."""

from __future__ import annotations

import re

from subgraph.notation.talk import Talk

CELL = " | "
_VALUE = re.compile(
    r"^@?\s*(?P<n>(?:2\s*x\s*)?\d+(?:\.\d+)?)\s*"
    r"(?P<unit>kgs?|lbs?|#|cals?|m|km|reps?|secs?|s|min|in|cm|ft|\"|')?\s*(?P<more>[a-z ]{0,20})$",
    re.I,
)


class Columns:
    """Keeps the head of the table that is open while the lines go by."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk
        self.width = 0

    def close(self) -> None:
        """After a gap a new table begins."""
        self.width = 0

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
        if len(cells) < 2:
            self.width = 0
            return text, ""
        levels = sum(bool(self.talk.level.match(c) or self.talk.standard.match(c)) for c in cells)
        if levels and levels >= len(cells) - 1 and not re.search(r"\d\s*\w", text):
            self.width = len(cells) - bool(self.talk.rows.match(cells[0]) or levels < len(cells))
            return None, ""
        if len(cells) == 3 and (joined := self._joined(cells)):
            return joined, ""
        if self.width > 1 and len(cells) == self.width + 1:
            return f"{cells[0]} {cells[1]}", CELL.join(cells[2:])
        if self.width:
            return cells[0], CELL.join(cells[1:])
        return text, ""

    def _joined(self, cells: list[str]) -> str | None:
        """Name and a value for each of two standards as one item; None where they are no two values of a kind."""
        name, first, second = cells
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
        if self.width == 2 and not one and not two:
            return f"{_of_kind(first, name)} or {_of_kind(second, name)}"
        return None


def _of_kind(kind: str, name: str) -> str:
    """A column's word with the name of its row: "strict" of "Pull-up x9" is "strict Pull-up x9"; a name stays alone."""
    return kind if re.search(r"\d", kind) or len(kind.split()) > 1 else f"{kind} {name}"
