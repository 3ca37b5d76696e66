"""What stands between a member and a movement, and what is one rung away from what is owned.

The rungs are the movements that `needs` edges lead to, without those that are owned. When a rung is done, and where
that measure comes from, is data in `library/rungs.yaml`. Owning a movement implies owning all that it needs.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable
from typing import Literal

from msgspec import Struct, structs

from subgraph.errors import AskError
from subgraph.graph import must_own_first, steps
from subgraph.library.knowledge import Library
from subgraph.library.records import LEVELS, Level, Movement, Rung
from subgraph.options import Answer, Option, options
from subgraph.quantities import Amount, round_to_board
from subgraph.today import Ask, Filter, Removal, Today

_MINUTE_S = 60.0
Outcome = Literal["rungs", "next", "owned", "refer"]


class Step(Struct, frozen=True):
    """One rung that is not owned yet.

    Parameters
    ----------
    movement : Movement
        The record.
    rung : Rung or None
        When it is done; None where the library has no measure.
    opens : tuple of Movement
        What needs it on the way to the goal.
    waits_for : tuple of Movement
        Rungs that must come before it, not owned yet; empty where it can be worked on now.
    removals : tuple of Removal
        Why it is not for today (complaint, equipment, limit); empty where it is.
    substitute : Option or None
        What the member does today in place of the goal while on this rung, with all rungs before it owned.
    stand_in : Option or None
        What trains the rung itself today where it falls out; None where it doesn't, or where nothing comes close.
    """

    movement: Movement
    rung: Rung | None
    opens: tuple[Movement, ...]
    waits_for: tuple[Movement, ...]
    removals: tuple[Removal, ...]
    substitute: Option | None
    stand_in: Option | None


class Progression(Struct, frozen=True):
    """What stands between a member and a movement.

    Parameters
    ----------
    goal : Movement
        The movement asked for.
    asked : Ask
        How much of it the substitutes stand in for: as asked, or about a minute of it where no amount was given.
    outcome : {'rungs', 'next', 'owned', 'refer'}
        `next`: nothing stands between, the movement itself is what to learn now; `owned`: it is owned; `refer`: stop
        and refer, without any rung.
    owned : tuple of Movement
        Rungs of the goal that are owned, as told or because something owned needs them.
    assumed : tuple of Movement
        Rungs taken as owned at the member's level.
    steps : tuple of Step
        What is left, every rung after all that it needs, easiest first.
    removals : tuple of Removal
        Why the goal itself is not for today.
    answer : Answer
        What `options` says of the goal today: the first substitute, the referral, notes and caution.
    """

    goal: Movement
    asked: Ask
    outcome: Outcome
    owned: tuple[Movement, ...]
    assumed: tuple[Movement, ...]
    steps: tuple[Step, ...]
    removals: tuple[Removal, ...]
    answer: Answer


class Nearby(Struct, frozen=True):
    """A movement one rung away.

    Parameters
    ----------
    movement : Movement
        Not owned; everything that it needs is.
    from_ : tuple of Movement
        The owned movements that lead to it.
    why : str
        A coach's words of the link; empty where it only needs them.
    """

    movement: Movement
    from_: tuple[Movement, ...]
    why: str


class Reach(Struct, frozen=True):
    """What is one rung away from what is owned.

    Parameters
    ----------
    owned : tuple of Movement
        As told.
    nearby : tuple of Nearby
        What opens from the told movements themselves first, then by the least rise in skill and strength.
    removed : dict
        Reason to number of movements one rung away that are not for today.
    """

    owned: tuple[Movement, ...]
    nearby: tuple[Nearby, ...]
    removed: dict[str, int]


def all_owned(library: Library, owned: Iterable[str]) -> set[str]:
    """Movements owned, with all that they need."""
    found: set[str] = set()
    for movement in owned:
        found |= {movement} | must_own_first(library, movement)
    return found


def in_order(library: Library, movements: Iterable[str]) -> list[str]:
    """Sort movements so that each comes after all that it needs, the easiest first.

    Parameters
    ----------
    library : Library
        Records; their needs hold no cycle.
    movements : iterable of str
        Ids.

    Returns
    -------
    list of str
        The same ids; among those that are free to come next, the least skill and strength first, ties by id.
    """
    wanted = set(movements)
    missing = {m: wanted & must_own_first(library, m) for m in wanted}

    def key(movement: str) -> tuple[int, int, str]:
        return _rank(library, movement), library.movements[movement].skill, movement

    free = [key(m) for m in wanted if not missing[m]]
    heapq.heapify(free)
    found: list[str] = []
    while free:
        done = heapq.heappop(free)[-1]
        found.append(done)
        for other in wanted:
            if done in missing[other]:
                missing[other].discard(done)
                if not missing[other]:
                    heapq.heappush(free, key(other))
    return found


def rung_of(library: Library, movement: str, opens: Iterable[str] = ()) -> Rung | None:
    """The measure of a rung: the one written for what it opens, else the plain one.

    Parameters
    ----------
    library : Library
        Records.
    movement : str
        Id of the rung.
    opens : iterable of str
        Ids that need it on the way; where several have a measure of their own, the largest amount counts.
    """
    opens = set(opens)
    own = [r for r in library.rungs.values() if r.movement == movement and opens.intersection(r.before)]
    return max(own, key=lambda r: r.amount) if own else library.rungs.get(movement)


def taken_as_owned(library: Library, today: Today) -> set[str]:
    """Movements that need no proof at the member's level."""
    limit = library.levels[today.level].taken_as_owned if today.level else None
    if limit is None:
        return set()
    columns = library.columns
    return {
        id_ for i, id_ in enumerate(columns.ids) if columns.skill[i] <= limit[0] and columns.strength[i] <= limit[1]
    }


def progression(library: Library, ask: Ask, today: Today, owned: Iterable[str] = (), *, says: str = "") -> Progression:
    """Find what stands between a member and a movement.

    Parameters
    ----------
    library : Library
        Records.
    ask : Ask
        The movement, and how much of it today's substitute stands in for; about a minute of it where the amount is
        assumed.
    today : Today
        Situation; complaints, equipment and limits take rungs out for today.
    owned : iterable of str
        Ids that the member owns.
    says : str
        Free text of the member, matched against the red flags.

    Returns
    -------
    Progression
        Rungs in order, or a referral without any.

    Raises
    ------
    AskError
        If something is told as owned and as not owned.
    """
    told = list(dict.fromkeys(owned))
    _consistent(library, told, today)
    goal = library.movements[ask.movement]
    ask = _a_minute_of(goal, ask) if ask.assumed else ask
    needed = must_own_first(library, goal.id)
    proven = all_owned(library, told)
    assumed = (needed & taken_as_owned(library, today)) - proven - today.cannot
    assumed = {m for m in assumed if not must_own_first(library, m) & today.cannot}
    have = proven | all_owned(library, assumed)
    left = [] if goal.id in have else in_order(library, needed - have)
    unowned = today.cannot | ({goal.id} - have)
    level = _level_reached(library, today.level, have)
    answer = options(library, ask, structs.replace(today, cannot=unowned | frozenset(left), level=level), says=says)
    owned_rungs = tuple(library.movements[m] for m in in_order(library, needed & proven))
    assumed_rungs = tuple(library.movements[m] for m in in_order(library, (needed & have) - proven))
    plain = Filter(library, structs.replace(today, cannot=frozenset(), level=None))
    in_the_way = tuple(plain.removals(goal))
    if answer.refer:
        return Progression(goal, ask, "refer", (), (), (), (), answer)
    found = []
    for position, id_ in enumerate(left):
        movement = library.movements[id_]
        opens = [m for m in (*left, goal.id) if id_ in library.movements[m].needs]
        removals = tuple(plain.removals(movement))
        rung = rung_of(library, id_, opens)
        ahead = frozenset(left[position:])
        while_on_it = answer
        if position:
            level = _level_reached(library, today.level, have | set(left[:position]))
            then = structs.replace(today, cannot=unowned | ahead, level=level)
            while_on_it = options(library, ask, then)
        found.append(
            Step(
                movement=movement,
                rung=rung,
                opens=tuple(library.movements[m] for m in opens),
                waits_for=tuple(library.movements[m] for m in movement.needs if m in left),
                removals=removals,
                substitute=while_on_it.options[0] if while_on_it.options else None,
                stand_in=_stand_in(library, rung, today, unowned | ahead) if removals and rung else None,
            )
        )
    outcome: Outcome = "owned" if goal.id in have else "rungs" if found else "next"
    return Progression(goal, ask, outcome, owned_rungs, assumed_rungs, tuple(found), in_the_way, answer)


def _a_minute_of(movement: Movement, ask: Ask) -> Ask:
    """The ask with as much as fills about a minute at the regular pace, as a board would write it."""
    unit = ask.amount.unit
    pace = movement.pace(unit)
    if not pace:
        return ask
    much = _MINUTE_S / pace
    return structs.replace(ask, amount=Amount(round_to_board(much, unit, 0.75 * much, 1.25 * much), unit))


def _stand_in(library: Library, rung: Rung, today: Today, unowned: frozenset[str]) -> Option | None:
    """What trains a rung that is not for today, as much as its measure asks."""
    counted = rung.unit in library.movements[rung.movement].units
    ask = Ask(rung.movement, Amount(rung.amount, rung.unit), by_the_clock=not counted)
    found = options(library, ask, structs.replace(today, cannot=unowned - {rung.movement}), top=1)
    close = [o for o in found.options if o.score >= library.scoring.good_score]
    return close[0] if close else None


def _level_reached(library: Library, level: Level | None, owned: Iterable[str]) -> Level | None:
    """The lowest level, from the one told upwards, that reaches all that is owned: who climbs is no novice for long."""
    if level is None:
        return None
    ranks = [(library.movements[m].skill, library.movements[m].strength) for m in owned]
    skill, strength = max((s for s, _ in ranks), default=0), max((p for _, p in ranks), default=0)
    higher = LEVELS[LEVELS.index(level) :]
    return next(
        (lv for lv in higher if library.levels[lv].skill >= skill and library.levels[lv].strength >= strength),
        higher[-1],
    )


def _consistent(library: Library, owned: list[str], today: Today) -> None:
    """Refuse what is owned and not owned at once, also by way of what it needs."""
    for movement in owned:
        clash = ({movement} | must_own_first(library, movement)) & today.cannot
        if clash:
            one = sorted(clash)[0]
            name, lost = library.movements[movement].name, library.movements[one].name
            what = f"{name} is told as owned and as not owned"
            if one != movement:
                what = f"{name} is told as owned, but {lost}, which it needs, as not owned"
            raise AskError(what, mend="take it out of --owns or of --cannot", nearest=(one,))


def one_rung_away(library: Library, today: Today, owned: Iterable[str]) -> Reach:
    """Movements that are one rung away from what a member owns.

    A movement is one rung away where it needs something owned, or where a coach calls it harder than something owned,
    and all that it needs is owned. What is easier than something owned, in the same family or by a link, is left out;
    so is what is easier than all that was told and only needs what that needs. Where nothing is left, the same is
    looked for from what the told movements need.

    Parameters
    ----------
    library : Library
        Records.
    today : Today
        Situation; what it takes out is counted in `Reach.removed`.
    owned : iterable of str
        Ids that the member owns.

    Raises
    ------
    AskError
        If something is told as owned and as not owned.
    """
    told = list(dict.fromkeys(owned))
    _consistent(library, told, today)
    assumed = {m for m in taken_as_owned(library, today) if not ({m} | must_own_first(library, m)) & today.cannot}
    have = all_owned(library, told) | assumed
    start = set(told)
    found = Reach((), (), {})
    while start and not found.nearby and not found.removed:
        found = _reach(library, Filter(library, today), have, start)
        start = {need for m in start for need in library.movements[m].needs}
    return structs.replace(found, owned=tuple(library.movements[m] for m in told))


def _reach(library: Library, filter_: Filter, have: set[str], start: set[str]) -> Reach:
    """What opens from some owned movements, or from what they need where it is as hard as the easiest of them."""
    from_: dict[str, list[str]] = {}
    words: dict[str, str] = {}
    below = all_owned(library, start)
    least = min(_rank(library, m) for m in start)
    for id_ in sorted(below):
        for other in library.ladder.dependants.get(id_, ()):
            if id_ in start or _rank(library, other) >= least:
                from_.setdefault(other, []).append(id_)
    for id_ in sorted(start):
        for step in steps(library, id_):
            if step.kind == "easier":
                below.add(step.to)
            elif step.kind == "harder":
                from_.setdefault(step.to, []).append(id_)
                words.setdefault(step.to, step.link.why if step.declared else "")
    nearby: list[tuple[tuple[bool, int, int, str], Nearby]] = []
    removed: dict[str, int] = {}
    for id_, leading in from_.items():
        movement = library.movements[id_]
        if id_ in below | have or not set(movement.needs) <= have or _outgrown(library, movement, start):
            continue
        if out := filter_.removals(movement):
            removed[out[0].reason] = removed.get(out[0].reason, 0) + 1
            continue
        steps_from = tuple(library.movements[m] for m in dict.fromkeys(leading))
        rise = _rank(library, id_) - max(_rank(library, m.id) for m in steps_from)
        key = (not start.intersection(leading), rise, -len(steps_from), id_)
        nearby.append((key, Nearby(movement, steps_from, words.get(id_, ""))))
    return Reach(
        (),
        tuple(near for _, near in sorted(nearby, key=lambda pair: pair[0])),
        dict(sorted(removed.items(), key=lambda kv: (-kv[1], kv[0]))),
    )


def _rank(library: Library, movement: str) -> int:
    """Skill and strength together."""
    record = library.movements[movement]
    return record.skill + record.strength


def _outgrown(library: Library, movement: Movement, owned: Iterable[str]) -> bool:
    """Whether something owned in the same family takes more of both skill and strength, or more of one and no less."""
    for id_ in owned:
        other = library.movements[id_]
        same = library.family[id_] == library.family[movement.id]
        less = movement.skill <= other.skill and movement.strength <= other.strength
        if same and less and (movement.skill, movement.strength) != (other.skill, other.strength):
            return True
    return False
