"""The columns that a coach writes beside the board before class."""

from __future__ import annotations

from msgspec import Struct

from subgraph.adapt.member import Adapted, adapt
from subgraph.library.knowledge import Library
from subgraph.library.records import Version
from subgraph.notation.board import Reading
from subgraph.today import Today


class Column(Struct, frozen=True):
    """One version of the board."""

    version: Version
    adapted: Adapted


def versions(library: Library, reading: Reading, *, standard: int = 0) -> tuple[Column, ...]:
    """Every version of the library for a board, in the order of the library.

    Parameters
    ----------
    library : Library
        Records.
    reading : Reading
        The board as understood.
    standard : int
        Which number of a pair times are taken for.
    """
    return tuple(Column(v, adapt(library, reading, situation(v), standard=standard)) for v in library.versions.values())


def situation(version: Version) -> Today:
    """The situation that a version is for."""
    return Today(
        without=frozenset(version.without),
        only=dict.fromkeys(version.only, 0) if version.only else None,
        cannot=frozenset(version.cannot),
        limits=frozenset(version.limits),
        level=version.level,
    )
