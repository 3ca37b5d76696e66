import dataclasses
import math
import subprocess
import sys

import pytest

from subgraph.errors import AskError, RangeError, UnknownNameError
from subgraph.models.body import Body
from subgraph.models.mechanics import (
    Posture,
    aim_arms,
    centre_of_mass,
    com_rise_m,
    force_on_hands,
    joint_moments,
    posture_from_mapping,
    segment_positions,
    share_on_hands,
    support_forces,
    work_per_rep_j_per_kg,
)

MAN = Body.mean("male")
STANDING = Posture(90)
PRESS = Posture(20, ankle_deg=0, shoulder_deg=90, contacts=("hands", "feet"), hand_height_m=0)


# --- bodies ---


@pytest.mark.parametrize(
    ("stature", "mass", "message"),
    [
        (5.0, 80, "stature is 5 m; the accepted range is 1.2 to 2.3 m"),
        (1.1, 80, "stature is 1.1 m; the accepted range is 1.2 to 2.3 m"),
        (1.8, 0, "body mass is 0 kg; the accepted range is 25 to 250 kg"),
        (1.8, 251, "body mass is 251 kg; the accepted range is 25 to 250 kg"),
        (1.8, -80, "body mass is -80 kg; the accepted range is 25 to 250 kg"),
        (math.nan, 80, "stature is nan m; the accepted range is 1.2 to 2.3 m"),
        (1.8, math.inf, "body mass is inf kg; the accepted range is 25 to 250 kg"),
    ],
)
def test_impossible_body_names_the_accepted_range(stature, mass, message):
    with pytest.raises(RangeError) as caught:
        Body("male", stature, mass)
    assert str(caught.value) == message


def test_unknown_sex_names_both():
    with pytest.raises(UnknownNameError, match="use one of male, female"):
        Body("man", 1.8, 80)


def test_unknown_segment_lists_the_table():
    with pytest.raises(UnknownNameError, match="use one of head, trunk"):
        MAN.fraction("calf")


@pytest.mark.parametrize("cls", [Body, Posture])
def test_types_are_frozen_and_slotted(cls):
    assert cls.__dataclass_params__.frozen
    assert "__slots__" in vars(cls)


# --- postures from plain values ---


def test_mapping_gives_the_same_posture():
    written = {"trunk_deg": 20, "ankle_deg": 0, "shoulder_deg": 90, "contacts": ["hands", "feet"], "hand_height_m": 0}
    assert posture_from_mapping(written) == PRESS


def test_one_contact_may_stand_without_a_list():
    assert posture_from_mapping({"trunk_deg": 90, "contacts": "seat"}).contacts == ("seat",)


def test_every_field_can_be_written():
    written = {f.name: getattr(PRESS, f.name) for f in dataclasses.fields(PRESS)}
    assert posture_from_mapping(written) == PRESS


@pytest.mark.parametrize(
    ("mapping", "error", "message"),
    [
        (
            {"trunk_deg": 90, "nee_deg": 90},
            UnknownNameError,
            "no posture field is called 'nee_deg'; did you mean 'knee_deg'?",
        ),
        ({"trunk": 90}, UnknownNameError, "no posture field is called 'trunk'; did you mean 'trunk_deg'?"),
        (
            {"trunk_deg": 90, "contacts": ["foot"]},
            UnknownNameError,
            "no contact is called 'foot'; use one of hang, hands, elbows, trunk, seat, knees, feet",
        ),
        (
            {"trunk_deg": 90, "contacts": ["hand"]},
            UnknownNameError,
            "no contact is called 'hand'; did you mean 'hands'?",
        ),
        (
            {"trunk_deg": 90, "knee_deg": 200},
            RangeError,
            "knee_deg is 200 deg; the accepted range is -10 to 165 deg",
        ),
        (
            {"trunk_deg": 90, "hand_height_m": 60},
            RangeError,
            "hand_height_m is 60 m; the accepted range is -1 to 6 m",
        ),
        (
            {"hip_deg": 10},
            AskError,
            "trunk_deg is missing; give it in degrees from the horizontal: 90 upright, 0 face down",
        ),
        ({"trunk_deg": "90"}, AskError, "trunk_deg is '90'; give a number of degrees"),
        ({"trunk_deg": True}, AskError, "trunk_deg is True; give a number of degrees"),
        ({"trunk_deg": None}, AskError, "trunk_deg is None; give a number of degrees"),
        ({"trunk_deg": 90, "foot_height_m": None}, AskError, "foot_height_m is None; give a number of metres"),
        (
            {"trunk_deg": 90, "contacts": 3},
            AskError,
            "contacts is 3; give a list of hang, hands, elbows, trunk, seat, knees, feet",
        ),
        (
            {"trunk_deg": 90, "contacts": []},
            AskError,
            "contacts are []; name what carries the body, each contact once",
        ),
        (
            {"trunk_deg": 90, "contacts": ["feet", "feet"]},
            AskError,
            "contacts are ['feet', 'feet']; name what carries the body, each contact once",
        ),
        (
            {"trunk_deg": 90, "contacts": ["hands", "seat", "feet"]},
            AskError,
            "contacts hands, seat, feet are more than two supports, whose shares statics cannot tell; "
            "keep the two that carry most",
        ),
        ([90], AskError, "a posture is written as a mapping, not [90]; for example {trunk_deg: 90}"),
    ],
)
def test_wrong_mapping_says_what_and_how_to_mend(mapping, error, message):
    with pytest.raises(error) as caught:
        posture_from_mapping(mapping)
    assert type(caught.value) is error
    assert str(caught.value) == message


def test_nan_angle_is_out_of_range():
    with pytest.raises(RangeError, match="hip_deg is nan deg"):
        Posture(90, hip_deg=math.nan)


def test_feet_rest_where_knees_carry():
    assert Posture(30, contacts=("hands", "knees", "feet")).supports == ("hands", "knees")


# --- places ---


def test_standing_body_is_as_tall_as_its_stature():
    for sex in ("male", "female"):
        body = Body(sex, 1.66, 70)
        frame = segment_positions(body, STANDING)
        assert frame.vertex.y == pytest.approx(1.66)
        assert frame.heel.y == pytest.approx(0)
        assert frame.shoulder.x == pytest.approx(0)


def test_flexion_folds_to_the_front():
    frame = segment_positions(MAN, Posture(90, hip_deg=90, knee_deg=90, shoulder_deg=90, elbow_deg=90, head_deg=30))
    assert frame.knee.x > frame.hip.x
    assert frame.ankle.y < frame.knee.y
    assert frame.elbow.x > frame.shoulder.x
    assert frame.wrist.y > frame.elbow.y
    assert frame.vertex.x > frame.neck.x
    assert frame.toe.x > frame.ball.x > frame.ankle.x > frame.heel.x


def test_body_turns_until_hands_and_feet_touch():
    frame = segment_positions(MAN, dataclasses.replace(PRESS, hand_height_m=0.4, foot_height_m=0.1))
    assert frame.wrist.y == pytest.approx(0.4)
    assert frame.ball.y == pytest.approx(0.1)


def test_first_guess_only_picks_the_side():
    near = dataclasses.replace(PRESS, trunk_deg=45)
    assert share_on_hands(MAN, near) == pytest.approx(share_on_hands(MAN, PRESS))


def test_without_a_hand_height_the_angles_stand():
    frame = segment_positions(MAN, dataclasses.replace(PRESS, hand_height_m=None, trunk_deg=33))
    assert frame.trunk_deg == 33


def test_hands_out_of_reach_name_the_reach():
    with pytest.raises(RangeError, match=r"height of the hands is 5 m; the accepted range is .* m; with these joint"):
        segment_positions(MAN, dataclasses.replace(PRESS, hand_height_m=5))


def test_level_sole_beyond_the_ankle_asks_for_the_angle():
    with pytest.raises(RangeError, match=r"keeps the sole level is 70\.8"):
        segment_positions(MAN, dataclasses.replace(PRESS, ankle_deg=None))


def test_hang_puts_the_grip_at_the_bar():
    hang = Posture(90, shoulder_deg=180, contacts=("hang",), hand_height_m=2.4)
    assert segment_positions(MAN, hang).grip.y == pytest.approx(2.4)


def test_strap_points_at_its_anchor():
    lean = aim_arms(
        MAN, Posture(130, ankle_deg=0, contacts=("hang", "feet")), anchor_height_m=2.4, anchor_forward_m=0.3
    )
    frame = segment_positions(MAN, lean)
    along = math.atan2(frame.grip.y - frame.shoulder.y, frame.grip.x - frame.shoulder.x)
    assert along == pytest.approx(math.atan2(2.4 - frame.shoulder.y, 0.3 - frame.shoulder.x))


# --- forces, work, moments ---


def test_forces_balance():
    hands, feet = support_forces(MAN, PRESS)
    assert hands.vertical + feet.vertical == pytest.approx(1)
    assert hands.horizontal == pytest.approx(-feet.horizontal)
    assert force_on_hands(MAN, PRESS) == pytest.approx(math.hypot(hands.horizontal, hands.vertical))


def test_no_hands_carry_nothing():
    assert share_on_hands(MAN, STANDING) == 0
    assert force_on_hands(MAN, STANDING) == 0


def test_load_on_the_shoulders_adds_to_the_hands():
    bare, loaded = (share_on_hands(MAN, PRESS, load_kg=kg) for kg in (0, 20))
    assert bare < loaded < bare + 20 / MAN.mass_kg


def test_force_through_the_feet_cannot_balance():
    with pytest.raises(AskError, match="passes through the feet"):
        support_forces(MAN, Posture(90, contacts=("hands", "feet")))


def test_unknown_choices_are_named():
    with pytest.raises(AskError, match="use one of arm, vertical"):
        support_forces(MAN, PRESS, hand_force="up")
    with pytest.raises(AskError, match="use one of hands, shoulders"):
        centre_of_mass(MAN, STANDING, load_kg=1, load_at="hips")
    with pytest.raises(RangeError, match="load is -1 kg; the accepted range is 0 to 500 kg"):
        work_per_rep_j_per_kg(MAN, STANDING, STANDING, load_kg=-1)


def test_load_adds_its_own_rise():
    squat = Posture(45, hip_deg=135, knee_deg=125)
    bar_rise = segment_positions(MAN, STANDING).shoulder.y - segment_positions(MAN, squat).shoulder.y
    bare = work_per_rep_j_per_kg(MAN, squat, STANDING)
    loaded = work_per_rep_j_per_kg(MAN, squat, STANDING, load_kg=36.5, load_at="shoulders")
    assert loaded - bare == pytest.approx(9.81 * 0.5 * bar_rise)  # 36.5 kg on 73 kg


def test_pull_up_lifts_all_but_the_forearms():
    low = Posture(90, shoulder_deg=180, contacts=("hang",), hand_height_m=2.4)
    high = dataclasses.replace(low, shoulder_deg=30, elbow_deg=150)
    rise = segment_positions(MAN, high).hip.y - segment_positions(MAN, low).hip.y
    assert 0.9 < com_rise_m(MAN, low, high) / rise < 1.0


def test_upright_body_needs_no_moment_at_hip_and_knee():
    moments = joint_moments(MAN, STANDING)
    assert dataclasses.astuple(moments) == pytest.approx((0, 0, 0, 0), abs=1e-9)


def test_moment_is_the_same_seen_from_either_side_of_the_joint():
    # held over the feet alone the upper side is weighed, hanging the lower: lean the same angles, compare by balance
    bend = Posture(30, hip_deg=60)
    upper = joint_moments(MAN, bend).hip_nm_per_kg
    frame, com = segment_positions(MAN, bend), centre_of_mass(MAN, bend)
    legs = [
        MAN.fraction(n) * (c.x - frame.hip.x)
        for n, c in zip(("thigh", "shank", "foot"), frame.centres[6:], strict=True)
    ]
    lower = 9.81 * ((com.x - frame.hip.x) - sum(legs))
    assert upper == pytest.approx(lower)


def test_bridge_is_held_by_hip_extensors_and_plank_by_flexors():
    bridge = Posture(160, hip_deg=-10, knee_deg=80, contacts=("trunk", "feet"))
    plank = Posture(10, ankle_deg=0, shoulder_deg=80, elbow_deg=90, contacts=("elbows", "feet"), hand_height_m=0)
    assert joint_moments(MAN, bridge).hip_nm_per_kg > 0
    assert joint_moments(MAN, plank).hip_nm_per_kg < 0


def test_spine_that_lies_carries_what_the_hips_do():
    raised = joint_moments(MAN, Posture(180, contacts=("trunk", "seat")))
    assert raised.lumbar_nm_per_kg == raised.hip_nm_per_kg < -1
    assert joint_moments(MAN, Posture(180, contacts=("trunk",))).lumbar_nm_per_kg != raised.lumbar_nm_per_kg


def test_sitting_balanced_takes_the_heavier_side():
    seated = joint_moments(MAN, Posture(180, contacts=("seat",)))
    legs_only = joint_moments(MAN, Posture(180, contacts=("trunk", "seat")))
    assert seated.hip_nm_per_kg < legs_only.hip_nm_per_kg < 0
    assert seated.knee_nm_per_kg == pytest.approx(legs_only.knee_nm_per_kg)


def test_press_along_the_arm_leaves_the_shoulder_only_the_arm():
    arm_only = abs(joint_moments(MAN, PRESS).shoulder_nm_per_kg)
    assert arm_only < 0.3
    upright = joint_moments(MAN, dataclasses.replace(PRESS, shoulder_deg=60), hand_force="vertical")
    assert abs(upright.shoulder_nm_per_kg) > arm_only


def test_models_import_neither_numpy_nor_the_library():
    code = (
        "import sys, subgraph.models.mechanics;"
        "print([m for m in ('numpy', 'yaml', 'subgraph.library') if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
