"""From a ratio to the numbers that a coach would write: schemes, ladders, standards, sides."""

from __future__ import annotations

import math
from itertools import pairwise

from subgraph.quantities import Unit, board_steps, round_to_board

_TENTH = math.log(1.1)
_EIGHTH = math.log(1.125)  # from 20 up, as in `round_to_board`
_NEAR = 0.2  # up to here the board's own numbers are worth more than the exact ones: the class counts together
_SPAN = 0.12  # how far round the wanted numbers a scheme is looked for
_TIMES = (1.0, 2.0, 3.0, 4.0, 0.5, 1.5, 1 / 3, 2 / 3)  # a scheme written again, so many times as large


def scaled(
    numbers: tuple[float, ...], ratio: float, unit: Unit, *, low: float, high: float, even: bool = False
) -> tuple[float, ...]:
    """Each number times a ratio, as on a board, with the order of the numbers kept.

    Parameters
    ----------
    numbers : tuple of float
        As written: a scheme, sets, or one amount for each standard.
    ratio, low, high : float
        Units per unit written, and its interval.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of the result.
    even : bool
        Whether each must be even (one side, then the other).

    Returns
    -------
    tuple of float
        As many numbers; what fell still falls and what rose still rises, as far as whole numbers allow. A scheme of
        equal steps stays one.

    Examples
    --------
    >>> scaled((21, 15, 9), 2.0, "rep", low=1.5, high=2.5)
    (42.0, 30.0, 18.0)
    >>> scaled((21, 15, 9), 1.43, "rep", low=1.2, high=1.7, even=True)
    (28.0, 20.0, 12.0)
    >>> scaled((12, 9), 25.0, "m", low=20, high=30)
    (300, 225)
    """
    wanted = tuple(n * ratio for n in numbers)
    grain = 2 if even else 1
    if unit == "rep" and len(numbers) > 2 and (steady := _steady(numbers, wanted, low, high, grain)):
        return steady
    if len(numbers) > 2 and (again := _again(numbers, ratio, low, high, grain)):
        return again
    first = tuple(round_to_board(w, unit, n * low, n * high, even=even) for n, w in zip(numbers, wanted, strict=True))
    if keeps_order(numbers, first):
        return first
    finest = 1.0 if unit == "rep" else board_steps(max(wanted), unit)[-1]
    step = finest + finest % 2 if even else finest
    return tuple(step * max(1, math.floor(w / step + 0.5)) for w in wanted)


def _steady(
    numbers: tuple[float, ...], wanted: tuple[float, ...], low: float, high: float, grain: int
) -> tuple[float, ...] | None:
    """The roundest scheme of equal steps near the one wanted; None where the numbers have no equal steps."""
    if len({b - a for a, b in pairwise(numbers)}) != 1 or numbers[0] == numbers[1]:
        return None
    best: tuple[float, float, tuple[float, ...]] | None = None
    span = range(-2 - int(_SPAN * max(wanted)), 3 + int(_SPAN * max(wanted)))
    firsts = {grain * round((wanted[0] + k) / grain) for k in span}
    steps = {grain * round(((wanted[-1] - wanted[0]) / (len(wanted) - 1) + k) / grain) for k in span}
    for first in sorted(f for f in firsts if f > 0):
        for step in sorted(s for s in steps if s and (s < 0) == (numbers[1] < numbers[0])):
            series = tuple(float(first + step * k) for k in range(len(wanted)))
            if min(series) <= 0:
                continue
            half = grain / 2  # no number can be nearer than that
            off = [0.0 if abs(s - w) <= half else abs(math.log(s / w)) for s, w in zip(series, wanted, strict=True)]
            error = max(off)
            near = all(o <= (_EIGHTH if w >= 20 else _TENTH) for o, w in zip(off, wanted, strict=True))
            inside = all(low * n - half <= s <= high * n + half for n, s in zip(numbers, series, strict=True))
            if not near or not inside:
                continue
            again = any(all(abs(n * t - s) < 1e-9 for n, s in zip(numbers, series, strict=True)) for t in _TIMES)
            entry = (-float(sum(_roundness(s) for s in series)) - again * len(series), error, series)
            best = entry if best is None else min(best, entry)
    return best[2] if best else None


def _again(numbers: tuple[float, ...], ratio: float, low: float, high: float, grain: int) -> tuple[float, ...] | None:
    """The scheme itself so many times as large, whole, inside the interval and nearest to the ratio; None otherwise."""
    fitting = [
        times
        for times in _TIMES
        if low <= times <= high and all(abs(n * times / grain - round(n * times / grain)) < 1e-9 for n in numbers)
    ]
    if not fitting:
        return None
    times = min(fitting, key=lambda t: abs(math.log(t / ratio)))
    return tuple(float(round(n * times)) for n in numbers)


def _roundness(value: float) -> int:
    """How readily a coach writes a number: tens before fives before even ones."""
    return 3 if value % 10 == 0 else 2 if value % 5 == 0 else 1 if value % 2 == 0 else 0


def may_stay(numbers: tuple[float, ...], ratio: float, *, low: float, high: float, even: bool) -> bool:
    """Whether the board's own numbers will do: the ratio is near one, and one lies inside its interval."""
    return abs(math.log(ratio)) <= _NEAR and low <= 1 <= high and not (even and any(n % 2 for n in numbers))


def keeps_order(before: tuple[float, ...], after: tuple[float, ...]) -> bool:
    """Whether each number rises, falls or stays beside the one before it as it did."""
    return all(
        (b2 > b1) == (a2 > a1) and (b2 < b1) == (a2 < a1)
        for (b1, b2), (a1, a2) in zip(pairwise(before), pairwise(after), strict=True)
    )


def scaled_ladder(
    first: tuple[float, ...], step: float, ratio: float, *, even: bool
) -> tuple[tuple[float, ...], float]:
    """An open ladder times a ratio: its written rounds, and the step; both whole, the rounds one step apart.

    Examples
    --------
    >>> scaled_ladder((2, 4, 6), 2, 1.6, even=False)
    ((3, 6, 9), 3)
    """
    least = 2 if even else 1
    new_step = max(least, least * round(step * ratio / least))
    start = max(least, least * round(first[0] * ratio / least))
    if first[0] == step:  # a ladder that starts at its own step still does
        start = new_step
    return tuple(start + new_step * k for k in range(len(first))), new_step
