"""What the trade asks for before a skill: rules found on independent pages, against the measures of the rungs.

Common practice; each row gives the range of the rule. A measure must be the one that applies on the way to the goal.
"""

from __future__ import annotations

import pytest

from subgraph.library.knowledge import Library
from subgraph.progression import rung_of

# rung, what it opens, low, high, independent pages, the rule
ROWS = [
    ("strict-pull-up", "kipping-pull-up", 3, 5, 1, "3 to 5 strict pull-ups before kipping; the number from memory"),
    ("push-up", "box-pike-push-up", 10, 15, 2, "10 to 15 clean push-ups before handstand push-ups"),
    ("strict-chest-to-bar-pull-up", "ring-muscle-up", 3, 5, 1, "3 to 5 strict chest-to-bar before muscle-ups"),
    ("ring-dip", "ring-muscle-up", 3, 5, 1, "3 to 5 ring dips before muscle-ups"),
    ("sit-up", "glute-ham-sit-up-to-parallel", 30, 30, 1, "30 ordinary sit-ups before bench sit-ups"),
    ("back-extension-hold", "glute-ham-sit-up", 30, 30, 1, "a 30 s level hold before bench sit-ups"),
]


@pytest.mark.parametrize(("rung", "opens", "low", "high", "pages", "rule"), ROWS, ids=[r[0] for r in ROWS])
def test_measure_lies_in_the_range_of_the_rule(
    library: Library, rung: str, opens: str, low: float, high: float, pages: int, rule: str
) -> None:
    assert rung in library.movements[opens].needs, rule
    measure = rung_of(library, rung, [opens])
    assert measure is not None
    assert low <= measure.amount <= high, rule
    assert measure.pages == pages, rule


@pytest.mark.parametrize(
    ("goal", "first", "rule"),
    [
        ("kettlebell-swing-overhead", "kettlebell-swing", "own the chest-high swing before the overhead one"),
        ("rope-climb", "rope-foot-lock", "a firm foot lock before climbing high"),
        ("box-jump", "plate-jump", "hop and land on a plate before a box"),
        ("handstand-push-up", "handstand-hold", "a steady handstand before handstand push-ups"),
    ],
)
def test_rule_without_a_number_is_a_rung(library: Library, goal: str, first: str, rule: str) -> None:
    from subgraph.graph import must_own_first

    assert first in must_own_first(library, goal), rule
