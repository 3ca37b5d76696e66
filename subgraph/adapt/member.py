"""The whole board for one member."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Literal

import msgspec
from msgspec import Struct

from subgraph.adapt.candidates import Candidate, Place, key_of, places_of
from subgraph.adapt.fit import Aim, Fit, fit
from subgraph.adapt.joint import Chosen, Weighed, choose
from subgraph.adapt.loads import one_load, one_pair
from subgraph.adapt.percent import load_words
from subgraph.adapt.rebuild import Key, Settings, rebuilt
from subgraph.library.knowledge import Library
from subgraph.library.records import Level
from subgraph.notation.board import Item, Reading
from subgraph.options import caution_kinds, emergency_words
from subgraph.rack import rack_of
from subgraph.referral import Referral, caution_text, refer
from subgraph.today import Filter, Today, free_hands
from subgraph.workout.character import Character, character_of
from subgraph.workout.doses import Total, totals
from subgraph.workout.handling import breaks_of
from subgraph.workout.laid_out import Piece, Work, is_lift, lay_out
from subgraph.workout.timing import PieceTime, Share, time_piece

Outcome = Literal["adapted", "as-written", "nothing-suitable", "refer"]


class Changed(Struct, frozen=True):
    """One movement of the board and what is done instead.

    Parameters
    ----------
    place : Place
        The movement, why it is not for today, and what was considered.
    pick : Candidate or None
        What is done; None where nothing is suitable.
    load : str
        What to say of the load of a lift; may be empty.
    """

    place: Place
    pick: Candidate | None
    load: str = ""


class PieceAdapted(Struct, frozen=True, kw_only=True):
    """One piece of the board for the member.

    Parameters
    ----------
    written : Piece
        As on the board.
    time : PieceTime
        As on the board, by level.
    character : Character
        Time domain and what it mostly trains.
    fit : Fit
        As the member does it, with its clock and what was moved.
    changed : tuple of Changed
        In the order of the board.
    chosen : Chosen
        What the choice cost.
    items : dict
        Item of the board (by its place in the reading) to the item as done; None where it falls out. Only what changed.
    caps : dict
        Item of the board to the most seconds of one set of it [s].
    loses : tuple of str
        What the piece gives up, the most important first.
    """

    written: Piece
    time: PieceTime
    character: Character
    fit: Fit
    changed: tuple[Changed, ...]
    chosen: Chosen
    items: dict[int, Item | None]
    caps: dict[int, float]
    loses: tuple[str, ...]


class Adapted(Struct, frozen=True, kw_only=True):
    """A board for one member.

    Parameters
    ----------
    outcome : str
        `adapted`, `as-written`, `nothing-suitable` (for at least one movement) or `refer`.
    reading : Reading
        As read.
    pieces : tuple of PieceAdapted
        Empty with a referral.
    totals, written_totals : tuple of Total
        Strains over all pieces, as the member does them and as written, at the member's level.
    refer : Referral or None
        Stop and refer.
    caution : str
        The short caution.
    notes : tuple of str
        What to ask first, and what to watch.
    level : str
        Whose paces were taken.
    hands : int
        How many are free today.
    kit : tuple of str
        What stays on the board but is done with something else than its usual implement.
    """

    outcome: Outcome
    reading: Reading
    pieces: tuple[PieceAdapted, ...] = ()
    totals: tuple[Total, ...] = ()
    written_totals: tuple[Total, ...] = ()
    refer: Referral | None = None
    caution: str = ""
    notes: tuple[str, ...] = ()
    level: Level = "regular"
    hands: int = 2
    kit: tuple[str, ...] = ()


def adapt(library: Library, reading: Reading, today: Today, *, says: str = "", standard: int = 0) -> Adapted:
    """Adapt a board to one member.

    Parameters
    ----------
    library : Library
        Records.
    reading : Reading
        The board as understood.
    today : Today
        Situation of the member and the floor.
    says : str
        Free text of the member, matched against the red flags.
    standard : int
        Which number of a pair the member does: 0 the first, 1 the second.

    Returns
    -------
    Adapted
        Each piece with what changed, or a referral without any.
    """
    told = [library.complaints[t.complaint] for t in today.complaints if t.complaint]
    referral, questions = refer(library, [says], [c.id for c in told])
    if referral:
        caution = caution_text(library, ["refer"], emergency_words(library))
        return Adapted(outcome="refer", reading=reading, refer=referral, caution=caution)
    filter_ = Filter(library, today)
    level: Level = today.level or "regular"
    written = [lay_out(library, b, standard=standard) for b in reading.blocks]
    pieces = tuple(adapt_piece(filter_, piece, level, standard) for piece in written)
    if one := one_pair(filter_, [c.pick for p in pieces for c in p.changed if c.pick]):
        filter_ = Filter(library, msgspec.structs.replace(today, sizes_kg={**today.sizes_kg, **one}))
        pieces = tuple(adapt_piece(filter_, piece, level, standard) for piece in written)
    changes = [c for p in pieces for c in p.changed]
    outcome: Outcome = "adapted" if changes or any(p.caps or p.fit.cap_s for p in pieces) else "as-written"
    if any(c.pick is None for c in changes):
        outcome = "nothing-suitable"
    after = totals(library, [p.fit.piece for p in pieces], level)
    kinds = caution_kinds(library, today)
    kinds = [
        *(k for k in kinds if k != "newcomer"),
        *(t.dose.caution for t in after if t.beyond and t.dose.caution),
        *kinds,
    ]
    notes = [*questions, *(f"Ask first: {c.ask_first}" for c in told), *(c.principle for c in told)]
    notes += [c.extra for c in told if c.extra]
    return Adapted(
        outcome=outcome,
        reading=reading,
        pieces=pieces,
        totals=after,
        written_totals=totals(library, [p.written for p in pieces], level),
        caution=caution_text(library, kinds, emergency_words(library)),
        notes=tuple(dict.fromkeys(notes)),
        level=level,
        hands=free_hands(library, today),
        kit=_other_kit(filter_, pieces),
    )


def _other_kit(filter_: Filter, pieces: Sequence[PieceAdapted]) -> tuple[str, ...]:
    """What stays as written but needs another implement today: "goblet squat: with the dumbbell"."""
    found: dict[str, None] = {}
    for piece in pieces:
        changed = {c.place.movement.id for c in piece.changed}
        for work in piece.written.all_works:
            movement = work.movement
            if movement.load is None or movement.id in changed or filter_.has(movement.load.implement):
                continue
            implement = rack_of(filter_, movement).implement
            if implement != movement.load.implement:
                found[f"{movement.name}: with the {filter_.library.equipment[implement].name}"] = None
    return tuple(found)


def _not_one_flow(library: Library, written: Piece, items: Mapping[int, Item | None]) -> list[str]:
    """What has to be said of a changed complex whose parts do not go on from one another."""
    found = []
    for item in {id(w.item): w.item for w in written.all_works if w.item.parts}.values():
        after = items.get(id(item), item)
        parts = [library.movements[p.movement] for p in after.parts if p.movement] if after else []
        kits = {m.load.implement if m.load else "" for m in parts}
        if after is not item and len(kits) > 1:
            found.append(
                "no longer one complex: not all of it is done with the same, so do the parts as sets of their own"
            )
        elif after is not item and (apart := breaks_of(library, parts)):
            names = " and ".join(dict.fromkeys(m.name for m in apart))
            found.append(f"no longer one flow: take the load from a rack for the {names}, or rest before it")
    return found


def adapt_piece(filter_: Filter, written: Piece, level: Level, standard: int = 0) -> PieceAdapted:
    """One piece for the member."""
    library = filter_.library
    time = time_piece(library, written)
    places = places_of(filter_, written)
    weighed = _weighed(library, written, places, time.shares)
    chosen = choose(filter_, weighed, level)
    picks: dict[Key, Candidate | None] = {
        key: None if pick is None else place.candidates[pick]
        for (key, place), pick in zip(places.items(), chosen.picks, strict=True)
    }
    picks = one_load(filter_, written, places, picks)
    moving = [c for key, c in picks.items() if c is not None and places[key].removals and c.option is not None]

    def rebuild(settings: Settings) -> Piece:
        return rebuilt(library, written, picks, settings, standard=standard)

    aim = Aim(
        written=written,
        rebuild=rebuild,
        widest=max((max(math.log(c.high / c.ratio), math.log(c.ratio / c.low)) for c in moving), default=0.0),
        loaded=any(c.movement.load for c in moving),
        level=level,
    )
    found = fit(library, aim)
    items, caps = _as_done(written, found.piece, places)
    return PieceAdapted(
        written=written,
        time=time,
        character=character_of(library, written, time),
        fit=msgspec.structs.replace(found, said=(*found.said, *_not_one_flow(library, written, items))),
        changed=tuple(
            Changed(place, picks[key], load_words(written, place, picks[key]))
            for key, place in places.items()
            if place.removals
        ),
        chosen=chosen,
        items=items,
        caps=caps,
        loses=_loses(library, places, picks, weighed),
    )


def _weighed(library: Library, written: Piece, places: Mapping[Key, Place], shares: Sequence[Share]) -> list[Weighed]:
    """Each place with all its work over the piece, at the class's level."""
    seconds: dict[Key, float] = {}
    amounts: dict[Key, float] = {}
    works: dict[Key, Work] = {}
    for share in shares:
        key = key_of(share.work)
        pace = share.work.movement.pace(share.work.unit) or 1.0
        seconds[key] = seconds.get(key, 0.0) + share.share
        amounts[key] = amounts.get(key, 0.0) + share.seconds / pace
        works.setdefault(key, share.work)
    even = 1 / max(1, len(places))  # where nothing can be timed
    timed = sum(seconds.values()) > 0
    # A heavy single takes no time, but it is what the piece is for.
    least = {k: even if is_lift(written.block, works[k].item) else 0.0 for k in places}
    return [Weighed(p, works[k], amounts[k], max(seconds[k], least[k]) if timed else even) for k, p in places.items()]


def _as_done(
    written: Piece, done: Piece, places: Mapping[Key, Place]
) -> tuple[dict[int, Item | None], dict[int, float]]:
    """Items of the board that are done otherwise, by identity, and caps on their sets."""
    items: dict[int, Item | None] = {}
    caps: dict[int, float] = {}
    after = {(w.item.line, w.item.as_written, w.part): w for w in done.all_works}
    for work in written.all_works:
        new = after.get((work.item.line, work.item.as_written, work.part))
        if places[key_of(work)].removals:
            items[id(work.item)] = new.item if new else items.get(id(work.item))
        elif new is not None and new.item is not work.item:
            items.setdefault(id(work.item), new.item)
        if new is not None and new.cap_s is not None:
            caps[id(work.item)] = new.cap_s
    return items, caps


def _loses(
    library: Library,
    places: Mapping[Key, Place],
    picks: Mapping[Key, Candidate | None],
    weighed: Sequence[Weighed],
) -> tuple[str, ...]:
    """What the piece gives up: by share of the work, without what another part of it still trains."""
    still = set()
    for key, place in places.items():
        pick = picks[key]
        movement = pick.movement if pick else None
        if movement is not None and (not place.removals or pick):
            still |= {library.patterns[p].name for p, s in movement.pattern.items() if s >= 0.3}
            still |= {library.muscles[m].name for m, w in movement.muscles.items() if w >= 2}
    lost: dict[str, float] = {}
    for w, (key, place) in zip(weighed, places.items(), strict=True):
        pick = picks[key]
        if not place.removals:
            continue
        names = pick.option.loses if pick and pick.option else () if pick else (place.movement.name,)
        for rank, name in enumerate(names):
            if name not in still:
                lost[name] = lost.get(name, 0.0) + w.share / (rank + 1)
    return tuple(sorted(lost, key=lambda name: (-lost[name], name)))[:5]
