"""Whether the lifts of a complex go on from one another: where the load is after one, and where the next begins."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from subgraph.library.knowledge import Library
from subgraph.library.records import LoadPlace, Movement

# A load may be lowered between two lifts, from later to earlier, and never raised; the back is reached from overhead.
_HEIGHT: dict[LoadPlace, int] = {"floor": 0, "hips": 1, "front": 2, "back": 3, "overhead": 4}


def way_of(library: Library, movement: Movement) -> tuple[LoadPlace, LoadPlace] | None:
    """Where a lift begins and ends; None where no record says."""
    for path in library.load_paths.values():
        for end, ids in path.ends.items():
            if movement.id in ids:
                return path.id, end
    return None


def goes_on(library: Library, before: Movement, after: Movement) -> bool:
    """Whether a lift can begin where the one before it ended, with no more than lowering the load.

    Parameters
    ----------
    library : Library
        Records.
    before, after : Movement
        Two parts of a complex, one behind the other; what no record tells is believed.
    """
    first, second = way_of(library, before), way_of(library, after)
    if first is None or second is None:
        return True
    ends, begins = first[1], second[0]
    if ends == "back":
        return begins != "front"  # nobody brings a bar round the head
    return _HEIGHT[begins] <= _HEIGHT[ends] and (begins != "back" or ends == "overhead")


def breaks_of(library: Library, parts: Sequence[Movement]) -> list[Movement]:
    """The parts of a complex that the load has to be brought to otherwise: from a rack, or picked up again."""
    return [after for before, after in itertools.pairwise(parts) if not goes_on(library, before, after)]
