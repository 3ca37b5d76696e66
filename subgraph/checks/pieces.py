"""Whole pieces: rules complete and in order, doses that count something, versions that say something."""

from __future__ import annotations

import typing
from collections.abc import Iterator

import msgspec

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.records import Concern, PieceRule


def complete(site: Site) -> Iterator[Problem]:
    """Every rule and concern that is asked for is there, and every character of a movement has its slowing.

    Good: a record for each. Bad: no record `window`.
    """
    lib = site.library
    wanted = (
        ("rules", lib.rules, typing.get_args(_hint(PieceRule))),
        ("concerns", lib.concerns, typing.get_args(_hint(Concern))),
        ("slowing", lib.slowing, tuple(dict.fromkeys(m.character for m in lib.movements.values()))),
    )
    for section, records, ids in wanted:
        missing = [id_ for id_ in ids if id_ not in records]
        if records and missing:
            first = next(iter(records))
            yield site.problem(
                section,
                first,
                "",
                f"'{missing[0]}' is missing among the {section}",
                mend=f"add `- id: {missing[0]}`",
                rule="piece-complete",
            )


def in_order(site: Site) -> Iterator[Problem]:
    """The low, usual and high number of a rule rise.

    Good: ``low: 90, usual: 120, high: 180``. Bad: ``low: 130, usual: 120``.
    """
    for rule in site.library.rules.values():
        if not rule.low <= rule.usual <= rule.high:
            yield site.problem(
                "rules",
                rule.id,
                "usual",
                f"{rule.usual:g} does not lie between {rule.low:g} and {rule.high:g}",
                mend="put the three in order",
                rule="piece-order",
            )


def something_counts(site: Site) -> Iterator[Problem]:
    """Each dose is added to by at least one movement.

    Good: ``demands: {hang: 3}``. Bad: demands that no movement has together.
    """
    lib = site.library
    for dose in lib.doses.values():
        if not any(dose.counts(m) for m in lib.movements.values()):
            yield site.problem(
                "doses", dose.id, "id", "no movement adds to it", mend="loosen what counts", rule="dose-counts"
            )


def says_something(site: Site) -> Iterator[Problem]:
    """Each version names a situation, and what is on hand once only.

    Good: ``without: [rig]``. Bad: a name alone.
    """
    for version in site.library.versions.values():
        told = (version.without, version.only, version.cannot, version.limits, version.level)
        if not any(told) or (version.without and version.only):
            what = "gives what is on hand twice" if any(told) else "names no situation"
            yield site.problem(
                "versions",
                version.id,
                "id",
                what,
                mend="give one of without and only, or cannot, limits or level",
                rule="version-says",
            )


def _hint(record: type[PieceRule] | type[Concern]) -> object:
    """The closed vocabulary of a record's id."""
    return next(f.type for f in msgspec.structs.fields(record) if f.name == "id")
