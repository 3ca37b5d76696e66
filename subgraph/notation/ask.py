"""Read a one-line ask: a movement with an amount and perhaps a load.

Reads "15 toes-to-bar", "400m run", "12/10 cal row", "1:00 plank", "21 thrusters @ 43/30 kg", "3x10 ring rows",
"lunges 10 per side", "10-12 pull-ups", "1 1/2 mile run". What was assumed is told, never hidden.
"""

from __future__ import annotations

import math

from msgspec import Struct

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.library.records import Movement
from subgraph.notation.amounts import (
    AMOUNT_WORDS,
    Quantity,
    quantities,
    take_height,
    take_load,
    take_share_of_best,
    take_sides,
    unit_elsewhere,
)
from subgraph.notation.naming import Name, exact, loaded_forms, more_than_one, movement_named, weighted_form
from subgraph.notation.scan import LONGEST, Line, Token, clean
from subgraph.quantities import KG_PER_LB, MOST, Amount, Unit, number
from subgraph.today import Ask

__all__ = ["LONGEST", "UNIT_NAMES", "USUAL", "ReadAsk", "movement_named", "read_ask"]

USUAL: dict[Unit, float] = {"rep": 10, "s": 30, "m": 400, "cal": 12}
UNIT_NAMES: dict[Unit, str] = {"rep": "reps", "s": "seconds", "m": "metres", "cal": "calories"}
_FILLER = frozenset(("of", "for", "x", "rep", "reps", "the"))
_ROUNDS = ("round", "rounds", "times")
_SETS = ("set", "sets", *_ROUNDS)


class ReadAsk(Struct, frozen=True):
    """An ask as understood, and what had to be assumed on the way."""

    ask: Ask
    notes: tuple[str, ...]


class _Reading(Struct):
    """What the pieces of a line came to."""

    movement: Movement
    quantity: Quantity | None
    load_kg: float | None
    per_side: bool
    in_sets: bool = False


def read_ask(text: str, compiled: Compiled, *, load: str = "") -> ReadAsk:
    """Read a one-line ask.

    Parameters
    ----------
    text : str
        As typed.
    compiled : Compiled
        Library and names.
    load : str
        Load given apart, such as "43kg" or "95 lb".

    Returns
    -------
    ReadAsk
        The ask and notes on what was assumed.

    Raises
    ------
    AskError
        Empty, too long, control characters, no such movement, or an amount, unit or load that does not fit.
    """
    line = clean(text)
    notes: list[str] = []
    given_kg = _given_load(load, notes) if load else None
    reading = _whole_name(line, compiled) or _known_name(line, compiled, notes)
    if reading is None:
        reading = _in_pieces(line, compiled, notes)
    if given_kg is not None:
        reading.load_kg = given_kg
    if reading.movement.load is None and reading.load_kg and reading.quantity:  # amount and load: it is done with one
        loaded = weighted_form(reading.movement, compiled)
        if loaded is not None:
            notes.append(f"{number(round(reading.load_kg, 1))} kg: read as {loaded.name}")
            reading.movement = loaded
    movement = reading.movement
    amount, assumed = _amount(reading, notes)
    _check_load(movement, reading.load_kg, compiled)
    by_the_clock = amount.unit == "s" and "s" not in movement.units
    ask = Ask(movement.id, amount, reading.load_kg, assumed, by_the_clock, reading.in_sets)
    return ReadAsk(ask, tuple(notes))


# --- three ways to read a line -------------------------------------------------------------------------------------


def _whole_name(text: str, compiled: Compiled) -> _Reading | None:
    """A line that is a name as it stands: what number it holds counts only with a unit that fits ("100 m dash")."""
    movement = exact(text, compiled)
    if movement is None:
        return None
    inside = _fitting(quantities(Line(text), _not_counted(compiled)), movement)
    return _Reading(movement, inside, None, False)


def _known_name(text: str, compiled: Compiled, notes: list[str]) -> _Reading | None:
    """A name with a number in it ("ring row 45") that is known to the letter, and an amount beside it."""
    line = Line(text)
    found = _span(line, compiled)
    if found is None:
        return None
    start, end, movement = found
    name = text[line.tokens[start].start : line.tokens[end - 1].end]
    line.tokens[start:end] = [Token("name", "", line.tokens[start].start, line.tokens[end - 1].end)]
    said: list[str] = []
    reading, rest = _beside(line, movement, compiled, said)
    if rest:
        return None
    inside = _fitting(quantities(Line(name), _not_counted(compiled)), movement)
    if inside and reading.quantity and reading.quantity.unit is None:
        if "rep" in movement.units:
            reading.quantity.unit = "rep"  # "6 x 10 m shuttle"
        else:
            said.append(f"{reading.quantity.said} sets: the amounts are for one set")
            reading.quantity = inside
    reading.quantity = reading.quantity or inside
    notes += said
    return reading


def _span(line: Line, compiled: Compiled) -> tuple[int, int, Movement] | None:
    """The longest run of tokens that is a name with a number, or with what looks like a unit, in it."""
    tokens, size = line.tokens, len(line.tokens)
    odd = [i for i, t in enumerate(tokens) if t.kind == "number" or t.text in AMOUNT_WORDS]
    for length in range(size - 1, 0, -1):
        for start in range(size - length + 1):
            if any(start <= i < start + length for i in odd):
                name = line.text[tokens[start].start : tokens[start + length - 1].end]
                if tokens[start].kind != "mark" and not name.isdigit() and (movement := exact(name, compiled)):
                    return start, start + length, movement
    return None


def _beside(line: Line, movement: Movement, compiled: Compiled, notes: list[str]) -> tuple[_Reading, str]:
    """What stands beside a known name, and what of it is not understood."""
    load_kg = take_load(line, notes)
    take_share_of_best(line, notes)
    take_height(line, notes)
    per_side = take_sides(line)
    quantity, bare, in_sets = _the_amount(line, quantities(line, _not_counted(compiled)), notes)
    line.tokens = [t for t in line.tokens if t.kind != "name"]
    if bare is not None and load_kg is None and movement.load:
        load_kg = _bare_load(bare, movement)
        notes.append(f"{number(bare)} after the name read as {number(bare)} kg")
    elif bare is not None:
        raise more_than_one(line.text)
    return _Reading(movement, quantity, load_kg, per_side, in_sets), Name(
        line.rest(_FILLER, ends_only=True), line.rest(_FILLER), ""
    ).plain(compiled)[0]


def _fitting(found: list[Quantity], movement: Movement) -> Quantity | None:
    return next((q for q in found if q.unit in movement.units and q.shape == "plain"), None)


def _in_pieces(text: str, compiled: Compiled, notes: list[str]) -> _Reading:
    """Load, height, sides and amount are taken out one after the other; the name is what is left."""
    line = Line(text)
    if line.says(1, ")", ".") and line.number_at(2) and len(line.tokens[0].text) < 3:
        line.take(0, 2)  # "1) 15 burpees", "A) 15 burpees"
    load_kg = take_load(line, notes)
    take_share_of_best(line, notes)
    take_height(line, notes)
    per_side = take_sides(line)
    found = quantities(line, _not_counted(compiled))
    _refuse_two_items(line, found, text)
    quantity, bare, in_sets = _the_amount(line, found, notes)
    name = Name(line.rest(_FILLER, ends_only=True), line.rest(_FILLER), text)
    movement = name.movement(compiled, notes)
    if bare is not None:
        if movement.load is None or load_kg is not None:
            raise more_than_one(text)
        load_kg = _bare_load(bare, movement)
        notes.append(f"{number(bare)} after the name read as {number(bare)} kg")
    return _Reading(movement, quantity, load_kg, per_side, in_sets)


def _refuse_two_items(line: Line, found: list[Quantity], text: str) -> None:
    """Refuse a line where two numbers each stand before words of their own."""
    named = [q for q, after in zip(found, [*found, None][1:], strict=True) if _words_between(line, q, after)]
    if len(named) > 1:
        raise AskError(f"'{text[:40]}' holds more than one item or amount", mend="ask for one movement at a time")


def _words_between(line: Line, one: Quantity, other: Quantity | None) -> bool:
    end = other.start if other else len(line.tokens)
    between = [t.text for t in line.tokens[one.end : end] if t.kind == "word"]
    return bool([w for w in between if w not in _FILLER and w not in _SETS and len(w) > 1])


def _the_amount(line: Line, found: list[Quantity], notes: list[str]) -> tuple[Quantity | None, float | None, bool]:
    """Choose the amount among the numbers of a line, and take all of them out.

    Returns
    -------
    Quantity or None, float or None, bool
        The amount, a bare number behind the name that may be a load, and whether it is told in sets ("5 x 5").
    """
    if not found:
        return None, None, False
    sets, bare = None, None
    if len(found) > 1:
        sets = next((q for q in found if _counts_sets(line, q, found)), None)
    rest = [q for q in found if q is not sets]
    chosen = next((q for q in rest if q.unit is not None), rest[0])
    others = [q for q in rest if q is not chosen]
    if others:
        last = others[-1]
        if len(others) > 1 or last.unit or last.shape not in ("plain", "pair") or last.end != len(line.tokens):
            raise more_than_one(line.text)
        bare = last.value
    in_sets = sets is not None and not line.says(sets.end, *_ROUNDS)
    if sets:
        notes.append(f"{sets.said or number(sets.value)} sets: the amounts are for one set")
    for quantity in sorted(found, key=lambda q: -q.start):
        end = quantity.end
        if quantity is sets:
            while line.says(end, "x", "*", "of", *_SETS):
                end += 1
        line.take(quantity.start, end)
    if chosen.unit is None and chosen.shape != "sides":
        chosen.unit, factor = unit_elsewhere(line)
        chosen.value, chosen.low = chosen.value * factor, chosen.low * factor
    return chosen, bare, in_sets


def _counts_sets(line: Line, quantity: Quantity, found: list[Quantity]) -> bool:
    if quantity.unit is not None or quantity.shape != "plain":
        return False
    if line.says(quantity.end, *_SETS):
        return True
    after = next((q for q in found if q.start > quantity.start), None)
    if after and line.says(quantity.end, "x", "*") and after.start == quantity.end + 1:
        return True
    return quantity is found[-1] and line.says(quantity.start - 1, "x", "*")


def _not_counted(compiled: Compiled) -> frozenset[str]:
    return frozenset(compiled.library.words["not-counted"].words)


# --- the amount and the load ---------------------------------------------------------------------------------------


def _amount(reading: _Reading, notes: list[str]) -> tuple[Amount, bool]:
    """The amount over both sides, and whether it was assumed."""
    movement, quantity = reading.movement, reading.quantity
    if quantity is None:
        usual = Amount(USUAL[movement.unit], movement.unit)
        notes.append(f"no amount given: {usual} assumed")
        value, unit = usual.value, usual.unit
    else:
        unit = quantity.unit or movement.unit
        per_side = quantity.shape == "pair" and quantity.low == quantity.value and movement.sides != "both"
        reading.per_side |= per_side
        value = _shaped(quantity, quantity.value, per_side, unit, notes)
        if value <= 0:
            raise AskError(f"the amount {number(value)} is not positive", mend="give a positive number")
        if quantity.unit is None and unit != "rep":
            notes.append(f"{number(value)} read as {UNIT_NAMES[unit]}")
    _check_amount(movement, value, unit)
    if reading.per_side:
        value *= 2
        notes.append(f"per side: {Amount(value, unit)} over both sides")
    return Amount(value, unit), quantity is None


def _shaped(quantity: Quantity, value: float, per_side: bool, unit: Unit, notes: list[str]) -> float:
    """One number out of a pair, range, scheme or sum, told."""
    said = quantity.said
    if quantity.shape == "range":
        middle = math.ceil((quantity.low + value) / 2)
        notes.append(f"{said} read as {Amount(middle, unit)}, the middle")
        return middle
    if quantity.shape == "pair" and not per_side:
        notes.append(f"of {said} the first is taken")
    elif quantity.shape in ("scheme", "sum"):
        notes.append(f"{said} read as {number(value)} in all")
    elif quantity.shape in ("sides", "one"):
        notes.append(said)
    return value


def _check_amount(movement: Movement, value: float, unit: Unit) -> None:
    if unit != "s" and unit not in movement.units:
        fits = [UNIT_NAMES[u] for u in movement.units] + ([] if "s" in movement.units else ["seconds"])
        raise AskError(f"{movement.name} is not counted in {UNIT_NAMES[unit]}", mend=f"give {' or '.join(fits)}")
    if value > MOST[unit]:
        raise AskError(
            f"{number(value)} {UNIT_NAMES[unit]} is more than anyone writes for one item",
            mend=f"give at most {number(MOST[unit])} {UNIT_NAMES[unit]}",
        )
    if unit == "rep" and value != int(value):
        raise AskError(
            f"{number(value)} reps of {movement.name} is no whole number",
            mend=f"give {number(max(1, math.floor(value)))} or {number(math.ceil(value))}",
        )


def _given_load(load: str, notes: list[str]) -> float:
    try:
        text = clean(load)
    except AskError:
        text = ""
    line = Line(text if any(c.isalpha() or c == "#" for c in text) else f"{text}kg")
    load_kg = take_load(line, notes) if text else None
    if load_kg is None or line.tokens:
        shown = "".join(c for c in load[:20] if c.isprintable())
        raise AskError(f"the load '{shown}' is not understood", mend="write it as 43kg or 95lb")
    return load_kg


def _bare_load(value: float, movement: Movement) -> float:
    """A load without a unit: kilograms, unless pounds come nearer to what is usual."""
    usual = movement.load.kg[0] if movement.load else value
    if value <= 0 or abs(math.log(value * KG_PER_LB / usual)) < abs(math.log(value / usual)):
        raise AskError(
            f"{number(value)} after the name may be kilograms or pounds",
            mend=f"write {number(value)}kg or {number(value)}lb",
        )
    return value


def _check_load(movement: Movement, load_kg: float | None, compiled: Compiled) -> None:
    if load_kg is None:
        return
    if movement.load is None:
        loaded = loaded_forms(movement, compiled)
        raise AskError(
            f"{number(round(load_kg, 1))} kg does not fit {movement.name}, which is done without a load",
            mend=("loaded forms: " + ", ".join(loaded))
            if loaded
            else f"give {' or '.join(UNIT_NAMES[u] for u in movement.units)}",
            nearest=tuple(loaded),
        )
    if not 0 < load_kg <= 500:
        raise AskError(f"a load of {number(load_kg)} kg is out of range", mend="give 0.5 to 500 kg")
