"""Read the situation: flags and free words to a `Today`."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import cast

from msgspec import Struct

from subgraph.errors import AskError, UnknownNameError
from subgraph.library.compile import Compiled
from subgraph.library.names import resolve
from subgraph.library.records import IRRITABILITIES, Intent, Level
from subgraph.notation.ask import movement_named
from subgraph.referral import hear
from subgraph.today import Today, Told

LONGEST_SAYING = 4000  # characters of free text
_COUNT = re.compile(
    r"^(?:(?P<n>-?\d+)\s*x?\s+|(?P<none>no|zero|without)\s+|(?P<two>two|a pair of|pair of|pair)\s+|"
    r"(?P<one>one|a single|single|an?)\s+)(?P<name>.+)$",
    re.I,
)


class Situation(Struct, frozen=True):
    """The situation as understood.

    Parameters
    ----------
    today : Today
        For the filter.
    says : str
        All free text, complaints as typed included, for the red flags.
    notes : tuple of str
        What rests on a near spelling.
    """

    today: Today
    says: str
    notes: tuple[str, ...]


def read_situation(
    compiled: Compiled,
    *,
    without: Iterable[str] = (),
    only: Iterable[str] | None = None,
    complaints: Iterable[str] = (),
    irritability: str = "sore",
    level: str | None = None,
    cannot: Iterable[str] = (),
    limits: Iterable[str] = (),
    intent: str | None = None,
    says: str = "",
) -> Situation:
    """Read all that a coach told of a member and the floor.

    Parameters
    ----------
    compiled : Compiled
        Library and names.
    without, only : iterable of str
        Equipment by any usual name; commas separate. At most one of the two.
    complaints : iterable of str
        "shoulder", "shoulder:overhead", "overhead"; commas separate.
    irritability : str
        "settled", "sore" or "flared".
    level, intent : str, optional
        By any usual name.
    cannot : iterable of str
        Movements not owned; commas separate.
    limits : iterable of str
        Such as "no-jumping"; commas separate.
    says : str
        Free text of the member.

    Raises
    ------
    AskError
        For the first word that is not understood, with the nearest names.
    """
    if len(says) > LONGEST_SAYING:
        raise AskError(f"--says is {len(says)} characters long", mend=f"give at most {LONGEST_SAYING}")
    notes: list[str] = []

    def find(text: str, kind: str) -> str:
        found = resolve(text, compiled.names[kind], compiled.library.abbreviations, kind=kind)
        if not found.sure:
            notes.append(f"'{text}' read as {found.id.lstrip('~')}")
        return found.id

    gone = frozenset(find(text, "equipment") for text in _pieces(without))
    on_hand = None
    if only is not None and (pieces := _pieces(only)):
        on_hand = _on_hand(pieces, compiled, find)
    typed = _pieces(complaints)
    told = _complaints(typed, compiled, find)
    mood = irritability.strip().lower()
    if mood not in IRRITABILITIES:
        raise AskError(f"irritability '{mood[:20]}' is not known", mend="one of: " + ", ".join(IRRITABILITIES))
    today = Today(
        without=gone,
        only=on_hand,
        complaints=told,
        irritability=mood,
        level=cast(Level, find(level, "level")) if level else None,
        cannot=frozenset(movement_named(text, compiled).id for text in _pieces(cannot)),
        limits=frozenset(find(text, "limit") for text in _pieces(limits)),
        intent=cast(Intent, find(intent, "intent")) if intent else None,
    )
    return Situation(today, " . ".join([says, *(t.replace(":", " ") for t in typed)]), tuple(notes))


def read_owned(texts: Iterable[str], compiled: Compiled) -> tuple[list[str], list[str]]:
    """Read the movements that a member owns.

    Parameters
    ----------
    texts : iterable of str
        Movements by any usual name; commas separate.
    compiled : Compiled
        Library and names.

    Returns
    -------
    list of str, list of str
        Ids, and which other name was read as which movement.

    Raises
    ------
    AskError
        For the first name that is not understood, with the nearest names.
    """
    owned, notes = [], []
    for text in _pieces(texts):
        movement = movement_named(text, compiled)
        owned.append(movement.id)
        if _letters(text) not in (_letters(movement.name), _letters(movement.id)):
            notes.append(f"'{text}' read as {movement.name}")
    return owned, notes


def _letters(name: str) -> str:
    """A name without its spaces and marks."""
    return "".join(c for c in name.lower() if c.isalnum())


def _pieces(texts: Iterable[str]) -> list[str]:
    """Split repeated flags at commas."""
    pieces = [piece.strip() for text in texts for piece in text.split(",")]
    for piece in pieces:
        if any(unicodedata.category(c) == "Cc" for c in piece):
            raise AskError("a flag holds a control character", mend="type it again")
    return [piece for piece in pieces if piece]


def _on_hand(pieces: list[str], compiled: Compiled, find: object) -> dict[str, int]:
    stock: dict[str, int] = {}
    for piece in pieces:
        if piece.lower() in ("nothing", "none", "floor", "bodyweight", "body weight", "no equipment"):
            continue
        count, name = 0, piece
        if counted := _COUNT.match(piece):
            count = int(counted["n"]) if counted["n"] else 1 if counted["one"] else 2 if counted["two"] else 0
            name = counted["name"]
            if count <= 0:
                find(name, "equipment")  # type: ignore[operator]  # named, if only to say that there is none
                continue
        id_ = find(name, "equipment")  # type: ignore[operator]
        stock[id_] = max(stock.get(id_, 0), count)
        for held in compiled.library.equipment[id_].holds:
            stock.setdefault(held, 0)
    return stock


def _complaints(typed: list[str], compiled: Compiled, find: object) -> tuple[Told, ...]:
    told: list[Told] = []
    for piece in typed:
        site, colon, provoked = (part.strip() for part in piece.partition(":"))
        try:
            if colon and provoked:
                by = find(provoked, "provocation")  # type: ignore[operator]
                told.append(Told(find(site, "complaint") if site else None, (by,)))  # type: ignore[operator]
                continue
            id_ = find(site or provoked, "complaint")  # type: ignore[operator]
        except UnknownNameError:
            if hear(compiled.library, piece.replace(":", " ")).standing:
                continue  # no profile, but a red flag: the referral will speak
            raise
        if id_.startswith("~"):  # a provocation: joins the complaint before it, or stands alone
            if told and told[-1].complaint:
                told[-1] = Told(told[-1].complaint, (*told[-1].provoked_by, id_[1:]))
            else:
                told.append(Told(None, (id_[1:],)))
        else:
            told.append(Told(id_))
    return tuple(told)
