"""The reader agrees with the corpus at least as far as it did when last mended.

Boards 001 to 070 were mended on. Of those from 101 on nobody who mended the reader looked at text or differences, so
their share is the honest one. A floor may rise, never fall without a reason in the log.
"""

from __future__ import annotations

import functools

import pytest

from tests.boards.compare import Agreement, names
from tests.boards.report import agreement

MENDED = {  # shares of the boards that were mended on
    "line numbers": 1.0,
    "line roles": 0.99,
    "number of blocks": 0.98,
    "block format": 0.98,
    "whole block": 0.97,
    "number of items": 0.98,
    "item movement": 0.99,
    "item movement, amount, unit": 0.98,
    "whole item": 0.98,
    "whole board": 0.95,
}
UNSEEN = {  # shares of the boards nobody looked at
    "line numbers": 1.0,
    "line roles": 0.93,
    "number of blocks": 0.97,
    "block format": 0.88,
    "whole block": 0.87,
    "number of items": 0.89,
    "item movement": 0.95,
    "item movement, amount, unit": 0.92,
    "whole item": 0.86,
    "whole board": 0.64,
}


@functools.cache
def _half(*, mended: bool) -> Agreement:
    total = Agreement()
    for name in names():
        if (name < "1") == mended:
            total.add(agreement(name))
    return total


@pytest.mark.parametrize(("what", "floor"), MENDED.items())
def test_boards_that_were_mended_on_read_as_expected(what: str, floor: float) -> None:
    found = _half(mended=True)
    assert found.right[what] / found.whole[what] >= floor


@pytest.mark.parametrize(("what", "floor"), UNSEEN.items())
def test_boards_that_nobody_looked_at_read_as_expected(what: str, floor: float) -> None:
    found = _half(mended=False)
    assert found.right[what] / found.whole[what] >= floor
