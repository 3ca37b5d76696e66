"""Answers as plain values for JSON. The names are fixed: other programs read them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import msgspec

from subgraph.errors import Problem, SubgraphError
from subgraph.graph import must_own_first, steps
from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.options import Answer, Option, WhyNot, evidence_behind
from subgraph.ratios import Equal
from subgraph.today import describe_equipment

if TYPE_CHECKING:  # an answer to one ask does without the reader of boards
    from subgraph.notation.board import Block, Item, Reading


def encode(value: Any) -> str:
    """JSON text, indented."""
    return msgspec.json.format(msgspec.json.encode(value), indent=2).decode()


def answer_data(library: Library, answer: Answer, *, explain: bool = False) -> dict[str, Any]:
    """An answer of `options`; with `explain`, each option's evidence too."""
    ask = answer.asked
    return {
        "asked": {
            "movement": ask.movement,
            "name": answer.movement.name,
            "amount": _number(ask.amount.value),
            "unit": ask.amount.unit,
            "load_kg": ask.load_kg,
            "assumed": ask.assumed,
            "seconds": _rounded(answer.seconds),
            "cap_s": _rounded(answer.cap_s),
        },
        "intent": answer.intent,
        "outcome": answer.outcome,
        "options": [
            {**option_data(library, option), **({"evidence": _evidence(library, answer, option)} if explain else {})}
            for option in answer.options
        ],
        "refer": None
        if answer.refer is None
        else {
            "level": answer.refer.level,
            "text": answer.refer.text,
            "because": answer.refer.because,
            "first_steps": answer.refer.first_steps,
            "flags": answer.refer.flags,
        },
        "in_the_way": [{"kind": r.kind, "reason": r.reason, "detail": r.detail} for r in answer.standing_in_the_way],
        "removed": answer.removed,
        "notes": answer.notes,
        "instead": answer.instead,
        "caution": answer.caution,
        "house": library.house.name or None,
        "library": answer.library,
    }


def option_data(library: Library, option: Option) -> dict[str, Any]:
    """One option."""
    movement = option.movement
    return {
        "movement": movement.id,
        "name": movement.name,
        "also": movement.also,
        "amount": _number(option.amount),
        "unit": option.unit,
        "low": _number(option.low),
        "high": _number(option.high),
        "load_kg": option.load_kg,
        "usual_load_kg": option.usual_load_kg,
        "per_hand": bool(movement.load and movement.load.per_hand),
        "score": round(option.score, 4),
        "harder": option.harder,
        "keeps": option.keeps,
        "loses": option.loses,
        "because": option.because,
        "cautions": option.cautions,
        "cues": movement.cues,
        "faults": [{"see": f.see, "say": f.say} for f in movement.faults],
        "ratio": {
            **ratio_data(option.ratio),
            "basis": option.basis,
            "text": option.basis_text,
            "judge": option.judge,
            "note": option.note,
        },
        "seconds": _rounded(option.seconds),
        "cap_s": _rounded(option.cap_s),
        "equipment": [equipment_words(library, need) for need in movement.uses],
        "demands": movement.demands,
    }


def _evidence(library: Library, answer: Answer, option: Option) -> list[dict[str, Any]]:
    return [
        {
            "share": round(piece.share, 3),
            "says": piece.says,
            "basis": piece.basis,
            "worth": piece.worth,
            "record": piece.record or None,
            "source": piece.source,
            "ratio": float(f"{piece.ratio:.4g}"),
            "sigma": round(piece.sigma, 3),
        }
        for piece in evidence_behind(library, answer, option)
    ]


def ratio_data(equal: Equal) -> dict[str, float]:
    """A ratio with its interval, to four digits."""
    return {"value": round(equal.value, 4), "low": round(equal.low, 4), "high": round(equal.high, 4)}


def equipment_words(library: Library, need: str | tuple[str, ...]) -> str:
    """One need in words, alternatives joined by "or"."""
    return " or ".join(describe_equipment(library, c) for c in ((need,) if isinstance(need, str) else need))


def movement_data(library: Library, movement: Movement) -> dict[str, Any]:
    """A record with its links, ratios, demands in words and sources."""
    plain: dict[str, Any] = msgspec.to_builtins(movement)
    plain["also"] = movement.also
    plain["family"] = library.family[movement.id]
    plain["must_own_first"] = sorted(must_own_first(library, movement.id))
    plain["equipment"] = [equipment_words(library, need) for need in movement.uses]
    plain["links"] = [
        {"to": s.to, "kind": s.kind, "for": s.link.for_, "why": s.link.why, "declared": s.declared}
        for s in steps(library, movement.id)
    ]
    plain["ratios"] = [msgspec.to_builtins(r) for r in library.ratios_at(movement.id)]
    plain["demands_in_words"] = {
        id_: library.demands[id_].grades[str(grade)]  # type: ignore[index]
        for id_, grade in movement.demands.items()
    }
    cited = {*movement.sources, movement.met.source}
    plain["citations"] = {id_: library.sources[id_].citation for id_ in sorted(cited)}
    plain["library"] = library.version
    return plain


def why_not_data(answer: WhyNot) -> dict[str, Any]:
    """An answer of `why-not`."""
    return {
        "movement": answer.movement.id,
        "name": answer.movement.name,
        "removed": [{"kind": r.kind, "reason": r.reason, "detail": r.detail} for r in answer.removals],
        "place": answer.place,
        "survivors": answer.survivors,
        "score": None if answer.score is None else round(answer.score, 4),
        "offered": answer.offered,
        "not_offered_because": answer.bar,
        "distances": {name: round(value, 3) for name, value in answer.facets.items()},
        "first_choice": None if answer.best is None else answer.best.id,
    }


def problems_data(problems: Iterable[Problem]) -> dict[str, Any]:
    """Problems of `library check`."""
    found = [p.as_dict() for p in problems]
    count = {f"{kind}s": sum(p["severity"] == kind for p in found) for kind in ("error", "warning", "note")}
    return {"problems": found, **count}


def house_data(library: Library) -> dict[str, Any] | None:
    """What a house lays over the library; None where there is none."""
    if not library.house.name:
        return None
    laid = [msgspec.structs.asdict(item) for item in library.laid]
    return {"name": library.house.name, "emergency": library.house.emergency or None, "laid": laid}


def error_data(error: SubgraphError) -> dict[str, Any]:
    """An ask that could not be understood."""
    return {"error": str(error), "nearest": error.nearest}


def reading_data(reading: Reading) -> dict[str, Any]:
    """A board as understood, of `read`."""
    return {
        "blocks": [_block(b) for b in reading.blocks],
        "lines": [{"line": one.line, "role": one.role} for one in reading.lines],
        "notes": [{"line": n.line, "text": n.text} for n in reading.notes],
        "unread": [{"line": u.line, "text": u.text, "why": u.why, "nearest": u.nearest} for u in reading.unread],
        "assumed": reading.assumed,
        "library": reading.library,
    }


def _block(block: Block) -> dict[str, Any]:
    plain = {name: _plain(getattr(block, name)) for name in block.__struct_fields__ if name not in ("items", "blocks")}
    return {**plain, "items": [item_data(i) for i in block.items], "blocks": [_block(b) for b in block.blocks]}


def item_data(item: Item) -> dict[str, Any]:
    """One item of a board."""
    plain = {name.rstrip("_"): _plain(getattr(item, name)) for name in item.__struct_fields__ if name != "parts"}
    parts = [{"movement": p.movement, "amount": _number(p.amount)} for p in item.parts]
    return {**plain, "parts": parts}


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(v) for v in value]
    return _number(value) if isinstance(value, float) else value


def _number(value: float) -> float | int:
    return int(value) if float(value).is_integer() else round(value, 2)


def _rounded(value: float | None) -> int | None:
    return None if value is None else round(value)
