import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from subgraph.models.pace import (
    FADE,
    TRANSITION_S,
    Band,
    Level,
    Transition,
    cap_of,
    seconds_for,
    seconds_in_sets,
    seconds_of_hold,
    seconds_of_piece,
    seconds_of_set,
    split_sets,
    units_in,
)

amounts = st.floats(0.1, 2000)
fresh_paces = st.floats(0.1, 60)
slowings = st.floats(1, 5)
levels = st.sampled_from(sorted(FADE))
changes = st.sampled_from(sorted(TRANSITION_S))
bands = st.builds(
    lambda low, more, most: Band(low, low + more, low + more + most), *(st.floats(0, 600) for _ in range(3))
)


def ordered(band: Band) -> bool:
    return 0 <= band.low_s <= band.typical_s <= band.high_s


@given(amounts, fresh_paces, slowings)
@example(3.0, 0.1, 1.0)
def test_bands_are_ordered(amount: float, fresh: float, slowing: float) -> None:
    assert ordered(seconds_for(amount, fresh, fresh * slowing))


@given(amounts, fresh_paces, slowings)
def test_amount_comes_back_from_its_typical_time(amount: float, fresh: float, slowing: float) -> None:
    long = fresh * slowing
    assert units_in(seconds_for(amount, fresh, long).typical_s, fresh, long) == pytest.approx(amount)


@given(amounts, amounts, fresh_paces, slowings)
def test_more_never_takes_less_time(a: float, b: float, fresh: float, slowing: float) -> None:
    few, many = (seconds_for(n, fresh, fresh * slowing) for n in sorted((a, b)))
    assert few.low_s <= many.low_s
    assert few.typical_s <= many.typical_s * (1 + 1e-12)
    assert few.high_s <= many.high_s


@given(amounts, fresh_paces, fresh_paces, slowings)
def test_a_slower_member_never_takes_less_time(amount: float, a: float, b: float, slowing: float) -> None:
    quick, slow = (seconds_for(amount, pace, pace * slowing) for pace in sorted((a, b)))
    assert quick.typical_s <= slow.typical_s * (1 + 1e-12)


@given(st.integers(1, 500), st.integers(1, 100))
def test_sets_add_up_fit_and_fall(reps: int, largest: int) -> None:
    sets = split_sets(reps, largest)
    assert sum(sets) == reps
    assert max(sets) <= largest
    assert list(sets) == sorted(sets, reverse=True)
    assert sets[0] - sets[-1] <= 1
    assert len(sets) == -(-reps // largest)


@given(st.lists(st.floats(0.5, 100), min_size=1, max_size=12), fresh_paces, slowings, levels)
def test_sets_take_at_least_their_work(sets: list[float], fresh: float, slowing: float, level: Level) -> None:
    band = seconds_in_sets(sets, fresh, fresh * slowing, level=level)
    assert ordered(band)
    assert band.low_s >= sum(sets) * fresh * (1 - 1e-9)


@given(st.lists(bands, min_size=1, max_size=6), st.integers(1, 10), changes, levels)
def test_pieces_are_ordered_and_another_round_takes_longer(
    items: list[Band], rounds: int, change: Transition, level: Level
) -> None:
    one, more = (seconds_of_piece(items, rounds=n, change=change, level=level) for n in (rounds, rounds + 1))
    assert ordered(one)
    assert ordered(more)
    assert one.low_s <= more.low_s
    assert one.typical_s <= more.typical_s
    assert one.high_s <= more.high_s


@given(st.floats(1, 600), st.floats(1, 600))
def test_a_longer_piece_of_a_hold_never_takes_longer(total: float, longest: float) -> None:
    assert ordered(seconds_of_hold(total, longest))
    assert seconds_of_hold(total, longest * 2).high_s <= seconds_of_hold(total, longest).high_s


@given(st.floats(0, 1e5))
def test_caps_are_above_the_expected_time(expected: float) -> None:
    cap = cap_of(expected)
    assert ordered(cap)
    assert cap.low_s >= expected


@given(amounts, amounts, fresh_paces, slowings, st.none() | st.floats(1, 50))
def test_longer_set_takes_longer_rests_and_all(
    a: float, b: float, fresh: float, slowing: float, largest: float | None
) -> None:
    few, many = (seconds_of_set(n, fresh, fresh * slowing, largest=largest) for n in sorted((a, b)))
    assert few <= many * (1 + 1e-12)
    assert few >= seconds_for(min(a, b), fresh, fresh * slowing).typical_s
