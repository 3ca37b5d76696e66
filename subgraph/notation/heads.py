"""What a line says about its block: section, format, rounds, scheme, clock, sharing.

`Heads.take` reads each form out of the line and leaves the rest, which may hold items or a title.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

from subgraph.notation.forms import forms
from subgraph.notation.head import NUMBERS, Head, impossible
from subgraph.notation.schemes import take_scheme
from subgraph.notation.words import Words

_THEN = re.compile(
    r"^\W*(?:and\s+)?(?:then|followed\s+by|(?:straight|directly|right)?\s*into|after\s+that|afterwards|finally"
    r"|(?:after|next|later)(?=\s*:))\b[\s:,-]*",
    re.I,
)
_SLOT = re.compile(
    r"""^\W*(?:(?:even|odd)s?\b(?:\s*min(?:ute)?s?)?\s*(?:[:.)=>-]+\s*|(?=\s\d|\s+max\b))
    |(?:min(?:ute)?s?|m|station|st|slot|interval)\s*\.?\s*(?:\d{1,2}(?!\s*-\s*\d+\s*[:)])|one|two|three|four|five|six)(?:\s*(?:st|nd|rd|th))?
        (?:\s*(?:,|/|&|\+)\s*\d{1,2})*(?:\s*(?:,|/)?\s*(?:\.{2,}|etc\.?))?\s*(?:[:.)=>-]+\s*|\s+(?=\d|max|[a-z]{3}))
    |(?:1st|2nd|3rd|4th|5th|first|second|third|fourth|fifth)\s+min(?:ute)?\s*[:.)-]*\s*
    |\d{1,2}(?:st|nd|rd|th)\s+min(?:ute)?\s*[:.)-]*\s*
    |every\s+\d(?:nd|rd|th)\s+min(?:ute)?\s*[:=-]+\s*)""",
    re.I | re.X,
)
_NOT_DOING = r"\b(?!\s+(?:holds?|holding|in|does|is|rests?|runs?|rows?|carries|planks?|hangs?)\b)\s*:?"
_SHARED = re.compile(
    r"[(,;-]*\s*\b(?:share|split|partition|divide|break\s+up)\s+(?:up\s+)?(?:the\s+|all\s+)?(?:reps?|work|rounds?|it|them|everything|cals?|"
    r"calories|metres|meters|distance)?\s*(?:up\s+)?(?:as|however|how|any|anyhow|evenly|equally|between|in\s+any|freely)\b[\w\s]{0,25}\)?",
    re.I,
)
_LATE_ROLE = re.compile(r"[\s,(-]+(?:(?P<in>buy[\s-]?in)|(?:buy|cash)[\s-]?out)\W*$", re.I)  # "20 cal row buy-in"
_MINUTES = re.compile(r"^[^\d]*[,;(-]\s*(?P<n>\d{1,2})\s*(?:min(?:ute)?s?|')\s*\)?(?=[^\d]*$)", re.I)
_ORDINALS = ("first", "second", "third", "fourth", "fifth")


class Heads:
    """Reads what a line says about its block, with the words of one library."""

    def __init__(self, words: Words) -> None:
        self.words = words
        amrap = words.any_of("format", "amrap")
        self._taken = lru_cache(maxsize=4_000)(self._take)
        self.rules = forms(words)
        self.alone = re.compile(
            rf"^[\W\d]*(?:{amrap})\b(?:\s+(?:in|for|with)\s+(?:the\s+)?(?:remaining|rest|time)[a-z ]{{0,20}})?[\s:]*$"
            rf"|^[\W\d]*(?:{amrap})\b(?:\s+of\b)?[\s:]*$|^\W*(?:{amrap})\b(?=\W*$|\s*:|\s+of\b)(?:\s+of\b)?",
            re.I,
        )
        self.sections = [(i, words.pattern(r"^\W*", "section", i, r"(?![\w'])(?=\W|$)")) for i in words.ids("section")]
        self.splits = [(i, words.pattern(r"[(,;-]*\s*\b", "split", i, r"\b\s*\)?")) for i in words.ids("split")]
        self.splits.append(("shared", _SHARED))
        self.splits.append(("shared", re.compile(r"[(,;-]*\s*\bshared?\b\s*\)?\s*[.!]?$", re.I)))
        self.splits.append(("shared", re.compile(r"(?:[(,;-]+\s*|^\W*)(?:all\s+)?split\b\s*\)?\W*$", re.I)))
        self.teams = [
            (2 if i == "pair" else 3, words.pattern(r"(?<!between )\b", "team", i, _NOT_DOING))
            for i in words.ids("team")
        ]
        self.roles = [(i, words.pattern(r"^\W*(?:\bthen\b\W*)?", "role", i, r"(?!\w)\W*")) for i in words.ids("role")]
        self.names = [(i, words.pattern(r"^\W*", "piece", i, r"(?![\w'])(?=\W|$)")) for i in words.ids("piece")]
        self.clock = words.pattern(r"^\W*(?:(?:on|with|against|off)\s+)?", "format", "running-clock", r"\b\W*")
        self.part = words.pattern(r"^\W*", "part", after=r"\s*(?:(?-i:[A-H])|\d{1,2}|one|two|three)\b\s*[.):-]*\s*")
        self._next = re.compile(
            rf"{amrap}|e\d*mom|every|{words.any_of('format', 'alternating')}|for|in|of|with|part|work|teams|session"
            "|super|superset|circuit|complex|sets|together",
            re.I,
        )
        self.alternating = words.pattern(r"[(,;-]*\s*\b", "format", "alternating", r"\b\.?\s*\)?")

    def take(self, text: str) -> Head:
        """As `_take`, remembered: a line is asked for its heading more than once."""
        found = self._taken(text)
        return replace(found, scheme=list(found.scheme), assumed=list(found.assumed))

    def _take(self, text: str) -> Head:
        """Read what a line says about its block.

        Parameters
        ----------
        text : str
            Plain text of a line.

        Returns
        -------
        Head
            With the text left over in `rest`.
        """
        head = Head(text)
        head.rest, head.slot = _slot(head.rest)
        while found := _THEN.match(head.rest):
            head.then = True
            head.rest = head.rest[found.end() :]
        self._part_and_section(head)
        self._named(head)
        for role, pattern in self.roles:
            if found := pattern.match(head.rest):
                head.role = role
                head.rest = head.rest[found.end() :]
        if head.role is None and (found := _LATE_ROLE.search(head.rest)):
            head.role = "buy-in" if found["in"] else "cash-out"
            head.rest = head.rest[: found.start()]
        for pattern, use in self.rules:
            if found := pattern.search(head.rest):
                before = head.rest
                head.rest = f"{before[: found.start()]} ; {before[found.end() :]}"
                use(head, found)
                if head.rest is before:
                    break
        if head.format is None and (found := self.alone.search(head.rest)):
            head.format = "amrap"
            head.rest = head.rest.replace(found.group(), " ; ", 1)
        self._sharing(head)
        take_scheme(head)
        timed = _MINUTES.search(head.rest)
        if timed and head.partners and not (head.format or head.duration_s or head.time_cap_s or head.scheme):
            head.duration_s = 60.0 * float(timed["n"])
            head.rest = head.rest.replace(timed.group(), " ", 1)
        if head.format == "emom" and (found := self.alternating.search(head.rest)):
            head.alternating = True
            head.rest = head.rest.replace(found.group(), " ; ", 1)
        if head.section is None and head.says:
            self._part_and_section(head)
        if head.window and head.format == "for-time" and head.duration_s:
            head.time_cap_s, head.duration_s = head.time_cap_s or head.duration_s, None
        head.wrong = head.wrong or impossible(head)
        return head

    def is_name(self, text: str) -> bool:
        """Whether a text is no more than the name of a piece or a section."""
        known = [
            w for kind in ("section", "piece", "team", "part") for p in self.words.phrases(kind) for w in p.split()
        ]
        bare = re.findall(r"[a-z]+", text.lower())
        return bool(bare) and set(bare) <= {*known, "team", "partner", "class"}

    def _named(self, head: Head) -> None:
        """What a piece is called, where the name is one that boards use: finisher, core, stations."""
        if found := self.clock.match(head.rest):
            head.named, head.title = True, found.group().strip(" :,.-")
            head.rest = head.rest[found.end() :]
            return
        for kind, pattern in self.names:
            if found := pattern.match(head.rest):
                after = head.rest[found.end() :]
                if re.match(r"\s+[a-z]", after, re.I) and not self._goes_on(after):
                    continue
                head.named, head.extra, head.title = True, kind == "extra", found.group().strip(" :,.-(*")
                head.rest = after
                return

    def _part_and_section(self, head: Head) -> None:
        if found := self.part.match(head.rest):
            rest = re.sub(r"^@\s*\d{1,2}:\d\d\s*[,:;-]*\s*", "", head.rest[found.end() :])
            head.part, head.rest = True, rest
        for section, pattern in self.sections:
            if (found := pattern.match(head.rest)) and not re.match(
                r"[\s-]*(?:sets?|reps?|to\b|up\b)", head.rest[found.end() :], re.I
            ):
                after = head.rest[found.end() :]
                shouted = found.group().strip().isupper() and not after.isupper()
                if re.match(r"\s+[a-z]", after, re.I) and not (head.says or shouted or self._goes_on(after)):
                    continue
                head.section = section
                head.rest = after
                return

    def _goes_on(self, after: str) -> bool:
        """Whether a section's name may be followed by this: a format, a clock or a bracket, not plain words."""
        first = after.split()[0].strip("(:,-").lower()
        return self._next.fullmatch(first) is not None

    def _sharing(self, head: Head) -> None:
        for split, pattern in self.splits:
            if found := pattern.search(head.rest):
                head.split = split  # type: ignore[assignment]
                lone = re.fullmatch(r"\s*[a-z]+\s*", found.group(), re.I)  # "30 synchro sit-ups"
                head.rest = head.rest.replace(found.group(), " " if lone else " ; ", 1)
                break
        for size, pattern in self.teams:
            if found := pattern.search(head.rest):
                head.partners = head.partners or size
                head.rest = head.rest.replace(found.group(), " ; ", 1)
                break


def _slot(text: str) -> tuple[str, int | None]:
    """The minute that an item is for: "Min 1 - 2 get-ups", "Odd: ...", "2nd minute: ..."."""
    found = _SLOT.match(text)
    if not found:
        return text, None
    mark = found.group().lower()
    if "odd" in mark or "even" in mark:
        return text[found.end() :], 1 if "odd" in mark else 2
    if digits := re.search(r"\d+", mark):
        return text[found.end() :], int(digits.group())
    words = re.findall(r"[a-z]+", mark)
    number = next((NUMBERS.index(w) for w in words if w in NUMBERS), None)
    if number is None:
        number = next((_ORDINALS.index(w) + 1 for w in words if w in _ORDINALS), 1)
    return text[found.end() :], number


@lru_cache(maxsize=4)
def heads_of(words: Words) -> Heads:
    """The reader of a library's words, made once."""
    return Heads(words)
