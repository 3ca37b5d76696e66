"""How long a piece takes, by level: seconds, rounds in the time, or work and rest of each slot.

The pace of a movement slows with all that is done of it in the piece, not only within one set; planned sets, changes
of station, rests and the fade of long pieces come on top (`models.pace`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import LEVELS, Level, Movement, equipment_in
from subgraph.models.load import reps_at_share
from subgraph.models.pace import (
    FADE_FROM_S,
    LARGEST_SET,
    SET_REST_S,
    Band,
    Rest,
    seconds_for,
    seconds_of_piece,
    split_sets,
    transition,
)
from subgraph.notation.board import Item
from subgraph.quantities import clock
from subgraph.workout.laid_out import Piece, Work, stepped

RESET_S = 60.0  # a rest this long lets the pace start afresh (rest of a round, common practice)
MOST_ROUNDS = 200  # of an open ladder or a timed piece


class Slot(Struct, frozen=True):
    """One interval on the clock.

    Parameters
    ----------
    slot : int
        Which, from 1.
    window_s : float
        Its length, or the working part of it [s].
    work : Band
        Time that the work takes [s]; the whole window where it is open.
    open : bool
        Whether something in it is left open.
    """

    slot: int
    window_s: float
    work: Band
    open: bool

    @property
    def name(self) -> str:
        """What a coach calls it."""
        return f"{'minute' if self.window_s == 60 else 'interval'} {self.slot}"


class Clock(Struct, frozen=True, kw_only=True):
    """What a piece comes to at one level.

    Parameters
    ----------
    total : Band
        Time on the clock, rests included [s].
    rounds : tuple of float or None
        Slow, usual and quick number of rounds, where the time is given and the rounds are open.
    reps : int or None
        Reps of the round reached on an open ladder.
    slots : tuple of Slot
        Of a piece on the clock.
    round_s : float
        Usual time of a round [s]; of everything where there are no rounds.
    """

    total: Band
    rounds: tuple[float, float, float] | None = None
    reps: int | None = None
    slots: tuple[Slot, ...] = ()
    round_s: float = 0.0


class Share(Struct, frozen=True):
    """How much of the working time goes to one item (0 to 1), and its usual seconds over the piece."""

    work: Work
    seconds: float
    share: float


class PieceTime(Struct, frozen=True):
    """Time of a piece.

    Parameters
    ----------
    by_level : dict
        Level to `Clock`.
    shares : tuple of Share
        At the regular level.
    said : tuple of str
        What could not be timed, and what was assumed.
    """

    by_level: dict[Level, Clock]
    shares: tuple[Share, ...]
    said: tuple[str, ...]


NOTHING = Band(0, 0, 0)


def believable(seconds: float) -> float:
    """A time to the step that can be believed: five seconds up to two minutes, ten up to ten minutes, then thirty."""
    step = 5 if seconds < 120 else 10 if seconds < 600 else 30
    return step * round(seconds / step)


def time_piece(library: Library, piece: Piece) -> PieceTime:
    """Time of a piece at each level, and what each item contributes.

    Parameters
    ----------
    library : Library
        Records with paces, and the rules of whole pieces.
    piece : Piece
        Laid out.
    """
    by_level = {level: clock_of(library, piece, level) for level in LEVELS}
    said = [f"'{name}' is not known: its time is left out" for name in _unknown(piece)]
    said += [f"{w.movement.name}: no amount, so no time" for w in piece.all_works if _untimed(piece, w)]
    if piece.block.format == "strength" and _built_up(piece):
        if not by_level["regular"].total.typical_s:
            said.append("built up to: how many sets is open, so no time")
    elif (
        piece.block.format == "strength"
        and not piece.block.duration_s
        and any(_rest_s(piece, w) is None for w in piece.works)
    ):
        rest = library.rules["strength-rest"]
        said.append(f"rest between sets assumed: {rest.low:g} to {rest.high:g} s")
    if _own_share(piece) < 1:
        all_do = any(_own_share(piece, w) == 1 for w in piece.works)
        but = "; what is marked as done by each, or in synchro, is whole" if all_do else ""
        part = f"{_own_share(piece):.0%}"
        said.append(f"shared by {piece.block.partners}: the work of each is {part} of what is written{but}")
    if piece.block.in_turn:
        said.append(f"each of {piece.block.partners} does all of it, in turn: the clock holds the work of all")
    share = library.rules["interval-work"].high
    for slot in by_level["regular"].slots:
        if not slot.open and slot.work.typical_s > share * slot.window_s > 0:
            which = f"{slot.name}: " if len(by_level["regular"].slots) > 1 else ""
            takes = clock(slot.work.typical_s)
            said.append(f"{which}usually {takes} of {clock(slot.window_s)} as written: little or no rest is left")
    usual = by_level["regular"].total.typical_s
    if piece.block.time_cap_s and usual > piece.block.time_cap_s:
        said.append("the usual time is beyond the time cap: most will be stopped by it")
    return PieceTime(by_level, shares_of(library, piece, "regular"), tuple(dict.fromkeys(said)))


def clock_of(library: Library, piece: Piece, level: Level) -> Clock:
    """What a piece comes to at a level."""
    timed = {"amrap": _amrap, "emom": _on_the_clock, "intervals": _on_the_clock, "strength": _strength}
    return timed.get(piece.block.format, _for_time)(library, piece, level)


def shares_of(library: Library, piece: Piece, level: Level) -> tuple[Share, ...]:
    """Usual seconds of each item over the piece, and its share of all."""
    seconds = [(w, _usual_s(library, w, amounts, piece, level)) for w, amounts in done(library, piece, level)]
    total = sum(s for _, s in seconds) or 1.0
    return tuple(Share(w, s, s / total) for w, s in seconds)


def done(library: Library, piece: Piece, level: Level, times: float = 1) -> list[tuple[Work, tuple[float, ...]]]:
    """All amounts of each work over the whole piece at a level, set by set, for one member.

    Where rounds are open they are the usual number; where the amount is open it is what fits the time left.
    """
    block = piece.block
    found: list[tuple[Work, tuple[float, ...]]] = []
    rounds: float = piece.rounds
    if block.format in ("amrap", "emom"):
        found_clock = clock_of(library, piece, level)
        if block.format == "emom":
            rounds = piece.rounds / _slots(piece)
        if block.format == "amrap" or found_clock.rounds:
            rounds = (found_clock.rounds[1] if found_clock.rounds else 1) * (block.rounds or 1)
    for work in piece.works:
        share = _own_share(piece, work)
        amounts = work.amounts
        if work.item.role:
            count: float = 1
        elif work.step and amounts:
            amounts = stepped(amounts, work.step, max(1, math.ceil(rounds)))
            count = 1
        elif len(amounts) > 1:
            count = 1
        else:
            count = work.item.sets or rounds
        if not amounts:
            amounts = _open_amount(library, piece, work, level)
        sets = _repeat(amounts, count * times)
        found.append((work, tuple(a * share for a in sets)))
    for inner in piece.inner:  # nothing is done whole in each minute: what stands inside comes after
        found += done(library, inner, level, times * (1 if block.format == "emom" else rounds))
    return found


def band_of(library: Library, work: Work, amounts: Sequence[float], level: Level) -> Band:
    """Time for sets of one movement done within a piece [s], without changes of station.

    Parameters
    ----------
    library : Library
        Rules.
    work : Work
        Movement, unit, load and cap.
    amounts : sequence of float
        Amount of each set [unit].
    level : {'novice', 'regular', 'advanced'}
        Whose pace.

    Returns
    -------
    Band
        Slowed by the sum of all sets; rests where a set is longer than is done unbroken; at most the cap of each set.
    """
    long_s = work.movement.pace(work.unit, level)
    total = sum(amounts)
    if long_s is None or not total:
        return NOTHING
    if work.unit == "s":
        return Band(total, total, total)
    slowing = library.slowing[work.movement.character]
    base = seconds_for(total, long_s * slowing.fresh, long_s)
    band = base
    if slowing.in_sets and work.unit == "rep":
        largest, rest = _largest_set(library, work.movement, work.load_kg, level)
        pauses = sum(len(split_sets(max(1, round(a)), largest)) - 1 for a in amounts)
        low, usual, high = SET_REST_S[rest]
        quick = base.low_s + pauses * low
        typical = max(base.typical_s, base.low_s + pauses * usual, quick)
        band = Band(quick, typical, max(base.high_s, typical + pauses * (high - usual)))
    if work.cap_s is None:
        return band
    most = work.cap_s * len(amounts)
    return Band(min(band.low_s, most), min(band.typical_s, most), min(band.high_s, most))


def _largest_set(library: Library, movement: Movement, load_kg: float | None, level: Level) -> tuple[int, Rest]:
    """Largest set planned [rep], and the rest after it: smaller, with a longer rest, where the load is heavy."""
    usual = LARGEST_SET[level]
    if load_kg is None or movement.load is None:
        return usual, "short"
    share = library.rules["usual-load"].usual * load_kg / movement.load.kg[0]
    fresh = reps_at_share(min(1.0, share), extrapolate=True)
    by_load = max(1, int(fresh / library.rules["fresh-best"].usual))
    return (by_load, "near-failure") if by_load < usual else (usual, "short")


def _change(library: Library, work: Work) -> Band:
    """Time to get to a movement [s]."""
    uses = {item for need in work.movement.uses for item in equipment_in(need)}
    for change in library.changes.values():
        if uses & set(change.uses) or set(work.movement.traits) & set(change.traits):
            return transition(change.id)
    return transition("next-station")


def _changes(library: Library, piece: Piece, rounds: float) -> Band:
    """Changes between the items of all rounds [s]."""
    within = [w for w in piece.works if not w.item.role and w.part == 0]
    once = [w for w in piece.works if w.item.role]
    total = NOTHING
    if len(within) > 1 or piece.inner:
        for work in within:
            total = total + _change(library, work).times(max(1.0, rounds))
    for work in once:
        total = total + _change(library, work)
    return total


def _for_time(library: Library, piece: Piece, level: Level) -> Clock:
    block = piece.block
    total = _sum_of(library, piece, level)
    rests = sum(w.item.rest_s or 0 for w in piece.works) * piece.rounds
    rests += (block.rest_within_s or 0) * max(0, piece.rounds - 1)
    total = _faded(total, level)
    if block.in_turn:
        total = total.times(block.partners or 1)
    if block.rest_per_work and piece.rounds > 1:
        total = total.times(1 + block.rest_per_work * (piece.rounds - 1) / piece.rounds)
    total = total + Band(rests, rests, rests)
    return Clock(total=total, round_s=total.typical_s / max(1, piece.rounds))


def _faded(total: Band, level: Level) -> Band:
    """Slowed as long pieces are: in full from `FADE_FROM_S`, growing towards it from two thirds of it."""
    full = seconds_of_piece([Band(FADE_FROM_S, FADE_FROM_S, FADE_FROM_S)], level=level).times(1 / FADE_FROM_S)
    way = min(1.0, max(0.0, 3 * total.typical_s / FADE_FROM_S - 2))
    return total.times(*(1 + way * (f - 1) for f in (full.low_s, full.typical_s, full.high_s)))


def _sum_of(library: Library, piece: Piece, level: Level, times: float = 1) -> Band:
    """Work and changes of all rounds, without rests [s]."""
    total = _changes(library, piece, piece.rounds * times)
    for work, amounts in done(library, piece, level, times):
        if any(w is work for w in piece.works):
            total = total + _paced(library, piece, work, amounts, level).times(1 / _own_share(piece, work))
    for inner in piece.inner:
        total = total + _sum_of(library, inner, level, times * piece.rounds)
    return total


def _paced(library: Library, piece: Piece, work: Work, amounts: Sequence[float], level: Level) -> Band:
    """Band of all sets; afresh after each long rest."""
    if (piece.block.rest_within_s or 0) < RESET_S and piece.block.format not in ("emom", "intervals", "strength"):
        return band_of(library, work, amounts, level)
    total = NOTHING
    for amount in amounts:
        total = total + band_of(library, work, (amount,), level)
    return total


def _usual_s(library: Library, work: Work, amounts: Sequence[float], piece: Piece, level: Level) -> float:
    return _paced(library, piece, work, amounts, level).typical_s


def _amrap(library: Library, piece: Piece, level: Level) -> Clock:
    block = piece.block
    duration = block.duration_s or 0.0
    left = duration
    for work in piece.works:
        if work.item.role and work.amounts:
            left -= band_of(library, work, work.amounts, level).typical_s
    whole = Band(duration, duration, duration)
    within = [w for w in piece.works if not w.item.role and w.amounts]
    if not duration or left <= 0 or not (within or piece.inner):
        return Clock(total=whole, round_s=duration)
    if block.step:
        return _ladder(library, piece, within, left, whole, level)
    guess = 1.0
    band = NOTHING
    for _ in range(3):  # the pace depends on the rounds done, and the rounds on the pace; it settles at once
        band = _round(library, piece, within, guess, level)
        guess = min(MOST_ROUNDS, max(1.0, left / max(band.typical_s, 1.0)))
    faded = _faded(band.times(left / band.typical_s), level).times(band.typical_s / left)
    rounds = (left / faded.high_s, left / faded.typical_s, left / faded.low_s)
    return Clock(total=whole, rounds=rounds, round_s=faded.typical_s)


def _round(library: Library, piece: Piece, works: Sequence[Work], rounds: float, level: Level) -> Band:
    """One round in the middle of so many [s]."""
    total = _changes(library, piece, 1)
    for work in works:
        amounts = work.amounts if len(work.amounts) == 1 else (sum(work.amounts),)
        own = _repeat(amounts, max(1.0, rounds * _own_share(piece, work)))
        total = total + band_of(library, work, own, level).times(1 / len(own))
    for inner in piece.inner:
        total = total + _sum_of(library, inner, level)
    rest = sum(w.item.rest_s or 0 for w in works)  # that of the piece comes after it
    return total + Band(rest, rest, rest)


def _ladder(library: Library, piece: Piece, works: Sequence[Work], left_s: float, whole: Band, level: Level) -> Clock:
    """Rounds of a ladder that gets longer by a step each time."""
    changes = _changes(library, piece, 1)
    reached: list[float] = []
    for pick in ("high_s", "typical_s", "low_s"):
        used, rounds = 0.0, 0
        while rounds < MOST_ROUNDS:
            takes = getattr(changes, pick)
            for work in works:
                amount = stepped(work.amounts, work.step, rounds + 1)[rounds] if work.step else work.amounts[0]
                # Usually at the long pace: it has been slowed by all the rounds before.
                long_s = (work.movement.pace(work.unit, level) or 0.0) * amount
                takes += long_s if pick == "typical_s" else getattr(band_of(library, work, (amount,), level), pick)
            if used + takes > left_s or takes <= 0:
                reached.append(rounds + (left_s - used) / takes if takes > 0 else rounds)
                break
            used += takes
            rounds += 1
        else:
            reached.append(rounds)
    low, usual, high = sorted(reached)
    climbing = next((w for w in works if w.step), None)
    last = int(stepped(climbing.amounts, climbing.step, max(1, int(usual)))[-1]) if climbing and climbing.step else None
    return Clock(total=whole, rounds=(low, usual, high), reps=last, round_s=left_s / max(usual, 1e-9))


def _slots(piece: Piece) -> int:
    """How many different intervals alternate."""
    if piece.block.format == "intervals":
        return 1 if any(w.amounts for w in piece.works) else max(1, len({id(w.item) for w in piece.works}))
    every = piece.block.every_s or 0.0
    return max((_last_slot(w.item, every) for w in piece.works), default=1)


def _last_slot(item: Item, every_s: float) -> int:
    """The interval of an item, or the last one of rest behind it."""
    return (item.slot or 1) + (round((item.rest_s or 0.0) / every_s) if item.slot and every_s else 0)


def _on_the_clock(library: Library, piece: Piece, level: Level) -> Clock:
    block = piece.block
    slots = _slots(piece)
    by_station = block.format == "intervals" and slots > 1
    window = block.every_s or block.work_s or 0.0
    found = []
    for slot in range(1, slots + 1):
        works = [w for place, w in enumerate(piece.works) if (place + 1 if by_station else w.item.slot or 1) == slot]
        if not works:
            continue
        work, is_open = NOTHING, any(not w.amounts for w in works)
        for place, each in enumerate(works):
            if each.amounts:
                work = work + band_of(library, each, (max(each.amounts),), level)
            if place and each.part == 0:
                work = work + _change(library, each)
        if is_open and window:
            work = Band(*(max(x, window) for x in (work.low_s, work.typical_s, work.high_s)))
        found.append(Slot(slot, window, work, is_open))
    rounds = piece.rounds
    if block.format == "emom" and block.step and block.rounds is None and block.duration_s is None:
        return _until_missed(library, piece, window, tuple(found), level)
    if block.format == "emom":
        if block.rounds is None and block.duration_s and window:
            rounds = round(block.duration_s / window)
        elif block.rounds is None:
            rounds = max([rounds, *(w.item.sets or 1 for w in piece.works)])  # "8 x 2, every 90 s"
        seconds = window * rounds
    else:
        resting = sum(w.item.rest_s or 0.0 for w in piece.works if w.part == 0)
        seconds = ((window + (block.rest_within_s or 0)) * slots + resting) * rounds
    total = Band(seconds, seconds, seconds)
    if block.format == "emom":
        for inner in piece.inner:
            total = total + clock_of(library, inner, level).total
    return Clock(
        total=total,
        slots=tuple(found),
        round_s=max((s.work.typical_s for s in found), default=0.0),
    )


def _until_missed(library: Library, piece: Piece, window_s: float, slots: tuple[Slot, ...], level: Level) -> Clock:
    """A ladder of an interval each, until one is missed."""
    reached: list[int] = []
    for pick in ("high_s", "typical_s", "low_s"):
        rounds = 0
        while rounds < MOST_ROUNDS:
            takes = 0.0
            for work in piece.works:
                amount = stepped(work.amounts, work.step, rounds + 1)[rounds] if work.step else work.amounts[0]
                takes += getattr(band_of(library, work, (amount,), level), pick)
            if takes > window_s or takes <= 0:
                break
            rounds += 1
        reached.append(rounds)
    low, usual, high = reached
    climbing = next((w for w in piece.works if w.step), None)
    last = int(stepped(climbing.amounts, climbing.step, max(1, usual))[-1]) if climbing and climbing.step else None
    return Clock(
        total=Band(low * window_s, usual * window_s, high * window_s),
        rounds=(float(low), float(usual), float(high)),
        reps=last,
        slots=slots,
        round_s=window_s,
    )


def _strength(library: Library, piece: Piece, level: Level) -> Clock:
    heavy = all(w.item.effort == "heavy" for w in piece.works)
    if _built_up(piece) or (heavy and piece.block.duration_s):
        long = (piece.block.duration_s or 0.0) if heavy else 0.0
        return Clock(total=Band(long, long, long))
    assumed = library.rules["strength-rest"]
    total = NOTHING
    for work, amounts in done(library, piece, level):
        total = total + _paced(library, piece, work, amounts, level)
        if work.part:
            continue
        rest = _rest_s(piece, work)
        if rest is None:
            labelled = work.item.label is not None and len(piece.works) > 1
            rests = Band(0, 0, 0) if labelled else Band(assumed.low, assumed.usual, assumed.high)
        else:
            rests = Band(rest, rest, rest)
        total = total + rests.times(max(0, len(amounts) - 1))
    return Clock(total=total, round_s=total.typical_s)


def _built_up(piece: Piece) -> bool:
    """Whether how many sets there are is left open, as in "build to a heavy 3"."""
    return any(w.item.effort == "heavy" and w.item.sets is None and len(w.amounts) <= 1 for w in piece.works)


def _rest_s(piece: Piece, work: Work) -> float | None:
    """Rest between the sets of a lift that the board gives: its own, else that of the piece [s]."""
    return work.item.rest_s if work.item.rest_s is not None else piece.block.rest_within_s


def _own_share(piece: Piece, work: Work | None = None) -> float:
    """Share of the work, or of one item, that one member does: the partners' part where it is split."""
    split = (work.item.split if work else None) or piece.block.split
    if not piece.block.partners or split in ("synchro", "each"):
        return 1.0
    return 1.0 / piece.block.partners


def _open_amount(library: Library, piece: Piece, work: Work, level: Level) -> tuple[float, ...]:
    """What is done of an open item in its window: the time left of it at the movement's long pace."""
    window = piece.block.work_s or piece.block.every_s
    pace = work.movement.pace(work.unit, level)
    if not window or not pace:
        return ()
    by_station = piece.block.format == "intervals" and _slots(piece) > 1
    same = [] if by_station else [w for w in piece.works if (w.item.slot or 1) == (work.item.slot or 1)]
    taken = sum(band_of(library, w, w.amounts[:1], level).typical_s for w in same if w.amounts)
    left = max(0.0, window - taken)
    if piece.block.format == "emom":
        left *= library.rules["interval-work"].usual
    return (left / pace,) if left else ()


def _repeat(amounts: Sequence[float], times: float) -> tuple[float, ...]:
    """Sets done so many times; a part of a round at the end counts in proportion."""
    whole, rest = divmod(times, 1)
    more = tuple(a * rest for a in amounts) if rest > 1e-9 else ()
    return tuple(amounts) * int(whole) + more


def _untimed(piece: Piece, work: Work) -> bool:
    return not work.amounts and piece.block.format not in ("emom", "intervals")


def _unknown(piece: Piece) -> tuple[str, ...]:
    return (*piece.unknown, *(name for inner in piece.inner for name in _unknown(inner)))
