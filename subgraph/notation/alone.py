"""Numbers on a line of their own: loads and heights of what stands around, sets of all, more of the line above."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable

from msgspec.structs import replace

from subgraph.library.records import Movement
from subgraph.notation.board import Item, Role
from subgraph.notation.called import Caller
from subgraph.notation.draft import Draft
from subgraph.notation.head import Head
from subgraph.notation.items import LEAST_RUN_M, NO_NAME
from subgraph.notation.lines import Line
from subgraph.notation.numbers import Numbers
from subgraph.notation.state import State
from subgraph.notation.units import impossible, settle
from subgraph.quantities import MOST

MOST_SETS = 20  # that one line may add


class Alone:
    """Lays numbers on the items of a block, with the names of one library."""

    def __init__(self, caller: Caller, state: State, *, pounds: bool) -> None:
        self.caller = caller
        self.state = state
        self.pounds = pounds

    def lay(self, line: Line, head: Head, draft: Draft, numbers: Iterable[tuple[Numbers, str | None]]) -> Role:
        """Give numbers to the items around them.

        Parameters
        ----------
        line : Line
            Where they stand.
        head : Head
            What the line says besides.
        draft : Draft
            The open block.
        numbers : iterable of pair
            Each with the implement that it names, or None.

        Returns
        -------
        str
            The part that the line played.
        """
        role: Role = "heading"
        sided = re.search(r"side|arm|leg|hand|foot|feet|left|\be/?s\b", line.text, re.I)
        for n, implement in numbers:
            if wrong := _beyond(n):
                self.state.not_read(line, line.text, wrong)
                return "unread"
            draft.within_s += n.within_s or 0.0
            if head.scheme and n.unit == "bare":
                continue  # "10! (10-9-8-...)"
            n.per_side = n.per_side and bool(sided)  # "10 each" is of each movement
            if head.section and n.unit == "s" and not n.sets:
                self.state.note(line, line.text)
                continue
            pair = n.amount_is == "standards" and n.unit in ("bare", "inch-or-second") and not n.sets
            if pair and (implement or not draft.empty):
                n.bare, n.amount, n.amount_is = n.amount, [], "none"
                if implement is None and n.bare[0] < 15:
                    implement = "medicine-ball"
            if implement is None and (movement := self._engine(n, draft)):
                self._nameless(line, draft, n, movement)
                role = "item"
                continue
            if n.sets and draft.items and not n.amount and n.amount_is == "none":
                draft.items = [i if i.sets else replace(i, sets=n.sets) for i in draft.items]
            elif draft.default and _one_more_set(draft.default, n):
                draft.default = _with_set(draft.default, n)
            elif n.amount or n.amount_is == "max" or n.sets:
                if draft.items and (draft.default or not any(i.amount_is == "none" for i in draft.items)):
                    role = self._once_more(line, draft, n)
                    continue
                if draft.default and draft.default.sets and not draft.default.amount:
                    n.sets = n.sets or draft.default.sets
                draft.default, draft.default_at = n, len(draft.items)
            if n.load or n.bare or n.height or ((n.percent or n.rpe or n.tempo or n.effort) and not n.amount):
                draft.laid.append((n, implement, line.number))
                for item in draft.items:
                    if n.bare and not item.load_kg:
                        self.state.pairs.append((n.bare, item.movement))
        return role

    def _engine(self, n: Numbers, draft: Draft) -> Movement | None:
        """What a distance or calories on a line of their own are done on: the machine of the title, else a run."""
        movements = self.caller.compiled.library.movements
        if n.amount_is not in ("each", "standards") or n.unit not in ("m", "minute-or-metre", "cal"):
            return None
        titled = self.caller.engine_in(draft.head.title or "") if not draft.items else None
        if titled and n.amount[0] >= (LEAST_RUN_M if n.unit != "cal" else 1):
            return movements[titled]
        last = movements.get(draft.items[-1].movement or "") if draft.items else None
        started = bool(draft.items or draft.head.format or draft.head.rounds or n.sets)
        runs = n.unit != "cal" and started and n.amount[0] >= LEAST_RUN_M and not (last and "m" in last.units)
        return movements[self.caller.known(NO_NAME) or ""] if runs else None

    def _nameless(self, line: Line, draft: Draft, n: Numbers, movement: Movement) -> None:
        bare = Item(line=line.number, as_written=line.text, movement=movement.id, name=movement.name, label=line.label)
        item = settle(bare, n, movement, pounds=self.pounds, assumed=self.state.assumed)
        what = "calories" if n.unit == "cal" else "a distance"
        draft.items.append(replace(item, why=f"{what} without a name: {movement.name}"))
        self.state.assumed.append(f"line {line.number}: {what} without a name read as {movement.name}")

    def _once_more(self, line: Line, draft: Draft, n: Numbers) -> Role:
        """Further sets of the movement above: "Deadlift 5x5", then "build to a heavy single"; else for people."""
        clocked = draft.head.format not in (None, "work", "strength") or draft.head.rounds or draft.head.scheme
        lifted = n.sets or n.percent or n.effort or n.amount_is in ("max", "list")
        if clocked or not (lifted or n.unit not in ("bare", "rep")) or line.raw.startswith("("):
            if n.unit in ("cal", "s", "m") and not line.raw.startswith("(") and n.amount_is != "max":
                self.state.not_read(line, line.text, "no movement is named")
                return "unread"
            self.state.note(line, line.raw)
            return "note"
        last = draft.items[-1]
        bare = Item(line=line.number, as_written=line.text, movement=last.movement, name=last.name, label=last.label)
        movement = self.caller.compiled.library.movements.get(last.movement or "")
        item = settle(bare, n, movement, pounds=self.pounds, assumed=self.state.assumed)
        if wrong := impossible(item):
            self.state.not_read(line, line.text, wrong)
        else:
            draft.items.append(replace(item, why=f"more of the line above: {last.name}"))
        return "unread" if wrong else "item"


def _beyond(n: Numbers) -> str | None:
    """Why nobody can be given these numbers."""
    if any(v <= 0 for v in n.amount) or n.sets == 0:
        return "an amount of zero"
    unit = n.unit if n.unit in ("s", "m", "cal") else "m" if n.unit in ("minute-or-metre", "ft") else "rep"
    if any(v > MOST[unit] for v in n.amount) or (n.sets or 0) > MOST["rep"]:
        return "more than anyone writes for one item"
    return None


def _one_more_set(before: Numbers, n: Numbers) -> bool:
    """Whether a line gives one more set as the one before it did: "70% x 3" below "65% x 5"."""
    single = n.amount_is == "each" and len(n.amount) == 1 and n.unit in ("bare", "rep")
    listed = before.amount_is in ("each", "list") and before.unit in ("bare", "rep")
    if len(n.percent) > 1 or (len(before.percent) > 1 and before.amount_is != "list"):
        return False
    alike = bool(n.percent) == bool(before.percent) and bool(n.load) == bool(before.load)
    return single and listed and alike and bool(n.percent or n.load)


def _with_set(before: Numbers, n: Numbers) -> Numbers:
    """One list of all sets; "2x2 @ 70%" gives two of them."""
    first, more = (1 if before.amount_is == "list" else before.sets or 1), min(n.sets or 1, MOST_SETS)
    return dataclasses.replace(
        before,
        sets=None,
        amount=[*before.amount * first, *n.amount * more],
        amount_is="list",
        percent=[*before.percent * first, *n.percent * more],
        load=[*before.load, *n.load],
    )
