"""The board again: every line, in place, with what changed."""

from __future__ import annotations

from typing import Any

import pytest

from subgraph.adapt import adapt
from subgraph.adapt.versions import versions
from subgraph.library.compile import Compiled
from subgraph.notation.board import Item
from subgraph.notation.read import read_board
from subgraph.notation.situation import read_situation
from subgraph.show.adapted import adapted_text, versions_text
from subgraph.show.board import reading_text
from subgraph.show.board_again import board_again, item_words
from subgraph.show.text import Style, several
from tests.expected import NAMES, board

NO_RIG: dict[str, Any] = {"without": ["rig", "barbell", "rower"]}


@pytest.mark.parametrize("name", NAMES)
def test_each_line_stands_once_and_only_items_change(compiled: Compiled, name: str) -> None:
    text, reading = board(compiled.library, name)
    told = read_situation(compiled, **NO_RIG)
    adapted = adapt(compiled.library, reading, told.today)
    rows = board_again(compiled.library, text, adapted)
    assert [r.line for r in rows] == list(range(1, len(text.splitlines()) + 1))
    items = {i.line for i in reading.items}
    for row, raw in zip(rows, text.splitlines(), strict=True):
        assert row.line in items or not row.changed
        if not row.changed:
            assert row.text == raw.rstrip().expandtabs(4)
        else:
            assert row.text.strip()
    said = adapted_text(compiled.library, text, adapted, told.today, (), Style(False), explain=True)
    assert all(len(line) <= 80 for line in said.splitlines())


def test_words_around_an_item_stay(compiled: Compiled) -> None:
    text = "EMOM 16\nMin 1 - 2 get-ups\nMin 2 - 12/9 cal ski\nMin 3 - 45s plank\nMin 4 - rest"
    reading = read_board(text, compiled)
    told = read_situation(compiled, without=["ski ergometer"])
    rows = board_again(compiled.library, text, adapt(compiled.library, reading, told.today))
    assert [r.changed for r in rows] == [False, False, True, False, False]
    assert rows[2].text.startswith("Min 2 - ")
    assert rows[2].text != "Min 2 - 12/9 cal ski"


def item(as_written: str, name: str, **fields: Any) -> Item:
    return Item(line=1, as_written=as_written, movement="air-squat", name=name, **fields)


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        (
            item("15 pull-ups", "pull-up", amount=(15.0,), amount_is="each", unit="rep"),
            item("", "ring row", amount=(20.0,), amount_is="each", unit="rep"),
            "20 ring rows",
        ),
        (
            item("15/12 cal row", "row", amount=(15.0, 12.0), amount_is="standards", unit="cal"),
            item("", "run", amount=(200.0, 150.0), amount_is="standards", unit="m"),
            "200/150 m run",
        ),
        (
            item("Back squat 5x5 @ 75%", "back squat", amount=(5.0,), amount_is="each", unit="rep", sets=5),
            item("", "box squat", amount=(5.0,), amount_is="each", unit="rep", sets=5, percent=(75.0,)),
            "box squats 5x5 @ 75%",
        ),
        (
            item("Pull-ups", "pull-up", amount=(21.0, 15.0, 9.0), amount_is="scheme", unit="rep"),
            item("", "ring row", amount=(30.0, 22.0, 14.0), amount_is="scheme", unit="rep"),
            "30-22-14 ring rows",
        ),
        (
            item("thrusters", "thruster", amount=(21.0, 15.0, 9.0), amount_is="scheme", unit="rep"),
            item("", "goblet squat", amount=(21.0, 15.0, 9.0), amount_is="scheme", unit="rep", load_kg=(24.0, 16.0)),
            "goblet squats 24/16 kg",
        ),
        (
            item("max burpees", "burpee", amount_is="max", unit="rep"),
            item("", "up-down", amount_is="max", unit="rep"),
            "max up-downs",
        ),
        (
            item("10 DB rows/side", "row", amount=(10.0,), amount_is="each", unit="rep", per_side=True),
            item(
                "",
                "band row",
                amount=(12.0,),
                amount_is="each",
                unit="rep",
                per_side=True,
                load_kg=(15.0, 10.0),
                per_hand=True,
            ),
            "12/side band rows 2x15/10 kg",
        ),
        (
            item("Strict pull-ups x 6 @ 21X1", "pull-up", amount=(6.0,), amount_is="each", unit="rep"),
            item("", "ring row", amount=(8.0,), amount_is="each", unit="rep", tempo="21X1"),
            "ring rows x 8 @ 21X1",
        ),
        (
            item("1:30 plank", "plank", amount=(90.0,), amount_is="each", unit="s"),
            item("", "bear hold", amount=(45.0,), amount_is="each", unit="s"),
            "45 s bear hold",
        ),
    ],
)
def test_an_item_in_the_board_s_own_order(compiled: Compiled, before: Item, after: Item, expected: str) -> None:
    assert item_words(compiled.library, before, after) == expected


def test_a_ladder_goes_on(compiled: Compiled) -> None:
    before = item("pull-ups", "pull-up", amount=(1.0, 2.0), amount_is="scheme", unit="rep")
    after = item("", "ring row", amount=(2.0, 4.0), amount_is="scheme", unit="rep")
    assert item_words(compiled.library, before, after, ladder=True) == "2-4-... ring rows"


def test_versions_fit_the_width_and_name_each(compiled: Compiled) -> None:
    from subgraph.adapt.versions import versions

    text, reading = board(compiled.library, "159-whole-class")
    columns = versions(compiled.library, reading)
    said = versions_text(compiled.library, text, columns, Style(False))
    assert all(len(line) <= 80 for line in said.splitlines())
    for version in compiled.library.versions.values():
        assert version.name.upper() in said


@pytest.mark.parametrize(
    ("line", "as_written", "expected"),
    [
        ("Min 2 - 12/9 cal ski", "12/9 cal ski", "Min 2 - X"),
        ('10 box jump overs 24/20"', '10 box jump overs 24/20"', "X"),
        ("12 KB snatch 16/12 kg, 6 per side", "12 KB snatch 16/12 kg", "X"),
        ("21–15–9 pull‑ups", "21-15-9 pull-ups", "X"),
        ("   500 m\trow".expandtabs(4), "500 m | row", "   X"),
        ("then 5 x (3 snatches + 6 burpees) @ 40 kg", "6 burpees", "then 5 x (3 snatches + X) @ 40 kg"),
        ("- something else altogether", "10 pull-ups", "- X"),
    ],
)
def test_words_are_put_over_the_item_alone(line: str, as_written: str, expected: str) -> None:
    from subgraph.show.board_again import _put

    assert _put(line, item(as_written, "x"), "X", alone=True) == expected


@pytest.mark.parametrize(
    ("line", "situation", "expected"),
    [
        (
            "Build to a heavy 3 front squat, 20 min",
            {"complaints": ["wrist"]},
            "Build to a heavy 3 double-dumbbell front",
        ),
        ("80 synchro burpees", {"complaints": ["shoulder"]}, "80 synchro hands-raised burpees"),
        ("10 toes-to-bar", {"cannot": ["toes-to-bar"]}, "10 hanging knee raises"),
        ("10 T2B", {"cannot": ["toes-to-bar"]}, "10 hanging knee raises"),
    ],
)
def test_only_the_name_changes_where_only_the_movement_does(
    compiled: Compiled, line: str, situation: dict[str, Any], expected: str
) -> None:
    text = line if line.startswith("Build") else f"In pairs, for time\n{line}\n20 air squats"
    told = read_situation(compiled, **situation)
    rows = board_again(compiled.library, text, adapt(compiled.library, read_board(text, compiled), told.today))
    (changed,) = [row.text for row in rows if row.changed]
    assert changed.startswith(expected)


def test_one_arm_does_not_work_side_by_side(compiled: Compiled) -> None:
    text = "3 rounds for time\n10 pull-ups\n15 goblet squats 24/16 kg"
    told = read_situation(compiled, complaints=["arm in a sling"])
    adapted = adapt(compiled.library, read_board(text, compiled), told.today)
    said = "\n".join(r.text for r in board_again(compiled.library, text, adapted) if r.changed)
    assert "free arm" in said
    assert "/side" not in said


def test_several_of_a_name() -> None:
    assert [
        several(name) for name in ("toe tap on a step", "bent-over row", "clean and jerk", "sandbag to shoulder")
    ] == [
        "toe taps on a step",
        "bent-over rows",
        "clean and jerks",
        "sandbag to shoulder",
    ]


@pytest.mark.parametrize(("load", "tail"), [("95/65 lb", "lb"), ("95/65#", "lb"), ("43/30 kg", "kg")])
def test_a_board_in_pounds_is_answered_in_pounds(compiled: Compiled, load: str, tail: str) -> None:
    text = f"3 rounds for time\n15 thrusters {load}\n10 burpees"
    told = read_situation(compiled, without=["barbell"])
    rows = board_again(compiled.library, text, adapt(compiled.library, read_board(text, compiled), told.today))
    (line,) = [row.text for row in rows if row.changed]
    assert line.endswith(f" {tail}")
    if tail == "lb":
        assert int(line.split()[-2].split("x")[-1].split("/")[0]) % 5 == 0


STEERING = "For time\n21 pull\x0c-ups\n\x1b]0;hello\x07 a note, not a lift\n15 thrusters 43kg\u2028quick\n9 pull-ups\n"


def test_lines_are_counted_as_the_reader_counts_them_and_nothing_steers_the_terminal(compiled: Compiled) -> None:
    reading = read_board(STEERING, compiled)
    today = read_situation(compiled, without=["rig"]).today
    adapted = adapt(compiled.library, reading, today)
    rows = board_again(compiled.library, STEERING, adapted)
    assert [row.line for row in rows] == [1, 2, 3, 4, 5]
    assert [row.line for row in rows if row.changed] == [2, 5]
    printed = [
        reading_text(reading, Style(False)),
        adapted_text(compiled.library, STEERING, adapted, today, (), Style(False), explain=True),
        versions_text(compiled.library, STEERING, versions(compiled.library, reading), Style(False)),
    ]
    for text in printed:
        assert "hello" in text
        assert text.replace("\n", "").isprintable()
        assert text.splitlines() == text.split("\n")
