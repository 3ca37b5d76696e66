"""Loads of men and women on a line each, below a list: read as the two standards of one line."""

from __future__ import annotations

import itertools
import re

from msgspec.structs import replace

from subgraph.notation.lines import Line

_FIRST = re.compile(r"^(?:men|male|m|guys|boys)\b\s*[:=-]?\s*(?=\d|2\s*x|@)", re.I)
_SECOND = re.compile(r"^(?:women|female|w|f|ladies|girls)\b\s*[:=-]?\s*(?=\d|2\s*x|@)", re.I)
_VALUE = re.compile(
    r"^@?\s*(?P<n>(?:2\s*x\s*)?\d+(?:\.\d+)?)\s*-?\s*(?P<unit>kgs?|lbs?|#|pounds?|cm|in(?:ch(?:es)?)?|\"|')?\.?\s*(?P<of>.*)$",
    re.I,
)


def joined(lines: list[Line]) -> list[Line]:
    """The lines, with those of the second standard put into the one above; they stay as lines without text.

    Parameters
    ----------
    lines : list of Line
        All lines of a board.
    """
    found = list(lines)
    for at, (first, second) in enumerate(itertools.pairwise(lines)):
        one, two = _FIRST.match(first.text), _SECOND.match(second.text)
        if not one or not two:
            continue
        pairs = _paired(first.text[one.end() :], second.text[two.end() :])
        if pairs:
            found[at] = replace(first, text=", ".join(pairs))
            found[at + 1] = replace(second, text="", empty=True, heads=True)
    return found


def _paired(first: str, second: str) -> list[str]:
    """The values of two lines one beside the other; none where they are no values of the same things."""
    ones, twos = (re.split(r"\s*[,;]\s*", text.strip()) for text in (first, second))
    if len(ones) != len(twos):
        return []
    pairs = []
    for one, two in zip(ones, twos, strict=True):
        a, b = _VALUE.match(one), _VALUE.match(two)
        if not a or not b:
            return []
        less = re.sub(r"^2\s*x\s*", "", b["n"])
        pairs.append(f"{a['n']}/{less} {a['unit'] or b['unit'] or ''} {a['of']}".strip())
    return pairs
