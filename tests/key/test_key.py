"""The key loads, names what exists, and its fresh part stays apart from what the weights are fitted on."""

from __future__ import annotations

import msgspec
import pytest

from subgraph.errors import SubgraphError
from subgraph.library.compile import compiled
from tests.key.cases import Case, cases

FOLDERS = ("", "fresh", "again", "third")


def situation(case: Case) -> tuple[str, bytes]:
    """What is asked of whom, whatever the spelling and the amount."""
    read, told = case.read(compiled())
    said = (told.today, case.flags.get("says"))
    return read.ask.movement, msgspec.json.encode(said, order="deterministic")  # sets print in no order


def situations(folder: str) -> set[tuple[str, bytes]]:
    """All situations of a folder that the tool understands."""
    found = set()
    for case in cases(folder):
        try:
            found.add(situation(case))
        except SubgraphError:
            continue  # scored as a miss, which is a figure and not a fault of the key
    return found


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_case_names_movements_that_exist(folder: str) -> None:
    known = compiled().library.movements
    unknown = [(str(c), i) for c in cases(folder) for i in (*c.best, *c.good, *c.never) if i not in known]
    assert cases(folder)
    assert not unknown


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_case_says_what_is_right(folder: str) -> None:
    torn = [str(c) for c in cases(folder) if not (c.best or c.outcome) or {*c.best, *c.good} & {*c.never}]
    assert not torn


def test_nothing_fresh_is_in_the_key_that_the_weights_are_fitted_on() -> None:
    assert not situations("fresh") & situations("")


def test_nothing_of_the_third_key_is_asked_in_another() -> None:
    third = situations("third")
    assert not third & (situations("") | situations("fresh") | situations("again"))


def test_what_is_asked_again_is_in_the_key() -> None:
    assert situations("again") <= situations("")
