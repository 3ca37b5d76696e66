"""How much of a substitute: unit, reps or metres, load, time and the evidence behind them."""

from __future__ import annotations

from subgraph.library.knowledge import Library
from subgraph.library.records import Movement, equipment_in
from subgraph.quantities import Unit, round_load
from subgraph.ratios import Equal, Network, node, ratio_between
from subgraph.today import Ask, Filter, Today


def set_time(movement: Movement, amount: float, unit: Unit, today: Today) -> tuple[float | None, float | None]:
    """Expected seconds for an amount, and the trade's cap for it.

    Parameters
    ----------
    movement : Movement
        Record with paces.
    amount : float
        In `unit`.
    unit : {'rep', 's', 'm', 'cal'}
        Unit.
    today : Today
        Its level decides the pace; regular where none is told.

    Returns
    -------
    (float or None, float or None)
        Seconds [s] from pace, and cap [s] scaled to the amount.
    """
    pace = movement.pace(unit, today.level or "regular")
    seconds = None if pace is None else pace * amount
    cap = None
    if movement.cap and unit == movement.unit:
        cap = movement.cap.seconds * amount / movement.cap.amount
    return seconds, cap


def best_unit(asked: Ask, other: Movement, network: Network) -> tuple[Unit, Equal | None]:
    """The unit in which the substitute is best tied to the ask; its usual unit unless another is clearly better."""
    if asked.amount.unit == "s" and asked.by_the_clock:  # worked for a time: the substitute is worked for the same
        return "s", Equal(1.0, 0.0)
    start = node(asked.movement, asked.amount.unit)
    found: list[tuple[float, int, Unit, Equal]] = []
    for position, unit in enumerate(other.units):
        equal = ratio_between(network, start, node(other.id, unit))
        if equal is not None:
            same = 0 if unit == asked.amount.unit else 1
            found.append((equal.sigma + 0.15 * same + 0.05 * position, position, unit, equal))
    if not found:
        return other.unit, None
    _, _, unit, equal = min(found)
    return unit, equal


def round_out(value: float) -> float:
    """Round an end of an interval to what can be read at a glance."""
    if value < 20:
        return float(round(value))
    step = 5 if value < 200 else 25 if value < 1000 else 100
    return float(step * round(value / step))


def basis_of(library: Library, ask: Ask, other: Movement, unit: Unit) -> tuple[tuple[str, ...], str]:
    """Source ids behind a ratio, and the same in words.

    Parameters
    ----------
    library : Library
        Records.
    ask : Ask
        From.
    other : Movement
        To.
    unit : str
        Unit of the answer.

    Returns
    -------
    (tuple of str, str)
        Ids in `sources.yaml`; words for the coach.
    """
    pair = {node(ask.movement, ask.amount.unit), node(other.id, unit)}
    here = library.ratios_at(ask.movement)
    direct = [r for r in here if {node(r.from_, r.units[0]), node(r.to, r.units[1])} == pair]
    if not direct:
        via = sorted({r.source for r in (*here, *library.ratios_at(other.id))})
        return tuple(via) or ("common-practice",), "pooled from neighbouring rules and time"
    sources = tuple(dict.fromkeys(r.source for r in direct))
    parts = []
    practice = [r for r in direct if r.basis == "practice"]
    if practice:
        pages = sum(r.pages for r in practice)
        parts.append(
            f"practice, {pages} source{'s' if pages != 1 else ''}" if pages else "practice, from memory of the trade"
        )
    for basis in ("measured", "modelled"):
        if any(r.basis == basis for r in direct):
            parts.append(basis)
    return sources, "; ".join(parts)


def at_hand(filter_: Filter, movement: Movement) -> list[str]:
    """What a movement would be done with today: of each need, the first choice that is there."""
    return [
        need if isinstance(need, str) else next((c for c in need if filter_.has(c)), need[0]) for need in movement.uses
    ]


def equal_load_kg(filter_: Filter, asked: Movement, other: Movement, load_kg: float | None) -> float | None:
    """The substitute's load that is as heavy for it as `load_kg` is for the asked movement."""
    if load_kg is None or asked.load is None or other.load is None:
        return None
    share = load_kg / asked.load.kg[0]
    wanted = share * other.load.kg[0]
    library = filter_.library
    held = [library.equipment[i] for item in at_hand(filter_, other) for i in equipment_in(item)]
    weighs = [e for e in held if e.sizes_kg or e.step_kg]
    usual = library.equipment[other.load.implement]
    implement = usual if usual in weighs or not weighs else weighs[0]
    pair = any(item.startswith("2 ") for item in at_hand(filter_, other))
    sizes = tuple(s for s in implement.sizes_kg if not (pair and s in implement.single_kg))
    rounded = round_load(wanted, sizes or implement.sizes_kg, implement.step_kg)
    if implement.base_kg:
        rounded = max(rounded, implement.base_kg[1])
    return rounded
