"""Lines below a list that name movements standing in it: another movement in their place, or their loads."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from msgspec.structs import replace

from subgraph.notation.board import Item
from subgraph.notation.called import Caller
from subgraph.notation.pieces import Piece

MOST_ASKED = 60  # characters of a name on one side of a sign

_INSTEAD = re.compile(r"^(?P<name>[^\d:=>]+?)\s*(?:->|=>|=|>)\s*(?=\S)|^(?P<told>[^\d:=>]+?)\s*:\s*(?=[a-z])", re.I)
_FOR = re.compile(
    r"^(?P<new>[^\d:=>]+?)\s+(?:for|instead\s+of|in\s+place\s+of)\s+(?:the\s+)?(?P<name>[^\d:=>]+)$", re.I
)


def in_place_of(text: str, caller: Caller, standing: Collection[str]) -> bool:
    """Whether a line tells another movement for one that stands on the board: "T2B = V-ups", "ring rows for pull-ups".

    Parameters
    ----------
    text : str
        The line.
    caller : Caller
        Names of the library.
    standing : collection of str
        Ids of the movements so far.
    """
    found = _INSTEAD.match(text) or _FOR.match(text)
    if not found or not standing:
        return False
    parts = found.groupdict()
    name = parts.get("name") or parts.get("told") or ""
    if len(name) > MOST_ASKED or caller.call(name).movement not in standing:
        return False
    if new := parts.get("new"):
        return len(new) <= MOST_ASKED and caller.call(new).movement is not None
    return True


def loads_of(pieces: Sequence[Piece], items: list[Item], new: Sequence[Item]) -> bool | None:
    """Give items further up the loads that a line of its own names with them: "Deadlift 100/70, box 24/20".

    Parameters
    ----------
    pieces : sequence of Piece
        What stands on the line.
    items : list of Item
        Items of the open block; those that the line is about are changed in place.
    new : sequence of Item
        The pieces as items.

    Returns
    -------
    bool or None
        True where they took it, False where they have a load of their own, None where the line is something else.
    """
    if not pieces or not all(p.sure for p in pieces):
        return None
    places = []
    for piece, item in zip(pieces, new, strict=True):
        n = piece.numbers
        if n.high and re.match(r"\W*\d", piece.text):
            return None  # "5 m rope climb" below another: one more climb
        if n.amount or n.sets or n.percent or n.amount_is != "none" or not (item.load_kg or item.height_cm):
            return None
        same = [i for i, other in enumerate(items) if other.movement == item.movement]
        if not same or not (items[same[0]].amount or items[same[0]].amount_is == "scheme"):
            same = [i for i in same if not items[i].load_kg and not items[i].height_cm]
        if not same:
            return None
        places.append(same)
    took = False
    for same, item in zip(places, new, strict=True):
        for i in same:
            if not items[i].load_kg and not items[i].height_cm:
                items[i] = replace(items[i], load_kg=item.load_kg, height_cm=item.height_cm, per_hand=item.per_hand)
                took = True
    return took
