"""One bar, one pair of bells."""

from __future__ import annotations

from typing import Any

from subgraph.adapt import adapt
from subgraph.adapt.candidates import Candidate, Place, key_of
from subgraph.adapt.loads import load_of, one_load
from subgraph.library.compile import Compiled
from subgraph.notation.board import Block, Item, Reading
from subgraph.notation.situation import read_situation
from subgraph.options import options
from subgraph.quantities import Amount
from subgraph.today import Ask, Filter, Removal, Today
from subgraph.workout.laid_out import lay_out


def item(movement: str, **fields: Any) -> Item:
    plain: dict[str, Any] = {"line": 1, "as_written": movement, "name": movement, "amount": (10.0,), "unit": "rep"}
    return Item(movement=movement, **{**plain, "amount_is": "each", **fields})


def picked(compiled: Compiled, old: str, new: str, load_kg: float | None) -> Candidate:
    """A candidate with an option behind it, at a load."""
    answer = options(compiled.library, Ask(old, Amount(10, "rep"), load_kg), Today(), top=1)
    return Candidate(compiled.library.movements[new], "rep", load_kg=load_kg, option=answer.options[0])


def unified(compiled: Compiled, today: Today, *changes: tuple[str, str, float | None]) -> list[float | None]:
    """Loads of changed movements after they were made one."""
    library = compiled.library
    block = Block(format="for-time", rounds=3, items=tuple(item(old) for old, _, _ in changes))
    written = lay_out(library, block)
    gone = (Removal("equipment", "gone"),)
    places = {key_of(w): Place(w.movement, "rep", gone, ()) for w in written.works}
    picks = {key: picked(compiled, old, new, kg) for key, (old, new, kg) in zip(places, changes, strict=True)}
    found = one_load(Filter(library, today), written, places, picks)
    return [load_of(p) for p in found.values() if p]


def test_near_loads_become_the_lightest(compiled: Compiled) -> None:
    changes = (("push-press", "dumbbell-push-press", 22.5), ("power-clean", "dumbbell-hang-power-clean", 27.5))
    assert unified(compiled, Today(), *changes) == [22.5, 22.5]


def test_loads_far_apart_stay(compiled: Compiled) -> None:
    changes = (("push-press", "dumbbell-push-press", 10.0), ("power-clean", "dumbbell-hang-power-clean", 27.5))
    assert unified(compiled, Today(), *changes) == [10.0, 27.5]


def test_with_one_pair_on_hand_the_lightest_is_taken_however_far(compiled: Compiled) -> None:
    changes = (("push-press", "dumbbell-push-press", 10.0), ("power-clean", "dumbbell-hang-power-clean", 27.5))
    assert unified(compiled, Today(only={"dumbbell": 2}), *changes) == [10.0, 10.0]


def test_the_bar_of_the_board_is_kept_for_what_changes_beside_it(compiled: Compiled) -> None:
    block = Block(
        format="for-time",
        rounds=3,
        items=(item("power-clean", load_kg=(43.0, 30.0)), item("strict-pull-up", line=2)),
    )
    reading = Reading(blocks=(block,), lines=(), notes=(), unread=(), assumed=(), library="test")
    told = read_situation(compiled, without=["rig", "band", "dumbbell", "cable machine", "towel", "bench"])
    piece = adapt(compiled.library, reading, told.today).pieces[0]
    (change,) = piece.changed
    assert change.pick is not None
    if change.pick.movement.load and change.pick.movement.load.implement == "barbell":
        assert change.pick.load_kg == 43


def test_the_only_pair_is_the_same_in_every_piece(compiled: Compiled) -> None:
    blocks = tuple(
        Block(format="for-time", rounds=3, items=(item(movement, load_kg=(kg,)),), line=line)
        for line, (movement, kg) in enumerate(
            [("power-snatch", 43.0), ("bent-over-row", 60.0), ("front-squat", 40.0)], 1
        )
    )
    reading = Reading(blocks=blocks, lines=(), notes=(), unread=(), assumed=(), library="test")
    told = read_situation(compiled, only=["2 dumbbell"])
    adapted = adapt(compiled.library, reading, told.today)
    loads = {w.load_kg for p in adapted.pieces for w in p.fit.piece.all_works if w.load_kg}
    assert len(loads) == 1
