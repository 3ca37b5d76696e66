"""Distances between movements: what links, counts and kit say, and what they say today."""

from __future__ import annotations

import pytest

from subgraph.library.knowledge import Library
from subgraph.quantities import Amount
from subgraph.ranking import stimulus_of
from subgraph.stimulus import Stimulus, named
from subgraph.today import Ask, Filter, Today


def stimulus(library: Library, asked: str, today: Today) -> Stimulus:
    return stimulus_of(library, Ask(asked, Amount(10, library.movements[asked].unit)), Filter(library, today))


def facet(library: Library, found: Stimulus, other: str, name: str) -> float:
    return named(found.distances(library.columns.ids.index(other)))[name]


def test_a_count_made_for_some_people_is_less_of_a_practice(library: Library) -> None:
    degrees = library.scoring.degrees
    alone = next(
        r
        for r in library.ratios
        if r.basis == "practice" and r.population and len(library.ratios_at(r.from_)) > 1 and r.to != r.from_
        if sum({r.from_, r.to} == {o.from_, o.to} for o in library.ratios_at(r.from_) if o.basis == "practice") == 1
    )
    found = stimulus(library, alone.from_, Today())
    assert facet(library, found, alone.to, "practice") == degrees.for_some
    assert degrees.from_memory < degrees.for_some < 1


def test_a_list_is_read_without_what_does_not_stay(library: Library) -> None:
    everything = stimulus(library, "row", Today(without=frozenset({"rowing-ergometer"})))
    floor = stimulus(
        library, "row", Today(without=frozenset({"rowing-ergometer", "ski-ergometer", "air-bike", "bike-ergometer"}))
    )
    assert facet(library, floor, "run", "order") < facet(library, everything, "run", "order")
    assert facet(library, floor, "run", "order") == 0


def test_a_link_for_want_of_kit_says_less_where_something_hurts(library: Library) -> None:
    link = next(k for k in library.links if k.from_ == "dumbbell-thruster" and k.to == "backpack-thruster")
    assert "dumbbell" in link.without
    missing = stimulus(library, link.from_, Today(without=frozenset({"dumbbell"})))
    degrees = library.scoring.degrees
    assert facet(library, missing, link.to, "link") == 0
    hurting = Stimulus(library, library.movements[link.from_], "conditioning", frozenset({"wrist-extension"}))
    assert facet(library, hurting, link.to, "link") == degrees.written_for_another


@pytest.mark.parametrize(("on_hand", "scarce"), [(frozenset(), True), (frozenset({"backpack"}), False)])
def test_what_is_on_hand_is_not_hard_to_come_by(library: Library, on_hand: frozenset[str], scarce: bool) -> None:
    found = Stimulus(library, library.movements["thruster"], "conditioning", on_hand=on_hand)
    assert (facet(library, found, "backpack-thruster", "kit") > 0) is scarce


def test_peers_are_named_from_both_ends_by_their_own_record(library: Library) -> None:
    here = stimulus(library, "row", Today()).links["run"]
    there = stimulus(library, "run", Today()).links["row"]
    assert here.declared
    assert there.declared
    assert here.kind == there.kind == "sideways"
