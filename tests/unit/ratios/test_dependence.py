"""One model run, one study: counted once."""

from __future__ import annotations

import itertools
import math

import pytest

from subgraph.library.knowledge import Library
from subgraph.ratios import Edge, evidence, ratio_between, solve
from subgraph.ratios.dependence import counted_once, groups, parts

CLOSE = 1e-4


def modelled(errors: dict[str, float], pairs: list[tuple[str, str]], run: str = "model") -> list[Edge]:
    """Ratios of a model that knows each movement to an error of its own."""
    cost = {name: float(n + 1) for n, name in enumerate(errors)}
    return [
        Edge(a, b, math.log(cost[a] / cost[b]), math.hypot(errors[a], errors[b]), "modelled", a + b, "", run)
        for a, b in pairs
    ]


def variance(edges: list[Edge], a: str, b: str) -> float:
    equal = ratio_between(solve(edges), a, b)
    assert equal is not None
    return equal.sigma**2


@pytest.mark.parametrize("n", [3, 5, 8])
def test_all_pairs_of_a_run_keep_the_variance_of_the_model(n: int) -> None:
    errors = {name: 0.1 + 0.02 * k for k, name in enumerate("abcdefgh"[:n])}
    edges = modelled(errors, list(itertools.combinations(errors, 2)))
    once = counted_once(edges)
    for a, b in itertools.combinations(errors, 2):
        expected = errors[a] ** 2 + errors[b] ** 2
        assert variance(once, a, b) == pytest.approx(expected, rel=CLOSE)
        assert variance(edges, a, b) < 0.75 * expected, "as independent they sharpen one another"


def test_ratios_of_a_run_stay_what_they_are() -> None:
    errors = dict.fromkeys("abcd", 0.2)
    edges = modelled(errors, list(itertools.combinations(errors, 2)))
    before, after = solve(edges), solve(counted_once(edges))
    assert after.potential == pytest.approx(before.potential)


def test_chain_says_each_thing_once_and_is_left_alone() -> None:
    edges = modelled(dict.fromkeys("abcd", 0.2), [("a", "b"), ("b", "c"), ("c", "d")])
    assert groups(edges) == []
    assert counted_once(edges) == edges


def test_same_ratio_twice_in_one_run_is_one_ratio() -> None:
    edges = modelled({"a": 0.3, "b": 0.4}, [("a", "b"), ("a", "b")])
    assert variance(counted_once(edges), "a", "b") == pytest.approx(0.25, rel=CLOSE)
    assert variance(edges, "a", "b") == pytest.approx(0.125, rel=CLOSE)


def test_two_runs_are_two_witnesses() -> None:
    one, other = (modelled({"a": 0.3, "b": 0.4}, [("a", "b")], run) for run in ("one", "other"))
    edges = one + other
    assert counted_once(edges) == edges


def test_evidence_outside_runs_is_left_alone() -> None:
    practice = [Edge("a", "b", 0.0, 0.2, "practice", str(n)) for n in range(3)]
    edges = [*practice, *modelled(dict.fromkeys("abc", 0.2), [("a", "b"), ("b", "c"), ("a", "c")])]
    assert counted_once(edges)[:3] == practice


def test_loose_pair_that_a_tight_chain_already_says_is_idle() -> None:
    tight = [Edge(a, b, 0.0, 0.1, "modelled", a + b, "", "run") for a, b in ("ab", "bc")]
    edges = [*tight, Edge("a", "c", 0.0, 2.0, "modelled", "ac", "", "run")]
    once = counted_once(edges)
    assert variance(once, "a", "c") == pytest.approx(0.02, rel=CLOSE)
    assert [e.sigma for e in once[:2]] == pytest.approx([0.1, 0.1], rel=CLOSE)
    assert once[2].sigma > 20


def test_parts_hang_together() -> None:
    pairs = [("a", "b"), ("x", "y"), ("b", "c"), ("z", "z"), ("y", "x")]
    assert parts(pairs) == [[0, 2], [1, 4], [3]]


@pytest.mark.parametrize("equaliser", ["effort", "energy"])
def test_no_modelled_ratio_of_the_library_is_surer_than_its_model(library: Library, equaliser: str) -> None:
    edges = [e for e in evidence(library, equaliser) if e.run and not e.of_the_clock]  # type: ignore[arg-type]
    once = counted_once(edges)
    network = {e.run: solve([o for o in once if o.run == e.run]) for e in edges}
    surest = []
    for e in edges:
        equal = ratio_between(network[e.run], e.a, e.b)
        assert equal is not None
        surest.append(equal.sigma / e.sigma)
    assert max(surest) == pytest.approx(1, abs=1e-3)
    assert sum(s > 0.99 for s in surest) > 0.8 * len(surest)
