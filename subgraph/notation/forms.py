"""The forms that a heading may take, each as a pattern and what it gives: the grammar of headings.

The order counts: intervals before EMOM before AMRAP, caps and rests before bare rounds, lists of reps last.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from subgraph.notation.form_uses import (
    use_amrap,
    use_cap,
    use_emom,
    use_every,
    use_for_time,
    use_intervals,
    use_ladder,
    use_late_length,
    use_length,
    use_marks,
    use_nothing,
    use_one_per,
    use_own_pace,
    use_pair,
    use_rest,
    use_rest_per_work,
    use_rising,
    use_rounds,
    use_span,
    use_start,
    use_stations,
    use_step,
    use_supersets,
    use_tabata,
    use_team,
    use_window,
)
from subgraph.notation.head import Head
from subgraph.notation.number_forms import CLOCK, N
from subgraph.notation.words import Words

Use = Callable[[Head, re.Match[str]], None]

_UNIT_OF_TIME = r"(?:hours?|hrs?|minutes?|mins?|min\.|m(?![a-z])|'|seconds?|secs?|s(?![a-z])|\")\.?"
_DUR = rf"(?:{CLOCK}|\d+'\d\d(?!\d)(?:\"|'')?|{N}\s*-?\s*{_UNIT_OF_TIME})"
_TIME = rf"(?:{_DUR}|{N})(?![\w%/]|\.\d)"
_COUNT = r"(?:\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten)"
_ROUND = r"(?:rounds?|goes|rds?|rnds?|times\s+(?:through|a?round)|sets|times)"
_BETWEEN = r"""(?:between|b/w|btwn?|b/t|after|in\s+between)\b(?:[\w\s/'&]*?
    (?:rounds?|sets?|series|each|intervals?|rds?|efforts?|amraps?|[A-H]\d|every\s+one|lifts?|them|exercises|movements)\b
    (?:\s*(?:round|rd|rnd|set|interval|amrap|effort)s?\b)?)?"""
_AFTER_IT = r"""(?:after\s+(?:it|this|that|(?:the\s+)?(?:amrap|emom|piece|workout|first\s+part))\b(?!\s*\w)
    |(?:before|b/4|b4)\s+(?:starting\s+|going\s+on\s+to\s+)?(?:the\s+)?(?:next|part|piece|second|block|[A-H]\b|amrap|emom|moving)[\w\s]{0,20}
    |between\s+(?:the\s+)?(?:two\s+)?(?:parts|pieces|blocks|workouts|wods|sections)\b)"""
_BEFORE = rf"(?:(?P<r>{_COUNT})\s*(?:{_ROUND}|x)\s*(?:of|[:,x-])?\s*)?"
_AFTER = (
    rf"(?:\s*(?:x|for)\s*(?P<x>\d+)(?!\s*(?:min|'|:))\s*(?:{_ROUND}|intervals)?"
    rf"|\s*,\s*(?P<y>\d+)\s*(?:{_ROUND}|intervals)\b)?"
)
_AND = r"\s*[/,;|&+-]*\s*(?:and\s+)?"
_ALTERNATING = r"(?:\s*(?P<alt>[-(]?\s*alt(?:ernating)?\b\)?))?"
_FOR = rf"[\s:x@(-]*(?:for\s*)?(?:(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)|(?P<a>{_TIME}))?"
_OPENING = r"[(,;-]*\s*"


def forms(words: Words) -> list[tuple[re.Pattern[str], Use]]:
    """The patterns with the words of one library, in the order in which they are tried."""
    amrap, emom = words.any_of("format", "amrap"), words.any_of("format", "emom")
    found: list[tuple[str, Use]] = [
        (
            rf"""\b(?:in\s+)?(?:teams?|groups?)\s+of\s+(?P<a>{_COUNT})\b
            |\b(?P<b>[2-9])[\s-]*(?:person|people|athletes?|members?)(?:\s+teams?)?\b(?!\s+(?:per|in\s+a|to\s+a|max|at\b|on\b))
            |\bin\s+(?P<c>[2-9])'?s\b""",
            use_team,
        ),
        _step(),
        *_clocks(words),
        *_emoms(emom),
        (
            rf"""(?:(?P<r>{_COUNT})\s*x\s*)?(?P<b>{_TIME})\s*[:,-]?\s*(?:to\s+)?(?:(?:complete|perform|do|get)\s+)?
                (?:{amrap})\b(?:\s*x\s*(?P<n>\d+)\b(?:\s*{_ROUND})?)?
            |(?:(?P<r2>{_COUNT})\s*x\s*)?\b(?:{amrap})(?:[\s:x@(-]*|,\s*(?={_DUR}))(?:(?:in|for|of)\s*)?(?P<a>{_TIME})\)?
                (?:\s*x\s*(?P<n2>\d+)\b(?:\s*{_ROUND})?)?""",
            use_amrap,
        ),
        (
            rf"""{_OPENING}(?:\b(?:time\s*)?(?:cap|limit)\b(?:\s+it)?|\bt\.?\s?c\.?(?![a-z]))\s*(?:of|is|at)?[\s:=@-]*(?P<a>{_TIME})\s*\)?
            |{_OPENING}(?P<b>{_DUR})\s*-?\s*(?:time\s*)?(?:cap|limit|tc)\b\s*\)?
            |(?:^|[(,;-])\s*(?P<b2>\d{{1,2}})\s*-?\s*(?:time\s*)?(?:cap|limit|tc)\b\s*\)?
            |{_OPENING}\b(?:you|we|they)(?:'ve|'ll)?\s+(?:have|got|get|have\s+got)\s+(?:only\s+|just\s+)?(?P<c>{_DUR})
                (?!\s+(?:left|spare|of\s+rest|rest))(?:\s+(?:on\s+the\s+clock|to\s+(?:finish|complete|do)(?:\s+(?:it|this|that|all))*|for\s+(?:this|that|it|all\s+of\s+it)))?\s*\)?""",
            use_cap,
        ),
        (rf"(?P<r>{_COUNT})\s*-?\s*rnft(?![a-z])", use_own_pace),
        (rf"(?P<r>{_COUNT})\s*-?\s*(?:rft|r\.f\.t\.?|rounds?\s+ft)(?![a-z])", use_for_time),
        (rf"\b{words.any_of('format', 'work')}\b", use_own_pace),
        (
            rf"\b{words.any_of('format', 'for-time')}\b|^\W*ft\s*(?=:)"
            r"|(?:(?<=\d-\d)|(?<=\d-\d\d))\s+ft\b(?=\s*(?:[,;:(]|$))",
            use_for_time,
        ),
        (rf"\b(?:1|one|a)\s*(?:round\s*|set\s*)?(?:per|every)\s+(?P<d>{_DUR})", use_one_per),
        *_rests(),
        *_counts(),
        (rf"^\W*{words.any_of('format', 'intervals')}\s*:", use_nothing),
        (rf"[,;]?\s*(?:x\s*)?\b{_COUNT}\s*(?:different\s+)?(?:stations|exercises|movements)\b", use_nothing),
        *_ladders(words),
    ]
    return [(re.compile(pattern, re.I | re.X), use) for pattern, use in found]


def _clocks(words: Words) -> list[tuple[str, Use]]:
    """Windows of the clock, and work and rest by it."""
    side = rf"(?:{_DUR}|:?\d+)"
    short = r"\d+\s*(?:s|secs?|\")"
    return [
        (
            r"""^\W*(?:from\s+|min(?:ute)?s?\.?\s+)?(?:(?P<a>\d+:\d\d)\s*-\s*(?P<b>\d+:\d\d)
                |(?P<c>\d+)\s*-\s*(?P<d>\d+)\s*(?:min(?:ute)?s?|')|(?P<e>\d+)\s*-\s*(?P<f>\d+)(?=\s*[:)]))
            (?:\s*min(?:ute)?s?)?\s*(?:[:)>-]+|\s(?=[a-z])|$)""",
            use_window,
        ),
        (rf"\b(?:{words.any_of('format', 'tabata')})\b", use_tabata),
        (rf"\b{words.any_of('format', 'rising')}\b", use_rising),
        (
            rf"""{_BEFORE}(?P<w>{side})\s*(?:of\s+)?(?:on|work|hard|fast|sprint|(?:all|flat)\s+out)\b(?:\s*[@(][^/,;&+]{{1,14}}?)?{_AND}
            (?P<o>{side})\s*(?:of\s+)?(?:off|rest|easy|slow|pause|recovery|recover|walk|change|changeover|transition|switch)\b{_AFTER}""",
            use_intervals,
        ),
        (
            rf"""\b(?:work|on)\b\s*[:=]?\s*(?P<w>{side}){_AND}\b(?:rest|off)\b\s*[:=]?\s*(?P<o>{side})
            (?P<r>$^)?{_AFTER}""",
            use_intervals,
        ),
        (
            rf"^\W*{_BEFORE}(?P<w>:\d\d|{short})\s*(?:/|:|-)\s*(?P<o>:?\d\d|{short})(?![\w/-]){_AFTER}",
            use_intervals,
        ),
        (
            rf"""^\W*{_BEFORE}(?P<w>\d{{2,3}})\s*/\s*(?P<o>\d{{2,3}})(?![\w/.-]|\s*(?:kg|lb|\#|cm|in\b|cal|m\b))
            (?=\W*(?:$|x\s*\d|for\s+\d|\d+\s*(?:{_ROUND}|intervals)|intervals)){_AFTER}""",
            use_pair,
        ),
        (
            rf"""(?P<w>{_DUR})\s*(?:(?:per|at\s+each|at\s+every|each|a|on\s+each|/)\s*(?:station|exercise|movement|stop))\b|(?P<w2>{_DUR})\s*each\s*(?=:)""",
            use_stations,
        ),
        (
            rf"""^\W*{_BEFORE}(?P<w>\d\d):(?P<o>\d\d)(?![\w/:.-])
            (?=\W*(?:$|x\s*\d|for\s+\d|\d+\s*(?:{_ROUND}|intervals)|intervals)){_AFTER}""",
            use_pair,
        ),
        (
            rf"""^\W*{_BEFORE}(?P<w>{CLOCK})\s*/\s*(?P<o>{CLOCK})(?![\w/:.-]|\s*/){_AFTER}""",
            use_intervals,
        ),
        (
            rf"""(?:intervals?|work\s*[:/]\s*rest)\W+(?P<r>$^)?(?P<w>:?\d+)\s*(?:s|sec)?\s*/\s*
            (?P<o>:?\d+)\s*(?:s|sec)?{_AFTER}""",
            use_intervals,
        ),
    ]


def _emoms(emom: str) -> list[tuple[str, Use]]:
    """Every minute, every k minutes."""
    before = rf"(?:(?P<b>{_TIME})\s*-?\s*)?"
    alternating = r"(?:alt(?:ernating)?\.?\s*)?"
    return [
        (
            rf"""{before}\b{alternating}(?:e(?P<k>\d+(?:\.\d+)?|:\d\d)\s*m?om|e(?P<s>\d\d)(?:s?om|s?(?=\s*x)|s(?=\s*[:(,)]|\s*$))|e(?P<k2>\d+)m(?=\s|:|x|\)|$))\b
            {_ALTERNATING}{_FOR}""",
            use_emom,
        ),
        (
            rf"""{before}(?<!\w){alternating}(?:{emom})(?:s\b)?(?![a-z]){_ALTERNATING}{_FOR}
            (?P<k>$^)?(?P<s>$^)?(?P<k2>$^)?""",
            use_emom,
        ),
        (r"\b(?:on|at)\s+(?:the\s+)?(?P<all>0?0:00(?:\s*(?:,|&|/|and)\s*(?:and\s+)?\d{1,2}:\d\d)+)", use_marks),
        (
            rf"""\b(?:every|on\s+the(?=\s+[1-9]))\s+(?:(?P<d>{_DUR})|(?P<one>min(?:ute)?)\b|(?P<other>(?:other|2nd|second)\s+min(?:ute)?\b)
                |(?P<third>(?:third|3rd)\s+min(?:ute)?\b))
            (?:\s*\(?\s*on\s+the\s+(?:{_DUR}|min(?:ute)?)\)?)?
            (?:[\s,.:(-]*(?:(?:for|until|over|of|@|-)\s*)?(?:x?\s*(?P<n>{_COUNT})\s*(?P<set>{_ROUND}|intervals)
                |x?\s*(?P<a>{_DUR})|(?P<x>x)\s*(?P<m>\d+)(?:\s*times\b)?|(?P<m2>\d+)(?=\s*[:,)]|\s*$)))?""",
            use_every,
        ),
    ]


def _step() -> tuple[str, Use]:
    """What each round or minute adds; before the clocks, which would take "every minute"."""
    return (
        r"""\(?(?:\+\s*|\badd(?:ing)?\s+|\bincreas(?:e|ing)\s+(?:by\s+)?|\b(?:go(?:ing)?\s+)?up\s+(?:by\s+)?|\bplus\s+)
            (?P<k>\d+)\s*(?:reps?|cals?)?\s*(?:more\s+)?(?:to\s+\w+\s+|on\s+\w+\s+|of\s+each\s+)?
            (?:movement\s+)?(?:(?:each|every|per|a|the)\s+|(?P<slash>/\s*))(?:following\s+|next\s+)?
            (?:round|rd|time|set|(?P<min>minute|min))s?\b\)?
            |\b(?:ascending|increasing|climbing|rising|going\s+up|ladder\s+up)\s+(?:by|in)\s+(?P<k3>\d+)(?:s|\s*reps?)?\b
            |(?:(?<=emom)|(?<=amrap)|^)\W*\+\s*(?P<k2>\d+)\b(?=\s*(?:ladder\b|:|$))""",
        use_step,
    )


def _rests() -> list[tuple[str, Use]]:
    """Rest of a stated length."""
    work_rest = r"(?:work\s*(?:/|:|-|to|and)?\s*rest|w\s*[:/]\s*r)"
    return [
        (
            rf"""{_OPENING}(?:(?:at\s+(?:an?\s+)?|with\s+(?:an?\s+)?|on\s+(?:an?\s+)?|@\s*)?(?<![\d:])(?P<a>\d)\s*[:/]\s*(?P<b>\d)(?![\d:])
                \s*(?:{work_rest}(?:\s+ratio)?|ratio|rest\b)|{work_rest}(?:\s+ratio)?(?:\s+of)?\s*[:=]?\s*(?P<a2>\d)\s*[:/]\s*(?P<b2>\d)(?![\d:])
                |\brest\s*[:=]?\s*(?P<a3>\d)\s*(?::|to)\s*(?P<b3>\d)(?![\d:]|\s*(?:min|sec)))\s*\)?
            |{_OPENING}\brest\s+(?:for\s+)?(?:as\s+long\s+as|the\s+(?:same\s+)?time|same\s+time\s+as)(?:\s+(?:that\s+)?(?:it\s+took|it\s+takes|you\s+work(?:ed)?|the\s+(?:work|round|row|run)(?:\s+took|\s+takes)?))?
                (?:\s+you)?\s*\)?(?=\W*$)""",
            use_rest_per_work,
        ),
        (
            rf"""{_OPENING}\b(?:rest(?:ing)?|ri|rec|recover|walk|break|breather|pause(?=\s*\d[\d\s:-]*(?:min|')|[^a-z]*\d[^,;]*\b(?:between|after)\b))\b\s*(?:(?:for|of|is|about|around|roughly|~|[:=])\s*)*(?P<a>{N}\s*-\s*{_DUR}|{_DUR}
                |\d+(?=\s*(?:between|b/w|btwn?|after|$|,)))\s*(?:rest\s*|(?:walking|standing|jogging|easy\s+walk)\b\s*)?(?:(?P<z>{_AFTER_IT})|(?P<w>{_BETWEEN}))?\s*\)?""",
            use_rest,
        ),
        (
            rf"""{_OPENING}(?P<a>{N}\s*-\s*{_DUR}|{_DUR})\s*(?:of\s+)?(?:(?:standing|active|walking|full|complete|easy|passive|total|seated)\s+)?(?:rest|recovery(?!\s+[a-z])|walk(?=\s+between\b)|jog(?=\s+between\b)|off|break|pause(?!\s+(?:at|in|on)\b)|to\s+(?:move(?:\s+on)?|change(?:\s+over)?|rotate|switch|transition))\b
            \s*(?:(?P<z>{_AFTER_IT})|(?P<w>{_BETWEEN}))?\s*\)?""",
            use_rest,
        ),
        (rf"^\W*r\s*[:=]?\s*(?P<a>{_DUR})(?P<w>)\s*$", use_rest),
        (rf"[,;/]\s*(?P<a>{_DUR})\s*easy(?:\s+(?:spin|pedal|paddle))?(?P<w>\s+between)?(?=\W*$)", use_rest),
        (
            rf"{_OPENING}(?P<a>{N}\s*-\s*{_DUR}|{_DUR})\s*(?P<w>between(?:\s+(?:rounds?|sets?|efforts|intervals|amraps?|each)|(?=\W*$)))\s*\)?",
            use_rest,
        ),
    ]


def _counts() -> list[tuple[str, Use]]:
    """How many rounds."""
    return [
        (
            rf"""(?<![\w.:/+-])(?P<a>{_COUNT})(?:\s*-\s*(?P<b>\d{{1,2}}))?\s*-?\s*
            (?:(?:slow|easy|steady|quality|good|smooth|relaxed|controlled|hard|fast|quick|total|big|full|light|gentle)\s+)?
            (?P<w>rounds?|rds?|rnds?|times\s+(?:through|a?round))\b\.?(?:\s*(?:of\b|(?P<each>(?:each|apiece)(?!\s+for\s+time)|per\s+(?:person|athlete|partner|member))\b|each\b))?""",
            use_rounds,
        ),
        (
            rf"^\W*(?P<a>{_COUNT})\s*(?P<w>sets?|x)\s*(?:of\b|(?:for|across)\s+(?:max\s+)?(?:load|weight)\b)?\s*(?=:|[\s,;:]*$|\(|[,;]\s*;|,?\s*(?:each|build|building|across|working\s+up|go\s+up)\b)",
            use_rounds,
        ),
        (rf"^\W*(?:for|x)\s*(?P<a>{_COUNT})\s*(?P<w>sets?)\b", use_rounds),
        (rf"^\W*(?P<a>{_COUNT})\s*(?P<w>sets?)\b[^\d:]{{0,40}}:\s*$", use_rounds),
        (rf"[,;.]\s+(?P<a>{_COUNT})\s*(?P<w>sets)\s*(?=[,;])", use_rounds),
        (rf"[,;-]\s*(?P<a>{_COUNT})\s*(?P<w>laps)\b\W*$", use_rounds),
        (
            rf"\b(?:super\s*-?set|tri\s*-?set|giant\s*-?set|circuit|complex)s?\W*(?:x|for|of)\s*(?P<a>{_COUNT})\s*(?P<w>x?)(?:sets|rounds|times)?(?=\W*$)",
            use_supersets,
        ),
        (
            rf"\b(?:repeat|do|complete)\s*(?:x\s*)?(?P<a>{_COUNT})\s*(?:x|times)?\b(?P<w>)(?:\s*through)?(?=\W*$)",
            use_rounds,
        ),
        (
            rf"^\W*x\s*(?P<a>{_COUNT})(?:\s*times\b(?:\s+(?:the\s+)?(?:circuit|round|through|all))?)?(?=\W*(?:$|[,;]))(?P<w>)|\b(?P<a2>{_COUNT})\s*(?:x|times)\s*through\b",
            use_rounds,
        ),
    ]


def _ladders(words: Words) -> list[tuple[str, Use]]:
    """Reps that change from round to round, and a bare length."""
    return [
        (
            r"""(?<![\w.:/-])(?P<a>\d+)\s*(?:down\s+)?to\s+(?P<b>\d+)(?:\s*by\s*(?P<by>twos|threes|fives|tens|[2-5]'?s?)\b)?(?:\s*(?:reps?\b|ladder\b))?
            (?=[\s:;,]*(?:reps|of|ladder|each|$|[a-z]))(?!\s*(?:min|sec|m\b|kg|lb|ft|feet))""",
            use_span,
        ),
        (
            r"""(?<![\w.:/-])(?P<a>\d+)\s*-\s*(?P<b>\d+)\s*(?:reps?\s*)?(?:(?:ascending|descending|up|down)\s+)?ladder\b
            |\bladder\W+(?P<a2>\d+)\s*-\s*(?P<b2>\d+)(?![\d-])""",
            use_span,
        ),
        (
            r"""\bstart(?:ing)?\s+(?:at|with|from)\s+(?P<a>\d+)\s*(?:reps?)?\b(?=\W|$)
            (?!\s*(?:kg|lb|m\b|cal|min|sec|[a-z%]|rpe))""",
            use_start,
        ),
        (
            rf"(?:(?P<d>{_DUR})\s*-?\s*)?\b{words.any_of('format', 'ladder')}\b(?:\W+(?:for\s+)?(?P<e>{_DUR}))?",
            use_ladder,
        ),
        (
            rf"""^\W*(?:for\s+|in\s+|on\s+|with(?:in)?\s+|against\s+)?(?:an?\s+|the\s+)?(?P<d>{N}\s*-?\s*(?:minutes?|mins?|')|\d+:00)\s*\)?\s*
            (?:(?:(?:running|rolling|continuous|on\s+the)\s+)?(?:clock|window|timer|time\s*frame|working\s+window)\b\W*(?=$|:|\d)|of\b(?!\s*(?:[a-z-]+\s*){{1,5}}(?:$|[,;]|and\b))\W*|[:;-]+\s*(?=$|\S+(?:\s|$))|\s*,\s*(?=(?:at|take|share|with|partners?|in|keep|steady|easy|moving|continuous|rotate|rotating|no)\b)|[\W]*$)""",
            use_length,
        ),
        (rf"(?:[.;,]|\bfor)\s+(?P<d>{N}\s*-?\s*(?:minutes?|mins?|'))\W*$", use_late_length),
    ]
