"""Complaint profiles: stricter when worse, and something left to do."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.records import IRRITABILITIES
from subgraph.today import Filter, Today, Told

LEAST_LEFT = 12  # movements below which a profile must refer instead


def stricter_when_worse(site: Site) -> Iterator[Problem]:
    """Grades do not rise from settled to sore to flared, and a line that limits nothing is left out.

    Good: ``overhead: [2, 1, 0]``. Bad: ``overhead: [1, 2, 0]``.
    """
    tables = [("complaints", c.id, "at_most", c.at_most) for c in site.library.complaints.values()]
    tables += [("complaints", c.id, "muscles", c.muscles) for c in site.library.complaints.values()]
    tables += [("provocations", p.id, "at_most", p.at_most) for p in site.library.provocations.values()]
    for collection, id_, field, table in tables:
        for limited, grades in table.items():
            if list(grades) != sorted(grades, reverse=True):
                yield site.problem(
                    collection,
                    id_,
                    f"{field}.{limited}",
                    f"{list(grades)} is not ever stricter",
                    mend="write settled >= sore >= flared",
                    rule="complaint-order",
                )
            elif grades == (3, 3, 3):
                yield site.problem(
                    collection,
                    id_,
                    f"{field}.{limited}",
                    "limits nothing",
                    mend="leave it out",
                    rule="complaint-order",
                )


def leaves_something(site: Site) -> Iterator[Problem]:
    """A profile leaves a dozen movements at its worst, or refers.

    Good: a flared shoulder leaves legs and trunk. Bad: every demand at 0 without `refer: true`.
    """
    lib = site.library
    for complaint in lib.complaints.values():
        if complaint.refer:
            continue
        for mood in IRRITABILITIES:
            filter_ = Filter(lib, Today(complaints=(Told(complaint.id),), irritability=mood))
            left = sum(not filter_.removals(m) for m in lib.movements.values())
            if left < LEAST_LEFT:
                yield site.problem(
                    "complaints",
                    complaint.id,
                    "at_most",
                    f"leaves {left} movements when {mood}",
                    mend="ease it, or set refer: true",
                    rule="complaint-leaves",
                    severity="warning",
                )


def says_what_to_do(site: Site) -> Iterator[Problem]:
    """A profile that refers says how urgently and what to do.

    Good: ``refer: true`` with `refer_text` and `refer_level`. Bad: ``refer: true`` alone.
    """
    for complaint in site.library.complaints.values():
        refers = complaint.refer or complaint.refer_with
        if refers and not (complaint.refer_text and complaint.refer_level):
            yield site.problem(
                "complaints",
                complaint.id,
                "refer",
                "refers without saying what to do",
                mend="add refer_text and refer_level",
                rule="complaint-refer",
            )
