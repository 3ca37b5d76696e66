"""The corpus of boards is sound: each text has its expected reading, of the right shape, with each line accounted for.

An expected reading leaves out what is null, false or empty, the library's version and an item's `name`. Texts of
`assumed` are free words: only whether something was assumed is expected. A `scheme` says how many rounds there are, so
`rounds` stays out beside it. A rest between two blocks is the `rest_s` of the first; a measured rest on a line of its
own is a heading. A line with an item nobody knows has the role item and stands among the unread too.
"""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import msgspec
import pytest
import yaml
from msgspec import Struct

from subgraph.library.knowledge import Library

FOLDER = Path(__file__).resolve().parent.parent / "boards"
NAMES = sorted(file.stem for file in FOLDER.glob("*.txt"))
Number = int | float


class Part(Struct, forbid_unknown_fields=True):
    movement: str | None
    amount: list[Number] = []
    amount_is: str = "each"
    unit: Literal["rep", "s", "m", "cal"] | None = None


class Item(Struct, forbid_unknown_fields=True):
    line: int
    as_written: str
    movement: str | None
    name: str | None = None
    amount: list[Number] = []
    amount_is: Literal["each", "standards", "scheme", "range", "max", "sets", "none"] = "none"
    unit: Literal["rep", "s", "m", "cal"] | None = None
    per_side: bool = False
    load_kg: list[Number] = []
    per_hand: bool = False
    height_cm: list[Number] = []
    percent: list[Number] = []
    rpe: Number | None = None
    tempo: str | None = None
    effort: Literal["heavy", "light", "moderate"] | None = None
    sets: int | None = None
    rest_s: Number | None = None
    slot: int | None = None
    role: Literal["buy-in", "cash-out"] | None = None
    label: str | None = None
    or_: list[str] = msgspec.field(default_factory=list, name="or")
    parts: list[Part] = []
    readings: list[str] = []
    why: str | None = None


class Block(Struct, forbid_unknown_fields=True):
    format: Literal["for-time", "amrap", "emom", "intervals", "strength", "work"]
    section: Literal["warm-up", "skill", "strength", "conditioning", "cool-down"] | None = None
    title: str | None = None
    rounds: int | None = None
    scheme: list[Number] = []
    step: Number | None = None
    time_cap_s: Number | None = None
    duration_s: Number | None = None
    every_s: Number | None = None
    work_s: Number | None = None
    rest_s: Number | None = None
    partners: int | None = None
    split: Literal["you-go-i-go", "shared", "synchro", "each"] | None = None
    items: list[Item] = []
    blocks: list[Block] = []


class Line(Struct, forbid_unknown_fields=True):
    line: int
    role: Literal["heading", "item", "note", "unread"]


class Said(Struct, forbid_unknown_fields=True):
    line: int
    text: str
    why: str | None = None
    nearest: list[str] = []


class Expected(Struct, forbid_unknown_fields=True):
    why: str
    blocks: list[Block]
    lines: list[Line]
    notes: list[Said] = []
    unread: list[Said] = []
    assumed: list[str] = []


def _text(name: str) -> list[str]:
    return (FOLDER / f"{name}.txt").read_text(encoding="utf-8").split("\n")


@functools.cache
def _expected(name: str) -> Expected:
    raw = yaml.safe_load((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))
    return msgspec.convert(raw, Expected)


def _blocks(blocks: list[Block]) -> Iterator[Block]:
    for block in blocks:
        yield block
        yield from _blocks(block.blocks)


def _items(expected: Expected) -> list[Item]:
    return [item for block in _blocks(expected.blocks) for item in block.items]


each_board = pytest.mark.parametrize("name", NAMES)


def test_corpus_is_as_large_as_promised() -> None:
    assert len(NAMES) >= 120


def test_each_text_has_its_reading_and_a_number_of_its_own() -> None:
    assert sorted(file.stem for file in FOLDER.glob("*.yaml")) == NAMES
    numbers = Counter(name.split("-")[0] for name in NAMES)
    assert not [number for number, times in numbers.items() if times > 1 or not (number.isdigit() and len(number) == 3)]


@each_board
def test_reading_has_the_shape_and_says_why(name: str) -> None:
    expected = _expected(name)
    assert len(expected.why.split()) >= 4
    assert _items(expected) or expected.unread


@each_board
def test_each_line_that_is_not_blank_has_exactly_one_role(name: str) -> None:
    filled = [number for number, line in enumerate(_text(name), 1) if line.strip()]
    assert [line.line for line in _expected(name).lines] == filled


@each_board
def test_roles_agree_with_items_notes_and_unread_lines(name: str) -> None:
    expected = _expected(name)
    lines = {role: {x.line for x in expected.lines if x.role == role} for role in ("item", "note", "unread")}
    known = {item.line for item in _items(expected) if item.movement}
    unknown = {item.line for item in _items(expected) if not item.movement}
    unread = {said.line for said in expected.unread}
    assert known <= lines["item"] <= known | unknown
    assert unknown <= unread
    assert lines["unread"] <= unread <= lines["unread"] | unknown
    assert lines["note"] <= {said.line for said in expected.notes} <= {line.line for line in expected.lines}


@each_board
def test_words_of_items_notes_and_unread_stand_on_their_lines(name: str) -> None:
    text, expected = _text(name), _expected(name)
    written = [(item.line, item.as_written) for item in _items(expected)]
    written += [(said.line, said.text) for said in (*expected.notes, *expected.unread)]
    # An item counts for the line where it begins; a name may run on into the next ones.
    following = [" ".join(part.strip() for part in text[at : at + 3]) for at in range(len(text))]
    assert not [
        (line, words)
        for line, words in written
        if not words or (words not in text[line - 1] and words not in following[line - 1])
    ]


@each_board
def test_movements_are_in_the_library_and_take_the_unit_and_the_load(name: str, library: Library) -> None:
    expected = _expected(name)
    items = _items(expected)
    named = [id_ for item in items for id_ in (*item.or_, *item.readings, *(p.movement for p in item.parts)) if id_]
    named += [item.movement for item in items if item.movement]
    named += [id_ for said in expected.unread for id_ in said.nearest]
    assert not [id_ for id_ in named if id_ not in library.movements]
    for item in items:
        if item.readings:
            assert item.readings[0] == item.movement
            assert len(item.readings) > 1
        if item.parts:
            assert item.parts[0].movement == item.movement
        if item.movement is None:
            continue
        movement = library.movements[item.movement]
        assert item.unit in (None, "s", *movement.units), (item.as_written, item.unit)
        assert not item.load_kg or movement.load is not None, item.as_written


@each_board
def test_amounts_are_of_the_kind_they_are_said_to_be(name: str) -> None:
    for block in _blocks(_expected(name).blocks):
        for item in block.items:
            sizes = {"each": {1}, "standards": {2}, "range": {2}, "max": {0}, "none": {0}}
            if item.amount_is in sizes:
                assert len(item.amount) in sizes[item.amount_is], item.as_written
            if item.amount_is == "scheme":
                assert item.amount == block.scheme != [], item.as_written
            if item.amount_is == "sets":
                assert len(item.amount) == item.sets, item.as_written
            if item.amount_is == "range":
                assert item.amount[0] < item.amount[1], item.as_written
            if item.amount:
                assert item.unit, item.as_written
                assert min(item.amount) > 0, item.as_written
            assert len(item.height_cm) <= 2, item.as_written
            assert item.load_kg or not item.per_hand, item.as_written


@each_board
def test_blocks_carry_the_clock_of_their_format(name: str) -> None:
    for block in _blocks(_expected(name).blocks):
        assert block.items or block.blocks
        assert block.format != "amrap" or block.duration_s
        assert block.format != "emom" or block.every_s
        assert block.format != "intervals" or block.work_s
        assert block.rounds is None or block.rounds > 0
        assert block.step is None or block.scheme
        assert block.split is None or block.partners
        slots = sorted({item.slot for item in block.items if item.slot})
        assert not slots or slots[-1] <= (block.rounds or slots[-1])
