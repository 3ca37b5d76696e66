"""What the README and the help show is what a coach gets."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys

import pytest

from tests.common import ROOT

README = (ROOT / "README.md").read_text()
FENCED = re.findall(r"^```[a-z]*\n(.*?)^```", README, re.M | re.S)
COMMANDS = ["options", "why-not", "movement", "progression", "read", "adapt"]
COMMANDS += ["library check", "library stats", "library new-house"]


def shown() -> list[tuple[str, str]]:
    """Command and output of each block that starts with a prompt; one block may hold several."""
    found = []
    for block in FENCED:
        if block.startswith("$ subgraph "):
            for part in re.split(r"^\$ (?=subgraph )", block, flags=re.M)[1:]:
                command, _, output = part.partition("\n")
                found.append((command, output.rstrip()))
    return found


def run(*args: str) -> str:
    env = {k: v for k, v in os.environ.items() if k != "SUBGRAPH_EMERGENCY"}
    command = [sys.executable, "-m", "subgraph", *args]
    done = subprocess.run(
        command, cwd=ROOT, env={**env, "COLUMNS": "80", "NO_COLOR": "1"}, capture_output=True, text=True
    )
    return (done.stdout + done.stderr).rstrip()


def test_readme_shows_three_asks() -> None:
    assert sum(command.startswith("subgraph options ") for command, _ in shown()) >= 3


@pytest.mark.parametrize(("command", "output"), shown(), ids=[command for command, _ in shown()])
def test_readme_output_is_what_comes(command: str, output: str) -> None:
    assert run(*shlex.split(command)[1:]) == output


@pytest.mark.parametrize("command", COMMANDS)
def test_readme_mentions_every_command(command: str) -> None:
    assert f"subgraph {command}" in README


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_an_example(command: str) -> None:
    assert f"Example: subgraph {command}" in " ".join(run(*command.split(), "--help").split())


def test_no_command_is_missing_here() -> None:
    from subgraph.cli import app, library_app

    names = {c.name for c in app.registered_commands} | {f"library {c.name}" for c in library_app.registered_commands}
    assert names == set(COMMANDS)
