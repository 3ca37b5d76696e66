"""Usual swaps that are themselves a trap: no option may ask more of what hurts than the row allows.

The limits are written from the complaint, not from the library's profiles: a sore Achilles gets nothing that springs,
however near it is to the ask.
"""

from __future__ import annotations

import pytest

from subgraph.library.compile import Compiled
from subgraph.notation.ask import read_ask
from subgraph.notation.situation import Situation, read_situation
from subgraph.options import Answer, options
from subgraph.today import Filter


def situation(base: Compiled, told: str, mood: str = "sore", limits: str = "", level: str | None = None) -> Situation:
    return read_situation(
        base,
        complaints=[t.strip() for t in told.split(",") if t.strip()],
        irritability=mood,
        limits=[t for t in (limits,) if t],
        level=level,
    )


def answer(
    base: Compiled, ask: str, told: str, mood: str = "sore", limits: str = "", level: str | None = None
) -> Answer:
    now = situation(base, told, mood, limits, level)
    return options(base.library, read_ask(ask, base).ask, now.today, top=5, says=now.says)


GRIP = {"grip": 1, "hang": 0}
BEND = {"spine-flexion": 1, "hinge": 1}
SPRING = {"calf-elastic": 1, "landing": 1}
FLOOR = {"floor-transfer": 0}
BACK = {"supine": 1}
WRIST = {"wrist-extension": 0}
REACH = {"overhead": 1, "hang": 1, "dip": 1}
FLOORED = {"landing": 1}
HEAD = {"inversion": 1}
STRAIN = {"straining": 1, "inversion": 1}
AGE = {"landing": 1, "balance": 1, "fall-height": 1, "straining": 2}
YOUNG = {"straining": 1, "axial": 2}
SLING = {"hang": 0, "dip": 0, "fall-height": 1}
CHAIR = {"floor-transfer": 0, "knee-flexion": 0, "landing": 0}

# complaint, mood, limits, most of each demand, asks
TRAPS = [
    ("elbow:gripping", "sore", "", GRIP, "15 ring rows; 10 pull-ups; 20 kettlebell swings; 21 deadlifts; 500 m row"),
    ("outside elbow", "flared", "", GRIP, "15 ring rows; 10 pull-ups; 5 rope climbs; 100 m farmers carry"),
    ("low back:bending", "sore", "", BEND, "15 toes-to-bar; 15 v-ups; 20 sit-ups; 20 deadlifts; 500 m row"),
    ("low back:bending", "flared", "", BEND, "20 sit-ups; 15 toes-to-bar; 20 kettlebell swings"),
    ("thin bones", "sore", "", {"spine-flexion": 0, "spine-rotation": 1}, "20 sit-ups; 20 russian twists; 15 v-ups"),
    ("achilles", "sore", "", SPRING, "50 double-unders; 100 single-unders; 400 m run; 20 box jumps; 20 jumping jacks"),
    ("achilles", "flared", "", SPRING, "50 double-unders; 400 m run; 20 jumping lunges"),
    ("calf", "flared", "", SPRING, "50 single-unders; 20 burpees"),
    (
        "",
        "sore",
        "nothing on the floor",
        FLOOR,
        "10 floor presses; 20 sit-ups; 10 push-ups; 20 hip bridges; 10 burpees",
    ),
    ("older adult", "sore", "nothing on the floor", FLOOR, "10 push-ups; 20 sit-ups; 10 floor presses"),
    (
        "third trimester",
        "sore",
        "",
        BACK,
        "10 bench presses; 20 sit-ups; 20 hip bridges; 10 floor presses; 60 s hollow hold",
    ),
    ("second trimester", "sore", "", BACK, "10 floor presses; 10 bench presses; 20 sit-ups"),
    ("third trimester", "sore", "", {"landing": 1, "prone": 0}, "10 burpees; 20 box jumps; 10 push-ups"),
    ("wrist", "flared", "", WRIST, "20 cal air bike; 20 push-ups; 60 s plank; 10 burpees; 10 front squats; 10 dips"),
    (
        "newcomer",
        "sore",
        "",
        {"hang": 1, "landing": 1},
        "10 kipping pull-ups; 15 toes-to-bar; 5 muscle-ups; 20 box jumps",
    ),
    ("shoulder", "sore", "", REACH, "100 m overhead carry; 10 thrusters; 10 dips; 10 pull-ups; 400 m swim; 20 cal ski"),
    ("shoulder", "flared", "", {"overhead": 0, "hang": 0}, "100 m overhead carry; 15 wall balls; 5 handstand push-ups"),
    ("frozen shoulder", "sore", "", {"overhead": 0, "hang": 0}, "10 pull-ups; 10 thrusters; 15 toes-to-bar"),
    ("leaking", "sore", "", FLOORED, "20 box jumps; 50 double-unders; 20 burpees; 400 m run; 20 jump squats"),
    ("prolapse", "sore", "", {"landing": 1, "abdominal-pressure": 1}, "20 thrusters; 20 sit-ups; 5 deadlifts"),
    ("high blood pressure", "sore", "", STRAIN, "5 handstand push-ups; 5 wall walks; 5 back squats; 60 s wall sit"),
    ("high blood pressure", "sore", "", STRAIN, "60 s plank; 60 s dead hang; 20 thrusters; 10 deadlifts"),
    ("vertigo", "sore", "", {"inversion": 0, "head-motion": 1}, "5 wall walks; 20 burpees; 20 sit-ups; 10 inchworms"),
    ("glaucoma", "sore", "", {"inversion": 0, "straining": 1}, "5 handstand push-ups; 20 burpees; 10 inchworms"),
    ("older adult", "sore", "", AGE, "20 box jumps; 10 pistols; 50 double-unders; 10 turkish get ups; 400 m run"),
    ("adolescent", "sore", "", YOUNG, "3 deadlifts; 1 back squat; 5 clean and jerks; 10 depth jumps; 5 snatches"),
    (
        "arm in a sling",
        "sore",
        "",
        SLING,
        "15 pull-ups; 20 push-ups; 10 burpees; 500 m row; 20 cal air bike; 60 s plank",
    ),
    ("arm in a sling", "sore", "", SLING, "20 kettlebell swings; 20 thrusters; 10 wall walks; 20 wall balls"),
    (
        "wheelchair user",
        "sore",
        "",
        CHAIR,
        "20 air squats; 20 box jumps; 20 lunges; 400 m run; 10 burpees; 20 thrusters",
    ),
    (
        "hamstring",
        "flared",
        "",
        {"fast-hip": 0, "hamstring-stretch": 1},
        "10 leg swings; 400 m run; 20 kettlebell swings",
    ),
    # Leg raises for a back that arches or a belly that domes; an easy row for ribs; dips for an elbow.
    ("low back", "sore", "", {"spine-extension": 1}, "15 toes-to-bar; 20 v-ups; 20 glute-ham sit-ups; 20 leg raises"),
    ("leaking", "sore", "", {"abdominal-pressure": 2}, "15 toes-to-bar; 20 v-ups"),
    ("5 months postpartum", "sore", "", {"abdominal-pressure": 2}, "15 toes-to-bar; 20 leg raises"),
    ("ribs", "sore", "", {"spine-flexion": 0, "prone": 0}, "500 m row; 20 sit-ups; 20 burpees"),
    ("tennis elbow", "flared", "", {"dip": 1, "grip": 1}, "20 push-ups; 10 ring dips; 50 double-unders"),
    ("neck", "sore", "", {"neck": 1}, "100 m farmers carry; 10 back squats; 10 handstand push-ups"),
    ("outer hip", "sore", "", {"single-leg": 1}, "30 s side plank; 20 box step-ups; 20 lunges"),
    ("pulled biceps", "sore", "", {"pull": 1}, "10 deadlifts; 500 m row; 10 power cleans; 10 pull-ups"),
    ("vertigo", "sore", "", {"axial": 2, "straining": 2}, "5 back squats; 5 deadlifts; 10 thrusters"),
    (
        "hamstring",
        "flared",
        "",
        {"hamstring-stretch": 1, "hinge": 1},
        "10 nordic curls; 10 glute-ham raises; 10 deadlifts",
    ),
    ("pulled groin", "sore", "", {"adductor": 1}, "2 rope climbs; 20 cossack squats; 10 sumo deadlifts"),
    ("72 years old", "sore", "", {"balance": 1}, "20 box step-ups; 20 walking lunges; 20 burpees"),
]
ROWS = [(told, mood, limits, most, ask.strip()) for told, mood, limits, most, asks in TRAPS for ask in asks.split(";")]


def test_there_are_as_many_traps_as_promised() -> None:
    assert len(ROWS) >= 80


@pytest.mark.parametrize(
    ("told", "mood", "limits", "most", "ask"), ROWS, ids=[f"{r[4]} with {r[0] or r[2]} {r[1]}" for r in ROWS]
)
def test_no_option_asks_more_of_what_hurts(
    compiled: Compiled, told: str, mood: str, limits: str, most: dict[str, int], ask: str
) -> None:
    found = answer(compiled, ask, told, mood, limits)
    assert found.outcome in ("options", "as-written")
    assert found.options
    shown = [o.movement for o in found.options] + [found.movement] * (found.outcome == "as-written")
    too_much = [(m.id, d, m.grade(d)) for m in shown for d, g in most.items() if m.grade(d) > g]
    assert not too_much


def test_one_free_arm_never_reads_as_half_each_side(compiled: Compiled) -> None:
    from subgraph.show.text import Style, answer_text

    now = situation(compiled, "arm in a sling")
    found = answer(compiled, "15 pull-ups", "arm in a sling")
    one_sided = [o for o in found.options if o.movement.hands == 1 and o.movement.sides == "each"]
    assert one_sided
    text = answer_text(compiled.library, found, now.today, (), Style(colour=False))
    assert text.count("free arm only") >= len(one_sided)
    assert all("free arm" in o.cautions[0] for o in one_sided)


# Told together, mood, ask, what comes of it.
TOGETHER = [
    ("second trimester, pelvic girdle", "sore", "20 air squats", "options"),
    ("third trimester, low back, knee", "sore", "20 burpees", "options"),
    ("third trimester, pelvic girdle", "flared", "20 lunges", "options"),
    ("third trimester, high blood pressure", "sore", "20 thrusters", "refer"),
    ("first trimester, heart condition", "sore", "400 m run", "refer"),
    ("older adult, high blood pressure, knee", "sore", "20 box jumps", "options"),
    ("older adult, thin bones, low back", "sore", "10 deadlifts", "options"),
    ("arm in a sling, wheelchair user", "sore", "15 pull-ups", "options"),
    ("arm in a sling, knee", "sore", "20 thrusters", "options"),
    ("shoulder, elbow, wrist", "flared", "10 push-ups", "options"),
    ("wheelchair user, shoulder", "flared", "20 wall balls", "options"),
    ("low back, hip, knee, ankle, shoulder, wrist, neck", "flared", "20 burpees", "options"),
    ("long covid, high blood pressure", "flared", "20 burpees", "nothing-suitable"),
    ("recent operation, hernia", "flared", "10 deadlifts", "nothing-suitable"),
    ("heart condition, deconditioned, older adult", "flared", "500 m row", "nothing-suitable"),
    ("long covid, arm in a sling, wheelchair user", "flared", "500 m row", "nothing-suitable"),
    ("recent operation, wheelchair user, arm in a sling", "flared", "10 burpees", "nothing-suitable"),
    ("long covid, recent operation, older adult", "flared", "400 m run", "nothing-suitable"),
]


@pytest.mark.parametrize(("told", "mood", "ask", "outcome"), TOGETHER, ids=[f"{t[0]} {t[1]}" for t in TOGETHER])
def test_complaints_told_together(compiled: Compiled, told: str, mood: str, ask: str, outcome: str) -> None:
    found = answer(compiled, ask, told, mood)
    assert found.outcome == outcome
    if outcome == "nothing-suitable":
        left = Filter(compiled.library, situation(compiled, told, mood).today)
        by_name = {m.name: m for m in compiled.library.movements.values()}
        gentle = [by_name[name] for name in found.instead if name in by_name]
        assert gentle, "says what is still gentle"
        assert not [m.id for m in gentle if left.removals(m)], "and that passes every complaint"
        assert found.instead[-1] == compiled.library.scoring.instead


def test_gentle_asks_stay_where_rest_is_advised(compiled: Compiled) -> None:
    assert answer(compiled, "60 s seated breathing", "long covid", "flared").outcome == "as-written"


# complaint, the muscle that is let rest, the most that it may do when sore, asks
RESTED = [
    ("pulled biceps", ("biceps",), 1, "10 strict pull-ups; 20 ring rows; 10 chin-ups"),
    ("hip flexor strain", ("hip-flexors",), 1, "12 toes-to-bar; 30 sit-ups; 200 m sprint"),
    ("pulled hamstring", ("hamstrings",), 2, "20 kettlebell swings; 100 m sprint; 10 deadlifts"),
    ("wheelchair", ("quads", "glutes", "hamstrings", "hip-flexors"), 1, "20 air squats; 20 leg press; 400 m run"),
]


@pytest.mark.parametrize(("told", "muscles", "most", "asks"), RESTED)
def test_a_strained_or_idle_muscle_does_no_main_work(
    compiled: Compiled, told: str, muscles: tuple[str, ...], most: int, asks: str
) -> None:
    for ask in asks.split(";"):
        found = answer(compiled, ask.strip(), told, "sore", "")
        assert found.outcome == "options"
        for option in found.options:
            assert all(option.movement.muscles.get(m, 0) <= most for m in muscles), option.movement.id
        assert any(r.kind == "complaint" for r in found.standing_in_the_way)


def test_who_merely_sits_keeps_the_legs(compiled: Compiled) -> None:
    found = answer(compiled, "20 air squats", "", "sore", "seated")
    assert any(o.movement.muscles.get("quads", 0) == 3 for o in found.options)


def test_numbers_stay_such_as_a_board_has(compiled: Compiled) -> None:
    found = answer(compiled, "5 turkish get-ups", "shoulder subluxes", "sore", "")
    for option in found.options:
        rule = compiled.library.slowing[option.movement.character]
        most = rule.most_loaded if option.movement.load else rule.most
        assert option.unit != "rep" or most is None or option.amount <= most
