"""From a block of the board to work: each movement with its amounts, round by round."""

from __future__ import annotations

import functools
from collections.abc import Sequence

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.notation.board import Block, Item
from subgraph.quantities import Unit


class Work(Struct, frozen=True, kw_only=True):
    """One movement of a piece.

    Parameters
    ----------
    item : Item
        Where it stands on the board.
    part : int
        Which part of a complex it is; 0 for all others.
    movement : Movement
        Record.
    unit : {'rep', 's', 'm', 'cal'}
        Unit of the amounts.
    amounts : tuple of float
        Amount of each round in `unit`, over both sides; one number where all rounds are alike; empty where it is left
        open (as many as possible, or by the clock).
    load_kg : float or None
        Load of one implement [kg].
    step : float or None
        What each round of an open ladder adds [unit].
    cap_s : float or None
        Most seconds that one set of it may take [s].
    """

    item: Item
    part: int = 0
    movement: Movement
    unit: Unit
    amounts: tuple[float, ...]
    load_kg: float | None = None
    step: float | None = None
    cap_s: float | None = None


class Piece(Struct, frozen=True, kw_only=True):
    """A block with its work.

    Parameters
    ----------
    block : Block
        As read.
    works : tuple of Work
        In the order of the board; items nobody knows are left out.
    inner : tuple of Piece
        Pieces inside this one, done once in each of its rounds.
    unknown : tuple of str
        Words of the items nobody knows.
    """

    block: Block
    works: tuple[Work, ...]
    inner: tuple[Piece, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def rounds(self) -> int:
        """Rounds that are written: as told, or one for each number of the scheme; 1 where it is open."""
        return rounds_of(self.block)

    @property
    def all_works(self) -> tuple[Work, ...]:
        """Work of this piece and of those inside it."""
        return (*self.works, *(w for piece in self.inner for w in piece.all_works))


def rounds_of(block: Block) -> int:
    """Rounds of a block that are written out."""
    if block.rounds:
        return block.rounds
    longest = max((len(i.amount) for i in block.items if i.amount_is == "scheme"), default=0)
    return max(len(block.scheme), longest, 1) if block.format != "amrap" else 1


def is_lift(block: Block, item: Item) -> bool:
    """Whether sets and reps are the point of an item, and stay as they are when it changes."""
    return block.format == "strength" or block.section == "strength" or bool(item.percent or item.parts)


def lay_out(library: Library, block: Block, *, standard: int = 0) -> Piece:
    """Work of a block.

    Parameters
    ----------
    library : Library
        Records.
    block : Block
        As read.
    standard : int
        Which number of a pair counts: 0 the first, 1 the second.

    Returns
    -------
    Piece
        With what nobody knows listed.
    """
    works: list[Work] = []
    unknown: list[str] = []
    for item in block.items:
        found = works_of(library, item, standard=standard, step=block.step)
        works += found
        if not found or len(found) < len(item.parts):
            unknown.append(item.name or item.as_written)
    inner = tuple(lay_out(library, b, standard=standard) for b in block.blocks)
    return Piece(block=block, works=tuple(works), inner=inner, unknown=tuple(unknown))


def works_of(library: Library, item: Item, *, standard: int = 0, step: float | None = None) -> list[Work]:
    """Work of one item: one for each known part of a complex, else one, or none where nobody knows it."""
    load = chosen(item.load_kg, standard)
    if item.parts:
        return [
            Work(
                item=item,
                part=place,
                movement=library.movements[part.movement or ""],
                unit="rep",
                amounts=(part.amount,),
                load_kg=load,
            )
            for place, part in enumerate(item.parts)
            if part.movement in library.movements
        ]
    if item.movement is None or item.movement not in library.movements:
        return []
    movement = library.movements[item.movement]
    return [
        Work(
            item=item,
            movement=movement,
            unit=item.unit or movement.unit,
            amounts=amounts_of(item, standard),
            load_kg=load,
            step=(step * 2 if item.per_side else step) if step and item.amount_is == "scheme" else None,
        )
    ]


def amounts_of(item: Item, standard: int = 0) -> tuple[float, ...]:
    """Amounts of an item round by round (or set by set), over both sides; empty where it is open."""
    if item.amount_is in ("max", "none") or not item.amount:
        return ()
    if item.amount_is == "standards":
        amounts: tuple[float, ...] = (chosen(item.amount, standard) or item.amount[0],)
    elif item.amount_is == "range":
        amounts = (sum(item.amount) / len(item.amount),)
    else:
        amounts = item.amount
    return tuple(a * 2 for a in amounts) if item.per_side else amounts


def chosen(numbers: Sequence[float], standard: int) -> float | None:
    """The number of a standard; the first where there is no second."""
    if not numbers:
        return None
    return numbers[standard] if standard < len(numbers) else numbers[0]


@functools.cache
def stepped(first: tuple[float, ...], step: float, rounds: int) -> tuple[float, ...]:
    """An open ladder written out: the given rounds, then `step` more each time.

    Examples
    --------
    >>> stepped((2, 4), 2, 4)
    (2, 4, 6, 8)
    """
    more = tuple(first[-1] + step * k for k in range(1, rounds - len(first) + 1))
    return (first + more)[:rounds]
