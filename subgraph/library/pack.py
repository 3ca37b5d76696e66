"""From records to the stored form of a library: encoded sections, and columns for the answer path."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypeVar

import msgspec

from subgraph.library.alarms import build_alarms
from subgraph.library.knowledge import Columns, Ladder, Pack, Setting
from subgraph.library.records import Link, Movement, Ratio, Term, equipment_in

T = TypeVar("T")


def kinship(terms: Mapping[str, Term], one: str, other: str) -> float:
    """How much of a match two terms are: 1 for the same, the declared kinship either way, else 0."""
    if one == other:
        return 1.0
    here, there = terms.get(one), terms.get(other)
    return max(here.kin.get(other, 0.0) if here else 0.0, there.kin.get(one, 0.0) if there else 0.0)


def scarcity(uses: Iterable[str | tuple[str, ...]], scarce: Mapping[str, int]) -> float:
    """How hard to come by the kit is, the easiest choice of each need: 0 to 1."""
    worst = 0
    for need in uses:
        choices = (need,) if isinstance(need, str) else need
        worst = max(worst, min(max(scarce.get(item, 0) for item in equipment_in(choice)) for choice in choices))
    return worst / 3


def pack(
    version: str,
    movements: Mapping[str, Movement],
    links: Sequence[Link],
    ratios: Sequence[Ratio],
    sections: Mapping[str, Any],
) -> Pack:
    """Encode a library.

    Parameters
    ----------
    version : str
        Short digest of the content.
    movements : mapping
        Records by id.
    links, ratios : sequence
        In file order.
    sections : mapping
        All other sections by name.

    Returns
    -------
    Pack
        Ready to be stored, or to be read by `Library`.
    """
    encode = msgspec.msgpack.encode
    raw = {name: msgspec.Raw(encode(value)) for name, value in sections.items()}
    rules = Counter(end for ratio in ratios if ratio.basis == "practice" for end in (ratio.from_, ratio.to))
    degree = Counter(end for link in links for end in (link.from_, link.to))
    columns = _columns(
        list(movements.values()),
        list(sections["demands"]),
        sections["patterns"],
        rules,
        sections["family"],
        degree,
        {e.id: e.scarce for e in sections["equipment"].values() if e.scarce},
    )
    raw["columns"] = msgspec.Raw(encode(columns))
    raw["neighbours"] = msgspec.Raw(encode({id_: msgspec.Raw(encode(ends)) for id_, ends in _beside(links).items()}))
    alarms = build_alarms(
        sections["red_flags"].values(), sections["complaints"].values(), sections["words"]["misspelt"].words
    )
    raw["alarms"] = msgspec.Raw(encode(alarms))
    raw["ladder"] = msgspec.Raw(encode(_ladder(movements, links)))
    return Pack(
        version,
        raw,
        {id_: msgspec.Raw(encode(m)) for id_, m in movements.items()},
        msgspec.Raw(encode(links)),
        _ends((link.from_, link.to) for link in links),
        msgspec.Raw(encode(ratios)),
        _ends((ratio.from_, ratio.to) for ratio in ratios),
    )


def _ends(edges: Iterable[tuple[str, str]]) -> dict[str, msgspec.Raw]:
    found: dict[str, list[int]] = {}
    for position, edge in enumerate(edges):
        for end in dict.fromkeys(edge):
            found.setdefault(end, []).append(position)
    return {end: msgspec.Raw(msgspec.msgpack.encode(positions)) for end, positions in found.items()}


def _beside(links: Sequence[Link]) -> dict[str, list[str]]:
    found: dict[str, dict[str, None]] = {}
    for link in links:
        found.setdefault(link.from_, {})[link.to] = None
        found.setdefault(link.to, {})[link.from_] = None
    return {id_: list(ends) for id_, ends in found.items()}


def _distinct(values: Iterable[T]) -> tuple[list[T], list[int]]:
    """Distinct values in order of appearance, and the row of each item among them."""
    rows: dict[T, int] = {}
    of = [rows.setdefault(value, len(rows)) for value in values]
    return list(rows), of


def _ladder(movements: Mapping[str, Movement], links: Sequence[Link]) -> Ladder:
    harder: dict[str, list[str]] = {}
    for link in links:
        if link.kind == "harder":
            harder.setdefault(link.from_, []).append(link.to)
        elif link.kind == "easier":
            harder.setdefault(link.to, []).append(link.from_)
    dependants: dict[str, list[str]] = {}
    for movement in movements.values():
        for need in movement.needs:
            dependants.setdefault(need, []).append(movement.id)
    return Ladder(harder, dependants)


def _columns(
    movements: list[Movement],
    demand_order: list[str],
    patterns: Mapping[str, Term],
    rules: Mapping[str, int],
    family: Mapping[str, str],
    degree: Mapping[str, int],
    scarce: Mapping[str, int],
) -> Columns:
    uses, use_of = _distinct(m.uses for m in movements)
    settings, setting_of = _distinct(Setting(m.stance, m.area, m.height, m.noise, m.hands, m.traits) for m in movements)
    patterns_, pattern_of = _distinct(tuple(m.pattern.items()) for m in movements)
    muscles, muscles_of = _distinct(tuple(m.muscles.items()) for m in movements)
    characters, character_of = _distinct(m.character for m in movements)
    units, unit_of = _distinct(m.unit for m in movements)
    suits, suits_of = _distinct(m.suits for m in movements)
    families, family_of = _distinct(family[m.id] for m in movements)
    return Columns(
        ids=[m.id for m in movements],
        skill=bytes(m.skill for m in movements),
        strength=bytes(m.strength for m in movements),
        demands=b"".join(bytes(m.demands.get(d, 0) for d in demand_order) for m in movements),
        demand_order=demand_order,
        uses=use_of,
        uses_table=uses,
        uses_items=[list(dict.fromkeys(item for need in row for item in equipment_in(need))) for row in uses],
        scarcity=[scarcity(row, scarce) for row in uses],
        setting=setting_of,
        setting_table=settings,
        pattern=pattern_of,
        pattern_table=[list(shares) for shares in patterns_],
        pattern_norm=[
            math.sqrt(sum(a * b * kinship(patterns, p, q) for p, a in shares for q, b in shares))
            for shares in patterns_
        ],
        muscles=muscles_of,
        muscle_table=[msgspec.Raw(msgspec.msgpack.encode(weights)) for weights in muscles],
        muscle_norm=[math.sqrt(sum(w * w for _, w in weights)) for weights in muscles],
        character=character_of,
        character_table=characters,
        unit=unit_of,
        unit_table=units,
        suits=suits_of,
        suits_table=suits,
        family=family_of,
        family_table=families,
        met=[m.met.value for m in movements],
        pace=[m.pace(m.unit) for m in movements],
        loaded=bytes(m.load is not None for m in movements),
        rules=[rules.get(m.id, 0) for m in movements],
        links=[degree.get(m.id, 0) for m in movements],
        load_kg=[m.load.kg[0] if m.load else 0.0 for m in movements],
    )
