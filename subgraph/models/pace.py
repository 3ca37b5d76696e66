"""Seconds for an amount: fresh pace, how it slows, sets and rests, transitions, and a band instead of a number.

Paces are plain numbers, seconds per unit: *fresh* when reps are linked and nobody is tired, *long* as the mean over a
long set or a whole piece with its own short rests. The trade's figures for both, by level, live with the movements.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from subgraph.errors import RangeError

__all__ = [
    "LARGEST_SET",
    "SET_REST_S",
    "TRANSITION_S",
    "Band",
    "cap_of",
    "seconds_for",
    "seconds_in_sets",
    "seconds_of_hold",
    "seconds_of_piece",
    "seconds_of_set",
    "split_sets",
    "transition",
    "units_in",
]

Level = Literal["novice", "regular", "advanced"]
Rest = Literal["short", "near-failure"]
Transition = Literal["next-station", "across-floor", "ergometer", "rig", "band", "load-change", "run-out", "wheelchair"]

# Where a fresh set ends and a long one begins, in seconds of work at the fresh pace. 30 s: 20 push-ups in 28 to 30 s
# are done fresh (trade row `pace_push_up`). 120 s: the long end of one station (`st_station_min`, 1 to 2 min).
FRESH_S = 30.0
LONG_S = 120.0

# Largest set planned in conditioning, by level: 50 as 10 x 5, 5 x 10, 2 x 25 (`split_50`, from memory).
LARGEST_SET: dict[Level, int] = {"novice": 5, "regular": 10, "advanced": 25}
# Low, typical and high rest between sets [s] (`rest_short`, one page; `rest_medium`, from memory).
SET_REST_S: dict[Rest, tuple[float, float, float]] = {"short": (3, 5, 10), "near-failure": (8, 12, 20)}
# Low, typical and high seconds of a change (`tr_*`; next station and wheelchair on a page each, the rest from memory).
TRANSITION_S: dict[Transition, tuple[float, float, float]] = {
    "next-station": (3, 5, 10),
    "across-floor": (8, 12, 15),
    "ergometer": (8, 12, 20),
    "rig": (5, 8, 12),
    "band": (5, 10, 15),
    "load-change": (30, 45, 90),
    "run-out": (5, 8, 15),
    "wheelchair": (10, 20, 45),
}
# Each third of a piece of 12 minutes and more is slower than the one before by this factor (`fade`, one page;
# `novice_fade`, from memory).
FADE_FROM_S = 12 * 60
FADE: dict[Level, tuple[float, float, float]] = {
    "novice": (1.15, 1.30, 1.60),
    "regular": (1.05, 1.15, 1.30),
    "advanced": (1.05, 1.15, 1.30),
}
CAP = (1.2, 1.25, 1.5)  # times the expected time (`cap_over_expected`, one page)


@dataclass(frozen=True, slots=True)
class Band:
    """A time with its spread.

    Parameters
    ----------
    low_s, typical_s, high_s : float
        Quick, typical and slow time [s] of people at the level, in this order.

    Raises
    ------
    RangeError
        If they are not finite, not negative and in order.

    Examples
    --------
    >>> Band(10, 12, 15) + Band(1, 2, 3)
    Band(low_s=11, typical_s=14, high_s=18)
    """

    low_s: float
    typical_s: float
    high_s: float

    def __post_init__(self) -> None:
        RangeError.check("quick time", self.low_s, 0, math.inf, "s")
        RangeError.check("typical time", self.typical_s, self.low_s, math.inf, "s")
        RangeError.check("slow time", self.high_s, self.typical_s, math.inf, "s")

    def __add__(self, other: Band) -> Band:
        return Band(self.low_s + other.low_s, self.typical_s + other.typical_s, self.high_s + other.high_s)

    def times(self, low: float, typical: float | None = None, high: float | None = None) -> Band:
        """Multiply by one factor [-], or by one for each of the three times."""
        middle = low if typical is None else typical
        return Band(self.low_s * low, self.typical_s * middle, self.high_s * (middle if high is None else high))


def seconds_for(amount: float, fresh_s: float, long_s: float) -> Band:
    """Time for an amount in one go, as people do it: linked while fresh, with short rests when it gets long.

    Parameters
    ----------
    amount : float
        How much [unit], not negative.
    fresh_s : float
        Seconds per unit when fresh [s].
    long_s : float
        Mean seconds per unit over a long set [s], at least `fresh_s`.

    Returns
    -------
    Band
        Low: all fresh. High: all at the long pace. Typical [s]: fresh up to `FRESH_S` of work, the long pace from
        `LONG_S`, between them along a power of the amount, which is straight in the logs.

    Raises
    ------
    RangeError
        If a pace is not positive, the long one below the fresh one, or the amount negative.

    Notes
    -----
    The two thresholds are a choice of ours with a row of the trade behind each, not a fit; most paces of the trade are
    from memory. The width of the band is the honest part.

    Examples
    --------
    100 double-unders at the advanced paces 0.55 and 0.65 s; a page says about 60 s:

    >>> seconds_for(100, 0.55, 0.65)
    Band(low_s=55.0, typical_s=59.2, high_s=65.0)

    References
    ----------
    Trade rows `pace_double_under`, `pace_push_up`, `st_station_min` (`common-practice`).
    """
    _check_paces(fresh_s, long_s)
    RangeError.check("amount", amount, 0, math.inf)
    low_s, high_s = amount * fresh_s, amount * long_s
    return Band(low_s, min(max(low_s, _typical_s(low_s, long_s / fresh_s)), high_s), high_s)


def units_in(seconds: float, fresh_s: float, long_s: float) -> float:
    """Amount done in a time; inverse of the typical time of `seconds_for`.

    Parameters
    ----------
    seconds : float
        Time [s], not negative.
    fresh_s, long_s : float
        Seconds per unit fresh, and over a long set [s].

    Returns
    -------
    float
        Amount [unit], not rounded.

    Raises
    ------
    RangeError
        As `seconds_for`.

    Examples
    --------
    >>> units_in(59.168, 0.55, 0.65)
    100.0

    References
    ----------
    As `seconds_for`.
    """
    _check_paces(fresh_s, long_s)
    RangeError.check("time", seconds, 0, math.inf, "s")
    slowing = long_s / fresh_s
    if seconds <= FRESH_S:
        return seconds / fresh_s
    if seconds >= LONG_S * slowing:
        return seconds / long_s
    power = math.log(slowing) / math.log(LONG_S / FRESH_S)
    return math.exp((math.log(seconds) + power * math.log(FRESH_S)) / (1 + power)) / fresh_s


def seconds_of_set(amount: float, fresh_s: float, long_s: float, *, largest: float | None = None) -> float:
    """Typical time of a set with its rests, without steps: what a set planned by whole sets takes on average.

    Parameters
    ----------
    amount : float
        How much [unit], not negative.
    fresh_s, long_s : float
        Seconds per unit fresh, and over a long set [s].
    largest : float, optional
        Amount done without a rest [unit]; `LARGEST_SET` has reps for each level. None where nobody rests.

    Returns
    -------
    float
        The later of the typical time of `seconds_for`, and fresh work with a short rest for each `largest` beyond the
        first [s]; it rises with the amount. The long pace has rests in it, so that the two are not added.

    Raises
    ------
    RangeError
        As `seconds_for`; or if `largest` is not positive.

    Examples
    --------
    >>> round(seconds_of_set(50, 2, 2.4, largest=10), 1)
    120.0

    References
    ----------
    Trade rows `rest_short`, `split_50` (`common-practice`).
    """
    if largest is None:
        return seconds_for(amount, fresh_s, long_s).typical_s
    RangeError.check("largest set", largest, math.ulp(0), math.inf)
    rests = max(0.0, amount / largest - 1) * SET_REST_S["short"][1]
    return max(seconds_for(amount, fresh_s, long_s).typical_s, amount * fresh_s + rests)


def split_sets(reps: int, largest: int) -> tuple[int, ...]:
    """Split repetitions into the fewest sets of about one size, the larger first.

    Parameters
    ----------
    reps : int
        Repetitions in all [rep], at least 1.
    largest : int
        Largest set [rep], at least 1; `LARGEST_SET` has one for each level.

    Returns
    -------
    tuple of int
        Sets [rep], which add up to `reps`.

    Raises
    ------
    RangeError
        If either is below 1.

    Examples
    --------
    >>> split_sets(21, 11), split_sets(50, LARGEST_SET["regular"])
    ((11, 10), (10, 10, 10, 10, 10))

    References
    ----------
    Trade rows `split_21`, `split_50`, `split_100` (`common-practice`, from memory).
    """
    RangeError.check("repetitions", reps, 1, math.inf, "reps")
    RangeError.check("largest set", largest, 1, math.inf, "reps")
    sets = -(-reps // largest)
    size, over = divmod(reps, sets)
    return (size + 1,) * over + (size,) * (sets - over)


def seconds_in_sets(
    sets: Sequence[float], fresh_s: float, long_s: float, *, rest: Rest = "short", level: Level = "regular"
) -> Band:
    """Time for planned sets with rests between them.

    Parameters
    ----------
    sets : sequence of float
        Amount of each set [unit].
    fresh_s, long_s : float
        Seconds per unit fresh, and over a long set [s].
    rest : {'short', 'near-failure'}
        Kind of rest between sets [-].
    level : {'novice', 'regular', 'advanced'}
        Whose fade applies to the typical and high time [-] where the work passes `FADE_FROM_S`.

    Returns
    -------
    Band
        Work of each set as in `seconds_for`, plus rests [s]. The high end is the slower of long pace without, and
        typical pace with the longest rests, since the long pace has rests in it.

    Raises
    ------
    RangeError
        As `seconds_for`; or if there is no set.

    Examples
    --------
    21 pull-ups as 11 and 10:

    >>> seconds_in_sets((11, 10), 1.8, 3.0)
    Band(low_s=40.8, typical_s=42.8, high_s=63.0)

    References
    ----------
    Trade rows `rest_short`, `rest_medium` (`common-practice`).
    """
    RangeError.check("number of sets", len(sets), 1, math.inf)
    low, typical, high = SET_REST_S[rest]
    pauses = len(sets) - 1
    work = [seconds_for(amount, fresh_s, long_s) for amount in sets]
    quick = sum(band.low_s for band in work) + pauses * low
    middle = sum(band.typical_s for band in work) + pauses * typical
    slow = max(sum(band.high_s for band in work), sum(band.typical_s for band in work) + pauses * high)
    return _faded(Band(quick, max(quick, middle), max(quick, middle, slow)), level)


def seconds_of_hold(total_s: float, longest_s: float, *, rest: Rest = "near-failure") -> Band:
    """Time on the clock for a held position that is broken up.

    Parameters
    ----------
    total_s : float
        Seconds to hold in all [s].
    longest_s : float
        Longest piece [s]; two thirds of the best hold is usual for strict work (`split_best_set`, one page).
    rest : {'short', 'near-failure'}
        Kind of rest between pieces [-].

    Returns
    -------
    Band
        Holding plus rests [s].

    Raises
    ------
    RangeError
        If a time is not positive.

    Examples
    --------
    A minute of hanging in pieces of 20 s:

    >>> seconds_of_hold(60, 20)
    Band(low_s=76, typical_s=84, high_s=100)

    References
    ----------
    Trade rows `rest_medium`, `split_best_set` (`common-practice`).
    """
    RangeError.check("hold", total_s, math.ulp(0), math.inf, "s")
    RangeError.check("longest piece", longest_s, math.ulp(0), math.inf, "s")
    pauses = math.ceil(total_s / longest_s - 1e-9) - 1
    return Band(*(total_s + pauses * seconds for seconds in SET_REST_S[rest]))


def transition(kind: Transition, times: int = 1) -> Band:
    """Time to get from one thing to the next.

    Parameters
    ----------
    kind : str
        Kind of change, a key of `TRANSITION_S` [-].
    times : int
        How often [-].

    Returns
    -------
    Band
        Time [s].

    Raises
    ------
    RangeError
        If `times` is negative.

    Examples
    --------
    >>> transition("rig", 2)
    Band(low_s=10, typical_s=16, high_s=24)

    References
    ----------
    Trade rows `tr_*` (`common-practice`).
    """
    return Band(*TRANSITION_S[kind]).times(RangeError.check("number of changes", times, 0, math.inf))


def seconds_of_piece(
    items: Sequence[Band], *, rounds: float = 1, change: Transition = "next-station", level: Level = "regular"
) -> Band:
    """Time for a piece: rounds of items with a change between items.

    Parameters
    ----------
    items : sequence of Band
        Time of each item of one round [s].
    rounds : float
        Number of rounds [-], positive.
    change : str
        Kind of change between two items, a key of `TRANSITION_S` [-].
    level : {'novice', 'regular', 'advanced'}
        Whose fade applies to pieces of `FADE_FROM_S` and more [-].

    Returns
    -------
    Band
        Time [s].

    Raises
    ------
    RangeError
        If there is no item, or the number of rounds is not positive.

    Notes
    -----
    Fade: each third slower than the one before, so a piece of twelve minutes and more takes ``(1 + f + f^2) / 3`` of
    its first pace. Below that there is none.

    Examples
    --------
    >>> seconds_of_piece([Band(60, 70, 90), Band(40, 50, 65)], rounds=3)
    Band(low_s=315, typical_s=385, high_s=515)

    References
    ----------
    Trade rows `fade`, `novice_fade`, `tr_next_station` (`common-practice`).
    """
    RangeError.check("number of items", len(items), 1, math.inf)
    RangeError.check("rounds", rounds, math.ulp(0), math.inf)
    total = Band(0, 0, 0)
    for item in items:
        total = total + item
    changes = max(0.0, len(items) * rounds - 1) if len(items) > 1 else 0.0
    return _faded(total.times(rounds) + Band(*TRANSITION_S[change]).times(changes), level)


def cap_of(expected_s: float) -> Band:
    """Time cap for an expected time.

    Parameters
    ----------
    expected_s : float
        Expected time [s], not negative.

    Returns
    -------
    Band
        Tight, usual and generous cap [s]: 1.2, 1.25 and 1.5 times.

    Raises
    ------
    RangeError
        If the time is negative.

    Examples
    --------
    Expected 15 to 20 minutes, capped at 25 by one page:

    >>> cap_of(20 * 60).typical_s / 60
    25.0

    References
    ----------
    Trade row `cap_over_expected` (`common-practice`).
    """
    RangeError.check("expected time", expected_s, 0, math.inf, "s")
    return Band(*(expected_s * factor for factor in CAP))


def _typical_s(fresh_work_s: float, slowing: float) -> float:
    """Time for work that takes `fresh_work_s` at the fresh pace."""
    if fresh_work_s <= FRESH_S:
        return fresh_work_s
    way = min(1.0, math.log(fresh_work_s / FRESH_S) / math.log(LONG_S / FRESH_S))
    return fresh_work_s * math.pow(slowing, way)


def _faded(band: Band, level: Level) -> Band:
    if band.typical_s < FADE_FROM_S:
        return band
    return band.times(*((1 + fade + fade**2) / 3 for fade in FADE[level]))


def _check_paces(fresh_s: float, long_s: float) -> None:
    RangeError.check("fresh pace", fresh_s, math.ulp(0), math.inf, "s")
    RangeError.check("long pace", long_s, fresh_s, math.inf, "s")
