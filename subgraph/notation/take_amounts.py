"""How much of an item: sets, lists, maxima and amounts."""

from __future__ import annotations

import re

from subgraph.notation.number_forms import (
    AMOUNT,
    BARE_LAST,
    BARE_PAIR,
    BRACKETED,
    CLOCK_AMOUNT,
    COURSE,
    LIST,
    MAX,
    MIN_SEC,
    OPEN_PAIR,
    PLUS,
    REPS_BY_SETS,
    REPS_TIMES,
    SETS,
    SETS_ALONE,
    TIMES,
    UNIT,
    UNIT_AFAR,
    UNITS,
    N,
)
from subgraph.notation.numbers import Numbers, cut, numbers_in, seconds

LEVELS = 3  # numbers with slashes that may be one for each of three levels


def take_sets(n: Numbers) -> None:
    """Sets and lists: 3 x 10, 5 sets of, 5-5-3-3-1, 2++."""
    if n.sets:
        return
    if found := REPS_BY_SETS.search(n.rest):
        n.sets, n.amount, n.amount_is, n.unit = int(found["sets"]), [float(found["reps"])], "each", "rep"
        n.rest = cut(n.rest, found)
        return
    if found := TIMES.search(n.rest) or REPS_TIMES.search(n.rest):
        n.sets = int(found["sets"])
        n.rest = f"{n.rest[: found.start('x')]} ; {n.rest[found.end() :]}"
    elif found := SETS.search(n.rest):
        n.sets = int(found["sets"])
        n.rest = cut(n.rest, found, " x ")
    elif found := SETS_ALONE.search(n.rest):
        n.sets = int(found["sets"] or found["b"])
        n.rest = cut(n.rest, found)
    if n.amount:
        if n.sets and n.effort and (found := re.search(r"\bx\s*(?P<n>\d{1,2})(?![\w./:%])", n.rest)):
            n.amount = [float(found["n"])]  # "5x3 building to a heavy triple"
            n.rest = cut(n.rest, found)
        return
    if found := PLUS.search(n.rest):
        n.amount, n.amount_is = [float(found["n"] or found["m"])], "ladder"
        n.step = float(found["k"] or found["n"])
        n.rest = cut(n.rest, found)
    elif found := LIST.search(n.rest) or OPEN_PAIR.search(n.rest):
        n.amount, n.amount_is = numbers_in(re.sub("-", " ", found["n"])), "list"
        slashed = "/" in found["n"] and len(n.amount) == LEVELS
        if found.groupdict().get("open") or found.re is OPEN_PAIR:
            n.step = n.amount[-1] - n.amount[-2]
        n.rest = n.rest[: found.start()] + " " + _take_unit(n, n.rest[found.end() :])
        if slashed and (n.unit in ("cal", "m", "s", "minute-or-metre") or LEVELS in (len(n.load), len(n.height))):
            n.amount_is = "standards"  # "15/12/10 cal row", "20/16/12 wall balls 9/6/4 kg"


def _take_unit(n: Numbers, after: str) -> str:
    """The unit right after a number; gives the text without it."""
    if (unit := re.match(rf"\s*-?\s*{UNIT}", after, re.I)) and unit.group().strip():
        position = next(i for i in range(len(UNITS)) if unit[f"u{i}"])
        _, n.unit, factor = UNITS[position]
        n.amount = [v * factor for v in n.amount]
        return after[unit.end() :]
    return after


def take_max(n: Numbers) -> None:
    """As many as possible, perhaps within a stated time."""
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
    n.rest = cut(n.rest, found, " hold " if what == "hold" else " ")
    if again := MAX.search(n.rest):  # "max effort: 2 min max calories"
        n.unit = "cal" if (again["what"] or "").lower().startswith("cal") else n.unit
        n.rest = cut(n.rest, again, " ")
    if clock := CLOCK_AMOUNT.search(n.rest):
        n.max_for_s = seconds(clock["c"])
        n.rest = cut(n.rest, clock)
    elif clock := re.search(rf"\b(?:in\s+)?(?P<d>{N}\s*(?:min(?:ute)?s?|secs?|seconds?|s)\b)\.?", n.rest, re.I):
        n.max_for_s = seconds(clock["d"])
        n.rest = cut(n.rest, clock)


def take_amount(n: Numbers) -> None:
    """The number that says how much, of all that are left."""
    if n.amount or n.amount_is == "max":
        _take_bare_pair(n)
        return
    if found := MIN_SEC.search(n.rest):
        n.amount, n.amount_is, n.unit = [float(found["m"]) * 60 + float(found["s"])], "each", "s"
        n.rest = cut(n.rest, found)
        return
    if found := CLOCK_AMOUNT.search(n.rest):
        n.amount, n.amount_is, n.unit = [seconds(found["c"])], "each", "s"
        if found["d"]:
            n.amount, n.amount_is = [*n.amount, seconds(found["d"])], "standards"
        n.rest = cut(n.rest, found)
        return
    if found := COURSE.search(n.rest):
        n.course = True
        n.rest = f"{n.rest[: found.start('way')]} {n.rest[found.end() :]}"
    choices = [
        m
        for m in AMOUNT.finditer(n.rest)
        if not _inside_name(n.rest, m) and not _part_of_one(m) and not _bracketed(n.rest, m)
    ]
    if not choices:
        _take_bare_pair(n)
        if afar := UNIT_AFAR.search(n.rest):
            n.counted = "cal" if afar["cal"] else "m" if afar["m"] else None
            n.rest = cut(n.rest, afar, " ") if n.counted and afar.group().lower().startswith("for") else n.rest
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
    if found["join"] == "/" and text[: found.start()].rstrip().endswith("("):
        return (5, found.start())
    if first or found["x"] or found["times"]:
        return (1, found.start())
    if re.fullmatch(r"[\s;,(@]*\d+(?:\.\d+)?\s*/\s*\d+(?:\.\d+)?[\s;)]*", text[found.end() :]) and not found["join"]:
        return (2, found.start())  # "thruster 21 43/30": the pair behind it is the load
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
        return "-" in after[:1] or bool(before) or found["n"] == "1"
    return (
        bool(re.search(r"\b(?:toes?|knees?|chest|ground|shoulder|hands?|elbows?)\s*$", before, re.I))
        and found["n"] == "2"
    )


def _keep_amount(n: Numbers, found: re.Match[str]) -> None:
    values = [float(v) for v in (found["n"], found["n2"], found["n3"]) if v]
    position = next((i for i in range(len(UNITS)) if found[f"u{i}"]), None)
    n.unit, factor = ("bare", 1.0) if position is None else UNITS[position][1:]
    n.late = bool(re.search(r"[a-z]", found.string[: found.start()], re.I))
    n.glued = position is not None and found.group().rstrip()[-1:].isalpha() and " " not in found.group().strip()
    n.amount = [round(v * factor, 1) for v in values]
    n.amount_is = "each"
    if n.unit == "ft":
        n.feet = values
    if len(values) > 1:
        n.amount_is = "standards" if found["join"] == "/" else "range"
        if n.amount_is == "standards" and len(values) == 2 and values[0] == values[1]:
            n.amount, n.amount_is, n.per_side = n.amount[:1], "each", True
    n.rest = cut(n.rest, found, " ")
    if n.unit == "bare" and (afar := UNIT_AFAR.search(n.rest)):
        n.unit = "cal" if afar["cal"] else "m" if afar["m"] else "s"
        n.rest = cut(n.rest, afar, " ")


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
    n.bracketed = found.re is BRACKETED and not n.amount and n.amount_is == "none"
    values = numbers_in(found["n"])
    n.rest = cut(n.rest, found)
    if len(values) == 2 and values[0] == values[1] and n.amount[:1] == [2 * values[0]]:
        return  # half on each side: "10 get-ups (5/5)"
    n.bare = values
