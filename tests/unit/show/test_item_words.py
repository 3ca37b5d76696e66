"""Items of a reading in words: loads and heights in the unit in which a board gave them."""

from __future__ import annotations

import pytest

from subgraph.library.compile import Compiled
from subgraph.notation.read import read_board
from subgraph.show.board import item_words


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("100 wall balls 20/14 lb to 10/9 ft", "100 wall balls @ 20/14 lb to 10/9 ft"),
        ("100 wall balls 9/6 kg to 3 m", "100 wall balls @ 9/6 kg 300 cm"),
        ('50 box jumps 24/20"', "50 box jumps 24/20 in"),
        ("50 box jumps 60/50 cm", "50 box jumps 60/50 cm"),
        ("12 thrusters 95/65 lb", "12 thrusters @ 95/65 lb"),
        ("12 thrusters 42.5/30 kg", "12 thrusters @ 42.5/30 kg"),
        ("12 dumbbell thrusters 2x50/35 lb", "12 dumbbell thrusters @ 2 x 50/35 lb"),
        ("3 rope climbs 4.5 m", "3 rope climbs 4.5 m"),
    ],
)
def test_loads_and_heights_are_said_as_they_were_written(compiled: Compiled, line: str, words: str) -> None:
    (item,) = read_board(f"For time\n{line}", compiled).items
    assert item_words(item) == words
