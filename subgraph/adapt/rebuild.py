"""A piece with some movements changed: the same items, with other names, numbers and loads."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec
from msgspec import Struct

from subgraph.adapt.candidates import Candidate, key_of
from subgraph.adapt.numbers import may_stay, scaled, scaled_ladder
from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.notation.board import Block, Item, Part
from subgraph.quantities import Unit, round_load
from subgraph.workout.laid_out import Piece, Work, is_lift, works_of

Key = tuple[str, Unit, float | None]
Spot = tuple[int, str, int]  # line, words, part of a complex


def spot_of(work: Work) -> Spot:
    """Where a work stands on the board; the same before and after a change."""
    return work.item.line, work.item.as_written, work.part


class Settings(Struct, frozen=True, kw_only=True):
    """How far amounts and loads are moved from the middle of their ratios.

    Parameters
    ----------
    shift : float
        Log of the common factor on all changed amounts; each stays inside the interval of its own ratio.
    of_slot : dict
        The same for one slot of a piece on the clock; here a negative one may leave the interval.
    lighter : int
        Steps down the rack for all changed loads.
    caps : dict
        Spot of a work to the most seconds of one set of it [s].
    """

    shift: float = 0.0
    of_slot: dict[int, float] = {}
    lighter: int = 0
    caps: dict[Spot, float] = {}


def rebuilt(
    library: Library,
    piece: Piece,
    picks: Mapping[Key, Candidate | None],
    settings: Settings,
    *,
    standard: int = 0,
) -> Piece:
    """A piece with the chosen movements in place of its own.

    Parameters
    ----------
    library : Library
        Records.
    piece : Piece
        As written.
    picks : mapping
        Key of a work to what is done instead; itself where it stays, None where nothing is suitable.
    settings : Settings
        How far to move amounts and loads.
    standard : int
        Which number of a pair counts.

    Returns
    -------
    Piece
        Same blocks, rounds, schemes and slots; what has nothing suitable is left out of the work.
    """
    return _Builder(library, picks, settings, standard).piece(piece)


class _Builder:
    def __init__(
        self, library: Library, picks: Mapping[Key, Candidate | None], settings: Settings, standard: int
    ) -> None:
        self._library = library
        self._picks = picks
        self._settings = settings
        self._standard = standard

    def piece(self, piece: Piece) -> Piece:
        works: list[Work] = []
        by_item: dict[int, list[Work]] = {}
        for work in piece.works:
            by_item.setdefault(id(work.item), []).append(work)
        for same in by_item.values():
            works += self._works(piece.block, same)
        inner = tuple(self.piece(p) for p in piece.inner)
        return msgspec.structs.replace(piece, works=tuple(works), inner=inner)

    def _works(self, block: Block, same: list[Work]) -> list[Work]:
        picks = [self._picks[key_of(w)] for w in same]
        if all(p is not None and p.movement is w.movement for p, w in zip(picks, same, strict=True)):
            works = same
        else:
            item, step = self.item(block, same, picks)
            made = works_of(self._library, item, standard=self._standard, step=step)
            parts = [w.part for w, p in zip(same, picks, strict=True) if p is not None]
            works = [msgspec.structs.replace(w, part=part) for w, part in zip(made, parts, strict=False)]
        caps = self._settings.caps
        return [w if spot_of(w) not in caps else msgspec.structs.replace(w, cap_s=caps[spot_of(w)]) for w in works]

    def item(self, block: Block, same: list[Work], picks: list[Candidate | None]) -> tuple[Item, float | None]:
        """The item with its movements changed, and the step of its ladder."""
        item = same[0].item
        if item.parts:
            return self._complex(item, same, picks), None
        pick = picks[0]
        if pick is None:
            return msgspec.structs.replace(item, movement=None, amount=(), amount_is="none"), None
        return self._single(block, item, pick)

    def _complex(self, item: Item, same: list[Work], picks: list[Candidate | None]) -> Item:
        parts = []
        for work, pick in zip(same, picks, strict=True):
            if pick is not None:
                even = pick.option is not None and pick.movement.sides != "both"
                reps = 2 * math.ceil(work.amounts[0] / 2) if even else work.amounts[0]
                parts.append(Part(pick.movement.id, reps, pick.movement.name))
        first = next((p for p in picks if p is not None), None)
        if first is None:
            return msgspec.structs.replace(item, movement=None, parts=(), amount=(), amount_is="none")
        changed = next((p for p in picks if p is not None and p.option is not None), first)
        loads, per_hand = self._loads(item, changed)
        return msgspec.structs.replace(
            item,
            movement=parts[0].movement,
            name=parts[0].name,
            parts=tuple(parts),
            load_kg=loads,
            per_hand=per_hand,
            percent=item.percent if changed.movement.load else (),
        )

    def _single(self, block: Block, item: Item, pick: Candidate) -> tuple[Item, float | None]:
        movement, unit = pick.movement, pick.unit
        as_written = pick.option is None or (
            is_lift(block, item) and unit == "rep" and item.unit == "rep"
        )  # sets and reps of a lift survive
        ratio = 1.0 if as_written else self._ratio(pick, item)
        sided = movement.sides != "both" and unit == "rep"
        amount, per_side, step = item.amount, item.per_side and movement.sides != "both", None
        if amount:
            numbers = tuple(a * 2 for a in amount) if item.per_side and not per_side else amount
            even = sided and not per_side
            low, high = (min(pick.low, ratio), max(pick.high, ratio))
            if item.amount_is == "scheme" and block.step:
                written = block.step * 2 if item.per_side and not per_side else block.step
                amount, step = scaled_ladder(numbers, written, ratio, even=even)
                step = step * 2 if per_side else step
            elif as_written and (not even or is_lift(block, item)):
                amount = tuple(2 * math.ceil(n / 2) for n in numbers) if even else numbers
            elif unit == item.unit and may_stay(numbers, ratio, low=low, high=high, even=even):
                amount = numbers
            else:
                amount = scaled(numbers, ratio, unit, low=low, high=high, even=even)
        loads, per_hand = self._loads(item, pick)
        other = item.movement != movement.id
        changed = msgspec.structs.replace(
            item,
            movement=movement.id,
            name=movement.name,
            amount=amount,
            unit=unit if item.amount or item.unit else None,
            per_side=per_side,
            load_kg=loads,
            per_hand=per_hand,
            height_cm=() if other else item.height_cm,
            percent=item.percent if movement.load or not other else (),
            or_=(),
            readings=(),
            why=None,
        )
        return changed, step

    def _ratio(self, pick: Candidate, item: Item) -> float:
        """Ratio after the moves: inside its interval, but for a slot that must become shorter."""
        moved = pick.ratio * math.exp(self._settings.shift)
        ratio = min(pick.high, max(pick.low, moved))
        slot = self._settings.of_slot.get(item.slot or 1, 0.0)
        if slot > 0:
            return min(pick.high, ratio * math.exp(slot))
        return ratio * math.exp(slot)

    def _loads(self, item: Item, pick: Candidate) -> tuple[tuple[float, ...], bool]:
        """Loads of the standards [kg], and whether in each hand."""
        load = pick.movement.load
        if pick.option is None or load is None:
            return (item.load_kg if load or pick.movement.id == item.movement else ()), item.per_hand
        if item.percent and pick.load_kg is None:
            return (), False  # the percentage says how heavy
        # Both standards where the board gives both, or none: then in the proportion of the usual loads.
        told = item.load_kg or load.kg
        first = pick.load_kg or load.kg[0]
        loads = (first, *(self._on_the_rack(load.implement, first * kg / told[0]) for kg in told[1:]))
        for _ in range(self._settings.lighter):
            loads = tuple(self._next_below(load.implement, kg) for kg in loads)
        return loads, load.per_hand and _is_pair(pick.movement)

    def _on_the_rack(self, implement: str, load_kg: float) -> float:
        record = self._library.equipment[implement]
        return max(round_load(load_kg, record.sizes_kg, record.step_kg), record.base_kg[1] if record.base_kg else 0)

    def _next_below(self, implement: str, load_kg: float) -> float:
        """The next load below that the rack holds; the same where there is none."""
        record = self._library.equipment[implement]
        if record.sizes_kg:
            below = [s for s in record.sizes_kg if s < load_kg]
            return below[-1] if below else load_kg
        step = (record.step_kg or 1.0) * 2  # a plate on each side
        least = record.base_kg[1] if record.base_kg else step
        return max(least, load_kg - step) if load_kg > least else load_kg


def _is_pair(movement: Movement) -> bool:
    needs = [c for need in movement.uses for c in ([need] if isinstance(need, str) else need)]
    return any(need.startswith("2 ") for need in needs)
