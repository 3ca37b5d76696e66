"""From a ratio to the numbers that a coach would write: schemes, ladders, standards, sides."""

from __future__ import annotations

from itertools import pairwise

from subgraph.quantities import Unit, board_steps, round_to_board


def scaled(numbers: tuple[float, ...], ratio: float, unit: Unit, *, low: float, high: float, even: bool = False) -> tuple[float, ...]:
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
        As many numbers; what fell still falls and what rose still rises, as far as whole numbers allow.

    Examples
    --------
    >>> scaled((21, 15, 9), 2.0, "rep", low=1.5, high=2.5)
    (42, 30, 18)
    >>> scaled((21, 15, 9), 1.43, "rep", low=1.2, high=1.7, even=True)
    (30, 22, 12)
    >>> scaled((12, 9), 25.0, "m", low=20, high=30)
    (300, 225)
    """
    first = tuple(round_to_board(n * ratio, unit, n * low, n * high, even=even) for n in numbers)
    if keeps_order(numbers, first):
        return first
    finest = max(1.0, board_steps(max(numbers) * ratio, unit)[-1]) if unit != "rep" else 1.0
    step = finest + finest % 2 if even else finest
    return tuple(step * max(1, round(n * ratio / step)) for n in numbers)


def keeps_order(before: tuple[float, ...], after: tuple[float, ...]) -> bool:
    """Whether each number rises, falls or stays beside the one before it as it did."""
    return all(
        (b2 > b1) == (a2 > a1) and (b2 < b1) == (a2 < a1)
        for (b1, b2), (a1, a2) in zip(pairwise(before), pairwise(after), strict=True)
    )


def scaled_ladder(first: tuple[float, ...], step: float, ratio: float, *, even: bool) -> tuple[tuple[float, ...], float]:
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
