"""The numbers of one item: amounts, sets, loads, heights, percentages, tempo, in whatever form they are written.

`scan` takes each form out of the text, the least doubtful first, and leaves the words of the name.
"""

from __future__ import annotations

import re

from subgraph.notation.number_forms import (
    AND_A_PART,
    KILO,
    PER_SIDE,
    TWICE_PAIRED,
)
from subgraph.notation.numbers import Numbers, cut
from subgraph.notation.take_amounts import take_amount, take_max, take_sets
from subgraph.notation.take_loads import take_loads
from subgraph.notation.take_manner import take_manner


def scan_manner(text: str) -> Numbers:
    """Only what hangs on a whole complex: tempo, effort, percentages, rest and loads."""
    n = Numbers(f" {_plain(text)} ")
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
    n = Numbers(f" {_plain(text)} ")
    take_manner(n)
    take_loads(n)
    take_sets(n)
    take_max(n)
    take_amount(n)
    if found := PER_SIDE.search(n.rest):
        n.per_side = True
        n.rest = cut(n.rest, found, " ")
    return n


def _plain(text: str) -> str:
    """Manner and short forms out: "1.25" of a squat, k for kilos, "2 x" said twice of a pair."""
    return TWICE_PAIRED.sub(r"\g<a>/", KILO.sub(_kilo, AND_A_PART.sub(" ", text)))


def _kilo(found: re.Match[str]) -> str:
    return f"{found[1]}kg"
