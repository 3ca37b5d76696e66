"""Of every progression: order, ownership, today's limits, and that a red flag silences it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from subgraph.graph import must_own_first
from subgraph.library.knowledge import Library
from subgraph.progression import all_owned, in_order, one_rung_away, progression
from subgraph.referral import refer
from subgraph.today import Filter, Today
from tests.property.strategies import asks, movements, red_flag_words, situations

FEW = settings(max_examples=25)  # each example asks `options` once per rung


def owned(library: Library) -> st.SearchStrategy[list[str]]:
    """Up to four movements that a member owns."""
    return st.lists(movements(library).map(lambda m: m.id), max_size=4, unique=True)


def agreeing(today: Today) -> Today:
    """The situation without a word on what is not owned, so that nothing contradicts what is."""
    return structs.replace(today, cannot=frozenset())


@given(st.data())
def test_every_rung_comes_after_all_that_it_needs(library: Library, data: st.DataObject) -> None:
    goal = data.draw(movements(library))
    order = in_order(library, must_own_first(library, goal.id))
    assert set(order) == must_own_first(library, goal.id)
    assert len(order) == len(set(order))
    for position, movement in enumerate(order):
        assert must_own_first(library, movement) <= set(order[:position])


@FEW
@given(st.data())
def test_owned_rungs_never_appear_and_nothing_is_lost(library: Library, data: st.DataObject) -> None:
    ask, owns = data.draw(asks(library)), data.draw(owned(library))
    found = progression(library, ask, Today(), owns)
    have, left = all_owned(library, owns), {s.movement.id for s in found.steps}
    assert not left & have
    if ask.movement in have:
        assert (found.outcome, left) == ("owned", set())
    else:
        assert left == must_own_first(library, ask.movement) - have
        assert found.outcome == ("rungs" if left else "next")
    assert {m.id for m in found.owned} == must_own_first(library, ask.movement) & have


@FEW
@given(st.data())
def test_substitute_on_a_rung_is_for_today_and_asks_for_no_later_rung(library: Library, data: st.DataObject) -> None:
    ask = data.draw(asks(library))
    today, owns = agreeing(data.draw(situations(library))), data.draw(owned(library))
    found = progression(library, ask, today, owns)
    filter_ = Filter(library, structs.replace(today, level=None))
    left = [s.movement.id for s in found.steps]
    for position, step in enumerate(found.steps):
        assert bool(step.removals) == bool(filter_.removals(step.movement))
        for option in (step.substitute, step.stand_in):
            if option is not None:
                assert not filter_.removals(option.movement)
                needs = {option.movement.id} | must_own_first(library, option.movement.id)
                assert not needs & {*left[position:], ask.movement}
                assert option.low <= option.amount <= option.high


@FEW
@given(st.data())
def test_more_owned_never_leaves_more_rungs(library: Library, data: st.DataObject) -> None:
    ask, owns = data.draw(asks(library)), data.draw(owned(library))
    fewer = {s.movement.id for s in progression(library, ask, Today(), owns[:1]).steps}
    assert {s.movement.id for s in progression(library, ask, Today(), owns).steps} <= fewer


@given(st.data())
def test_what_is_one_rung_away_has_nothing_but_itself_to_learn(library: Library, data: st.DataObject) -> None:
    owns = data.draw(owned(library).filter(bool))
    today = structs.replace(agreeing(data.draw(situations(library))), level=None)
    have = all_owned(library, owns)
    found = one_rung_away(library, today, owns)
    filter_ = Filter(library, today)
    for near in found.nearby:
        assert near.movement.id not in have
        assert must_own_first(library, near.movement.id) <= have
        assert not filter_.removals(near.movement)
        assert {m.id for m in near.from_} <= have
    near_ids = [near.movement.id for near in found.nearby]
    assert len(near_ids) == len(set(near_ids))


@FEW
@given(st.data())
def test_red_flag_leaves_no_rung(library: Library, data: st.DataObject) -> None:
    ask, says = data.draw(asks(library)), data.draw(red_flag_words(library))
    found = progression(library, ask, Today(), data.draw(owned(library)), says=says)
    if refer(library, [says], [])[0]:
        assert (found.outcome, found.steps, found.answer.options) == ("refer", (), ())
