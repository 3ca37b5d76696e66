"""How much of a substitute: unit, reps or metres, load and time."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from msgspec import Struct

from subgraph.library.records import Movement
from subgraph.quantities import Unit, number
from subgraph.rack import on_hand_kg
from subgraph.ratios import TIME_SIGMA, Z_80, Equal, Equaliser, Network, node, on_paces, ratio_between
from subgraph.today import Ask, Filter, Today

if TYPE_CHECKING:
    from subgraph.library.knowledge import Library
    from subgraph.models.lifts import LiftRatio


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


def best_unit(asked: Ask, other: Movement, network: Network) -> tuple[Unit, Equal | None]:
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


LONG_S = 120.0  # one station, at its longest: a piece that takes longer is written in larger numbers


def usual_most(filter_: Filter, ask: Ask, other: Movement, unit: Unit, *, counted: bool = False) -> float | None:
    """The most reps, or seconds of a hold, that a coach would write of a substitute, however long the ask takes.

    Parameters
    ----------
    filter_ : Filter
        Library and situation.
    ask : Ask
        What is on the board.
    other : Movement
        The substitute.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of its amount.
    counted : bool
        Whether to say it even where the trade has a count for the pair.

    Returns
    -------
    float or None
        None where there is none, or where the trade has a count for the pair. An ask beyond its own usual most, or
        one counted otherwise that takes longer than `LONG_S`, raises it in proportion.
    """
    library = filter_.library
    most = _most_of(library, other)
    held = other.character == "isometric" and unit == "s"
    if most is None or not (unit == "rep" or held) or ask.by_the_clock:
        return None
    ends = {node(ask.movement, ask.amount.unit), node(other.id, unit)}
    for ratio in library.ratios_at(ask.movement) if not counted else ():
        if ratio.basis == "practice" and ends == {
            node(ratio.from_, ratio.units[0]),
            node(ratio.to, ratio.units[1]),
        }:
            return None
    asked = library.movements[ask.movement]
    if ask.amount.unit == "rep" or (ask.amount.unit == "s" and asked.character == "isometric"):
        own = _most_of(library, asked)
        return most * max(1.0, ask.amount.value / own) if own else None
    seconds, _ = set_time(asked, ask.amount.value, ask.amount.unit, filter_.today)
    return most * max(1.0, seconds / LONG_S) if seconds else None


ROUNDER = math.log(1.15)  # as far as a coach moves an amount to the trade's own count (judgement)


def of_the_trade(library: Library, ask: Ask, other: Movement, unit: Unit, equal: Equal) -> float:
    """Units per unit asked as a coach counts them: the trade's own count where it is near, else as computed.

    Parameters
    ----------
    library : Library
        Records.
    ask : Ask
        What is on the board.
    other : Movement
        The substitute.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of its amount.
    equal : Equal
        As computed from all the evidence.

    Returns
    -------
    float
        A rule of the trade for just this pair ("two for one"), where it lies inside the interval and no further than
        `ROUNDER` away; the nearest where there are several.
    """
    start, end = node(ask.movement, ask.amount.unit), node(other.id, unit)
    counts = []
    for rule in library.ratios_at(ask.movement):
        if rule.basis != "practice":
            continue
        here, there = node(rule.from_, rule.units[0]), node(rule.to, rule.units[1])
        if (here, there) in ((start, end), (end, start)):
            counts.append(rule.ratio if here == start else 1 / rule.ratio)
    near = [c for c in counts if equal.low <= c <= equal.high and abs(math.log(c / equal.value)) <= ROUNDER]
    return min(near, key=lambda c: (abs(math.log(c / equal.value)), c)) if near else equal.value


def _most_of(library: Library, movement: Movement) -> int | None:
    slowing = library.slowing.get(movement.character)
    return None if slowing is None else slowing.most_loaded if movement.load else slowing.most


def round_out(value: float) -> float:
    """Round an end of an interval to what can be read at a glance."""
    if value < 20:
        return float(round(value))
    step = 5 if value < 200 else 25 if value < 1000 else 100
    return float(step * round(value / step))


class Much(Struct, frozen=True):
    """How much of a substitute equals one unit of what was asked, and with what load.

    Parameters
    ----------
    unit : {'rep', 's', 'm', 'cal'}
        Unit of the substitute.
    equal : Equal
        Units of it per unit asked.
    load_kg : float or None
        Load where the ask had one [kg]; each of a pair where the record says so.
    judged : bool
        Whether it is beyond what evidence or model hold for.
    note : str
        What the coach should know of it; may be empty.
    maxima : LiftRatio or None
        The ratio of maxima that the load rests on, where it decides.
    """

    unit: Unit
    equal: Equal
    load_kg: float | None = None
    judged: bool = False
    note: str = ""
    maxima: LiftRatio | None = None


def how_much(filter_: Filter, ask: Ask, other: Movement, network: Network, equaliser: Equaliser) -> Much:
    """Units of a substitute that equal one unit asked, with the load that goes with them.

    Parameters
    ----------
    filter_ : Filter
        Library and situation.
    ask : Ask
        What is on the board.
    other : Movement
        The substitute.
    network : Network
        Of the equaliser.
    equaliser : {'effort', 'energy', 'time'}
        What is held equal.

    Returns
    -------
    Much
        From the network. Where no evidence joins the two: equal time under work at the member's paces, each pace as
        uncertain as in the network.
    """
    asked = filter_.library.movements[ask.movement]
    unit, equal = best_unit(ask, other, network)
    if equal is None:
        equal = equal_time(ask, asked, other, filter_.today, equaliser)
        note = NO_EVIDENCE if equal else NO_PACE
        return Much(other.unit, equal or UNKNOWN, _load(filter_, ask, asked, other), True, note)
    equal = in_sets(filter_, ask, other, unit, equal, network, equaliser)
    if ask.load_kg is None or asked.load is None or other.load is None or unit != "rep" or ask.amount.unit != "rep":
        return Much(unit, equal, _load(filter_, ask, asked, other))
    return with_load(filter_, ask, asked, other, equal, equaliser)


NO_EVIDENCE = "no evidence joins the two: equal time under work, judge the first set"
NO_PACE = "no evidence and no pace joins the two: one for one, judge the first set"
UNKNOWN = Equal(1.0, math.log(4) / Z_80)  # one for one, fourfold either way


def equal_time(ask: Ask, asked: Movement, other: Movement, today: Today, equaliser: Equaliser) -> Equal | None:
    """Units of the substitute that take as long as one unit asked, at the member's paces.

    Parameters
    ----------
    ask, asked, other, today, equaliser
        As for `how_much`; `today` gives the level.

    Returns
    -------
    Equal or None
        As uncertain as two paces are in the network; None where a pace is missing.
    """
    paces = []
    for movement, unit in ((asked, ask.amount.unit), (other, other.unit)):
        pace = movement.pace(unit, today.level or "regular")
        paces.append(pace if pace is not None else movement.pace(unit))
    one, many = paces
    return None if one is None or many is None else Equal(one / many, math.sqrt(2) * TIME_SIGMA[equaliser])


def in_sets(
    filter_: Filter, ask: Ask, other: Movement, unit: Unit, equal: Equal, network: Network, equaliser: Equaliser
) -> Equal:
    """Hold the time of whole sets equal, with fatigue and rests, where a ratio rests on paces.

    Parameters
    ----------
    filter_, ask, other, network, equaliser
        As for `how_much`.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of the substitute.
    equal : Equal
        Ratio of the network, which knows one pace per movement whatever the amount.

    Returns
    -------
    Equal
        For the amount asked: each of the two paces is replaced by that of a set of the size it comes to. So it
        depends on the amount, and there and back still multiply to 1.
    """
    asked = filter_.library.movements[ask.movement]
    start, end = node(ask.movement, ask.amount.unit), node(other.id, unit)
    if start not in network.index or end not in network.index:  # by the clock: seconds for seconds
        return equal
    leaves, arrives = on_paces(network, start, end, TIME_SIGMA[equaliser])
    amount = ask.amount.value

    def log_of(movement: Movement, of: Unit, share: float, log_amount: float) -> float:
        return log_amount + share * math.log(slowing(filter_, movement, of, math.exp(log_amount)))

    target = math.log(equal.value) + log_of(asked, ask.amount.unit, leaves, math.log(amount))
    low, high = target - _SLOWEST, target + _SLOWEST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if log_of(other, unit, arrives, middle) < target:
            low = middle
        else:
            high = middle
    return Equal(math.exp((low + high) / 2) / amount, equal.sigma)


_SLOWEST = math.log(20)  # no set is so much slower or quicker per unit than its movement's pace
_HALVINGS = 40


def slowing(filter_: Filter, movement: Movement, unit: Unit, amount: float) -> float:
    """Time of a set, rests included, by that at the pace of the record.

    Parameters
    ----------
    filter_ : Filter
        Library and situation; the member's level decides the pace and the largest set.
    movement : Movement
        Record with paces.
    unit : {'rep', 's', 'm', 'cal'}
        Unit.
    amount : float
        In `unit`.

    Returns
    -------
    float
        Below 1 for a short fresh set, 1 over a long one, above where rests make it longer; 1 for seconds.
    """
    from subgraph.models.pace import LARGEST_SET, seconds_of_set

    level = filter_.today.level or "regular"
    long_s, rule = movement.pace(unit, level), filter_.library.slowing.get(movement.character)
    if unit == "s" or long_s is None or rule is None:
        return 1.0
    largest = LARGEST_SET[level] if rule.in_sets and unit == "rep" else None
    return seconds_of_set(amount, long_s * rule.fresh, long_s, largest=largest) / (amount * long_s)


# Loads closer than this (as logs) can't be told apart: what people differ in their ratio of one lift to another
# (`models.lifts.MEASURED_SIGMA`, from Ebben 2008).
LOAD_SIGMA = 0.13


def with_load(filter_: Filter, ask: Ask, asked: Movement, other: Movement, equal: Equal, equaliser: Equaliser) -> Much:
    """Convert load and reps together, where both movements are loaded.

    Parameters
    ----------
    filter_, ask, asked, other, equaliser
        As for `how_much`.
    equal : Equal
        Reps per rep asked at the usual loads of both records.

    Returns
    -------
    Much
        Load rounded to what the rack holds, and reps moved by what the rounding or the implement leaves out.

    Notes
    -----
    The network's ratios hold at the usual loads of the records, so an equal load is the same share of the usual one,
    but no more than the ratio of maxima gives with the same implement: what is usual for one lift may be there to be
    heavy, for the other to be quick. Who complains gets no more of that implement than is written. For equal effort,
    where a ratio of maxima is known for the two lifts, that decides instead: at that load a rep is worth a rep, and
    the note gives the band of the load.

    A load within `LOAD_SIGMA` of the equal one changes nothing; beyond, what is left of the difference in quadrature
    counts. For equal effort reps follow the repetition-maximum chart, the set asked taken as near its limit. Outside
    the chart (15 reps) the answer lies between equal work (reps times load kept) and the chart's continuation, and is
    a judgement. For equal time it lies between the same reps and equal work.
    """
    load_kg, usual, usual_other = ask.load_kg, asked.load, other.load
    assert load_kg is not None
    assert usual is not None
    assert usual_other is not None
    hands = [2 if held_as_pair(m) else 1 for m in (asked, other)]
    wanted = load_kg / usual.kg[0] * usual_other.kg[0]
    maxima = _maxima(asked, other)
    of_maxima = maxima.ratio * load_kg * hands[0] / hands[1] if maxima else wanted
    if equaliser != "effort":
        wanted = _as_usual(filter_, ask, asked, other)
        given = on_hand_kg(filter_, other, wanted)
        off = told_apart(wanted / given)
        if off:
            shifted = Equal(equal.value * math.exp(off / 2), math.hypot(equal.sigma, abs(off) / 2 / Z_80))
            judged = abs(off) > _FAR
            return Much("rep", shifted, given, judged, _load_words(given, wanted, hands[1], judged))
        off = abs(math.log(of_maxima / given))
        if off <= _FAR:
            return Much("rep", equal, given)
        note = f"as usual on a board; of equal effort would be about {_kg(of_maxima, hands[1])}"
        return Much("rep", Equal(equal.value, math.hypot(equal.sigma, off / 2 / Z_80)), given, False, note)
    given = on_hand_kg(filter_, other, of_maxima)
    if maxima:
        equal = Equal(1.0, equal.sigma)
    off = told_apart(of_maxima / given)
    if not off:
        if not maxima:
            return Much("rep", equal, given)
        low, high = (of_maxima * end / maxima.ratio for end in maxima.band)
        band = f"{_kg(low, hands[1]).removesuffix(' kg')} to {_kg(high, 1)}"
        return Much("rep", equal, given, False, f"equal effort is {band}: adjust the load, not the reps", maxima)
    light = math.exp(off)
    sides = 1 if other.sides == "both" else 2
    reps = max(1.0, ask.amount.value * equal.value / sides)
    more, still_more = (reps_at_load(reps, light * math.exp(s)) for s in (0.0, LOAD_SIGMA))
    if more is None or still_more is None:  # heavier than one repetition of it by the chart
        shifted = Equal(equal.value * light, math.hypot(equal.sigma, TOO_HEAVY_SIGMA))
        return Much("rep", shifted, given, True, _load_words(given, of_maxima, hands[1], True), maxima)
    factor = more / reps
    judged = max(reps, more) > CHART_END
    if judged:
        between = abs(math.log(factor / light)) / 2
        shifted = Equal(equal.value * math.sqrt(factor * light), math.hypot(equal.sigma, between / Z_80))
    else:
        shifted = Equal(equal.value * factor, math.hypot(equal.sigma, math.log(still_more / more)))
    return Much("rep", shifted, given, judged, _load_words(given, of_maxima, hands[1], judged), maxima)


CHART_END = 15.0  # repetitions to which the chart of `models.load` reaches
TOO_HEAVY_SIGMA = 0.5  # by judgement: a load beyond the maximum that the set asked points to
_FAR = math.log(1.5)  # a load so far off makes the amount a starting amount


def told_apart(light: float) -> float:
    """Log of how many times too light a load is, less in quadrature what people differ by; 0 within that."""
    off = math.log(light)
    return math.copysign(math.sqrt(max(0.0, off**2 - LOAD_SIGMA**2)), off)


def reps_at_load(reps: float, light: float) -> float | None:
    """Reps of equal effort with a load so many times too light, by the chart and beyond; None where it is too heavy."""
    from subgraph.models.load import reps_at_share, share_of_max

    share = share_of_max(reps, extrapolate=True) / light
    return reps_at_share(share, extrapolate=True) if share <= 1 else None


def _maxima(asked: Movement, other: Movement) -> LiftRatio | None:
    """Ratio of the maxima of two lifts, where it is known."""
    from subgraph.errors import UnknownNameError
    from subgraph.models.lifts import lift_ratio

    try:
        return lift_ratio(asked.id, other.id)
    except UnknownNameError:
        return None


def _kg(load_kg: float, hands: int) -> str:
    return f"{'2 x ' if hands == 2 else ''}{number(round(load_kg, 1) if load_kg < 10 else round(load_kg))} kg"


def _load_words(given: float, wanted: float, hands: int, judged: bool) -> str:
    off = math.log(wanted / given)
    much = "much " if abs(off) > _FAR else ""
    than = (
        f"{much}{'lighter' if off > 0 else 'heavier'} than asked ({_kg(given, hands)} for about {_kg(wanted, hands)})"
    )
    if judged:
        return f"{than}: a starting amount, judge the first set"
    return f"{than}: {'more' if off > 0 else 'fewer'} reps for it"


def held_as_pair(movement: Movement) -> bool:
    """Whether its load is that of each of two implements."""
    return bool(movement.load and movement.load.per_hand) and any(
        "2 " in choice for need in movement.uses for choice in ([need] if isinstance(need, str) else need)
    )


def _load(filter_: Filter, ask: Ask, asked: Movement, other: Movement) -> float | None:
    if ask.load_kg is None or asked.load is None or other.load is None:
        return None
    return on_hand_kg(filter_, other, _as_usual(filter_, ask, asked, other))


def _as_usual(filter_: Filter, ask: Ask, asked: Movement, other: Movement) -> float:
    """The same share of the usual load [kg].

    Of the same implement no more than the ratio of maxima has, and for who complains no more than is written.
    """
    load_kg, usual, usual_other = ask.load_kg, asked.load, other.load
    assert load_kg is not None
    assert usual is not None
    assert usual_other is not None
    wanted = load_kg / usual.kg[0] * usual_other.kg[0]
    if usual.implement != usual_other.implement:
        return wanted
    if maxima := _maxima(asked, other):
        one, two = (2 if held_as_pair(m) else 1 for m in (asked, other))
        wanted = min(wanted, maxima.ratio * load_kg * one / two)
    return min(wanted, load_kg) if filter_.today.complaints else wanted
