"""What only the rest of the board can settle: short forms with two readings, loads on a line of their own."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from subgraph.library.records import BoardReading, Movement
from subgraph.notation.board import Item
from subgraph.notation.number_forms import CM_PER_IN
from subgraph.notation.numbers import Numbers, kilograms
from subgraph.notation.units import TALLEST_BOX_IN
from subgraph.quantities import number

FIRST = 0.4  # head start of the commoner reading
LOAD = 2.0  # weight of a load that fits, or does not
TWICE = 1.5  # weight against a movement that stands on the board in full
HIGHEST_BOX_CM = 130.0  # what is higher is a target
KIT = 0.5  # weight of a piece of equipment that another item uses
PLAUSIBLE = (0.3, 2.6)  # times the usual load that a load on a line of its own may be


def decide(
    item: Item,
    short: str,
    reading: BoardReading,
    others: Sequence[Item],
    movements: Mapping[str, Movement],
    *,
    bare: bool = False,
) -> Item:
    """Choose between the readings of a short form, and say why.

    Parameters
    ----------
    item : Item
        As read with the first reading.
    short : str
        The short form as written.
    reading : BoardReading
        Its readings.
    others : sequence of Item
        All other items of the board that are sure.
    movements : mapping
        Records by id.
    bare : bool
        Whether its amount stood without a unit.
    """
    found: list[tuple[float, str, str]] = []
    for position, id_ in enumerate(reading.movements):
        usual = reading.usual[position] if position < len(reading.usual) else None
        score, because = _weigh(item, movements[id_], usual, others, movements, bare=bare)
        found.append((score + (FIRST if position == 0 else 0.0), id_, because))
    ranked = sorted(found, key=lambda f: -f[0])
    _, best, because = ranked[0]
    names = " or ".join(movements[i].name for i in reading.movements)
    why = f"{short.upper()} may be {names}: read as {movements[best].name} ({because or 'the commoner'})"
    unit = item.unit
    if bare and "rep" in movements[best].units:
        unit = "rep"
    elif unit == "rep" and "rep" not in movements[best].units:
        unit = movements[best].unit
    return replace(
        item,
        movement=best,
        name=movements[best].name,
        unit=unit,
        readings=tuple(i for _, i, _ in ranked),
        why=f"{why}; {item.why}" if item.why else why,
    )


def _weigh(
    item: Item,
    movement: Movement,
    usual: float | None,
    others: Sequence[Item],
    movements: Mapping[str, Movement],
    *,
    bare: bool,
) -> tuple[float, str]:
    score = 0.0
    because = []
    if item.load_kg or item.percent:
        score += LOAD if movement.load else -LOAD
        if movement.load:
            because.append("a load is given")
    if item.height_cm:
        boxed = _has_height(movement, item.height_cm[0], None)
        score += LOAD if boxed else -LOAD
        if boxed:
            because.append("a height is given")
    if item.amount and item.unit in ("s", "m", "cal") and not bare:
        fits = item.unit in movement.units
        score += LOAD if fits else -LOAD
        if fits:
            because.append(f"counted in {item.unit}")
    elif item.amount and usual:
        score -= abs(math.log(item.amount[0] / usual))
        because.append(f"{number(item.amount[0])} reps fit it")
    if any(o.movement == movement.id for o in others):
        score -= TWICE
    kit = {n for n in movement.uses if isinstance(n, str)}
    if kit and any(o.movement and kit & set(movements[o.movement].uses) for o in others):
        score += KIT
        because.append("its equipment is in use")
    return score, ", ".join(because)


def lay_on(
    items: Sequence[Item],
    n: Numbers,
    implement: str | None,
    movements: Mapping[str, Movement],
    *,
    pounds: bool,
    line: int,
    assumed: list[str],
) -> list[Item]:
    """Give items what a line of its own says for them: a load, a height, a percentage, a tempo.

    Parameters
    ----------
    items : sequence of Item
        Items of the block.
    n : Numbers
        What the line says.
    implement : str or None
        What it says it for: an equipment id, "any" or None.
    movements : mapping
        Records by id.
    pounds : bool
        Whether a load without a unit is in pounds.
    line : int
        Its number.
    assumed : list of str
        What had to be assumed is added here.

    Returns
    -------
    list of Item
        All items, those that it fits changed.
    """
    for_box = implement == "box" or bool(n.height)
    height = n.height or (
        [round(v * CM_PER_IN, 1) if v <= TALLEST_BOX_IN else v for v in n.bare] if implement == "box" else []
    )
    load = n.load or ([kilograms(v, "lb") if pounds else v for v in n.bare] if not for_box else [])
    changed = []
    fits = 0
    for item in items:
        movement = movements[item.movement] if item.movement else None
        if movement is None:
            changed.append(item)
            continue
        if height and not item.height_cm and _has_height(movement, height[0], implement):
            item = replace(item, height_cm=tuple(height))
            fits += 1
        if load and not item.load_kg and _carries(movement, load[0], implement):
            item = replace(item, load_kg=tuple(load), per_hand=n.pair or item.per_hand)
            fits += 1
        if (n.percent or n.rpe or n.tempo or n.effort) and movement.load:
            fits += 1
            item = replace(
                item,
                percent=item.percent or tuple(n.percent),
                rpe=item.rpe or n.rpe,
                tempo=item.tempo or n.tempo,
                effort=item.effort or n.effort,
            )
        changed.append(item)
    if not fits:
        assumed.append(f"line {line}: what it says fits no movement here")
    elif n.bare and not n.load and not for_box:
        shown = "/".join(number(v) for v in n.bare)
        assumed.append(f"line {line}: {shown} read as {'lb' if pounds else 'kg'}")
    return changed


def _has_height(movement: Movement, height_cm: float, implement: str | None) -> bool:
    """Whether a height on a line of its own is of this movement: of its box, or high up of its target."""
    kit = str(movement.uses)
    if "box" in kit:
        return height_cm < HIGHEST_BOX_CM
    return implement != "box" and height_cm >= HIGHEST_BOX_CM and ("target" in kit or "wall" in kit)


def _carries(movement: Movement, load_kg: float, implement: str | None) -> bool:
    if movement.load is None:
        return False
    if implement in (None, "any"):
        return PLAUSIBLE[0] <= load_kg / movement.load.kg[0] <= PLAUSIBLE[1]
    return implement in movement.load.implement or any(
        str(implement) in choice for need in movement.uses for choice in ((need,) if isinstance(need, str) else need)
    )
