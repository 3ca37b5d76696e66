"""Evidence that comes from one model run or one study counts once, however many pairs it was written out for.

A model that knows the cost of n movements yields n(n-1)/2 ratios, and they all agree, since they are made from the same
n numbers. Taken as independent they would sharpen one another without end. A study with several arms poses the same
question to network meta-analysis, and we answer in the same way (Rücker 2012, doi 10.1002/jrsm.1058): the weights of
such a group are lowered until the effective resistance between the ends of each of its edges, by the group alone, is
the variance stated for that pair.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import msgspec

from subgraph.ratios.evidence import Edge

if TYPE_CHECKING:
    import numpy as np

_CLOSE = 1e-5  # how much more than stated a variance may be, relatively, when the weights are good enough
_ROUNDS = 5000
IDLE = 1e-6  # least weight, relative to the stated one: next to nothing, yet still a number


def groups(edges: Sequence[Edge]) -> list[list[int]]:
    """Positions of the edges of each run that hang together, where they close a cycle.

    Parameters
    ----------
    edges : sequence of Edge
        Evidence.

    Returns
    -------
    list of list of int
        Groups without a cycle are left out: a tree says each thing once.
    """
    by_run: dict[str, list[int]] = {}
    for position, edge in enumerate(edges):
        if edge.run:
            by_run.setdefault(edge.run, []).append(position)
    found = []
    for positions in by_run.values():
        for part in parts([(edges[p].a, edges[p].b) for p in positions]):
            members = [positions[k] for k in part]
            ends = {end for p in members for end in (edges[p].a, edges[p].b)}
            if len(members) >= len(ends):
                found.append(members)
    return found


def parts(pairs: Sequence[tuple[str, str]]) -> list[list[int]]:
    """Connected parts of a graph, as positions of its edges.

    Parameters
    ----------
    pairs : sequence of (str, str)
        Ends of each edge.

    Returns
    -------
    list of list of int
        In order of first appearance.
    """
    parent: dict[str, str] = {end: end for pair in pairs for end in pair}

    def root(x: str) -> str:
        while parent[x] != x:
            parent[x] = parent[parent[x]]
            x = parent[x]
        return x

    for a, b in pairs:
        parent[root(a)] = root(b)
    found: dict[str, list[int]] = {}
    for position, (a, _) in enumerate(pairs):
        found.setdefault(root(a), []).append(position)
    return list(found.values())


def counted_once(edges: Sequence[Edge]) -> list[Edge]:
    """Evidence with the weights of each run lowered so that the run counts once.

    Parameters
    ----------
    edges : sequence of Edge
        Evidence with stated sigmas.

    Returns
    -------
    list of Edge
        The same edges in the same order; within a run that closes cycles, sigmas have grown.

    Notes
    -----
    The weights maximise ``log det L(w) - sum(w sigma**2)`` over ``w >= 0``, whose optimum is where the resistance of
    each edge equals ``sigma**2``, or is less and the edge is idle because a chain of the same run is tighter. It is
    found by the multiplicative algorithm of optimal design, ``w <- w R / sigma**2`` (Silvey, Titterington and Torsney
    1978, from memory), which keeps ``sum(w sigma**2)`` at the number of nodes less one (Foster's theorem).

    Examples
    --------
    A model knows three movements, each to 0.1. Its three ratios have variance 0.02 each, and still have it in the
    network:

    >>> from subgraph.ratios.network import ratio_between, solve
    >>> ratios = [Edge(a, b, 0.0, 0.02**0.5, "modelled", a + b, "", "run") for a, b in ("xy", "yz", "xz")]
    >>> round(ratio_between(solve(counted_once(ratios)), "x", "y").sigma ** 2, 4)
    0.02
    >>> round(ratio_between(solve(ratios), "x", "y").sigma ** 2, 4)
    0.0133
    """
    adjusted = list(edges)
    for members in groups(edges):
        weights = _weights([edges[p] for p in members])
        for position, weight in zip(members, weights, strict=True):
            adjusted[position] = msgspec.structs.replace(edges[position], sigma=float(weight) ** -0.5)
    return adjusted


def _weights(group: Sequence[Edge]) -> np.ndarray:
    import numpy as np

    index = {name: i for i, name in enumerate(sorted({end for e in group for end in (e.a, e.b)}))}
    i = np.array([index[e.a] for e in group])
    j = np.array([index[e.b] for e in group])
    variance = np.array([e.sigma**2 for e in group])
    n = len(index)
    incidence = np.eye(n)[i] - np.eye(n)[j]
    weight = (n - 1) / len(group) / variance
    for _ in range(_ROUNDS):
        inverse = np.linalg.inv(incidence.T @ (weight[:, None] * incidence) + 1 / n)
        step = (inverse[i, i] + inverse[j, j] - 2 * inverse[i, j]) / variance
        if np.max(step) < 1 + _CLOSE:
            break
        weight = np.maximum(weight * step, IDLE / variance)
    return weight
