"""Where a board's text comes from: a file or standard input, in whatever encoding it was saved."""

from __future__ import annotations

import codecs
import sys
from pathlib import Path

from subgraph.errors import AskError

MOST_BYTES = 4_000_000  # of one file; more is no board
_BINARY = 0.05  # share of control bytes from which a file is no text
_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))


def board_text(path: str) -> str:
    """The text of a board.

    Parameters
    ----------
    path : str
        A file, or "-" for standard input.

    Raises
    ------
    AskError
        No such file, a folder, too large, or no text.
    """
    if path == "-":
        if sys.stdin is None or sys.stdin.isatty():
            raise AskError("no board was given", mend="name a file, or pipe the text: subgraph read board.txt")
        return decoded(sys.stdin.buffer.read(MOST_BYTES + 1))
    try:
        with Path(path).open("rb") as file:
            return decoded(file.read(MOST_BYTES + 1))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it can't be opened"
        raise AskError(
            f"'{path[:60]}' can't be read: {reason.lower()}", mend="name a text file, or - to paste"
        ) from None


def decoded(content: bytes) -> str:
    """Bytes as text: by their mark, else UTF-8, else the usual Western encoding.

    Raises
    ------
    AskError
        Too large, or no text.
    """
    if len(content) > MOST_BYTES:
        raise AskError(f"the board is larger than {MOST_BYTES // 1_000_000} MB", mend="paste one session")
    for mark, encoding in _MARKS:
        if content.startswith(mark):
            return content.decode(encoding, "replace")
    odd = sum(content.count(bytes([b])) for b in range(32) if b not in (9, 10, 11, 12, 13, 27))
    if odd > _BINARY * len(content):
        raise AskError("the board is no text", mend="save it as plain text")
    try:
        return content.decode()
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def unit_of_loads(units: str | None) -> str | None:
    """The flag for loads without a unit.

    Raises
    ------
    AskError
        Neither kg nor lb.
    """
    if units is None:
        return None
    plain = units.strip().lower().rstrip("s")
    if plain not in ("kg", "lb"):
        raise AskError(f"no unit of load is called '{units[:20]}'", mend="give --units kg or --units lb")
    return plain
