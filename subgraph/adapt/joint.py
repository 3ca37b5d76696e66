"""Substitutes of a piece chosen together: stimulus kept, no strain twice by accident, few things to fetch.

A beam over the movements of the piece in the order of the board, wide enough to be exact for a usual board; ties are
broken by the order of the candidates, so that the same ask gives the same answer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from subgraph.adapt.candidates import NEAR, Candidate, Place
from subgraph.adapt.loads import load_of
from subgraph.library.knowledge import Library
from subgraph.library.pack import kinship
from subgraph.library.records import Level, Movement
from subgraph.notation.board import Item
from subgraph.rack import at_hand, rack_of
from subgraph.today import Filter
from subgraph.workout.doses import doses_of
from subgraph.workout.handling import goes_on
from subgraph.workout.laid_out import Work

BEAM = 40  # partial choices kept; from 20 up the corpus of boards gives no other answer


# Item as in a record, whether it is moved (a bar in a rack is not), and its load [kg] where it has one.
Kit = frozenset[tuple[str, bool, float | None]]


class Weighed(Struct, frozen=True):
    """A place of the piece with its part in the whole.

    Parameters
    ----------
    place : Place
        With candidates.
    work : Work
        One of its works, for unit and load.
    amount : float
        All that is done of it over the piece [unit of the board].
    share : float
        Its share of the working time, 0 to 1.
    """

    place: Place
    work: Work
    amount: float
    share: float


class Chosen(Struct, frozen=True):
    """The choice for a piece.

    Parameters
    ----------
    picks : tuple
        Position of the chosen candidate at each place; None where there is none.
    costs : dict
        Concern to what it adds, before its weight.
    """

    picks: tuple[int | None, ...]
    costs: dict[str, float]


def choose(filter_: Filter, weighed: Sequence[Weighed], level: Level) -> Chosen:
    """Choose one candidate at each place.

    Parameters
    ----------
    filter_ : Filter
        Library and situation.
    weighed : sequence of Weighed
        In the order of the board.
    level : str
        Whose pace turns amounts into seconds of strain.

    Returns
    -------
    Chosen
        Least sum of weighted concerns.
    """
    library = filter_.library
    weights = {id_: concern.weight for id_, concern in library.concerns.items()}
    written = [doses_of(library, w.work, w.amount, level) for w in weighed]
    board_doses = _sum(written)
    per_place = [[_facts(filter_, w, c, level) for c in w.place.candidates] for w in weighed]
    # What is decided from the start: all that stays as written.
    start = _State(
        (), _sum(d for d, w in zip(written, weighed, strict=True) if not w.place.removals), _kit(weighed, per_place)
    )
    beam: list[tuple[float, tuple[int, ...], _State, dict[str, float]]] = [(0.0, (), start, {})]
    for w, facts in zip(weighed, per_place, strict=True):
        following = []
        for _, order, state, costs in beam:
            if not facts:
                following.append((_total(costs, weights), (*order, -1), state.with_pick(w, None, {}), costs))
                continue
            for position, fact in enumerate(facts):
                kept = not w.place.removals
                doses = state.doses if kept else _sum((state.doses, fact.doses))
                following.append(
                    _extended(library, order, position, state, costs, w, fact, doses, board_doses, weights, level)
                )
        following.sort(key=lambda entry: (round(entry[0], 9), entry[1]))
        beam = following[:BEAM]
    _, order, _, costs = beam[0]
    return Chosen(tuple(None if p < 0 else p for p in order), costs)


class Held(Struct, frozen=True):
    """The complex that a place is part of, with what a candidate is done there, and in which positions."""

    item: Item
    movement: Movement
    implement: str | None
    stances: frozenset[str]


class _Fact(Struct, frozen=True):
    """What a candidate adds, wherever it is combined."""

    movement: Movement
    lost: float
    pattern: float
    doses: dict[str, float]
    kit: Kit
    unloaded: float
    short: float
    held: Held | None
    beside: Kit = frozenset()  # what the item on the board is done with, as far as it is there


class _State(Struct, frozen=True):
    picked: tuple[tuple[Movement, Movement | None, float], ...]  # on the board, chosen, share of the work
    doses: dict[str, float]
    kit: Kit
    held: tuple[Held, ...] = ()

    def with_pick(self, w: Weighed, fact: _Fact | None, doses: Mapping[str, float]) -> _State:
        """The state with one more place decided; None where nothing is suitable."""
        pair = (w.place.movement, fact.movement if fact else None, w.share)
        held = (*self.held, fact.held) if fact and fact.held else self.held
        return _State((*self.picked, pair), dict(doses) or self.doses, self.kit | fact.kit if fact else self.kit, held)


def _extended(
    library: Library,
    order: tuple[int, ...],
    position: int,
    state: _State,
    costs: dict[str, float],
    w: Weighed,
    fact: _Fact,
    doses: Mapping[str, float],
    board_doses: Mapping[str, float],
    weights: Mapping[str, float],
    level: Level,
) -> tuple[float, tuple[int, ...], _State, dict[str, float]]:
    twice = any(new is fact.movement and old is not w.place.movement for old, new, _ in state.picked)
    alike = sum(
        min(share, w.share) * grown_alike(library, (old, w.place.movement), (new, fact.movement))
        for old, new, share in state.picked
        if new is not None
    )
    together = [held for held in state.held if fact.held is not None and held.item is fact.held.item]
    breaks = fact.held is not None and (
        any(h.implement != fact.held.implement or h.stances.isdisjoint(fact.held.stances) for h in together)
        or (bool(together) and not goes_on(library, together[-1].movement, fact.movement))
    )
    fetched = to_fetch(fact.kit, state.kit | fact.beside)
    costs = {
        "stimulus": costs.get("stimulus", 0.0) + w.share * fact.lost,
        "pattern": costs.get("pattern", 0.0) + w.share * fact.pattern,
        "unloaded": costs.get("unloaded", 0.0) + w.share * fact.unloaded,
        "short": costs.get("short", 0.0) + w.share * fact.short,
        "complex": costs.get("complex", 0.0) + breaks,
        "same-twice": costs.get("same-twice", 0.0) + twice,
        "alike": costs.get("alike", 0.0) + alike,
        "kit": costs.get("kit", 0.0) + fetched,
        "second-dose": second_dose(library, board_doses, doses),
        "threshold": threshold_passed(library, doses, level),
    }
    after = state.with_pick(w, fact, doses)
    return _total(costs, weights), (*order, position), after, costs


def second_dose(library: Library, before: Mapping[str, float], after: Mapping[str, float]) -> float:
    """Full doses of strain beyond what the board has; a quarter more is free, and half of one that it has not."""
    excess = 0.0
    for id_, amount in after.items():
        full = library.doses[id_].full
        excess += max(0.0, amount - max(before.get(id_, 0.0) + full / 4, full / 2)) / full
    return excess


def threshold_passed(library: Library, doses: Mapping[str, float], level: Level) -> float:
    """How far stated thresholds are passed, as shares of each."""
    excess = 0.0
    for id_, amount in doses.items():
        most = library.doses[id_].most.get(level)
        if most is not None:
            excess += max(0.0, amount / most - 1)
    return excess


def _facts(filter_: Filter, w: Weighed, candidate: Candidate, level: Level) -> _Fact:
    library = filter_.library
    if not w.place.removals:
        return _Fact(candidate.movement, 0.0, 0.0, {}, kit_of(filter_, candidate), 0.0, 0.0, held_in(w, candidate))
    work = Work(item=w.work.item, movement=candidate.movement, unit=candidate.unit, amounts=())
    doses = doses_of(library, work, w.amount * candidate.ratio, level)
    own = candidate.option is None  # an alternative that the board itself gives is as good as written
    return _Fact(
        candidate.movement,
        candidate.lost,
        0.0 if own else pattern_lost(library, w.place.movement, candidate.movement),
        doses,
        kit_of(filter_, candidate),
        0.0 if own else unloaded(w.place.movement, candidate.movement),
        candidate.short,
        held_in(w, candidate),
        kit_there(filter_, w),
    )


def kit_there(filter_: Filter, w: Weighed) -> Kit:
    """What an item of the board is done with as written, as far as it is there: nobody fetches it for a substitute."""
    load_kg = w.work.load_kg or (w.place.movement.load.kg[0] if w.place.movement.load else None)
    rack = rack_of(filter_, w.place.movement) if w.place.movement.load else None
    kit = kit_of(filter_, Candidate(w.place.movement, w.place.unit, load_kg=load_kg, rack=rack))
    return frozenset(part for part in kit if filter_.has(part[0]))


def held_in(w: Weighed, candidate: Candidate) -> Held | None:
    """The complex that a place is part of, with implement and positions of a candidate there; None outside."""
    load = candidate.movement.load
    implement = load.implement if load else None
    if not w.work.item.parts:
        return None
    return Held(w.work.item, candidate.movement, implement, frozenset(candidate.movement.stance))


def unloaded(asked: Movement, other: Movement) -> float:
    """1 where something to lift is given up for nothing to lift, else 0."""
    return float(asked.load is not None and other.load is None)


def pattern_lost(library: Library, asked: Movement, other: Movement) -> float:
    """Share of what the asked movement moves that the other does not, near kin counting in part.

    Of engine work what moves matters little: there it is the share of the energy, by METs, that is lost.
    """
    if asked.character == "cyclic":
        return max(0.0, 1 - other.met.value / asked.met.value)
    return max(0.0, 1 - _shared(library, asked, other))


def _shared(library: Library, one: Movement, other: Movement) -> float:
    """Share of what one movement moves that another moves too, near kin counting in part."""
    return sum(
        share * max((kinship(library.patterns, p, q) for q in other.pattern), default=0.0)
        for p, share in one.pattern.items()
    )


_A_LITTLE = 0.25  # by so much two movements may become more alike before it counts
_NOT_ALIKE = 0.6  # up to here two movements of a piece are not alike, whatever they were


def grown_alike(library: Library, before: tuple[Movement, Movement], after: tuple[Movement, Movement]) -> float:
    """How much more alike two movements of a piece have become, 0 to 1: two kinds of squat for a pull and a squat."""
    one, two = after
    if before[0] is one and before[1] is two:
        return 0.0
    was, now = (min(_shared(library, a, b), _shared(library, b, a)) for a, b in (before, (one, two)))
    return max(0.0, now - max(was + _A_LITTLE, _NOT_ALIKE))


def kit_of(filter_: Filter, candidate: Candidate) -> Kit:
    """Pieces of equipment that a candidate is done with: of each need what is at hand, with its load [kg]."""
    movement, found = candidate.movement, set()
    for need in at_hand(filter_, movement):
        for item in need.split(" + "):
            id_ = item.split(" ", 1)[1] if item[0].isdigit() else item
            record = filter_.library.equipment.get(id_)
            if record is None or record.surroundings:
                continue
            weighs = movement.load is not None and id_ == (
                candidate.rack.implement if candidate.rack else movement.load.implement
            )
            found.add((item, weighs, load_of(candidate) if weighs else None))
    return frozenset(found)


def to_fetch(kit: Kit, there: Kit) -> int:
    """How many pieces of a kit are not there; the same with a load far off, or fixed in a rack, is another one."""
    return sum(
        not any(
            (item, moved) == (other, moves) and (load is None or kg is None or NEAR <= load / kg <= 1 / NEAR)
            for other, moves, kg in there
        )
        for item, moved, load in kit
    )


def _kit(weighed: Sequence[Weighed], facts: Sequence[Sequence[_Fact]]) -> Kit:
    kept = [f[0].kit for w, f in zip(weighed, facts, strict=True) if not w.place.removals]
    return frozenset().union(*kept)


def _sum(many: object) -> dict[str, float]:
    total: dict[str, float] = {}
    for doses in many:  # type: ignore[attr-defined]
        for id_, amount in doses.items():
            total[id_] = total.get(id_, 0.0) + amount
    return total


def _total(costs: Mapping[str, float], weights: Mapping[str, float]) -> float:
    return sum(weights.get(id_, 0.0) * amount for id_, amount in costs.items())
