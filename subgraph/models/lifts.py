"""From one lift or implement to another: measured ratios of maxima, regressions, and the trade's rules of thumb.

`LIFT_RATIOS` is the table; a ratio is the load of `to` over the load of `from_` at equal relative effort. Loads of
pairs are summed over both hands. Nothing is chained here: a network of ratios does that better, with an interval.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from subgraph.errors import RangeError, UnknownNameError
from subgraph.models.load import Method, check_positive, reps_at_share, share_of_max
from subgraph.quantities import KG_PER_LB

__all__ = [
    "BAND_PULL_KG",
    "LIFT_RATIOS",
    "REGRESSIONS",
    "LiftRatio",
    "Regression",
    "convert_load_kg",
    "convert_reps",
    "lift_ratio",
    "load_by_regression_kg",
]

Basis = Literal["measured", "textbook", "practice"]
BASES: tuple[Basis, ...] = ("measured", "textbook", "practice")  # first is best, where two rows disagree
Seen = Literal["primary", "secondary", "memory"]

# Where a paper prints no spread of a ratio between people: log standard deviation 0.13, from the standard error of
# 12.5 kg in a deadlift of 98 kg predicted from the squat (`ebben_2008`); upper-body errors are 6.5 to 8.5 percent.
MEASURED_SIGMA = 0.13
Z_90 = 1.645


@dataclass(frozen=True, slots=True)
class LiftRatio:
    """Load of one lift or implement over another at equal relative effort.

    Parameters
    ----------
    from_, to : str
        Lifts or implements.
    ratio : float
        Load of `to` over load of `from_` [-].
    low, high : float
        Nine tenths of people or coaches [-]; 0 where the source prints none.
    basis : {'measured', 'textbook', 'practice'}
        How it came to be.
    source : str
        Id of the evidence, or of the row of the trade's evidence.
    seen : {'primary', 'secondary', 'memory'}
        Whether the figure was read.
    pages : int
        Independent pages, for the trade's rules.
    """

    from_: str
    to: str
    ratio: float
    low: float
    high: float
    basis: Basis
    source: str
    seen: Seen
    pages: int = 0

    @property
    def band(self) -> tuple[float, float]:
        """Nine tenths of people or coaches [-], from `MEASURED_SIGMA` where the source prints none."""
        if self.low > 0:
            return self.low, self.high
        wide = math.exp(Z_90 * MEASURED_SIGMA)
        return self.ratio / wide, self.ratio * wide


LIFT_RATIOS: tuple[LiftRatio, ...] = (
    # between implements; pairs summed
    LiftRatio("bench-press", "dumbbell-bench-press", 0.83, 0, 0, "measured", "saeterbakken_2011", "primary"),
    LiftRatio("smith-bench-press", "dumbbell-bench-press", 0.86, 0, 0, "measured", "saeterbakken_2011", "primary"),
    LiftRatio("smith-bench-press", "bench-press", 1.03, 0, 0, "measured", "saeterbakken_2011", "primary"),
    LiftRatio("press", "dumbbell-press", 0.93, 0, 0, "measured", "saeterbakken_2013", "primary"),
    LiftRatio("seated-dumbbell-press", "dumbbell-press", 0.90, 0, 0, "measured", "saeterbakken_2013", "primary"),
    LiftRatio("barbell", "dumbbell-pair", 0.73, 0.60, 0.80, "practice", "lr_bar_db_total", "secondary", 3),
    LiftRatio("barbell", "dumbbell-of-pair", 0.36, 0.33, 0.52, "practice", "lr_bar_db_each", "secondary", 2),
    LiftRatio("barbell", "kettlebell-pair", 0.75, 0.65, 0.85, "practice", "lr_bar_kb_total", "memory"),
    LiftRatio("barbell", "one-dumbbell", 0.45, 0.35, 0.55, "practice", "lr_bar_singledb", "memory"),
    # written loads of sandbag over clean: 45/61 for men, 30/43 for women
    LiftRatio("clean", "sandbag-clean", 0.72, 30 / 43, 45 / 61, "practice", "ld_sand, ld_cj_mod", "memory"),
    LiftRatio("deadlift", "dumbbell-deadlift", 0.60, 0.45, 0.80, "practice", "lr_dl_db", "memory"),
    LiftRatio("deadlift", "hex-bar-deadlift", 194 / 183, 0, 0, "measured", "lake_2017", "primary"),
    LiftRatio("back-squat", "goblet-squat", 0.40, 0.30, 0.50, "practice", "lr_bs_goblet", "memory"),
    LiftRatio("deadlift", "swing", 0.20, 0.15, 0.25, "practice", "lr_dl_swing", "memory"),
    LiftRatio("overhead-swing", "swing", 1.33, 1.0, 1.5, "practice", "lr_swing_chest", "secondary", 1),
    # between lifts; weightlifters in the clean and snatch rows (printed spans 0.80-0.84, 0.64-0.66 are of means)
    LiftRatio("back-squat", "front-squat", 0.85, 0.80, 0.90, "textbook", "lr_bs_fs", "memory"),
    LiftRatio("back-squat", "overhead-squat", 0.60, 0.40, 0.75, "practice", "lr_bs_ohs", "memory"),
    LiftRatio("front-squat", "overhead-squat", 91 / 125, 0, 0, "measured", "bautista_2020", "primary"),
    LiftRatio("back-squat", "rear-foot-raised-split-squat", 0.50, 0.40, 0.60, "practice", "lr_bs_split", "memory"),
    LiftRatio("back-squat", "clean", 0.82, 0, 0, "measured", "lift_ratio_article", "secondary"),
    LiftRatio("back-squat", "snatch", 0.65, 0, 0, "measured", "lift_ratio_article", "secondary"),
    LiftRatio("back-squat", "clean-and-jerk", 1 / 1.31, 0, 0, "measured", "squat_cj_article", "secondary"),
    LiftRatio("clean", "power-clean", 0.85, 0.80, 0.90, "textbook", "lr_clean_pc", "memory"),
    LiftRatio("snatch", "power-snatch", 0.88, 0, 0, "measured", "czaplicki_2019", "primary"),
    LiftRatio("snatch", "hang-snatch", 0.95, 0, 0, "measured", "czaplicki_2019", "primary"),
    LiftRatio("snatch", "hang-power-snatch", 0.79, 0, 0, "measured", "czaplicki_2019", "primary"),
    LiftRatio("clean", "hang-clean", 0.90, 0.85, 0.95, "textbook", "lr_floor_hang", "memory"),
    LiftRatio("clean-and-jerk", "snatch", 0.80, 0.75, 0.82, "textbook", "lr_clean_snatch", "memory"),
    LiftRatio("split-jerk", "press", 60.2 / 95.7, 0, 0, "measured", "soriano_2021", "primary"),
    LiftRatio("split-jerk", "push-press", 0.88, 0, 0, "textbook", "soriano_interview", "secondary"),
    LiftRatio("split-jerk", "push-jerk", 0.95, 0, 0, "textbook", "soriano_interview", "secondary"),
    LiftRatio("press", "push-press", 1.30, 1.20, 1.40, "textbook", "lr_press_pp", "memory"),
    LiftRatio("push-press", "push-jerk", 1.12, 1.05, 1.25, "practice", "lr_pp_jerk", "memory"),
    LiftRatio("deadlift", "romanian-deadlift", 0.65, 0.55, 0.75, "practice", "lr_dl_rdl", "memory"),
    LiftRatio("deadlift", "good-morning", 0.35, 0.25, 0.45, "practice", "lr_dl_gm", "memory"),
    LiftRatio("bench-press", "push-up-on-hands", 112.4 / 106.4, 0, 0, "measured", "tillaar_2025", "primary"),
    LiftRatio("pull-up-with-body", "pulldown-men", 0.802, 0, 0, "measured", "johnson_2009", "primary"),
    LiftRatio("pull-up-with-body", "pulldown-women", 0.753, 0, 0, "measured", "johnson_2009", "primary"),
)


@dataclass(frozen=True, slots=True)
class Regression:
    """Load of one lift from another by a published line, both at the same repetition maximum.

    Parameters
    ----------
    from_, to : str
        Lifts.
    reps : int
        Repetition maximum of `from_` [rep], and of `to` unless `reps_to` says otherwise.
    slope, intercept_kg : float
        Line [-], [kg].
    source : str
        Id of the evidence.
    see_kg : float
        Standard error of estimate [kg]; 0 where not printed.
    reps_to : int
        Repetition maximum of `to` [rep]; 0 where it is `reps`.
    """

    from_: str
    to: str
    reps: int
    slope: float
    intercept_kg: float
    source: str
    see_kg: float = 0.0
    reps_to: int = 0


REGRESSIONS: tuple[Regression, ...] = (
    Regression("bench-press", "bench-press", 5, 1.1307, 0.6999, "reynolds_2006", 2.98, 1),
    Regression("leg-press", "leg-press", 5, 1.0970, 14.2546, "reynolds_2006", 16.16, 1),
    # 29 active students, bench maximum about 54 kg, error 6.5 to 8.5 percent; one dumbbell or two is not stated
    Regression("bench-press", "hammer-curl", 6, 0.28, 6.30, "wong_2013"),
    Regression("bench-press", "barbell-curl", 6, 0.33, 6.20, "wong_2013"),
    Regression("bench-press", "overhead-triceps-extension", 6, 0.33, -0.60, "wong_2013"),
    Regression("bench-press", "dumbbell-press", 6, 0.42, 5.84, "wong_2013"),
    # 21 college students
    Regression("back-squat", "deadlift", 6, 0.83, 14.92, "ebben_2008", 12.5),
    Regression("back-squat", "lunge", 6, 0.52, 14.82, "ebben_2008", 12.57),
    Regression("back-squat", "step-up", 6, 0.50, 3.32, "ebben_2008", 9.58),
    Regression("back-squat", "leg-extension", 6, 0.48, 9.58, "ebben_2008", 10.26),
    # printed in pounds; men only (`ebben_2010`: not valid for the women tested)
    Regression("back-squat", "stiff-leg-deadlift", 6, 1.17, -94.31 * KG_PER_LB, "ebben_hot_topic"),
    Regression("back-squat", "good-morning", 6, 0.95, -102.98 * KG_PER_LB, "ebben_hot_topic"),
    # 14 elite male karate athletes
    Regression("half-squat", "deadlift", 6, 1.12, -16.60, "wong_2010"),
    Regression("half-squat", "leg-press", 6, 1.66, 16.10, "wong_2010"),
    Regression("half-squat", "lunge", 6, 0.61, 9.39, "wong_2010"),
    Regression("half-squat", "step-up", 6, 0.85, -10.36, "wong_2010"),
    # 60 men, novice and advanced together
    Regression("leg-press-45", "back-squat", 10, 0.354, 2.235, "willardson_bressel_2004"),
)

# Pull of loop bands, narrow to wide, from short to full stretch [kg] (trade row `in_band`, from memory).
BAND_PULL_KG: tuple[tuple[float, float], ...] = ((2, 7), (5, 16), (11, 36), (23, 54), (29, 80))


def lift_ratio(from_: str, to: str) -> LiftRatio:
    """Ratio of the loads of two lifts or implements, in either direction.

    Parameters
    ----------
    from_, to : str
        Lifts or implements of `LIFT_RATIOS` [-].

    Returns
    -------
    LiftRatio
        The row, turned round where the table has the opposite direction; the measured one where several fit.

    Raises
    ------
    UnknownNameError
        If no row joins the two; the nearest are lifts that do have a row with `from_`.

    Examples
    --------
    Dumbbells for a 100 kg bench press: 41.5 kg in each hand.

    >>> lift_ratio("bench-press", "dumbbell-bench-press").ratio * 100 / 2
    41.5

    References
    ----------
    Saeterbakken 2011 (`saeterbakken_2011`) and the sources of each row; row `work_db_from_bb_100`.
    """
    found = [row for row in LIFT_RATIOS if (row.from_, row.to) == (from_, to)]
    found += [
        LiftRatio(
            from_, to, 1 / row.ratio, _inverse(row.high), _inverse(row.low), row.basis, row.source, row.seen, row.pages
        )
        for row in LIFT_RATIOS
        if (row.from_, row.to) == (to, from_)
    ]
    if not found:
        joined = {row.to for row in LIFT_RATIOS if row.from_ == from_}
        joined |= {row.from_ for row in LIFT_RATIOS if row.to == from_}
        raise UnknownNameError(f"no ratio joins {from_!r} and {to!r}", nearest=tuple(sorted(joined)))
    return min(found, key=lambda row: BASES.index(row.basis))


def load_by_regression_kg(from_: str, to: str, load_kg: float) -> float:
    """Load of one lift predicted from another by a published line.

    Parameters
    ----------
    from_, to : str
        Lifts of `REGRESSIONS` [-]; the same lift twice gives its maximum from a five-repetition maximum.
    load_kg : float
        Load of `from_` [kg] at the repetition maximum of the row.

    Returns
    -------
    float
        Load of `to` [kg].

    Raises
    ------
    UnknownNameError
        If no line joins the two.
    RangeError
        If the load is not positive, or so low that the line gives none.

    Notes
    -----
    The samples are small; the lines hold for loads like theirs (squat and bench of students) and are not inverses of
    one another.

    Examples
    --------
    A squat six-repetition maximum of 100 kg: deadlift 97.92.

    >>> load_by_regression_kg("back-squat", "deadlift", 100)
    97.92

    References
    ----------
    Ebben 2008 (`ebben_2008`) and the source of each row; row `work_squat100_to_deadlift`.
    """
    check_positive("load", load_kg)
    for row in REGRESSIONS:
        if (row.from_, row.to) == (from_, to):
            load_to_kg = row.slope * load_kg + row.intercept_kg
            if load_to_kg <= 0:
                raise RangeError(f"load of the {from_}", load_kg, -row.intercept_kg / row.slope, math.inf, "kg")
            return load_to_kg
    nearest = tuple(sorted({row.to for row in REGRESSIONS if row.from_ == from_}))
    raise UnknownNameError(f"no line gives {to!r} from {from_!r}", nearest=nearest)


def convert_load_kg(
    load_kg: float,
    reps: float,
    ratio: float,
    reps_wanted: float | None = None,
    *,
    method: Method = "chart",
    extrapolate: bool = False,
) -> float:
    """Load of another lift at equal relative effort.

    Parameters
    ----------
    load_kg : float
        Load of the lift given [kg].
    reps : float
        Repetitions of a set of it [rep].
    ratio : float
        Maximum of the lift wanted over maximum of the lift given [-]; see `lift_ratio`.
    reps_wanted : float or None
        Repetitions of a set of the lift wanted [rep]; the same number where None.
    method : {'chart', 'epley', 'brzycki', 'lander', 'lombardi', 'mayhew', 'oconner', 'wathan'}
        Chart or equation [-].
    extrapolate : bool
        Whether to go beyond the range of `share_of_max` [-].

    Returns
    -------
    float
        Load [kg], not rounded. At the same number of repetitions it is ``ratio * load_kg``, whatever the method.

    Raises
    ------
    RangeError
        As `share_of_max`; or if load or ratio is not positive.

    Notes
    -----
    Takes the share at given repetitions as equal across lifts. That holds best among free weights at 80 percent and
    above; at 60 percent squats go on longer than presses (`shimano_2006`).

    Examples
    --------
    A 60 kg ten-repetition load as a five-repetition load of the same lift, 69.6:

    >>> convert_load_kg(60, 10, 1.0, 5)
    69.6

    References
    ----------
    As `share_of_max`; row `work_rm_shift_10_to_5`.
    """
    check_positive("load", load_kg)
    check_positive("ratio of maxima", ratio)
    if reps_wanted is None or reps_wanted == reps:
        return load_kg * ratio
    shares = [share_of_max(r, method=method, extrapolate=extrapolate) for r in (reps, reps_wanted)]
    return load_kg * ratio * shares[1] / shares[0]


def convert_reps(
    load_kg: float,
    reps: float,
    ratio: float,
    load_wanted_kg: float,
    *,
    method: Method = "chart",
    extrapolate: bool = False,
) -> float:
    """Repetitions of another lift at equal relative effort, where its load is what the rack has.

    Parameters
    ----------
    load_kg, reps, ratio
        As in `convert_load_kg` [kg, rep, -].
    load_wanted_kg : float
        Load of the lift wanted [kg].
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
        As `reps_at_share`; a load above the predicted maximum has no repetitions.

    Examples
    --------
    >>> convert_reps(60, 10, 1.0, 69.6)
    5.0

    References
    ----------
    As `convert_load_kg`.
    """
    for name, value in (("load", load_kg), ("ratio of maxima", ratio), ("load wanted", load_wanted_kg)):
        check_positive(name, value)
    share = share_of_max(reps, method=method, extrapolate=extrapolate)
    return reps_at_share(share * load_wanted_kg / (load_kg * ratio), method=method, extrapolate=extrapolate)


def _inverse(number: float) -> float:
    return 1 / number if number else 0.0
