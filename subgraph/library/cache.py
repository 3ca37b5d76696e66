"""Computed bytes kept between runs: keyed by content, written atomically, rebuilt when damaged.

A file is `CRC-32 of payload (4 bytes) + payload`: enough to notice damage, and the fastest to check. Two processes that
start at once write the same bytes to two temporary files and rename them over each other, which no reader can notice.
"""

from __future__ import annotations

import contextlib
import os
import sys
import zlib
from collections.abc import Callable
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


def stored(name: str, key: str, build: Callable[[], bytes]) -> bytes:
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
    bytes
        The payload. A folder that can't be written is told once on standard error and otherwise ignored.
    """
    path = cache_folder() / f"{name}-{key}"
    try:
        with path.open("rb") as file:
            check, payload = file.read(_CHECK), file.read()
        if check == checksum(payload):
            return payload
    except OSError:
        pass
    payload = build()
    _write(path, checksum(payload) + payload)
    return payload


def checksum(payload: bytes) -> bytes:
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
