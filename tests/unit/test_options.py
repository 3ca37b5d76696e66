"""What is said of a substitute's amount: the trade's counts, the usual most, and heavy sets that lose their load."""

from __future__ import annotations

import pytest

from subgraph.library.knowledge import Library
from subgraph.library.records import Intent
from subgraph.options import Answer, heavy_set, options
from subgraph.quantities import Amount
from subgraph.today import Ask, Today, Told


def answer(library: Library, movement: str, reps: float, load_kg: float | None, today: Today) -> Answer:
    return options(library, Ask(movement, Amount(reps, "rep"), load_kg), today, top=6)


@pytest.mark.parametrize(("movement", "load_kg"), [("back-squat", 100.0), ("deadlift", 140.0), ("bench-press", 80.0)])
def test_a_heavy_set_without_a_load_is_a_slow_set_of_more(library: Library, movement: str, load_kg: float) -> None:
    rule = library.rules["unloaded-set"]
    seen = 0
    for option in answer(library, movement, 5, load_kg, Today(only={})).options:
        other = option.movement
        if other.load is None and option.unit == "rep" and other.character in ("dynamic", "grinding", "controlled"):
            seen += 1
            assert rule.low <= option.amount
            assert option.low <= option.amount <= option.high
            assert option.amount >= rule.usual
    assert seen or all(o.movement.load for o in answer(library, movement, 5, load_kg, Today(only={})).options)


@pytest.mark.parametrize(
    ("reps", "load_kg", "intent", "heavy"),
    [
        (5, 100.0, "conditioning", True),
        (5, 40.0, "conditioning", False),
        (15, 100.0, "conditioning", False),
        (5, None, "conditioning", False),
        (5, None, "strength", True),
    ],
)
def test_few_reps_with_much_of_the_usual_load_are_heavy(
    library: Library, reps: float, load_kg: float | None, intent: Intent, heavy: bool
) -> None:
    ask = Ask("back-squat", Amount(reps, "rep"), load_kg)
    assert heavy_set(library, ask, library.movements["back-squat"], intent) is heavy


def test_who_complains_lifts_no_more_of_an_implement_than_is_written(library: Library) -> None:
    ask = Ask("sandbag-carry", Amount(200, "m"), 45.0)
    found = options(library, ask, Today(complaints=(Told("elbow"),), irritability="flared"), top=5)
    hug = [o.load_kg for o in found.options if o.movement.id == "bear-hug-carry"]
    assert hug
    assert all(kg is not None and kg <= 45 for kg in hug)


def test_two_singles_for_each_double(library: Library) -> None:
    found = options(library, Ask("double-under", Amount(50, "rep")), Today(cannot=frozenset({"double-under"})))
    (single,) = [o for o in found.options if o.movement.id == "single-under"]
    assert single.amount == 100
    assert single.count == pytest.approx(2)
    assert not single.capped


def test_what_is_cut_to_the_usual_says_so(library: Library) -> None:
    pregnant = Today(limits=frozenset({"standing-only"}))
    for option in options(library, Ask("sit-up", Amount(60, "rep")), pregnant, top=6).options:
        if option.capped:
            assert "more than is usual" in option.note
            assert option.count < option.ratio.value


def test_a_lift_is_no_heavier_than_its_maximum_has_it_beside_the_other(library: Library) -> None:
    # 102 kg is a usual back squat and 43 kg a usual overhead squat, but the best ones stand 1 to 0.6
    told = Today(cannot=frozenset({"overhead-squat"}))
    found = options(library, Ask("overhead-squat", Amount(10, "rep"), 40.0), told, top=5)
    load = next(o.load_kg for o in found.options if o.movement.id == "back-squat")
    assert load is not None
    assert load <= 70
