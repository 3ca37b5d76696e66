"""What holds for any network of evidence."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from subgraph.ratios import Edge, Equal, Network, ratio_between, solve
from subgraph.ratios.dependence import counted_once
from subgraph.ratios.flow import evidence_shares
from subgraph.ratios.heterogeneity import widened

NAMES = "abcdefg"
FLOAT32 = 1e-3  # variances are kept as float32

ratios = st.floats(0.1, 10)
sigmas = st.floats(0.05, 1)


@st.composite
def networks(draw: st.DrawFn, *, runs: tuple[str, ...] = ("", "", "run")) -> list[Edge]:
    """Connected evidence: a random tree and further edges, parallel ones and runs among them."""
    names = NAMES[: draw(st.integers(2, 7))]
    pairs = [(names[draw(st.integers(0, k - 1))], names[k]) for k in range(1, len(names))]
    pairs += draw(
        st.lists(st.tuples(st.sampled_from(names), st.sampled_from(names)).filter(lambda p: p[0] != p[1]), max_size=8)
    )
    return [
        Edge(
            a,
            b,
            math.log(draw(ratios)),
            draw(sigmas),
            "modelled",
            str(n),
            "",
            draw(st.sampled_from(runs)),
        )
        for n, (a, b) in enumerate(pairs)
    ]


def between(network: Network, a: str, b: str) -> Equal:
    found = ratio_between(network, a, b)
    assert found is not None
    return found


@given(networks())
def test_there_and_back_is_one_and_as_sure(edges: list[Edge]) -> None:
    for network in (solve(edges), solve(widened(edges))):
        for a, b in itertools.combinations(network.nodes, 2):
            there, back = between(network, a, b), between(network, b, a)
            assert there.value * back.value == pytest.approx(1)
            assert there.sigma == pytest.approx(back.sigma, rel=FLOAT32)


@given(networks())
def test_ratios_chain(edges: list[Edge]) -> None:
    network = solve(widened(edges))
    for a, b, c in itertools.permutations(network.nodes, 3):
        chained = between(network, a, b).value * between(network, b, c).value
        assert chained == pytest.approx(between(network, a, c).value)


@given(networks())
def test_way_over_a_third_is_never_surer_than_its_two_steps(edges: list[Edge]) -> None:
    network = solve(edges)  # effective resistance is a distance
    for a, b, c in itertools.permutations(network.nodes, 3):
        steps = between(network, a, b).sigma ** 2 + between(network, b, c).sigma ** 2
        assert between(network, a, c).sigma ** 2 <= steps * (1 + FLOAT32)


@given(networks(), st.data())
def test_more_evidence_never_widens_a_fixed_effect_interval(edges: list[Edge], data: st.DataObject) -> None:
    before = solve(edges)
    a, b = (data.draw(st.sampled_from(before.nodes)) for _ in "ab")
    after = solve([*edges, Edge(a, b, math.log(data.draw(ratios)), data.draw(sigmas), "practice", "new")])
    for one, other in itertools.combinations(before.nodes, 2):
        assert between(after, one, other).sigma <= between(before, one, other).sigma * (1 + FLOAT32)


@given(networks(runs=("",)))  # within a run, widening one pair may let another carry more
def test_random_effects_are_never_narrower(edges: list[Edge]) -> None:
    fixed, random = solve(edges), solve(widened(edges))
    for a, b in itertools.combinations(fixed.nodes, 2):
        assert between(random, a, b).sigma >= between(fixed, a, b).sigma * (1 - FLOAT32)


@given(networks())
def test_counting_a_run_once_never_narrows(edges: list[Edge]) -> None:
    free, once = solve(edges), solve(counted_once(edges))
    for a, b in itertools.combinations(free.nodes, 2):
        assert between(once, a, b).sigma >= between(free, a, b).sigma * (1 - FLOAT32)


@given(networks(), st.data())
def test_shares_add_up_to_the_ratio(edges: list[Edge], data: st.DataObject) -> None:
    network = solve(edges)
    a = data.draw(st.sampled_from(network.nodes[:-1]))
    b = network.nodes[-1]
    shares = evidence_shares(network, a, b)
    leaving = sum(s.share for s in shares if a in (s.edge.a, s.edge.b))
    assert leaving == pytest.approx(1, abs=0.01 * len(edges) + FLOAT32)
    assert all(0 < s.share <= 1 for s in shares)
