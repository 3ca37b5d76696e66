"""Each rule fires on its own counter-example, at the marked line, and on nothing else."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from subgraph.checks import check_folder
from tests.common import ROOT, lay_house, lay_over, movement, tiny_library

HERE = Path(__file__).parent
MARK = "# <- here"
INVALID = sorted((HERE / "invalid").glob("*.yaml"))
VALID = sorted((HERE / "valid").glob("*.yaml"))
HOUSE = sorted((HERE / "house").glob("*.yaml"))


def rule_of(path: Path) -> str:
    """Rule that a file is named for; a further case of the same rule stands after two hyphens."""
    return path.stem.split("--")[0]


def rules_in_the_code() -> set[str]:
    """Ids of all rules: the constants given as `rule`, in the lint and in the reading of files."""
    found: set[str] = set()
    folder = ROOT / "subgraph"
    reading = [folder / "library" / f"{module}.py" for module in ("load", "read", "overlay")]
    for path in [*(folder / "checks").glob("*.py"), *reading]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.keyword) and node.arg == "rule" and isinstance(node.value, ast.Constant):
                found.add(node.value.value)
            if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant):
                names = [t.id for t in node.targets if isinstance(t, ast.Name)]
                found |= {node.value.value} if names == ["RULE"] else set()
    return found


def test_there_are_examples_of_both_sorts() -> None:
    assert len(INVALID) >= 20, "tests/library/invalid is as good as empty"
    assert len(VALID) >= 15, "tests/library/valid is as good as empty"


def test_every_rule_of_the_lint_has_a_counter_example() -> None:
    rules = rules_in_the_code()
    assert len(rules) >= 20, "hardly any rules found in the code: the search is broken"
    assert not rules - {rule_of(p) for p in INVALID + HOUSE}, "rules without a file in tests/library/invalid or house"


@pytest.mark.parametrize("path", INVALID + VALID + HOUSE, ids=lambda p: f"{p.parent.name}/{p.stem}")
def test_example_is_named_for_a_rule_and_opens_with_its_reason(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("# "), "the first line must say why"
    assert rule_of(path) in rules_in_the_code() | {"structure", "key-repeated"}


@pytest.mark.parametrize("path", INVALID, ids=lambda p: p.stem)
def test_exactly_this_rule_fires_at_the_marked_line(path: Path, tmp_path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    marked = [n for n, line in enumerate(text.splitlines(), 1) if line.endswith(MARK)]
    assert len(marked) == 1, f"mark one line with {MARK}"
    files = lay_over(tmp_path, text)
    problems = check_folder(tmp_path)
    assert [(p.rule, p.line) for p in problems] == [(rule_of(path), marked[0])], "\n".join(map(str, problems))
    assert problems[0].file in files
    says_how = problems[0].mend or "xpected" in problems[0].what or "contains" in problems[0].what
    assert says_how, "says what is wrong, but not how to mend it"


@pytest.mark.parametrize("path", HOUSE, ids=lambda p: p.stem)
def test_house_is_linted_over_the_merged_whole(path: Path, tmp_path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    marked = [n for n, line in enumerate(text.splitlines(), 1) if line.endswith(MARK)]
    assert len(marked) == 1, f"mark one line with {MARK}"
    files = lay_house(tmp_path / "house", text)
    problems = check_folder(tiny_library(tmp_path / "library"), tmp_path / "house")
    assert [(p.rule, p.line) for p in problems] == [(rule_of(path), marked[0])], "\n".join(map(str, problems))
    assert problems[0].file in files
    assert problems[0].mend or "xpected" in problems[0].what, "says what is wrong, but not how to mend it"


@pytest.mark.parametrize("path", VALID, ids=lambda p: p.stem)
def test_near_miss_passes(path: Path, tmp_path: Path) -> None:
    lay_over(tmp_path, path.read_text(encoding="utf-8"))
    assert not [str(p) for p in check_folder(tmp_path)]


def test_tiny_library_is_sound(tmp_path: Path) -> None:
    assert not [str(p) for p in check_folder(tiny_library(tmp_path))]


def test_cycle_of_needs_prints_the_way_round(tmp_path: Path) -> None:
    changed = [movement("air-squat", needs=["march"]), movement("march", needs=["air-squat"])]
    (problem,) = check_folder(tiny_library(tmp_path, movements=changed))
    assert problem.rule == "needs-acyclic"
    ways = ("air-squat > march > air-squat", "march > air-squat > march")
    assert problem.what in [f"must be owned before itself: {way}" for way in ways]


def test_cycle_is_reported_at_the_same_place_in_every_run(tmp_path: Path) -> None:
    changed = [
        movement("air-squat", needs=["march"]),
        movement("march", needs=["plank"]),
        movement("plank", needs=["air-squat"]),
    ]
    tiny_library(tmp_path, movements=changed)
    code = (
        "import sys, pathlib; from subgraph.checks import check_folder; print(*check_folder(pathlib.Path(sys.argv[1])))"
    )
    said = set()
    for seed in range(6):
        done = subprocess.run(
            [sys.executable, "-c", code, str(tmp_path)],
            capture_output=True,
            text=True,
            check=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
        )
        said.add(done.stdout)
    assert len(said) == 1, said


def test_lint_speaks_of_structure_alone_while_a_record_cannot_be_built(tmp_path: Path) -> None:
    bad = movement("air-squat", demands={"hangs": 1}, strength=9)
    problems = check_folder(tiny_library(tmp_path, movements=[bad]))
    assert [p.rule for p in problems] == ["field-type"]


def test_problems_come_sorted_by_place(tmp_path: Path) -> None:
    lay_over(
        tmp_path,
        "movements:\n- id: march\n  demands: {zzz: 1}\n---\ncomplaints:\n- {id: elbow, at_most: {yyy: [1, 1, 1]}}\n",
    )
    problems = check_folder(tmp_path)
    assert len(problems) == 2
    assert problems == sorted(problems)
    assert [p.file for p in problems] == ["complaints/overlay-1.yaml", "movements/overlay-0.yaml"]
