import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from subgraph.models.lifts import convert_load_kg, convert_reps
from subgraph.models.load import (
    EQUATIONS,
    Method,
    load_kg_for_reps,
    on_the_rack,
    one_rep_max_band_kg,
    one_rep_max_kg,
    reps_at_share,
    share_of_max,
)

methods = st.sampled_from(["chart", *EQUATIONS])
reps = st.floats(1, 10)
many_reps = st.floats(1, 30)
loads = st.floats(1, 400)


@given(methods, many_reps)
def test_reps_come_back_from_share(method: Method, n: float) -> None:
    share = share_of_max(n, method=method, extrapolate=True)
    assert reps_at_share(share, method=method, extrapolate=True) == pytest.approx(n)


@given(methods, many_reps, many_reps)
def test_more_reps_never_bear_more_load(method: Method, a: float, b: float) -> None:
    few, many = sorted((a, b))
    high, low = (share_of_max(n, method=method, extrapolate=True) for n in (few, many))
    assert 0 < low <= high <= 1


@given(methods, loads, reps, st.floats(0, 3))
def test_load_comes_back_from_the_maximum(method: Method, load: float, n: float, reserve: float) -> None:
    maximum = one_rep_max_kg(load, n, reserve_reps=reserve, method=method, extrapolate=True)
    assert maximum >= load
    assert load_kg_for_reps(maximum, n, reserve_reps=reserve, method=method, extrapolate=True) == pytest.approx(load)


@given(loads, loads, reps)
def test_a_heavier_set_means_a_greater_maximum(a: float, b: float, n: float) -> None:
    light, heavy = sorted((a, b))
    assert one_rep_max_kg(light, n) <= one_rep_max_kg(heavy, n)


@given(loads, reps)
def test_band_is_ordered_and_holds_the_chart(load: float, n: float) -> None:
    low, high = one_rep_max_band_kg(load, n)
    assert load <= low <= one_rep_max_kg(load, n) <= high


@given(loads, reps, st.floats(0.2, 1.5), reps, methods)
@example(2.0, 1.0, 0.9, 1.0, "chart")
@example(1.0, 9.9, 1.1, 1.0, "epley")
@example(1.0, 7.0, 1.0, 1.0, "chart")
def test_conversion_there_and_back(load: float, n: float, ratio: float, wanted: float, method: Method) -> None:
    other = convert_load_kg(load, n, ratio, wanted, method=method)
    assert convert_load_kg(other, wanted, 1 / ratio, n, method=method) == pytest.approx(load)
    assert convert_reps(load, n, ratio, other, method=method, extrapolate=True) == pytest.approx(wanted)


@given(st.floats(5, 400), st.sampled_from(["kg", "lb"]), st.sampled_from([1.0, 2.5, 5.0]))
def test_the_rack_is_near_and_never_much_heavier(load_kg: float, unit: str, step: float) -> None:
    on = on_the_rack(load_kg, unit="lb" if unit == "lb" else "kg", step=step)
    wanted = load_kg / 0.45359237 if unit == "lb" else load_kg
    assert on / step == round(on / step)
    assert on <= max(step, wanted * 1.05)
    assert wanted - on <= step
