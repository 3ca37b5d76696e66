"""Situations that the gaps are counted in."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem


def told_apart(site: Site) -> Iterator[Problem]:
    """Every situation has its own column heading, and says something.

    Good: ``{short: FL, only: [nothing]}``. Bad: a second one with ``short: FL``, or one without any flag.
    """
    seen: dict[str, str] = {}
    for situation in site.library.situations.values():
        if situation.short in seen:
            yield site.problem(
                "situations",
                situation.id,
                "short",
                f"'{situation.short}' also heads {seen[situation.short]}",
                mend="give it other letters",
                rule="situation-short",
            )
        seen.setdefault(situation.short, situation.id)
        told = (situation.without, situation.limits, situation.complaints, situation.cannot, situation.level)
        if situation.only is None and not any(told):
            yield site.problem(
                "situations",
                situation.id,
                "",
                "says nothing of the floor or the member",
                mend="give only, without, limits, complaints, cannot or level",
                rule="situation-says",
            )
        if situation.only is not None and situation.without:
            yield site.problem(
                "situations",
                situation.id,
                "without",
                "what is on hand is given twice (only and without)",
                mend="keep one of them",
                rule="situation-says",
            )
