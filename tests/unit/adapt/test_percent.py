"""Words for the load of a changed lift."""

from __future__ import annotations

from subgraph.adapt.candidates import Candidate, Place
from subgraph.adapt.percent import load_words, share_words
from subgraph.library.knowledge import Library
from subgraph.models.lifts import lift_ratio
from subgraph.notation.board import Block, Item
from subgraph.workout.laid_out import lay_out


def lift(movement: str, *percent: float) -> Item:
    return Item(
        line=1,
        as_written=movement,
        movement=movement,
        name=movement,
        amount=(5.0,),
        amount_is="each",
        unit="rep",
        sets=5,
        percent=percent,
    )


def words(library: Library, old: str, new: str, *percent: float, format_: str = "strength") -> str:
    piece = lay_out(library, Block(format=format_, items=(lift(old, *percent),)))  # type: ignore[arg-type]
    place = Place(library.movements[old], "rep", (), ())
    return load_words(piece, place, Candidate(library.movements[new], "rep"))


def test_a_lift_without_a_load_is_made_hard_by_more_reps_and_tempo(library: Library) -> None:
    for percent in ((75.0,), ()):
        said = words(library, "back-squat", "air-squat", *percent)
        assert "nothing to load" in said
        assert "more reps" in said


def test_a_percentage_is_of_the_new_lift_s_own_best_where_the_bar_is_the_same(library: Library) -> None:
    said = words(library, "back-squat", "front-squat", 75.0)
    assert "own best" in said
    assert f"{lift_ratio('back-squat', 'front-squat').ratio:.2g}" in said
    assert share_words(library, lift("back-squat", 75.0), library.movements["front-squat"]) == ""


def test_nobody_knows_the_best_of_a_goblet_squat(library: Library) -> None:
    goblet, pair = (library.movements[m] for m in ("goblet-squat", "dumbbell-front-squat"))
    assert share_words(library, lift("back-squat", 75.0), goblet) == "@ 30% of the back squat best"
    assert share_words(library, lift("back-squat", 75.0), pair) == "@ 10-rep load"  # ten reps at 75 % by the chart
    assert share_words(library, lift("back-squat", 75.0, 85.0), pair) == "@ 10- to 6-rep load"
    assert share_words(library, lift("back-squat"), pair) == ""


def test_nothing_is_said_of_a_lift_that_stays_or_of_conditioning(library: Library) -> None:
    assert words(library, "back-squat", "back-squat", 75.0) == ""
    assert words(library, "thruster", "air-squat", format_="for-time") == ""
