"""How many of B equal one A: one consistent ratio for any connected pair, with an interval.

Each piece of evidence is an edge between two nodes (a movement counted in a unit) that carries ``log(ratio)`` and a
standard deviation: `evidence`. What comes from one model run or one study counts once: `dependence`. Where evidence
disagrees beyond its sigma, its sigma grows: `heterogeneity`. Every node then gets one potential, by weighted least
squares, so that ratios chain and invert exactly, and the variance of a ratio is the effective resistance between its
nodes: `network`. `flow` tells which evidence carries an answer; `store` keeps the solved networks.

What is held equal makes a difference in the trade (as much effort, as much time), so there is one network per
equaliser; evidence that does not say counts in each. Nothing here knows of asks, loads or rounding.
"""

from subgraph.ratios.evidence import (
    CLOCK,
    EQUALISER_OF,
    EQUALISERS,
    LEAST_SIGMA,
    SPREAD_OF_MEMORY,
    SPREAD_OF_ONE_PAGE,
    TIME_SIGMA,
    Z_80,
    Z_90,
    Edge,
    Equaliser,
    evidence,
    node,
    sigma_of,
)
from subgraph.ratios.network import Equal, Network, laplacian, on_paces, ratio_between, solve
from subgraph.ratios.store import network_of

__all__ = [
    "CLOCK",
    "EQUALISERS",
    "EQUALISER_OF",
    "LEAST_SIGMA",
    "SPREAD_OF_MEMORY",
    "SPREAD_OF_ONE_PAGE",
    "TIME_SIGMA",
    "Z_80",
    "Z_90",
    "Edge",
    "Equal",
    "Equaliser",
    "Network",
    "evidence",
    "laplacian",
    "network_of",
    "node",
    "on_paces",
    "ratio_between",
    "sigma_of",
    "solve",
]
