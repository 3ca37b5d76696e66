"""The resolver asked, as the last resort and a bounded number of times, for names that nothing else knew."""

from __future__ import annotations

import re
from collections.abc import Sequence

from subgraph.notation.called import MOST_LOOKUPS, Called, Caller
from subgraph.notation.pieces import Piece


class Lookups:
    """Looks up near names for one board."""

    def __init__(self, caller: Caller) -> None:
        self.caller = caller
        self.asked = 0

    @property
    def spent(self) -> bool:
        """Whether a board has asked as often as it may."""
        return self.asked >= MOST_LOOKUPS

    def named(self, pieces: Sequence[Piece], *, in_list: bool) -> list[Piece]:
        """Ask for the names that nothing else knew.

        Parameters
        ----------
        pieces : sequence of Piece
            Of one line.
        in_list : bool
            Whether a list is open, so that a name without an amount may be one of its items.
        """
        counted = False
        for piece in pieces:
            words = piece.name_text.split()
            if not piece.named and 0 < len(words) <= 5 and (piece.numbers.anything or in_list):
                piece.called = Called(None, share=0.0) if self.spent else self._guarded(piece.name_text)
                self.asked += 1
                if counted and not piece.numbers.anything and not piece.called.sure:
                    piece.called = Called(None, share=0.0)  # "15 push-ups, hands on a box": a remark, no further item
            counted = counted or (piece.named and bool(piece.numbers.amount))
        return list(pieces)

    def _guarded(self, name: str) -> Called:
        """The resolver's answer; a near one only where most words are near to words of names."""
        called = self.caller.look_up(name)
        if called.movement and not called.sure:
            filler = self.caller.words.filler
            asked = [w for w in re.findall(r"[a-z]{3,}", name.lower()) if w not in filler]
            if not all(self.caller.spelled_like(w, called.movement) for w in asked):
                return Called(None, share=0.0, nearest=(called.movement, *called.nearest)[:3])
        return called

    def near(self, text: str) -> Called:
        """The resolver's answer, within what one board may ask of it."""
        self.asked += 1
        return Called(None) if self.asked > MOST_LOOKUPS else self.caller.look_up(text)
