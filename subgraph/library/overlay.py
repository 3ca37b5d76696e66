"""Lay a gym's own folder over the library: its records, names, changes, rules and inventory.

The folder is read with the same reader and the same record types. A change is one field of one library record; a rule
only ever takes movements out. Everything that is laid over is kept as `Laid`, so that nobody has to guess.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar

import msgspec
from msgspec import Meta

from subgraph.errors import Problem
from subgraph.library import records as r
from subgraph.library.house import house_files
from subgraph.library.knowledge import Library
from subgraph.library.laid import Laid
from subgraph.library.load import Loaded, Overlay, Parts, Section, build, read_parts, records_in, suggestion
from subgraph.library.read import Document, Path_, read_yaml

T = TypeVar("T")

_PRINTED = r"^[^\x00-\x1f\x7f-\x9f]*$"  # what an answer repeats holds no control characters
_DIGITS = r"^[0-9A-Za-z +()/,.\-]*[0-9][0-9A-Za-z +()/,.\-]*$"


class Card(r.Record, frozen=True, kw_only=True):
    """`house.yaml`: what the gym is called, and the number to call in an emergency."""

    house: Annotated[str, Meta(min_length=1, max_length=40, pattern=_PRINTED)]
    emergency: int | Annotated[str, Meta(max_length=40, pattern=_DIGITS)] = ""
    about: str = ""


class Own(r.Record, frozen=True, kw_only=True):
    """Equipment that the house owns; `count` left out: as many as needed; `single_kg`: sizes there is but one of."""

    item: r.Id
    count: Annotated[int, Meta(ge=1)] | None = None
    sizes_kg: tuple[r.Positive, ...] = ()
    single_kg: tuple[r.Positive, ...] = ()

    @property
    def id(self) -> str:
        """The item, so that a second entry is noticed."""
        return self.item


class Naming(r.Record, frozen=True, kw_only=True):
    """Other names for a record of the library."""

    record: str
    of: Literal["movement", "equipment", "complaint", "provocation", "limit", "level", "intent"] = "movement"
    also: Annotated[tuple[r.Name, ...], Meta(min_length=1)]

    @property
    def id(self) -> str:
        """Kind and record, so that a second entry is noticed."""
        return f"{self.of} {self.record}"


class Change(r.Record, frozen=True, kw_only=True):
    """Other values for single fields of a library record, with the reason; dots lead into a field."""

    record: str
    of: Literal["movement", "equipment", "ratio", "complaint", "provocation"] = "movement"
    set: Annotated[dict[str, Any], Meta(min_length=1)]
    why: r.Text

    @property
    def id(self) -> str:
        """Kind and record, so that a second entry is noticed."""
        return f"{self.of} {self.record}"


class Rule(r.Record, frozen=True, kw_only=True, rename={"for_": "for", "except_": "except"}):
    """A rule of the house: for whom, what it takes out, and why in words."""

    id: r.Id
    reason: Annotated[str, Meta(min_length=1, max_length=80, pattern=_PRINTED)]
    for_: Annotated[tuple[str, ...], Meta(min_length=1)]
    movements: tuple[r.Id, ...] = ()
    families: tuple[str, ...] = ()
    demands: dict[r.Id, Annotated[int, Meta(ge=0, le=2)]] = msgspec.field(default_factory=dict)
    except_: tuple[r.Id, ...] = ()


_CARD = "house.yaml"
_FILES: dict[str, tuple[Section, ...]] = {
    _CARD: (),
    "equipment.yaml": (Section("owns", Own), Section("equipment", r.Equipment)),
    "names.yaml": (Section("names", Naming),),
    "changes.yaml": (Section("changes", Change),),
    "rules.yaml": (Section("rules", Rule),),
    "sources.yaml": (Section("sources", r.Source),),
    "movements": (Section("movements", r.Movement),),
    "links": (Section("links", r.Link),),
    "ratios": (Section("ratios", r.Ratio),),
}
_OWN_RECORDS = ("movements", "links", "ratios", "equipment", "sources")
_ANYONE = "anyone"


def load_with_house(library: Path | Library, house: Path, version: str) -> Loaded:
    """Read a library and a house folder as one.

    Parameters
    ----------
    library : Path or Library
        The folder of records; or the sound library made of it, which is quicker, but leaves the places of the
        library's own records untold.
    house : Path
        The house folder.
    version : str
        Short digest of the content of both.

    Returns
    -------
    Loaded
        The merged library (None where anything is damaged), all problems of both folders, the places of all records,
        and what the house laid over. Problems in the house carry its folder in the file name.
    """
    parts = Parts.of(library) if isinstance(library, Library) else read_parts(library)
    sound = not parts.problems
    overlay = _Laying(parts, house).lay()
    merged = None
    if not parts.problems:
        merged = parts.library(version)
    elif sound:
        overlay.good_part = parts.library(version)
    return Loaded(merged, sorted(parts.problems), parts.places, overlay)


class _Laying:
    """One house folder on its way over the parts of a library."""

    def __init__(self, parts: Parts, folder: Path) -> None:
        self.parts = parts
        self.folder = folder
        self.overlay = Overlay(str(folder))
        self.entries: dict[str, list[tuple[Document, str, Path_, Any]]] = {}
        self.claims: set[tuple[str, Path_]] = set()  # records that say that they override

    def lay(self) -> Overlay:
        """Read all files, then names and changes before new records, rules last: they look at the whole."""
        documents = self._read()
        if not self.parts.house.name:
            self.parts.house = msgspec.structs.replace(self.parts.house, name=self.folder.resolve().name or "house")
        steps: list[tuple[str, Callable[[Document, Path_, Any], None]]] = [
            ("names", self._name),
            ("changes", self._change),
        ]
        for section, step in steps:
            for doc, path, entry in self._once(section):
                step(doc, path, entry)
        for section in ("sources", "equipment", "movements", "links", "ratios"):
            for doc, file, path, record in self.entries.get(section, ()):
                self._record(doc, file, section, path, record)
        self._own(documents)
        for doc, path, rule in self._once("rules"):
            self._rule(doc, path, rule)
        for doc in documents:
            self.parts.problems += doc.problems
        self.parts.laid = self.overlay.laid
        return self.overlay

    def _read(self) -> list[Document]:
        files, bad = house_files(self.folder)
        for file, what in bad:
            self._file_problem(file, what, "make it a readable .yaml file, or take it away")
        if not files and not bad:
            self._file_problem(_CARD, "is missing: the folder holds no .yaml file", "see `subgraph library new-house`")
        documents = []
        for file in files:
            doc = read_yaml(self.folder, file, shown_as=self._shown(file))
            documents.append(doc)
            top = file.split("/")[0]
            if top not in _FILES or ("/" in file) is top.endswith(".yaml"):
                doc.problems.append(doc.problem((), "-", "is no file of a house", mend=suggestion(top, _FILES)))
            elif top == _CARD and doc.value is not None:
                card = build(doc, (), doc.value, Card) if isinstance(doc.value, dict) else None
                if not isinstance(doc.value, dict):
                    doc.problems.append(doc.problem((), "-", "holds no mapping", mend="start it with `house:`"))
                elif card is not None:
                    self.parts.house = msgspec.structs.replace(
                        self.parts.house, name=card.house, emergency=str(card.emergency).strip()
                    )
            elif doc.value is not None:  # a file of comments alone says nothing, and may
                self._take_claims(doc)
                for collection, path, record in records_in(doc, file, _FILES[top]):
                    self.entries.setdefault(collection, []).append((doc, file, path, record))
                self._note_broken(doc)
        return documents

    def _shown(self, file: str) -> str:
        """What problems call a file: told apart from the library's also where the folder is the one we are in."""
        return f"{self.folder}/{file}"

    def _file_problem(self, file: str, what: str, mend: str) -> None:
        self.parts.problems.append(Problem(self._shown(file), 1, 1, "-", "", what, mend))

    def _take_claims(self, doc: Document) -> None:
        """Take `overrides: true` off the records before they are built."""
        if not isinstance(doc.value, dict):
            return
        for section in _OWN_RECORDS:
            items = doc.value.get(section)
            for index, item in enumerate(items if isinstance(items, list) else ()):
                if isinstance(item, dict) and "overrides" in item:
                    said = item.pop("overrides")
                    if said is True:
                        self.claims.add((doc.file, (section, index)))
                    else:
                        name = str(item.get("id") or "-")
                        doc.problems.append(
                            doc.problem(
                                (section, index, "overrides"),
                                name,
                                "is not true",
                                mend="write `overrides: true`, or leave it out",
                                rule="field-type",
                            )
                        )

    def _note_broken(self, doc: Document) -> None:
        if not isinstance(doc.value, dict):
            return
        built = {path for entries in self.entries.values() for other, _, path, _ in entries if other is doc}
        for section in _OWN_RECORDS:
            items = doc.value.get(section)
            for index, item in enumerate(items if isinstance(items, list) else ()):
                if isinstance(item, dict) and (section, index) not in built and isinstance(item.get("id"), str):
                    self.overlay.broken.add(item["id"])

    def _once(self, section: str) -> Iterator[tuple[Document, Path_, Any]]:
        """Entries of a section; a second one of the same id is a problem."""
        seen: dict[str, str] = {}
        for doc, _, path, entry in self.entries.get(section, ()):
            if entry.id in seen:
                doc.problems.append(
                    doc.problem(
                        path,
                        entry.id,
                        f"has a second entry in {section}",
                        mend=f"put both into one ({seen[entry.id]})",
                        rule="id-unique",
                    )
                )
                continue
            seen[entry.id] = f"{doc.file}:{doc.place(path)[0]}"
            yield doc, path, entry

    def _note(self, doc: Document, path: Path_, what: Any, of: str, record: str, **more: Any) -> None:
        at = f"{doc.file}:{doc.place(path)[0]}"
        self.overlay.laid.append(Laid(what=what, of=of, record=record, at=at, **more))

    def _known(
        self, doc: Document, path: Path_, record: str, ids: Iterable[str], known: Iterable[str], what: str
    ) -> bool:
        """Whether all ids are known; a problem for each that is not."""
        choices, good = list(known), True
        for position, id_ in enumerate(ids):
            if id_ not in choices:
                good = False
                if id_ not in self.overlay.broken:  # its own problem is told already
                    at = (*path, id_) if (*path, id_) in doc.places else (*path, position)
                    doc.problems.append(
                        doc.problem(
                            at,
                            record,
                            f"no {what} is called '{id_}'",
                            mend=suggestion(id_, choices) or "add it, or take it out",
                            rule="id-known",
                        )
                    )
        return good

    def _library_record(self, doc: Document, path: Path_, of: str, id_: str) -> Any:
        """The library's record, or a problem and None."""
        collection = _collection(of)
        if collection in self.parts.lists:
            records = {record.id: record for record in self.parts.lists[collection]}
        else:
            records = self.parts.collected.get(collection, {})
        if id_ in records:
            return records[id_]
        mend = suggestion(id_, records) or "look it up with `subgraph movement`"
        own = [e for e in self.entries.get(collection, ()) if e[3].id == id_]
        if own:
            doc_there, _, there, _ = own[0]
            mend = f"it is the house's own: mend it at {doc_there.file}:{doc_there.place(there)[0]}"
        doc.problems.append(
            doc.problem((*path, "record"), id_, f"no {of} of the library is called '{id_}'", mend=mend, rule="id-known")
        )
        return None

    def _put(self, of: str, record: Any) -> None:
        collection = _collection(of)
        if collection in self.parts.lists:
            items = self.parts.lists[collection]
            items[next(i for i, item in enumerate(items) if item.id == record.id)] = record
        else:
            self.parts.collected[collection][record.id] = record

    def _touch(self, doc: Document, path: Path_, of: str, id_: str, field: str) -> None:
        key = (_collection(of), id_)
        self.overlay.touched.add(key)
        self.overlay.changed.setdefault(key, {}).setdefault(field, (doc, path))

    def _name(self, doc: Document, path: Path_, naming: Naming) -> None:
        record = self._library_record(doc, path, naming.of, naming.record)
        if record is None:
            return
        for position in range(len(naming.also)):  # a name that is taken is found at its place in the merged list
            doc.places[(*path, "also", len(record.also) + position)] = doc.place((*path, "also", position))
        self._put(naming.of, msgspec.structs.replace(record, also=(*record.also, *naming.also)))
        self._touch(doc, path, naming.of, record.id, "also")
        self._note(doc, path, "named", naming.of, record.id, field="also", now=naming.also)

    def _change(self, doc: Document, path: Path_, change: Change) -> None:
        record = self._library_record(doc, path, change.of, change.record)
        if record is None:
            return
        plain: dict[str, Any] = msgspec.to_builtins(record)
        before = len(doc.problems)
        at = (*path, "set")
        noted: list[tuple[str, Any, Any]] = []
        for key, value in change.set.items():
            steps = tuple(key.split("."))
            if fault := self._forbidden(change, record, steps, value):
                doc.problems.append(
                    doc.problem((*at, key), record.id, fault[0], mend=fault[1], rule="house-change", field=key)
                )
                continue
            for depth in range(1, len(steps) + 1):
                doc.places.setdefault((*at, *steps[:depth]), doc.place((*at, key)))
            was, fault_ = _set(plain, steps, value)
            if fault_:
                doc.problems.append(
                    doc.problem((*at, key), record.id, fault_, mend="name a field", rule="house-change", field=key)
                )
            noted.append((key, was, value))
        built = build(doc, at, plain, type(record)) if len(doc.problems) == before else None
        if built is None:
            return
        self._put(change.of, built)
        for key, was, now in noted:
            self._touch(doc, at, change.of, record.id, key.split(".")[0])
            self._note(doc, (*at, key), "changed", change.of, record.id, field=key, was=was, now=now, why=change.why)

    def _forbidden(self, change: Change, record: Any, steps: Path_, value: Any) -> tuple[str, str] | None:
        """What a house may not change, and how to go about it instead."""
        if steps[0] == "id":
            return "an id can't be changed", "give it another name in names.yaml"
        if steps[0] == "also" and ("also" in self.overlay.changed.get((_collection(change.of), record.id), {})):
            return "names are already added in names.yaml", "do one of the two"
        if change.of not in ("complaint", "provocation"):
            return None
        if len(steps) != 2 or steps[0] != "at_most":
            return (
                f"a house may only lower what a {change.of} lets through",
                "write `at_most.<demand>: [settled, sore, flared]`",
            )
        was = record.at_most.get(steps[1], (3, 3, 3))
        fits = isinstance(value, list) and len(value) == 3 and all(type(v) is int for v in value)
        if not fits or any(new > old for new, old in zip(value, was, strict=True)):
            return (
                f"{value} is not stricter than {list(was)}",
                "give three grades, none higher than the library's",
            )
        return None

    def _record(self, doc: Document, file: str, collection: str, path: Path_, record: Any) -> None:
        parts, link = self.parts, isinstance(record, r.Link)
        key = f"{record.from_}>{record.to}" if link else record.id
        claims = (doc.file, path) in self.claims
        here = (collection, key)
        other = parts.places.get(here)
        of_library = other is not None and here not in self._own_places()
        if of_library and other is not None:
            where = f"{other[0].file}:{other[0].place(other[1])[0]}"
            if not claims and not link:
                doc.problems.append(
                    doc.problem(
                        path,
                        key,
                        f"id '{key}' is the library's ({where})",
                        mend="give it another id, change single fields in changes.yaml, or add `overrides: true`",
                        rule="id-unique",
                    )
                )
                return
            if here in self.overlay.changed:
                changed = next(iter(self.overlay.changed[here].values()))
                doc.problems.append(
                    doc.problem(
                        path,
                        key,
                        "is overridden here and changed elsewhere",
                        mend=f"do one of the two ({changed[0].file}:{changed[0].place(changed[1])[0]})",
                        rule="id-unique",
                    )
                )
                return
        elif claims:
            self.overlay.broken.add(key)
            doc.problems.append(
                doc.problem(
                    path,
                    key,
                    "overrides nothing: the library has no such record",
                    mend="take `overrides` out, or mend the id",
                    rule="id-known",
                )
            )
            return
        self.overlay.touched.add(here)
        was = None
        if claims:
            was = self._replace(collection, key, doc, path, record)
        else:
            parts.add(doc, file, collection, path, record)
        self._note(doc, path, "overridden" if claims else "added", _of(collection), key, was=was)

    def _own_places(self) -> set[tuple[str, str]]:
        return {key for key in self.overlay.touched if key not in self.overlay.changed}

    def _replace(self, collection: str, key: str, doc: Document, path: Path_, record: Any) -> str:
        """Put a record of the house in the place of the library's; tell where that one stood."""
        parts = self.parts
        other, there = parts.places[collection, key]
        if collection in parts.lists:
            items = parts.lists[collection]
            same = [i for i, item in enumerate(items) if _key(item) == key]
            items[same[0]] = record
            for i in reversed(same[1:]):
                del items[i]
            parts.repeats[key] = 1
        else:
            parts.collected[collection][key] = record
        parts.places[collection, key] = (doc, path)
        return f"{other.file}:{other.place(there)[0]}"

    def _own(self, documents: list[Document]) -> None:
        """Work out the inventory; what an item holds comes with it."""
        said = any(
            isinstance(d.value, dict) and isinstance(d.value.get("owns"), list)
            for d in documents
            if d.file == self._shown("equipment.yaml")
        )
        if not said:
            return
        equipment = self.parts.collected["equipment"]
        owned: dict[str, int] = {}
        for doc, path, own in self._once("owns"):
            if not self._known(doc, (*path, "item"), own.item, [own.item], equipment, "equipment"):
                continue
            record: r.Equipment = equipment[own.item]
            sizes = tuple(sorted(own.sizes_kg)) or record.sizes_kg
            if own.sizes_kg and not (record.sizes_kg or record.step_kg):
                self._size_problem(doc, (*path, "sizes_kg"), own.item, "has no sizes", "leave sizes_kg out")
                continue
            if odd := [s for s in own.single_kg if s not in sizes]:
                what = f"{odd[0]:g} kg is not among the sizes"
                self._size_problem(doc, (*path, "single_kg"), own.item, what, "add it to sizes_kg")
                continue
            if own.sizes_kg or own.single_kg:
                equipment[own.item] = msgspec.structs.replace(record, sizes_kg=sizes, single_kg=own.single_kg)
            no_pair = bool(sizes) and set(sizes) == set(own.single_kg)
            owned[own.item] = 1 if no_pair else own.count or 0
            shown = {k: v for k, v in msgspec.to_builtins(own).items() if k != "item"}
            self._note(doc, path, "owned", "equipment", own.item, now=shown or None)
        todo = list(owned)
        while todo:
            for held in equipment[todo.pop()].holds:
                if held in equipment and held not in owned:
                    owned[held] = 0
                    todo.append(held)
        self.parts.house = msgspec.structs.replace(self.parts.house, owned=owned)

    def _size_problem(self, doc: Document, path: Path_, item: str, what: str, mend: str) -> None:
        doc.problems.append(doc.problem(path, item, what, mend=mend, rule="house-sizes"))

    def _rule(self, doc: Document, path: Path_, rule: Rule) -> None:
        """Work out which movements a rule takes out, and why each."""
        parts = self.parts
        movements, levels = parts.collected["movements"], parts.collected["levels"]
        complaints = parts.collected.get("complaints", {})
        checks = (
            ("for", rule.for_, [_ANYONE, *levels, *complaints], "level or complaint"),
            ("movements", rule.movements, movements, "movement"),
            ("except", rule.except_, movements, "movement"),
            ("families", rule.families, set(parts.family.values()), "family"),
            ("demands", rule.demands, parts.collected["demands"], "demand"),
        )
        known = [self._known(doc, (*path, field), rule.id, ids, names, what) for field, ids, names, what in checks]
        if not all(known):
            return
        out: dict[str, str] = {}
        for id_, movement in movements.items():
            too_much = [d for d, most in rule.demands.items() if movement.grade(d) > most]
            if id_ in rule.except_:
                continue
            if id_ in rule.movements:
                out[id_] = "named in the rule"
            elif parts.family[id_] in rule.families:
                out[id_] = f"family {parts.family[id_]}"
            elif too_much:
                demand = too_much[0]
                name = parts.collected["demands"][demand].name
                out[id_] = f"{name} {movement.grade(demand)}, up to {rule.demands[demand]} in this house"
        if not out:
            doc.problems.append(
                doc.problem(
                    path,
                    rule.id,
                    "takes no movement out",
                    mend="name movements, families, or demands with the highest grade still offered",
                    rule="house-rule",
                )
            )
            return
        anyone = _ANYONE in rule.for_
        worked_out = r.HouseRule(
            id=rule.id,
            reason=rule.reason,
            levels=() if anyone else tuple(x for x in rule.for_ if x in levels),
            complaints=() if anyone else tuple(x for x in rule.for_ if x in complaints),
            out=out,
        )
        parts.house = msgspec.structs.replace(parts.house, rules=(*parts.house.rules, worked_out))
        parts.places["rules", rule.id] = (doc, path)
        now = {"for": rule.for_, "takes_out": len(out)}
        self._note(doc, path, "rule", "rule", rule.id, now=now, why=rule.reason)


def _collection(of: str) -> str:
    return of if of == "equipment" else of + "s"


def _of(collection: str) -> str:
    return collection if collection == "equipment" else collection.removesuffix("s")


def _key(item: Any) -> str:
    return f"{item.from_}>{item.to}" if isinstance(item, r.Link) else str(item.id)


def _set(plain: dict[str, Any], steps: tuple[str, ...], value: Any) -> tuple[Any, str]:
    """Set a value inside plain data (None takes it out); what was there, and what is wrong."""
    target = plain
    for depth, step in enumerate(steps[:-1]):
        inner = target.setdefault(step, {})
        if not isinstance(inner, dict):
            return None, f"'{'.'.join(steps[: depth + 1])}' has no parts"
        target = inner
    was = target.get(steps[-1])
    if value is None:
        if steps[-1] not in target:
            return None, "there is nothing to take out"
        del target[steps[-1]]
    else:
        target[steps[-1]] = value
    return was, ""
