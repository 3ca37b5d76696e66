"""What a house folder lays over the library, thing by thing. Apart from the other records: no answer needs it."""

from __future__ import annotations

from typing import Any, Literal

from subgraph.library.records import Record


class Laid(Record, frozen=True, kw_only=True):
    """One thing that is laid over.

    `record` is an id, for links "from>to"; `was` and `now` are the values of a changed field; `why` the reason that the
    house gives; `at` the file and line.
    """

    what: Literal["added", "overridden", "changed", "named", "rule", "owned"]
    of: str
    record: str
    field: str = ""
    was: Any = None
    now: Any = None
    why: str = ""
    at: str
