"""The numbers of one item: amounts, sets, loads, heights, percentages, tempo, in whatever form they are written.

`scan` takes each form out of the text, the least doubtful first, and leaves the words of the name.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Literal

from subgraph.quantities import KG_PER_LB, M_PER_FT, M_PER_MI

KG_PER_POOD = 16.3804964  # from memory: 40 old Russian pounds
M_PER_YD = 0.9144  # exact by definition (international yard and pound agreement, 1959)
CM_PER_IN = 2.54  # exact, same agreement

# "bare" stands for no unit; "minute-or-metre", "inch-or-second" and "foot-or-minute" are settled by the movement.
UnitWord = Literal["rep", "s", "m", "cal", "bare", "minute-or-metre", "inch-or-second", "foot-or-minute", "ft"]

N = r"(?:\d+(?:\.\d+)?|\.\d+)"
CLOCK = r"\d{0,3}:[0-5]\d"
_UNITS: tuple[tuple[str, UnitWord, float], ...] = (
    (r"(?:k?cal(?:orie)?s?|(?<=\d)c(?![&+]))(?![a-z])", "cal", 1),
    (r"(?:minutes?|mins?)\b\.?", "s", 60),
    (r"(?:seconds?|secs?|s)\b\.?", "s", 1),
    (r"(?:kilomet(?:er|re)s?|kms?|k)\b", "m", 1000),
    (r"(?:miles?|mi)\b", "m", M_PER_MI),
    (r"(?:met(?:er|re)s?|mtrs?|mts?)\b", "m", 1),
    (r"(?:yards?|yds?)\b", "m", M_PER_YD),
    (r"(?:feet|foot|ft)\b\.?", "ft", M_PER_FT),
    (r"m\b", "minute-or-metre", 1),
    (r"(?:repetitions?|reps?)\b", "rep", 1),
    (r"(?:inch(?:es)?|in)\b\.?", "inch-or-second", CM_PER_IN),
    (r"(?:\"|'')", "inch-or-second", 1),
    (r"'(?!\w)", "foot-or-minute", 1),
)
_UNIT = "(?:" + "|".join(f"(?P<u{i}>{p})" for i, (p, _, _) in enumerate(_UNITS)) + ")"
_MASS = r"(?:kgs?\b|kilos?\b|kilograms?\b|lbs?\b\.?|pounds?\b|\#s?|poods?\b|pd\b)"
_RATIO = rf"{N}(?:\s*(?:/|\|)\s*{N}){{1,2}}"
_LEAD = r"(?:@\s*|\bat\s+|\bwith\s+|\bw/\s*|\busing\s+|\bload:?\s*|\()*"
_PAIRED = r"(?P<pair>\b(?:2|two)\s*[x*]\s*|\b(?:2|two|double|dual)\s+(?=\d))?"
_LOAD = re.compile(
    rf"{_LEAD}{_PAIRED}(?<![\d.:/])(?P<n>{N}(?:\s*{_MASS})?(?:\s*(?:/|-(?=\s*\d+(?:\.\d+)?\s*(?:kg|lb|\#)))\s*{N}(?:\s*{_MASS})?){{0,2}})"
    rf"\s*(?P<unit>{_MASS})?(?:\s*(?P<each>per hand|each hand|each|a hand|per side|ea\b))?\s*\)?",
    re.I,
)
_MARKED_LOAD = re.compile(
    rf"@\s*{_PAIRED}(?P<n>{N}(?:\s*/\s*{N}){{0,2}})(?!\s*(?:%|rpe|[:\w.])|\s*(?:sec|min|s\b|m\b|cal|pace|rpm|in\b|cm\b|\"))",
    re.I,
)
_STANDARDS = re.compile(
    rf"\(?\b(?:rx\s*)?(?:m|men|male|guys)\b\s*[:=]?\s*(?P<a>{N})\s*(?P<u1>{_MASS}|in\b|cm\b|\")?\s*(?:[,/;&|-]|and)*\s*"
    rf"\b(?:w|f|women|female|ladies|girls)\b\s*[:=]?\s*(?P<b>{N})\s*(?P<u2>{_MASS}|in\b|cm\b|\")?\s*\)?"
    rf"|\(?(?P<a2>{N})\s*(?P<u3>{_MASS}|in\b|cm\b|\")?\s*(?:m|men|male)\b\s*(?:[,/;&|-]|and)*\s*"
    rf"(?P<b2>{N})\s*(?P<u4>{_MASS}|in\b|cm\b|\")?\s*(?:w|f|women|female)\b\)?",
    re.I,
)
_TEMPO = re.compile(
    r"[@(]*\s*\btempo:?\s*@?\s*(?P<a>[\dX](?:[-/. ]?[\dX]){3})\b\)?|@\s*(?P<b>[\dX]{4})\b(?:\s*tempo)?"
    r"|[@(]*\s*\b(?P<c>(?=\w*X)(?=\w*\d)[\dX]\d[\dX]\d)\b(?!\.)(?:\s*tempo)?\)?|(?<![\d-])(?P<d>[\dX](?:[-]?[\dX]){3})\s+tempo\b",
    re.I,
)
_RPE = re.compile(
    rf"[@(]*\s*(?:\brpe\s*[:@]?\s*(?P<a>{N})(?:\s*-\s*{N})?|(?<![\d-])(?P<b>{N})(?:\s*-\s*{N})?\s*rpe\b)\s*\)?", re.I
)
_PERCENT = re.compile(
    r"[@(]*\s*(?:\bat\s+)?(?P<n>(?:\d{1,3}\s*%?\s*(?:,|-|/|&|\bto\b|\band\b|>)\s*)*\d{1,3}(?:\.\d)?)\s*%\+?"
    r"(?:\s*(?:of\s+)?(?:your\s+)?(?:the\s+)?(?:best|max|1\s*-?\s*rm|tm|training max|\drm|that|it|today'?s?|weight|heavy|single|double|triple|load|top set)\b)*\s*\)?",
    re.I,
)
_HEIGHT = re.compile(
    rf"(?:@\s*|\(|\bto\s+)*(?<![\d.:])(?P<n>{N}(?:\s*(?:\"|in\b|inch(?:es)?\b|cm\b)?\s*/\s*{N})?)\s*-?"
    r"(?P<unit>\"|''|inch(?:es)?\b|in\b\.?(?!\s+(?:\d|the\b|a\b|total\b|under\b))|cms?\b)\s*\)?",
    re.I,
)
_TARGET = re.compile(
    rf"(?:(?<=[a-z,;(])|@|\bto)\s*(?:a\s+)?(?<![\d.])(?P<n>{N}\s*(?:'|ft)?\s*/\s*{N}|(?<=to )\d{{1,2}}|(?<=@ )\d{{1,2}})\s*(?:ft\b|feet\b|')(?:\s*target)?\s*\)?",
    re.I,
)
_PER_SIDE = re.compile(
    r"(?:\bper|\beach|\bea\.?|\ba|\bevery|/|\bon each|\bon both)\s*(?:side|leg|arm|hand|direction|way|foot|knee)s?\b|\be/?s\b|\bp/s\b"
    r"|\b(?:left (?:and|&|\+) right|l\s*/\s*r|r\s*/\s*l|l\s*&\s*r|r\s*&\s*l|both sides)\b|(?<=\d)\s*/\s*s\b|\bea\b\.?|\beach(?=[\s;,)]*$)",
    re.I,
)
_LIST = re.compile(
    r"(?<![\w./:])(?P<n>\d+(?:\s*(?:-|,(?=\s?\d)|/|>)\s*\d+){2,})(?P<open>\s*-?\s*(?:\.{2,}|etc\b\.?))?(?![\w:]|\.\d)",
    re.I,
)
_OPEN_PAIR = re.compile(r"(?<![\w./:])(?P<n>\d+\s*[-,]\s*\d+)\s*[-,]?\s*(?:\.{2,}|etc\b\.?)", re.I)
_PLUS = re.compile(r"(?<![\w.])(?P<n>\d+)\s*\+\+|(?<![\w.])(?P<m>\d+)\s*\(\s*\+\s*(?P<k>\d+)[^)]*\)", re.I)
_SETS = re.compile(
    rf"(?<![\w.:/-])(?P<sets>\d{{1,2}})(?:\s*-\s*(?P<more>\d{{1,2}}))?\s*"
    rf"(?:(?:sets?|rounds?)\s*(?:of|x|[:@*,-])?|x\s*sets?\s*of|[x*])\s*(?=(?:{N}|:\d\d|\(|max\b|me\b|amrap\b|1?rm\b|failure\b))",
    re.I,
)
_SETS_ALONE = re.compile(
    r"(?<![\w.:/-])(?:x\s*)?(?P<sets>\d{1,2})(?:\s*-\s*\d{1,2})?\s*(?:working\s+)?sets?\b(?:\s+of\b)?|\bfor\s+(?P<b>\d{1,2})\s*sets?\b",
    re.I,
)
_TIMES = re.compile(
    rf"(?<![\w.:/-])(?:{N}\s*(?:m|met(?:er|re)s?|k|km|cals?|secs?|s|mins?|ft)|{CLOCK})(?:\s+[a-z]+)?(?P<x>\s*[x*]\s*)(?P<sets>\d{{1,2}})(?![\d./:]|\s*(?:kg|lb|#|m\b|cal|s\b|sec|min))",
    re.I,
)
_REPS_BY_SETS = re.compile(r"(?<![\w.:/-])(?P<reps>\d{1,3})\s*reps?\s*[x*]\s*(?P<sets>\d{1,2})\s*sets?\b", re.I)
_MAX = re.compile(
    r"\(?\b(?:for\s+)?(?:max(?:imum)?\b(?:[\s-]*effort)?|me\b(?=\s*[a-z(]|\s*$)|amr?ap\b|as many(?:\s+reps?)?\s+as possible|to failure|failure\b|"
    r"as many)(?:[\s-]*(?P<un>unbroken|ub)\b)?(?:[\s-]*(?P<what>reps?|cal(?:orie)?s?|met(?:er|re)s?|distance|time|hold|height|load|weight)\b)?"
    r"(?:\s+(?:of|as possible)\b)?\)?",
    re.I,
)
_BUILD = re.compile(
    r"\b(?:build(?:ing)?(?:\s*up)?|work(?:ing)?(?:\s*up)?|find|test|establish|hit|climb|ramp(?:ing)?(?:\s*up)?|go)\b\s*(?:up\s+)?(?:to|for|towards)?\s*"
    r"(?:a|an|your|today'?s|the day'?s|daily)?\s*(?:new|heavy|challenging|tough|top|max(?:imum)?)?\s*"
    r"(?:(?P<w>single|double|triple)s?|(?:set\s+of\s+)?(?P<n>\d{1,2})\s*-?\s*(?:rep\s*max|rm|reps?)?(?=\b)(?!\s*(?:min|sec|x|m\b|rounds?|-)))",
    re.I,
)
_BUILD_BARE = re.compile(
    r"\b(?:build(?:ing)?|work(?:ing)?|climb|ramp(?:ing)?)(?:\s*up)?\s+(?:to|towards)\s+(?:a|an|your|today'?s)?\s*"
    r"(?:heavy|challenging|tough|max(?:imum)?|top)\b(?:\s*(?:set|weight|load))?(?:\s+of\b)?",
    re.I,
)
_PAUSE = re.compile(
    r"[(,]*\s*(?:\bw/|\bwith\b)?\s*(?:a\s+)?\b\d+(?:\s*-\s*\d+)?\s*-?\s*(?:seconds?|secs?|s|counts?)\s+(?:pauses?|eccentric|lower(?:ing)?|negatives?|descent|down|squeeze)\b"
    r"(?:\s+(?:at|in|on)\s+(?:the\s+)?\w+)?\)?",
    re.I,
)
_RM = re.compile(r"(?<![\w.])(?P<n>\d{1,2})\s*-?\s*(?:rm\b|rep\s*max(?:es)?\b)", re.I)
_HEAVY_N = re.compile(
    r"\bheavy\s+(?:(?P<w>single|double|triple)s?\b|(?:set\s+of\s+)?(?P<n>\d{1,2})\b(?!\s*[x:/\d.-]|\s*(?:min|sec|m\b|kg|lb)))",
    re.I,
)
_KILO = re.compile(rf"(@\s*{N}(?:\s*/\s*{N})?)\s*k\b", re.I)
_WITHIN = re.compile(
    rf"\b(?:in|within|over|for|inside)\s+(?:the\s+)?(?:next\s+)?(?P<d>{N}\s*(?:minutes?|mins?|')(?!\w))", re.I
)
_PAIR_LOAD = re.compile(rf"(?<=[a-z)])[\s,;]*[@(]*\s*2\s*[x*]\s*(?P<n>{N}\s*/\s*{N}|\d+\.\d)(?![\w/])\s*\)?", re.I)
_IN_WORDS = {"single": 1, "double": 2, "triple": 3}
_REST = re.compile(
    rf"[,;(-]*\s*\b(?:rest|r)\b\s*[:=]?\s*(?P<a>{CLOCK}|{N}(?:\s*-\s*{N})?\s*(?:min(?:ute)?s?|secs?|seconds?|s|m|'|\")(?!\w))\s*\)?",
    re.I,
)
_CLOCK_AMOUNT = re.compile(
    rf"(?<![\d/:])(?P<c>{CLOCK})(?:\s*/\s*(?P<d>{CLOCK}))?(?![\d:])(?:\s*(?:min(?:ute)?s?|secs?)\b)?"
)
_MIN_SEC = re.compile(
    r"(?<![\d.])(?P<m>\d+)\s*(?:'|min(?:ute)?s?)\s*(?P<s>[0-5]?\d)\s*(?:\"|''|secs?|s\b|seconds?)?(?![\w.])", re.I
)
_AMOUNT = re.compile(
    rf"(?<![\w.:/])(?P<x>x\s*)?(?P<n>{N})(?:\s*(?P<join>/|-|\bto\b)\s*(?P<n2>{N}))?(?:(?<=[\d.])\s*/\s*(?P<n3>{N}))?\s*-?\s*(?:{_UNIT})?(?P<times>\s*[x*](?=\s|$))?(?![\w.]*\d|[a-z])",
    re.I,
)
_UNIT_AFAR = re.compile(
    r"\b(?:for\s+)?(?:(?P<cal>k?cal(?:orie)?s?)|(?P<m>met(?:er|re)s?)|(?P<s>seconds?|secs?))\b\.?", re.I
)
_BARE_PAIR = re.compile(rf"[@(]*\s*(?<![\w./:])(?P<n>{_RATIO})(?![\w./%])\s*\)?")

_BARE_LAST = re.compile(r"(?<=[a-z]{2})\s+(?P<n>\d{1,3}(?:\.\d)?)[\s;)]*$", re.I)


@dataclass(slots=True)
class Numbers:
    """What the numbers of an item say; `rest` holds the words left over."""

    rest: str
    amount: list[float] = field(default_factory=list)
    amount_is: str = "none"
    unit: UnitWord | None = None
    glued: bool = False
    late: bool = False
    perhaps: bool = False
    sets: int | None = None
    load: list[float] = field(default_factory=list)
    load_unit: str | None = None
    pair: bool = False
    height: list[float] = field(default_factory=list)
    bare: list[float] = field(default_factory=list)
    percent: list[float] = field(default_factory=list)
    rpe: float | None = None
    tempo: str | None = None
    effort: str | None = None
    per_side: bool = False
    rest_s: float | None = None
    step: float | None = None
    feet: list[float] = field(default_factory=list)
    max_for_s: float | None = None

    @property
    def anything(self) -> bool:
        """Whether there was any number at all."""
        return (
            bool(
                self.amount
                or self.load
                or self.bare
                or self.height
                or self.percent
                or self.sets
                or self.tempo
                or self.rpe
            )
            or self.amount_is == "max"
        )


def seconds(text: str, *, default: float = 60.0) -> float:
    """Duration [s] of "12", "12 min", "90s", "1:30", "12'".

    Parameters
    ----------
    text : str
        One duration.
    default : float
        Seconds of a number without a unit [s].
    """
    text = text.strip().lower()
    if ":" in text:
        minutes, _, rest = text.partition(":")
        return float(minutes or 0) * 60 + float(rest[:2])
    found = re.match(N, text)
    value = float(found.group()) if found else 0.0
    unit = text[found.end() :].strip(" -") if found else ""
    if not unit:
        return value * default
    if unit.startswith(("s", '"', "''")):
        return value
    return value * (3600.0 if unit.startswith("h") else 60.0)


def numbers_in(text: str) -> list[float]:
    """All plain numbers of a text."""
    return [float(n) for n in re.findall(N, text)]


def kilograms(value: float, unit: str) -> float:
    """A load in kilograms [kg], pounds and poods to one decimal."""
    unit = unit.lower()
    if unit[0] in "l#" or unit.startswith("pound"):
        return round(value * KG_PER_LB, 1)
    if unit.startswith(("pood", "pd")):
        return round(value * KG_PER_POOD, 1)
    return value


def _cut(text: str, found: re.Match[str], instead: str = " ; ") -> str:
    return f"{text[: found.start()]}{instead}{text[found.end() :]}"


def scan_manner(text: str) -> Numbers:
    """Only what hangs on a whole complex: tempo, effort, percentages, rest and loads."""
    n = Numbers(f" {_KILO.sub(_kilo, text)} ")
    _take_manner(n)
    _take_loads(n)
    return n


def scan(text: str) -> Numbers:
    """Take the numbers out of an item's text.

    Parameters
    ----------
    text : str
        Plain text of one item, without bullet or label.

    Returns
    -------
    Numbers
        What they say; `rest` is the text without them.
    """
    n = Numbers(f" {_KILO.sub(_kilo, text)} ")
    _take_manner(n)
    _take_loads(n)
    _take_sets(n)
    _take_max(n)
    _take_amount(n)
    if found := _PER_SIDE.search(n.rest):
        n.per_side = True
        n.rest = _cut(n.rest, found, " ")
    return n


def _kilo(found: re.Match[str]) -> str:
    return f"{found[1]}kg"


def _take_manner(n: Numbers) -> None:
    """Tempo, effort, percentages and rest: never an amount."""
    if found := _TEMPO.search(n.rest):
        n.tempo = re.sub(r"[-/. ]", "", next(g for g in found.groups() if g)).upper()
        n.rest = _cut(n.rest, found)
    if found := _RPE.search(n.rest):
        n.rpe = float(found["a"] or found["b"])
        n.rest = _cut(n.rest, found)
    if found := _PERCENT.search(n.rest):
        n.percent = [float(v) for v in re.findall(r"\d+(?:\.\d)?", found["n"])]
        n.rest = _cut(n.rest, found)
    if found := _REST.search(n.rest):
        n.rest_s = seconds(re.sub(r"\s*-\s*\d+(?:\.\d+)?", "", found["a"]))
        n.rest = _cut(n.rest, found)
    if found := _PAUSE.search(n.rest):
        n.rest = _cut(n.rest, found)
    for pattern in (_BUILD, _HEAVY_N, _RM):
        if found := pattern.search(n.rest):
            word = found.groupdict().get("w")
            n.amount = [float(_IN_WORDS[word.lower()] if word else found["n"])]
            n.amount_is, n.unit, n.effort = "each", "rep", "heavy"
            n.rest = _cut(n.rest, found)
            again = _RM.search(n.rest)
            n.rest = _cut(n.rest, again) if again else n.rest
            if within := _WITHIN.search(n.rest):
                n.rest = _cut(n.rest, within)
            break

    else:
        if found := _BUILD_BARE.search(n.rest):
            n.effort = "heavy"
            n.rest = _cut(n.rest, found)
            if within := _WITHIN.search(n.rest):
                n.rest = _cut(n.rest, within)


def _take_loads(n: Numbers) -> None:
    """Loads and heights that carry a unit or a mark."""
    if found := _STANDARDS.search(n.rest):
        values = [float(found["a"] or found["a2"]), float(found["b"] or found["b2"])]
        unit = next((u for u in (found["u1"], found["u2"], found["u3"], found["u4"]) if u), None)
        n.rest = _cut(n.rest, found)
        _keep_standards(n, values, unit)
    for found in list(_LOAD.finditer(n.rest)):
        masses = re.findall(_MASS, found["n"], re.I) + ([found["unit"]] if found["unit"] else [])
        if not masses:
            continue
        if not n.load or (n.load_unit and n.load_unit[0] in "lp#" and masses[0].lower().startswith("k")):
            n.load = [
                kilograms(float(v), masses[-1]) for v in re.findall(N, re.sub(_MASS, " ", found["n"], flags=re.I))
            ]
            n.load_unit = masses[-1].lower()
            n.pair = n.pair or bool(found["pair"]) or "hand" in (found["each"] or "")
        n.rest = n.rest.replace(found.group(), " ; ", 1)
    for found in list(_HEIGHT.finditer(n.rest)):
        inches = not found["unit"].lower().startswith("cm")
        values = numbers_in(found["n"])
        if (
            found["unit"] in ('"', "''")
            and len(values) == 1
            and not re.search(r"\b(?:box|bj|step|jump|deficit)", n.rest, re.I)
        ):
            continue  # 30" may be half a minute
        if not n.height:
            n.height = [round(v * CM_PER_IN, 1) if inches else v for v in values]
        n.rest = n.rest.replace(found.group(), " ; ", 1)
    if (found := _TARGET.search(n.rest)) and not n.height:
        n.height = [round(v * M_PER_FT * 100, 1) for v in numbers_in(found["n"])]
        n.rest = _cut(n.rest, found)
    if not n.load and (found := _PAIR_LOAD.search(n.rest)):
        n.bare, n.pair = numbers_in(found["n"]), True
        n.rest = _cut(n.rest, found)
    if not n.load and not n.bare and (found := _MARKED_LOAD.search(n.rest)):
        n.bare = numbers_in(found["n"])
        n.pair = n.pair or bool(found["pair"])
        n.rest = _cut(n.rest, found)


def _keep_standards(n: Numbers, values: list[float], unit: str | None) -> None:
    if unit and unit.lower() in ("in", "cm", '"'):
        n.height = [v if unit.lower() == "cm" else round(v * CM_PER_IN, 1) for v in values]
    elif unit:
        n.load, n.load_unit = [kilograms(v, unit) for v in values], unit.lower()
    else:
        n.bare = values


def _take_sets(n: Numbers) -> None:
    """ "3 x 10", "5 sets of", "5-5-3-3-1", "2++"."""
    if found := _REPS_BY_SETS.search(n.rest):
        n.sets, n.amount, n.amount_is, n.unit = int(found["sets"]), [float(found["reps"])], "each", "rep"
        n.rest = _cut(n.rest, found)
        return
    if found := _TIMES.search(n.rest):
        n.sets = int(found["sets"])
        n.rest = f"{n.rest[: found.start('x')]} ; {n.rest[found.end() :]}"
    elif found := _SETS.search(n.rest):
        n.sets = int(found["sets"])
        n.rest = _cut(n.rest, found, " x ")
    elif found := _SETS_ALONE.search(n.rest):
        n.sets = int(found["sets"] or found["b"])
        n.rest = _cut(n.rest, found)
    if n.amount:
        return
    if found := _PLUS.search(n.rest):
        n.amount, n.amount_is = [float(found["n"] or found["m"])], "ladder"
        n.step = float(found["k"] or found["n"])
        n.rest = _cut(n.rest, found)
    elif found := _LIST.search(n.rest) or _OPEN_PAIR.search(n.rest):
        n.amount, n.amount_is = numbers_in(re.sub("-", " ", found["n"])), "list"
        if found.groupdict().get("open") or found.re is _OPEN_PAIR:
            n.step = n.amount[-1] - n.amount[-2]
        n.rest = n.rest[: found.start()] + " " + _take_unit(n, n.rest[found.end() :])


def _take_unit(n: Numbers, after: str) -> str:
    """The unit right after a number; gives the text without it."""
    if (unit := re.match(rf"\s*-?\s*{_UNIT}", after, re.I)) and unit.group().strip():
        position = next(i for i in range(len(_UNITS)) if unit[f"u{i}"])
        _, n.unit, factor = _UNITS[position]
        n.amount = [v * factor for v in n.amount]
        return after[unit.end() :]
    return after


def _take_max(n: Numbers) -> None:
    found = _MAX.search(n.rest)
    if not found or n.amount or (found["what"] or "").lower() in ("load", "weight", "height"):
        return
    n.amount_is = "max"
    what = (found["what"] or "").lower()
    n.unit = (
        "cal"
        if what.startswith("cal")
        else "m"
        if what.startswith(("met", "dist"))
        else "s"
        if what in ("time", "hold")
        else None
    )
    n.rest = _cut(n.rest, found, " hold " if what == "hold" else " ")
    if clock := _CLOCK_AMOUNT.search(n.rest):
        n.max_for_s = seconds(clock["c"])
        n.rest = _cut(n.rest, clock)
    elif clock := re.search(rf"\b(?:in\s+)?(?P<d>{N}\s*(?:min(?:ute)?s?|secs?|seconds?|s)\b)\.?", n.rest, re.I):
        n.max_for_s = seconds(clock["d"])
        n.rest = _cut(n.rest, clock)


def _take_amount(n: Numbers) -> None:
    if n.amount or n.amount_is == "max":
        _take_bare_pair(n)
        return
    if found := _MIN_SEC.search(n.rest):
        n.amount, n.amount_is, n.unit = [float(found["m"]) * 60 + float(found["s"])], "each", "s"
        n.rest = _cut(n.rest, found)
        return
    if found := _CLOCK_AMOUNT.search(n.rest):
        n.amount, n.amount_is, n.unit = [seconds(found["c"])], "each", "s"
        if found["d"]:
            n.amount, n.amount_is = [*n.amount, seconds(found["d"])], "standards"
        n.rest = _cut(n.rest, found)
        return
    choices = [m for m in _AMOUNT.finditer(n.rest) if not _inside_name(n.rest, m) and not _part_of_one(m)]
    if not choices:
        _take_bare_pair(n)
        return
    best = min(choices, key=lambda m: _doubt(n.rest, m))
    _keep_amount(n, best)
    _take_bare_pair(n)


def _doubt(text: str, found: re.Match[str]) -> tuple[int, int]:
    """How doubtful a number is as the amount: those with a unit, then the first of the text, then "x 20"."""
    unit = next((i for i in range(len(_UNITS)) if found[f"u{i}"]), None)
    first = not text[: found.start()].strip(" ;,:(x-")
    last = not text[found.end() :].strip(" ;,:)")
    if unit is not None and _UNITS[unit][1] not in ("inch-or-second",):
        return (0, found.start())
    if first or found["x"] or found["times"]:
        return (1, found.start())
    if last:
        return (3 if found["join"] == "/" else 2, found.start())
    return (4, found.start())


def _part_of_one(found: re.Match[str]) -> bool:
    """Whether it is a broken number without a unit: nobody does 1.25 reps."""
    return "." in found["n"] and all(found[f"u{i}"] is None for i in range(len(_UNITS)))


def _inside_name(text: str, found: re.Match[str]) -> bool:
    """Whether a number is part of a name: "1-arm", "90/90", "toes 2 bar", "T2B", "1.25 squat"."""
    after = text[found.end("n") : found.end("n") + 7].lower()
    before = text[: found.start()].strip(" ;,:(-@")
    if (
        re.match(r"[\s-]*(?:arm|leg|hand|foot|count|point)\b", after)
        and float(found["n"]) <= 4
        and not re.match(r"\s+(?:arm|leg)\s*$", after)
    ):
        return "-" in after[:1] or bool(before)
    return (
        bool(re.search(r"\b(?:toes?|knees?|chest|ground|shoulder|hands?|elbows?)\s*$", before, re.I))
        and found["n"] == "2"
    )


def _keep_amount(n: Numbers, found: re.Match[str]) -> None:
    values = [float(v) for v in (found["n"], found["n2"], found["n3"]) if v]
    position = next((i for i in range(len(_UNITS)) if found[f"u{i}"]), None)
    n.unit, factor = ("bare", 1.0) if position is None else _UNITS[position][1:]
    n.late = bool(re.search(r"[a-z]{2}", found.string[: found.start()], re.I))
    n.glued = position is not None and found.group().rstrip()[-1:].isalpha() and " " not in found.group().strip()
    n.amount = [round(v * factor, 1) for v in values]
    n.amount_is = "each"
    if n.unit == "ft":
        n.feet = values
    if len(values) > 1:
        n.amount_is = "standards" if found["join"] == "/" else "range"
        if n.amount_is == "standards" and len(values) == 2 and values[0] == values[1]:
            n.amount, n.amount_is, n.per_side = n.amount[:1], "each", True
    n.rest = _cut(n.rest, found, " ")
    if n.unit == "bare" and (afar := _UNIT_AFAR.search(n.rest)):
        n.unit = "cal" if afar["cal"] else "m" if afar["m"] else "s"
        n.rest = _cut(n.rest, afar, " ")


def _take_bare_pair(n: Numbers) -> None:
    """A pair without a unit after the amount: load or height, as the movement has it."""
    if n.bare:
        return
    found = _BARE_PAIR.search(n.rest) or (_BARE_LAST.search(n.rest) if n.amount and not n.load else None)
    if found is None:
        return
    n.perhaps = found.re is _BARE_LAST
    n.bare = numbers_in(found["n"])
    n.rest = _cut(n.rest, found)
