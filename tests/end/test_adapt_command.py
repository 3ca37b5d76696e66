"""`subgraph adapt` as a coach runs it: whole boards, exit codes, both streams."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.common import ROOT

SHOULDER = """\
For time
21-15-9
Thrusters 43/30 kg
Pull-ups
"""
LIFT = """\
STRENGTH
Back squat 5 x 5 @ 75%
rest 2:00 between sets
"""
EMOM = """\
EMOM 12
Min 1 - 12/9 cal row
Min 2 - 10 burpees
Min 3 - 40s plank
"""
PARTNER = """\
In pairs, you go I go
AMRAP 16
8 deadlifts 80/55 kg
12 toes-to-bar
16 wall balls 9/6 kg
"""
CHIPPER = """\
For time (cap 25 min)
800 m run
50 box jumps 24/20 in
40 kettlebell swings 24/16 kg
30 pull-ups
20 push press 40/27.5 kg
800 m run
"""
LADDER = """\
AMRAP 10
2-4-6-8-10...
Push-ups
Toes-to-bar
Air squats
"""
ROPE = """\
AMRAP 15
100 double-unders
12 dumbbell snatches 22.5/15 kg
9 burpees over the dumbbell
"""
CLASS = """\
WARM-UP
2 rounds: 1:00 easy row, 10 glute bridges

STRENGTH
Push press 4 x 6 @ 70%

CONDITIONING
4 rounds for time
400 m run
12 pull-ups
20 sit-ups
"""
BOARDS: list[tuple[str, str, tuple[str, ...]]] = [
    ("shoulder without a rig", SHOULDER, ("--complaint", "shoulder:overhead", "--without", "rig")),
    ("strength piece", LIFT, ("--without", "rack")),
    ("alternating minutes", EMOM, ("--without", "rower", "--complaint", "wrist")),
    ("partners", PARTNER, ("--complaint", "low back:bending")),
    ("scheme, dumbbells only", SHOULDER, ("--only", "2 dumbbells")),
    ("chipper, knee", CHIPPER, ("--complaint", "knee:impact", "--without", "rig")),
    ("ladder", LADDER, ("--without", "rig")),
    ("rope, newcomer", ROPE, ("--level", "novice")),
    ("whole class", CLASS, ("--without", "rig,barbell", "--limit", "no-running")),
]


def run(*args: str, board: str = "") -> subprocess.CompletedProcess[str]:
    """The command with a board on standard input."""
    plain = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR", "SUBGRAPH_EMERGENCY")}
    return subprocess.run(
        [sys.executable, "-m", "subgraph", "adapt", *args],
        input=board,
        cwd=ROOT,
        env={**plain, "COLUMNS": "80"},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def as_json(board: str, *args: str, code: int = 0) -> dict[str, Any]:
    done = run("-", *args, "--json", board=board)
    assert done.returncode == code, done.stderr
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(("name", "board", "flags"), BOARDS, ids=[b[0] for b in BOARDS])
def test_the_board_comes_back_in_its_shape(name: str, board: str, flags: tuple[str, ...]) -> None:
    done = run("-", *flags, board=board)
    assert done.returncode == 0, done.stderr
    said = done.stdout.splitlines()
    assert all(len(line) <= 80 for line in said)
    body = said[said.index("") + 1 :]
    shown = [line[2:].rstrip() for line in body[: len(board.splitlines())]]
    marks = [line[:1] for line in body[: len(board.splitlines())]]
    assert ">" in marks
    for mark, before, now in zip(marks, board.splitlines(), shown, strict=True):
        assert now != before if mark == ">" else now == before, (mark, before, now)
    assert re.search(r"^   call ", done.stdout, re.M)
    assert re.search(r"^   time ", done.stdout, re.M)
    assert "Emergency" in done.stdout


@pytest.mark.parametrize(("name", "board", "flags"), BOARDS, ids=[b[0] for b in BOARDS])
def test_json_holds_lines_pieces_and_totals(name: str, board: str, flags: tuple[str, ...]) -> None:
    found = as_json(board, *flags)
    assert found["outcome"] == "adapted"
    assert [line["line"] for line in found["lines"]] == list(range(1, len(board.splitlines()) + 1))
    assert found["refer"] is None
    for piece in found["pieces"]:
        assert set(piece["time"]["as_written"]) == {"novice", "regular", "advanced"}
        assert piece["time"]["inside"] or piece["time"]["said"]
        for change in piece["changes"]:
            assert change["in_the_way"]
            assert change["instead"] != change["movement"]
    assert {"blocks", "lines", "unread"} <= set(found["reading"])


def test_a_descending_scheme_stays_one() -> None:
    done = run("-", "--without", "rig", board=SHOULDER)
    scheme = re.search(r"^> (\d+)-(\d+)-(\d+) ", done.stdout, re.M)
    assert scheme or re.search(r"^> [A-Za-z]", done.stdout, re.M)  # or the board's own numbers
    if scheme:
        first, second, third = map(int, scheme.groups())
        assert first > second > third


def test_shoulder_without_a_rig_has_nothing_overhead_and_nothing_hanging() -> None:
    found = as_json(SHOULDER, "--complaint", "shoulder:overhead", "--without", "rig")
    for change in found["pieces"][0]["changes"]:
        demands = change["option"]["demands"]
        assert demands.get("overhead", 0) == 0
        assert demands.get("hang", 0) == 0


def test_a_lift_keeps_its_sets() -> None:
    done = run("-", "--without", "rack", board=LIFT)
    assert re.search(r"^> .*5 x 5", done.stdout, re.M)


def test_minutes_keep_their_labels_and_leave_rest() -> None:
    found = as_json(EMOM, "--without", "rower")
    assert found["lines"][1]["text"].startswith("Min 1 - ")
    (slot, *_) = found["pieces"][0]["time"]["member"]["slots"]
    assert slot["work_s"]["usual"] <= 0.8 * slot["window_s"] + 1


def test_partners_are_told_their_share() -> None:
    assert "the work of each is 50%" in " ".join(run("-", board=PARTNER).stdout.split())


def test_explain_gives_reasons() -> None:
    plain = run("-", "--without", "rig", board=SHOULDER).stdout
    explained = run("-", "--without", "rig", "--explain", board=SHOULDER).stdout
    assert "WHY" not in plain
    for label in ("out", "among", "ratio", "share", "cost", "total"):
        assert re.search(rf"^   {label} ", explained, re.M), label


def test_versions_are_printed_to_copy() -> None:
    done = run("-", "--versions", board=CLASS)
    assert done.returncode == 0, done.stderr
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    for title in ("AS WRITTEN", "WITHOUT THE GYMNASTICS", "NO RIG", "SHORT EQUIPMENT", "LOW IMPACT", "NEWCOMERS"):
        assert re.search(rf"^{title}$", done.stdout, re.M)


def test_versions_as_json() -> None:
    found = as_json(SHOULDER, "--versions")
    assert [v["id"] for v in found["versions"]][:2] == ["no-gymnastics", "no-rig"]
    assert all(v["pieces"] for v in found["versions"])


def test_a_red_flag_ends_it_with_a_referral() -> None:
    done = run("-", "--says", "crushing chest pain", board=SHOULDER)
    assert done.returncode == 1
    assert "STOP" in done.stdout
    assert "Thrusters" not in done.stdout
    assert as_json(SHOULDER, "--says", "crushing chest pain", code=1)["pieces"] == []


def test_an_unknown_line_is_marked_and_left_as_it_stands() -> None:
    done = run("-", "--without", "rig", board="3 rounds for time\n10 pull-ups\n20 zorblaxes\n30 air squats\n")
    assert done.returncode == 0, done.stderr
    assert re.search(r"^\? 20 zorblaxes$", done.stdout, re.M)
    assert "line 3" in done.stdout


def test_a_board_from_a_file(tmp_path: Path) -> None:
    file = tmp_path / "board.txt"
    file.write_text(SHOULDER, encoding="utf-8")
    assert run(str(file), "--without", "rig").stdout == run("-", "--without", "rig", board=SHOULDER).stdout


@pytest.mark.parametrize(
    ("args", "board"),
    [
        (("-",), ""),
        (("no-such-file.txt",), ""),
        (("-",), "\x00\x01\x02\x03" * 50),
        (("-", "--complaint", "flooble"), SHOULDER),
        (("-", "--without", "rig", "--only", "dumbbell"), SHOULDER),
        (("-", "--units", "stone"), SHOULDER),
    ],
)
def test_what_cannot_be_understood_is_one_line_and_exit_code_two(args: tuple[str, ...], board: str) -> None:
    done = run(*args, board=board)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.strip().splitlines()) == 1
    assert "Traceback" not in done.stderr


def test_a_red_flag_comes_before_the_columns() -> None:
    done = run("-", "--versions", "--says", "crushing chest pain", board=SHOULDER)
    assert done.returncode == 1
    assert "STOP" in done.stdout
    assert "NO RIG" not in done.stdout


def test_columns_are_for_the_class() -> None:
    done = run("-", "--versions", "--complaint", "knee", board=SHOULDER)
    assert done.returncode == 0
    assert "--versions is for the class" in done.stderr
