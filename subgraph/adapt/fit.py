"""The member inside the class's time: first within the ratios, then by load, then by a cap; else the reason is said."""

from __future__ import annotations

import math
from collections.abc import Callable

import msgspec
from msgspec import Struct

from subgraph.adapt.rebuild import Settings, Spot, spot_of
from subgraph.library.knowledge import Library
from subgraph.library.records import Level
from subgraph.quantities import clock
from subgraph.workout.laid_out import Piece
from subgraph.workout.timing import Clock, Slot, band_of, believable, clock_of

STEPS = 24  # tried between the middle of the ratios and their ends
_CAPPED = 1.05  # so much over the window does no harm where each set has a cap of its own
_WORTH_A_CAP_S = 60
_FURTHEST = math.log(8)  # to which all of a slot may be cut
RACK_STEPS = 2  # loads tried below the equal one


class Fit(Struct, frozen=True, kw_only=True):
    """A piece brought into the class's time.

    Parameters
    ----------
    settings : Settings
        How far amounts, loads and caps moved.
    piece : Piece
        As the member does it.
    clock : Clock
        At the member's level, caps counted.
    inside : bool
        Whether it is within the window of the class's usual time; true where there is no clock to keep.
    cap_s : float or None
        Proposed cap of the whole piece [s].
    said : tuple of str
        What was moved, and why the time is not kept where it is not.
    """

    settings: Settings
    piece: Piece
    clock: Clock
    inside: bool
    cap_s: float | None = None
    said: tuple[str, ...] = ()


class Aim(Struct, frozen=True, kw_only=True):
    """What to fit.

    Parameters
    ----------
    written : Piece
        As on the board.
    rebuild : callable
        From settings to the member's piece.
    widest : float
        Largest log half width of the ratios of what changed; 0 where nothing can move.
    loaded : bool
        Whether a changed movement carries a load.
    level : str
        Member's level.
    """

    written: Piece
    rebuild: Callable[[Settings], Piece]
    widest: float
    loaded: bool
    level: Level


def fit(library: Library, aim: Aim) -> Fit:
    """Bring the member's piece into the class's time.

    Parameters
    ----------
    library : Library
        Paces and rules.
    aim : Aim
        The piece and how it can move.

    Returns
    -------
    Fit
        With everything that was moved said.
    """
    form = aim.written.block.format
    if form in ("emom", "intervals"):
        return _by_slot(library, aim)
    piece = aim.rebuild(Settings())
    if form in ("strength", "work"):
        return Fit(settings=Settings(), piece=piece, clock=clock_of(library, piece, aim.level), inside=True)
    return _whole(library, aim)


def _whole(library: Library, aim: Aim) -> Fit:
    window = library.rules["window"]
    target = _measure(clock_of(library, aim.written, "regular"), aim.written)
    settings, said = Settings(), []
    if not target:
        piece = aim.rebuild(settings)
        return Fit(settings=settings, piece=piece, clock=clock_of(library, piece, aim.level), inside=True)

    def off(tried: Settings) -> float:
        piece = aim.rebuild(tried)
        return _measure(clock_of(library, piece, aim.level), piece) / target

    now, most = off(settings), window.high
    if now > window.high:  # the trade's count with the trade's cap, before any number is moved
        tried, _ = _set_caps(library, aim, settings)
        if tried.caps and (then := off(tried)) <= most * _CAPPED:
            settings, now, most = tried, then, most * _CAPPED
    if not window.low <= now <= most and aim.widest > 0:
        sign = -1 if now > window.high else 1
        best = (abs(math.log(max(now, 1e-9))), settings)
        for k in range(1, STEPS + 1):
            tried = Settings(shift=sign * aim.widest * k / STEPS)
            then = off(tried)
            best = min(best, (abs(math.log(max(then, 1e-9))), tried), key=lambda entry: entry[0])
            if window.low <= then <= window.high:
                best = (0.0, tried)
                break
        settings = best[1]
        if settings.shift:
            said.append(f"{'fewer' if sign < 0 else 'more'} of what changed, inside its range, to stay with the class")
        now = off(settings)
    if now > most and aim.loaded:
        for lighter in range(1, RACK_STEPS + 1):
            tried = msgspec.structs.replace(settings, lighter=lighter)
            then = off(tried)
            if then < now - 1e-6:
                settings, now = tried, then
            if now <= window.high:
                break
        if settings.lighter:
            said.append("changed loads a step lighter, to keep moving")
    settings, capped = _set_caps(library, aim, settings)
    said += capped
    now = off(settings) if capped else now
    piece = aim.rebuild(settings)
    found = clock_of(library, piece, aim.level)
    inside = window.low <= now <= most
    cap_s = None
    if now > most:
        cap_s, why = _piece_cap(aim, target * window.high, found)
        said.append(why)
    elif now < window.low:
        top = " at the top of the ranges" if aim.widest > 0 else ""
        said.append(f"quicker than the class{top} (about {now:.0%} of its time): start last, or take a steadier pace")
    return Fit(settings=settings, piece=piece, clock=found, inside=inside, cap_s=cap_s, said=tuple(said))


def _measure(found: Clock, piece: Piece) -> float:
    """What is kept equal: the time of the whole where the work is given, of a round where the time is."""
    return found.round_s if piece.block.format == "amrap" else found.total.typical_s


def _piece_cap(aim: Aim, most_s: float, found: Clock) -> tuple[float | None, str]:
    """A cap for the piece, and why."""
    if aim.written.block.format == "amrap":
        return None, "rounds stay slower than the class's: the clock ends it"
    board = aim.written.block.time_cap_s
    takes = clock(believable(found.total.typical_s))
    if board and found.total.typical_s <= board:
        return None, f"slower than the class, about {takes}, but inside the board's cap of {clock(board)}"
    most_s = 30 * math.floor(most_s / 30)
    if board:
        return None, f"would take about {takes}: the board's cap of {clock(board)} ends it"
    return most_s, f"would take about {takes}: stop at {clock(most_s)} with the class"


def _set_caps(library: Library, aim: Aim, settings: Settings) -> tuple[Settings, list[str]]:
    """The trade's cap on each set that would pass it: usually, or with a slow member where the movement is another.

    What has none has that of the movement it stands in for, from a minute up: 200 singles have the time of 100 doubles.
    """
    caps, said = dict(settings.caps), []
    written = {spot_of(w): w for w in aim.written.all_works}
    for work in aim.rebuild(settings).all_works:
        was = written[spot_of(work)]
        changed = work.movement is not was.movement
        of = was if changed and work.movement.cap is None else work
        cap = of.movement.cap
        if cap is None or not work.amounts or not of.amounts or of.unit != of.movement.unit:
            continue
        most = 5 * max(1, round(cap.seconds * max(of.amounts) / cap.amount / 5))
        if of is was and changed and most < _WORTH_A_CAP_S:
            continue
        takes = band_of(library, work, (max(work.amounts),), aim.level)
        if takes.high_s > 0.99 * most if changed else takes.typical_s > most:
            caps[spot_of(work)] = most
            said.append(f"{work.movement.name}: stop each set at {clock(most)} (the trade's cap)")
    return msgspec.structs.replace(settings, caps=caps), list(dict.fromkeys(said))


def _by_slot(library: Library, aim: Aim) -> Fit:
    """Each slot of a piece on the clock beside the class's, with rest left."""
    window, share = library.rules["window"], library.rules["interval-work"]
    target = {s.slot: s for s in clock_of(library, aim.written, "regular").slots}
    settings, said, inside = Settings(), [], True
    piece = aim.rebuild(settings)
    was = {spot_of(w): w.movement for w in aim.written.all_works}
    changed = {w.item.slot or 1 for w in piece.all_works if was[spot_of(w)] is not w.movement}
    for slot in clock_of(library, piece, aim.level).slots:
        if slot.open or slot.slot not in target or not slot.window_s:
            continue
        if slot.slot not in changed and slot.work == target[slot.slot].work:
            continue  # as the class does it
        most = share.high * slot.window_s
        class_s = target[slot.slot].work.typical_s
        # A slot that is mostly rest need not be filled.
        least = min(window.low * class_s, most) if class_s >= share.low * slot.window_s else 0.0
        upper = min(max(window.high * class_s, share.low * slot.window_s), most)
        before = slot.work.typical_s
        # What stays on the board is cut only for who takes longer than the class, where the class has no rest either.
        own = all((w.item.slot or 1) != slot.slot or was[spot_of(w)] is not w.movement for w in piece.all_works)
        limit = upper if own else max(upper, class_s)
        settings = _slot_shift(library, aim, settings, slot, least, upper, limit)
        now = _slot_now(library, aim, settings, slot.slot)
        which = f"{slot.name}: " if len(target) > 1 else ""
        if most < now <= limit:
            said.append(f"{which}as tight as the class's: usually {clock(now)} of {clock(slot.window_s)}")
            continue
        if now != before:
            how = "cut" if now < before else "raised"
            left = max(0.0, slot.window_s - now)
            said.append(f"{which}{how} to {clock(now)} of work, {clock(left)} rest left")
        if now > most:
            inside = False
            stop_s = max(5.0, 5 * math.floor(most / 5))
            takes, spot = _longest(library, aim, settings, slot.slot)
            if spot is not None:
                left_s = max(5.0, stop_s - (now - takes))
                settings = msgspec.structs.replace(settings, caps={**settings.caps, spot: left_s})
            said.append(f"{which}stop at {clock(stop_s)} of {clock(slot.window_s)}, done or not, so that rest is left")
    piece = aim.rebuild(settings)
    return Fit(
        settings=settings,
        piece=piece,
        clock=clock_of(library, piece, aim.level),
        inside=inside,
        said=tuple(said),
    )


def _slot_now(library: Library, aim: Aim, settings: Settings, slot: int) -> float:
    found = clock_of(library, aim.rebuild(settings), aim.level).slots
    return next((s.work.typical_s for s in found if s.slot == slot), 0.0)


def _slot_shift(
    library: Library, aim: Aim, settings: Settings, slot: Slot, least: float, upper: float, limit: float
) -> Settings:
    """Move a slot until its work lies between two times; nearest where it can't.

    What changed moves first, inside its ratios; where it is still beyond `limit`, all of the slot is cut alike.
    """
    if least <= slot.work.typical_s <= upper:
        return settings
    sign = -1 if slot.work.typical_s > upper else 1
    edge = upper if sign < 0 else least

    def tried(field: str, log: float) -> tuple[Settings, float]:
        moved = {**getattr(settings, field), slot.slot: log}
        new = msgspec.structs.replace(settings, **{field: moved})
        return new, _slot_now(library, aim, new, slot.slot)

    best = (abs(slot.work.typical_s - edge), settings)
    for k in range(1, STEPS + 1):
        new, now = tried("of_slot", sign * aim.widest * k / STEPS)
        if sign > 0 and now > upper:
            break
        if least <= now <= upper:
            return new
        if abs(now - edge) < best[0] - 1e-9:
            best = (abs(now - edge), new)
    settings = best[1]
    if sign > 0 or _slot_now(library, aim, settings, slot.slot) <= limit:
        return settings
    for k in range(1, STEPS + 1):
        new, now = tried("all_of_slot", -_FURTHEST * k / STEPS)
        if now <= limit:
            return new
        if abs(now - edge) < best[0] - 1e-9:
            best = (abs(now - edge), new)
    return best[1]


def _longest(library: Library, aim: Aim, settings: Settings, slot: int) -> tuple[float, Spot | None]:
    """Usual seconds of the longest work of a slot, and where it stands."""
    found: list[tuple[float, Spot]] = []
    for work in aim.rebuild(settings).all_works:
        if (work.item.slot or 1) == slot and work.amounts:
            found.append((band_of(library, work, (max(work.amounts),), aim.level).typical_s, spot_of(work)))
    return max(found, key=lambda entry: entry[0]) if found else (0.0, None)
