"""The lint of the knowledge base: one idea per module, each rule with an id.

Structure is checked while loading; the rules here look at sense: what refers to what, whether links keep their word,
whether demands agree with equipment and pattern, whether ratios agree with each other. They stand above `graph` and
`ratios` because they look at the records as both see them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from subgraph.checks import complaints, demands, graph, links, names, pieces, postures, ratios, references, sources
from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.compile import content_key
from subgraph.library.load import load_folder

__all__ = ["RULES", "Site", "check_folder"]

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
    complaints.stricter_when_worse,
    complaints.leaves_something,
    complaints.says_what_to_do,
    sources.unused,
)


def check_folder(folder: Path) -> list[Problem]:
    """Every problem of a library folder, sorted by place.

    Parameters
    ----------
    folder : Path
        Folder of records.

    Returns
    -------
    list of Problem
        Structural problems alone where a record can't be built: sense needs sound records.
    """
    loaded = load_folder(folder, content_key(folder)[:12])
    if loaded.library is None:
        return loaded.problems
    site = Site(loaded.library, loaded.places)
    broken = list(references.unknown_ids(site))
    if broken:
        return sorted(broken)
    return sorted(problem for rule in RULES for problem in rule(site))
