"""Amounts, and what a coach would write on the board."""

from __future__ import annotations

import math

import pytest

from subgraph.quantities import (
    KG_PER_LB,
    M_PER_FT,
    M_PER_MI,
    MOST,
    UNITS,
    Amount,
    Unit,
    board_steps,
    clock,
    number,
    round_load,
    round_to_board,
)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (1, "rep", "1 rep"),
        (15, "rep", "15 reps"),
        (400, "m", "400 m"),
        (12, "cal", "12 cal"),
        (45, "s", "45 s"),
        (60, "s", "1:00"),
        (90, "s", "1:30"),
        (3725, "s", "1:02:05"),
        (7.5, "cal", "7.5 cal"),
    ],
)
def test_amount_is_written_as_on_the_board(value: float, unit: Unit, text: str) -> None:
    assert str(Amount(value, unit)) == text


@pytest.mark.parametrize("value", [0, -1, math.inf, -math.inf, math.nan])
def test_amount_must_be_positive_and_finite(value: float) -> None:
    with pytest.raises(ValueError, match="must be positive and finite"):
        Amount(value, "rep")


def test_amount_cannot_be_changed() -> None:
    with pytest.raises(AttributeError):
        Amount(1, "rep").value = 2  # type: ignore[misc]


def test_amounts_of_the_same_size_are_equal() -> None:
    assert Amount(400, "m") == Amount(400.0, "m") != Amount(400, "s")


@pytest.mark.parametrize(
    ("value", "text"), [(43.0, "43"), (22.5, "22.5"), (0.25, "0.25"), (1e6, "1000000"), (1e9, "1000000000")]
)
def test_number_has_no_needless_decimals_and_no_exponent(value: float, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(0, "0:00"), (9, "0:09"), (59.6, "1:00"), (60, "1:00"), (3599.4, "59:59"), (3600, "1:00:00"), (3661, "1:01:01")],
)
def test_clock_rounds_to_the_second_and_carries(seconds: float, text: str) -> None:
    assert clock(seconds) == text


def test_conversions_are_the_agreed_exact_ones() -> None:
    assert KG_PER_LB == 0.45359237
    assert pytest.approx(5280 * 0.3048, rel=1e-12) == M_PER_MI
    assert M_PER_FT == 0.3048


def test_every_unit_has_a_largest_amount() -> None:
    assert set(MOST) == set(UNITS) == {"rep", "s", "m", "cal"}


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("value", [1, 5, 12, 12.5, 20, 29.9, 30, 50, 99, 100, 119, 120, 200, 1000, 10_000])
def test_steps_go_from_round_to_fine(value: float, unit: Unit) -> None:
    steps = board_steps(value, unit)
    assert steps
    assert list(steps) == sorted(steps, reverse=True)
    assert all(s >= 1 for s in steps)


@pytest.mark.parametrize(
    ("value", "unit", "low", "high", "written"),
    [
        (202.3, "rep", 150, 270, 200),
        (48, "rep", 30, 70, 50),
        (31, "rep", 20, 40, 30),
        (34, "rep", 33, 36, 35),  # a ten is out of the interval, a five is in
        (11.4, "rep", 8, 14, 12),  # up to ten every rep is written, then even ones
        (0.3, "rep", 0.1, 0.6, 1),  # never nothing
        (433, "m", 300, 600, 400),
        (1180, "m", 900, 1500, 1200),
        (22, "m", 15, 30, 20),
        (47, "s", 30, 60, 45),
        (88, "s", 60, 120, 90),
        (290, "s", 200, 400, 300),
        (14.2, "cal", 10, 20, 15),
        (61, "cal", 45, 80, 60),
    ],
)
def test_roundest_number_near_enough_wins(value: float, unit: Unit, low: float, high: float, written: float) -> None:
    assert round_to_board(value, unit, low, high) == written


@pytest.mark.parametrize("value", [1.2, 3.4, 7.2, 11.0, 17.4, 25.5, 47.3, 151.0])
def test_one_side_then_the_other_is_an_even_number(value: float) -> None:
    assert round_to_board(value, "rep", value * 0.7, value * 1.4, even=True) % 2 == 0


@pytest.mark.parametrize("unit", UNITS)
def test_rounded_amount_stays_near_or_takes_the_finest_step(unit: Unit) -> None:
    for tenth in range(5, 20_000, 7):
        value = tenth / 10
        low, high = value / 1.5, value * 1.5
        got = round_to_board(value, unit, low, high)
        finest = board_steps(value, unit)[-1]
        reach = 0.125 if unit == "rep" and value >= 20 else 0.1
        assert abs(got - value) <= max(reach * value, finest), (value, got)
        assert got >= 1


def test_tens_are_taken_where_they_are_an_eighth_away() -> None:
    assert round_to_board(34, "rep", 20, 50, even=True) == 30
    assert round_to_board(22.4, "rep", 15, 30) == 20


def test_narrow_interval_holds_the_rounding_back() -> None:
    assert round_to_board(97, "rep", 60, 140) == 100
    assert round_to_board(97, "rep", 96.5, 98) == 97


@pytest.mark.parametrize(
    ("load", "sizes", "step", "picked"),
    [
        (17.2, (12, 16, 20), None, 16),
        (19.2, (12, 16, 20), None, 20),  # 20 is within 5 % over
        (19.0, (12, 16, 20), None, 16),  # 19.95 is the most that 5 % allows
        (3, (12, 16, 20), None, 12),  # nothing lighter on the rack
        (100, (12, 16, 20), None, 20),
        (41.9, (), 2.5, 42.5),
        (43.7, (), 2.5, 42.5),
        (11.3, (), 2.5, 10),  # 12.5 would be a tenth over
        (42.4, (), None, 42),
    ],
)
def test_load_is_one_that_can_be_picked_up(
    load: float, sizes: tuple[float, ...], step: float | None, picked: float
) -> None:
    assert round_load(load, sizes, step) == picked


def test_load_is_never_more_than_five_percent_over_what_was_wanted() -> None:
    for tenth in range(60, 2000, 3):
        wanted = tenth / 10
        assert round_load(wanted, (), 2.5) <= wanted * 1.05
