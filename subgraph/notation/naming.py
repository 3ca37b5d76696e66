"""From what is left of a line to the movement that it names."""

from __future__ import annotations

from msgspec import Struct

from subgraph.errors import AskError
from subgraph.library.compile import Compiled
from subgraph.library.names import exactly, resolve, words
from subgraph.library.records import Movement
from subgraph.notation.scan import clean


def more_than_one(text: str) -> AskError:
    """The refusal of a line with two amounts."""
    return AskError(f"'{text[:40]}' holds more than one amount", mend="ask for one movement at a time")


class Name(Struct):
    """What is left of a line: with and without small words, and the line for messages."""

    full: str
    bare: str
    line: str

    def movement(self, compiled: Compiled, notes: list[str]) -> Movement:
        """Find the movement, also where words of how hang on its name."""
        if not self.bare:
            raise AskError(
                f"no movement in '{self.line[:60]}'",
                mend='write its name after the amount, such as "15 toes-to-bar"',
            )
        plain, passed = self.plain(compiled)
        for name in dict.fromkeys((self.full, self.bare, plain)):
            if movement := exact(name, compiled):
                if name == plain != self.bare:
                    notes.append(f"'{passed}' passed over")
                return movement
        try:
            found, name = resolved(self.bare, compiled), self.bare
        except AskError:
            if not plain or plain == self.bare:
                raise
            try:
                found, name = resolved(plain, compiled), plain
            except AskError:
                pass
            else:
                notes.append(f"'{passed}' passed over")
                movement, sure = found
                return self._told(movement, sure, name, notes)
            raise
        return self._told(*found, name, notes)

    def _told(self, movement: Movement, sure: bool, name: str, notes: list[str]) -> Movement:
        known = {w for text in (movement.id, movement.name, *movement.also) for w in words(text)}
        if any(w.isdigit() and w not in known for w in words(name)):
            raise more_than_one(self.line)  # a near spelling never swallows a number
        if not sure:
            notes.append(f"'{name}' read as {movement.name}")
        return movement

    def plain(self, compiled: Compiled) -> tuple[str, str]:
        """The name without words of how, and those words."""
        left = f" {self.bare.lower().replace('-', ' ')} "
        passed = []
        for phrase in sorted(compiled.library.words["how"].words, key=len, reverse=True):
            wanted = f" {phrase.replace('-', ' ')} "
            if wanted in left:
                left = left.replace(wanted, " ")
                passed.append(phrase)
        return left.strip(), " ".join(passed)


def exact(name: str, compiled: Compiled) -> Movement | None:
    """The movement whose name this is to the letter, plural and short forms aside."""
    id_ = exactly(name, compiled.names["movement"], compiled.library.abbreviations)
    return compiled.library.movements[id_] if id_ else None


def resolved(name: str, compiled: Compiled) -> tuple[Movement, bool]:
    """The movement that a name means, and whether it is sure."""
    found = resolve(name, compiled.names["movement"], compiled.library.abbreviations, kind="movement")
    return compiled.library.movements[found.id], found.sure


def movement_named(name: str, compiled: Compiled) -> Movement:
    """The record that a bare name means.

    Raises
    ------
    AskError
        Unknown or ambiguous.
    """
    line = clean(name)
    return exact(line, compiled) or resolved(line, compiled)[0]


def weighted_form(movement: Movement, compiled: Compiled) -> Movement | None:
    """The form of a movement that is called weighted, or another word for it, and is done with a load."""
    for name in (movement.name, *movement.also):
        for word in compiled.library.words["loaded-form"].words:
            form = exact(f"{word} {name}", compiled)
            if form is not None and form.load is not None:
                return form
    return None


def loaded_forms(movement: Movement, compiled: Compiled) -> list[str]:
    """The same movement with a load, then loaded neighbours by how much they train alike."""
    library = compiled.library
    wanted = {w for text in (movement.id, *movement.name.split(" / ")) for w in words(text)}
    linked = {end for link in library.links_at(movement.id) for end in (link.from_, link.to)}
    scored = []
    for other in library.movements.values():
        if other.load is None:
            continue
        extra = len(set(words(other.id)) - wanted) if wanted <= set(words(other.id)) else None
        alike = sum(min(share, other.pattern.get(pattern, 0)) for pattern, share in movement.pattern.items())
        if extra is not None or other.id in linked:
            weighted = abs(other.skill - movement.skill) + abs(other.strength - movement.strength)
            scored.append((extra is None, extra if extra is not None else 0, -alike, weighted, other.id))
    return [id_ for *_, id_ in sorted(scored)[:3]]
