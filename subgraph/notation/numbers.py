"""The numbers of one item: amounts, sets, loads, heights, percentages, tempo, in whatever form they are written.

`scan` takes each form out of the text, the least doubtful first, and leaves the words of the name.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from subgraph.notation.number_forms import (
    AMOUNT,
    BARE_LAST,
    BARE_PAIR,
    BRACKETED,
    BUILD,
    BUILD_BARE,
    CLOCK_AMOUNT,
    CM_PER_IN,
    HALVES,
    HEAVY_N,
    HEIGHT,
    IN_WORDS,
    KG_PER_POOD,
    KILO,
    LIST,
    LOAD,
    MARKED_LOAD,
    MASS,
    MAX,
    MIN_SEC,
    OPEN_PAIR,
    PACE,
    PAIR_AFTER,
    PAIR_LOAD,
    PAUSE,
    PER_SIDE,
    PERCENT,
    PLUS,
    REPS_BY_SETS,
    REPS_TIMES,
    REST,
    RM,
    RPE,
    SETS,
    SETS_ALONE,
    STANDARDS,
    TARGET,
    TEMPO,
    TIMES,
    UNIT,
    UNIT_AFAR,
    UNITS,
    WAVES,
    WITHIN,
    N,
    UnitWord,
)
from subgraph.quantities import KG_PER_LB, M_PER_FT


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
    n = Numbers(f" {KILO.sub(_kilo, text)} ")
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
    n = Numbers(f" {KILO.sub(_kilo, text)} ")
    _take_manner(n)
    _take_loads(n)
    _take_sets(n)
    _take_max(n)
    _take_amount(n)
    if found := PER_SIDE.search(n.rest):
        n.per_side = True
        n.rest = _cut(n.rest, found, " ")
    return n


def _kilo(found: re.Match[str]) -> str:
    return f"{found[1]}kg"


def _take_manner(n: Numbers) -> None:
    """Tempo, effort, percentages and rest: never an amount."""
    if found := TEMPO.search(n.rest):
        n.tempo = re.sub(r"[-/. ]", "", next(g for g in found.groups() if g)).upper()
        n.rest = _cut(n.rest, found)
    if found := WAVES.search(n.rest):
        pairs = re.findall(r"(\d+)\s*[@x]\s*(\d+)\s*%", found["n"], re.I)
        reps = [float(r) for r, _ in pairs]
        n.percent = [float(p) for _, p in pairs]
        n.sets, n.unit = len(pairs), "rep"
        n.amount, n.amount_is = (reps[:1], "each") if len(set(reps)) == 1 else (reps, "list")
        n.rest = _cut(n.rest, found)
    if found := RPE.search(n.rest):
        n.rpe = float(found["a"] or found["b"])
        n.rest = _cut(n.rest, found)
    if not n.percent and (found := PERCENT.search(n.rest)):
        n.percent = [float(v) for v in re.findall(r"\d+(?:\.\d)?", found["n"])]
        n.rest = _cut(n.rest, found)
    if found := REST.search(n.rest):
        n.rest_s = seconds(re.sub(r"\s*-\s*\d+(?:\.\d+)?", "", found["a"]))
        n.rest = _cut(n.rest, found)
    if found := PACE.search(n.rest):
        n.rest = _cut(n.rest, found)
    if found := PAUSE.search(n.rest):
        n.rest = _cut(n.rest, found)
    for pattern in (BUILD, HEAVY_N, RM):
        if found := pattern.search(n.rest):
            word = found.groupdict().get("w")
            n.amount = [float(IN_WORDS[word.lower()] if word else found["n"])]
            n.amount_is, n.unit, n.effort = "each", "rep", "heavy"
            n.rest = _cut(n.rest, found)
            again = RM.search(n.rest)
            n.rest = _cut(n.rest, again) if again else n.rest
            if within := WITHIN.search(n.rest):
                n.rest = _cut(n.rest, within)
            break

    else:
        if found := BUILD_BARE.search(n.rest):
            n.effort = "heavy"
            n.rest = _cut(n.rest, found)
            if within := WITHIN.search(n.rest):
                n.rest = _cut(n.rest, within)


def _take_loads(n: Numbers) -> None:
    """Loads and heights that carry a unit or a mark."""
    if found := STANDARDS.search(n.rest):
        values = [float(found["a"] or found["a2"]), float(found["b"] or found["b2"])]
        unit = next((u for u in (found["u1"], found["u2"], found["u3"], found["u4"]) if u), None)
        n.rest = _cut(n.rest, found)
        _keep_standards(n, values, unit)
    for found in list(LOAD.finditer(n.rest)):
        masses = re.findall(MASS, found["n"], re.I) + ([found["unit"]] if found["unit"] else [])
        if not masses:
            continue
        if not n.load or (n.load_unit and n.load_unit[0] in "lp#" and masses[0].lower().startswith("k")):
            n.load = [kilograms(float(v), masses[-1]) for v in re.findall(N, re.sub(MASS, " ", found["n"], flags=re.I))]
            n.load_unit = masses[-1].lower()
            n.pair = n.pair or bool(found["pair"]) or "hand" in (found["each"] or "")
        n.rest = n.rest.replace(found.group(), " ; ", 1)
    for found in list(HEIGHT.finditer(n.rest)):
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
    if (found := TARGET.search(n.rest)) and not n.height:
        n.height = [round(v * M_PER_FT * 100, 1) for v in numbers_in(found["n"])]
        n.rest = _cut(n.rest, found)
    if not n.load and (found := HALVES.search(n.rest)):
        n.bare, n.pair = [float(found["n"] or found["m"])], True
        n.rest = _cut(n.rest, found)
    if not n.load and (found := PAIR_LOAD.search(n.rest) or PAIR_AFTER.search(n.rest)):
        n.bare, n.pair = numbers_in(found["n"]), True
        n.rest = _cut(n.rest, found)
    if not n.load and not n.bare and (found := MARKED_LOAD.search(n.rest)):
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
    """Sets and lists: 3 x 10, 5 sets of, 5-5-3-3-1, 2++."""
    if n.sets:
        return
    if found := REPS_BY_SETS.search(n.rest):
        n.sets, n.amount, n.amount_is, n.unit = int(found["sets"]), [float(found["reps"])], "each", "rep"
        n.rest = _cut(n.rest, found)
        return
    if found := TIMES.search(n.rest) or REPS_TIMES.search(n.rest):
        n.sets = int(found["sets"])
        n.rest = f"{n.rest[: found.start('x')]} ; {n.rest[found.end() :]}"
    elif found := SETS.search(n.rest):
        n.sets = int(found["sets"])
        n.rest = _cut(n.rest, found, " x ")
    elif found := SETS_ALONE.search(n.rest):
        n.sets = int(found["sets"] or found["b"])
        n.rest = _cut(n.rest, found)
    if n.amount:
        return
    if found := PLUS.search(n.rest):
        n.amount, n.amount_is = [float(found["n"] or found["m"])], "ladder"
        n.step = float(found["k"] or found["n"])
        n.rest = _cut(n.rest, found)
    elif found := LIST.search(n.rest) or OPEN_PAIR.search(n.rest):
        n.amount, n.amount_is = numbers_in(re.sub("-", " ", found["n"])), "list"
        if found.groupdict().get("open") or found.re is OPEN_PAIR:
            n.step = n.amount[-1] - n.amount[-2]
        n.rest = n.rest[: found.start()] + " " + _take_unit(n, n.rest[found.end() :])


def _take_unit(n: Numbers, after: str) -> str:
    """The unit right after a number; gives the text without it."""
    if (unit := re.match(rf"\s*-?\s*{UNIT}", after, re.I)) and unit.group().strip():
        position = next(i for i in range(len(UNITS)) if unit[f"u{i}"])
        _, n.unit, factor = UNITS[position]
        n.amount = [v * factor for v in n.amount]
        return after[unit.end() :]
    return after


def _take_max(n: Numbers) -> None:
    found = MAX.search(n.rest)
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
    if again := MAX.search(n.rest):  # "max effort: 2 min max calories"
        n.unit = "cal" if (again["what"] or "").lower().startswith("cal") else n.unit
        n.rest = _cut(n.rest, again, " ")
    if clock := CLOCK_AMOUNT.search(n.rest):
        n.max_for_s = seconds(clock["c"])
        n.rest = _cut(n.rest, clock)
    elif clock := re.search(rf"\b(?:in\s+)?(?P<d>{N}\s*(?:min(?:ute)?s?|secs?|seconds?|s)\b)\.?", n.rest, re.I):
        n.max_for_s = seconds(clock["d"])
        n.rest = _cut(n.rest, clock)


def _take_amount(n: Numbers) -> None:
    if n.amount or n.amount_is == "max":
        _take_bare_pair(n)
        return
    if found := MIN_SEC.search(n.rest):
        n.amount, n.amount_is, n.unit = [float(found["m"]) * 60 + float(found["s"])], "each", "s"
        n.rest = _cut(n.rest, found)
        return
    if found := CLOCK_AMOUNT.search(n.rest):
        n.amount, n.amount_is, n.unit = [seconds(found["c"])], "each", "s"
        if found["d"]:
            n.amount, n.amount_is = [*n.amount, seconds(found["d"])], "standards"
        n.rest = _cut(n.rest, found)
        return
    choices = [
        m
        for m in AMOUNT.finditer(n.rest)
        if not _inside_name(n.rest, m) and not _part_of_one(m) and not _bracketed(n.rest, m)
    ]
    if not choices:
        _take_bare_pair(n)
        return
    best = min(choices, key=lambda m: _doubt(n.rest, m))
    _keep_amount(n, best)
    _take_bare_pair(n)


def _doubt(text: str, found: re.Match[str]) -> tuple[int, int]:
    """How doubtful a number is as the amount: those with a unit, then the first of the text, then "x 20"."""
    unit = next((i for i in range(len(UNITS)) if found[f"u{i}"]), None)
    first = not text[: found.start()].strip(" ;,:(x-")
    last = not text[found.end() :].strip(" ;,:)")
    if unit is not None and UNITS[unit][1] not in ("inch-or-second",):
        return (0, found.start())
    if first or found["x"] or found["times"]:
        return (1, found.start())
    if last:
        return (3 if found["join"] == "/" else 2, found.start())
    return (4, found.start())


def _bracketed(text: str, found: re.Match[str]) -> bool:
    """Whether it stands alone in brackets at the end, after a name: a load."""
    return (last := BRACKETED.search(text)) is not None and last.start("n") == found.start("n")


def _part_of_one(found: re.Match[str]) -> bool:
    """Whether it is a broken number without a unit: nobody does 1.25 reps."""
    return "." in found["n"] and all(found[f"u{i}"] is None for i in range(len(UNITS)))


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
    position = next((i for i in range(len(UNITS)) if found[f"u{i}"]), None)
    n.unit, factor = ("bare", 1.0) if position is None else UNITS[position][1:]
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
    if n.unit == "bare" and (afar := UNIT_AFAR.search(n.rest)):
        n.unit = "cal" if afar["cal"] else "m" if afar["m"] else "s"
        n.rest = _cut(n.rest, afar, " ")


def _take_bare_pair(n: Numbers) -> None:
    """A pair without a unit after the amount: load or height, as the movement has it."""
    if n.bare:
        return
    found = BARE_PAIR.search(n.rest)
    if found is None and not n.load:
        found = (BARE_LAST if n.amount else BRACKETED).search(n.rest)
    if found is None:
        return
    n.perhaps = found.re is not BARE_PAIR
    n.bare = numbers_in(found["n"])
    n.rest = _cut(n.rest, found)
