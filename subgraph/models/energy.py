"""Energy: metabolic equivalents, and exchanges of equal energy between ways of moving.

Two conventions of the metabolic equivalent (MET) are in use and differ by five percent: 3.5 mL of oxygen per kg and
minute at 5 kcal per litre (1.05 kcal per kg and hour), and 1 kcal per kg and hour. We take the first, because the
metabolic equations give oxygen and their worked answers use it; the second is `convention="kilocalorie"`. Both
overstate measured rest by a fifth to a third (Byrne 2005, `byrne2005`), which matters little in hard work and cancels
in most exchanges.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from subgraph.errors import AskError, RangeError
from subgraph.models.ergometer import (
    MACHINES,
    Machine,
    calories_per_h,
    pace_s_per_m,
    power_of_calories_w,
    power_shown_w,
)
from subgraph.models.metabolic import BODY_MASS_KG, Gait, oxygen_of_cycling, oxygen_of_gait
from subgraph.quantities import Unit

__all__ = [
    "MET_OF_MODE",
    "RELATIVE_ERROR",
    "Effort",
    "amount_for_equal_energy",
    "energy_of_j",
    "kcal_per_min",
    "met_of_oxygen",
    "metabolic_power_w",
    "power_of_w",
]

Convention = Literal["oxygen", "kilocalorie"]
Mode = Literal[
    "run", "walk", "row", "ski", "bike-ergometer", "air-bike", "stairs", "rope", "rope-double", "swim", "swim-easy"
]

OXYGEN_PER_MET = 3.5  # mL/kg/min, `conv.met.vo2`
KCAL_PER_L = 5.0  # `conv.l_o2.kcal`; measured 4.7 to 5.05 with the fuel burnt
J_PER_KCAL = 4184.0
KCAL_PER_MET_KG_H: dict[Convention, float] = {"oxygen": OXYGEN_PER_MET * 60 / 1000 * KCAL_PER_L, "kilocalorie": 1.0}

ROWING_NET_EFFICIENCY = 0.198  # sd 0.014; Fukunaga 1986 (`fukunaga1986`), five oarsmen, 124 to 182 W
ROWING_W = (100.0, 200.0)  # the watt-labelled rows of the compendium, which bracket the measured range

# Climbing stairs cost 8.6 METs at 70 steps a minute (Bassett 1997, `bassett1997`): 7.6 above rest, so this per step.
STAIRS_MET_MIN_PER_STEP = (8.6 - 1) / 70
STAIRS_PER_MIN = (60.0, 100.0)  # brackets the two studies: 70 (`bassett1997`) and about 93 (`teh2002`)
# Rope: lowest rate a minute of each band, and its METs (compendium 2011 codes 15552, 15551, 15550; `cpd2011tg`).
ROPE_MET = ((70.0, 8.8), (100.0, 11.8), (120.0, 12.3))
ROPE_PER_MIN = (70.0, 160.0)
# METs that do not depend on pace: the tables know no pace. 2024 code 15554; 2011 codes 18230 and 18240.
MET_OF_MODE: dict[Mode, float] = {"rope-double": 10.0, "swim": 9.8, "swim-easy": 5.8}

# Standard deviation of the log of power. Root mean square of model over published rows, as pinned in the tests: run,
# walk, row and bike-ergometer against the compendium (at 70 kg), rope against two studies and the 2024 table. Stairs:
# half the log of 0.15 / 0.11 kcal a step, the two studies. Judgement, for want of data: ski (efficiency taken over from
# rowing), air-bike (bike, plus how metres turn into power), rope-double (one table), swim (no pace in the tables).
RELATIVE_ERROR: dict[Mode, float] = {
    "run": 0.10,
    "walk": 0.10,
    "row": 0.09,
    "ski": 0.20,
    "bike-ergometer": 0.07,
    "air-bike": 0.20,
    "stairs": 0.16,
    "rope": 0.05,
    "rope-double": 0.20,
    "swim": 0.25,
    "swim-easy": 0.25,
}


def met_of_oxygen(oxygen_ml_per_kg_min: float) -> float:
    """Metabolic equivalents of an oxygen uptake.

    Parameters
    ----------
    oxygen_ml_per_kg_min : float
        Gross uptake [mL/kg/min].

    Returns
    -------
    float
        Metabolic equivalents [MET].

    Examples
    --------
    4.5 L/min at 75 kg; printed 17.1:

    >>> met_of_oxygen(4500 / 75)
    17.1

    References
    ----------
    `conv.met.vo2` (`cpdunits`); worked case `ex.conv.03` (`ex-hk`).
    """
    return oxygen_ml_per_kg_min / OXYGEN_PER_MET


def kcal_per_min(met: float, body_mass_kg: float, *, convention: Convention = "oxygen") -> float:
    """Energy rate of a body at a number of METs.

    Parameters
    ----------
    met : float
        Metabolic equivalents [MET], gross.
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    convention : {'oxygen', 'kilocalorie'}
        What 1 MET stands for [-]: 3.5 mL/kg/min at 5 kcal/L, or 1 kcal/kg/h.

    Returns
    -------
    float
        Energy rate [kcal/min].

    Raises
    ------
    RangeError
        If METs are negative or the body mass outside its range.

    Examples
    --------
    7 METs at 60 kg; a sheet prints 7 by the kilocalorie convention, the other gives 5 percent more:

    >>> kcal_per_min(7, 60, convention="kilocalorie")
    7.0
    >>> kcal_per_min(7, 60)
    7.35

    References
    ----------
    `conv.met.kcal_min`, `conv.met.kcal` (`cpdunits`); worked case `ex.kcal.01` (`ex-jog8`).
    """
    RangeError.check("energy cost", met, 0, math.inf, "MET")
    RangeError.check("body mass", body_mass_kg, *BODY_MASS_KG, "kg")
    return met * KCAL_PER_MET_KG_H[convention] * body_mass_kg / 60


def metabolic_power_w(
    met: float, body_mass_kg: float, *, net: bool = False, convention: Convention = "oxygen"
) -> float:
    """Metabolic power of a body at a number of METs; times seconds it is the energy spent, in joules.

    Parameters
    ----------
    met : float
        Metabolic equivalents [MET], gross.
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    net : bool
        Whether to take off rest, 1 MET [-].
    convention : {'oxygen', 'kilocalorie'}
        As in `kcal_per_min` [-].

    Returns
    -------
    float
        Metabolic (not mechanical) power [W].

    Raises
    ------
    RangeError
        As `kcal_per_min`.

    Examples
    --------
    >>> metabolic_power_w(1, 70)
    85.4

    References
    ----------
    As `kcal_per_min`; 4.184 kJ per kcal.
    """
    above = max(0.0, met - 1) if net else met
    return kcal_per_min(above, body_mass_kg, convention=convention) * J_PER_KCAL / 60


@dataclass(frozen=True, slots=True)
class Effort:
    """A way of moving at a pace, which says how hard.

    Parameters
    ----------
    mode : str
        Way of moving: run, walk, row, ski, bike-ergometer, air-bike, stairs, rope, rope-double, swim or swim-easy.
    pace_s : float
        Seconds for one unit [s], positive.
    unit : {'m', 'cal', 'rep'}
        Unit of the pace: metres for feet, water and machines, calories for machines, reps for stairs (steps climbed)
        and rope (jumps).

    Raises
    ------
    RangeError
        If the pace is not positive.
    AskError
        If the mode is not counted in the unit.
    """

    mode: Mode
    pace_s: float
    unit: Unit = "m"

    def __post_init__(self) -> None:
        RangeError.check("pace", self.pace_s, math.ulp(0), math.inf, "s")
        if self.unit not in self.units or self.unit == "s":
            counted = ", ".join(u for u in self.units if u != "s")
            raise AskError(f"a pace of {self.mode!r} is not counted in {self.unit!r}", mend=f"give it in: {counted}")

    @property
    def units(self) -> tuple[Unit, ...]:
        """Units in which an amount of it can be told."""
        if self.mode in MACHINES:
            return ("m", "cal", "s")
        return ("rep", "s") if self.mode in ("stairs", "rope", "rope-double") else ("m", "s")

    def seconds_per(self, unit: Unit) -> float:
        """Seconds [s] that one unit takes at this effort."""
        if unit not in self.units:
            raise AskError(
                f"an amount of {self.mode!r} is not counted in {unit!r}", mend=f"give it in: {', '.join(self.units)}"
            )
        if unit == "s":
            return 1.0
        if unit == self.unit:
            return self.pace_s
        if unit == "m":
            return pace_s_per_m(self._machine, self.shown_w)
        return 3600 / calories_per_h(self._machine, self.shown_w)

    @property
    def shown_w(self) -> float:
        """Power on the screen [W]; only machines have one."""
        if self.unit == "m":
            return power_shown_w(self._machine, self.pace_s)
        return power_of_calories_w(self._machine, 3600 / self.pace_s)

    @property
    def _machine(self) -> Machine:
        for machine in MACHINES:
            if machine == self.mode:
                return machine
        raise AskError(f"{self.mode!r} shows no power", mend=f"machines are {', '.join(MACHINES)}")


def power_of_w(effort: Effort, body_mass_kg: float, *, net: bool = False, extrapolate: bool = False) -> float:
    """Metabolic power of an effort.

    Parameters
    ----------
    effort : Effort
        Way of moving and pace [-].
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    net : bool
        Whether to take off rest [-].
    extrapolate : bool
        Whether to go beyond the range of validity [-].

    Returns
    -------
    float
        Metabolic power [W].

    Raises
    ------
    RangeError
        If the pace is outside the range of the model behind the mode, or the body mass outside its own.

    Notes
    -----
    Run and walk: ACSM equations on the level. Bike and air bike: ACSM leg-cycling equation (arms and legs together cost
    what legs cost: `armleg-thesis`, `eston1986`). Row: shown power over a net efficiency of 19.8 percent, plus rest;
    100 to 200 W. Ski: the same, for want of a measured one. Stairs, rope, swim: measured METs and tables. Sizes of
    error are in `RELATIVE_ERROR`. Anaerobic work is not counted: too little for pieces under some two minutes all-out.

    Examples
    --------
    200 W on a rower at 70 kg is 12.8 METs; tables print 12.0 (2011) and 14.0 (2024):

    >>> split = Effort("row", pace_s_per_m("row", 200))
    >>> power_of_w(split, 70) / metabolic_power_w(1, 70)
    12.8

    References
    ----------
    Fukunaga 1986 (`fukunaga1986`); Bassett 1997 (`bassett1997`); compendium 2011 (`cpd2011tg`) and 2024 (`cpd2024`).
    """
    gross = metabolic_power_w(_met(effort, body_mass_kg, extrapolate), body_mass_kg)
    return gross - metabolic_power_w(1, body_mass_kg) if net else gross


def energy_of_j(
    amount: float,
    effort: Effort,
    body_mass_kg: float,
    *,
    unit: Unit | None = None,
    net: bool = False,
    extrapolate: bool = False,
) -> float:
    """Energy that an amount of an effort takes.

    Parameters
    ----------
    amount : float
        How much [`unit`], not negative.
    effort : Effort
        Way of moving and pace [-].
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    unit : {'m', 'cal', 'rep', 's'} or None
        Unit of the amount [-]; the unit of the pace where None.
    net, extrapolate : bool
        As in `power_of_w` [-].

    Returns
    -------
    float
        Metabolic energy [J].

    Raises
    ------
    RangeError
        As `power_of_w`; or if the amount is negative.
    AskError
        If the mode is not counted in the unit.

    Examples
    --------
    Running 1600 m at 2.82 m/s, 80 kg; the paper's ACSM prediction is 137 kcal (it seems to take 4.86 kcal/L):

    >>> energy_of_j(1600, Effort("run", 1 / 2.82), 80) / 4184
    141.2

    References
    ----------
    Hall 2004 (`hall2004`), case `ex.hall.run`.
    """
    RangeError.check("amount", amount, 0, math.inf, unit or effort.unit)
    seconds = amount * effort.seconds_per(unit or effort.unit)
    return seconds * power_of_w(effort, body_mass_kg, net=net, extrapolate=extrapolate)


def amount_for_equal_energy(
    amount: float,
    of: Effort,
    by: Effort,
    body_mass_kg: float,
    *,
    unit: Unit | None = None,
    wanted: Unit | None = None,
    net: bool = False,
    extrapolate: bool = False,
) -> float:
    """Amount of one effort that takes the energy of an amount of another.

    Parameters
    ----------
    amount : float
        How much of `of` [`unit`], not negative.
    of, by : Effort
        Effort given and effort wanted [-].
    body_mass_kg : float
        Body mass [kg], 30 to 250.
    unit, wanted : {'m', 'cal', 'rep', 's'} or None
        Units of the amount given and of the answer [-]; the unit of each pace where None.
    net, extrapolate : bool
        As in `power_of_w` [-].

    Returns
    -------
    float
        How much of `by` [`wanted`].

    Raises
    ------
    RangeError, AskError
        As `energy_of_j`.

    Notes
    -----
    Heavier bodies pay more for running and no more for rowing, so the ratio moves with body mass.

    Examples
    --------
    A 400 m run in two minutes as a row at a 2:00 split, 75 kg; the trade says 400 to 500 m:

    >>> run, row = Effort("run", 120 / 400), Effort("row", 120 / 500)
    >>> amount_for_equal_energy(400, run, row, 75, extrapolate=True)
    510.3

    References
    ----------
    As `power_of_w`; trade row `run_row` (`common-practice`).
    """
    energy_j = energy_of_j(amount, of, body_mass_kg, unit=unit, net=net, extrapolate=extrapolate)
    seconds = energy_j / power_of_w(by, body_mass_kg, net=net, extrapolate=extrapolate)
    return seconds / by.seconds_per(wanted or by.unit)


def _met(effort: Effort, body_mass_kg: float, extrapolate: bool) -> float:
    mode, per_min = effort.mode, 60 / effort.pace_s
    gaits: dict[Mode, Gait] = {"run": "run", "walk": "walk"}
    if mode in gaits:
        return met_of_oxygen(oxygen_of_gait(gaits[mode], 1 / effort.pace_s, extrapolate=extrapolate))
    if mode in ("bike-ergometer", "air-bike"):
        return met_of_oxygen(oxygen_of_cycling("legs", effort.shown_w, body_mass_kg, extrapolate=extrapolate))
    if mode in ("row", "ski"):
        power_w = RangeError.check(f"power of the {mode}", effort.shown_w, *ROWING_W, "W", extrapolate=extrapolate)
        return 1 + power_w / ROWING_NET_EFFICIENCY / metabolic_power_w(1, body_mass_kg)
    if mode == "stairs":
        RangeError.check("stair rate", per_min, *STAIRS_PER_MIN, "steps/min", extrapolate=extrapolate)
        return 1 + per_min * STAIRS_MET_MIN_PER_STEP
    if mode == "rope":
        RangeError.check("rope rate", per_min, *ROPE_PER_MIN, "jumps/min", extrapolate=extrapolate)
        return max(met for lowest, met in ROPE_MET if per_min >= lowest or lowest == ROPE_PER_MIN[0])
    return MET_OF_MODE[mode]
