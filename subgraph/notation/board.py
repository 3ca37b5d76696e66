"""What a reading of a board holds: blocks of items, and the part that each line played.

Durations are in seconds [s], distances in metres [m], loads in kilograms [kg], heights in centimetres [cm].
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from subgraph.quantities import Unit

Role = Literal["heading", "item", "note", "unread"]
Format = Literal["for-time", "amrap", "emom", "intervals", "strength", "work"]
Split = Literal["you-go-i-go", "shared", "synchro", "each"]
AmountIs = Literal["each", "standards", "scheme", "sets", "range", "max", "none"]


class Part(Struct, frozen=True):
    """One movement of a complex, with its reps."""

    movement: str | None
    amount: float
    name: str = ""


class Item(Struct, frozen=True, kw_only=True):
    """One movement to do.

    Parameters
    ----------
    line : int
        Line of the board, from 1.
    as_written : str
        The piece of text that it was read from.
    movement : str or None
        Id; None where nobody knows the name.
    name : str
        The record's name, or the words as written.
    amount : tuple of float
        Numbers in `unit`; what they are says `amount_is`.
    amount_is : str
        "each" (one number), "standards" (first and second), "scheme" (one per round), "sets" (one per set), "range",
        "max" or "none".
    unit : str or None
        rep, s, m or cal.
    per_side, per_hand : bool
        Amount per side, load per hand: as written, not doubled.
    load_kg : tuple of float
        Loads [kg]; two where there are two standards.
    height_cm : tuple of float
        Heights of box or target [cm].
    percent : tuple of float
        Percent of the best.
    rpe : float or None
        Perceived effort, 1 to 10.
    tempo, effort, label : str or None
        "21X1"; heavy, moderate or light; "A1".
    sets, slot : int or None
        How many sets; which minute of an alternating piece, from 1.
    rest_s : float or None
        Rest after the item [s].
    role : str or None
        "buy-in" or "cash-out".
    split : str or None
        How partners share this item, where its own line says it.
    or_ : tuple of str
        Movements written as alternatives.
    parts : tuple of Part
        Parts of a complex, the item's own first.
    readings : tuple of str
        Where a short form has several readings: ids, the chosen one first.
    why : str or None
        What was assumed.
    """

    line: int
    as_written: str
    movement: str | None
    name: str
    amount: tuple[float, ...] = ()
    amount_is: AmountIs = "none"
    unit: Unit | None = None
    per_side: bool = False
    load_kg: tuple[float, ...] = ()
    per_hand: bool = False
    height_cm: tuple[float, ...] = ()
    percent: tuple[float, ...] = ()
    rpe: float | None = None
    tempo: str | None = None
    effort: str | None = None
    sets: int | None = None
    rest_s: float | None = None
    slot: int | None = None
    role: str | None = None
    split: Split | None = None
    label: str | None = None
    or_: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    readings: tuple[str, ...] = ()
    why: str | None = None


class Block(Struct, frozen=True, kw_only=True):
    """One piece of the board.

    Parameters
    ----------
    section, title : str or None
        From its own heading.
    format : str
        for-time, amrap, emom, intervals, strength or work.
    rounds : int or None
        Rounds or intervals; None for once through, or open.
    scheme : tuple of float
        Reps per round for all items without an amount of their own.
    step : float or None
        Reps added each round of an open ladder.
    time_cap_s, duration_s, every_s, work_s, rest_s : float or None
        Clock of the piece [s].
    rest_per_work : float or None
        Rest between rounds as a share of the time that the work took, 1 for "1:1 work/rest".
    rest_after : bool
        Whether the rest is between this piece and the next, not between its rounds.
    partners : int or None
        How many share it.
    split : str or None
        How they share it.
    in_turn : bool
        Whether partners who do all of it each take turns, so that the clock holds the rounds of all.
    items : tuple of Item
        In the order of the board.
    blocks : tuple of Block
        Pieces inside this one.
    line : int
        Line that it starts at.
    """

    section: str | None = None
    title: str | None = None
    format: Format = "work"
    rounds: int | None = None
    scheme: tuple[float, ...] = ()
    step: float | None = None
    time_cap_s: float | None = None
    duration_s: float | None = None
    every_s: float | None = None
    work_s: float | None = None
    rest_s: float | None = None
    rest_per_work: float | None = None
    rest_after: bool = False
    partners: int | None = None
    split: Split | None = None
    in_turn: bool = False
    items: tuple[Item, ...] = ()
    blocks: tuple[Block, ...] = ()
    line: int = 1

    @property
    def rest_within_s(self) -> float | None:
        """Rest between its rounds [s], None where the rest comes after all of it."""
        return None if self.rest_after else self.rest_s

    @property
    def all_items(self) -> tuple[Item, ...]:
        """Its items and those of the blocks inside it."""
        return (*self.items, *(item for block in self.blocks for item in block.all_items))


class Role_(Struct, frozen=True):
    """The part that one line played."""

    line: int
    role: Role


class Note(Struct, frozen=True):
    """Text for people."""

    line: int
    text: str


class Unread(Struct, frozen=True):
    """What could not be understood, and why."""

    line: int
    text: str
    why: str
    nearest: tuple[str, ...] = ()


class Reading(Struct, frozen=True, kw_only=True):
    """A board as understood; `lines` holds every line that is not blank exactly once."""

    blocks: tuple[Block, ...]
    lines: tuple[Role_, ...]
    notes: tuple[Note, ...]
    unread: tuple[Unread, ...]
    assumed: tuple[str, ...]
    library: str

    @property
    def items(self) -> tuple[Item, ...]:
        """All items, those of nested blocks too, in the order of the board."""
        found = [item for block in self.blocks for item in block.all_items]
        return tuple(sorted(found, key=lambda i: i.line))
