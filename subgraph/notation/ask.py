"""Read a one-line ask: a movement with an amount and perhaps a load.

Reads "15 toes-to-bar", "400m run", "12/10 cal row", "1:00 plank", "21 thrusters @ 43/30 kg", "3x10 ring rows",
"lunges 10 per side". What was assumed is told, never hidden.
"""

from __future__ import annotations

import re
import unicodedata

from msgspec import Struct

from subgraph.errors import AskError, SubgraphError
from subgraph.library.compile import Compiled
from subgraph.library.names import plain_key, resolve
from subgraph.library.records import Movement
from subgraph.quantities import KG_PER_LB, M_PER_FT, M_PER_MI, MOST, Amount, Unit, number
from subgraph.today import Ask

LONGEST = 300  # characters of one ask
_N = r"\d+(?:\.\d+)?(?:e\d+)?"
_LOAD = re.compile(
    rf"(?:@\s*|\bat\s+|\bwith\s+|\()*(?:2\s*[x*]\s*)?(?P<heavy>{_N})(?:\s*/\s*(?P<light>{_N}))?\s*"
    r"(?P<unit>kgs?\b|kilos?\b|kilograms?\b|lbs?\b|pounds?\b|\#)\s*\)?",
    re.I,
)
_HEIGHT = re.compile(
    rf"(?:@\s*|\(|\bto\s+)*{_N}(?:\s*/\s*{_N})?\s*(?:\"|inch(?:es)?\b|in\b|cm\b)\s*(?:box\b(?=\s*(?:\)|$)))?\)?", re.I
)
_PER_SIDE = re.compile(
    r"(?:\bper|\beach|\ba|/)\s*(?:side|leg|arm|hand)s?\b|\be/s\b|\b(?:left and right|l/r)\b|\b(?:each|ea)\s*$", re.I
)
_CLOCK = re.compile(r"(?<![\d/:])(?P<m>\d{0,3}):(?P<s>[0-5]\d)(?![\d:])")
_SCHEME = re.compile(r"(?<![\w/.-])\d+(?:\s*-\s*\d+){2,}(?![\w/-])")
_SETS = re.compile(rf"(?<![\w.-])(?P<sets>\d+)\s*(?:sets?\s*(?:of)?|x|\*)\s*(?P<each>{_N})(?=\D|$)", re.I)
_UNITS: dict[str, tuple[Unit, float]] = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds", '"s'), ("s", 1.0)),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), ("s", 60.0)),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres", "mtr", "mtrs"), ("m", 1.0)),
    **dict.fromkeys(("k", "km", "kilometre", "kilometer", "kilometres", "kilometers"), ("m", 1000.0)),
    **dict.fromkeys(("mi", "mile", "miles"), ("m", M_PER_MI)),
    **dict.fromkeys(("ft", "feet", "foot"), ("m", M_PER_FT)),
    **dict.fromkeys(("yd", "yard", "yards"), ("m", 0.9144)),
    **dict.fromkeys(("cal", "cals", "calorie", "calories", "kcal"), ("cal", 1.0)),
    **dict.fromkeys(("rep", "reps", "repetition", "repetitions", "x"), ("rep", 1.0)),
}
_AMOUNT = re.compile(
    rf"(?<![\w.:/])(?P<sign>-?)(?P<n>{_N})(?:\s*/\s*(?P<second>{_N}))?\s*-?\s*"
    rf"(?P<unit>{'|'.join(sorted((re.escape(u) for u in _UNITS), key=len, reverse=True))})?(?![\w.])",
    re.I,
)
_WORD_NUMBERS = {
    w: n
    for n, w in enumerate(
        [
            *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven"),
            *("twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
        ]
    )
} | {"thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "hundred": 100}
_LEADING_WORD = re.compile(rf"^(?:a\s+)?({'|'.join(_WORD_NUMBERS)})\s+(?!arm|leg|hand|to\b)", re.I)
_FILLER = re.compile(
    r"\b(?:of|for|x|reps?|the)\b(?=\s|$)|[,;:()\[\]]+|(?<=\s)[-*+@]+(?=\s|$)|^[-*+\s@]+|[-*+\s@.]+$", re.I
)
USUAL: dict[Unit, float] = {"rep": 10, "s": 30, "m": 400, "cal": 12}
UNIT_NAMES: dict[Unit, str] = {"rep": "reps", "s": "seconds", "m": "metres", "cal": "calories"}


class ReadAsk(Struct, frozen=True):
    """An ask as understood, and what had to be assumed on the way."""

    ask: Ask
    notes: tuple[str, ...]


def read_ask(text: str, compiled: Compiled, *, load: str = "") -> ReadAsk:
    """Read a one-line ask.

    Parameters
    ----------
    text : str
        As typed.
    compiled : Compiled
        Library and names.
    load : str
        Load given apart, such as "43kg" or "95 lb".

    Returns
    -------
    ReadAsk
        The ask and notes on what was assumed.

    Raises
    ------
    AskError
        Empty, too long, control characters, no such movement, or an amount, unit or load that does not fit.
    """
    line = _clean(text)
    _refuse_two_items(text)
    notes: list[str] = []
    load_kg: float | None
    value: float | None
    unit: Unit | None
    given_kg = _given_load(load, notes) if load else None
    exact = _exact(line, compiled)
    if exact:
        (name, value), unit, per_side, load_kg = exact, None, False, None
    else:
        line, load_kg = _take_load(line, notes)
        line = _HEIGHT.sub(" ", line)
        per_side = bool(_PER_SIDE.search(line))
        line = _PER_SIDE.sub(" ", line).strip()
        line = _LEADING_WORD.sub(lambda m: f"{_WORD_NUMBERS[m.group(1).lower()]} ", line)
        name, value, unit = _take_amount(line, compiled, notes)
    load_kg = load_kg if given_kg is None else given_kg
    movement, sure, bare_kg = _without_trimmings(name, text, compiled, notes)
    load_kg = bare_kg if load_kg is None else load_kg
    if not sure:
        notes.append(f"'{name}' read as {movement.name}")
    amount, assumed = _amount(movement, value, unit, notes)
    if per_side:
        amount = Amount(amount.value * 2, amount.unit)
        notes.append(f"per side: {amount} over both sides")
    _check_size(amount, movement)
    if load_kg is not None and movement.load is None:
        loaded = _loaded_forms(movement, compiled)
        raise AskError(
            f"{number(round(load_kg, 1))} kg does not fit {movement.name}, which is done without a load",
            mend=("loaded forms: " + ", ".join(loaded))
            if loaded
            else f"give {' or '.join(UNIT_NAMES[u] for u in movement.units)}",
            nearest=tuple(loaded),
        )
    if load_kg is not None and not 0 < load_kg <= 500:
        raise AskError(f"a load of {number(load_kg)} kg is out of range", mend="give 0.5 to 500 kg")
    by_the_clock = amount.unit == "s" and "s" not in movement.units
    return ReadAsk(Ask(movement.id, amount, load_kg, assumed, by_the_clock), tuple(notes))


_NUMBER_NAME = re.compile(r"^(?P<n>\d+(?:\.\d+)?)\s*x?\s+(?P<name>\S.*)$", re.I)
_NAME_NUMBER = re.compile(r"^(?P<name>.*[a-z])\s+x?\s*(?P<n>\d+)$", re.I)
_COUNTED_FIRST = re.compile(
    r"^(?:cals?|calories?|m|met(?:er|re)s?|k|km|miles?|s|secs?|seconds?|mins?|minutes?|reps?)(?=\s|$)", re.I
)


def _exact(line: str, compiled: Compiled) -> tuple[str, float] | None:
    """A bare number and a name that is known to the letter: nothing in such a name is a unit, a height or a load."""
    names = compiled.names["movement"].exact
    for form in (_NUMBER_NAME, _NAME_NUMBER):
        found = form.match(line)
        if found and not _COUNTED_FIRST.match(found["name"]) and plain_key(found["name"]) in names:
            return found["name"], float(found["n"])
    return None


_ITEM = r"\d+\s*(?:x\s*)?[a-z][a-z' -]{3,}"
_TWO_ITEMS = re.compile(rf"{_ITEM}(?:\n|\+|\band\b|,|;)\s*{_ITEM}", re.I)


def _refuse_two_items(text: str) -> None:
    if _TWO_ITEMS.search(text):
        raise AskError(
            f"'{' '.join(text.split())[:40]}' holds more than one item", mend="ask for one movement at a time"
        )


def _given_load(load: str, notes: list[str]) -> float:
    left, load_kg = _take_load(_clean(load if re.search(r"[a-z#]", load, re.I) else f"{load}kg"), notes)
    if load_kg is None or left.strip():
        raise AskError(f"the load '{load[:20]}' is not understood", mend="write it as 43kg or 95lb")
    return load_kg


_FRACTION_OF = re.compile(r"(?<![\d/.])(?P<n>[1-3])\s*/\s*(?P<of>[2-4])(?=\s*-?\s*(?:mi\b|miles?\b|k\b|km\b))", re.I)
_FEET_MARK = re.compile(r"(?<=\d)\s*['\N{RIGHT SINGLE QUOTATION MARK}\N{PRIME}](?![\w'])")


def _clean(text: str) -> str:
    if len(text) > LONGEST:
        raise AskError(
            f"the ask is {len(text)} characters long",
            mend='give one movement with its amount, such as "15 toes-to-bar"',
        )
    plain = unicodedata.normalize("NFKC", text)
    for i, c in enumerate(plain):
        if unicodedata.category(c) == "Cc" and c not in "\t\n\r":
            raise AskError(f"the ask holds a control character at position {i + 1}", mend="type it again")
    plain = re.sub("[\N{EN DASH}\N{EM DASH}\N{MINUS SIGN}\N{NON-BREAKING HYPHEN}]", "-", plain)
    plain = plain.replace("\N{MULTIPLICATION SIGN}", "x").replace("\N{FRACTION SLASH}", "/")
    plain = " ".join(plain.split())
    plain = _FRACTION_OF.sub(lambda m: number(int(m["n"]) / int(m["of"])), plain)
    plain = _FEET_MARK.sub(" ft", plain)
    if not plain:
        raise AskError("the ask is empty", mend='give a movement with its amount, such as "15 toes-to-bar"')
    return plain


def _take_load(line: str, notes: list[str]) -> tuple[str, float | None]:
    found = _LOAD.search(line)
    if not found:
        return line, None
    pounds = found["unit"].lower()[0] in "lp#"
    heavy = float(found["heavy"]) * (KG_PER_LB if pounds else 1)
    if heavy <= 0:
        raise AskError(f"the load '{found.group().strip()}' is not positive", mend="give it in kg or lb")
    if found["light"]:
        notes.append(f"of {found['heavy']}/{found['light']} the heavier is taken")
    return line[: found.start()] + " " + line[found.end() :], round(heavy, 2)


def _take_amount(line: str, compiled: Compiled, notes: list[str]) -> tuple[str, float | None, Unit | None]:
    """Split a line into name, number and unit."""
    if found := _CLOCK.search(line):
        seconds = int(found["m"] or 0) * 60 + int(found["s"])
        return _name(_cut(line, found)), float(seconds), "s"
    if found := _SCHEME.search(line):
        reps = [int(n) for n in re.findall(r"\d+", found.group())]
        notes.append(f"{'-'.join(map(str, reps))} read as {sum(reps)} in all")
        return _name(_cut(line, found)), float(sum(reps)), None
    if found := _SETS.search(line):
        notes.append(f"{found['sets']} sets: the amounts are for one set")
        line = line[: found.start()] + found["each"] + line[found.end() :]
    for found in _amounts_in(line, compiled):
        value = float(found["n"])
        if found["sign"]:
            raise AskError(f"the amount -{found['n']} is negative", mend="give a positive number")
        unit_word = (found["unit"] or "").lower()
        unit, factor = _UNITS.get(unit_word, (None, 1.0))
        rest = _cut(line, found)
        if unit is None:  # "12 row cal": the unit may stand elsewhere
            rest, unit, factor = _unit_elsewhere(rest)
        if found["second"]:
            notes.append(f"of {found['n']}/{found['second']} the first is taken")
        return _name(rest), value * factor, unit
    return _name(line), None, None


def _amounts_in(line: str, compiled: Compiled) -> list[re.Match[str]]:
    """Numbers that may be the amount: those with a unit first; none where the whole line is a name."""
    exact = compiled.names["movement"].exact
    if re.sub(r"[^a-z0-9]", "", line.lower()) in exact:
        return []
    found = [m for m in _AMOUNT.finditer(line) if m["n"]]
    return sorted(found, key=lambda m: (m["unit"] is None or m["unit"].lower() == "x", m.start()))


_UNIT_WORD = re.compile(r"\b(cals?|calories?|met(?:er|re)s?|sec(?:ond)?s?|min(?:ute)?s?|reps?|miles?)\b", re.I)


def _unit_elsewhere(rest: str) -> tuple[str, Unit | None, float]:
    if found := _UNIT_WORD.search(rest):
        unit, factor = _UNITS[found.group().lower()]
        return _cut(rest, found), unit, factor
    return rest, None, 1.0


def _cut(line: str, found: re.Match[str]) -> str:
    return f"{line[: found.start()]} {line[found.end() :]}"


def _name(text: str) -> str:
    previous = None
    while previous != text:
        previous = text
        text = " ".join(_FILLER.sub(" ", text).split())
    return text


# Words of how, not of what: passed over where the name is not known with them.
_HOW = re.compile(
    r"\b(?:heavy|light|moderate|unbroken|slow|fast|strict form|for quality|touch and go|tng|warm-?up|cool-?down)\b",
    re.I,
)
_INNER_NUMBER = re.compile(r"[a-z]\W*\s\d+\s+[a-z]", re.I)
_BARE_LOAD = re.compile(rf"^(?P<name>.*[a-z)])\s+@?(?P<kg>{_N})$", re.I)


def _without_trimmings(
    name: str, text: str, compiled: Compiled, notes: list[str]
) -> tuple[Movement, bool, float | None]:
    """Find the movement also where words of how, or a load without a unit, hang on its name."""
    try:
        movement, sure = _movement(name, text, compiled)
        if sure or not _INNER_NUMBER.search(name):
            return movement, sure, None
        first: AskError = AskError(f"'{name[:40]}' holds more than one amount", mend="ask for one movement at a time")
    except AskError as error:
        first = error
    tries: list[tuple[str, float | None]] = []
    if (plain := " ".join(_HOW.sub(" ", name).split())) != name:
        tries.append((plain, None))
    if bare := _BARE_LOAD.match(plain):
        tries.append((bare["name"], float(bare["kg"])))
    for shorter, load_kg in tries:
        try:
            movement, sure = _movement(shorter, text, compiled)
        except AskError:
            continue
        if load_kg is None or movement.load:
            if load_kg:
                notes.append(f"{number(load_kg)} after the name read as {number(load_kg)} kg")
            return movement, sure, load_kg
    raise first


def _movement(name: str, text: str, compiled: Compiled) -> tuple[Movement, bool]:
    if not name:
        raise AskError(
            f"no movement in '{' '.join(text.split())[:60]}'",
            mend='write its name after the amount, such as "15 toes-to-bar"',
        )
    found = resolve(name, compiled.names["movement"], compiled.library.abbreviations, kind="movement")
    return compiled.library.movements[found.id], found.sure


def _amount(movement: Movement, value: float | None, unit: Unit | None, notes: list[str]) -> tuple[Amount, bool]:
    if value is None:
        usual = Amount(USUAL[movement.unit], movement.unit)
        notes.append(f"no amount given: {usual} assumed")
        return usual, True
    if value <= 0:
        raise AskError(f"the amount {number(value)} is not positive", mend="give a positive number")
    if unit is None:
        unit = movement.unit
        if unit != "rep":
            notes.append(f"{number(value)} read as {UNIT_NAMES[unit]}")
    if unit != "s" and unit not in movement.units:
        fits = [UNIT_NAMES[u] for u in movement.units] + ([] if "s" in movement.units else ["seconds"])
        raise AskError(f"{movement.name} is not counted in {UNIT_NAMES[unit]}", mend=f"give {' or '.join(fits)}")
    if value > MOST[unit]:
        raise AskError(
            f"{number(value)} {UNIT_NAMES[unit]} is more than anyone writes for one item",
            mend=f"give at most {number(MOST[unit])} {UNIT_NAMES[unit]}",
        )
    return Amount(value, unit), False


def _check_size(amount: Amount, movement: Movement) -> None:
    if amount.value > 2 * MOST[amount.unit]:
        raise AskError(f"{amount} of {movement.name} is out of range", mend="give a smaller amount")


def _loaded_forms(movement: Movement, compiled: Compiled) -> list[str]:
    """Neighbours that carry a load, nearest pattern first."""
    library = compiled.library
    found = []
    for link in library.links:
        for end, other in ((link.from_, link.to), (link.to, link.from_)):
            if end == movement.id and other in library.movements and library.movements[other].load:
                found.append(other)
    same = [m.id for m in library.movements.values() if m.load and m.id.endswith(movement.id)]
    return list(dict.fromkeys([*same, *found]))[:3]


def movement_named(name: str, compiled: Compiled) -> Movement:
    """The record that a bare name means.

    Raises
    ------
    AskError
        Unknown or ambiguous.
    """
    clean = _clean(name)
    try:
        return _movement(clean, name, compiled)[0]
    except SubgraphError as error:
        if isinstance(error, AskError):
            raise
        raise AskError(error.what, mend=error.mend, nearest=error.nearest) from error
