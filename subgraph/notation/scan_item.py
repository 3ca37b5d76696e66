"""The numbers of one item: amounts, sets, loads, heights, percentages, tempo, in whatever form they are written.

`scan` takes each form out of the text, the least doubtful first, and leaves the words of the name.
"""

from __future__ import annotations

from functools import lru_cache

from subgraph.notation.number_forms import (
    HALF_A_SIDE,
    PER_SIDE,
)
from subgraph.notation.numbers import Numbers, cut
from subgraph.notation.spelled_out import spelled_out
from subgraph.notation.take_amounts import take_amount, take_max, take_sets
from subgraph.notation.take_loads import take_loads
from subgraph.notation.take_manner import take_manner


def scan_manner(text: str) -> Numbers:
    """Only what hangs on a whole complex: tempo, effort, percentages, rest and loads."""
    n = Numbers(f" {spelled_out(text)} ")
    take_manner(n)
    take_loads(n)
    return n


def scan(text: str) -> Numbers:
    """Take the numbers out of an item's text.

    Parameters
    ----------
    text : str
        Plain text of one item, without bullet or label.

    Returns
    -------
    Numbers
        What they say; `rest` is the text without them.
    """
    return _scanned(text).copy()


@lru_cache(maxsize=4_000)
def _scanned(text: str) -> Numbers:
    """As `scan`, remembered: a text is asked more than once while a line is parted."""
    n = Numbers(f" {spelled_out(text)} ")
    take_manner(n)
    take_loads(n)
    take_sets(n)
    take_max(n)
    take_amount(n)
    half = HALF_A_SIDE.search(n.rest)
    if half and n.amount[:1] == [2 * float(half["n"])]:  # "12 snatches, 6 per side"
        n.rest = cut(n.rest, half, " ")
    if found := PER_SIDE.search(n.rest):
        n.per_side = True
        n.rest = cut(n.rest, found, " ")
    return n
