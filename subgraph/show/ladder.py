"""A progression and what is one rung away, as text and as plain values."""

from __future__ import annotations

from typing import Any

import msgspec

from subgraph.library.knowledge import Library
from subgraph.library.records import Movement, Rung
from subgraph.options import Option
from subgraph.progression import Progression, Reach, Step
from subgraph.quantities import Amount, number
from subgraph.show.data import option_data
from subgraph.show.text import Style, counted, load_words, referral_lines, told_words
from subgraph.show.text import _field as field
from subgraph.show.text import _wrapped as wrapped
from subgraph.today import Removal, Today

_MOST_REASONS = 3


def source_words(library: Library, rung: Rung) -> str:
    """Where a measure comes from: "common practice, no source", a count of independent sources, or a citation."""
    if rung.source == "common-practice":
        sources = "1 independent source" if rung.pages == 1 else f"{rung.pages} independent sources"
        return f"common practice, {sources if rung.pages else 'no source'}"
    return library.sources[rung.source].citation.rstrip(".") + (f", {rung.where}" if rung.where else "")


def progression_text(library: Library, found: Progression, today: Today, notes: list[str], style: Style) -> str:
    """What stands between a member and a movement.

    Parameters
    ----------
    library : Library
        Records.
    found : Progression
        The rungs.
    today : Today
        Situation, for the headline.
    notes : list of str
        What was assumed while reading.
    style : Style
        Colour or none.

    Returns
    -------
    str
        Lines of at most 80 columns.
    """
    goal = found.goal
    lines = [style.bold(f"towards: {goal.name}")]
    if told := " | ".join(told_words(library, today)):
        lines += wrapped(told, 0)
    lines += [style.quiet(line) for note in notes for line in wrapped(f"({note})", 0)]
    if found.answer.refer:
        return "\n".join([*lines, *referral_lines(found.answer.refer, found.answer.caution, style)])
    if found.owned:
        lines += field("owned", _names(found.owned))
    if found.assumed:
        lines += field("assumed", f"{_names(found.assumed)} (taken as owned at this level: check)")
    if found.removals:
        lines += wrapped(f"{_first_upper(goal.name)} itself is not for today: {_reasons(found.removals)}.", 0)
    board = counted(found.asked.amount, goal.name) + (" (about a minute)" if found.asked.assumed else "")
    if found.outcome == "owned":
        lines += ["", style.bold(f"{_first_upper(goal.name)} is owned. Nothing stands between.")]
    elif found.outcome == "next":
        words = "needs nothing first" if not goal.needs else "has all that it needs"
        lines += ["", style.bold(f"Nothing stands between: {goal.name} {words}.")]
        lines += wrapped(f"Learn the movement itself; today: in place of {board}", 0)
        lines += field("call", " / ".join(goal.cues[:2]))
        lines += _faults(goal)
        lines += _today(found.answer.options[0] if found.answer.options else None, "")
    else:
        ready = sum(not s.waits_for and not s.removals for s in found.steps)
        total = f"{len(found.steps)} rung{'s' if len(found.steps) != 1 else ''}"
        lines += ["", style.bold(f"{total} between, easiest first; {ready} to work on now")]
        lines += wrapped(f"today: in place of {board} from that rung on, with those above it owned", 0)
    before = ""
    for position, step in enumerate(found.steps, 1):
        lines += ["", *_step(library, step, position, before, style)]
        before = step.substitute.movement.id if step.substitute else ""
    if found.answer.notes:
        lines.append("")
        for note in found.answer.notes:
            lines += wrapped(note, 0, bullet="- ")
    return "\n".join([*lines, "", *(style.quiet(line) for line in wrapped(found.answer.caution, 0))])


def _step(library: Library, step: Step, position: int, before: str, style: Style) -> list[str]:
    movement = step.movement
    state = "not today" if step.removals else "now" if not step.waits_for else "later"
    lines = [style.bold(f"{position:>2} {movement.name}") + f"  [{state}]"]
    if step.removals:
        lines += field("out", _reasons(step.removals))
        close = f"train it as {_much(step.stand_in)}" if step.stand_in else "nothing close to it is left today"
        lines += field("instead", close)
    if step.waits_for:
        lines += field("after", _names(step.waits_for))
    if step.rung:
        lines += field("done", f"{step.rung.criterion} ({source_words(library, step.rung)})")
    else:
        lines += field("done", "no measure is written for it; use your own")
    if not step.removals:
        lines += _faults(movement)
    return lines + _today(step.substitute, before)


def _reasons(removals: tuple[Removal, ...]) -> str:
    """The first reasons, and how many more there are."""
    return _first_few(list(dict.fromkeys(r.reason for r in removals)))


def _first_few(texts: list[str]) -> str:
    more = len(texts) - _MOST_REASONS
    return "; ".join(texts[:_MOST_REASONS]) + (
        f"; and {more} other reasons" if more > 1 else f"; {texts[-1]}" if more else ""
    )


def _faults(movement: Movement) -> list[str]:
    lines: list[str] = []
    for fault in movement.faults:
        lines += field("fault", f"{fault.see}: {fault.say}")
    return lines


def _much(option: Option) -> str:
    """Amount, name and load: "8 dumbbell Romanian deadlifts @ usually 2 x 15/10 kg"."""
    words = counted(Amount(option.amount, option.unit), option.movement.name)
    if option.movement.load:
        words += " " + load_words(option.movement, option.movement.load, option.load_kg)
    return words


def _today(option: Option | None, before: str) -> list[str]:
    """What to do today in place of the goal; nothing where that is as on the rung before."""
    if option is None:
        return field("today", "nothing suitable is left")
    if option.movement.id == before:
        return []
    spread = "" if option.low == option.high else f" ({number(option.low)} to {number(option.high)})"
    return field("today", f"{_much(option)}{spread}" + ("; judge the first set" if option.judge else ""))


def _names(movements: tuple[Movement, ...]) -> str:
    return ", ".join(m.name for m in movements)


def _first_upper(text: str) -> str:
    return text[0].upper() + text[1:]


def reach_text(library: Library, found: Reach, today: Today, top: int, notes: list[str], style: Style) -> str:
    """What is one rung away from what is owned.

    Parameters
    ----------
    library : Library
        Records.
    found : Reach
        What was found.
    today : Today
        Situation, for the headline.
    top : int
        How many to print; the rest is counted.
    notes : list of str
        What was assumed while reading.
    style : Style
        Colour or none.
    """
    lines = [style.bold(line) for line in wrapped(f"one rung away from: {_names(found.owned)}", 0)]
    if told := " | ".join(told_words(library, today)):
        lines += wrapped(told, 0)
    lines += [style.quiet(line) for note in notes for line in wrapped(f"({note})", 0)]
    if not found.nearby:
        lines += ["", style.bold("Nothing is one rung away" + (" today." if found.removed else "."))]
    else:
        lines.append("")
    for near in found.nearby[:top]:
        ranks = f"skill {near.movement.skill}, strength {near.movement.strength}"
        lines += wrapped(f"{near.movement.name} ({ranks}) from {_names(near.from_)}", 2, bullet="- ")
        if near.why:
            lines += wrapped(near.why, 4)
    if len(found.nearby) > top:
        lines += wrapped(f"and {len(found.nearby) - top} more: --top {len(found.nearby)} shows all", 0)
    if found.removed:
        reasons = _first_few([f"{n} for: {reason}" for reason, n in found.removed.items()])
        lines += ["", *wrapped(f"Not for today: {reasons}.", 0)]
    return "\n".join(lines)


def progression_data(library: Library, found: Progression) -> dict[str, Any]:
    """What stands between a member and a movement, as plain values."""
    refer = found.answer.refer
    first = found.answer.options[0] if found.answer.options and not refer else None
    return {
        "goal": found.goal.id,
        "name": found.goal.name,
        "amount": found.asked.amount.value,
        "unit": found.asked.amount.unit,
        "outcome": found.outcome,
        "owned": [m.id for m in found.owned],
        "assumed": [m.id for m in found.assumed],
        "rungs": [_step_data(library, step) for step in found.steps],
        "not_today": [{"kind": r.kind, "reason": r.reason, "detail": r.detail} for r in found.removals],
        "today": None if first is None or found.outcome == "owned" else option_data(library, first),
        "refer": None if refer is None else msgspec.to_builtins(refer),
        "notes": found.answer.notes,
        "caution": found.answer.caution,
        "library": found.answer.library,
    }


def _step_data(library: Library, step: Step) -> dict[str, Any]:
    rung = step.rung
    return {
        "movement": step.movement.id,
        "name": step.movement.name,
        "now": not step.waits_for and not step.removals,
        "opens": [m.id for m in step.opens],
        "waits_for": [m.id for m in step.waits_for],
        "not_today": [{"kind": r.kind, "reason": r.reason, "detail": r.detail} for r in step.removals],
        "done_when": None
        if rung is None
        else {
            "criterion": rung.criterion,
            "amount": rung.amount,
            "unit": rung.unit,
            "source": rung.source,
            "source_words": source_words(library, rung),
        },
        "cues": step.movement.cues,
        "faults": [{"see": f.see, "say": f.say} for f in step.movement.faults],
        "today": None if step.substitute is None else option_data(library, step.substitute),
        "stand_in": None if step.stand_in is None else option_data(library, step.stand_in),
    }


def reach_data(found: Reach) -> dict[str, Any]:
    """What is one rung away, as plain values."""
    return {
        "owned": [m.id for m in found.owned],
        "next": [
            {
                "movement": near.movement.id,
                "name": near.movement.name,
                "skill": near.movement.skill,
                "strength": near.movement.strength,
                "from": [m.id for m in near.from_],
                "why": near.why,
            }
            for near in found.nearby
        ],
        "removed": found.removed,
    }
