"""Hand-written grades against grades that the mechanics compute and that published tables give.

The borders, the tables and the accepted disagreements are data (`library/grading.yaml`). A still, planar posture with
the usual load knows nothing of speed, of one leg or of a handle that leaves the wrist straight, so a disagreement of
one grade is left to judgement and only two or more are listed. A table was measured on the movement itself: there each
disagreement counts.
"""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.computed import quantity
from subgraph.checks.site import Site
from subgraph.errors import AskError, Problem

LEAST_GAP = 2  # grades between hand and computation that are listed

_Finding = tuple[str, str, str]  # movement, demand, what is wrong


def against_mechanics(site: Site) -> Iterator[Problem]:
    """A grade lies within one of what the posture, the usual load and the written borders make it.

    Good: push-up with press 3 (0.64 of body weight on the hands). Bad: push-up with press 1.
    """
    accepted = _accepted(site)
    for movement, demand, what in _computed_gaps(site):
        if (movement, demand) not in accepted:
            yield site.problem(
                "movements",
                movement,
                f"demands.{demand}" if demand in site.library.movements[movement].demands else "demands",
                what,
                mend="mend the grade or the posture, or say why under `accepted` in grading.yaml",
                rule="grade-computed",
                severity="warning",
            )


def against_tables(site: Site) -> Iterator[Problem]:
    """A movement that stands in a published loading table has the grade of its row.

    Good: lunge with knee-flexion 2 (index 0.471). Bad: lunge with knee-flexion 1.
    """
    accepted = _accepted(site)
    for movement, demand, what in _published_gaps(site):
        if (movement, demand) not in accepted:
            yield site.problem(
                "movements",
                movement,
                f"demands.{demand}" if demand in site.library.movements[movement].demands else "demands",
                what,
                mend="mend the grade, or say why under `accepted` in grading.yaml",
                rule="grade-published",
                severity="warning",
            )


def accepted_in_vain(site: Site) -> Iterator[Problem]:
    """An accepted disagreement still disagrees.

    Good: a bar dip that keeps wrist-extension 0 with all of body weight on the hands. Bad: one whose grade was mended.
    """
    gaps = {(m, d) for m, d, _ in (*_computed_gaps(site), *_published_gaps(site))}
    for row in site.library.accepted.values():
        for position, movement in enumerate(row.movements):
            if (movement, row.demand) not in gaps:
                yield site.problem(
                    "accepted",
                    row.id,
                    f"movements.{position}",
                    f"'{movement}' agrees on {row.demand}",
                    mend="leave it out",
                    rule="grade-accepted",
                    severity="warning",
                )


def _accepted(site: Site) -> set[tuple[str, str]]:
    return {(movement, row.demand) for row in site.library.accepted.values() for movement in row.movements}


def _computed_gaps(site: Site) -> Iterator[_Finding]:
    lib = site.library
    for posture in lib.postures.values():
        movement = lib.movements[posture.movement]
        best: dict[str, tuple[int, str]] = {}
        for borders in lib.computed.values():
            try:
                value = quantity(borders.quantity, movement, posture, load_over=borders.load_over)
            except AskError:
                continue  # no body can take it: `posture-possible` says so
            if value is None:
                continue
            said = f"{borders.quantity} {value:.2f}"
            best[borders.demand] = max(best.get(borders.demand, (-1, "")), (borders.grade(value), said))
        for demand, (grade, said) in best.items():
            hand = movement.grade(demand)
            if abs(hand - grade) >= LEAST_GAP:
                yield movement.id, demand, f"{demand} is {hand}, the posture makes it {grade} ({said})"


def _published_gaps(site: Site) -> Iterator[_Finding]:
    for row in site.library.published.values():
        for id_ in row.movements:
            hand = site.library.movements[id_].grade(row.demand)
            if hand != row.grade:
                yield id_, row.demand, f"{row.demand} is {hand}, {row.source} makes it {row.grade} ({row.figure})"
