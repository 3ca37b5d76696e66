"""Quantities of the grade lint, against arithmetic that a hand can follow and published shares."""

from __future__ import annotations

import pytest

from subgraph.checks.computed import QUANTITIES, quantity
from subgraph.library.knowledge import Library
from subgraph.library.records import Computed
from subgraph.models.body import Body

MASSES = tuple(Body.mean(sex).mass_kg for sex in ("male", "female"))


def of(library: Library, name: str, movement: str, **flags: float) -> float | None:
    return quantity(name, library.movements[movement], library.postures[movement], **flags)


@pytest.mark.parametrize(
    ("movement", "quantity_", "kg"),
    [
        ("back-squat", "carried-share", (102.0, 70.0)),
        ("strict-press", "overhead-share", (43.0, 30.0)),
        ("dumbbell-strict-press", "overhead-share", (30.0, 20.0)),  # a pair of 15 and of 10
        ("bench-press", "push-share", (61.0, 43.0)),
    ],
)
def test_load_is_a_share_of_body_mass_and_a_pair_counts_twice(
    library: Library, movement: str, quantity_: str, kg: tuple[float, float]
) -> None:
    wanted = sum(load / mass for load, mass in zip(kg, MASSES, strict=True)) / 2
    assert of(library, quantity_, movement) == pytest.approx(wanted)


def test_push_up_carries_the_published_share(library: Library) -> None:
    assert of(library, "push-share", "push-up") == pytest.approx(0.66, abs=0.05)  # ebben_2011 0.64, suprak_2011 0.69


@pytest.mark.parametrize("movement", ["strict-pull-up", "hanging-leg-raise"])
def test_all_of_the_body_hangs(library: Library, movement: str) -> None:
    assert of(library, "hang-share", movement) == pytest.approx(1)


def test_arms_that_stay_straight_do_not_pull(library: Library) -> None:
    assert of(library, "pull-share", "hanging-leg-raise") is None
    assert of(library, "pull-share", "strict-pull-up") == pytest.approx(1)


def test_lying_load_is_not_overhead_and_does_not_press_the_spine(library: Library) -> None:
    assert of(library, "overhead-share", "bench-press") is None
    assert of(library, "carried-share", "bench-press") is None


def test_step_posture_without_a_bend_says_nothing_of_the_knee(library: Library) -> None:
    assert of(library, "knee-angle", "box-step-up") is None
    assert of(library, "knee-angle", "quarter-squat") == pytest.approx(67)


def test_light_load_does_not_count_as_loaded(library: Library) -> None:
    assert of(library, "knee-angle", "goblet-squat", load_over=0.5) is None
    assert of(library, "knee-angle", "front-squat", load_over=0.5) == pytest.approx(140)


def test_a_load_in_the_hands_adds_to_the_moment_of_the_back(library: Library) -> None:
    bare, light, heavy = (
        of(library, "lumbar-moment", m) for m in ("good-morning-stick", "dumbbell-romanian-deadlift", "deadlift")
    )
    assert bare is not None
    assert light is not None
    assert heavy is not None
    assert bare < light < heavy


def test_every_quantity_has_borders(library: Library) -> None:
    assert set(QUANTITIES) == {row.quantity for row in library.computed.values()}


@pytest.mark.parametrize(("value", "grade"), [(0.0, 0), (0.05, 1), (0.349, 1), (0.35, 2), (0.7, 3)])
def test_grade_begins_at_its_border(value: float, grade: int) -> None:
    row = Computed(id="p", demand="press", quantity="push-share", borders=(0.05, 0.35, 0.6), why="shares")
    assert row.grade(value) == grade


def test_grade_without_a_border_is_never_given() -> None:
    row = Computed(id="k", demand="knee-flexion", quantity="knee-angle", borders=(20, 60, None), why="degrees")
    assert row.grade(170) == 2
