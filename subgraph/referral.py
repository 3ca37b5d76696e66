"""When the answer is no exercise: red flags in what was said, and profiles that are sent on.

Matching is loose on purpose and leans to referral: a phrase matches when each of its words or stems stands within
a window of a few words, in any order. A plain denial in front of a sign turns it into a question to ask.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from subgraph.library.alarms import groups_of, misspelt, spoken_tokens
from subgraph.library.knowledge import Library
from subgraph.library.records import RedFlag

WINDOW = 12  # words within which all parts of a phrase must stand
DENIAL_REACH = 3  # words before a sign in which a denial counts
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


class _Said:
    """Free text as words, with the word lists that tell what becomes of a denial."""

    def __init__(self, library: Library, text: str) -> None:
        self.words: list[str] = []
        self.stops: dict[int, str] = {}  # by the position of the word behind it; few denials reach across one
        for token in spoken_tokens(text):
            if token.isalnum():
                self.words.append(token)
            else:
                self.stops[len(self.words)] = token
        self.lists = {id_: frozenset(words.words) for id_, words in library.words.items()}

    def denied(self, at: Sequence[int]) -> bool:
        """Whether a denial stands shortly before the first word of a match, with no turn ("but") between."""
        first, last = min(at), max(at)
        words, lists = self.words, self.lists
        for i in range(first, -1, -1):
            near = first - i <= DENIAL_REACH
            if i < first and words[i] in lists["turn"]:
                return False
            if i < first and words[i] in lists["denial-of-all" if not near else "denial"]:
                behind = words[last + 1 : last + 1 + DENIAL_REACH]
                around = {*words[i + 1 : first], *behind}
                return not around & lists["denial-undone"] and not lists["denial-undone-behind"].intersection(behind)
            if i in self.stops and not (self.stops[i] == "," and self._of_all(i)):
                return False
        return False

    def _of_all(self, i: int) -> bool:
        """Whether the list that a comma at a position belongs to opens with a denial of all of it."""
        while i and (i not in self.stops or self.stops[i] == ","):
            i -= 1
            if self.words[i] in self.lists["denial-of-all"]:
                return True
            if self.words[i] in self.lists["turn"]:
                return False
        return False

    def runs_of(self, phrase: Sequence[str]) -> list[range]:
        """Where a phrase stands word for word."""
        size = len(phrase)
        starts = (i for i, word in enumerate(self.words) if word == phrase[0]) if size else ()
        return [range(i, i + size) for i in starts if self.words[i : i + size] == phrase]


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
    said = _Said(library, text)
    if not said.words:
        return Heard((), ())
    alarms = library.alarms
    places: dict[int, list[int]] = {}  # group to the positions of the words that satisfy it
    groups: dict[str, set[int]] = {}
    for i, word in enumerate(said.words):
        if word not in groups:
            groups[word] = groups_of(alarms, word) or misspelt(alarms, word)
        for group in groups[word]:
            places.setdefault(group, []).append(i)
    found: dict[int, list[list[int]]] = {}
    blanks: dict[int, set[int]] = {}
    for phrase in alarms.phrases:
        if not all(group in places for group in phrase.groups):
            continue
        if phrase.flag not in blanks:  # a known false alarm is blanked, so that nothing in it matches
            _, _, alarms_not = alarms.flags[phrase.flag]
            blanks[phrase.flag] = {i for words in alarms_not for run in said.runs_of(words) for i in run}
        blank = blanks[phrase.flag]
        at = [[i for i in places[group] if i not in blank] for group in phrase.groups]
        if all(at) and (matches := _matches(at)):
            found.setdefault(phrase.flag, []).extend(matches)
    standing: list[RedFlag] = []
    to_ask: list[RedFlag] = []
    for position in sorted(found):
        id_, denials_ok, _ = alarms.flags[position]
        denied = denials_ok and all(said.denied(match) for match in found[position])
        (to_ask if denied else standing).append(library.red_flags[id_])
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
    for text in texts:  # a profile that is always sent on may be named in free text only
        said = _Said(library, text)
        for id_, name in library.alarms.profiles if said.words else ():
            if any(not said.denied(run) for run in said.runs_of(name)):
                told[id_] = None
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


def _matches(places: list[list[int]]) -> list[list[int]]:
    """Choices of one position per group within one window, each position once; one entry per window start."""
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
