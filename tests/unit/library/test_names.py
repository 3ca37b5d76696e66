"""What a coach types, and what it means: on the real library, and the rules of it on small ones."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from subgraph.errors import AmbiguousNameError, UnknownNameError
from subgraph.library.compile import Compiled
from subgraph.library.names import Found, build_index, resolve, singular, words


@dataclass(frozen=True)
class Thing:
    id: str
    name: str
    also: tuple[str, ...] = ()


THINGS = (
    Thing("toes-to-bar", "toes-to-bar", ("T2B",)),
    Thing("chest-to-bar", "chest-to-bar"),
    Thing("dumbbell-snatch", "dumbbell snatch", ("DB snatch",)),
    Thing("dumbbell-snatch-hang", "hang dumbbell snatch"),
    Thing("plank", "plank"),
    Thing("row", "row"),
)
SHORT = {"db": "dumbbell", "alt": "alternating"}
INDEX = build_index(THINGS, SHORT)


def small(text: str) -> Found:
    return resolve(text, INDEX, SHORT, kind="movement")


def real(compiled: Compiled, text: str, kind: str = "movement") -> Found:
    return resolve(text, compiled.names[kind], compiled.library.abbreviations, kind=kind)


# --- words ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("many", "one"),
    [
        ("presses", "press"),
        ("press", "press"),
        ("lunges", "lunge"),
        ("boxes", "box"),
        ("snatches", "snatch"),
        ("pushes", "push"),
        ("toes", "toe"),
        ("abs", "ab"),
        ("s", "s"),
        ("us", "us"),
        ("bus", "bus"),
        ("axis", "axis"),
    ],
)
def test_plural_ending_is_taken_off(many: str, one: str) -> None:
    assert singular(many) == one


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Toes-to-Bar", ["toe", "to", "bar"]),
        ("toes_to/bar", ["toe", "to", "bar"]),
        ("Alt. DB Snatches", ["alternating", "dumbbell", "snatch"]),
        ("T.T.B", ["ttb"]),
        ("farmer's carry", ["farmer", "carry"]),
        ("caf\N{LATIN SMALL LETTER E WITH ACUTE}", ["cafe"]),
        ("\N{FULLWIDTH LATIN CAPITAL LETTER T}2B", ["t2b"]),
        ("21s", ["21"]),
        ("!?", []),
        ("", []),
    ],
)
def test_name_comes_down_to_plain_singular_words(text: str, found: list[str]) -> None:
    assert words(text, SHORT) == found


# --- small library -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "id_"),
    [
        ("toes-to-bar", "toes-to-bar"),
        ("TOES TO BAR", "toes-to-bar"),
        ("toetobar", "toes-to-bar"),
        ("t2b", "toes-to-bar"),
        ("T-2-B", "toes-to-bar"),
        ("bar to toes", "toes-to-bar"),
        ("snatch, DB", "dumbbell-snatch"),
        ("dumbbell hang snatches", "dumbbell-snatch-hang"),
        ("planks", "plank"),
    ],
)
def test_same_words_are_a_sure_find(text: str, id_: str) -> None:
    assert small(text) == Found(id_, sure=True)


@pytest.mark.parametrize(
    ("text", "id_"), [("dumbell snatch", "dumbbell-snatch"), ("plannk", "plank"), ("hang", "dumbbell-snatch-hang")]
)
def test_near_spelling_and_part_of_one_name_are_found_but_not_sure(text: str, id_: str) -> None:
    assert small(text) == Found(id_, sure=False)


@pytest.mark.parametrize("text", ["to bar", "bar"])
def test_words_that_two_names_hold_are_ambiguous(text: str) -> None:
    with pytest.raises(AmbiguousNameError) as caught:
        small(text)
    assert set(caught.value.nearest) == {"toes-to-bar", "chest-to-bar"}
    assert str(caught.value) == f"'{text}' could be more than one movement; say which: chest-to-bar, toes-to-bar"


def test_short_word_is_never_spelt_out() -> None:
    for text in ("rox", "roww", "bow"):
        with pytest.raises(UnknownNameError):
            small(text)


def test_two_letters_changed_about_are_found_but_not_sure() -> None:
    assert small("rwo") == Found("row", sure=False)


def test_unknown_name_says_the_nearest() -> None:
    with pytest.raises(UnknownNameError) as caught:
        small("chest to floor")
    assert caught.value.nearest[0] == "chest-to-bar"
    assert str(caught.value).startswith("no movement is called 'chest to floor'; nearest: chest-to-bar")


@pytest.mark.parametrize("text", ["", "  ", "!!!", "\N{SNOWMAN}"])
def test_name_without_letters_is_refused(text: str) -> None:
    with pytest.raises(UnknownNameError, match="write its name"):
        small(text)


def test_first_claim_to_a_name_stands() -> None:
    index = build_index([Thing("a", "push"), Thing("b", "push-up", ("push",))], {})
    assert resolve("push", index, {}, kind="movement").id == "a"


def test_long_or_unprintable_name_is_shortened_in_the_message() -> None:
    with pytest.raises(UnknownNameError) as caught:
        small("z" * 10_000 + "\x1b[31m")
    assert len(str(caught.value)) < 250
    with pytest.raises(UnknownNameError) as caught:
        small("zz\x1b[31m\x07zz")
    assert str(caught.value).isprintable()


# --- real library --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "id_"),
    [
        ("T2B", "toes-to-bar"),
        ("TTB", "toes-to-bar"),
        ("t2bs", "toes-to-bar"),
        ("DU", "double-under"),
        ("DUs", "double-under"),
        ("dubs", "double-under"),
        ("SU", "single-under"),
        ("KBS", "kettlebell-swing"),
        ("KB swing", "kettlebell-swing"),
        ("OHS", "overhead-squat"),
        ("OH squat", "overhead-squat"),
        ("HSPU", "handstand-push-up"),
        ("HKR", "hanging-knee-raise"),
        ("K2E", "knees-to-elbows"),
        ("C2B", "chest-to-bar-pull-up"),
        ("SDHP", "sumo-deadlift-high-pull"),
        ("S2OH", "shoulder-to-overhead"),
        ("BMU", "bar-muscle-up"),
        ("FS", "front-squat"),
        ("WB", "wall-ball"),
    ],
)
def test_short_forms_of_the_trade(compiled: Compiled, text: str, id_: str) -> None:
    assert real(compiled, text) == Found(id_)


@pytest.mark.parametrize(
    ("text", "id_"),
    [
        ("Toes to bar", "toes-to-bar"),
        ("toes-to-bars", "toes-to-bar"),
        ("double unders", "double-under"),
        ("double-unders", "double-under"),
        ("doubleunders", "double-under"),
        ("box jumps", "box-jump"),
        ("BURPEES", "burpee"),
        ("wallballs", "wall-ball"),
        ("power snatches", "power-snatch"),
        ("thrusters", "thruster"),
        ("walking lunges", "walking-lunge"),
        ("ring rows", "ring-row"),
        ("press, strict", "strict-press"),
        ("squat, overhead", "overhead-squat"),
        ("swing kettlebell", "kettlebell-swing"),
    ],
)
def test_plurals_hyphens_case_and_word_order(compiled: Compiled, text: str, id_: str) -> None:
    assert real(compiled, text) == Found(id_)


@pytest.mark.parametrize(
    ("text", "id_"),
    [
        ("tose to bar", "toes-to-bar"),
        ("thrustr", "thruster"),
        ("dble unders", "double-under"),
        ("double-undrs", "double-under"),
        ("burpeee", "burpee"),
        ("kettelbell swing", "kettlebell-swing"),
        ("overhaed squat", "overhead-squat"),
    ],
)
def test_typing_errors_are_found_and_told(compiled: Compiled, text: str, id_: str) -> None:
    assert real(compiled, text) == Found(id_, sure=False)


@pytest.mark.parametrize("text", ["single arm", "pull", "jumps", "dumbbell", "kettlebell", "kneeling"])
def test_ambiguous_name_gives_the_candidates(compiled: Compiled, text: str) -> None:
    with pytest.raises(AmbiguousNameError) as caught:
        real(compiled, text)
    assert 2 <= len(caught.value.nearest) <= 5
    assert set(caught.value.nearest) <= set(compiled.library.movements)
    assert all(id_ in str(caught.value) for id_ in caught.value.nearest)


@pytest.mark.parametrize("text", ["hoverboard", "levitating press squat", "burpee roulette", "quadruple backflip"])
def test_unknown_name_says_the_nearest_three(compiled: Compiled, text: str) -> None:
    with pytest.raises(UnknownNameError) as caught:
        real(compiled, text)
    assert len(set(caught.value.nearest)) == 3
    assert set(caught.value.nearest) <= set(compiled.library.movements)


@pytest.mark.parametrize("text", ["zzzzqq", "zorblax", "qqq", "x"])
def test_gibberish_is_unknown(compiled: Compiled, text: str) -> None:
    with pytest.raises(UnknownNameError):
        real(compiled, text)


def test_split_compound_word_is_no_other_movement(compiled: Compiled) -> None:
    assert real(compiled, "squat over head").id == "overhead-squat"


@pytest.mark.parametrize(
    ("text", "kind", "id_"),
    [
        ("pull up bar", "equipment", "pull-up-bar"),
        ("rower", "equipment", "rowing-ergometer"),
        ("DBs", "equipment", "dumbbell"),
        ("jump rope", "equipment", "skipping-rope"),
        ("GHD", "equipment", "glute-ham-bench"),
        ("knees", "complaint", "knee"),
        ("lower back", "complaint", "low-back"),
        ("arms overhead", "complaint", "~overhead"),
        ("arms overhead", "provocation", "overhead"),
        ("no jumps", "limit", "no-jumping"),
        ("beginner", "level", "novice"),
        ("cardio", "intent", "conditioning"),
    ],
)
def test_other_kinds_of_names(compiled: Compiled, text: str, kind: str, id_: str) -> None:
    assert real(compiled, text, kind) == Found(id_)


@pytest.mark.parametrize(
    ("text", "id_"),
    [
        ("burbee", "burpee"),
        ("burpies", "burpee"),
        ("burpess", "burpee"),
        ("mtn climbers", "mountain-climber"),
        ("PS", "power-snatch"),
        ("HPS", "hang-power-snatch"),
        ("OHL", "overhead-lunge"),
        ("dubz", "double-under"),
        ("skips", "single-under"),
        ("shoulder 2 overhead", "shoulder-to-overhead"),
        ("SJ", "split-jerk"),
    ],
)
def test_short_forms_and_slips_of_the_class(compiled: Compiled, text: str, id_: str) -> None:
    index = compiled.names["movement"]
    assert resolve(text, index, compiled.library.abbreviations, kind="movement").id == id_
