"""Which movement a piece of a board names: to the letter first, then without words of how, then mended spellings.

The library's resolver decides last. Every step is remembered, and near spellings are looked up for a bounded number
of texts, so that a long text costs no more than its length.
"""

from __future__ import annotations

import functools
import re

from msgspec import Struct

from subgraph.errors import AmbiguousNameError, SubgraphError
from subgraph.library.compile import Compiled
from subgraph.library.names import plain_key, resolve, words
from subgraph.notation.words import Words, words_of

MOST_LOOKUPS = 100  # near spellings looked up for one board
SPELLED = 80.0  # similarity (0 to 100) from which a misspelt word of a name is mended
SHORTEST_WORD = 4  # letters below which a word is not mended
LONG_KIND = 4  # words in brackets from which they are no kind of a movement: "pull-ups (chest to bar)"
HALF = 0.5  # share of a text's words that a name inside it must make up

_UNIT = re.compile(
    r"(?:k?cal(?:orie)?|min(?:ute)?|sec(?:ond)?|met(?:er|re)|mtr|mt|mile|yard|yd|inche?|foot|feet|rep|round|rd|set|kg|lb|kilo|pound|pood|time"
    r"|person|rft|rm|emom|amrap)s?",
    re.I,
)
KITS = ("dumbbell", "kettlebell", "barbell")
_PARENS = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_PLACED = re.compile(r"^(?:on|using|with)\s+(?:an?\s+|the\s+)?", re.I)
_BEHIND = re.compile(r"\s(?:with|w/|using|on|to|from|in|at|for|like|round|around|along|past|@|-|:)\s")
_NOT_NAME = re.compile(r"[^\w\s&+'/.-]")


def is_unit(word: str) -> bool:
    """Whether a word is a unit of amounts or loads."""
    return _UNIT.fullmatch(word) is not None


class Called(Struct, frozen=True):
    """What a text names.

    Parameters
    ----------
    movement : str or None
        Id; None where nobody knows it.
    sure : bool
        False where a spelling was mended or words were passed over.
    share : float
        Share of the text's words that the name explains.
    nearest : tuple of str
        Ids near to an unknown or ambiguous name.
    ambiguous : bool
        Whether several movements answer equally well.
    short : str
        The short form with several readings that was met, else empty.
    maker : bool
        Whether words beside a machine were passed over: right only where it is counted in calories, metres or time.
    """

    movement: str | None
    sure: bool = True
    share: float = 1.0
    nearest: tuple[str, ...] = ()
    ambiguous: bool = False
    short: str = ""
    maker: bool = False


class Caller:
    """Names of one library as a board writes them."""

    def __init__(self, compiled: Compiled) -> None:
        self.compiled = compiled
        self.index = compiled.names["movement"]
        self.short = compiled.library.abbreviations
        self.words: Words = words_of(compiled.library)
        self.calls = {"".join(words(w)): c.id for c in compiled.library.calls.values() for w in (c.id, *c.also)}
        self.readings = compiled.library.readings
        self.known = functools.lru_cache(maxsize=20_000)(self._known)
        self.call = functools.lru_cache(maxsize=20_000)(self._call)
        self.look_up = functools.lru_cache(maxsize=20_000)(self._look_up)
        self.near = functools.lru_cache(maxsize=20_000)(self._near)
        self._how = self.words.pattern(r"(?<![\w-])", "how", after=r"(?![\w-])")
        self._efforts = [
            (i, self.words.pattern(r"(?<![\w-])", "effort", i, r"(?![\w-])")) for i in self.words.ids("effort")
        ]
        self.nameless = {plain_key(w) for w in self.words.phrases("nameless")}
        self._manner = self.words.pattern(r"(?<![\w-])", "how", "manner", r"(?![\w-])")
        self._kit = self.words.pattern(r"(?<![\w-])", "how", "kit", r"(?![\w-])")
        self._effort = self.words.pattern(r"(?<![\w-])", "effort", after=r"(?![\w-])")

    @functools.cached_property
    def vocabulary(self) -> dict[str, int]:
        """Every word in a movement's name, with the number of names that hold it."""
        found: dict[str, int] = {}
        for spelled, _ in self.index.spelled:
            for word in spelled.split():
                found[word] = found.get(word, 0) + 1
        return found

    def is_word(self, word: str) -> bool:
        """Whether a word stands in the name of some movement, or is a short form of one."""
        found = words(word, self.short) if len(word) > 2 else []
        return bool(found) and all(w in self.vocabulary for w in found) and not _UNIT.fullmatch(word)

    def loaded(self, name: str) -> str | None:
        """The movement that a plain name means where a load is written with it: "squat"."""
        return self.words.meaning("loaded", _tidy(self._how.sub(" ", self._effort.sub(" ", name))))

    def kit_in(self, text: str) -> str | None:
        """The implement that a text speaks of."""
        spoken = (k for k in KITS if self.words.pattern(r"(?<![\w-])", "implement", k, r"(?![\w-])").search(text))
        return next(spoken, None)

    def with_kit(self, text: str, name: str) -> str | None:
        """The movement of a plain name with the implement that a text speaks of: "split squat, 2 DBs"."""
        kit = self.kit_in(text)
        return self.known(f"{kit} {name}") if kit else None

    def engine_in(self, title: str) -> str | None:
        """The machine, or other way to cover ground, that a title speaks of: "Row day"."""
        movements = self.compiled.library.movements
        ids = (self.known(word) for word in re.findall(r"[a-z]{3,}", title.lower()))
        return next((i for i in ids if i and movements[i].character == "cyclic" and "m" in movements[i].units), None)

    def moving(self, name: str) -> str | None:
        """The form of a plain name that covers ground: "20 m lunges"."""
        return next((found for w in self.words.phrases("moving") if (found := self.known(f"{w} {name}"))), None)

    def effort(self, text: str) -> str | None:
        """Heavy, moderate or light, where a text says so."""
        return next((i for i, pattern in self._efforts if pattern.search(text)), None)

    def only_how(self, text: str) -> bool:
        """Whether a text says only how something is done."""
        left = self._how.sub(" ", self._effort.sub(" ", text))
        return not [w for w in left.split() if w.lower() not in self.words.filler and w.strip("-+&/.'")]

    def _known(self, text: str) -> str | None:
        """The movement of a text that is a name to the letter."""
        exact = self.index.exact
        if (found := exact.get(plain_key(text))) is not None:
            return found
        for table in ({}, self.short):
            key = "".join(words(text, table))
            if (found := exact.get(key) or self.calls.get(key)) is not None:
                return found
        return None

    def spelled_like(self, word: str, movement: str) -> bool:
        """Whether a word is one of a movement's names, a slip or two aside."""
        from rapidfuzz.distance import OSA

        record = self.compiled.library.movements[movement]
        of_names = {w for name in (record.id, record.name, *record.also) for w in words(name, self.short)}
        own = words(word, self.short)
        slips = 1 if len(word) < 6 else 2
        return all(
            w in of_names
            or any(OSA.distance(w, o) <= slips and (slips > 1 or w[0] == o[0]) for o in of_names if len(o) > 2)
            for w in own
        )  # a short word with another first letter is another word

    def _call(self, text: str) -> Called:
        """What a text names without any look at near spellings of the whole."""
        tidy = _tidy(text)
        if not tidy or plain_key(tidy) in self.nameless:
            return Called(None, share=0.0)
        if (short := "".join(words(tidy))) in self.readings:
            return Called(self.readings[short].movements[0], short=short)
        if plain_key(tidy) in self.readings:
            short = plain_key(tidy)
            return Called(self.readings[short].movements[0], short=short)
        for variant in self._variants(tidy):
            if (found := self.known(variant)) is not None:
                lost = variant != tidy and self._lost_kit(_PLACED.sub("", tidy), variant)
                return Called((self.with_kit(tidy, variant) if lost else None) or found, sure=not lost)
            if (short := plain_key(variant)) in self.readings:
                return Called(self.readings[short].movements[0], short=short)
        for variant in self._variants(tidy):
            mended = self._mended(variant)
            if mended and (found := self.known(mended)) is not None:
                return Called(found, sure=False)
        return self._inside(tidy)

    def _lost_kit(self, text: str, variant: str) -> bool:
        """Whether a word for equipment was passed over."""
        return len(self._kit.findall(_PARENS.sub(" ", text))) > len(self._kit.findall(variant))

    def _variants(self, text: str) -> list[str]:
        """The text, then without what stands in brackets, then without words of how."""
        bare = _tidy(_PARENS.sub(" ", text))
        unbracketed = _tidy(re.sub(r"[()\[\]]", " ", text))
        placed = _PLACED.sub("", bare)
        told = [
            f"{inner.strip('()[] ')} {bare}" for inner in _PARENS.findall(text)[:1] if len(inner.split()) < LONG_KIND
        ]
        found = [unbracketed, *told, bare, placed, re.sub(r"\s*[&+]\s*|\s+n\s+", " and ", bare)]
        for form in (unbracketed, bare):
            found.append(_tidy(self._effort.sub(" ", form)))
            found.append(_tidy(self._manner.sub(" ", self._effort.sub(" ", form))))
            found.append(_tidy(self._how.sub(" ", self._effort.sub(" ", form))))
            found.append(_tidy(_BEHIND.split(f"{form} ", maxsplit=1)[0]))
            found.append(_tidy(" ".join(w for w in form.split() if w.lower() not in self.words.filler)))
            found.append(_tidy(" ".join(w for w in found[-3].split() if w.lower() not in self.words.filler)))
        return [f for f in dict.fromkeys(found) if f]

    def _mended(self, text: str) -> str | None:
        """The text with each misspelt word of a name mended; None where one can't be."""
        asked = words(text, self.short)
        mended = []
        for word in asked:
            if word in self.vocabulary or word.isdigit():
                mended.append(word)
            elif len(word) < SHORTEST_WORD or (near := self.near(word)) is None:
                return None
            else:
                mended.append(near)
        return None if mended == asked else " ".join(mended)

    def _near(self, word: str) -> str | None:
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if word in self.words.talk or word in self.words.filler:
            return None
        choices = [w for w in self.vocabulary if abs(len(w) - len(word)) <= 2 and len(w) >= SHORTEST_WORD - 1]
        found = process.extract(word, choices, scorer=OSA.normalized_similarity, limit=3, score_cutoff=0.6)
        good = [
            (w, s)
            for w, s, _ in found
            if round(len(word) * (1 - s)) <= (1 if len(word) < 8 and word[:4] != w[:4] else 2) or s * 100 >= SPELLED
        ]
        if not good:
            return None
        best = max(s for _, s in good)
        return max((w for w, s in good if s == best), key=lambda w: (w[0] == word[0], self.vocabulary[w]))

    def _inside(self, text: str) -> Called:
        """The longest name inside a text, where it makes up at least half of the words."""
        asked = _tidy(re.sub(r"[()\[\]]", " ", text)).split()
        content = [w for w in asked if w.lower().strip("-.'") not in self.words.filler]
        if len(asked) > 12 or not asked:
            return Called(None, share=0.0)
        for size in range(len(asked) - 1, 0, -1):
            for start in range(len(asked) - size + 1):
                piece = asked[start : start + size]
                weight = sum(w in content for w in piece)
                if not weight or weight < HALF * len(content):
                    continue
                if size == 1 and len(plain_key(piece[0])) < 3:
                    continue
                before, after = asked[:start], asked[start + size :]
                found = self.known(" ".join(piece))
                plain = all(map(self._plain_word, after)) and all(
                    self._plain_word(w) or self._of_names(w) for w in before
                )  # what stands before a name qualifies it, what stands behind it is another thing
                if found is not None and (plain or self._machine(found)):
                    return Called(found, sure=False, share=weight / len(content), maker=self._machine(found))
        return Called(None, share=0.0)

    def _machine(self, movement: str) -> bool:
        """Whether it is a machine that counts calories: a maker's word beside it is passed over."""
        return "cal" in self.compiled.library.movements[movement].units

    def _of_names(self, word: str) -> bool:
        """Whether a word stands in some movement's name."""
        return all(w in self.vocabulary for w in words(word.lower().strip("-.'&+/"), self.short))

    def _plain_word(self, word: str) -> bool:
        """Whether a word beside a name says how it is done: a word of how or of kit."""
        plain = word.lower().strip("-.'&+/")
        return not plain or plain in self.words.filler or self._how.fullmatch(plain) is not None

    def _look_up(self, text: str) -> Called:
        """Ask the library's resolver, as the last resort.

        Parameters
        ----------
        text : str
            A name that `call` does not know.
        """
        tidy = _tidy(_PARENS.sub(" ", text)) or _tidy(text)
        if plain_key(tidy) in self.nameless:
            return Called(None, share=0.0)
        try:
            found = resolve(tidy, self.index, self.short, kind="movement")
        except AmbiguousNameError as error:
            return Called(None, share=0.0, nearest=error.nearest, ambiguous=True)
        except SubgraphError as error:
            return Called(None, share=0.0, nearest=error.nearest)
        return Called(found.id, sure=found.sure, share=1.0 if found.sure else 0.8)


_SINGLE = re.compile(r"\b(?:1|one)[\s-]?(arm|leg|hand)(?:ed)?\b", re.I)


def _tidy(text: str) -> str:
    text = _SINGLE.sub(r"single \1", text)
    text = re.sub(
        r"(?<=\w)\.(?=\s|$)", " ", _NOT_NAME.sub(lambda m: m.group() if set(m.group()) <= set("()[]") else " ", text)
    )
    text = " ".join(text.split())
    while (
        new := re.sub(
            r"^[\s\-+&/.']+|[\s\-+&/.']+$|\(\s*\)|^(?:x|of|and|then|the|a)\s+|\s+(?:x|and|then|of|for|@|at|with|to)$",
            "",
            text,
            flags=re.I,
        )
    ) != text:
        text = new
    return text


@functools.lru_cache(maxsize=4)
def caller_of(compiled: Compiled) -> Caller:
    """The names of a compiled library, made once."""
    return Caller(compiled)
