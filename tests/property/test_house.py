"""Whatever rules a house has, no option breaks one that holds for the member; and a rule never lets more through."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from subgraph.library.knowledge import Library
from subgraph.library.overlay import load_with_house
from subgraph.options import options, why_not
from subgraph.today import Filter, Today
from tests.common import as_yaml, write
from tests.property.strategies import asks, situations


@st.composite
def rules(draw: st.DrawFn, library: Library) -> list[dict[str, Any]]:
    """One to three rules as a house would write them."""
    movements = st.lists(st.sampled_from(list(library.movements)), max_size=5, unique=True)
    families = st.lists(st.sampled_from(sorted(set(library.family.values()))), max_size=3, unique=True)
    demands = st.dictionaries(st.sampled_from(list(library.demands)), st.integers(0, 2), max_size=3)
    members = st.lists(st.sampled_from([*library.levels, *library.complaints]), min_size=1, max_size=4, unique=True)
    found = []
    for number in range(draw(st.integers(1, 3))):
        rule = {
            "id": f"rule-{number}",
            "reason": f"reason {number}",
            "for": draw(st.just(["anyone"]) | members),
            "movements": draw(movements),
            "families": draw(families),
            "demands": draw(demands),
            "except": draw(movements),
        }
        kept = set(rule["except"])
        if any(m not in kept and breaks(library, rule, m) for m in library.movements):
            found.append(rule)
    return found


def breaks(library: Library, rule: Mapping[str, Any], movement: str) -> bool:
    """Whether a movement is what a rule speaks of, exceptions aside."""
    record = library.movements[movement]
    return (
        movement in rule["movements"]
        or library.family[movement] in rule["families"]
        or any(record.demands.get(d, 0) > most for d, most in rule["demands"].items())
    )


def holds(rule: Mapping[str, Any], today: Today) -> bool:
    """Whether a rule is for this member."""
    told = {today.level, *(t.complaint for t in today.complaints)}
    return "anyone" in rule["for"] or bool(told & set(rule["for"]))


@settings(max_examples=40)
@given(data=st.data())
def test_no_option_breaks_a_rule_of_the_house(data: st.DataObject, library: Library) -> None:
    drawn = data.draw(rules(library))
    ask, today = data.draw(asks(library)), data.draw(situations(library))
    with tempfile.TemporaryDirectory() as folder:
        write(Path(folder), "rules.yaml", as_yaml({"rules": drawn}))
        # The library's own version: the same ratios, so that they are not solved anew for each example.
        loaded = load_with_house(library, Path(folder), library.version)
    housed = loaded.library
    assert housed is not None, "\n".join(map(str, loaded.problems))
    broken = {
        m: [r for r in drawn if holds(r, today) and m not in r["except"] and breaks(library, r, m)]
        for m in library.movements
    }
    answer = options(housed, ask, today, top=20)
    for option in answer.options:
        assert not broken[option.movement.id], option.movement.id
    if broken[ask.movement]:
        assert answer.outcome != "as-written"
        reasons = {f"house rule: {r['reason']}" for r in broken[ask.movement]}
        assert reasons <= {r.reason for r in answer.standing_in_the_way}
        assert reasons <= {r.reason for r in why_not(housed, ask, today, ask.movement).removals}
    columns = library.columns
    before = {columns.ids[i] for i in Filter(library, today).survivors()}
    after = {columns.ids[i] for i in Filter(housed, today).survivors()}
    assert after == {m for m in before if not broken[m]}
    assert all(Filter(housed, today).removals(housed.movements[m]) for m in before - after)
    assert sum(Filter(housed, today).reasons().values()) == len(columns.ids) - len(after)


@pytest.mark.parametrize("grade", [0, 1, 2])
def test_one_demand_for_anyone_leaves_no_more_of_it(library: Library, tmp_path: Path, grade: int) -> None:
    for demand in ("landing", "overhead", "fall-height"):
        rule = {"id": "less", "reason": "less", "for": ["anyone"], "demands": {demand: grade}}
        write(tmp_path, "rules.yaml", as_yaml({"rules": [rule]}))
        housed = load_with_house(library, tmp_path, library.version).library
        assert housed is not None
        columns = housed.columns
        left = [housed.movements[columns.ids[i]].grade(demand) for i in Filter(housed, Today()).survivors()]
        assert max(left) == grade
