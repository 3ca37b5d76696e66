"""From what a coach types to an id: exact alias, then words in any order, then near spellings.

Nothing is guessed silently: two movements that answer equally well are an `AmbiguousNameError`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Protocol

from msgspec import Struct

from subgraph.errors import AmbiguousNameError, UnknownNameError

SURE = 87.0  # similarity (0 to 100) from which a lone near spelling is taken; tried on tests/unit/library/test_names.py
LEAD = 5.0  # points by which it must lead the next movement
NEAR = 55.0  # from which a spelling is worth suggesting
SHORTEST_SWAP = 3  # letters from which two swapped ones are recognised
SHORTEST = 5  # letters below which near spellings mean nothing

_NOT_WORD = re.compile(r"[^a-z0-9]+")
_GLUED = re.compile(r"(?<=[a-z])\.(?=[a-z])")


class Named(Protocol):
    """Anything with an id, a name and other names."""

    @property
    def id(self) -> str: ...  # noqa: D102
    @property
    def name(self) -> str: ...  # noqa: D102
    @property
    def also(self) -> tuple[str, ...]: ...  # noqa: D102


def singular(word: str) -> str:
    """Strip a plural ending; crude, but the same on both sides of a comparison.

    Examples
    --------
    >>> [singular(w) for w in ("presses", "lunges", "boxes", "press", "toes")]
    ['press', 'lunge', 'box', 'press', 'toe']
    """
    if len(word) > 4 and word.endswith(("sses", "xes", "ches", "shes")):
        return word[:-2]
    if len(word) > 2 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def words(text: str, abbreviations: Mapping[str, str] = {}) -> list[str]:
    """Plain lower-case words of a name, singular, short forms written out.

    Examples
    --------
    >>> words("Alt. DB Snatches", {"alt": "alternating", "db": "dumbbell"})
    ['alternating', 'dumbbell', 'snatch']
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    plain = _GLUED.sub("", plain.replace("'", ""))
    found: list[str] = []
    for word in _NOT_WORD.split(plain):
        if not word:
            continue
        word = abbreviations.get(word) or abbreviations.get(singular(word)) or word
        found += [singular(w) for w in word.split()]
    return found


def plain_key(text: str) -> str:
    """Letters and digits of a name as they stand, joined: tells "KBS" from "KBs" only by where they are asked."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return _NOT_WORD.sub("", plain)


class Names:
    """A mapping from names to ids in one piece of text.

    One name is found by searching the text, which is quicker than making a dictionary of thousands for it.

    Parameters
    ----------
    text : str
        A line per name: the name, a tab, its id; with a line feed at both ends.
    """

    __slots__ = ("text",)

    def __init__(self, text: str) -> None:
        self.text = text

    @staticmethod
    def of(pairs: Iterable[tuple[str, str]]) -> Names:
        """From pairs of name and id."""
        return Names("\n" + "".join(f"{name}\t{id_}\n" for name, id_ in pairs))

    def get(self, name: str) -> str | None:
        """The id of a name; None where there is none."""
        start = self.text.find(f"\n{name}\t")
        if start < 0:
            return None
        start += len(name) + 2
        return self.text[start : self.text.index("\n", start)]

    def __contains__(self, name: str) -> bool:
        return f"\n{name}\t" in self.text

    def items(self) -> list[tuple[str, str]]:
        """All pairs of name and id."""
        return [(name, id_) for line in self.text.splitlines()[1:] for name, _, id_ in (line.partition("\t"),)]


class NameIndex:
    """All names of one kind of record.

    Parameters
    ----------
    exact : Names
        From the joined words of each name to an id.
    spelled : Names
        From the spaced words of each name to an id.
    """

    __slots__ = ("_spelled", "exact", "spelled_names")

    def __init__(self, exact: Names, spelled: Names) -> None:
        self.exact = exact
        self.spelled_names = spelled
        self._spelled: list[tuple[str, str]] | None = None

    @property
    def spelled(self) -> list[tuple[str, str]]:
        """Pairs of spaced words and id, for a search over all."""
        if self._spelled is None:
            self._spelled = self.spelled_names.items()
        return self._spelled


class Found(Struct, frozen=True):
    """A resolved name; `sure` is False where it rests on a near spelling that should be shown."""

    id: str
    sure: bool = True


def build_index(records: Iterable[Named], abbreviations: Mapping[str, str]) -> NameIndex:
    """Index ids, names and other names; the first claim to a name stands (`library check` reports the second)."""
    exact: dict[str, str] = {}
    spelled: list[tuple[str, str]] = []
    seen: set[str] = set()
    for record in records:
        for text in (record.id, record.name, *record.also):
            exact.setdefault(plain_key(text), record.id)
            plain = text.lower()
            if plain not in abbreviations and singular(plain) in abbreviations:
                continue  # "KBS" is a name; without its s it would be the kettlebell itself
            for form in {tuple(words(text)), tuple(words(text, abbreviations))}:
                joined, spaced = "".join(form), " ".join(form)
                if joined and exact.setdefault(joined, record.id) == record.id and spaced not in seen:
                    seen.add(spaced)
                    spelled.append((spaced, record.id))
    return NameIndex(Names.of(exact.items()), Names.of(spelled))


def exactly(text: str, index: NameIndex, abbreviations: Mapping[str, str]) -> str | None:
    """The id of a name as it stands, or with its words made singular and short forms written out."""
    if found := index.exact.get(plain_key(text)):
        return found
    return index.exact.get("".join(words(text))) or index.exact.get("".join(words(text, abbreviations)))


def resolve(text: str, index: NameIndex, abbreviations: Mapping[str, str], *, kind: str) -> Found:
    """Find what a name means.

    Parameters
    ----------
    text : str
        As typed.
    index : NameIndex
        Names of this kind.
    abbreviations : mapping
        Short form to words.
    kind : str
        "movement", "equipment" ..., for the message.

    Raises
    ------
    AmbiguousNameError
        Several answer equally well; `nearest` lists them.
    UnknownNameError
        None does; `nearest` lists up to three.
    """
    if found := exactly(text, index, abbreviations):
        return Found(found)
    asked = words(text, abbreviations)
    if not asked:
        raise UnknownNameError(f"no {kind} in '{text}'", mend="write its name")
    same, holding = _by_words(set(asked), index)
    for i in range(len(asked) - 1):  # "over head" for "overhead"
        if not same:
            same, _ = _by_words({*asked[:i], asked[i] + asked[i + 1], *asked[i + 2 :]}, index)
    if len(same) == 1:
        return Found(same[0])
    if same:
        raise _ambiguous(text, same, kind)
    if len(holding) == 1 and len("".join(asked)) >= 3:
        return Found(holding[0], sure=False)
    return _by_spelling(text, " ".join(asked), holding, index, kind)


def _by_words(wanted: set[str], index: NameIndex) -> tuple[list[str], list[str]]:
    """Ids whose name has just these words in another order, and ids whose name holds them all (fewest extra first)."""
    same: dict[str, None] = {}
    holding: dict[str, int] = {}
    for spelled, id_ in index.spelled:
        have = set(spelled.split())
        if have == wanted:
            same[id_] = None
        elif wanted <= have:
            holding[id_] = min(holding.get(id_, 99), len(have))
    return list(same), sorted(holding, key=lambda i: (holding[i], i))


def _by_spelling(text: str, asked: str, holding: list[str], index: NameIndex, kind: str) -> Found:
    from rapidfuzz import fuzz, process

    scores: dict[str, float] = {}
    choices = [spelled for spelled, _ in index.spelled]
    joined = asked.replace(" ", "")
    for scorer, query, pool in (
        (fuzz.token_sort_ratio, asked, choices),
        (fuzz.ratio, joined, [c.replace(" ", "") for c in choices]),
    ):
        for _, score, position in process.extract(query, pool, scorer=scorer, limit=25):
            id_ = index.spelled[position][1]
            scores[id_] = max(scores.get(id_, 0.0), score)
    ranked = sorted(scores, key=lambda i: (-scores[i], i))
    best = scores[ranked[0]] if ranked else 0.0
    if best >= SURE and len(joined) >= SHORTEST:
        rivals = [i for i in ranked if best - scores[i] < LEAD]
        if len(rivals) == 1:
            return Found(rivals[0], sure=False)
        raise _ambiguous(text, rivals[:5], kind)
    if len(holding) > 1:
        raise _ambiguous(text, holding[:5], kind)
    if slips := _one_slip(joined, index):
        if len(slips) == 1:
            return Found(slips[0], sure=False)
        raise _ambiguous(text, slips[:5], kind)
    if swapped := _same_letters(joined, index):
        return Found(swapped, sure=False)
    near = tuple(i for i in ranked if scores[i] >= NEAR)[:3] or tuple(ranked[:3])
    near = tuple(dict.fromkeys((*holding, *near)))[:3]
    mend = (
        "nearest: " + ", ".join(i.lstrip("~") for i in near)
        if near
        else f"see `subgraph library stats` for what {kind}s there are"
    )
    raise UnknownNameError(
        f"no {kind} is called '{_shown(text)}'", mend=mend, nearest=tuple(i.lstrip("~") for i in near)
    )


def _one_slip(joined: str, index: NameIndex) -> list[str]:
    """Ids with a name that is one slip away and begins alike: "burbee" and "burpess" for "burpee"."""
    from rapidfuzz.distance import OSA

    found: dict[str, None] = {}
    for asked in dict.fromkeys((joined, joined.rstrip("s"))):
        if len(asked) >= SHORTEST:
            for name, id_ in index.exact.items():
                if name[0] == asked[0] and len(name) > SHORTEST and OSA.distance(asked, name, score_cutoff=1) <= 1:
                    found[id_] = None
    return list(found)


def _same_letters(joined: str, index: NameIndex) -> str | None:
    """The one id with a name of the same letters and the same first letter: "rnu" for "run"."""
    if len(joined) < SHORTEST_SWAP:
        return None
    letters = sorted(joined)
    found = {i for name, i in index.exact.items() if name[0] == joined[0] and sorted(name) == letters}
    return found.pop() if len(found) == 1 else None


def _ambiguous(text: str, ids: list[str], kind: str) -> AmbiguousNameError:
    plain = tuple(i.lstrip("~") for i in ids)
    return AmbiguousNameError(
        f"'{_shown(text)}' could be more than one {kind}", mend="say which: " + ", ".join(plain), nearest=plain
    )


def _shown(text: str) -> str:
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return clean if len(clean) <= 40 else clean[:37] + "..."
