"""Loads, heights, sides and amounts on one line: what is a number of what.

Each function takes its tokens out of the line, so that what is left at the end is the name.
"""

from __future__ import annotations

from msgspec import Struct

from subgraph.errors import AskError
from subgraph.notation.scan import Line
from subgraph.quantities import KG_PER_LB, M_PER_FT, M_PER_MI, Unit, number

UNITS: dict[str, tuple[Unit, float]] = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), ("s", 1.0)),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), ("s", 60.0)),
    **dict.fromkeys(("hour", "hours"), ("s", 3600.0)),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres", "mtr", "mtrs"), ("m", 1.0)),
    **dict.fromkeys(("k", "km", "kms", "kilometre", "kilometer", "kilometres", "kilometers"), ("m", 1000.0)),
    **dict.fromkeys(("mi", "mile", "miles"), ("m", M_PER_MI)),
    **dict.fromkeys(("ft", "feet", "foot", "'"), ("m", M_PER_FT)),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), ("m", 0.9144)),
    **dict.fromkeys(("cal", "cals", "calorie", "calories", "kcal"), ("cal", 1.0)),
    **dict.fromkeys(("rep", "reps", "repetition", "repetitions", "steps"), ("rep", 1.0)),
}
_PLAIN_UNITS = {u for u in UNITS if len(u) > 2 and u not in ("foot", "feet", "yds", "mtr", "kms", "steps")}
_IN_PARTS = {"mi", "mile", "miles", "k", "km", "kilometre", "kilometer", "min", "minute", "minutes", "hour", "hours"}
_KG = {
    **dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"), 1.0),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds", "#"), KG_PER_LB),
    **dict.fromkeys(("pood", "poods"), 16.38),  # of kettlebells; from memory
}
_LENGTHS = ('"', "inch", "inches", "in", "cm")
_SIDES = ("side", "sides", "leg", "legs", "arm", "arms", "hand", "hands", "foot", "feet")
_EACH_SIDE = (
    (("on", "for"), ("each",), _SIDES),
    (("e", "p"), ("/",), ("s",)),
    (("l",), ("/",), ("r",)),
    (("left",), ("and", "/", "+"), ("right",)),
)
_ONES = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
COUNTS = {
    **{word: n for n, word in enumerate(f"{_ONES} seventeen eighteen nineteen twenty".split())},
    **{"thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90, "dozen": 12},
}
AMOUNT_WORDS = {*COUNTS, "foot", "feet", "in", "inch"}  # words that stand for a number or a unit, or begin a name
_PARTS = {"half": 0.5, "quarter": 0.25}


class Quantity(Struct):
    """A number that may be the amount.

    Parameters
    ----------
    start, end : int
        Positions of its tokens.
    value : float
        In `unit`, or bare.
    unit : str or None
        None where none is written.
    shape : {'plain', 'pair', 'range', 'scheme', 'sum', 'sides', 'one'}
        How it was written; 'one' is a unit without a number ("a mile").
    low : float
        The second number of a pair or the first of a range.
    said : str
        As written.
    """

    start: int
    end: int
    value: float
    unit: Unit | None
    shape: str
    low: float
    said: str


def take_load(line: Line, notes: list[str]) -> float | None:
    """Take a load with its unit out of a line.

    Returns
    -------
    float or None
        Load [kg] of one implement, the heavier standard of two.

    Raises
    ------
    AskError
        A load of nothing.
    """
    for i in range(1, len(line.tokens)):
        unit = i + 1 if line.says(i, "-") and line.glued(i) else i
        if line.tokens[unit if unit < len(line.tokens) else i].text in _KG and line.number_at(i - 1):
            return _load_at(line, i - 1, unit, notes)
    return None


def _load_at(line: Line, start: int, end: int, notes: list[str]) -> float:
    factor = _KG[line.tokens[end].text]
    values = [line.tokens[start].value * factor]
    said = line.tokens[start].text
    if line.says(start - 1, "/", "-") and line.number_at(start - 2):
        values.append(line.tokens[start - 2].value * factor)
        said = line.tokens[start - 2].text + line.tokens[start - 1].text + said
        start -= 2
    end += 1
    while line.says(end, "/") and line.number_at(end + 1):  # "43kg/30kg", "43 kg / 95 lb"
        other = line.at(end + 2)
        if other is None or other.text not in _KG:
            break
        values.append(line.tokens[end + 1].value * _KG[other.text])
        said += f"/{line.tokens[end + 1].text}"
        end += 3
    first = line.tokens[start]
    if line.says(start - 1, "-") and (start == 1 or not line.glued(start - 1)) and line.glued(start):
        raise AskError(f"the load -{first.text} is negative", mend="give it in kg or lb")
    load_kg = max(values)
    if load_kg <= 0:
        raise AskError(f"the load '{said} {line.tokens[end - 1].text}' is not positive", mend="give it in kg or lb")
    if len(values) > 1:
        notes.append(f"of {said} the heavier is taken")
    if line.says(start - 1, "x", "*") and line.says(start - 2, "1", "2"):
        start -= 2
    while line.says(start - 1, "@", "(", "at", "with"):
        start -= 1
    line.take(start, _after_load(line, end))
    return round(load_kg, 2)


def _after_load(line: Line, end: int) -> int:
    """Position behind a load, "each" and "per hand" included: of a pair each weighs that much."""
    if line.says(end, "each", "ea", "apiece") and not line.says(end + 1, *_SIDES):
        end += 1
    elif line.says(end, "per", "a", "/") and line.says(end + 1, "hand", "arm"):
        end += 2
    elif line.says(end, "in") and line.says(end + 1, "each") and line.says(end + 2, "hand"):
        end += 3
    if line.says(end, ")"):
        end += 1
    return end


def take_share_of_best(line: Line, notes: list[str]) -> None:
    """Take a share of a best ("@ 70 % of 1RM") out of a line: the best is not known here."""
    for i in range(1, len(line.tokens)):
        if line.says(i, "%") and line.number_at(i - 1):
            start, end = i - 1, i + 1
            notes.append(f"{line.tokens[start].text} % of a best that is not known here: no load taken")
            while line.says(start - 1, "@", "(", "at"):
                start -= 1
            while line.says(end, "of", "1", "rm", "max", "best", "their", ")"):
                end += 1
            line.take(start, end)
            return


def take_height(line: Line, notes: list[str]) -> None:
    """Take the height of a box or target out of a line."""
    for i in range(1, len(line.tokens)):
        to_target = line.tokens[i].text in ("ft", "feet", "foot", "'", "m") and line.says(i - 2, "to")
        to_target |= line.tokens[i].text in ("ft", "feet", "foot", "'") and line.says(i - 2, "/")
        if not (line.number_at(i - 1) and (line.tokens[i].text in _LENGTHS or to_target)):
            continue
        start, end = i - 1, i + 1
        if line.says(start - 1, "/") and line.number_at(start - 2):
            start -= 2
        notes.append(
            f"height {line.text[line.tokens[start].start : line.tokens[i].end]}: the amounts do not look at it"
        )
        while line.says(start - 1, "@", "(", "to"):
            start -= 1
        if line.says(end, "box") and (end + 1 == len(line.tokens) or line.says(end + 1, ")")):
            end += 1
        if line.says(end, ")"):
            end += 1
        line.take(start, end)
        return


def take_sides(line: Line) -> bool:
    """Take "per side" in its many spellings out of a line; tell whether it stood there."""
    for i in range(len(line.tokens)):
        start, size = i, 0
        if line.says(i, "per", "each", "ea", "a", "/") and line.says(i + 1, *_SIDES):
            size = 2
            start -= line.says(i, "/") and line.says(i - 1, "e", "ea")
        elif any(all(line.says(i + k, *words) for k, words in enumerate(spelling)) for spelling in _EACH_SIDE):
            size = 3
        elif line.says(i, "each", "ea") and i + 1 == len(line.tokens):
            size = 1
        if size:
            line.take(start, i + size)
            return True
    return False


def quantities(line: Line, not_counted: frozenset[str]) -> list[Quantity]:
    """All numbers of a line that may be its amount, in order.

    Parameters
    ----------
    line : Line
        Loads, heights and sides taken out.
    not_counted : set of str
        Words after which a number in words belongs to the name.

    Raises
    ------
    AskError
        A negative number.
    """
    found: list[Quantity] = []
    i = 0
    while i < len(line.tokens):
        quantity = _clock(line, i) or _written_out(line, i, not_counted) or _figures(line, i, not_counted)
        if quantity is None:
            i += 1
            continue
        last = found[-1] if found else None
        if last and last.end == quantity.start and last.unit == quantity.unit == "s" and quantity.value < last.value:
            last.value, last.end = last.value + quantity.value, quantity.end  # "1 min 30 s"
        else:
            found.append(quantity)
        i = quantity.end
    return found


def _clock(line: Line, i: int) -> Quantity | None:
    """Read m:ss, h:mm:ss or :ss."""
    parts: list[float] = []
    end = i
    if line.number_at(i):
        parts, end = [line.tokens[i].value], i + 1
    while line.says(end, ":") and line.glued(end + 1) and line.number_at(end + 1) and (not parts or line.glued(end)):
        if len(line.tokens[end + 1].text) != 2 or line.tokens[end + 1].value >= 60 or (not parts and end > i):
            return None
        parts.append(line.tokens[end + 1].value)
        end += 2
    if end < i + 2 or len(parts) > 3 or (len(parts) == 3 and parts[0] > 99):
        return None
    seconds = 0.0
    for part in parts:
        seconds = seconds * 60 + part
    if line.says(end, "min", "mins", "minutes", "h", "hr"):  # "1:30 min"
        end += 1
    return Quantity(i, end, seconds, "s", "plain", 0.0, "")


def _written_out(line: Line, i: int, not_counted: frozenset[str]) -> Quantity | None:
    """Read "twenty-five", "a hundred", "half a mile", "a mile" at the start of a line or after a count's x."""
    if i and not line.says(i - 1, "x", "of", "for", "-"):
        return None
    end = i + 1 if line.says(i, "a", "an") else i
    token = line.at(end)
    if token is None:
        return None
    if token.text in _PARTS:
        end += 1
        while line.says(end, "a", "an", "of", "-"):
            end += 1
        unit = line.at(end)
        if unit and unit.text in _IN_PARTS:
            kind, factor = UNITS[unit.text]
            return Quantity(i, end + 1, _PARTS[token.text] * factor, kind, "plain", 0.0, "")
        return None
    if token.text in _IN_PARTS and len(token.text) > 3:  # "a mile run", "mile run"
        kind, factor = UNITS[token.text]
        return Quantity(i, end + 1, factor, kind, "one", 0.0, f"{token.text} read as 1 {token.text}")
    value, start = 0.0, end
    while (token := line.at(end)) is not None:
        if token.text in COUNTS:
            value += COUNTS[token.text]
        elif token.text == "hundred":
            value = 100 * (value or 1)
        elif not (token.text in ("-", "and") and end > start and (after := line.at(end + 1)) and after.text in COUNTS):
            break
        end += 1
    after_words = line.at(end + 1) if line.says(end, "-") else line.at(end)
    if end == start or after_words is None or after_words.text in not_counted:
        return None
    unit_at, kind_, factor = _unit(line, end)
    return Quantity(i, unit_at, value * factor, kind_, "plain", 0.0, "")


def _unit(line: Line, i: int) -> tuple[int, Unit | None, float]:
    """Position behind a unit at `i`, with the unit; a hyphen may stand between ("90-second")."""
    at = i + 1 if line.says(i, "-") and line.glued(i) and line.glued(i + 1) else i
    token = line.at(at)
    if token is None or token.text not in UNITS or (token.text == "'" and not line.glued(at)):
        return i, None, 1.0
    after = line.at(at + 1)
    if (
        after
        and line.glued(at + 1)
        and (after.kind != "mark" or (after.text == "-" and not line.glued(at) and line.glued(at + 2)))
    ):
        return i, None, 1.0  # "15 S2OH", "15 foot-assisted dips"
    unit, factor = UNITS[token.text]
    return at + 1, unit, factor


def _figures(line: Line, i: int, not_counted: frozenset[str]) -> Quantity | None:
    """Read a number, or numbers joined by a slash, hyphen, plus or commas, with their unit."""
    if not line.number_at(i) or (line.glued(i) and not _parts_from(line, i)):
        return None
    whole, end = _number(line, i)
    values = [whole]
    join = line.at(end)
    mark = join.text if join and join.text in ("/", "-", "+", ",") else ""
    while mark and line.says(end, mark) and line.number_at(end + 1):
        value, behind = _number(line, end + 1)
        values.append(value)
        end = behind
    if mark == "," and len(values) == 2:
        values, end = values[:1], i + 1
    sides = _left_right(line, i)
    if sides:
        return sides
    unit_end, unit, factor = _unit(line, end)
    if unit is None and end < len(line.tokens) and not _stands_alone(line, i, end, not_counted):
        return None
    if i and line.says(i - 1, "-") and line.glued(i) and (i == 1 or not line.glued(i - 1)):
        raise AskError(f"the amount -{line.tokens[i].text} is negative", mend="give a positive number")
    if unit and len(values) == 1 and line.says(unit_end, "/") and line.number_at(unit_end + 1):  # "500m/400m"
        second_end, second, second_factor = _unit(line, unit_end + 2)
        if second == unit:
            said = line.text[line.tokens[i].start : line.tokens[second_end - 1].end].replace(" ", "")
            low = line.tokens[unit_end + 1].value * second_factor
            return Quantity(i, second_end, whole * factor, unit, "pair", low, said)
    said = line.text[line.tokens[i].start : line.tokens[end - 1].end].replace(" ", "")
    values = [v * factor for v in values]
    first, last = values[0], values[-1]
    if len(values) == 1:
        return Quantity(i, unit_end, first, unit, "plain", 0.0, said)
    if mark == "/":
        return Quantity(i, unit_end, first, unit, "pair", values[1], said)
    if mark == "-" and len(values) == 2 and first < last:
        return Quantity(i, unit_end, last, unit, "range", first, said)
    return Quantity(i, unit_end, sum(values), unit, "sum" if mark == "+" else "scheme", 0.0, said)


def _parts_from(line: Line, i: int) -> bool:
    """Whether the glued token before a number parts it from what stands before ("x15", "(15", "-5", "@15")."""
    before = line.tokens[i - 1]
    if before.text == "x":
        return i == 1 or not (line.glued(i - 1) and line.tokens[i - 2].kind == "word")
    if before.text == "-":  # "-5", and "pull-ups-15" at the end of a line
        parted = i == 1 or not line.glued(i - 1) or line.tokens[i - 2].kind == "mark"
        return parted or (i + 1 == len(line.tokens) and line.tokens[i - 2].kind == "word")
    return before.kind == "mark" and (i == 1 or before.text not in ".'/")


def _number(line: Line, i: int) -> tuple[float, int]:
    """A number at `i` with the position behind it; 1 1/2 and 1/2 are parts where a unit of parts follows."""
    first = line.tokens[i].value
    if _is_part(line, i):
        return first / line.tokens[i + 2].value, i + 3
    if line.number_at(i + 1) and not line.glued(i + 1) and _is_part(line, i + 1):
        return first + line.tokens[i + 1].value / line.tokens[i + 3].value, i + 4
    return first, i + 1


def _is_part(line: Line, i: int) -> bool:
    if not (line.number_at(i) and line.says(i + 1, "/") and line.number_at(i + 2)):
        return False
    over, under = line.tokens[i].value, line.tokens[i + 2].value
    unit = line.at(i + 4) if line.says(i + 3, "-") else line.at(i + 3)
    return under in (2, 3, 4, 8) and 0 < over < under and unit is not None and unit.text in _IN_PARTS


def _stands_alone(line: Line, i: int, end: int, not_counted: frozenset[str]) -> bool:
    """Whether no letter hangs on a number: "2DB", "1-arm" and "3-way" are parts of names, "15burpees" is not."""
    after = line.tokens[end]
    value = line.tokens[i].value
    if line.says(end, "-") and line.glued(end) and line.glued(end + 1):
        return i == 0 and value > 3 and not line.says(end + 1, *not_counted)
    if not line.glued(end) or after.kind != "word" or after.text == "x":
        return not (line.glued(end) and after.text in ("'", '"', "."))
    return i == 0 and value > 2


def _left_right(line: Line, i: int) -> Quantity | None:
    """Read "10L/10R"."""
    second = i + 3 if line.says(i + 2, "/", "+", ",") else i + 2
    if line.says(i + 1, "l") and line.number_at(second) and line.says(second + 1, "r"):
        total = line.tokens[i].value + line.tokens[second].value
        return Quantity(i, second + 2, total, None, "sides", 0.0, f"{number(total)} over both sides")
    return None


def unit_elsewhere(line: Line) -> tuple[Unit | None, float]:
    """Take a unit that stands apart from its number out of a line: "12 row cal"."""
    for i, token in enumerate(line.tokens):
        if token.text in _PLAIN_UNITS:
            line.take(i, i + 1)
            return UNITS[token.text]
    return None, 1.0
