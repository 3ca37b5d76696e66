import math

import pytest

from subgraph.errors import RangeError
from subgraph.models.pace import (
    FADE_FROM_S,
    Band,
    seconds_for,
    seconds_in_sets,
    seconds_of_hold,
    seconds_of_piece,
    split_sets,
    transition,
    units_in,
)


def test_short_amounts_go_at_the_fresh_pace_and_long_ones_at_the_long_pace() -> None:
    assert seconds_for(10, 1.5, 2.6).typical_s == 15
    assert seconds_for(100, 1.5, 2.6).typical_s == pytest.approx(260)
    assert seconds_for(40, 1.5, 2.6).typical_s == pytest.approx(40 * math.sqrt(1.5 * 2.6))  # 60 s: half way in the logs


def test_nothing_takes_no_time() -> None:
    assert seconds_for(0, 1, 2) == Band(0, 0, 0)
    assert units_in(0, 1, 2) == 0


@pytest.mark.parametrize(("fresh", "long"), [(0, 1), (-1, 1), (2, 1), (math.nan, 1), (1, math.nan), (1, math.inf)])
def test_paces_that_make_no_sense(fresh: float, long: float) -> None:
    with pytest.raises(RangeError, match="pace"):
        seconds_for(10, fresh, long)
    with pytest.raises(RangeError, match="pace"):
        units_in(10, fresh, long)


def test_amounts_and_bands_that_make_no_sense() -> None:
    with pytest.raises(RangeError, match="amount"):
        seconds_for(-1, 1, 2)
    with pytest.raises(RangeError, match="typical time is 1 s; the accepted range is 2 to inf s"):
        Band(2, 1, 3)
    with pytest.raises(RangeError, match="slow time"):
        Band(1, 2, math.nan)


def test_sets_add_up_and_differ_by_one_at_most() -> None:
    assert split_sets(21, 8) == (7, 7, 7)
    assert split_sets(5, 10) == (5,)
    assert split_sets(22, 8) == (8, 7, 7)
    with pytest.raises(RangeError, match="largest set"):
        split_sets(5, 0)
    with pytest.raises(RangeError, match="repetitions"):
        split_sets(0, 5)


def test_rests_stand_between_sets_only() -> None:
    one, two = seconds_in_sets((10,), 1, 1), seconds_in_sets((5, 5), 1, 1)
    assert one == Band(10, 10, 10)
    assert two == Band(13, 15, 20)
    assert seconds_in_sets((5, 5), 1, 1, rest="near-failure") == Band(18, 22, 30)
    with pytest.raises(RangeError, match="number of sets"):
        seconds_in_sets((), 1, 1)


def test_holds_are_broken_up() -> None:
    assert seconds_of_hold(30, 30) == Band(30, 30, 30)
    assert seconds_of_hold(30, 15, rest="short") == Band(33, 35, 40)
    assert seconds_of_hold(0.3, 0.1, rest="short").low_s == pytest.approx(
        6.3
    )  # two rests, in spite of binary fractions
    with pytest.raises(RangeError, match="longest piece"):
        seconds_of_hold(30, 0)


def test_changes_stand_between_items_only() -> None:
    item = Band(10, 10, 10)
    assert seconds_of_piece([item]) == item
    assert seconds_of_piece([item], rounds=3) == Band(30, 30, 30)
    assert seconds_of_piece([item, item], rounds=2) == Band(40 + 9, 40 + 15, 40 + 30)
    with pytest.raises(RangeError, match="number of items"):
        seconds_of_piece([])
    with pytest.raises(RangeError, match="rounds"):
        seconds_of_piece([item], rounds=0)
    with pytest.raises(RangeError, match="number of changes"):
        transition("rig", -1)


def test_long_pieces_fade_and_novices_more() -> None:
    item = Band(FADE_FROM_S, FADE_FROM_S, FADE_FROM_S)
    assert seconds_of_piece([item]).typical_s == pytest.approx(FADE_FROM_S * (1 + 1.15 + 1.15**2) / 3)
    assert seconds_of_piece([item], level="novice").typical_s > seconds_of_piece([item]).typical_s
    short = Band(700, 700, 700)
    assert seconds_of_piece([short]) == short
