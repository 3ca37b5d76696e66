"""The words of a board as patterns, built once from `library/board.yaml`."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable

from subgraph.library.knowledge import Library

_NUMBER_WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


_ALSO = {"and": "(?:and|&|n)", "with": "(?:with|w/)"}  # how a small word is also written


def _flexible(phrase: str) -> str:
    """A phrase as a pattern: a space also stands for a hyphen, an apostrophe or nothing; "two" also for "2"."""
    parts = []
    for word in phrase.split():
        if word in _NUMBER_WORDS:
            parts.append(f"(?:{word}|{_NUMBER_WORDS.index(word)})")
        else:
            parts.append(_ALSO.get(word) or re.escape(word))
    return r"[\s',-]*".join(parts)


def alternation(phrases: Iterable[str]) -> str:
    """A pattern for any of several phrases, the longest first."""
    return "(?:" + "|".join(_flexible(p) for p in sorted(phrases, key=len, reverse=True)) + ")"


class Words:
    """Patterns of the board's own words.

    Parameters
    ----------
    library : Library
        Its `phrases` are the data.
    """

    def __init__(self, library: Library) -> None:
        self._by_kind: dict[str, dict[str, tuple[str, ...]]] = {}
        for phrase in library.phrases.values():
            self._by_kind.setdefault(phrase.kind, {})[phrase.id] = phrase.words
        self._patterns: dict[tuple[str, str], re.Pattern[str]] = {}
        self.talk = {w for words in self._by_kind.get("talk", {}).values() for w in words}
        self.filler = {w for words in self._by_kind.get("filler", {}).values() for w in words}

    def phrases(self, kind: str) -> list[str]:
        """All phrases of a kind."""
        return [w for words in self._by_kind.get(kind, {}).values() for w in words]

    def any_of(self, kind: str, id_: str = "") -> str:
        """Pattern text for the phrases of a kind, or of one id of it."""
        chosen = self._by_kind.get(kind, {})
        return alternation(w for i, words in chosen.items() if id_ in ("", i) for w in words) if chosen else "(?!)"

    def pattern(self, before: str, kind: str, id_: str = "", after: str = "") -> re.Pattern[str]:
        """A compiled pattern around the phrases of a kind; case is ignored."""
        key = (f"{before}|{kind}|{after}", id_)
        if key not in self._patterns:
            self._patterns[key] = re.compile(f"{before}{self.any_of(kind, id_)}{after}", re.I)
        return self._patterns[key]

    def ids(self, kind: str) -> list[str]:
        """Meanings of a kind, in file order."""
        return list(self._by_kind.get(kind, {}))

    def meaning(self, kind: str, text: str) -> str | None:
        """The meaning of a text that is one phrase of a kind and nothing else."""
        return next((i for i in self.ids(kind) if self.pattern("", kind, i).fullmatch(text.strip())), None)


@functools.lru_cache(maxsize=4)
def words_of(library: Library) -> Words:
    """The patterns of a library, built once."""
    return Words(library)
