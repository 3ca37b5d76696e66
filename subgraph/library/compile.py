"""The library and its name indexes, read from a cache keyed by the content of records and code."""

import functools
from collections.abc import Mapping
from pathlib import Path

import msgspec

from subgraph.errors import LibraryError
from subgraph.library.cache import digest, digest_of_files, stored
from subgraph.library.knowledge import Library, Pack
from subgraph.library.names import Named, NameIndex, Names, build_index
from subgraph.library.records import Provocation
from subgraph.library.where import library_folder, record_files


class Compiled:
    """A library with the name index of each kind of record.

    Parameters
    ----------
    library : Library
        Records.
    names : mapping
        Kind ("movement", "equipment", "complaint" ...) to its index.
    """

    __slots__ = ("library", "names")

    def __init__(self, library: Library, names: Mapping[str, NameIndex]) -> None:
        self.library = library
        self.names = names


class Stored(msgspec.Struct, frozen=True, gc=False):
    """A library and its name indexes as they are kept, both still encoded."""

    pack: Pack
    names: dict[str, tuple[str, str]]  # exact and spelled

    @staticmethod
    def of(library: Library) -> "Stored":
        """Encode a library with its name indexes."""
        names = {kind: (i.exact.text, i.spelled_names.text) for kind, i in index_names(library).items()}
        return Stored(library.packed, names)

    def opened(self) -> Compiled:
        """Both ready to be asked."""
        names = {kind: NameIndex(Names(exact), Names(spelled)) for kind, (exact, spelled) in self.names.items()}
        return Compiled(Library(self.pack), names)


class _Provoked:
    """A provocation among the complaints."""

    __slots__ = ("also", "id", "name")

    def __init__(self, record: Provocation) -> None:
        self.id, self.name, self.also = f"~{record.id}", record.name, record.also


def content_key(folder: Path) -> str:
    """Digest of all record files of a folder, as hexadecimal text."""
    parts: list[bytes] = []
    for file in record_files(folder):
        parts += [file.encode(), (folder / file).read_bytes()]
    return digest(*parts).hex()


def quick_key(folder: Path) -> str:
    """The content key, by way of sizes and times of the files: reading them all costs more than the answer."""
    return digest_of_files("records", str(folder), record_files(folder))


def code_key() -> str:
    """Digest of the modules whose change makes a compiled library stale, as hexadecimal text."""
    modules = ("records", "load", "names", "read", "alarms", "pack", "knowledge")
    return digest_of_files("code", str(Path(__file__).parent), [f"{m}.py" for m in modules])


def index_names(library: Library) -> dict[str, NameIndex]:
    """Name index per kind of record."""
    short = library.abbreviations
    # A complaint may also be told by what provokes it alone; such ids carry a tilde.
    either: list[Named] = [*library.complaints.values(), *(_Provoked(p) for p in library.provocations.values())]
    return {
        "movement": build_index(library.movements.values(), short),
        "equipment": build_index(library.equipment.values(), short),
        "complaint": build_index(either, short),
        "provocation": build_index(library.provocations.values(), short),
        "limit": build_index(library.limits.values(), short),
        "level": build_index(library.levels.values(), short),
        "intent": build_index(library.intents.values(), short),
    }


@functools.cache
def compiled(folder: Path | None = None) -> Compiled:
    """The compiled library of a folder (default: the embedded one).

    Raises
    ------
    LibraryError
        If a record is damaged.
    """
    where = folder or library_folder()
    key = quick_key(where)

    def build() -> bytes:
        from subgraph.library.load import load_folder

        loaded = load_folder(where, key[:12])
        if loaded.library is None:
            raise LibraryError(tuple(p for p in loaded.problems if p.severity == "error"))
        return msgspec.msgpack.encode(Stored.of(loaded.library))

    name = f"library-{code_key()[:8]}"
    try:
        found = msgspec.msgpack.decode(stored(name, key, build), type=Stored)
    except msgspec.DecodeError:  # a sound copy of another layout: build afresh
        found = msgspec.msgpack.decode(build(), type=Stored)
    return found.opened()


def compiled_library() -> Library:
    """The embedded library."""
    return compiled().library
