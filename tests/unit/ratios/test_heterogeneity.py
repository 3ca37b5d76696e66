"""Disagreement widens, agreement does not, and each where it belongs."""

from __future__ import annotations

import math

import pytest

from subgraph.ratios import CLOCK, Edge, ratio_between, solve
from subgraph.ratios.heterogeneity import faults, fit, quarrel, widened


def rule(a: str, b: str, ratio: float, sigma: float = 0.1, source: str = "", run: str = "") -> Edge:
    return Edge(a, b, math.log(ratio), sigma, "practice", source or f"{a}{b}{ratio:g}", "", run)


def sigma(edges: list[Edge], a: str, b: str) -> float:
    equal = ratio_between(solve(edges), a, b)
    assert equal is not None
    return equal.sigma


def test_agreement_widens_nothing() -> None:
    edges = [rule("a", "b", 2), rule("a", "b", 2.1), rule("b", "c", 3), rule("a", "c", 6.2)]
    assert widened(edges) == edges


def test_two_rules_that_disagree_reach_over_both() -> None:
    edges = [rule("a", "b", 2), rule("a", "b", 6)]
    half = math.log(3) / 2
    assert sigma(edges, "a", "b") == pytest.approx(0.1 / math.sqrt(2), rel=1e-4)
    # Q = 2 (half/0.1)**2, one degree of freedom, C = 100: each variance becomes 2 half**2
    assert sigma(widened(edges), "a", "b") == pytest.approx(half, rel=1e-4)


def test_cycle_that_does_not_close_widens_each_of_its_sides() -> None:
    edges = [rule("a", "b", 2), rule("b", "c", 2), rule("a", "c", 16)]
    off = math.log(4)
    tau2 = (off**2 - 0.03) / 3  # (Q - 1) / C with Q = off**2 / 0.03 and C = 100
    assert [e.sigma**2 for e in widened(edges)] == pytest.approx([0.01 + tau2] * 3)


def test_quarrel_in_one_corner_leaves_the_others_alone() -> None:
    loud = [rule("a", "b", 2), rule("a", "b", 9)]
    quiet = [rule("c", "d", 2), rule("c", "d", 2), rule("b", "c", 1)]
    grown = widened(loud + quiet)
    assert all(e.sigma > 0.5 for e in grown[:2])
    assert grown[2:] == quiet


def test_one_for_all_is_told_apart_from_one_for_each_pair() -> None:
    loud = [rule("a", "b", 2), rule("a", "b", 3)]
    quiet = [rule("c", "d", 2, source=str(n)) for n in range(40)]
    assert quarrel(fit(loud + quiet)).tau2 == 0
    assert widened(loud + quiet, scope="all") == loud + quiet
    assert widened(loud + quiet)[0].sigma > 0.2


def test_what_nothing_else_speaks_of_is_never_widened() -> None:
    edges = [rule("a", "b", 2), rule("b", "c", 50), rule("c", "d", 0.01)]
    assert widened(edges) == edges
    assert faults(edges) == []


def test_clock_is_no_witness_against_a_rule() -> None:
    edges = [rule("a", "b", 20, 0.05), rule("a", CLOCK, 1, 0.2), rule("b", CLOCK, 1, 0.2)]
    assert widened(edges) == edges


def test_edge_to_itself_is_passed_over() -> None:
    edges = [rule("a", "a", 2), rule("a", "b", 2), rule("a", "b", 9)]
    assert widened(edges)[0] == edges[0]


def test_runs_that_agree_with_themselves_have_no_freedom_of_their_own() -> None:
    run = [rule(a, b, 1, run="one") for a, b in ("xy", "yz", "xz")]
    assert quarrel(fit(run)).freedom == pytest.approx(0, abs=1e-6)
    assert quarrel(fit([*run, rule("x", "z", 1)])).freedom == pytest.approx(1, abs=1e-6)


def test_residual_is_told_in_standard_deviations_against_all_the_rest() -> None:
    edges = [rule("a", "b", 2, 0.3), rule("b", "c", 3, 0.4), rule("a", "c", 12, 0.5)]
    found = {f.edge.source: f for f in faults(edges)}
    z = math.log(2) / math.sqrt(0.09 + 0.16 + 0.25)
    assert found["ac12"].z == pytest.approx(z)
    assert math.exp(found["ac12"].others) == pytest.approx(6)
    assert math.exp(found["ab2"].others) == pytest.approx(4)
    assert found["ab2"].z == pytest.approx(-z)


def test_largest_fault_comes_first() -> None:
    edges = [rule("a", "b", 2), rule("a", "b", 9), rule("c", "d", 2), rule("c", "d", 2.5)]
    assert [f.edge.source for f in faults(edges)] == ["ab2", "ab9", "cd2", "cd2.5"]


def test_ratio_moves_to_the_firm_evidence_less_where_all_is_in_doubt() -> None:
    edges = [rule("a", "b", 2, 0.05), rule("a", "b", 8, 0.4)]
    fixed, random = (ratio_between(solve(e), "a", "b") for e in (edges, widened(edges)))
    assert fixed is not None
    assert random is not None
    assert 2 < fixed.value < random.value < 4
