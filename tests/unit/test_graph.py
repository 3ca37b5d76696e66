"""Links in both directions, what must be owned first, and what falls away."""

from __future__ import annotations

from pathlib import Path

import pytest

from subgraph.graph import as_networkx, must_own_first, out_of_reach, steps
from subgraph.library.knowledge import Library
from tests.common import load_tiny, movement


def _kinds(library: Library, movement_id: str) -> dict[str, str]:
    return {step.to: step.kind for step in steps(library, movement_id)}


def test_link_is_seen_from_both_ends_with_the_opposite_kind(tiny: Library) -> None:
    assert _kinds(tiny, "toes-to-bar") == {"hanging-knee-raise": "easier", "v-up": "sideways"}
    assert _kinds(tiny, "hanging-knee-raise") == {"toes-to-bar": "harder"}
    assert _kinds(tiny, "v-up") == {"toes-to-bar": "sideways", "tuck-up": "easier"}


def test_harder_link_is_easier_from_the_other_end(tiny: Library) -> None:
    assert _kinds(tiny, "plank") == {"push-up": "harder"}
    assert _kinds(tiny, "push-up") == {"plank": "easier"}


def test_step_tells_whether_it_was_written_in_this_direction(tiny: Library) -> None:
    (there,) = steps(tiny, "plank")
    (back,) = steps(tiny, "push-up")
    assert (there.declared, back.declared) == (True, False)
    assert there.link == back.link


def test_movement_without_links_has_no_steps(tmp_path: Path) -> None:
    library = load_tiny(tmp_path, movements=[movement("jumping-jack")])
    assert list(steps(library, "jumping-jack")) == []


def test_needs_are_followed_to_the_end(tmp_path: Path) -> None:
    chain = [movement("march", needs=["air-squat"]), movement("air-squat", needs=["plank"])]
    library = load_tiny(tmp_path, movements=chain)
    assert must_own_first(library, "march") == {"air-squat", "plank"}
    assert must_own_first(library, "plank") == set()


def test_cycle_of_needs_comes_to_an_end(tmp_path: Path) -> None:
    ring = [movement("march", needs=["air-squat"]), movement("air-squat", needs=["march"])]
    assert must_own_first(load_tiny(tmp_path, movements=ring), "march") == {"march", "air-squat"}


def test_unknown_need_ends_its_branch(tmp_path: Path) -> None:
    library = load_tiny(tmp_path, movements=[movement("march", needs=["nowhere", "plank"])])
    assert must_own_first(library, "march") == {"plank"}


def test_what_needs_a_movement_not_owned_falls_away(tiny: Library) -> None:
    assert out_of_reach(tiny, ["single-under"]) == {"single-under": "single-under", "double-under": "single-under"}


def test_harder_form_of_a_movement_not_owned_falls_away(tiny: Library) -> None:
    assert out_of_reach(tiny, ["air-squat"]) == {"air-squat": "air-squat", "thruster": "air-squat"}


def test_easier_and_sideways_forms_stay(tiny: Library) -> None:
    assert out_of_reach(tiny, ["toes-to-bar"]) == {"toes-to-bar": "toes-to-bar"}


def test_needs_carry_on_but_harder_does_not(tmp_path: Path) -> None:
    # march > air-squat > thruster is a ladder of harder forms; plank needs air-squat.
    links = [{"from": "march", "to": "air-squat", "kind": "harder", "why": "bend the knees"}]
    moves = [movement("plank", needs=["air-squat"]), movement("march", skill=0, strength=1)]
    library = load_tiny(tmp_path, links=links, movements=moves)
    lost = out_of_reach(library, ["march"])
    assert lost["air-squat"] == "march"
    assert lost["plank"] == "march"
    assert "thruster" not in lost


def test_harder_form_that_takes_less_skill_is_not_taken_away(tmp_path: Path) -> None:
    moves = [movement("plank", skill=2, strength=2), movement("push-up", skill=1, strength=3)]
    library = load_tiny(tmp_path, movements=moves)
    assert out_of_reach(library, ["plank"]) == {"plank": "plank"}


def test_nothing_falls_away_when_all_is_owned(tiny: Library) -> None:
    assert out_of_reach(tiny, []) == {}


def test_networkx_form_holds_each_link_twice_and_each_need_once(tiny: Library) -> None:
    graph = as_networkx(tiny)
    assert set(graph.nodes) == set(tiny.movements)
    needs = sum(len(m.needs) for m in tiny.movements.values())
    assert graph.number_of_edges() == 2 * len(tiny.links) + needs == 2 * 11 + 2


@pytest.mark.parametrize(
    ("a", "b", "kinds"),
    [
        ("toes-to-bar", "hanging-knee-raise", ["easier", "needs"]),
        ("hanging-knee-raise", "toes-to-bar", ["harder"]),
        ("run", "row", ["sideways"]),
        ("row", "run", ["sideways"]),
    ],
)
def test_networkx_edges_carry_their_kind(tiny: Library, a: str, b: str, kinds: list[str]) -> None:
    graph = as_networkx(tiny)
    assert sorted(data["kind"] for data in graph.get_edge_data(a, b).values()) == kinds
