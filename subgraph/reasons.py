"""Why a substitute fits, what it keeps and what it gives up, in a coach's words made from records."""

from __future__ import annotations

from subgraph.graph import Step
from subgraph.library.knowledge import Library
from subgraph.library.pack import kinship
from subgraph.library.records import Movement
from subgraph.rack import at_hand
from subgraph.today import Filter, Removal, Today, describe_equipment, free_hands

# Of a link that is written from the other end alone: its own words would speak of the way back.
_FROM_THE_OTHER_END = {"easier": "a step down from", "harder": "a step up from", "sideways": "a peer of"}
_KEPT = 0.5  # kinship from which a pattern counts as kept


def keeps(library: Library, asked: Movement, other: Movement) -> tuple[str, ...]:
    """Patterns and prime movers that the substitute keeps."""
    kept = [
        library.patterns[p].name
        for p in asked.pattern
        if max((kinship(library.patterns, p, q) for q in other.pattern), default=0) >= _KEPT
    ]
    prime = [library.muscles[m].name for m, w in asked.muscles.items() if w == 3 and other.muscles.get(m, 0) >= 2]
    return tuple(dict.fromkeys([*kept, *prime]))


def loses(library: Library, asked: Movement, other: Movement) -> tuple[str, ...]:
    """Patterns and muscles that the substitute gives up, the most important first."""
    lost = [
        library.patterns[p].name
        for p in asked.pattern
        if max((kinship(library.patterns, p, q) for q in other.pattern), default=0) < _KEPT
    ]
    prime = [library.muscles[m].name for m, w in asked.muscles.items() if w >= 2 and not other.muscles.get(m)]
    if other.met.value < 0.75 * asked.met.value:
        prime.append("some of the breathing")
    return tuple(dict.fromkeys([*lost, *prime]))[:4]


def because(
    filter_: Filter,
    asked: Movement,
    other: Movement,
    step: Step | None,
    blocked: list[Removal],
    harder: bool,
) -> tuple[str, ...]:
    """Why it fits this ask: the link in a coach's words, what is eased, what it needs."""
    library = filter_.library
    found = []
    if harder:
        found.append("the next rung up from what is written")
    if step is not None:
        found.append(step.link.why if step.declared else f"{_FROM_THE_OTHER_END[step.kind]} {asked.name}")
    eased = [
        f"{library.demands[r.demand].name} {asked.grade(r.demand)} down to {other.grade(r.demand)}"
        for r in blocked
        if r.demand
    ]
    if eased:
        found.append(", ".join(eased[:3]))
    if any(r.kind == "equipment" for r in blocked):
        needs = [describe_equipment(library, item) for item in at_hand(filter_, other)]
        found.append("needs no equipment" if not needs else "needs only " + ", ".join(needs))
    return tuple(found)


def cautions(library: Library, other: Movement, today: Today) -> tuple[str, ...]:
    """What to watch: of the movement, then of what the member told."""
    one_armed = other.hands == 1 and other.sides != "both" and free_hands(library, today) == 1
    free = ("every rep with the free arm, half as many may be enough",) if one_armed else ()
    watch = [w for t in today.complaints if t.complaint for w in library.complaints[t.complaint].watch]
    return (*free, *other.cautions, *watch[:2])
