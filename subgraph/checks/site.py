"""What a rule works on: the records and the place of each."""

from __future__ import annotations

from collections.abc import Mapping, Set
from dataclasses import dataclass, field

from subgraph.errors import Problem
from subgraph.library.knowledge import Library
from subgraph.library.laid import Laid
from subgraph.library.read import Document, Path_
from subgraph.library.records import House


@dataclass(frozen=True, slots=True)
class Site:
    """Records with their places.

    Parameters
    ----------
    library : Library
        Records.
    places : dict
        (collection, key) to the document and the path in it; keys are ids, for links "from>to".
    changed : mapping
        Of records that a house changes, from each changed field to the place of the change.
    touched : set
        (collection, key) of all records that a house brings or changes.
    laid : tuple of Laid
        Everything that a house lays over.
    house : House
        What else it says. `library` itself is kept free of it: links are judged by what the trade has.
    """

    library: Library
    places: dict[tuple[str, str], tuple[Document, Path_]]
    changed: Mapping[tuple[str, str], Mapping[str, tuple[Document, Path_]]] = field(default_factory=dict)
    touched: Set[tuple[str, str]] = frozenset()
    laid: tuple[Laid, ...] = ()
    house: House = field(default_factory=House)

    def where(self, collection: str, key: str) -> str:
        """File and line of a record."""
        if (collection, key) not in self.places:
            return "?"
        doc, path = self.places[collection, key]
        return f"{doc.file}:{doc.place(path)[0]}"

    def problem(
        self,
        collection: str,
        key: str,
        field: str,
        what: str,
        *,
        mend: str,
        rule: str,
        severity: str = "error",
    ) -> Problem:
        """Build a problem at a field of a record."""
        if (collection, key) not in self.places:
            return Problem(collection, 1, 1, key, field, what, mend, rule, severity)
        doc, path = self.places[collection, key]
        if changes := self.changed.get((collection, key)):  # the library alone is sound: the change is to be mended
            doc, path = changes.get(field.split(".")[0]) or next(iter(changes.values()))
        steps = tuple(int(s) if s.isdigit() else s for s in field.split(".")) if field else ()
        line, column = doc.place((*path, *steps))
        return Problem(doc.file, line, column, key, field, what, mend, rule, severity)
