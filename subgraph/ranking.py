"""Which survivors come nearest: candidates by stimulus."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Iterator

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import Intent, Movement, equipment_in
from subgraph.stimulus import Stimulus
from subgraph.today import Ask, Filter, Removal, Today


class Candidate(Struct, frozen=True):
    """A movement that survives today, with its closeness and the distances behind it."""

    id: str
    score: float
    distances: tuple[float, ...]


def intent_of(movement: Movement, ask: Ask, today: Today) -> Intent:
    """What a piece is for: as told; strength where it stands in sets; else conditioning; else the movement's first use.

    What a movement is not used for is passed over.
    """
    if today.intent:
        return today.intent
    if ask.in_sets and "strength" in movement.suits:
        return "strength"
    return "conditioning" if "conditioning" in movement.suits else movement.suits[0]


def obstacles(library: Library, movement: Movement, today: Today, removals: list[Removal]) -> frozenset[str]:
    """Equipment and demands that stand in the way: what a link may speak of."""
    demands = {r.demand for r in removals if r.demand}
    equipment = set(today.without)
    for id_ in list(equipment):
        equipment.update(library.equipment[id_].holds)
    if any(r.kind == "equipment" for r in removals):
        equipment.update(item for need in movement.uses for item in equipment_in(need))
    return frozenset(demands | equipment)


def stimulus_of(library: Library, ask: Ask, filter_: Filter) -> Stimulus:
    """Distances from the asked movement, knowing what stands in its way today."""
    asked = library.movements[ask.movement]
    blocked = filter_.removals(asked)
    today = filter_.today
    return Stimulus(
        library,
        asked,
        intent_of(asked, ask, today),
        obstacles(library, asked, today, blocked),
        frozenset(today.only or ()),
        unable=any(r.kind == "ability" for r in blocked),
        staying=frozenset(library.columns.ids[p] for p in filter_.survivors()),
    )


def untold(filter_: Filter, asked: Movement) -> frozenset[str]:
    """Equipment that a member would bring along, and that nobody told of."""
    own = {e.id for e in filter_.library.equipment.values() if e.personal}
    own.difference_update(filter_.today.only or (), (item for need in asked.uses for item in equipment_in(need)))
    own.difference_update(*(filter_.library.limits[limit].brings for limit in filter_.limits))
    return frozenset(own)


def lacking(uses: Iterable[str | tuple[str, ...]], own: frozenset[str]) -> str:
    """The item of `own` that there is no way around; empty where there is one."""
    for need in uses:
        missing = [own.intersection(equipment_in(choice)) for choice in ((need,) if isinstance(need, str) else need)]
        if all(missing):
            return min(missing[0])
    return ""


def rank(filter_: Filter, stimulus: Stimulus) -> Iterator[Candidate]:
    """Movements that survive today, nearest in stimulus first; none that needs a member's own equipment untold.

    Best first: a movement is measured in full only when its lower bound comes up, so that the first few cost a small
    part of the whole.

    Parameters
    ----------
    filter_ : Filter
        Today's filter.
    stimulus : Stimulus
        Distances from the asked movement; it is itself left out.

    Yields
    ------
    Candidate
        In order of score, ties by id.
    """
    columns, ids = stimulus.library.columns, stimulus.library.columns.ids
    own = untold(filter_, stimulus.asked)
    apart = [
        not own.isdisjoint(items) and bool(lacking(uses, own))
        for uses, items in zip(columns.uses_table, columns.uses_items, strict=True)
    ]
    staying = [p for p in filter_.survivors() if ids[p] != stimulus.asked.id and not apart[columns.uses[p]]]
    # A bound goes before a measured one of the same closeness: its movement may have the smaller id.
    heap: list[tuple[float, bool, str, int, Candidate | None]] = [
        (-math.exp(-cost), False, "", position, None)
        for cost, position in zip(stimulus.least_costs(staying), staying, strict=True)
    ]
    heapq.heapify(heap)
    while heap:
        _, _, _, position, measured = heapq.heappop(heap)
        if measured is not None:
            yield measured
            continue
        distances = stimulus.distances(position)
        candidate = Candidate(ids[position], stimulus.score(distances), distances)
        heapq.heappush(heap, (-candidate.score, True, candidate.id, position, candidate))
