"""The visible answer key: what an expert coach would call across the floor, case by case."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from subgraph.errors import SubgraphError
from subgraph.library.compile import Compiled, compiled
from subgraph.notation.ask import ReadAsk, read_ask
from subgraph.notation.situation import Situation, read_situation

FOLDER = Path(__file__).parent
_FLAGS = {"complaint": "complaints", "limit": "limits"}


@dataclass(frozen=True)
class Case:
    """One case of the key; ids are movements."""

    family: str
    ask: str
    kind: str
    why: str = ""
    flags: dict[str, Any] = field(default_factory=dict)
    best: tuple[str, ...] = ()
    good: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    amount: tuple[float, float] | None = None
    outcome: str | None = None

    def __str__(self) -> str:
        return f"{self.family}: {self.ask} {self.flags}"

    def read(self, base: Compiled) -> tuple[ReadAsk, Situation]:
        """The case as the command would read it."""
        flags = dict(self.flags)
        load = str(flags.pop("load", "") or "")
        words = {
            _FLAGS.get(name, name): value if isinstance(value, str) and name not in _LISTS else _listed(value)
            for name, value in flags.items()
        }
        return read_ask(self.ask, base, load=load), read_situation(base, **words)


_LISTS = {"without", "only", "complaint", "cannot", "limit"}


def _listed(value: Any) -> list[str]:
    return [str(v) for v in value] if isinstance(value, list) else [str(value)]


@cache
def cases(folder: str = "") -> tuple[Case, ...]:
    """All cases, in file order; `folder` "fresh", "again" or "third" for those that nothing was fitted on."""
    found = []
    for file in sorted((FOLDER / folder).glob("*.yaml")):
        for item in yaml.safe_load(file.read_text())["cases"]:
            amount = item.pop("amount", None)
            for name in ("best", "good", "never"):
                item[name] = tuple(item.get(name) or ())
            found.append(Case(family=file.stem, amount=tuple(amount) if amount else None, **item))
    return tuple(found)


def unreadable(folder: str = "") -> list[tuple[Case, str]]:
    """Cases whose words the tool does not understand, with the reason."""
    base = compiled()
    found = []
    for case in cases(folder):
        try:
            case.read(base)
        except SubgraphError as error:
            found.append((case, str(error)))
    return found
