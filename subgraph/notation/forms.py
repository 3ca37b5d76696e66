"""The forms that a heading may take, each as a pattern and what it gives: the grammar of headings.

The order counts: intervals before EMOM before AMRAP, caps and rests before bare rounds, lists of reps last.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from subgraph.notation.head import MOST_ROUNDS, Head, count
from subgraph.notation.number_forms import CLOCK, N
from subgraph.notation.numbers import numbers_in, seconds
from subgraph.notation.words import Words

LONGEST_BARE_REST_MIN = 10  # "rest 2" is minutes up to here, above it seconds
MOST_LADDER = 60  # rungs of a ladder written as "60 to 1"

Use = Callable[[Head, re.Match[str]], None]

_DUR = rf"(?:{CLOCK}|{N}\s*-?\s*(?:hours?|hrs?|minutes?|mins?|min\.|m(?![a-z])|'|seconds?|secs?|s(?![a-z])|\"))"
_TIME = rf"(?:{_DUR}|{N})(?![\w%/]|\.\d)"
_COUNT = r"(?:\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten)"
_ROUND = r"(?:rounds?|rds?|rnds?|times\s+through|sets|times)"
_BETWEEN = r"""(?:between|b/w|btw|b/t|after|in\s+between)\b(?:[\w\s/'&]*?
    (?:rounds?|sets?|each|intervals?|rds?|efforts?|amraps?|every\s+one|lifts?|them|exercises|movements)\b
    (?:\s*(?:round|set|interval|amrap|effort)s?)?)?"""
_BEFORE = rf"(?:(?P<r>{_COUNT})\s*(?:{_ROUND}|x)\s*(?:of|[:,x-])?\s*)?"
_AFTER = rf"(?:\s*(?:x|for)\s*(?P<x>\d+)(?!\s*(?:min|'|:))\s*(?:{_ROUND}|intervals)?)?"
_AND = r"\s*[/,;|&+-]*\s*(?:and\s+)?"
_ALTERNATING = r"(?:\s*(?P<alt>[-(]?\s*alt(?:ernating)?\b\)?))?"
_FOR = rf"[\s:x@(-]*(?:for\s*)?(?:(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)|(?P<a>{_TIME}))?"
_OPENING = r"[(,;-]*\s*"


def forms(words: Words) -> list[tuple[re.Pattern[str], Use]]:
    """The patterns with the words of one library, in the order in which they are tried."""
    amrap, emom = words.any_of("format", "amrap"), words.any_of("format", "emom")
    found: list[tuple[str, Use]] = [
        *_clocks(words),
        *_emoms(emom),
        (
            rf"""(?:(?P<r>{_COUNT})\s*x\s*)?(?P<b>{_TIME})\s*-?\s*(?:to\s+)?(?:(?:complete|perform|do|get)\s+)?
                (?:{amrap})\b(?:\s*x\s*(?P<n>\d+)\b(?:\s*{_ROUND})?)?
            |(?:(?P<r2>{_COUNT})\s*x\s*)?\b(?:{amrap})[\s:x@(-]*(?:(?:in|for|of)\s*)?(?P<a>{_TIME})\)?
                (?:\s*x\s*(?P<n2>\d+)\b(?:\s*{_ROUND})?)?""",
            _amrap,
        ),
        (
            rf"""{_OPENING}(?:\b(?:time\s*)?(?:cap|limit)\b|\bt\.?\s?c\b\.?)\s*(?:of|is|at)?[\s:=@-]*(?P<a>{_TIME})\s*\)?
            |{_OPENING}(?P<b>{_DUR})\s*-?\s*(?:time\s*)?(?:cap|limit|tc)\b\s*\)?""",
            _cap,
        ),
        (rf"(?P<r>{_COUNT})\s*-?\s*(?:rft|r\.f\.t\.?|rounds?\s+ft)(?![a-z])", _for_time),
        (rf"\b{words.any_of('format', 'work')}\b", _own_pace),
        (rf"\b{words.any_of('format', 'for-time')}\b", _for_time),
        *_rests(),
        *_counts(),
        *_ladders(words),
        (
            rf"""\b(?:in\s+)?(?:teams?|groups?)\s+of\s+(?P<a>{_COUNT})\b
            |\b(?P<b>[2-9])[\s-]*(?:person|people|athletes?|members?)(?:\s+teams?)?\b""",
            _team,
        ),
    ]
    return [(re.compile(pattern, re.I | re.X), use) for pattern, use in found]


def _clocks(words: Words) -> list[tuple[str, Use]]:
    """Windows of the clock, and work and rest by it."""
    side = rf"(?:{_DUR}|:?\d+)"
    short = r"\d+\s*(?:s|secs?|\")"
    return [
        (
            r"""^\W*(?:from\s+|min(?:ute)?s?\.?\s+)?(?:(?P<a>\d+:\d\d)\s*-\s*(?P<b>\d+:\d\d)
                |(?P<c>\d+)\s*-\s*(?P<d>\d+)\s*(?:min(?:ute)?s?|')|(?P<e>0)\s*-\s*(?P<f>\d+))
            (?:\s*min(?:ute)?s?)?\s*(?:[:)>-]+|\s(?=[a-z])|$)""",
            _window,
        ),
        (rf"\b(?:{words.any_of('format', 'tabata')})\b", _tabata),
        (rf"\b{words.any_of('format', 'rising')}\b", _rising),
        (
            rf"""{_BEFORE}(?P<w>{side})\s*(?:of\s+)?(?:on|work)\b{_AND}
            (?P<o>{side})\s*(?:of\s+)?(?:off|rest)\b{_AFTER}""",
            _intervals,
        ),
        (
            rf"""\b(?:work|on)\b\s*[:=]?\s*(?P<w>{side}){_AND}\b(?:rest|off)\b\s*[:=]?\s*(?P<o>{side})
            (?P<r>$^)?{_AFTER}""",
            _intervals,
        ),
        (
            rf"^\W*{_BEFORE}(?P<w>:\d\d|{short})\s*(?:/|:|-)\s*(?P<o>:?\d\d|{short})(?![\w/-]){_AFTER}",
            _intervals,
        ),
        (
            rf"""(?:intervals?|work\s*[:/]\s*rest)\W+(?P<r>$^)?(?P<w>:?\d+)\s*(?:s|sec)?\s*/\s*
            (?P<o>:?\d+)\s*(?:s|sec)?{_AFTER}""",
            _intervals,
        ),
    ]


def _emoms(emom: str) -> list[tuple[str, Use]]:
    """Every minute, every k minutes."""
    before = rf"(?:(?P<b>{_TIME})\s*-?\s*)?"
    alternating = r"(?:alt(?:ernating)?\.?\s*)?"
    return [
        (
            rf"""{before}\b{alternating}(?:e(?P<k>\d+(?:\.\d+)?|:\d\d)\s*m?om|e(?P<s>\d\d)s?om|e(?P<k2>\d+)m(?=\s|:|x))\b
            {_ALTERNATING}{_FOR}""",
            _emom,
        ),
        (
            rf"""{before}(?<!\w){alternating}(?:{emom})(?:s\b)?(?![a-z]){_ALTERNATING}{_FOR}
            (?P<k>$^)?(?P<s>$^)?(?P<k2>$^)?""",
            _emom,
        ),
        (
            rf"""\bevery\s+(?:(?P<d>{_DUR})|(?P<one>min(?:ute)?)\b|(?P<other>(?:other|2nd|second)\s+min(?:ute)?\b)
                |(?P<third>(?:third|3rd)\s+min(?:ute)?\b))
            (?:\s*\(?\s*on\s+the\s+(?:{_DUR}|min(?:ute)?)\)?)?
            (?:[\s,:(-]*(?:(?:for|until|over|of|@|-)\s*)?(?:x?\s*(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)
                |x?\s*(?P<a>{_DUR})|(?P<x>x)\s*(?P<m>\d+)|(?P<m2>\d+)(?=\s*[:,)]|\s*$)))?""",
            _every,
        ),
    ]


def _rests() -> list[tuple[str, Use]]:
    """Rest of a stated length."""
    return [
        (
            rf"""{_OPENING}\b(?:rest|recover|walk)\b\s*(?:for\s*)?[:=]?\s*(?P<a>{N}\s*-\s*{_DUR}|{_DUR}
                |\d+(?=\s*(?:between|b/w|btw|after|$)))\s*(?:rest\s*)?(?P<w>{_BETWEEN})?\s*\)?""",
            _rest,
        ),
        (
            rf"""{_OPENING}(?P<a>{N}\s*-\s*{_DUR}|{_DUR})\s*(?:of\s+)?(?:rest|recovery|off|break)\b
            \s*(?P<w>{_BETWEEN})?\s*\)?""",
            _rest,
        ),
    ]


def _counts() -> list[tuple[str, Use]]:
    """How many rounds."""
    return [
        (
            rf"""(?<![\w.:/+-])(?P<a>{_COUNT})(?:\s*-\s*(?P<b>\d{{1,2}}))?\s*-?\s*
            (?P<w>rounds?|rds?|rnds?|times\s+through)\b\.?(?:\s*(?:of|each)\b)?""",
            _rounds,
        ),
        (rf"^\W*(?P<a>{_COUNT})\s*(?P<w>sets?|x)\s*(?:of\b)?\s*(?=:|[\s,;]*$|\(|[,;]\s*;|,?\s*each\b)", _rounds),
        (rf"^\W*(?:for|x)\s*(?P<a>{_COUNT})\s*(?P<w>sets?)\b", _rounds),
        (
            rf"\b(?:repeat|do|complete)\s*(?:x\s*)?(?P<a>{_COUNT})\s*(?:x|times)?\b(?P<w>)(?:\s*through)?(?=\W*$)",
            _rounds,
        ),
        (rf"^\W*x\s*(?P<a>{_COUNT})\W*$(?P<w>)|\b(?P<a2>{_COUNT})\s*(?:x|times)\s*through\b", _rounds),
    ]


def _ladders(words: Words) -> list[tuple[str, Use]]:
    """Reps that change from round to round, and a bare length."""
    return [
        (
            r"""\(?(?:\+\s*|\badd(?:ing)?\s+|\bincreas(?:e|ing)\s+(?:by\s+)?|\b(?:go(?:ing)?\s+)?up\s+(?:by\s+)?|\bplus\s+)
            (?P<k>\d+)\s*(?:reps?)?\s*(?:to\s+\w+\s+|on\s+\w+\s+|of\s+each\s+)?
            (?:movement\s+)?(?:each|every|per|a)\s+(?:round|rd|time|set|minute|min)\b\)?""",
            _step,
        ),
        (
            r"""(?<![\w.:/-])(?P<a>\d+)\s*(?:down\s+)?to\s+(?P<b>\d+)(?:\s*(?:reps?\b|ladder\b))?
            (?=[\s:,]*(?:reps|of|ladder|each|$|[a-z]))(?!\s*(?:min|sec|m\b|kg|lb|ft|feet))""",
            _span,
        ),
        (
            r"""(?<![\w.:/-])(?P<a>\d+)\s*-\s*(?P<b>\d+)\s*(?:reps?\s*)?(?:(?:ascending|descending|up|down)\s+)?ladder\b
            |\bladder\W+(?P<a2>\d+)\s*-\s*(?P<b2>\d+)(?![\d-])""",
            _span,
        ),
        (
            r"""\bstart(?:ing)?\s+(?:at|with|from)\s+(?P<a>\d+)\s*(?:reps?)?\b(?=\W|$)
            (?!\s*(?:kg|lb|m\b|cal|min|sec|[a-z]))""",
            _start,
        ),
        (
            rf"(?:(?P<d>{_DUR})\s*-?\s*)?\b{words.any_of('format', 'ladder')}\b(?:\W+(?:for\s+)?(?P<e>{_DUR}))?",
            _ladder,
        ),
        (
            rf"""^\W*(?:for\s+|in\s+)?(?P<d>{N}\s*-?\s*(?:minutes?|mins?|')|\d+:00)\s*
            (?:of\b(?!\s*[a-z]+\s*$)\W*|[:;-]+\s*(?=$|\S+\s)|$)""",
            _length,
        ),
    ]


def _bare_seconds(text: str) -> float:
    return seconds(text, default=1.0)


def _tabata(head: Head, found: re.Match[str]) -> None:
    head.format, head.work_s, head.rest_s, head.rounds = "intervals", 20.0, 10.0, head.rounds or 8


def _window(head: Head, found: re.Match[str]) -> None:
    """A stretch of the clock: "0-5 min: row", "5:00-12:00 ..."."""
    low = seconds(found["a"] or found["c"] or found["e"])
    high = seconds(found["b"] or found["d"] or found["f"])
    if high > low:
        head.duration_s, head.window = high - low, True


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
    head.each_slot = bool(re.match(r"r", found["set"] or "", re.I))
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
    if not head.every_s:
        return
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
    if found["a"].isdigit():
        short = float(found["a"]) <= LONGEST_BARE_REST_MIN
        head.rest_s = float(found["a"]) * (60 if short else 1)
        head.assumed.append(f"'rest {found['a']}' read as {'minutes' if short else 'seconds'}")
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
    if (time := found["d"] or found["e"]) and head.format is None:
        head.format, head.duration_s = "amrap", seconds(time)


def _length(head: Head, found: re.Match[str]) -> None:
    if head.format is None and head.duration_s is None:
        head.duration_s = seconds(found["d"])


def _team(head: Head, found: re.Match[str]) -> None:
    size = count(found["a"] or found["b"])
    head.partners = size if 1 < size < 13 else None


_SPACED = re.compile(r"^\W*\d{1,3}(?:\s+\d{1,3}){2,}\W*$")
_SCHEME = re.compile(
    r"^[\s;:,(.-]*(?P<n>\d+(?:\s*(?:-|,(?=\s?\d)|/|>)\s*\d+){1,})\s*(?P<open>-?\s*(?:\.{2,}|etc\b\.?))?\)?\s*"
    r"(?:reps?\b)?\s*(?:rounds?\b)?\s*(?:(?:each\s+)?of\b|each\b)?(?![\w/])\s*(?P<sep>[:;,.-]*)"
)
_LATE = re.compile(
    r"(?<![\w/:.@])(?P<n>\d+(?:-\d+){2,})\s*(?P<open>-?\s*(?:\.{2,}|etc\b\.?))?\s*(?:reps?\b)?\s*(?:each\b|of\b)?[\s;:,.)-]*$"
)
_OPEN_TWO = re.compile(r"(?:\.{2,}|etc)")


def take_scheme(head: Head) -> None:
    """A list of reps for the whole block: at the start of what is left, or at its end."""
    if head.scheme:
        return
    if spaced := _SPACED.match(head.rest):
        head.scheme, head.rest = numbers_in(spaced.group()), ""
        return
    found = _SCHEME.match(head.rest) or _LATE.search(head.rest)
    if not found:
        return
    values = numbers_in(re.sub("[-,/>]", " ", found["n"]))
    after = head.rest[found.end() :].strip(" ;:,.-()")
    alone = not after and not re.search(r"[a-z]", head.rest[: found.start()], re.I)
    for_block = (
        alone
        or head.format in ("for-time",)
        or head.ladder
        or (bool(found["open"]) and not after)
        or (":" in (found.groupdict().get("sep") or "") and len(values) > 2)
        or (found.re is _LATE and head.says > 0)
    )
    if len(values) == 2 and not ((alone and values[0] > values[1]) or found["open"] or head.ladder):
        return
    if not for_block or any(v <= 0 for v in values):
        return
    head.scheme = values
    if found["open"]:
        head.step = values[-1] - values[-2] if len(values) > 1 else None
    head.rest = f"{head.rest[: found.start()]} ; {head.rest[found.end() :]}"
