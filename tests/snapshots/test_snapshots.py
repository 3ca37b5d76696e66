"""What is printed in fixed situations is what was last looked at."""

from __future__ import annotations

import pytest

from tests.snapshots.kept import FOLDER, printed, situations

SITUATIONS = situations()


@pytest.mark.parametrize("name", SITUATIONS)
def test_answer_is_the_one_last_looked_at(name: str) -> None:
    assert printed(*SITUATIONS[name]) == (FOLDER / f"{name}.txt").read_text(encoding="utf-8")


def test_no_answer_is_kept_without_its_situation() -> None:
    assert {path.stem for path in FOLDER.glob("*.txt")} == set(SITUATIONS)
