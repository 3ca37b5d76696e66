"""Ids that refer to nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from subgraph.checks.computed import QUANTITIES
from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.load import suggestion
from subgraph.library.records import equipment_in
from subgraph.stimulus import FACETS

RULE = "id-known"


def unknown_ids(site: Site) -> Iterator[Problem]:
    """Every id in a record names a record.

    Good: ``demands: {hang: 3}``. Bad: ``demands: {hangs: 3}``.
    """
    lib = site.library

    def refer(
        collection: str, key: str, field: str, ids: Iterable[str], known: Iterable[str], what: str
    ) -> Iterator[Problem]:
        choices = known if isinstance(known, dict) else set(known)
        for id_ in ids:
            if id_ not in choices:
                yield site.problem(
                    collection,
                    key,
                    field,
                    f"no {what} is called '{id_}'",
                    mend=suggestion(id_, choices) or "add it, or take it out",
                    rule=RULE,
                )

    for path in lib.load_paths.values():
        lifts = [id_ for ids in path.ends.values() for id_ in ids]
        yield from refer("load_paths", path.id, "ends", lifts, lib.movements, "movement")
        yield from refer("load_paths", path.id, "source", [path.source], lib.sources, "source")
    for m in lib.movements.values():
        at = ("movements", m.id)
        yield from refer(*at, "pattern", m.pattern, lib.patterns, "pattern")
        yield from refer(*at, "muscles", m.muscles, lib.muscles, "muscle")
        yield from refer(*at, "character", [m.character], lib.characters, "character")
        yield from refer(*at, "stance", m.stance, lib.stances, "stance")
        yield from refer(*at, "area", [m.area], lib.areas, "area")
        yield from refer(*at, "height", [m.height], lib.heights, "height")
        yield from refer(*at, "noise", [m.noise], lib.noises, "noise")
        yield from refer(*at, "demands", m.demands, lib.demands, "demand")
        yield from refer(*at, "why", m.why, m.demands, "graded demand")
        yield from refer(*at, "needs", m.needs, lib.movements, "movement")
        yield from refer(
            *at, "uses", (item for need in m.uses for item in equipment_in(need)), lib.equipment, "equipment"
        )
        yield from refer(*at, "sources", [*m.sources, m.met.source], lib.sources, "source")
        if m.load:
            yield from refer(*at, "load", [m.load.implement], lib.equipment, "equipment")
        if abs(sum(m.pattern.values()) - 1) > 0.011:
            total = sum(m.pattern.values())
            yield site.problem(
                *at, "pattern", f"shares sum to {total:.2f}", mend="make them sum to 1", rule="pattern-sum"
            )
    for call in lib.calls.values():
        yield from refer("calls", call.id, "id", [call.id], lib.movements, "movement")
    for reading in lib.readings.values():
        yield from refer("readings", reading.id, "movements", reading.movements, lib.movements, "movement")
    for slowing in lib.slowing.values():
        yield from refer("slowing", slowing.id, "id", [slowing.id], lib.characters, "character")
    for change in lib.changes.values():
        yield from refer("changes", change.id, "uses", change.uses, lib.equipment, "equipment")
    for dose in lib.doses.values():
        at = ("doses", dose.id)
        yield from refer(*at, "demands", dose.demands, lib.demands, "demand")
        yield from refer(*at, "patterns", dose.patterns, lib.patterns, "pattern")
        yield from refer(*at, "uses", dose.uses, lib.equipment, "equipment")
        yield from refer(*at, "caution", [dose.caution] if dose.caution else [], lib.cautions, "caution")
    for section in ("domains", "slowing", "changes", "rules", "doses"):
        for record in getattr(lib, section).values():
            yield from refer(section, record.id, "source", [record.source], lib.sources, "source")
    for version in lib.versions.values():
        at = ("versions", version.id)
        yield from refer(*at, "without", version.without, lib.equipment, "equipment")
        yield from refer(*at, "only", version.only, lib.equipment, "equipment")
        yield from refer(*at, "cannot", version.cannot, lib.movements, "movement")
        yield from refer(*at, "limits", version.limits, lib.limits, "limit")
    for posture in lib.postures.values():
        yield from refer("postures", posture.id, "movement", [posture.movement], lib.movements, "movement")
    for kind in ("computed", "published", "accepted"):
        for row in getattr(lib, kind).values():
            yield from refer(kind, row.id, "demand", [row.demand], lib.demands, "demand")
            yield from refer(kind, row.id, "movements", getattr(row, "movements", ()), lib.movements, "movement")
    for borders in lib.computed.values():
        yield from refer("computed", borders.id, "quantity", [borders.quantity], QUANTITIES, "quantity")
    for table in lib.published.values():
        yield from refer("published", table.id, "source", [table.source], lib.sources, "source")
    for link in lib.links:
        at = ("links", f"{link.from_}>{link.to}")
        yield from refer(*at, "from", [link.from_], lib.movements, "movement")
        yield from refer(*at, "to", [link.to], lib.movements, "movement")
        yield from refer(*at, "without", link.without, lib.equipment, "equipment")
        yield from refer(*at, "spares", link.spares, lib.demands, "demand")
    for ratio in lib.ratios:
        at = ("ratios", ratio.id)
        yield from refer(*at, "from", [ratio.from_], lib.movements, "movement")
        yield from refer(*at, "to", [ratio.to], lib.movements, "movement")
        yield from refer(*at, "source", [ratio.source], lib.sources, "source")
    for item in lib.equipment.values():
        at = ("equipment", item.id)
        for field in ("holds", "needs", "does_for", "usually"):
            yield from refer(*at, field, getattr(item, field), lib.equipment, "equipment")
    at = ("intents", "scoring")
    yield from refer(*at, "rest_when", lib.scoring.rest_when, lib.demands, "demand")
    yield from refer(*at, "gentle", lib.scoring.gentle, lib.movements, "movement")
    for limit in lib.limits.values():
        yield from refer("limits", limit.id, "stances", limit.stances, lib.stances, "stance")
        yield from refer("limits", limit.id, "when_not_owned", limit.when_not_owned, lib.movements, "movement")
        yield from refer("limits", limit.id, "brings", limit.brings, lib.equipment, "equipment")
        yield from refer("limits", limit.id, "excludes", limit.excludes.demands, lib.demands, "demand")
    for demand in lib.demands.values():
        yield from refer("demands", demand.id, "source", [demand.source], lib.sources, "source")
    for kind in ("patterns", "muscles", "characters"):
        terms = getattr(lib, kind)
        for term in terms.values():
            yield from refer(kind, term.id, "kin", term.kin, terms, kind.removesuffix("s"))
    for complaint in lib.complaints.values():
        at = ("complaints", complaint.id)
        yield from refer(*at, "at_most", complaint.at_most, lib.demands, "demand")
        yield from refer(*at, "muscles", complaint.muscles, lib.muscles, "muscle")
        yield from refer(*at, "limits", complaint.limits, lib.limits, "limit")
        yield from refer(*at, "refer_with", complaint.refer_with, lib.complaints, "complaint")
        yield from refer(*at, "sources", complaint.sources, lib.sources, "source")
    for provocation in lib.provocations.values():
        at = ("provocations", provocation.id)
        yield from refer(*at, "at_most", provocation.at_most, lib.demands, "demand")
        yield from refer(*at, "at_site", provocation.at_site.values(), lib.provocations, "provocation")
        sites = {complaint.site: None for complaint in lib.complaints.values()}
        yield from refer(*at, "at_site", provocation.at_site, sites, "site")
    for rung in lib.rungs.values():
        at = ("rungs", rung.id)
        yield from refer(*at, "movement", [rung.movement], lib.movements, "movement")
        yield from refer(*at, "before", rung.before, lib.movements, "movement")
        yield from refer(*at, "source", [rung.source], lib.sources, "source")
    families = set(lib.family.values())
    for situation in lib.situations.values():
        at = ("situations", situation.id)
        stock = [item for item in situation.only or () if item != "nothing"]
        yield from refer(*at, "only", equipment_in(tuple(stock)), lib.equipment, "equipment")
        yield from refer(*at, "without", situation.without, lib.equipment, "equipment")
        yield from refer(*at, "limits", situation.limits, lib.limits, "limit")
        yield from refer(*at, "complaints", situation.complaints, lib.complaints, "complaint")
        yield from refer(*at, "cannot", situation.cannot, lib.movements, "movement")
        yield from refer(*at, "nothing_for", situation.nothing_for, families, "family")
    for stage in lib.stages.values():
        yield from refer("stages", stage.id, "complaint", [stage.complaint], lib.complaints, "complaint")
    for flag in lib.red_flags.values():
        yield from refer("red_flags", flag.id, "sources", flag.sources, lib.sources, "source")
        yield from refer("red_flags", flag.id, "level", [flag.level], lib.red_flag_levels, "level")
    for caution in lib.cautions.values():
        yield from refer("cautions", caution.id, "sources", caution.sources, lib.sources, "source")
    for intent in lib.intents.values():
        yield from refer("intents", intent.id, "weights", intent.weights, FACETS, "facet")
        yield from refer("intents", intent.id, "at_most", intent.at_most, lib.demands, "demand")
