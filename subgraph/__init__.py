"""Movement substitutions of equal stimulus for coaches of mixed-ability classes.

In Python: ``Library.load()``, ``Ask``, ``Today`` and ``options(library, ask, today)``; each is loaded on first use.
"""

from __future__ import annotations

from typing import Any

__version__ = "0.1.0"
__all__ = ["Ask", "Library", "Today", "options"]

_HOMES = {
    "Library": "subgraph.library.knowledge",
    "Ask": "subgraph.today",
    "Today": "subgraph.today",
    "options": "subgraph.options",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'subgraph' has no attribute {name!r}")
    import importlib

    return getattr(importlib.import_module(_HOMES[name]), name)
