"""The wheel carries the records and works away from the checkout."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.common import ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    built = subprocess.run(command, capture_output=True, text=True, check=False)
    assert built.returncode == 0, built.stdout + built.stderr
    (found,) = folder.glob("*.whl")
    return found


def test_wheel_carries_every_record_file(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    assert "subgraph/library/data/vocabulary.yaml" in names
    here = {p.relative_to(ROOT / "library").as_posix() for p in (ROOT / "library").rglob("*.yaml")}
    assert {f"subgraph/library/data/{file}" for file in here} <= names
    assert not [n for n in names if n.startswith(("tests/", "scripts/", "library/"))]


def test_installed_wheel_answers_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    target, elsewhere = tmp_path / "target", tmp_path / "elsewhere"
    elsewhere.mkdir()
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps", "--no-index"]
    subprocess.run([*pip, "--target", str(target), str(wheel)], check=True, capture_output=True)
    env = {**os.environ, "PYTHONPATH": str(target), "SUBGRAPH_CACHE": str(tmp_path / "cache")}

    def run(*args: str) -> str:
        done = subprocess.run([sys.executable, *args], cwd=elsewhere, env=env, capture_output=True, text=True)
        assert (done.returncode, done.stderr) == (0, "")
        return done.stdout

    assert Path(run("-c", "import subgraph; print(subgraph.__file__)").strip()).is_relative_to(target)
    answer = json.loads(run("-m", "subgraph", "options", "15 toes-to-bar", "--without", "rig", "--json"))
    assert answer["outcome"] == "options"
    assert len(answer["options"]) == 3
