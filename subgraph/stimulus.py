"""How far apart two movements are in what they train.

A distance per facet, each from 0 (the same) to 1 (nothing in common); the intent of the piece says how much each
facet counts. The weights are data (`intents.yaml`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from subgraph.graph import steps
from subgraph.library.knowledge import Library
from subgraph.library.pack import kinship, scarcity
from subgraph.library.records import Intent, Movement, Ratio, equipment_in

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
    "kit",
    "unit",
    "loaded",
    "lighter",
    "idle",
    "uncommon",
    "sparse",
    "aim",
    "family",
    "strain",
    "order",
)
_RANKS = 5  # skill and strength run from 0 to 5
_SLACK = 1e-9  # a bound stays below the cost that it bounds, whatever the rounding


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
    on_hand : frozenset of str
        The only equipment there is, where that was told: what leaves it lying counts as further.
    unable : bool
        Whether the member's ability stands in the way: then easier links are the ones to follow.
    staying : frozenset of str, optional
        What stays today: a coach's list is read without the rest.

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
        on_hand: frozenset[str] = frozenset(),
        *,
        unable: bool = False,
        staying: frozenset[str] | None = None,
    ) -> None:
        self.library = library
        self.asked = asked
        self.intent = intent
        self.obstacles = obstacles
        self._unable = unable
        self._degrees = degrees = library.scoring.degrees
        self._fourfold = math.log(degrees.nothing_in_common)
        found = list(steps(library, asked.id))
        self.links = {step.to: step for step in reversed(found)}
        written = [s for s in found if s.declared]
        for_today = [s for s in written if obstacles & {*s.link.without, *s.link.spares}]
        listed = [s.to for s in for_today or written if staying is None or s.to in staying]
        self._order = {to: min(1.0, i / degrees.long_list) for i, to in enumerate(listed)}
        self._second = {end for beside in self.links for end in library.linked_with(beside)}
        self._practised: dict[str, float] = {}
        for ratio in library.ratios_at(asked.id):
            if ratio.basis == "practice":
                other = ratio.to if ratio.from_ == asked.id else ratio.from_
                self._practised[other] = min(self._practised.get(other, 1.0), self._hearsay(ratio))
        columns = library.columns
        here = columns.ids.index(asked.id)
        self._near = {
            p: sum(share * kinship(library.patterns, p, own) for own, share in asked.pattern.items())
            for p in library.patterns
        }
        self._pattern_norm = columns.pattern_norm[columns.pattern[here]]
        self._muscle_norm = columns.muscle_norm[columns.muscles[here]]
        self._pace = columns.pace[here]
        # What provokes today is meant to go; all other strains of the asked movement are part of what it trains.
        strain = [0 if d in obstacles else asked.grade(d) for d in columns.demand_order]
        self._strain = [(d, grade) for d, grade in enumerate(strain) if grade]
        self._all_strain = sum(strain)
        # Facets with few distinct values: one distance per row of the columns' tables.
        own = {*on_hand, *(item for need in asked.uses for item in equipment_in(need))}
        stances = set(asked.stance)
        self._pattern = [self._pattern_distance(row) for row in range(len(columns.pattern_table))]
        self._character = [1 - kinship(library.characters, asked.character, c) for c in columns.character_table]
        self._stance = [
            1 - len(stances.intersection(s.stance)) / len(stances.union(s.stance)) for s in columns.setting_table
        ]
        scarce = {e.id: e.scarce for e in library.equipment.values() if e.scarce}
        theirs = {id_: degree for id_, degree in scarce.items() if id_ not in own}
        self._kit = list(columns.scarcity)
        if len(theirs) < len(scarce):  # what is on hand, or needed as written, is no hindrance
            for row, items in enumerate(columns.uses_items):
                if not own.isdisjoint(items):
                    self._kit[row] = scarcity(columns.uses_table[row], theirs)
        self._unsuited = [0.0 if intent in suits else 1.0 for suits in columns.suits_table]
        self._unit = [float(unit != asked.unit) for unit in columns.unit_table]
        self._loaded = [float(loaded != columns.loaded[here]) for loaded in range(2)]
        self._family = [float(family != columns.family[here]) for family in range(len(columns.family_table))]
        self._uncommon = _fading(max(columns.rules, default=0), degrees.well_known)
        self._sparse = _fading(max(columns.links, default=0), degrees.well_linked)
        self._idle = [float(bool(on_hand) and on_hand.isdisjoint(items)) for items in columns.uses_items]
        self._load_kg = columns.load_kg[here]
        weights = library.intents[intent].weights
        self.weights = tuple(weights.get(name, 0.0) for name in FACETS)

    def is_linked(self, other: str) -> bool:
        """Whether a coach wrote a link between the two for this kind of piece."""
        step = self.links.get(other)
        return step is not None and self.intent in step.link.for_

    def _pattern_distance(self, row: int) -> float:
        columns, near = self.library.columns, self._near
        shared = 0.0
        for pattern, share in columns.pattern_table[row]:
            shared += share * near[pattern]
        return max(0.0, 1 - shared / (self._pattern_norm * columns.pattern_norm[row]))

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
        muscles, dot, row = asked.muscles, 0, columns.muscles[position]
        for muscle, weight in self.library.muscles_of(row):
            dot += weight * muscles.get(muscle, 0)
        link, context, aim = self._link(other)
        return (
            self._pattern[columns.pattern[position]],
            1 - dot / (self._muscle_norm * columns.muscle_norm[row]),
            self._character[columns.character[position]],
            abs(asked.strength - strength) / _RANKS,
            self._log_distance(asked.met.value, columns.met[position]),
            abs(asked.skill - skill) / _RANKS,
            self._stance[columns.setting[position]],
            self._tempo(position),
            link,
            context,
            self._practice(other),
            self._unsuited[columns.suits[position]],
            (max(0, skill - asked.skill) + max(0, strength - asked.strength)) / _RANKS,
            self._kit[columns.uses[position]],
            self._unit[columns.unit[position]],
            self._loaded[columns.loaded[position]],
            self._lighter(position),
            self._idle[columns.uses[position]],
            self._uncommon[columns.rules[position]],
            self._sparse[columns.links[position]],
            aim,
            self._family[columns.family[position]],
            self._strains(position),
            self._order.get(other, 1.0),
        )

    def least_costs(self, positions: Iterable[int]) -> list[float]:
        """Lower bounds of the weighted distance, from the facets that cost nothing to look up.

        Parameters
        ----------
        positions : iterable of int
            Rows in ``library.columns``.

        Returns
        -------
        list of float
            One per position; never above ``sum(weight * distance)``.
        """
        columns = self.library.columns
        weight = dict(zip(FACETS, self.weights, strict=True))

        def weighed(facet: str, table: Iterable[float]) -> list[float]:
            return [weight[facet] * distance for distance in table]

        pattern, character = weighed("pattern", self._pattern), weighed("character", self._character)
        stance, kit = weighed("stance", self._stance), weighed("kit", self._kit)
        uncommon, sparse = weighed("uncommon", self._uncommon), weighed("sparse", self._sparse)
        kit = [scarce + idle for scarce, idle in zip(kit, weighed("idle", self._idle), strict=True)]
        unsuited, unit = weighed("unsuited", self._unsuited), weighed("unit", self._unit)
        loaded, family = weighed("loaded", self._loaded), weighed("family", self._family)
        # By rank: how far from the asked skill and strength, above or below; what is above counts twice.
        skill = self._by_rank(self.asked.skill, weight["skill"], weight["over"])
        strength = self._by_rank(self.asked.strength, weight["effort"], weight["over"])
        tied = {
            id_: weight["link"] * link + weight["context"] * context + weight["aim"] * aim
            for id_ in {*self.links, *self._second}
            for link, context, aim in (self._link(id_),)
        }
        link, context, aim = self._link("")
        untied = weight["link"] * link + weight["context"] * context + weight["aim"] * aim
        known = {
            id_: weight["practice"] * (self._practice(id_) - 1) + weight["order"] * (self._order.get(id_, 1.0) - 1)
            for id_ in {*self._practised, *self._order}
        }
        always = weight["practice"] + weight["order"] - _SLACK
        c = columns
        return [
            pattern[c.pattern[i]]
            + character[c.character[i]]
            + stance[c.setting[i]]
            + kit[c.uses[i]]
            + unsuited[c.suits[i]]
            + unit[c.unit[i]]
            + loaded[c.loaded[i]]
            + family[c.family[i]]
            + uncommon[c.rules[i]]
            + sparse[c.links[i]]
            + skill[c.skill[i]]
            + strength[c.strength[i]]
            + tied.get(c.ids[i], untied)
            + known.get(c.ids[i], 0.0)
            + always
            for i in positions
        ]

    @staticmethod
    def _by_rank(asked: int, weight: float, over: float) -> list[float]:
        return [(weight * abs(asked - r) + over * max(0, r - asked)) / _RANKS for r in range(_RANKS + 1)]

    def score(self, distances: Sequence[float]) -> float:
        """Closeness from 0 to 1: ``exp(-sum(weight * distance))`` with the weights of the intent."""
        return math.exp(-sum(w * d for w, d in zip(self.weights, distances, strict=True)))

    def _tempo(self, position: int) -> float:
        columns = self.library.columns
        theirs = columns.pace[position]
        if self._pace is None or theirs is None or self._unit[columns.unit[position]]:
            return 0.5
        return self._log_distance(self._pace, theirs)

    def _lighter(self, position: int) -> float:
        """How much less the usual load is: 1 for none at all."""
        if not self._load_kg:
            return 0.0
        theirs = self.library.columns.load_kg[position]
        return self._log_distance(self._load_kg, theirs) if 0 < theirs < self._load_kg else float(not theirs)

    def _log_distance(self, one: float, other: float) -> float:
        return min(1.0, abs(math.log(one / other)) / self._fourfold)

    def _link(self, other: str) -> tuple[float, float, float]:
        """Distances of the facets link, context and aim."""
        degrees = self._degrees
        step = self.links.get(other)
        if step is None:
            return (degrees.second_hand if other in self._second else 1.0), 1.0, 1.0 if self._unable else 0.0
        link = 0.0 if self.intent in step.link.for_ else degrees.other_intent
        aim = 0.0 if not self._unable or step.kind == "easier" else 1.0 if step.kind == "harder" else 0.5
        if not step.declared:
            return link, 1.0, aim
        spoken = {*step.link.without, *step.link.spares}
        if spoken and self.obstacles and not spoken & self.obstacles:
            link = max(link, degrees.written_for_another)
        if not spoken:
            return link, degrees.no_obstacle_named, aim
        return link, 0.0 if spoken & self.obstacles else degrees.other_obstacle, aim

    def _strains(self, position: int) -> float:
        """How little the demands on the joints have in common: 1 - shared / all."""
        columns = self.library.columns
        width = len(columns.demand_order)
        theirs = columns.demands[position * width : (position + 1) * width]
        shared = 0
        for demand, mine in self._strain:
            grade = theirs[demand]
            shared += mine if mine < grade else grade
        total = self._all_strain + sum(theirs) - shared  # of each pair the larger
        return 1 - shared / total if total else 0.0

    def _practice(self, other: str) -> float:
        return self._practised.get(other, 1.0)

    def _hearsay(self, ratio: Ratio) -> float:
        """Distance of the facet practice: how little a rule of the trade is known, and for whom it was made."""
        if ratio.population:
            return self._degrees.for_some
        return 0.0 if ratio.pages >= 3 else self._degrees.few_pages if ratio.pages else self._degrees.from_memory


def _fading(most: int, full: int) -> list[float]:
    """Distance by count: 1 for none, falling with the logarithm to 0 at `full`."""
    return [1 - min(1.0, math.log1p(count) / math.log1p(full)) for count in range(most + 1)]


def named(distances: Sequence[float]) -> Mapping[str, float]:
    """Distances by facet name."""
    return dict(zip(FACETS, distances, strict=True))
