"""Measures of when a movement that others need is owned."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem


def every_need_has_one(site: Site) -> Iterator[Problem]:
    """A movement that another needs has a measure (warning), and a measure belongs to a movement that is needed.

    Good: double-under needs single-under, which has ``amount: 50``. Bad: a need without a record in rungs.yaml.
    A library without any measure is left alone: the file is optional.
    """
    lib = site.library
    if not lib.rungs:
        return
    needed: dict[str, str] = {}
    for movement in lib.movements.values():
        for need in movement.needs:
            needed.setdefault(need, movement.id)
    plain = {rung.movement for rung in lib.rungs.values() if not rung.before}
    for need, by in needed.items():
        if need not in plain:
            yield site.problem(
                "movements",
                need,
                "",
                f"{by} needs it, but nothing says when it is owned",
                mend="add a measure in rungs.yaml",
                rule="rung-measure",
                severity="warning",
            )
    for rung in lib.rungs.values():
        if rung.movement not in needed:
            yield site.problem(
                "rungs",
                rung.id,
                "movement",
                f"nothing needs {rung.movement}",
                mend="add it to the needs of a movement, or take the measure out",
                rule="rung-measure",
                severity="warning",
            )
        for other in rung.before:
            if rung.movement not in lib.movements[other].needs:
                yield site.problem(
                    "rungs",
                    rung.id,
                    "before",
                    f"{other} does not need {rung.movement}",
                    mend=f"add it to the needs of {other}, or take it out",
                    rule="rung-before",
                )


def counted_as_done(site: Site) -> Iterator[Problem]:
    """A measure is in a unit that the movement is counted in, or in seconds.

    Good: dead hang, 30 s. Bad: dead hang, 10 rep.
    """
    for rung in site.library.rungs.values():
        movement = site.library.movements[rung.movement]
        if rung.unit != "s" and rung.unit not in movement.units:
            yield site.problem(
                "rungs",
                rung.id,
                "unit",
                f"{rung.movement} is not counted in {rung.unit}",
                mend="one of: " + ", ".join(dict.fromkeys([*movement.units, "s"])),
                rule="rung-unit",
            )


def says_its_amount(site: Site) -> Iterator[Problem]:
    """The words of a measure hold its amount, so that text and figure can't part.

    Good: ``amount: 5, criterion: 5 strict reps``. Bad: ``amount: 5, criterion: 8 strict reps``.
    """
    for rung in site.library.rungs.values():
        if f"{rung.amount:g}" not in rung.criterion.replace(",", "").split():
            yield site.problem(
                "rungs",
                rung.id,
                "criterion",
                f"does not say {rung.amount:g}",
                mend="write the amount as a number of its own",
                rule="rung-words",
            )
