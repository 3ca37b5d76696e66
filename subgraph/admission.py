"""Which of the survivors may be offered: nothing too hard, nothing that is no step down where one is wanted."""

from __future__ import annotations

from typing import Literal

from subgraph.library.knowledge import Library
from subgraph.library.records import Movement
from subgraph.ranking import Candidate
from subgraph.stimulus import Stimulus
from subgraph.today import Today

Bar = Literal["far", "too-hard", "no-harder", "not-used-so", "no-easier"]


class Admission:
    """Who is let through today, with what is asked and the member's ability in mind.

    Without a level, a step beyond what is asked in skill or strength is the most. Where the member's ability stands in
    the way (`unable`), nothing beyond it, and of a movement that takes weeks to learn a step less in skill. Where one
    movement alone leads there and takes less strength, it is strength that is missing, and that one may be as skilled.
    A member whose level has outgrown what is asked has no ceiling but the level.

    Parameters
    ----------
    library : Library
        Records.
    stimulus : Stimulus
        Distances from the asked movement.
    today : Today
        Situation.
    unable : bool
        Whether the member's ability stands in the way of the asked movement.
    fits : bool
        Whether the asked movement itself is fine today.
    """

    def __init__(self, library: Library, stimulus: Stimulus, today: Today, *, unable: bool, fits: bool) -> None:
        self._library = library
        self._stimulus = stimulus
        self._asked = stimulus.asked
        self._unable = unable
        room = room_above(library, self._asked, today)
        self.outgrown = fits and room >= library.scoring.harder_reach
        self._ceiling = None if room >= library.scoring.harder_reach else self._most(unable)
        self._last_rung = self._asked.needs[0] if len(self._asked.needs) == 1 else None

    def _most(self, unable: bool) -> tuple[int, int]:
        """Highest skill and strength of what may stand in; beyond the asked ones a step counts for both."""
        asked = self._asked
        if unable:
            return min(asked.skill, max(asked.skill - 1, self._library.scoring.easily_learnt)), asked.strength
        return asked.skill, asked.strength

    def bar(self, candidate: Candidate) -> Bar | None:
        """Why a movement that survives is not offered; None where it may be."""
        other = self._library.movements[candidate.id]
        if candidate.score < self._library.scoring.least_score:
            return "far"
        if self._too_hard(other):
            return "too-hard"
        if self.outgrown and other.skill + other.strength <= self._asked.skill + self._asked.strength:
            return "no-harder"
        if self._stimulus.intent not in other.suits and not self._stimulus.is_linked(other.id):
            return "not-used-so"
        if self._unable and self._is_peer(other):
            return "no-easier"
        return None

    def _too_hard(self, other: Movement) -> bool:
        if self._ceiling is None:
            return False
        skill, strength = self._ceiling
        if other.id == self._last_rung and other.strength < strength:
            skill = self._asked.skill
        beyond = max(0, other.skill - skill) + max(0, other.strength - strength)
        return beyond > (0 if self._unable else 1)

    def _is_peer(self, other: Movement) -> bool:
        """Whether a coach calls a movement a peer of the asked one, and its ranks agree."""
        step, asked = self._stimulus.links.get(other.id), self._asked
        peer = step is not None and step.kind != "easier"
        return peer and other.skill >= asked.skill and other.strength >= asked.strength


def room_above(library: Library, asked: Movement, today: Today) -> int:
    """Steps of skill or strength between what is asked and what the member's level reaches."""
    if today.level is None:
        return 0
    level = library.levels[today.level]
    return max(level.skill - asked.skill, level.strength - asked.strength)
