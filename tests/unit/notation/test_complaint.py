"""What complains, as coaches type it."""

from __future__ import annotations

import pytest

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.notation.complaint import read_complaints
from subgraph.notation.situation import read_situation
from subgraph.options import options
from subgraph.quantities import Amount
from subgraph.today import Ask, Told


def told(text: str, compiled: Compiled) -> list[tuple[str | None, tuple[str, ...]]]:
    return [(t.complaint, t.provoked_by) for t in read_complaints([text], compiled, [])]


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("pregnant 3rd trimester", "pregnancy-3"),
        ("30 weeks pregnant", "pregnancy-3"),
        ("pregnant, 13 weeks", "pregnancy-1"),
        ("14 wks pregnant", "pregnancy-2"),
        ("7 months pregnant", "pregnancy-3"),
        ("6 weeks postpartum", "postpartum-early"),
        ("12 weeks postpartum", "postpartum-late"),
        ("70 years old", "older-adult"),
        ("65yo", "older-adult"),
        ("a 14-year-old", "adolescent"),
        ("left shoulder", "shoulder"),
        ("my shoulder hurts", "shoulder"),
        ("dodgy left knee", "knee"),
        ("right wrist from typing", "wrist"),
    ],
)
def test_one_complaint(compiled: Compiled, text: str, complaint: str) -> None:
    assert told(text.replace(",", ""), compiled) == [(complaint, ())]


@pytest.mark.parametrize(
    ("text", "complaint", "by"),
    [
        ("knee pain when squatting", "knee", "squatting"),
        ("shoulder hurts with overhead", "shoulder", "overhead"),
        ("achilles pain with jumping", "achilles", "jumping"),
        ("left shoulder:overhead", "shoulder", "overhead"),
        ("right wrist on push-ups", "wrist", "wrist-extension"),
        ("back hurts during sit-ups", "low-back", "sitting-up"),
    ],
)
def test_site_with_what_provokes_it(compiled: Compiled, text: str, complaint: str, by: str) -> None:
    assert told(text, compiled) == [(complaint, (by,))]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("knee hurts going down stairs", [("knee", ("deep-bend",))]),
        ("shoulder pain overhead", [("shoulder", ("overhead",))]),
        ("overhead hurts my shoulder", [("shoulder", ("overhead",))]),
        ("bad knee and shoulder", [("knee", ()), ("shoulder", ())]),
        ("older lady with bad hips", [("older-adult", ()), ("hip", ())]),
        ("72 year old with bad knees", [("older-adult", ()), ("knee", ())]),
        ("30 weeks pregnant with SPD", [("pregnancy-3", ()), ("pelvic-girdle", ())]),
        ("he's 68", [("older-adult", ())]),
        ("had a baby 10 weeks ago", [("postpartum-early", ())]),
        ("rolled ankle 2 weeks ago", [("ankle-sprain", ())]),
        ("tweaked my back yesterday", [("low-back", ())]),
        ("back pain down the left leg", [("back-leg", ())]),
        ("ankles are stiff", [("ankle-stiff", ())]),
        ("hernia op 6 weeks ago", [("hernia", ()), ("surgery", ())]),
        ("type 2 diabetic", [("diabetes-other", ())]),
    ],
)
def test_names_with_words_that_may_be_passed_over(
    compiled: Compiled, text: str, expected: list[tuple[str, tuple[str, ...]]]
) -> None:
    assert told(text, compiled) == expected


@pytest.mark.parametrize(
    "text", ["knees swollen", "hip pain at night", "numb toes", "knee, no feeling in it", "back and leg numb"]
)
def test_words_that_may_matter_are_never_passed_over(compiled: Compiled, text: str) -> None:
    with pytest.raises(AskError):
        read_complaints([text], compiled, [])


def test_what_was_taken_is_told_where_the_name_is_not_to_the_letter(compiled: Compiled) -> None:
    notes: list[str] = []
    read_complaints(["my left knee hurts"], compiled, notes)
    assert notes == ["'my left knee hurts' read as sore knee"]


def test_age_between_takes_no_profile_and_says_so(compiled: Compiled) -> None:
    notes: list[str] = []
    assert read_complaints(["aged 40"], compiled, notes) == ()
    assert "no care of its own" in notes[0]


def test_provocation_behind_a_complaint_belongs_to_it(compiled: Compiled) -> None:
    assert read_complaints(["shoulder", "arms overhead"], compiled, []) == (Told("shoulder", ("overhead",)),)


@pytest.mark.parametrize("text", ["cancer", "after a stroke", "COPD", "parkinson's"])
def test_condition_without_a_profile_is_sent_to_who_looks_after_it(compiled: Compiled, text: str) -> None:
    situation = read_situation(compiled, complaints=[text])
    answer = options(compiled.library, Ask("air-squat", Amount(10, "rep")), situation.today, says=situation.says)
    assert answer.outcome == "refer"
    assert not answer.options


def test_unknown_words_are_refused_with_the_nearest(compiled: Compiled) -> None:
    with pytest.raises(AskError) as caught:
        read_complaints(["xyzzy"], compiled, [])
    assert caught.value.nearest
