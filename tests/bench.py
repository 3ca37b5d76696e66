"""Times what a coach waits for; started by `scripts/bench`."""

from __future__ import annotations

import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

RUNS = 15
WARM_ASKS = 200
ASK = [str(Path(sys.executable).with_name("subgraph")), "options", "15 toes-to-bar", "--without", "rig"]


def seconds(work: Callable[[], object]) -> float:
    """Wall time of one call [s]."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def process(*args: str) -> Callable[[], object]:
    """A fresh interpreter, output dropped."""
    return lambda: subprocess.run([sys.executable, *args], check=True, stdout=subprocess.DEVNULL)


def asks_per_second() -> float:
    """Warm asks in this process: any movement, a mixed floor, half of them with a complaint."""
    from subgraph.library.compile import compiled
    from subgraph.notation.ask import read_ask
    from subgraph.notation.situation import read_situation
    from subgraph.options import options

    base, dice = compiled(), random.Random(1)
    ids = list(base.library.movements)
    kit = [e.name for e in base.library.equipment.values()]
    complaints = [c.name for c in base.library.complaints.values() if not c.refer and "," not in c.name]
    todo = [
        (
            base.library.movements[dice.choice(ids)].name,
            dice.sample(kit, 2),
            dice.sample(complaints, i % 2),
            dice.choice([None, "novice", "regular", "advanced"]),
        )
        for i in range(WARM_ASKS)
    ]

    def answer_all() -> None:
        for name, without, told, level in todo:
            situation = read_situation(base, without=without, complaints=told, level=level)
            options(base.library, read_ask(name, base).ask, situation.today, says=situation.says)

    answer_all()
    return WARM_ASKS / seconds(answer_all)


def board_times() -> list[tuple[str, str]]:
    """Rows of the boards of our corpus, in this process once all is loaded: read, and adapted for a sore shoulder."""
    from subgraph.adapt import adapt
    from subgraph.library.compile import compiled
    from subgraph.notation.read import read_board
    from subgraph.notation.situation import read_situation

    base = compiled()
    texts = [path.read_text() for path in sorted((Path(__file__).parent / "boards").glob("*.txt"))]
    today = read_situation(base, without=["rig"], complaints=["shoulder:overhead"]).today
    rows = []
    for name, work in (
        ("read a board", lambda text: read_board(text, base)),
        ("read and adapt a board", lambda text: adapt(base.library, read_board(text, base), today)),
    ):
        for text in texts[:5]:
            work(text)
        took = sorted(1000 * seconds(lambda text=text, work=work: work(text)) for text in texts)  # type: ignore[misc]
        rows.append(
            (f"{name}, warm (median, nine in ten)", f"{took[len(took) // 2]:.0f}, {took[len(took) * 9 // 10]:.0f} ms")
        )
    return rows


def main() -> None:
    """Print the table."""
    rows: list[tuple[str, str]] = []
    with tempfile.TemporaryDirectory() as cache:
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does
        # An installation runs from bytecode; a machine that keeps none would time the compiler.
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.environ["PYTHONPYCACHEPREFIX"] = f"{cache}/bytecode"
        os.environ["SUBGRAPH_CACHE"] = f"{cache}/once"
        process(*ASK)()
        os.environ["SUBGRAPH_CACHE"] = f"{cache}/compiled"
        cold = seconds(process(*ASK))
        ours, base = [], []
        for _ in range(RUNS):  # in turn, so that a busy machine slows both alike
            ours.append(seconds(process(*ASK)))
            base.append(seconds(process("-c", "import typer")))
        one, other = statistics.median(ours), statistics.median(base)
        rows += [
            ("one ask, fresh process, warm cache (median)", f"{1000 * one:.0f} ms"),
            ("import typer, fresh process (median)", f"{1000 * other:.0f} ms"),
            ("ratio of the two", f"{one / other:.2f}"),
            ("one ask, nothing compiled yet (once)", f"{cold:.1f} s"),
            ("varied asks in one warm process", f"{asks_per_second():.0f} per second"),
            *board_times(),
        ]
        from subgraph.library.compile import compiled_library
        from subgraph.ratios import EQUALISERS, evidence, solve
        from subgraph.ratios.heterogeneity import widened

        for equaliser in EQUALISERS:
            edges = evidence(compiled_library(), equaliser)
            nodes = len({end for edge in edges for end in (edge.a, edge.b)})
            weigh = seconds(lambda edges=edges: widened(edges))  # type: ignore[misc]
            took = seconds(lambda edges=edges: solve(edges))  # type: ignore[misc]
            what = f"ratios, equal {equaliser} ({nodes} nodes, {len(edges)} edges)"
            rows.append((f"solve {what}", f"{1000 * took:.0f} ms"))
            rows.append((f"weigh {what}", f"{1000 * weigh:.0f} ms"))
    width = max(len(name) for name, _ in rows)
    for name, value in rows:
        print(f"{name:<{width}}  {value:>16}")


if __name__ == "__main__":
    main()
