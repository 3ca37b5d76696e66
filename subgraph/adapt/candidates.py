"""What could stand in for each movement of a piece, with how much of it."""

from __future__ import annotations

import msgspec
from msgspec import Struct

from subgraph.amount import usual_most
from subgraph.library.records import Intent, Movement
from subgraph.notation.board import Block
from subgraph.options import Option, options
from subgraph.quantities import Amount, Unit
from subgraph.rack import Rack, rack_of
from subgraph.today import Ask, Filter, Removal, Today
from subgraph.workout.laid_out import Piece, Work, is_lift

NEAR = 0.65  # loads this near are made one: nobody fetches two pairs or changes plates for it (judgement)
OVER = 1.05  # as far as a load may rise for that
EACH = 8  # candidates asked for of each movement
_USUAL: dict[Unit, float] = {"rep": 10, "s": 30, "m": 100, "cal": 10}  # where the board gives no amount


class Candidate(Struct, frozen=True):
    """One way to do a movement of the board today.

    Parameters
    ----------
    movement : Movement
        Record; the one on the board where it stays.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of its amounts.
    ratio, low, high : float
        Units per unit on the board (over both sides), and the interval.
    lost : float
        Stimulus lost, 0 to 1.
    load_kg : float or None
        Load for the first standard of the board [kg].
    short : float
        Share of an equal amount that is left out because no board has so many of it.
    option : Option or None
        The answer that it comes from; None where it stays as written, or is written as an alternative.
    rack : Rack or None
        What its implement can weigh today; None for one without a load.
    light_kg : float or None
        Load for the second standard [kg], where it is made the same over the piece.
    """

    movement: Movement
    unit: Unit
    ratio: float = 1.0
    low: float = 1.0
    high: float = 1.0
    lost: float = 0.0
    load_kg: float | None = None
    short: float = 0.0
    option: Option | None = None
    rack: Rack | None = None
    light_kg: float | None = None


class Place(Struct, frozen=True):
    """A movement of a piece, wherever in it, and what could be done there.

    Parameters
    ----------
    movement : Movement
        As on the board.
    unit : {'rep', 's', 'm', 'cal'}
        Unit on the board.
    removals : tuple of Removal
        Why it is not for today; empty where it stays.
    candidates : tuple of Candidate
        Best first; itself alone where it stays; none where nothing is suitable.
    """

    movement: Movement
    unit: Unit
    removals: tuple[Removal, ...]
    candidates: tuple[Candidate, ...]


def key_of(work: Work) -> tuple[str, Unit, float | None]:
    """What makes two works of a piece the same: movement, unit and load."""
    return work.movement.id, work.unit, work.load_kg


def intent_of_block(block: Block, today: Today) -> Intent:
    """What a piece is for: as told, else by its section and format."""
    if today.intent:
        return today.intent
    by_section: dict[str, Intent] = {
        "warm-up": "warm-up",
        "cool-down": "warm-up",
        "skill": "skill",
        "strength": "strength",
    }
    lifted = any(i.percent or i.load_kg or i.effort == "heavy" for i in block.items)
    practice = block.section in ("skill", "warm-up", "cool-down") and not lifted  # sets of a drill are no lifts
    if any(i.percent for i in block.items) or (block.format == "strength" and not practice):
        return "strength"
    return by_section.get(block.section or "", "conditioning")


def places_of(filter_: Filter, piece: Piece) -> dict[tuple[str, Unit, float | None], Place]:
    """Each different movement of a piece with its candidates, in the order of the board."""
    today = msgspec.structs.replace(filter_.today, intent=intent_of_block(piece.block, filter_.today))
    asking = filter_ if today == filter_.today else Filter(filter_.library, today)
    found: dict[tuple[str, Unit, float | None], Place] = {}
    for work in piece.all_works:
        key = key_of(work)
        if key not in found:
            found[key] = _place(filter_, asking, work, lift=is_lift(piece.block, work.item))
    return found


def _place(filter_: Filter, asking: Filter, work: Work, *, lift: bool) -> Place:
    library = filter_.library
    removals = tuple(filter_.removals(work.movement))
    if not removals:
        return Place(work.movement, work.unit, (), (Candidate(work.movement, work.unit, load_kg=work.load_kg),))
    found = [c for id_ in work.item.or_ if (c := _alternative(filter_, work, id_))]
    ask = _ask(work)
    largest = msgspec.structs.replace(ask, amount=Amount(max(work.amounts, default=ask.amount.value), work.unit))
    answer = options(library, ask, asking.today, top=EACH, filter_=asking)
    for option in answer.options:
        if work.item.parts and option.unit != "rep":
            continue
        if filter_.removals(option.movement) or any(c.movement.id == option.movement.id for c in found):
            continue
        # As a coach counts it: no more than is usual in one go, whatever would be equal.
        rack = rack_of(filter_, option.movement) if option.movement.load else None
        load_kg = option.load_kg
        if rack and not lift and load_kg and work.load_kg and rack.implement == _implement(filter_, work):
            # The bar as the class has it: nobody changes plates for a little.
            load_kg = work.load_kg if NEAR <= work.load_kg / load_kg <= OVER else load_kg
        count, high = option.count, option.ratio.high
        if most := usual_most(filter_, largest, option.movement, option.unit):
            count = min(count, most / largest.amount.value)
        if most := usual_most(filter_, largest, option.movement, option.unit, counted=True):
            high = min(high, most / largest.amount.value)  # even what the trade counts is not raised beyond it
        found.append(
            Candidate(
                option.movement,
                option.unit,
                count,
                min(count, option.ratio.low),
                max(count, high),
                1 - option.score,
                load_kg,
                max(0.0, 1 - count / option.ratio.value) if option.capped or count < option.count else 0.0,
                option,
                rack,
            )
        )
    return Place(work.movement, work.unit, removals, tuple(found))


def _implement(filter_: Filter, work: Work) -> str | None:
    return rack_of(filter_, work.movement).implement if work.movement.load else None


def _alternative(filter_: Filter, work: Work, id_: str) -> Candidate | None:
    """A movement that the board itself gives as an alternative, where it stays today: the amount as written."""
    movement = filter_.library.movements.get(id_)
    if movement is None or filter_.removals(movement):
        return None
    unit = work.unit if work.unit in movement.units or work.unit == "s" else movement.unit
    return Candidate(movement, unit, load_kg=work.load_kg if movement.load else None)


def _ask(work: Work) -> Ask:
    amounts = work.amounts or (_USUAL[work.unit],)
    amount = sum(amounts) / len(amounts)
    by_the_clock = work.unit == "s" and work.movement.unit != "s"
    usual = not work.amounts or len(set(amounts)) > 1  # the middle of a scheme is not a set that anyone does
    return Ask(work.movement.id, Amount(amount, work.unit), work.load_kg, usual, by_the_clock)
