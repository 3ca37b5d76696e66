"""Refreshes the output under each prompt in README.md; started by `scripts/readme`."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BLOCK = re.compile(r"^```\n(\$ .*?)^```", re.M | re.S)


def printed(command: str) -> str:
    """What a command prints at 80 columns; of the score, all cases and by kind."""
    words = shlex.split(command)
    run = {"subgraph": ["-m", "subgraph"], "scripts/score": ["-m", "tests.key.score"]}[words[0]]
    env = {k: v for k, v in os.environ.items() if k != "SUBGRAPH_EMERGENCY"}
    done = subprocess.run(
        [sys.executable, *run, *words[1:]],
        cwd=ROOT,
        env={**env, "COLUMNS": "80", "NO_COLOR": "1", "SUBGRAPH_HOUSE": "none", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    text = done.stdout + done.stderr
    return "\n\n".join(text.split("\n\n")[:2]).rstrip() if words[0] == "scripts/score" else text.rstrip()


def main() -> None:
    """Rewrite README.md."""
    path = ROOT / "README.md"
    scores = "--scores" in sys.argv

    def refreshed(found: re.Match[str]) -> str:
        parts = re.split(r"^\$ (?=\S)", found[1], flags=re.M)[1:]
        out = []
        for part in parts:
            command, _, before = part.partition("\n")
            old = before.rstrip()
            out.append(f"$ {command}\n{printed(command) if scores or command.startswith('subgraph') else old}\n")
        return "```\n" + "\n".join(out) + "```"

    path.write_text(BLOCK.sub(refreshed, path.read_text()))


if __name__ == "__main__":
    main()
