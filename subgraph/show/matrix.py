"""The matrix of good options per family and situation, as text and as plain values."""

from __future__ import annotations

from typing import Any

import msgspec

from subgraph.gaps import ASKS_PER_FAMILY, MOST_COUNTED, Cell, Gaps
from subgraph.library.knowledge import Library
from subgraph.show.text import Style
from subgraph.show.text import _field as field
from subgraph.show.text import _wrapped as wrapped

_ROW = 27  # columns for the name of a family
_CELL = 4


def gaps_text(library: Library, found: Gaps, style: Style) -> str:
    """The matrix at 80 columns, then its legend and every hole.

    Parameters
    ----------
    library : Library
        Records, for the names.
    found : Gaps
        What was counted.
    style : Style
        Colour or none.

    Returns
    -------
    str
        Families as rows, situations as columns.
    """
    lines = [style.bold(" " * _ROW + "".join(f"{s.short:>{_CELL}}" for s in found.situations))]
    for family in found.families:
        cells = "".join(_cell(found.cells[family, s.id], style) for s in found.situations)
        lines.append(f"{family:<{_ROW}}{cells}")
    lines.append("")
    for situation in found.situations:
        lines += field(situation.short, situation.name)
    asks = ASKS_PER_FAMILY
    lines += [
        "",
        *wrapped(
            f"A cell is the median of a family's {asks} best connected movements: how many good options its ask gets "
            f"(score {found.good_score:.2f} or more; as written counts as one; {MOST_COUNTED} is {MOST_COUNTED} or "
            "more). 0 is a hole. - is nothing the trade could fill.",
            0,
        ),
    ]
    holes, natural = found.holes, [c for c in found.cells.values() if c.nothing]
    lines += ["", style.bold(f"{len(holes)} holes, {len(natural)} cells that the trade has nothing for")]
    for cell in holes:
        lines += wrapped(f"{cell.family}, {_name(found, cell)}: {_asked(library, cell)}", 0, bullet="- ")
    if natural:
        lines += ["", style.bold("nothing the trade could fill")]
    for cell in natural:
        lines += wrapped(f"{cell.family}, {_name(found, cell)}: {cell.nothing}", 0, bullet="- ")
    for cell in found.filled_after_all:
        lines += wrapped(
            f"{cell.family}, {_name(found, cell)} has {cell.good} good options after all: take it out of nothing_for.",
            0,
        )
    return "\n".join(lines)


def _cell(cell: Cell, style: Style) -> str:
    if cell.is_hole:
        return style.alarm(f"{0:>{_CELL}}")
    return f"{cell.good or '-':>{_CELL}}"


def _name(found: Gaps, cell: Cell) -> str:
    return next(s.name for s in found.situations if s.id == cell.situation)


def _asked(library: Library, cell: Cell) -> str:
    """Each ask without a good option, with the best there is."""
    parts = []
    for ask in cell.asks:
        if not ask.good:
            best = f"{library.movements[ask.best].name} {_below(ask.best_score)}" if ask.best else ask.outcome
            parts.append(f"{library.movements[ask.movement].name} ({best})")
    return ", ".join(parts)


def gaps_data(found: Gaps) -> dict[str, Any]:
    """The matrix as plain values."""
    return {
        "good_score": found.good_score,
        "asks_per_family": ASKS_PER_FAMILY,
        "most_counted": MOST_COUNTED,
        "families": found.families,
        "situations": [msgspec.to_builtins(s) for s in found.situations],
        "cells": [
            {
                "family": cell.family,
                "situation": cell.situation,
                "good": cell.good,
                "hole": cell.is_hole,
                "nothing_the_trade_could_fill": cell.nothing or None,
                "asks": [{**msgspec.structs.asdict(a), "best_score": round(a.best_score, 4)} for a in cell.asks],
            }
            for cell in found.cells.values()
        ],
        "holes": [[cell.family, cell.situation] for cell in found.holes],
        "filled_after_all": [[cell.family, cell.situation] for cell in found.filled_after_all],
    }


def _below(score: float) -> str:
    """Two digits, never rounded up to the threshold that it misses."""
    return f"{int(score * 100) / 100:.2f}"
