"""From text as pasted to clean lines that keep their numbers.

Dashes, quotes, fractions and multiplication signs become plain; bullets, emoji and list marks go; nothing else does.
"""

from __future__ import annotations

import itertools
import re
import unicodedata

from msgspec import Struct
from msgspec.structs import replace

LONGEST = 1_500  # characters of one line; a longer one is no line of a board

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
_PLAIN = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\uff0d", "-"),
        **dict.fromkeys("\u2018\u2019\u201a\u2032\u02b9\u00b4`", "'"),
        **dict.fromkeys("\u201c\u201d\u201e\u2033\u00ab\u00bb", '"'),
        **dict.fromkeys("\u00d7\u2715\u2716\u2a2f", "x"),
        **dict.fromkeys("\u2192\u27a1\u279c\u21d2\u2794", ">"),
        "\u2044": "/",
        "\u2026": "...",
        "\u2642": " men ",
        "\u2640": " women ",
        "\u2248": "~",
    }
)
_BULLETS = "-*+>=~|\u2022\u2023\u25aa\u25ab\u25cf\u25cb\u25e6\u25a0\u25a1\u2043\u2219\u00b7\u2013\u2014"
_BULLET = re.compile(rf"^(?:[{re.escape(_BULLETS)}]+(?:\s+|(?<!\+)(?=[A-Za-z\d(]))|\[[ xX]?\]\s*|o\s+(?=\d))+")
_STATION = re.compile(r"^S(?P<mark>\d{1,2})[.):]?\s+(?=[A-Za-z\d])")
_MARK = re.compile(r"^\(?(?P<mark>\d{1,2}|[ivx]{1,3})(?:[.):]|\.\))\s+(?=\S)|^(?P<glued>\d{1,2})\)(?=\S)")
_LABEL = re.compile(r"^(?P<label>[A-H](?:\d|1\d|[a-d])?)(?:\s*[.):]\s*|\s+-\s+|(?<=\d)\s+)(?=\S)")
_SMALL_LABEL = re.compile(r"^(?:(?P<label>[a-h]\d{0,2})[.)]|(?P<turned>[1-9][a-d])(?:[.):]|(?=\s)))\s*(?=\S)")
_PARTNER = re.compile(
    r"^(?:p(?P<p>[1-4])|(?:partner|athlete|person|member)\s+(?:(?P<n>[1-4])|(?P<a>[a-d])))(?:\s*[.):]+\s*|\s+-\s+)(?=\S)",
    re.I,
)
_KEYCAPS = re.compile("(?:\\d\ufe0f?\u20e3\\s?)+(?P<of>\\s*(?:rounds?|rds?|sets|min(?:ute)?s?|x)\\b)?", re.I)
_DECIMAL = re.compile(  # a comma inside a number: 22,5/15 kg, 1,5 km, @ 7,5
    r"(?<![\d,.])(\d{1,3}),(5|25|75|\d(?=\s*(?:km|m\b|mi\b|miles?)))(?!\d|[,.]\d)"
    r"(?=\s*(?:/\s*(?:2\s*x\s*)?\d+(?:,\d{1,2})?|-\s*\d+(?:,\d{1,2})?)?\s*(?:kgs?\b|kilos?\b|lbs?\b|#|kms?\b|mi\b|miles?\b|cm\b|m\b|min\b|women\b|%)"
    r"|/\s*\d|\s*$|\s*\))"
    r"|(?<=/)(\d{1,3}),(5|25|75)(?!\d|[,.]\d)"
)
_AMOUNT_LIKE = re.compile(r"\W*\d{1,2}[.:]\s+[a-z]", re.I)
_GLUED = re.compile(r"^(?P<mark>\d{1,2})(?:[.)](?=\d)|\s+-\s+|\s*-\s+)(?=\S)")
_TIMES = {"once": 1, "twice": 2, "three": 3, "four": 4}
_SMALL = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10, "fifteen": 15}
_SMALL |= {"twelve": 12, "twenty": 20, "thirty": 30, "forty": 40, "sixty": 60, "ninety": 90}
_TIME_IN_WORDS = re.compile(rf"\b({'|'.join(_SMALL)})[ -](min(?:ute)?s?\b|sec(?:ond)?s?\b)", re.I)
_ABOUT_A_MINUTE = re.compile(
    r"(?P<before>\b(?:about|for|of|rest|resting|around|roughly|break|take) )an?\s+(?=min(?:ute)?\b)", re.I
)
_SPACED_SCHEME = re.compile(
    r"(?<![\d.:/,@-] )(?<!\bx )(?<![\w.:/@-])\d{1,3}(?: \d{1,3}){2,}(?![\w./:%-]| ?(?:kg|lb|#))"
)
_AND_SO_ON = re.compile(r"(?<=\d)[\s,-]*(?:and\s+so\s+(?:on|forth)|and\s+up|etc\.?)(?![a-z])", re.I)
_UNITS_EACH = re.compile(r"(?<![\w.])\d{2,5}\s*(?P<u>m|cals?)(?:\s*[-,/]\s*\d{2,5}\s*(?P=u)){2,}\b", re.I)
_TIMES_IN_WORDS = re.compile(r"\b(?:once|twice|three\s+times|four\s+times)(?=\s+(?:through|a?round)\b)", re.I)
_THOUSAND = re.compile(r"(?<![\d.])(\d{1,2})\.(\d{3})(?=\s*(?:m|met(?:er|re)s?|cals?)\b)", re.I)
_HUNDREDS = re.compile(r"\b(one|two|three|four|five|six|eight)\s+hundred(\s+(?:and\s+)?fifty)?\b", re.I)
_MORE_IN_WORDS = re.compile(r"\b(add)\s+(one|two|three|four|five)\b(?=\s+(?:reps?|cals?|more)\b)", re.I)
_SPAN_IN_WORDS = re.compile(
    r"\b(one|two|five|ten|fifteen|twenty)\s+(?:down\s+|up\s+)?to\s+(one|two|five|ten|fifteen|twenty)\b", re.I
)
_RULE = re.compile(r"^[\s\W_]+$")
_BARRED = re.compile(r"\b(amrap|emom|for time|time cap|cap|rft|rounds?)\s*\|\s*(?=\d)", re.I)  # "AMRAP | 12"
_RUN = re.compile(r"([^\w\s])\1{3,}")
_INNER_BULLET = re.compile(r"\s*[\u2022\u25cf\u25aa\u00b7\u2219]\s*")


class Line(Struct, frozen=True, kw_only=True):
    """One line that is not blank.

    Parameters
    ----------
    number : int
        From 1, blank lines counted.
    raw : str
        As pasted, without the space around it.
    text : str
        Plain, without bullet, list number and label.
    indent : int
        Columns before the text.
    bullet : bool
        Whether a bullet stood before it.
    mark : int or None
        Number of a numbered list.
    label : str or None
        "A", "A1".
    gap : bool
        Whether a blank line stands before it.
    empty : bool
        Whether there is nothing but signs in it.
    heads : bool
        Whether it only names or rules the columns of a table.
    """

    number: int
    raw: str
    text: str
    indent: int = 0
    bullet: bool = False
    mark: int | None = None
    label: str | None = None
    gap: bool = False
    empty: bool = False
    heads: bool = False


def plain(text: str) -> str:
    """One line in plain signs.

    Examples
    --------
    >>> plain("21–15–9 · 1½ mile, 24″ box 💪")
    '21-15-9 · 1.5 mile, 24" box'
    >>> plain("5×5 @ 75 %")
    '5x5 @ 75%'
    """
    text = _KEYCAPS.sub(_number, text.replace("\U0001f51f", "10 ")).translate(_PLAIN)
    text = re.sub(
        "(?:(\\d+)\\s?)?([" + "".join(_FRACTIONS) + "])",
        lambda m: f"{float(m[1] or 0) + _FRACTIONS[m[2]]:.4g}",
        text,
    )
    text = unicodedata.normalize("NFKC", text).translate(_PLAIN)
    kept = []
    for sign in text:
        kind = unicodedata.category(sign)
        if sign in "\t ":
            kept.append(sign)
        elif kind[0] == "C" or (
            kind in ("So", "Mn", "Me") and sign not in "\u25cf\u25cb\u25aa\u25ab\u25a0\u25a1\u25e6"
        ):
            kept.append(" " if kind in ("Cc", "So") and kept[-1:] != [" "] else "")
        elif kind in ("Zs", "Zl", "Zp"):
            kept.append(" ")
        elif kind != "Sk" or sign in "^`":
            kept.append(sign)
    text = "".join(kept)
    text = re.sub(r"(?<=\d)\s*(?:%|per\s?cent\b|pct\b)", "%", text, flags=re.I)
    text = re.sub(r"(?<![\d,.])(\d{1,2}),(\d{3})(?![\d,])", r"\1\2", text)
    text = _DECIMAL.sub(lambda m: f"{m[1] or m[3]}.{m[2] or m[4]}", text)
    text = re.sub(r"(?<=\d)-?ish\b(?=\s*%)", "", text, flags=re.I)
    text = _THOUSAND.sub(r"\1\2", text)
    text = _HUNDREDS.sub(lambda m: str(100 * _SMALL[m[1].lower()] + (50 if m[2] else 0)), text)
    text = _SPAN_IN_WORDS.sub(lambda m: f"{_SMALL[m[1].lower()]} to {_SMALL[m[2].lower()]}", text)
    text = _MORE_IN_WORDS.sub(lambda m: f"{m[1]} {_SMALL[m[2].lower()]}", text)
    text = _AND_SO_ON.sub("...", text)
    text = _ABOUT_A_MINUTE.sub(r"\g<before>1 ", text)
    text = _TIMES_IN_WORDS.sub(lambda m: f"{_TIMES[m.group().split()[0].lower()]} times", text)
    text = _TIME_IN_WORDS.sub(lambda m: f"{_SMALL[m[1].lower()]} {m[2]}", text)
    text = re.sub(r"(?<![\d/.])([1-7])/([2-8])(?=\s*-?\s*(?:mi\b|miles?\b|k\b|km\b))", _divided, text)
    text = re.sub(r"(?<=[a-z])([\s:,-]+)(\d{1,2})\s*x\s*amrap\s*$", r"\1\2 x max", text, flags=re.I)
    text = _UNITS_EACH.sub(lambda m: "-".join(re.findall(r"\d+", m.group())) + m["u"], text)
    text = _SPACED_SCHEME.sub(_dashed, text)
    text = _BARRED.sub(r"\1 ", text)
    return _RUN.sub(r"\1\1\1", text).strip()


def _dashed(found: re.Match[str]) -> str:
    """Numbers that only fall or only rise, with spaces between them, are a list of reps."""
    values = [int(v) for v in found.group().split()]
    falls = all(a > b for a, b in itertools.pairwise(values))
    rises = all(a < b for a, b in itertools.pairwise(values)) and values[0] != 1
    return "-".join(map(str, values)) if falls or rises else found.group()


def _number(found: re.Match[str]) -> str:
    """Keycaps: one is the mark of a list, several in a row are a number."""
    digits = re.findall(r"\d", found.group())
    mark = ")" if len(digits) == 1 and not found["of"] else ""
    return f"{''.join(digits)}{mark} {found['of'] or ''}"


def _divided(found: re.Match[str]) -> str:
    return f"{int(found[1]) / int(found[2]):.4g}"


def split_lines(text: str) -> list[str]:
    """Lines as an editor counts them: only line feeds and carriage returns end one."""
    lines = re.split(r"\r\n|\n|\r", text)
    return lines if lines[-1] else lines[:-1]


def lines_of(text: str) -> list[Line]:
    """Clean lines of a board, blank ones left out.

    Parameters
    ----------
    text : str
        As pasted.

    Returns
    -------
    list of Line
        Every line that is not blank, with its number.
    """
    found = []
    gap = False
    for number, raw in enumerate(split_lines(text), 1):
        if not raw.strip():
            gap = True
            continue
        found.append(_line(number, raw, gap))
        gap = False
    return _numbered(found)


def _counted(lines: list[Line]) -> list[Line]:
    """Marks out of any order put back as amounts: "10. burpees" in a list that does not count to ten."""
    last = 0
    found = []
    for line in lines:
        mark = line.mark
        if line.label and line.label[0].isdigit():
            last = int(line.label[0])
        if mark is not None and mark > 1 and mark != last + 1 and _AMOUNT_LIKE.match(line.raw):
            line = replace(line, mark=None, text=f"{mark} {line.text}")
        elif mark is not None:
            last = mark
        found.append(line)
    return found


def _numbered(lines: list[Line]) -> list[Line]:
    """List marks that look like part of an amount ("5.50 lunges", "1 - 12 cal row"): believed where they count on."""
    lines = _counted(lines)
    weak = [_GLUED.match(line.text) if line.mark is None and not line.bullet else None for line in lines]
    marks = [line.mark for line in lines]
    for i, found in enumerate(weak):
        if not found:
            continue
        mark = int(found["mark"])
        following = weak[i + 1] if i + 1 < len(weak) else None
        counts_on = i > 0 and marks[i - 1] == mark - 1 > 0
        begins = mark == 1 and following is not None and following["mark"] == "2"
        if counts_on or begins:
            marks[i] = mark
            lines[i] = replace(lines[i], mark=mark, text=lines[i].text[found.end() :].strip())
    return lines


def _line(number: int, raw: str, gap: bool) -> Line:
    shown = raw.strip()
    if len(shown) > LONGEST:
        return Line(number=number, raw=shown, text="", gap=gap)
    indent = len(raw) - len(raw.lstrip())
    text = re.sub(r"^#{1,6}\s+(?=\S)", "", plain(shown))
    text = re.sub(r"^\*(?=\S)([^*]+)(?<=\S)\*$", r"\1", text)
    text = re.sub(r"\*\*|__|(?<!\w)_(?=\w)|(?<=\w)_(?!\w)", "", text).strip()
    if not text or _RULE.match(text):
        return Line(number=number, raw=shown, text="", indent=indent, gap=gap, empty=True)
    bullet = bool(found := _BULLET.match(text))
    text = text[found.end() :] if found else text
    mark = label = None
    if found := _MARK.match(text):
        mark = int(found["mark"] or found["glued"]) if (found["mark"] or found["glued"]).isdigit() else None
        text = text[found.end() :]
    if found := _STATION.match(text):
        mark, text = int(found["mark"]), text[found.end() :]
    if found := _LABEL.match(text):
        label = found["label"]
        text = text[found.end() :]
    elif found := _SMALL_LABEL.match(text):  # a small letter alone only marks the items of a list
        given = found["turned"] or found["label"]
        label = given.upper() if len(given) > 1 else None
        text = text[found.end() :]
    elif found := _PARTNER.match(text):
        label = f"P{found['p'] or found['n'] or 'abcd'.index(found['a'].lower()) + 1}"
        text = text[found.end() :]
    text = _INNER_BULLET.sub(" ; ", text)
    if re.search(r"\t|\S {3,}\S", text):
        text = re.sub(r"\t+|(?<=\S) {2,}(?=\S)", " | ", text)
    text = " ".join(text.strip(" ;|").split())
    return Line(
        number=number,
        raw=shown,
        text=text,
        indent=indent,
        bullet=bullet,
        mark=mark,
        label=label,
        gap=gap,
        empty=not text,
    )
