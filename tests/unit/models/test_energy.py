import math

import pytest

from subgraph.errors import AskError, RangeError
from subgraph.models.energy import (
    MET_OF_MODE,
    RELATIVE_ERROR,
    Effort,
    amount_for_equal_energy,
    energy_of_j,
    kcal_per_min,
    metabolic_power_w,
    power_of_w,
)
from subgraph.models.ergometer import calories_per_h, pace_s_per_m, power_of_calories_w, power_shown_w


def test_conventions_differ_by_five_percent() -> None:
    assert kcal_per_min(8, 70) / kcal_per_min(8, 70, convention="kilocalorie") == pytest.approx(1.05)


def test_net_power_takes_off_one_met() -> None:
    assert metabolic_power_w(8, 70, net=True) == pytest.approx(metabolic_power_w(7, 70))
    assert metabolic_power_w(0.5, 70, net=True) == 0
    run = Effort("run", 0.3)
    assert power_of_w(run, 70) - power_of_w(run, 70, net=True) == pytest.approx(metabolic_power_w(1, 70))


def test_a_machine_counts_metres_calories_and_seconds() -> None:
    row = Effort("row", 0.24)
    by_calories = Effort("row", row.seconds_per("cal"), "cal")
    assert by_calories.shown_w == pytest.approx(row.shown_w)
    assert by_calories.seconds_per("m") == pytest.approx(0.24)
    assert row.seconds_per("s") == 1
    whole = energy_of_j(500, row, 70, extrapolate=True)
    assert energy_of_j(120, row, 70, unit="s", extrapolate=True) == pytest.approx(whole)
    assert energy_of_j(120 / row.seconds_per("cal"), row, 70, unit="cal", extrapolate=True) == pytest.approx(whole)


def test_amounts_can_be_wanted_in_another_unit() -> None:
    run, row = Effort("run", 0.3), Effort("row", 0.26)
    metres = amount_for_equal_energy(400, run, row, 70)
    seconds = amount_for_equal_energy(400, run, row, 70, wanted="s")
    assert seconds == pytest.approx(metres * 0.26)
    assert amount_for_equal_energy(120, run, row, 70, unit="s") == pytest.approx(metres)


def test_units_that_a_mode_is_not_counted_in() -> None:
    with pytest.raises(AskError, match="a pace of 'run' is not counted in 'cal'; give it in: m"):
        Effort("run", 3, "cal")
    with pytest.raises(AskError, match="'row' is not counted in 's'; give it in: m, cal"):
        Effort("row", 1, "s")
    with pytest.raises(AskError, match="an amount of 'rope' is not counted in 'm'; give it in: rep, s"):
        energy_of_j(100, Effort("rope", 0.5, "rep"), 70, unit="m")
    with pytest.raises(AskError, match="'run' shows no power"):
        _ = Effort("run", 0.3).shown_w


@pytest.mark.parametrize("pace_s", [0.0, -1.0, math.nan, math.inf])
def test_a_pace_is_positive(pace_s: float) -> None:
    with pytest.raises(RangeError, match="pace"):
        Effort("run", pace_s)
    with pytest.raises(RangeError, match="pace"):
        power_shown_w("row", pace_s)


@pytest.mark.parametrize(
    ("effort", "name"),
    [
        (Effort("row", 98 / 500), "power of the row"),
        (Effort("ski", 200 / 500), "power of the ski"),
        (Effort("air-bike", 3.0, "cal"), "power of the legs"),
        (Effort("run", 1.0), "speed of the run"),
        (Effort("stairs", 2.0, "rep"), "stair rate"),
        (Effort("rope", 1.0, "rep"), "rope rate"),
    ],
    ids=lambda value: value if isinstance(value, str) else value.mode,
)
def test_paces_outside_a_model_are_refused_unless_asked_for(effort: Effort, name: str) -> None:
    with pytest.raises(RangeError, match=name):
        power_of_w(effort, 75)
    assert power_of_w(effort, 75, extrapolate=True) > 0


def test_fewer_calories_than_the_screen_can_show() -> None:
    assert power_of_calories_w("row", 300) == 0
    with pytest.raises(RangeError, match="calories of the row is 299 cal/h"):
        power_of_calories_w("row", 299)
    with pytest.raises(RangeError, match="calories of the row"):
        power_of_w(Effort("row", 60, "cal"), 70)


def test_negative_numbers_are_refused() -> None:
    with pytest.raises(RangeError, match="amount"):
        energy_of_j(-1, Effort("run", 0.3), 70)
    with pytest.raises(RangeError, match="energy cost"):
        kcal_per_min(-1, 70)
    with pytest.raises(RangeError, match="power"):
        calories_per_h("row", -1)
    with pytest.raises(RangeError, match="power"):
        pace_s_per_m("row", 0)
    with pytest.raises(RangeError, match="body mass"):
        power_of_w(Effort("swim", 1.2), 0)


def test_every_mode_states_its_error() -> None:
    assert set(MET_OF_MODE) <= set(RELATIVE_ERROR)
    assert all(0 < error < 0.5 for error in RELATIVE_ERROR.values())


def test_body_mass_counts_for_running_and_not_for_rowing() -> None:
    run, row = Effort("run", 0.3), Effort("row", 0.26)
    assert power_of_w(run, 90) / power_of_w(run, 60) == pytest.approx(1.5)
    assert power_of_w(row, 90, net=True) == pytest.approx(power_of_w(row, 60, net=True))
