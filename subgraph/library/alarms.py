"""The phrases of the red flags, parsed once: from a word of free text to the phrases that it may belong to.

A phrase is a row of groups; a group is a few words or stems of which one must be heard. Equal groups are stored once,
so that hearing a word is a look-up, and only phrases with every group heard are looked at closely.
"""

import unicodedata
from collections.abc import Iterable, Iterator

import msgspec

from subgraph.library.records import Complaint, RedFlag

_VOWELS = frozenset("aeiou")


class Phrase(msgspec.Struct, frozen=True, gc=False, array_like=True):
    """One phrase: the position of its flag, and its groups by number."""

    flag: int
    groups: tuple[int, ...]


class Alarms(msgspec.Struct, frozen=True, gc=False):
    """All phrases, ready for hearing.

    Parameters
    ----------
    words, stems : dict
        Word, or beginning of a word, to the numbers of the groups that it satisfies.
    phrases : list of Phrase
        Strong and weak, in file order.
    flags : list of (str, bool, list of list of str)
        Id, whether a denial counts, and the false alarms as words.
    misspelt : dict
        Words that slips of spelling are looked for, to the numbers of their groups.
    profiles : list of (str, list of str)
        Complaints that are always sent on: id and the words of one of its names.
    """

    words: dict[str, list[int]]
    stems: dict[str, list[int]]
    phrases: list[Phrase]
    flags: list[tuple[str, bool, list[list[str]]]]
    misspelt: dict[str, list[int]]
    profiles: list[tuple[str, list[str]]]


def plain_text(text: str) -> str:
    """Lower-case ASCII, apostrophes dropped ("can't" is "cant")."""
    for mark in "\N{RIGHT SINGLE QUOTATION MARK}\N{LEFT SINGLE QUOTATION MARK}\N{MODIFIER LETTER APOSTROPHE}`":
        text = text.replace(mark, "'")
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    text = text.lower()
    for tail in " .,;:!?\n":  # "her arm's gone" is "her arm is gone"
        text = text.replace(f"'s{tail}", f" is{tail}")
    return text.replace("'", "")


def spoken_tokens(text: str) -> Iterator[str]:
    """Words of free text and the stops between them, in order."""
    word = ""
    for c in plain_text(text):
        if c.isalnum():
            word += c
            continue
        if word:
            yield word
            word = ""
        if c in ".,;:!?\n":
            yield c
    if word:
        yield word


def spoken_words(text: str) -> list[str]:
    """Lower-case words of free text, apostrophes dropped.

    Examples
    --------
    >>> spoken_words("Can't feel it, T2B")
    ['cant', 'feel', 'it', 't2b']
    """
    return [token for token in spoken_tokens(text) if token.isalnum()]


def parse(phrase: str) -> list[tuple[str, ...]]:
    """Split a phrase into groups of choices.

    Examples
    --------
    >>> parse("numb* leg|thigh")
    [('numb*',), ('leg', 'thigh')]
    """
    return [tuple(dict.fromkeys(group.replace("'", "").split("|"))) for group in phrase.lower().split()]


def build_alarms(
    red_flags: Iterable[RedFlag], complaints: Iterable[Complaint], often_misspelt: Iterable[str]
) -> Alarms:
    """Parse all phrases of the red flags, and the names of complaints that are always sent on."""
    numbers: dict[tuple[str, ...], int] = {}
    phrases: list[Phrase] = []
    flags: list[tuple[str, bool, list[list[str]]]] = []
    for position, flag in enumerate(red_flags):
        flags.append((flag.id, flag.denials_ok, [spoken_words(text) for text in flag.not_]))
        for phrase in (*flag.phrases, *flag.weak):
            groups = tuple(numbers.setdefault(group, len(numbers)) for group in parse(phrase))
            phrases.append(Phrase(position, groups))
    words: dict[str, list[int]] = {}
    stems: dict[str, list[int]] = {}
    for group, number in numbers.items():
        for choice in group:
            if choice.endswith("*"):
                stems.setdefault(choice[:-1], []).append(number)
            else:
                words.setdefault(choice, []).append(number)
    profiles = [(c.id, spoken_words(name)) for c in complaints if c.refer for name in (c.name, *c.also)]
    alarms = Alarms(words, stems, phrases, flags, {}, profiles)
    alarms.misspelt.update({word: sorted(groups_of(alarms, word)) for word in often_misspelt})
    return alarms


def groups_of(alarms: Alarms, word: str) -> set[int]:
    """Groups that a word satisfies, by itself or by its beginning."""
    found = set(alarms.words.get(word, ()))
    for end in range(1, len(word) + 1):
        found.update(alarms.stems.get(word[:end], ()))
    return found


def misspelt(alarms: Alarms, word: str) -> set[int]:
    """Groups of the words that this one is a slip of: two letters swapped, one too many, too few, or a wrong vowel.

    The first letter is taken as right.
    """
    found: set[int] = set()
    for right, groups in alarms.misspelt.items():
        if right[0] == word[0] and abs(len(right) - len(word)) <= 1 and _is_slip(word, right):
            found.update(groups)
    return found


def _is_slip(word: str, right: str) -> bool:
    start = 0
    while start < min(len(word), len(right)) and word[start] == right[start]:
        start += 1
    one, other = word[start:], right[start:]
    if len(one) == len(other):
        swapped = one[1:2] + one[:1] + one[2:] == other
        return swapped or (one[1:] == other[1:] and one[:1] in _VOWELS and other[:1] in _VOWELS)
    return one[1:] == other or one == other[1:]
