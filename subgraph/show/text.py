"""Answers as plain text, 80 columns wide, to be read at arm's length in ten seconds."""

from __future__ import annotations

import os
import re
import sys
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from subgraph.basis import worth_of
from subgraph.graph import must_own_first, steps
from subgraph.library.knowledge import Library
from subgraph.library.records import LEVELS, Load, Movement
from subgraph.options import Answer, Option, WhyNot, evidence_behind
from subgraph.quantities import Amount, Unit, clock, number
from subgraph.referral import Referral
from subgraph.show.data import equipment_words
from subgraph.today import Today, free_hands

if TYPE_CHECKING:
    from subgraph.library.laid import Laid

WIDTH = 80
_LABEL = 8
_STEERS = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class Style(Struct, frozen=True):
    """Whether to use colour: only on a terminal, and never where `NO_COLOR` is set."""

    colour: bool

    @staticmethod
    def for_output() -> Style:
        """Style for standard output as it is now."""
        wanted = sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
        return Style(wanted)

    def bold(self, text: str) -> str:
        """Strong."""
        return f"\033[1m{text}\033[0m" if self.colour else text

    def alarm(self, text: str) -> str:
        """Strong and red."""
        return f"\033[1;31m{text}\033[0m" if self.colour else text

    def quiet(self, text: str) -> str:
        """Dim."""
        return f"\033[2m{text}\033[0m" if self.colour else text


def printable(text: str) -> str:
    """Somebody's line as it may stand on one line of a terminal: what would steer it or break the line is a space."""
    return _STEERS.sub(" ", text)


def counted(amount: Amount, name: str) -> str:
    """An amount of a movement as on a board: "15 toes-to-bar", "500 m row"."""
    if amount.unit == "rep":
        return f"{number(amount.value)} {several(name) if amount.value > 1 else name}"
    return f"{amount} {name}"


# What follows is not what is counted; before "to" or "over": what is moved; the ends of two movements done as one.
_AFTER = frozenset({"over", "to", "with", "without", "in", "on", "from", "onto", "of"})
_THINGS = frozenset({"ground", "ball", "sandbag", "single", "double"})
_ENDS = frozenset({"jerk", "press", "squat", "raise"})


def several(name: str) -> str:
    """Plural of a movement's name, of the word that is counted.

    Examples
    --------
    >>> several("push press"), several("bent-over row"), several("burpee over the bar"), several("toes-to-bar")
    ('push presses', 'bent-over rows', 'burpees over the bar', 'toes-to-bar')
    """
    words = name.split()
    cut = next((k for k, word in enumerate(words) if k and word in _AFTER), len(words))
    last = words[cut - 1]
    parts = last.split("-")
    if cut < len(words) and last in _THINGS:
        return name
    if "to" in parts[1:-1] and parts[-1] in ("bar", "ring", "rings", "elbows", "overhead"):
        return name
    if "and" in words and last not in _ENDS:
        return name
    if (last.endswith("s") and not last.endswith("ss")) or last in ("overhead", "apart"):
        return name
    if last.endswith(("ss", "x", "ch", "sh")):
        end = "es"
    else:
        last, end = (last[:-1], "ies") if last.endswith(("ly", "ry")) else (last, "s")
    return " ".join([*words[: cut - 1], last + end, *words[cut:]])


def load_words(movement: Movement, load: Load, load_kg: float | None) -> str:
    """A load as on a board: "43 kg", "2 x 15 kg", "usually 24/16 kg"."""
    pair = load.per_hand and any(
        "2 " in choice for need in movement.uses for choice in ([need] if isinstance(need, str) else need)
    )
    times = "2 x " if pair else ""
    if load_kg is not None:
        return f"@ {times}{number(load_kg)} kg"
    heavy, light = load.kg
    return f"@ usually {times}{number(heavy)}/{number(light)} kg"


def answer_text(
    library: Library, answer: Answer, today: Today, notes: Sequence[str], style: Style, *, explain: bool = False
) -> str:
    """An answer of `options`.

    Parameters
    ----------
    library : Library
        Records.
    answer : Answer
        What was found.
    today : Today
        Situation, for the headline.
    notes : sequence of str
        What was assumed while reading the ask.
    style : Style
        Colour or none.
    explain : bool
        Whether to show what each amount rests on.

    Returns
    -------
    str
        Lines of at most 80 columns.
    """
    lines = [_headline(library, answer, today, style)]
    lines += [style.quiet(line) for note in notes for line in _wrapped(f"({note})", 0)]
    if answer.refer:
        lines += referral_lines(answer.refer, answer.caution, style)
        return "\n".join(lines)
    if answer.outcome == "as-written":
        time = f", about {clock(answer.seconds)}" if answer.seconds else ""
        cap = f", cap {clock(answer.cap_s)}" if answer.cap_s else ""
        lines += ["", style.bold(f"AS WRITTEN fits what you told me{time}{cap}.")]
        if answer.options:
            lines.append("If it does not:" if not answer.options[0].harder else "If it is too easy, or does not fit:")
    elif answer.outcome == "nothing-suitable":
        lines += ["", style.bold("NOTHING SUITABLE is left for this ask.")]
        reasons = [f"{count} for: {reason}" for reason, count in list(answer.removed.items())[:4]]
        lines += _field("out", "; ".join(reasons))
        instead = answer.instead or ("walk, breathe, coach the clock, or see someone about it",)
        lines += _field("instead", "; ".join(instead))
    else:
        why = "; ".join(dict.fromkeys(r.reason for r in answer.standing_in_the_way))
        lines += _wrapped(f"Not as written: {why}.", 0)
    for position, option in enumerate(answer.options, 1):
        lines += ["", *_option(library, option, position, style, hands=free_hands(library, today))]
        if explain:
            lines += _evidence(library, answer, option)
    if answer.notes:
        lines.append("")
        for note in answer.notes:
            lines += _wrapped(note, 0, bullet="- ")
    lines += ["", *(style.quiet(line) for line in _wrapped(answer.caution, 0))]
    return "\n".join(lines)


def _headline(library: Library, answer: Answer, today: Today, style: Style) -> str:
    asked = counted(answer.asked.amount, answer.movement.name)
    if answer.movement.load and answer.asked.load_kg:
        asked += " " + load_words(answer.movement, answer.movement.load, answer.asked.load_kg)
    return "\n".join([style.bold(asked), *_wrapped(" | ".join([*told_words(library, today), answer.intent]), 0)])


def told_words(library: Library, today: Today) -> list[str]:
    """What was told of the member and the floor, in a few words each."""
    told: list[str] = []
    if library.house.name:
        told.append(f"house: {library.house.name}")
    if today.without:
        told.append("no " + ", no ".join(library.equipment[e].name for e in sorted(today.without)))
    if today.only is not None:
        told.append("only " + (", ".join(_had(library, today, e) for e in today.only) or "the floor"))
    for complaint in today.complaints:
        name = library.complaints[complaint.complaint].name if complaint.complaint else ""
        by = ", ".join(library.provocations[p].name for p in complaint.provoked_by)
        told.append(f"{name} ({by})" if name and by else name or by)
    if today.complaints:
        told.append(today.irritability)
    if today.cannot:
        told.append("not owned: " + ", ".join(library.movements[m].name for m in sorted(today.cannot)))
    told += [library.limits[limit].name for limit in sorted(today.limits)]
    if today.level:
        told.append(today.level)
    return told


def _had(library: Library, today: Today, item: str) -> str:
    """An item on hand, with its weights where they were told."""
    weights = "/".join(number(size) for size in today.sizes_kg.get(item, ()))
    return library.equipment[item].name + (f" {weights} kg" if weights else "")


def referral_lines(refer: Referral, caution: str, style: Style) -> list[str]:
    """Stop and refer, with the first steps."""
    lines = ["", style.alarm("STOP. NO EXERCISE FOR THIS TODAY.")]
    lines += [style.alarm(line) for line in _wrapped(refer.text[0].upper() + refer.text[1:] + ".", 0)]
    lines += _field("heard", refer.because)
    for step in refer.first_steps:
        lines += _wrapped(step, 0, bullet="- ")
    return [*lines, "", *_wrapped(caution, 0)]


def _option(library: Library, option: Option, position: int, style: Style, *, hands: int) -> list[str]:
    movement = option.movement
    head = counted(Amount(option.amount, option.unit), movement.name)
    if movement.load:
        head += " " + load_words(movement, movement.load, option.load_kg)
    side = {"each": ", half each side", "alternating": ", alternating", "both": ""}[movement.sides]
    if movement.sides in movement.name:
        side = ""  # the name says so
    if side and movement.hands == hands == 1:
        side = ", free arm only"
    facts = [_interval(option)]
    if option.seconds and option.unit != "s":
        facts.append(f"about {clock(option.seconds)}")
    if option.cap_s:
        facts.append(f"cap {clock(option.cap_s)}")
    mark = "harder: " if option.harder else ""
    lines = [style.bold(line) for line in _wrapped(f"{mark}{head}{side}", 3, bullet=f"{position}  ")]
    lines += _field("range", "; ".join(f for f in (", ".join(f for f in facts if f), option.basis_text) if f))
    if option.note or option.judge:
        lines += _field("", option.note or "a starting amount: judge the first set")
    lines += _field("why", "; ".join(option.because))
    lines += _field("keeps", ", ".join(option.keeps))
    lines += _field("loses", ", ".join(option.loses) or "little")
    needs = [equipment_words(library, need) for need in movement.uses]
    if needs:
        lines += _field("needs", ", ".join(needs))
    lines += _field("call", " / ".join(movement.cues[:2]))
    lines += _field("fault", f"{movement.faults[0].see}: {movement.faults[0].say}")
    if option.cautions:
        lines += _field("watch", "; ".join(option.cautions))
    return lines


_SHOWN = 0.05  # share of an amount from which a piece of evidence is shown
_PIECES = 6


def _evidence(library: Library, answer: Answer, option: Option) -> list[str]:
    """What an amount rests on. Shares are flows: the steps of a chain each carry all that runs over it."""
    pieces = evidence_behind(library, answer, option)
    shown = [p for p in pieces if p.share >= _SHOWN][:_PIECES]
    lines: list[str] = []
    for piece in shown:
        named = f"; {piece.record}".replace("-", _HARD_HYPHEN) if piece.record else ""
        label = "" if lines else "rests"
        head = f"   {label:<{_LABEL}} {piece.share:>4.0%}  "
        lines += _wrapped(f"{piece.says} ({piece.basis}, {piece.worth}{named})", 0, bullet=head)
    lines = [line.replace(_HARD_HYPHEN, "-") for line in lines]
    if len(pieces) > len(shown):
        lines += _field("", f"and {len(pieces) - len(shown)} more with less each")
    return lines or _field("rests", "on the same time under work")


_HARD_HYPHEN = "\u2011"  # an id is not broken at the end of a line


def _interval(option: Option) -> str:
    if option.low == option.high:
        return ""
    if option.unit == "s":
        return f"{clock(option.low)} to {clock(option.high)}"
    return f"{number(option.low)} to {number(option.high)}"


def _field(label: str, text: str) -> list[str]:
    if not text:
        return []
    return _wrapped(text, _LABEL + 3, bullet=f"   {label:<{_LABEL}}")


def _wrapped(text: str, indent: int, bullet: str = "") -> list[str]:
    width = max(indent, len(bullet))
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=bullet or " " * indent,
        subsequent_indent=" " * width,
        break_long_words=True,
    )


def why_not_text(answer: WhyNot, library: Library, style: Style) -> str:
    """An answer of `why-not`."""
    lines = [style.bold(answer.movement.name)]
    if answer.removals:
        lines.append("is not for today:")
        for removal in answer.removals:
            detail = f" ({removal.detail})" if removal.detail else ""
            lines += _wrapped(f"{removal.reason}{detail}", 0, bullet="- ")
        return "\n".join(lines)
    if answer.place is None:
        return "\n".join([*lines, "is the movement that was asked for; nothing stands in its way today."])
    place = f"fits today and ranks {answer.place} of {answer.survivors}"
    if answer.bar:
        lines += _wrapped(f"{place}, but is not offered: {BAR_WORDS[answer.bar]}.", 0)
    else:
        lines.append(place + (" (offered)" if answer.offered else ""))
    if answer.best and answer.best.id != answer.movement.id:
        lines += _wrapped(f"First choice: {answer.best.name}.", 0)
        if answer.further and not answer.bar:
            lines += _wrapped("Behind it for: " + ", ".join(FACET_WORDS[f] for f in answer.further[:4]) + ".", 0)
    return "\n".join(lines)


BAR_WORDS = {
    "far": "too far from what was asked to stand in for it",
    "too-hard": "it asks for more skill or strength than an option may today",
    "no-harder": "this member has outgrown what was asked, and it is no harder",
    "not-used-so": "it is not used in such pieces",
    "no-easier": "no easier than what this member can't do yet",
}
FACET_WORDS = {
    "pattern": "what moves",
    "muscles": "muscles",
    "character": "how the muscle works",
    "effort": "strength needed",
    "energy": "energy cost",
    "skill": "skill needed",
    "stance": "body position",
    "tempo": "tempo",
    "link": "no link that a coach wrote for this",
    "context": "no link that speaks of today's obstacle",
    "practice": "no rule of the trade for how many",
    "unsuited": "not used in such pieces",
    "over": "harder than what was asked",
    "kit": "kit that is hard to come by",
    "unit": "counted in another unit",
    "loaded": "loaded against unloaded",
    "lighter": "less load",
    "idle": "leaves the kit on hand unused",
    "uncommon": "few rules of the trade speak of it",
    "sparse": "few links lead to it",
    "aim": "no step down that a coach wrote",
    "family": "another family of movements",
    "strain": "other joints are strained",
    "order": "further down the coach's own list",
}


def movement_text(library: Library, movement: Movement, style: Style) -> str:
    """One record, with its links, ratios, demands and sources."""
    lines = [style.bold(movement.name) + f"  [{movement.id}]"]
    lines += _field("also", ", ".join(movement.also))
    lines += _field("trains", ", ".join(f"{library.patterns[p].name} {s:.0%}" for p, s in movement.pattern.items()))
    muscles = sorted(movement.muscles.items(), key=lambda kv: -kv[1])
    lines += _field("muscles", ", ".join(library.muscles[m].name for m, _ in muscles))
    lines += _field("needs", ", ".join(equipment_words(library, n) for n in movement.uses) or "no equipment")
    owned = sorted(must_own_first(library, movement.id))
    lines += _field("own", ", ".join(library.movements[m].name for m in owned))
    lines += _field("skill", f"{movement.skill} of 5, strength {movement.strength} of 5, {movement.met.value:g} METs")
    for unit, paces in movement.units.items():
        pace = ", ".join(f"{lv} {number(p)} s" for lv, p in zip(LEVELS, paces, strict=True) if p is not None)
        lines += _field("pace", f"per {unit}: {pace}")
    if movement.load:
        lines += _field("load", load_words(movement, movement.load, None).removeprefix("@ "))
    lines += _field("call", " / ".join(movement.cues))
    for fault in movement.faults:
        lines += _field("fault", f"{fault.see}: {fault.say}")
    for caution in movement.cautions:
        lines += _field("watch", caution)
    lines += ["", style.bold("demands (0 to 3)")]
    for id_, grade in sorted(movement.demands.items(), key=lambda kv: (-kv[1], kv[0])):
        why = f" ({movement.why[id_]})" if id_ in movement.why else ""
        if not why and grade > 1:  # no reason of its own: the definition is the reason
            why = f": {library.demands[id_].grades['3' if grade == 3 else '2']}"
        lines += _wrapped(f"{library.demands[id_].name}{why}", 0, bullet=f"   {grade}  ")
    lines += ["", style.bold("links")]
    for kind in ("easier", "sideways", "harder"):
        for step in steps(library, movement.id):
            if step.kind == kind:
                lines += _wrapped(f"{library.movements[step.to].name}: {step.link.why}", 0, bullet=f"   {kind:<9} ")
    shown = library.ratios_at(movement.id)
    if shown:
        lines += ["", style.bold("ratios")]
    for ratio in shown:
        one, many = library.movements[ratio.from_].name, library.movements[ratio.to].name
        lines += _wrapped(
            f"1 {_unit(ratio.units[0])}{one} = {ratio.ratio:g} {_unit(ratio.units[1])}{many} "
            f"({ratio.low:g} to {ratio.high:g}; {ratio.basis}, {worth_of(ratio)})",
            0,
            bullet="   ",
        )
    lines += ["", style.bold("sources")]
    for id_ in sorted({*movement.sources, movement.met.source}):
        lines += _wrapped(library.sources[id_].citation, 0, bullet="   ")
    return "\n".join(lines)


def _unit(unit: Unit) -> str:
    return "" if unit == "rep" else f"{unit} "


def counts_text(counts: Iterable[tuple[str, int]], style: Style) -> str:
    """A table of names and numbers."""
    return "\n".join(f"{name:<42}{style.bold(f'{count:>8}')}" for name, count in counts)


def house_text(library: Library, style: Style) -> list[str]:
    """What a house lays over the library, one entry per thing; nothing where there is none."""
    if not library.house.name:
        return []
    number_ = library.house.emergency
    lines = ["", style.bold(f"house: {library.house.name}") + (f", emergency {number_}" if number_ else "")]
    for what in ("overridden", "changed", "named", "rule", "added", "owned"):
        for item in library.laid:
            if item.what == what:
                lines += _wrapped(_laid_words(item), 14, bullet=f"   {what:<11}")
    return lines


def _laid_words(item: Laid) -> str:
    kind = "" if item.of in ("movement", "rule") or item.what == "owned" else f"{item.of} "
    now = item.now or {}
    match item.what:
        case "overridden":
            told = f"whole, was {item.was}"
        case "changed":
            told = f"{item.field} from {_value(item.was)} to {_value(item.now)}: {item.why}"
        case "named":
            told = f"also {', '.join(now)}"
        case "rule":
            told = f"{item.why}; for {', '.join(now['for'])}; takes {now['takes_out']} movements out"
        case _:
            told = ", ".join(f"{k} {_value(v)}" for k, v in now.items())
    return f"{kind}{item.record}{': ' + told if told else ''} ({item.at})"


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k}: {_value(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "/".join(_value(v) for v in value)
    if value is None:
        return "nothing"
    return number(value) if isinstance(value, int | float) and not isinstance(value, bool) else str(value)
