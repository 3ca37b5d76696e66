"""Whether ratios fit their movements, themselves and each other."""

from __future__ import annotations

import math
from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.ratios import evidence, node, ratio_between, sigma_of, solve

RESIDUAL = 2.5  # standard deviations from which a rule is said to contradict the rest


def units_fit(site: Site) -> Iterator[Problem]:
    """A ratio counts each movement in a unit that it is counted in; seconds always fit.

    Good: ``units: [m, cal]`` from row to air-bike. Bad: ``units: [m, rep]`` from push-up.
    """
    lib = site.library
    for ratio in lib.ratios:
        for end, unit in ((ratio.from_, ratio.units[0]), (ratio.to, ratio.units[1])):
            if unit != "s" and unit not in lib.movements[end].units:
                yield site.problem(
                    "ratios",
                    ratio.id,
                    "units",
                    f"{end} is not counted in {unit}",
                    mend=f"use {', '.join(lib.movements[end].units)} or s",
                    rule="ratio-unit",
                )


def interval_holds(site: Site) -> Iterator[Problem]:
    """The ratio lies within its spread, and the spread is not absurd.

    Good: 2 in 1.5 to 2.5. Bad: 2 in 3 to 5.
    """
    for ratio in site.library.ratios:
        if not ratio.low <= ratio.ratio <= ratio.high:
            yield site.problem(
                "ratios",
                ratio.id,
                "ratio",
                f"{ratio.ratio:g} lies outside {ratio.low:g} to {ratio.high:g}",
                mend="mend one of the three",
                rule="ratio-interval",
            )
        if ratio.basis == "modelled" and ratio.sigma is None:
            yield site.problem(
                "ratios",
                ratio.id,
                "sigma",
                "a modelled ratio states no sigma",
                mend="add the model's error as sigma",
                rule="ratio-interval",
            )


def twice(site: Site) -> Iterator[Problem]:
    """The same evidence stands once.

    Good: two rules for a pair with different counts. Bad: the same count, unit and source twice.
    """
    seen: dict[tuple[object, ...], str] = {}
    for r in site.library.ratios:
        key = (r.from_, r.to, r.units, r.ratio, r.basis, r.equals, r.source, r.population)
        if key in seen:
            yield site.problem(
                "ratios",
                r.id,
                "",
                f"repeats {seen[key]} ({site.where('ratios', seen[key])})",
                mend="keep one",
                rule="ratio-once",
            )
        seen.setdefault(key, r.id)


def residuals(site: Site) -> Iterator[Problem]:
    """A rule agrees with what all other evidence says of its pair, within its own spread (warning).

    Good: residual below 2.5 standard deviations. Bad: a rule of 5 where the rest says 1.
    """
    lib = site.library
    network = solve(evidence(lib, "effort"))
    for r in lib.ratios:
        if r.equals not in ("any", "effort"):
            continue
        equal = ratio_between(network, node(r.from_, r.units[0]), node(r.to, r.units[1]))
        if equal is None:
            continue
        off = (math.log(r.ratio) - math.log(equal.value)) / sigma_of(r)
        if abs(off) > RESIDUAL:
            yield site.problem(
                "ratios",
                r.id,
                "ratio",
                f"{r.ratio:g} against {equal.value:.2f} from all evidence ({off:+.1f} sigma)",
                mend="look at its neighbours",
                rule="ratio-residual",
                severity="warning",
            )
