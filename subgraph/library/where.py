"""Which folders hold the records. The only module that knows a checkout from an installed wheel."""

from __future__ import annotations

import os
import sys
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


def house_folder(told: str | None) -> tuple[Path, bool] | None:
    """The gym's own folder, and whether it was asked for by name.

    Parameters
    ----------
    told : str or None
        As given with the ask; "none" for the library alone. Where left out, `SUBGRAPH_HOUSE` and then the user's own
        folder stand in.

    Returns
    -------
    (Path, bool) or None
        None for the library alone.
    """
    chosen = os.environ.get("SUBGRAPH_HOUSE", "") if told is None else told
    if chosen.strip().lower() == "none":
        return None
    if chosen or told is not None:
        return Path(chosen).expanduser(), told is not None
    folder = own_house_folder()
    return (folder, False) if os.path.lexists(folder) else None


def own_house_folder() -> Path:
    """Where a user's own house folder stands, whether or not there is one."""
    if sys.platform == "linux":  # as platformdirs has it, without the import
        base = os.environ.get("XDG_CONFIG_HOME", "").strip() or os.path.expanduser("~/.config")
        return Path(base) / "subgraph" / "house"
    from platformdirs import user_config_path

    return user_config_path("subgraph", appauthor=False) / "house"


def record_files(folder: Path) -> list[str]:
    """Paths of all record files below `folder`, sorted."""
    found = []
    for place, _, names in os.walk(folder):
        below = place[len(str(folder)) + 1 :]
        found += [f"{below}/{name}" if below else name for name in names if name.endswith(".yaml")]
    return sorted(found)
