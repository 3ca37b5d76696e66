"""How far apart two movements are in what they train.

A distance per facet, each from 0 (the same) to 1 (nothing in common); the intent of the piece says how much each
facet counts. The weights are data (`intents.yaml`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from subgraph.graph import steps
from subgraph.library.knowledge import Library
from subgraph.library.pack import kinship
from subgraph.library.records import Intent, Movement, equipment_in

FACETS = (
    "pattern",
    "muscles",
    "character",
    "effort",
    "energy",
    "skill",
    "stance",
    "tempo",
    "link",
    "context",
    "practice",
    "unsuited",
    "over",
    "uncommon",
    "kit",
    "unit",
    "loaded",
    "aim",
    "family",
    "strain",
    "sparse",
    "order",
)
_RANKS = 5  # skill and strength run from 0 to 5
_FOURFOLD = math.log(4)  # a factor of four in pace or energy counts as nothing in common
# Distances of the facets that are a matter of degree in the records themselves.
_SECOND_HAND = 0.75  # linked by way of one other movement
_OTHER_INTENT = 0.3  # linked, but for another kind of piece
_NO_OBSTACLE_NAMED = 0.6  # a link that speaks of no obstacle
_OTHER_OBSTACLE = 0.8  # a link that speaks of another obstacle than today's
_WELL_KNOWN = 6  # rules of the trade from which a movement counts as fully familiar
_WELL_LINKED = 18  # links from which a movement counts as fully connected
_LONG_LIST = 8  # links after which the order in which a coach wrote them says nothing more
_FEW_PAGES, _FROM_MEMORY = 0.25, 0.45  # a rule with one or two sources; a rule from memory


class Stimulus:
    """Distances from one asked movement to any other.

    Parameters
    ----------
    library : Library
        Records.
    asked : Movement
        The one on the board.
    intent : str
        What the piece is for.
    obstacles : frozenset of str
        Equipment ids and demand ids that stand in the way today; links that speak of them count more.
    unable : bool
        Whether the member's ability stands in the way: then easier links are the ones to follow.

    Attributes
    ----------
    links : dict
        Other end of each link to its `Step`.
    """

    def __init__(
        self,
        library: Library,
        asked: Movement,
        intent: Intent,
        obstacles: frozenset[str] = frozenset(),
        *,
        unable: bool = False,
    ) -> None:
        self.library = library
        self.asked = asked
        self.intent = intent
        self.obstacles = obstacles
        self._unable = unable
        self.links = {step.to: step for step in reversed(list(steps(library, asked.id)))}
        written = [s for s in steps(library, asked.id) if s.declared]
        for_today = [s for s in written if obstacles & {*s.link.without, *s.link.spares}]
        self._order = {to: min(1.0, i / _LONG_LIST) for i, to in enumerate(s.to for s in for_today or written)}
        self._second: set[str] = set()
        for one, other in library.neighbours.ends:
            if one in self.links:
                self._second.add(other)
            if other in self.links:
                self._second.add(one)
        self._practised: dict[str, int] = {}
        for ratio in library.ratios_at(asked.id):
            if ratio.basis == "practice":
                other = ratio.to if ratio.from_ == asked.id else ratio.from_
                self._practised[other] = max(self._practised.get(other, 0), ratio.pages)
        columns = library.columns
        here = columns.ids.index(asked.id)
        self._near = {
            p: sum(share * kinship(library.patterns, p, own) for own, share in asked.pattern.items())
            for p in library.patterns
        }
        self._pattern_norm = columns.pattern_norm[here]
        self._muscle_norm = columns.muscle_norm[here]
        self._character = {c: 1 - kinship(library.characters, asked.character, c) for c in library.characters}
        self._stance = [
            1 - len(set(s.stance) & set(asked.stance)) / len(set(s.stance) | set(asked.stance))
            for s in columns.setting_table
        ]
        self._pace = columns.pace[here]
        self._loaded = columns.loaded[here]
        self._family = columns.family[here]
        # What provokes today is meant to go; all other strains of the asked movement are part of what it trains.
        self._strain = [0 if d in obstacles else asked.grade(d) for d in columns.demand_order]
        own = {item for need in asked.uses for item in equipment_in(need)}
        self._kit = [self._scarcity(uses, own) for uses in columns.uses_table]
        weights = library.intents[intent].weights
        self.weights = tuple(weights.get(name, 0.0) for name in FACETS)

    def is_linked(self, other: str) -> bool:
        """Whether a coach wrote a link between the two for this kind of piece."""
        step = self.links.get(other)
        return step is not None and self.intent in step.link.for_

    def _pattern(self, position: int) -> float:
        """Distance of the facet pattern."""
        columns, near = self.library.columns, self._near
        shared = 0.0
        for pattern, share in columns.pattern[position]:
            shared += share * near[pattern]
        return max(0.0, 1 - shared / (self._pattern_norm * columns.pattern_norm[position]))

    def distances(self, position: int) -> tuple[float, ...]:
        """Distance per facet, in the order of `FACETS`, to the movement at a position of the columns.

        Parameters
        ----------
        position : int
            Row in ``library.columns``.

        Returns
        -------
        tuple of float
            Each 0 to 1, in the order of `FACETS`.
        """
        columns, asked = self.library.columns, self.asked
        other = columns.ids[position]
        skill, strength = columns.skill[position], columns.strength[position]
        muscles, dot = asked.muscles, 0
        for muscle, weight in columns.muscles[position]:
            dot += weight * muscles.get(muscle, 0)
        link, context, aim = self._link(other)
        return (
            self._pattern(position),
            1 - dot / (self._muscle_norm * columns.muscle_norm[position]),
            self._character[columns.character[position]],
            abs(asked.strength - strength) / _RANKS,
            _log_distance(asked.met.value, columns.met[position]),
            abs(asked.skill - skill) / _RANKS,
            self._stance[columns.setting[position]],
            self._tempo(position),
            link,
            context,
            self._practice(other),
            0.0 if self.intent in columns.suits[position] else 1.0,
            (max(0, skill - asked.skill) + max(0, strength - asked.strength)) / _RANKS,
            1 - min(1.0, math.log1p(columns.rules[position]) / math.log1p(_WELL_KNOWN)),
            self._kit[columns.uses[position]],
            0.0 if columns.unit[position] == asked.unit else 1.0,
            0.0 if columns.loaded[position] == self._loaded else 1.0,
            aim,
            0.0 if columns.family[position] == self._family else 1.0,
            self._strains(position),
            1 - min(1.0, math.log1p(columns.links[position]) / math.log1p(_WELL_LINKED)),
            self._order.get(other, 1.0),
        )

    def score(self, distances: Sequence[float]) -> float:
        """Closeness from 0 to 1: ``exp(-sum(weight * distance))`` with the weights of the intent."""
        return math.exp(-sum(w * d for w, d in zip(self.weights, distances, strict=True)))

    def _scarcity(self, uses: Iterable[str | tuple[str, ...]], own: set[str]) -> float:
        """How hard to come by the kit is that the asked movement does not use itself: 0 to 1."""
        equipment = self.library.equipment
        worst = 0
        for need in uses:
            choices = (need,) if isinstance(need, str) else need
            scarce = [
                max(
                    0 if item in own or item not in equipment else equipment[item].scarce
                    for item in equipment_in(choice)
                )
                for choice in choices
            ]
            worst = max(worst, min(scarce))
        return worst / 3

    def _tempo(self, position: int) -> float:
        theirs = self.library.columns.pace[position]
        if self._pace is None or theirs is None or self.asked.unit != self.library.columns.unit[position]:
            return 0.5
        return _log_distance(self._pace, theirs)

    def _link(self, other: str) -> tuple[float, float, float]:
        """Distances of the facets link, context and aim."""
        step = self.links.get(other)
        if step is None:
            return (_SECOND_HAND if other in self._second else 1.0), 1.0, 1.0 if self._unable else 0.0
        link = 0.0 if self.intent in step.link.for_ else _OTHER_INTENT
        aim = 0.0 if not self._unable or step.kind == "easier" else 1.0 if step.kind == "harder" else 0.5
        if not step.declared:
            return link, 1.0, aim
        spoken = {*step.link.without, *step.link.spares}
        if not spoken:
            return link, _NO_OBSTACLE_NAMED, aim
        return link, 0.0 if spoken & self.obstacles else _OTHER_OBSTACLE, aim

    def _strains(self, position: int) -> float:
        """How little the demands on the joints have in common: 1 - shared / all."""
        width = len(self._strain)
        start = position * width
        shared = total = 0
        for mine, theirs in zip(self._strain, self.library.columns.demands[start : start + width], strict=True):
            if mine or theirs:
                shared += min(mine, theirs)
                total += max(mine, theirs)
        return 1 - shared / total if total else 0.0

    def _practice(self, other: str) -> float:
        pages = self._practised.get(other)
        if pages is None:
            return 1.0
        return 0.0 if pages >= 3 else _FEW_PAGES if pages else _FROM_MEMORY


def named(distances: Sequence[float]) -> Mapping[str, float]:
    """Distances by facet name."""
    return dict(zip(FACETS, distances, strict=True))


def _log_distance(one: float, other: float) -> float:
    return min(1.0, abs(math.log(one / other)) / _FOURFOLD)
