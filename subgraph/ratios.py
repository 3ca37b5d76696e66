"""How many of B equal one A: one consistent ratio for any connected pair, with an interval.

Each piece of evidence is an edge between two nodes (a movement counted in a unit) that carries ``log(ratio)`` and a
standard deviation. Every node gets one potential; the potentials are the weighted-least-squares solution, so that
ratios chain and invert exactly. The variance of a ratio is the effective resistance between its nodes, with the
evidence weights as conductances, as in a network meta-analysis (Rücker 2012, doi 10.1002/jrsm.1058).

What is held equal makes a difference in the trade (as much effort, as much time), so there is one network per
equaliser; evidence that does not say counts in each.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec import Struct

from subgraph.library.cache import digest, stored
from subgraph.library.knowledge import Library
from subgraph.library.records import Basis, Intent, Ratio
from subgraph.quantities import Unit

if TYPE_CHECKING:
    import numpy as np

Equaliser = Literal["effort", "energy", "time"]
EQUALISERS: tuple[Equaliser, ...] = ("effort", "energy", "time")
EQUALISER_OF: dict[Intent, Equaliser] = {
    "skill": "effort",
    "strength": "effort",
    "conditioning": "time",
    "warm-up": "time",
}
Z_80 = 1.2815515655446004  # standard normal quantile: four in five inside
Z_90 = 1.6448536269514722  # a spread seen among sources is read as its middle nine tenths

# Rules for a standard deviation of log(ratio); see `sigma_of`.
SPREAD_OF_ONE_PAGE = 0.30  # what one coach's number is worth: about a third either way
SPREAD_OF_MEMORY = 0.40
LEAST_SIGMA = 0.08  # nobody's rule is better than to the nearest tenth
# Equal time on one side of an edge between a movement and the clock. In the time network it is what is asked for;
# in the others it is a weak hint that keeps every pair connected.
TIME_SIGMA: dict[Equaliser, float] = {"time": 0.45, "effort": 0.7, "energy": 0.6}
CLOCK = "clock/s"


class Edge(Struct, frozen=True):
    """One piece of evidence.

    Parameters
    ----------
    a, b : str
        Nodes, "movement/unit".
    log_ratio : float
        Natural log of the units of `b` that equal one unit of `a`.
    sigma : float
        Standard deviation of `log_ratio`.
    basis : {'practice', 'measured', 'modelled'}
        How it came to be.
    source : str
        Id of the ratio record, or of the pace.
    """

    a: str
    b: str
    log_ratio: float
    sigma: float
    basis: Basis
    source: str


def node(movement: str, unit: Unit) -> str:
    """Name of a node of the network."""
    return f"{movement}/{unit}"


def sigma_of(ratio: Ratio) -> float:
    """Standard deviation of the log of a ratio record.

    Parameters
    ----------
    ratio : Ratio
        Record with spread `low` to `high`, number of independent pages, and perhaps a stated `sigma`.

    Returns
    -------
    float
        The stated sigma where there is one. Else the spread seen, read as nine tenths of all coaches, together with
        what remains unknown with few sources: ``sqrt((ln(high/low) / (2 z90))**2 + s1**2 / pages)``. From memory:
        `SPREAD_OF_MEMORY` in place of the second part. Counts made for one population are widened by half.

    Examples
    --------
    >>> from subgraph.library.records import Ratio
    >>> rule = dict(id="x", from_="a", to="b", ratio=2.0, low=1.5, high=2.5, basis="practice", source="common-practice")
    >>> round(sigma_of(Ratio(**rule, pages=5)), 3)
    0.205
    >>> round(sigma_of(Ratio(**rule, pages=0)), 3)
    0.429
    """
    if ratio.sigma is not None:
        return ratio.sigma
    spread = math.log(ratio.high / ratio.low) / (2 * Z_90)
    rest = SPREAD_OF_ONE_PAGE / math.sqrt(ratio.pages) if ratio.pages else SPREAD_OF_MEMORY
    sigma = max(LEAST_SIGMA, math.hypot(spread, rest))
    return sigma * 1.5 if ratio.population else sigma


def evidence(library: Library, equaliser: Equaliser) -> list[Edge]:
    """All edges of one network: ratio records that hold for the equaliser, and pace against the clock."""
    edges = [
        Edge(node(r.from_, r.units[0]), node(r.to, r.units[1]), math.log(r.ratio), sigma_of(r), r.basis, r.id)
        for r in library.ratios
        if r.equals in ("any", equaliser)
    ]
    ends = {end for edge in edges for end in (edge.a, edge.b)}
    for movement in library.movements.values():
        # Seconds of a movement counted otherwise are a node only where evidence speaks of them; else pace converts.
        units = dict.fromkeys((*movement.units, "s") if node(movement.id, "s") in ends else movement.units)
        for unit in units:
            pace = movement.pace(unit)
            if pace is not None:
                edges.append(
                    Edge(
                        node(movement.id, unit),
                        CLOCK,
                        math.log(pace),
                        TIME_SIGMA[equaliser],
                        "modelled",
                        f"pace of {movement.id}",
                    )
                )
    return edges


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
    """

    __slots__ = ("_kept", "component", "index", "nodes", "potential", "resistance", "rows")

    def __init__(
        self,
        nodes: list[str],
        component: list[int],
        potential: list[float],
        resistance: list[float],
        rows: Callable[[int], bytes],
    ) -> None:
        self.nodes = nodes
        self.index = {name: i for i, name in enumerate(nodes)}
        self.component = component
        self.potential = potential
        self.resistance = resistance
        self.rows = rows
        self._kept: tuple[int, memoryview[float]] | None = None

    def row(self, i: int) -> memoryview[float]:
        """Row `i` of the pseudo-inverse, float32, shape (n,); the last one is kept."""
        if self._kept is None or self._kept[0] != i:
            values: memoryview[float] = memoryview(self.rows(i)).cast("f")
            self._kept = (i, values)
        return self._kept[1]

    def variance(self, i: int, j: int) -> float:
        """Variance of the log ratio of two nodes: their effective resistance."""
        return max(0.0, self.resistance[i] + self.resistance[j] - 2 * self.row(i)[j])


class _Head(msgspec.Struct, frozen=True, array_like=True):
    nodes: list[str]
    component: list[int]
    potential: list[float]
    resistance: list[float]


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


def solve(edges: Iterable[Edge]) -> Network:
    """Solve a network of evidence by weighted least squares.

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

    edges = list(edges)
    for edge in edges:
        if not (edge.sigma > 0 and math.isfinite(edge.sigma) and math.isfinite(edge.log_ratio)):
            raise ValueError(f"evidence {edge.source}: sigma must be positive and all numbers finite")
    names = sorted({end for edge in edges for end in (edge.a, edge.b)})
    index = {name: i for i, name in enumerate(names)}
    parent = list(range(len(names)))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    for edge in edges:
        parent[root(index[edge.a])] = root(index[edge.b])
    component = [root(i) for i in range(len(names))]
    potential = np.zeros(len(names))
    covariance = np.zeros((len(names), len(names)), dtype=np.float32)
    for part in sorted(set(component)):
        members = [i for i, c in enumerate(component) if c == part]
        local = {i: k for k, i in enumerate(members)}
        inside = [e for e in edges if component[index[e.a]] == part]
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


_solved: dict[tuple[str, Equaliser], Network] = {}


def network_of(library: Library, equaliser: Equaliser) -> Network:
    """The solved network of a library, from the cache where it is current.

    The matrix is kept one file per block of rows: an answer reads the row of the asked movement and no more.
    """
    key = (library.version, equaliser)
    if key in _solved:
        return _solved[key]
    code = digest(Path(__file__).read_bytes()).hex()[:8]
    made: list[Network] = []

    def solved() -> Network:
        if not made:
            made.append(solve(evidence(library, equaliser)))
        return made[0]

    def head() -> bytes:
        net = solved()
        for block in range(0, len(net.nodes), _BLOCK):  # all at once: solving again for each block would be absurd
            stored(f"ratios-{equaliser}-{code}-{block}", library.version, lambda at=block: rows_from(at))  # type: ignore[misc]
        return msgspec.msgpack.encode(_Head(net.nodes, net.component, net.potential, net.resistance))

    def rows_from(block: int) -> bytes:
        net = solved()
        return b"".join(net.rows(i) for i in range(block, min(block + _BLOCK, len(net.nodes))))

    parts = msgspec.msgpack.decode(stored(f"ratios-{equaliser}-{code}", library.version, head), type=_Head)
    width = 4 * len(parts.nodes)

    def row(i: int) -> bytes:
        block = i - i % _BLOCK
        found = stored(f"ratios-{equaliser}-{code}-{block}", library.version, lambda: rows_from(block))
        return found[(i - block) * width : (i - block + 1) * width]

    _solved[key] = Network(parts.nodes, parts.component, parts.potential, parts.resistance, row)
    return _solved[key]


_BLOCK = 64  # rows of the matrix kept in one file


class Share(Struct, frozen=True):
    """How much of an answer runs over one piece of evidence (0 to 1)."""

    edge: Edge
    share: float


def evidence_shares(edges: Iterable[Edge], network: Network, a: str, b: str) -> list[Share]:
    """Evidence behind a ratio: the flow over each edge when one unit enters at `a` and leaves at `b`.

    Parameters
    ----------
    edges : iterable of Edge
        The network's evidence.
    network : Network
        Solved from them.
    a, b : str
        Connected nodes.

    Returns
    -------
    list of Share
        Largest first; flows under one percent are left out. Each share is the absolute flow, so a chain of two edges
        shows each with 1.
    """
    i, j = network.index[a], network.index[b]
    # The matrix is symmetric, so two rows hold all the heights.
    entering, leaving = list(network.row(i)), list(network.row(j))

    def height(k: int) -> float:
        return entering[k] - leaving[k]

    shares = []
    for edge in edges:
        p, q = network.index.get(edge.a), network.index.get(edge.b)
        if p is None or q is None or network.component[p] != network.component[i]:
            continue
        flow = abs(height(p) - height(q)) / edge.sigma**2
        if flow >= 0.01:
            shares.append(Share(edge, min(1.0, flow)))
    return sorted(shares, key=lambda s: (-s.share, s.edge.source))
