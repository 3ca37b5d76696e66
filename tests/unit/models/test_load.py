import math

import pytest

from subgraph.errors import RangeError
from subgraph.models.load import (
    CHART,
    EQUATIONS,
    Method,
    load_kg_for_reps,
    on_the_rack,
    one_rep_max_band_kg,
    one_rep_max_kg,
    reps_at_share,
    reserve_of_rating,
    share_of_max,
)

METHODS: tuple[Method, ...] = ("chart", *EQUATIONS)


@pytest.mark.parametrize("method", METHODS)
def test_one_rep_is_the_whole_maximum_by_every_method(method: Method) -> None:
    assert share_of_max(1, method=method) == 1
    assert reps_at_share(1, method=method) == 1


def test_chart_rows_and_what_lies_between() -> None:
    assert [share_of_max(reps) for reps in CHART] == [percent / 100 for percent in CHART.values()]
    assert share_of_max(11) == pytest.approx(0.725)


@pytest.mark.parametrize("reps", [0.5, 0.0, -3.0, math.nan])
def test_less_than_one_rep_is_refused_always(reps: float) -> None:
    for extrapolate in (False, True):
        with pytest.raises(RangeError, match="repetitions"):
            share_of_max(reps, extrapolate=extrapolate)


def test_range_of_chart_and_of_equations() -> None:
    with pytest.raises(RangeError, match="the accepted range is 1 to 15 reps; pass extrapolate=True"):
        share_of_max(16)
    with pytest.raises(RangeError, match="the accepted range is 1 to 10 reps"):
        share_of_max(11, method="epley")
    assert share_of_max(30, extrapolate=True) == pytest.approx(1 / (1 + (100 / 65 - 1) * 2))
    assert share_of_max(20, method="epley", extrapolate=True) == pytest.approx(0.6)


def test_equations_that_run_out_say_where() -> None:
    with pytest.raises(
        RangeError, match="repetitions for the brzycki equation is 40 reps; the accepted range is 1 to 36"
    ):
        share_of_max(40, method="brzycki", extrapolate=True)
    with pytest.raises(RangeError, match="share of the maximum"):
        reps_at_share(0.5, method="mayhew", extrapolate=True)  # its asymptote is 0.522


def test_shares_outside_are_refused() -> None:
    with pytest.raises(RangeError, match="pass extrapolate=True"):
        reps_at_share(0.6)
    for share in (0.0, 1.01, math.nan):
        with pytest.raises(RangeError):
            reps_at_share(share, extrapolate=True)


def test_load_and_reserve_must_make_sense() -> None:
    with pytest.raises(RangeError, match=r"load is 0; .*it must be above 0"):
        one_rep_max_kg(0, 5)
    with pytest.raises(RangeError, match="reserve"):
        one_rep_max_kg(100, 5, reserve_reps=-1)
    with pytest.raises(RangeError, match="one-repetition maximum"):
        load_kg_for_reps(math.inf, 5)
    with pytest.raises(RangeError, match="rating of effort is 6; the accepted range is 7 to 10"):
        reserve_of_rating(6)


def test_band_holds_every_method() -> None:
    low, high = one_rep_max_band_kg(100, 8)
    assert all(low <= one_rep_max_kg(100, 8, method=m) <= high for m in METHODS)


def test_the_rack_in_both_units() -> None:
    assert on_the_rack(43) == 42.5
    assert on_the_rack(43, unit="lb") == 95
    assert on_the_rack(43, step=1.0) == 43
    assert on_the_rack(23, sizes=(24, 16, 32)) == 24  # not more than 5 percent over
    assert on_the_rack(22, sizes=(24, 16, 32)) == 16
    assert on_the_rack(5, sizes=(16, 8)) == 8  # the lightest there is
    with pytest.raises(RangeError, match="load"):
        on_the_rack(0)
    with pytest.raises(RangeError, match="size"):
        on_the_rack(10, sizes=(0.0, 8))
    with pytest.raises(RangeError, match="size"):
        on_the_rack(10, step=0)
