"""A piece with some movements changed: the same items, with other names, numbers and loads."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec
from msgspec import Struct

from subgraph.adapt.candidates import Candidate, key_of
from subgraph.adapt.numbers import may_stay, scaled, scaled_ladder
from subgraph.adapt.percent import same_best
from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.notation.board import Block, Item, Part
from subgraph.quantities import Unit
from subgraph.rack import Rack
from subgraph.workout.laid_out import Piece, Work, is_lift, works_of

Key = tuple[str, Unit, float | None]
Spot = tuple[int, str, int]  # line, words, part of a complex


def spot_of(work: Work) -> Spot:
    """Where a work stands on the board; the same before and after a change."""
    return work.item.line, work.item.as_written, work.part


_FINEST_KG = 2.5  # where nothing is known of the rack
_NEARLY = 0.9  # a cut amount may be rounded this far below


class Settings(Struct, frozen=True, kw_only=True):
    """How far amounts and loads are moved from the middle of their ratios.

    Parameters
    ----------
    shift : float
        Log of the common factor on all changed amounts; each stays inside the interval of its own ratio.
    of_slot : dict
        The same for one slot of a piece on the clock.
    all_of_slot : dict
        The same for all that is done in a slot, what stays as written too; it may leave the interval. Never positive.
    lighter : int
        Steps down the rack for all changed loads.
    caps : dict
        Spot of a work to the most seconds of one set of it [s].
    """

    shift: float = 0.0
    of_slot: dict[int, float] = {}
    all_of_slot: dict[int, float] = {}
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


def _whole(numbers: tuple[float, ...]) -> bool:
    """Whether nothing is broken, as a mile in metres is: of another movement a coach would write round numbers."""
    return all(n == int(n) for n in numbers)


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
        stays = all(p is not None and p.movement is w.movement for p, w in zip(picks, same, strict=True))
        item = same[0].item
        cut = self._cut(item) < 1 and bool(same[0].amounts) and not is_lift(block, item)
        if stays and not cut:
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
        loads, per_hand = self._loads(item, changed, lift=True)
        return msgspec.structs.replace(
            item,
            movement=parts[0].movement,
            name=parts[0].name,
            parts=tuple(parts),
            load_kg=loads,
            per_hand=per_hand,
            percent=item.percent if same_best(self._library, item, changed.movement) else (),
        )

    def _single(self, block: Block, item: Item, pick: Candidate) -> tuple[Item, float | None]:
        movement, unit = pick.movement, pick.unit
        other = item.movement != movement.id
        lift = is_lift(block, item) and unit == "rep" and item.unit == "rep"
        lost_load = lift and movement.load is None and self._carried(item)
        # Sets and reps of a lift survive where a load can make them equal.
        as_written = pick.option is None or lost_load or (lift and movement.load is not None)
        ratio = self._cut(item) if as_written else self._ratio(pick, item)
        sided = movement.sides != "both" and unit == "rep"
        per_side = (item.per_side or (lift and other)) and movement.sides != "both"
        amount, step = item.amount, None
        if amount:
            # A lift with a load keeps its reps: eight on each leg are eight on both.
            double = item.per_side and not per_side and not (lift and other)
            numbers = tuple(a * 2 for a in amount) if double else amount
            even = sided and not per_side
            low, high = (min(pick.low, ratio * _NEARLY), max(pick.high, ratio))
            if item.amount_is == "scheme" and block.step:
                written = block.step * 2 if double else block.step
                amount, step = scaled_ladder(numbers, written, ratio, even=even)
                step = step * 2 if per_side else step
            elif lost_load:
                amount = self._without_load(numbers)
            elif as_written and ratio == 1 and (not even or lift):
                amount = tuple(2 * math.ceil(n / 2) for n in numbers) if even else numbers
            elif unit == item.unit and _whole(numbers) and may_stay(numbers, ratio, low=low, high=high, even=even):
                amount = numbers
            else:
                amount = scaled(numbers, ratio, unit, low=low, high=high, even=even)
        loads, per_hand = self._loads(item, pick, lift=lift)
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
            percent=item.percent if same_best(self._library, item, movement) else (),
            or_=(),
            readings=(),
            why=None,
        )
        return changed, step

    def _carried(self, item: Item) -> bool:
        """Whether an item of the board has a load to lift."""
        return bool(item.movement and self._library.movements[item.movement].load)

    def _without_load(self, numbers: tuple[float, ...]) -> tuple[float, ...]:
        """Reps of the sets of a lift that has lost its load: as many as such sets usually have, slow."""
        more = self._library.rules["unloaded-set"].usual / max(numbers)
        return tuple(float(round(n * more)) for n in numbers) if more > 1 else numbers

    def _cut(self, item: Item) -> float:
        """What all of a slot is cut to, as a share; 1 where its items are done as written."""
        return math.exp(self._settings.all_of_slot.get(item.slot or 1, 0.0))

    def _ratio(self, pick: Candidate, item: Item) -> float:
        """Ratio after the moves: inside its interval, but for a slot that must become shorter."""
        moved = pick.ratio * math.exp(self._settings.shift + self._settings.of_slot.get(item.slot or 1, 0.0))
        return min(pick.high, max(pick.low, moved)) * self._cut(item)

    def _loads(self, item: Item, pick: Candidate, *, lift: bool) -> tuple[tuple[float, ...], bool]:
        """Loads of the standards [kg], and whether in each hand."""
        load = pick.movement.load
        if pick.option is None or load is None:
            return (item.load_kg if load or pick.movement.id == item.movement else ()), item.per_hand
        if item.percent and pick.load_kg is None:
            return (), False  # the percentage says how heavy
        if lift and not item.load_kg:
            return (), False  # how heavy is the member's own affair
        # Both standards where the board gives both, or none: then in the proportion of the usual loads.
        told = item.load_kg or load.kg
        rack = pick.rack or Rack(load.implement, step_kg=_FINEST_KG)
        usual = load.kg[0] if rack.implement == load.implement else rack.nearest(load.kg[0])
        first = pick.load_kg or usual
        loads = (first, *(pick.light_kg or rack.nearest(first * kg / told[0]) for kg in told[1:]))
        for _ in range(self._settings.lighter):
            loads = tuple(rack.below(kg) for kg in loads)
        return loads, load.per_hand and _is_pair(pick.movement)


def _is_pair(movement: Movement) -> bool:
    needs = [c for need in movement.uses for c in ([need] if isinstance(need, str) else need)]
    return any(need.startswith("2 ") for need in needs)
