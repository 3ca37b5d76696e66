"""The commands of progression and gaps in a subprocess."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

from tests.common import ROOT
from tests.end.test_command import assert_one_line, subgraph


def as_json(*args: str, code: int = 0) -> dict[str, Any]:
    run = subgraph("progression", *args, "--json")
    assert run.returncode == code, run.stderr
    found = json.loads(run.stdout)
    assert isinstance(found, dict)
    return found


def narrow(run: subprocess.CompletedProcess[str]) -> None:
    """No line is wider than a plain terminal."""
    assert all(len(line) <= 80 for line in run.stdout.splitlines())


def test_rungs_to_a_ring_muscle_up() -> None:
    run = subgraph("progression", "5 ring muscle-ups", "--owns", "pull-up, dip")
    assert (run.returncode, run.stderr) == (0, "")
    narrow(run)
    assert "ring support hold" in run.stdout
    assert "common practice, no source" in " ".join(run.stdout.split())
    assert "fault" in run.stdout


def test_json_gives_each_rung_with_its_exit_faults_and_substitute() -> None:
    found = as_json("ring muscle-up", "--owns", "pull-up", "--owns", "dip")
    assert (found["goal"], found["outcome"]) == ("ring-muscle-up", "rungs")
    assert "strict-pull-up" in found["owned"]
    for rung in found["rungs"]:
        assert rung["done_when"]["criterion"]
        assert rung["done_when"]["source_words"].startswith("common practice")
        assert rung["faults"]
        assert rung["today"]["amount"] > 0


def test_owned_goal_is_said() -> None:
    run = subgraph("progression", "air squat", "--owns", "goblet squat")
    assert run.returncode == 0
    assert "Air squat is owned" in run.stdout


def test_goal_that_needs_nothing_is_said() -> None:
    assert "needs nothing first" in subgraph("progression", "sit-up").stdout


def test_red_flag_stops_both_ways() -> None:
    says = ("--says", "crushing chest pain")
    assert (as_json("pistol", *says, code=1)["rungs"]) == []
    run = subgraph("progression", "pistol", *says)
    assert run.returncode == 1
    assert "STOP" in run.stdout
    found = as_json("--owns", "air squat", *says, code=1)
    assert (found["outcome"], found["next"]) == ("refer", [])
    assert "Stop" in subgraph("progression", "--owns", "air squat", *says).stdout


def test_complaint_says_which_rungs_are_not_for_today() -> None:
    run = subgraph("progression", "strict handstand push-up", "--complaint", "wrist")
    narrow(run)
    assert "[not today]" in run.stdout
    assert "wrist bent back" in " ".join(run.stdout.split())


def test_one_rung_away() -> None:
    found = as_json("--owns", "pull-up, dip")
    assert "weighted-pull-up" in [near["movement"] for near in found["next"]]
    run = subgraph("progression", "--owns", "pull-up, dip", "--top", "1")
    narrow(run)
    assert "more: --top" in run.stdout


@pytest.mark.parametrize(
    ("args", "parts"),
    [
        ([], ["no goal", "--owns"]),
        (["ring musle upp zz"], ["nearest"]),
        (["pistol", "--owns", "flurb"], ["flurb", "nearest"]),
        (["pull-up", "--owns", "toes-to-bar", "--cannot", "dead hang"], ["dead hang", "--owns"]),
        (["pistol", "--level", "wizard"], ["wizard"]),
        (["--owns", "push-up", "--complaint", "zzyzx"], ["zzyzx"]),
    ],
)
def test_what_is_not_understood_is_one_line(args: list[str], parts: list[str]) -> None:
    assert_one_line(subgraph("progression", *args), *parts)


@pytest.mark.parametrize("args", [["pistol"], ["--owns", "air-squat"]])
def test_heavy_packages_stay_off_the_path(args: list[str]) -> None:
    code = "import sys; from subgraph.cli import app; app(standalone_mode=False); print(*sys.modules, file=sys.stderr)"
    subgraph("progression", *args)  # compiles where needed
    run = subprocess.run(
        [sys.executable, "-c", code, "progression", *args], cwd=ROOT, capture_output=True, text=True, check=True
    )
    loaded = set(run.stderr.split())
    assert "subgraph.progression" in loaded
    assert not loaded & {"networkx", "numpy", "scipy", "yaml"}
