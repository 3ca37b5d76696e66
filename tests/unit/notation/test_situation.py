"""Flags and free words: what is missing, what hurts, what is not owned; and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from subgraph.errors import AskError, UnknownNameError
from subgraph.library.compile import Compiled
from subgraph.notation.ask import read_ask
from subgraph.notation.situation import LONGEST_SAYING, Situation, read_situation
from subgraph.options import options
from subgraph.referral import refer
from subgraph.today import Filter, Today, Told


def read(compiled: Compiled, **flags: Any) -> Today:
    return read_situation(compiled, **flags).today


def refuse(compiled: Compiled, **flags: Any) -> AskError:
    """The one clear line that a flag is refused with."""
    with pytest.raises(AskError) as caught:
        read_situation(compiled, **flags)
    said = str(caught.value)
    assert "\n" not in said
    assert said.isprintable()
    assert len(said) < 400
    return caught.value


def test_nothing_told_is_an_ordinary_day(compiled: Compiled) -> None:
    assert read_situation(compiled) == Situation(Today(), "", ())


# --- equipment -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("without", "ids"),
    [
        (["rig"], {"rig"}),
        (["Pull-up bar", "jump rope"], {"pull-up-bar", "skipping-rope"}),
        (["pull up bar, rope ,DBs"], {"pull-up-bar", "skipping-rope", "dumbbell"}),
        (["rower,rowing machine"], {"rowing-ergometer"}),
        ([""], set()),
        ([","], set()),
    ],
)
def test_missing_equipment_by_any_usual_name(compiled: Compiled, without: list[str], ids: set[str]) -> None:
    assert read(compiled, without=without).without == ids


@pytest.mark.parametrize(
    ("only", "stock"),
    [
        (["dumbbell"], {"dumbbell": 0}),
        (["1 dumbbell"], {"dumbbell": 1}),
        (["2 dumbbells"], {"dumbbell": 2}),
        (["2x dumbbells"], {"dumbbell": 2}),
        (["two kettlebells"], {"kettlebell": 2}),
        (["one kettlebell"], {"kettlebell": 1}),
        (["a single kettlebell"], {"kettlebell": 1}),
        (["a pair of dumbbells"], {"dumbbell": 2}),
        (["pair of dumbbells"], {"dumbbell": 2}),
        (["a barbell, 1 kettlebell"], {"barbell": 1, "kettlebell": 1}),
        (["dumbbell", "2 dumbbells"], {"dumbbell": 2}),
        (["nothing"], {}),
        (["no equipment"], {}),
        (["bodyweight"], {}),
    ],
)
def test_what_is_on_hand_with_its_count(compiled: Compiled, only: list[str], stock: dict[str, int]) -> None:
    assert read(compiled, only=only).only == stock


def test_rig_on_hand_brings_what_hangs_from_it(compiled: Compiled) -> None:
    only = read(compiled, only=["rig"]).only
    assert only is not None
    assert {"rig", *compiled.library.equipment["rig"].holds} == set(only)


def test_nothing_on_hand_is_not_the_same_as_not_told(compiled: Compiled) -> None:
    assert read(compiled, only=["nothing"]).only == {}
    assert read(compiled, only=None).only is None


@pytest.mark.parametrize("only", [["0 dumbbells"], ["-1 dumbbells"], ["zero dumbbells"], ["no dumbbells"]])
def test_no_dumbbells_are_never_plenty(compiled: Compiled, only: list[str]) -> None:
    try:
        stock = read(compiled, only=only).only
    except AskError:
        return
    assert stock == {}


@pytest.mark.parametrize("flag", ["without", "only"])
def test_unknown_equipment_says_the_nearest(compiled: Compiled, flag: str) -> None:
    error = refuse(compiled, **{flag: ["rigg"]})
    assert isinstance(error, UnknownNameError)
    assert error.nearest[0] == "rig"
    assert str(error).startswith("no equipment is called 'rigg'; nearest: rig")


def test_one_unknown_among_known_is_refused(compiled: Compiled) -> None:
    assert "hoverboard" in str(refuse(compiled, without=["rig, hoverboard"]))


def test_near_spelling_is_taken_and_told(compiled: Compiled) -> None:
    situation = read_situation(compiled, without=["barbel"])
    assert situation.today.without == {"barbell"}
    assert situation.notes == ("'barbel' read as barbell",)


@pytest.mark.parametrize("only", [["rig"], ["nothing"]])
def test_only_and_without_contradict(compiled: Compiled, only: list[str]) -> None:
    error = refuse(compiled, only=only, without=["rope"])
    assert str(error) == "what is on hand is given twice (only and without); use --only or --without, not both"


# --- complaints ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("complaints", "told"),
    [
        (["shoulder"], (Told("shoulder"),)),
        (["Shoulder"], (Told("shoulder"),)),
        (["shoulder:overhead"], (Told("shoulder", ("overhead",)),)),
        (["shoulder : arms overhead"], (Told("shoulder", ("overhead",)),)),
        (["shoulder, overhead"], (Told("shoulder", ("overhead",)),)),
        (["shoulder", "overhead", "kipping"], (Told("shoulder", ("overhead", "kipping")),)),
        (["overhead"], (Told(None, ("overhead",)),)),
        ([":overhead"], (Told(None, ("overhead",)),)),
        (["shoulder:"], (Told("shoulder"),)),
        (["knee:bending"], (Told("knee", ("knee-bend",)),)),
        (["knee", "bending"], (Told("knee", ("knee-bend",)),)),
        (["low back:bending"], (Told("low-back", ("bending",)),)),
        (["shoulder:overhead", "knee"], (Told("shoulder", ("overhead",)), Told("knee"))),
        ([""], ()),
    ],
)
def test_complaint_with_or_without_what_provokes_it(
    compiled: Compiled, complaints: list[str], told: tuple[Told, ...]
) -> None:
    assert read(compiled, complaints=complaints).complaints == told


def test_near_spelling_of_a_complaint_is_told(compiled: Compiled) -> None:
    situation = read_situation(compiled, complaints=["sholder"])
    assert situation.today.complaints == (Told("shoulder"),)
    assert situation.notes == ("'sholder' read as sore shoulder",)


@pytest.mark.parametrize(("typed", "nearest"), [("elbo", "elbow"), ("kne", "knee")])
def test_unknown_complaint_says_the_nearest(compiled: Compiled, typed: str, nearest: str) -> None:
    error = refuse(compiled, complaints=[typed])
    assert nearest in error.nearest
    assert f"no complaint is called '{typed}'; nearest:" in str(error)


@pytest.mark.parametrize("typed", ["elbo", "kne", "bakk"])
def test_inner_sign_of_a_provocation_is_never_shown(compiled: Compiled, typed: str) -> None:
    error = refuse(compiled, complaints=[typed])
    assert "~" not in str(error)
    assert not any("~" in name for name in error.nearest)


def test_unknown_provocation_is_refused(compiled: Compiled) -> None:
    assert "no provocation is called 'zorblax'" in str(refuse(compiled, complaints=["shoulder:zorblax"]))


@pytest.mark.parametrize("typed", [":", " : ", "!!"])
def test_complaint_without_a_word(compiled: Compiled, typed: str) -> None:
    refuse(compiled, complaints=[typed])


@pytest.mark.parametrize("typed", ["chest pain", "knee, chest pain", "worst headache ever"])
def test_red_flag_told_as_a_complaint_is_no_error_and_is_passed_on(compiled: Compiled, typed: str) -> None:
    situation = read_situation(compiled, complaints=[typed])
    assert typed.split(", ")[-1] in situation.says


def test_complaints_as_typed_are_heard_with_what_was_said(compiled: Compiled) -> None:
    says = read_situation(compiled, complaints=["shoulder:overhead"], says="it clicks").says
    assert "it clicks" in says
    assert "shoulder overhead" in says


@pytest.mark.parametrize("mood", ["settled", "sore", "flared", "Flared", " sore "])
def test_how_irritable_it_is(compiled: Compiled, mood: str) -> None:
    assert read(compiled, irritability=mood).irritability == mood.strip().lower()


@pytest.mark.parametrize("mood", ["angry", "", "sored"])
def test_unknown_irritability_lists_the_three(compiled: Compiled, mood: str) -> None:
    assert str(refuse(compiled, irritability=mood)).endswith("one of: settled, sore, flared")


# --- the rest ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("level", "id_"),
    [("beginner", "novice"), ("Regular", "regular"), ("advanced", "advanced"), ("", None), (None, None)],
)
def test_level_by_any_usual_name(compiled: Compiled, level: str | None, id_: str | None) -> None:
    assert read(compiled, level=level).level == id_


@pytest.mark.parametrize(
    ("intent", "id_"), [("cardio", "conditioning"), ("warm up", "warm-up"), ("Strength", "strength"), (None, None)]
)
def test_intent_by_any_usual_name(compiled: Compiled, intent: str | None, id_: str | None) -> None:
    assert read(compiled, intent=intent).intent == id_


def test_what_is_not_owned(compiled: Compiled) -> None:
    assert read(compiled, cannot=["kip swing", "DU, T2B"]).cannot == {"kip-swing", "double-under", "toes-to-bar"}


def test_limits_by_any_usual_name(compiled: Compiled) -> None:
    assert read(compiled, limits=["no jumps,quiet", "low ceiling"]).limits == {"no-jumping", "quiet", "low-ceiling"}


@pytest.mark.parametrize(
    "flags",
    [
        {"level": "godlike"},
        {"intent": "fun"},
        {"cannot": ["zorblax"]},
        {"cannot": ["single arm"]},
        {"limits": ["no-flying"]},
        {"without": ["!!"]},
    ],
)
def test_unknown_word_is_refused(compiled: Compiled, flags: dict[str, Any]) -> None:
    assert refuse(compiled, **flags).mend


@pytest.mark.parametrize("flag", ["without", "only", "complaints", "cannot", "limits"])
def test_ten_kilobytes_in_a_flag_are_refused_in_one_short_line(compiled: Compiled, flag: str) -> None:
    refuse(compiled, **{flag: ["x" * 10_240]})


@pytest.mark.parametrize("flag", ["level", "intent", "irritability"])
def test_ten_kilobytes_in_a_choice_are_refused(compiled: Compiled, flag: str) -> None:
    refuse(compiled, **{flag: "x" * 10_240})


def test_free_text_has_a_longest_length(compiled: Compiled) -> None:
    assert read_situation(compiled, says="x" * LONGEST_SAYING).says == "x" * LONGEST_SAYING
    error = refuse(compiled, says="x" * (LONGEST_SAYING + 1))
    assert str(error) == f"--says is {LONGEST_SAYING + 1} characters long; give at most {LONGEST_SAYING}"


@pytest.mark.parametrize("flag", ["without", "only", "complaints", "cannot", "limits"])
@pytest.mark.parametrize("text", ["\x1b[31mzorblax", "zor\x00blax", "zorblax\x07"])
def test_control_characters_never_reach_the_terminal(compiled: Compiled, flag: str, text: str) -> None:
    refuse(compiled, **{flag: [text]})


@pytest.mark.parametrize("text", ["rig\x00", "ri\x07g", "\x1brig"])
def test_control_character_inside_a_known_name_is_refused(compiled: Compiled, text: str) -> None:
    refuse(compiled, without=[text])


def test_low_impact_is_neither_jumping_nor_running(compiled: Compiled) -> None:
    today = read(compiled, limits=["low impact"])
    filter_ = Filter(compiled.library, today)
    assert today.limits == {"low-impact"}
    movements = compiled.library.movements
    assert not filter_.removals(movements["step-jack"])
    for out in ("jumping-jack", "high-knees", "run", "jog"):
        assert [r.reason for r in filter_.removals(movements[out])] == ["low impact"]


@pytest.mark.parametrize(
    ("typed", "stock", "weights"),
    [
        ("24 kg kettlebell", {"kettlebell": 1}, {"kettlebell": (24.0,)}),
        ("24kg kettlebells", {"kettlebell": 0}, {"kettlebell": (24.0,)}),
        ("2 x 22.5 kg dumbbells", {"dumbbell": 2}, {"dumbbell": (22.5,)}),
        ("two dumbbells of 15 kg", {"dumbbell": 2}, {"dumbbell": (15.0,)}),
        ("16/24 kg kettlebells", {"kettlebell": 0}, {"kettlebell": (16.0, 24.0)}),
        ("50 lb dumbbell", {"dumbbell": 1}, {"dumbbell": (22.7,)}),
        ("kettlebell 32kg", {"kettlebell": 1}, {"kettlebell": (32.0,)}),
        ("16 kg kettlebell, 24 kg kettlebell", {"kettlebell": 1}, {"kettlebell": (16.0, 24.0)}),
        ("1 kettlebell", {"kettlebell": 1}, {}),
    ],
)
def test_weights_of_what_is_on_hand_are_no_count(
    compiled: Compiled, typed: str, stock: dict[str, int], weights: dict[str, tuple[float, ...]]
) -> None:
    today = read_situation(compiled, only=[typed]).today
    assert (today.only, today.sizes_kg) == (stock, weights)


def test_weight_of_what_has_none_is_told(compiled: Compiled) -> None:
    read = read_situation(compiled, only=["5 kg rig"])
    assert not read.today.sizes_kg
    assert any("passed over" in note for note in read.notes)


def test_weight_beyond_all_lifting_is_refused(compiled: Compiled) -> None:
    with pytest.raises(AskError, match="out of range"):
        read_situation(compiled, only=["900 kg kettlebell"])


def test_load_is_chosen_from_the_weights_told(compiled: Compiled) -> None:
    ask = read_ask("5 back squats 100kg", compiled).ask
    today = read_situation(compiled, only=["18 kg kettlebell"], intent="strength").today
    answer = options(compiled.library, ask, today)
    assert answer.options[0].load_kg == 18


@pytest.mark.parametrize(
    ("text", "complaint", "passed_over"),
    [
        ("pinch in the front of the hip at the bottom", "hip-front", "pinch"),
        ("sprained wrist 3 weeks ago", "wrist", "sprained"),
        ("funny feeling in the elbow", "elbow", "funny"),
    ],
)
def test_a_complaint_is_found_inside_other_words_which_are_told(
    compiled: Compiled, text: str, complaint: str, passed_over: str
) -> None:
    situation = read_situation(compiled, complaints=[text])
    assert complaint in {t.complaint for t in situation.today.complaints}
    assert any(f"passed over: {passed_over}" in note for note in situation.notes)


@pytest.mark.parametrize("text", ["swollen wrist", "torn rotator cuff", "shoulder tore a bit"])
def test_a_grave_word_beside_a_site_is_never_passed_over(compiled: Compiled, text: str) -> None:
    with pytest.raises(AskError, match="have it seen by a clinician"):
        read_situation(compiled, complaints=[text])


def test_what_is_no_complaint_at_all_is_refused(compiled: Compiled) -> None:
    with pytest.raises(UnknownNameError, match="bananas"):
        read_situation(compiled, complaints=["bananas"])


@pytest.mark.parametrize("says", ["broken finger", "i broke my toe yesterday", "fractured rib"])
def test_a_broken_bone_is_referred(compiled: Compiled, says: str) -> None:
    referral, _ = refer(compiled.library, [says], [])
    assert referral is not None
