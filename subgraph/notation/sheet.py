"""A table whose first row names its columns: every further row becomes a line as on a board.

Cells are parted by tabs, bars, semicolons or two spaces. What each heading means is data, the `column` words of the
library. The rows keep their numbers, so that every line is still accounted for.
"""

from __future__ import annotations

import re

from msgspec.structs import replace

from subgraph.notation.lines import Line, plain
from subgraph.notation.words import Words

LEAST_COLUMNS = 2
LONGEST_HEADING = 24  # characters of the heading of a column
LEAST_LEVELS = 3  # columns of versions alone that make a table; two are read as two standards

_PARTING = (re.compile(r"\t"), re.compile(r"\s*\|\s*"), re.compile(r"\s*;\s*"), re.compile(r"\s{2,}"))
_AMOUNT = re.compile(
    r"^(?P<n>\d[\d/.:-]*\s*(?:k?cals?|calories|met(?:er|re)s?|mt?rs?|m|km|secs?|s|mins?|reps?|\")?)(?![\w%])\s*(?P<more>.*)$",
    re.I,
)
_VALUE = re.compile(r"^@?\s*(?P<n>(?:2\s*x\s*)?\d+(?:[.,]\d+)?)\s*(?P<unit>[a-z#%\"']*)$", re.I)
_LETTER = re.compile(r"^[A-Ha-h]\d?[.)]?$")
_LISTED = re.compile(r"^(?P<n>\d{1,2})(?:\s*[/,&+-]\s*\d{1,2})*\.?$")
_MASS = re.compile(r"^(?:kgs?|lbs?|#|kilos?|pounds?)$", re.I)
_NO_VALUE = re.compile(r"^\W*$")


class Sheets:
    """Finds tables in the lines of a board, with the words of one library."""

    def __init__(self, words: Words) -> None:
        self._columns = [(i, words.pattern(r"^\W*", "column", i, r"\W*$")) for i in words.ids("column")]
        self._sections = words.pattern(r"^\W*", "section", after=r"\W*$")

    def read(self, lines: list[Line]) -> list[Line]:
        """The lines, with the rows of each table in words; its heading is a line without text.

        Parameters
        ----------
        lines : list of Line
            All lines of a board.
        """
        found = list(lines)
        at = 0
        while at < len(lines):
            head = self._heading(lines, at)
            if head is None:
                at += 1
                continue
            columns, parting = head
            found[at] = replace(lines[at], text="", empty=True, heads=True)
            at += 1
            while at < len(lines):
                cells = _cells(lines[at].raw, parting)
                if lines[at].empty:
                    found[at] = replace(lines[at], heads=True)
                    at += 1
                    continue
                if len(cells) < LEAST_COLUMNS:
                    break
                found[at] = self._row(lines[at], columns, cells)
                at += 1
        return found

    def _heading(self, lines: list[Line], at: int) -> tuple[list[str], re.Pattern[str]] | None:
        """What each column holds, and what parts the cells; None where the line is no heading of a table."""
        below = next((line for line in lines[at + 1 : at + 3] if not line.empty), None)
        if below is None or lines[at].empty:
            return None
        for parting in _PARTING:
            cells = _cells(lines[at].raw, parting)
            if len(cells) < LEAST_COLUMNS or len(_cells(below.raw, parting)) < LEAST_COLUMNS:
                continue
            columns = [self._meaning(cell) for cell in cells]
            if None in columns:
                return None
            known = [c for c in columns if c]
            if set(known) <= {"first", "second"}:
                if len(known) < LEAST_LEVELS:
                    return None
                columns = ["name", *[c for c in columns if c]]
            elif not re.search(r"name|reps|slot|label|sets", " ".join(known)) and "day" not in known:
                return None
            return [c or "" for c in columns], parting
        return None

    def _meaning(self, cell: str) -> str | None:
        """What a column holds; empty for a cell without a heading, None for words that head no column."""
        if not cell:
            return ""
        if len(cell) > LONGEST_HEADING:
            return None
        bare = re.sub(r"\([^()]*\)", " ", cell)
        for text in (cell, bare, bare.split("/")[0]):
            for id_, pattern in self._columns:
                if pattern.match(text.strip()):
                    return id_.removesuffix("-column")
        return f"section:{plain(cell)}" if self._sections.match(cell) else None

    def _row(self, line: Line, columns: list[str], cells: list[str]) -> Line:
        held: dict[str, list[str]] = {}
        for column, cell in zip(columns, [plain(c) for c in cells], strict=False):
            if column and cell and not _NO_VALUE.match(cell):
                held.setdefault(column, []).append(cell)
        extra = [plain(c) for c in cells[len(columns) :] if not _NO_VALUE.match(c)]
        label, before = line.label, []
        for value in held.pop("label", []):
            if _LETTER.match(value):
                label = value.strip(".)").upper()
            elif not _LISTED.match(value):
                before.append(f"{value}:")
        text = _in_words(held)
        for value in held.get("slot", []):
            if found := _LISTED.match(value):
                before.append(f"min {found['n']}:")
        day = held.get("day", [])
        if day and not re.search(r"[./]", day[0]):
            before.insert(0, f"{'week ' if day[0].isdigit() else ''}{day[0]}:")
        sections = " // ".join(f"{c.partition(':')[2]}: {v[0]}" for c, v in held.items() if c.startswith("section:"))
        parts = [*before, text or sections, *(f"({v})" for v in extra)]
        return replace(line, text=" ".join(p for p in parts if p), label=label, mark=None, empty=False)


def _cells(raw: str, parting: re.Pattern[str]) -> list[str]:
    """The cells of a row; bars around it are no cells."""
    text = raw.strip(" ") if "\t" in parting.pattern else raw.strip()
    if "|" in parting.pattern:
        text = text.strip("| ")
    return [cell.strip() for cell in parting.split(text)] if text else []


def _in_words(held: dict[str, list[str]]) -> str:
    """A row as an item on a board: amount, name, load, tempo, rest."""
    name = " or ".join(held.get("name", []))
    sets = next((s for s in held.get("sets", []) if s), "")
    reps = " ".join(held.get("reps", []))
    if not name:
        sets = ""  # a row for each set: its number
    load, kind = _of_standards(held.get("first", []) + held.get("second", []), name)
    text, more = name, ""
    if by := " ".join(held.get("sets-by-reps", [])):
        text = f"{name} {by}"
    elif sets and reps:
        text = f"{name} {sets} x {reps}"
    elif sets:
        text = f"{name} {sets} sets" if re.fullmatch(r"\d+", sets) else f"{name} {sets}"
    elif reps and (found := _AMOUNT.match(reps)):
        text, more = f"{found['n'].strip()} {name}", found["more"]
    elif reps:
        text = f"{name} {reps}"
    if kind == "amount":
        text, load = f"{load} {text}", ""
    elif kind == "choice":
        text, load = f"{text} {load}" if not name else f"{reps} {load}".strip() if _plain_name(name) else load, ""
    parts = [text.strip(), more]
    parts += [_load(v, "") for v in held.get("load", [])] + [_load(v, "%") for v in held.get("percent", [])]
    parts += [_load(v, " kg") for v in held.get("kilograms", [])] + [_load(v, " lb") for v in held.get("pounds", [])]
    parts += [f"@ {load}"] if load else []
    parts += [f"RPE {v}" for v in held.get("rpe", [])] + [f"tempo {v}" for v in held.get("tempo", [])]
    parts += [v if re.match(r"\W*(?:rest|no)\b", v, re.I) else f"rest {v}" for v in held.get("rest", [])]
    for note in held.get("notes", []):
        parts.append(note if re.match(r"or\b", note, re.I) else f"({note})")
    said = [p for p in parts if p]
    rests = [p for p in said if p.startswith("rest")]
    return ", ".join([" ".join(p for p in said if p not in rests), *rests]).strip(", ")


def _load(value: str, unit: str) -> str:
    """A load, a percentage or a height as it stands behind an item."""
    if re.fullmatch(r"\W*(?:bw|body\s*-?\s*weight)\W*", value, re.I):
        return ""
    if not re.search(r"\d|heavy|light|moderate|body|bw|max|rpe", value, re.I):
        return f"({value})"  # the colour of a band
    if re.fullmatch(r"[\d./\s-]+", value):
        return f"@ {value}{unit}"
    return f"@ {value}" if re.match(r"2?\s*x?\s*\d", value) and not re.search(r"cm|in\b|\"|m\b", value) else value


def _plain_name(name: str) -> bool:
    return not re.search(r"\d", name)


def _of_standards(values: list[str], name: str) -> tuple[str, str]:
    """The values of several versions as one, and what they are: a load, an amount, or a choice of movements."""
    if not values:
        return "", ""
    parsed = [_VALUE.match(v) for v in values]
    if all(parsed):
        units = {p["unit"].lower() for p in parsed if p}
        unit = next(iter(units - {""}), "")
        if len(units - {""}) < 2:
            numbers = "/".join(dict.fromkeys(p["n"].replace(" ", "") for p in parsed if p))
            kind = "amount" if unit and not _MASS.match(unit) and unit not in ("cm", "in", '"') else "load"
            return f"{numbers} {unit}".strip(), kind
        return values[0], "load"
    amount = re.match(r"\d[\d/]*\s*", name)
    rest = name[amount.end() :] if amount else name
    names = [v if " " in v else f"{v} {rest}" for v in values]
    return f"{amount.group() if amount else ''}{' or '.join(names)}", "choice"
