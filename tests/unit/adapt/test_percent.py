"""Words for the load of a changed lift."""

from __future__ import annotations

from subgraph.adapt.candidates import Candidate, Place
from subgraph.adapt.percent import load_words
from subgraph.library.knowledge import Library
from subgraph.models.lifts import lift_ratio
from subgraph.notation.board import Block, Item
from subgraph.workout.laid_out import lay_out


def words(library: Library, old: str, new: str, *percent: float, format_: str = "strength") -> list[str]:
    item = Item(
        line=1,
        as_written=old,
        movement=old,
        name=old,
        amount=(5.0,),
        amount_is="each",
        unit="rep",
        sets=5,
        percent=percent,
    )
    piece = lay_out(library, Block(format=format_, items=(item,)))  # type: ignore[arg-type]
    place = Place(library.movements[old], "rep", (), ())
    return list(load_words(piece, place, Candidate(library.movements[new], "rep")))


def test_without_a_load_the_chart_says_how_many_reps_to_leave(library: Library) -> None:
    (said,) = words(library, "back-squat", "air-squat", 75.0)
    assert "stop with about 5 left" in said  # ten reps at 75 % by the chart, five written


def test_a_percentage_is_of_the_new_lift_s_own_best(library: Library) -> None:
    (said,) = words(library, "back-squat", "front-squat", 75.0)
    assert "own best" in said
    assert f"{lift_ratio('back-squat', 'front-squat').ratio:.2g}" in said


def test_a_heavy_lift_without_percent_is_not_replaced_by_more_reps(library: Library) -> None:
    (said,) = words(library, "deadlift", "hip-bridge")
    assert "not more reps" in said


def test_nothing_is_said_of_a_lift_that_stays_or_of_conditioning(library: Library) -> None:
    assert words(library, "back-squat", "back-squat", 75.0) == []
    assert words(library, "thruster", "air-squat", format_="for-time") == []
