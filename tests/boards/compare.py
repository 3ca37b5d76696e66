"""How far a reading of a board agrees with the expected one, field by field.

Compared are roles of lines, the fields of blocks in order, and the fields of items in order of their lines. Free words
(`title`, `why`, `assumed`, what exactly `as_written` spans) are not.
"""

from __future__ import annotations

import functools
import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

FOLDER = Path(__file__).parent
CORE = ("movement", "amount", "unit")
OF_ITEM = (
    *CORE,
    *("amount_is", "per_side", "load_kg", "per_hand", "height_cm", "percent", "rpe", "tempo", "effort", "sets"),
    *("rest_s", "slot", "role", "label", "or", "parts"),
)
OF_BLOCK = (
    *("format", "section", "rounds", "scheme", "step", "time_cap_s", "duration_s", "every_s", "work_s", "rest_s"),
    *("partners", "split"),
)


def names() -> list[str]:
    """Boards of the corpus, in order."""
    return sorted([*(path.stem for path in FOLDER.glob("*.txt")), *_later()])


def text_of(name: str) -> str:
    """A board as a coach wrote it."""
    if (later := _later().get(name)) is not None:
        return str(later["text"])
    return (FOLDER / f"{name}.txt").read_text(encoding="utf-8")


def expected_of(name: str) -> dict[str, Any]:
    """Its expected reading."""
    if (later := _later().get(name)) is not None:
        return later
    found: dict[str, Any] = yaml.safe_load((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))
    return found


@functools.cache
def _later() -> dict[str, dict[str, Any]]:
    """Boards of the later batches by name, text and expected reading together."""
    files = sorted((FOLDER / "later").glob("*.yaml"))
    documents = (d for f in files for d in yaml.load_all(f.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader))
    return {document["name"]: document for document in documents}


@dataclass
class Agreement:
    """Counts of what agrees and what there is, and the differences in words."""

    right: Counter[str] = field(default_factory=Counter)
    whole: Counter[str] = field(default_factory=Counter)
    differences: list[str] = field(default_factory=list)

    def count(self, what: str, same: bool, words: str = "") -> None:
        """One comparison."""
        self.whole[what] += 1
        self.right[what] += same
        if not same and words:
            self.differences.append(words)

    def add(self, other: Agreement) -> None:
        """Pool with another board."""
        self.right.update(other.right)
        self.whole.update(other.whole)
        self.differences += other.differences


def compare(expected: dict[str, Any], found: dict[str, Any]) -> Agreement:
    """Compare a reading, as its JSON, with the expected one."""
    out = Agreement()
    roles = {line["line"]: line["role"] for line in found["lines"]}
    for line in expected["lines"]:
        role = roles.get(line["line"])
        out.count("line roles", role == line["role"], f"line {line['line']}: {role}, expected {line['role']}")
    out.count("line numbers", sorted(roles) == [line["line"] for line in expected["lines"]])
    theirs, ours = list(_blocks(found)), list(_blocks(expected))
    out.count("number of blocks", len(theirs) == len(ours), f"{len(theirs)} blocks, expected {len(ours)}")
    for i, want in enumerate(ours):
        have = theirs[i] if i < len(theirs) else {}
        wrong = [name for name in OF_BLOCK if not _same(want.get(name), have.get(name))]
        out.count("block format", "format" not in wrong)
        said = ", ".join(f"{n} {have.get(n)!r} not {want.get(n)!r}" for n in wrong)
        out.count("whole block", not wrong, f"block {i + 1}: {said}")
    have_items = [item for block in theirs for item in block.get("items") or ()]
    want_items = [item for block in ours for item in block.get("items") or ()]
    out.count("number of items", len(have_items) == len(want_items))
    left = list(have_items)
    for want in want_items:
        near = [item for item in left if item["line"] == want["line"]]
        near.sort(key=lambda item: not _same(item.get("movement"), want.get("movement")))
        have = near[0] if near else {}
        if near:
            left.remove(have)
        wrong = [name for name in OF_ITEM if not _same(want.get(name), have.get(name))]
        out.count("item movement", "movement" not in wrong)
        out.count("item movement, amount, unit", not set(wrong) & set(CORE))
        said = ", ".join(f"{n} {have.get(n)!r} not {want.get(n)!r}" for n in wrong)
        out.count("whole item", not wrong, f"line {want['line']} '{want['as_written']}': {said}")
        if want.get("readings"):
            out.count("two readings told", set(want["readings"]) <= set(have.get("readings") or ()))
    for item in left:
        out.count("nothing invented", False, f"line {item['line']}: '{item['as_written']}' is not expected")
    out.count("nothing invented", True)
    unread = {said["line"] for said in found["unread"]} == {said["line"] for said in expected.get("unread") or ()}
    out.count("unread lines", unread)
    out.count("assumption told", bool(found.get("assumed")) or not expected.get("assumed"))
    out.count("whole board", not out.differences)
    return out


def _blocks(reading: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for block in reading.get("blocks") or ():
        yield block
        yield from _blocks(block)


def _same(want: Any, have: Any) -> bool:
    """Whether two values say the same; nothing, false, "none" and an empty list are one."""
    want, have = (None if v == "none" else v for v in (want, have))
    if not want and not have:
        return True
    if isinstance(want, list) and isinstance(have, list | tuple):
        if want and isinstance(want[0], dict):
            return len(want) == len(have) and all(
                _same(w.get(n), h.get(n)) for w, h in zip(want, have, strict=True) for n in ("movement", "amount")
            )
        if all(isinstance(w, str) for w in want):
            return set(want) == set(have)
        return len(want) == len(have) and all(_same(w, h) for w, h in zip(want, have, strict=True))
    if isinstance(want, list) and len(want) == 1:
        return _same(want[0], have)
    if isinstance(want, int | float) and isinstance(have, int | float) and not isinstance(want, bool):
        return math.isclose(want, have, rel_tol=0.004, abs_tol=0.06)
    return bool(want == have)
