"""What a line says about its block: section, format, rounds, scheme, clock, sharing.

`take` reads each form out of the line and leaves the rest, which may hold items or a title.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, fields
from functools import lru_cache

from subgraph.notation.board import Format, Split
from subgraph.notation.numbers import CLOCK, N, numbers_in, seconds
from subgraph.notation.words import Words

MOST_ROUNDS = 200
MOST_LADDER = 60  # rungs of a ladder written as "60 to 1"

_DUR = rf"(?:{CLOCK}|{N}\s*-?\s*(?:hours?|hrs?|minutes?|mins?|min\.|m(?![a-z])|'|seconds?|secs?|s(?![a-z])|\"))"
_TIME = rf"(?:{_DUR}|{N})(?![\w%/]|\.\d)"
_COUNT = r"(?:\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten)"
_ROUND = r"(?:rounds?|rds?|rnds?|times\s+through|sets|times)"
_NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(slots=True)
class Head:
    """What one line gives for its block; `rest` is the text left over."""

    rest: str = ""
    section: str | None = None
    title: str | None = None
    format: Format | None = None
    rounds: int | None = None
    scheme: list[float] = field(default_factory=list)
    step: float | None = None
    time_cap_s: float | None = None
    duration_s: float | None = None
    every_s: float | None = None
    work_s: float | None = None
    rest_s: float | None = None
    rest_between: bool = False
    partners: int | None = None
    split: Split | None = None
    role: str | None = None
    alternating: bool = False
    slot: int | None = None
    then: bool = False
    part: bool = False
    ladder: bool = False
    sets_word: bool = False
    assumed: list[str] = field(default_factory=list)
    wrong: str | None = None

    @property
    def says(self) -> int:
        """How many things it says of its block."""
        plain = {"rest", "title", "then", "assumed", "wrong", "rest_between", "sets_word", "slot"}
        return sum(bool(getattr(self, f.name)) for f in fields(self) if f.name not in plain)

    @property
    def starts(self) -> bool:
        """Whether it can only begin a piece: it names a format, a section, a scheme or rounds."""
        return bool(self.format or self.section or self.rounds or self.scheme or self.part or self.role)


def count(text: str) -> int:
    """A whole number, also in words."""
    text = text.lower()
    return _NUMBERS.index(text) if text in _NUMBERS else int(text)


class Heads:
    """Reads what a line says about its block, with the words of one library."""

    def __init__(self, words: Words) -> None:
        self.words = words
        amrap = words.any_of("format", "amrap")
        emom = words.any_of("format", "emom")
        tabata = words.any_of("format", "tabata")
        rules: list[tuple[str, Callable[[Head, re.Match[str]], None]]] = [
            (rf"\b(?:{tabata})\b", _tabata),
            (rf"\b{words.any_of('format', 'rising')}\b", _rising),
            (
                rf"(?:(?P<r>{_COUNT})\s*(?:{_ROUND}|x)\s*(?:of|[:,x-])?\s*)?(?P<w>{_DUR}|:?\d+)\s*(?:of\s+)?(?:on|work)\b\s*[/,;|&+-]*\s*(?:and\s+)?"
                rf"(?P<o>{_DUR}|:?\d+)\s*(?:of\s+)?(?:off|rest)\b(?:\s*(?:x|for)\s*(?P<x>\d+)(?!\s*(?:min|'|:))\s*(?:{_ROUND}|intervals)?)?",
                _intervals,
            ),
            (
                rf"\b(?:work|on)\b\s*[:=]?\s*(?P<w>{_DUR}|:?\d+)\s*[/,;|&+-]*\s*(?:and\s+)?\b(?:rest|off)\b\s*[:=]?\s*(?P<o>{_DUR}|:?\d+)(?P<r>$^)?"
                rf"(?:\s*(?:x|for)\s*(?P<x>\d+)(?!\s*(?:min|'|:))\s*(?:{_ROUND}|intervals)?)?",
                _intervals,
            ),
            (
                rf"^\W*(?:(?P<r>{_COUNT})\s*(?:{_ROUND}|x)\s*(?:of|[:,x-])?\s*)?(?P<w>:\d\d|\d+\s*(?:s|secs?|\"))\s*(?:/|:|-)\s*(?P<o>:?\d\d|\d+\s*(?:s|secs?|\"))"
                rf"(?![\w/-])(?:\s*(?:x|for)\s*(?P<x>\d+)(?!\s*(?:min|'|:))\s*(?:{_ROUND}|intervals)?)?",
                _intervals,
            ),
            (
                rf"(?:intervals?|work\s*[:/]\s*rest)\W+(?P<r>$^)?(?P<w>:?\d+)\s*(?:s|sec)?\s*/\s*(?P<o>:?\d+)\s*(?:s|sec)?(?:\s*(?:x|for)\s*(?P<x>\d+)(?!\s*(?:min|'|:))\s*(?:{_ROUND})?)?",
                _intervals,
            ),
            (
                rf"(?:(?P<b>{_TIME})\s*-?\s*)?\b(?:alt(?:ernating)?\.?\s*)?(?:e(?P<k>\d+(?:\.\d+)?|:\d\d)\s*m?om|e(?P<s>\d\d)s?om|e(?P<k2>\d+)m(?=\s|:|x))\b"
                rf"(?:\s*(?P<alt>[-(]?\s*alt(?:ernating)?\b\)?))?"
                rf"[\s:x@(-]*(?:for\s*)?(?:(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)|(?P<a>{_TIME}))?",
                _emom,
            ),
            (
                rf"(?:(?P<b>{_TIME})\s*-?\s*)?(?<!\w)(?:alt(?:ernating)?\.?\s*)?(?:{emom})(?:s\b)?(?![a-z])(?:\s*(?P<alt>[-(]?\s*alt(?:ernating)?\b\)?))?"
                rf"[\s:x@(-]*(?:for\s*)?(?:(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)|(?P<a>{_TIME}))?(?P<k>$^)?(?P<s>$^)?(?P<k2>$^)?",
                _emom,
            ),
            (
                rf"\bevery\s+(?:(?P<d>{_DUR})|(?P<one>min(?:ute)?)\b|(?P<other>(?:other|2nd|second)\s+min(?:ute)?\b)|(?P<third>(?:third|3rd)\s+min(?:ute)?\b))"
                rf"(?:\s*\(?\s*on\s+the\s+(?:{_DUR}|min(?:ute)?)\)?)?"
                rf"(?:[\s,:(-]*(?:(?:for|until|over|of|@|-)\s*)?(?:x?\s*(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)|x?\s*(?P<a>{_DUR})|(?P<x>x)\s*(?P<m>\d+)|(?P<m2>\d+)(?=\s*[:,)]|\s*$)))?",
                _every,
            ),
            (
                rf"(?:(?P<r>{_COUNT})\s*x\s*)?(?P<b>{_TIME})\s*-?\s*(?:{amrap})\b(?:\s*x\s*(?P<n>\d+)\b(?:\s*{_ROUND})?)?"
                rf"|(?:(?P<r2>{_COUNT})\s*x\s*)?\b(?:{amrap})[\s:x@(-]*(?:(?:in|for|of)\s*)?(?P<a>{_TIME})\)?(?:\s*x\s*(?P<n2>\d+)\b(?:\s*{_ROUND})?)?",
                _amrap,
            ),
            (
                rf"[(,;-]*\s*(?:\b(?:time\s*)?(?:cap|limit)\b|\bt\.?\s?c\b\.?)\s*(?:of|is|at)?[\s:=@-]*(?P<a>{_TIME})\s*\)?"
                rf"|[(,;-]*\s*(?P<b>{_DUR})\s*-?\s*(?:time\s*)?(?:cap|limit|tc)\b\s*\)?",
                _cap,
            ),
            (rf"(?P<r>{_COUNT})\s*-?\s*(?:rft|r\.f\.t\.?|rounds?\s+ft)(?![a-z])", _for_time),
            (rf"\b{words.any_of('format', 'work')}\b", _own_pace),
            (rf"\b{words.any_of('format', 'for-time')}\b", _for_time),
            (
                rf"[(,;-]*\s*\b(?:rest|recover|walk)\b\s*(?:for\s*)?[:=]?\s*(?P<a>{_DUR}|\d+(?=\s*(?:between|b/w|btw|after)))(?:\s*-\s*(?:{_DUR}|\d+))?"
                rf"\s*(?:rest\s*)?(?P<w>(?:between|b/w|btw|b/t|after|in between)\b[\w\s/'&]*?(?:rounds?|sets?|each|intervals?|rds?|efforts?|amraps?|every one|lifts?|round|them|exercises|movements)\b(?:\s*(?:round|set|interval|amrap|effort)s?)?)?\s*\)?",
                _rest,
            ),
            (
                rf"[(,;-]*\s*(?P<a>{N}\s*-\s*{_DUR}|{_DUR})\s*(?:of\s+)?(?:rest|recovery|off|break)\b\s*(?P<w>(?:between|b/w|btw|b/t|after|in between)\b[\w\s/'&]*?(?:rounds?|sets?|each|intervals?|rds?|efforts?|amraps?|lifts?|round|them)\b(?:\s*(?:round|set|interval|amrap)s?)?)?\s*\)?",
                _rest,
            ),
            (
                rf"(?<![\w.:/+-])(?P<a>{_COUNT})(?:\s*-\s*(?P<b>\d{{1,2}}))?\s*-?\s*(?P<w>rounds?|rds?|rnds?|times\s+through)\b\.?(?:\s*(?:of|each)\b)?",
                _rounds,
            ),
            (rf"^\W*(?P<a>{_COUNT})\s*(?P<w>sets?|x)\s*(?:of\b)?\s*(?=:|$|\(|,?\s*each\b)", _rounds),
            (rf"^\W*(?:for|x)\s*(?P<a>{_COUNT})\s*(?P<w>sets?)\b", _rounds),
            (rf"\b(?:repeat|do|complete)\s*(?:x\s*)?(?P<a>{_COUNT})\s*(?:x|times)?\b(?P<w>)(?:\s*through)?(?=\W*$)", _rounds),
            (rf"^\W*x\s*(?P<a>{_COUNT})\W*$(?P<w>)|\b(?P<a2>{_COUNT})\s*(?:x|times)\s*through\b", _rounds),
            (
                r"\(?(?:\+\s*|\badd(?:ing)?\s+|\bincreas(?:e|ing)\s+(?:by\s+)?|\b(?:go(?:ing)?\s+)?up\s+(?:by\s+)?|\bplus\s+)(?P<k>\d+)\s*(?:reps?)?\s*(?:to\s+\w+\s+|on\s+\w+\s+|of\s+each\s+)?"
                r"(?:movement\s+)?(?:each|every|per|a)\s+(?:round|rd|time|set|minute|min)\b\)?",
                _step,
            ),
            (rf"(?<![\w.:/-])(?P<a>\d+)\s*(?:down\s+)?to\s+(?P<b>\d+)(?:\s*(?:reps?\b|ladder\b))?(?=[\s:,]*(?:reps|of|ladder|each|$|[a-z]))(?!\s*(?:min|sec|m\b|kg|lb|ft|feet))", _span),
            (r"(?<![\w.:/-])(?P<a>\d+)\s*-\s*(?P<b>\d+)\s*(?:reps?\s*)?(?:(?:ascending|descending|up|down)\s+)?ladder\b|\bladder\W+(?P<a2>\d+)\s*-\s*(?P<b2>\d+)(?![\d-])", _span),
            (r"\bstart(?:ing)?\s+(?:at|with|from)\s+(?P<a>\d+)\s*(?:reps?)?\b(?=\W|$)(?!\s*(?:kg|lb|m\b|cal|min|sec|[a-z]))", _start),
            (rf"\b{words.any_of('format', 'ladder')}\b", _ladder),
            (rf"\b(?:in\s+)?(?:teams?|groups?)\s+of\s+(?P<a>{_COUNT})\b|\b(?P<b>[2-9])[\s-]*(?:person|people|athletes?|members?)(?:\s+teams?)?\b", _team),
        ]
        self.rules = [(re.compile(pattern, re.I), use) for pattern, use in rules]
        self.alone = [
            (re.compile(rf"\b(?:{amrap})\b[\s:]*$|^\W*(?:{amrap})\b(?=\W*$|\s*:)", re.I), "amrap"),
        ]
        self.sections = [(i, words.pattern(r"^\W*", "section", i, r"(?![\w'])(?=\W|$)")) for i in words.ids("section")]
        self.splits = [(i, words.pattern(r"[(,;-]*\s*\b", "split", i, r"\b\s*\)?")) for i in words.ids("split")]
        self.teams = [(2 if i == "pair" else 3, words.pattern(r"\b", "team", i, r"\b\s*:?")) for i in words.ids("team")]
        self.roles = [(i, words.pattern(r"^\W*(?:\bthen\b\W*)?", "role", i, r"\b\W*")) for i in words.ids("role")]
        self.part = words.pattern(r"^\W*", "part", after=r"\s*(?:(?-i:[A-H])|\d{1,2}|one|two|three)\b\s*[.):-]*\s*")
        self.alternating = words.pattern(r"[(,;-]*\s*\b", "format", "alternating", r"\b\.?\s*\)?")
        self.circuit = words.pattern(r"\b", "format", "intervals", r"\b")

    def take(self, text: str) -> Head:
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
        if found := re.match(r"^\W*(?:and\s+)?(?:then|followed\s+by|(?:straight|directly|right)?\s*into|after\s+that|finally)\b[\s:,-]*", head.rest, re.I):
            head.then = True
            head.rest = head.rest[found.end() :]
        self._part_and_section(head)
        for role, pattern in self.roles:
            if found := pattern.match(head.rest):
                head.role = role
                head.rest = head.rest[found.end() :]
        for pattern, use in self.rules:
            if found := pattern.search(head.rest):
                before = head.rest
                head.rest = f"{before[: found.start()]} ; {before[found.end() :]}"
                use(head, found)
                if head.rest is before:
                    break
        if head.format is None:
            for pattern, name in self.alone:
                if found := pattern.search(head.rest):
                    head.format = "amrap" if name == "amrap" else None
                    head.rest = head.rest.replace(found.group(), " ; ", 1)
        self._sharing(head)
        _scheme(head)
        if head.format == "emom" and (found := self.alternating.search(head.rest)):
            head.alternating = True
            head.rest = head.rest.replace(found.group(), " ; ", 1)
        if head.section is None and head.says:
            self._part_and_section(head)
        return head

    def _part_and_section(self, head: Head) -> None:
        if found := self.part.match(head.rest):
            rest = head.rest[found.end() :]
            head.part, head.rest = True, rest
        for section, pattern in self.sections:
            if (found := pattern.match(head.rest)) and not re.match(r"[\s-]*(?:sets?|reps?|to\b|up\b)", head.rest[found.end() :], re.I):
                after = head.rest[found.end() :]
                if re.match(r"\s+[a-z]", after, re.I) and head.says == 0 and not self._goes_on(after):
                    continue
                head.section = section
                head.rest = after
                return

    def _goes_on(self, after: str) -> bool:
        """Whether a section's name may be followed by this: a format, a clock or a bracket, not plain words."""
        first = after.split()[0].strip("(:,-").lower()
        return first in ("for", "emom", "amrap", "in", "every", "of", "alternating", "with", "part", "e2mom", "work", "teams", "session")

    def _sharing(self, head: Head) -> None:
        for split, pattern in self.splits:
            if found := pattern.search(head.rest):
                head.split = split  # type: ignore[assignment]
                rest = head.rest.replace(found.group(), " ; ", 1)
                head.rest = rest
                break
        for size, pattern in self.teams:
            if found := pattern.search(head.rest):
                head.partners = head.partners or size
                head.rest = head.rest.replace(found.group(), " ; ", 1)
                break


_SLOT = re.compile(
    r"^\W*(?:(?:even|odd)s?\b(?:\s*min(?:ute)?s?)?\s*[:.)-]+\s*|(?:min(?:ute)?s?|m|station|st|slot|interval)\s*\.?\s*(?:\d{1,2}|one|two|three|four|five|six)(?:\s*(?:st|nd|rd|th))?"
    r"(?:\s*(?:,|/|&|\+)\s*\d{1,2})*(?:\s*(?:,|/)?\s*(?:\.{2,}|etc\.?))?\s*(?:[:.)=>-]+\s*|\s+(?=\d|max|[a-z]{3}))"
    r"|(?:1st|2nd|3rd|4th|5th|first|second|third|fourth|fifth)\s+min(?:ute)?\s*[:.)-]*\s*"
    r"|\d{1,2}(?:st|nd|rd|th)\s+min(?:ute)?\s*[:.)-]*\s*)",
    re.I,
)
_ORDINALS = ("first", "second", "third", "fourth", "fifth")


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
    number = next((_NUMBERS.index(w) for w in words if w in _NUMBERS), None)
    if number is None:
        number = next((_ORDINALS.index(w) + 1 for w in words if w in _ORDINALS), 1)
    return text[found.end() :], number


def _bare_seconds(text: str) -> float:
    return seconds(text, default=1.0)


def _tabata(head: Head, found: re.Match[str]) -> None:
    head.format, head.work_s, head.rest_s, head.rounds = "intervals", 20.0, 10.0, head.rounds or 8


def _rising(head: Head, found: re.Match[str]) -> None:
    head.format, head.every_s, head.scheme, head.step, head.ladder = "emom", 60.0, [1.0], 1.0, True


def _intervals(head: Head, found: re.Match[str]) -> None:
    head.format = "intervals"
    head.work_s, head.rest_s = _bare_seconds(found["w"]), _bare_seconds(found["o"])
    number = found["x"] or found["r"]
    head.rounds = count(number) if number else head.rounds


def _emom(head: Head, found: re.Match[str]) -> None:
    if found.group().strip().lower() == "e" or head.format == "intervals":
        return
    head.format = "emom"
    every = found["k"] or found["k2"]
    head.every_s = float(found["s"]) if found["s"] else seconds(every) if every else 60.0
    head.alternating = head.alternating or bool(re.search(r"\balt", found.group(), re.I))
    by_count = found["a"] and found["a"].isdigit() and re.search(r"x\s*$", found.group()[: -len(found["a"])])
    _clock_of(head, None if by_count else found["a"] or found["b"], found["a"] if by_count else found["n"])


def _every(head: Head, found: re.Match[str]) -> None:
    if head.format in ("emom", "intervals"):
        return
    head.format = "emom"
    head.every_s = seconds(found["d"]) if found["d"] else 60.0 if found["one"] else 120.0 if found["other"] else 180.0
    _clock_of(head, found["a"], found["n"] or found["m"])
    if found["m2"] and head.rounds is None:
        _clock_of(head, found["m2"], None)


def _clock_of(head: Head, time: str | None, number: str | None) -> None:
    assert head.every_s
    if number:
        head.rounds = count(number)
        head.duration_s = head.rounds * head.every_s
    elif time:
        head.duration_s = seconds(time)
        head.rounds = round(head.duration_s / head.every_s) if head.every_s else None


def _amrap(head: Head, found: re.Match[str]) -> None:
    if head.format in ("emom", "intervals"):
        return
    head.format = "amrap"
    head.duration_s = seconds(found["a"] or found["b"])
    number = found["r"] or found["r2"] or found["n"] or found["n2"]
    head.rounds = count(number) if number else head.rounds


def _cap(head: Head, found: re.Match[str]) -> None:
    head.time_cap_s = seconds(found["a"] or found["b"])


def _for_time(head: Head, found: re.Match[str]) -> None:
    head.format = head.format or "for-time"
    if found.groupdict().get("r"):
        head.rounds = count(found["r"])


def _own_pace(head: Head, found: re.Match[str]) -> None:
    head.format = head.format or "work"


def _rest(head: Head, found: re.Match[str]) -> None:
    if found.group().strip(" (,;-").lower().startswith("walk") and not found["w"]:
        head.rest = head.rest.replace(" ; ", found.group(), 1)
        return
    head.rest_s = seconds(re.sub(rf"\s*-\s*{N}", "", found["a"]))
    head.rest_between = bool(found["w"])
    if re.search(r"\d\s*-\s*\d", found.group()):
        head.assumed.append(f"'{found.group().strip(' ,;()-')}': the shorter rest is taken")


def _rounds(head: Head, found: re.Match[str]) -> None:
    number = count(found["a"] or found["a2"]) if "a2" in found.re.groupindex else count(found["a"])
    if found.groupdict().get("b"):
        head.assumed.append(f"{found['a']}-{found['b']} rounds: the lower number is taken")
    if number == 0 or number > MOST_ROUNDS:
        head.wrong = f"{number} rounds" + (" are nothing to do" if number == 0 else " are more than anyone writes")
        return
    head.sets_word = (found["w"] or "").lower().startswith(("set", "x"))
    if head.format == "emom":
        head.rounds = head.rounds or number
        head.duration_s = head.duration_s or (number * head.every_s if head.every_s else None)
    else:
        head.rounds = number


def _step(head: Head, found: re.Match[str]) -> None:
    head.step, head.ladder = float(found["k"]), True


def _span(head: Head, found: re.Match[str]) -> None:
    groups = found.groupdict()
    low, high = int(groups["a"] or groups.get("a2") or 0), int(groups["b"] or groups.get("b2") or 0)
    if low == high or abs(low - high) >= MOST_LADDER or not low or not high:
        head.rest = head.rest.replace(" ; ", f" {found.group()} ", 1)
        return
    by = 1 if high > low else -1
    head.scheme = [float(v) for v in range(low, high + by, by)]
    head.ladder = True


def _start(head: Head, found: re.Match[str]) -> None:
    head.scheme, head.ladder = [float(found["a"])], True


def _ladder(head: Head, found: re.Match[str]) -> None:
    head.ladder = True


def _team(head: Head, found: re.Match[str]) -> None:
    size = count(found["a"] or found["b"])
    head.partners = size if 1 < size < 13 else None


_SCHEME = re.compile(
    r"^[\s;:,(.-]*(?P<n>\d+(?:\s*(?:-|,(?=\s?\d)|/|>)\s*\d+){1,})\s*(?P<open>-?\s*(?:\.{2,}|etc\b\.?))?\)?\s*"
    r"(?:reps?\b)?\s*(?:rounds?\b)?\s*(?:(?:each\s+)?of\b|each\b)?(?![\w/])\s*(?P<sep>[:;,.-]*)"
)
_LATE = re.compile(r"(?<![\w/:.@])(?P<n>\d+(?:-\d+){2,})\s*(?P<open>-?\s*(?:\.{2,}|etc\b\.?))?\s*(?:reps?\b)?\s*(?:each\b|of\b)?[\s;:,.)-]*$")
_OPEN_TWO = re.compile(r"(?:\.{2,}|etc)")


def _scheme(head: Head) -> None:
    """A list of reps for the whole block: at the start of what is left, or at its end."""
    if head.scheme:
        return
    found = _SCHEME.match(head.rest) or _LATE.search(head.rest)
    if not found:
        return
    values = numbers_in(re.sub("[-,/>]", " ", found["n"]))
    after = head.rest[found.end() :].strip(" ;:,.-()")
    alone = not after and not re.search(r"[a-z]", head.rest[: found.start()], re.I)
    for_block = alone or head.format in ("for-time",) or head.ladder or bool(found["open"]) and not after or found.re is _LATE and head.says > 0
    if len(values) == 2 and not (alone and values[0] > values[1] or found["open"] or head.ladder):
        return
    if not for_block or any(v <= 0 for v in values):
        return
    head.scheme = values
    if found["open"]:
        head.step = values[-1] - values[-2] if len(values) > 1 else None
    head.rest = f"{head.rest[: found.start()]} ; {head.rest[found.end() :]}"


@lru_cache(maxsize=4)
def heads_of(words: Words) -> Heads:
    """The reader of a library's words, made once."""
    return Heads(words)
