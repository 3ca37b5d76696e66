"""Calf-spring grades against the published Achilles loading order, with walking and running as milestones.

Sources: baxter_2021 (secondary for the order: read off its graphs by a clinic; 8 adults, 30 exercises; primary for the
lowest and highest), sancho_2023 (secondary; 12 exercises of runners with Achilles pain), rope_athletes_2020 (primary),
tensiometry_2024 (primary). Grade 1 is below or like walking, 2 between, 3 like running or above.
Order only, never newtons: methods differ twofold in size and agree in order.
"""

import pytest

from subgraph.library.compile import Compiled

# record, source, exercise as published, grades allowed, why
ROWS = [
    # below walking
    ("seated-calf-raise", "baxter_2021", "seated heel raise, 0.5 BW, lowest of 30", {0, 1}, "below walking"),
    ("calf-raise", "baxter_2021", "standing two-leg heel raise", {1}, "below walking"),
    ("supported-calf-raise", "baxter_2021", "standing two-leg heel raise", {1}, "below walking"),
    ("deficit-calf-raise", "baxter_2021", "standing two-leg heel raise", {1}, "below walking; a deeper bottom"),
    ("reverse-lunge", "baxter_2021", "lunge", {0, 1}, "below walking"),
    ("forward-lunge", "baxter_2021", "lunge", {0, 1}, "below walking"),
    ("walking-lunge", "baxter_2021", "lunge", {0, 1}, "below walking"),
    ("static-split-squat", "baxter_2021", "lunge", {0, 1}, "below walking"),
    ("box-step-up", "baxter_2021", "step-up", {0, 1}, "below walking"),
    ("low-step-up", "baxter_2021", "step-up", {0, 1}, "below walking"),
    ("reverse-step-down", "baxter_2021", "step-up and step-down", {0, 1}, "below walking"),
    # milestones
    ("walk", "baxter_2021", "walking", {1}, "the lower milestone; 4.5 BW by tensiometry_2024"),
    ("brisk-walk", "baxter_2021", "walking", {1}, "the lower milestone"),
    ("run", "baxter_2021", "running", {3}, "the upper milestone; 8.2 to 10.1 BW by tensiometry_2024"),
    ("jog", "baxter_2021", "running", {3}, "8.2 BW at 2.68 m/s by tensiometry_2024"),
    ("sprint", "tensiometry_2024", "running, 4.47 m/s, 10.1 BW", {3}, "above the milestone"),
    # between
    ("single-leg-calf-raise", "sancho_2023", "heel raises and walking, 1 to 3 BW", {1, 2},
     "one leg: the top of its group"),
    ("jump-squat", "sancho_2023", "running, hopping and jumping, 5 to 6 BW", {2, 3},
     "two legs share the jump; grouped with running by a clinic's summary only"),
    ("broad-jump", "sancho_2023", "running, hopping and jumping, 5 to 6 BW", {2, 3},
     "two legs share the jump; grouped with running by a clinic's summary only"),
    # above running
    ("single-leg-hop", "baxter_2021", "single-leg forward hop, 7.3 BW, highest of 30", {3}, "above running"),
    ("alternating-hop", "baxter_2021", "single-leg hop", {3}, "above running"),
    ("depth-jump", "baxter_2021", "single-leg drop jump", {3},
     "the drop jump; the record uses both legs and rebounds at once"),
    # rope against running: ankle power 39 to 114 % more
    ("single-under", "rope_athletes_2020", "rope skills above running at the ankle", {3},
     "at or above the upper milestone"),
    ("double-under", "rope_athletes_2020", "rope skills above running at the ankle", {3},
     "at or above the upper milestone"),
    ("alternate-foot-skip", "rope_athletes_2020", "fast step, 9 to 20 % more ankle moment", {3},
     "at or above the upper milestone"),
    ("triple-under", "rope_athletes_2020", "rope skills above running at the ankle", {3},
     "a higher jump than the double-under"),
]  # fmt: skip


@pytest.mark.parametrize(("record", "source", "exercise", "grades", "why"), ROWS, ids=[r[0] for r in ROWS])
def test_grade_lies_on_its_side_of_the_milestones(
    compiled: Compiled, record: str, source: str, exercise: str, grades: set[int], why: str
) -> None:
    assert compiled.library.movements[record].grade("calf-elastic") in grades, f"{source}, {exercise}: {why}"


# lighter to harder; every step may be level, none may fall (baxter_2021 for the first two ladders)
LADDERS = [
    ("isolated", ["seated-calf-raise", "calf-raise", "walk", "single-leg-calf-raise", "run"]),
    ("multi-joint", ["reverse-lunge", "walk", "run", "single-leg-hop"]),
    ("rope", ["walk", "jog", "single-under", "double-under"]),
    ("speed", ["walk", "brisk-walk", "jog", "run", "sprint"]),
]


@pytest.mark.parametrize(("ladder", "records"), LADDERS, ids=[r[0] for r in LADDERS])
def test_ladders_never_fall(compiled: Compiled, ladder: str, records: list[str]) -> None:
    grades = [compiled.library.movements[r].grade("calf-elastic") for r in records]
    assert grades == sorted(grades), ladder
