"""Amounts of an item, round by round."""

from __future__ import annotations

import pytest

from subgraph.library.knowledge import Library
from subgraph.notation.board import Block, Item, Part
from subgraph.workout.laid_out import amounts_of, lay_out, rounds_of, stepped


def item(**fields: object) -> Item:
    return Item(**{"line": 1, "as_written": "x", "movement": "burpee", "name": "burpee", "unit": "rep", **fields})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("fields", "standard", "expected"),
    [
        ({"amount": (15.0,), "amount_is": "each"}, 0, (15,)),
        ({"amount": (15.0, 12.0), "amount_is": "standards"}, 0, (15,)),
        ({"amount": (15.0, 12.0), "amount_is": "standards"}, 1, (12,)),
        ({"amount": (21.0, 15.0, 9.0), "amount_is": "scheme"}, 1, (21, 15, 9)),
        ({"amount": (8.0, 10.0), "amount_is": "range"}, 0, (9,)),
        ({"amount": (10.0,), "amount_is": "each", "per_side": True}, 0, (20,)),
        ({"amount": (), "amount_is": "max"}, 0, ()),
        ({"amount": (5.0, 5.0, 3.0), "amount_is": "sets", "sets": 3}, 0, (5, 5, 3)),
    ],
)
def test_amounts_are_totals_over_both_sides_for_one_standard(
    fields: dict[str, object], standard: int, expected: tuple[float, ...]
) -> None:
    assert amounts_of(item(**fields), standard) == expected


def test_a_scheme_says_how_many_rounds() -> None:
    block = Block(format="for-time", scheme=(21, 15, 9), items=(item(amount=(21.0, 15.0, 9.0), amount_is="scheme"),))
    assert rounds_of(block) == 3
    assert rounds_of(Block(format="for-time", rounds=5)) == 5
    assert rounds_of(Block(format="amrap", scheme=(1, 2, 3), step=1, duration_s=600)) == 1


def test_parts_of_a_complex_are_works_of_their_own_and_unknown_ones_are_said(library: Library) -> None:
    parts = (Part("power-clean", 1, "power clean"), Part(None, 2, "zorblax"))
    block = Block(format="emom", every_s=120, rounds=5, items=(item(movement="power-clean", parts=parts),))
    piece = lay_out(library, block)
    assert [(w.movement.id, w.amounts) for w in piece.works] == [("power-clean", (1,))]
    assert piece.unknown == ("burpee",)


def test_nobody_knows_an_item_and_it_is_said(library: Library) -> None:
    piece = lay_out(library, Block(items=(item(movement=None, name="zorblax"),)))
    assert piece.works == ()
    assert piece.unknown == ("zorblax",)


def test_a_ladder_goes_on_by_its_step() -> None:
    assert stepped((3.0,), 2, 4) == (3, 5, 7, 9)
    assert stepped((1.0, 2.0, 3.0), 1, 2) == (1, 2)
