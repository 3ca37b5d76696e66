"""Schemes, ladders and standards times a ratio."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from subgraph.adapt.numbers import keeps_order, may_stay, scaled, scaled_ladder


def test_a_falling_scheme_stays_one() -> None:
    assert scaled((21, 15, 9), 2.0, "rep", low=1.5, high=2.5) == (42, 30, 18)
    assert scaled((10, 8, 6, 4, 2), 0.5, "rep", low=0.4, high=0.6) == (5, 4, 3, 2, 1)


def test_equal_steps_stay_equal() -> None:
    for ratio in (0.7, 1.1, 1.4, 1.7, 2.3, 3.0):
        series = scaled((21, 15, 9), ratio, "rep", low=ratio * 0.7, high=ratio * 1.4)
        steps = {b - a for a, b in itertools.pairwise(series)}
        assert len(steps) == 1, (ratio, series)


def test_both_standards_are_converted() -> None:
    assert scaled((15, 12), 25, "m", low=20, high=30) == (400, 300)


@given(
    st.sampled_from([(21.0, 15.0, 9.0), (50.0, 40.0, 30.0, 20.0, 10.0), (5.0, 5.0, 3.0, 3.0, 1.0), (1.0, 2.0, 3.0)]),
    st.floats(0.5, 4),
    st.booleans(),
)
def test_no_number_vanishes_and_the_order_never_turns(numbers: tuple[float, ...], ratio: float, even: bool) -> None:
    new = scaled(numbers, ratio, "rep", low=ratio * 0.7, high=ratio * 1.4, even=even)
    assert len(new) == len(numbers)
    assert min(new) >= (2 if even else 1)
    assert all(n == int(n) for n in new)
    assert not even or all(n % 2 == 0 for n in new)
    for (b1, b2), (a1, a2) in zip(itertools.pairwise(numbers), itertools.pairwise(new), strict=True):
        assert a2 <= a1 if b2 < b1 else a2 >= a1 if b2 > b1 else a1 == a2


@given(st.sampled_from([((1.0,), 1.0), ((2.0, 4.0, 6.0), 2.0), ((3.0,), 1.0)]), st.floats(0.2, 5), st.booleans())
def test_a_ladder_still_climbs_by_one_step(ladder: tuple[tuple[float, ...], float], ratio: float, even: bool) -> None:
    first, step = ladder
    new, new_step = scaled_ladder(first, step, ratio, even=even)
    assert len(new) == len(first)
    assert new_step >= (2 if even else 1)
    assert all(b - a == new_step for a, b in itertools.pairwise(new))


def test_numbers_near_enough_are_left_alone() -> None:
    assert may_stay((21, 15, 9), 1.1, low=0.8, high=1.4, even=False)
    assert not may_stay((21, 15, 9), 1.1, low=0.8, high=1.4, even=True)  # odd ones can't be halved
    assert not may_stay((20,), 1.1, low=1.05, high=1.4, even=False)
    assert not may_stay((20,), 1.3, low=0.8, high=1.6, even=False)


def test_order_is_compared_pair_by_pair() -> None:
    assert keeps_order((5, 5, 3), (10, 10, 6))
    assert not keeps_order((5, 4), (3, 3))


@given(st.floats(0.8, 3.2), st.booleans())
def test_a_scheme_of_equal_steps_stays_one_or_is_the_scheme_so_many_times(ratio: float, even: bool) -> None:
    for numbers in ((21.0, 15.0, 9.0), (10.0, 9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0), (15.0, 12.0, 9.0)):
        new = scaled(numbers, ratio, "rep", low=ratio * 0.6, high=ratio * 1.7, even=even)
        steps = {b - a for a, b in itertools.pairwise(new)}
        if not even or (ratio >= 1 and numbers[0] - numbers[1] > 1):  # one at a time can not be even and equal
            assert len(steps) == 1, (numbers, ratio, new)


def test_ten_to_one_is_not_made_ragged() -> None:
    ten = tuple(float(n) for n in range(10, 0, -1))
    assert scaled(ten, 1.4, "rep", low=0.9, high=2.2) == ten
    assert scaled(ten, 1.9, "rep", low=1.1, high=3.0) == tuple(2 * n for n in ten)


def test_one_side_each_round_falls_pair_by_pair() -> None:
    ten = tuple(float(n) for n in range(10, 0, -1))
    assert scaled(ten, 1.0, "rep", low=0.9, high=1.2, even=True) == (10, 10, 8, 8, 6, 6, 4, 4, 2, 2)


def test_half_a_pair_does_not_break_a_scheme() -> None:
    assert scaled((21, 15, 9), 1.0, "rep", low=0.9, high=1.1, even=True) in ((20, 14, 8), (22, 16, 10))
