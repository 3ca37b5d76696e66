"""The ratio network against closed forms, against networkx and against a plain weighted least squares."""

from __future__ import annotations

import itertools
import math
import random
from pathlib import Path

import networkx as nx
import numpy as np
import pytest

from subgraph.library.knowledge import Library
from subgraph.library.records import Ratio
from subgraph.ratios import (
    CLOCK,
    EQUALISERS,
    LEAST_SIGMA,
    SPREAD_OF_MEMORY,
    SPREAD_OF_ONE_PAGE,
    TIME_SIGMA,
    Z_80,
    Z_90,
    Edge,
    Equal,
    Network,
    evidence,
    laplacian,
    network_of,
    node,
    ratio_between,
    sigma_of,
    solve,
)
from subgraph.ratios.flow import evidence_shares
from subgraph.ratios.heterogeneity import widened
from tests.common import PLAIN_RATIO, load_tiny

FLOAT32 = 1e-4  # variances are kept as float32


def edge(a: str, b: str, ratio: float, sigma: float = 0.2) -> Edge:
    return Edge(a, b, math.log(ratio), sigma, "practice", f"{a}-{b}-{ratio:g}")


def rule(**fields: object) -> Ratio:
    plain = {"id": "x", "from_": "a", "to": "b", "ratio": 2.0, "low": 1.5, "high": 2.5}
    return Ratio(**(plain | {"basis": "practice", "source": "common-practice"} | fields))  # type: ignore[arg-type]


def between(network: Network, a: str, b: str) -> Equal:
    found = ratio_between(network, a, b)
    assert found is not None
    return found


def random_evidence(seed: int, nodes: int = 12, more: int = 18) -> list[Edge]:
    """A random connected network: a random tree and further edges, parallel ones among them."""
    dice = random.Random(seed)
    names = [f"n{i:02d}" for i in range(nodes)]
    pairs = [(names[i], names[dice.randrange(i)]) for i in range(1, nodes)]
    pairs += [tuple(dice.sample(names, 2)) for _ in range(more)]  # type: ignore[misc]
    pairs.append(pairs[0])
    return [
        Edge(a, b, dice.gauss(0, 1), dice.uniform(0.08, 0.9), "practice", f"rule {i}") for i, (a, b) in enumerate(pairs)
    ]


# --- one or two edges, by hand -----------------------------------------------------------------------------------


def test_single_rule_is_given_back() -> None:
    equal = between(solve([edge("a", "b", 2, 0.3)]), "a", "b")
    assert equal.value == pytest.approx(2)
    assert equal.sigma == pytest.approx(0.3, rel=FLOAT32)


def test_in_series_ratios_multiply_and_variances_add() -> None:
    equal = between(solve([edge("a", "b", 2, 0.3), edge("b", "c", 5, 0.4)]), "a", "c")
    assert equal.value == pytest.approx(2 * 5)
    assert equal.sigma == pytest.approx(math.sqrt(0.3**2 + 0.4**2), rel=FLOAT32)


def test_in_parallel_the_firmer_rule_counts_more_and_weights_add() -> None:
    equal = between(solve([edge("a", "b", 2, 0.2), edge("a", "b", 8, 0.4)]), "a", "b")
    w1, w2 = 1 / 0.2**2, 1 / 0.4**2
    assert equal.value == pytest.approx(math.exp((w1 * math.log(2) + w2 * math.log(8)) / (w1 + w2)))
    assert equal.sigma == pytest.approx(1 / math.sqrt(w1 + w2), rel=FLOAT32)


def test_rule_written_the_other_way_round_is_the_same_rule() -> None:
    one = between(solve([edge("a", "b", 4, 0.2), edge("b", "c", 3)]), "a", "c")
    other = between(solve([edge("b", "a", 1 / 4, 0.2), edge("b", "c", 3)]), "a", "c")
    assert one.value == pytest.approx(other.value)
    assert one.sigma == pytest.approx(other.sigma)


def test_triangle_pools_the_direct_and_the_indirect_way() -> None:
    equal = between(solve([edge("a", "b", 6, 0.3), edge("a", "c", 2, 0.3), edge("c", "b", 4, 0.3)]), "a", "b")
    direct, indirect = 1 / 0.3**2, 1 / (2 * 0.3**2)
    assert equal.value == pytest.approx(math.exp((direct * math.log(6) + indirect * math.log(8)) / (direct + indirect)))
    assert equal.sigma == pytest.approx(1 / math.sqrt(direct + indirect), rel=FLOAT32)


def test_long_chain_keeps_its_product() -> None:
    chain = [edge(f"n{i}", f"n{i + 1}", 1.5, 0.1) for i in range(40)]
    equal = between(solve(chain), "n0", "n40")
    assert equal.value == pytest.approx(1.5**40)
    assert equal.sigma == pytest.approx(math.sqrt(40) * 0.1, rel=1e-3)


def test_node_against_itself_is_one_and_certain() -> None:
    assert ratio_between(solve([edge("a", "b", 2)]), "a", "a") == Equal(1.0, 0.0)


def test_unconnected_and_unknown_nodes_have_no_ratio() -> None:
    network = solve([edge("a", "b", 2), edge("c", "d", 3)])
    assert ratio_between(network, "a", "c") is None
    assert ratio_between(network, "a", "nowhere") is None
    assert ratio_between(network, "nowhere", "nowhere") is None
    assert between(network, "c", "d").value == pytest.approx(3)


def test_no_evidence_gives_an_empty_network() -> None:
    network = solve([])
    assert network.nodes == []
    assert ratio_between(network, "a", "b") is None


def test_edge_from_a_node_to_itself_changes_nothing() -> None:
    alone = between(solve([edge("a", "b", 2)]), "a", "b")
    with_loop = between(solve([edge("a", "b", 2), edge("a", "a", 1)]), "a", "b")
    assert with_loop.value == pytest.approx(alone.value)
    assert with_loop.sigma == pytest.approx(alone.sigma, rel=FLOAT32)


@pytest.mark.parametrize("sigma", [0.0, -0.1, math.inf, math.nan])
def test_bad_sigma_is_refused_with_its_source(sigma: float) -> None:
    with pytest.raises(ValueError, match="evidence a-b-2: sigma must be positive"):
        solve([edge("a", "b", 2, sigma)])


@pytest.mark.parametrize("log_ratio", [math.inf, -math.inf, math.nan])
def test_ratio_that_is_no_number_is_refused(log_ratio: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        solve([Edge("a", "b", log_ratio, 0.2, "practice", "broken")])


# --- any network -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(8))
def test_there_and_back_multiply_to_one(seed: int) -> None:
    network = solve(random_evidence(seed))
    for a, b in itertools.combinations(network.nodes, 2):
        there, back = between(network, a, b), between(network, b, a)
        assert there.value * back.value == pytest.approx(1, rel=1e-9)
        assert there.sigma == pytest.approx(back.sigma)


@pytest.mark.parametrize("seed", range(8))
def test_ratios_chain_over_any_third(seed: int) -> None:
    network = solve(random_evidence(seed))
    for a, b, c in itertools.combinations(network.nodes, 3):
        chained = between(network, a, b).value * between(network, b, c).value
        assert chained == pytest.approx(between(network, a, c).value, rel=1e-9)


@pytest.mark.parametrize("seed", range(8))
def test_variance_is_the_effective_resistance(seed: int) -> None:
    edges = random_evidence(seed)
    network = solve(edges)
    graph = nx.MultiGraph()
    for e in edges:
        graph.add_edge(e.a, e.b, resistance=e.sigma**2)
    for a, b in itertools.combinations(network.nodes, 2):
        expected = nx.resistance_distance(graph, a, b, weight="resistance", invert_weight=True)
        assert between(network, a, b).sigma ** 2 == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("seed", range(8))
def test_ratios_are_those_of_weighted_least_squares(seed: int) -> None:
    from statsmodels.regression.linear_model import WLS

    edges = random_evidence(seed)
    network = solve(edges)
    free = network.nodes[1:]  # the first potential is held at nought
    design = np.zeros((len(edges), len(free)))
    for row, e in enumerate(edges):
        for end, sign in ((e.b, 1), (e.a, -1)):
            if end in free:
                design[row, free.index(end)] += sign
    logs = np.array([e.log_ratio for e in edges])
    fit = WLS(logs, design, weights=[e.sigma**-2 for e in edges]).fit()
    for position, name in enumerate(free):
        equal = between(network, network.nodes[0], name)
        assert math.log(equal.value) == pytest.approx(fit.params[position], abs=1e-8)
        assert equal.sigma**2 == pytest.approx(fit.normalized_cov_params[position, position], rel=1e-3)


@pytest.mark.parametrize("seed", range(4))
def test_order_of_the_evidence_does_not_matter(seed: int) -> None:
    edges = random_evidence(seed)
    one, other = solve(edges), solve(edges[::-1])
    for name in one.nodes[1:]:
        a, b = between(one, one.nodes[0], name), between(other, one.nodes[0], name)
        assert a.value == pytest.approx(b.value, rel=1e-9)
        assert a.sigma == pytest.approx(b.sigma, rel=1e-3)


def test_more_evidence_never_widens_an_interval() -> None:
    edges = random_evidence(3)
    fewer, more = solve(edges[:-1]), solve(edges)
    for a, b in itertools.combinations(fewer.nodes, 2):
        assert between(more, a, b).sigma <= between(fewer, a, b).sigma * (1 + FLOAT32)


def test_laplacian_rows_sum_to_nought() -> None:
    matrix = laplacian(4, [(0, 1, 2.0), (1, 2, 3.0), (0, 1, 0.5), (3, 3, 7.0)])
    assert matrix.sum(axis=1) == pytest.approx([0, 0, 0, 0])
    assert matrix[0, 1] == -2.5
    assert matrix[1, 1] == 5.5


def _fresh(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    """Forget what is solved in memory, and keep the cache in another folder."""
    monkeypatch.setattr("subgraph.ratios.store._solved", {})
    monkeypatch.setenv("SUBGRAPH_CACHE", str(folder))


def test_stored_network_answers_as_the_solved_one(
    library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    solved = solve(widened(evidence(library, "effort")))
    _fresh(monkeypatch, tmp_path)
    network_of(library, "effort")
    _fresh(monkeypatch, tmp_path)
    stored = network_of(library, "effort")
    assert stored.nodes == solved.nodes
    some = [*solved.nodes[::97], CLOCK]
    for a, b in itertools.permutations(some, 2):
        assert between(stored, a, b) == between(solved, a, b)


def test_second_process_need_not_solve_again(library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _fresh(monkeypatch, tmp_path)
    names = network_of(library, "effort").nodes
    _fresh(monkeypatch, tmp_path)

    def refuse(edges: object) -> Network:
        raise AssertionError("solved again although all was stored")

    monkeypatch.setattr("subgraph.ratios.store.solve", refuse)
    for name in names[::50]:
        between(network_of(library, "effort"), name, CLOCK)


# --- intervals, shares, what a rule is worth -----------------------------------------------------------------------


def test_interval_holds_four_in_five() -> None:
    equal = Equal(2.0, 0.3)
    assert equal.low == pytest.approx(2 * math.exp(-1.2816 * 0.3), rel=1e-4)
    assert equal.high == pytest.approx(2 * math.exp(1.2816 * 0.3), rel=1e-4)
    assert equal.low * equal.high == pytest.approx(2.0**2)
    assert math.erf(Z_80 / math.sqrt(2)) == pytest.approx(0.8, abs=1e-12)
    assert math.erf(Z_90 / math.sqrt(2)) == pytest.approx(0.9, abs=1e-12)


def test_chain_rests_wholly_on_each_of_its_rules() -> None:
    edges = [edge("a", "b", 2, 0.1), edge("b", "c", 3, 0.5), edge("c", "d", 2)]
    shares = evidence_shares(solve(edges), "a", "c")
    assert {s.edge.source: round(s.share, 3) for s in shares} == {"a-b-2": 1.0, "b-c-3": 1.0}


def test_parallel_rules_share_by_their_weights() -> None:
    edges = [edge("a", "b", 2, 0.2), edge("a", "b", 3, 0.4)]
    shares = evidence_shares(solve(edges), "a", "b")
    assert [s.edge.source for s in shares] == ["a-b-2", "a-b-3"]
    assert [s.share for s in shares] == pytest.approx([4 / 5, 1 / 5], rel=1e-3)


def test_rules_of_another_part_have_no_share() -> None:
    edges = [edge("a", "b", 2), edge("x", "y", 3)]
    assert [s.edge.source for s in evidence_shares(solve(edges), "a", "b")] == ["a-b-2"]


def test_shares_of_a_chain_with_a_side_way_add_up_to_the_ratio() -> None:
    edges = [edge("a", "b", 2, 0.2), edge("b", "c", 3, 0.3), edge("a", "c", 7, 0.5), edge("c", "d", 5)]
    network = solve(edges)
    shares = {s.edge.source: s.share for s in evidence_shares(network, "a", "c")}
    assert "c-d-5" not in shares
    assert shares["a-b-2"] == pytest.approx(shares["b-c-3"], rel=1e-3)
    assert shares["a-b-2"] + shares["a-c-7"] == pytest.approx(1, rel=1e-3)
    pooled = shares["a-b-2"] * math.log(6) + shares["a-c-7"] * math.log(7)
    assert math.log(between(network, "a", "c").value) == pytest.approx(pooled, rel=1e-3)


def test_stated_sigma_is_taken_as_it_is() -> None:
    assert sigma_of(rule(sigma=0.33, pages=9)) == 0.33


@pytest.mark.parametrize("pages", [1, 5, 20])
def test_sigma_joins_the_spread_and_what_few_pages_leave_open(pages: int) -> None:
    spread = math.log(2.5 / 1.5) / (2 * 1.6448536269514722)
    assert sigma_of(rule(pages=pages)) == pytest.approx(math.sqrt(spread**2 + SPREAD_OF_ONE_PAGE**2 / pages))


def test_rule_from_memory_is_worth_less_than_one_page() -> None:
    spread = math.log(2.5 / 1.5) / (2 * Z_90)
    assert sigma_of(rule(pages=0)) == pytest.approx(math.hypot(spread, SPREAD_OF_MEMORY))
    assert sigma_of(rule(pages=0)) > sigma_of(rule(pages=1))


def test_rule_that_all_agree_on_is_never_certain() -> None:
    assert sigma_of(rule(low=2.0, high=2.0, pages=10_000)) == LEAST_SIGMA


def test_count_made_for_one_population_is_widened_by_half() -> None:
    assert sigma_of(rule(pages=4, population="older members")) == pytest.approx(1.5 * sigma_of(rule(pages=4)))


# --- evidence of a library -----------------------------------------------------------------------------------------


def test_rules_count_where_their_equaliser_holds(tiny: Library) -> None:
    sources = {e: {x.source for x in evidence(tiny, e) if x.a != CLOCK and x.b != CLOCK} for e in EQUALISERS}
    assert sources == {
        "effort": {"du-su", "t2b-tuck", "pull-row"},
        "energy": {"du-su", "t2b-tuck"},
        "time": {"du-su", "t2b-tuck", "run-row"},
    }


def test_every_way_of_counting_a_movement_meets_the_clock(tiny: Library) -> None:
    paces = [e for e in evidence(tiny, "time") if e.b == CLOCK]
    assert {e.a for e in paces} == {node(m.id, unit) for m in tiny.movements.values() for unit in m.units}
    assert {e.sigma for e in paces} == {TIME_SIGMA["time"]}
    by_node = {e.a: e.log_ratio for e in paces}
    assert by_node["row/cal"] == pytest.approx(math.log(4.5))  # the regular pace
    assert by_node["plank/s"] == 0


def test_seconds_of_a_movement_are_a_node_where_a_rule_speaks_of_them(tmp_path: Path) -> None:
    held = {**PLAIN_RATIO, "id": "held", "from": "air-squat", "to": "march", "units": ["rep", "s"]}
    library = load_tiny(tmp_path, ratios=[{**held, "ratio": 2, "low": 1, "high": 3}])
    clocked = {e.a for e in evidence(library, "time") if e.b == CLOCK}
    assert {"march/s", "march/rep", "air-squat/rep"} <= clocked
    assert "air-squat/s" not in clocked


def test_clock_connects_what_no_rule_connects(tiny: Library) -> None:
    network = network_of(tiny, "time")
    assert between(network, "thruster/rep", "plank/s").value == pytest.approx(1.5, rel=0.05)


def test_rule_outweighs_the_clock(tiny: Library) -> None:
    equal = between(network_of(tiny, "effort"), "double-under/rep", "single-under/rep")
    by_the_clock = 0.6 / 0.5
    assert abs(math.log(equal.value / 2)) < abs(math.log(equal.value / by_the_clock))
    assert by_the_clock < equal.value < 2


def test_contradicting_rules_meet_between(tmp_path: Path) -> None:
    other = {
        **PLAIN_RATIO,
        "id": "du-su-2",
        "from": "double-under",
        "to": "single-under",
        "ratio": 8,
        "low": 6,
        "high": 10,
    }
    library = load_tiny(tmp_path, ratios=[{**other, "pages": 5}])
    assert 2 < between(solve(evidence(library, "time")), "double-under/rep", "single-under/rep").value < 8


@pytest.mark.parametrize("equaliser", EQUALISERS)
def test_all_of_the_real_library_hangs_together(library: Library, equaliser: str) -> None:
    network = network_of(library, equaliser)  # type: ignore[arg-type]
    assert len(set(network.component)) == 1
