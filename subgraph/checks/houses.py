"""What a house folder should have looked at: changes that let more through, rules that leave too little."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from subgraph.checks.complaints import LEAST_LEFT
from subgraph.checks.site import Site
from subgraph.errors import Problem


def lets_more_through(site: Site) -> Iterator[Problem]:
    """A change that lowers a demand, a skill or a strength offers the movement to more members (warning).

    Good: a higher grade. Bad, unless the coach is sure: ``demands.landing: 1`` where the library has 2.
    """
    for laid in site.laid:
        if laid.what != "changed" or laid.of != "movement":
            continue
        for field, was, now in _grades(laid.field, laid.was, laid.now):
            if now < was:
                doc, path = site.changed["movements", laid.record][laid.field.split(".")[0]]
                line, column = doc.place((*path, laid.field))
                yield Problem(
                    doc.file,
                    line,
                    column,
                    laid.record,
                    laid.field,
                    f"{field} goes from {was} to {now}: it will be offered to more members",
                    mend="keep it only if the house's own version asks for less",
                    rule="house-lowers",
                    severity="warning",
                )


def _grades(field: str, was: Any, now: Any) -> Iterator[tuple[str, int, int]]:
    """Single grades before and after, whether one or all were changed."""
    top, _, demand = field.partition(".")
    if top in ("skill", "strength") or (top == "demands" and demand):
        yield demand or top, was or 0, now or 0
    elif top == "demands":
        for id_, grade in was.items():
            yield id_, grade, now.get(id_, 0)


def leaves_enough(site: Site) -> Iterator[Problem]:
    """The rules that hold for anyone leave a dozen movements (warning).

    Good: a few movements named. Bad: ``demands: {heart-rate: 0}`` for anyone.
    """
    for rule in site.house.rules:
        left = len(site.library.movements) - len(rule.out)
        if left < LEAST_LEFT:
            yield site.problem(
                "rules",
                rule.id,
                "",
                f"leaves {left} movements",
                mend="narrow it",
                rule="house-rule",
                severity="warning",
            )


RULES: tuple[Callable[[Site], Iterator[Problem]], ...] = (lets_more_through, leaves_enough)
