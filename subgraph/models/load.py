"""Load and repetitions: what share of a one-repetition maximum can be lifted how often, and back.

`share_of_max` is the one curve; everything else follows from it. It comes as a chart (the default) or as one of seven
published equations. They agree within a few percent up to ten repetitions and drift apart beyond, so that is where
the equations stop unless told to extrapolate. A set short of failure counts its repetitions in reserve as done.

The share of a lift that moves the body (pull-up, dip, push-up) is of body and external load together.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from subgraph.errors import RangeError
from subgraph.quantities import KG_PER_LB, round_load

__all__ = [
    "CHART",
    "EQUATIONS",
    "Method",
    "load_kg_for_reps",
    "on_the_rack",
    "one_rep_max_band_kg",
    "one_rep_max_kg",
    "reps_at_share",
    "reserve_of_rating",
    "share_of_max",
]

Method = Literal["chart", "epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan"]

# Repetitions and percent of the maximum: the public load chart (`nsca_load_chart`; rows 1 to 10 agree on three pages).
# 15 is from the digest of the same association's handbook (`nsca_essentials`); 11, 13 and 14 are interpolated.
CHART = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 12: 70, 15: 65}
CHART_REPS = (1.0, 15.0)
EQUATION_REPS = (1.0, 10.0)  # advice of Brzycki and of Reynolds 2006


@dataclass(frozen=True, slots=True)
class Equation:
    """A published equation as share of the maximum over repetitions, its inverse, and the asymptote of the share."""

    share: Callable[[float], float]
    reps: Callable[[float], float]
    floor: float = 0.0


# Printed forms, w load and r repetitions to failure, all `seen: secondary`:
# Epley 1985 (`epley_1985`) w (1 + r/30); Brzycki 1993 (`brzycki_1993`) w / (1.0278 - 0.0278 r); Lander 1985
# (`lander_1985`) 100 w / (101.3 - 2.67123 r); Lombardi 1989 (`lombardi_1989`) w r^0.10; Mayhew 1992 (`mayhew_1992`)
# 100 w / (52.2 + 41.9 e^(-0.055 r)); O'Conner 1989 (`oconner_1989`) w (1 + 0.025 r); Wathan 1994 (`wathan_1994`)
# 100 w / (48.8 + 53.8 e^(-0.075 r)).
EQUATIONS: dict[Method, Equation] = {
    "epley": Equation(lambda r: 1 / (1 + r / 30), lambda p: 30 * (1 / p - 1)),
    "brzycki": Equation(lambda r: 1.0278 - 0.0278 * r, lambda p: (1.0278 - p) / 0.0278),
    "lander": Equation(lambda r: (101.3 - 2.67123 * r) / 100, lambda p: (101.3 - 100 * p) / 2.67123),
    "lombardi": Equation(lambda r: r**-0.10, lambda p: p**-10),
    "mayhew": Equation(
        lambda r: (52.2 + 41.9 * math.exp(-0.055 * r)) / 100,
        lambda p: -math.log((100 * p - 52.2) / 41.9) / 0.055,
        floor=0.522,
    ),
    "oconner": Equation(lambda r: 1 / (1 + 0.025 * r), lambda p: (1 / p - 1) / 0.025),
    "wathan": Equation(
        lambda r: (48.8 + 53.8 * math.exp(-0.075 * r)) / 100,
        lambda p: -math.log((100 * p - 48.8) / 53.8) / 0.075,
        floor=0.488,
    ),
}


def share_of_max(reps: float, *, method: Method = "chart", extrapolate: bool = False) -> float:
    """Share of the one-repetition maximum that can be lifted for a number of repetitions to failure.

    Parameters
    ----------
    reps : float
        Repetitions to failure [rep]: 1 to 15 by the chart, 1 to 10 by an equation.
    method : {'chart', 'epley', 'brzycki', 'lander', 'lombardi', 'mayhew', 'oconner', 'wathan'}
        Chart or equation [-].
    extrapolate : bool
        Whether to go beyond the range [-]; the chart then continues as ``1 / (1 + k r)``, joined to its last row.

    Returns
    -------
    float
        Share of the maximum [-], 1 at one repetition.

    Raises
    ------
    RangeError
        If `reps` is outside the range, or so high that the equation has no positive share.

    Notes
    -----
    Several equations do not give 1 at one repetition (Epley 0.97, Mayhew 0.92); between one and two we join them to 1
    by a straight line. Error: other charts differ by 1 to 3 points at 3 to 9 repetitions; the same person differs by
    about one repetition between weeks (`mitter_2022`), people by far more: 6 to 26 repetitions at 70 percent in one
    squat sample (`zourdos_2021`). Leg press and machines allow many more repetitions than any chart (`richens_2014`).

    Examples
    --------
    >>> share_of_max(5), share_of_max(5, method="epley")
    (0.87, 0.857)

    References
    ----------
    Load chart (`nsca_load_chart`, `nsca_essentials`); equations as listed in this module.
    """
    low, high = CHART_REPS if method == "chart" else EQUATION_REPS
    RangeError.check("repetitions", reps, low, high, "reps", extrapolate=extrapolate)
    if reps < 1:
        raise RangeError("repetitions", reps, low, high, "reps")
    if method == "chart":
        return _chart_share(reps)
    equation = EQUATIONS[method]
    if reps < 2:
        return 1 + (reps - 1) * (equation.share(2) - 1)
    share = equation.share(reps)
    if share <= 0:
        raise RangeError(f"repetitions for the {method} equation", reps, low, math.floor(equation.reps(0.0)), "reps")
    return share


def reps_at_share(share: float, *, method: Method = "chart", extrapolate: bool = False) -> float:
    """Repetitions to failure at a share of the maximum; inverse of `share_of_max`.

    Parameters
    ----------
    share : float
        Share of the maximum [-], above 0, up to 1.
    method : {'chart', 'epley', 'brzycki', 'lander', 'lombardi', 'mayhew', 'oconner', 'wathan'}
        Chart or equation [-].
    extrapolate : bool
        Whether to go beyond the range of `share_of_max` [-].

    Returns
    -------
    float
        Repetitions [rep], not rounded.

    Raises
    ------
    RangeError
        If the share belongs to a number of repetitions outside the range.

    Notes
    -----
    At 60 percent the equations lie between 15 and 27 repetitions, or have no answer.

    Examples
    --------
    >>> reps_at_share(0.75), reps_at_share(0.75, method="oconner", extrapolate=True)
    (10.0, 13.33)

    References
    ----------
    As `share_of_max`; rows `work_inverse_reps_at_75`, `work_inverse_reps_at_60`.
    """
    last = CHART_REPS[1] if method == "chart" else EQUATION_REPS[1]
    lowest = share_of_max(last, method=method)
    slack = 1e-9  # a bound must survive the way through a load and back
    if 1 < share <= 1 + slack:
        share = 1.0
    if share < lowest - slack and extrapolate and share > 0:
        if method == "chart":
            return last * (1 / share - 1) / (1 / lowest - 1)
        if share > EQUATIONS[method].floor:
            return EQUATIONS[method].reps(share)
    if not lowest - slack <= share <= 1:
        mend = "pass extrapolate=True to go beyond it" if not extrapolate else ""
        raise RangeError(f"share of the maximum ({method})", share, lowest, 1.0, mend=mend)
    if method == "chart":
        return _chart_reps(max(share, lowest))
    equation = EQUATIONS[method]
    at_two = equation.share(2)
    return equation.reps(share) if share <= at_two else 1 + (1 - share) / (1 - at_two)


def one_rep_max_kg(
    load_kg: float,
    reps: float,
    *,
    reserve_reps: float = 0.0,
    method: Method = "chart",
    extrapolate: bool = False,
) -> float:
    """One-repetition maximum from a set.

    Parameters
    ----------
    load_kg : float
        Load lifted [kg], or any other unit of load.
    reps : float
        Repetitions done [rep].
    reserve_reps : float
        Repetitions left in reserve [rep].
    method : {'chart', 'epley', 'brzycki', 'lander', 'lombardi', 'mayhew', 'oconner', 'wathan'}
        Chart or equation [-].
    extrapolate : bool
        Whether to go beyond the range of `share_of_max` [-].

    Returns
    -------
    float
        Predicted maximum [kg], in the unit of the load.

    Raises
    ------
    RangeError
        As `share_of_max`; or if the load is not positive, or the reserve negative.

    Notes
    -----
    Against measured maxima of 95 kg in the bench press the mean error was near 1 kg, for one person 5 to 7 kg
    (`hutchins_2010`). People guess about one repetition too few in reserve (`halperin_2022`).

    Examples
    --------
    100 kg for ten by Lander, printed 134.07; 100 kg for five with three in reserve by Epley, 126.67:

    >>> one_rep_max_kg(100, 10, method="lander")
    134.07
    >>> one_rep_max_kg(100, 5, reserve_reps=3, method="epley")
    126.67

    References
    ----------
    As `share_of_max`; rows `work_lander_100x10`, `work_rir_epley`.
    """
    check_positive("load", load_kg)
    RangeError.check("repetitions in reserve", reserve_reps, 0, math.inf, "reps")
    return load_kg / share_of_max(reps + reserve_reps, method=method, extrapolate=extrapolate)


def load_kg_for_reps(
    one_rep_max_kg: float,
    reps: float,
    *,
    reserve_reps: float = 0.0,
    method: Method = "chart",
    extrapolate: bool = False,
) -> float:
    """Load for a number of repetitions, from the maximum; inverse of the function `one_rep_max_kg`.

    Parameters
    ----------
    one_rep_max_kg : float
        One-repetition maximum [kg], or any other unit of load.
    reps : float
        Repetitions wanted [rep].
    reserve_reps : float
        Repetitions to leave in reserve [rep].
    method : {'chart', 'epley', 'brzycki', 'lander', 'lombardi', 'mayhew', 'oconner', 'wathan'}
        Chart or equation [-].
    extrapolate : bool
        Whether to go beyond the range of `share_of_max` [-].

    Returns
    -------
    float
        Load [kg], not rounded, in the unit of the maximum.

    Raises
    ------
    RangeError
        As the function `one_rep_max_kg`.

    Examples
    --------
    Eight repetitions with two in reserve: 75 percent.

    >>> load_kg_for_reps(100, 8, reserve_reps=2)
    75.0

    References
    ----------
    As `share_of_max`; row `work_rir_table`.
    """
    check_positive("one-repetition maximum", one_rep_max_kg)
    RangeError.check("repetitions in reserve", reserve_reps, 0, math.inf, "reps")
    return one_rep_max_kg * share_of_max(reps + reserve_reps, method=method, extrapolate=extrapolate)


def one_rep_max_band_kg(load_kg: float, reps: float, *, extrapolate: bool = False) -> tuple[float, float]:
    """Lowest and highest maximum that chart and equations predict from a set to failure.

    Parameters
    ----------
    load_kg : float
        Load lifted [kg].
    reps : float
        Repetitions to failure [rep], 1 to 10.
    extrapolate : bool
        Whether to go beyond the range [-].

    Returns
    -------
    tuple of float
        Lowest and highest prediction [kg]; disagreement of methods, not the scatter of people.

    Raises
    ------
    RangeError
        As `share_of_max`.

    Examples
    --------
    >>> low, high = one_rep_max_band_kg(100, 10)
    >>> round(low), round(high)
    (125, 135)

    References
    ----------
    As `share_of_max`; row `work_spread_at_20reps`.
    """
    methods: tuple[Method, ...] = ("chart", *EQUATIONS)
    predicted = [one_rep_max_kg(load_kg, reps, method=m, extrapolate=extrapolate) for m in methods]
    return min(predicted), max(predicted)


def reserve_of_rating(rating: float) -> float:
    """Repetitions in reserve behind a rating of effort out of ten.

    Parameters
    ----------
    rating : float
        Rating of the set [-], 7 to 10.

    Returns
    -------
    float
        Repetitions in reserve [rep].

    Raises
    ------
    RangeError
        If the rating is outside the part of the scale that counts repetitions.

    Examples
    --------
    >>> reserve_of_rating(8)
    2

    References
    ----------
    Zourdos 2016 (`zourdos_2016`), row `rir_scale`; error within one repetition near failure (`rir_2017`).
    """
    return 10 - RangeError.check("rating of effort", rating, 7, 10)


def on_the_rack(
    load_kg: float, *, unit: Literal["kg", "lb"] = "kg", sizes: tuple[float, ...] = (), step: float | None = None
) -> float:
    """Round a load to what can be picked up, in the unit that the rack is marked in.

    Parameters
    ----------
    load_kg : float
        Wanted load [kg].
    unit : {'kg', 'lb'}
        Unit of the rack [-].
    sizes : tuple of float
        Fixed sizes [`unit`], in any order; empty where plates make any multiple of `step`.
    step : float or None
        Smallest change [`unit`]; 2.5 kg or 5 lb where None (row `in_round_kg`, from memory).

    Returns
    -------
    float
        Load [`unit`].

    Raises
    ------
    RangeError
        If load, size or step is not positive.

    Examples
    --------
    >>> on_the_rack(41.5), on_the_rack(41.5, unit="lb"), on_the_rack(41.5, sizes=(40, 32, 48))
    (42.5, 90.0, 40)

    References
    ----------
    Trade row `in_round_kg` (`common-practice`).
    """
    check_positive("load", load_kg)
    for size in (*sizes, step if step is not None else 1.0):
        check_positive("size", size)
    wanted = load_kg if unit == "kg" else load_kg / KG_PER_LB
    return round_load(wanted, tuple(sorted(sizes)), step or (2.5 if unit == "kg" else 5.0))


def _chart_share(reps: float) -> float:
    rows = list(CHART.items())
    for (r0, p0), (r1, p1) in pairwise(rows):
        if reps <= r1:
            return (p0 + (p1 - p0) * (reps - r0) / (r1 - r0)) / 100
    last_reps, last_percent = rows[-1]
    # Beyond the chart: the form 1 / (1 + k r), with k such that the last row fits (Epley's own k gives 0.667 there).
    return 1 / (1 + (100 / last_percent - 1) * reps / last_reps)


def _chart_reps(share: float) -> float:
    rows = list(CHART.items())
    for (r0, p0), (r1, p1) in pairwise(rows):
        if 100 * share >= p1:
            return r0 + (p0 - 100 * share) / (p0 - p1) * (r1 - r0)
    return float(rows[-1][0])


def check_positive(name: str, value: float) -> None:
    """Raise `RangeError` unless the number is above 0 and finite."""
    if not (value > 0 and math.isfinite(value)):
        raise RangeError(name, value, 0, math.inf, mend="it must be above 0")
