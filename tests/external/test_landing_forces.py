"""Landing grades against measured peak vertical ground forces.

Values in body weights (BW); all primary unless said. Grades by `library/demands.yaml`: 1 from 1.2, 2 from 2, 3 from
3.5 BW. One-tenth of a body weight is the tolerance at a border (the spread between people in these studies is larger);
where a grade may still differ the row says why.
"""

import pytest

from subgraph.library.compile import Compiled

# record, source, task as published, peak [BW], further grades allowed, why
ROWS = [
    ("walk", "keller_1996", "walk, 1.5 m/s", 1.2, {0}, "on the border, and the record is slower (1.3 m/s)"),
    ("brisk-walk", "keller_1996", "walk, 1.5 m/s", 1.2, set(), "the record's pace"),
    ("run", "keller_1996", "run, thrust peak to 6 m/s", 2.5, set(), "upper end of the range"),
    ("jog", "keller_1996", "run, thrust peak below 6 m/s", 2.4, set(), "inside the range of 1.2 to 2.5"),
    ("sprint", "keller_1996", "run, 6.0 m/s", 2.5, {3},
     "recreational runners; an all-out start is harder and was not measured"),
    ("jump-squat", "wallace_2010", "vertical jump, landing", 3.34, set(), ""),
    ("jump-and-touch", "wallace_2010", "vertical jump, landing", 3.34, set(), ""),
    ("broad-jump", "wallace_2010", "standing long jump, landing", 4.22, set(), ""),
    ("burpee-broad-jump", "wallace_2010", "standing long jump, landing", 4.22, set(), ""),
    ("box-jump", "wallace_2010", "landing from 60 cm", 4.3, set(), "the record jumps down"),
    ("box-jump-over", "wallace_2010", "landing from 60 cm", 4.3, set(), "comes down from the box each rep"),
    ("depth-jump", "wallace_2010", "drop jump from 30 cm", 2.78, {3},
     "from 90 cm 4.93 BW; the grade covers the record's higher boxes"),
    ("drop-landing", "planar_here", "square-root law through Wallace, 20 cm", 2.25, set(),
     "the record drops from 20 to 30 cm"),
    ("jumping-jack", "mckay_2005", "jumping jack, children", 3.5, {2},
     "highest mean of children at play; adults land softer"),
    ("low-step-up", "step_exercise", "step class, bench 10 to 25 cm", 1.4, set(), ""),
    ("fast-low-step-up", "step_exercise", "step class, 135 steps/min", 1.4, set(), ""),
    ("box-step-up", "step_exercise", "step class, bench 10 to 25 cm", 1.4, set(), "a higher box, and a step down"),
    ("stair-climb", "stacoff_2005", "down a steep stair", 1.6, set(), "the record comes down again"),
    ("reverse-step-down", "stacoff_2005", "down a steep stair", 1.6, set(), ""),
    ("box-step-down", "stacoff_2005", "down a steep stair", 1.6, {0},
     "the heel only kisses the floor after three counts"),
]  # fmt: skip
BORDERS = (1.2, 2.0, 3.5)
NEAR = 0.1


def grades_of(body_weights: float) -> set[int]:
    return {sum(b >= border for border in BORDERS) for b in (body_weights - NEAR, body_weights, body_weights + NEAR)}


@pytest.mark.parametrize(
    ("record", "source", "task", "peak", "further", "why"), ROWS, ids=[f"{r[0]}-{r[1]}" for r in ROWS]
)
def test_grade_holds_the_measured_peak(
    compiled: Compiled, record: str, source: str, task: str, peak: float, further: set[int], why: str
) -> None:
    assert compiled.library.movements[record].grade("landing") in grades_of(peak) | further, f"{source}, {task}: {why}"


# source, what was found, records from low to high; level steps are allowed
ORDERS = [
    ("rope_bounce_walk_run", "walk < two-foot bounce skip < run", ["walk", "single-under", "run"]),
    ("lin_2022", "two-foot bounce < alternate-foot skip", ["single-under", "alternate-foot-skip"]),
    ("wallace_2010", "vertical jump < broad jump", ["jump-squat", "broad-jump"]),
    ("wallace_2010", "vertical jump 3.34 < landing from 60 cm 4.3", ["jump-squat", "box-jump"]),
    ("niu_2014", "force grows with the drop", ["drop-landing", "depth-jump"]),
    ("niu_2014", "no drop after stepping down", ["box-step-up", "box-jump-step-down", "box-jump"]),
    ("keller_1996", "walk to run", ["walk", "brisk-walk", "jog", "run", "sprint"]),
    ("kim_2017", "a less skilled double-under is a higher jump", ["single-under", "double-under", "triple-under"]),
]


@pytest.mark.parametrize(("source", "found", "records"), ORDERS, ids=[f"{r[0]}-{r[2][-1]}" for r in ORDERS])
def test_published_orders_hold(compiled: Compiled, source: str, found: str, records: list[str]) -> None:
    grades = [compiled.library.movements[r].grade("landing") for r in records]
    assert grades == sorted(grades), f"{source}: {found}"


# rope_athletes_2020: peak force of double-under and fast alternate step is like running, so the grade is the same.
@pytest.mark.parametrize("record", ["double-under", "alternate-foot-skip"])
def test_trained_rope_work_lands_like_running(compiled: Compiled, record: str) -> None:
    movements = compiled.library.movements
    assert movements[record].grade("landing") == movements["run"].grade("landing")


# mckay_2005 and wallace_2010 measure flights; nothing that keeps a foot or the seat down can land over 1.2 BW.
@pytest.mark.parametrize("record", ["row", "bike-ergometer", "air-squat", "deadlift", "plank", "ring-row", "sled-push"])
def test_without_flight_no_high_grade(compiled: Compiled, record: str) -> None:
    assert compiled.library.movements[record].grade("landing") <= 1
