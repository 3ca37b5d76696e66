"""What complains, from the words that a coach types: a name, a site with what provokes it, an age, weeks.

The name as typed comes first; then an age or weeks; then the name without whose it is and since when; then names that
together with such words are all that was typed ("bad knee and shoulder"); then the words before and behind "when" or
"with"; then the name without the words that say no more than that it hurts; then the names inside, whatever else is
said, unless it is grave.
"""

from __future__ import annotations

import re

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.library.names import Found, exactly, resolve
from subgraph.library.records import StageCount
from subgraph.today import Told

_WEEKS_PER_MONTH = 365.25 / 12 / 7
_YEARS = re.compile(
    r"\b(?:aged?\s+(?P<a>\d{1,3})|(?P<b>\d{1,3})\s*-?\s*(?:years?|yrs?)\s*-?\s*olds?|(?P<c>\d{1,3})\s*y/?o"
    r"|(?:he|she|they)(?:'s|'re|\s+is|\s+are)\s+(?P<d>\d{1,3})(?=\s*$))\b",
    re.I,
)
_AGO = re.compile(
    r"\b(?:for |about )?(?:\d{1,3}|an?|one|two|three|four|five|six|(?:a )?few|(?:a )?couple(?: of)?)[ -]?"
    r"(?:days?|weeks?|wks?|months?|mths?|years?|yrs?)\b",
    re.I,
)
_LONGEST_NAME = 8  # words
_WEEKS = re.compile(r"\b(?P<n>\d{1,3})\s*-?\s*(?P<unit>weeks?|wks?|w|months?|mths?)\b", re.I)


def read_complaints(typed: list[str], compiled: Compiled, notes: list[str]) -> tuple[Told, ...]:
    """Read complaints with what provokes them.

    Parameters
    ----------
    typed : list of str
        As typed: "shoulder", "shoulder:overhead", "left knee pain when squatting", "30 weeks pregnant".
    compiled : Compiled
        Library and names.
    notes : list of str
        Grows by what had to be assumed.

    Returns
    -------
    tuple of Told
        A provocation told behind a complaint belongs to it.

    Raises
    ------
    AskError
        For the first piece that is not understood, with the nearest names.
    """
    from subgraph.referral import hear

    told: list[Told] = []
    for piece in typed:
        site, colon, provoked = (part.strip() for part in piece.partition(":"))
        try:
            found = (
                [
                    *(_told(site, compiled, notes) if site else ()),
                    Told(None, (_provocation(provoked, compiled, notes),)),
                ]
                if colon and provoked
                else _told(site or provoked, compiled, notes)
            )
        except AskError:
            if hear(compiled.library, " ".join(typed).replace(":", " ")).standing:
                continue  # no profile, but a red flag: the referral will speak
            raise
        for one in found:
            if one.complaint is None and told and told[-1].complaint:
                told[-1] = Told(told[-1].complaint, (*told[-1].provoked_by, *one.provoked_by))
            else:
                told.append(one)
    return tuple(_at_its_site(one, compiled) for one in told)


def _at_its_site(told: Told, compiled: Compiled) -> Told:
    """What a provocation means where the complaint is: bending, of a knee, is the knee's."""
    if not told.complaint or not told.provoked_by:
        return told
    site, known = compiled.library.complaints[told.complaint].site, compiled.library.provocations
    return Told(told.complaint, tuple(known[p].at_site.get(site, p) for p in told.provoked_by))


def _told(text: str, compiled: Compiled, notes: list[str]) -> list[Told]:
    """One piece without a colon."""
    kept: AskError
    try:
        found = _resolve(text, compiled)
        if found.sure:
            return [_of(found)]
    except AskError as error:
        found, kept = None, error
    for way in (_stage, _without_filler, _all_names, _site_and_provocation, _bare):
        if (other := way(text, compiled)) is not None:
            notes.append(f"'{text}' read as {_words(other, compiled)}")
            return other
    if found is None and (inside := _inside(text, compiled)) is not None:
        other, passed_over = inside
        notes.append(f"'{text}' read as {_words(other, compiled)}; passed over: {' '.join(passed_over)}")
        return other
    if found is None:
        raise kept
    notes.append(f"'{text}' read as {_words([_of(found)], compiled)}")
    return [_of(found)]


def _resolve(text: str, compiled: Compiled, kind: str = "complaint") -> Found:
    return resolve(text, compiled.names[kind], compiled.library.abbreviations, kind=kind)


def _sure(text: str, compiled: Compiled, kind: str = "complaint") -> Found | None:
    try:
        found = _resolve(text, compiled, kind)
    except AskError:
        return None
    return found if found.sure else None


def _provocation(text: str, compiled: Compiled, notes: list[str]) -> str:
    found = _resolve(text, compiled, "provocation")
    if not found.sure:
        notes.append(f"'{text}' read as {found.id}")
    return found.id


def _of(found: Found) -> Told:
    """A provocation among the complaints carries a tilde."""
    return Told(None, (found.id[1:],)) if found.id.startswith("~") else Told(found.id)


def _stage(text: str, compiled: Compiled) -> list[Told] | None:
    """An age or a number of weeks, with what else is named beside it."""
    words = compiled.library.words
    counts: StageCount
    if found := _YEARS.search(text):
        counts, number = "years", float(next(n for n in found.groups() if n))
        told_by: tuple[str, ...] = ()
    elif found := _WEEKS.search(text):
        number = float(found["n"]) * (_WEEKS_PER_MONTH if found["unit"][0] in "mM" else 1)
        said = text.lower()
        if told_by := tuple(word for word in words["after-birth"].words if word in said):
            counts = "weeks-after-birth"
        elif told_by := tuple(word for word in words["pregnant"].words if word in said):
            counts = "weeks-pregnant"
        else:
            return None
    else:
        return None
    rest = f"{text[: found.start()]} {text[found.end() :]}"
    for word in told_by:
        rest = re.sub(re.escape(word) + r"\w*", " ", rest, flags=re.I)
    beside = _all_names(rest, compiled) or []
    for stage in compiled.library.stages.values():
        if stage.counts == counts and stage.from_ <= number and (stage.below is None or number < stage.below):
            return [Told(stage.complaint), *beside]
    return beside if counts == "years" else None


def _without_filler(text: str, compiled: Compiled) -> list[Told] | None:
    """The name once whose it is, which side and since when are gone."""
    kept = _kept(text, {*compiled.library.words["filler"].words})
    found = _sure(kept, compiled) if kept else None
    return [_of(found)] if found else None


def _kept(text: str, spare: set[str]) -> str:
    """A text without some words and without lengths of time."""
    return " ".join(word for word in _AGO.sub(" ", text).split() if word.lower().strip(".,!?") not in spare)


def _all_names(text: str, compiled: Compiled) -> list[Told] | None:
    """Names of complaints and provocations where words that may be passed over are all the rest."""
    told, unknown = _names_in(text, compiled)
    return told if told and not unknown else None


def _inside(text: str, compiled: Compiled) -> tuple[list[Told], list[str]] | None:
    """Complaints named inside a text, with the words that were not understood.

    Raises
    ------
    AskError
        Where one of those words is grave.
    """
    told, unknown = _names_in(text, compiled)
    named = next((one.complaint for one in told if one.complaint), None)
    if named is None:
        return None
    if grave := next((word for word in unknown if word in compiled.library.words["grave"].words), None):
        name = compiled.library.complaints[named].name
        raise AskError(
            f"'{text[:60]}': with '{grave}' it may be more than '{name}'",
            mend=f"have it seen by a clinician; once it has been, ask with '{name}'",
        )
    return told, unknown


def _names_in(text: str, compiled: Compiled) -> tuple[list[Told], list[str]]:
    """Names of complaints and provocations, the longest first, and the words that are neither names nor passed over.

    A provocation belongs to the complaint ahead of it, one that comes first to the first complaint.
    """
    library = compiled.library
    spare = {word for kind in ("filler", "hurting", "between") for word in library.words[kind].words}
    rest = _AGO.sub(" ", text).lower().replace("/", " ").split()
    rest = [word for word in (piece.strip(".,!?+&") for piece in rest) if word]
    told: list[Told] = []
    unknown: list[str] = []
    first: tuple[str, ...] = ()
    while rest:
        for n in range(min(len(rest), _LONGEST_NAME), 0, -1):
            id_ = exactly(" ".join(rest[:n]), compiled.names["complaint"], library.abbreviations)
            if id_ and not (n == 1 and rest[0] in spare):
                break
        else:
            if rest[0] not in spare:
                unknown.append(rest[0])
            del rest[0]
            continue
        del rest[:n]
        if any(one.complaint == id_ for one in told):
            continue
        if not id_.startswith("~"):
            told.append(Told(id_, () if told else first))
        elif told:
            told[-1] = Told(told[-1].complaint, (*told[-1].provoked_by, id_[1:]))
        else:
            first = (*first, id_[1:])
    return told or ([Told(None, first)] if first else []), unknown


def _site_and_provocation(text: str, compiled: Compiled) -> list[Told] | None:
    """What stands before and behind a word between: "left knee pain when squatting"."""
    between = "|".join(map(re.escape, compiled.library.words["between"].words))
    alone = None
    for found in re.finditer(rf"\s(?:{between})\s", text, re.I):
        site = _named(text[: found.start()], compiled)
        by = _named(text[found.end() :], compiled, "provocation")
        if site and by:
            return [Told(site[0].complaint, (*site[0].provoked_by, by[0].provoked_by[0]))]
        alone = alone or site
    return alone  # what it hurts with is not known: the note says what was taken


def _bare(text: str, compiled: Compiled) -> list[Told] | None:
    return _named(text, compiled)


def _named(text: str, compiled: Compiled, kind: str = "complaint") -> list[Told] | None:
    """A name known to the letter, once the words that say no more than that it hurts are gone."""
    words = compiled.library.words
    kept = _kept(text, {*words["filler"].words, *words["hurting"].words})
    found = _sure(text, compiled, kind) or (_sure(kept, compiled, kind) if kept else None)
    if found is None:
        return None
    return [Told(None, (found.id,))] if kind == "provocation" else [_of(found)]


def _words(told: list[Told], compiled: Compiled) -> str:
    library = compiled.library
    names = [library.complaints[t.complaint].name for t in told if t.complaint]
    names += [library.provocations[p].name for t in told for p in t.provoked_by]
    return ", ".join(names) or "an age that needs no care of its own"
