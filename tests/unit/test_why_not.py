"""Every reason for a place in the ranking has words."""

from __future__ import annotations

from subgraph.library.compile import compiled
from subgraph.notation.ask import read_ask
from subgraph.options import why_not
from subgraph.show.text import FACET_WORDS, Style, why_not_text
from subgraph.stimulus import FACETS
from subgraph.today import Today


def test_each_facet_has_words() -> None:
    assert set(FACET_WORDS) == set(FACETS)


def test_what_ranks_lower_is_told_why_by_what_it_costs() -> None:
    base = compiled()
    ask = read_ask("5 clusters", base).ask
    found = why_not(base.library, ask, Today(only={"kettlebell": 1}), "goblet-squat")
    assert found.place is not None
    assert found.place > 1
    assert found.further
    weights = base.library.intents["conditioning"].weights
    cost = {f: weights[f] * (found.facets[f] - found.best_facets[f]) for f in FACETS}
    assert found.further[0] == max(cost, key=lambda f: cost[f])
    assert FACET_WORDS[found.further[0]] in " ".join(why_not_text(found, base.library, Style(False)).split())


def test_what_a_member_brings_along_is_offered_only_where_it_is_told() -> None:
    base = compiled()
    carry, wheels = (read_ask(text, base).ask for text in ("100 m farmers carry", "100 m wheelchair push"))
    untold = why_not(base.library, carry, Today(), "lap-carry-wheel")
    assert [r.reason for r in untold.removals] == ["needs wheelchair"]
    assert why_not(base.library, carry, Today(limits=frozenset(["seated"])), "lap-carry-wheel").offered
    assert why_not(base.library, wheels, Today(), "lap-carry-wheel").offered
