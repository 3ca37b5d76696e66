"""What a rule works on: the records and the place of each."""

from __future__ import annotations

from dataclasses import dataclass

from subgraph.errors import Problem
from subgraph.library.knowledge import Library
from subgraph.library.read import Document, Path_


@dataclass(frozen=True, slots=True)
class Site:
    """Records with their places.

    Parameters
    ----------
    library : Library
        Records.
    places : dict
        (collection, key) to the document and the path in it; keys are ids, for links "from>to".
    """

    library: Library
    places: dict[tuple[str, str], tuple[Document, Path_]]

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
        steps = tuple(int(s) if s.isdigit() else s for s in field.split(".")) if field else ()
        line, column = doc.place((*path, *steps))
        return Problem(doc.file, line, column, key, field, what, mend, rule, severity)
