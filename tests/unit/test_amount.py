"""How much of a substitute, with which load, and what is said where little is known."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from subgraph.amount import (
    LOAD_SIGMA,
    NO_EVIDENCE,
    NO_PACE,
    Much,
    how_much,
    of_the_trade,
    reps_at_load,
    told_apart,
    usual_most,
)
from subgraph.library.knowledge import Library
from subgraph.models.load import share_of_max
from subgraph.quantities import Amount, Unit
from subgraph.rack import Rack, on_hand_kg
from subgraph.ratios import TIME_SIGMA, Equal, Equaliser, evidence, node, ratio_between, solve
from subgraph.today import Ask, Filter, Today
from tests.common import PLAIN_RATIO, load_tiny, movement

BAR = {"uses": ["barbell"], "hands": 2, "demands": {"heart-rate": 1, "grip": 1}}
BELL = {"uses": ["kettlebell"], "hands": 2, "demands": {"heart-rate": 1, "grip": 1}}
PAIR = {"uses": ["2 dumbbell"], "hands": 2, "demands": {"heart-rate": 1, "grip": 1}}


def with_loads(folder: Path, *bells: float, ratio: float = 1.0) -> Library:
    """Squats with a bar, a kettlebell and two dumbbells; the first two have a known ratio of maxima (0.40)."""
    rule = {**PLAIN_RATIO, "ratio": ratio, "low": ratio, "high": ratio, "pages": 4}
    return load_tiny(
        folder,
        movements=[
            movement("back-squat", **BAR, load={"kg": [100, 70], "implement": "barbell"}),
            movement("goblet-squat", **BELL, load={"kg": [24, 16], "implement": "kettlebell"}),
            movement("cross-squat", **BAR, load={"kg": [60, 40], "implement": "barbell"}),
            movement("bell-squat", **BELL, load={"kg": [24, 16], "implement": "kettlebell"}),
            movement("pair-squat", **PAIR, load={"kg": [15, 10], "implement": "dumbbell", "per_hand": True}),
            movement("split-squat", **BELL, sides="each", load={"kg": [24, 16], "implement": "kettlebell"}),
        ],
        equipment=[
            {"id": "kettlebell", "name": "kettlebell", "sizes_kg": list(bells) or [8, 12, 16, 20, 24, 28, 32, 40]},
            {"id": "barbell", "name": "barbell", "step_kg": 2.5, "base_kg": [20, 15]},
        ],
        ratios=[
            {**rule, "id": f"{a}-{b}", "from": a, "to": b}
            for a, b in (
                ("back-squat", "goblet-squat"),
                ("cross-squat", "bell-squat"),
                ("cross-squat", "pair-squat"),
                ("cross-squat", "split-squat"),
            )
        ],
    )


def much(
    library: Library,
    asked: str,
    other: str,
    reps: float,
    load_kg: float | None,
    equaliser: Equaliser = "effort",
    **today: Any,
) -> Much:
    ask = Ask(asked, Amount(reps, "rep"), load_kg)
    filter_ = Filter(library, Today(**today))
    return how_much(filter_, ask, library.movements[other], solve(evidence(library, equaliser)), equaliser)


# --- nothing joins the two -------------------------------------------------------------------------------------------


def apart(library: Library, asked: str, unit: Unit, other: str, **today: Any) -> Much:
    network = solve([])
    filter_ = Filter(library, Today(**today))
    return how_much(filter_, Ask(asked, Amount(10, unit)), library.movements[other], network, "effort")


def test_without_evidence_the_time_under_work_is_equal(tiny: Library) -> None:
    found = apart(tiny, "double-under", "rep", "air-squat")
    assert found.equal.value == pytest.approx(0.6 / 1.5)
    assert found.equal.sigma == pytest.approx(math.sqrt(2) * TIME_SIGMA["effort"])
    assert found.equal.high / found.equal.low > 10
    assert found.judged
    assert found.note == NO_EVIDENCE


def test_without_evidence_the_pace_is_that_of_the_member(tiny: Library) -> None:
    assert apart(tiny, "double-under", "rep", "air-squat", level="novice").equal.value == pytest.approx(0.7 / 2)


def test_without_evidence_a_run_becomes_seconds_of_a_hold(tiny: Library) -> None:
    found = apart(tiny, "run", "m", "plank")
    assert found.unit == "s"
    assert found.equal.value == pytest.approx(0.33)


def test_without_evidence_and_pace_it_is_one_for_one_and_says_so(tiny: Library) -> None:
    found = apart(tiny, "double-under", "cal", "air-squat")
    assert found.equal.value == 1
    assert found.equal.high == pytest.approx(4)
    assert found.judged
    assert found.note == NO_PACE


# --- load and reps ---------------------------------------------------------------------------------------------------


def test_same_share_of_the_usual_load(tmp_path: Path) -> None:
    found = much(with_loads(tmp_path), "cross-squat", "bell-squat", 10, 50)
    assert found.load_kg == 20
    assert not found.note
    network = solve(evidence(with_loads(tmp_path), "effort"))
    equal = ratio_between(network, node("cross-squat", "rep"), node("bell-squat", "rep"))
    assert equal is not None
    assert found.equal.value == pytest.approx(equal.value)
    assert found.equal.sigma == equal.sigma


def test_no_load_asked_no_load_given(tmp_path: Path) -> None:
    assert much(with_loads(tmp_path), "cross-squat", "bell-squat", 10, None) == much(
        with_loads(tmp_path, 8), "cross-squat", "bell-squat", 10, None
    )


def test_unloaded_substitute_has_no_load(tmp_path: Path) -> None:
    assert much(with_loads(tmp_path), "cross-squat", "air-squat", 10, 60).load_kg is None


def test_lighter_bell_means_more_reps_by_the_chart(tmp_path: Path) -> None:
    full, light = (much(with_loads(tmp_path, size), "cross-squat", "bell-squat", 5, 60) for size in (24, 20))
    left = math.exp(math.sqrt(math.log(24 / 20) ** 2 - LOAD_SIGMA**2))
    reps = 5 * light.equal.value
    assert share_of_max(reps) == pytest.approx(share_of_max(5 * full.equal.value) / left)
    assert light.equal.sigma > full.equal.sigma
    assert not light.judged
    assert light.note == "lighter than asked (20 kg for about 24 kg): more reps for it"


def test_much_lighter_bell_is_a_judgement_between_equal_work_and_the_chart(tmp_path: Path) -> None:
    full, light = (much(with_loads(tmp_path, size), "cross-squat", "bell-squat", 5, 60) for size in (24, 12))
    left = math.exp(told_apart(2.0))
    chart = reps_at_load(5 * full.equal.value, left)
    assert chart is not None
    assert chart > 15, "beyond the chart, else this tests nothing"
    assert 5 * full.equal.value * left < 5 * light.equal.value < chart
    assert light.judged
    assert light.equal.low * 5 <= 5 * full.equal.value * left
    assert light.equal.high * 5 >= chart
    assert light.note.startswith("much lighter than asked (12 kg for about 24 kg)")


def test_heavier_bell_means_fewer_reps(tmp_path: Path) -> None:
    full, heavy = (much(with_loads(tmp_path, size), "cross-squat", "bell-squat", 10, 60) for size in (24, 28))
    assert heavy.equal.value < full.equal.value
    assert heavy.note == "heavier than asked (28 kg for about 24 kg): fewer reps for it"


def test_bell_heavier_than_one_repetition_is_a_judgement(tmp_path: Path) -> None:
    found = much(with_loads(tmp_path, 32), "cross-squat", "bell-squat", 3, 40)
    assert found.load_kg == 32
    assert found.judged
    assert found.note.startswith("much heavier than asked (32 kg for about 16 kg)")
    assert found.equal.value < 1


def test_load_that_can_not_be_told_apart_changes_nothing(tmp_path: Path) -> None:
    full, near = (much(with_loads(tmp_path, size), "cross-squat", "bell-squat", 5, 60) for size in (24, 22))
    assert (near.equal, near.note) == (full.equal, "")


def test_for_equal_time_a_lighter_bell_lies_between_the_same_reps_and_equal_work(tmp_path: Path) -> None:
    full, light = (much(with_loads(tmp_path, s), "cross-squat", "bell-squat", 10, 60, "time") for s in (24, 16))
    left = math.exp(told_apart(1.5))
    assert light.equal.value == pytest.approx(full.equal.value * math.sqrt(left))
    assert light.equal.high >= full.equal.value * left
    assert light.equal.low <= full.equal.value


def test_known_ratio_of_maxima_decides_the_load_for_equal_effort(tmp_path: Path) -> None:
    found = much(with_loads(tmp_path), "back-squat", "goblet-squat", 5, 100)
    assert found.load_kg == 40
    assert found.equal.value == 1
    assert found.maxima is not None
    assert found.maxima.ratio == 0.40
    assert found.note == "equal effort is 30 to 50 kg: adjust the load, not the reps"


def test_one_kettlebell_for_a_heavy_squat_is_no_sure_thing(tmp_path: Path) -> None:
    found = much(with_loads(tmp_path, 24), "back-squat", "goblet-squat", 5, 100)
    assert found.load_kg == 24
    assert found.judged
    assert found.note.startswith("much lighter than asked (24 kg for about 40 kg)")
    assert 5 * found.equal.low < 8.5
    assert 5 * found.equal.high > 20


def test_for_equal_time_the_board_load_stays_and_the_note_tells_of_equal_effort(tmp_path: Path) -> None:
    found = much(with_loads(tmp_path), "back-squat", "goblet-squat", 5, 100, "time")
    assert found.load_kg == 24
    assert found.maxima is None
    assert found.note == "as usual on a board; of equal effort would be about 40 kg"


def test_load_of_a_pair_is_that_of_each(tmp_path: Path) -> None:
    assert much(with_loads(tmp_path), "cross-squat", "pair-squat", 10, 40).load_kg == 10


def test_reps_of_one_side_count_where_sides_take_turns(tmp_path: Path) -> None:
    both, each = (much(with_loads(tmp_path, 20), "cross-squat", o, 10, 60) for o in ("bell-squat", "split-squat"))
    assert each.equal.value > both.equal.value, "five a side are further from the end of the chart than ten"


def test_bar_is_never_lighter_than_itself(tmp_path: Path) -> None:
    library = with_loads(tmp_path)
    assert on_hand_kg(Filter(library, Today()), library.movements["cross-squat"], 3) == 15


@pytest.mark.parametrize("light", [0.5, 0.9, 1.0, 1.1, 1.2, 2.0])
def test_difference_of_loads_is_told_apart_gradually(light: float) -> None:
    assert told_apart(light) == pytest.approx(-told_apart(1 / light))
    assert abs(told_apart(light)) <= abs(math.log(light))
    assert (told_apart(light) == 0) == (abs(math.log(light)) <= LOAD_SIGMA)


def test_reps_at_the_same_load_are_the_same() -> None:
    assert reps_at_load(8, 1.0) == pytest.approx(8)
    assert reps_at_load(5, 0.8) is None


def test_judgement_of_time_is_wider_than_any_rule() -> None:
    assert Equal(1.0, math.sqrt(2) * TIME_SIGMA["time"]).high > 2


def test_a_coach_counts_two_for_one_where_that_is_near(library: Library) -> None:
    ask = Ask("double-under", Amount(50, "rep"))
    single = library.movements["single-under"]
    assert of_the_trade(library, ask, single, "rep", Equal(1.8, 0.2)) == 2
    assert of_the_trade(library, ask, single, "rep", Equal(1.6, 0.2)) == 1.6  # too far to be called that
    assert of_the_trade(library, ask, single, "rep", Equal(1.9, 0.02)) == 1.9  # beyond what the evidence allows
    back = of_the_trade(
        library, Ask("single-under", Amount(100, "rep")), library.movements["double-under"], "rep", Equal(0.55, 0.2)
    )
    assert back == pytest.approx(0.5)


def test_nobody_holds_for_minutes_in_place_of_reps(library: Library) -> None:
    filter_ = Filter(library, Today())
    hold = library.movements["bear-hold"]
    most = library.slowing["isometric"].most
    assert usual_most(filter_, Ask("handstand-walk", Amount(10, "m")), hold, "s") == most
    plank = Ask("plank", Amount(120, "s"))
    assert usual_most(filter_, plank, hold, "s") in (None, 120)  # as long as the board's own


def test_a_rack_gives_the_load_below(library: Library) -> None:
    bells = Rack("dumbbell", (10, 12.5, 15, 17.5))
    assert [bells.below(kg) for kg in (17.5, 15, 10)] == [15, 12.5, 10]
    bar = Rack("barbell", step_kg=2.5, least_kg=20)
    assert [bar.below(kg) for kg in (40, 20)] == [35, 20]
    assert Rack("dumbbell", (8, 20), told=True).nearest(13) == 8
