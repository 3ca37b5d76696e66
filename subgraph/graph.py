"""The substitution graph: links between movements and what must be owned first.

Links are declared in one direction; the opposite is derived here, unless peers have a record for each way.
`as_networkx` hands the whole to networkx for analysis; the answer path uses the plain dictionaries below, which cost
nothing to import.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import Link, LinkKind

if TYPE_CHECKING:
    import networkx

_OPPOSITE: dict[LinkKind, LinkKind] = {"easier": "harder", "harder": "easier", "sideways": "sideways"}


class Step(Struct, frozen=True):
    """A link as seen from one end.

    Parameters
    ----------
    to : str
        Movement at the other end.
    kind : {'easier', 'harder', 'sideways'}
        What the other end is, seen from here.
    link : Link
        The record.
    declared : bool
        Whether the record is written in this direction; `why`, `without` and `spares` speak of that one.
    """

    to: str
    kind: LinkKind
    link: Link
    declared: bool


def steps(library: Library, movement: str) -> Iterator[Step]:
    """Links at a movement, in file order.

    Parameters
    ----------
    library : Library
        Records.
    movement : str
        Id.

    Yields
    ------
    Step
        One per other end, in either direction; the record written from here where there are two.
    """
    found = library.links_at(movement)
    written = {link.to for link in found if link.from_ == movement}
    for link in found:
        if link.from_ == movement:
            yield Step(link.to, link.kind, link, True)
        elif link.from_ not in written:
            yield Step(link.from_, _OPPOSITE[link.kind], link, False)


def must_own_first(library: Library, movement: str) -> set[str]:
    """All movements that must be owned before one is allowed, directly or by way of others.

    Unknown ids end a branch (`library check` reports them).
    """
    found: set[str] = set()
    todo = list(library.movements[movement].needs)
    while todo:
        need = todo.pop()
        if need not in found and need in library.movements:
            found.add(need)
            todo += library.movements[need].needs
    return found


def out_of_reach(library: Library, not_owned: Iterable[str]) -> dict[str, str]:
    """Movements that fall away when some are not owned.

    Parameters
    ----------
    library : Library
        Records.
    not_owned : iterable of str
        Ids that the member can't do.

    Returns
    -------
    dict
        From each movement that is out of reach to the one not owned that puts it there: itself, one that it needs,
        or one that it is a harder form of.
    """
    reason = {movement: movement for movement in not_owned}
    ladder = library.ladder
    todo = list(reason)
    while todo:
        at = todo.pop()
        # A harder form falls away only from the movement named itself: "harder" does not carry on down a ladder
        # of other skills, "needs" does.
        beyond = list(ladder.dependants.get(at, []))
        if reason[at] == at:
            lost = library.movements[at]
            beyond += [
                h
                for h in ladder.harder.get(at, [])
                if library.movements[h].skill >= lost.skill and library.movements[h].strength >= lost.strength
            ]
        for other in beyond:
            if other not in reason:
                reason[other] = reason[at]
                todo.append(other)
    return reason


def as_networkx(library: Library) -> networkx.MultiDiGraph:
    """The whole graph for analysis.

    Returns
    -------
    networkx.MultiDiGraph
        Nodes are movement ids; edges carry `kind`: `easier`, `harder` or `sideways` in both directions, `needs` from
        a movement to what must be owned first.
    """
    import networkx

    graph = networkx.MultiDiGraph()
    graph.add_nodes_from(library.movements)
    for link in library.links:
        graph.add_edge(link.from_, link.to, kind=link.kind)
        graph.add_edge(link.to, link.from_, kind=_OPPOSITE[link.kind])
    for movement in library.movements.values():
        for need in movement.needs:
            graph.add_edge(movement.id, need, kind="needs")
    return graph
