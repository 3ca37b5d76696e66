"""The lint of ratios: which cycle a loud rule breaks, and how it is told."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from subgraph.checks import check_folder
from subgraph.checks.ratios import broken_cycle
from subgraph.errors import Problem
from subgraph.ratios import CLOCK, Edge
from tests.common import PLAIN_RATIO, movement, tiny_library


def edge(a: str, b: str, ratio: float, sigma: float = 0.1, source: str = "", run: str = "") -> Edge:
    return Edge(a, b, math.log(ratio), sigma, "practice", source or f"{a}{b}{ratio:g}", "", run)


def names(edges: list[Edge]) -> list[str]:
    return [e.source for e in edges]


def test_parallel_rule_that_contradicts_is_the_shortest_cycle() -> None:
    loud = edge("a", "b", 9)
    edges = [loud, edge("a", "b", 2), edge("a", "c", 1), edge("c", "b", 2)]
    assert names(broken_cycle(loud, edges)) == ["ab2"]


def test_cycle_that_closes_is_passed_over_for_one_that_does_not() -> None:
    loud = edge("a", "b", 9)
    edges = [loud, edge("a", "b", 9, source="same"), edge("a", "c", 1), edge("c", "b", 2)]
    assert names(broken_cycle(loud, edges)) == ["ac1", "cb2"]


def test_fewest_steps_come_first_and_the_firmest_of_parallel_rules() -> None:
    loud = edge("a", "b", 9)
    long = [edge("a", "x", 1), edge("x", "y", 1), edge("y", "b", 1)]
    short = [edge("a", "c", 1, 0.3, "soft"), edge("c", "a", 1, 0.1, "firm"), edge("c", "b", 1)]
    assert names(broken_cycle(loud, [loud, *long, *short])) == ["firm", "cb1"]


def test_one_run_is_no_witness_against_itself() -> None:
    loud = edge("a", "b", 9, run="model")
    inside = [edge("a", "c", 1, run="model"), edge("c", "b", 1, run="model")]
    outside = [edge("a", "x", 1), edge("x", "y", 1), edge("y", "b", 1)]
    assert names(broken_cycle(loud, [loud, *inside, *outside])) == ["ax1", "xy1", "yb1"]


def test_clock_is_on_no_cycle() -> None:
    loud = edge("a", "b", 9)
    assert broken_cycle(loud, [loud, edge("a", CLOCK, 1), edge("b", CLOCK, 1)]) == []


def triangle(folder: Path, last: float) -> list[Problem]:
    rule: dict[str, Any] = {**PLAIN_RATIO, "pages": 9}
    sides = (("x", "y", 2.0), ("y", "z", 2.0), ("x", "z", last))
    tiny_library(
        folder,
        movements=[movement(m) for m in "xyz"],
        ratios=[{**rule, "id": f"{a}-{b}", "from": a, "to": b, "ratio": r, "low": r, "high": r} for a, b, r in sides],
    )
    return [p for p in check_folder(folder) if p.rule == "ratio-residual"]


def test_note_names_each_side_of_the_cycle_with_file_and_line(tmp_path: Path) -> None:
    (note,) = triangle(tmp_path, 16)
    assert note.severity == "note"
    assert note.file == "ratios/ratios.yaml"
    told = note.what + note.mend
    sides = {"x-y", "y-z", "x-z"}
    assert {s for s in sides if s in note.mend} == sides - {note.record}
    assert note.mend.count("ratios/ratios.yaml:") == 2
    assert "standard deviations" in told


def test_triangle_that_nearly_closes_is_no_note(tmp_path: Path) -> None:
    assert triangle(tmp_path, 4.6) == []
