"""Share of body weight on the hands in push-ups against force plates.

Sources: ebben_2011 (highest force in the rep, 14 men and 9 women), suprak_2011, gouvali_2005, mier_2014 (held still),
planar_here (worked geometry). One rule for all versions: straight body, arms straight and square to the trunk, hand
force along the arm. The model's error is measured here and declared in `mechanics`; a row must lie within two of the
declared sigmas, since every published sd is smaller than the model's own error.
"""

import math
from dataclasses import replace

import pytest

from subgraph.models.body import Body
from subgraph.models.mechanics import (
    HAND_SHARE_ERRORS,
    HAND_SHARE_SIGMA,
    Posture,
    com_rise_m,
    force_on_hands,
    segment_positions,
    share_on_hands,
)

MAN, WOMAN = Body.mean("male"), Body.mean("female")
FLAT = Posture(20, ankle_deg=0, shoulder_deg=90, contacts=("hands", "feet"), hand_height_m=0)
POSTURES = {
    "hands-raised-60": replace(FLAT, hand_height_m=0.6096),
    "hands-raised-30": replace(FLAT, hand_height_m=0.3048),
    "flat": FLAT,
    "feet-raised-30": replace(FLAT, foot_height_m=0.3048),
    "feet-raised-60": replace(FLAT, foot_height_m=0.6096),
    "knees": Posture(30, shoulder_deg=90, contacts=("hands", "knees"), hand_height_m=0),
}

# row, version, who, published share of body weight
MEASURED = [
    ("ebben_hands60", "hands-raised-60", "both", 0.41),
    ("ebben_knees", "knees", "both", 0.49),
    ("ebben_hands30", "hands-raised-30", "both", 0.55),
    ("ebben_regular", "flat", "both", 0.64),
    ("ebben_feet30", "feet-raised-30", "both", 0.70),
    ("ebben_feet60", "feet-raised-60", "both", 0.74),
    ("suprak_regular_up", "flat", "male", 0.69),
    ("suprak_knees_up", "knees", "male", 0.54),
    ("gouvali_normal", "flat", "male", 0.664),
    ("gouvali_knees", "knees", "male", 0.529),
    ("mier_men_up", "flat", "male", 0.670),
    ("mier_men_knees_up", "knees", "male", 0.525),
    ("mier_women_up", "flat", "female", 0.651),
    ("mier_women_knees_up", "knees", "female", 0.515),
]


def modelled(version, who, **options):
    man, woman = (share_on_hands(b, POSTURES[version], **options) for b in (MAN, WOMAN))
    return {"male": man, "female": woman, "both": (14 * man + 9 * woman) / 23}[who]


def rms(misses):
    return math.sqrt(sum(m * m for m in misses) / len(misses))


@pytest.mark.parametrize(("row", "version", "who", "published"), MEASURED)
def test_share_on_the_hands(row, version, who, published):
    assert modelled(version, who) == pytest.approx(published, abs=2 * HAND_SHARE_SIGMA), row


@pytest.mark.parametrize("version", POSTURES)
def test_declared_error_of_each_version_is_the_measured_one(version):
    misses = [modelled(v, who) - published for _, v, who, published in MEASURED if v == version]
    assert sum(misses) / len(misses) == pytest.approx(HAND_SHARE_ERRORS[version], abs=0.0005)


def test_declared_sigma_is_the_measured_one():
    assert set(HAND_SHARE_ERRORS) == set(POSTURES)
    misses = [modelled(v, who) - published for _, v, who, published in MEASURED]
    assert rms(misses) == pytest.approx(HAND_SHARE_SIGMA, abs=0.0005)


def test_feet_versions_keep_the_published_order():  # ebben_order, less the knees
    order = ["hands-raised-60", "hands-raised-30", "flat", "feet-raised-30", "feet-raised-60"]
    shares = [modelled(v, "both") for v in order]
    assert shares == sorted(shares)
    assert modelled("hands-raised-60", "both") < modelled("knees", "both") < modelled("hands-raised-30", "both")


def test_vertical_arms_fail_as_the_evidence_says():  # planar_pushup_vertical_arms: 0.712 at any slope, 0.41 measured
    def vertical(version):
        low, high = 0.0, 120.0  # shoulder angle at which the hand stands below the shoulder
        for _ in range(50):
            middle = (low + high) / 2
            frame = segment_positions(MAN, replace(POSTURES[version], shoulder_deg=middle))
            low, high = (low, middle) if frame.wrist.x > frame.shoulder.x else (middle, high)
        return share_on_hands(MAN, replace(POSTURES[version], shoulder_deg=low))

    # the worked value pivots on the body's axis; a ball 0.12 m in front of it gives, at the steepest incline of 48
    # degrees, (0.712 - 0.093) / (1 - 0.093) = 0.682
    for version in ("flat", "hands-raised-30", "hands-raised-60", "feet-raised-30", "feet-raised-60"):
        assert vertical(version) == pytest.approx(0.712, abs=0.031)
    # planar_knee_pushup prints 0.572 where the table gives 0.588 (by hand: 0.550 m / 0.938 m); the reason is not known
    assert vertical("knees") == pytest.approx(0.572, abs=0.02)
    # held push-ups lie between arms square to the trunk and arms upright: Gouvali, Mier, Suprak
    for version, published in (("flat", (0.664, 0.670, 0.69)), ("knees", (0.525, 0.529, 0.54))):
        assert all(modelled(version, "male") < p < vertical(version) for p in published)


# planar_pushup_square_arms, planar_pushup_square_arms_force, planar_knee_pushup: same statics, foot on the body's axis.
WORKED = [
    ("hands-raised-60", 0.373, 0.351, 0.523),
    ("hands-raised-30", 0.516, 0.504, 0.611),
    ("flat", 0.627, 0.625, 0.672),
    ("feet-raised-30", 0.695, 0.699, 0.705),
    ("feet-raised-60", 0.709, 0.712, 0.710),
    ("knees", 0.453, 0.438, None),
]


@pytest.mark.parametrize(("version", "man", "woman", "man_along_arm"), WORKED)
def test_worked_geometry(version, man, woman, man_along_arm):
    # the ball lies 0.12 m before the body's axis here: four degrees of incline, 0.015 of the share; knees: rounding
    tolerance = 0.004 if version == "knees" else 0.015
    assert modelled(version, "male") == pytest.approx(man, abs=tolerance)
    assert modelled(version, "female") == pytest.approx(woman, abs=tolerance)
    if man_along_arm:
        assert force_on_hands(MAN, POSTURES[version]) == pytest.approx(man_along_arm, abs=0.025)


def test_taller_people_carry_more_on_a_box():  # ebben_hands60: r = 0.63 with stature
    shares = [share_on_hands(Body("male", s, 75), POSTURES["hands-raised-60"]) for s in (1.6, 1.7, 1.8, 1.9)]
    assert shares == sorted(shares)


def lowered(body, posture, elbow_deg):
    """Bend the elbows over hands that stay where they are; returns the posture with the shoulder angle found."""
    place = segment_positions(body, posture)
    hand = place.wrist.x
    low, high = -60.0, 80.0
    for _ in range(50):
        middle = (low + high) / 2
        here = segment_positions(body, replace(posture, shoulder_deg=middle, elbow_deg=elbow_deg)).wrist.x
        low, high = (middle, high) if here < hand else (low, middle)
    return replace(posture, shoulder_deg=low, elbow_deg=elbow_deg)


# low over high position, held still: suprak_ratio 1.085 (range 1.06 to 1.12), Mier 0.746/0.670 and 0.703/0.651
@pytest.mark.parametrize(
    ("row", "body", "published"),
    [("suprak_ratio", MAN, 1.085), ("mier_men", MAN, 0.746 / 0.670), ("mier_women", WOMAN, 0.703 / 0.651)],
)
def test_low_position_carries_more_than_high(row, body, published):
    under_shoulder = replace(FLAT, shoulder_deg=75)
    low = lowered(body, under_shoulder, 145)
    frame = segment_positions(body, low)
    assert 0.05 < frame.shoulder.y < 0.25, row
    ratio = share_on_hands(body, low, hand_force="vertical") / share_on_hands(
        body, under_shoulder, hand_force="vertical"
    )
    # Suprak's range of 1.06 to 1.12 is 0.03 either way; Mier's sd of 0.03 to 0.04 a share gives more
    assert ratio == pytest.approx(published, abs=0.06)
    assert com_rise_m(body, low, under_shoulder) > 0.1


def test_hand_place_along_the_body_moves_the_share():  # gouvali_posterior 0.73, normal 0.664, anterior 0.61
    def with_hands_at(shift_m):
        frame = segment_positions(MAN, FLAT)
        arm = math.dist(frame.wrist, frame.shoulder)
        return share_on_hands(MAN, replace(FLAT, shoulder_deg=90 + math.degrees(math.asin(shift_m / arm))))

    lower_chest_m = 0.5155 - 0.3612  # shoulder to lower end of the breastbone, along the trunk (table, man)
    back, forward = with_hands_at(-lower_chest_m), with_hands_at(lower_chest_m)
    assert forward < with_hands_at(0) < back
    assert back - forward == pytest.approx(0.73 - 0.61, abs=HAND_SHARE_SIGMA)


@pytest.mark.parametrize("body", [MAN, WOMAN])
def test_forearm_plank_carries_its_share(body):  # planar_plank: 0.71 (table), 0.66 to 0.70 (library)
    plank = Posture(10, ankle_deg=0, shoulder_deg=80, elbow_deg=90, contacts=("elbows", "feet"), hand_height_m=0)
    assert 0.66 - HAND_SHARE_SIGMA < share_on_hands(body, plank) < 0.71 + HAND_SHARE_SIGMA


def test_handstand_carries_all():  # handstand_hold
    assert share_on_hands(MAN, Posture(-90, shoulder_deg=180, contacts=("hands",))) == pytest.approx(1.0)
