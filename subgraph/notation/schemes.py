"""Lists of reps for a whole block."""

from __future__ import annotations

import re

from subgraph.notation.head import Head
from subgraph.notation.numbers import numbers_in

_SPACED = re.compile(r"^\W*\d{1,3}(?:\s+\d{1,3}){2,}\W*$")
_SCHEME = re.compile(
    r"^[\s;:,(.-]*(?P<n>\d+(?:\s*(?:-|,(?=\s?\d)|/|>)\s*\d+){1,})\s*(?P<open>-?\s*(?:\.{2,}|etc\b\.?))?\)?\s*"
    r"(?:reps?\b|cals?\b|m\b(?!in))?\s*(?:rounds?\b)?\s*(?:(?:each\s+)?of\b|each\b)?(?![\w/])\s*(?P<sep>[:;,.-]*)"
)
_LATE = re.compile(
    r"(?<![\w/:.@])(?P<n>\d+(?:-\d+){2,})\s*(?P<open>-?\s*(?:\.{2,}|etc\b\.?))?\s*(?:reps?\b)?\s*(?:each\b|of\b)?[\s;:,.)-]*$"
)


_TITLED = re.compile(r"^(?P<title>[a-z][^\d:]{2,40}):\s*(?P<list>\d{1,3}(?:\s*-\s*\d{1,3}){2,})\W*$", re.I)
_GAP = re.compile(
    r"(?<![\d/.-])(?P<n>\d+(?:\s*[-,]\s*\d+)+)\s*[-,]?\s*\.{2,}\s*[-,]?\s*(?:(?:down|up|all\s+the\s+way)?\s*(?:down|up)?\s*to\s+)?(?P<last>\d+)(?![\d.])"
)
LEAST_DOWN = 5  # "10-1:" goes down to one from here on
MOST_RUNGS = 60  # of a list with a gap in it


def _filled(values: list[float], last: float) -> list[float] | None:
    """A list with a gap written out: 10-9-8-...-1."""
    step = values[-1] - values[-2]
    rungs = (last - values[-1]) / step if step else 0
    if rungs < 1 or rungs != int(rungs) or rungs > MOST_RUNGS:
        return None
    return values + [values[-1] + step * k for k in range(1, int(rungs) + 1)]


def _between(first: int, last: int) -> range:
    """All numbers from one to the other, both included."""
    return range(first, last + (1 if last > first else -1), 1 if last > first else -1)


def take_scheme(head: Head) -> None:
    """A list of reps for the whole block: at the start of what is left, or at its end."""
    if head.scheme:
        return
    if gap := _GAP.search(head.rest):
        filled = _filled(numbers_in(gap["n"].replace("-", " ").replace(",", " ")), float(gap["last"]))
        written = "-".join(f"{v:g}" for v in filled) if filled else gap.group()
        head.rest = f"{head.rest[: gap.start()]}{written}{head.rest[gap.end() :]}"
    if titled := _TITLED.match(head.rest):
        head.title, head.rest = head.title or titled["title"].strip(), titled["list"]
    if spaced := _SPACED.match(head.rest):
        head.scheme, head.rest = numbers_in(spaced.group()), ""
        return
    found = _SCHEME.match(head.rest) or _LATE.search(head.rest)
    if not found:
        return
    values = numbers_in(re.sub("[-,/>]", " ", found["n"]))
    after = head.rest[found.end() :].strip(" ;:,.-()")
    alone = not after and not re.search(r"[a-z]", head.rest[: found.start()], re.I)
    colon = ":" in (found.groupdict().get("sep") or "")
    down_to_one = len(values) == 2 and values[1] == 1 and values[0] >= LEAST_DOWN
    for_block = (
        alone
        or head.format in ("for-time",)
        or head.ladder
        or (bool(found["open"]) and not after)
        or (colon and (len(values) > 2 or down_to_one))
        or (found.re is _LATE and head.says > 0)
    )
    if len(values) == 2 and "/" in found["n"]:
        return
    if (
        len(values) == 2
        and 1 in values
        and abs(values[0] - values[1]) >= 3
        and (alone or head.format == "for-time" or (colon and down_to_one))
    ):
        values = [float(v) for v in _between(int(values[0]), int(values[1]))]
    if len(values) == 2 and not ((alone and values[0] > values[1]) or found["open"] or head.ladder):
        return
    if not for_block or any(v <= 0 for v in values):
        return
    head.scheme = values
    if found["open"]:
        head.step = values[-1] - values[-2] if len(values) > 1 else None
    head.rest = f"{head.rest[: found.start()]} ; {head.rest[found.end() :]}"
