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


@dataclass(frozen=True, slots=True)
class _Section:
    """One list of records in a file: its key, the type, and the collection that it fills."""

    key: str
    type: type[r.Record]


_FILES: dict[str, tuple[_Section, ...]] = {
    "movements": (_Section("movements", r.Movement),),
    "links": (_Section("links", r.Link),),
    "ratios": (_Section("ratios", r.Ratio),),
    "complaints": (_Section("complaints", r.Complaint), _Section("provocations", r.Provocation)),
    "equipment.yaml": (_Section("equipment", r.Equipment),),
    "demands.yaml": (_Section("demands", r.Demand),),
    "vocabulary.yaml": (
        _Section("patterns", r.Term),
        _Section("muscles", r.Term),
        _Section("characters", r.Term),
        _Section("stances", r.Term),
        _Section("areas", r.Area),
        _Section("heights", r.Height),
        _Section("noises", r.Term),
        _Section("limits", r.Limit),
        _Section("levels", r.LevelRecord),
    ),
    "intents.yaml": (_Section("intents", r.IntentRecord),),
    "red_flags.yaml": (_Section("levels", r.RedFlagLevel), _Section("red_flags", r.RedFlag)),
    "cautions.yaml": (_Section("cautions", r.Caution),),
    "postures.yaml": (_Section("postures", r.Postures),),
    "board.yaml": (
        _Section("phrases", r.BoardPhrase),
        _Section("calls", r.BoardCall),
        _Section("readings", r.BoardReading),
    ),
    "workout.yaml": (
        _Section("domains", r.TimeDomain),
        _Section("slowing", r.Slowing),
        _Section("changes", r.Change),
        _Section("rules", r.PieceRule),
        _Section("doses", r.Dose),
        _Section("concerns", r.Concern),
    ),
    "versions.yaml": (_Section("versions", r.Version),),
    "sources.yaml": (_Section("sources", r.Source),),
}
_OPTIONAL = {"postures.yaml", "board.yaml", "workout.yaml", "versions.yaml"}
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
    collected: dict[str, dict[str, Any]] = {}
    lists: dict[str, list[Any]] = {"links": [], "ratios": []}
    family: dict[str, str] = {}
    extra: dict[str, Any] = {"abbreviations": {}, "scoring": None}
    problems: list[Problem] = []
    places: dict[tuple[str, str], tuple[Document, Path_]] = {}
    repeats: dict[str, int] = {}
    seen_files = set()
    for file in record_files(folder):
        doc = read_yaml(folder, file)
        top = file.split("/")[0]
        sections = _FILES.get(top)
        seen_files.add(top)
        if sections is None:
            doc.problems.append(doc.problem((), "-", "is no file of a library", mend=suggestion(top, _FILES)))
        elif doc.value is not None or not doc.problems:
            for collection, path, record in _records(doc, file, sections):
                key = f"{record.from_}>{record.to}" if isinstance(record, r.Link) else record.id
                if isinstance(record, r.Link):
                    lists[collection].append(record)
                    repeats[key] = repeats.get(key, 0) + 1
                    if repeats[key] > 1:
                        key = f"{key}#{repeats[key]}"
                else:
                    if (collection, key) in places:
                        other, there = places[collection, key]
                        doc.problems.append(
                            doc.problem(
                                path,
                                key,
                                f"id '{key}' is used twice",
                                mend=f"first used at {other.file}:{other.place(there)[0]}",
                                rule="id-unique",
                            )
                        )
                        continue
                    if collection in lists:
                        lists[collection].append(record)
                    else:
                        collected.setdefault(collection, {})[key] = record
                    if collection == "movements":
                        family[key] = file.removeprefix("movements/").removesuffix(".yaml")
                places.setdefault((collection, key), (doc, path))
            _extras(doc, extra)
        problems += doc.problems
    for top in _FILES:
        if top not in seen_files and top not in _OPTIONAL:
            problems.append(Problem(top, 1, 1, "-", "", "is missing", "restore it"))
    if extra["scoring"] is None and "intents.yaml" in seen_files and not problems:
        problems.append(Problem("intents.yaml", 1, 1, "-", "scoring", "is missing", "add `scoring:`", "field-missing"))
    library = None
    if not problems:
        by_name = {s: collected.get(s, {}) for s in (*SECTIONS, *ONE_BY_ONE) if s not in _COMPUTED}
        library = Library(
            pack(
                version, collected["movements"], lists["links"], lists["ratios"], {**by_name, **extra, "family": family}
            )
        )
    return Loaded(library, sorted(problems), places)


_COMPUTED = {"family", "abbreviations", "scoring", "columns", "ladder", "neighbours"}


def _records(doc: Document, file: str, sections: tuple[_Section, ...]) -> Iterator[tuple[str, Path_, Any]]:
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
