"""What a line says to people beside what is to be done: sentences, brackets and tails of talk, parted from the work.

Nothing is cut where what is left names no movement to the letter, or where what is cut counts one.
"""

from __future__ import annotations

import re

from subgraph.notation.heads import Heads
from subgraph.notation.items import Items
from subgraph.notation.number_forms import MASS
from subgraph.notation.talk import Talk

LEAST_SENTENCE = 2  # words; less after a stop is a number or a unit

SENTENCE = re.compile(
    r"(?<=[a-z\d)%])(?<!\bmin)(?<!\bsec)(?<!\bea)(?<!\bapprox)(?:\.(?!\.)|!+)\s+(?=[A-Za-z(\d])", re.I
)
_BRACKET = re.compile(r"\s*\((?P<what>[^()\d]{3,80})\)")
_TAIL = re.compile(
    r"\s+-+>?\s+|\s*[-=]>\s*|[,;]\s+|\s+(?=\()|\s+(?=(?:until|till|if|when|while|as|so|but|because|unless)\b)", re.I
)
_LOADED = re.compile(rf"\d+(?:\.\d+)?(?:\s*/\s*\d+(?:\.\d+)?)?\s*{MASS}", re.I)
_LESSER = re.compile(r"(?<=\w)\s*[,;|/-]*\s*\b(?:scaled|sc|intermediate|int|beginner|beg|fitness)\s*:\s*[^:]*$", re.I)
_CHOICE = re.compile(r"^or\s+(?P<name>.+?)\s+(?:if|when|because|for\s+those|for\s+anyone)\b", re.I)
_LEAD = re.compile(r"^(?P<lead>[^\d:]{6,70}?)(?=\d)")
_BEGINS = re.compile(r"\b(?:start|begin|open|end|finish|warm|test|today|tomorrow|first|finally|have|do)\b", re.I)
_COUNTED = re.compile(r"^\W*(?:\d|max\b|accumulate\b)", re.I)


class Remarks:
    """Parts talk from work, with the words and names of one library."""

    def __init__(self, heads: Heads, items: Items, talk: Talk) -> None:
        self.heads = heads
        self.items = items
        self.talk = talk
        self._sections = talk.words.pattern(r"\b", "section", after=r"(?![\w'-])")

    def parted(self, text: str) -> tuple[str, list[str]]:
        """What of a line is to be read, and what of it is for people.

        Parameters
        ----------
        text : str
            Plain text of a line.

        Returns
        -------
        tuple
            The work, and the remarks in their order; the whole text and none where there is nothing to part.

        Examples
        --------
        "60 cal row - sorry, not sorry" is "60 cal row" and one remark.
        """
        work, said = self._without_sentences(text)
        work = self._without_lead(work)
        if not re.search(r"\d|\bmax\b", work, re.I):
            return text, []
        if (lesser := _LESSER.search(work)) and self._work(work[: lesser.start()]):
            work = work[: lesser.start()]
            said.append(lesser.group().strip(" ,;|/-"))
        for found in _BRACKET.finditer(work):
            what = found["what"]
            if choice := _CHOICE.match(what):
                work = work.replace(found.group(), f" (or {choice['name']})", 1)
                said.append(what)
                continue
            if self.talk.spoken(what.split()) and not self._named(what) and not self.heads.take(what).says:
                work = work.replace(found.group(), "", 1)
                said.append(what)
        if (self.talk.for_people(work) or not self._counted(work)) and (tail := self._tail(work)):
            work, remark = tail
            said.append(remark)
        return work, said

    def _without_sentences(self, text: str) -> tuple[str, list[str]]:
        sentences = SENTENCE.split(text)
        if len(sentences) < 2 or not any(self._work(s) for s in sentences):
            return text, []
        said = [s for s in sentences if self._talk(s)]
        return ". ".join(s for s in sentences if s not in said), said

    def _without_lead(self, text: str) -> str:
        """A line without the talk before its first count: "We end with 2 min of pigeon"; a section's name stays."""
        found = _LEAD.match(text)
        if not found or not _BEGINS.search(found["lead"]) or self._named(found["lead"]):
            return text
        rest = text[found.end() :]
        head = self.heads.take(text)
        if head.says - bool(head.role) > bool(self.heads.take(rest).says) or not self._opens(rest):
            return text
        section = self._sections.search(found["lead"])
        return f"{section.group()}: {rest}" if section else rest

    def _opens(self, text: str) -> bool:
        """Whether a text opens with a movement that is counted."""
        pieces = self.items.line(self.heads.take(text).rest)
        return bool(pieces) and pieces[0].sure and bool(pieces[0].numbers.amount)

    def _talk(self, text: str) -> bool:
        """Whether a sentence is for people only."""
        if len(text.split()) < LEAST_SENTENCE or self._work(text) or self.heads.take(text).says:
            return False
        return self.talk.for_people(text) or not (re.search(r"\d", text) or self._named(text))

    def _work(self, text: str) -> bool:
        """Whether a text counts a movement, known to the letter."""
        head = self.heads.take(text)
        rest, by_clock = head.rest, head.format == "intervals"
        pieces = self.items.line(rest)
        if any(p.sure and (p.numbers.amount or p.numbers.sets or by_clock) for p in pieces):
            return True
        return any(n.effort or n.sets or n.percent for n, _ in self.talk.numbers_alone(rest))

    def _named(self, text: str) -> bool:
        return any(p.named for p in self.items.line(text))

    def _tail(self, text: str) -> tuple[str, str] | None:
        """A counted movement at the start of a line, and what is said behind it."""
        for found in _TAIL.finditer(text):
            work, remark = text[: found.start()], text[found.end() :]
            if self._counted(work) and not self.talk.for_people(work):
                spoken = self.talk.spoken(remark.split()) or self.talk.for_people(remark)
                if not spoken or self._work(remark):
                    return None
                load = _LOADED.search(remark)
                return (f"{work} @ {load.group()}" if load and not self.talk.is_load(work) else work), remark
        return None

    def _counted(self, text: str) -> bool:
        """Whether all of a text is movements that are counted, or the load of what stands around."""
        pieces = self.items.line(self.heads.take(text).rest)
        if pieces and all(p.sure for p in pieces):
            counts = (p.numbers for p in pieces)
            return bool(_COUNTED.match(text)) or all(n.amount or n.sets or n.amount_is == "max" for n in counts)
        return bool(self.talk.numbers_alone(text)) and self.talk.is_load(text)
