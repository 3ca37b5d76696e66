"""Tempo, effort, percentages and rest of an item: never its amount."""

from __future__ import annotations

import re

from subgraph.notation.number_forms import (
    BODYWEIGHT,
    BUILD,
    BUILD_BARE,
    HEAVY_N,
    IN_WORDS,
    PACE,
    PAUSE,
    PERCENT,
    RESERVE,
    REST,
    RM,
    RPE,
    TEMPO,
    WAVES,
    WITHIN,
    ZONE,
)
from subgraph.notation.numbers import Numbers, cut, seconds

HARDEST = 10.0  # RPE of a set with no rep in reserve; one less for each (Zourdos 2016, table 1, from memory)


def take_manner(n: Numbers) -> None:
    """Tempo, effort, percentages and rest: never an amount."""
    for kept in list(RESERVE.finditer(n.rest)):
        left = re.search(r"\d", kept.group())
        n.rpe = n.rpe or (HARDEST - float(left.group()) if left else None)
        n.rest = n.rest.replace(kept.group(), " ; ", 1)
    if found := TEMPO.search(n.rest):
        n.tempo = re.sub(r"[-/. ]", "", next(g for g in found.groups() if g)).upper()
        n.rest = cut(n.rest, found)
    if found := WAVES.search(n.rest):
        pairs = re.findall(r"(\d+)\+?\s*[@x]\s*(\d+)\s*%?", found["n"], re.I)
        reps = [float(r) for r, _ in pairs]
        n.percent = [float(p) for _, p in pairs]
        n.sets, n.unit = len(pairs), "rep"
        n.amount, n.amount_is = (reps[:1], "each") if len(set(reps)) == 1 else (reps, "list")
        n.rest = cut(n.rest, found)
    if found := RPE.search(n.rest):
        n.rpe = float(found["a"] or found["b"] or found["c"])
        n.rest = cut(n.rest, found)
    if found := BODYWEIGHT.search(n.rest):
        n.rest = cut(n.rest, found)
    if not n.percent and (found := PERCENT.search(n.rest)):
        n.percent = [float(v) for v in re.findall(r"\d+(?:\.\d)?", found["n"])]
        n.rest = cut(n.rest, found)
    if found := REST.search(n.rest):
        n.rest_s = seconds(re.sub(r"\s*-\s*\d+(?:\.\d+)?", "", found["a"]))
        n.rest = cut(n.rest, found)
    if found := ZONE.search(n.rest):
        n.rest = cut(n.rest, found)
    if found := PACE.search(n.rest):
        n.rest = cut(n.rest, found)
    if found := PAUSE.search(n.rest):
        n.rest = cut(n.rest, found)
    for pattern in (BUILD, HEAVY_N, RM):
        if found := pattern.search(n.rest):
            word = found.groupdict().get("w")
            n.amount = [float(IN_WORDS[word.lower()] if word else found["n"])]
            n.amount_is, n.unit, n.effort = "each", "rep", "heavy"
            n.rest = cut(n.rest, found)
            again = RM.search(n.rest)
            n.rest = cut(n.rest, again) if again else n.rest
            _take_within(n, found.groupdict().get("d"))
            break

    else:
        if found := BUILD_BARE.search(n.rest):
            n.effort = "heavy"
            n.rest = cut(n.rest, found)
            _take_within(n, found["d"] or found["e"])


def _take_within(n: Numbers, before: str | None) -> None:
    """How long there is to build up: "20 min to build", "in 20 min", "(20 min)"."""
    if before:
        n.within_s = seconds(before)
    elif within := WITHIN.search(n.rest):
        n.within_s = seconds(within["d"] or within["e"])
        n.rest = cut(n.rest, within)
