"""Read the situation: flags and free words to a `Today`."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from typing import cast

from msgspec import Struct

from subgraph.errors import AskError, UnknownNameError
from subgraph.library.compile import Compiled
from subgraph.library.names import resolve
from subgraph.library.records import IRRITABILITIES, Intent, Irritability, Level
from subgraph.notation.ask import movement_named
from subgraph.quantities import KG_PER_LB
from subgraph.today import Today, Told

LONGEST_SAYING = 4000  # characters of free text
HEAVIEST_KG = 500
LONGEST_FLAG = 1000  # characters of one flag
_NUMBERS = {"no": 0, "zero": 0, "without": 0, "two": 2, "one": 1, "a": 1, "an": 1, "single": 1, "pair": 2}
_NOTHING = ("nothing", "none", "floor", "bodyweight", "body weight", "no equipment")
_FEW = ("level", "limit", "intent")  # kinds of which all choices are listed


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
    notes: list[str] = []
    says = _saying(says, notes)

    def find(text: str, kind: str) -> str:
        try:
            found = resolve(text, compiled.names[kind], compiled.library.abbreviations, kind=kind)
        except UnknownNameError as error:
            if kind not in _FEW:
                raise
            choices = ", ".join(dict.fromkeys(id_ for _, id_ in compiled.names[kind].spelled))
            near = f"nearest: {error.nearest[0]}; " if error.nearest else ""
            raise UnknownNameError(error.what, mend=f"{near}one of: {choices}", nearest=error.nearest) from None
        if not found.sure:
            notes.append(f"'{text}' read as {found.id.lstrip('~')}")
        return found.id

    gone = frozenset(find(text, "equipment") for text in _pieces("--without", without))
    on_hand: dict[str, int] | None = None
    sizes: dict[str, tuple[float, ...]] = {}
    if only is not None and (pieces := _pieces("--only", only)):
        on_hand, sizes = _on_hand(pieces, compiled, find, notes)
    typed = _pieces("--complaint", complaints)
    told: tuple[Told, ...] = ()
    if typed:  # its patterns take longer to compile than many an ask to answer
        from subgraph.notation.complaint import read_complaints

        told = read_complaints(typed, compiled, notes)
    mood = _mood(irritability)
    today = Today(
        without=gone,
        only=on_hand,
        sizes_kg=sizes,
        complaints=told,
        irritability=mood,
        level=cast(Level, find(_piece("--level", level), "level")) if level else None,
        cannot=frozenset(movement_named(text, compiled).id for text in _pieces("--cannot", cannot)),
        limits=frozenset(find(text, "limit") for text in _pieces("--limit", limits)),
        intent=cast(Intent, find(_piece("--intent", intent), "intent")) if intent else None,
    )
    return Situation(today, " . ".join([says, *(t.replace(":", " ") for t in typed)]), tuple(notes))


def _saying(says: str, notes: list[str]) -> str:
    """Free text, without the control characters that no keyboard writes."""
    if len(says) > LONGEST_SAYING:
        raise AskError(f"--says is {len(says)} characters long", mend=f"give at most {LONGEST_SAYING}")
    plain = "".join(" " if unicodedata.category(c) == "Cc" and c not in "\t\n\r" else c for c in says)
    if plain != says:
        notes.append("control characters in --says passed over")
    return plain


def _mood(irritability: str) -> Irritability:
    mood = _piece("--irritability", irritability).lower()
    for known in IRRITABILITIES:
        if mood == known:
            return known
    import difflib

    near = tuple(difflib.get_close_matches(mood, IRRITABILITIES, n=1))
    choices = "one of: " + ", ".join(IRRITABILITIES)
    raise UnknownNameError(
        f"no irritability is called '{mood[:40]}'",
        mend=f"nearest: {near[0]}; {choices}" if near else choices,
        nearest=near,
    )


def _piece(flag: str, text: str) -> str:
    """One flag's text, of a sane length and without control characters."""
    if len(text) > LONGEST_FLAG:
        raise AskError(f"{flag} is {len(text)} characters long", mend=f"give names, at most {LONGEST_FLAG} characters")
    if any(unicodedata.category(c) == "Cc" for c in text):
        raise AskError(f"{flag} holds a control character", mend="type it again")
    return text.strip()


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
    for text in _pieces("--owns", texts):
        movement = movement_named(text, compiled)
        owned.append(movement.id)
        if _letters(text) not in (_letters(movement.name), _letters(movement.id)):
            notes.append(f"'{text}' read as {movement.name}")
    return owned, notes


def _letters(name: str) -> str:
    """A name without its spaces and marks."""
    return "".join(c for c in name.lower() if c.isalnum())


def _pieces(flag: str, texts: Iterable[str]) -> list[str]:
    """Split repeated flags at commas."""
    pieces = [piece.strip() for text in texts for piece in _piece(flag, text).split(",")]
    return [piece for piece in pieces if piece]


def _counted(piece: str) -> tuple[int | None, str]:
    """A count and the name behind it: "2 dumbbells", "a pair of dumbbells", "no rope"; None where none is told."""
    words = piece.split()
    number = words[0].lower().rstrip("x") if words else ""
    if len(words) > 1 and number.removeprefix("-").isdecimal():
        return int(number), " ".join(words[2:] if words[1].lower() == "x" and len(words) > 2 else words[1:])
    count = None
    while len(words) > 1 and words[0].lower() in _NUMBERS:
        count = _NUMBERS[words.pop(0).lower()]
        if len(words) > 1 and words[0].lower() == "of":
            words.pop(0)
    return count, " ".join(words)


_WEIGHT = re.compile(
    r"(?<![\w.])(?P<sizes>\d+(?:\.\d+)?(?:\s*(?:/|-|and|or|&)\s*\d+(?:\.\d+)?)*)\s*"
    r"(?P<unit>kgs?|kilos?|lbs?|pounds?|#)(?!\w)(?:\s*of\b)?",
    re.I,
)


def _weighed(piece: str) -> tuple[str, tuple[float, ...]]:
    """A piece without its weight, and the weights [kg]: "2 x 22.5 kg dumbbells", "16/24 kg kettlebells"."""
    found = _WEIGHT.search(piece)
    if not found:
        return piece, ()
    factor = KG_PER_LB if found["unit"][0].lower() in "lp#" else 1.0
    sizes = tuple(round(float(size) * factor, 1) for size in re.findall(r"\d+(?:\.\d+)?", found["sizes"]))
    left = f"{piece[: found.start()]} {piece[found.end() :]}".strip(" @")
    if left.lower().endswith((" x", " of")):  # "kettlebell x 24 kg"
        left = left.rsplit(" ", 1)[0]
    return left, sizes


def _on_hand(
    pieces: list[str], compiled: Compiled, find: Callable[[str, str], str], notes: list[str]
) -> tuple[dict[str, int], dict[str, tuple[float, ...]]]:
    """What is on hand: id to count (0: as many as needed), and id to the weights told [kg]."""
    stock: dict[str, int] = {}
    sizes: dict[str, tuple[float, ...]] = {}
    for piece in pieces:
        if piece.lower() in _NOTHING:
            continue
        plain, weights = _weighed(piece)
        count, name = _counted(plain)
        id_ = find(name, "equipment")
        record = compiled.library.equipment[id_]
        if weights and not (record.sizes_kg or record.step_kg):
            notes.append(f"the weight of '{piece}' passed over: no load is chosen from it")
        elif weights:
            if not all(0 < size <= HEAVIEST_KG for size in weights):
                raise AskError(f"a weight in '{piece[:40]}' is out of range", mend=f"give 0.5 to {HEAVIEST_KG} kg")
            sizes[id_] = tuple(sorted({*sizes.get(id_, ()), *weights}))
            if count is None and not name.lower().endswith("s"):
                count = 1
        if count is not None and count <= 0:
            continue  # named, if only to say that there is none
        stock[id_] = max(stock.get(id_, 0), count or 0)
        for held in compiled.library.equipment[id_].holds:
            stock.setdefault(held, 0)
    return stock, sizes
