"""Evidence as edges: ratio records, and the pace of every movement against the clock."""

from __future__ import annotations

import math
from typing import Literal

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import Basis, Intent, Ratio
from subgraph.quantities import Unit

Equaliser = Literal["effort", "energy", "time"]
EQUALISERS: tuple[Equaliser, ...] = ("effort", "energy", "time")
EQUALISER_OF: dict[Intent, Equaliser] = {
    "skill": "effort",
    "strength": "effort",
    "conditioning": "time",
    "warm-up": "time",
}
Z_80 = 1.2815515655446004  # standard normal quantile: four in five inside
Z_90 = 1.6448536269514722  # a spread seen among sources is read as its middle nine tenths

# Rules for a standard deviation of log(ratio); see `sigma_of`.
SPREAD_OF_ONE_PAGE = 0.30  # what one coach's number is worth: about a third either way
# What a rule from memory is off, beyond its own spread, against all other evidence on its pair: 0.30 for equal effort
# (55 rules), four in five resamples 0.14 to 0.40 (`scripts/ratios_report`); the upper end, since they share an author.
SPREAD_OF_MEMORY = 0.40
LEAST_SIGMA = 0.08  # nobody's rule is better than to the nearest tenth
# Equal time on one side of an edge between a movement and the clock. In the time network it is what is asked for;
# in the others it is a weak hint that keeps every pair connected.
TIME_SIGMA: dict[Equaliser, float] = {"time": 0.45, "effort": 0.7, "energy": 0.6}
CLOCK = "clock/s"
MODEL_RUN = "modelled"  # all modelled evidence of one network comes from one computation


class Edge(Struct, frozen=True, array_like=True, gc=False):
    """One piece of evidence.

    Parameters
    ----------
    a, b : str
        Nodes, "movement/unit".
    log_ratio : float
        Natural log of the units of `b` that equal one unit of `a`.
    sigma : float
        Standard deviation of `log_ratio`.
    basis : {'practice', 'measured', 'modelled'}
        How it came to be.
    source : str
        Id of the ratio record, or of the pace.
    cites : str
        Id in `sources.yaml`.
    run : str
        The model run or the study that it shares with other evidence; empty where it stands alone.
    """

    a: str
    b: str
    log_ratio: float
    sigma: float
    basis: Basis
    source: str
    cites: str = ""
    run: str = ""

    @property
    def of_the_clock(self) -> bool:
        """Whether it is a pace: a rule of this module, no evidence on a pair."""
        return CLOCK in (self.a, self.b)


def node(movement: str, unit: Unit) -> str:
    """Name of a node of the network."""
    return f"{movement}/{unit}"


def sigma_of(ratio: Ratio) -> float:
    """Standard deviation of the log of a ratio record.

    Parameters
    ----------
    ratio : Ratio
        Record with spread `low` to `high`, number of independent pages, and perhaps a stated `sigma`.

    Returns
    -------
    float
        The stated sigma where there is one. Else the spread seen, read as nine tenths of all coaches, together with
        what remains unknown with few sources: ``sqrt((ln(high/low) / (2 z90))**2 + s1**2 / pages)``. From memory:
        `SPREAD_OF_MEMORY` in place of the second part. Counts made for one population are widened by half.

    Examples
    --------
    >>> from subgraph.library.records import Ratio
    >>> rule = dict(id="x", from_="a", to="b", ratio=2.0, low=1.5, high=2.5, basis="practice", source="common-practice")
    >>> round(sigma_of(Ratio(**rule, pages=5)), 3)
    0.205
    >>> round(sigma_of(Ratio(**rule, pages=0)), 3)
    0.429
    """
    if ratio.sigma is not None:
        return ratio.sigma
    spread = math.log(ratio.high / ratio.low) / (2 * Z_90)
    rest = SPREAD_OF_ONE_PAGE / math.sqrt(ratio.pages) if ratio.pages else SPREAD_OF_MEMORY
    sigma = max(LEAST_SIGMA, math.hypot(spread, rest))
    return sigma * 1.5 if ratio.population else sigma


def evidence(library: Library, equaliser: Equaliser) -> list[Edge]:
    """All edges of one network: ratio records that hold for the equaliser, and pace against the clock."""
    edges = [_edge(r) for r in library.ratios if r.equals in ("any", equaliser)]
    ends = {end for edge in edges for end in (edge.a, edge.b)}
    for movement in library.movements.values():
        # Seconds of a movement counted otherwise are a node only where evidence speaks of them; else pace converts.
        units = dict.fromkeys((*movement.units, "s") if node(movement.id, "s") in ends else movement.units)
        for unit in units:
            pace = movement.pace(unit)
            if pace is not None:
                edges.append(
                    Edge(
                        node(movement.id, unit),
                        CLOCK,
                        math.log(pace),
                        TIME_SIGMA[equaliser],
                        "modelled",
                        f"pace of {movement.id}",
                        "common-practice",
                    )
                )
    return edges


def _edge(r: Ratio) -> Edge:
    run = {"modelled": MODEL_RUN, "measured": r.source, "practice": ""}[r.basis]
    return Edge(
        node(r.from_, r.units[0]), node(r.to, r.units[1]), math.log(r.ratio), sigma_of(r), r.basis, r.id, r.source, run
    )
