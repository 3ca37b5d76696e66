import pytest

from subgraph.errors import RangeError, UnknownNameError
from subgraph.models.lifts import (
    BAND_PULL_KG,
    LIFT_RATIOS,
    REGRESSIONS,
    convert_load_kg,
    convert_reps,
    lift_ratio,
    load_by_regression_kg,
)


def test_a_ratio_turned_round() -> None:
    there, back = lift_ratio("press", "push-press"), lift_ratio("push-press", "press")
    assert there.ratio * back.ratio == pytest.approx(1)
    assert back.band == pytest.approx((1 / 1.4, 1 / 1.2))
    assert (back.from_, back.to, back.source) == ("push-press", "press", there.source)
    assert back.band[0] < back.ratio < back.band[1]


def test_a_ratio_without_printed_spread_has_the_default_one() -> None:
    for row in (lift_ratio("bench-press", "dumbbell-bench-press"), lift_ratio("dumbbell-bench-press", "bench-press")):
        low, high = row.band
        assert high / low == pytest.approx((2.718281828 ** (1.645 * 0.13)) ** 2)


def test_unknown_pairs_name_what_is_joined() -> None:
    with pytest.raises(UnknownNameError, match="no ratio joins 'press' and 'snatch'") as caught:
        lift_ratio("press", "snatch")
    assert caught.value.nearest == ("dumbbell-press", "push-press", "split-jerk")
    with pytest.raises(UnknownNameError, match="no line gives 'snatch'") as caught:
        load_by_regression_kg("half-squat", "snatch", 100)
    assert caught.value.nearest == ("deadlift", "leg-press", "lunge", "step-up")


def test_tables_are_sane() -> None:
    assert len({(row.from_, row.to) for row in LIFT_RATIOS}) == len(LIFT_RATIOS)
    assert len({(row.from_, row.to) for row in REGRESSIONS}) == len(REGRESSIONS)
    for row in LIFT_RATIOS:
        assert row.band[0] <= row.ratio <= row.band[1]
        assert (row.low > 0) == (row.high > 0)
        assert row.pages == 0 or row.basis == "practice"
    assert all(low < high for low, high in BAND_PULL_KG)
    assert list(BAND_PULL_KG) == sorted(BAND_PULL_KG)


def test_a_line_that_gives_no_load() -> None:
    with pytest.raises(RangeError, match="load of the back-squat is 30 kg; the accepted range is 49"):
        load_by_regression_kg("back-squat", "good-morning", 30)


def test_equal_reps_need_no_chart() -> None:
    assert convert_load_kg(60, 30, 0.5) == 30  # thirty repetitions are off the chart, and it does not matter


def test_fewer_reps_bear_more_load() -> None:
    assert convert_load_kg(60, 10, 1.2, 5) > convert_load_kg(60, 10, 1.2)
    assert convert_reps(60, 10, 1.2, 80) < 10


def test_a_load_above_the_maximum_has_no_reps() -> None:
    with pytest.raises(RangeError, match="share of the maximum"):
        convert_reps(60, 10, 1.0, 90)
    with pytest.raises(RangeError, match="ratio of maxima"):
        convert_load_kg(60, 10, 0)
