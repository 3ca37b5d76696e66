"""Printed answers in fixed situations; `scripts/snapshots` writes them anew."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from pathlib import Path

import yaml

FOLDER = Path(__file__).parent
ROOT = FOLDER.parent.parent


def situations() -> dict[str, tuple[str, str]]:
    """Name of each situation to its command and the board on standard input."""
    listed = yaml.safe_load((FOLDER / "situations.yaml").read_text(encoding="utf-8"))
    return {one["name"]: (one["run"], one.get("board", "")) for one in (*listed["asks"], *listed["boards"])}


def printed(command: str, board: str) -> str:
    """What the command prints at 80 columns."""
    env = {k: v for k, v in os.environ.items() if k != "SUBGRAPH_EMERGENCY"}
    done = subprocess.run(
        [sys.executable, "-m", "subgraph", *shlex.split(command)],
        cwd=ROOT,
        env={**env, "COLUMNS": "80", "NO_COLOR": "1", "SUBGRAPH_HOUSE": "none"},
        input=board,
        capture_output=True,
        text=True,
    )
    return f"$ subgraph {command}\n{done.stdout}{done.stderr}"


def main() -> None:
    """Write all anew."""
    for name, (command, board) in situations().items():
        (FOLDER / f"{name}.txt").write_text(printed(command, board), encoding="utf-8")


if __name__ == "__main__":
    main()
