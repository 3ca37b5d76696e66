"""One line from the board: what is read, what is assumed aloud, and what is refused."""

from __future__ import annotations

import pytest

from subgraph.errors import AmbiguousNameError, AskError, UnknownNameError
from subgraph.library.compile import Compiled
from subgraph.notation.ask import LONGEST, USUAL, ReadAsk, movement_named, read_ask
from subgraph.quantities import MOST, UNITS


def read(compiled: Compiled, text: str, load: str = "") -> tuple[str, float, str]:
    ask = read_ask(text, compiled, load=load).ask
    return ask.movement, ask.amount.value, ask.amount.unit


def refuse(compiled: Compiled, text: str, load: str = "") -> AskError:
    """The one clear line that an ask is refused with."""
    with pytest.raises(AskError) as caught:
        read_ask(text, compiled, load=load)
    said = str(caught.value)
    assert "\n" not in said
    assert said.isprintable()
    assert len(said) < 400
    return caught.value


# --- good forms ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "movement", "value", "unit"),
    [
        ("15 toes-to-bar", "toes-to-bar", 15, "rep"),
        ("15 T2B", "toes-to-bar", 15, "rep"),
        ("toes to bar x 15", "toes-to-bar", 15, "rep"),
        ("toes to bar: 15 reps", "toes-to-bar", 15, "rep"),
        ("15 reps of toes to bar", "toes-to-bar", 15, "rep"),
        ("15x toes to bar", "toes-to-bar", 15, "rep"),
        ("- 15 toes to bar", "toes-to-bar", 15, "rep"),
        ("fifteen toes to bar", "toes-to-bar", 15, "rep"),
        ("Twenty Burpees", "burpee", 20, "rep"),
        ("a hundred double-unders", "double-under", 100, "rep"),
        ("400m run", "run", 400, "m"),
        ("run 400m", "run", 400, "m"),
        ("400 metre run", "run", 400, "m"),
        ("run, 400 meters", "run", 400, "m"),
        ("run 0.4 km", "run", 400, "m"),
        ("2k row", "row", 2000, "m"),
        ("1 mile run", "run", 1609.344, "m"),
        ("0.5 mile run", "run", 804.672, "m"),
        ("12 cal row", "row", 12, "cal"),
        ("row 12 calories", "row", 12, "cal"),
        ("12 row cal", "row", 12, "cal"),
        ("500 row", "row", 500, "m"),
        ("1:00 plank", "plank", 60, "s"),
        (":45 plank", "plank", 45, "s"),
        ("plank 1:30", "plank", 90, "s"),
        ("2 min plank", "plank", 120, "s"),
        ("90 second plank", "plank", 90, "s"),
        ("30s plank", "plank", 30, "s"),
        ("30 s burpees", "burpee", 30, "s"),
    ],
)
def test_amount_unit_and_movement_in_any_order(
    compiled: Compiled, text: str, movement: str, value: float, unit: str
) -> None:
    assert read(compiled, text) == (movement, pytest.approx(value), unit)


@pytest.mark.parametrize(
    ("text", "movement", "value", "unit", "note"),
    [
        ("12/10 cal row", "row", 12, "cal", "of 12/10 the first is taken"),
        ("21-15-9 thrusters", "thruster", 45, "rep", "21-15-9 read as 45 in all"),
        ("10 - 8 - 6 push-ups", "push-up", 24, "rep", "10-8-6 read as 24 in all"),
        ("3x10 ring rows", "ring-row", 10, "rep", "3 sets: the amounts are for one set"),
        ("3 x 10 ring rows", "ring-row", 10, "rep", "3 sets: the amounts are for one set"),
        ("3 sets of 10 ring rows", "ring-row", 10, "rep", "3 sets: the amounts are for one set"),
        ("5x400m run", "run", 400, "m", "5 sets: the amounts are for one set"),
        ("10 per side lunges", "alternating-lunge", 20, "rep", "per side: 20 reps over both sides"),
        ("10 lunges each leg", "alternating-lunge", 20, "rep", "per side: 20 reps over both sides"),
        ("10/side lunges", "alternating-lunge", 20, "rep", "per side: 20 reps over both sides"),
        ("500 row", "row", 500, "m", "500 read as metres"),
        ("10 tose to bar", "toes-to-bar", 10, "rep", "'tose to bar' read as toes-to-bar"),
    ],
)
def test_what_was_assumed_is_told(
    compiled: Compiled, text: str, movement: str, value: float, unit: str, note: str
) -> None:
    found: ReadAsk = read_ask(text, compiled)
    assert (found.ask.movement, found.ask.amount.value, found.ask.amount.unit) == (movement, value, unit)
    assert found.notes == (note,)


@pytest.mark.parametrize(
    ("text", "load_kg", "notes"),
    [
        ("21 thrusters @43/30kg", 43, ("of 43/30 the heavier is taken",)),
        ("21 thrusters @ 43/30 kg", 43, ("of 43/30 the heavier is taken",)),
        ("21 thrusters (43/30 kg)", 43, ("of 43/30 the heavier is taken",)),
        ("21 thrusters 43kg", 43, ()),
        ("21 thrusters at 43 kilos", 43, ()),
        ("95 lb thrusters x 21", 43.09, ()),
        ("21 thrusters 95#", 43.09, ()),
        ("21 thrusters 95/65 lbs", 43.09, ("of 95/65 the heavier is taken",)),
    ],
)
def test_load_is_read_in_kilograms(compiled: Compiled, text: str, load_kg: float, notes: tuple[str, ...]) -> None:
    found = read_ask(text, compiled)
    assert (found.ask.movement, found.ask.amount.value, found.ask.amount.unit) == ("thruster", 21, "rep")
    assert found.ask.load_kg == pytest.approx(load_kg)
    assert found.notes == notes


@pytest.mark.parametrize(
    ("load", "load_kg"), [("43kg", 43), ("43", 43), ("95 lb", 43.09), ("43/30", 43), ("95#", 43.09)]
)
def test_load_may_be_given_apart(compiled: Compiled, load: str, load_kg: float) -> None:
    assert read_ask("21 thrusters", compiled, load=load).ask.load_kg == pytest.approx(load_kg)


def test_load_of_a_pair_is_that_of_each(compiled: Compiled) -> None:
    ask = read_ask("15 dumbbell thrusters 2x22.5kg", compiled).ask
    assert (ask.movement, ask.amount.value, ask.load_kg) == ("dumbbell-thruster", 15, 22.5)


@pytest.mark.parametrize(
    "text",
    [
        "20 box jumps 24/20in",
        '20 box jumps 24"',
        "20 box jumps (60 cm)",
        "20 box jumps @ 24 inch",
        '24" box jumps x 20',
    ],
)
def test_height_of_the_box_is_no_amount(compiled: Compiled, text: str) -> None:
    assert read(compiled, text) == ("box-jump", 20, "rep")


@pytest.mark.parametrize(
    ("text", "movement", "value"),
    [
        ("21\N{EN DASH}15\N{EN DASH}9 thrusters", "thruster", 45),
        ("15 toes\N{NON-BREAKING HYPHEN}to\N{NON-BREAKING HYPHEN}bar", "toes-to-bar", 15),
        ("15 \N{EM DASH} toes to bar", "toes-to-bar", 15),
        ("3\N{MULTIPLICATION SIGN}10 ring rows", "ring-row", 10),
        ("\N{FULLWIDTH DIGIT ONE}\N{FULLWIDTH DIGIT FIVE} burpees", "burpee", 15),
        ("15\N{NO-BREAK SPACE}burpees", "burpee", 15),
        ("  15\tburpees \r\n", "burpee", 15),
    ],
)
def test_signs_of_other_keyboards_are_read(compiled: Compiled, text: str, movement: str, value: float) -> None:
    assert read(compiled, text) == (movement, value, "rep")


@pytest.mark.parametrize("text", ["toes to bar", "run", "row", "plank"])
def test_without_an_amount_a_usual_one_is_assumed_and_told(compiled: Compiled, text: str) -> None:
    found = read_ask(text, compiled)
    unit = compiled.library.movements[found.ask.movement].unit
    assert found.ask.assumed
    assert (found.ask.amount.value, found.ask.amount.unit) == (USUAL[unit], unit)
    assert found.notes == (f"no amount given: {found.ask.amount} assumed",)


def test_given_amount_is_not_called_assumed(compiled: Compiled) -> None:
    assert not read_ask("15 burpees", compiled).ask.assumed


@pytest.mark.parametrize("text", ["10 one-arm swings", "one-arm swing 10", "ten single-arm kettlebell swings"])
def test_number_word_of_a_name_is_no_amount(compiled: Compiled, text: str) -> None:
    assert read(compiled, text) == ("single-arm-kettlebell-swing", 10, "rep")


@pytest.mark.parametrize("unit", UNITS)
def test_largest_amount_is_still_read(compiled: Compiled, unit: str) -> None:
    name = {"rep": "burpees", "s": "s plank", "m": "m run", "cal": "cal row"}[unit]
    assert read(compiled, f"{MOST[unit]:.0f} {name}")[1:] == (MOST[unit], unit)  # type: ignore[index]


# --- forms that coaches write besides ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "movement", "value", "unit", "notes"),
    [
        # a name that holds an amount keeps it; a number beside it counts
        ("100 m dash", "sprint", 100, "m", ()),
        ("5 k run", "run", 5000, "m", ()),
        ("3 x 100 m dash", "sprint", 100, "m", ("3 sets: the amounts are for one set",)),
        ("6 x 10 m shuttle", "shuttle-run", 6, "rep", ()),
        ("20 2 singles 1 double", "single-single-double", 20, "rep", ()),
        ("90/90 hip switch x 10", "hip-switch", 10, "rep", ()),
        ("10 2DB power cleans", "dumbbell-power-clean", 10, "rep", ()),
        ("5 3-1-1 squats", "tempo-squat", 5, "rep", ()),
        ("15 feet-raised push-ups", "feet-raised-push-up", 15, "rep", ()),
        # two numbers
        ("20/20 lunges", "alternating-lunge", 40, "rep", ("per side: 40 reps over both sides",)),
        ("20/16 lunges", "alternating-lunge", 20, "rep", ("of 20/16 the first is taken",)),
        ("20/20 push-ups", "push-up", 20, "rep", ("of 20/20 the first is taken",)),
        ("10L/10R lunges", "alternating-lunge", 20, "rep", ("20 over both sides",)),
        ("10+10 lunges", "alternating-lunge", 20, "rep", ("10+10 read as 20 in all",)),
        ("10-12 pull-ups", "strict-pull-up", 11, "rep", ("10-12 read as 11 reps, the middle",)),
        ("30-45 s plank", "plank", 38, "s", ("30-45 read as 38 s, the middle",)),
        ("21-15 thrusters", "thruster", 36, "rep", ("21-15 read as 36 in all",)),
        ("21,15,9 thrusters", "thruster", 45, "rep", ("21,15,9 read as 45 in all",)),
        ("500m/400m row", "row", 500, "m", ("of 500m/400m the first is taken",)),
        # parts, words, thousands, hours
        ("1 1/2 mile run", "run", 1.5 * 1609.344, "m", ()),
        ("1\N{VULGAR FRACTION ONE HALF} mile run", "run", 1.5 * 1609.344, "m", ()),
        ("half a mile run", "run", 804.672, "m", ()),
        ("mile run", "run", 1609.344, "m", ("mile read as 1 mile",)),
        ("1:00:00 run", "run", 3600, "s", ()),
        ("1 min 30 s plank", "plank", 90, "s", ()),
        ("1,000 m row", "row", 1000, "m", ()),
        ("0,5 km run", "run", 500, "m", ()),
        ("one hundred and fifty double unders", "double-under", 150, "rep", ()),
        ("twenty-five burpees", "burpee", 25, "rep", ()),
        # counts that hang on a name
        ("15xT2B", "toes-to-bar", 15, "rep", ()),
        ("15 x T2B", "toes-to-bar", 15, "rep", ()),
        ("T2B x15", "toes-to-bar", 15, "rep", ()),
        ("15T2B", "toes-to-bar", 15, "rep", ()),
        ("pull-ups-15", "strict-pull-up", 15, "rep", ()),
        ("A) 15 burpees", "burpee", 15, "rep", ()),
        ("400m run x 4", "run", 400, "m", ("4 sets: the amounts are for one set",)),
        ("5 rounds of 10 burpees", "burpee", 10, "rep", ("5 sets: the amounts are for one set",)),
        ("20 steps walking lunge", "walking-lunge", 20, "rep", ()),
        ("max pull-ups", "strict-pull-up", 10, "rep", ("'max' passed over", "no amount given: 10 reps assumed")),
        ("20 wall balls to 10 ft", "wall-ball", 20, "rep", ("height 10 ft: the amounts do not look at it",)),
    ],
)
def test_other_forms_are_read_and_told(
    compiled: Compiled, text: str, movement: str, value: float, unit: str, notes: tuple[str, ...]
) -> None:
    assert read(compiled, text) == (movement, pytest.approx(value), unit)
    assert read_ask(text, compiled).notes == notes


@pytest.mark.parametrize(
    ("text", "movement", "value", "load_kg"),
    [
        ("10 DB thrusters 20kg each", "dumbbell-thruster", 10, 20),
        ("50m farmer carry @24kg per hand", "farmers-carry", 50, 24),
        ("10 single-arm rows 20 kg each side", "single-arm-dumbbell-row", 20, 20),
        ("5 x 5 back squat 80", "back-squat", 5, 80),
        ("15 thrusters 43kg/30kg", "thruster", 15, 43),
        ("back squat 5x5 @ 70%", "back-squat", 5, None),
    ],
)
def test_load_beside_the_amount(
    compiled: Compiled, text: str, movement: str, value: float, load_kg: float | None
) -> None:
    ask = read_ask(text, compiled).ask
    assert (ask.movement, ask.amount.value, ask.load_kg) == (movement, value, load_kg)


@pytest.mark.parametrize(
    ("text", "first"),
    [("12 kg pull-ups", "weighted-pull-up"), ("20kg dips", "weighted-dip"), ("10 kg plank", "weighted-plank")],
)
def test_load_on_a_movement_without_one_names_its_loaded_form_first(compiled: Compiled, text: str, first: str) -> None:
    assert refuse(compiled, text).nearest[0] == first


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2.5 burpees", "2.5 reps of burpee is no whole number; give 2 or 3"),
        ("30 KBS 53/35", "53 after the name may be kilograms or pounds; write 53kg or 53lb"),
        ("10 thrusters -20kg", "the load -20 is negative"),
        ("25:00:00 run", "more than anyone writes"),
        ("21 15 9 thrusters", "holds more than one amount"),
        ("30 s on 30 s off plank", "holds more than one item or amount"),
        ("10 burpees then 400m run", "holds more than one item or amount"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_a_mend(compiled: Compiled, text: str, said: str) -> None:
    assert said in str(refuse(compiled, text))


def test_a_number_beside_any_name_with_a_number_is_never_lost(compiled: Compiled) -> None:
    lost = []
    for movement in compiled.library.movements.values():
        if "rep" not in movement.units:
            continue
        for name in (movement.name, *movement.also):
            if not any(c.isdigit() for c in name):
                continue
            for text in (f"15 {name}", f"{name} x 15", f"15 reps of {name}", f"{name}: 15"):
                found = read(compiled, text)
                if found != (movement.id, 15, "rep"):
                    lost.append((text, found))
    assert not lost


# --- bad input -----------------------------------------------------------------------------------------------------


def test_unknown_movement_says_the_nearest(compiled: Compiled) -> None:
    error = refuse(compiled, "15 hoverboards")
    assert isinstance(error, UnknownNameError)
    assert len(error.nearest) == 3
    assert set(error.nearest) <= set(compiled.library.movements)


def test_ambiguous_movement_gives_the_candidates(compiled: Compiled) -> None:
    error = refuse(compiled, "15 single arm")
    assert isinstance(error, AmbiguousNameError)
    assert len(error.nearest) >= 2


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("10 m pull-ups", "is not counted in metres; give reps"),
        ("15 cal thrusters", "is not counted in calories; give reps"),
        ("100 m burpees", "is not counted in metres; give reps"),
        ("10 reps run", "is not counted in reps; give metres"),
        ("10 cal plank", "is not counted in calories; give seconds"),
    ],
)
def test_unit_that_does_not_fit_says_which_do(compiled: Compiled, text: str, said: str) -> None:
    assert said in str(refuse(compiled, text))


@pytest.mark.parametrize("text", ["12 kg pull-ups", "10 burpees 20kg", "10 kg plank"])
def test_load_on_what_is_done_without_one(compiled: Compiled, text: str) -> None:
    error = refuse(compiled, text)
    assert "which is done without a load" in str(error)
    assert error.mend


@pytest.mark.parametrize(
    ("text", "movement", "kg"),
    [
        ("30 russian twists 10kg", "weighted-russian-twist", 10),
        ("10 pull-ups 12kg", "weighted-pull-up", 12),
        ("40 step-ups 10 kg", "weighted-step-up", 10),
        ("plank 1:00 @ 10 kg", "weighted-plank", 10),
    ],
)
def test_load_beside_an_amount_makes_it_the_weighted_form(
    compiled: Compiled, text: str, movement: str, kg: float
) -> None:
    found = read_ask(text, compiled)
    assert (found.ask.movement, found.ask.load_kg) == (movement, kg)
    assert f"{kg} kg: read as {compiled.library.movements[movement].name}" in found.notes


@pytest.mark.parametrize("text", ["0 burpees", "burpees x 0", "0 m run", "0:00 plank", "0.0 burpees", "zero burpees"])
def test_nothing_is_no_amount(compiled: Compiled, text: str) -> None:
    assert str(refuse(compiled, text)) == "the amount 0 is not positive; give a positive number"


@pytest.mark.parametrize("text", ["-5 burpees", "burpees -5", "\N{MINUS SIGN}5 burpees", "-400m run"])
def test_negative_amount(compiled: Compiled, text: str) -> None:
    assert "is negative; give a positive number" in str(refuse(compiled, text))


@pytest.mark.parametrize(
    ("text", "most"),
    [
        ("2001 burpees", "2000 reps"),
        ("1e9 burpees", "2000 reps"),
        ("1000000000 burpees", "2000 reps"),
        ("9" * 30 + " burpees", "2000 reps"),
        ("1e308 burpees", "2000 reps"),
        ("51 km run", "50000 metres"),
        ("50 miles run", "50000 metres"),
        ("2001 cal row", "2000 calories"),
        ("250:00 plank", "14400 seconds"),
        ("999-999-999 burpees", "2000 reps"),
    ],
)
def test_absurd_amount_says_the_most(compiled: Compiled, text: str, most: str) -> None:
    assert f"is more than anyone writes for one item; give at most {most}" in str(refuse(compiled, text))


@pytest.mark.parametrize(
    "text", ["1e999 burpees", "9" * 290 + " burpees", "inf burpees", "nan burpees", "1e9999 m run"]
)
def test_amount_beyond_all_numbers(compiled: Compiled, text: str) -> None:
    refuse(compiled, text)


@pytest.mark.parametrize("text", ["0 kg thrusters x 5", "5 thrusters @0kg", "5 thrusters 0/0 lb"])
def test_load_of_nothing(compiled: Compiled, text: str) -> None:
    assert "is not positive; give it in kg or lb" in str(refuse(compiled, text))


@pytest.mark.parametrize("text", ["5 deadlifts 501kg", "5 deadlifts 1e9 kg", "5 deadlifts 99999 lb"])
def test_absurd_load(compiled: Compiled, text: str) -> None:
    refuse(compiled, text)


@pytest.mark.parametrize("load", ["heavy", "43 stone", "kg", "-43kg", "0", "501", "43kg or so", "x" * 1000, "\x00"])
def test_load_given_apart_that_is_not_understood(compiled: Compiled, load: str) -> None:
    refuse(compiled, "5 thrusters", load=load)


@pytest.mark.parametrize(
    "text", ["burpee " * 1500, "x" * 10_240, "1" * 10_240, "(" * 10_240, "- " * 5120, "15 burpees" + " " * 10_240]
)
def test_ten_kilobytes_are_refused_in_one_short_line(compiled: Compiled, text: str) -> None:
    assert "characters long; give one movement with its amount" in str(refuse(compiled, text))


@pytest.mark.parametrize("filler", ["burpee ", "1 ", "-", "(", "1:", "x", "10x", "1/", "@", " of ", "\N{SNOWMAN}"])
def test_longest_line_is_answered_in_good_time(compiled: Compiled, filler: str) -> None:
    text = (filler * LONGEST)[:LONGEST]
    try:
        read_ask(text, compiled)
    except AskError as error:
        assert len(str(error)) < 400  # noqa: PT017 - refused or read, but never anything else


@pytest.mark.parametrize(
    ("text", "position"),
    [("15 toes\x00to bar", 8), ("\x1b[31m15 burpees", 1), ("15 burpees\x7f", 11), ("15\x85burpees", 3)],
)
def test_control_character_is_refused_with_its_position(compiled: Compiled, text: str, position: int) -> None:
    assert str(refuse(compiled, text)) == f"the ask holds a control character at position {position}; type it again"


@pytest.mark.parametrize("text", ["", "   ", "\n\t"])
def test_empty_ask(compiled: Compiled, text: str) -> None:
    assert str(refuse(compiled, text)).startswith("the ask is empty; give a movement")


@pytest.mark.parametrize("text", ["15", "15 reps", "3x10", "400 m", "1:00", "43kg", "21-15-9", "-", "of the"])
def test_amount_without_a_movement(compiled: Compiled, text: str) -> None:
    refuse(compiled, text)


@pytest.mark.parametrize("text", ["\N{SNOWMAN}", "15 \N{SNOWMAN}", "15 \u202e burpees-that-are-none"])
def test_signs_that_are_no_letters(compiled: Compiled, text: str) -> None:
    with pytest.raises(AskError):
        read_ask(text, compiled)


def test_fraction_of_a_mile_is_not_a_pair_of_standards(compiled: Compiled) -> None:
    assert read(compiled, "1/2 mile run") == ("run", pytest.approx(804.672), "m")


def test_feet_mark_is_not_dropped(compiled: Compiled) -> None:
    assert read(compiled, "50' walking lunge") == ("walking-lunge", pytest.approx(15.24), "m")


@pytest.mark.parametrize("text", ["10 burpees 20 pull-ups", "15 burpees\n20 pull-ups", "10 burpees + 20 pull-ups"])
def test_two_items_are_not_read_as_one(compiled: Compiled, text: str) -> None:
    refuse(compiled, text)


# --- a bare name ---------------------------------------------------------------------------------------------------


def test_bare_name(compiled: Compiled) -> None:
    assert movement_named("T2B", compiled).id == "toes-to-bar"
    assert movement_named(" kip\N{EN DASH}swing ", compiled).id == "kip-swing"


@pytest.mark.parametrize(
    "name", ["", "  ", "hoverboard", "single arm", "x" * 10_240, "kip\x00swing", "(", "\N{SNOWMAN}"]
)
def test_bare_name_that_is_refused(compiled: Compiled, name: str) -> None:
    with pytest.raises(AskError):
        movement_named(name, compiled)


def test_load_on_a_movement_with_a_loaded_form_is_that_form_and_told(compiled: Compiled) -> None:
    read = read_ask("plank 1:00 @ 10 kg", compiled)
    assert (read.ask.movement, read.ask.load_kg) == ("weighted-plank", 10)
    assert any("weighted plank" in note for note in read.notes)


@pytest.mark.parametrize(
    ("text", "in_sets"),
    [
        ("5x5 back squat 80kg", True),
        ("5 sets of 3 deadlifts 140kg", True),
        ("back squat 5 x 5", True),
        ("5 rounds of 10 back squats", False),
        ("21 thrusters 43kg", False),
        ("10 x 10 m shuttle run", True),
    ],
)
def test_sets_are_told_from_rounds(compiled: Compiled, text: str, in_sets: bool) -> None:
    assert read_ask(text, compiled).ask.in_sets is in_sets
