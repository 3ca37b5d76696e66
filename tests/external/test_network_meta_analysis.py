"""The ratio network against published network and pairwise meta-analyses, and two independent libraries on our data.

Trials: Senn, Gavini, Magrez and Scheen 2013 (doi 10.1177/0962280211432220), 28 comparisons of ten treatments, one trial
with three arms. The reference values are those that the package which carries the data (pimeta 1.1.0) holds for the
network routine of Rücker 2012 (doi 10.1002/jrsm.1058) in its original implementation.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import networkx as nx
import numpy as np
import pytest

from subgraph.library.knowledge import Library
from subgraph.ratios import CLOCK, Edge, Network, evidence, ratio_between, solve
from subgraph.ratios.dependence import counted_once
from subgraph.ratios.heterogeneity import fit, quarrel, widened

DATA = Path(__file__).parent / "data" / "glucose_trials.csv"


def trials(*pair: str) -> list[Edge]:
    """The trials as evidence: potentials are differences of `one` against `other`."""
    lines = [line for line in DATA.read_text().splitlines() if not line.startswith("#")]
    found = [
        Edge(
            r["other"],
            r["one"],
            float(r["difference"]),
            float(r["standard_error"]),
            "measured",
            f"{r['trial']}-{r['one']}-{r['other']}",
            "",
            r["trial"],
        )
        for r in csv.DictReader(lines)
    ]
    return [e for e in found if not pair or {e.a, e.b} == set(pair)]


def difference(network: Network, one: str, other: str) -> tuple[float, float]:
    """Difference of `one` against `other` and its standard error."""
    equal = ratio_between(network, other, one)
    assert equal is not None
    return math.log(equal.value), equal.sigma


def test_transcription_is_whole() -> None:
    edges = trials()
    assert len(edges) == 28
    assert len({e.run for e in edges}) == 26
    assert len({end for e in edges for end in (e.a, e.b)}) == 10
    assert sum(e.log_ratio for e in edges) == pytest.approx(-21.91)
    assert sum(e.sigma for e in edges) == pytest.approx(5.5749)


def test_heterogeneity_of_the_network_to_the_printed_digits() -> None:
    found = quarrel(fit(trials()))
    assert found.q == pytest.approx(96.98555, abs=2e-5)
    assert found.freedom == pytest.approx(18)
    assert found.tau2 == pytest.approx(0.1087169, abs=1e-7)
    assert 1 - found.freedom / found.q == pytest.approx(0.8144053, abs=1e-7)


def test_fixed_and_random_effects_to_the_printed_digits() -> None:
    fixed, random = solve(counted_once(trials())), solve(widened(trials(), scope="all"))
    assert difference(fixed, "plac", "metf")[0] == pytest.approx(1.11411018904, abs=1e-6)
    assert difference(random, "plac", "metf")[0] == pytest.approx(1.12677535121, abs=1e-6)


# Pairwise random effects of DerSimonian and Laird for the direct evidence of a pair alone.
@pytest.mark.parametrize(
    ("one", "trials_of_pair", "fixed", "random", "tau2"),
    [
        ("benf", 2, -0.90518644941738258, -0.68509059615384615, 0.23476977500000015),
        ("metf", 4, -1.1523071750195584, -1.1215844029777127, 0.45942007423349152),
        ("rosi", 6, -1.148290535347845, -1.1764389660070329, 0.055627344131377737),
    ],
)
def test_pair_alone_is_an_ordinary_meta_analysis(
    one: str, trials_of_pair: int, fixed: float, random: float, tau2: float
) -> None:
    edges = trials(one, "plac")
    assert len(edges) == trials_of_pair
    assert quarrel(fit(edges)).tau2 == pytest.approx(tau2, abs=1e-12)
    assert difference(solve(edges), one, "plac")[0] == pytest.approx(fixed, abs=1e-12)
    assert difference(solve(widened(edges)), one, "plac")[0] == pytest.approx(random, abs=1e-12)


def test_standard_error_of_a_pair_alone() -> None:
    network = solve(widened(trials("benf", "plac")))
    assert difference(network, "benf", "plac")[1] == pytest.approx(0.38452986137923928, rel=1e-6)


# Kacker 2004, nine laboratories, as in the test data of statsmodels.
KACKER = (61.0, 61.4, 62.21, 62.3, 62.34, 62.6, 62.7, 62.84, 65.9)
KACKER_VARIANCE = (0.2025, 1.2100, 0.0900, 0.2025, 0.3844, 0.5625, 0.0676, 0.0225, 1.8225)


def test_parallel_evidence_is_pooled_as_statsmodels_does() -> None:
    from statsmodels.stats.meta_analysis import combine_effects

    edges = [
        Edge("x", "y", value, variance**0.5, "measured", str(n))
        for n, (value, variance) in enumerate(zip(KACKER, KACKER_VARIANCE, strict=True))
    ]
    theirs = combine_effects(np.array(KACKER), np.array(KACKER_VARIANCE), method_re="dl")
    ours = quarrel(fit(edges))
    assert ours.q == pytest.approx(theirs.q)
    assert ours.q == pytest.approx(24.801897741835)  # printed there, from another implementation
    assert ours.tau2 == pytest.approx(theirs.tau2)
    network = solve(widened(edges))
    assert difference(network, "y", "x")[0] == pytest.approx(theirs.mean_effect_re)
    assert difference(network, "y", "x")[1] == pytest.approx(theirs.sd_eff_w_re, rel=1e-6)


# --- our own evidence ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("equaliser", ["effort", "time"])
def test_our_network_is_the_weighted_regression_of_statsmodels(library: Library, equaliser: str) -> None:
    from statsmodels.regression.linear_model import WLS

    edges = evidence(library, equaliser)  # type: ignore[arg-type]
    network = solve(edges)
    free = {name: i for i, name in enumerate(n for n in network.nodes if n != CLOCK)}
    design = np.zeros((len(edges), len(free)))
    for row, e in enumerate(edges):
        for end, sign in ((e.b, 1), (e.a, -1)):
            if end in free:
                design[row, free[end]] += sign
    found = WLS(np.array([e.log_ratio for e in edges]), design, weights=[e.sigma**-2 for e in edges]).fit(method="qr")
    variances = np.diagonal(found.normalized_cov_params)
    for name, i in free.items():
        equal = ratio_between(network, CLOCK, name)
        assert equal is not None
        assert math.log(equal.value) == pytest.approx(found.params[i], abs=1e-7)
        assert equal.sigma**2 == pytest.approx(variances[i], rel=1e-3)


def test_our_intervals_are_resistance_distances_of_networkx(library: Library) -> None:
    edges = [e for e in evidence(library, "effort") if not e.of_the_clock]
    graph = nx.MultiGraph()
    for e in edges:
        graph.add_edge(e.a, e.b, resistance=e.sigma**2)
    part = max(nx.connected_components(graph), key=len)
    graph = graph.subgraph(part)
    network = solve([e for e in edges if e.a in part])
    names = sorted(part)
    assert len(names) > 150
    for a, b in zip(names[::29], names[7::29], strict=False):
        expected = nx.resistance_distance(graph, a, b, weight="resistance", invert_weight=True)
        equal = ratio_between(network, a, b)
        assert equal is not None
        assert equal.sigma**2 == pytest.approx(expected, rel=1e-3)
