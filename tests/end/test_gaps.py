"""The matrix of gaps from the command: one family, one situation, and what is refused."""

from __future__ import annotations

import json

import pytest

from tests.end.test_command import assert_one_line, subgraph

ONE = ("library", "stats", "--gaps", "--family", "push-ups", "--situation", "floor-only")


def test_matrix_of_one_family() -> None:
    run = subgraph(*ONE)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.splitlines()[1].startswith("push-ups")
    assert "nothing but floor" in run.stdout


def test_matrix_as_json() -> None:
    found = json.loads(subgraph(*ONE, "--json").stdout)
    (cell,) = found["cells"]
    assert (cell["family"], cell["situation"]) == ("push-ups", "floor-only")
    assert cell["good"] >= 1


@pytest.mark.parametrize(
    ("flag", "word", "near"), [("--family", "pushups", "push-ups"), ("--situation", "one-bandd", "one-band")]
)
def test_unknown_row_or_column_is_refused_with_the_nearest(flag: str, word: str, near: str) -> None:
    assert_one_line(subgraph("library", "stats", "--gaps", flag, word), word, near)
