"""The forms that the numbers of an item may take, as patterns: amounts, sets, loads, heights, percentages, tempo."""

from __future__ import annotations

import re
from typing import Literal

from subgraph.quantities import M_PER_FT, M_PER_MI

KG_PER_POOD = 16.0  # bells are made in steps of 8 kg, half a pood: common practice, no source
M_PER_YD = 0.9144  # exact by definition (international yard and pound agreement, 1959)
CM_PER_IN = 2.54  # exact, same agreement

# "bare" stands for no unit; "minute-or-metre", "inch-or-second" and "foot-or-minute" are settled by the movement.
UnitWord = Literal[
    "rep", "s", "m", "cal", "bare", "minute-or-metre", "inch-or-second", "foot-or-minute", "ft", "one-climb"
]

N = r"(?:\d+(?:\.\d+)?|\.\d+)"
CLOCK = r"\d{0,3}:[0-5]\d"
UNITS: tuple[tuple[str, UnitWord, float], ...] = (
    (r"(?:k?cal(?:orie)?s?|(?<=\d)c(?![&+]))(?![a-z])", "cal", 1),
    (r"(?:minutes?|mins?)\b\.?", "s", 60),
    (r"(?:seconds?|secs?|s)\b\.?", "s", 1),
    (r"(?:kilomet(?:er|re)s?|kms?|k)\b(?!\.?[a-z&])", "m", 1000),
    (r"(?:miles?|mi)\b", "m", M_PER_MI),
    (r"(?:met(?:er|re)s?|mtrs?|mts?)\b", "m", 1),
    (r"(?:yards?|yds?)\b", "m", M_PER_YD),
    (
        r"(?:feet|foot|ft)\b\.?(?!\s+(?:elevated|raised|up|on|together|apart|supported|assisted|anchored|against|in|off|first)\b)",
        "ft",
        M_PER_FT,
    ),
    (r"m\b", "minute-or-metre", 1),
    (r"(?:repetitions?|reps?)\b", "rep", 1),
    (r"(?:inch(?:es)?(?!\s*worm)|in)\b\.?", "inch-or-second", 1),
    (r"(?:\"|'')", "inch-or-second", 1),
    (r"'(?!\w)", "foot-or-minute", 1),
)
UNIT = "(?:" + "|".join(f"(?P<u{i}>{p})" for i, (p, _, _) in enumerate(UNITS)) + ")"
MASS = r"(?:kgs?\b|kilos?\b|kilograms?\b|lbs?\b\.?|pounds?\b|\#s?|poods?\b|pd\b)"
RATIO = rf"{N}(?:\s*(?:/|\|)\s*{N}){{1,2}}"
LEAD = r"(?:@\s*|\bat\s+|\bwith\s+|\bw/\s*|\busing\s+|\bload:?\s*|\()*"
PAIRED = r"(?P<pair>\b(?:an?\s+)?pair\s+of\s+|\b(?:2|two)\s*[x*]\s*|\b(?:2|two|double|dual)\s+(?=\d))?"
LOAD = re.compile(
    rf"{LEAD}{PAIRED}(?<![\d.:/])(?P<n>{N}(?:\s*{MASS})?(?:\s*(?:/|(?<=\S)-(?=\d+(?:\.\d+)?\s*(?:kg|lb|\#)))\s*{N}"
    rf"(?:\s*{MASS})?){{0,2}})"
    rf"\s*(?P<unit>{MASS})?(?:\s*(?P<each>per hand|each hand|each|a hand|per side|ea\b))?\s*\)?",
    re.I,
)
MARKED_LOAD = re.compile(
    rf"@\s*{PAIRED}(?P<n>{N}(?:\s*/\s*{N}){{0,2}})(?!\s*(?:%|rpe|[:\w.])|\s*(?:sec|min|s\b|m\b|cal|pace|rpm|in\b"
    rf"|cm\b|\"))",
    re.I,
)
STANDARDS = re.compile(
    rf"\(?\b(?:rx\s*)?(?:m|men|male|guys)\b\s*[:=]?\s*(?P<a>{N})\s*(?P<u1>{MASS}|in\b|cm\b|\")?\s*(?:[,/;&|-]|and)*\s*"
    rf"\b(?:w|f|women|female|ladies|girls)\b\s*[:=]?\s*(?P<b>{N})\s*(?P<u2>{MASS}|in\b|cm\b|\")?\s*\)?"
    rf"|\(?(?P<a2>{N})\s*(?P<u3>{MASS}|in\b|cm\b|\")?\s*(?:m|men|male)\b\s*(?:[,/;&|-]|and)*\s*"
    rf"(?P<b2>{N})\s*(?P<u4>{MASS}|in\b|cm\b|\")?\s*(?:w|f|women|female)\b\)?",
    re.I,
)
TEMPO = re.compile(
    r"[@(]*\s*\btempo:?\s*@?\s*(?P<a>[\dX](?:[-/. ]?[\dX]){3})\b\)?"
    r"|@\s*(?!2x\d\d(?:\s*/|\s*kgs?\b|\s*lbs?\b|\s*#|\.))(?P<b>[\dX]{4})\b(?:\s*tempo)?"
    r"|\(\s*(?P<e>\d-\d-[\dX]-0|\d-0-[\dX]-\d|(?!\d\d00)[1-6][0-5X][0-6X][0-5X])\s*\)|[@(]*\s*\b(?P<c>(?=\w*X)(?=\w*\d)[\dX]\d[\dX]\d)\b(?!\.)(?:\s*tempo)?\)?|(?<![\d-])(?P<d>[\dX]"
    r"(?:[-]?[\dX]){3})\s+tempo\b",
    re.I,
)
RPE = re.compile(
    rf"[@(]*\s*(?:\brpe\s*[:@]?\s*(?P<a>{N})(?:\s*-\s*{N})?"
    rf"|(?<![\d-])(?P<b>{N})(?:\s*-\s*{N})?\s*rpe\b(?!\s*[:@]?\s*\d)"
    r"|(?<![\w.])(?P<c>\d(?:\.5)?)\s*(?:out\s+of\s+10\b|/\s*10\s+(?:effort|hard|rpe)\b))\s*\)?",
    re.I,
)
PERCENT = re.compile(
    r"[@(]*\s*(?:\bat\s+)?(?P<n>(?:\d{1,3}\s*%?\s*(?:,|-|/|&|\bto\b|\band\b|>)\s*)*\d{1,3}(?:\.\d)?)\s*%\+?"
    r"(?:\s*(?:of\s+)?(?:your\s+)?(?:the\s+)?(?:best|max|1\s*-?\s*rm|tm|training max|\drm|that|it|today'?s?"
    r"|weight|heavy|single|double|triple|load|top set)\b)*"
    r"(?:\s+of\s+(?:your\s+|the\s+)?(?!\w*\s*\d)[a-z][a-z &-]{2,25}?(?=\s*(?:$|[,;)])))?\s*\)?",
    re.I,
)
HEIGHT = re.compile(
    rf"(?:@\s*|\(|\bto\s+)*(?<![\d.:])(?P<n>{N}(?:\s*(?:\"|in\b|inch(?:es)?\b|cm\b)?\s*/\s*{N})?)\s*-?"
    r"(?P<unit>\"|''|inch(?:es)?\b(?!\s*worm)|in\b\.?(?!\s+(?:\d|the\b|a\b|total\b|under\b))|cms?\b)\s*\)?",
    re.I,
)
TARGET = re.compile(
    rf"(?:(?<=[a-z,;(])|@|\bto)\s*(?:a\s+)?(?<![\d.])(?P<n>{N}\s*(?:'|ft)?\s*/\s*{N}|(?<=to )\d{{1,2}}|"
    rf"(?<=@ )\d{{1,2}})\s*(?:ft\b|feet\b|')(?:\s*target)?\s*\)?",
    re.I,
)
PER_SIDE = re.compile(
    r"(?:\bper|\bby|\beach|\bea\.?|\ba|\bevery|/|\bon each|\bon both)\s*(?:side|leg|arm|hand|direction|way|foot"
    r"|knee)s?\b|\be/?s\b|\b[pb]/s\b"
    r"|\b(?:left (?:and|&|\+) right|l\s*/\s*r|r\s*/\s*l|l\s*&\s*r|r\s*&\s*l|both sides)\b|(?<=\d)\s*/\s*s\b"
    r"|\bea\b\.?|\beach(?=[\s;,)]*$)",
    re.I,
)
HALF_A_SIDE = re.compile(
    r"[\s,;(]*(?<![\d.])(?P<n>\d{1,3})\s*(?:(?:per|each|a|on each)\s+|/\s*)(?:side|arm|leg|hand|way|foot)s?\b\s*\)?",
    re.I,
)
HIGH_TARGET = re.compile(
    rf"[\s,;(]*(?:\bto\s+(?:an?\s+)?|@\s*)?(?<![\d./])(?P<n>{N}(?:\s*m?\s*/\s*{N})?)\s*(?P<unit>m(?:et(?:er|re)s?)?\b|ft\b|feet\b|')"
    r"(?:\s*target)?\s*\)?",
    re.I,
)
BARE_TARGET = re.compile(r"(?<=\d)\s*(?:@|\bto)\s*(?P<n>(?:9|10|11|12)(?:\s*/\s*(?:8|9|10|11))?)(?![\w./%])\s*'?", re.I)
LIST = re.compile(
    r"(?<![\w./:])(?P<n>\d+(?:\s*(?:-|,(?=\s?\d)|/|>)\s*\d+){2,})(?P<open>\s*-?\s*(?:\.{2,}|etc\b\.?))?(?:(?![\w:]|\.\d)|(?=(?:m|km|k?cals?|s|secs?)\b))",
    re.I,
)
OPEN_PAIR = re.compile(r"(?<![\w./:])(?P<n>\d+\s*[-,]\s*\d+)\s*[-,]?\s*(?:\.{2,}|etc\b\.?)", re.I)
PLUS = re.compile(r"(?<![\w.])(?P<n>\d+)\s*\+\+|(?<![\w.])(?P<m>\d+)\s*\(\s*\+\s*(?P<k>\d+)[^)]*\)", re.I)
SETS = re.compile(
    rf"(?<![\w.:/-])(?P<sets>\d{{1,2}})(?:\s*-\s*(?P<more>\d{{1,2}}))?\s*"
    rf"(?:(?:sets?|rounds?)\s*(?:of|x|[:@*,-])?|x\s*sets?\s*of|[x*])\s*(?=(?:{N}|:\d\d|\(|max\b|me\b|amrap\b"
    rf"|1?rm\b|failure\b))",
    re.I,
)
SETS_ALONE = re.compile(
    r"(?:\b(?:over|across|in)\s+)?(?<![\w.:/-])(?:x\s*)?(?P<sets>\d{1,2})(?:\s*-\s*\d{1,2})?\s*(?:working\s+)?sets?\b(?:\s+of\b)?|\bfor\s+"
    r"(?P<b>\d{1,2})\s*sets?\b",
    re.I,
)
TIMES = re.compile(
    rf"(?<![\w.:/-])(?:{N}\s*(?:m|met(?:er|re)s?|k|km|cals?|secs?|s|mins?|ft)|{CLOCK})(?:\s+[a-z]+)?"
    rf"(?P<x>\s*[x*]\s*)(?P<sets>\d{{1,2}})(?![\d./:]|\s*(?:kg|lb|#|m\b|cal|s\b|sec|min))",
    re.I,
)
REPS_BY_SETS = re.compile(r"(?<![\w.:/-])(?P<reps>\d{1,3})\s*reps?\s*[x*]\s*(?P<sets>\d{1,2})\s*sets?\b", re.I)
MAX = re.compile(
    r"\(?\b(?:for\s+)?(?:max(?:imum)?\b(?:[\s-]*effort)?|me\b(?=\s*[a-z(]|\s*$)|amr?ap\b|as many"
    r"(?:\s+reps?)?\s+as possible|to failure|failure\b|"
    r"as many)(?:[\s-]*(?P<un>unbroken|ub)\b)?(?:[\s-]*(?P<what>reps?|cal(?:orie)?s?|met(?:er|re)s?|distance"
    r"|time|hold|height|load|weight)\b)?"
    r"(?:\s+(?:of|as possible)\b)?(?:\s*(?:-|minus)\s*\d\b)?\)?",
    re.I,
)
BUILD = re.compile(
    r"(?:\b(?P<d>\d+\s*(?:minutes?|mins?|')|\d+:00)\s+to\s+)?\b(?:build(?:ing)?(?:\s*up)?|work(?:ing)?(?:\s*up)?|find|test|establish|hit|climb|ramp(?:ing)?(?:\s*up)?"
    r"|go)\b\s*(?:up\s+)?(?:to|for|towards)?\s*"
    r"(?:a|an|your|today'?s|the day'?s|daily)?\s*(?:new|heavy|challenging|tough|top|max(?:imum)?)?\s*"
    r"(?:(?P<w>single|double|triple)s?|(?:set\s+of\s+)?(?P<n>\d{1,2})\s*-?\s*(?:rep\s*max|rm|reps?)?(?=\b)(?!\s*"
    r"(?:min|sec|x|m\b|rounds?|-)))",
    re.I,
)
BUILD_BARE = re.compile(
    r"(?:\b(?P<d>\d+\s*(?:minutes?|mins?|')|\d+:00)\s+to\s+)?\b(?:build(?:ing)?|work(?:ing)?|climb|ramp(?:ing)?)(?:\s*up)?\s+(?:to|towards)\s+(?:a|an|your|today'?s)?\s*"
    r"(?:heavy|challenging|tough|max(?:imum)?|top)\b(?:\s*(?:set|weight|load))?(?:\s+of\b)?"
    r"|(?:\b(?P<e>\d+\s*(?:minutes?|mins?|')|\d+:00)\s+to\s+)?\bfind\s+(?:an?|your|today'?s)?\s*heavy\b(?:\s+(?:complex|set|load|weight))?",
    re.I,
)
BODYWEIGHT = re.compile(
    rf"[@(]*\s*(?:\d\s*/\s*\d|{N}\s*(?:x|%)?)\s*(?:of\s+)?(?:your\s+)?(?:bw\b|body\s*-?\s*weight\b)\s*\)?", re.I
)
PAUSE = re.compile(
    r"[(,]*\s*(?:\bw/|\bwith\b)?\s*(?:a\s+)?\b\d+(?:\s*-\s*\d+)?\s*-?\s*(?:seconds?|secs?|s|counts?)\s+"
    r"(?:pauses?|holds?(?=\s+(?:at|in|on)\b)|eccentric|lower(?:ing)?|negatives?|descent|down|squeeze)\b"
    r"(?:\s+(?:at|in|on)\s+(?:the\s+)?\w+)?\)?",
    re.I,
)
RM = re.compile(
    r"(?<![\w.])(?P<n>\d{1,2})\s*-?\s*(?:rm\b|rep\s*max(?:es)?\b)(?:\s*(?:test(?:ing)?|attempts?|day)\b\s*:?)?", re.I
)
HEAVY_N = re.compile(
    r"(?:\b(?P<d>\d+\s*(?:minutes?|mins?|')|\d+:00)\s+(?:to|for)\s+(?:an?\s+)?)?\bheavy\s+(?:(?P<w>single|double|triple)s?\b|(?:set\s+of\s+)?(?P<n>\d{1,2})\b(?!\s*[x:/\d.-]|\s*(?:min|sec"
    r"|m\b|kg|lb)))",
    re.I,
)
HALVES = re.compile(r"(?:@|\bw/|\bwith)?\s*(?<![\d.])(?P<n>\d+\.5)s\b|(?:@|\bw/|\bwith)\s*(?P<m>\d{2})s\b", re.I)
WAVES = re.compile(
    r"(?P<n>\b\d{1,2}\+?\s*[@x]\s*\d{2,3}\s*%?(?:(?:\s*[,;/]\s*|(?<=%)\s+)\d{1,2}\+?\s*[@x]\s*\d{2,3}\s*%?)*(?:\s*[,;/]\s*|(?<=%)\s+)\d{1,2}\+?\s*[@x]\s*\d{2,3}\s*%)",
    re.I,
)
AS_MANY = re.compile(
    r"\bas many(?:\s+(?:rounds?|reps?))?(?:\s+of)?\s+(?P<what>\d.*?[a-z)])\s+as (?:possible|you can|they can)\b", re.I
)
COURSE = re.compile(
    r"(?<=[a-z])[\s,;(]*\d+\s*(?:m|met(?:er|re)s?|yards?|yds?|ft|feet)\s*"
    r"(?P<way>(?:out|there|down|up)\s*(?:and|&|-|/|\+)\s*back|each\s+way|lengths?|shuttles?|apart)\b\)?",
    re.I,
)
ZONE = re.compile(
    r"[@(,]*\s*\b\d{2}\s*(?:strokes?\s+(?:per|a)\s+min(?:ute)?|spm|rpm|s/m)\b\)?"
    r"|[@(,]*\s*(?:\bin\s+)?\b(?:hr\s+)?zone\s*\d(?:\s*-\s*\d)?\b\)?",
    re.I,
)
PACE = re.compile(
    r"@?\s*\b\d{1,2}:\d\d(?:\.\d)?\s*/\s*(?:\d{3,4}\s*m|k|km|mi(?:le)?)\b(?:\s*pace)?|@\s*\d{1,2}\s*k\b\s*(?:[+-]\s*:?\d+)?(?:\s*pace)?|@\s*[\w:.]+(?:\s*/\s*\d*\s*k?m)?\s*pace\b|\b\d\s*:\s*\d\b(?!\d)(?:\s*work\s*[:/]\s*rest)?",
    re.I,
)
PAIR_AFTER = re.compile(r"(?<=\d)\s+@?\s*2\s*[x*]\s*(?P<n>\d{2}(?:\.\d)?)(?![\w/.])", re.I)
REPS_TIMES = re.compile(r"^\s*\d{1,3}\s+[a-z][a-z\s-]*[a-z](?P<x>\s*[x*]\s*)(?P<sets>\d{1,2})(?:\s*sets?)?\s*$", re.I)
WITHIN = re.compile(
    rf"\b(?:in|within|over|for|inside)\s+(?:the\s+)?(?:next\s+)?(?P<d>(?:{CLOCK}|{N}\s*(?:minutes?|mins?|'))(?!\w))"
    rf"|[(,\s-]\s*(?P<e>(?:{CLOCK}|{N}\s*(?:minutes?|mins?|'))(?!\w))(?:\s+(?:cap|limit|clock))?\s*(?:\)|(?=[\s;]*$))",
    re.I,
)
PAIR_LOAD = re.compile(
    rf"(?:(?<=[a-z)\d;,])|(?<=\s-))[\s,;]*[@(]*\s*2\s*[x*]\s*(?P<n>{N}\s*/\s*{N}|\d+\.\d)(?![\w/])\s*\)?", re.I
)
PAIR_LAST = re.compile(  # "200 m farmers carry 2x24": what has its amount already is carried in two hands
    r"^\s*\d[^x*]*[a-z)][\s,;@(]*\s(?P<pair>2\s*[x*]\s*(?P<n>\d{2}(?:\s*/\s*\d{2})?))(?![\w./:%])\s*\)?\s*$", re.I
)
IN_WORDS = {"single": 1, "double": 2, "triple": 3}
RESERVE = re.compile(  # what is left undone, and what the last set is: no amount of the sets
    r"[,;(-]*\s*\b(?:stop|end)\s+\d\s+reps?\s+(?:before|short\s+of|shy\s+of)\s+(?:failure|max)\b"
    r"|[,;(-]*\s*(?:\b(?:leav(?:e|ing)|with|keep(?:ing)?)\s+)?\b\d(?:\s*-\s*\d)?\s*(?:reps?\s+)?(?:(?:left\s+)?in\s+(?:the\s+|your\s+)?"
    r"(?:tank|reserve)|rir)\b\s*\)?|[,;(-]*\s*\brir\s*[:=@]?\s*\d(?:\s*-\s*\d)?\s*\)?"
    r"|[,;(-]*\s*(?:\b(?:on|with|make)\s+)?(?:the\s+)?(?:last|final)\s+set\s*(?:is|=|:|for|to|of|-)?\s*(?:an?\s+)?"
    r"(?:amrap|max(?:imum)?(?:\s+(?:reps?|effort))?|(?:to\s+)?failure|as many(?:\s+reps)?\s+as possible)\b\s*\)?",
    re.I,
)
REST = re.compile(
    rf"[,;(-]*\s*\b(?:rest(?:ing)?|r|ri|rest\s+interval)\b\s*[:=]?\s*(?P<a>{CLOCK}|{N}(?:\s*-\s*{N})?\s*(?:min(?:ute)?s?|secs?|seconds?|s|m"
    rf"|'|\")(?!\w))\s*\)?",
    re.I,
)
CLOCK_AMOUNT = re.compile(
    rf"(?<![\d/:])(?P<c>{CLOCK})(?:\s*/\s*(?P<d>{CLOCK}))?(?![\d:])(?:\s*(?:min(?:ute)?s?|secs?)\b)?"
)
MIN_SEC = re.compile(
    r"(?<![\d.])(?P<m>\d+)\s*(?:'|min(?:ute)?s?)\s*(?P<s>[0-5]?\d)\s*(?:\"|''|secs?|s\b|seconds?)?(?![\w.])", re.I
)
AMOUNT = re.compile(
    rf"(?<![\w.:/])(?P<x>x\s*)?(?P<n>{N})(?:\s*(?P<join>/|-|\bto\b)\s*(?P<n2>{N}))?(?:(?<=[\d.])\s*/\s*"
    rf"(?P<n3>{N}))?\s*-?\s*(?:{UNIT})?(?P<times>\s*[x*](?=\s|$))?(?![\w.]*\d|[a-z])",
    re.I,
)
UNIT_AFAR = re.compile(
    r"\b(?:for\s+)?(?:(?P<cal>k?cal(?:orie)?s?)|(?P<m>met(?:er|re)s?|(?<=\()m(?=\)))|(?P<s>seconds|secs?))\b\.?", re.I
)
BARE_PAIR = re.compile(rf"[@(]*\s*(?<![\w./:])(?P<n>{RATIO})(?![\w./%])\s*\)?")

BARE_LAST = re.compile(r"(?<=[a-z]{2})[\s;,]+\(?(?P<n>\d{1,3}(?:\.\d)?)[\s;)]*$", re.I)
BRACKETED = re.compile(r"(?<=[a-z]{2})\s+\((?P<n>\d{1,3}(?:\.\d)?)\)[\s;]*$", re.I)
