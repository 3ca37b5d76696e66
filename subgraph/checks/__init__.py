"""The lint of the knowledge base: one idea per module, each rule with an id.

Structure is checked while loading; the rules here look at sense: what refers to what, whether links keep their word,
whether demands agree with equipment and pattern, whether ratios agree with each other. They stand above `graph` and
`ratios` because they look at the records as both see them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from msgspec import structs

from subgraph.checks import (
    complaints,
    demands,
    graph,
    houses,
    links,
    names,
    physics,
    pieces,
    postures,
    ratios,
    references,
    rungs,
    situations,
    sources,
)
from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.compile import content_key
from subgraph.library.house import house_key
from subgraph.library.knowledge import Library
from subgraph.library.load import Loaded, load_folder
from subgraph.library.overlay import load_with_house
from subgraph.library.records import House

__all__ = ["RULES", "Site", "check_folder", "errors_of"]

RULES: tuple[Callable[[Site], Iterator[Problem]], ...] = (
    references.unknown_ids,
    names.claimed_twice,
    graph.needs_cycles,
    graph.unreachable,
    links.keeps_its_word,
    links.direction,
    links.twice,
    demands.against_equipment,
    demands.against_stance,
    demands.against_energy,
    demands.explained,
    ratios.units_fit,
    ratios.interval_holds,
    ratios.twice,
    ratios.residuals,
    postures.possible,
    pieces.complete,
    pieces.in_order,
    pieces.something_counts,
    pieces.says_something,
    physics.against_mechanics,
    physics.against_tables,
    physics.accepted_in_vain,
    situations.told_apart,
    rungs.every_need_has_one,
    rungs.counted_as_done,
    rungs.says_its_amount,
    complaints.stricter_when_worse,
    complaints.leaves_something,
    complaints.says_what_to_do,
    sources.unused,
)


ONLY_WARN = (ratios.residuals, complaints.leaves_something, sources.unused)


def check_folder(folder: Path, house: Path | None = None) -> list[Problem]:
    """Every problem of a library folder, sorted by place.

    Parameters
    ----------
    folder : Path
        Folder of records.
    house : Path, optional
        A gym's own folder to lay over it; the lint then speaks of the merged whole.

    Returns
    -------
    list of Problem
        Structural problems alone where a record can't be built: sense needs sound records.
    """
    if house is None:
        return _judge(load_folder(folder, content_key(folder)[:12]), RULES)
    key = house_key(house, content_key(folder))[:12]
    return _judge(load_with_house(folder, house, key), (*RULES, *houses.RULES))


def errors_of(loaded: Loaded) -> list[Problem]:
    """The problems that keep records from being used: all that a rule of the lint calls an error."""
    return _judge(loaded, tuple(rule for rule in RULES if rule not in ONLY_WARN))


def _judge(loaded: Loaded, rules: Iterable[Callable[[Site], Iterator[Problem]]]) -> list[Problem]:
    found = _found(loaded, rules)
    if loaded.overlay is None:
        return found
    return [p if p.file.startswith(f"{loaded.overlay.folder}/") else _brought_out(p) for p in found]


def _brought_out(problem: Problem) -> Problem:
    """A problem of a library record that only shows with the house over it: not the library's to mend."""
    mend = "it comes of a change in the house: change less, or override this record too"
    return structs.replace(problem, mend=mend) if problem.severity == "error" else problem


def _found(loaded: Loaded, rules: Iterable[Callable[[Site], Iterator[Problem]]]) -> list[Problem]:
    if loaded.library is None:
        return sorted([*loaded.problems, *_of_the_rest(loaded)])
    site = _site(loaded, loaded.library)
    broken = list(references.unknown_ids(site))
    if broken:
        also = [*graph.needs_cycles(site), *names.claimed_twice(site)] if loaded.overlay else []
        return sorted([*broken, *also])
    return sorted(problem for rule in rules for problem in rule(site))


def _of_the_rest(loaded: Loaded) -> Iterator[Problem]:
    """What can be said of the sound records beside a house's broken ones, so that one run lists it all."""
    if loaded.overlay is None or loaded.overlay.good_part is None:
        return
    site = _site(loaded, loaded.overlay.good_part)
    missing = [p for p in references.unknown_ids(site) if not any(f"'{b}'" in p.what for b in loaded.overlay.broken)]
    yield from missing
    yield from graph.needs_cycles(site)
    yield from names.claimed_twice(site)


def _site(loaded: Loaded, library: Library) -> Site:
    """What the rules work on. Links are judged by what the trade has, not by what one house owns."""
    bare = Library(library.packed)
    bare.house = House()
    if loaded.overlay is None:
        return Site(bare, loaded.places)
    over = loaded.overlay
    return Site(bare, loaded.places, over.changed, over.touched, tuple(over.laid), library.house)
