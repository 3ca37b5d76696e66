import math

import pytest

from subgraph.errors import AskError, RangeError
from subgraph.models.metabolic import (
    cycling_power_w,
    gait_grade,
    gait_speed_m_per_s,
    load_carriage_power_w,
    oxygen_of_cycling,
    oxygen_of_gait,
    oxygen_of_stepping,
    stepping_rate_per_min,
)


def test_the_message_names_value_range_and_way_out() -> None:
    with pytest.raises(RangeError) as caught:
        oxygen_of_gait("walk", 2.5)
    assert str(caught.value) == (
        "speed of the walk is 2.5 m/s; the accepted range is 0.833333 to 1.66667 m/s; "
        "pass extrapolate=True to go beyond it"
    )
    assert isinstance(caught.value, AskError)
    assert (caught.value.low, caught.value.high) == (50 / 60, 100 / 60)


def test_extrapolation_is_asked_for() -> None:
    assert oxygen_of_gait("walk", 2.5, extrapolate=True) == pytest.approx(3.5 + 0.1 * 150)
    assert oxygen_of_cycling("legs", 300, 70, extrapolate=True) > oxygen_of_cycling("legs", 200, 70)


@pytest.mark.parametrize("speed", [math.nan, math.inf, -1.0])
def test_extrapolation_does_not_excuse_nonsense(speed: float) -> None:
    with pytest.raises(RangeError):
        oxygen_of_gait("run", speed, extrapolate=True)


@pytest.mark.parametrize("mass", [0.0, 29.9, 251.0, math.nan])
def test_an_impossible_body_is_refused_even_when_extrapolating(mass: float) -> None:
    with pytest.raises(RangeError, match="the accepted range is 30 to 250 kg"):
        oxygen_of_cycling("legs", 100, mass, extrapolate=True)
    with pytest.raises(RangeError, match="body mass"):
        cycling_power_w("arms", 20, mass)
    with pytest.raises(RangeError, match="body mass"):
        load_carriage_power_w(mass, 10, 1.3)


def test_downhill_is_refused() -> None:
    with pytest.raises(RangeError, match="grade of the run"):
        oxygen_of_gait("run", 3, -0.05)


def test_inverses_refuse_answers_outside_the_range() -> None:
    with pytest.raises(RangeError, match="speed of the run"):
        gait_speed_m_per_s("run", 10)
    with pytest.raises(RangeError, match="grade of the walk"):
        gait_grade("walk", 60, 1.5)
    with pytest.raises(RangeError, match="step rate"):
        stepping_rate_per_min(80, 0.2)
    with pytest.raises(RangeError, match="power of the legs"):
        cycling_power_w("legs", 7, 70)


def test_step_height_in_centimetres_is_caught() -> None:
    with pytest.raises(RangeError, match=r"step height is 20 m; the accepted range is 0.04 to 0.4 m"):
        oxygen_of_stepping(20, 20)


def test_a_load_costs_more_than_none() -> None:
    assert load_carriage_power_w(80, 10, 1.3) > load_carriage_power_w(80, 0, 1.3)
    with pytest.raises(RangeError, match="load"):
        load_carriage_power_w(80, -1, 1.3)
