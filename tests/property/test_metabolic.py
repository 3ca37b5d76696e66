import pytest
from hypothesis import given
from hypothesis import strategies as st

from subgraph.models.metabolic import (
    GAITS,
    LIMBS,
    STEP_HEIGHT_M,
    STEP_PER_MIN,
    Gait,
    Limbs,
    cycling_power_w,
    gait_grade,
    gait_speed_m_per_s,
    oxygen_of_cycling,
    oxygen_of_gait,
    oxygen_of_stepping,
    stepping_rate_per_min,
)

unit = st.floats(0, 1)
gaits = st.sampled_from(sorted(GAITS))
limbs = st.sampled_from(sorted(LIMBS))
masses = st.floats(30, 250)


def between(range_: tuple[float, float], share: float) -> float:
    low, high = range_
    return min(high, low + share * (high - low))


@given(gaits, unit, unit)
def test_speed_comes_back_from_uptake(gait: Gait, speed: float, grade: float) -> None:
    v, g = between(GAITS[gait].speed_m_per_min, speed) / 60, between(GAITS[gait].grade, grade)
    assert gait_speed_m_per_s(gait, oxygen_of_gait(gait, v, g), g) == pytest.approx(v)


@given(gaits, unit, st.floats(0.01, 0.99))
def test_grade_comes_back_from_uptake(gait: Gait, speed: float, grade: float) -> None:
    v, g = between(GAITS[gait].speed_m_per_min, speed) / 60, between(GAITS[gait].grade, grade)
    assert gait_grade(gait, oxygen_of_gait(gait, v, g), v) == pytest.approx(g, abs=1e-9)


@given(limbs, st.floats(0.001, 0.999), masses)
def test_power_comes_back_from_uptake(limb: Limbs, power: float, mass: float) -> None:
    watts = between(LIMBS[limb].power_w, power)
    assert cycling_power_w(limb, oxygen_of_cycling(limb, watts, mass), mass) == pytest.approx(watts)


@given(st.floats(0.001, 0.999), unit)
def test_step_rate_comes_back_from_uptake(rate: float, height: float) -> None:
    f, h = between(STEP_PER_MIN, rate), between(STEP_HEIGHT_M, height)
    assert stepping_rate_per_min(oxygen_of_stepping(f, h), h) == pytest.approx(f)


@given(gaits, unit, unit, unit)
def test_going_faster_or_steeper_never_takes_less(gait: Gait, a: float, b: float, grade: float) -> None:
    slow, fast = (between(GAITS[gait].speed_m_per_min, x) / 60 for x in sorted((a, b)))
    g = between(GAITS[gait].grade, grade)
    assert oxygen_of_gait(gait, slow, g) <= oxygen_of_gait(gait, fast, g) + 1e-12
    assert oxygen_of_gait(gait, slow) <= oxygen_of_gait(gait, slow, g) + 1e-12


@given(limbs, unit, unit, masses)
def test_more_power_never_takes_less(limb: Limbs, a: float, b: float, mass: float) -> None:
    low, high = (between(LIMBS[limb].power_w, x) for x in sorted((a, b)))
    assert oxygen_of_cycling(limb, low, mass) <= oxygen_of_cycling(limb, high, mass) + 1e-12
