import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from subgraph.models.body import Body
from subgraph.models.mechanics import (
    Posture,
    centre_of_mass,
    com_rise_m,
    force_on_hands,
    joint_moments,
    share_on_hands,
    support_forces,
    work_per_rep_j_per_kg,
)

bodies = st.builds(Body, st.sampled_from(["male", "female"]), st.floats(1.2, 2.3), st.floats(25, 250))
PRESS = Posture(20, ankle_deg=0, shoulder_deg=90, contacts=("hands", "feet"), hand_height_m=0)
KNEES = Posture(30, shoulder_deg=90, contacts=("hands", "knees"), hand_height_m=0)
free_postures = st.builds(
    Posture,
    trunk_deg=st.floats(0, 180),
    hip_deg=st.floats(0, 120),
    knee_deg=st.floats(0, 140),
    ankle_deg=st.floats(-40, 40),
    shoulder_deg=st.floats(-40, 180),
    elbow_deg=st.floats(0, 140),
    head_deg=st.floats(-40, 40),
)


@given(bodies, st.floats(0, 0.6), st.floats(0, 0.6), st.sampled_from([PRESS, KNEES]))
def test_raising_the_hands_never_increases_the_share(body, one, other, press):
    scale = body.stature_m / 1.741  # keeps the hands of the shortest within reach
    low, high = sorted((one * scale, other * scale))
    shares = [share_on_hands(body, replace(press, hand_height_m=h)) for h in (low, high)]
    assert shares[1] <= shares[0] + 1e-9
    assert all(0 < s < 1 for s in shares)


@given(bodies, st.floats(0, 0.25), st.floats(0, 0.25))
def test_raising_the_feet_never_decreases_the_share_while_the_body_slopes_up(body, one, other):
    scale = body.stature_m / 1.741
    low, high = sorted((one * scale, other * scale))
    shares = [share_on_hands(body, replace(PRESS, foot_height_m=h)) for h in (low, high)]
    assert shares[0] <= shares[1] + 1e-9


@given(bodies, st.floats(25, 250), free_postures, st.sampled_from([PRESS, KNEES]))
def test_scaling_mass_leaves_shares_work_and_moments_unchanged(body, mass_kg, posture, press):
    other = replace(body, mass_kg=mass_kg)
    assert share_on_hands(other, press) == pytest.approx(share_on_hands(body, press))
    start = Posture(90)
    assert work_per_rep_j_per_kg(other, start, posture) == pytest.approx(work_per_rep_j_per_kg(body, start, posture))
    assert joint_moments(other, posture) == joint_moments(body, posture)


@given(bodies, st.floats(1.2, 2.3), free_postures)
def test_a_longer_lever_never_carries_less_moment(body, stature_m, posture):
    short, long = (replace(body, stature_m=s) for s in sorted((body.stature_m, stature_m)))
    a, b = joint_moments(short, posture), joint_moments(long, posture)
    for name in ("shoulder_nm_per_kg", "lumbar_nm_per_kg", "hip_nm_per_kg", "knee_nm_per_kg"):
        assert abs(getattr(b, name)) >= abs(getattr(a, name)) - 1e-9


@given(bodies, st.floats(10, 90), st.floats(10, 90))  # from 0 to 2 degrees the upright foot still swings outwards
def test_bending_the_knees_never_makes_a_leg_raise_harder(body, one, other):
    straighter, bent = sorted((one, other))
    lying = {"contacts": ("trunk", "seat")}
    moments = [abs(joint_moments(body, Posture(180, knee_deg=k, **lying)).hip_nm_per_kg) for k in (straighter, bent)]
    assert moments[1] <= moments[0] + 1e-9


@given(bodies, st.floats(0, 90), st.floats(0, 90), st.floats(0, 60))
def test_raising_the_arm_towards_level_never_eases_the_shoulder(body, one, other, load_kg):
    lower, higher = sorted((one, other))
    moments = [joint_moments(body, Posture(90, shoulder_deg=a), load_kg=load_kg) for a in (lower, higher)]
    assert moments[0].shoulder_nm_per_kg <= moments[1].shoulder_nm_per_kg + 1e-9


@given(bodies, st.floats(0, 90), st.floats(0, 90), st.floats(0, 150))
def test_leaning_further_never_eases_the_back(body, one, other, load_kg):
    upright, leaning = sorted((one, other))
    moments = [
        joint_moments(body, Posture(90 - a, hip_deg=a), load_kg=load_kg, load_at="shoulders").lumbar_nm_per_kg
        for a in (upright, leaning)
    ]
    assert moments[0] <= moments[1] + 1e-9


@given(bodies, free_postures, free_postures)
def test_there_and_back_rises_by_nothing(body, one, other):
    assert com_rise_m(body, one, other) == pytest.approx(-com_rise_m(body, other, one))
    assert work_per_rep_j_per_kg(body, one, other) == pytest.approx(9.81 * abs(com_rise_m(body, one, other)))


@given(
    bodies, st.floats(0, 0.5), st.floats(0, 200), st.sampled_from(["arm", "vertical"]), st.sampled_from([PRESS, KNEES])
)
def test_two_supports_carry_the_weight_without_turning(body, height, load_kg, hand_force, press):
    posture = replace(press, hand_height_m=height * body.stature_m / 1.741)
    options = {"hand_force": hand_force, "load_kg": load_kg, "load_at": "shoulders"}
    hands, lower = support_forces(body, posture, **options)
    assert hands.vertical + lower.vertical == pytest.approx(1 + load_kg / body.mass_kg)
    assert hands.horizontal + lower.horizontal == pytest.approx(0, abs=1e-12)
    assert force_on_hands(body, posture, **options) >= share_on_hands(body, posture, **options) - 1e-12
    if press is PRESS:
        com = centre_of_mass(body, posture, load_kg=load_kg, load_at="shoulders")
        turning = (hands.at.x - lower.at.x) * hands.vertical - (hands.at.y - lower.at.y) * hands.horizontal
        assert turning == pytest.approx((com.x - lower.at.x) * (1 + load_kg / body.mass_kg), abs=1e-9)


@given(bodies, free_postures)
def test_centre_of_mass_stays_within_reach(body, posture):
    com = centre_of_mass(body, posture)
    assert math.hypot(com.x, com.y) < body.stature_m
