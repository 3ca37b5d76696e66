"""Whole boards: each of `tests/text/boards.txt` reads as told below it, and reads the same from its own print."""

from __future__ import annotations

from pathlib import Path

import pytest

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.library.names import words
from subgraph.notation.board import Block, Item, Reading
from subgraph.notation.called import caller_of
from subgraph.notation.heads import heads_of
from subgraph.notation.lines import LONGEST, split_lines
from subgraph.notation.read import MOST_CHARACTERS, read_board
from subgraph.notation.words import words_of
from subgraph.quantities import number
from subgraph.show.board import reading_text
from subgraph.show.text import WIDTH, Style

TEXT = Path(__file__).resolve().parents[2] / "text" / "boards.txt"
PAIRS = [part.partition("\n---\n") for part in TEXT.read_text(encoding="utf-8").strip("\n").split("\n====\n")]
BOARDS = [board for board, _, _ in PAIRS]


def told(reading: Reading) -> str:
    """A reading in short: blocks with what is not empty, items, the part of each line."""
    lines = [line for block in reading.blocks for line in _block(block, "")]
    lines.append(" ".join(f"{one.line}{one.role[0]}" for one in reading.lines))
    return "\n".join(lines)


def _block(block: Block, pad: str) -> list[str]:
    facts = [block.format]
    for name in (
        "section",
        "title",
        "rounds",
        "time_cap_s",
        "duration_s",
        "every_s",
        "work_s",
        "rest_s",
        "partners",
        "split",
    ):
        if (value := getattr(block, name)) is not None:
            facts.append(f"{name.removesuffix('_s')}={number(value) if isinstance(value, float) else value}")
    if block.scheme:
        facts.append("-".join(map(number, block.scheme)) + (f"+{number(block.step)}" if block.step else ""))
    lines = [pad + " ".join(facts)]
    lines += [f"{pad}  {_item(item)}" for item in block.items]
    for part in block.blocks:
        lines += _block(part, pad + "    ")
    return lines


def _item(item: Item) -> str:
    facts = [str(item.line)]
    facts += [f"{item.label}."] if item.label else []
    facts += [f"slot{item.slot}"] if item.slot else []
    facts += [item.role] if item.role else []
    facts += [f"{item.sets}x"] if item.sets else []
    if item.amount_is != "none":
        facts.append("/".join(map(number, item.amount)) + f":{item.amount_is}:{item.unit}")
    facts.append(item.movement or f"?{item.name}")
    facts += ["per-side"] if item.per_side else []
    facts += ["@" + "/".join(map(number, item.load_kg)) + ("x2" if item.per_hand else "")] if item.load_kg else []
    facts += ["h" + "/".join(map(number, item.height_cm))] if item.height_cm else []
    facts += ["/".join(map(number, item.percent)) + "%"] if item.percent else []
    facts += [f"rpe{number(item.rpe)}"] if item.rpe else []
    facts += [text for text in (item.tempo, item.effort) if text]
    facts += [f"rest{number(item.rest_s)}"] if item.rest_s else []
    facts += ["or " + ",".join(item.or_)] if item.or_ else []
    facts += ["+".join(f"{number(p.amount)} {p.movement}" for p in item.parts)] if item.parts else []
    facts += ["of " + ",".join(item.readings)] if item.readings else []
    return " ".join(facts)


@pytest.mark.parametrize(("board", "expected"), [(b, e) for b, _, e in PAIRS], ids=range(len(PAIRS)))
def test_board_reads_as_told(compiled: Compiled, board: str, expected: str) -> None:
    assert told(read_board(board, compiled)) == expected


def test_there_are_boards_of_every_format() -> None:
    assert len(PAIRS) >= 60
    formats = {line.split()[0] for _, _, e in PAIRS for line in e.split("\n")}
    assert {"for-time", "amrap", "emom", "intervals", "strength", "work"} <= formats


@pytest.mark.parametrize("board", BOARDS, ids=range(len(BOARDS)))
def test_every_line_is_in_one_place(compiled: Compiled, board: str) -> None:
    wanted = [n for n, line in enumerate(split_lines(board), 1) if line.strip()]
    assert [one.line for one in read_board(board, compiled).lines] == wanted


def _plain(reading: Reading) -> list[tuple[object, ...]]:
    return [
        (i.movement, i.amount, i.amount_is, i.unit, i.load_kg, i.height_cm, i.sets, i.per_side) for i in reading.items
    ]


@pytest.mark.parametrize("board", BOARDS, ids=range(len(BOARDS)))
def test_print_reads_back_to_the_same_items(compiled: Compiled, board: str) -> None:
    reading = read_board(board, compiled)
    text = reading_text(reading, Style(colour=False))
    assert all(len(line) <= WIDTH for line in text.split("\n"))
    known = [i for i in reading.items if i.movement]
    again = [i for i in read_board(text, compiled).items if i.movement]
    assert [i.movement for i in again] == [i.movement for i in known]
    same = [a.amount == k.amount and a.unit == k.unit for a, k in zip(again, known, strict=True)]
    assert all(same), f"{text}\n{_plain(reading)}\n{_plain(read_board(text, compiled))}"


# --- units of load ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("board", "units", "load"),
    [
        ("10 thrusters 43/30", None, (43, 30)),
        ("10 thrusters 43/30", "lb", (19.5, 13.6)),
        ("10 thrusters 95/65", None, (43.1, 29.5)),
        ("10 thrusters 95/65", "kg", (95, 65)),
        ("10 thrusters 60\n10 deadlifts 225 lb", None, (27.2,)),
        ("10 thrusters @ 60\n10 deadlifts 100 kg", None, (60,)),
        ("10 thrusters 95/65#", None, (43.1, 29.5)),
        ("10 deadlifts 225/155", None, (102.1, 70.3)),
        ("20 wall balls 20/14", None, (9.1, 6.4)),
        ("20 wall balls 9/6", None, (9, 6)),
        ("10 KB swings 1.5/1 pood", None, (24.0, 16.0)),
        ("10 thrusters (43 kg / 30 kg)", None, (43, 30)),
        ("10 thrusters 95/65 lb (43/30 kg)", None, (43, 30)),
        ("10 thrusters M 43 W 30", None, (43, 30)),
        ("10 DB snatches 2x22.5 kg", None, (22.5,)),
    ],
)
def test_load_without_a_unit(compiled: Compiled, board: str, units: str | None, load: tuple[float, ...]) -> None:
    assert read_board(board, compiled, units=units).items[0].load_kg == pytest.approx(load)


def test_unit_of_load_is_said(compiled: Compiled) -> None:
    assert any("43/30 read as kg" in a for a in read_board("10 thrusters 43/30", compiled).assumed)
    assert any("lb alone" in a for a in read_board("10 thrusters 95/65", compiled).assumed)


# --- short forms with two readings -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("board", "first"),
    [
        ("15 PS 40/30 kg", "power-snatch"),
        ("10 PU", "strict-pull-up"),
        ("20 PU\n10 pull-ups", "push-up"),
        ("75 SU", "single-under"),
        ("20 SU", "sit-up"),
        ("30 s HS", "handstand-hold"),
        ("5 HS @ 50 kg", "hang-power-snatch"),
        ("5 MS 40 kg", "muscle-snatch"),
    ],
)
def test_context_decides_a_short_form(compiled: Compiled, board: str, first: str) -> None:
    item = read_board(board, compiled).items[0]
    assert item.movement == first
    assert item.readings[0] == first
    assert len(item.readings) >= 2
    assert item.why is not None
    assert "may be" in item.why


# --- what is for people is no movement ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        "Rest as needed",
        "Score: total reps",
        "Score = rounds + reps",
        "Goal: sub 12 minutes",
        "Scale to ring rows",
        "Sub 500 m row for the run",
        "Focus on depth in the squat",
        "Keep the chest up and the knees out",
        "1 DU = 3 SU",
        "No rope? 40 jumping jacks",
        "If you have no rig do ring rows",
        "Break up the pull-ups as you like",
        "Scaled: 10 ring rows",
        "Level 2: 35/25 kg",
        "Every time you break, 5 burpees",
        "Coach's tip: breathe at the top",
        "Pace the first round",
        "Have fun!",
        "Partition any way",
        "~~~",
    ],
)
def test_line_for_people_is_a_note(compiled: Compiled, line: str) -> None:
    reading = read_board(f"AMRAP 12\n10 burpees\n{line}\n12 air squats", compiled)
    assert [one.role for one in reading.lines] == ["heading", "item", "note", "item"]
    assert [i.movement for i in reading.items] == ["burpee", "air-squat"]


def test_substitutes_below_the_workout_are_no_more_work(compiled: Compiled) -> None:
    workout = "For time:\n50 pull-ups\n50 wall balls\n\n"
    board = f"{workout}Scaling options:\n- 50 ring rows\n- 30 wall balls\n\nCool down\n400 m walk"
    reading = read_board(board, compiled)
    assert [i.movement for i in reading.items] == ["strict-pull-up", "wall-ball", "walk"]
    assert [n.line for n in reading.notes] == [5, 6, 7]


# --- typos and unknown names -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "movement"),
    [
        ("10 thrustrs", "thruster"),
        ("12 pul-ups", "strict-pull-up"),
        ("15 tose to bar", "toes-to-bar"),
        ("20 dobule unders", "double-under"),
        ("10 burpess", "burpee"),
        ("10 KETTELBELL SWINGS", "kettlebell-swing"),
        ("12 deadlfits", "deadlift"),
        ("15 wallballs", "wall-ball"),
        ("10 box jmups", "box-jump"),
        ("10 hand stand push ups", "handstand-push-up"),
    ],
)
def test_typo_in_a_name_is_read(compiled: Compiled, text: str, movement: str) -> None:
    assert read_board(text, compiled).items[0].movement == movement


def test_unknown_movement_in_the_middle_is_listed_and_the_rest_read(compiled: Compiled) -> None:
    reading = read_board("3 rounds for time:\n10 burpees\n15 flurble wumps\n12 pull-ups", compiled)
    assert [i.movement for i in reading.items] == ["burpee", None, "strict-pull-up"]
    assert [(u.line, bool(u.nearest)) for u in reading.unread] == [(3, True)]
    assert [one.role for one in reading.lines] == ["heading", "item", "item", "item"]


def test_maker_s_word_beside_a_machine_is_passed_over_and_said(compiled: Compiled) -> None:
    item = read_board("30/20 cal blarp bike", compiled).items[0]
    assert item.movement == "air-bike"
    assert item.why is not None
    assert "blarp" in item.why


# --- bad input -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text", ["", "   \n\t\n", "hello there\nnice to see you", "\x00\x01", "12345", "((((", "Rest as needed"]
)
def test_board_without_a_movement_is_refused_in_one_line(compiled: Compiled, text: str) -> None:
    with pytest.raises(AskError) as caught:
        read_board(text, compiled)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 500


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("0 rounds", "0 rounds"),
        ("0 burpees", "zero"),
        ("99999 burpees", "more than anyone writes"),
        ("EMOM 0", "out of range"),
        ("AMRAP 9000", "out of range"),
        ("10 thrusters 9000 kg", "a load out of range"),
        ("x" * (LONGEST + 1), "longer than"),
    ],
)
def test_impossible_line_is_unread_with_the_reason(compiled: Compiled, line: str, why: str) -> None:
    reading = read_board(f"10 burpees\n{line}\n10 squats", compiled)
    assert [one.role for one in reading.lines] == ["item", "unread", "item"]
    assert why in reading.unread[0].why


def test_contradictory_times_are_said(compiled: Compiled) -> None:
    reading = read_board("AMRAP 12\n10 burpees\nTime cap 10 min", compiled)
    assert any("contradict" in a for a in reading.assumed)


def test_bare_400_is_metres_and_said(compiled: Compiled) -> None:
    reading = read_board("400 run", compiled)
    assert (reading.items[0].amount, reading.items[0].unit) == ((400,), "m")
    assert any("metres" in a for a in reading.assumed)


def test_a_megabyte_is_read_as_far_as_a_board_goes(compiled: Compiled) -> None:
    text = "10 burpees\n" * 95_000
    reading = read_board(text, compiled)
    assert len(reading.lines) == 95_000
    assert len(reading.items) == MOST_CHARACTERS // len("10 burpees")
    assert all("beyond" in u.why for u in reading.unread)


# --- the data behind it ----------------------------------------------------------------------------------------------


def test_calls_add_what_the_library_does_not_know(compiled: Compiled) -> None:
    caller = caller_of(compiled)
    exact = compiled.names["movement"].exact
    known = [w for c in compiled.library.calls.values() for w in c.also if "".join(words(w)) in exact]
    assert not known, f"the library has these names already: {known}"
    assert caller.known("burpees over the kettlebell") == "burpee-over-bar"


def test_readings_have_a_usual_number_each(compiled: Compiled) -> None:
    for reading in compiled.library.readings.values():
        assert len(reading.usual) == len(reading.movements), reading.id


@pytest.mark.parametrize(
    "text", ["10 burpees", "AMRAP 12", "21-15-9", "Back squat 5x5 @ 75%", "Rest as needed", "3 rounds:"]
)
def test_heading_is_found_again_unchanged(compiled: Compiled, text: str) -> None:
    heads = heads_of(words_of(compiled.library))
    first = heads.take(text)
    first.scheme.append(99)
    assert 99 not in heads.take(text).scheme


# --- climbs ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "climbs", "cm"),
    [
        ("5 m rope climb", 1, 500),
        ("10m rope climb", 1, 1000),
        ("15 ft rope climb", 1, 457.2),
        ("3 x 15ft rope climb", 3, 457.2),
        ("2 rope climbs (5 m)", 2, 500),
        ("5 m legless rope climb x 3", 3, 500),
        ("1 RC to 15'", 1, 457.2),
    ],
)
def test_length_beside_a_rope_climb_is_how_high(compiled: Compiled, line: str, climbs: int, cm: float) -> None:
    reading = read_board(f"4 rounds for time\n15 burpees\n{line}", compiled)
    item = reading.items[1]
    assert (item.amount, item.unit, item.height_cm) == ((climbs,), "rep", (cm,))
    counted = (line[0] in "123" and line[1] == " ") or "x 3" in line
    assert any("read as one climb" in a for a in reading.assumed) != counted


def test_second_climb_of_another_height_is_one_more(compiled: Compiled) -> None:
    items = read_board("3 rounds for time\n10 m rope climb\n15 burpees\n5 m rope climb", compiled).items
    assert [(i.movement, i.height_cm) for i in items] == [
        ("rope-climb", (1000,)),
        ("burpee", ()),
        ("rope-climb", (500,)),
    ]


@pytest.mark.parametrize(
    ("line", "amount", "unit"),
    [("2m plank", 120, "s"), ("10m burpees", 600, "s"), ("10 m lunge", 10, "m"), ("20m tyre flip", 20, "m")],
)
def test_m_is_a_way_where_something_moves_and_minutes_where_it_stays(
    compiled: Compiled, line: str, amount: float, unit: str
) -> None:
    item = read_board(f"3 rounds\n{line}\n10 sit-ups", compiled).items[0]
    assert (item.amount, item.unit) == ((amount,), unit)


def test_climb_without_a_number_takes_the_scheme(compiled: Compiled) -> None:
    item = read_board("5-4-3-2-1 for time\nrope climb 15ft\nthrusters 43/30", compiled).items[0]
    assert (item.amount, item.amount_is, item.height_cm) == ((5, 4, 3, 2, 1), "scheme", (457.2,))


# --- one piece ends, another begins -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "first", ["AMRAP 10\n10 pull-ups\n20 air squats", "EMOM 10\n5 power cleans", "12 min AMRAP\n10 burpees"]
)
@pytest.mark.parametrize("then", ["then 3 rounds for time", "Then, 3 RFT:", "into 3 rounds for time of"])
def test_rounds_for_time_after_a_piece_by_the_clock_stand_alone(compiled: Compiled, first: str, then: str) -> None:
    one, two = read_board(f"{first}\n{then}\n15 wall balls\n200 m run", compiled).blocks
    assert not one.blocks
    assert (two.format, two.rounds, [i.movement for i in two.items]) == ("for-time", 3, ["wall-ball", "run"])


def test_rounds_then_inside_an_amrap_stay_inside(compiled: Compiled) -> None:
    (block,) = read_board("AMRAP 20\n400 m run\nthen 3 rounds of\n10 burpees\n10 box jumps", compiled).blocks
    assert block.format == "amrap"
    assert block.blocks[0].rounds == 3


@pytest.mark.parametrize(
    ("board", "rest", "after"),
    [
        ("21-15-9\nthrusters\npull-ups\nRest 5 min\nAMRAP 8\n10 burpees", 300, True),
        ("21-15-9 for time\nthrusters\npull-ups\nRest 5 min\n15-12-9\ncal row\ndeadlifts", 300, True),
        ("21-15-9\nthrusters\npull-ups\nrest 4 min\n800 m run", 240, True),
        ("21-15-9\nthrusters\npull-ups\n\nRest 3:00\n\nB. 5 rounds\n5 burpees", 180, True),
        ("3 rounds for time\n12 thrusters\nrest 3 min before part B\nB. AMRAP 5\nburpees", 180, True),
        ("5 rounds for time\n200 m run\n\nRest 5 min\n\nAMRAP 8\n10 burpees", 300, True),
        ("EMOM 10\n5 power cleans\nRest 3 min\nEMOM 8\n10 burpees", 180, True),
        ("AMRAP 8\n10 burpees\nRest 3 min\nAMRAP 8\n10 push-ups", 180, True),
        ("21-15-9\nthrusters\npull-ups\nrest 1 min after each round", 60, False),
        ("5 rounds\n500 m row\nrest 3 min\n\nB. AMRAP 5\n10 burpees", 180, False),
        ("5 rounds for time\n200 m run\n10 burpees\nrest 1 min\nAMRAP 8\n10 push-ups", 60, False),
    ],
)
def test_rest_between_pieces_is_none_between_rounds(compiled: Compiled, board: str, rest: float, after: bool) -> None:
    block = read_board(board, compiled).blocks[0]
    assert (block.rest_s, block.rest_after) == (rest, after)
    assert block.rest_within_s == (None if after else rest)
    assert all(i.rest_s is None for i in block.items)


def test_rest_between_sets_of_a_lift_stays_with_the_lift(compiled: Compiled) -> None:
    block = read_board("5-5-5-5-5\nBack squat\n\nrest 3 min\n\nB. 3 rounds for time\n200 m run", compiled).blocks[0]
    assert (block.format, block.rest_after, block.items[0].rest_s) == ("strength", False, 180)


# --- rounds each -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heading", "partners", "in_turn"),
    [
        ("Teams of 3, relay\n5 rounds each", 3, True),
        ("In teams of 3: 5 rounds each, one works at a time", 3, True),
        ("Relay in 3s\n5 rounds each", 3, True),
        ("In pairs\n5 rounds per person", 2, False),
    ],
)
def test_rounds_each_are_not_shared(compiled: Compiled, heading: str, partners: int, in_turn: bool) -> None:
    (block,) = read_board(f"{heading}\n10 cal bike\n10 burpees", compiled).blocks
    assert (block.rounds, block.partners, block.split, block.in_turn) == (5, partners, "each", in_turn)


@pytest.mark.parametrize("heading", ["Teams of 3, relay\n6 rounds", "In 3s, 6 rounds, you go I go"])
def test_rounds_of_a_relay_without_each_are_shared(compiled: Compiled, heading: str) -> None:
    (block,) = read_board(f"{heading}\n10 cal bike\n10 burpees", compiled).blocks
    assert (block.partners, block.split, block.in_turn) == (3, "you-go-i-go", False)


def test_each_round_for_time_is_no_team(compiled: Compiled) -> None:
    (block,) = read_board("5 rounds each for time\n200 m run\n10 burpees", compiled).blocks
    assert (block.rounds, block.partners, block.split) == (5, None, None)


# --- what hangs on a line behind a comma ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "board",
    [
        "Back squat: build to a heavy 3 in 20 min",
        "20 min to build to a heavy 3 back squat",
        "Back squat\nBuild to a heavy 3 in 20:00",
        "Build to a heavy 3 back squat (20 min)",
        "A) Back squat - build to heavy 3, 20 min\nB) 3 RFT\n10 burpees",
    ],
)
def test_time_to_build_up_is_kept(compiled: Compiled, board: str) -> None:
    block = read_board(board, compiled).blocks[0]
    assert (block.format, block.duration_s) == ("strength", 1200)
    assert (block.items[0].amount, block.items[0].effort) == ((3,), "heavy")


@pytest.mark.parametrize(
    ("board", "share"),
    [
        ("8 rounds, 1:1 work/rest\n250 m row", 1),
        ("8 x 250 m row, 1:2 work:rest", 2),
        ("8 rounds\n250 m row\nrest 1:1", 1),
        ("8 rounds, work/rest 2:1\n250 m row", 0.5),
        ("8 rounds, rest as long as it took\n250 m row", 1),
    ],
)
def test_rest_by_the_time_of_the_work_is_kept(compiled: Compiled, board: str, share: float) -> None:
    (block,) = read_board(board, compiled).blocks
    assert (block.rounds, block.rest_per_work, block.rest_s) == (8, share, None)


def test_pair_that_works_one_to_one_takes_turns(compiled: Compiled) -> None:
    (block,) = read_board("In pairs, 8 rounds, 1:1 work/rest\n250 m row", compiled).blocks
    assert (block.partners, block.split, block.rest_per_work) == (2, "you-go-i-go", None)


def test_split_and_synchro_are_of_their_items(compiled: Compiled) -> None:
    board = "In pairs, 100 burpees, split\n20 synchro sit-ups\n30 wall balls, synchro, 9/6 kg"
    (block,) = read_board(board, compiled).blocks
    assert (block.partners, block.split) == (2, "shared")
    assert [i.split for i in block.items] == [None, "synchro", "synchro"]
    assert [i.as_written for i in block.items[1:]] == ["20 synchro sit-ups", "30 wall balls, synchro, 9/6 kg"]


def test_synchro_of_every_item_is_of_the_piece(compiled: Compiled) -> None:
    reading = read_board("20 synchro burpees\n40 synchro sit-ups", compiled)
    assert (reading.blocks[0].split, reading.blocks[0].partners) == ("synchro", 2)


@pytest.mark.parametrize("board", BOARDS, ids=range(len(BOARDS)))
def test_no_sign_of_the_reading_stands_in_an_item(compiled: Compiled, board: str) -> None:
    for item in read_board(board, compiled).items:
        assert ";" not in item.as_written or ";" in board


def test_rest_in_the_middle_of_a_line_is_of_what_stands_before_it(compiled: Compiled) -> None:
    (block,) = read_board("3 rounds: 10 swings, rest 30 s, 20 sit-ups, rest 1 min", compiled).blocks
    assert ([i.rest_s for i in block.items], block.rest_s) == ([30, None], 60)


# --- style between commas --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "movement", "load", "height"),
    [
        ("10 swings, American, 24 kg", "kettlebell-swing-overhead", (24,), ()),
        ("10 swings, 24 kg, American", "kettlebell-swing-overhead", (24,), ()),
        ("10 swings, Russian, 24/16 kg", "kettlebell-swing", (24, 16), ()),
        ("10 swings, chest tall, 24 kg", "kettlebell-swing", (24,), ()),
        ("10 cleans, power, 60/40", "power-clean", (60, 40), ()),
        ("10 squats, goblet, 20 kg", "goblet-squat", (20,), ()),
        ("12 lunges, walking, bodyweight", "walking-lunge", (), ()),
        ("20 step-ups, weighted, 2x22.5, 50 cm box", "weighted-step-up", (22.5,), (50,)),
        ("15 push-ups, hands on a box", "push-up", (), ()),
    ],
)
def test_words_of_style_between_commas_belong_to_the_item(
    compiled: Compiled, line: str, movement: str, load: tuple[float, ...], height: tuple[float, ...]
) -> None:
    item, last = read_board(f"5 rounds for time\n{line}\n10 burpees", compiled).items
    assert (item.movement, item.load_kg, item.height_cm) == (movement, load, height)
    assert last.movement == "burpee"


def test_styles_do_not_eat_the_items_behind_them(compiled: Compiled) -> None:
    board = "AMRAP 10: 10 swings, American, 24 kg, 10 rows, single arm, 20 kg, each side, 200 m run"
    swing, row, run = read_board(board, compiled).items
    assert (swing.load_kg, row.load_kg, row.per_side) == ((24,), (20,), True)
    assert (run.movement, run.amount, run.unit) == ("run", (200,), "m")


def test_names_between_commas_stay_items(compiled: Compiled) -> None:
    items = read_board("21-15-9\nthrusters, pull-ups, burpees", compiled).items
    assert [i.movement for i in items] == ["thruster", "strict-pull-up", "burpee"]


def test_heavy_in_a_race_is_no_set_to_build_up_to(compiled: Compiled) -> None:
    text = reading_text(read_board("3 RFT\n10 swings, heavy, 32 kg\n10 burpees", compiled), Style(colour=False))
    assert "build to" not in text
    assert "heavy" in text


def test_rounds_alone_are_for_time_and_it_is_said(compiled: Compiled) -> None:
    reading = read_board("3 rounds\n10 burpees\n20 air squats", compiled)
    assert (reading.blocks[0].format, reading.blocks[0].rounds) == ("for-time", 3)
    assert reading.assumed == ("line 1: rounds, but no format is written; read as for time",)
    assert not read_board("3 rounds for quality\n10 burpees", compiled).assumed


# --- faults of boards as coaches wrote them ---------------------------------------------------------------------------


def test_target_in_metres_behind_a_load_without_a_unit(compiled: Compiled) -> None:
    item = read_board("EMOM 12\n10 wall balls 9/6 to 3m", compiled).items[0]
    assert (item.amount, item.unit, item.load_kg, item.height_cm) == ((10,), "rep", (9, 6), (300,))


def test_pair_behind_an_amount_and_a_name_is_a_load(compiled: Compiled) -> None:
    item = read_board("AMRAP 20\n200m farmers carry 2x24\n20 step-ups", compiled).items[0]
    assert (item.amount, item.unit, item.sets, item.load_kg, item.per_hand) == ((200,), "m", None, (24,), True)
    row = read_board("KB row 2x10", compiled).items[0]
    assert (row.sets, row.amount, row.load_kg) == (2, (10,), ())


@pytest.mark.parametrize(
    ("line", "sets", "reps"),
    [
        ("Back squat 5x3 building to a heavy triple", 5, 3),
        ("Deads 5x3 building to heavy triple in 15mins", 5, 3),
        ("Front squat 5x2, build to heavy double", 5, 2),
        ("Build to a heavy 3 back squat over 5 sets", 5, 3),
    ],
)
def test_sets_that_build_up(compiled: Compiled, line: str, sets: int, reps: int) -> None:
    item = read_board(line, compiled).items[0]
    assert (item.sets, item.amount, item.effort) == (sets, (reps,), "heavy")


def test_team_above_the_letters_is_of_all_pieces(compiled: Compiled) -> None:
    board = "Saturday, teams of 2, YGIG\nA) 10 min AMRAP\n8 burpees\nB) 21-15-9\ndeadlifts\nC) 100 cal row, split"
    blocks = read_board(board, compiled).blocks
    assert [(b.partners, b.split) for b in blocks] == [(2, "you-go-i-go"), (2, "you-go-i-go"), (2, "shared")]


def test_names_with_slashes_are_a_list_and_engines_a_choice(compiled: Compiled) -> None:
    items = read_board("Tabata: squats/push ups/sit ups/row for cals - 1 min rest btwn", compiled).items
    assert [i.movement for i in items] == ["air-squat", "push-up", "sit-up", "row"]
    engines = read_board("AMRAP 10\n20 cal row/bike/ski\n10 burpees", compiled).items
    assert [i.movement for i in engines] == ["row", "burpee"]


def test_length_and_manner_before_a_list(compiled: Compiled) -> None:
    (block,) = read_board("For 20 minutes, at a steady pace:\n200m run\nEvery 5 min do 10 push-ups", compiled).blocks
    assert (block.format, block.duration_s, len(block.items)) == ("amrap", 1200, 2)


def test_named_piece_below_sets_begins_anew(compiled: Compiled) -> None:
    board = "3 sets\nrow 500 m\nthen 3 x max plank\n\nCore\n3 rds nft\n20 sit-ups"
    one, two, three = read_board(board, compiled).blocks
    assert [len(b.items) for b in (one, two, three)] == [1, 1, 1]
    assert (two.items[0].sets, two.title, three.title) == (3, None, "Core")


def test_rulers_are_not_shown(compiled: Compiled) -> None:
    text = reading_text(read_board("AMRAP 10\n10 burpees\n-----\nhave fun", compiled), Style(colour=False))
    assert "---" not in text
    assert "have fun" in text


def test_stars_around_a_note_are_left_out(compiled: Compiled) -> None:
    assert (
        read_board("AMRAP 10\n10 burpees\n*no dropping bars*", compiled).notes[0].text.strip("*") == "no dropping bars"
    )


def test_a_bar_in_a_heading_parts_nothing(compiled: Compiled) -> None:
    reading = read_board("10 box jump-overs\n\nAMRAP | 10\n10 T2B", compiled)
    assert reading.blocks[-1].format == "amrap"
    assert reading.blocks[-1].duration_s == 600


def test_a_line_with_an_item_and_a_remark_is_an_item(compiled: Compiled) -> None:
    reading = read_board("10 box jump-overs\nmax reps | 10\n10 T2B", compiled)
    roles = {line.line: line.role for line in reading.lines}
    assert 2 in {item.line for item in reading.items}
    assert all(roles[item.line] == "item" for item in reading.items)
    (note,) = read_board("AMRAP 10\n10 burpees\n*no dropping bars please*", compiled).notes
    assert note.text == "no dropping bars please"


def test_minutes_glued_to_their_number_stay_minutes(compiled: Compiled) -> None:
    reading = read_board("Deads 5x3 building to heavy triple in 15mins\n\n3 RFT\n10burpees\n5mins row", compiled)
    assert reading.blocks[0].duration_s == 900
    assert [(i.amount, i.unit) for i in reading.blocks[1].items] == [((10,), "rep"), ((300,), "s")]


def test_sets_by_work_and_rest_are_rounds(compiled: Compiled) -> None:
    (block,) = read_board("3 sets, 1:1 work/rest\nrow 500m hard", compiled).blocks
    assert (block.format, block.rounds, block.rest_per_work, block.items[0].sets) == ("for-time", 3, 1, None)


def test_clock_of_its_own_is_once_where_there_are_no_rounds(compiled: Compiled) -> None:
    one = read_board("Teams of 2\n100 cal row. Every 2 min do 5 burpees", compiled)
    assert any("read as done once" in a for a in one.assumed)
    each = read_board("AMRAP 20\n10 air squats\n10 sit-ups\nevery 2 min stop and do 5 burpees", compiled)
    assert any("once in each round" in a for a in each.assumed)
    assert each.items[-1].as_written == "5 burpees"


def test_rest_behind_intervals_ends_them(compiled: Compiled) -> None:
    board = "5 x 3:00 on / 1:00 off\n12 cal bike\nRest 4 min, then\n10-1: KB swings (24/16), goblet squats"
    one, two = read_board(board, compiled).blocks
    assert (one.format, one.rest_s, len(one.items)) == ("intervals", 60, 1)
    assert (two.format, two.scheme[0], two.scheme[-1], len(two.items)) == ("for-time", 10, 1, 2)


def test_clock_below_a_complex_is_of_the_complex(compiled: Compiled) -> None:
    board = "Complex: 1 power clean + 1 front squat + 1 jerk\nevery 90 secs x 8\nThen: 3 rep max push press 10 mins"
    one, two = read_board(board, compiled).blocks
    assert (one.format, one.every_s, one.rounds, len(one.items[0].parts)) == ("emom", 90, 8, 3)
    assert (two.format, two.duration_s, two.items[0].movement) == ("strength", 600, "push-press")


def test_pair_is_a_load_never_the_height_of_a_box(compiled: Compiled) -> None:
    item = read_board("3x12 Bulgarian split squats each leg 2x12.5", compiled).items[0]
    assert (item.load_kg, item.per_hand, item.height_cm) == ((12.5,), True, ())


def test_rest_after_each_rd_leaves_no_title(compiled: Compiled) -> None:
    (block,) = read_board("AMRAP 20\n30 DU\n10 burpees\nrest 60s after each rd", compiled).blocks
    assert (block.title, block.rest_s, block.rest_after) == (None, 60, False)


def test_rounds_each_of_an_amrap_only_say_when_to_hand_over(compiled: Compiled) -> None:
    reading = read_board("12 min AMRAP, in pairs, one works one rests, 2 rounds each:\n200m run\n8 burpees", compiled)
    (block,) = reading.blocks
    assert (block.rounds, block.split, block.in_turn) == (None, "you-go-i-go", False)
    assert any("2 rounds each" in a for a in reading.assumed)


def test_a_line_kept_as_talk_alone_is_a_note(compiled: Compiled) -> None:
    reading = read_board("then 3x5 @ 85% ow 500m x 4, rest 2:00of that\n\nBack Squat 5x5", compiled)
    unread = {line.line for line in reading.lines if line.role == "unread"}
    assert unread <= {one.line for one in reading.unread}


@pytest.mark.parametrize("text", ["For time\n0s\nplank\nsit-ups", "Back squat\n0 x 5\n", "50-40-30\nburpees\n0 m\nrun"])
def test_a_zero_on_a_line_of_its_own_is_unread_and_given_to_nothing(compiled: Compiled, text: str) -> None:
    reading = read_board(text, compiled)
    assert any(u.why == "an amount of zero" for u in reading.unread)
    assert all(v > 0 for item in reading.items for v in item.amount)
    assert all(item.sets != 0 for item in reading.items)


def test_more_than_anyone_writes_on_a_line_of_its_own_is_unread(compiled: Compiled) -> None:
    reading = read_board("Strict press\n3-3-3\nAdd 99999999999 weight each set", compiled)
    assert [u.why for u in reading.unread] == ["more than anyone writes for one item"]
    assert max(v for item in reading.items for v in item.amount) <= 3
