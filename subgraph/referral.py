"""When the answer is no exercise: red flags in what was said, and profiles that are sent on.

Matching is loose on purpose and leans to referral: a phrase matches when each of its words or stems stands within
a window of a few words, in any order. A plain denial in front of a sign turns it into a question to ask.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import RedFlag

WINDOW = 12  # words within which all parts of a phrase must stand
_DENIALS = {
    "no",
    "not",
    "never",
    "without",
    "denies",
    "isnt",
    "hasnt",
    "doesnt",
    "didnt",
    "wasnt",
    "nor",
    "zero",
    "none",
}
_DENIAL_REACH = 3  # words before a sign in which a denial counts
# Words that turn a denial round: "not only", "never like this before", "without warning".
_NO_DENIAL = {"only", "just", "warning", "like", "sure", "certain", "before", "better", "until", "this", "longer", "so"}
_TURNS = {"and", "but", "however", "though", "although", "except", "yet"}
_URGENCY = ("emergency", "urgent", "clinician")


class Referral(Struct, frozen=True):
    """Stop and refer.

    Parameters
    ----------
    level : {'emergency', 'urgent', 'clinician'}
        How urgent.
    text : str
        What to do, in words.
    because : str
        What was seen or heard.
    first_steps : tuple of str
        What the coach does now.
    flags : tuple of str
        Ids of the red flags or profiles behind it.
    """

    level: str
    text: str
    because: str
    first_steps: tuple[str, ...]
    flags: tuple[str, ...]


class Heard(Struct, frozen=True):
    """Red flags found in free text: those that stand, and those denied that should be asked about."""

    standing: tuple[RedFlag, ...]
    to_ask: tuple[RedFlag, ...]


def spoken_words(text: str) -> list[str]:
    """Lower-case words of free text, apostrophes dropped ("can't" is "cant")."""
    return re.findall(r"[a-z0-9]+", _plain(text))


def _plain(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'"))
    return plain.encode("ascii", "ignore").decode().lower().replace("'", "")


def _after_stops(text: str) -> frozenset[int]:
    """Positions of the words that follow a stop or comma: no denial reaches across one."""
    found, count = set(), 0
    for token in re.findall(r"[a-z0-9]+|[.,;:!?\n]", _plain(text)):
        if token[0].isalnum():
            count += 1
        else:
            found.add(count)
    return frozenset(found)


def hear(library: Library, text: str) -> Heard:
    """Match free text against the red flags.

    Parameters
    ----------
    library : Library
        Records.
    text : str
        What the member said, as the coach typed it.

    Returns
    -------
    Heard
        Flags that stand, most urgent first, and flags that were plainly denied.
    """
    words = spoken_words(text)
    if not words:
        return Heard((), ())
    stops = _after_stops(text)
    standing: list[RedFlag] = []
    to_ask: list[RedFlag] = []
    for flag in library.red_flags.values():
        heard = words
        for phrase in flag.not_:
            heard = _blank(heard, spoken_words(phrase))
        found = [at for phrase in (*flag.phrases, *flag.weak) for at in _matches(_parse(phrase), heard)]
        if not found:
            continue
        if flag.denials_ok and all(_denied(words, at, stops) for at in found):
            to_ask.append(flag)
        else:
            standing.append(flag)
    order = {level: i for i, level in enumerate(_URGENCY)}
    standing.sort(key=lambda f: order[f.level])
    return Heard(tuple(standing), tuple(to_ask))


def refer(library: Library, texts: Iterable[str], complaints: Iterable[str]) -> tuple[Referral | None, tuple[str, ...]]:
    """Decide whether what was said ends the matter.

    Parameters
    ----------
    library : Library
        Records.
    texts : iterable of str
        All free text of the ask.
    complaints : iterable of str
        Complaint ids told.

    Returns
    -------
    Referral or None, tuple of str
        The most urgent referral, and questions to ask where a sign was denied.
    """
    texts = list(texts)
    heard = hear(library, " . ".join(texts))
    questions = tuple(f"They deny it, but ask once more: {flag.sees}" for flag in heard.to_ask)
    found: list[Referral] = [
        Referral(
            flag.level,
            library.red_flag_levels[flag.level].name,
            flag.sees,
            flag.first_steps,
            (flag.id,),
        )
        for flag in heard.standing
    ]
    told = dict.fromkeys(complaints)
    for profile in library.complaints.values():  # a profile that is always sent on may be named in free text only
        if profile.refer and any(_says(text, name) for text in texts for name in (profile.name, *profile.also)):
            told[profile.id] = None
    for id_ in told:
        profile = library.complaints[id_]
        together = [library.complaints[other].name for other in profile.refer_with if other in told]
        if profile.refer or together:
            level = profile.refer_level or "clinician"
            found.append(
                Referral(
                    level,
                    library.red_flag_levels[level].name,
                    " with ".join((profile.name, *together)),
                    (profile.refer_text,),
                    (id_,),
                )
            )
    if not found:
        return None, questions
    found.sort(key=lambda f: _URGENCY.index(f.level))
    first = found[0]
    flags = tuple(dict.fromkeys(flag for f in found for flag in f.flags))
    return Referral(first.level, first.text, first.because, first.first_steps, flags), ()


def _says(text: str, name: str) -> bool:
    """Whether a name stands in free text, word by word, and is not denied."""
    words, wanted = spoken_words(text), spoken_words(name)
    stops = _after_stops(text)
    return any(
        words[i : i + len(wanted)] == wanted and not _denied(words, [i], stops)
        for i in range(len(words) - len(wanted) + 1)
    )


_Parts = tuple[tuple[str, ...], ...]


def _parse(phrase: str) -> _Parts:
    """Split a phrase into parts and choices: numb* leg|thigh has two parts, the second with two choices."""
    return tuple(tuple(choice.replace("'", "") for choice in part.split("|")) for part in phrase.lower().split())


def _is(word: str, choice: str) -> bool:
    return word.startswith(choice[:-1]) if choice.endswith("*") else word == choice


def _matches(parts: _Parts, words: list[str]) -> list[list[int]]:
    """Positions of the words that satisfy all parts within one window; one entry per window start."""
    places = [[i for i, w in enumerate(words) if any(_is(w, c) for c in part)] for part in parts]
    if not places or not all(places):
        return []
    found = []
    for start in sorted({i for p in places for i in p}):
        inside = [[i for i in p if start <= i < start + WINDOW] for p in places]
        if all(inside):
            chosen: list[int] = []
            for options in inside:
                free = [i for i in options if i not in chosen]
                if not free:
                    break
                chosen.append(free[0])
            else:
                found.append(chosen)
    return found


def _denied(words: list[str], at: list[int], stops: frozenset[int]) -> bool:
    """Whether a denial stands shortly before the first word of a match, with no turn ("but") between."""
    first = min(at)
    for i in range(first, max(0, first - _DENIAL_REACH) - 1, -1):
        if i < first and words[i] in _TURNS:
            return False
        if i < first and words[i] in _DENIALS:
            around = {*words[i + 1 : first], *words[max(at) + 1 : max(at) + 1 + _DENIAL_REACH]}
            return not around & _NO_DENIAL
        if i in stops:
            return False
    return False


def _blank(words: list[str], phrase: list[str]) -> list[str]:
    """Replace a known false alarm by blanks, so that nothing in it matches."""
    size = len(phrase)
    out = list(words)
    for i in range(len(words) - size + 1):
        if words[i : i + size] == phrase:
            out[i : i + size] = ["-"] * size
    return out


def caution_text(library: Library, kinds: Iterable[str], emergency: str) -> str:
    """The short caution for an answer.

    Parameters
    ----------
    library : Library
        Records.
    kinds : iterable of str
        Caution ids in order of preference; the first that exists is used.
    emergency : str
        The house's emergency number, or words for it.

    Returns
    -------
    str
        Plain text.
    """
    record = next(library.cautions[k] for k in (*kinds, "default") if k in library.cautions)
    return record.text.replace("{emergency}", emergency)
