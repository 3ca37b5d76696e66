"""Read a folder of records into one `Library`, with every structural problem of every file.

A record is converted field by field, so that one run lists all that is wrong with it.
"""

from __future__ import annotations

import difflib
import functools
import re
import types
import typing
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from subgraph.errors import Problem
from subgraph.library import records as r
from subgraph.library.knowledge import ONE_BY_ONE, SECTIONS, Library
from subgraph.library.laid import Laid
from subgraph.library.pack import pack
from subgraph.library.read import Document, Path_, read_yaml
from subgraph.library.where import record_files

T = TypeVar("T", bound=r.Record)


@dataclass(slots=True)
class Loaded:
    """What came of reading a folder.

    `library` is None where anything is too damaged to use; `places` finds the file and line of a record by kind and
    id.
    """

    library: Library | None
    problems: list[Problem]
    places: dict[tuple[str, str], tuple[Document, Path_]] = field(default_factory=dict)
    overlay: Overlay | None = None


@dataclass(slots=True)
class Overlay:
    """What a house folder did to a library.

    Parameters
    ----------
    folder : str
        The house folder, as problems name it.
    laid : list of Laid
        Each thing added, changed, named, ruled out or owned.
    changed : dict
        Per changed record, from field to the document and path of the change.
    touched : set
        (collection, key) of each record that is the house's or was changed by it.
    broken : set of str
        Ids of house records that can't be built.
    good_part : Library or None
        The library with the records that can be built, for the lint alone; None where all could.
    """

    folder: str
    laid: list[Laid] = field(default_factory=list)
    changed: dict[tuple[str, str], dict[str, tuple[Document, Path_]]] = field(default_factory=dict)
    touched: set[tuple[str, str]] = field(default_factory=set)
    broken: set[str] = field(default_factory=set)
    good_part: Library | None = None


@dataclass(slots=True)
class Parts:
    """The records of a folder before they are one library."""

    collected: dict[str, dict[str, Any]] = field(default_factory=dict)
    lists: dict[str, list[Any]] = field(default_factory=lambda: {"links": [], "ratios": []})
    family: dict[str, str] = field(default_factory=dict)
    extra: dict[str, Any] = field(default_factory=lambda: {"abbreviations": {}, "scoring": None})
    house: r.House = field(default_factory=r.House)
    laid: list[Laid] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    places: dict[tuple[str, str], tuple[Document, Path_]] = field(default_factory=dict)
    repeats: dict[str, int] = field(default_factory=dict)

    def add(self, doc: Document, file: str, collection: str, path: Path_, record: Any) -> None:
        """Take in one record; a second one of the same id is a problem."""
        key = f"{record.from_}>{record.to}" if isinstance(record, r.Link) else record.id
        if isinstance(record, r.Link):
            self.lists[collection].append(record)
            self.repeats[key] = self.repeats.get(key, 0) + 1
            if self.repeats[key] > 1:
                key = f"{key}#{self.repeats[key]}"
        else:
            if (collection, key) in self.places:
                other, there = self.places[collection, key]
                doc.problems.append(
                    doc.problem(
                        path,
                        key,
                        f"id '{key}' is used twice",
                        mend=f"first used at {other.file}:{other.place(there)[0]}",
                        rule="id-unique",
                    )
                )
                return
            if collection in self.lists:
                self.lists[collection].append(record)
            else:
                self.collected.setdefault(collection, {})[key] = record
            if collection == "movements":
                self.family.setdefault(key, file.removeprefix("movements/").removesuffix(".yaml"))
        self.places.setdefault((collection, key), (doc, path))

    @staticmethod
    def of(library: Library) -> Parts:
        """The parts of a sound library again; their places are the name of the collection, line 1."""
        parts = Parts(family=dict(library.family))
        for section in (*SECTIONS, *ONE_BY_ONE):
            if section not in _COMPUTED:
                parts.collected[section] = dict(getattr(library, section))
        parts.collected["movements"] = dict(library.movements)
        parts.lists = {"links": list(library.links), "ratios": list(library.ratios)}
        parts.extra = {"abbreviations": library.abbreviations, "scoring": library.scoring}
        for collection, records in [*parts.collected.items(), *parts.lists.items()]:
            doc = Document(collection, None)
            for record in records.values() if isinstance(records, dict) else records:
                key = f"{record.from_}>{record.to}" if isinstance(record, r.Link) else record.id
                if isinstance(record, r.Link):
                    parts.repeats[key] = parts.repeats.get(key, 0) + 1
                parts.places.setdefault((collection, key), (doc, ()))
        return parts

    def library(self, version: str) -> Library:
        """All records as one library; they must be sound."""
        by_name = {s: self.collected.get(s, {}) for s in (*SECTIONS, *ONE_BY_ONE) if s not in _COMPUTED}
        others = {**by_name, **self.extra, "family": self.family, "house": self.house, "laid": self.laid}
        return Library(pack(version, self.collected["movements"], self.lists["links"], self.lists["ratios"], others))


@dataclass(frozen=True, slots=True)
class Section:
    """One list of records in a file: its key, the type, and the collection that it fills."""

    key: str
    type: type[r.Record]


_FILES: dict[str, tuple[Section, ...]] = {
    "movements": (Section("movements", r.Movement),),
    "links": (Section("links", r.Link),),
    "ratios": (Section("ratios", r.Ratio),),
    "complaints": (Section("complaints", r.Complaint), Section("provocations", r.Provocation)),
    "equipment.yaml": (Section("equipment", r.Equipment),),
    "demands.yaml": (Section("demands", r.Demand),),
    "vocabulary.yaml": (
        Section("patterns", r.Term),
        Section("muscles", r.Term),
        Section("characters", r.Term),
        Section("stances", r.Term),
        Section("areas", r.Area),
        Section("heights", r.Height),
        Section("noises", r.Term),
        Section("limits", r.Limit),
        Section("levels", r.LevelRecord),
    ),
    "intents.yaml": (Section("intents", r.IntentRecord),),
    "rungs.yaml": (Section("rungs", r.Rung),),
    "situations.yaml": (Section("situations", r.SituationRecord),),
    "red_flags.yaml": (Section("levels", r.RedFlagLevel), Section("red_flags", r.RedFlag)),
    "cautions.yaml": (Section("cautions", r.Caution),),
    "postures.yaml": (Section("postures", r.Postures),),
    "board.yaml": (
        Section("phrases", r.BoardPhrase),
        Section("calls", r.BoardCall),
        Section("readings", r.BoardReading),
    ),
    "grading.yaml": (
        Section("computed", r.Computed),
        Section("published", r.Published),
        Section("accepted", r.Accepted),
    ),
    "workout.yaml": (
        Section("domains", r.TimeDomain),
        Section("slowing", r.Slowing),
        Section("changes", r.Change),
        Section("rules", r.PieceRule),
        Section("doses", r.Dose),
        Section("concerns", r.Concern),
        Section("load_paths", r.LoadPath),
    ),
    "versions.yaml": (Section("versions", r.Version),),
    "sources.yaml": (Section("sources", r.Source),),
    "words.yaml": (Section("words", r.WordList),),
    "stages.yaml": (Section("stages", r.Stage),),
}
_OPTIONAL = {
    "stages.yaml",
    "board.yaml",
    "grading.yaml",
    "postures.yaml",
    "rungs.yaml",
    "situations.yaml",
    "versions.yaml",
    "workout.yaml",
}
_PLAIN_KEYS = {"family", "about", "reviewed", "defaults", "abbreviations", "scoring"}
_COLLECTIONS = {("red_flags.yaml", "levels"): "red_flag_levels"}


def nearest(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Near spellings of an id, best first."""
    return difflib.get_close_matches(word, list(known), n=most, cutoff=0.6)


def suggestion(word: str, known: Iterable[str]) -> str:
    """How to mend an unknown id: the near ones, or all where there are few."""
    choices = list(known)
    close = nearest(word, choices)
    if close:
        return "did you mean " + " or ".join(f"'{c}'" for c in close) + "?"
    if len(choices) <= 12:
        return "one of: " + ", ".join(choices)
    return ""


_AT = re.compile(r" - at `\$?(?:key in )?(.*)`$")
_STEP = re.compile(r"\[(\d+|\.\.\.)\]|\.([A-Za-z_]\w*)")


def _explain(error: msgspec.ValidationError) -> tuple[str, Path_]:
    text = str(error)
    inner: Path_ = ()
    if found := _AT.search(text):
        text = text[: found.start()]
        steps = _STEP.findall(found.group(1))
        inner = tuple(int(i) if i.isdigit() else name for i, name in steps if i != "...")
    return text.replace("`", "'").rstrip("."), inner


@functools.cache
def _keys(record: type[r.Record]) -> dict[str, msgspec.structs.FieldInfo]:
    return {f.encode_name: f for f in msgspec.structs.fields(record)}


def _hint(kind: Any) -> str:
    """Choices of a closed vocabulary, for the mend."""
    if typing.get_origin(kind) is typing.Annotated:
        return _hint(typing.get_args(kind)[0])
    if typing.get_origin(kind) is typing.Literal:
        return "one of: " + ", ".join(str(a) for a in typing.get_args(kind))
    args = typing.get_args(kind)
    if typing.get_origin(kind) in (tuple, types.UnionType):
        return next((h for a in args if (h := _hint(a))), "")
    return ""


def build(doc: Document, path: Path_, value: Any, record_type: type[T]) -> T | None:
    """Convert one mapping to a record; all its problems go to the document.

    Parameters
    ----------
    doc : Document
        The file that it stands in.
    path : tuple
        Where in the file.
    value : object
        The mapping, defaults already merged.
    record_type : type
        Record type to build.

    Returns
    -------
    record or None
        None where there was a problem.
    """
    if not isinstance(value, dict):
        doc.problems.append(doc.problem(path, "-", "is not a mapping", mend="write `- id: ...` with its fields"))
        return None
    name = str(value.get("id") or "-")
    if name == "-" and "from" in value:
        name = f"{value['from']} > {value.get('to')}"
    keys = _keys(record_type)
    before = len(doc.problems)
    good: dict[str, Any] = {}
    for key, item in value.items():
        at = (*path, key)
        if key not in keys:
            doc.problems.append(
                doc.problem(at, name, f"no field is called '{key}'", mend=suggestion(key, keys), rule="field-known")
            )
            continue
        try:
            good[keys[key].name] = msgspec.convert(item, keys[key].type, strict=True)
        except msgspec.ValidationError as error:
            what, inner = _explain(error)
            doc.problems.append(
                doc.problem(
                    (*at, *inner),
                    name,
                    f"{what}, found {_short(item)}",
                    mend=_hint(keys[key].type),
                    rule="field-type",
                )
            )
    for key, info in keys.items():
        if info.required and key not in value:
            doc.problems.append(
                doc.problem(
                    path,
                    name,
                    f"field '{key}' is missing",
                    mend=f"add `{key}:`",
                    field=key,
                    rule="field-missing",
                )
            )
    return record_type(**good) if len(doc.problems) == before else None


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def load_folder(folder: Path, version: str) -> Loaded:
    """Read all files of a library folder.

    Parameters
    ----------
    folder : Path
        The library folder.
    version : str
        Short digest of its content, kept with the answers.

    Returns
    -------
    Loaded
        The library (None if damaged), all problems, and the place of each record.
    """
    parts = read_parts(folder)
    library = None if parts.problems else parts.library(version)
    return Loaded(library, sorted(parts.problems), parts.places)


def read_parts(folder: Path) -> Parts:
    """Read all files of a library folder into records, with every problem."""
    parts = Parts()
    seen_files = set()
    for file in record_files(folder):
        doc = read_yaml(folder, file)
        top = file.split("/")[0]
        sections = _FILES.get(top)
        seen_files.add(top)
        if sections is None:
            doc.problems.append(doc.problem((), "-", "is no file of a library", mend=suggestion(top, _FILES)))
        elif doc.value is not None or not doc.problems:
            for collection, path, record in records_in(doc, file, sections):
                parts.add(doc, file, collection, path, record)
            _extras(doc, parts.extra)
        parts.problems += doc.problems
    missing = [top for top in _FILES if top not in seen_files and top not in _OPTIONAL]
    parts.problems += [Problem(top, 1, 1, "-", "", "is missing", "restore it") for top in missing]
    if parts.extra["scoring"] is None and "intents.yaml" in seen_files and not parts.problems:
        parts.problems.append(
            Problem("intents.yaml", 1, 1, "-", "scoring", "is missing", "add `scoring:`", "field-missing")
        )
    if "words.yaml" in seen_files and not parts.problems:
        lists = parts.collected.get("words", {})
        parts.problems += [
            Problem("words.yaml", 1, 1, "-", "words", f"list '{id_}' is missing", "restore it", "field-missing")
            for id_ in typing.get_args(r.WordListId)
            if id_ not in lists
        ]
    return parts


_COMPUTED = {"family", "abbreviations", "scoring", "alarms", "house", "columns", "ladder", "neighbours"}


def records_in(doc: Document, file: str, sections: tuple[Section, ...]) -> Iterator[tuple[str, Path_, Any]]:
    """Build the records of one file: collection, path in the document, record; problems go to the document."""
    if not isinstance(doc.value, dict):
        doc.problems.append(doc.problem((), "-", "holds no mapping", mend=f"start it with `{sections[0].key}:`"))
        return
    keys = {s.key: s for s in sections}
    for key in doc.value:
        if key not in keys and key not in _PLAIN_KEYS:
            doc.problems.append(
                doc.problem((key,), "-", f"no part is called '{key}'", mend=suggestion(key, [*keys, *_PLAIN_KEYS]))
            )
    if not any(key in doc.value for key in keys):
        doc.problems.append(doc.problem((), "-", "holds no records", mend=f"start them with `{sections[0].key}:`"))
    defaults = doc.value.get("defaults") or {}
    if not isinstance(defaults, dict):
        doc.problems.append(doc.problem(("defaults",), "-", "is not a mapping"))
        defaults = {}
    for key, section in keys.items():
        items = doc.value.get(key)
        if items is None:
            continue
        if not isinstance(items, list):
            doc.problems.append(doc.problem((key,), "-", "is not a list", mend="write each record after a dash"))
            continue
        for index, item in enumerate(items):
            merged = {**defaults, **item} if isinstance(item, dict) else item
            record = build(doc, (key, index), merged, section.type)
            if record is not None:
                yield _COLLECTIONS.get((file, key), key), (key, index), record


def _extras(doc: Document, extra: dict[str, Any]) -> None:
    if not isinstance(doc.value, dict):
        return
    if "abbreviations" in doc.value:
        table = doc.value["abbreviations"]
        if isinstance(table, dict) and all(isinstance(v, str) for v in table.values()):
            extra["abbreviations"] = table
        else:
            doc.problems.append(
                doc.problem(("abbreviations",), "-", "maps short forms to words", mend="write `DB: dumbbell`")
            )
    if "scoring" in doc.value:
        extra["scoring"] = build(doc, ("scoring",), doc.value["scoring"], r.Scoring)
