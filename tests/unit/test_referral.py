"""Red flags in free words: loose in favour of a referral, silent on plain gym talk."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from subgraph.library.alarms import spoken_words
from subgraph.library.knowledge import Library
from subgraph.referral import WINDOW, caution_text, hear, refer
from tests.common import load_tiny


def standing(library: Library, text: str) -> list[str]:
    return [flag.id for flag in hear(library, text).standing]


def to_ask(library: Library, text: str) -> list[str]:
    return [flag.id for flag in hear(library, text).to_ask]


def flag(**fields: Any) -> dict[str, Any]:
    plain = {"id": "extra", "group": "test", "level": "clinician", "sees": "Something.", "first_steps": ["stop"]}
    return {**plain, "phrases": ["never said"], "sources": ["common-practice"], **fields}


def with_flag(folder: Path, **fields: Any) -> Library:
    return load_tiny(folder, red_flags=[flag(**fields)])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Can't feel it", ["cant", "feel", "it"]),
        ("can\N{RIGHT SINGLE QUOTATION MARK}t", ["cant"]),
        ("T2B, 3-4 sets/side!", ["t2b", "3", "4", "sets", "side"]),
        ("  caf\N{LATIN SMALL LETTER E WITH ACUTE} ", ["cafe"]),
        ("\x00\x1b ...", []),
        ("", []),
    ],
)
def test_spoken_words_are_plain_and_lower_case(text: str, words: list[str]) -> None:
    assert spoken_words(text) == words


# --- the grammar of a phrase ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "chest pain",
        "CHEST PAIN!",
        "pain in the chest",
        "my chest is really painful",
        "chest tightness since the row",
        "it hurts in my chest",
        "I think it is a heart attack",
    ],
)
def test_all_parts_of_a_phrase_in_any_order_raise_the_flag(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == ["chest"]


@pytest.mark.parametrize("text", ["chest", "pain in the knee", "heart rate high", "attack the bar", "bigchest pains"])
def test_part_of_a_phrase_raises_nothing(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == []
    assert to_ask(tiny, text) == []


def test_stem_takes_any_ending_and_a_word_only_itself(tmp_path: Path) -> None:
    library = with_flag(tmp_path, phrases=["swell* calf"])
    assert standing(library, "calf swollen") == []
    assert standing(library, "calf swelling") == ["extra"]
    assert standing(library, "calf swell") == ["extra"]
    assert standing(library, "calves swelling") == []


def test_apostrophe_in_a_phrase_matches_with_and_without(tmp_path: Path) -> None:
    library = with_flag(tmp_path, phrases=["can't breathe"])
    for text in ("can't breathe", "cant breathe", "I can\N{RIGHT SINGLE QUOTATION MARK}t even breathe"):
        assert standing(library, text) == ["extra"], text


def test_one_word_cannot_serve_two_parts(tmp_path: Path) -> None:
    library = with_flag(tmp_path, phrases=["pain* pain*|ache"])
    assert standing(library, "pain") == []
    assert standing(library, "pain and ache") == ["extra"]


def test_weak_phrase_raises_the_flag_as_well(tiny: Library) -> None:
    assert standing(tiny, "pins and needles in the foot") == ["numb-leg"]


@pytest.mark.parametrize("between", range(WINDOW + 3))
def test_parts_must_stand_within_the_window(tiny: Library, between: int) -> None:
    text = " ".join(["chest", *["and"] * between, "pain"])
    assert standing(tiny, text) == (["chest"] if between + 2 <= WINDOW else [])


def test_match_late_in_a_long_story_is_heard(tiny: Library) -> None:
    assert standing(tiny, "well " * 500 + "then my chest was tight " + "anyway " * 500) == ["chest"]


# --- denials -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    ["no chest pain", "never any chest pain", "does not have chest pain", "without chest pain", "no real chest pain"],
)
def test_plain_denial_becomes_a_question(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == []
    assert to_ask(tiny, text) == ["chest"]


@pytest.mark.parametrize(
    "text",
    [
        "no warm-up but chest pain",
        "chest pain, no sweating",
        "chest pain that does not go away",
        "no chest pain before, but now my chest is tight",
        "not once but all the time: chest pain",
        "no trouble with my knees today chest pain",  # too far off to belong to it
        "no knee trouble now that I think of it, chest pain",
    ],
)
def test_denial_of_something_else_leaves_the_flag_standing(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == ["chest"]


@pytest.mark.parametrize(
    "text",
    [
        "not sleeping and chest pain",
        "no energy, chest pain",
        "did not sleep. Chest pain.",
        "no appetite; chest tightness",
    ],
)
def test_denial_that_belongs_to_another_word_leaves_the_flag_standing(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == ["chest"]


@pytest.mark.parametrize(
    "text",
    [
        "never had chest pain like this",
        "never felt chest pain this bad",
        "not only chest pain",
        "not just chest pain",
        "no longer just chest pain",
        "without warning chest pain",
    ],
)
def test_negative_that_makes_it_worse_is_no_denial(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == ["chest"]


def test_denial_is_no_way_out_where_the_record_says_so(tiny: Library) -> None:
    assert standing(tiny, "no, he collapsed") == ["collapse"]
    assert standing(tiny, "not breathing") == ["collapse"]


def test_one_denied_and_one_told_leaves_the_flag_standing(tiny: Library) -> None:
    text = "no chest pain when I row and then later on the bike the chest hurts"
    assert standing(tiny, text) == ["chest"]


# --- false alarms --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text", ["pain after chest to bar", "keep it tight to the chest", "chest-to-bar hurts the hands"]
)
def test_known_false_alarm_is_blanked_out(tiny: Library, text: str) -> None:
    assert standing(tiny, text) == []
    assert to_ask(tiny, text) == []


def test_false_alarm_does_not_hide_a_real_one(tiny: Library) -> None:
    assert standing(tiny, "after chest to bar I have chest pain") == ["chest"]


@pytest.mark.parametrize(
    "text",
    ["", "fifteen toes to bar please", "sore quads from the squats", "shoulder a bit stiff overhead", "\x00\x07"],
)
def test_gym_talk_raises_nothing(tiny: Library, text: str) -> None:
    assert hear(tiny, text).standing == ()
    assert hear(tiny, text).to_ask == ()


@pytest.mark.parametrize(
    "text",
    [
        "my shoulder hurts overhead",
        "a bit sore in the quads after squats",
        "hands are torn, chalk please",
        "slept badly, legs heavy",
        "no rig today",
        "chest to bar is new for me",
    ],
)
def test_gym_talk_raises_nothing_on_the_real_library(library: Library, text: str) -> None:
    assert standing(library, text) == []


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("chest pain since the run", "emergency"),
        ("he collapsed", "emergency"),
        ("worst headache ever", "emergency"),
        ("peeing brown after yesterday", "urgent"),
        ("can't feel my legs", "emergency"),
    ],
)
def test_plain_alarm_is_heard_by_the_real_library(library: Library, text: str, level: str) -> None:
    found = hear(library, text).standing
    assert found
    assert found[0].level == level


# --- what is done about it ------------------------------------------------------------------------------------------


def test_most_urgent_flag_speaks_and_all_are_named(tiny: Library) -> None:
    referral, questions = refer(tiny, ["numb thigh", "and chest pain"], [])
    assert referral is not None
    assert (referral.level, referral.text) == ("emergency", "call for help now")
    assert referral.because == "Pain or pressure in the chest."
    assert referral.first_steps == ("stop, sit down",)
    assert referral.flags == ("chest", "numb-leg")
    assert questions == ()


def test_profile_that_refers_ends_the_matter_without_a_word_said(tiny: Library) -> None:
    referral, _ = refer(tiny, [""], ["new-swelling", "shoulder"])
    assert referral is not None
    assert (referral.level, referral.because) == ("clinician", "new swelling")
    assert referral.first_steps == ("see a clinician first",)
    assert referral.flags == ("new-swelling",)


def test_red_flag_outranks_a_profile(tiny: Library) -> None:
    referral, _ = refer(tiny, ["chest pain"], ["new-swelling"])
    assert referral is not None
    assert referral.level == "emergency"
    assert referral.flags == ("chest", "new-swelling")


def test_nothing_to_refer(tiny: Library) -> None:
    assert refer(tiny, ["sore quads"], ["shoulder"]) == (None, ())
    assert refer(tiny, [], []) == (None, ())


def test_denied_sign_is_asked_about_once_more(tiny: Library) -> None:
    referral, questions = refer(tiny, ["no chest pain"], [])
    assert referral is None
    assert questions == ("They deny it, but ask once more: Pain or pressure in the chest.",)


@pytest.mark.parametrize("first", ["feels no better, no", "is it bad? no", "never"])
def test_denial_in_one_text_does_not_reach_into_the_next(tiny: Library, first: str) -> None:
    referral, _ = refer(tiny, [first, "chest pain"], [])
    assert referral is not None
    assert referral.flags == ("chest",)


# --- cautions ------------------------------------------------------------------------------------------------------


def test_caution_names_the_emergency_number_of_the_house(tiny: Library) -> None:
    assert caution_text(tiny, ["refer"], "112") == "No training today. Emergency: 112."


def test_caution_falls_back_to_the_default(tiny: Library) -> None:
    assert caution_text(tiny, ["unwritten"], "the local number") == "Stop if it hurts. Emergency: the local number."
    assert caution_text(tiny, [], "999") == "Stop if it hurts. Emergency: 999."


def test_first_caution_that_exists_is_taken(tiny: Library) -> None:
    assert caution_text(tiny, ["unwritten", "refer", "default"], "112").startswith("No training today")
