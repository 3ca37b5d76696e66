"""The network solved: potentials, effective resistances, and the ratio of any pair.

Weighted least squares on a graph, as in a network meta-analysis (Rücker 2012, doi 10.1002/jrsm.1058): the evidence
weights are conductances, and the variance of a ratio is the effective resistance between its nodes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from msgspec import Raw, Struct

from subgraph.ratios.evidence import CLOCK, Z_80, Edge

if TYPE_CHECKING:
    import numpy as np


class Threads(Struct, frozen=True, array_like=True):
    """The evidence of a solved network, laid out for the flow.

    Parameters
    ----------
    a, b : list of int
        Positions of the ends of each edge.
    weight : list of float
        Inverse variances.
    edges : list of bytes
        Each edge, encoded.
    """

    a: list[int]
    b: list[int]
    weight: list[float]
    edges: list[Raw]


class Network:
    """A solved network: answers any pair without linear algebra.

    Parameters
    ----------
    nodes : list of str
        Names; position is the index below.
    component : list of int
        Connected part of each node.
    potential : list of float
        Log units, shape (n,).
    resistance : list of float
        Diagonal of the pseudo-inverse of the weighted Laplacian, shape (n,).
    rows : callable
        From a position to that row of the pseudo-inverse: float32 bytes, shape (n,).
    threads : callable
        Gives the evidence.
    """

    __slots__ = ("_kept", "_of_clock", "component", "index", "nodes", "potential", "resistance", "rows", "threads")

    def __init__(
        self,
        nodes: list[str],
        component: list[int],
        potential: list[float],
        resistance: list[float],
        rows: Callable[[int], bytes | memoryview],
        threads: Callable[[], Threads],
    ) -> None:
        self.nodes = nodes
        self.index = {name: i for i, name in enumerate(nodes)}
        self.component = component
        self.potential = potential
        self.resistance = resistance
        self.rows = rows
        self.threads = threads
        self._kept: tuple[int, memoryview[float]] | None = None
        self._of_clock: memoryview[float] | None = None

    def row(self, i: int) -> memoryview[float]:
        """Row `i` of the pseudo-inverse, float32, shape (n,); the last one is kept."""
        if self._kept is None or self._kept[0] != i:
            values: memoryview[float] = memoryview(self.rows(i)).cast("f")
            self._kept = (i, values)
        return self._kept[1]

    def of_clock(self) -> memoryview[float]:
        """Row of the clock, which many answers ask for."""
        if self._of_clock is None:
            values: memoryview[float] = memoryview(self.rows(self.index[CLOCK])).cast("f")
            self._of_clock = values
        return self._of_clock

    def variance(self, i: int, j: int) -> float:
        """Variance of the log ratio of two nodes: their effective resistance."""
        return max(0.0, self.resistance[i] + self.resistance[j] - 2 * self.row(i)[j])


class Equal(Struct, frozen=True):
    """A ratio with its interval.

    Parameters
    ----------
    value : float
        Units of the second that equal one unit of the first.
    sigma : float
        Standard deviation of its log.
    """

    value: float
    sigma: float

    @property
    def low(self) -> float:
        """Lower end of the four-in-five interval."""
        return self.value * math.exp(-Z_80 * self.sigma)

    @property
    def high(self) -> float:
        """Upper end of the four-in-five interval."""
        return self.value * math.exp(Z_80 * self.sigma)


def laplacian(n: int, pairs: Iterable[tuple[int, int, float]]) -> np.ndarray:
    """Weighted Laplacian.

    Parameters
    ----------
    n : int
        Number of nodes.
    pairs : iterable of (int, int, float)
        Ends and weight (inverse variance) of each edge.

    Returns
    -------
    numpy.ndarray
        Shape (n, n).
    """
    import numpy as np

    matrix = np.zeros((n, n))
    for i, j, weight in pairs:
        matrix[i, i] += weight
        matrix[j, j] += weight
        matrix[i, j] -= weight
        matrix[j, i] -= weight
    return matrix


def threads_of(edges: Iterable[Edge], index: dict[str, int]) -> Threads:
    """Lay evidence out for the flow.

    Parameters
    ----------
    edges : iterable of Edge
        Evidence.
    index : dict
        Position of each node.
    """
    from msgspec.msgpack import encode

    edges = list(edges)
    return Threads(
        [index[e.a] for e in edges],
        [index[e.b] for e in edges],
        [e.sigma**-2 for e in edges],
        [Raw(encode(e)) for e in edges],
    )


def solve(edges: Iterable[Edge]) -> Network:
    """Solve a network of evidence by weighted least squares: the fixed-effect ratios of the sigmas given.

    Parameters
    ----------
    edges : iterable of Edge
        Evidence; parallel edges pool.

    Returns
    -------
    Network
        Potentials and covariances per connected part.

    Raises
    ------
    ValueError
        If a sigma is not positive and finite, or a log ratio not finite.

    Notes
    -----
    Within a connected part of m nodes the pseudo-inverse is ``inv(L + J/m) - J/m`` with J all ones.

    Examples
    --------
    Two rules of equal weight for the same pair meet in the middle of their logs:

    >>> rules = [Edge("a", "b", math.log(n), 0.2, "practice", str(n)) for n in (2, 8)]
    >>> net = solve(rules)
    >>> round(ratio_between(net, "a", "b").value, 3)
    4.0
    """
    import numpy as np

    from subgraph.ratios.dependence import parts

    edges = list(edges)
    for edge in edges:
        if not (edge.sigma > 0 and math.isfinite(edge.sigma) and math.isfinite(edge.log_ratio)):
            raise ValueError(f"evidence {edge.source}: sigma must be positive and all numbers finite")
    names = sorted({end for edge in edges for end in (edge.a, edge.b)})
    index = {name: i for i, name in enumerate(names)}
    component = [0] * len(names)
    together = parts([(e.a, e.b) for e in edges])
    for number, positions in enumerate(together):
        for position in positions:
            component[index[edges[position].a]] = component[index[edges[position].b]] = number
    potential = np.zeros(len(names))
    covariance = np.zeros((len(names), len(names)), dtype=np.float32)
    for positions in together:
        inside = [edges[p] for p in positions]
        members = sorted({index[end] for e in inside for end in (e.a, e.b)})
        local = {i: k for k, i in enumerate(members)}
        pairs = [(local[index[e.a]], local[index[e.b]], e.sigma**-2) for e in inside]
        m = len(members)
        inverse = np.linalg.inv(laplacian(m, pairs) + 1 / m) - 1 / m
        pull = np.zeros(m)
        for (i, j, weight), edge in zip(pairs, inside, strict=True):
            pull[i] -= weight * edge.log_ratio
            pull[j] += weight * edge.log_ratio
        potential[members] = inverse @ pull
        covariance[np.ix_(members, members)] = inverse
    rows = covariance.tobytes()
    width = 4 * len(names)
    return Network(
        names,
        component,
        potential.tolist(),
        np.diagonal(covariance).astype(float).tolist(),
        lambda i: rows[i * width : (i + 1) * width],
        lambda: threads_of(edges, index),
    )


def ratio_between(network: Network, a: str, b: str) -> Equal | None:
    """Units of node `b` that equal one unit of node `a`.

    Parameters
    ----------
    network : Network
        Solved.
    a, b : str
        Node names.

    Returns
    -------
    Equal or None
        None where either node is unknown or no evidence connects them.
    """
    i, j = network.index.get(a), network.index.get(b)
    if i is None or j is None or network.component[i] != network.component[j]:
        return None
    if i == j:
        return Equal(1.0, 0.0)
    log_ratio = network.potential[j] - network.potential[i]
    return Equal(math.exp(log_ratio), math.sqrt(network.variance(i, j)))


def on_paces(network: Network, a: str, b: str, sigma: float) -> tuple[float, float]:
    """How much of a ratio rests on the pace of either end.

    Parameters
    ----------
    network : Network
        Solved.
    a, b : str
        Connected nodes.
    sigma : float
        Standard deviation that a pace counts with.

    Returns
    -------
    (float, float)
        Flow over the edge between `a` and the clock, and between the clock and `b`, each 0 to 1: by how much the log
        ratio moves with the log of that pace.

    Examples
    --------
    Where nothing but the clock joins two movements, all rests on their paces:

    >>> paces = [Edge(m, CLOCK, math.log(s), 0.5, "modelled", m) for m, s in (("a", 3), ("b", 2))]
    >>> [round(share, 3) for share in on_paces(solve(paces), "a", "b", 0.5)]
    [1.0, 1.0]
    """
    i, j, clock = network.index[a], network.index[b], network.index.get(CLOCK)
    if clock is None or i == j or network.component[i] != network.component[clock]:
        return 0.0, 0.0
    row, of_clock = network.row(i), network.of_clock()
    leaves = (network.resistance[i] - row[j] - row[clock] + of_clock[j]) / sigma**2
    arrives = (network.resistance[j] - row[j] + row[clock] - of_clock[j]) / sigma**2
    return min(1.0, max(0.0, leaves)), min(1.0, max(0.0, arrives))
