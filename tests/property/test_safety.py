"""What must hold for any movement, any floor and any member.

What an option may need and demand is worked out here from the records alone, never by the filter under test.
"""

from __future__ import annotations

import math
import random
import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec import structs

from subgraph.amount import in_sets
from subgraph.library.knowledge import Library
from subgraph.library.records import INTENTS, IRRITABILITIES, LEVELS, Movement
from subgraph.options import Answer, options
from subgraph.quantities import Amount
from subgraph.ratios import EQUALISERS, network_of, node, ratio_between
from subgraph.show.data import answer_data, encode
from subgraph.show.text import Style, answer_text
from subgraph.today import Ask, Filter, Today, Told
from tests.property.strategies import AMOUNTS, asks, complaints, red_flag_words, situations

PROMISES = re.compile(r"\bcleared\b|(?<!not )(?<!never )(?<!nor )\bsafe(?:ly)?\b", re.I)


def pieces(choice: str) -> dict[str, int]:
    """Item to count in one choice of a record's `uses`: "2 dumbbell", "barbell + rack"."""
    found: dict[str, int] = {}
    for part in choice.split(" + "):
        count, _, item = part.partition(" ")
        found.update({item: int(count)} if count.isdigit() else {part: 1})
    return found


def stock(library: Library, today: Today) -> dict[str, float]:
    """How many of each item there are today; what is not there is left out."""
    kit = library.equipment.values()
    if today.only is None:
        gone = set(today.without)
        while more := {e.id for e in kit if gone & set(e.needs)} | {
            h for g in gone for h in library.equipment[g].holds
        }:
            if more <= gone:
                break
            gone |= more
        return {e.id: math.inf for e in kit if e.id not in gone}
    there: dict[str, float] = {e.id: math.inf for e in kit if e.surroundings}
    for item in today.only:  # what stands on hand brings along what it holds, needs and does for
        for other in (
            *library.equipment[item].holds,
            *library.equipment[item].needs,
            *library.equipment[item].does_for,
        ):
            there.setdefault(other, math.inf)
    there |= {item: count or math.inf for item, count in today.only.items() if not library.equipment[item].surroundings}
    return there


def too_high(library: Library, today: Today, movement: Movement) -> list[str]:
    """Demands and muscles above what profiles, provocations and the intent let through."""
    column = IRRITABILITIES.index(today.irritability)
    most = [library.complaints[t.complaint].at_most for t in today.complaints if t.complaint]
    most += [library.provocations[p].at_most for t in today.complaints for p in t.provoked_by]
    capped = [(demand, grades[column]) for at_most in most for demand, grades in at_most.items()]
    if today.intent:
        capped += library.intents[today.intent].at_most.items()
    rested = [library.complaints[t.complaint].muscles for t in today.complaints if t.complaint]
    held = [(muscle, grades[column]) for muscles in rested for muscle, grades in muscles.items()]
    return [
        f"{what} {graded[what]} over {g}"
        for graded, caps in ((movement.demands, capped), (movement.muscles, held))
        for what, g in caps
        if graded.get(what, 0) > g
    ]


def broken_limits(library: Library, today: Today, movement: Movement) -> list[str]:
    """Limits, told or brought along, that a movement breaks."""
    told = set(today.limits)
    for t in today.complaints:
        told |= set(library.complaints[t.complaint].limits) if t.complaint else set()
    told |= {limit.id for limit in library.limits.values() if set(limit.when_not_owned) & today.cannot}
    broken = []
    for id_ in sorted(told):
        limit = library.limits[id_]
        sizes = [(limit.most.area, movement.area, list(library.areas))]
        sizes.append((limit.most.height, movement.height, list(library.heights)))
        sizes.append((limit.most.noise, movement.noise, list(library.noises)))
        if (
            set(limit.excludes.traits) & set(movement.traits)
            or any(movement.demands.get(d, 0) > g for d, g in limit.excludes.demands.items())
            or (limit.stances and set(movement.stance) - set(limit.stances))
            or any(most and order.index(own) > order.index(most) for most, own, order in sizes)
            or (limit.most.hands is not None and movement.hands > limit.most.hands)
        ):
            broken.append(id_)
    return broken


def owned_first(library: Library, movement: Movement) -> set[str]:
    """A movement and all that it needs, by way of others too."""
    found, todo = {movement.id}, list(movement.needs)
    while todo:
        need = todo.pop()
        if need not in found:
            found.add(need)
            todo += library.movements[need].needs
    return found


def breaches(library: Library, today: Today, movement: Movement) -> list[str]:
    """All that stands against a movement today, worked out from the records."""
    there = stock(library, today)
    found = []
    for need in movement.uses:
        choices = (need,) if isinstance(need, str) else need
        if not any(all(there.get(i, 0) >= n for i, n in pieces(c).items()) for c in choices):
            found.append(f"needs {need}")
    found += too_high(library, today, movement)
    found += [f"breaks {limit}" for limit in broken_limits(library, today, movement)]
    found += [f"needs {m}, not owned" for m in sorted(owned_first(library, movement) & today.cannot)]
    profiles = [library.complaints[t.complaint] for t in today.complaints if t.complaint]
    level = [library.levels[today.level]] if today.level else []
    skill = [r.skill for r in level] + [c.most_skill for c in profiles if c.most_skill is not None]
    strength = [r.strength for r in level] + [c.most_strength for c in profiles if c.most_strength is not None]
    if movement.skill > min(skill, default=5) or movement.strength > min(strength, default=5):
        found.append(f"skill {movement.skill} or strength {movement.strength} is beyond the member")
    return found


def hold(library: Library, ask: Ask, today: Today, answer: Answer) -> None:
    """Whatever must be true of any answer."""
    against = {o.movement.id: found for o in answer.options if (found := breaches(library, today, o.movement))}
    assert not against
    assert ask.movement not in {o.movement.id for o in answer.options}
    assert len({o.movement.id for o in answer.options}) == len(answer.options)
    for option in answer.options:
        assert 0 < option.low <= option.amount <= option.high < math.inf, option.movement.id
        assert 0 < option.ratio.low <= option.ratio.value <= option.ratio.high, option.movement.id
        assert option.load_kg is None or option.load_kg > 0
        assert 0 <= option.score <= 1
        assert option.unit == "s" or option.unit in option.movement.units
        assert len(option.movement.cues) >= 2
    if answer.outcome == "as-written":
        assert not breaches(library, today, answer.movement)
    if answer.outcome == "options":
        assert answer.options
    if answer.outcome in ("nothing-suitable", "refer"):
        assert not answer.options
    assert answer.caution


def random_today(library: Library, dice: random.Random) -> Today:
    """A situation at the dice's whim, much quicker than a drawn one."""
    kit, floor = list(library.equipment), dice.randrange(3)
    profiles = [c.id for c in library.complaints.values() if not c.refer]
    provoked = list(library.provocations)
    told = tuple(
        Told(dice.choice([*profiles, None]), tuple(dice.sample(provoked, dice.randint(1, 2))))
        for _ in range(dice.randint(0, 3))
    )
    return Today(
        without=frozenset(dice.sample(kit, dice.randint(1, 12))) if floor == 1 else frozenset(),
        only={item: dice.randint(0, 3) for item in dice.sample(kit, dice.randint(0, 10))} if floor == 2 else None,
        complaints=told,
        irritability=dice.choice(IRRITABILITIES),
        level=dice.choice([None, *LEVELS]),
        cannot=frozenset(dice.sample(list(library.movements), dice.randint(0, 2))),
        limits=frozenset(dice.sample(list(library.limits), dice.choice((0, 0, 1, 2)))),
        intent=dice.choice([None, *INTENTS]),
    )


@pytest.mark.parametrize("part", range(4))
def test_every_movement_is_answered_within_the_situation(library: Library, part: int) -> None:
    dice = random.Random(part)
    for id_ in list(library.movements)[part::4]:
        movement = library.movements[id_]
        today = random_today(library, dice)
        ask = Ask(id_, Amount(dice.choice(AMOUNTS[movement.unit]), movement.unit))
        hold(library, ask, today, options(library, ask, today, top=6))


@given(st.data())
def test_no_option_goes_against_what_was_told(library: Library, data: st.DataObject) -> None:
    ask, today = data.draw(asks(library)), data.draw(situations(library))
    hold(library, ask, today, options(library, ask, today, top=data.draw(st.integers(1, 20))))


@settings(max_examples=25)  # a fresh library decodes everything again
@given(st.data())
def test_the_same_ask_gives_the_same_answer(library: Library, data: st.DataObject) -> None:
    ask, today = data.draw(asks(library)), data.draw(situations(library))
    first = encode(answer_data(library, options(library, ask, today)))
    assert encode(answer_data(library, options(library, ask, today))) == first
    fresh = Library(library.packed)
    assert encode(answer_data(fresh, options(fresh, ask, today))) == first


@settings(max_examples=50)
@given(st.data())
def test_survivors_are_those_without_a_removal(library: Library, data: st.DataObject) -> None:
    filter_ = Filter(library, data.draw(situations(library)))
    staying = {library.columns.ids[i] for i in filter_.survivors()}
    assert staying == {m.id for m in library.movements.values() if not filter_.removals(m)}
    assert sum(filter_.reasons().values()) == len(library.movements) - len(staying)


@given(st.data())
def test_a_red_flag_leaves_no_options(library: Library, data: st.DataObject) -> None:
    ask, today = data.draw(asks(library)), data.draw(situations(library))
    words = data.draw(red_flag_words(library))
    answer = options(library, ask, today, says=words)
    assert (answer.outcome, answer.options) == ("refer", ()), words
    assert answer.refer is not None
    assert answer.refer.level in ("emergency", "urgent", "clinician")
    assert answer.refer.text


@given(st.data())
def test_a_profile_that_is_sent_on_leaves_no_options(library: Library, data: st.DataObject) -> None:
    today = data.draw(situations(library))
    told = (*today.complaints, *data.draw(complaints(library, refer=True)))
    today = Today(complaints=told, irritability=today.irritability, level=today.level, limits=today.limits)
    answer = options(library, data.draw(asks(library)), today)
    assert (answer.outcome, answer.options) == ("refer", ())


@settings(max_examples=50)
@given(st.data())
def test_nothing_printed_clears_anyone(library: Library, data: st.DataObject) -> None:
    ask, today = data.draw(asks(library)), data.draw(situations(library))
    answer = options(library, ask, today)
    text = answer_text(library, answer, today, (), Style(False))
    assert not (found := PROMISES.search(text)), text[max(0, found.start() - 80) : found.end() + 80]
    assert max(map(len, text.splitlines())) <= 80


def test_no_record_clears_anyone(library: Library) -> None:
    # What a member may say ("not cleared by the surgeon") is listened for, never printed.
    flags = [structs.replace(f, phrases=(), weak=(), not_=()) for f in library.red_flags.values()]
    spoken = [*library.cautions.values(), *library.complaints.values(), *flags, *library.movements.values()]
    assert [r.id for r in spoken if PROMISES.search(repr(r))] == []


@given(st.data())
def test_ratio_there_and_back_is_one(library: Library, data: st.DataObject) -> None:
    network = network_of(library, data.draw(st.sampled_from(EQUALISERS)))
    a, b, c = (data.draw(st.sampled_from(network.nodes)) for _ in range(3))
    there, back = ratio_between(network, a, b), ratio_between(network, b, a)
    assume(there is not None)
    assert there is not None
    assert back is not None
    assert there.value * back.value == pytest.approx(1)
    assert there.sigma == pytest.approx(back.sigma, abs=1e-3)
    on, whole = ratio_between(network, b, c), ratio_between(network, a, c)
    assert (on is None) is (whole is None)
    if on is not None and whole is not None:
        assert there.value * on.value == pytest.approx(whole.value)
        assert whole.sigma <= there.sigma + on.sigma + 1e-3  # never surer of the parts than of their sum


@given(st.data(), st.floats(1, 500), st.floats(1, 500))
def test_sets_there_and_back_are_as_many_and_more_is_more(
    library: Library, data: st.DataObject, one: float, other: float
) -> None:
    equaliser = data.draw(st.sampled_from(EQUALISERS))
    network = network_of(library, equaliser)
    a, b = (library.movements[data.draw(st.sampled_from(sorted(library.movements)))] for _ in range(2))
    equal = ratio_between(network, node(a.id, a.unit), node(b.id, b.unit))
    back = ratio_between(network, node(b.id, b.unit), node(a.id, a.unit))
    assume(equal is not None)
    assert equal is not None
    assert back is not None
    filter_ = Filter(library, Today(level=data.draw(st.sampled_from((None, *LEVELS)))))

    def come_to(amount: float) -> float:
        ask = Ask(a.id, Amount(amount, a.unit))
        return amount * in_sets(filter_, ask, b, b.unit, equal, network, equaliser).value

    few, many = sorted((one, other))
    assert come_to(few) <= come_to(many) * (1 + 1e-9)
    ask = Ask(b.id, Amount(come_to(one), b.unit))
    again = ask.amount.value * in_sets(filter_, ask, a, a.unit, back, network, equaliser).value
    assert again == pytest.approx(one, rel=1e-3)
