"""What a reading gathers while the lines go by."""

from __future__ import annotations

from dataclasses import dataclass, field

from subgraph.notation.board import Item, Note, Unread
from subgraph.notation.draft import Draft
from subgraph.notation.lines import Line


@dataclass(slots=True)
class State:
    """Notes, unread lines, assumptions, and what is settled at the end; `aside` while lines are for people."""

    aside: bool = False
    aside_at: int = -1
    sure: list[Item] = field(default_factory=list)
    shorts: list[tuple[Draft, int, str, bool]] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    pairs: list[tuple[list[float], str | None]] = field(default_factory=list)

    def note(self, line: Line, text: str) -> None:
        """Text for people."""
        note = Note(line.number, text)
        if note not in self.notes[-3:]:
            self.notes.append(note)

    def not_read(self, line: Line, text: str, why: str, nearest: tuple[str, ...] = ()) -> None:
        """What could not be understood, and why."""
        self.unread.append(Unread(line.number, text, why, tuple(nearest[:3])))
