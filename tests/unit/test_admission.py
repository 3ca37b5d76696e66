"""What of the survivors is offered: `why-not` and `options` agree, and say why."""

from __future__ import annotations

import random

import pytest

from subgraph.library.compile import compiled
from subgraph.notation.ask import read_ask
from subgraph.notation.situation import read_situation
from subgraph.options import WhyNot, options, why_not
from subgraph.show.text import BAR_WORDS, Style, why_not_text


def asked(text: str, movement: str, **told: object) -> WhyNot:
    base = compiled()
    today = read_situation(base, **told).today  # type: ignore[arg-type]
    return why_not(base.library, read_ask(text, base).ask, today, movement)


def test_the_one_rung_that_leads_there_may_be_as_skilled_where_strength_is_missing() -> None:
    assert asked("15 chest-to-bar", "kipping-pull-up", cannot=["chest-to-bar"]).offered


@pytest.mark.parametrize(
    ("text", "movement", "told", "bar"),
    [
        ("10 clusters", "squat-clean", {"cannot": ["cluster"]}, "too-hard"),
        ("20 air squats", "back-squat", {}, "too-hard"),
        ("30 double-unders", "single-under", {"level": "advanced"}, "no-harder"),
        ("15 toes-to-bar", "cat-cow", {}, "far"),
    ],
)
def test_a_bar_is_told_in_words(text: str, movement: str, told: dict[str, object], bar: str) -> None:
    found = asked(text, movement, **told)
    assert not found.removals
    assert not found.offered
    assert found.bar == bar
    said = " ".join(why_not_text(found, compiled().library, Style(False)).split())
    assert f"but is not offered: {BAR_WORDS[found.bar]}." in said


def test_why_not_agrees_with_what_is_offered() -> None:
    base, dice = compiled(), random.Random(7)
    ids = list(base.library.movements)
    for _ in range(40):
        ask = read_ask(base.library.movements[dice.choice(ids)].name, base).ask
        told = {"cannot": dice.choice([[], [base.library.movements[ask.movement].name]])}
        today = read_situation(base, level=dice.choice([None, "novice", "advanced"]), **told).today  # type: ignore[arg-type]
        offered = {o.movement.id for o in options(base.library, ask, today).options}
        for movement in [*offered, *dice.sample(ids, 3)]:
            found = why_not(base.library, ask, today, movement)
            assert found.offered == (movement in offered)
            assert not (found.offered and (found.bar or found.removals))
