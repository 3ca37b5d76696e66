"""The graph as a whole: cycles of needs, movements that nothing leads to."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.graph import as_networkx


def needs_cycles(site: Site) -> Iterator[Problem]:
    """Nothing must be owned before itself.

    Good: double-under needs single-under. Bad: single-under then needs double-under.
    """
    import networkx as nx

    graph = as_networkx(site.library)
    needs = nx.DiGraph((a, b) for a, b, kind in graph.edges(data="kind") if kind == "needs")
    for found in sorted(nx.simple_cycles(needs), key=min):
        # The same cycle may be found from any of its members; one that runs through a house is the house's to mend.
        start = found.index(min(found, key=lambda m: (("movements", m) not in site.touched, m)))
        cycle = [*found[start:], *found[:start]]
        yield site.problem(
            "movements",
            cycle[0],
            "needs",
            "must be owned before itself: " + " > ".join([*cycle, cycle[0]]),
            mend="take one need out",
            rule="needs-acyclic",
        )


def unreachable(site: Site) -> Iterator[Problem]:
    """Every movement is linked to another.

    Good: a link in `links/`. Bad: a record that no link names.
    """
    graph = as_networkx(site.library)
    for node in graph.nodes:
        if not any(kind != "needs" for _, _, kind in graph.edges(node, data="kind")):
            yield site.problem(
                "movements",
                node,
                "",
                "no link leads to it or from it",
                mend="add a link in links/",
                rule="reachable",
            )
