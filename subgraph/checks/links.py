"""Whether links keep their word."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.records import Link, Movement, equipment_in
from subgraph.today import Filter, Today


def keeps_its_word(site: Site) -> Iterator[Problem]:
    """A link that is for want of equipment leads to what does without it; one that spares a demand lowers it.

    Good: toes-to-bar to V-up, ``without: [pull-up-bar]``. Bad: toes-to-bar to hanging knee raise with the same.
    """
    lib = site.library
    for link in lib.links:
        key = f"{link.from_}>{link.to}"
        start, end = lib.movements[link.from_], lib.movements[link.to]
        for item in link.without:
            filter_ = Filter(lib, Today(without=frozenset([item])))
            if filter_.missing(end):
                yield site.problem(
                    "links",
                    key,
                    "without",
                    f"{end.id} needs {item} too",
                    mend="point it at one that does without",
                    rule="link-equipment",
                )
            if not filter_.missing(start) and not _could_use(start, item):
                yield site.problem(
                    "links",
                    key,
                    "without",
                    f"{start.id} does not need {item}",
                    mend="take it out",
                    rule="link-equipment",
                    severity="warning",
                )
        for demand in link.spares:
            if end.grade(demand) >= start.grade(demand):
                yield site.problem(
                    "links",
                    key,
                    "spares",
                    f"{demand} is {start.grade(demand)} in {start.id} and {end.grade(demand)} in {end.id}",
                    mend="take it out, or mend a grade",
                    rule="link-spares",
                )


def _could_use(movement: Movement, item: str) -> bool:
    """Whether an item is one of the alternatives a movement may be done with."""
    return any(item in equipment_in(need) for need in movement.uses)


def direction(site: Site) -> Iterator[Problem]:
    """An easier link does not lead to what takes clearly more skill and strength.

    Good: toes-to-bar to hanging knee raise, easier. Bad: the same, harder.
    """
    lib = site.library
    for link in lib.links:
        if link.kind == "sideways":
            continue
        start, end = lib.movements[link.from_], lib.movements[link.to]
        easier, harder = (start, end) if link.kind == "harder" else (end, start)
        rise = (easier.skill - harder.skill) + (easier.strength - harder.strength)
        if rise >= 2:
            yield site.problem(
                "links",
                f"{link.from_}>{link.to}",
                "kind",
                f"{easier.id} (skill {easier.skill}, strength {easier.strength}) is called easier than "
                f"{harder.id} (skill {harder.skill}, strength {harder.strength})",
                mend="turn the kind, make it sideways, or mend a rank",
                rule="link-direction",
            )


def twice(site: Site) -> Iterator[Problem]:
    """A pair is linked once, since the opposite direction is derived; peers may have a record for each way.

    Good: one record, or two that are both sideways. Bad: `a > b` twice, or `a > b` easier and `b > a` harder.
    """
    seen: dict[frozenset[str], tuple[str, Link]] = {}
    repeats: dict[str, int] = {}
    for link in site.library.links:
        key = f"{link.from_}>{link.to}"
        repeats[key] = repeats.get(key, 0) + 1
        if repeats[key] > 1:
            key = f"{key}#{repeats[key]}"
        pair = frozenset((link.from_, link.to))
        if len(pair) == 1:
            yield site.problem("links", key, "to", "links a movement to itself", mend="take it out", rule="link-once")
        elif pair in seen and not _both_ways(link, seen[pair][1]):
            yield site.problem(
                "links",
                key,
                "",
                f"the pair is already linked at {site.where('links', seen[pair][0])}",
                mend="keep one",
                rule="link-once",
            )
        seen.setdefault(pair, (key, link))


def _both_ways(one: Link, other: Link) -> bool:
    return one.from_ != other.from_ and one.kind == other.kind == "sideways"
