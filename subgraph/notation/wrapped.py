"""Lines that a narrow screen broke in two: joined again where only both together name what is to be done."""

from __future__ import annotations

import re

from msgspec.structs import replace

from subgraph.notation.heads import Heads
from subgraph.notation.items import Items
from subgraph.notation.lines import Line
from subgraph.notation.pieces import Piece
from subgraph.notation.talk import Talk

MOST_LINES = 3  # of one item
LONGEST_REST = 7  # words of a line that may only end the one before

_OPEN_END = re.compile(r"(?:\b(?:of|with|using|x|at)|[@(])\s*$|(?<=[a-z])-$", re.I)
_SMALL_END = re.compile(r"\b(?:and|or|the|a|an|to|over|on|per)\s*$|&\s*$", re.I)


class Wrapped:
    """Joins lines, with the words and names of one library."""

    def __init__(self, heads: Heads, items: Items, talk: Talk) -> None:
        self.heads = heads
        self.items = items
        self.talk = talk

    def joined(self, lines: list[Line], at: int) -> tuple[Line, int]:
        """A line with those below it that only go on with it.

        Parameters
        ----------
        lines : list of Line
            All lines of the board.
        at : int
            Position of the first.

        Returns
        -------
        tuple
            The line, with the number of the first, and how many lines it takes.
        """
        line, count = lines[at], 1
        while count < MOST_LINES and at + count < len(lines) and self._goes_on(line, lines[at + count]):
            following = lines[at + count].text
            text = line.text[:-1] + following if line.text.endswith("-") else f"{line.text} {following}"
            line = replace(line, text=text)
            count += 1
        return line, count

    def _goes_on(self, line: Line, following: Line) -> bool:
        """Whether a line is the rest of the item in the one before it."""
        if following.gap or following.bullet or following.mark or following.label or following.empty:
            return False
        text, rest = line.text, following.text
        if len(rest.split()) > LONGEST_REST or not text or not rest or " | " in text + rest:
            return False
        open_bracket = text.count("(") > text.count(")") and rest.count(")") > rest.count("(")
        if open_bracket:
            return re.match(r"\W*\d", text) is not None
        if rest[0].isdigit():
            return bool(_OPEN_END.search(text)) and re.match(r"\d", text) is not None and not self._named(rest)
        if not re.match(r"[a-z]", rest, re.I) or not re.search(r"[a-z]{3}", text, re.I) or text.endswith(":"):
            return False
        if (
            self.heads.take(text).says
            or self.heads.take(rest).says
            or self.talk.for_people(rest)
            or self.talk.for_people(text)
        ):
            return False
        counts = re.match(r"\W*(?:\d|max\b)", text, re.I) is not None
        if not counts and self._named(rest) and not _SMALL_END.search(text):
            return False  # a name below a word is an item below a title
        return self._names_together(text, rest, counts=counts)

    def _named(self, text: str) -> bool:
        return any(p.sure for p in self.items.line(text))

    def _names_together(self, text: str, rest: str, *, counts: bool) -> bool:
        """Whether both lines name to the letter what the first alone does not, or something else."""
        glue = "" if text.endswith("-") else " "
        whole = self.items.line(f"{text if glue else text[:-1]}{glue}{rest}")
        alone = self.items.line(text)
        if len(whole) != len(alone) or not whole or not whole[-1].sure or whole[-1].parts:
            return False
        if _OPEN_END.search(text) or _SMALL_END.search(text) or not alone[-1].sure:
            return True
        if not counts:
            return False
        own = self.items.line(rest)
        counted = any(p.named and (p.numbers.amount or p.numbers.amount_is == "max") for p in own)
        return not counted and self._other(whole[-1], alone[-1]) and rest[0].islower()

    def _other(self, whole: Piece, alone: Piece) -> bool:
        """Whether another movement is named, by a name that holds the first one's words."""
        return whole.called.movement != alone.called.movement and not whole.or_
