"""The board again, in the same shape: its own lines, with what changed written in place."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec
from msgspec import Struct

from subgraph.adapt import Adapted, PieceAdapted
from subgraph.adapt.percent import share_words
from subgraph.library.knowledge import Library
from subgraph.library.names import singular
from subgraph.notation.board import Item
from subgraph.notation.lines import split_lines
from subgraph.quantities import KG_PER_LB, Unit, clock, number, round_to_board, written_in_pounds
from subgraph.show.text import printable, several

_WORD = re.compile(r"[^\W_]+")


# An item that gives its amount after its name; of a scheme, the scheme itself.
_NAME_FIRST = {False: re.compile(r"[^\W\d_][^\d]*\d"), True: re.compile(r"[^\W\d_].*?\d+\s*-\s*\d")}


# What closes an item and goes with it: a sign of its unit, a bracket, how much of it is on each side.
_TAIL = re.compile(
    r"""[#%"'\u2033\u201d]*[)\]]?(?:[,;]?\s*\(?\d+\s*(?:per|each|/)\s*(?:side|arm|leg|hand)\)?)?""", re.I
)


class Row(Struct, frozen=True):
    """One line of the board.

    Parameters
    ----------
    line : int
        From 1.
    text : str
        As it stands now.
    changed : bool
        Whether the member does something else here.
    unread : bool
        Whether it was not understood.
    """

    line: int
    text: str
    changed: bool
    unread: bool


def board_again(library: Library, text: str, adapted: Adapted) -> list[Row]:
    """Every line of the board, with the member's version in place of what changed.

    Parameters
    ----------
    library : Library
        Records.
    text : str
        The board as pasted.
    adapted : Adapted
        What the member does.

    Returns
    -------
    list of Row
        As many as the board has lines, blank ones too.
    """
    new: dict[int, list[tuple[Item, Item | None, str]]] = {}
    for piece in adapted.pieces:
        for item in _items(piece):
            words = _instead(library, piece, item, adapted.hands)
            if words is not None:
                after = piece.items.get(id(item)) if id(item) not in piece.caps else None
                new.setdefault(item.line, []).append((item, after, words))
    unread = {u.line for u in adapted.reading.unread}
    rows = []
    for number_, raw in enumerate(split_lines(text), 1):
        line = printable(raw.rstrip().expandtabs(4))
        for item, after, words in new.get(number_, ()):
            renamed = _renamed(library, item, after, line, adapted.hands) if after is not None else None
            line = renamed or _put(line, item, words, alone=len(new[number_]) == 1)
        rows.append(Row(number_, line, number_ in new, number_ in unread))
    return rows


def _items(piece: PieceAdapted) -> list[Item]:
    """Items of the board in a piece, each once."""
    found: dict[int, Item] = {}
    for work in piece.written.all_works:
        found.setdefault(id(work.item), work.item)
    return list(found.values())


def _instead(library: Library, piece: PieceAdapted, item: Item, hands: int) -> str | None:
    """What stands in place of an item; None where nothing changes."""
    cap = piece.caps.get(id(item))
    capped = f", cap {clock(cap)}" if cap is not None else ""
    if id(item) in piece.items:
        after = piece.items[id(item)]
        if after is None or (after.movement is None and not after.parts):
            return f"[nothing suitable for: {item.name}]"
        ladder = piece.written.block.step is not None and item.amount_is == "scheme"
        own = _own_part(library, piece, item, after)
        words = item_words(library, item, own or after, ladder=ladder, hands=hands) + capped
        words = f"{item.as_written} (own share: {words})" if own else words
        return words.upper() if _shouted(item.as_written) else words
    return item.as_written + capped if capped else None


def _own_part(library: Library, piece: PieceAdapted, before: Item, after: Item) -> Item | None:
    """One member's part of what partners share as they like, where the number changes: the others do the board's."""
    block = piece.written.block
    shared = block.partners and block.split in ("shared", None) and block.format in ("for-time", "amrap")
    if not shared or len(after.amount) != 1 or (after.amount, after.unit) == (before.amount, before.unit):
        return None
    part, unit = after.amount[0] / (block.partners or 1), after.unit or "rep"
    even = bool(after.movement) and library.movements[after.movement or ""].sides != "both" and not after.per_side
    own = round_to_board(part, unit, 0.8 * part, 1.25 * part, even=even and unit == "rep")
    return msgspec.structs.replace(after, amount=(own,), sets=None)


_AS_BEFORE = ("amount", "unit", "per_side", "load_kg", "per_hand", "height_cm", "percent", "sets", "parts")


def _renamed(library: Library, before: Item, after: Item, line: str, hands: int) -> str | None:
    """A line of the board with another name in it, where nothing but the movement changes; None where more does.

    So what only the board's own words say is kept: "build to a heavy", "synchro", "practice".
    """
    if before.parts or any(getattr(before, field) != getattr(after, field) for field in _AS_BEFORE):
        return None
    old, new = (library.movements.get(item.movement or "") for item in (before, after))
    if old is None or new is None:
        return None
    if new.sides == "each" and not after.per_side and after.unit == "rep" and after.amount:
        return None  # how many on each side must be said
    if new.sides != "both" and new.hands == hands == 1:
        return None  # the free arm must be said
    called = library.calls[old.id].also if old.id in library.calls else ()
    span = _name_in(line, (old.name, *old.also, *called))
    if span is None:
        return None
    said = line[span[0] : span[1]]
    plain = several(old.name) == old.name or said.isupper()  # "toes-to-bar", a short form: neither one nor many
    counted = after.unit == "rep" and bool(after.amount) and after.amount != (1.0,)
    many = counted if plain else said.lower() != " ".join(map(singular, said.lower().split()))
    name = several(new.name) if many else new.name
    return line[: span[0]] + (name.upper() if _shouted(line) else name) + line[span[1] :]


def _name_in(line: str, names: Sequence[str]) -> tuple[int, int] | None:
    """Where the longest of some names stands in a line; None where none does, or it stands there twice."""
    found = list(_WORD.finditer(line))
    stems = [singular(match.group().lower()) for match in found]
    keys = {tuple(singular(w.lower()) for w in _WORD.findall(name)) for name in names}
    for key in sorted((k for k in keys if k and not _UNITS.intersection(k)), key=lambda k: (-len(k), k)):
        starts = [k for k in range(len(stems) - len(key) + 1) if tuple(stems[k : k + len(key)]) == key]
        if len(starts) > 1:
            return None
        if starts:
            return found[starts[0]].start(), found[starts[0] + len(key) - 1].end()
    return None


# Of the amount, not of the name.
_EFFORT = re.compile(r"\b(?:build|heavy|moderate|light)", re.I)
_UNITS = frozenset({"m", "meter", "metre", "km", "cal", "calorie", "s", "sec", "second", "min", "minute", "rep"})


def _shouted(text: str) -> bool:
    """Whether a board is written in capitals here, and not only a short form is."""
    return text.isupper() and sum(c.isalpha() for c in text) > _SHORT_FORM


_POUNDS = re.compile(
    r"\d\s*(?:lbs?\b|#|pounds?\b)", re.I
)  # a board in pounds is answered in pounds, to the nearest five
_TIMES = re.compile(r"\bx\s*\d", re.I)
_SCHEME = re.compile(r"\d\s*[-\u2010-\u2014]\s*\d")
_SHORT_FORM = 5  # letters up to which capitals may be a short form


def item_words(library: Library, before: Item, after: Item, *, ladder: bool = False, hands: int = 2) -> str:
    """An item as on a board, with amount and name in the order of the one before it.

    Parameters
    ----------
    library : Library
        Records.
    before, after : Item
        As written, and as done.
    ladder : bool
        Whether it goes on rising.
    hands : int
        How many are free today.
    """
    movement = library.movements[after.movement] if after.movement else None
    one_arm = bool(movement and movement.sides != "both" and movement.hands == hands == 1)
    if one_arm and after.per_side:
        after = msgspec.structs.replace(after, per_side=False)
    amount = amount_words(before, after, ladder=ladder)
    if after.parts:
        name = " + ".join(f"{number(p.amount)} {several(p.name) if p.amount > 1 else p.name}" for p in after.parts)
        amount = f"{after.sets} x" if after.sets else ""
    else:
        unit = after.unit or (movement.unit if movement else "rep")
        many = unit == "rep" and after.amount != (1.0,)
        name = several(after.name) if many else after.name
    if one_arm:
        name += " (free arm)"
    elif movement and movement.sides == "each" and not after.per_side and after.unit == "rep" and after.amount:
        name += f" ({number(after.amount[0] / 2)}/side)" if len(after.amount) == 1 else " (half each side)"
    first = bool(after.parts) or not _NAME_FIRST[before.amount_is == "scheme"].match(before.as_written)
    if not first and amount and not after.sets and _TIMES.search(before.as_written):
        amount = f"x {amount}"
    words = [amount, name] if first else [name, amount]
    if after.load_kg:
        pounds = _POUNDS.search(before.as_written) is not None or written_in_pounds(before.load_kg)
        told = [5 * max(1, round(kg / KG_PER_LB / 5)) if pounds else kg for kg in after.load_kg]
        loads = "/".join(dict.fromkeys(map(number, told)))
        words.append(f"{'2x' if after.per_hand else ''}{loads} {'lb' if pounds else 'kg'}")
    if movement and (share := share_words(library, before, movement)):
        words.append(share)
    if after.percent:
        words.append("@ " + "-".join(number(p) for p in after.percent) + "%")
    if after.rpe:
        words.append(f"RPE {number(after.rpe)}")
    if after.effort and after.sets and _EFFORT.search(before.as_written):
        words.append(after.effort)
    if after.tempo:
        words.append(f"@ {after.tempo}")
    if before.split == "synchro" and "sync" in before.as_written.lower():
        words.append("synchro")
    if after.rest_s and "rest" in before.as_written.lower():
        words.append(f"rest {clock(after.rest_s)}")
    return " ".join(w for w in words if w)


def amount_words(before: Item, after: Item, *, ladder: bool = False) -> str:
    """An amount as on a board: "42-30-18", "12/9 cal", "5x5", "1:30"."""
    if after.amount_is == "max":
        return "max"
    if not after.amount:
        return ""
    side = "/side" if after.per_side else ""
    if after.amount_is == "scheme":
        if after.amount == before.amount and after.unit == before.unit and not _SCHEME.search(before.as_written):
            return ""
        tail = "-..." if ladder else ""
        return "-".join(number(a) for a in after.amount) + tail + side + _unit(after.unit)
    if after.unit == "s":
        return (
            "/".join(clock(a) if a >= 60 else number(a) for a in after.amount)
            + (" s" if max(after.amount) < 60 else "")
            + side
        )
    joint = {"standards": "/", "range": "-", "sets": "-"}.get(after.amount_is, "/")
    words = joint.join(number(a) for a in after.amount)
    if after.sets and after.amount_is != "sets":
        by = " x " if re.search(r"\d\s+x\s*\d", before.as_written, re.I) else "x"
        words = f"{after.sets}{by}{words}"
    return words + side + _unit(after.unit)


def _unit(unit: Unit | None) -> str:
    return "" if unit in ("rep", None) else f" {unit}"


def _put(line: str, item: Item, words: str, *, alone: bool) -> str:
    """Write words over an item in its line; over all of it where its own words are not found."""
    runs = _WORD.findall(item.as_written)
    found = re.search(r"[\W_]*?".join(map(re.escape, runs)), line) if runs else None
    if found:
        start, end = found.span()
        tail = _TAIL.match(line[end:])
        end += tail.end() if tail else 0
        if line[start:end].count("(") < line[start:end].count(")"):  # a bracket that was opened before the item
            end -= 1
        return line[:start] + words + line[end:]
    if alone:
        indent = re.match(r"[\s\-*\u2022]*", line)
        return (indent.group(0) if indent else "") + words
    return f"{line} [{words}]"
