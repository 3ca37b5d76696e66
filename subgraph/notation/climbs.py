"""How high a climb goes: a climb up a rope is counted, and the length beside it is no amount of it."""

from __future__ import annotations

import re
from typing import NamedTuple

from subgraph.notation.number_forms import N
from subgraph.notation.words import Words
from subgraph.quantities import M_PER_FT

_HIGH = re.compile(
    rf"[\s,;(@]*(?:\b(?:to|up)\s+)?(?<![\d./])(?P<n>{N})\s*-?\s*(?P<unit>m(?:et(?:er|re)s?)?\b|ft\b\.?|feet\b|foot\b|')(?!\s*\d)"
    r"(?:\s+(?:up|high|tall))?\s*\)?",
    re.I,
)
LOWEST_M, HIGHEST_M = 2.0, 15.0  # of a climb up a rope, from memory; outside it the length stays as it is read


class Climb(NamedTuple):
    """A climb with its length taken out of the text; `high` is the length as written."""

    text: str
    cm: float
    high: str


def climb_in(text: str, words: Words) -> Climb | None:
    """The height in the text of a climb; None where it is no climb, or no height is written."""
    if not words.pattern(r"\b", "climb", after=r"s?\b").search(text) or not (found := _HIGH.search(text)):
        return None
    metres = float(found["n"]) * (1.0 if found["unit"][0] in "mM" else M_PER_FT)
    if not LOWEST_M <= metres <= HIGHEST_M:
        return None
    left = f"{text[: found.start()]} {text[found.end() :]}"
    return Climb(left, round(metres * 100, 1), found.group().strip(" ,;()@"))
