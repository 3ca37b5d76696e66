"""`subgraph read` in a subprocess: file, standard input, JSON, and what can be wrong with a board."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.common import ROOT

BOARD = "For time\n21-15-9\nThrusters 43/30\nPull-ups\nTime cap 12 min\n"


def read(*args: str, board: bytes | None = None) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "subgraph", "read", *args],
        cwd=ROOT,
        env={**os.environ, "COLUMNS": "80"},
        input=board,
        stdin=subprocess.DEVNULL if board is None else None,
        capture_output=True,
        timeout=120,
        check=False,
    )


def test_file_and_standard_input_read_alike(tmp_path: Path) -> None:
    file = tmp_path / "board.txt"
    file.write_text(BOARD, encoding="utf-8")
    from_file = read(str(file))
    piped = read("-", board=BOARD.encode())
    assert from_file.returncode == 0
    assert from_file.stdout == piped.stdout
    text = from_file.stdout.decode()
    assert "21-15-9" in text
    assert "thrusters @ 43/30 kg" in text
    assert "Assumed:" in text
    assert all(len(line) <= 80 for line in text.splitlines())


def test_json_has_every_line_and_the_fields_that_others_read() -> None:
    run = read("-", "--json", board=BOARD.encode())
    data = json.loads(run.stdout)
    assert {"blocks", "lines", "notes", "unread", "assumed", "library"} <= set(data)
    assert [one["line"] for one in data["lines"]] == [1, 2, 3, 4, 5]
    block = data["blocks"][0]
    assert (block["format"], block["scheme"], block["time_cap_s"]) == ("for-time", [21, 15, 9], 720)
    item = block["items"][0]
    assert (item["line"], item["movement"], item["amount"], item["load_kg"]) == (3, "thruster", [21, 15, 9], [43, 30])
    assert {"as_written", "unit", "amount_is", "or", "parts", "readings", "why", "slot", "role", "label"} <= set(item)


def test_unit_of_loads_can_be_given() -> None:
    data = json.loads(read("-", "--json", "--units", "lb", board=BOARD.encode()).stdout)
    assert data["blocks"][0]["items"][0]["load_kg"] == [19.5, 13.6]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_usual_encodings_are_read(encoding: str) -> None:
    run = read("-", board="10 burpees – fast\r\n½ mile run\r\n".encode(encoding))
    assert run.returncode == 0
    assert b"burpee" in run.stdout
    assert b"804.7 m run" in run.stdout


@pytest.mark.parametrize(
    ("args", "board", "said"),
    [
        (("-",), b"", "empty"),
        (("-",), b"hello there\nwelcome\n", "could be read"),
        (("-",), bytes(range(256)) * 20, "no text"),
        (("-",), b"a" * 4_100_000, "larger than"),
        (("no-such-file.txt",), None, "can't be read"),
        (("tests",), None, "can't be read"),
        (("-", "--units", "stone"), b"10 burpees", "kg"),
    ],
)
def test_bad_input_is_one_line_and_exit_code_two(args: tuple[str, ...], board: bytes | None, said: str) -> None:
    run = read(*args, board=board)
    error = run.stderr.decode()
    assert run.returncode == 2
    assert run.stdout == b""
    assert error.startswith("subgraph: ")
    assert len(error.splitlines()) == 1
    assert said in error
