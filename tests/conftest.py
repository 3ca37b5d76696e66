"""Fixtures for all tests. Nothing here, and nothing under test, touches the user's own cache or house."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from subgraph.library.compile import Compiled
from subgraph.library.knowledge import Library
from tests.common import load_tiny

# No deadlines: the first example of a run pays for compiling. HYPOTHESIS_PROFILE=ci draws the same examples each time.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command does
settings.register_profile("dev", deadline=None, max_examples=100)
settings.register_profile("ci", deadline=None, max_examples=100, derandomize=True, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci" if os.environ.get("CI") else "dev"))


@pytest.fixture(scope="session", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Folder of compiled libraries, for this run alone."""
    folder = tmp_path_factory.mktemp("cache")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SUBGRAPH_CACHE", str(folder))
        patch.setenv("SUBGRAPH_HOUSE", "none")
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
