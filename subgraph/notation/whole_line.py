"""What is put in plain words while a line is still whole: ways out and back, loads for whom, shares by reps by sets."""

from __future__ import annotations

import re

from subgraph.notation.number_forms import MASS, N
from subgraph.notation.spelled_out import LEFT_RIGHT

MOST_SETS = 20  # of one share of a best, written as "70%x2x3"

_RX = re.compile(r"\s*[,;|/-]*\s*\brx'?d?\s*:\s*(?=\d|2\s*x)", re.I)
_FOR_THE_LADIES = re.compile(
    r"^(?P<n>\d{1,4})(?P<what>\s*[a-z][^()]*?)\s*\(\s*(?P<m>\d{1,4})\s+for\s+(?:the\s+)?(?:ladies|women|girls)\s*\)",
    re.I,
)
_SHARE_BY_REPS_BY_SETS = re.compile(
    r"(?P<p>\d{2,3}(?:\.5)?)\s*%\s*x\s*(?P<r>\d{1,2})\s*x\s*(?P<s>\d{1,2})(?![\d.])", re.I
)
_CARRIED = re.compile(
    r"\s+(?:w/|with|carrying|holding|sharing)\s*(?:an?|1|one|your|the|2|two)\s+(?:shared\s+)?"
    r"(?P<kit>med(?:icine)?\s*-?\s*balls?|balls?|plates?|dumbbells?|dbs?|kettlebells?|kbs?|sandbags?|slam\s*balls?)\b",
    re.I,
)
_SO_MANY = re.compile(
    r"\bas\s+many\s+(?!rounds?\b|reps?\b)(?P<what>[a-z][a-z -]{2,30}?)\s+as\s+(?:you\s+can|possible|they\s+can)\b"
    r"(?:\s+(?:until|till|before|in\s+the\s+(?:rest|remaining))\b.*$)?",
    re.I,
)
_FOR_WHOM = re.compile(
    rf"(?P<a>{N})\s*(?P<u>{MASS})?\s+for\s+(?:the\s+)?[a-z ]{{3,20}}?[,\s]\s*(?:and\s+)?"
    rf"(?P<b>{N})\s*(?P<v>{MASS})?\s+for\s+(?:the\s+)?[a-z ]{{3,20}}",
    re.I,
)
_BESIDE = re.compile(
    r"[,;]\s*(?P<n>one|1|two|2)\s+(?:kbs?|dbs?|kettlebells?|dumbbells?|bells?)\s*(?:of\s+|@\s*)?(?=\d)", re.I
)
_OUT_AND_BACK = re.compile(
    r"(?P<n>\d+)\s*(?P<u>m|met(?:er|re)s?)\s+out\s*(?:,|and|&|\+|/|then)?\s*(?P=n)\s*(?P=u)\s+back\b", re.I
)
_LEFT_THEN_RIGHT = re.compile(
    r"(?P<n>\d{1,3})\s*(?:on\s+the\s+)?(?:left|right)\s*(?:,|and|&|\+|/|then)?\s*(?:then\s+)?(?P=n)\s*(?:on\s+the\s+)?(?:left|right)\b",
    re.I,
)


def _each_set(found: re.Match[str]) -> str:
    """Sets of a share of the best, each by itself: "70%x2x3" is "2@70%, 2@70%, 2@70%"."""
    return ", ".join([f"{found['r']}@{found['p']}%"] * min(int(found["s"]), MOST_SETS))


def whole_line(text: str) -> str:
    """A line in plain words, before it is parted into items.

    Examples
    --------
    >>> whole_line("run 200m out, 200m back")
    'run 400 m'
    >>> whole_line("as many double-unders as you can until the buzzer")
    'max double-unders'
    >>> whole_line("Squat snatch 70%x2x2, 75%x1x1")
    'Squat snatch 2@70%, 2@70%, 1@75%'
    """
    if re.search(r"\d\s+[a-z]", text, re.I):
        text = _RX.sub(" @ ", text)
    text = _FOR_THE_LADIES.sub(r"\g<n>/\g<m>\g<what>", text)
    if len(shares := _SHARE_BY_REPS_BY_SETS.findall(text)) > 1:
        text = _SHARE_BY_REPS_BY_SETS.sub(_each_set, text)
    elif shares:
        text = _SHARE_BY_REPS_BY_SETS.sub(r"\g<s>x\g<r> @ \g<p>%", text)
    text = _CARRIED.sub(r" with \g<kit>", text)
    text = _SO_MANY.sub(r"max \g<what>", text)
    text = _FOR_WHOM.sub(lambda m: f"{m['a']}/{m['b']} {m['u'] or m['v'] or ''}", text)
    text = LEFT_RIGHT.sub(r"\g<n>/side", text)
    text = _BESIDE.sub(lambda m: " @ 2x" if m["n"].lower() in ("two", "2") else " @ ", text)
    text = _OUT_AND_BACK.sub(lambda m: f"{2 * int(m['n'])} m", text)
    return _LEFT_THEN_RIGHT.sub(r"\g<n> per side", text)
