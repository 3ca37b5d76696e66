"""What must hold of an adapted board, for any board of the corpus, any floor and any member.

What a movement may need and demand is worked out from the records alone, as in `test_safety`.
"""

from __future__ import annotations

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from subgraph.adapt import Adapted, PieceAdapted, adapt
from subgraph.library.knowledge import Library
from subgraph.notation.board import Item
from subgraph.referral import refer
from subgraph.show.adapted import adapted_text
from subgraph.show.adapted_data import adapted_data
from subgraph.show.data import encode
from subgraph.show.text import Style
from subgraph.today import Today
from subgraph.workout.laid_out import is_lift
from subgraph.workout.timing import clock_of
from tests.expected import NAMES, board
from tests.property.strategies import red_flag_words, situations
from tests.property.test_safety import broken_limits, pieces, stock, too_high

BOARDS = st.sampled_from(NAMES)


def unequipped(library: Library, today: Today, movement_id: str) -> list[str]:
    """Needs of a movement that nothing on hand meets."""
    there = stock(library, today)
    missing = []
    for need in library.movements[movement_id].uses:
        choices = (need,) if isinstance(need, str) else need
        if not any(all(there.get(i, 0) >= n for i, n in pieces(c).items()) for c in choices):
            missing.append(str(need))
    return missing


def done_today(piece: PieceAdapted) -> list[tuple[Item, Item]]:
    """Items of a piece as written and as done."""
    items = {id(w.item): w.item for w in piece.written.all_works}
    return [(i, new) for i in items.values() if (new := piece.items.get(id(i), i)) is not None]


@given(st.data())
@settings(max_examples=60)
def test_nothing_that_is_done_needs_or_demands_what_the_day_does_not_allow(
    library: Library, data: st.DataObject
) -> None:
    today = data.draw(situations(library))
    _, reading = board(library, data.draw(BOARDS))
    found = adapt(library, reading, today)
    # Every work of every piece: so every combination that one member does.
    for piece in found.pieces:
        for work in piece.fit.piece.all_works:
            movement = work.movement
            assert not unequipped(library, today, movement.id), movement.id
            assert not too_high(library, today, movement), movement.id
            assert not broken_limits(library, today, movement), movement.id
            assert movement.id not in today.cannot
        # And whatever was considered: so every combination that could have been chosen.
        for changed in piece.changed:
            for candidate in changed.place.candidates:
                movement = candidate.movement
                assert not unequipped(library, today, movement.id), movement.id
                assert not too_high(library, today, movement), movement.id
                assert not broken_limits(library, today, movement), movement.id
                assert movement.id not in today.cannot
                assert 0 < candidate.low <= candidate.ratio <= candidate.high, movement.id


@given(st.data())
@settings(max_examples=40)
def test_loads_are_on_the_rack_and_one_implement_has_one_load(library: Library, data: st.DataObject) -> None:
    today = data.draw(situations(library))
    _, reading = board(library, data.draw(BOARDS))
    for piece in adapt(library, reading, today).pieces:
        for changed in piece.changed:
            rack = changed.pick.rack if changed.pick else None
            if changed.pick and rack and changed.pick.option and changed.pick.load_kg:
                assert not rack.sizes_kg or changed.pick.load_kg in rack.sizes_kg or not rack.told
        for before, after in done_today(piece):
            if after.movement != before.movement and after.load_kg:
                assert library.movements[after.movement or ""].load, after
                assert all(a >= b for a, b in itertools.pairwise(after.load_kg)) or before.load_kg != tuple(
                    sorted(before.load_kg, reverse=True)
                )


@given(st.data())
@settings(max_examples=60)
def test_rounds_schemes_sets_standards_and_order_survive(library: Library, data: st.DataObject) -> None:
    today = data.draw(situations(library))
    _, reading = board(library, data.draw(BOARDS))
    found = adapt(library, reading, today)
    assert len(found.pieces) == len(reading.blocks)
    for piece in found.pieces:
        assert piece.fit.piece.block is piece.written.block
        for before, after in done_today(piece):
            assert (before.sets, before.slot, before.role, before.label) == (
                after.sets,
                after.slot,
                after.role,
                after.label,
            )
            assert before.amount_is == after.amount_is
            if before.parts:
                assert len(after.parts) <= len(before.parts)
                continue
            assert len(before.amount) == len(after.amount)
            if before.load_kg and after.load_kg:
                assert len(before.load_kg) == len(after.load_kg)
            pairs = zip(itertools.pairwise(before.amount), itertools.pairwise(after.amount), strict=True)
            for (b1, b2), (a1, a2) in pairs:
                assert a2 <= a1 if b2 < b1 else a2 >= a1 if b2 > b1 else a1 == a2, (before, after)
            if is_lift(piece.written.block, before) and before.unit == after.unit == "rep" and before.amount:
                keeps = [b <= a <= b + 1 or a == 2 * b for b, a in zip(before.amount, after.amount, strict=True)]
                loaded = [library.movements[i.movement].load for i in (before, after) if i.movement]
                # Where no load can make the two equal, reps do.
                assert all(keeps) or not all(loaded), (before, after)
            if after.per_side:
                assert before.per_side or is_lift(piece.written.block, before)
            if after.movement and library.movements[after.movement].sides != "both" and after.unit == "rep":
                changed = after is not before and after.movement != before.movement
                assert after.per_side or not changed or all(a % 2 == 0 for a in after.amount)


@given(st.data())
@settings(max_examples=60)
def test_the_time_is_the_class_s_or_the_reason_is_said(library: Library, data: st.DataObject) -> None:
    today = data.draw(situations(library))
    _, reading = board(library, data.draw(BOARDS))
    window = library.rules["window"]
    share = library.rules["interval-work"].high
    for piece in adapt(library, reading, today).pieces:
        block = piece.written.block
        written, done = clock_of(library, piece.written, "regular"), piece.fit.clock
        if block.format == "amrap" and written.rounds:
            ratio = done.round_s / written.round_s
        elif block.format == "for-time" and written.total.typical_s:
            ratio = done.total.typical_s / written.total.typical_s
        else:
            for slot, was in zip(done.slots, written.slots, strict=False):
                changed = slot.work != was.work
                if changed and not slot.open and slot.work.typical_s > share * slot.window_s + 1:
                    assert piece.fit.said
            continue
        if not window.low - 1e-6 <= ratio <= window.high + 1e-6:
            assert piece.fit.said, (block, ratio)


@given(st.data())
@settings(max_examples=30)
def test_it_can_be_printed_and_every_line_is_there(library: Library, data: st.DataObject) -> None:
    today = data.draw(situations(library))
    text, reading = board(library, data.draw(BOARDS))
    found = adapt(library, reading, today)
    said = adapted_text(library, text, found, today, (), Style(False), explain=True)
    assert all(len(line) <= 80 for line in said.splitlines())
    assert encode(adapted_data(library, text, found))
    lines = adapted_data(library, text, found)["lines"]
    assert [line["line"] for line in lines] == list(range(1, len(text.splitlines()) + 1))


@given(st.data())
@settings(max_examples=30)
def test_a_red_flag_leaves_no_piece(library: Library, data: st.DataObject) -> None:
    words = data.draw(red_flag_words(library))
    _, reading = board(library, data.draw(BOARDS))
    referral, _ = refer(library, [words], [])
    found = adapt(library, reading, Today(), says=words)
    assert (found.outcome == "refer") is (referral is not None)
    if referral:
        assert not found.pieces


@given(st.data())
@settings(max_examples=15)
def test_the_same_ask_gives_the_same_answer(library: Library, data: st.DataObject) -> None:
    today = data.draw(situations(library))
    text, reading = board(library, data.draw(BOARDS))

    def answer() -> Adapted:
        return adapt(library, reading, today)

    assert encode(adapted_data(library, text, answer())) == encode(adapted_data(library, text, answer()))
