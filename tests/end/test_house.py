"""A gym's own folder, as a coach works with it: make, fill in, check, ask, break, mend."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.common import ROOT, lay_house, write
from tests.end.test_command import HEAVY, as_json, assert_one_line, subgraph

HOUSE = """\
house: mill lane hall
emergency: 112
---
rules:
- id: no-box-jumps-under-16
  reason: no box jumps under 16
  for: [adolescent]
  movements: [box-jump, box-jump-step-down, lower-box-jump]
---
names:
- {record: box-jump, also: [leap of mill lane]}
---
owns:
- {item: box}
- {item: dumbbell, sizes_kg: [5, 10, 15]}
- {item: plate}
---
changes:
- {record: box-jump, set: {load: null}, why: never loaded}
"""
SOUND = HOUSE[: HOUSE.rindex("---")]
ASK = ("options", "15 box jumps", "--complaint", "adolescent")


@pytest.fixture
def house(tmp_path: Path) -> Path:
    lay_house(tmp_path / "hall", SOUND)
    return tmp_path / "hall"


def test_rule_is_told_where_it_holds_and_nowhere_else(house: Path) -> None:
    answer = as_json(*ASK, "--house", str(house))
    assert answer["house"] == "mill lane hall"
    assert answer["outcome"] == "options"
    assert {"kind": "house", "reason": "house rule: no box jumps under 16", "detail": "named in the rule"} in answer[
        "in_the_way"
    ]
    assert answer["removed"]["house rule: no box jumps under 16"] == 3
    assert not {"box-jump", "box-jump-step-down", "lower-box-jump"} & {o["movement"] for o in answer["options"]}
    assert "112" in answer["caution"]
    assert as_json("options", "15 box jumps", "--house", str(house))["outcome"] == "as-written"
    assert as_json(*ASK)["house"] is None


def test_own_name_and_why_not(house: Path) -> None:
    run = subgraph("why-not", "15 leap of mill lane", "lower box jump", "--complaint", "teen", "--house", str(house))
    assert (run.returncode, run.stderr) == (0, "")
    assert "- house rule: no box jumps under 16 (named in the rule)" in run.stdout
    assert as_json("movement", "leap of mill lane", "--house", str(house))["id"] == "box-jump"
    assert subgraph("movement", "leap of mill lane").returncode == 2


def test_the_house_has_what_it_owns(house: Path) -> None:
    answer = as_json("options", "12 thrusters", "--load", "43kg", "--house", str(house))
    assert [r["reason"] for r in answer["in_the_way"]] == ["needs a barbell"]
    loads = {o["load_kg"] for o in answer["options"] if o["movement"].startswith("dumbbell")}
    assert loads
    assert loads <= {5, 10, 15}
    fewer = as_json("options", "12 thrusters", "--without", "dumbbell", "--house", str(house))
    assert not any("dumbbell" in " ".join(o["equipment"]) and "or" not in o["equipment"] for o in fewer["options"])


def test_stats_list_what_is_laid_over(house: Path) -> None:
    stats = as_json("library", "stats", "--house", str(house))
    laid = {(x["what"], x["record"]) for x in stats["house"]["laid"]}
    assert laid == {
        ("rule", "no-box-jumps-under-16"),
        ("named", "box-jump"),
        *(("owned", item) for item in ("box", "dumbbell", "plate")),
    }
    assert stats["movements"] == as_json("library", "stats")["movements"]
    text = subgraph("library", "stats", "--house", str(house)).stdout
    assert "house: mill lane hall, emergency 112" in text
    assert "rules.yaml:5" in "".join(text.split())
    assert max(map(len, text.splitlines())) <= 80


def test_broken_house_is_refused_with_all_that_is_wrong(house: Path) -> None:
    lay_house(house, HOUSE)
    write(house, "links/ours.yaml", "links:\n- {from: box-jump, to: nowhere, kind: easier, why: w}\n")
    run = subgraph("library", "check", "--house", str(house))
    assert run.returncode == 2
    assert f"error: {house}/changes.yaml:19:" in run.stdout
    assert f"error: {house}/links/ours.yaml:2:" in run.stdout
    assert "2 errors, 0 warnings" in run.stdout
    assert "not in force" in run.stdout
    found = as_json("library", "check", "--house", str(house), code=2)
    assert found["house"] == {"folder": str(house), "in_force": False}
    assert {p["line"] for p in found["problems"]} == {19, 2}
    for command in (ASK, ("why-not", "15 box jumps", "squat"), ("movement", "T2B"), ("library", "stats")):
        refused = subgraph(*command, "--house", str(house))
        assert_one_line(refused, "has 2 errors and nothing was answered", "changes.yaml:19:")


def test_own_house_that_breaks_leaves_the_library_in_force(house: Path) -> None:
    here = {"SUBGRAPH_HOUSE": str(house)}
    assert subgraph(*ASK, **here).stdout.splitlines()[1].startswith("house: mill lane hall | adolescent")
    lay_house(house, HOUSE)
    run = subgraph(*ASK, **here)
    assert run.returncode == 0
    assert len(run.stderr.splitlines()) == 1
    assert "has 1 error, so the library alone is in force; first: " in run.stderr
    assert run.stdout == subgraph(*ASK, "--house", "none").stdout
    assert subgraph("library", "check", **here).returncode == 2
    assert subgraph("library", "check", "library", **here).returncode == 0


def test_own_house_is_found_without_a_word(house: Path, tmp_path: Path) -> None:
    if sys.platform != "linux":
        pytest.skip("another platform keeps settings elsewhere")
    shutil.copytree(house, tmp_path / "config" / "subgraph" / "house")
    here = {"SUBGRAPH_HOUSE": "", "XDG_CONFIG_HOME": str(tmp_path / "config")}
    assert "house: mill lane hall" in subgraph(*ASK, **here).stdout
    assert "house:" not in subgraph(*ASK, "--house", "none", **here).stdout


def test_missing_folder(tmp_path: Path) -> None:
    gone = str(tmp_path / "gone")
    assert_one_line(subgraph(*ASK, "--house", gone), "is not there; nothing was answered", "new-house")
    assert_one_line(subgraph("library", "check", "--house", gone), "there is no house folder")
    assert_one_line(subgraph(*ASK, "--house", ""), "house folder")
    run = subgraph(*ASK, SUBGRAPH_HOUSE=gone)
    assert run.returncode == 0
    assert "the library alone is in force" in run.stderr


def test_template_is_made_once(tmp_path: Path) -> None:
    folder = str(tmp_path / "gym")
    run = subgraph("library", "new-house", folder)
    assert run.returncode == 0
    assert f"{folder}/rules.yaml" in run.stdout
    check = subgraph("library", "check", "--house", folder)
    assert check.returncode == 0
    assert "0 errors, 0 warnings" in check.stdout
    assert_one_line(subgraph("library", "new-house", folder), "is not empty; nothing was written")


@pytest.mark.parametrize("told", [[], ["--house", "{house}"]])
def test_a_house_costs_an_answer_no_imports(house: Path, told: list[str]) -> None:
    """Without a house nothing of it is imported; one that has been read before needs no YAML and no lint."""
    args = [*ASK, *(t.format(house=house) for t in told)]
    assert subgraph(*args).returncode == 0
    code = f"import sys; from subgraph.cli import run\nassert not run({args!r})\nprint(*sys.modules, file=sys.stderr)\n"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=ROOT)
    unwanted = HEAVY | {"platformdirs", "subgraph.checks", "subgraph.library.load", "subgraph.library.overlay"}
    unwanted |= set() if told else {"subgraph.library.house"}
    loaded = set(run.stderr.split())
    assert "subgraph.options" in loaded, run.stderr
    assert not unwanted & loaded
