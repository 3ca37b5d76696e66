"""Readings without the reader: the corpus's expected ones, typed as the reader gives them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from subgraph.library.knowledge import Library
from subgraph.notation.board import Block, Item, Note, Part, Reading, Role_, Unread

FOLDER = Path(__file__).parent / "boards"
NAMES = sorted(file.stem for file in FOLDER.glob("*.txt"))


def reading_of(library: Library, plain: dict[str, Any]) -> Reading:
    """A reading from plain values as in `tests/boards`."""
    return Reading(
        blocks=tuple(_block(library, b) for b in plain.get("blocks", [])),
        lines=tuple(Role_(x["line"], x["role"]) for x in plain["lines"]),
        notes=tuple(Note(x["line"], x["text"]) for x in plain.get("notes", [])),
        unread=tuple(
            Unread(x["line"], x["text"], x.get("why", ""), tuple(x.get("nearest", ()))) for x in plain.get("unread", [])
        ),
        assumed=tuple(plain.get("assumed", ())),
        library=library.version,
    )


def board(library: Library, name: str) -> tuple[str, Reading]:
    """Text and expected reading of a board of the corpus."""
    text = (FOLDER / f"{name}.txt").read_text(encoding="utf-8")
    plain = yaml.load((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
    return text, reading_of(library, plain)


def _name(library: Library, id_: str | None, otherwise: str) -> str:
    return library.movements[id_].name if id_ in library.movements else otherwise


def _item(library: Library, plain: dict[str, Any]) -> Item:
    fields = {k: tuple(v) if isinstance(v, list) else v for k, v in plain.items() if k not in ("or", "parts")}
    fields.setdefault("name", _name(library, plain["movement"], plain["as_written"]))
    parts = tuple(
        Part(p["movement"], p["amount"][0], _name(library, p["movement"], "?")) for p in plain.get("parts", ())
    )
    return Item(**fields, or_=tuple(plain.get("or", ())), parts=parts)


def _block(library: Library, plain: dict[str, Any]) -> Block:
    fields = {k: tuple(v) if isinstance(v, list) else v for k, v in plain.items() if k not in ("items", "blocks")}
    return Block(
        **fields,
        items=tuple(_item(library, i) for i in plain.get("items", ())),
        blocks=tuple(_block(library, b) for b in plain.get("blocks", ())),
        line=min((i["line"] for i in plain.get("items", ())), default=1),
    )
