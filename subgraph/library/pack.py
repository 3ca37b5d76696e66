"""From records to the stored form of a library: encoded sections, and columns for the answer path."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import msgspec

from subgraph.library.alarms import build_alarms
from subgraph.library.knowledge import Columns, Ladder, Neighbours, Pack, Setting
from subgraph.library.records import Link, Movement, Ratio, Term


def kinship(terms: Mapping[str, Term], one: str, other: str) -> float:
    """How much of a match two terms are: 1 for the same, the declared kinship either way, else 0."""
    if one == other:
        return 1.0
    here, there = terms.get(one), terms.get(other)
    return max(here.kin.get(other, 0.0) if here else 0.0, there.kin.get(one, 0.0) if there else 0.0)


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
        list(movements.values()), list(sections["demands"]), sections["patterns"], rules, sections["family"], degree
    )
    raw["columns"] = msgspec.Raw(encode(columns))
    raw["neighbours"] = msgspec.Raw(encode(Neighbours([(link.from_, link.to) for link in links])))
    alarms = build_alarms(
        sections["red_flags"].values(), sections["complaints"].values(), sections["words"]["misspelt"].words
    )
    raw["alarms"] = msgspec.Raw(encode(alarms))
    raw["ladder"] = msgspec.Raw(encode(_ladder(movements, links)))
    return Pack(
        version,
        raw,
        {id_: msgspec.Raw(encode(m)) for id_, m in movements.items()},
        [msgspec.Raw(encode(link)) for link in links],
        _ends((link.from_, link.to) for link in links),
        [msgspec.Raw(encode(ratio)) for ratio in ratios],
        _ends((ratio.from_, ratio.to) for ratio in ratios),
    )


def _ends(edges: Iterable[tuple[str, str]]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for position, edge in enumerate(edges):
        for end in dict.fromkeys(edge):
            found.setdefault(end, []).append(position)
    return found


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
) -> Columns:
    uses: dict[Any, int] = {}
    settings: dict[Setting, int] = {}
    use_of = [uses.setdefault(m.uses, len(uses)) for m in movements]
    setting_of = [
        settings.setdefault(Setting(m.stance, m.area, m.height, m.noise, m.hands, m.traits), len(settings))
        for m in movements
    ]
    return Columns(
        ids=[m.id for m in movements],
        skill=bytes(m.skill for m in movements),
        strength=bytes(m.strength for m in movements),
        demands=b"".join(bytes(m.demands.get(d, 0) for d in demand_order) for m in movements),
        demand_order=demand_order,
        uses=use_of,
        uses_table=list(uses),
        setting=setting_of,
        setting_table=list(settings),
        pattern=[list(m.pattern.items()) for m in movements],
        muscles=[list(m.muscles.items()) for m in movements],
        pattern_norm=[
            math.sqrt(sum(a * b * kinship(patterns, p, q) for p, a in m.pattern.items() for q, b in m.pattern.items()))
            for m in movements
        ],
        muscle_norm=[math.sqrt(sum(w * w for w in m.muscles.values())) for m in movements],
        character=[m.character for m in movements],
        unit=[m.unit for m in movements],
        met=[m.met.value for m in movements],
        pace=[m.pace(m.unit) for m in movements],
        suits=[m.suits for m in movements],
        loaded=bytes(m.load is not None for m in movements),
        rules=[rules.get(m.id, 0) for m in movements],
        family=[family[m.id] for m in movements],
        links=[degree.get(m.id, 0) for m in movements],
    )
