"""Strains added up over a piece, against stated thresholds."""

from __future__ import annotations

import math
from collections.abc import Iterable

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import Dose, Level
from subgraph.workout.laid_out import Piece, Work
from subgraph.workout.timing import done


class Total(Struct, frozen=True):
    """How much of one strain a piece holds.

    Parameters
    ----------
    dose : Dose
        What is counted, with its thresholds.
    amount : float
        Reps, or seconds [s].
    most : float or None
        Threshold at the member's level, in the same unit.
    """

    dose: Dose
    amount: float
    most: float | None

    @property
    def beyond(self) -> bool:
        """Whether the threshold is passed."""
        return self.most is not None and self.amount > self.most


def totals(library: Library, pieces: Iterable[Piece], level: Level) -> tuple[Total, ...]:
    """Total of each strain over pieces, in the order of the library; those that do not occur are left out."""
    summed: dict[str, float] = {}
    for piece in pieces:
        for work, amounts in done(library, piece, level):
            for id_, amount in doses_of(library, work, sum(amounts), level).items():
                summed[id_] = summed.get(id_, 0.0) + amount
    found = []
    for id_, dose in library.doses.items():
        if round(summed.get(id_, 0.0)) > 0:
            found.append(Total(dose, summed[id_], dose.most.get(level)))
    return tuple(found)


class KeptUnder(Struct, frozen=True):
    """How much of one item keeps a strain under its threshold: `keep` of `of`, each time it comes."""

    work: Work
    of: float
    keep: int


def kept_under(pieces: Iterable[Piece], total: Total) -> tuple[KeptUnder, ...]:
    """What to cut each item to, all alike, so that a threshold that is passed is not; empty where it is not passed."""
    if total.most is None or not total.beyond:
        return ()
    part = total.most / total.amount
    found: dict[tuple[str, float], KeptUnder] = {}
    for piece in pieces:
        for work in piece.all_works:
            if work.amounts and work.unit == "rep" and total.dose.counts(work.movement):
                of = max(work.amounts)
                found.setdefault((work.movement.id, of), KeptUnder(work, of, math.floor(of * part)))
    return tuple(found.values())


def doses_of(library: Library, work: Work, amount: float, level: Level) -> dict[str, float]:
    """What an amount of one work adds to each strain."""
    found = {}
    for id_, dose in library.doses.items():
        if dose.counts(work.movement):
            if dose.unit == "rep" and work.unit == "rep":
                found[id_] = amount
            elif dose.unit == "s":
                found[id_] = amount * (work.movement.pace(work.unit, level) or 0.0)
    return found
