"""Sources that nothing cites."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem


def cited(site: Site) -> set[str]:
    """Ids of all sources that some record cites."""
    lib = site.library
    found: set[str] = set()
    for m in lib.movements.values():
        found |= {*m.sources, m.met.source}
    found |= {r.source for r in lib.ratios} | {d.source for d in lib.demands.values()}
    found |= {rung.source for rung in lib.rungs.values()}
    found |= {row.source for row in lib.published.values()}
    for group in (lib.complaints, lib.red_flags, lib.cautions):
        for record in group.values():
            found |= set(record.sources)
    return found


def unused(site: Site) -> Iterator[Problem]:
    """Every source is cited by a record (warning).

    Good: a source that a movement names. Bad: a citation kept for later.
    """
    used = cited(site)
    for id_ in site.library.sources:
        if id_ not in used:
            yield site.problem(
                "sources",
                id_,
                "",
                "no record cites it",
                mend="cite it, or take it out",
                rule="source-used",
                severity="warning",
            )
