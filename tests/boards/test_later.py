"""The later boards are sound: every line has one part, what is expected stands on its line, ids are in the library."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from subgraph.library.knowledge import Library
from subgraph.notation.lines import split_lines
from tests.boards.compare import expected_of, names, text_of

LATER = [name for name in names() if name >= "2"]


def _items(blocks: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for block in blocks:
        yield from block.get("items") or ()
        yield from _items(block.get("blocks") or [])


def test_there_are_some_hundred_and_none_has_another_s_number() -> None:
    numbers = [name[:3] for name in names()]
    assert len(LATER) >= 400
    assert len(set(numbers)) == len(numbers)


@pytest.mark.parametrize("name", LATER)
def test_each_line_has_one_part_and_holds_what_is_expected_of_it(name: str, library: Library) -> None:
    text, expected = split_lines(text_of(name)), expected_of(name)
    assert [line["line"] for line in expected["lines"]] == [n for n, line in enumerate(text, 1) if line.strip()]
    assert len(expected["why"].split()) >= 3
    for item in _items(expected["blocks"]):
        assert item["as_written"] in text[item["line"] - 1], item
        ids = [item["movement"], *item.get("or", ()), *(p["movement"] for p in item.get("parts", ()))]
        assert all(id_ is None or id_ in library.movements for id_ in ids), item
