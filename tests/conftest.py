"""Fixtures for all tests. Nothing here, and nothing under test, writes to the user's own cache."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from subgraph.library.compile import Compiled
from subgraph.library.knowledge import Library
from tests.common import load_tiny


@pytest.fixture(scope="session", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Folder of compiled libraries, for this run alone."""
    folder = tmp_path_factory.mktemp("cache")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SUBGRAPH_CACHE", str(folder))
        yield folder


@pytest.fixture(scope="session")
def compiled(cache: Path) -> Compiled:
    """The real library with its names."""
    from subgraph.library.compile import compiled

    return compiled()


@pytest.fixture(scope="session")
def library(compiled: Compiled) -> Library:
    """The real library."""
    return compiled.library


@pytest.fixture(scope="session")
def tiny(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The tiny library of `tests/common.py`."""
    return load_tiny(tmp_path_factory.mktemp("tiny"))
