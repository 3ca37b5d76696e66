import pytest
from hypothesis import given
from hypothesis import strategies as st

from subgraph.models.energy import Effort, amount_for_equal_energy, energy_of_j, power_of_w
from subgraph.models.ergometer import (
    MACHINES,
    Machine,
    calories_per_h,
    pace_s_per_m,
    power_of_calories_w,
    power_shown_w,
)

masses = st.floats(40, 150)
amounts = st.floats(1, 10_000)
machines = st.sampled_from(sorted(MACHINES))
watts = st.floats(1, 600)

efforts = st.one_of(
    st.builds(Effort, st.just("run"), st.floats(0.18, 0.7)),
    st.builds(Effort, st.just("walk"), st.floats(0.62, 1.1)),
    st.builds(Effort, st.sampled_from(["row", "ski"]), st.floats(0.2, 0.35)),
    st.builds(Effort, st.just("bike-ergometer"), st.floats(0.1, 0.2)),
    st.builds(Effort, st.just("air-bike"), st.floats(2.5, 12), st.just("cal")),
    st.builds(Effort, st.just("row"), st.floats(2.5, 9), st.just("cal")),
    st.builds(Effort, st.just("stairs"), st.floats(0.6, 1.0), st.just("rep")),
    st.builds(Effort, st.just("rope"), st.floats(0.375, 0.85), st.just("rep")),
    st.builds(Effort, st.sampled_from(["swim", "swim-easy"]), st.floats(0.8, 3)),
)


@given(efforts, efforts, masses, amounts)
def test_there_and_back_is_the_same_amount(a: Effort, b: Effort, mass: float, amount: float) -> None:
    there = amount_for_equal_energy(amount, a, b, mass, extrapolate=True)
    assert amount_for_equal_energy(there, b, a, mass, extrapolate=True) == pytest.approx(amount)


@given(efforts, efforts, efforts, masses)
def test_a_way_round_gives_the_same_ratio(a: Effort, b: Effort, c: Effort, mass: float) -> None:
    direct = amount_for_equal_energy(1, a, c, mass, extrapolate=True)
    round_ = amount_for_equal_energy(1, a, b, mass, extrapolate=True)
    assert amount_for_equal_energy(round_, b, c, mass, extrapolate=True) == pytest.approx(direct)


@given(efforts, masses, amounts, amounts)
def test_more_takes_more(effort: Effort, mass: float, a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert energy_of_j(low, effort, mass, extrapolate=True) <= energy_of_j(high, effort, mass, extrapolate=True)


@given(efforts, masses)
def test_net_power_is_less_than_gross_and_positive(effort: Effort, mass: float) -> None:
    gross = power_of_w(effort, mass, extrapolate=True)
    assert 0 < power_of_w(effort, mass, net=True, extrapolate=True) < gross


@given(efforts, masses, st.floats(0.7, 1.0))
def test_a_quicker_pace_never_takes_less_power(effort: Effort, mass: float, share: float) -> None:
    quicker = Effort(effort.mode, effort.pace_s * share, effort.unit)
    slow, fast = (power_of_w(e, mass, extrapolate=True) for e in (effort, quicker))
    assert slow <= fast * (1 + 1e-12)


@given(machines, watts)
def test_pace_and_calories_come_back(machine: Machine, power_w: float) -> None:
    assert power_shown_w(machine, pace_s_per_m(machine, power_w)) == pytest.approx(power_w)
    assert power_of_calories_w(machine, calories_per_h(machine, power_w)) == pytest.approx(power_w)
