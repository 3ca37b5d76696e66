"""Spoil boards at random, from a seed; read them, print them, and adapt some."""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

from subgraph.adapt import adapt
from subgraph.errors import AskError
from subgraph.library.compile import Compiled, compiled
from subgraph.notation.board import Reading
from subgraph.notation.lines import split_lines
from subgraph.notation.read import read_board
from subgraph.notation.situation import read_situation
from subgraph.show.adapted import adapted_text
from subgraph.show.adapted_data import adapted_data
from subgraph.show.board import reading_text
from subgraph.show.data import encode, reading_data
from subgraph.show.text import Style
from subgraph.today import Today
from tests.boards.compare import names, text_of

TESTS = Path(__file__).resolve().parent.parent / "tests"
ADAPTED = 20  # one board in so many is also adapted and printed: that costs ten times as much
SIGNS = "0123456789 \t\n\n-/x*+@#%:;,.()[]'\"&|=>~$<{}\\_abcemrstuABCERX½×–—•→″❤💪\u200b\u00a0\x00\x07"
WORDS = (
    *(
        "AMRAP",
        "EMOM",
        "for time",
        "rest",
        "then",
        "rounds",
        "cap",
        "kg",
        "lb",
        "cal",
        "min",
        "max",
        "or",
        "each",
        "0",
        "21-15-9",
    ),
    *(
        "buy-in",
        "cash-out",
        "every",
        "ladder",
        "5x5",
        "@ 75%",
        "RPE 8",
        "24/20",
        "10 to 1",
        "tabata",
        "(",
        ")",
        "1e9",
        "99999999999",
    ),
)


def boards() -> list[str]:
    """The sound boards that are spoilt; not the second half of the corpus, which nobody is to see."""
    samples = (TESTS / "text" / "boards.txt").read_text(encoding="utf-8").split("\n====\n")
    return [b.partition("\n---\n")[0] for b in samples] + [text_of(n) for n in names() if not n.startswith("1")]


def spoil(text: str, other: str, chance: random.Random) -> str:
    """One board with a few changes of the kinds that pasting, typing and noise make."""
    for _ in range(chance.randint(1, 6)):
        at = chance.randrange(len(text) + 1)
        to = min(len(text), at + chance.randint(0, 12))
        kind = chance.randrange(9)
        if kind == 0:
            text = text[:at] + text[to:]
        elif kind == 1:
            text = text[:at] + chance.choice(SIGNS) + text[at:]
        elif kind == 2:
            text = text[:at] + f" {chance.choice(WORDS)} " + text[at:]
        elif kind == 3:
            lines = text.split("\n")
            chance.shuffle(lines)
            text = "\n".join(lines)
        elif kind == 4:
            text = text.replace("\n", chance.choice((" ", ", ", "\r\n", "\n\n", "")), chance.randint(1, 9))
        elif kind == 5:
            text = text[:at] + text[at:to] * chance.randint(2, 6) + text[to:]
        elif kind == 6:
            cut = chance.randrange(len(other) + 1)
            text = text[:at] + other[cut : cut + 60] + text[at:]
        elif kind == 7:
            text = text.upper() if chance.random() < 0.5 else text.title()
        else:
            text = (
                text[:at] + "".join(chr(chance.randrange(32, 0x2FFF)) for _ in range(chance.randint(1, 5))) + text[at:]
            )
    return text


def check(text: str, base: Compiled) -> Reading | None:
    """Read and print one text; fail where a line is missing or named twice."""
    wanted = [n for n, line in enumerate(split_lines(text), 1) if line.strip()]
    try:
        reading = read_board(text, base)
    except AskError:
        return None
    assert [one.line for one in reading.lines] == wanted, f"lines not accounted for: {text!r}"
    roles = {one.line: one.role for one in reading.lines}
    for item in reading.items:
        assert roles[item.line] in ("item", "unread"), f"line {item.line} of {text!r} is {roles[item.line]}"
    assert {u.line for u in reading.unread} <= set(wanted)
    assert {n for n, role in roles.items() if role == "unread"} <= {u.line for u in reading.unread}
    assert reading_text(reading, Style(False))
    assert encode(reading_data(reading))
    return reading


def members(base: Compiled) -> list[Today]:
    """A few members who need much changed."""
    flags: list[dict[str, object]] = [
        {"without": ["rig"], "complaints": ["shoulder:overhead"]},
        {"only": ["dumbbell", "box"], "level": "novice"},
        {"complaints": ["knee:impact", "low back:bending"], "limits": ["no-running"]},
        {"without": ["barbell", "rope"], "limits": ["quiet", "small-space"]},
        {"complaints": ["wheelchair"]},
        {"level": "advanced"},
    ]
    return [read_situation(base, **told).today for told in flags]  # type: ignore[arg-type]


def check_adapted(text: str, reading: Reading, base: Compiled, today: Today) -> None:
    """Adapt and print one reading; every line comes back."""
    found = adapt(base.library, reading, today)
    assert adapted_text(base.library, text, found, today, (), Style(False), explain=True)
    data = adapted_data(base.library, text, found)
    assert encode(data)
    assert [one["line"] for one in data["lines"]] == list(range(1, len(split_lines(text)) + 1))


def main() -> int:
    """Run the given number of inputs."""
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    chance = random.Random(seed)
    base, sound = compiled(), boards()
    who = members(base)
    slowest, text_of_slowest = 0.0, ""
    start = time.perf_counter()
    for done in range(number):
        text = spoil(chance.choice(sound), chance.choice(sound), chance)
        before = time.perf_counter()
        try:
            reading = check(text, base)
            if reading and done % ADAPTED == 0:
                check_adapted(text, reading, base, who[done // ADAPTED % len(who)])
        except Exception:
            print(f"input {done} of seed {seed}: {text!r}", file=sys.stderr)
            raise
        if (took := time.perf_counter() - before) > slowest:
            slowest, text_of_slowest = took, text
    took = time.perf_counter() - start
    print(f"{number} boards read, one in {ADAPTED} adapted, without a crash")
    print(f"{1000 * took / number:.1f} ms each, the slowest {1000 * slowest:.0f} ms")
    print(f"the slowest: {text_of_slowest[:300]!r}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
