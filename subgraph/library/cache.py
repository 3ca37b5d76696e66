"""Computed bytes kept between runs: keyed by content, written atomically, rebuilt when damaged.

A file is `CRC-32 of payload (4 bytes) + payload`: enough to notice damage, and the fastest to check. Two processes that
start at once write the same bytes to two temporary files and rename them over each other, which no reader can notice.
"""

from __future__ import annotations

import contextlib
import mmap
import os
import sys
import zlib
from collections.abc import Callable, Iterable
from pathlib import Path

from subgraph.library.where import cache_folder

_DIGEST = 16  # bytes
_CHECK = 4  # bytes
_KEPT = 6
_told = False


def digest(*parts: bytes) -> bytes:
    """Sixteen bytes that stand for the content of all parts, in order."""
    import hashlib  # loads OpenSSL; a warm start does without

    state = hashlib.blake2b(digest_size=_DIGEST)
    for part in parts:
        state.update(len(part).to_bytes(8, "big"))
        state.update(part)
    return state.digest()


def stored(name: str, key: str, build: Callable[[], bytes]) -> memoryview:
    """Fetch the bytes kept under a key, or build and keep them.

    Parameters
    ----------
    name : str
        What they are; part of the file name.
    key : str
        Digest of all that they depend on.
    build : callable
        Makes them where there is no sound copy.

    Returns
    -------
    memoryview
        The payload, mapped from the file where there was one. A folder that can't be written is told once on standard
        error and otherwise ignored.
    """
    path = cache_folder() / f"{name}-{key}"
    kept = _read(path)
    if kept is not None:
        return kept
    payload = build()
    _write(path, checksum(payload) + payload)
    return memoryview(payload)


def recalled(name: str, question: str, find: Callable[[], str]) -> str:
    """Answer a question about the outside, from memory where the very same was asked last.

    Parameters
    ----------
    name : str
        What it is about; part of the file name, which holds the last question and its answer.
    question : str
        All that the answer depends on.
    find : callable
        Finds the answer where another was asked.

    Returns
    -------
    str
        The answer.
    """
    path = cache_folder() / name
    kept = _read(path)
    if kept is not None:
        asked, _, answer = str(kept, "utf-8", "replace").rpartition("\0")
        if asked == question:
            return answer
    answer = find()
    payload = f"{question}\0{answer}".encode()
    _write(path, checksum(payload) + payload)
    return answer


def digest_of_files(name: str, folder: str, files: Iterable[str]) -> str:
    """Digest of the content of files, as hexadecimal text; they are read only when a size or a time has changed.

    Parameters
    ----------
    name : str
        What they are.
    folder : str
        Where they are.
    files : iterable of str
        Paths below it; the digest depends on them and on the content, not on the folder.
    """
    files = list(files)
    states = [os.stat(f"{folder}/{file}") for file in files]
    lines = [f"{f} {s.st_size} {s.st_mtime_ns}" for f, s in zip(files, states, strict=True)]

    def read() -> str:
        parts: list[bytes] = []
        for file in files:
            with open(f"{folder}/{file}", "rb") as opened:
                parts += [file.encode(), opened.read()]
        return digest(*parts).hex()

    # One memory per folder: two libraries in turn would else forget each other.
    return recalled(f"{name}-{zlib.crc32(folder.encode()):08x}", "\n".join([folder, *lines]), read)


def _read(path: Path) -> memoryview | None:
    """The payload of a sound file; None where there is none.

    The file is mapped: a copy of some megabytes takes longer than all that is decoded of them. Nobody writes into a
    file that is there, a new one takes its name.
    """
    try:
        with path.open("rb", buffering=0) as file:
            content = memoryview(mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ))
    except (OSError, ValueError):  # not there, or empty
        return None
    check, payload = content[:_CHECK], content[_CHECK:]
    return payload if check == checksum(payload) else None


def checksum(payload: bytes | memoryview) -> bytes:
    """What stands before a payload in its file."""
    return zlib.crc32(payload).to_bytes(_CHECK, "big")


def _write(path: Path, content: bytes) -> None:
    global _told
    import tempfile

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.replace(temporary, path)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            raise
    except OSError as error:
        if not _told:
            _told = True
            reason = error.strerror or error.__class__.__name__
            print(
                f"subgraph: note: the cache folder {path.parent} can't be written ({reason}); going on without it",
                file=sys.stderr,
            )
        return
    _prune(path)


def _prune(path: Path) -> None:
    """Drop all but the newest few files of the same name."""
    with contextlib.suppress(OSError):
        stem = path.name.rsplit("-", 1)[0]
        same = [p for p in path.parent.glob(f"{stem}-*") if p.name.rsplit("-", 1)[0] == stem]
        kept = sorted(same, key=lambda p: p.stat().st_mtime, reverse=True)
        for old in kept[_KEPT:]:
            old.unlink(missing_ok=True)
