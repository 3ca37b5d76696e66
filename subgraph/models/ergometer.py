"""What the screens of ergometers show: power, pace and calories, and the metres that stand for equal power.

The two formulas of the screen are from memory, not looked up: power ``P = 2.80 v^3`` on a rower, and calories per hour
``300 + 4 P`` with P in kcal/h (a quarter efficiency, plus 300). The trade's own tables agree with them (see the tests).
"""

from __future__ import annotations

import math
from typing import Literal

from subgraph.errors import RangeError

__all__ = ["MACHINES", "Machine", "calories_per_h", "pace_s_per_m", "power_of_calories_w", "power_shown_w"]

Machine = Literal["row", "ski", "bike-ergometer", "air-bike"]

W_S3_PER_M3 = 2.80
MONITOR_BASE_KCAL_PER_H = 300.0
MONITOR_KCAL_PER_H_PER_W = 4 * 3600 / 4184

# At equal power, per metre and per calorie of the rower. Bike ergometer: twice the metres (the scale of its screen from
# memory; also the trade's rule for equal effort, 6 pages). Air bike: 2.1 times the metres (two equal-power trials and a
# table, spread 2.0 to 2.4) and 0.75 of the calories (3 pages; 0.5 in one equal-power trial, 1.0 in sprints). Ski
# ergometer: same screen.
MACHINES: dict[Machine, tuple[float, float]] = {
    "row": (1.0, 1.0),
    "ski": (1.0, 1.0),
    "bike-ergometer": (2.0, 1.0),
    "air-bike": (2.1, 0.75),
}


def power_shown_w(machine: Machine, pace_s_per_m: float) -> float:
    """Power that an ergometer shows at a pace.

    Parameters
    ----------
    machine : {'row', 'ski', 'bike-ergometer', 'air-bike'}
        Which one [-].
    pace_s_per_m : float
        Seconds per metre shown [s/m]; a 2:00 split per 500 m is 0.24.

    Returns
    -------
    float
        Power shown [W].

    Raises
    ------
    RangeError
        If the pace is not positive.

    Notes
    -----
    The constant is from memory. Makes of air bike differ by a fifth (trade row `airbike_make`).

    Examples
    --------
    >>> power_shown_w("row", 120 / 500)
    202.5

    References
    ----------
    Memory (see `W_S3_PER_M3`); equal-power metres are rows `row_cycle_erg` and `row_airbike_m` (`common-practice`).
    """
    RangeError.check("pace", pace_s_per_m, math.ulp(0), math.inf, "s/m")
    return W_S3_PER_M3 / (pace_s_per_m * MACHINES[machine][0]) ** 3


def pace_s_per_m(machine: Machine, power_w: float) -> float:
    """Pace at which an ergometer shows a power; inverse of `power_shown_w`.

    Parameters
    ----------
    machine : {'row', 'ski', 'bike-ergometer', 'air-bike'}
        Which one [-].
    power_w : float
        Power shown [W].

    Returns
    -------
    float
        Seconds per metre shown [s/m].

    Raises
    ------
    RangeError
        If the power is not positive.

    References
    ----------
    As `power_shown_w`.
    """
    RangeError.check("power", power_w, math.ulp(0), math.inf, "W")
    return math.cbrt(W_S3_PER_M3 / power_w) / MACHINES[machine][0]


def calories_per_h(machine: Machine, power_w: float) -> float:
    """Calories per hour that an ergometer shows at a power.

    Parameters
    ----------
    machine : {'row', 'ski', 'bike-ergometer', 'air-bike'}
        Which one [-].
    power_w : float
        Power shown [W], not negative.

    Returns
    -------
    float
        Calories per hour on the screen [kcal/h]; they ignore body mass, and so are not the energy spent.

    Raises
    ------
    RangeError
        If the power is negative.

    Notes
    -----
    The formula is from memory. The air bike's share is the trade's, 0.5 to 1.0 of the rower's.

    Examples
    --------
    >>> calories_per_h("row", 202.5)
    997.0

    References
    ----------
    Memory (see `MONITOR_KCAL_PER_H_PER_W`); row `row_cal_airbike_cal` (`common-practice`).
    """
    RangeError.check("power", power_w, 0, math.inf, "W")
    return (MONITOR_BASE_KCAL_PER_H + MONITOR_KCAL_PER_H_PER_W * power_w) * MACHINES[machine][1]


def power_of_calories_w(machine: Machine, kcal_per_h: float) -> float:
    """Power at which an ergometer shows calories per hour; inverse of `calories_per_h`.

    Parameters
    ----------
    machine : {'row', 'ski', 'bike-ergometer', 'air-bike'}
        Which one [-].
    kcal_per_h : float
        Calories per hour on the screen [kcal/h], at least what it shows for turning the flywheel at all.

    Returns
    -------
    float
        Power shown [W].

    Raises
    ------
    RangeError
        If the screen cannot show so few.

    References
    ----------
    As `calories_per_h`.
    """
    share = MACHINES[machine][1]
    RangeError.check(f"calories of the {machine}", kcal_per_h, MONITOR_BASE_KCAL_PER_H * share, math.inf, "cal/h")
    return max(0.0, kcal_per_h / share - MONITOR_BASE_KCAL_PER_H) / MONITOR_KCAL_PER_H_PER_W
