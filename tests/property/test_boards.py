"""Any text: no crash, and every line that is not blank in one place."""

from __future__ import annotations

import random

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from scripts.fuzz_boards import SIGNS, WORDS, boards, check, spoil
from subgraph.library.compile import Compiled

_NAMES = ("burpees", "pull-ups", "KBS", "thrusters 43/30", "row", "PU", "box jumps 24/20", "C&J", "plank", "flurbles")
_PIECES = st.one_of(
    st.sampled_from(WORDS),
    st.sampled_from(_NAMES),
    st.integers(0, 400).map(str),
    st.text(SIGNS, max_size=3),
    st.just("\n"),
)
pieces = st.lists(_PIECES, max_size=40).map(" ".join)


@given(text=st.text(max_size=300))
@example(text="e0mom x 5\n10 burpees")
@example(text="0 min AMRAP\r10 burpees\r\n\n\t")
@example(text="\x0b10 burpees\x0c\x85\u2028")
@settings(max_examples=150)
def test_any_text_is_accounted_for(compiled: Compiled, text: str) -> None:
    check(text, compiled)


@given(text=pieces)
@settings(max_examples=150)
def test_any_words_of_a_board_are_accounted_for(compiled: Compiled, text: str) -> None:
    check(text, compiled)


@pytest.mark.parametrize("seed", range(3))
def test_spoilt_boards_are_accounted_for(compiled: Compiled, seed: int) -> None:
    chance = random.Random(seed)
    sound = boards()
    for _ in range(100):
        check(spoil(chance.choice(sound), chance.choice(sound), chance), compiled)
