"""Whether ratios fit their movements, themselves and each other."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.knowledge import Library
from subgraph.ratios import EQUALISERS, Edge, Equaliser, evidence, node
from subgraph.ratios.heterogeneity import Fault, faults

RESIDUAL = 2.0  # standard deviations from which a rule is said to contradict the rest
WAYS = 60  # ways round it that are looked at, shortest first


def units_fit(site: Site) -> Iterator[Problem]:
    """A ratio counts each movement in a unit that it is counted in; seconds always fit.

    Good: ``units: [m, cal]`` from row to air-bike. Bad: ``units: [m, rep]`` from push-up.
    """
    lib = site.library
    for ratio in lib.ratios:
        for end, unit in ((ratio.from_, ratio.units[0]), (ratio.to, ratio.units[1])):
            if unit != "s" and unit not in lib.movements[end].units:
                yield site.problem(
                    "ratios",
                    ratio.id,
                    "units",
                    f"{end} is not counted in {unit}",
                    mend=f"use {', '.join(lib.movements[end].units)} or s",
                    rule="ratio-unit",
                )


def interval_holds(site: Site) -> Iterator[Problem]:
    """The ratio lies within its spread, and the spread is not absurd.

    Good: 2 in 1.5 to 2.5. Bad: 2 in 3 to 5.
    """
    for ratio in site.library.ratios:
        if not ratio.low <= ratio.ratio <= ratio.high:
            yield site.problem(
                "ratios",
                ratio.id,
                "ratio",
                f"{ratio.ratio:g} lies outside {ratio.low:g} to {ratio.high:g}",
                mend="mend one of the three",
                rule="ratio-interval",
            )
        if ratio.basis == "modelled" and ratio.sigma is None:
            yield site.problem(
                "ratios",
                ratio.id,
                "sigma",
                "a modelled ratio states no sigma",
                mend="add the model's error as sigma",
                rule="ratio-interval",
            )


def twice(site: Site) -> Iterator[Problem]:
    """The same evidence stands once.

    Good: two rules for a pair with different counts. Bad: the same count, unit and source twice, or turned round.
    """
    seen: dict[tuple[object, ...], str] = {}
    for r in site.library.ratios:
        ends = (node(r.from_, r.units[0]), node(r.to, r.units[1]))
        off = round(math.log(r.ratio), 2)  # as near as a written inverse comes
        one_way = (ends, off) if ends <= ends[::-1] else (ends[::-1], -off)
        key = (one_way, r.basis, r.equals, r.source, r.population)
        if key in seen:
            yield site.problem(
                "ratios",
                r.id,
                "",
                f"repeats {seen[key]} ({site.where('ratios', seen[key])})",
                mend="keep one",
                rule="ratio-once",
            )
        seen.setdefault(key, r.id)


def residuals(site: Site) -> Iterator[Problem]:
    """A rule agrees with what all other evidence says of its pair, within its own spread (note, not a fault).

    Good: residual below two standard deviations. Bad: a rule of 5 where the rest says 1. Evidence may be right against
    all others, so this fails nothing; the interval of the pair has grown by it. Each note names the shortest cycle that
    does not close.
    """
    by_id = {r.id: r for r in site.library.ratios}
    told: set[frozenset[str]] = set()
    for fault, equaliser, edges in _loudest(site.library):
        edge = fault.edge
        cycle = broken_cycle(edge, edges)
        members = frozenset(e.source for e in (edge, *cycle))
        if members in told:
            continue
        told.add(members)
        way = " and ".join(f"{e.source} ({by_id[e.source].ratio:g}, {site.where('ratios', e.source)})" for e in cycle)
        yield site.problem(
            "ratios",
            edge.source,
            "ratio",
            f"{math.exp(edge.log_ratio):.3g} against {math.exp(fault.others):.3g} from all other evidence for equal "
            f"{equaliser} ({fault.z:+.1f} standard deviations)",
            mend=f"it does not close with {way}",
            rule="ratio-residual",
            severity="note",
        )


def _loudest(library: Library) -> list[tuple[Fault, Equaliser, list[Edge]]]:
    """Faults beyond `RESIDUAL`, each where it is largest; of equals the weaker evidence first."""
    found: dict[str, tuple[Fault, Equaliser, list[Edge]]] = {}
    for equaliser in EQUALISERS:
        edges = evidence(library, equaliser)
        for fault in faults(edges):
            before = found.get(fault.edge.source)
            if abs(fault.z) > (abs(before[0].z) if before else RESIDUAL):
                found[fault.edge.source] = fault, equaliser, edges
    return sorted(found.values(), key=lambda f: (-round(abs(f[0].z), 2), -f[0].edge.sigma, f[0].edge.source))


def broken_cycle(edge: Edge, edges: list[Edge]) -> list[Edge]:
    """The shortest way round a piece of evidence that contradicts it.

    Parameters
    ----------
    edge : Edge
        The evidence.
    edges : list of Edge
        All evidence of its network.

    Returns
    -------
    list of Edge
        From one end to the other: the fewest steps, of the firmest evidence, that differ from it by more than
        `RESIDUAL` standard deviations; the first of the shortest ways where none of them does so alone. A way that
        keeps within one run is no other witness.
    """
    import networkx as nx

    graph = nx.MultiGraph()
    for position, other in enumerate(edges):
        if other.source != edge.source and not other.of_the_clock:
            graph.add_edge(other.a, other.b, position, edge=other, sigma=other.sigma)
    first: list[Edge] = []
    direct = graph.get_edge_data(edge.a, edge.b) or {}
    ways = [[d["edge"]] for d in sorted(direct.values(), key=lambda d: float(d["sigma"]))]
    simple = nx.Graph()
    for a, b, data in sorted(graph.edges(data=True), key=lambda e: (-e[2]["sigma"], e[2]["edge"].source)):
        if {a, b} != {edge.a, edge.b}:
            simple.add_edge(a, b, edge=data["edge"])  # of parallel evidence the firmest, added last, stays
    if edge.a in simple and edge.b in simple and nx.has_path(simple, edge.a, edge.b):
        paths = itertools.islice(nx.shortest_simple_paths(simple, edge.a, edge.b), WAYS)
        ways += [[simple.edges[pair]["edge"] for pair in itertools.pairwise(path)] for path in paths]
    for way in ways:
        if edge.run and all(step.run == edge.run for step in way):
            continue
        first = first or way
        at, total, variance = edge.a, 0.0, edge.sigma**2
        for step in way:
            forward = step.a == at
            at = step.b if forward else step.a
            total += step.log_ratio if forward else -step.log_ratio
            variance += step.sigma**2
        if abs(total - edge.log_ratio) > RESIDUAL * variance**0.5:
            return way
    return first
