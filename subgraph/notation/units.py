"""What a number without a sure unit means for a movement: minutes or metres, pounds or kilograms, load or height."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable

from msgspec.structs import replace

from subgraph.library.records import Movement
from subgraph.notation.board import AmountIs, Item
from subgraph.notation.head import Head
from subgraph.notation.number_forms import CM_PER_IN
from subgraph.notation.numbers import Numbers, kilograms
from subgraph.quantities import M_PER_FT, MOST, Unit, number

TALLEST_BOX_IN = 36  # above it a height without a unit is in centimetres
BOXES = ((12, 36), (40, 90))  # heights of boxes on boards, in inches and in centimetres
LEAST_WAY_M = 10  # "50 m" of a name that nobody knows is a distance from here on
LEAST_ENGINE_M = 50  # below it a bare number on a machine that counts calories is no distance
LONGEST_BARE_MIN = 20  # "10m row" may be ten minutes up to here
TOO_HEAVY = 1.7  # times the usual load: what is more as kilograms, and not as pounds, was written in pounds

TOO_LIGHT = 0.6  # times the usual load, the other way round

_POUNDS = re.compile(r"\d\s*(?:lbs?\b|pounds?\b|#)", re.I)
_KILOS = re.compile(r"\d\s*(?:kgs?\b|kilos?\b)", re.I)


def pounds_on(texts: Iterable[str]) -> bool | None:
    """Which unit of load a board writes elsewhere: True for pounds, False for kilograms, None for neither or both."""
    pounds = kilos = False
    for text in texts:
        pounds = pounds or bool(_POUNDS.search(text))
        kilos = kilos or bool(_KILOS.search(text))
    return None if pounds == kilos else pounds


def only_in_pounds(values: list[float], movement: Movement | None) -> bool:
    """Whether a pair of loads makes sense in pounds alone.

    Parameters
    ----------
    values : list of float
        Loads without a unit, the heavier first.
    movement : Movement or None
        Whose usual load is compared.
    """
    if len(values) < 2 or movement is None or movement.load is None:
        return False
    usual = movement.load.kg[0]
    as_pounds = kilograms(values[0], "lb") / usual
    return values[0] / usual > TOO_HEAVY and 1 / 3 < as_pounds <= 2


def _in_kilos_all_the_same(values: list[float], movement: Movement | None) -> bool:
    """Whether a pair on a board in pounds makes sense in kilograms alone: kettlebells of 24/16."""
    if len(values) < 2 or movement is None or movement.load is None or "kettlebell" not in movement.load.implement:
        return False
    usual = movement.load.kg[0]
    return kilograms(values[0], "lb") / usual < TOO_LIGHT <= values[0] / usual <= TOO_HEAVY


def settle(item: Item, n: Numbers, movement: Movement | None, *, pounds: bool, assumed: list[str]) -> Item:
    """Give an item its numbers, each with the unit that the movement lets it have.

    Parameters
    ----------
    item : Item
        Name and place.
    n : Numbers
        As scanned.
    movement : Movement or None
        None where nobody knows the name.
    pounds : bool
        Whether a load without a unit is in pounds.
    assumed : list of str
        What had to be assumed is added here.
    """
    if n.bracketed and movement is not None and movement.load is None and not _takes_height(movement):
        n = counted(n)
    values, unit, why = _amount(n, movement)
    bare = [] if n.perhaps and (movement is None or movement.load is None) else list(n.bare)
    kind: AmountIs = "none"
    if n.amount_is in ("each", "standards", "range", "max"):
        kind = n.amount_is  # type: ignore[assignment]
    elif n.amount_is in ("list", "ladder"):
        kind = "scheme"
    load, height = list(n.load), list(n.height)
    if n.unit == "ft" and movement and "m" not in movement.units:
        values, kind, height = [], "none", height or [round(v * M_PER_FT * 100, 1) for v in n.feet]
    if kind == "each" and not values:
        kind = "none"
    if n.unit == "bare" and kind == "standards" and movement and not n.sets and _is_load(n.amount, movement, n):
        bare, values, kind, unit = n.amount, [], "none", None
    if n.unit == "bare" and kind == "standards" and n.late and not n.sets and _is_height(n.amount, movement):
        bare, values, kind, unit = n.amount, [], "none", None
    if bare and not load and not n.pair and _takes_height(movement) and not (movement and movement.load):
        height = height or [round(v * CM_PER_IN, 1) if v <= TALLEST_BOX_IN else v for v in bare]
        assumed.append(f"line {item.line}: {_shown(bare)} read as {'inches' if bare[0] <= TALLEST_BOX_IN else 'cm'}")
    elif bare and not load:
        pounds = pounds and not _in_kilos_all_the_same(bare, movement)
        load = [kilograms(v, "lb") if pounds else v for v in bare]
        assumed.append(f"line {item.line}: {_shown(bare)} read as {'lb' if pounds else 'kg'}")
    if why:
        assumed.append(f"line {item.line}: {why}")
    if n.max_for_s:
        why = f"for {number(n.max_for_s)} s" + (f"; {why}" if why else "")
    return replace(
        item,
        amount=tuple(values),
        amount_is=kind,
        unit=unit if values or kind == "max" else None,
        per_side=n.per_side and not (movement is not None and movement.character == "cyclic" and "m" in movement.units),
        load_kg=tuple(load),
        per_hand=n.pair and bool(load),
        height_cm=tuple(height),
        percent=tuple(n.percent),
        rpe=n.rpe,
        tempo=n.tempo,
        effort=n.effort,
        sets=n.sets,
        rest_s=n.rest_s,
        why=why,
    )


def in_block(n: Numbers, head: Head, *, place: int) -> Numbers:
    """What the numbers of an item mean in a block of this kind.

    In intervals the distance of a course is no amount, nor is a number that only counts the stations. On the clock
    "row for cals" is as many as possible. Where rounds are written but no scheme, a lone number in brackets says how
    many. A climb of which only the height is written is one.

    Parameters
    ----------
    n : Numbers
        As scanned.
    head : Head
        What the block's headings say so far.
    place : int
        Of the item in the block, from 1.
    """
    clocked = head.format in ("intervals", "amrap", "emom")
    counts = (
        (n.unit == "bare" or (n.unit == "cal" and not n.glued))
        and n.amount == [place]
        and n.amount_is == "each"
        and not n.late
    )
    if (n.course or counts) and head.format == "intervals" and head.work_s:
        return dataclasses.replace(n, amount=[], amount_is="none", unit=None)
    if n.counted and clocked and not head.scheme:
        return dataclasses.replace(n, amount_is="max", unit=n.counted)
    if n.high and n.amount_is == "none" and not head.scheme:
        return dataclasses.replace(n, amount=[1.0], amount_is="each", unit="one-climb")
    if n.bracketed and not head.scheme and head.format != "intervals" and (head.rounds or clocked):
        return counted(n)
    return n


def counted(n: Numbers) -> Numbers:
    """A lone number in brackets taken for the amount, as in "Sit-ups (25)"."""
    return dataclasses.replace(n, amount=list(n.bare), amount_is="each", unit="bare", bare=[], bracketed=False)


def _shown(values: list[float]) -> str:
    return "/".join(number(v) for v in values)


def _takes_height(movement: Movement | None) -> bool:
    return movement is not None and any("box" in need or need == "box" for need in movement.uses)


def _is_height(values: list[float], movement: Movement | None) -> bool:
    """Whether "24/20" after the name of a jump is the height of its box."""
    boxed = _takes_height(movement) and not (movement and movement.load)
    return boxed and values[0] > values[-1] and any(low <= values[-1] and values[0] <= high for low, high in BOXES)


def _is_load(values: list[float], movement: Movement, n: Numbers) -> bool:
    """Whether "43/30" after a name without any other amount is a load, as in "Thrusters 43/30"."""
    if movement.load is None or not n.late or values[0] <= values[-1]:
        return False
    usual = movement.load.kg[0]
    return any(1 / 3 <= v / usual <= TOO_HEAVY for v in (values[0], kilograms(values[0], "lb")))


def _amount(n: Numbers, movement: Movement | None) -> tuple[list[float], Unit | None, str | None]:
    """Values with their unit, and what was assumed."""
    if n.amount_is == "max" or not n.amount:
        return [], _unit_of_max(n, movement), None
    values = list(n.amount)
    word = n.unit
    units: tuple[str, ...] = tuple(movement.units) if movement else ("rep",)
    if word in ("rep", "s", "cal", "m"):
        return values, word, None
    if word == "ft":
        return values, "m", None
    if word == "one-climb":
        return values, "rep", f"{n.high} is how high it goes; read as one climb"
    if word == "minute-or-metre":
        return _minute_or_metre(values, units, movement)
    if word == "inch-or-second":
        return values, "s", f'{_shown(values)}" read as seconds'
    if word == "foot-or-minute":
        if "m" in units and values[0] > LONGEST_BARE_MIN:
            return [round(v * M_PER_FT, 1) for v in values], "m", None
        return [v * 60 for v in values], "s", None
    if "rep" in units:
        return values, "rep", None
    if "m" in units and ("cal" not in units or values[0] >= LEAST_ENGINE_M):
        return values, "m", f"{_shown(values)} without a unit read as metres"
    if "cal" in units:
        return values, "cal", f"{_shown(values)} without a unit read as calories"
    return values, "s", f"{_shown(values)} without a unit read as seconds"


def _minute_or_metre(
    values: list[float], units: tuple[str, ...], movement: Movement | None
) -> tuple[list[float], Unit | None, str | None]:
    short = values[0] <= LONGEST_BARE_MIN
    if movement is None and values[0] >= LEAST_WAY_M:
        return values, "m", None
    travels = movement is not None and "travel" in movement.traits
    minutes = ("m" not in units and not (travels and "s" not in units)) or (
        ("cal" in units or (movement is not None and movement.id in ("run", "jog"))) and short
    )
    if minutes and values[0] <= 60:
        said = f"{_shown(values)}m read as {_shown(values)} min"
        return [v * 60 for v in values], "s", said if short else None
    return values, "m", None


def _unit_of_max(n: Numbers, movement: Movement | None) -> Unit | None:
    if n.amount_is != "max":
        return None
    if n.unit in ("cal", "m", "s", "rep"):
        return n.unit
    if movement is None:
        return "rep"
    return "rep" if "rep" in movement.units else "cal" if "cal" in movement.units else movement.unit


def impossible(item: Item) -> str | None:
    """Why nobody can do this many, or lift this much."""
    if any(v <= 0 for v in (*item.amount, *(p.amount for p in item.parts))):
        return "an amount of zero"
    if item.unit and any(v > MOST[item.unit] for v in item.amount):
        return "more than anyone writes for one item"
    if item.sets == 0:
        return "zero sets"
    if any(not 0 < v <= 500 for v in item.load_kg):
        return "a load out of range"
    return None
