"""The answer to a coach's question: what instead, how many, why, and what to watch.

`options` puts the floors below together: referral first, then today's filter, the distance in stimulus, and the
amount from the ratio network. Everything that it says of a movement comes from records.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from subgraph.admission import Admission, Bar
from subgraph.amount import how_much, of_the_trade, round_out, set_time, usual_most
from subgraph.basis import Piece, basis_of, basis_of_maxima, pieces_of
from subgraph.library.knowledge import Library
from subgraph.library.records import Complaint, Intent, Movement
from subgraph.quantities import Unit, number, round_to_board
from subgraph.ranking import Candidate, intent_of, lacking, rank, stimulus_of, untold
from subgraph.ratios import EQUALISER_OF, Equal, Network, network_of
from subgraph.reasons import because, cautions, keeps, loses
from subgraph.referral import Referral, caution_text, refer
from subgraph.stimulus import Stimulus, named
from subgraph.today import Ask, Filter, Removal, Today

if TYPE_CHECKING:
    from subgraph.models.lifts import LiftRatio

Outcome = Literal["options", "as-written", "nothing-suitable", "refer"]


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
    note : str
        What to know of the amount: a load far from the one asked, no evidence; else empty.
    maxima : LiftRatio or None
        The ratio of maxima that load and reps rest on, where it decides.
    seconds : float or None
        Expected time [s].
    cap_s : float or None
        The trade's cap for such a set [s].
    harder : bool
        Offered because the member has outgrown what is written.
    distances : tuple of float
        Behind the score, in the order of `stimulus.FACETS`.
    count : float
        Units per unit asked as `amount` has it before rounding: the ratio, or the trade's count, up to the usual most.
    capped : bool
        Whether the usual most cut it.
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
    note: str
    maxima: LiftRatio | None
    seconds: float | None
    cap_s: float | None
    harder: bool
    distances: tuple[float, ...]
    count: float
    capped: bool


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


def emergency_words(library: Library) -> str:
    """The emergency number of the house, else of `SUBGRAPH_EMERGENCY`, else words for it."""
    return library.house.emergency or os.environ.get("SUBGRAPH_EMERGENCY", "").strip() or "your local emergency number"


def options(
    library: Library, ask: Ask, today: Today, *, top: int = 3, says: str = "", filter_: Filter | None = None
) -> Answer:
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
    filter_ : Filter, optional
        The filter of `today`, where many asks share it.

    Returns
    -------
    Answer
        Options best first, or a referral without any.
    """
    asked = library.movements[ask.movement]
    intent = intent_of(asked, ask, today)
    told = [library.complaints[t.complaint] for t in today.complaints if t.complaint]
    referral, questions = refer(library, [says], [c.id for c in told])
    seconds, cap_s = set_time(asked, ask.amount.value, ask.amount.unit, today)
    if referral:
        caution = caution_text(library, ["refer"], emergency_words(library))
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
    filter_ = filter_ or Filter(library, today)
    blocked = filter_.removals(asked)
    stimulus = stimulus_of(library, ask, filter_)
    network = network_of(library, EQUALISER_OF[intent])
    admission = _admission(filter_, stimulus, blocked)
    chosen: list[Option] = []
    if admission.outgrown:
        chosen += _harder(filter_, ask, stimulus, network)[: max(1, top - 2)]
    resting = bool(blocked) and _rests(filter_)
    for candidate in rank(filter_, stimulus) if not resting else ():
        bar = admission.bar(candidate)
        if len(chosen) >= top or bar == "far":
            break
        if bar is None and all(o.movement.id != candidate.id for o in chosen):
            chosen.append(_option(filter_, ask, candidate, stimulus, network, blocked, harder=False))
    outcome: Outcome = "as-written" if not blocked else "options" if chosen else "nothing-suitable"
    notes = [*questions]
    notes += [f"Ask first: {c.ask_first}" for c in told]
    notes += [c.principle for c in told]
    notes += [c.extra for c in told if c.extra]
    if sum(c.kind in ("condition", "life-stage") for c in told) > 1:
        notes.append("Two conditions at once: the stricter of each is used. Ask what their clinician has said of both.")
    instead = _instead(filter_, told) if outcome == "nothing-suitable" else ()
    return Answer(
        asked=ask,
        movement=asked,
        intent=intent,
        outcome=outcome,
        options=tuple(chosen),
        standing_in_the_way=tuple(blocked),
        refer=None,
        removed=filter_.reasons(),
        caution=caution_text(library, caution_kinds(library, today), emergency_words(library)),
        notes=tuple(dict.fromkeys(notes)),
        instead=instead,
        seconds=seconds,
        cap_s=cap_s,
        library=library.version,
    )


def _admission(filter_: Filter, stimulus: Stimulus, blocked: Sequence[Removal]) -> Admission:
    unable = any(r.kind == "ability" for r in blocked)
    return Admission(filter_.library, stimulus, filter_.today, unable=unable, fits=not blocked)


def evidence_behind(library: Library, answer: Answer, option: Option) -> tuple[Piece, ...]:
    """The evidence that an option's amount rests on, piece by piece, what carries most first."""
    if option.maxima:
        return (basis_of_maxima(library, answer.movement, option.movement, option.maxima),)
    network = network_of(library, EQUALISER_OF[answer.intent])
    return pieces_of(library, network, answer.asked, option.movement, option.unit)


def _rests(filter_: Filter) -> bool:
    """Whether complaints leave neither effort nor breath, so that what survives is no exercise."""
    rest_when, caps = filter_.library.scoring.rest_when, filter_.caps
    return bool(rest_when) and all(d in caps and caps[d].grade <= most for d, most in rest_when.items())


def _instead(filter_: Filter, told: Sequence[Complaint]) -> tuple[str, ...]:
    """What to do in place of exercise: what a lone complaint tolerates, gentle pieces that are left, whom to ask.

    What one of several complaints tolerates may harm another, so only pieces that passed the filter are named then.
    """
    library = filter_.library
    left = [m for m in map(library.movements.__getitem__, library.scoring.gentle) if not filter_.removals(m)]
    gentle = [m.name for m in left[:3]] if len(told) != 1 or _rests(filter_) else [*told[0].tolerated[:3]]
    return (*gentle, *([library.scoring.instead] if told and library.scoring.instead else []))


def _harder(filter_: Filter, ask: Ask, stimulus: Stimulus, network: Network) -> list[Option]:
    """Next rungs up, nearest first, for a member who has outgrown what is written."""
    library = filter_.library
    found = []
    for step in stimulus.links.values():
        movement = library.movements[step.to]
        rises = movement.skill + movement.strength > stimulus.asked.skill + stimulus.asked.strength
        if step.kind == "harder" and rises and stimulus.intent in step.link.for_ and not filter_.removals(movement):
            distances = stimulus.distances(library.columns.ids.index(movement.id))
            found.append(Candidate(movement.id, stimulus.score(distances), distances))
    found.sort(key=lambda c: (-c.score, c.id))
    return [_option(filter_, ask, c, stimulus, network, [], harder=True) for c in found]


def caution_kinds(library: Library, today: Today) -> list[str]:
    """Ids of the cautions that fit what was told, the narrowest first."""
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


def _option(
    filter_: Filter,
    ask: Ask,
    candidate: Candidate,
    stimulus: Stimulus,
    network: Network,
    blocked: list[Removal],
    *,
    harder: bool,
) -> Option:
    library, today = filter_.library, filter_.today
    other = library.movements[candidate.id]
    asked = stimulus.asked
    much = how_much(filter_, ask, other, network, EQUALISER_OF[stimulus.intent])
    unit, equal = much.unit, much.equal
    count = of_the_trade(library, ask, other, unit, equal)
    value, low, high = (x * ask.amount.value for x in (count, equal.low, equal.high))
    even = unit == "rep" and other.sides in ("each", "alternating")
    amount = round_to_board(value, unit, low, high, even=even)
    note = much.note
    most = usual_most(filter_, ask, other, unit)
    capped = most is not None and amount > most
    if most is not None and capped:
        note = "; ".join(filter(None, (note, f"about {number(amount)} would be equal: more than is usual in one go")))
        amount = round_to_board(most, unit, 1, most, even=even)
        value = min(value, most)
    way = library.slowing.get(other.character)
    slow = other.load is None and way is not None and way.slow
    if unit == "rep" and slow and heavy_set(library, ask, asked, stimulus.intent):
        rule = library.rules["unloaded-set"]
        if amount < rule.usual:
            amount = value = rule.usual
            low, high = max(low, rule.low), max(high, rule.high)
            note = "; ".join(filter(None, (note, "nothing to load: three seconds down, two or three left")))
    low = min(amount, max(1.0, round_out(low)))
    high = max(amount, round_out(high))
    seconds, cap_s = set_time(other, amount, unit, today)
    step = stimulus.links.get(other.id)
    basis: tuple[str, ...]
    if much.maxima:
        piece = basis_of_maxima(library, asked, other, much.maxima)
        basis, text = (piece.source,), f"rep for rep, load by the lifts' maxima ({piece.basis}, {piece.worth})"
    else:
        basis, text = basis_of(library, network, ask, other, unit)
    return Option(
        movement=other,
        amount=amount,
        low=low,
        high=high,
        unit=unit,
        load_kg=much.load_kg,
        usual_load_kg=other.load.kg if other.load else None,
        score=candidate.score,
        keeps=keeps(library, asked, other),
        loses=loses(library, asked, other),
        because=because(filter_, asked, other, step, blocked, harder),
        cautions=cautions(library, other, today),
        ratio=equal,
        basis=basis,
        basis_text=text,
        judge=much.judged or equal.high / equal.value > library.scoring.wide_interval,
        note=note,
        maxima=much.maxima,
        seconds=seconds,
        cap_s=cap_s,
        harder=harder,
        distances=candidate.distances,
        count=value / ask.amount.value,
        capped=capped,
    )


def heavy_set(library: Library, ask: Ask, asked: Movement, intent: Intent) -> bool:
    """Whether a set is there to be heavy: few reps, and for strength or with about the usual load."""
    if asked.load is None or ask.amount.unit != "rep" or ask.assumed:
        return False
    few, much = library.rules["heavy-reps"].high, library.rules["heavy-load"].low
    if ask.amount.value > few:
        return False
    return intent == "strength" or (ask.load_kg is not None and ask.load_kg >= much * asked.load.kg[0])


_TELLING = 0.02  # weighted distance below which a facet explains nothing


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
        Whether it is among the first three options.
    bar : str or None
        Why it is not offered whatever its rank, as in `admission`.
    best : Movement or None
        The first option, to compare with, and the distances behind it.
    further : tuple of str
        Facets that put it behind the first choice, by what they cost; the dearest first.
    """

    movement: Movement
    removals: tuple[Removal, ...]
    place: int | None
    survivors: int
    score: float | None
    facets: Mapping[str, float]
    offered: bool
    bar: Bar | None
    best: Movement | None
    best_facets: Mapping[str, float]
    further: tuple[str, ...]


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
    stimulus = stimulus_of(library, ask, filter_)
    ranked = list(rank(filter_, stimulus))
    removals = tuple(filter_.removals(record))
    if not removals and (own := lacking(record.uses, untold(filter_, stimulus.asked))):
        name = library.equipment[own].name
        removals = (Removal("equipment", f"needs {name}", "a member's own, and not told of"),)
    at = {c.id: place for place, c in enumerate(ranked, 1)}
    place = at.get(movement)
    candidate = ranked[place - 1] if place else None
    offered = [o.movement.id for o in options(library, ask, today, filter_=filter_).options]
    best = ranked[at[offered[0]] - 1] if offered else None
    behind = {}
    if candidate and best:
        gaps = zip(candidate.distances, best.distances, stimulus.weights, strict=True)
        cost = named([(theirs - least) * weight for theirs, least, weight in gaps])
        behind = {facet: c for facet, c in cost.items() if c > _TELLING}
    admission = _admission(filter_, stimulus, filter_.removals(library.movements[ask.movement]))
    return WhyNot(
        movement=record,
        removals=removals,
        place=place,
        survivors=len(ranked),
        score=candidate.score if candidate else None,
        facets=named(candidate.distances) if candidate else {},
        offered=movement in offered,
        bar=admission.bar(candidate) if candidate and movement not in offered else None,
        best=library.movements[best.id] if best else None,
        best_facets=named(best.distances) if best else {},
        further=tuple(sorted(behind, key=lambda facet: -behind[facet])),
    )
