"""The joint choice against every combination, and what it is for."""

from __future__ import annotations

import itertools

import pytest

from subgraph.adapt.candidates import Candidate, key_of, places_of
from subgraph.adapt.joint import (
    Weighed,
    choose,
    grown_alike,
    kit_of,
    kit_there,
    pattern_lost,
    second_dose,
    threshold_passed,
    to_fetch,
    unloaded,
)
from subgraph.library.compile import Compiled
from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.notation.board import Block, Item
from subgraph.notation.situation import read_situation
from subgraph.today import Filter
from subgraph.workout.doses import doses_of
from subgraph.workout.laid_out import Piece, Work, lay_out
from subgraph.workout.timing import time_piece

SITUATIONS: list[dict[str, object]] = [
    {"without": ["rig", "barbell"]},
    {"complaints": ["shoulder:overhead"], "without": ["rig"]},
    {"only": ["dumbbell", "box"]},
    {"limits": ["no-jumping"], "level": "novice"},
]
BOARDS = [("thruster", "kipping-pull-up", "box-jump"), ("power-snatch", "toes-to-bar", "push-press")]


def piece_of(library: Library, movements: tuple[str, ...]) -> Piece:
    items = tuple(
        Item(line=k, as_written=m, movement=m, name=m, amount=(15.0,), amount_is="each", unit="rep")
        for k, m in enumerate(movements, 2)
    )
    return lay_out(library, Block(format="for-time", rounds=3, items=items))


def weighed(filter_: Filter, piece: Piece) -> list[Weighed]:
    places = places_of(filter_, piece)
    shares = {key_of(s.work): s for s in time_piece(filter_.library, piece).shares}
    return [Weighed(p, shares[k].work, 45.0, shares[k].share) for k, p in places.items()]


def cost(filter_: Filter, places: list[Weighed], picks: tuple[int, ...], level: str) -> float:
    """The sum of concerns, worked out without the beam."""
    library = filter_.library
    weights = {k: c.weight for k, c in library.concerns.items()}
    before: dict[str, float] = {}
    after: dict[str, float] = {}
    total = 0.0
    kit: set[tuple[str, float | None]] = set()
    for w in places:
        if not w.place.removals:
            kit |= kit_of(filter_, w.place.candidates[0])
    seen: list[tuple[Movement, Movement, float]] = []
    for w, k in zip(places, picks, strict=True):
        c = w.place.candidates[k]
        for d, a in doses_of(library, w.work, w.amount, level).items():  # type: ignore[arg-type]
            before[d] = before.get(d, 0) + a
        new = Work(item=w.work.item, movement=c.movement, unit=c.unit, amounts=())
        for d, a in doses_of(library, new, w.amount * c.ratio, level).items():  # type: ignore[arg-type]
            after[d] = after.get(d, 0) + a
        total += weights["stimulus"] * w.share * c.lost
        if w.place.removals:
            total += weights["pattern"] * w.share * pattern_lost(library, w.place.movement, c.movement)
            total += weights["short"] * w.share * c.short
            total += weights["unloaded"] * w.share * unloaded(w.place.movement, c.movement)
        asked = w.place.movement
        total += weights["same-twice"] * any(n is c.movement and o is not asked for o, n, _ in seen)
        for o, n, share in seen:
            grown = grown_alike(library, (o, asked), (n, c.movement))
            total += weights["alike"] * min(share, w.share) * grown
        seen.append((asked, c.movement, w.share))
        need = kit_of(filter_, c)
        beside = kit_there(filter_, w) if w.place.removals else frozenset()
        total += weights["kit"] * to_fetch(need, frozenset(kit) | beside)
        kit |= need
    total += weights["second-dose"] * second_dose(library, before, after)
    return total + weights["threshold"] * threshold_passed(library, after, level)  # type: ignore[arg-type]


@pytest.mark.parametrize("situation", SITUATIONS, ids=str)
@pytest.mark.parametrize("movements", BOARDS, ids="-".join)
def test_no_combination_is_cheaper(
    compiled: Compiled, movements: tuple[str, ...], situation: dict[str, object]
) -> None:
    filter_ = Filter(compiled.library, read_situation(compiled, **situation).today)  # type: ignore[arg-type]
    level = filter_.today.level or "regular"
    places = weighed(filter_, piece_of(compiled.library, movements))
    if not all(w.place.candidates for w in places):
        pytest.skip("nothing suitable for one of them")
    chosen = choose(filter_, places, level)
    every = itertools.product(*(range(len(w.place.candidates)) for w in places))
    best = min(cost(filter_, places, picks, level) for picks in every)
    assert cost(filter_, places, tuple(p or 0 for p in chosen.picks), level) == pytest.approx(best)


def test_the_same_ask_gives_the_same_choice(compiled: Compiled) -> None:
    filter_ = Filter(compiled.library, read_situation(compiled, without=["rig", "barbell"]).today)
    piece = piece_of(compiled.library, BOARDS[0])
    assert choose(filter_, weighed(filter_, piece), "regular") == choose(filter_, weighed(filter_, piece), "regular")


def test_the_same_things_with_another_load_are_other_things(compiled: Compiled) -> None:
    filter_ = Filter(compiled.library, read_situation(compiled).today)
    press = compiled.library.movements["dumbbell-push-press"]
    light, near, heavy = (kit_of(filter_, Candidate(press, "rep", load_kg=kg)) for kg in (15.0, 17.5, 32.5))
    assert to_fetch(light, light) == to_fetch(near, light) == 0
    assert to_fetch(heavy, light) == 1
    assert not kit_of(filter_, Candidate(compiled.library.movements["air-squat"], "rep"))


def test_a_strain_that_the_board_has_is_no_second_dose(library: Library) -> None:
    full = library.doses["overhead-reps"].full
    assert second_dose(library, {"overhead-reps": full}, {"overhead-reps": full}) == 0
    assert second_dose(library, {}, {"overhead-reps": full / 2}) == 0
    assert second_dose(library, {}, {"overhead-reps": 1.5 * full}) == pytest.approx(1)


def test_pulling_given_up_counts(library: Library) -> None:
    pull = library.movements["kipping-pull-up"]
    assert pattern_lost(library, pull, pull) == pytest.approx(0)
    assert pattern_lost(library, pull, library.movements["push-up"]) > pattern_lost(
        library, pull, library.movements["ring-row"]
    )


def test_engine_for_engine_is_judged_by_its_breathing(library: Library) -> None:
    run, row, walk = (library.movements[m] for m in ("run", "row", "brisk-walk"))
    assert pattern_lost(library, run, walk) > pattern_lost(library, run, row)


def test_something_to_lift_is_missed_only_where_there_was_something(library: Library) -> None:
    heavy, light, none = (library.movements[m] for m in ("deadlift", "hip-thrust", "hip-bridge"))
    assert unloaded(heavy, none) == 1
    assert unloaded(heavy, light) == unloaded(none, none) == unloaded(none, heavy) == 0


def test_two_kinds_of_squat_for_a_pull_and_a_squat_count(library: Library) -> None:
    pull, squat, box, goblet = (
        library.movements[m] for m in ("strict-pull-up", "air-squat", "box-squat", "goblet-squat")
    )
    assert grown_alike(library, (pull, squat), (goblet, box)) > 0
    assert grown_alike(library, (squat, goblet), (box, goblet)) == 0  # the board has two squats itself
    assert grown_alike(library, (pull, squat), (pull, squat)) == 0
