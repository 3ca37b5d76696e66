"""A board for one member, and the versions beside a board, as plain values for JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from subgraph.adapt import Adapted, Changed, PieceAdapted
from subgraph.adapt.versions import Column
from subgraph.library.knowledge import Library
from subgraph.models.pace import Band
from subgraph.notation.board import Item
from subgraph.show.board_again import board_again
from subgraph.show.data import item_data, option_data, reading_data
from subgraph.workout.doses import Total
from subgraph.workout.timing import Clock


def adapted_data(library: Library, text: str, adapted: Adapted) -> dict[str, Any]:
    """What `adapt` found; `reading` as of `read`, options as of `options`."""
    refer = adapted.refer
    return {
        "outcome": adapted.outcome,
        "level": adapted.level,
        "lines": [
            {"line": r.line, "text": r.text, "changed": r.changed, "unread": r.unread}
            for r in (board_again(library, text, adapted) if not refer else [])
        ],
        "pieces": [_piece(library, p) for p in adapted.pieces],
        "totals": [_total(t) for t in adapted.totals],
        "totals_as_written": [_total(t) for t in adapted.written_totals],
        "refer": None
        if refer is None
        else {
            "level": refer.level,
            "text": refer.text,
            "because": refer.because,
            "first_steps": refer.first_steps,
            "flags": refer.flags,
        },
        "notes": adapted.notes,
        "kit": adapted.kit,
        "caution": adapted.caution,
        "reading": reading_data(adapted.reading),
        "library": adapted.reading.library,
    }


def versions_data(library: Library, text: str, columns: Sequence[Column]) -> dict[str, Any]:
    """What `adapt --versions` found."""
    return {
        "versions": [
            {
                "id": c.version.id,
                "name": c.version.name,
                "note": c.version.note,
                **adapted_data(library, text, c.adapted),
            }
            for c in columns
        ]
    }


def _piece(library: Library, piece: PieceAdapted) -> dict[str, Any]:
    domain = piece.character.domain
    items: dict[int, Item] = {}
    for work in piece.written.all_works:
        items.setdefault(id(work.item), work.item)
    return {
        "format": piece.written.block.format,
        "section": piece.written.block.section,
        "title": piece.written.block.title,
        "time": {
            "as_written": {level: _clock(c) for level, c in piece.time.by_level.items()},
            "member": _clock(piece.fit.clock),
            "inside": piece.fit.inside,
            "cap_s": piece.fit.cap_s,
            "said": [*piece.fit.said, *piece.time.said],
        },
        "domain": domain.name if domain else None,
        "trains": piece.character.patterns,
        "breathing": piece.character.breathing,
        "items": [
            {
                "line": item.line,
                "as_written": item.as_written,
                "changed": id(item) in piece.items,
                "now": None if (new := piece.items.get(id(item), item)) is None else item_data(new),
                "cap_s": piece.caps.get(id(item)),
            }
            for item in items.values()
        ],
        "shares": [
            {"line": s.work.item.line, "movement": s.work.movement.id, "share": round(s.share, 3)}
            for s in piece.time.shares
        ],
        "changes": [_change(library, c) for c in piece.changed],
        "costs": {k: round(v, 4) for k, v in piece.chosen.costs.items()},
        "loses": piece.loses,
    }


def _change(library: Library, changed: Changed) -> dict[str, Any]:
    pick = changed.pick
    return {
        "movement": changed.place.movement.id,
        "name": changed.place.movement.name,
        "in_the_way": [{"kind": r.kind, "reason": r.reason, "detail": r.detail} for r in changed.place.removals],
        "instead": None if pick is None else pick.movement.id,
        "load_kg": None if pick is None else pick.load_kg,
        "load_said": changed.load,
        "option": option_data(library, pick.option) if pick and pick.option else None,
        "considered": [{"movement": c.movement.id, "score": round(1 - c.lost, 4)} for c in changed.place.candidates],
    }


def _clock(found: Clock) -> dict[str, Any]:
    return {
        "seconds": _band(found.total),
        "rounds": None if found.rounds is None else [round(r, 1) for r in found.rounds],
        "reps_of_last_round": found.reps,
        "slots": [
            {"slot": s.slot, "window_s": s.window_s, "work_s": _band(s.work), "open": s.open} for s in found.slots
        ],
    }


def _band(band: Band) -> dict[str, int]:
    return {"low": round(band.low_s), "usual": round(band.typical_s), "high": round(band.high_s)}


def _total(total: Total) -> dict[str, Any]:
    return {
        "id": total.dose.id,
        "name": total.dose.name,
        "unit": total.dose.unit,
        "amount": round(total.amount),
        "most": total.most,
        "beyond": total.beyond,
        "basis": total.dose.basis,
        "source": total.dose.source,
    }
