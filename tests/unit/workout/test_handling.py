"""Complexes: whether one lift goes on where the one before it ended."""

from __future__ import annotations

import pytest

from subgraph.adapt import adapt
from subgraph.library.compile import Compiled
from subgraph.notation.read import read_board
from subgraph.notation.situation import read_situation
from subgraph.workout.handling import breaks_of, goes_on, way_of


@pytest.mark.parametrize(
    ("before", "after", "flows"),
    [
        ("power-clean", "front-squat", True),
        ("front-squat", "push-jerk", True),
        ("push-jerk", "hang-power-clean", True),
        ("deadlift", "front-squat", False),
        ("deadlift", "hang-power-clean", True),
        ("front-squat", "back-squat", False),
        ("push-jerk", "back-squat", True),
        ("back-squat", "front-squat", False),
        ("romanian-deadlift", "overhead-squat", False),
        ("burpee", "front-squat", True),  # no record tells
    ],
)
def test_a_load_is_lowered_between_lifts_but_not_raised(
    compiled: Compiled, before: str, after: str, flows: bool
) -> None:
    movements = compiled.library.movements
    assert goes_on(compiled.library, movements[before], movements[after]) is flows


def test_no_lift_has_two_ways(compiled: Compiled) -> None:
    named = [id_ for path in compiled.library.load_paths.values() for ids in path.ends.values() for id_ in ids]
    assert len(named) == len(set(named))
    assert all(way_of(compiled.library, compiled.library.movements[id_]) for id_ in named)
    assert all(compiled.library.movements[id_].load for id_ in named)


def test_a_changed_complex_that_is_broken_says_so(compiled: Compiled) -> None:
    reading = read_board("EMOM 10\n3 power cleans + 2 front squats + 1 push jerk @ 60 kg", compiled)
    told = read_situation(compiled, complaints=["shoulder:overhead"])
    (piece,) = adapt(compiled.library, reading, told.today).pieces
    parts = [
        compiled.library.movements[p.movement]
        for item in piece.items.values()
        if item
        for p in item.parts
        if p.movement
    ]
    assert breaks_of(compiled.library, parts)
    assert any("one flow" in said for said in piece.fit.said)
    (other,) = adapt(compiled.library, reading, read_situation(compiled, only=["dumbbell"]).today).pieces
    assert not any("one flow" in said for said in other.fit.said)
