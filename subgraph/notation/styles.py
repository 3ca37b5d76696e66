"""Words of style between commas, and the numbers behind them: "10 swings, American, 24 kg" is one item."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from subgraph.notation.called import Caller
from subgraph.notation.pieces import KIT, Piece
from subgraph.notation.scan_item import scan

LONGEST_STYLE = 3  # words


def styled(caller: Caller, last: Piece, piece: Piece) -> bool:
    """Whether words without a number say which kind of the counted movement before them is meant; it then is."""
    said = piece.name_text
    if not last.sure or not last.numbers.amount or piece.numbers.anything or not 0 < len(said.split()) <= LONGEST_STYLE:
        return False
    kind = caller.call(f"{said} {last.styled} {last.name_text}")
    if not kind.sure or kind.movement is None:
        return False
    last.called, last.styled = kind, f"{said} {last.styled}"
    last.text += f", {piece.text}"
    return True


def given(caller: Caller, found: Sequence[Piece], piece: Piece, unglued: Callable[[str], str]) -> bool:
    """Whether a piece of mere numbers is of the movement before it, though a style or a remark stands between."""
    last = next((p for p in reversed(found) if p.named), None)
    if last is None or not (last.styled or last is not found[-1]) or not last.numbers.amount:
        return False
    words = [w for w in re.findall(r"[a-z][a-z'-]+", piece.name_text.lower()) if w not in KIT]
    if words and not caller.only_how(" ".join(words)):
        return False
    both = scan(unglued(f"{last.text}, {piece.text}"))
    if (both.amount, both.unit, both.sets) != (last.numbers.amount, last.numbers.unit, last.numbers.sets):
        return False
    both.rest = last.numbers.rest
    last.numbers = both
    last.text += f", {piece.text}"
    return True
