"""The answer to a coach's question: what instead, how many, why, and what to watch.

`options` puts the floors below together: referral first, then today's filter, the distance in stimulus, and the
amount from the ratio network. Everything that it says of a movement comes from records.
"""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Mapping
from typing import Literal

from msgspec import Struct

from subgraph.graph import Step
from subgraph.library.knowledge import Library
from subgraph.library.pack import kinship
from subgraph.library.records import Intent, Movement
from subgraph.quantities import Unit, round_load, round_to_board
from subgraph.ratios import EQUALISER_OF, Equal, Network, network_of, node, ratio_between
from subgraph.referral import Referral, caution_text, refer
from subgraph.stimulus import FACETS, Stimulus, named
from subgraph.today import Ask, Filter, Removal, Today, describe_equipment

Outcome = Literal["options", "as-written", "nothing-suitable", "refer"]
_EASILY_LEARNT = 2  # skill up to which a few classes are enough
_KEPT = 0.5  # kinship from which a pattern counts as kept


class Option(Struct, frozen=True):
    """One substitute.

    Parameters
    ----------
    movement : Movement
        The record.
    amount, low, high : float
        How much in `unit`, rounded to the board, and the four-in-five interval.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of the three.
    load_kg : float or None
        Load where the ask had one [kg].
    usual_load_kg : tuple of float or None
        Usual board loads, heavier and lighter standard [kg].
    score : float
        Closeness in stimulus, 0 to 1.
    keeps, loses, because, cautions : tuple of str
        In a coach's words.
    ratio : Equal
        Units of this per unit of the asked movement.
    basis : tuple of str
        Source ids behind the ratio.
    basis_text : str
        The same in words.
    judge : bool
        Whether the interval is so wide that the first set must be watched.
    seconds : float or None
        Expected time [s].
    cap_s : float or None
        The trade's cap for such a set [s].
    harder : bool
        Offered because the member has outgrown what is written.
    distances : tuple of float
        Behind the score, in the order of `stimulus.FACETS`.
    """

    movement: Movement
    amount: float
    low: float
    high: float
    unit: Unit
    load_kg: float | None
    usual_load_kg: tuple[float, float] | None
    score: float
    keeps: tuple[str, ...]
    loses: tuple[str, ...]
    because: tuple[str, ...]
    cautions: tuple[str, ...]
    ratio: Equal
    basis: tuple[str, ...]
    basis_text: str
    judge: bool
    seconds: float | None
    cap_s: float | None
    harder: bool
    distances: tuple[float, ...]


class Answer(Struct, frozen=True):
    """What `options` found.

    Parameters
    ----------
    asked : Ask
        The ask.
    movement : Movement
        Its record.
    intent : str
        What the piece was taken to be for.
    outcome : str
        `options`, `as-written`, `nothing-suitable` or `refer`.
    options : tuple of Option
        Best first; empty with a referral.
    standing_in_the_way : tuple of Removal
        Why the asked movement is not for today; empty where it is.
    refer : Referral or None
        Stop and refer.
    removed : dict
        Reason to number of movements that fell out for it.
    caution : str
        The short caution.
    notes : tuple of str
        What to ask first, what to watch, what was read or assumed.
    instead : tuple of str
        With `nothing-suitable`: what to do in place of exercise.
    seconds, cap_s : float or None
        Expected time and cap of the piece as asked [s].
    library : str
        Version of the records.
    """

    asked: Ask
    movement: Movement
    intent: Intent
    outcome: Outcome
    options: tuple[Option, ...]
    standing_in_the_way: tuple[Removal, ...]
    refer: Referral | None
    removed: dict[str, int]
    caution: str
    notes: tuple[str, ...]
    instead: tuple[str, ...]
    seconds: float | None
    cap_s: float | None
    library: str


def emergency_words() -> str:
    """The house's emergency number, or words for it where none is set (`SUBGRAPH_EMERGENCY`)."""
    return os.environ.get("SUBGRAPH_EMERGENCY", "").strip() or "your local emergency number"


def intent_of(movement: Movement, today: Today) -> Intent:
    """What a piece is for: as told, else conditioning where the movement is used so, else its first use."""
    if today.intent:
        return today.intent
    return "conditioning" if "conditioning" in movement.suits else movement.suits[0]


class Candidate(Struct, frozen=True):
    """A movement that survives today, with its closeness and the distances behind it."""

    id: str
    score: float
    distances: tuple[float, ...]


def obstacles(library: Library, movement: Movement, today: Today, removals: list[Removal]) -> frozenset[str]:
    """Equipment and demands that stand in the way: what a link may speak of."""
    demands = {r.demand for r in removals if r.demand}
    equipment = set(today.without)
    for id_ in list(equipment):
        equipment.update(library.equipment[id_].holds)
    if any(r.kind == "equipment" for r in removals):
        for need in movement.uses:
            for choice in (need,) if isinstance(need, str) else need:
                equipment.update(part.split(" ", 1)[-1] if part[0].isdigit() else part for part in choice.split(" + "))
    return frozenset(demands | equipment)


def rank(filter_: Filter, stimulus: Stimulus, *, least: float = 0.0) -> list[Candidate]:
    """All movements that survive today, nearest in stimulus first.

    Parameters
    ----------
    filter_ : Filter
        Today's filter.
    stimulus : Stimulus
        Distances from the asked movement; it is itself left out.
    least : float
        Movements that cannot reach this score are passed over.

    Returns
    -------
    list of Candidate
        Sorted by score, ties by id.
    """
    ids = stimulus.library.columns.ids
    found = []
    by_pattern = stimulus.weights[FACETS.index("pattern")]
    furthest = -math.log(least) / by_pattern if least > 0 and by_pattern > 0 else math.inf
    for position in filter_.survivors():
        if ids[position] != stimulus.asked.id and stimulus.pattern_distance(position) <= furthest:
            distances = stimulus.distances(position)
            found.append(Candidate(ids[position], stimulus.score(distances), distances))
    return sorted(found, key=lambda c: (-c.score, c.id))


def stimulus_of(library: Library, ask: Ask, filter_: Filter) -> Stimulus:
    """Distances from the asked movement, knowing what stands in its way today."""
    asked = library.movements[ask.movement]
    blocked = filter_.removals(asked)
    today = filter_.today
    return Stimulus(
        library,
        asked,
        intent_of(asked, today),
        obstacles(library, asked, today, blocked),
        unable=any(r.kind == "ability" for r in blocked),
    )


def options(library: Library, ask: Ask, today: Today, *, top: int = 3, says: str = "") -> Answer:
    """Answer an ask for one member today.

    Parameters
    ----------
    library : Library
        Records.
    ask : Ask
        What is on the board.
    today : Today
        Situation.
    top : int
        How many options at most.
    says : str
        Free text of the member, matched against the red flags.

    Returns
    -------
    Answer
        Options best first, or a referral without any.
    """
    asked = library.movements[ask.movement]
    intent = intent_of(asked, today)
    told = [library.complaints[t.complaint] for t in today.complaints if t.complaint]
    referral, questions = refer(library, [says], [c.id for c in told])
    seconds, cap_s = set_time(asked, ask.amount.value, ask.amount.unit, today)
    if referral:
        caution = caution_text(library, ["refer"], emergency_words())
        return Answer(
            ask,
            asked,
            intent,
            "refer",
            (),
            (),
            referral,
            {},
            caution,
            (),
            (),
            seconds,
            cap_s,
            library.version,
        )
    filter_ = Filter(library, today)
    blocked = filter_.removals(asked)
    stimulus = stimulus_of(library, ask, filter_)
    network = network_of(library, EQUALISER_OF[intent])
    reach = _room_above(library, asked, today) if not blocked else 0
    least = library.scoring.least_score
    unable = any(r.kind == "ability" for r in blocked)
    allowed = ceiling(library, asked, today, unable=unable)
    chosen: list[Option] = []
    outgrown = reach >= library.scoring.harder_reach
    if outgrown:
        chosen += _harder(library, ask, today, filter_, stimulus, network)[: max(1, top - 2)]
    for candidate in rank(filter_, stimulus, least=least):
        if len(chosen) >= top or candidate.score < least:
            break
        if any(o.movement.id == candidate.id for o in chosen):
            continue
        other = library.movements[candidate.id]
        if not allowed(other.skill, other.strength):
            continue
        if outgrown and other.skill + other.strength <= asked.skill + asked.strength:
            continue
        if intent not in other.suits and not stimulus.is_linked(candidate.id):
            continue
        if unable and _no_easier(stimulus, other):
            continue
        chosen.append(_option(library, ask, today, candidate, stimulus, network, blocked, harder=False))
    outcome: Outcome = "as-written" if not blocked else "options" if chosen else "nothing-suitable"
    notes = [*questions]
    notes += [f"Ask first: {c.ask_first}" for c in told]
    notes += [c.principle for c in told]
    notes += [c.extra for c in told if c.extra]
    if sum(c.kind in ("condition", "life-stage") for c in told) > 1:
        notes.append("Two conditions at once: the stricter of each is used. Ask what their clinician has said of both.")
    instead = tuple(t for c in told for t in c.tolerated)[:4] if outcome == "nothing-suitable" else ()
    return Answer(
        asked=ask,
        movement=asked,
        intent=intent,
        outcome=outcome,
        options=tuple(chosen),
        standing_in_the_way=tuple(blocked),
        refer=None,
        removed=filter_.reasons(),
        caution=caution_text(library, _caution_kinds(library, today), emergency_words()),
        notes=tuple(dict.fromkeys(notes)),
        instead=instead,
        seconds=seconds,
        cap_s=cap_s,
        library=library.version,
    )


def ceiling(library: Library, asked: Movement, today: Today, *, unable: bool) -> Callable[[int, int], bool]:
    """What is not too hard to stand in for the asked movement.

    Without a level, a step beyond it in skill or strength is the most. Where the member's ability stands in the way
    of the asked movement (`unable`), nothing beyond it, and of a movement that takes weeks to learn a step less. A member whose level has outgrown it has no ceiling but
    the level.

    Returns
    -------
    callable
        From skill and strength ranks to whether they are within reach.
    """
    if _room_above(library, asked, today) >= library.scoring.harder_reach:
        return lambda skill, strength: True
    if unable:
        most_skill = max(asked.skill - 1, _EASILY_LEARNT)
        return lambda skill, strength: skill <= min(most_skill, asked.skill) and strength <= asked.strength
    return lambda skill, strength: max(0, skill - asked.skill) + max(0, strength - asked.strength) <= 1


def _no_easier(stimulus: Stimulus, other: Movement) -> bool:
    """Whether a coach calls a movement a peer of the asked one, and its ranks agree."""
    step = stimulus.links.get(other.id)
    asked = stimulus.asked
    peer = step is not None and step.kind != "easier"
    return peer and other.skill >= asked.skill and other.strength >= asked.strength


def _room_above(library: Library, asked: Movement, today: Today) -> int:
    """Steps of skill or strength between what is asked and what the member's level reaches."""
    if today.level is None:
        return 0
    level = library.levels[today.level]
    return max(level.skill - asked.skill, level.strength - asked.strength)


def _harder(
    library: Library, ask: Ask, today: Today, filter_: Filter, stimulus: Stimulus, network: Network
) -> list[Option]:
    """Next rungs up, nearest first, for a member who has outgrown what is written."""
    found = []
    for step in stimulus.links.values():
        movement = library.movements[step.to]
        rises = movement.skill + movement.strength > stimulus.asked.skill + stimulus.asked.strength
        if step.kind == "harder" and rises and stimulus.intent in step.link.for_ and not filter_.removals(movement):
            distances = stimulus.distances(library.columns.ids.index(movement.id))
            found.append(Candidate(movement.id, stimulus.score(distances), distances))
    found.sort(key=lambda c: (-c.score, c.id))
    return [_option(library, ask, today, c, stimulus, network, [], harder=True) for c in found]


def _caution_kinds(library: Library, today: Today) -> list[str]:
    told = [library.complaints[t.complaint] for t in today.complaints if t.complaint]
    kinds = []
    if any("pregnan" in c.id for c in told):
        kinds.append("pregnancy")
    if any(c.kind in ("condition", "life-stage") for c in told):
        kinds.append("condition")
    if today.complaints:
        if any(c.pain_zones_apply for c in told):
            kinds.append(
                "flared" if today.irritability == "flared" else "sore" if today.irritability == "sore" else "default"
            )
        else:
            kinds.append("condition" if told else "default")
    if today.level == "novice":
        kinds.append("newcomer")
    return kinds


def set_time(movement: Movement, amount: float, unit: Unit, today: Today) -> tuple[float | None, float | None]:
    """Expected seconds for an amount, and the trade's cap for it.

    Parameters
    ----------
    movement : Movement
        Record with paces.
    amount : float
        In `unit`.
    unit : {'rep', 's', 'm', 'cal'}
        Unit.
    today : Today
        Its level decides the pace; regular where none is told.

    Returns
    -------
    (float or None, float or None)
        Seconds [s] from pace, and cap [s] scaled to the amount.
    """
    pace = movement.pace(unit, today.level or "regular")
    seconds = None if pace is None else pace * amount
    cap = None
    if movement.cap and unit == movement.unit:
        cap = movement.cap.seconds * amount / movement.cap.amount
    return seconds, cap


def _best_unit(asked: Ask, other: Movement, network: Network) -> tuple[Unit, Equal | None]:
    """The unit in which the substitute is best tied to the ask; its usual unit unless another is clearly better."""
    if asked.amount.unit == "s" and asked.by_the_clock:  # worked for a time: the substitute is worked for the same
        return "s", Equal(1.0, 0.0)
    start = node(asked.movement, asked.amount.unit)
    found: list[tuple[float, int, Unit, Equal]] = []
    for position, unit in enumerate(other.units):
        equal = ratio_between(network, start, node(other.id, unit))
        if equal is not None:
            same = 0 if unit == asked.amount.unit else 1
            found.append((equal.sigma + 0.15 * same + 0.05 * position, position, unit, equal))
    if not found:
        return other.unit, None
    _, _, unit, equal = min(found)
    return unit, equal


def _option(
    library: Library,
    ask: Ask,
    today: Today,
    candidate: Candidate,
    stimulus: Stimulus,
    network: Network,
    blocked: list[Removal],
    *,
    harder: bool,
) -> Option:
    other = library.movements[candidate.id]
    asked = stimulus.asked
    unit, equal = _best_unit(ask, other, network)
    if equal is None:  # no evidence at all: one for one, and say that it is a judgement
        equal = Equal(1.0, math.log(4) / 1.28)
    value, low, high = (x * ask.amount.value for x in (equal.value, equal.low, equal.high))
    even = unit == "rep" and other.sides in ("each", "alternating")
    amount = round_to_board(value, unit, low, high, even=even)
    low = min(amount, max(1.0, round_out(low)))
    high = max(amount, round_out(high))
    seconds, cap_s = set_time(other, amount, unit, today)
    step = stimulus.links.get(other.id)
    basis, text = basis_of(library, ask, other, unit, equal)
    return Option(
        movement=other,
        amount=amount,
        low=low,
        high=high,
        unit=unit,
        load_kg=_load(library, asked, other, ask.load_kg),
        usual_load_kg=other.load.kg if other.load else None,
        score=candidate.score,
        keeps=_keeps(library, asked, other),
        loses=_loses(library, asked, other),
        because=_because(library, asked, other, step, blocked, harder),
        cautions=_cautions(library, other, today),
        ratio=equal,
        basis=basis,
        basis_text=text,
        judge=equal.high / equal.value > library.scoring.wide_interval,
        seconds=seconds,
        cap_s=cap_s,
        harder=harder,
        distances=candidate.distances,
    )


def round_out(value: float) -> float:
    """Round an end of an interval to what can be read at a glance."""
    if value < 20:
        return float(round(value))
    step = 5 if value < 200 else 25 if value < 1000 else 100
    return float(step * round(value / step))


def basis_of(library: Library, ask: Ask, other: Movement, unit: Unit, equal: Equal) -> tuple[tuple[str, ...], str]:
    """Source ids behind a ratio, and the same in words.

    Parameters
    ----------
    library : Library
        Records.
    ask : Ask
        From.
    other : Movement
        To.
    unit : str
        Unit of the answer.
    equal : Equal
        The ratio.

    Returns
    -------
    (tuple of str, str)
        Ids in `sources.yaml`; words for the coach.
    """
    pair = {node(ask.movement, ask.amount.unit), node(other.id, unit)}
    here = library.ratios_at(ask.movement)
    direct = [r for r in here if {node(r.from_, r.units[0]), node(r.to, r.units[1])} == pair]
    if not direct:
        via = sorted({r.source for r in (*here, *library.ratios_at(other.id))})
        return tuple(via) or ("common-practice",), "no rule for this pair: by way of others and by time under work"
    sources = tuple(dict.fromkeys(r.source for r in direct))
    parts = []
    practice = [r for r in direct if r.basis == "practice"]
    if practice:
        pages = sum(r.pages for r in practice)
        parts.append(
            f"practice, {pages} source{'s' if pages != 1 else ''}" if pages else "practice, from memory of the trade"
        )
    for basis in ("measured", "modelled"):
        if any(r.basis == basis for r in direct):
            parts.append(basis)
    return sources, "; ".join(parts)


def _load(library: Library, asked: Movement, other: Movement, load_kg: float | None) -> float | None:
    """The substitute's load that is as heavy for it as `load_kg` is for the asked movement."""
    if load_kg is None or asked.load is None or other.load is None:
        return None
    share = load_kg / asked.load.kg[0]
    wanted = share * other.load.kg[0]
    implement = library.equipment[other.load.implement]
    rounded = round_load(wanted, implement.sizes_kg, implement.step_kg)
    if implement.base_kg:
        rounded = max(rounded, implement.base_kg[1])
    return rounded


def _keeps(library: Library, asked: Movement, other: Movement) -> tuple[str, ...]:
    kept = [
        library.patterns[p].name
        for p in asked.pattern
        if max((kinship(library.patterns, p, q) for q in other.pattern), default=0) >= _KEPT
    ]
    prime = [library.muscles[m].name for m, w in asked.muscles.items() if w == 3 and other.muscles.get(m, 0) >= 2]
    return tuple(dict.fromkeys([*kept, *prime]))


def _loses(library: Library, asked: Movement, other: Movement) -> tuple[str, ...]:
    lost = [
        library.patterns[p].name
        for p in asked.pattern
        if max((kinship(library.patterns, p, q) for q in other.pattern), default=0) < _KEPT
    ]
    prime = [library.muscles[m].name for m, w in asked.muscles.items() if w >= 2 and not other.muscles.get(m)]
    if other.met.value < 0.75 * asked.met.value:
        prime.append("some of the breathing")
    return tuple(dict.fromkeys([*lost, *prime]))[:4]


def _because(
    library: Library,
    asked: Movement,
    other: Movement,
    step: Step | None,
    blocked: list[Removal],
    harder: bool,
) -> tuple[str, ...]:
    found = []
    if harder:
        found.append("the next rung up from what is written")
    if step is not None:
        found.append(step.link.why if step.declared else f"neighbour of {asked.name}: {step.link.why}")
    eased = [
        f"{library.demands[r.demand].name} {asked.grade(r.demand)} down to {other.grade(r.demand)}"
        for r in blocked
        if r.demand
    ]
    if eased:
        found.append(", ".join(eased[:3]))
    if any(r.kind == "equipment" for r in blocked):
        needs = [describe_equipment(library, u if isinstance(u, str) else u[0]) for u in other.uses]
        found.append("needs no equipment" if not needs else "needs only " + ", ".join(needs))
    return tuple(found)


def _cautions(library: Library, other: Movement, today: Today) -> tuple[str, ...]:
    watch = [w for t in today.complaints if t.complaint for w in library.complaints[t.complaint].watch]
    return (*other.cautions, *watch[:2])


class WhyNot(Struct, frozen=True):
    """Why a movement is not offered, or where it ranks.

    Parameters
    ----------
    movement : Movement
        The one asked about.
    removals : tuple of Removal
        Why it falls out today; empty where it stays.
    place : int or None
        Its rank among the survivors, from 1.
    survivors : int
        How many there are.
    score : float or None
        Its closeness, 0 to 1.
    facets : mapping
        Distances behind it.
    offered : bool
        Whether it would be among the first three.
    best : Movement or None
        The first choice, to compare with, and the distances behind it.
    """

    movement: Movement
    removals: tuple[Removal, ...]
    place: int | None
    survivors: int
    score: float | None
    facets: Mapping[str, float]
    offered: bool
    best: Movement | None
    best_facets: Mapping[str, float]


def why_not(library: Library, ask: Ask, today: Today, movement: str) -> WhyNot:
    """Explain why a movement is not among the options.

    Parameters
    ----------
    library : Library
        Records.
    ask : Ask
        What is on the board.
    today : Today
        Situation.
    movement : str
        Id of the movement asked about.
    """
    record = library.movements[movement]
    filter_ = Filter(library, today)
    ranked = rank(filter_, stimulus_of(library, ask, filter_))
    removals = tuple(filter_.removals(record))
    place = next((i for i, c in enumerate(ranked, 1) if c.id == movement), None)
    candidate = ranked[place - 1] if place else None
    return WhyNot(
        movement=record,
        removals=removals,
        place=place,
        survivors=len(ranked),
        score=candidate.score if candidate else None,
        facets=named(candidate.distances) if candidate else {},
        offered=place is not None and place <= 3,
        best=library.movements[ranked[0].id] if ranked else None,
        best_facets=named(ranked[0].distances) if ranked else {},
    )
