"""Which folder holds the records. The only module that knows a checkout from an installed wheel."""

from __future__ import annotations

import os
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def library_folder() -> Path:
    """Folder of the embedded YAML records.

    Raises
    ------
    FileNotFoundError
        If neither the wheel's copy nor the checkout's folder is there.
    """
    for folder in (_PACKAGE / "data", _PACKAGE.parent.parent / "library"):
        if (folder / "vocabulary.yaml").is_file():
            return folder
    raise FileNotFoundError("the library folder is missing from this installation")


def cache_folder() -> Path:
    """Folder for compiled libraries, per user; `SUBGRAPH_CACHE` overrides it."""
    chosen = os.environ.get("SUBGRAPH_CACHE")
    if chosen:
        return Path(chosen)
    # platformdirs costs more to import than all the rest of a warm start; its Linux answer is the common case.
    if os.name == "posix" and (base := os.environ.get("XDG_CACHE_HOME")):
        return Path(base) / "subgraph"
    from platformdirs import user_cache_path

    return user_cache_path("subgraph", appauthor=False)


def record_files(folder: Path) -> list[str]:
    """Paths of all record files below `folder`, sorted."""
    found = []
    for place, _, names in os.walk(folder):
        below = place[len(str(folder)) + 1 :]
        found += [f"{below}/{name}" if below else name for name in names if name.endswith(".yaml")]
    return sorted(found)
