"""Evidence that disagrees beyond its sigma: how far off each piece is, and how much wider that makes it.

Random effects: every piece of evidence is off by a further error of variance tau2, shared by nobody. tau2 comes from
Cochran's Q by the method of moments (DerSimonian and Laird 1986, generalised to networks as in Jackson, White and
Riley 2012; both from memory).

One tau2 for a whole network would say nothing here. Its evidence is many quiet corners and a few loud ones, stated
sigmas are generous, and Q stays below its degrees of freedom (`scripts/ratios_report` prints both): the common tau2 is
nought and the few loud quarrels would pass for agreement. So each pair has its own: the disagreement of its parallel
rules with one another, and with the loop of other evidence that joins the same two ends. For one pair with several
rules, and for one closed loop, that is the usual estimate. It rests on few pieces, so by chance it also widens some
evidence that is sound. We accept that: it errs to the wide side.

The pace hints take no part. They are a rule of ours with a wide sigma, no evidence on a pair, and a rule of the trade
that goes against the clock is not thereby in doubt.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec import Struct

from subgraph.ratios.dependence import counted_once, groups, parts
from subgraph.ratios.evidence import Edge

if TYPE_CHECKING:
    import numpy as np

Scope = Literal["pair", "all"]
_NOUGHT = 1e-9
_SEEN = 0.1  # of what a piece of evidence can be off on its own, the least that must show for tau2 to be told from it


class Fit(Struct, frozen=True):
    """How evidence sits in the network that it makes: the fixed-effect fit.

    Parameters
    ----------
    residual : numpy.ndarray
        Log ratio less its fitted value, shape (m,).
    weight : numpy.ndarray
        Inverse variances, each run counted once, shape (m,).
    expected : numpy.ndarray
        Variance of each residual if all sigmas are right, shape (m,).
    spread : numpy.ndarray
        Variance of each residual per unit of tau2, shape (m,).
    own : numpy.ndarray
        Share of each piece of evidence in its own residual (1: the rest overrules it, 0: nothing else speaks of it),
        shape (m,).
    stated : numpy.ndarray
        Inverse variances as stated, shape (m,).
    """

    residual: np.ndarray
    weight: np.ndarray
    expected: np.ndarray
    spread: np.ndarray
    own: np.ndarray
    stated: np.ndarray


class Fault(Struct, frozen=True):
    """How far a piece of evidence is from all other evidence on its pair.

    Parameters
    ----------
    edge : Edge
        The evidence.
    z : float
        Residual over its standard deviation.
    others : float
        Log ratio of the pair by all other evidence.
    """

    edge: Edge
    z: float
    others: float


class Quarrel(Struct, frozen=True):
    """Cochran's Q of evidence, its expectation when all sigmas are right, and the tau2 that accounts for the rest."""

    q: float
    freedom: float
    tau2: float


def fit(edges: Sequence[Edge]) -> Fit:
    """Fit evidence by weighted least squares and give what its residuals should look like.

    Parameters
    ----------
    edges : sequence of Edge
        Evidence, pace hints left out.

    Notes
    -----
    With the incidence matrix B and ``M = I - B pinv(L) B' W`` the residuals are ``M y``. Their covariance is ``M S M'``
    where S holds ``sigma**2``, and for the edges of one run ``B pinv(L_run) B'``; per unit of tau2 it is ``M K M'``
    with K one on the diagonal and half between edges of one run that share a node, as in a trial of several arms.
    """
    import numpy as np

    edges = list(edges)
    once = counted_once(edges)
    index = {name: i for i, name in enumerate(sorted({end for e in edges for end in (e.a, e.b)}))}
    m, n = len(edges), len(index)
    incidence = np.zeros((m, n))
    for k, edge in enumerate(edges):
        incidence[k, index[edge.a]] -= 1
        incidence[k, index[edge.b]] += 1
    weight = np.array([e.sigma**-2 for e in once])
    values = np.array([e.log_ratio for e in edges])
    inverse = _inverse(incidence.T @ (weight[:, None] * incidence), edges, index)
    rest = np.eye(m) - incidence @ inverse @ (incidence.T * weight)
    covariance, shared = np.diag(1 / weight), np.eye(m)
    for members in groups(edges):
        at = np.ix_(members, members)
        inside = incidence[members]
        laplacian = inside.T @ (weight[members, None] * inside)
        covariance[at] = inside @ np.linalg.pinv(laplacian, hermitian=True) @ inside.T
        shared[at] = inside @ inside.T / 2
    return Fit(
        rest @ values,
        weight,
        (rest @ covariance * rest).sum(axis=1),
        (rest @ shared * rest).sum(axis=1),
        np.diagonal(rest),
        np.array([e.sigma**-2 for e in edges]),
    )


def _inverse(laplacian: np.ndarray, edges: Sequence[Edge], index: dict[str, int]) -> np.ndarray:
    """Generalised inverse of the Laplacian: right on differences within a connected part."""
    import numpy as np

    for positions in parts([(e.a, e.b) for e in edges]):
        members = sorted({index[end] for p in positions for end in (edges[p].a, edges[p].b)})
        laplacian[np.ix_(members, members)] += 1 / len(members)
    return np.linalg.inv(laplacian)


def quarrel(fitted: Fit, members: Sequence[int] | None = None) -> Quarrel:
    """Q, degrees of freedom and tau2 of some evidence within its network.

    Parameters
    ----------
    fitted : Fit
        Of all the evidence.
    members : sequence of int or None
        Positions of the evidence meant; None for all.

    Returns
    -------
    Quarrel
        tau2 is ``max(0, (Q - freedom) / C)`` with C what Q grows by per unit of tau2; nought where nothing else speaks
        of the pair, or where the errors of one run cancel in its residual.
    """
    at = slice(None) if members is None else list(members)
    weight = fitted.weight[at]
    q = float((weight * fitted.residual[at] ** 2).sum())
    freedom = float((weight * fitted.expected[at]).sum())
    per_tau2 = float((weight * fitted.spread[at]).sum())
    seen = per_tau2 > _SEEN * float((weight * fitted.own[at] ** 2).sum()) > _NOUGHT * float(fitted.stated[at].sum())
    return Quarrel(q, freedom, max(0.0, (q - freedom) / per_tau2) if seen else 0.0)


def widened(edges: Sequence[Edge], *, scope: Scope = "pair") -> list[Edge]:
    """Evidence as it counts in the network: sigmas grown by disagreement, each run counted once.

    Parameters
    ----------
    edges : sequence of Edge
        Evidence with stated sigmas, and pace hints.
    scope : {'pair', 'all'}
        Whether each pair has its own tau2, or all evidence one.

    Returns
    -------
    list of Edge
        The same edges in the same order. Solved as they are, they give the random-effects ratios; the stated ones give
        the fixed-effect ratios.

    Examples
    --------
    Two firm rules that are far apart make a wide ratio; two that agree keep theirs:

    >>> import math
    >>> from subgraph.ratios.network import ratio_between, solve
    >>> for pair in (2, 2.2), (2, 6):
    ...     rules = [Edge("a", "b", math.log(n), 0.1, "practice", str(n)) for n in pair]
    ...     fixed, random = (ratio_between(solve(e), "a", "b") for e in (rules, widened(rules)))
    ...     print(round(fixed.sigma, 3), round(random.sigma, 3))
    0.071 0.071
    0.071 0.549
    """
    edges = list(edges)
    meant = [p for p, e in enumerate(edges) if not e.of_the_clock and e.a != e.b]
    if meant:
        fitted = fit([edges[p] for p in meant])
        sets: dict[frozenset[str], list[int]] = {}
        for k, p in enumerate(meant):
            pair = frozenset((edges[p].a, edges[p].b)) if scope == "pair" else frozenset[str]()
            sets.setdefault(pair, []).append(k)
        for members in sets.values():
            tau2 = quarrel(fitted, members).tau2
            if tau2:
                for k in members:
                    edge = edges[meant[k]]
                    edges[meant[k]] = msgspec.structs.replace(edge, sigma=(edge.sigma**2 + tau2) ** 0.5)
    return counted_once(edges)


def faults(edges: Sequence[Edge]) -> list[Fault]:
    """Standardised residual of each piece of evidence, largest first.

    Parameters
    ----------
    edges : sequence of Edge
        Evidence; pace hints are passed over.

    Returns
    -------
    list of Fault
        Evidence that nothing else speaks of has no residual and is left out.
    """
    meant = [e for e in edges if not e.of_the_clock and e.a != e.b]
    if not meant:
        return []
    fitted = fit(meant)
    found = []
    for k, edge in enumerate(meant):
        variance, own = float(fitted.expected[k]), float(fitted.own[k])
        if variance > _NOUGHT / float(fitted.stated[k]) and own > _NOUGHT:
            off = float(fitted.residual[k])
            found.append(Fault(edge, off / variance**0.5, edge.log_ratio - off / own))
    return sorted(found, key=lambda f: (-round(abs(f.z), 6), f.edge.source))
