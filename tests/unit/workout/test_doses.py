"""Strains summed over a piece."""

from __future__ import annotations

import pytest

from subgraph.library.knowledge import Library
from subgraph.notation.board import Block, Item
from subgraph.workout.doses import kept_under, totals
from subgraph.workout.laid_out import lay_out


def piece(library: Library, movement: str, amount: float, rounds: int, *, unit: str = "rep", per_side: bool = False):  # type: ignore[no-untyped-def]
    one = Item(
        line=1,
        as_written=movement,
        movement=movement,
        name=movement,
        amount=(amount,),
        amount_is="each",
        unit=unit,  # type: ignore[arg-type]
        per_side=per_side,
    )
    return lay_out(library, Block(format="for-time", rounds=rounds, items=(one,)))


def found(library: Library, *pieces: object, level: str = "novice") -> dict[str, float]:
    return {t.dose.id: t.amount for t in totals(library, pieces, level)}  # type: ignore[arg-type]


def test_reps_are_summed_over_rounds_and_pieces(library: Library) -> None:
    kips = piece(library, "kipping-pull-up", 10, 5)
    assert found(library, kips)["swinging-pulls"] == 50
    assert found(library, kips, kips)["swinging-pulls"] == 100


def test_both_sides_count(library: Library) -> None:
    assert found(library, piece(library, "dumbbell-snatch", 10, 1, per_side=True))["overhead-reps"] == 20


def test_seconds_follow_from_the_pace(library: Library) -> None:
    pace = library.movements["kipping-pull-up"].pace("rep", "novice")
    assert pace is not None
    assert found(library, piece(library, "kipping-pull-up", 10, 1))["hanging-time"] == pytest.approx(10 * pace)


def test_swinging_pulls_are_flagged_for_newcomers_only_from_the_stated_number(library: Library) -> None:
    most = library.doses["swinging-pulls"].most["novice"]
    assert most == 25  # half of the smallest published dose that did harm: 50 reps (suzuki2017)
    for reps, level, beyond in ((25, "novice", False), (26, "novice", True), (60, "regular", False)):
        (total,) = [
            t
            for t in totals(library, [piece(library, "kipping-pull-up", reps, 1)], level)  # type: ignore[arg-type]
            if t.dose.id == "swinging-pulls"
        ]
        assert total.beyond is beyond


def test_every_threshold_says_where_it_comes_from(library: Library) -> None:
    for dose in library.doses.values():
        assert dose.source in library.sources
        assert dose.basis
        assert not dose.most or dose.says, f"{dose.id} has a threshold and nothing to say"


def test_a_strain_that_does_not_occur_is_left_out(library: Library) -> None:
    assert "swinging-pulls" not in found(library, piece(library, "air-squat", 30, 1))


def test_what_to_keep_to_stays_under_the_threshold(library: Library) -> None:
    pieces = [piece(library, "push-up", 20, 5), piece(library, "burpee", 10, 5)]
    (total,) = [t for t in totals(library, pieces, "novice") if t.dose.id == "push-ups"]
    kept = kept_under(pieces, total)
    assert {k.work.movement.id for k in kept} == {"push-up", "burpee"}
    assert 5 * sum(k.keep for k in kept) <= (total.most or 0)
    assert all(kept_under(pieces, t) == () for t in totals(library, pieces, "regular") if t.dose.id == "push-ups")
