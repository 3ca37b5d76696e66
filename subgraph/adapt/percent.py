"""What becomes of the load when a lift changes: of a percentage of the best, and of a lift with nothing to lift."""

from __future__ import annotations

from subgraph.adapt.candidates import Candidate, Place
from subgraph.amount import held_as_pair
from subgraph.errors import UnknownNameError
from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.models.lifts import LiftRatio, lift_ratio
from subgraph.models.load import reps_at_share
from subgraph.notation.board import Item
from subgraph.quantities import number
from subgraph.workout.laid_out import Piece, Work, is_lift


def same_best(library: Library, item: Item, movement: Movement) -> bool:
    """Whether a percentage can stand for another lift: one with the same implement, whose best people know."""
    asked = library.movements.get(item.movement or "")
    load = asked.load if asked else None
    return bool(load and movement.load and load.implement == movement.load.implement)


def share_words(library: Library, item: Item, movement: Movement) -> str:
    """What stands on the line in place of a percentage of a best that the member has not got; may be empty.

    Parameters
    ----------
    library : Library
        Records.
    item : Item
        As written, with percentages.
    movement : Movement
        What is done instead.

    Returns
    -------
    str
        A percentage of the best on the board where the ratio of the two maxima is known, else the load by how often
        it can be lifted, by the repetition-maximum chart.
    """
    if not item.percent or movement.load is None or same_best(library, item, movement):
        return ""
    asked = library.movements[item.movement or movement.id]
    ratio = None if item.parts else _ratio(asked, movement)
    if ratio is not None:
        hands = 2 if held_as_pair(movement) else 1
        shares = "-".join(number(round(p * ratio.ratio / hands)) for p in item.percent)
        return f"@ {'2x ' if hands == 2 else ''}{shares}% of the {asked.name} best"
    reps = _able(item)
    if not reps:
        return ""
    low, high = min(reps), max(reps)
    return f"@ {low}-rep load" if low == high else f"@ {high}- to {low}-rep load"


def load_words(piece: Piece, place: Place, pick: Candidate | None) -> str:
    """What to say of the load of a changed lift; empty where there is nothing to say.

    Parameters
    ----------
    piece : Piece
        As written.
    place : Place
        The lift on the board.
    pick : Candidate or None
        What is done instead.

    Returns
    -------
    str
        For a lift in percent: whose best it is of, and how the two usually compare. For one without a load: that it
        is made hard by tempo and by more reps (common practice).
    """
    if pick is None or pick.movement is place.movement:
        return ""
    for work in piece.all_works:
        if work.movement is place.movement and is_lift(piece.block, work.item):
            return _words(work, place.movement, pick.movement)
    return ""


def _words(work: Work, asked: Movement, other: Movement) -> str:
    if asked.load is not None and other.load is None:
        return "nothing to load: more reps, three seconds down, two or three left"
    if other.load is None:
        return ""
    if not work.item.percent:
        known = not work.item.load_kg or asked.load is None or _ratio(asked, other)
        return "" if known else "a starting load: up or down until two or three reps are left"
    if work.item.parts:
        return "one load for the whole complex: what its hardest part allows"
    ratio = _ratio(asked, other)
    if asked.load is not None and asked.load.implement == other.load.implement:
        rest = f", usually {_band(ratio)} x the {asked.name}'s" if ratio else "; not known: leave two or three reps"
        return f"the percentage is of its own best{rest}"
    if ratio:
        return f"its best is usually {_band(ratio)} x the {asked.name}'s"
    return f"a load that could be lifted about {number(max(_able(work.item), default=0))} times, no more"


def _band(ratio: LiftRatio) -> str:
    low, high = (f"{x:.2g}" for x in (ratio.low or ratio.ratio, ratio.high or ratio.ratio))
    return f"{ratio.ratio:.2g}" if low == high else f"{ratio.ratio:.2g} ({low} to {high})"


def _able(item: Item) -> list[int]:
    """How often each percentage of a best can be lifted, by the chart."""
    return [round(reps_at_share(p / 100, extrapolate=True)) for p in item.percent if 0 < p <= 100]


def _ratio(asked: Movement, other: Movement) -> LiftRatio | None:
    try:
        return lift_ratio(asked.id, other.id)
    except UnknownNameError:
        return None
