"""Solved networks kept between runs, so that an answer needs no linear algebra."""

from pathlib import Path

import msgspec

from subgraph.library.cache import digest_of_files, stored
from subgraph.library.knowledge import Library
from subgraph.ratios.evidence import Equaliser, evidence
from subgraph.ratios.network import Network, Threads, solve

_CODE = ("evidence", "dependence", "heterogeneity", "network", "store")
_BLOCK = 32  # rows of the matrix kept in one file
_solved: dict[tuple[str, Equaliser], Network] = {}


class _Head(msgspec.Struct, frozen=True, array_like=True):
    nodes: list[str]
    component: list[int]
    potential: list[float]
    resistance: list[float]


def network_of(library: Library, equaliser: Equaliser) -> Network:
    """The random-effects network of a library, from the cache where it is current.

    The matrix is kept one file per block of rows: an answer reads the row of the asked movement and few more.
    """
    key = (library.version, equaliser)
    if key in _solved:
        return _solved[key]
    code = digest_of_files("code", str(Path(__file__).parent), [f"{m}.py" for m in _CODE])
    name = f"ratios-{equaliser}-{code[:8]}"
    made: list[Network] = []

    def solved() -> Network:
        if not made:
            from subgraph.ratios.heterogeneity import widened

            made.append(solve(widened(evidence(library, equaliser))))
        return made[0]

    def head() -> bytes:
        net = solved()
        for block in range(0, len(net.nodes), _BLOCK):  # all at once: solving again for each block would be absurd
            stored(f"{name}-{block}", library.version, lambda at=block: rows_from(at))  # type: ignore[misc]
        threads()
        return msgspec.msgpack.encode(_Head(net.nodes, net.component, net.potential, net.resistance))

    def rows_from(block: int) -> bytes:
        net = solved()
        return b"".join(net.rows(i) for i in range(block, min(block + _BLOCK, len(net.nodes))))

    def threads() -> Threads:
        kept = stored(f"{name}-threads", library.version, lambda: msgspec.msgpack.encode(solved().threads()))
        return msgspec.msgpack.decode(kept, type=Threads)

    parts = msgspec.msgpack.decode(stored(name, library.version, head), type=_Head)
    width = 4 * len(parts.nodes)

    def row(i: int) -> memoryview:
        block = i - i % _BLOCK
        found = stored(f"{name}-{block}", library.version, lambda: rows_from(block))
        return found[(i - block) * width : (i - block + 1) * width]

    _solved[key] = Network(parts.nodes, parts.component, parts.potential, parts.resistance, row, threads)
    return _solved[key]
