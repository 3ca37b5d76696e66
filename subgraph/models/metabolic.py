"""Oxygen uptake of walking, running, stepping and cycling: the ACSM metabolic equations and their inverses.

Uptake is gross (rest included), steady state, in mL of oxygen per kg of body mass per minute. Outside its range of
validity an equation raises `RangeError`; `extrapolate=True` lets any sensible number through.

All equations are those of the American College of Sports Medicine, *Guidelines for Exercise Testing and Prescription*,
10th ed., Table 6.3 (`acsm-getp`), as printed by Bushman 2020 (`bushman2`), a formula sheet (`acsm-sheet`) and teaching
slides (`acsm-slides`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from subgraph.errors import RangeError

__all__ = [
    "BODY_MASS_KG",
    "GAITS",
    "KGM_PER_MIN_PER_W",
    "LIMBS",
    "STEP_HEIGHT_M",
    "STEP_PER_MIN",
    "cycling_power_w",
    "gait_grade",
    "gait_speed_m_per_s",
    "load_carriage_power_w",
    "oxygen_of_cycling",
    "oxygen_of_gait",
    "oxygen_of_stepping",
    "stepping_rate_per_min",
]

Gait = Literal["walk", "run"]
Limbs = Literal["legs", "arms"]

# Exact: 1 kgm/min is 9.80665 J in 60 s. Printed sheets round it to 6.12, some to 6.0 (`conv.watt`).
KGM_PER_MIN_PER_W = 60 / 9.80665
BODY_MASS_KG = (30.0, 250.0)  # our own bounds: wide enough for a class, narrow enough to catch a slip of the unit
REST = 3.5  # mL/kg/min, the term for rest in every equation


@dataclass(frozen=True, slots=True)
class GaitTerms:
    """Terms of a gait: per m/min on the level, per m/min climbed; ranges of speed [m/min] and of grade [-]."""

    level: float
    climb: float
    speed_m_per_min: tuple[float, float]
    grade: tuple[float, float]


@dataclass(frozen=True, slots=True)
class CyclingTerms:
    """Terms of cycling: unloaded [mL/kg/min], per kgm/min and kg; range of power [W]."""

    unloaded: float
    work: float
    power_w: tuple[float, float]


# Ranges: `acsm.walk.valid`, `acsm.run.valid`. The upper end of running is the fastest speed at which the cost of a
# distance was seen not to depend on speed, 22 km/h (`margaria1963`). The sources give no limit of grade: these are the
# steepest worked examples (`ex.walk.08`, `ex.run.04`).
GAITS: dict[Gait, GaitTerms] = {
    "walk": GaitTerms(0.1, 1.8, (50.0, 100.0), (0.0, 0.20)),
    "run": GaitTerms(0.2, 0.9, (80.0, 22_000 / 60), (0.0, 0.10)),
}
LIMBS: dict[Limbs, CyclingTerms] = {
    "legs": CyclingTerms(3.5, 1.8, (50.0, 200.0)),  # `acsm.leg.valid`
    "arms": CyclingTerms(0.0, 3.0, (150 / KGM_PER_MIN_PER_W, 750 / KGM_PER_MIN_PER_W)),  # `acsm.arm.valid`
}
STEP_LEVEL = 0.2  # per step/min
STEP_CLIMB = 1.8 * 1.33  # per m/min climbed: coming down costs a third of going up
STEP_PER_MIN = (12.0, 30.0)
STEP_HEIGHT_M = (0.04, 0.40)


def oxygen_of_gait(gait: Gait, speed_m_per_s: float, grade: float = 0.0, *, extrapolate: bool = False) -> float:
    """Oxygen uptake of walking or running.

    Walking ``3.5 + 0.1 S + 1.8 S G``, running ``3.5 + 0.2 S + 0.9 S G``, with S in m/min.

    Parameters
    ----------
    gait : {'walk', 'run'}
        Which of the two [-].
    speed_m_per_s : float
        Speed [m/s]: walking 0.83 to 1.67 (50 to 100 m/min), running 1.33 to 6.11.
    grade : float
        Rise over run [-]: walking 0 to 0.20, running 0 to 0.10, on a treadmill.
    extrapolate : bool
        Whether to go beyond the ranges [-].

    Returns
    -------
    float
        Gross uptake [mL/kg/min].

    Raises
    ------
    RangeError
        If speed or grade is outside its range.

    Notes
    -----
    Walking holds above 100 m/min only for people who truly walk. Running is meant for 134 m/min and above, usable from
    80 m/min for people who truly run; not for hills outdoors. At 6 mph it gives 10.2 METs where tables print 9.8 and
    9.3 (`x.run6`): up to a tenth high.

    Examples
    --------
    3.5 mph up a 10 percent grade, taken as 93.8 m/min, printed 29.76; 8 mph on the level, printed 46.38:

    >>> oxygen_of_gait("walk", 93.8 / 60, 0.10)
    29.76
    >>> oxygen_of_gait("run", 214.4 / 60)
    46.38

    References
    ----------
    Bushman 2020, part 2 (`bushman2`); ranges `acsm-slides`, `medalg-run`; cases `ex.walk.01`, `ex.run.01`.
    """
    terms = GAITS[gait]
    s = _speed(gait, speed_m_per_s, extrapolate) * 60
    RangeError.check(f"grade of the {gait}", grade, *terms.grade, extrapolate=extrapolate)
    return REST + terms.level * s + terms.climb * s * grade


def gait_speed_m_per_s(
    gait: Gait, oxygen_ml_per_kg_min: float, grade: float = 0.0, *, extrapolate: bool = False
) -> float:
    """Speed of walking or running that takes an uptake; inverse of `oxygen_of_gait`.

    Parameters
    ----------
    gait : {'walk', 'run'}
        Which of the two [-].
    oxygen_ml_per_kg_min : float
        Gross uptake [mL/kg/min].
    grade : float
        Rise over run [-].
    extrapolate : bool
        Whether to go beyond the ranges [-].

    Returns
    -------
    float
        Speed [m/s].

    Raises
    ------
    RangeError
        If the grade, or the speed that comes out, is outside its range.

    Examples
    --------
    Walking at 7 METs on a 10 percent grade, printed 75 m/min; jogging at 8 METs, printed 122.5 m/min:

    >>> gait_speed_m_per_s("walk", 7 * 3.5, 0.10) * 60
    75.0
    >>> gait_speed_m_per_s("run", 8 * 3.5) * 60
    122.5

    References
    ----------
    As `oxygen_of_gait`; cases `ex.walk.13` (`ex-siue`), `ex.run.02` (`ex-jog8`).
    """
    terms = GAITS[gait]
    RangeError.check(f"grade of the {gait}", grade, *terms.grade, extrapolate=extrapolate)
    return _speed(gait, (oxygen_ml_per_kg_min - REST) / (terms.level + terms.climb * grade) / 60, extrapolate)


def gait_grade(gait: Gait, oxygen_ml_per_kg_min: float, speed_m_per_s: float, *, extrapolate: bool = False) -> float:
    """Grade at which walking or running at a speed takes an uptake; inverse of `oxygen_of_gait`.

    Parameters
    ----------
    gait : {'walk', 'run'}
        Which of the two [-].
    oxygen_ml_per_kg_min : float
        Gross uptake [mL/kg/min].
    speed_m_per_s : float
        Speed [m/s].
    extrapolate : bool
        Whether to go beyond the ranges [-].

    Returns
    -------
    float
        Rise over run [-].

    Raises
    ------
    RangeError
        If the speed, or the grade that comes out, is outside its range.

    Examples
    --------
    8 METs at 2.0 mph, printed 20 percent:

    >>> round(100 * gait_grade("walk", 8 * 3.5, 2.0 * 26.8 / 60))
    20

    References
    ----------
    As `oxygen_of_gait`; case `ex.walk.08` (`ex-wwu`).
    """
    terms = GAITS[gait]
    s = _speed(gait, speed_m_per_s, extrapolate) * 60
    grade = (oxygen_ml_per_kg_min - REST - terms.level * s) / (terms.climb * s)
    return RangeError.check(f"grade of the {gait}", grade, *terms.grade, extrapolate=extrapolate)


def oxygen_of_stepping(steps_per_min: float, height_m: float, *, extrapolate: bool = False) -> float:
    """Oxygen uptake of stepping up and down.

    ``VO2 = 3.5 + 0.2 F + 1.33 x 1.8 H F``; one step is the whole cycle up and down.

    Parameters
    ----------
    steps_per_min : float
        Cycles a minute [1/min], 12 to 30.
    height_m : float
        Height of the step [m], 0.04 to 0.40.
    extrapolate : bool
        Whether to go beyond the ranges [-].

    Returns
    -------
    float
        Gross uptake [mL/kg/min].

    Raises
    ------
    RangeError
        If rate or height is outside its range.

    Notes
    -----
    In 55 young adults the mean error was -0.6 and the standard error of estimate 1.7 mL/kg/min (`latin2001`).

    Examples
    --------
    A 0.20 m bench at 27 cycles a minute; printed 21.8:

    >>> oxygen_of_stepping(27, 0.20)
    21.8

    References
    ----------
    ACSM formula sheet (`acsm-sheet`); ranges `acsm-getp`; case `ex.step.01` (`ex-inclass`).
    """
    RangeError.check("step rate", steps_per_min, *STEP_PER_MIN, "steps/min", extrapolate=extrapolate)
    RangeError.check("step height", height_m, *STEP_HEIGHT_M, "m", extrapolate=extrapolate)
    return REST + STEP_LEVEL * steps_per_min + STEP_CLIMB * height_m * steps_per_min


def stepping_rate_per_min(oxygen_ml_per_kg_min: float, height_m: float, *, extrapolate: bool = False) -> float:
    """Step rate that takes an uptake; inverse of `oxygen_of_stepping`.

    Parameters
    ----------
    oxygen_ml_per_kg_min : float
        Gross uptake [mL/kg/min].
    height_m : float
        Height of the step [m], 0.04 to 0.40.
    extrapolate : bool
        Whether to go beyond the ranges [-].

    Returns
    -------
    float
        Cycles up and down a minute [1/min].

    Raises
    ------
    RangeError
        If the height, or the rate that comes out, is outside its range.

    References
    ----------
    As `oxygen_of_stepping`.
    """
    RangeError.check("step height", height_m, *STEP_HEIGHT_M, "m", extrapolate=extrapolate)
    rate = (oxygen_ml_per_kg_min - REST) / (STEP_LEVEL + STEP_CLIMB * height_m)
    return RangeError.check("step rate", rate, *STEP_PER_MIN, "steps/min", extrapolate=extrapolate)


def oxygen_of_cycling(limbs: Limbs, power_w: float, body_mass_kg: float, *, extrapolate: bool = False) -> float:
    """Oxygen uptake of cycling with the legs or cranking with the arms on a braked ergometer.

    Legs ``7 + 1.8 W / M``, arms ``3.5 + 3 W / M``, with W in kgm/min.

    Parameters
    ----------
    limbs : {'legs', 'arms'}
        What turns the crank [-].
    power_w : float
        Power at the flywheel [W]: legs 50 to 200, arms 24.5 to 122.6.
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    extrapolate : bool
        Whether to go beyond the range of power [-].

    Returns
    -------
    float
        Gross uptake [mL/kg/min].

    Raises
    ------
    RangeError
        If power or body mass is outside its range.

    Notes
    -----
    Legs at 100 W and 70 kg: 6.5 METs where tables print 6.8 and 6.0 (`x.leg100`). Arms at 45 W and 70 kg: 4.4 METs
    where the 2024 table prints 3.5 (`x.arm45`), a quarter apart; no published worked answer was found for arms. Sheets
    that take 6.0 kgm/min for a watt come out 2 percent lower in the work term.

    Examples
    --------
    450 kgm/min with the legs at 62 kg, printed 20; with the arms at 80 kg (our arithmetic on a published problem):

    >>> oxygen_of_cycling("legs", 450 / KGM_PER_MIN_PER_W, 62)
    20.1
    >>> oxygen_of_cycling("arms", 450 / KGM_PER_MIN_PER_W, 80)
    20.375

    References
    ----------
    Bushman 2020, part 2 (`bushman2`); formula sheet (`acsm-sheet`); ranges `acsm-slides`, `medalg-arm`; cases
    `ex.leg.01`, `ex.arm.derived`.
    """
    terms = LIMBS[limbs]
    RangeError.check("body mass", body_mass_kg, *BODY_MASS_KG, "kg")
    RangeError.check(f"power of the {limbs}", power_w, *terms.power_w, "W", extrapolate=extrapolate)
    return REST + terms.unloaded + terms.work * power_w * KGM_PER_MIN_PER_W / body_mass_kg


def cycling_power_w(
    limbs: Limbs, oxygen_ml_per_kg_min: float, body_mass_kg: float, *, extrapolate: bool = False
) -> float:
    """Power of legs or arms that takes an uptake; inverse of `oxygen_of_cycling`.

    Parameters
    ----------
    limbs : {'legs', 'arms'}
        What turns the crank [-].
    oxygen_ml_per_kg_min : float
        Gross uptake [mL/kg/min].
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    extrapolate : bool
        Whether to go beyond the range of power [-].

    Returns
    -------
    float
        Power [W].

    Raises
    ------
    RangeError
        If the body mass, or the power that comes out, is outside its range.

    References
    ----------
    As `oxygen_of_cycling`.
    """
    terms = LIMBS[limbs]
    RangeError.check("body mass", body_mass_kg, *BODY_MASS_KG, "kg")
    power_w = (oxygen_ml_per_kg_min - REST - terms.unloaded) * body_mass_kg / terms.work / KGM_PER_MIN_PER_W
    return RangeError.check(f"power of the {limbs}", power_w, *terms.power_w, "W", extrapolate=extrapolate)


def load_carriage_power_w(
    body_mass_kg: float, load_kg: float, speed_m_per_s: float, *, grade: float = 0.0, terrain: float = 1.0
) -> float:
    """Metabolic power of walking under a load carried close to the trunk.

    ``P = 1.5 M + 2 (M + L)(L / M)^2 + n (M + L)(1.5 V^2 + 0.35 V G)`` with G in percent.

    Parameters
    ----------
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    load_kg : float
        Load [kg], not negative.
    speed_m_per_s : float
        Speed [m/s], not negative.
    grade : float
        Rise over run [-], not negative.
    terrain : float
        Terrain factor [-]; 1 on a treadmill or a firm floor.

    Returns
    -------
    float
        Gross metabolic power [W].

    Raises
    ------
    RangeError
        If a number is negative or the body mass outside its range.

    Notes
    -----
    The source states no bounds; it is known to predict too little for heavy modern loads.

    Examples
    --------
    80 kg at 1.34 m/s with 20 kg (our arithmetic on the printed coefficients, 401.8):

    >>> load_carriage_power_w(80, 20, 1.34)
    401.8

    References
    ----------
    Pandolf, Givoni, Goldman 1977 (`pandolf1977`), `load.pandolf.coef`.
    """
    infinite = float("inf")
    m = RangeError.check("body mass", body_mass_kg, *BODY_MASS_KG, "kg")
    load = RangeError.check("load", load_kg, 0, infinite, "kg")
    v = RangeError.check("speed", speed_m_per_s, 0, infinite, "m/s")
    percent = 100 * RangeError.check("grade", grade, 0, infinite)
    n = RangeError.check("terrain factor", terrain, 0, infinite)
    return 1.5 * m + 2 * (m + load) * (load / m) ** 2 + n * (m + load) * (1.5 * v**2 + 0.35 * v * percent)


def _speed(gait: Gait, speed_m_per_s: float, extrapolate: bool) -> float:
    low, high = (bound / 60 for bound in GAITS[gait].speed_m_per_min)
    slack = 1e-9  # a bound must survive m/min to m/s and back
    if low - slack <= speed_m_per_s <= high + slack:
        return speed_m_per_s
    return RangeError.check(f"speed of the {gait}", speed_m_per_s, low, high, "m/s", extrapolate=extrapolate)
