"""Postures that no body can take."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import AskError, Problem
from subgraph.models.mechanics import posture_from_mapping


def possible(site: Site) -> Iterator[Problem]:
    """Joint angles and contacts are within the ranges of the mechanics.

    Good: ``knee_deg: 120``. Bad: ``knee_deg: 300``.
    """
    for record in site.library.postures.values():
        for end, mapping in (("start", record.start), ("end", record.end)):
            try:
                posture_from_mapping(mapping)
            except AskError as error:
                yield site.problem("postures", record.id, end, error.what, mend=error.mend, rule="posture-possible")
