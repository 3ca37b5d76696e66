"""Prints how far the reader agrees with the corpus; started by `scripts/boards`."""

from __future__ import annotations

import sys

from subgraph.errors import SubgraphError
from subgraph.library.compile import compiled
from subgraph.notation.read import read_board
from subgraph.show.data import reading_data
from tests.boards.compare import Agreement, compare, expected_of, names, text_of


def agreement(name: str) -> Agreement:
    """One board of the corpus."""
    try:
        found = reading_data(read_board(text_of(name), compiled()))
    except SubgraphError as error:
        found = {"lines": [], "blocks": [], "unread": []}
        out = compare(expected_of(name), found)
        out.differences.insert(0, str(error))
        return out
    return compare(expected_of(name), found)


def main(*chosen: str) -> None:
    """Print the table, and the differences with `--differences`; names or first digits choose boards."""
    tell = "--differences" in chosen
    starts = tuple(c for c in chosen if not c.startswith("-")) or ("",)
    total = Agreement()
    for name in names():
        if name.startswith(starts):
            found = agreement(name)
            total.add(found)
            if tell and found.differences:
                print(name, *found.differences, sep="\n    ")
    for what, whole in total.whole.items():
        print(f"{what:<30} {total.right[what]:>5} of {whole:<5} {total.right[what] / whole:>6.1%}")


if __name__ == "__main__":
    main(*sys.argv[1:])
