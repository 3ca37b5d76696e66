"""Loads and heights of an item that carry a unit or a mark."""

from __future__ import annotations

import re

from subgraph.notation.number_forms import (
    BARE_TARGET,
    CM_PER_IN,
    HALVES,
    HEIGHT,
    HIGH_TARGET,
    LOAD,
    MARKED_LOAD,
    MASS,
    PAIR_AFTER,
    PAIR_LAST,
    PAIR_LOAD,
    STANDARDS,
    TARGET,
    N,
)
from subgraph.notation.numbers import Numbers, cut, kilograms, numbers_in
from subgraph.quantities import M_PER_FT

LOWEST_TARGET_CM, HIGHEST_TARGET_CM = 200, 400  # of a target for balls


def take_loads(n: Numbers) -> None:
    """Loads and heights that carry a unit or a mark."""
    if found := STANDARDS.search(n.rest):
        values = [float(found["a"] or found["a2"]), float(found["b"] or found["b2"])]
        unit = next((u for u in (found["u1"], found["u2"], found["u3"], found["u4"]) if u), None)
        n.rest = cut(n.rest, found)
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
        n.rest = cut(n.rest, found)
    if not n.height and re.search(r"\bball|\bwbs?\b", n.rest, re.I):
        _take_target(n)
    if not n.load and (found := HALVES.search(n.rest)):
        n.bare, n.pair = [float(found["n"] or found["m"])], True
        n.rest = cut(n.rest, found)
    if not n.load and (found := PAIR_LOAD.search(n.rest) or PAIR_AFTER.search(n.rest)):
        n.bare, n.pair = list(dict.fromkeys(numbers_in(found["n"]))), True
        n.rest = cut(n.rest, found)
    if not n.load and not n.bare and (found := PAIR_LAST.search(n.rest)):
        n.bare, n.pair = numbers_in(found["n"]), True
        n.rest = f"{n.rest[: found.start('pair')]} ; {n.rest[found.end() :]}"
    if not n.load and not n.bare and (found := MARKED_LOAD.search(n.rest)):
        n.bare = numbers_in(found["n"])
        n.pair = n.pair or bool(found["pair"])
        n.rest = cut(n.rest, found)


def _take_target(n: Numbers) -> None:
    """The height that a ball is thrown to, behind its load: "9 kg to 3 m", "20/14 @ 10/9"."""
    paired = re.search(r"\d\s*/\s*\d", n.rest)  # "9/6 to 3 m": the pair is the load
    if n.load or paired:
        for found in HIGH_TARGET.finditer(n.rest):
            if not n.load and not re.match(r"[\s,;(]*(?:to|@)", found.group(), re.I):
                continue
            cm = [v * (100 if found["unit"][0] in "mM" else M_PER_FT * 100) for v in numbers_in(found["n"])]
            if all(LOWEST_TARGET_CM <= v <= HIGHEST_TARGET_CM for v in cm):
                n.height = [round(v, 1) for v in cm]
                n.rest = cut(n.rest, found)
                return
    if not n.load and (bare := BARE_TARGET.search(n.rest)):
        n.height = [round(v * M_PER_FT * 100, 1) for v in numbers_in(bare["n"])]
        n.rest = cut(n.rest, bare)


def _keep_standards(n: Numbers, values: list[float], unit: str | None) -> None:
    if unit and unit.lower() in ("in", "cm", '"'):
        n.height = [v if unit.lower() == "cm" else round(v * CM_PER_IN, 1) for v in values]
    elif unit:
        n.load, n.load_unit = [kilograms(v, unit) for v in values], unit.lower()
    else:
        n.bare = values
