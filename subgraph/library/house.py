"""A gym's own folder in force over the library: compiled once per content, refused whole where anything is wrong."""

from __future__ import annotations

import functools
import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from subgraph.errors import AskError, HouseError, Problem
from subgraph.library.cache import digest, digest_of_files, stored
from subgraph.library.compile import Compiled, Stored, code_key, compiled, quick_key
from subgraph.library.where import library_folder

if TYPE_CHECKING:
    from subgraph.library.load import Loaded

Lint = Callable[["Loaded"], list[Problem]]

_CODE = ("house", "overlay", "laid")


class _Verdict(msgspec.Struct, frozen=True, gc=False):
    """What came of a house: a library, or the errors that keep it out."""

    errors: tuple[Problem, ...] = ()
    merged: Stored | None = None


def house_files(folder: Path) -> tuple[list[str], list[tuple[str, str]]]:
    """Record files of a house folder, and what can't be used there.

    Parameters
    ----------
    folder : Path
        The house folder.

    Returns
    -------
    (list of str, list of (str, str))
        Paths below the folder, sorted; paths with what is wrong. Hidden files and files of other kinds are left alone.
    """
    found: list[str] = []
    bad: list[tuple[str, str]] = []

    def unreadable(error: OSError) -> None:
        bad.append((os.path.relpath(error.filename, folder), f"cannot be read ({type(error).__name__})"))

    for place, below, names in os.walk(folder, onerror=unreadable):
        below[:] = [b for b in below if not b.startswith(".")]
        for name in names:
            path = Path(place, name)
            shown = path.relative_to(folder).as_posix()
            if name.startswith("."):
                continue
            if name.lower().endswith((".yml", ".yaml")) and not name.endswith(".yaml"):
                bad.append((shown, "is not read: its name must end in .yaml"))
            elif name.endswith(".yaml"):
                if os.path.exists(path) and not os.path.isfile(path):  # what may not be looked at is told on reading
                    bad.append((shown, "is no plain file"))
                else:
                    found.append(shown)
    return sorted(found), sorted(bad)


def house_key(house: Path, library: str) -> str:
    """Digest of the content of a house folder over a library of a content key, as hexadecimal text.

    A file that can't be read counts as such, not as missing.
    """
    files, bad = house_files(house)
    parts = [library.encode(), str(house).encode(), repr(bad).encode()]
    for file in files:
        try:
            content = b"=" + (house / file).read_bytes()
        except OSError as error:
            content = type(error).__name__.encode()
        parts += [file.encode(), content]
    return digest(*parts).hex()


def _code_key() -> str:
    """Digest of all code that a verdict depends on; the lint has a say in it."""
    package = Path(__file__).parent.parent
    files = [f"library/{module}.py" for module in _CODE]
    files += sorted(f"checks/{name}" for name in os.listdir(package / "checks") if name.endswith(".py"))
    return digest(code_key().encode(), digest_of_files("code", str(package), files).encode()).hex()


def _errors(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    return tuple(p for p in problems if p.severity == "error")


@functools.cache
def _judged(house: Path, lint: Lint, folder: Path) -> _Verdict:
    key = house_key(house, quick_key(folder))

    def judge() -> bytes:
        from subgraph.library.overlay import load_with_house

        loaded = load_with_house(compiled(folder).library, house, key[:12])
        errors = _errors(lint(loaded))
        if errors or loaded.library is None:  # read the library's files too, to tell every file and line
            errors = _errors(lint(load_with_house(folder, house, key[:12])))
            return msgspec.msgpack.encode(_Verdict(errors))
        return msgspec.msgpack.encode(_Verdict((), Stored.of(loaded.library)))

    name = f"house-{_code_key()[:8]}"
    try:
        return msgspec.msgpack.decode(stored(name, key, judge), type=_Verdict)
    except msgspec.DecodeError:  # a sound copy of another layout
        return msgspec.msgpack.decode(judge(), type=_Verdict)


def compiled_with_house(house: Path, lint: Lint, *, asked_for: bool, folder: Path | None = None) -> Compiled:
    """The library with a house over it.

    Parameters
    ----------
    house : Path
        The gym's own folder.
    lint : callable
        From what was loaded to all its problems; a house with an error is not in force.
    asked_for : bool
        Whether it was named with the ask. If not, a damaged house is told once on standard error and the library alone
        is in force.
    folder : Path, optional
        Library folder; the embedded one where left out.

    Raises
    ------
    AskError
        If there is no such folder and it was asked for.
    HouseError
        If it is damaged and was asked for.
    """
    if not house.is_dir():
        what = "is no folder" if os.path.lexists(house) else "is not there"
        named = "".join(c if c.isprintable() else "?" for c in str(house))
        if asked_for:
            raise AskError(
                f"the house folder '{named}' {what}; nothing was answered",
                mend="make one with `subgraph library new-house DIR`, or give another",
            )
        _note(
            f"the house folder '{named}' {what}; the library alone is in force", "SUBGRAPH_HOUSE=none stops this note"
        )
        return compiled(folder)
    verdict = _judged(house, lint, folder or library_folder())
    if verdict.merged is not None:
        return verdict.merged.opened()
    if asked_for:
        raise HouseError(str(house), verdict.errors)
    count = f"{len(verdict.errors)} error{'s' if len(verdict.errors) > 1 else ''}"
    _note(
        f"the house folder '{house}' has {count}, so the library alone is in force; first: {verdict.errors[0]}",
        "run `subgraph library check`",
    )
    return compiled(folder)


@functools.cache
def _note(what: str, mend: str) -> None:
    """Tell once per process."""
    print(f"subgraph: note: {what}; {mend}", file=sys.stderr)


def new_house(folder: Path) -> list[Path]:
    """Write the template of a house folder.

    Parameters
    ----------
    folder : Path
        Where; made if it is not there.

    Returns
    -------
    list of Path
        The files written.

    Raises
    ------
    AskError
        If the folder holds anything or can't be written.
    """
    template = Path(__file__).parent / "house_template"
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            what = "is not empty" if folder.is_dir() else "is a file"
            raise AskError(f"'{folder}' {what}; nothing was written", mend="give a new or an empty folder")
        written = []
        for source in sorted(template.rglob("*.yaml")):
            target = folder / source.relative_to(template)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(source.read_bytes())
            written.append(target)
    except OSError as error:
        raise AskError(
            f"'{folder}' can't be written ({error.strerror or type(error).__name__})", mend="give another folder"
        ) from None
    return written
