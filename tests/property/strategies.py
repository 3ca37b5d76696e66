"""Random members, floors and asks, drawn from the records of a library."""

from __future__ import annotations

from hypothesis import strategies as st

from subgraph.library.knowledge import Library
from subgraph.library.records import INTENTS, IRRITABILITIES, LEVELS, Movement
from subgraph.quantities import Amount, Unit
from subgraph.today import Ask, Today, Told

# From hardly any to more than usual.
AMOUNTS: dict[Unit, tuple[float, ...]] = {
    "rep": (1, 2, 3, 7, 10, 15, 21, 50, 100, 400),
    "s": (1, 10, 30, 60, 95, 600),
    "m": (5, 15, 50, 200, 400, 1600, 5000),
    "cal": (1, 7, 12, 50, 200),
}


def movements(library: Library) -> st.SearchStrategy[Movement]:
    """Any movement, each as likely as the next."""
    return st.sampled_from(list(library.movements)).map(library.movements.__getitem__)


@st.composite
def asks(draw: st.DrawFn, library: Library) -> Ask:
    """Any movement in any unit that it is counted in, and by the clock; with and without a load."""
    movement = draw(movements(library))
    unit = draw(st.sampled_from(list(dict.fromkeys((*movement.units, "s")))))
    amount = Amount(draw(st.sampled_from(AMOUNTS[unit])), unit)
    load = draw(st.none() | st.sampled_from((2.5, 10.0, 43.0, 120.0))) if movement.load else None
    return Ask(movement.id, amount, load, by_the_clock=unit == "s" and "s" not in movement.units)


def complaints(library: Library, *, refer: bool = False) -> st.SearchStrategy[tuple[Told, ...]]:
    """One to three complaints, each a profile, what provokes it, or both; profiles that are sent on where wanted."""
    profiles = [c.id for c in library.complaints.values() if c.refer is refer]
    provoked = st.lists(st.sampled_from(list(library.provocations)), max_size=2, unique=True).map(tuple)
    alone = st.sampled_from(list(library.provocations)).map(lambda p: Told(None, (p,)))
    both = st.builds(Told, st.sampled_from(profiles), provoked)
    return st.lists(both if refer else both | alone, min_size=1, max_size=3).map(tuple)


@st.composite
def situations(draw: st.DrawFn, library: Library) -> Today:
    """Any floor and any member who is not sent on."""
    kit = st.sampled_from(list(library.equipment))
    without: frozenset[str] = frozenset()
    only: dict[str, int] | None = None
    match draw(st.sampled_from(("all", "without", "only"))):
        case "without":
            without = draw(st.frozensets(kit, max_size=12))
        case "only":
            only = draw(st.dictionaries(kit, st.integers(0, 3), max_size=8))
    return Today(
        without=without,
        only=only,
        complaints=draw(st.just(()) | complaints(library)),
        irritability=draw(st.sampled_from(IRRITABILITIES)),
        level=draw(st.none() | st.sampled_from(LEVELS)),
        cannot=draw(st.frozensets(st.sampled_from(list(library.movements)), max_size=3)),
        limits=draw(st.frozensets(st.sampled_from(list(library.limits)), max_size=2)),
        intent=draw(st.none() | st.sampled_from(INTENTS)),
    )


@st.composite
def red_flag_words(draw: st.DrawFn, library: Library) -> str:
    """Words of a member that hold a sign of a red flag, with plain talk before and after."""
    flag = draw(st.sampled_from(list(library.red_flags.values())))
    phrase = draw(st.sampled_from((*flag.phrases, *flag.weak)))
    words = [draw(st.sampled_from(part.split("|"))).rstrip("*") for part in phrase.split()]
    before, after = draw(st.sampled_from((("", ""), ("well. ", ""), ("feeling fine today. ", ". ready when you are"))))
    return before + " ".join(words) + after
