"""What becomes of the load when a lift changes: of a percentage of the best, and of a lift with nothing to lift."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.adapt.candidates import Candidate, Place
from subgraph.errors import UnknownNameError
from subgraph.models.lifts import lift_ratio
from subgraph.models.load import reps_at_share
from subgraph.quantities import number
from subgraph.workout.laid_out import Piece, Work, is_lift


def load_words(piece: Piece, place: Place, pick: Candidate | None) -> Iterator[str]:
    """What to say of the load of a changed lift.

    Parameters
    ----------
    piece : Piece
        As written.
    place : Place
        The lift on the board.
    pick : Candidate or None
        What is done instead.

    Yields
    ------
    str
        For a lift in percent that is changed to one with a load: whose best the percentage is of, and how the two
        usually compare. For one without a load: how many reps to leave, by the repetition-maximum chart, and that it
        is made hard by leverage or tempo, never by more reps (common practice).
    """
    if pick is None or pick.movement is place.movement:
        return
    for work in piece.all_works:
        if work.movement is not place.movement or not is_lift(piece.block, work.item):
            continue
        if pick.movement.load is None and place.movement.load is not None:
            yield _without_load(work, pick)
        elif pick.movement.load is not None and work.item.percent:
            yield _with_load(place, pick)
        return


def _with_load(place: Place, pick: Candidate) -> str:
    words = f"{pick.movement.name}: the percentage is of its own best"
    try:
        ratio = lift_ratio(place.movement.id, pick.movement.id)
    except UnknownNameError:
        return words + "; where that is not known, take a load for the reps with two or three left"
    low, high = (f"{x:.2g}" for x in (ratio.low or ratio.ratio, ratio.high or ratio.ratio))
    return f"{words}, usually {ratio.ratio:.2g} ({low} to {high}) x the {place.movement.name}'s"


def _without_load(work: Work, pick: Candidate) -> str:
    words = f"{pick.movement.name}: no load to lift; harder leverage or slower, not more reps"
    share = max(work.item.percent, default=0.0) / 100
    if not 0 < share <= 1 or not work.amounts:
        return words
    left = round(reps_at_share(share, extrapolate=True) - max(work.amounts))
    return f"{words}; stop with about {number(left)} left" if left > 0 else words
