"""Exchange rates and caps that the trade has settled on. Common practice, no source.

No study stands behind a row: the value is what is usually heard on a gym floor. A record must hold the value inside
its spread, and the pooled estimate of the whole network must lie within a factor of the value (1.5 unless a row says
why), since the network weighs practice against paces and other rows.
"""

from typing import Any

import pytest

from subgraph.library.compile import Compiled
from subgraph.notation.ask import read_ask
from subgraph.notation.situation import read_situation
from subgraph.options import options
from subgraph.ratios import network_of, node, ratio_between

# from, to, units, usual value, factor, why
ROWS = [
    ("double-under", "single-under", ("rep", "rep"), 2.0, 1.5, "1 double-under = 2 single-unders"),
    ("run", "row", ("m", "m"), 1.25, 1.5, "400 m run = 500 m row"),
    ("run", "ski", ("m", "m"), 1.0, 1.5, "400 m run = 400 m ski"),
    ("row", "bike-ergometer", ("m", "m"), 2.0, 1.5, "500 m row = 1000 m bike"),
    ("run", "bike-ergometer", ("m", "m"), 2.5, 1.5, "400 m run = 1000 m bike"),
    ("run", "swim", ("m", "m"), 0.25, 1.5, "swim a quarter of the run"),
    ("run", "outdoor-cycle", ("m", "m"), 3.0, 1.5, "cycle three times the run"),
    ("box-jump", "box-step-up", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("box-jump", "box-jump-step-down", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("burpee", "step-back-burpee", ("rep", "rep"), 1.0, 1.5, "one for one, or fewer"),
    ("toes-to-bar", "sit-up", ("rep", "rep"), 1.5, 1.5, "10 toes-to-bar = 15 sit-ups"),
    ("toes-to-bar", "hanging-knee-raise", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("toes-to-bar", "v-up", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("kipping-pull-up", "ring-row", ("rep", "rep"), 1.0, 2.0, "one for one, often more rows"),
    ("strict-pull-up", "negative-pull-up", ("rep", "rep"), 1.0, 2.0, "one for one, or fewer of slow ones"),
    ("rope-climb", "strict-pull-up", ("rep", "rep"), 4.0, 1.5, "3 to 5 pull-ups for a climb"),
    ("rope-climb", "ring-row", ("rep", "rep"), 5.0, 2.0, "5 rows for a climb; rows are the easier pull"),
    ("handstand-push-up", "box-pike-push-up", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("ring-dip", "bar-dip", ("rep", "rep"), 1.0, 1.6, "one for one, or three for two"),
    ("thruster", "dumbbell-thruster", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("deadlift", "sumo-deadlift", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("kettlebell-swing", "dumbbell-swing", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("sit-up", "plank", ("rep", "s"), 2.0, 1.5, "30 sit-ups = a minute of plank"),
    ("jumping-lunge", "reverse-lunge", ("rep", "rep"), 1.0, 1.5, "one for one"),
    ("glute-ham-sit-up", "sit-up", ("rep", "rep"), 2.0, 1.5, "two sit-ups for one"),
]  # fmt: skip
NAMES = [f"{r[0]}-{r[1]}" for r in ROWS]


@pytest.mark.parametrize(("first", "second", "units", "value", "factor", "why"), ROWS, ids=NAMES)
def test_a_record_holds_the_usual_value(
    compiled: Compiled, first: str, second: str, units: tuple[str, str], value: float, factor: float, why: str
) -> None:
    held = [r for r in compiled.library.ratios if (r.from_, r.to, r.units) == (first, second, units)]
    assert any(r.low <= value <= r.high for r in held), why


@pytest.mark.parametrize(("first", "second", "units", "value", "factor", "why"), ROWS, ids=NAMES)
def test_the_whole_network_stays_near_the_usual_value(
    compiled: Compiled, first: str, second: str, units: tuple[str, str], value: float, factor: float, why: str
) -> None:
    network = network_of(compiled.library, "effort")
    pooled = ratio_between(network, node(first, units[0]), node(second, units[1]))
    assert pooled is not None
    assert value / factor <= pooled.value <= value * factor, why


# record, amount, unit, seconds usually allowed
CAPS = [
    ("double-under", 100, "rep", 120),
    ("double-under-attempt", 100, "rep", 120),
    ("run", 400, "m", 150),
    ("row", 500, "m", 150),
    ("farmers-carry", 200, "m", 120),
    ("air-bike", 20, "cal", 120),
]


@pytest.mark.parametrize(("record", "amount", "unit", "seconds"), CAPS, ids=[r[0] for r in CAPS])
def test_usual_caps(compiled: Compiled, record: str, amount: float, unit: str, seconds: float) -> None:
    # A cap is in the record's usual unit. Tolerance 1 s for rounding.
    movement = compiled.library.movements[record]
    assert movement.cap is not None
    assert movement.unit == unit
    assert movement.cap.seconds / movement.cap.amount * amount == pytest.approx(seconds, abs=1)


def test_a_cap_is_met_by_a_regular_member_and_is_no_holiday(compiled: Compiled) -> None:
    # A cap cuts off the slow, so a regular pace is inside it and it is at most four times that pace.
    strange = {}
    for movement in compiled.library.movements.values():
        pace = movement.pace(movement.unit)
        if movement.cap and pace:
            share = movement.cap.amount * pace / movement.cap.seconds
            if not 0.25 <= share <= 1.0:
                strange[movement.id] = (movement.unit, round(share, 2))
    assert not strange


# record, unit, regular pace [s], factor: what a coach expects of a regular member on the board
PACES = [
    ("double-under", "rep", 1.0, 1.3, "100 in about a minute and a half"),
    ("burpee", "rep", 4.5, 1.4, "13 a minute"),
    ("wall-ball", "rep", 3.0, 1.3, "20 a minute"),
    ("run", "m", 0.30, 1.3, "400 m in two minutes"),
    ("row", "m", 0.24, 1.3, "500 m in two minutes"),
    ("kettlebell-swing", "rep", 2.0, 1.3, "30 a minute"),
    ("air-squat", "rep", 1.8, 1.4, "33 a minute"),
    ("box-jump", "rep", 3.0, 1.3, "20 a minute"),
]


@pytest.mark.parametrize(("record", "unit", "pace", "factor", "why"), PACES, ids=[r[0] for r in PACES])
def test_regular_paces(compiled: Compiled, record: str, unit: str, pace: float, factor: float, why: str) -> None:
    held = compiled.library.movements[record].pace(unit)
    assert held is not None
    assert pace / factor <= held <= pace * factor, why


# record, usual heavier and lighter load [kg], factor 1.15 for the plates and pounds of the house
LOADS = [
    ("wall-ball", 9, 6),
    ("kettlebell-swing", 24, 16),
    ("thruster", 43, 30),
    ("deadlift", 102, 70),
    ("clean-and-jerk", 61, 43),
    ("dumbbell-snatch", 22.5, 15),
]


@pytest.mark.parametrize(("record", "heavier", "lighter"), LOADS, ids=[r[0] for r in LOADS])
def test_usual_loads(compiled: Compiled, record: str, heavier: float, lighter: float) -> None:
    load = compiled.library.movements[record].load
    assert load is not None
    for held, usual in zip(load.kg, (heavier, lighter), strict=True):
        assert usual / 1.15 <= held <= usual * 1.15


# ask, what stands in the way, what the trade gives first
@pytest.mark.parametrize(
    ("ask", "told", "first"),
    [
        ("10 hang shrugs", {"without": ["rig"]}, {"arm-circle"}),
        ("20 kip swings", {"without": ["rig"]}, {"prone-arch-pulse"}),
        ("15 toes-to-bar", {"without": ["rig"]}, {"tuck-up", "v-up"}),
        ("15 toes-to-bar", {"cannot": ["toes-to-bar"]}, {"hanging-knee-raise"}),
        ("10 kipping pull-ups", {"cannot": ["kipping pull-up"]}, {"ring-row"}),
        ("10 pull-ups", {"without": ["rig", "rings"]}, {"bent-over-row"}),
        ("10 pull-ups", {"without": ["rig", "rings"], "cannot": ["pull-up"]}, {"bent-over-row"}),
        ("50 double-unders", {"cannot": ["double-under"]}, {"single-under"}),
        ("50 double-unders", {"level": "advanced"}, {"triple-under"}),
    ],
)
def test_usual_swaps(compiled: Compiled, ask: str, told: dict[str, Any], first: set[str]) -> None:
    today = read_situation(compiled, **told).today
    answer = options(compiled.library, read_ask(ask, compiled).ask, today)
    assert answer.options[0].movement.id in first
