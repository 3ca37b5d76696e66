"""What follows from all that stands in a block: its format, the scheme and the rests of its items."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from subgraph.library.records import Movement
from subgraph.notation.board import Block, Format, Item
from subgraph.notation.context import lay_on
from subgraph.notation.draft import Draft
from subgraph.notation.units import settle

LEAST_FAR_M = 150  # numbers of a scheme from here on are metres where a movement has them
MOST_SET = 12  # reps of one set up to which a list beside a lift means sets
MOST_HEAVY = 6  # reps of a list beside a single lift that is no race even as the main piece
_CLOCKED = ("for-time", "amrap", "emom", "intervals")


def finish(
    draft: Draft, movements: Mapping[str, Movement], *, pounds: bool, assumed: list[str], inside: Format | None = None
) -> Block:
    """A draft as a block: its format decided, its scheme and rests given to the items.

    Parameters
    ----------
    draft : Draft
        As collected.
    movements : mapping
        Records by id.
    pounds : bool
        Whether a load without a unit is in pounds.
    assumed : list of str
        What had to be assumed is added here.
    inside : str or None
        Format of the block that it stands in.
    """
    head = draft.head
    splits = {i.split for i in (*draft.items, *(i for p in draft.parts for i in p.items))}
    if head.split is None and len(splits) == 1:
        (head.split,) = splits  # said of every item
    if not (head.partners or head.split or inside) and "synchro" in splits:
        head.partners = 2
        assumed.append(f"line {draft.line}: synchro, but no number of partners is written; read as two")
    if head.split and not head.partners:
        if head.split in ("you-go-i-go", "synchro"):
            head.partners = 2
            assumed.append(f"line {draft.line}: shared, but no number of partners is written; read as two")
        else:
            head.split = None
    if head.partners and head.rest_per_work and head.split is None:
        head.split, head.rest_per_work = "you-go-i-go", None  # one rests while the other works
    if head.rounds_each and head.partners and head.format == "amrap":
        if head.rounds:
            assumed.append(f"line {draft.line}: {head.rounds} rounds each, then the next partner; the clock ends it")
        head.rounds, head.rounds_each = None, False
    in_turn = bool(head.partners and head.rounds_each and head.rounds and head.split == "you-go-i-go")
    if head.partners and head.rounds_each and head.split in (None, "you-go-i-go"):
        head.split = "each"
    if head.minutely and head.format is None:
        head.format, head.every_s = "emom", 60.0
    for part in draft.parts:
        if part.empty:  # "4 rounds" and a load below a list: of the list
            head.rounds, draft.laid = head.rounds or part.head.rounds, [*draft.laid, *part.laid]
    for n, implement, line in draft.laid:
        draft.items = lay_on(draft.items, n, implement, movements, pounds=pounds, line=line, assumed=assumed)
    _defaults(draft, movements, pounds)
    for start, scheme in reversed(draft.later):
        for position in range(start, len(draft.items)):
            if _open(draft.items[position]):
                own = tuple(scheme)
                draft.items[position] = replace(draft.items[position], amount=own, amount_is="scheme", unit="rep")
    _repeats(draft, movements)
    _timed(draft)
    strength = _is_strength(draft, movements)
    _slots(draft)
    if strength:
        _sets(draft)
    else:
        _scheme(draft, movements, assumed)
    _intervals_of_sets(draft)
    if strength and draft.within_s and not head.duration_s:
        head.duration_s = draft.within_s  # "build to a heavy 3 in 20 min"
    kind = _format(draft, strength, assumed, inside)
    if kind == "intervals" and head.round_rest_s and draft.items:
        draft.items[-1] = replace(draft.items[-1], rest_s=head.round_rest_s)  # behind the last station
    _rests(draft, kind)
    _part_loose(draft, kind)
    if head.scheme and not head.step and head.rounds == len(head.scheme):
        head.rounds = None
    if kind == "emom" and (head.rounds or head.scheme):
        head.duration_s = None
    if kind == "amrap" and head.time_cap_s and head.duration_s and head.time_cap_s != head.duration_s:
        assumed.append(
            f"line {draft.line}: {head.duration_s:g} s of work and a cap of {head.time_cap_s:g} s"
            " contradict each other; the first is the length"
        )
    return Block(
        section=head.section or draft.roof,
        title=head.title,
        format=kind,
        rounds=head.rounds,
        scheme=tuple(head.scheme),
        step=head.step,
        time_cap_s=head.time_cap_s,
        duration_s=head.duration_s,
        every_s=head.every_s,
        work_s=head.work_s,
        rest_s=head.rest_s,
        rest_per_work=head.rest_per_work,
        rest_after=head.rest_after and bool(head.rest_s),
        partners=head.partners,
        split=head.split,
        in_turn=in_turn,
        items=tuple(draft.items),
        blocks=tuple(
            finish(p, movements, pounds=pounds, assumed=assumed, inside=kind) for p in draft.parts if not p.empty
        ),
        line=draft.line,
    )


def _open(item: Item) -> bool:
    """Whether an item has no amount of its own."""
    return item.amount_is == "none" and item.role is None


def _defaults(draft: Draft, movements: Mapping[str, Movement], pounds: bool) -> None:
    """Give the numbers of a line of their own ("5x5", "10 of each") to the items without."""
    n = draft.default
    if n is None:
        return
    if n.step and draft.head.step is None:
        draft.head.step, draft.head.ladder = n.step, True
    for position, item in enumerate(draft.items):
        if not _open(item):
            continue
        mine = settle(item, n, movements.get(item.movement or ""), pounds=pounds, assumed=[])
        kept = {
            f: getattr(item, f) or getattr(mine, f)
            for f in ("load_kg", "percent", "rpe", "tempo", "effort", "sets", "height_cm")
        }
        draft.items[position] = replace(
            item,
            amount=mine.amount,
            amount_is=mine.amount_is,
            unit=mine.unit,
            per_side=item.per_side or mine.per_side,
            **kept,
        )


def _intervals_of_sets(draft: Draft) -> None:
    """Sets on the clock are its intervals: "back squat 5x3, every 2:00"."""
    sets = {i.sets for i in draft.items}
    if draft.head.format != "emom" or draft.head.rounds or len(sets) != 1 or None in sets:
        return
    if all(i.amount_is in ("each", "range", "max") for i in draft.items):
        draft.head.rounds = sets.pop()
        draft.items = [replace(i, sets=None) for i in draft.items]


def _repeats(draft: Draft, movements: Mapping[str, Movement]) -> None:
    """One item of engine work in sets is rounds of it, by its clock where it has one: "8 x 200 m run, rest 1:00"."""
    if len(draft.items) != 1 or draft.parts or draft.head.format or draft.head.section in ("warm-up", "cool-down"):
        return
    item = draft.items[0]
    movement = movements.get(item.movement or "")
    if draft.head.sets_word and draft.head.rest_per_work and draft.head.rounds and item.sets is None:
        item, draft.head.sets_word = replace(item, sets=draft.head.rounds), False
    if (
        item.sets
        and movement
        and "m" in movement.units
        and (movement.character == "cyclic" or (not movement.load and item.unit == "m"))
        and item.unit in ("m", "cal", "s")
    ):
        rests = [s for _, s in draft.rests]
        timed = item.unit == "s" and item.amount_is == "each"
        draft.head.format, draft.head.rounds = "intervals" if timed else "for-time", item.sets
        draft.head.work_s = item.amount[0] if timed else None
        draft.head.rest_s = draft.head.rest_s or item.rest_s or (rests[0] if rests else None)
        draft.items, draft.rests = [replace(item, sets=None, rest_s=None)], []


def _timed(draft: Draft) -> None:
    """Rounds in which every item has the same time are intervals: "5 rounds: 1 min row, 1 min burpees, 1 min rest"."""
    head = draft.head
    if head.format or not head.rounds or head.section in ("warm-up", "cool-down", "strength") or draft.parts:
        return
    times = {t for t in draft.times if t}
    if len(times) != 1 or None in draft.times or len(draft.times) != len(draft.items):
        return
    head.format, head.work_s = "intervals", times.pop()
    for _, seconds in draft.rests:
        head.rest_s = head.rest_s or seconds
    draft.rests = []


def _is_strength(draft: Draft, movements: Mapping[str, Movement]) -> bool:
    """Whether the block is sets with rest as needed."""
    head = draft.head
    if head.format is not None or head.section in ("warm-up", "cool-down") or not draft.items:
        return False
    alone = len(draft.items) == 1 and len(head.scheme) > 2 and max(head.scheme) <= MOST_HEAVY
    if head.section == "conditioning" and not alone and not all(i.sets and _lift(i, movements) for i in draft.items):
        return False
    if head.time_cap_s or head.ladder or (head.rounds and not head.sets_word):
        return False
    lifts = [i for i in draft.items if _as_sets(i, movements)]
    if head.section == "strength":
        return True
    if alone and _lift(draft.items[0], movements):
        return True
    listed = len(head.scheme) > 1 and all(_lift(i, movements) for i in draft.items) and max(head.scheme) <= MOST_SET
    if head.sets_word and head.rounds and len(draft.items) == 1:
        return True
    if head.sets_word and head.rounds and all(_few(i, movements) for i in draft.items):
        return True
    if head.sets_word and head.rounds and lifts and all(i.label and len(i.label) > 1 for i in draft.items):
        return True  # A1 and A2 in sets
    return 2 * len(lifts) > len(draft.items) or (listed and len(draft.items) == 1)


def _as_sets(item: Item, movements: Mapping[str, Movement]) -> bool:
    movement = movements.get(item.movement or "")
    if movement is not None and movement.load is None and item.unit in ("m", "cal"):
        return False  # engine work
    if item.sets or item.percent or item.effort == "heavy" or item.tempo or item.rpe:
        return True
    return item.amount_is == "scheme" and max(item.amount) <= MOST_SET and _lift(item, movements)


def _few(item: Item, movements: Mapping[str, Movement]) -> bool:
    """Whether it is a lift in as few reps as a set of strength has."""
    few = item.unit == "rep" and item.amount_is in ("each", "range") and max(item.amount) <= MOST_SET
    return few and _lift(item, movements)


def _lift(item: Item, movements: Mapping[str, Movement]) -> bool:
    movement = movements.get(item.movement or "")
    return movement is not None and movement.load is not None and "strength" in movement.suits


def _sets(draft: Draft) -> None:
    """Lists become sets, and "3 sets of:" goes to the items."""
    head = draft.head
    for position, item in enumerate(draft.items):
        if item.amount_is == "none" and head.scheme:
            item = replace(item, amount=tuple(head.scheme), amount_is="scheme", unit="rep")
        if item.amount_is == "scheme":
            same = len(set(item.amount)) == 1
            item = replace(
                item,
                sets=len(item.amount),
                amount=item.amount[:1] if same else item.amount,
                amount_is="each" if same else "sets",
            )
        if head.sets_word and head.rounds and item.sets is None:
            item = replace(item, sets=head.rounds)
        draft.items[position] = item
    head.scheme = []
    if head.sets_word:
        head.rounds = None


def _scheme(draft: Draft, movements: Mapping[str, Movement], assumed: list[str]) -> None:
    """A list beside the first item is everybody's; items without an amount get a copy."""
    head = draft.head
    own = [i for i in draft.items if i.amount_is == "scheme"]
    if not head.scheme and own and (head.format != "emom" or len(own) == len(draft.items)):
        alike = all(i.amount == own[0].amount for i in own)
        rest = [i for i in draft.items if i.role is None and not _open(i) and i.amount_is != "scheme"]
        if alike and own[0].unit in ("rep", "cal", None) and (not rest or any(map(_open, draft.items))):
            head.scheme = list(own[0].amount)
    if head.ladder and not head.step and 1 < len(head.scheme) < 2:
        head.step = head.scheme[-1] - head.scheme[-2]
    if head.step and not head.scheme:
        starts = {i.amount for i in draft.items if i.amount_is == "each"}
        if len(starts) == 1:
            head.scheme = list(starts.pop())
            draft.items = [replace(i, amount_is="scheme") if i.amount_is == "each" else i for i in draft.items]
        elif not starts and any(_open(i) for i in draft.items):
            head.scheme = [head.step]
        elif draft.items:
            assumed.append(f"line {draft.line}: {head.step:g} more each round; the amounts of the first round are kept")
            head.step = None
    if not head.scheme:
        return
    for position, item in enumerate(draft.items):
        if _open(item):
            movement = movements.get(item.movement or "")
            far = movement is not None and "m" in movement.units and max(head.scheme) >= LEAST_FAR_M
            unit = item.unit or (
                "m"
                if far
                else "rep"
                if movement is None or "rep" in movement.units
                else "cal"
                if "cal" in movement.units
                else movement.unit
            )
            if movement and unit != "rep" and not item.unit:
                assumed.append(f"line {item.line}: the scheme read as {unit} of {movement.name}")
            draft.items[position] = replace(item, amount=tuple(head.scheme), amount_is="scheme", unit=unit)


def _slots(draft: Draft) -> None:
    """Items of an alternating piece get their minute, by the order of their lines where none is written."""
    head = draft.head
    if head.format is None and any(i.slot for i in draft.items):
        head.format, head.every_s, head.each_slot = "emom", head.every_s or 60.0, True
    if head.format != "emom":
        draft.items = [replace(i, slot=None) if i.slot else i for i in draft.items]
        return
    numbered = [m for m in dict.fromkeys(draft.marks) if m]
    if len(draft.marks) == len(draft.items) and len(numbered) > 1 and numbered == list(range(1, len(numbered) + 1)):
        draft.items = [replace(i, slot=i.slot or m) for i, m in zip(draft.items, draft.marks, strict=True)]
    if head.alternating and not any(i.slot for i in draft.items):
        lines = list(dict.fromkeys(i.line for i in draft.items))
        one_line = len(lines) == 1
        draft.items = [
            replace(i, slot=n + 1 if one_line else lines.index(i.line) + 1) for n, i in enumerate(draft.items)
        ]
    for position, _ in draft.rest_slots:
        if position:
            before = draft.items[position - 1]
            draft.items[position - 1] = replace(before, rest_s=(before.rest_s or 0.0) + (head.every_s or 60.0))
    slots = max((*(i.slot or 0 for i in draft.items), *(s for _, s in draft.rest_slots)), default=0)
    if slots > 1 and head.rounds and head.each_slot:
        head.rounds *= slots
        head.duration_s = head.rounds * (head.every_s or 60.0)


def _format(draft: Draft, strength: bool, assumed: list[str], inside: Format | None) -> Format:
    head = draft.head
    if head.format is not None:
        return head.format
    alone = draft.items[0] if len(draft.items) == 1 and not (strength or inside or head.rounds) else None
    if alone and alone.amount_is == "max" and not alone.sets and any(draft.times):
        head.duration_s = draft.times[0]
        return "amrap"
    if strength:
        return "strength"
    if head.section in ("warm-up", "cool-down", "skill"):
        return "work"
    if head.extra and not head.time_cap_s and not head.duration_s:
        return "work"
    if inside:
        return "work" if inside in ("work", "strength") else "for-time"
    if head.duration_s and head.rounds and not draft.empty:
        head.time_cap_s, head.duration_s = head.time_cap_s or head.duration_s, None
        assumed.append(f"line {draft.line}: rounds and a length are written; read as for time with a cap")
        return "for-time"
    if head.duration_s and not draft.empty:
        assumed.append(f"line {draft.line}: only a length is written; read as an AMRAP")
        return "amrap"
    if (
        head.scheme
        or any(i.amount_is == "scheme" and len(i.amount) > 2 for i in draft.items)
        or (draft.parts and head.section is None)
        or head.time_cap_s
        or any(i.role for i in draft.items)
        or (head.section == "conditioning" and not draft.empty)
    ):
        if not head.time_cap_s and not any(i.role for i in draft.items):
            assumed.append(f"line {draft.line}: no format is written; read as for time")
        return "for-time"
    if (head.partners or head.split) and head.section is None and not draft.empty:
        assumed.append(f"line {draft.line}: shared work, but no format is written; read as for time")
        return "for-time"
    if head.rounds and head.section is None and not head.sets_word:
        assumed.append(f"line {draft.line}: rounds, but no format is written; read as for time")
        return "for-time"
    return "work"


def _rests(draft: Draft, kind: Format) -> None:
    """A rest inside the list belongs to the item before it; at its end to the rounds."""
    for position, seconds in draft.rests:
        at_end = position >= len(draft.items)
        if (at_end and (kind in _CLOCKED or draft.head.rounds)) or not draft.items:
            draft.head.rest_s = draft.head.rest_s or seconds
        elif position:
            draft.items[position - 1] = replace(draft.items[position - 1], rest_s=seconds)
    if kind == "strength" and draft.head.rest_s and draft.items:
        together = draft.head.sets_word or any(i.label and len(i.label) > 1 for i in draft.items)
        end = len(draft.items) - 1
        for place, item in enumerate(draft.items):
            if item.rest_s is None and (place == end if together else item.sets or not end):
                draft.items[place] = replace(item, rest_s=draft.head.rest_s)
        draft.head.rest_s = None
    if kind in ("strength", "intervals"):
        draft.head.rest_after = False


def _part_loose(draft: Draft, kind: Format) -> None:
    """What stands before, between and after the parts of a piece for time is a part as well, once through."""
    if kind != "for-time" or not draft.parts or draft.head.rounds or draft.head.scheme:
        return
    loose = [i for i in draft.items if i.role is None]
    if not loose or len(draft.parts_at) != len(draft.parts):
        return
    parts: list[Draft] = []
    start = 0
    for part, at in [*zip(draft.parts, draft.parts_at, strict=True), (None, len(draft.items))]:
        run = [i for i in draft.items[start:at] if i.role is None]
        if run:
            parts.append(Draft(run[0].line, items=run))
        if part is not None:
            parts.append(part)
        start = max(start, at)
    draft.items, draft.parts, draft.parts_at = [i for i in draft.items if i.role], parts, []
