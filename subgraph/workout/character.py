"""What kind of piece it is, in words: its time domain and what it mostly trains."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import TimeDomain
from subgraph.workout.laid_out import Piece, is_lift
from subgraph.workout.timing import RESET_S, PieceTime, Share

_MAIN = 0.15  # share of the work from which a pattern is named
_HARD_METS, _SOME_METS = 8.0, 6.0  # vigorous from 6 METs; well above it from 8 (compendium's classes)


class Character(Struct, frozen=True):
    """Words for a piece.

    Parameters
    ----------
    domain : TimeDomain or None
        By its usual time; None for strength work and lists at one's own pace.
    patterns : tuple of str
        What moves, most of the work first.
    breathing : str
        How hard it is on the breathing.
    """

    domain: TimeDomain | None
    patterns: tuple[str, ...]
    breathing: str


def character_of(library: Library, piece: Piece, time: PieceTime) -> Character:
    """Words for a piece from its time."""
    domain = None
    lifts = all(is_lift(piece.block, w.item) for w in piece.all_works)
    if piece.block.format != "work" and not lifts:
        minutes = min(time.by_level["regular"].total.typical_s, piece.block.time_cap_s or math.inf) / 60
        fitting = [d for d in library.domains.values() if d.from_min <= minutes]
        domain = fitting[-1] if fitting and minutes else None
    mix = pattern_mix(time.shares)
    order = sorted(mix, key=lambda p: (-mix[p], p))
    main = [p for place, p in enumerate(order) if mix[p] >= (_MAIN if place > 1 else _MAIN / 2)]
    met = sum(s.share * s.work.movement.met.value for s in time.shares)
    nonstop = piece.block.format in ("for-time", "amrap") and (piece.block.rest_within_s or 0) < RESET_S
    if nonstop and len({w.movement.id for w in piece.all_works}) > 1:
        met = max(met, library.rules["circuit"].usual)
    breathing = "hard breathing" if met >= _HARD_METS else "some breathing" if met >= _SOME_METS else "little breathing"
    return Character(domain, tuple(library.patterns[p].name for p in main[:3]), breathing)


def pattern_mix(shares: Sequence[Share]) -> dict[str, float]:
    """Share of the working time by pattern."""
    mix: dict[str, float] = {}
    for share in shares:
        for pattern, part in share.work.movement.pattern.items():
            mix[pattern] = mix.get(pattern, 0.0) + share.share * part
    return mix
