"""What a member may do today: the ask, the situation, and the filter that keeps a reason for all that it removes.

The filter compares what movements demand with what is there and tolerated. Nothing that it lets through is thereby
known to be harmless; it only fits what was said.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from subgraph.errors import AskError
from subgraph.graph import out_of_reach
from subgraph.library.knowledge import Library, Setting
from subgraph.library.records import (
    IRRITABILITIES,
    AtMost,
    Complaint,
    Intent,
    Irritability,
    Level,
    Movement,
    equipment_in,
)
from subgraph.quantities import Amount

RemovalKind = Literal["house", "equipment", "complaint", "ability", "limit"]
_COUNTED = re.compile(r"(\d+) (.+)")


class Ask(Struct, frozen=True):
    """A movement and how much of it.

    Parameters
    ----------
    movement : str
        Id.
    amount : Amount
        How much, over both sides.
    load_kg : float or None
        Load [kg] as written; each of a pair where the movement's record says so.
    assumed : bool
        Whether the amount was not given and a usual one stands in.
    by_the_clock : bool
        Whether a movement that is counted otherwise is asked for in seconds.
    in_sets : bool
        Whether it was told in sets, as strength work is.
    """

    movement: str
    amount: Amount
    load_kg: float | None = None
    assumed: bool = False
    by_the_clock: bool = False
    in_sets: bool = False


class Told(Struct, frozen=True):
    """One complaint as the member told it: a profile, what provokes it, or either alone."""

    complaint: str | None
    provoked_by: tuple[str, ...] = ()


class Today(Struct, frozen=True):
    """The situation: what is there, what hurts, what is owned.

    Parameters
    ----------
    without : frozenset of str
        Equipment ids that are missing.
    only : mapping or None
        The only equipment on hand: id to count (0: as many as needed); None where all is there.
    complaints : tuple of Told
        What the member told.
    irritability : {'settled', 'sore', 'flared'}
        How irritable it is today.
    level : str or None
        Ability level, where told.
    cannot : frozenset of str
        Movement ids not owned.
    limits : frozenset of str
        Limit ids.
    sizes_kg : mapping
        Equipment id to the weights that there are [kg], where told; any that the library knows where not.
    intent : str or None
        What the piece is for; the movement's own usual intent where None.
    """

    without: frozenset[str] = frozenset()
    only: Mapping[str, int] | None = None
    complaints: tuple[Told, ...] = ()
    irritability: Irritability = "sore"
    level: Level | None = None
    cannot: frozenset[str] = frozenset()
    limits: frozenset[str] = frozenset()
    intent: Intent | None = None
    sizes_kg: Mapping[str, tuple[float, ...]] = {}

    def __post_init__(self) -> None:
        if self.without and self.only is not None:
            raise AskError(
                "what is on hand is given twice (only and without)", mend="use --only or --without, not both"
            )


class Removal(Struct, frozen=True):
    """Why a movement is not for today.

    Parameters
    ----------
    kind : str
        `house` (a rule of the house), `equipment`, `complaint`, `ability` or `limit`.
    reason : str
        Short, countable: "needs a pull-up bar".
    detail : str
        The comparison behind it: "hanging 3, tolerated 1".
    demand : str
        Demand id where the kind is `complaint`.
    """

    kind: RemovalKind
    reason: str
    detail: str = ""
    demand: str = ""


class Cap(Struct, frozen=True):
    """The highest grade of a demand that is offered today, and who asks for it."""

    grade: int
    because: str


class Filter:
    """Today's subgraph of a library.

    Parameters
    ----------
    library : Library
        Records.
    today : Today
        Situation.

    Attributes
    ----------
    caps : dict
        Highest grade of each limited demand.
    muscle_caps : dict
        How hard each limited muscle may work.
    limits : frozenset of str
        Limits told, and those that a complaint brings along.
    """

    def __init__(self, library: Library, today: Today) -> None:
        self.library = library
        self.today = today
        self.caps = demand_caps(library, today)
        self.muscle_caps = muscle_caps(library, today)
        told = [library.complaints[t.complaint] for t in today.complaints if t.complaint]
        implied = {limit.id for limit in library.limits.values() if today.cannot & set(limit.when_not_owned)}
        self.limits: frozenset[str] = today.limits.union(implied, *(c.limits for c in told))
        self._lost = self._find_lost()
        profiles = {c.id for c in told}
        self._ruled = [rule for rule in library.house.rules if rule.holds_for(today.level, profiles)]
        self._ruled_out = frozenset(id_ for rule in self._ruled for id_ in rule.out)
        # What the house owns stands in for "all is there"; what is said of today comes on top.
        self._stock = library.house.owned if today.only is None else today.only
        self._have: dict[str, bool] = {}
        self._reach = self._find_reach()
        self._staying: list[int] | None = None
        self._without: dict[int, list[str]] = {}
        self._reasons: dict[str, int] | None = None

    def _find_lost(self) -> dict[str, str]:
        """Movements out of reach: what needs or follows a movement not owned, and what is as hard in the same way."""
        if not self.today.cannot:
            return {}
        lost = out_of_reach(self.library, sorted(self.today.cannot))
        columns = self.library.columns
        for id_ in sorted(self.today.cannot):
            at = columns.ids.index(id_)
            for i, other in enumerate(columns.ids):
                if (
                    columns.family[i] == columns.family[at]
                    and columns.skill[i] >= columns.skill[at]
                    and columns.strength[i] >= columns.strength[at]
                    and _same_shares(
                        columns.pattern_table[columns.pattern[i]], columns.pattern_table[columns.pattern[at]]
                    )
                ):
                    lost.setdefault(other, id_)
        return lost

    def survivors(self) -> list[int]:
        """Positions (in the library's columns) of all movements that stay today.

        The same decisions as `removals`, over columns: equipment and setting are judged once per distinct
        expression, not once per movement.
        """
        if self._staying is not None:
            return self._staying
        columns = self.library.columns
        width = len(columns.demand_order)
        caps = [(columns.demand_order.index(d), cap.grade) for d, cap in self.caps.items()]
        equipped = [self._equipped(uses) for uses in columns.uses_table]
        settled = [not any(self._breaks(limit, s) for limit in self.limits) for s in columns.setting_table]
        strict = [self.library.limits[limit].excludes.demands for limit in self.limits]
        caps += [(columns.demand_order.index(d), g) for demands in strict for d, g in demands.items()]
        rested = [self._rested(row) for row in range(len(columns.muscle_table))] if self.muscle_caps else []
        skill, strength, _, _ = self._reach
        grades = columns.demands
        found = []
        for i, id_ in enumerate(columns.ids):
            if not (equipped[columns.uses[i]] and settled[columns.setting[i]]):
                continue
            if columns.skill[i] > skill or columns.strength[i] > strength or id_ in self._lost:
                continue
            if id_ in self._ruled_out:
                continue
            start = i * width
            if any(grades[start + d] > most for d, most in caps) or (rested and not rested[columns.muscles[i]]):
                continue
            found.append(i)
        self._staying = found
        return found

    def removals(self, movement: Movement) -> list[Removal]:
        """Every reason why a movement falls out today; empty where it stays."""
        return [
            *self._by_house(movement.id),
            *self._by_ability(movement),
            *self._by_equipment(movement),
            *self._by_limit(movement),
            *self._by_complaint(movement),
        ]

    def reasons(self) -> dict[str, int]:
        """First reason of each movement that falls out, counted; most frequent first."""
        if self._reasons is not None:
            return self._reasons
        staying = set(self.survivors())
        columns = self.library.columns
        counted: dict[str, int] = {}
        for i in range(len(columns.ids)):
            if i not in staying:
                reason = self._first_reason(i)
                counted[reason] = counted.get(reason, 0) + 1
        self._reasons = dict(sorted(counted.items(), key=lambda kv: (-kv[1], kv[0])))
        return self._reasons

    def _first_reason(self, position: int) -> str:
        """Reason of the first removal of a movement, from the columns."""
        columns = self.library.columns
        if columns.ids[position] in self._ruled_out:
            return self._by_house(columns.ids[position])[0].reason
        if (lost := self._lost.get(columns.ids[position])) is not None:
            return f"{self.library.movements[lost].name} not owned"
        skill, strength, skill_word, strength_word = self._reach
        if columns.skill[position] > skill:
            return skill_word
        if columns.strength[position] > strength:
            return strength_word
        row = columns.uses[position]
        if row not in self._without:
            self._without[row] = self._missing(columns.uses_table[row])
        if missing := self._without[row]:
            return f"needs {missing[0]}"
        start = position * len(columns.demand_order)
        grade = dict(zip(columns.demand_order, columns.demands[start : start + len(columns.demand_order)], strict=True))
        for limit in sorted(self.limits):
            excluded = self.library.limits[limit].excludes.demands
            if self._breaks(limit, columns.setting_table[columns.setting[position]]) or any(
                grade[d] > g for d, g in excluded.items()
            ):
                return self.library.limits[limit].name
        for d, cap in self.caps.items():
            if grade[d] > cap.grade:
                return f"{self.library.demands[d].name} ({cap.because})"
        works = dict(self.library.muscles_of(columns.muscles[position]))
        return next(self._works(m, cap) for m, cap in self.muscle_caps.items() if works.get(m, 0) > cap.grade)

    def _rested(self, row: int) -> bool:
        """Whether a row of muscle weights asks no muscle for more than it may do today."""
        caps = self.muscle_caps
        return all(weight <= caps[muscle].grade for muscle, weight in self.library.muscles_of(row) if muscle in caps)

    def _works(self, muscle: str, cap: Cap) -> str:
        return f"works the {self.library.muscles[muscle].name} ({cap.because})"

    def has(self, item: str) -> bool:
        """Whether an equipment item, with a count or in a group, is there today."""
        if item not in self._have:
            self._have[item] = all(self._has_one(part) for part in item.split(" + "))
        return self._have[item]

    def _has_one(self, item: str) -> bool:
        count = 1
        if counted := _COUNTED.match(item):
            count, item = int(counted.group(1)), counted.group(2)
        record = self.library.equipment.get(item)
        if record is None:
            return False
        holders = [e.id for e in self.library.equipment.values() if item in e.holds]
        if self.today.only is None:
            gone = self.today.without
            if item in gone or gone.intersection(holders) or gone.intersection(record.needs):
                return False
        if self._stock is None or record.surroundings:
            return True
        stock = self._stock.get(item)
        if stock is not None:
            return stock == 0 or stock >= count
        leant_on = [e.id for e in self.library.equipment.values() if item in e.needs or item in e.does_for]
        return any(h in self._stock and h not in self.today.without for h in (*holders, *leant_on))

    def _equipped(self, uses: tuple[str | tuple[str, ...], ...]) -> bool:
        return all(self.has(need) if isinstance(need, str) else any(map(self.has, need)) for need in uses)

    def _missing(self, uses: tuple[str | tuple[str, ...], ...]) -> list[str]:
        names = []
        for need in uses:
            choices = (need,) if isinstance(need, str) else need
            if not any(self.has(c) for c in choices):
                names.append(" or ".join(describe_equipment(self.library, c) for c in choices))
        return names

    def missing(self, movement: Movement) -> list[str]:
        """Names of what a movement needs and is not there, alternatives joined by "or"."""
        return self._missing(movement.uses)

    def _by_equipment(self, movement: Movement) -> list[Removal]:
        return [Removal("equipment", f"needs {name}", self._stand_ins(movement)) for name in self.missing(movement)]

    def _stand_ins(self, movement: Movement) -> str:
        """What usually does for the missing items and is there today; advice, never assumed."""
        items = [i for need in movement.uses if not self._equipped((need,)) for i in equipment_in(need)]
        usual = [u for i in dict.fromkeys(items) for u in self.library.equipment[i].usually if self.has(u)]
        names = [describe_equipment(self.library, u) for u in dict.fromkeys(usual) if u not in items]
        return f"usually done with {' or '.join(names[:3])} instead" if names else ""

    def _by_house(self, movement: str) -> list[Removal]:
        return [Removal("house", f"house rule: {r.reason}", r.out[movement]) for r in self._ruled if movement in r.out]

    def _by_ability(self, movement: Movement) -> list[Removal]:
        found = []
        if movement.id in self._lost:
            lost = self._lost[movement.id]
            name = self.library.movements[lost].name
            detail = "itself" if lost == movement.id else f"needs or follows {name}"
            found.append(Removal("ability", f"{name} not owned", detail))
        skill, strength, skill_word, strength_word = self._reach
        if movement.skill > skill:
            found.append(Removal("ability", skill_word, f"skill {movement.skill}, reaches {skill}"))
        if movement.strength > strength:
            found.append(Removal("ability", strength_word, f"strength {movement.strength}, reaches {strength}"))
        return found

    def _find_reach(self) -> tuple[int, int, str, str]:
        """Highest skill and strength for the member, and what says so of each."""
        skill, strength, of_skill, of_strength = 5, 5, "", ""
        if self.today.level:
            record = self.library.levels[self.today.level]
            skill, strength = record.skill, record.strength
            of_skill = f"more skill than a {record.name} member has"
            of_strength = f"more strength than a {record.name} member has"
        for told in self.today.complaints:
            profile = self.library.complaints[told.complaint] if told.complaint else None
            if profile is None:
                continue
            if profile.most_skill is not None and profile.most_skill < skill:
                skill, of_skill = profile.most_skill, f"more skill than fits: {profile.name}"
            if profile.most_strength is not None and profile.most_strength < strength:
                strength, of_strength = profile.most_strength, f"more strength than fits: {profile.name}"
        return skill, strength, of_skill, of_strength

    def _by_limit(self, movement: Movement) -> list[Removal]:
        setting = Setting(
            movement.stance, movement.area, movement.height, movement.noise, movement.hands, movement.traits
        )
        found = []
        for id_ in sorted(self.limits):
            limit = self.library.limits[id_]
            if self._breaks(id_, setting) or any(movement.grade(d) > g for d, g in limit.excludes.demands.items()):
                found.append(Removal("limit", limit.name))
        return found

    def _breaks(self, limit_id: str, setting: Setting) -> bool:
        """Whether a position, room, noise, number of hands or trait goes beyond a limit."""
        limit = self.library.limits[limit_id]
        if any(t in setting.traits for t in limit.excludes.traits):
            return True
        if limit.stances and not set(setting.stance) <= set(limit.stances):
            return True
        ladders = (
            (limit.most.area, setting.area, self.library.areas),
            (limit.most.height, setting.height, self.library.heights),
            (limit.most.noise, setting.noise, self.library.noises),
        )
        for most, value, ladder in ladders:
            if most is not None:
                order = list(ladder)
                if order.index(value) > order.index(most):
                    return True
        return limit.most.hands is not None and setting.hands > limit.most.hands

    def _by_complaint(self, movement: Movement) -> list[Removal]:
        found = []
        for demand, cap in self.caps.items():
            grade = movement.grade(demand)
            if grade > cap.grade:
                name = self.library.demands[demand].name
                found.append(
                    Removal("complaint", f"{name} ({cap.because})", f"{name} {grade}, up to {cap.grade} today", demand)
                )
        for muscle, cap in self.muscle_caps.items():
            weight = movement.muscles.get(muscle, 0)
            if weight > cap.grade:
                detail = f"{self.library.muscles[muscle].name} {weight}, up to {cap.grade} today"
                found.append(Removal("complaint", self._works(muscle, cap), detail))
        return found


def free_hands(library: Library, today: Today) -> int:
    """Hands that are free today, by limits told and those that a complaint brings along; 2 where nothing is said."""
    brought = (library.complaints[t.complaint].limits for t in today.complaints if t.complaint)
    most = (library.limits[limit].most.hands for limit in today.limits.union(*brought))
    return min((hands for hands in most if hands is not None), default=2)


_SAME_SHARES = 0.8


def _same_shares(one: list[tuple[str, float]], other: list[tuple[str, float]]) -> bool:
    """Whether two movements move nearly the same way: pattern shares overlap by four fifths."""
    theirs = dict(other)
    return sum(min(share, theirs.get(pattern, 0.0)) for pattern, share in one) >= _SAME_SHARES


def demand_caps(library: Library, today: Today) -> dict[str, Cap]:
    """Highest grade of each demand over all that was told: the stricter of each.

    Parameters
    ----------
    library : Library
        Records.
    today : Today
        Complaints, provocations and irritability.

    Returns
    -------
    dict
        Demand id to `Cap`; demands that are not limited are left out.
    """
    caps: dict[str, Cap] = {}
    if today.intent:
        intent = library.intents[today.intent]
        caps = {d: Cap(g, f"too much for a {intent.name}") for d, g in intent.at_most.items()}
    for told in today.complaints:
        profile: Complaint | None = library.complaints[told.complaint] if told.complaint else None
        if profile:
            _tighten(caps, profile.at_most, today, profile.name)
        for id_ in told.provoked_by:
            provocation = library.provocations[id_]
            because = profile.name if profile else f"hurts with {provocation.name}"
            _tighten(caps, provocation.at_most, today, because)
    return caps


def muscle_caps(library: Library, today: Today) -> dict[str, Cap]:
    """How hard each muscle may work over all profiles that were told: the stricter of each.

    Parameters
    ----------
    library : Library
        Records.
    today : Today
        Complaints and irritability.

    Returns
    -------
    dict
        Muscle id to `Cap`; muscles that are not limited are left out.
    """
    caps: dict[str, Cap] = {}
    for told in today.complaints:
        if told.complaint:
            profile = library.complaints[told.complaint]
            _tighten(caps, profile.muscles, today, profile.name)
    return caps


def _tighten(caps: dict[str, Cap], at_most: AtMost, today: Today, because: str) -> None:
    """Lower caps to what is tolerated when it is as irritable as today."""
    column = IRRITABILITIES.index(today.irritability)
    for limited, grades in at_most.items():
        grade = grades[column]
        if grade < 3 and (limited not in caps or grade < caps[limited].grade):
            caps[limited] = Cap(grade, because)


def describe_equipment(library: Library, item: str) -> str:
    """Equipment item in words.

    Parameters
    ----------
    library : Library
        Records.
    item : str
        As in a record: "barbell", "2 dumbbell", "barbell + rack".

    Returns
    -------
    str
        "a barbell", "two dumbbells", "a barbell and a squat rack".
    """
    parts = []
    for part in item.split(" + "):
        counted = _COUNTED.match(part)
        count, id_ = (int(counted.group(1)), counted.group(2)) if counted else (1, part)
        record = library.equipment.get(id_)
        name = record.name if record else id_
        if count > 1:
            parts.append(f"{ {2: 'two', 3: 'three', 4: 'four'}.get(count, count) } {plural(name)}")
        elif name.endswith("s") or name in ("room to run", "water"):
            parts.append(name)
        else:
            parts.append(f"{'an' if name[0] in 'aeiou' else 'a'} {name}")
    return " and ".join(parts)


def plural(name: str) -> str:
    """English plural of an equipment name."""
    if name.endswith(("s", "x", "ch", "sh")):
        return name if name.endswith("s") else name + "es"
    return name + "s"
