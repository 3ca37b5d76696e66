"""Good options per family and situation: what is asked, what counts, and what is a hole."""

from __future__ import annotations

import pytest

from subgraph.gaps import ASKS_PER_FAMILY, MOST_COUNTED, Asked, Cell, gaps, situation_of, typical_asks
from subgraph.library.compile import Compiled
from subgraph.library.knowledge import Library
from subgraph.notation.ask import read_ask
from subgraph.options import options
from subgraph.show.matrix import gaps_data, gaps_text
from subgraph.show.text import Style


def test_every_family_has_its_typical_asks(library: Library) -> None:
    families = set(library.family.values())
    assert len(families) > 30
    for family in families:
        asked = typical_asks(library, family)
        members = [m for m, of in library.family.items() if of == family]
        assert len(asked) == min(ASKS_PER_FAMILY, len(members))
        assert set(asked) <= set(members)


def test_pieces_of_a_warm_up_alone_are_asked_last(library: Library) -> None:
    for family in set(library.family.values()):
        only_warm = [library.movements[m].suits == ("warm-up",) for m in typical_asks(library, family)]
        assert only_warm == sorted(only_warm), family


def test_push_up_is_typical_of_its_family(library: Library) -> None:
    assert "push-up" in typical_asks(library, "push-ups")


def test_every_situation_is_understood_without_a_guess(compiled: Compiled) -> None:
    assert len(compiled.library.situations) == 13
    for record in compiled.library.situations.values():
        assert not situation_of(compiled, record).notes, record.id


def test_cell_is_the_lower_median_of_what_options_gives(compiled: Compiled) -> None:
    library = compiled.library
    cell = gaps(compiled, families=["push-ups"], situations=["floor-only"]).cells["push-ups", "floor-only"]
    today = situation_of(compiled, library.situations["floor-only"]).today
    counted = []
    for asked in cell.asks:
        answer = options(library, read_ask(asked.movement, compiled).ask, today, top=MOST_COUNTED)
        good = sum(o.score >= library.scoring.good_score for o in answer.options)
        counted.append(min(MOST_COUNTED, good + (answer.outcome == "as-written")))
        assert asked.outcome == answer.outcome
    assert [a.good for a in cell.asks] == counted
    assert cell.good == sorted(counted)[(len(counted) - 1) // 2]
    assert cell.good > 0


@pytest.mark.parametrize(
    ("good", "nothing", "hole", "after_all"),
    [(0, "", True, False), (0, "no load", False, False), (2, "", False, False), (2, "no load", False, True)],
)
def test_hole_is_what_the_trade_could_fill(good: int, nothing: str, hole: bool, after_all: bool) -> None:
    cell = Cell("squats", "floor-only", good, (Asked("air-squat", "options", good, None, 0.0),), nothing)
    assert (cell.is_hole, cell.is_filled_after_all) == (hole, after_all)


def test_matrix_fits_eighty_columns_and_names_each_hole(compiled: Compiled) -> None:
    found = gaps(compiled, families=["carries-and-sleds", "push-ups"], situations=["floor-only", "seated-only"], asks=2)
    text = gaps_text(compiled.library, found, Style(False))
    assert all(len(line) <= 80 for line in text.splitlines())
    assert f"{len(found.holes)} holes" in text
    for record in found.situations:
        assert record.short in text.splitlines()[0]
        assert record.name in text
    assert found.cells["carries-and-sleds", "floor-only"].nothing in " ".join(text.split())


def test_widest_heading_leaves_room_in_eighty_columns(library: Library) -> None:
    from subgraph.show.matrix import _CELL, _ROW

    assert max(map(len, set(library.family.values()))) < _ROW
    assert _ROW + _CELL * len(library.situations) <= 80


def test_data_holds_what_the_text_rests_on(compiled: Compiled) -> None:
    found = gaps(compiled, families=["dips"], situations=["one-armed"], asks=3)
    data = gaps_data(found)
    (cell,) = data["cells"]
    assert (cell["family"], cell["situation"], len(cell["asks"])) == ("dips", "one-armed", 3)
    assert data["holes"] == ([["dips", "one-armed"]] if cell["hole"] else [])


def test_each_situation_is_told_as_it_begins(compiled: Compiled) -> None:
    told: list[str] = []
    gaps(compiled, families=["dips"], situations=["one-armed", "one-band"], asks=1, tell=told.append)
    assert told == ["one arm", "a band"]
