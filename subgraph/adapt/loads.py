"""Loads over a piece: one bar or one pair of bells for all that is done with it, where the loads are near."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from subgraph.adapt.candidates import NEAR, OVER, Candidate, Place, key_of
from subgraph.adapt.rebuild import Key
from subgraph.today import Filter
from subgraph.workout.laid_out import Piece


def load_of(pick: Candidate) -> float | None:
    """Load that a candidate is done with: as converted, else the usual one [kg]; None for one without a load."""
    if pick.movement.load is None:
        return None
    return pick.load_kg or pick.movement.load.kg[0]


def one_load(
    filter_: Filter, written: Piece, places: Mapping[Key, Place], picks: Mapping[Key, Candidate | None]
) -> dict[Key, Candidate | None]:
    """One load for all that is done with the same implement.

    Parameters
    ----------
    filter_ : Filter
        Library and situation: what is on hand.
    written : Piece
        As on the board.
    places, picks : mapping
        Each different movement, and what is done there.

    Returns
    -------
    dict
        The picks. What stays on the board sets the load where that is near; else it is the lightest of what changed.
        Where there is only a pair on hand, the lightest is taken however far. Lifts in percent keep their own.
    """
    own = {key_of(w) for w in written.all_works if w.item.percent}
    changed: dict[str, dict[Key, float]] = {}
    staying: dict[str, list[float]] = {}
    for key, pick in picks.items():
        load = load_of(pick) if pick else None
        if pick is None or pick.movement.load is None or load is None or key in own:
            continue
        implement = pick.rack.implement if pick.rack else pick.movement.load.implement
        if places[key].removals and pick.option:
            changed.setdefault(implement, {})[key] = load
        elif pick.load_kg:
            staying.setdefault(implement, []).append(load)
    result = dict(picks)
    stock = filter_.today.only or {}
    for implement, wanted in changed.items():
        beside = staying.get(implement, [])
        pair_only = 0 < stock.get(implement, 0) <= 2
        low, high = min(wanted.values()), max(wanted.values())
        there = [kg for kg in beside if NEAR * high <= kg <= OVER * low]
        if there:
            load = max(there)
        elif low < high and (low >= NEAR * high or pair_only):
            load = min([low, *beside]) if pair_only else low
        elif pair_only and beside:
            load = min([low, *beside])
        else:
            continue
        for key in wanted:
            pick = picks[key]
            if pick is not None:
                result[key] = msgspec.structs.replace(pick, load_kg=load)
        if len(light := {key: _second(written, key, result[key]) for key in wanted}) > 1 and all(light.values()):
            lightest = min(kg for kg in light.values() if kg)
            for key in wanted:
                if (pick := result[key]) is not None:
                    result[key] = msgspec.structs.replace(pick, light_kg=lightest)
    return result


def _second(written: Piece, key: Key, pick: Candidate | None) -> float | None:
    """Load of the second standard that goes with the first of a pick [kg]; None where there is none."""
    if pick is None or pick.movement.load is None or pick.rack is None:
        return None
    told = next((w.item.load_kg for w in written.all_works if key_of(w) == key), ()) or pick.movement.load.kg
    first = load_of(pick)
    return pick.rack.nearest(first * told[1] / told[0]) if first and len(told) > 1 else None


def one_pair(filter_: Filter, picks: Iterable[Candidate]) -> dict[str, tuple[float, ...]]:
    """Sizes of what there is but one or a pair of, where the pieces of a board would need several: the lightest.

    Parameters
    ----------
    filter_ : Filter
        Library and situation: what is on hand.
    picks : iterable of Candidate
        What is done instead in all pieces.

    Returns
    -------
    dict
        Implement to its one size [kg]; empty where the pieces agree, or the sizes were told.
    """
    wanted: dict[str, set[float]] = {}
    for pick in picks:
        if pick.rack is None or pick.rack.told or pick.load_kg is None:
            continue
        if 0 < (filter_.today.only or {}).get(pick.rack.implement, 0) <= 2 and pick.rack.sizes_kg:
            wanted.setdefault(pick.rack.implement, set()).add(pick.load_kg)
    return {implement: (min(loads),) for implement, loads in wanted.items() if len(loads) > 1}
