"""A board for one member, and the versions beside a board, as plain text 80 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from subgraph.adapt import Adapted, Changed, PieceAdapted
from subgraph.adapt.versions import Column
from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.notation.lines import split_lines
from subgraph.quantities import clock, number
from subgraph.show.board_again import Row, board_again
from subgraph.show.text import WIDTH, Style, printable, referral_lines, several, told_words
from subgraph.today import Today
from subgraph.workout.doses import KeptUnder, Total, kept_under
from subgraph.workout.laid_out import Work
from subgraph.workout.timing import Clock, PieceTime, believable

_LABEL = 8
_A_MINUTE = 60.0
_WORTH_TELLING = 0.5  # of a full dose
_MOST_TOTALS = 4
_GUTTER = {"changed": "> ", "unread": "? ", "": "  "}


def adapted_text(
    library: Library,
    text: str,
    adapted: Adapted,
    today: Today,
    notes: Sequence[str],
    style: Style,
    *,
    explain: bool = False,
) -> str:
    """A board for one member.

    Parameters
    ----------
    library : Library
        Records.
    text : str
        The board as pasted.
    adapted : Adapted
        What the member does.
    today : Today
        Situation, for the headline.
    notes : sequence of str
        What was assumed while reading the flags.
    style : Style
        Colour or none.
    explain : bool
        Whether to give the reasons of each choice.

    Returns
    -------
    str
        Lines of at most 80 columns.
    """
    lines = [style.bold(line) for line in _wrapped(" | ".join(told_words(library, today)) or "nothing told")]
    lines += [style.quiet(line) for note in notes for line in _wrapped(f"({note})")]
    if adapted.refer:
        return "\n".join([*lines, *referral_lines(adapted.refer, adapted.caution, style)])
    if adapted.outcome == "as-written":
        lines += ["", style.bold("AS WRITTEN fits what you told me.")]
    lines += ["", *_board(board_again(library, text, adapted), style)]
    legend = ["> changed for this member"] if any(p.items or p.caps for p in adapted.pieces) else []
    legend += ["? not understood, left as it stands"] if adapted.reading.unread else []
    lines += ["", style.quiet("   ".join(legend))] if legend else []
    brief = _brief(adapted, style)
    lines += ["", *brief] if brief else []
    lines += ["", *_times(library, adapted, style)]
    lines += _strains(adapted)
    lines += _watch(adapted)
    lines += _field("kit", "; ".join(adapted.kit))
    for unread in adapted.reading.unread:
        near = [library.movements[i].name for i in unread.nearest if i in library.movements]
        lines += _field(
            "unread", f"line {unread.line}: {unread.why}" + (f"; nearest: {', '.join(near)}" if near else "")
        )
    if adapted.reading.assumed:
        lines += _field("assumed", "; ".join(adapted.reading.assumed))
    if adapted.notes:
        lines += [""] + [line for note in adapted.notes for line in _wrapped(note, "- ", 2)]
    if explain:
        lines += _explained(library, adapted, style)
    lines += ["", *(style.quiet(line) for line in _wrapped(adapted.caution))]
    return "\n".join(lines)


def versions_text(library: Library, text: str, columns: Sequence[Column], style: Style) -> str:
    """Versions to copy beside the board: as written in full, then what changes in each."""
    first = columns[0].adapted
    lines = [style.bold("AS WRITTEN"), *(f"  {printable(line.rstrip())}" for line in split_lines(text.expandtabs(4)))]
    lines += _times(library, first, style, short=True)
    for column in columns:
        adapted = column.adapted
        lines += ["", style.bold(column.version.name.upper())]
        rows = [row for row in board_again(library, text, adapted) if row.changed]
        for row in rows:
            lines += _wrapped(row.text.strip(), "  ", 4)
        if not rows:
            lines.append("  as written")
        said = [s for p in adapted.pieces for s in p.fit.said]
        if said:
            lines += _wrapped("; ".join(dict.fromkeys(said)), "  (", 3, end=")")
        beyond = [_total_words(t) for t in adapted.totals if t.beyond]
        if beyond:
            lines += _wrapped("; ".join(beyond), "  ! ", 4)
        if column.version.note:
            lines += _wrapped(column.version.note, "  ! ", 4)
    for unread in first.reading.unread:
        lines += _field("unread", f"line {unread.line}: {printable(unread.text[:40])}: {unread.why}")
    lines += ["", *(style.quiet(line) for line in _wrapped(first.caution))]
    return "\n".join(lines)


def _board(rows: Sequence[Row], style: Style) -> list[str]:
    lines = []
    for row in rows:
        mark = _GUTTER["changed" if row.changed else "unread" if row.unread else ""]
        body = row.text or ""
        indent = len(body) - len(body.lstrip())
        wrapped = textwrap.wrap(
            body.strip(),
            WIDTH,
            initial_indent=mark + " " * min(indent, 20),
            subsequent_indent="  " + " " * min(indent + 4, 24),
            break_on_hyphens=False,
        ) or [mark.rstrip()]
        lines += [style.bold(line) for line in wrapped] if row.changed else wrapped
    return lines


def _names(changed: Changed) -> tuple[str, str]:
    old, pick = changed.place, changed.pick
    new = "" if pick is None else several(pick.movement.name) if pick.unit == "rep" else pick.movement.name
    return several(old.movement.name) if old.unit == "rep" else old.movement.name, new


def _changes(adapted: Adapted) -> list[Changed]:
    """Changes of all pieces, each pair of movements once."""
    found: dict[tuple[str, str], Changed] = {}
    for piece in adapted.pieces:
        for changed in piece.changed:
            found.setdefault((changed.place.movement.id, changed.pick.movement.id if changed.pick else ""), changed)
    return list(found.values())


def _by_pick(changes: Sequence[Changed]) -> list[list[Changed]]:
    """Changes to the same movement together; what has nothing suitable stays alone."""
    groups: dict[str, list[Changed]] = {}
    for changed in changes:
        key = changed.pick.movement.id if changed.pick else f"- {changed.place.movement.id}"
        groups.setdefault(key, []).append(changed)
    return list(groups.values())


def _brief(adapted: Adapted, style: Style) -> list[str]:
    """Two cues for each changed movement."""
    lines: list[str] = []
    for group in _by_pick(_changes(adapted)):
        changed = group[0]
        new = _names(changed)[1]
        old = " and ".join(dict.fromkeys(_names(c)[0] for c in group))
        if not changed.pick:
            why = "; ".join(dict.fromkeys(r.reason for r in changed.place.removals))
            lines += _wrapped(f"{old}: nothing suitable ({why}). Rest, walk or coach the clock.", "", 3)
            continue
        lines += [style.bold(line) for line in _wrapped(f"{new} for {old}")]
        lines += _field("call", " / ".join(changed.pick.movement.cues[:2]))
        option = changed.pick.option
        lines += _field("load", "; ".join(dict.fromkeys(c.load for c in group if c.load)))
        if option and option.note and changed.pick.load_kg == option.load_kg:
            lines += _field("", option.note)
        elif option and option.judge and any(w.amounts for w in _works(adapted, changed)):
            lines += _field("", "a starting amount: judge the first set")
    return lines


def _works(adapted: Adapted, changed: Changed) -> list[Work]:
    """Work of the board that a change is for."""
    works = [w for p in adapted.pieces for w in p.written.all_works]
    return [w for w in works if w.movement is changed.place.movement]


def _times(library: Library, adapted: Adapted, style: Style, *, short: bool = False) -> list[str]:
    """Expected time of each piece, as written and as adapted, and what it loses."""
    lines: list[str] = []
    for place, piece in enumerate(adapted.pieces, 1):
        brief = piece.written.block.format == "work" and piece.time.by_level["regular"].total.typical_s < _A_MINUTE
        if brief and not piece.fit.said and not piece.time.said:
            continue  # practice with a few reps: no time to speak of
        if len(adapted.pieces) > 1:
            lines.append(style.bold(_title(piece, place)))
        lines += [] if brief else _field("time", _written_words(piece))
        if short:
            continue
        if piece.items or piece.caps or adapted.level != "regular":
            now = _clock_words(piece.fit.clock, piece)
            if _differs(piece):
                lines += _field("member", (f"{adapted.level}: " if adapted.level != "regular" else "") + now)
        lines += _field("", "; ".join(piece.fit.said))
        if piece.written.block.format != "work":
            lines += _field("trains", _trains(piece))
            if piece.items:
                lines += _field("loses", ", ".join(piece.loses) or "little")
        lines += _field("note", "; ".join(piece.time.said))
    return lines


def _differs(piece: PieceAdapted) -> bool:
    """Whether the member's time is worth a line: always where the clock is kept, else from a tenth."""
    was, now = piece.time.by_level["regular"], piece.fit.clock
    if piece.written.block.format in ("strength", "work"):
        return abs(now.total.typical_s - was.total.typical_s) > 0.1 * was.total.typical_s
    return now != was


def _title(piece: PieceAdapted, place: int) -> str:
    block = piece.written.block
    return (block.section or "").capitalize() or block.title or f"Piece {place} ({block.format})"


def _trains(piece: PieceAdapted) -> str:
    return "; ".join(w for w in (", ".join(piece.character.patterns), piece.character.breathing) if w)


def _written_words(piece: PieceAdapted) -> str:
    """Time of the board's piece at the regular level, with the other levels and the time domain."""
    time: PieceTime = piece.time
    words = _clock_words(time.by_level["regular"], piece)
    others = [f"{level} {_short(time.by_level[level], piece)}" for level in ("novice", "advanced")]
    if piece.written.block.format not in ("emom", "intervals", "work") and time.by_level["regular"].round_s:
        words += f"; {', '.join(others)}"
    domain = piece.character.domain
    return words + (f"; {domain.name}: {domain.feel}" if domain else "")


def _clock_words(found: Clock, piece: PieceAdapted) -> str:
    if found.rounds:
        low, usual, high = found.rounds
        reached = f", into the round of {found.reps}" if found.reps else ""
        return f"about {usual:.1f} rounds ({low:.1f} to {high:.1f}) in {clock(found.total.typical_s)}{reached}"
    if found.slots:
        parts = ["open" if slot.open else clock(slot.work.typical_s) for slot in found.slots]
        each = "each " if len(parts) > 1 else ""
        work = f"about {' / '.join(parts)} of {each}{clock(found.slots[0].window_s)}"
        whole = found.total.typical_s
        whole = believable(whole) if piece.written.inner else whole
        return f"{clock(whole)} on the clock; work {work if set(parts) != {'open'} else 'open'}"
    total = found.total
    if not total.typical_s:
        return "not known"
    if round(total.low_s) == round(total.high_s):
        return f"about {clock(believable(total.typical_s))}"
    quick, middle, slow = (clock(believable(s)) for s in (total.low_s, total.typical_s, total.high_s))
    return f"about {middle} ({quick} to {slow})"


def _short(found: Clock, piece: PieceAdapted) -> str:
    return f"{found.rounds[1]:.1f}" if found.rounds else clock(believable(found.total.typical_s))


def _strains(adapted: Adapted) -> list[str]:
    """The largest totals that differ from the board's, and those that pass a stated threshold."""
    before = {t.dose.id: t.amount for t in adapted.written_totals}
    large = sorted(
        (t for t in adapted.totals if t.amount >= t.dose.full * _WORTH_TELLING and (t.beyond or _moved(t, before))),
        key=lambda t: -t.amount / t.dose.full,
    )
    words = []
    for total in large[:_MOST_TOTALS]:
        was = f" (as written {_plain(total, before.get(total.dose.id, 0.0))})" if _moved(total, before) else ""
        words.append(_amount_words(total, total.amount) + was)
    lines = _field("totals", ", ".join(words))
    for total in adapted.totals:
        if total.beyond:
            keep = ", ".join(_keep_words(share) for share in kept_under([p.fit.piece for p in adapted.pieces], total))
            lines += _field("strain", f"{_total_words(total)}: {total.dose.says}" + (f"; here {keep}" if keep else ""))
    return lines


def _moved(total: Total, before: Mapping[str, float]) -> bool:
    """Whether a strain is no longer that of the board: by more than a tenth."""
    was = before.get(total.dose.id, 0.0)
    return abs(total.amount - was) > 0.1 * was


def _keep_words(share: KeptUnder) -> str:
    name = several(share.work.movement.name) if share.of != 1 else share.work.movement.name
    if share.keep < 1:
        return f"not all rounds of {name}"
    return f"{share.keep} of the {number(share.of)} {name}"


def _total_words(total: Total) -> str:
    most = f" (threshold {number(total.most)})" if total.most is not None else ""
    return _amount_words(total, total.amount) + most


def _amount_words(total: Total, amount: float) -> str:
    return f"{_plain(total, amount)} {total.dose.name}"


def _plain(total: Total, amount: float) -> str:
    return clock(amount) if total.dose.unit == "s" else f"{round(amount)}"


def _watch(adapted: Adapted) -> list[str]:
    """What to watch in the changed movements, each thing once."""
    found: list[str] = []
    for changed in _changes(adapted):
        if changed.pick and changed.pick.option:
            found += changed.pick.option.cautions
    unique = list(dict.fromkeys(found))
    return _field("watch", "; ".join(unique[:4]))


def _explained(library: Library, adapted: Adapted, style: Style) -> list[str]:
    lines = ["", style.bold("WHY")]
    for place, piece in enumerate(adapted.pieces, 1):
        if len(adapted.pieces) > 1:
            lines.append(_title(piece, place))
        for share in piece.time.shares:
            lines += _field("share", f"{share.work.movement.name} {share.share:.0%} of the working time")
        for changed in piece.changed:
            lines.append(f"{changed.place.movement.name}:")
            for removal in changed.place.removals:
                detail = f" ({removal.detail})" if removal.detail else ""
                lines += _field("out", removal.reason + detail)
            considered = [
                f"{c.movement.name} {1 - c.lost:.2f}"
                + (" (chosen)" if c is changed.pick or _same(c.movement, changed) else "")
                for c in changed.place.candidates
            ]
            lines += _field("among", ", ".join(considered) or "nothing suitable")
            if changed.pick and changed.pick.option:
                option = changed.pick.option
                unit = "" if option.unit == "rep" else f" {option.unit}"
                lines += _field(
                    "ratio",
                    f"{changed.pick.ratio:.2f}{unit} for one ({changed.pick.low:.2f} to {changed.pick.high:.2f}); "
                    f"{option.basis_text}",
                )
                lines += _field("why", "; ".join(option.because))
        costs = {k: v for k, v in piece.chosen.costs.items() if v > 0.005}
        if costs:
            weighed = [f"{library.concerns[k].why} {v:.2f} x {library.concerns[k].weight:g}" for k, v in costs.items()]
            lines += _field("cost", "; ".join(weighed))
    before = {t.dose.id: t.amount for t in adapted.written_totals}
    for total in adapted.totals:
        was = before.get(total.dose.id, 0.0)
        basis = f"; {total.dose.basis}" if total.beyond else ""
        lines += _field("total", f"{_total_words(total)}, as written {_plain(total, was)}{basis}")
    return lines


def _same(movement: Movement, changed: Changed) -> bool:
    return changed.pick is not None and changed.pick.movement is movement


def _field(label: str, text: str) -> list[str]:
    return _wrapped(text, f"   {label:<{_LABEL}}", _LABEL + 3) if text else []


def _wrapped(text: str, first: str = "", indent: int = 0, end: str = "") -> list[str]:
    return textwrap.wrap(
        text + end, WIDTH, initial_indent=first, subsequent_indent=" " * indent, break_on_hyphens=False
    )
