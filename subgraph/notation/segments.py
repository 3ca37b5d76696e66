"""A line that holds several pieces, as where line breaks were lost: parted where another piece begins."""

from __future__ import annotations

import itertools
import re

from msgspec.structs import replace

from subgraph.notation.heads import Heads
from subgraph.notation.items import Items
from subgraph.notation.lines import Line
from subgraph.notation.remarks import SENTENCE
from subgraph.notation.talk import Talk
from subgraph.notation.words import Words

MOST_SECTIONS = 12  # looked for in one line

_THEN = re.compile(
    r"[,;.]?\s+(?:and\s+)?(?=then\s+(?:tabata|\d+\s*(?:x\b|rounds?|rds?|sets)|amrap|emom|every|for time|rest|cash|buy))"
    r"|[,;.]\s+(?=\d+\s*x\s*\((?!\d+\s*\+))|(?<=[a-z])\s+(?=\d+\s*x\s*\((?!\d+\s*\+))"
    r"|[,;.]\s+(?=\d+\s*(?:rounds?|rds?)\s*(?:of\b|:))"
    r"|(?<!\bsec)(?<!\bmin)\.\s+(?=(?:after(?:wards)?|then|finish|next|later|finally)\b)|\s*[+&]\s*(?=\d+\s*(?:rounds?|rds?)\b)|\s*//+\s*|\s+\|\|\s+"
    r"|[,;/|]?\s+(?=(?:odd|even)s?\s*(?:min(?:ute)?s?)?\s*(?:[:=-]|\d))|\s*[,;/|]\s*(?=(?:min(?:ute)?|m)\s*\d\s*[:=-])"
    r"|\.\s+(?=every\s+\d+\s*(?:min(?:ute)?s?|')\b)"
    r"|(?<=buy-in)[,;]\s+|(?<=buy in)[,;]\s+|[,;]\s+(?=[^,;]*\b(?:buy|cash)[\s-]?out\W*$)"
    r"|[,;.]?\s+(?=(?:buy|cash)[\s-]*(?:in|out)s?\b\s*[:-])",
    re.I,
)
_AFTER_GROUP = re.compile(r"(?<=\))\s*[,;]?\s+(?=(?:and\s+)?then\s+\d)", re.I)
_AFTER = re.compile(r"[,;.]?\s+(?=(?:and\s+)?then\s+\d)", re.I)
_AGAIN = re.compile(
    r"(?<!rest)(?<!last set)(?<!last set:)(?<!final set)(?<!final set:)[,;.]?\s+"
    r"(?=(?:\d+\s*-?\s*min(?:ute)?s?\s*)?(?:amrap|e\d?mom|e\d+mom)\b\s*\d*)|[,;.]?\s+(?=\d+\s*"
    r"(?:rounds?|rds?)\s+(?:for time|of)\b)"
    r"|[,;.]?\s+(?=rest\s+\d)|[,;.]?\s+(?=for time\b\s*:)",
    re.I,
)
_ITEM_BEFORE = re.compile(r"\d+\s*(?:[a-z]+\s+)?[a-z]{3}|[a-z]{3}\W+(?:x\s*)?\d", re.I)


_NEXT_LABEL = re.compile(r"[,;.]?\s+(?=(?P<label>[A-H]\d?)\s*[.):]?\s+[A-Za-z\d])")


def by_labels(line: Line) -> list[Line]:
    """A line that holds several labelled pieces as one line for each: "A1 Front squat 4x6 A2 Pull-up 4x6"."""
    if not line.label:
        return [line]
    parts: list[Line] = []
    label, start = line.label, 0
    for found in _NEXT_LABEL.finditer(line.text):
        if not _follows(label, found["label"]):
            continue
        parts.append(replace(line, label=label, text=line.text[start : found.start()], gap=line.gap and not parts))
        label = found["label"]
        start = found.end() + len(re.match(r"[A-H]\d?\s*[.):]?\s+", line.text[found.end() :])[0])  # type: ignore[index]
    return [*parts, replace(line, label=label, text=line.text[start:], gap=line.gap and not parts)]


def _follows(label: str, other: str) -> bool:
    """Whether a label may come next: the next number, or the next letter."""
    same = len(other) > 1 and other[0] == label[0] and label[1:].isdigit() and int(other[1:]) == int(label[1:]) + 1
    return same or (ord(other[0]) == ord(label[0]) + 1 and other[1:] in ("", "1"))


class Segments:
    """Parts lines, with the words of one library."""

    def __init__(self, heads: Heads, items: Items, words: Words, talk: Talk) -> None:
        self.heads = heads
        self.talk = talk
        self.items = items
        section = words.any_of("section")
        self._section = re.compile(rf"(?<=[\w)%\"'])[\s,;.|]+(?P<w>\b{section})(?![\w'-])(?P<colon>\s*:)?", re.I)

    def of(self, text: str) -> list[str]:
        """The pieces of a line, in order; the line itself where it is one."""
        whole = [p for t in self._by_sentence(text) for s in self._by_section(t) for p in _AFTER_GROUP.split(s)]
        found = [t.strip() for s in whole for t in _THEN.split(s) if t and t.strip()]
        parts: list[str] = []
        if len(found) > 1:  # what comes after the rounds of a line is not part of them
            found = [found[0], *(t for piece in found[1:] for t in _AFTER.split(piece))]
        for piece in found:
            start = 0
            for sign in _AGAIN.finditer(piece):
                before = piece[start : sign.start()]
                if re.match(r"\W*rest\b", before, re.I) or self._holds_item(before):
                    parts.append(before)
                    start = sign.end()
            parts.append(piece[start:])
        return [p for p in parts if p.strip()] or [text]

    def _by_sentence(self, text: str) -> list[str]:
        """Parted where a sentence begins a piece of its own, or a day."""
        parts: list[str] = []
        for sentence in SENTENCE.split(text):
            head = self.heads.take(sentence)
            begins = head.section or head.format or ((head.starts or head.then) and self._holds_item(sentence))
            if not parts or begins or self.talk.behind_day(sentence) is not None:
                parts.append(sentence)
            else:
                parts[-1] = f"{parts[-1]}. {sentence}"
        return parts

    def _by_section(self, text: str) -> list[str]:
        """Parted before the name of a section that stands out by capitals or a colon, behind something to do."""
        shouted = text.isupper()
        parts, start = [], 0
        for found in itertools.islice(self._section.finditer(text), MOST_SECTIONS):
            stands_out = found["colon"] or (found["w"].isupper() and not shouted)
            if stands_out and self._holds_item(text[start : found.start()]):
                parts.append(text[start : found.start()])
                start = found.start("w")
        return [*parts, text[start:]]

    def _holds_item(self, text: str) -> bool:
        """Whether a movement with a number stands in a text."""
        return _ITEM_BEFORE.search(text) is not None and any(
            p.sure for p in self.items.line(self.heads.take(text).rest)
        )
