"""A board as understood, 80 columns wide, in a form that reads back to the same items."""

from __future__ import annotations

import itertools
import re
import textwrap
from collections.abc import Sequence

from subgraph.notation.board import Block, Item, Reading, Role_
from subgraph.quantities import KG_PER_LB, M_PER_FT, clock, number, written_in_pounds
from subgraph.show.text import WIDTH, Style, printable, several

_SPLITS = {"you-go-i-go": "you go I go", "shared": "split as needed", "synchro": "synchro", "each": "each partner"}
LOWEST_IN_FT = 240  # cm: of a target for balls; a box is lower
NEARLY = 0.03  # of an inch or a foot, lost in rounding to a tenth of a centimetre
HIGHEST_IN_CM = 400  # of a height shown in centimetres: boxes and targets
_GUTTER = 4  # columns of the line number


def reading_text(reading: Reading, style: Style) -> str:
    """A reading: the pieces with their items, then notes, what was assumed, what is unread, and the part of each line.

    Parameters
    ----------
    reading : Reading
        As read.
    style : Style
        Colour or none.
    """
    lines: list[str] = []
    for block in reading.blocks:
        lines += ["", *_block(block, 0, style)]
    if reading.unread:
        lines += ["", style.alarm("Not understood:")]
        for unread in reading.unread[:40]:
            near = f"; nearest: {', '.join(unread.nearest)}" if unread.nearest else ""
            lines += _wrapped(f"line {unread.line}: '{printable(unread.text[:60])}': {unread.why}{near}", "  - ")
        if len(reading.unread) > 40:
            lines.append(f"  - and {len(reading.unread) - 40} more lines, all in --json")
    notes = [note for note in reading.notes if re.search(r"\w", note.text)]  # no rulers
    if notes:
        lines += ["", "Notes:"]
        for note in notes[:40]:
            lines += _wrapped(f"line {note.line}: {printable(note.text)}", "  - ")
        if len(notes) > 40:
            lines.append(f"  - and {len(notes) - 40} more, all in --json")
    if reading.assumed:
        lines += ["", "Assumed:"]
        for text in reading.assumed:
            lines += _wrapped(text, "  - ")
    lines += ["", *(style.quiet(line) for line in _wrapped(_roles(reading.lines), "Lines: ", 7))]
    return "\n".join(lines[1:])


def _wrapped(text: str, first: str, indent: int = 4) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=" " * indent, break_long_words=True, break_on_hyphens=False
    ) or [first.rstrip()]


def _roles(roles: Sequence[Role_]) -> str:
    """Runs of lines with the same part: 1-2 heading, 3 item."""
    runs = []
    for role, group in itertools.groupby(roles, key=lambda r: r.role):
        found = [one.line for one in group]
        runs.append(f"{found[0]}-{found[-1]} {role}" if len(found) > 1 else f"{found[0]} {role}")
    return ", ".join(runs)


def _block(block: Block, level: int, style: Style) -> list[str]:
    pad = "  " * level
    heads = _heading(block)
    lines = [style.bold(line) if n == 0 else line for n, line in enumerate(heads)]
    lines = [f"{pad}{line}" for line in lines]
    parts: list[Item | Block] = [*block.items, *block.blocks]
    for part in sorted(parts, key=lambda p: (p.line, isinstance(p, Block))):
        if isinstance(part, Block):
            lines += _block(part, level + 1, style)
        else:
            lines += _wrapped(item_words(part, block), f"{part.line:>{_GUTTER}}) {pad}", _GUTTER + 4 + len(pad))
    return lines


def _heading(block: Block) -> list[str]:
    """A block's own lines: what it is, then its clock and who shares it."""
    name = {
        "for-time": "for time",
        "amrap": f"AMRAP {clock(block.duration_s)}" if block.duration_s else "AMRAP",
        "emom": _every(block),
        "intervals": f"{clock(block.work_s or 0)} on / {clock(block.rest_s or 0)} off",
        "strength": "sets",
        "work": "at your own pace",
    }[block.format]
    title = [block.section.capitalize()] if block.section else []
    title += ['"' + block.title.replace('"', "'") + '"'] if block.title else []
    facts = [name]
    if block.rounds and block.format != "emom":
        facts.append(f"{block.rounds} rounds{' each' if block.in_turn else ''}")
    if block.scheme:
        rising = "..." if block.step else ""
        facts.append("-".join(number(v) for v in block.scheme) + rising)
    if block.time_cap_s:
        facts.append(f"time cap {clock(block.time_cap_s)}")
    if block.rest_s and block.format != "intervals":
        facts.append(f"rest {clock(block.rest_s)} {'after it' if block.rest_after else 'between rounds'}")
    if block.rest_per_work:
        rest = block.rest_per_work
        facts.append(f"{f'1:{number(rest)}' if rest >= 1 else f'{number(round(1 / rest, 1))}:1'} work/rest")
    if block.partners:
        facts.append(f"teams of {block.partners}")
    if block.split:
        facts.append(_SPLITS["you-go-i-go" if block.in_turn else block.split])
    text = " | ".join([*title, ", ".join(facts)])
    return _wrapped(text, "", 2)


def _every(block: Block) -> str:
    alternating = "alternating " if any(i.slot for i in block.items) else ""
    rounds = f" x {block.rounds} rounds" if block.rounds else ""
    return f"{alternating}every {clock(block.every_s or 60)}{rounds}"


def item_words(item: Item, block: Block | None = None) -> str:
    """One item as on a board: "3 x 8-10 dumbbell row @ 22.5 kg per hand, rest 1:30"."""
    words = [f"{item.role}:"] if item.role else []
    if item.slot:
        words.append(f"min {item.slot}:")
    if item.label:
        words.append(f"{item.label}.")
    within = block.duration_s if block and block.format == "strength" and _built_up(item, block) else None
    words.append("build to a heavy" if within and not item.amount else _amount(item, block))
    words.append("unknown:" if item.movement is None else "")
    many = (
        item.movement
        and item.unit == "rep"
        and (item.amount_is in ("max", "scheme") or max(item.amount, default=0) > 1)
    )
    name = several(item.name) if many else item.name
    words.append(" + ".join(f"{number(p.amount)} {p.name}" for p in item.parts) if item.parts else name)
    if item.per_side:
        words.append("per side")
    text = " ".join(w for w in words if w)
    more = []
    if item.load_kg:
        pounds = written_in_pounds(item.load_kg)
        loads = "/".join(number(round(v / KG_PER_LB) if pounds else v) for v in item.load_kg)
        more.append(f"@ {'2 x ' if item.per_hand else ''}{loads} {'lb' if pounds else 'kg'}")
    if item.percent:
        more.append(f"@ {'-'.join(number(v) for v in item.percent)}%")
    if item.rpe:
        more.append(f"RPE {number(item.rpe)}")
    if item.tempo:
        more.append(f"tempo {item.tempo}")
    if item.height_cm:
        more.append(_height(item.height_cm))
    if item.effort and not within and not (_built_up(item, block) and item.amount_is == "each"):
        more.append(item.effort)
    text = " ".join([text, *more])
    if within:
        text += f" in {clock(within)}"
    if item.split and (block is None or item.split != block.split):
        text += f" ({_SPLITS[item.split]})"
    if item.or_:
        text += " or " + " or ".join(i.replace("-", " ") for i in item.or_)
    return text + (f", rest {clock(item.rest_s)}" if item.rest_s else "")


def _height(values: Sequence[float]) -> str:
    """Heights [cm] in the unit they were written in: whole inches or feet, else centimetres; a rope's in metres."""
    feet = [v / (100 * M_PER_FT) for v in values]
    inches = [12 * f for f in feet]
    if all(v >= LOWEST_IN_FT and abs(f - round(f)) < NEARLY for v, f in zip(values, feet, strict=True)):
        return f"to {'/'.join(number(round(f)) for f in feet)} ft"
    if all(v % 1 or v % 5 for v in values) and all(abs(i - round(i)) < NEARLY for i in inches):
        return f"{'/'.join(number(round(i)) for i in inches)} in"
    if min(values) > HIGHEST_IN_CM:
        return "/".join(number(round(v / 100, 2)) for v in values) + " m"
    return "/".join(number(v) for v in values) + " cm"


def _built_up(item: Item, block: Block | None) -> bool:
    """Whether it is a set to build up to; in a race or by the clock "heavy" only tells the load."""
    clocked = block is not None and block.format in ("for-time", "amrap", "intervals")
    return item.effort == "heavy" and not item.sets and not clocked and item.unit in ("rep", None)


def _amount(item: Item, block: Block | None) -> str:
    sets = f"{item.sets} x " if item.sets and item.amount_is != "sets" else ""
    if item.amount_is == "max":
        return f"{sets}max {item.unit or 'rep'}{'s' if item.unit in (None, 'rep') else ''}"
    if not item.amount or item.parts:
        return sets.replace(" x ", " sets of") if sets else ""
    if item.amount_is == "scheme" and block is not None and item.amount == block.scheme:
        return item.unit if item.unit not in ("rep", None) else ""
    join = {"standards": "/", "range": "-", "scheme": "-", "sets": "-"}.get(item.amount_is, "-")
    values = [clock(v) if item.unit == "s" and v >= 60 else number(v) for v in item.amount]
    unit = "" if item.unit in ("rep", None) else "" if item.unit == "s" and item.amount[0] >= 60 else f" {item.unit}"
    building = _built_up(item, block) and item.amount_is == "each"
    build = "build to a heavy " if building else ""
    return f"{sets}{build}{join.join(values)}{unit}"
