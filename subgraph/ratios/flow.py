"""Which evidence carries an answer: the flow of the electrical analogy."""

from __future__ import annotations

import msgspec
from msgspec import Struct

from subgraph.ratios.evidence import Edge
from subgraph.ratios.network import Network

LEAST_SHARE = 0.01


class Share(Struct, frozen=True):
    """How much of an answer runs over one piece of evidence.

    Parameters
    ----------
    edge : Edge
        The evidence, with the sigma that it counts with.
    share : float
        Absolute flow, 0 to 1.
    """

    edge: Edge
    share: float


def evidence_shares(network: Network, a: str, b: str) -> list[Share]:
    """Evidence behind a ratio: the flow over each edge when one unit enters at `a` and leaves at `b`.

    Parameters
    ----------
    network : Network
        Solved.
    a, b : str
        Connected nodes.

    Returns
    -------
    list of Share
        Largest first; flows under `LEAST_SHARE` are left out. Each share is the absolute flow, so a chain of two edges
        shows each with 1. The ratio is the sum of log ratios times flows, each taken in the direction of its flow.
    """
    i, j = network.index[a], network.index[b]
    # The matrix is symmetric, so two rows hold all the heights.
    height = [p - q for p, q in zip(list(network.row(i)), list(network.row(j)), strict=True)]
    decode = msgspec.msgpack.Decoder(Edge).decode
    threads = network.threads()
    part, component = network.component[i], network.component
    shares = []
    for p, q, weight, edge in zip(threads.a, threads.b, threads.weight, threads.edges, strict=True):
        flow = (height[p] - height[q]) * weight
        if (flow >= LEAST_SHARE or flow <= -LEAST_SHARE) and component[p] == part:
            shares.append(Share(decode(edge), min(1.0, abs(flow))))
    return sorted(shares, key=lambda s: (-s.share, s.edge.source))
