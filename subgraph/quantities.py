"""Amounts with units, and rounding to what a coach would write on the board.

Units are `rep`, `s`, `m`, `cal`; loads are in kilograms. Nothing here reads files or knows movements.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

Unit = Literal["rep", "s", "m", "cal"]
UNITS: tuple[Unit, ...] = ("rep", "s", "m", "cal")
_NEARLY_A_POUND = 0.13  # lost where kilograms are kept to a tenth
KG_PER_LB = 0.45359237  # exact by definition (international yard and pound agreement, 1959)
M_PER_FT = 0.3048  # exact, same agreement
M_PER_MI = 1609.344

# The largest amount of each unit that could stand on a board for one item.
MOST: dict[Unit, float] = {"rep": 2000, "s": 4 * 3600, "m": 50_000, "cal": 2000}

_UNIT_NAMES: dict[Unit, tuple[str, str]] = {
    "rep": ("rep", "reps"),
    "s": ("s", "s"),
    "m": ("m", "m"),
    "cal": ("cal", "cal"),
}


class Amount(Struct, frozen=True):
    """A number of reps, seconds, metres or calories.

    Parameters
    ----------
    value : float
        Positive number in `unit`.
    unit : {'rep', 's', 'm', 'cal'}
        Unit; reps are the total over both sides.

    Raises
    ------
    ValueError
        If `value` is not positive and finite.

    Examples
    --------
    >>> str(Amount(400, "m"))
    '400 m'
    >>> str(Amount(1, "rep"))
    '1 rep'
    >>> str(Amount(90, "s"))
    '1:30'
    """

    value: float
    unit: Unit

    def __post_init__(self) -> None:
        if not (math.isfinite(self.value) and self.value > 0):
            raise ValueError(f"an amount must be positive and finite, not {self.value!r}")

    def __str__(self) -> str:
        if self.unit == "s":
            return clock(self.value) if self.value >= 60 else f"{number(self.value)} s"
        one, many = _UNIT_NAMES[self.unit]
        return f"{number(self.value)} {one if self.value == 1 else many}"


def number(value: float) -> str:
    """Write a number without needless decimals.

    Examples
    --------
    >>> number(43.0), number(22.5)
    ('43', '22.5')
    """
    return f"{value:g}" if value < 1e6 else f"{value:.0f}"


def written_in_pounds(loads_kg: Sequence[float]) -> bool:
    """Whether loads [kg] are whole pounds and no loads that anyone would write in kilograms: 43.1 is 95 lb.

    Examples
    --------
    >>> written_in_pounds([43.1, 29.5]), written_in_pounds([42.5, 30]), written_in_pounds([])
    (True, False, False)
    """
    whole = all(abs(kg / KG_PER_LB - round(kg / KG_PER_LB)) < _NEARLY_A_POUND for kg in loads_kg)
    return bool(loads_kg) and whole and any(2 * kg % 1 for kg in loads_kg)


def clock(seconds: float) -> str:
    """Write seconds as minutes and seconds.

    Examples
    --------
    >>> clock(125), clock(45)
    ('2:05', '0:45')
    """
    whole = round(seconds)
    if whole >= 3600:
        return f"{whole // 3600}:{whole % 3600 // 60:02d}:{whole % 60:02d}"
    return f"{whole // 60}:{whole % 60:02d}"


def board_steps(value: float, unit: Unit) -> tuple[float, ...]:
    """Step sizes that a coach would use near `value`, the roundest first.

    Examples
    --------
    >>> board_steps(37, "rep")
    (10, 5, 2, 1)
    >>> board_steps(430, "m")
    (100, 50, 25)
    """
    if unit == "rep":
        if value <= 10:
            return (1,)
        if value < 30:
            return (5, 2, 1)
        return (10, 5, 2, 1) if value < 100 else (50, 25, 10)
    if unit == "cal":
        if value <= 12:
            return (1,)
        return (5, 2, 1) if value < 50 else (10, 5)
    if unit == "m":
        if value < 30:
            return (5, 1)
        if value < 200:
            return (50, 25, 10, 5)
        return (100, 50, 25) if value < 1000 else (500, 200, 100)
    if value < 20:
        return (5, 1)
    return (30, 15, 10, 5) if value < 120 else (60, 30, 15)


def round_to_board(value: float, unit: Unit, low: float, high: float, *, even: bool = False) -> float:
    """Round to the number a coach would write, staying inside the interval.

    The roundest step wins whose nearest multiple lies within a tenth of `value` (an eighth from 20 reps up) and inside
    ``[low, high]``; failing that, the finest step.

    Parameters
    ----------
    value : float
        Amount in `unit`.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of all three numbers.
    low, high : float
        Interval around `value` in `unit`.
    even : bool
        Whether the number must be even (one side, then the other).

    Returns
    -------
    float
        Rounded amount in `unit`, at least one (two where even).

    Examples
    --------
    >>> round_to_board(202.3, "rep", 150, 270)
    200
    >>> round_to_board(17.4, "rep", 12, 25)
    18
    >>> round_to_board(7.2, "rep", 5, 10, even=True)
    8
    """
    steps = board_steps(value, unit)
    if even:
        steps = tuple(dict.fromkeys(s if s % 2 == 0 else s * 2 for s in steps)) or (2,)
    reach = 0.125 if unit == "rep" and value >= 20 else 0.1
    for step in steps:
        near = step * max(1, round(value / step))
        if low <= near <= high and abs(near - value) <= reach * value:
            return near
    step = steps[-1]
    return step * max(1, round(value / step))


def round_load(load_kg: float, sizes_kg: tuple[float, ...], step_kg: float | None) -> float:
    """Round a load to what the rack holds: the nearest size not more than 5 % over, else the next below.

    Parameters
    ----------
    load_kg : float
        Wanted load [kg] of one implement.
    sizes_kg : tuple of float
        Fixed sizes [kg], ascending; empty where plates make any multiple of `step_kg`.
    step_kg : float or None
        Smallest change [kg] where there are no fixed sizes.

    Returns
    -------
    float
        Load [kg] that can be picked up.

    Examples
    --------
    >>> round_load(17.2, (12, 16, 20), None)
    16
    >>> round_load(41.9, (), 2.5)
    42.5
    """
    if sizes_kg:
        fitting = [s for s in sizes_kg if s <= load_kg * 1.05]
        return fitting[-1] if fitting else sizes_kg[0]
    step = step_kg or 1.0
    near = step * round(load_kg / step)
    if near > load_kg * 1.05 and near > step:
        near -= step
    return near
