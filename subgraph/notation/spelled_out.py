"""Short ways of writing an item made long, before its numbers are taken; `whole_line` comes before it."""

from __future__ import annotations

import re
from collections.abc import Callable

from subgraph.notation.amounts import COUNTS
from subgraph.notation.number_forms import MASS, N

_NUMBER = "|".join(sorted((w for w in COUNTS if w not in ("zero", "half", "quarter")), key=len, reverse=True))
_IN_WORDS = re.compile(
    rf"^\s*(?P<n>{_NUMBER})\s+(?!(?:-?\s*)(?:arm|leg|hand|foot|feet|point|count|side|works?|person|people|partner|rounds?|at\b))"
    r"(?=[a-z])",
    re.I,
)
_SPACED_PAIR = re.compile(rf"(?<=[a-z@] )(?P<a>\d{{1,3}}(?:\.5)?)\s+(?P<b>\d{{1,3}}(?:\.5)?)(?=\s*{MASS})", re.I)
_AFTER_EACH = re.compile(
    r"[\s,(]*\b(?:after|between|in\s+between|at\s+the\s+end\s+of)\s+(?:each|every)(?:\s+(?:one|round|rd|set|row|run|piece|effort|interval|time|step|rung))?\b\s*\)?(?=[\s;.!]*$)",
    re.I,
)
_CALORIES_OF = re.compile(
    r"^\W*(?P<c>cal(?:orie)?s?|met(?:er|re)s?)\s+(?:on|of)\s+(?:the\s+|an?\s+)?(?P<what>[a-z].*)$", re.I
)
_CALORIES_ON = re.compile(r"\b(?P<c>cal(?:orie)?s?)\s+(?:on|of)\s+(?:the\s+|an?\s+)?(?=[a-z])", re.I)
_BELLS = re.compile(
    r"\s+(?:with|using|w/)\s+(?:the\s+)?(?P<a>\d{2}(?:\.5)?)s(?:\s+or\s+(?P<b>\d{1,2}(?:\.5)?)s)?\b(?!\s*(?:pause|hold|rest))",
    re.I,
)
_SIDE_LAST = re.compile(r"(?<=[a-z]{3})\s*/\s*s\b(?=\s*(?:$|[,;)]))", re.I)
_WITH = re.compile(r"\s+w/\s*(?=[a-z])", re.I)
_WEEK = re.compile(r"[\s,;(-]*\b(?:wk|week)\s*\d{1,2}(?:\s*(?:of|/)\s*\d{1,2})?\b\s*\)?", re.I)
_PLURAL_PAIR = re.compile(r"\(?\b(?P<a>\d{2,3}(?:\.5)?)s\s*/\s*(?P<b>\d{2,3}(?:\.5)?)s\b\)?", re.I)
_ONE_OF = re.compile(rf"\b1\s*x\s*(?=\d+(?:\.\d)?(?:\s*/\s*\d+(?:\.\d)?)?\s*{MASS})", re.I)
_PER_S = re.compile(r"(?<![\d./])(?P<n>\d{1,3})\s*/\s*s(?=\s+[a-z]|\s*(?:$|[,;)]))", re.I)
_PART = re.compile(
    r"^\s*(?:(?P<half>half|1/2)\s+(?:a\s+)?|(?P<quarter>quarter)\s+(?:of\s+)?(?:a\s+)?|an?\s+)(?=miles?\b)", re.I
)
_KILO = re.compile(rf"(@\s*(?:\d{{2,3}}(?:\.\d+)?|{N}\s*/\s*{N}))\s*k\b(?!\s*(?:pace|[+-]))", re.I)
_TWICE_PAIRED = re.compile(
    rf"\b(?P<a>(?:2|two)\s*[x*]\s*{N}\s*(?:{MASS})?)\s*(?:/|\|)\s*(?:2|two)\s*[x*]\s*(?={N})", re.I
)
_SECOND_IN_BRACKETS = re.compile(rf"(?P<a>{N})\s*(?P<u>{MASS})\s*\(\s*(?P<b>{N})\s*(?:{MASS})?\s*\)", re.I)
_AND_A_PART = re.compile(  # "1.25 front squat", "1 1/4 squats": every rep with a quarter or a half more
    r"(?<![\d.:/@-])\b1(?:\.25|\.5|\s*-?\s*1/[24]|\s*&\s*1/[24])(?:s\b|\s+reps?\b)?\s+"
    r"(?=(?:[a-z]+\s+){0,3}?[a-z]*(?:squat|lunge|press|push|row|curl|pull|bench|fs\b|bs\b|ohs\b))",
    re.I,
)
LEFT_RIGHT = re.compile(r"(?<![\d.])(?P<n>\d{1,3})\s*[lr]\s*[/+,&]?\s*(?P=n)\s*[lr]\b", re.I)
_EQUAL_SUM = re.compile(r"^\s*(?P<n>\d{1,3})\s*\+\s*(?P=n)\s+(?=[a-z])", re.I)
_GLUED_EACH = re.compile(
    r"(?<![\d.])(?P<n>\d{1,3})\s?e(?:a|/?s)?\b\.?(?!\s*\w*om)(?:\s*(?:side|leg|arm|hand|way)s?\b)?", re.I
)
_CALORIES = re.compile(r"(?<=\d)\s*c\b\.?(?=\s+(?:row|ski|bike|erg|air)|\s*$)", re.I)
_DOTTED = re.compile(r"\b(?P<a>[kdb])\.\s?(?P<b>[buh])\.(?=\s|$)", re.I)
_WITH_A = re.compile(
    r"\s+(?:with|using)\s+an?\s+(?P<n>\d{1,3}(?:\.5)?(?:\s*/\s*\d{1,3}(?:\.5)?)?)(?=\s*$|\s*[,;)])", re.I
)
_EACH_SIDE_PLANK = re.compile(r"\b(?:each|per)\s+side\s+plank\b", re.I)
_POSITIONS = re.compile(r"\b\d\s*-?\s*(?:position|pos)\b\.?\s*", re.I)
_ABOUT = re.compile(r"\b(?:about|approx\.?|approximately|roughly|ca\.?|at least|up to)\s+(?=\d)", re.I)
_ISH = re.compile(r"(?P<n>\d)\s*-?ish\b", re.I)
_LAPS = re.compile(
    r"(?<![\w.])\d{1,2}\s*x?\s*(?:laps?|lengths?)\b(?:\s+of)?(?=\s+[a-z])", re.I
)  # nobody knows how long
_FIRST_BRACKETED = re.compile(r"^\s*\((?P<n>\d{1,4})\)\s+(?=[a-z])", re.I)
_PAIR_BEHIND = re.compile(
    r"(?P<before>^\s*\d{1,3}(?:/\d{1,3})?\s+[a-z].*[a-z)])[\s,@(]+2\s*[x*]\s*(?P<n>\d{1,2})\s*\)?\s*$", re.I
)
_EACH_LOAD = re.compile(
    rf"(?P<n>{N}\s*/?\s*(?:{N})?\s*{MASS})\s*(?:each|ea\.?|apiece)\b(?!\s*(?:side|arm|leg|way|hand))", re.I
)
_FORMS: tuple[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]], ...] = (
    (_FIRST_BRACKETED, r"\g<n> "),
    (_IN_WORDS, lambda m: f"{COUNTS[m['n'].lower()]} "),
    (_PART, lambda m: f"{0.5 if m['half'] else 0.25 if m['quarter'] else 1} "),
    (_DOTTED, r"\g<a>\g<b>"),
    (_AND_A_PART, " "),
    (_KILO, r"\1kg"),
    (_SPACED_PAIR, lambda m: f"{m['a']}/{m['b']}" if float(m["a"]) > float(m["b"]) else m.group()),
    (_TWICE_PAIRED, r"\g<a>/"),
    (_SECOND_IN_BRACKETS, r"\g<a>/\g<b> \g<u>"),
    (LEFT_RIGHT, r"\g<n>/side"),
    (_EQUAL_SUM, r"\g<n>/side "),
    (_WITH, " with "),
    (_WEEK, " "),
    (_PLURAL_PAIR, r" 2x\g<a>/\g<b> "),
    (_ONE_OF, ""),
    (_PER_S, r"\g<n> per side"),
    (_SIDE_LAST, " per side"),
    (_CALORIES_OF, r"\g<what> for \g<c>"),
    (_CALORIES_ON, r"\g<c> "),
    (_BELLS, lambda m: f" @ {m['a']}/{m['b']}" if m["b"] else f" @ {m['a']}"),
    (_GLUED_EACH, r"\g<n>/side"),
    (_CALORIES, " cal"),
    (_AFTER_EACH, ""),
    (_ABOUT, ""),
    (_ISH, r"\g<n>"),
    (_LAPS, ""),
    (_EACH_SIDE_PLANK, "side plank each side"),
    (_POSITIONS, ""),
    (_WITH_A, r" @ \g<n>"),
    (_PAIR_BEHIND, r"\g<before> 2x\g<n>/\g<n>"),
    (_EACH_LOAD, r"\g<n> each hand"),
)


def spelled_out(text: str) -> str:
    """An item's text with its short ways of writing made long.

    Examples
    --------
    >>> spelled_out("DB thrusters 2x15/2x10 kg")
    'DB thrusters 2x15/10 kg'
    >>> spelled_out("5L/5R get-ups")
    '5/side get-ups'
    """
    for pattern, instead in _FORMS:
        text = pattern.sub(instead, text)
    return text
