"""The record types of the knowledge base: frozen, typed, without file access.

Each type is one kind of YAML record; field names are the keys. Grades are 0 to 3 by the definitions in
`demands.yaml`; paces are seconds per unit; loads are kilograms.
"""

from typing import Annotated, Literal

from msgspec import Meta, Struct

from subgraph.quantities import Unit

Id = Annotated[str, Meta(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Text = Annotated[str, Meta(min_length=1, max_length=300)]
Name = Annotated[str, Meta(min_length=1, max_length=80)]
SourceId = Annotated[str, Meta(pattern=r"^[a-z0-9]+([-_][a-z0-9]+)*$")]
Grade = Annotated[int, Meta(ge=0, le=3)]
Rank = Annotated[int, Meta(ge=0, le=5)]
Share = Annotated[float, Meta(gt=0, le=1)]
Positive = Annotated[float, Meta(gt=0)]
Intent = Literal["skill", "strength", "conditioning", "warm-up"]
INTENTS: tuple[Intent, ...] = ("skill", "strength", "conditioning", "warm-up")
Level = Literal["novice", "regular", "advanced"]
LEVELS: tuple[Level, ...] = ("novice", "regular", "advanced")
Irritability = Literal["settled", "sore", "flared"]
IRRITABILITIES: tuple[Irritability, ...] = ("settled", "sore", "flared")
Basis = Literal["practice", "measured", "modelled"]
LinkKind = Literal["easier", "harder", "sideways"]
Seen = Literal["primary", "secondary", "memory"]
WordListId = Literal[
    "how",
    "loaded-form",
    "not-counted",
    "denial",
    "denial-undone",
    "denial-undone-behind",
    "denial-of-all",
    "turn",
    "misspelt",
    "filler",
    "hurting",
    "grave",
    "between",
    "pregnant",
    "after-birth",
]
StageCount = Literal["years", "weeks-pregnant", "weeks-after-birth"]


class Record(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True, gc=False):
    """Base of all record types."""


class Figure(Record, frozen=True, kw_only=True):
    """A number with its source id."""

    value: Positive
    source: SourceId


class Load(Record, frozen=True, kw_only=True):
    """Usual load on the board in a conditioning piece.

    `kg` holds the heavier and the lighter standard; `per_hand` says that each of a pair weighs that much.
    """

    kg: tuple[Positive, Positive]
    implement: Id
    per_hand: bool = False


class Cap(Record, frozen=True, kw_only=True):
    """The trade's time cap for a set: `amount` units in at most `seconds`."""

    amount: Positive
    seconds: Positive


class Fault(Record, frozen=True, kw_only=True):
    """What the coach sees, and what to say."""

    see: Text
    say: Text


class Movement(Record, frozen=True, kw_only=True):
    """One movement in its usual version.

    `uses` lists everything needed at once; an inner list is any-of; an item may carry a count ("2 dumbbell") or a
    group ("barbell + rack"). `units` maps each unit that it is written in to seconds per unit for novice, regular
    and advanced members, the usual unit first.
    """

    id: Id
    name: Name
    also: tuple[Name, ...] = ()
    pattern: dict[Id, Share]
    muscles: dict[Id, Annotated[int, Meta(ge=1, le=3)]]
    character: Id
    suits: Annotated[tuple[Intent, ...], Meta(min_length=1)]
    skill: Rank
    strength: Rank
    needs: tuple[Id, ...] = ()
    uses: tuple[str | tuple[str, ...], ...]
    stance: Annotated[tuple[Id, ...], Meta(min_length=1)]
    hands: Annotated[int, Meta(ge=0, le=2)]
    area: Id
    height: Id
    noise: Id
    traits: tuple[Literal["jump", "run", "floor", "throw", "partner", "water", "travel"], ...] = ()
    demands: dict[Id, Annotated[int, Meta(ge=1, le=3)]]
    why: dict[Id, Text] = {}
    units: Annotated[dict[Unit, tuple[Positive | None, Positive | None, Positive | None]], Meta(min_length=1)]
    sides: Literal["both", "alternating", "each"]
    load: Load | None = None
    met: Figure
    cap: Cap | None = None
    cues: Annotated[tuple[Text, ...], Meta(min_length=2, max_length=3)]
    faults: Annotated[tuple[Fault, ...], Meta(min_length=1)]
    cautions: tuple[Text, ...] = ()
    sources: Annotated[tuple[SourceId, ...], Meta(min_length=1)]

    @property
    def unit(self) -> Unit:
        """The unit that it is usually written in."""
        return next(iter(self.units))

    def grade(self, demand: str) -> int:
        """Grade 0 to 3 of a demand."""
        return self.demands.get(demand, 0)

    def pace(self, unit: Unit, level: Level = "regular") -> float | None:
        """Seconds per unit at a level; the nearest level that does it where this one does not.

        Returns
        -------
        float or None
            Seconds per unit [s]; 1 for seconds; None where the movement is not counted in `unit`.
        """
        if unit not in self.units:
            return 1.0 if unit == "s" else None
        paces = self.units[unit]
        order = {"novice": (0, 1, 2), "regular": (1, 0, 2), "advanced": (2, 1, 0)}[level]
        return next((paces[i] for i in order if paces[i] is not None), None)


def equipment_in(need: str | tuple[str, ...]) -> list[str]:
    """Equipment ids in a need: "2 dumbbell" holds "dumbbell", "barbell + rack" both."""
    items = []
    for choice in (need,) if isinstance(need, str) else need:
        for part in choice.split(" + "):
            count, _, rest = part.partition(" ")
            items.append(rest if count.isdigit() else part)
    return items


class Link(Record, frozen=True, kw_only=True, rename={"from_": "from", "for_": "for"}):
    """One edge of the substitution graph; the opposite direction is derived."""

    from_: Id
    to: Id
    kind: LinkKind
    for_: tuple[Intent, ...] = INTENTS
    without: tuple[Id, ...] = ()
    spares: tuple[Id, ...] = ()
    why: Annotated[str, Meta(min_length=1, max_length=120)]


class Ratio(Record, frozen=True, kw_only=True, rename={"from_": "from"}):
    """Evidence on how many units of `to` equal one unit of `from`.

    `low` and `high` are the spread seen; `pages` the number of independent sources (0: from memory); `equals` says
    what is held equal.
    """

    id: Id
    from_: Id
    to: Id
    units: tuple[Unit, Unit] = ("rep", "rep")
    ratio: Positive
    low: Positive
    high: Positive
    basis: Basis
    pages: Annotated[int, Meta(ge=0)] = 0
    equals: Literal["any", "effort", "energy", "time"] = "any"
    population: str = ""
    sigma: Positive | None = None
    source: SourceId
    where: str = ""
    seen: Seen = "memory"
    note: str = ""


class Postures(Record, frozen=True, kw_only=True):
    """How the body is held at the two ends of a movement; keys as in `models.posture.posture_from_mapping`."""

    movement: Id
    start: dict[str, float | tuple[str, ...]]
    end: dict[str, float | tuple[str, ...]]
    load_at: Literal["hands", "shoulders"] | None = None
    approximate: bool = False
    why: Text

    @property
    def id(self) -> str:
        """The movement that it belongs to."""
        return self.movement


class Computed(Record, frozen=True, kw_only=True):
    """Where the grades of a demand begin in a quantity that the mechanics compute.

    `borders` are the lowest values of grades 1, 2 and 3 (null: never by this quantity); with `load_over` only postures
    under more than that share of body mass count.
    """

    id: Id
    demand: Id
    quantity: Id
    borders: tuple[float | None, float | None, float | None]
    load_over: Annotated[float, Meta(ge=0, lt=1)] = 0.0
    why: Text

    def grade(self, value: float) -> int:
        """Grade that a value makes."""
        return max((n for n, border in enumerate(self.borders, 1) if border is not None and value >= border), default=0)


class Published(Record, frozen=True, kw_only=True):
    """A row of a published loading table, and the movements that it was measured on."""

    id: Id
    demand: Id
    grade: Grade
    movements: Annotated[tuple[Id, ...], Meta(min_length=1)]
    figure: Text
    source: SourceId
    seen: Seen


class Accepted(Record, frozen=True, kw_only=True):
    """Why records keep a grade that computation or a table does not give."""

    id: Id
    demand: Id
    movements: Annotated[tuple[Id, ...], Meta(min_length=1)]
    why: Text


class Equipment(Record, frozen=True, kw_only=True):
    """Something that stands on the floor."""

    id: Id
    name: Name
    also: tuple[Name, ...] = ()
    holds: tuple[Id, ...] = ()
    needs: tuple[Id, ...] = ()
    does_for: tuple[Id, ...] = ()
    usually: tuple[Id, ...] = ()
    step_kg: Positive | None = None
    sizes_kg: tuple[Positive, ...] = ()
    base_kg: tuple[Positive, Positive] | None = None
    surroundings: bool = False
    single_kg: tuple[Positive, ...] = ()
    personal: bool = False
    scarce: Annotated[int, Meta(ge=0, le=3)] = 1


class Demand(Record, frozen=True, kw_only=True):
    """What a movement asks of the body, with measurable grades."""

    id: Id
    name: Name
    measure: Text
    grades: dict[Literal["1", "2", "3"], Text]
    source: SourceId


class Term(Record, frozen=True, kw_only=True):
    """A pattern, muscle, character or stance; `kin` tells how near others are (0 to 1)."""

    id: Id
    name: Name
    kin: dict[Id, Share] = {}


class Area(Record, frozen=True, kw_only=True):
    """A size of floor, smallest first."""

    id: Id
    name: Name
    square_m: Positive


class Height(Record, frozen=True, kw_only=True):
    """A height of room, lowest first."""

    id: Id
    name: Name
    height_m: Positive


class Excludes(Record, frozen=True, kw_only=True):
    """What a limit takes out: traits, and demands above a grade."""

    traits: tuple[str, ...] = ()
    demands: dict[Id, Grade] = {}


class Most(Record, frozen=True, kw_only=True):
    """The most of each that a limit leaves."""

    area: Id | None = None
    height: Id | None = None
    noise: Id | None = None
    hands: int | None = None


class Limit(Record, frozen=True, kw_only=True):
    """What a coach says of the room or of the member today."""

    id: Id
    name: Name
    also: tuple[Name, ...] = ()
    excludes: Excludes = Excludes()
    most: Most = Most()
    stances: tuple[Id, ...] = ()
    when_not_owned: tuple[Id, ...] = ()
    brings: tuple[Id, ...] = ()


class LevelRecord(Record, frozen=True, kw_only=True):
    """How far a member's skill and strength reach when nothing else is said.

    `taken_as_owned` holds the skill and strength up to which a rung needs no proof at this level.
    """

    id: Level
    name: Name
    also: tuple[Name, ...] = ()
    skill: Rank
    strength: Rank
    taken_as_owned: tuple[Rank, Rank] | None = None


class IntentRecord(Record, frozen=True, kw_only=True):
    """What a piece is for: the weight of each facet of the stimulus."""

    id: Intent
    name: Name
    also: tuple[Name, ...] = ()
    weights: dict[str, float]
    at_most: dict[Id, Grade] = {}


Distance = Annotated[float, Meta(ge=0, le=1)]


class Degrees(Record, frozen=True, kw_only=True):
    """Distances of the facets that are a matter of degree in the records themselves, 0 to 1, and where they are full.

    Parameters
    ----------
    second_hand : float
        Facet link: linked by way of one other movement.
    other_intent : float
        Facet link: linked, but for another kind of piece.
    written_for_another : float
        Facet link: linked, but for obstacles that today are none.
    no_obstacle_named, other_obstacle : float
        Facet context: the link speaks of no obstacle, or of another than today's.
    few_pages, from_memory, for_some : float
        Facet practice: a rule with one or two sources, one from memory, and one made for some people only.
    well_known : int
        Rules of the trade from which a movement counts as fully familiar.
    well_linked : int
        Links from which a movement counts as fully connected.
    long_list : int
        Links after which the order in which a coach wrote them says nothing more.
    nothing_in_common : float
        Factor in pace, energy or load from which two movements have nothing in common.
    """

    second_hand: Distance
    other_intent: Distance
    written_for_another: Distance
    no_obstacle_named: Distance
    other_obstacle: Distance
    few_pages: Distance
    from_memory: Distance
    for_some: Distance
    well_known: Annotated[int, Meta(ge=1)]
    well_linked: Annotated[int, Meta(ge=1)]
    long_list: Annotated[int, Meta(ge=1)]
    nothing_in_common: Annotated[float, Meta(gt=1)]


class Scoring(Record, frozen=True, kw_only=True):
    """Numbers of the ranking that belong to no single intent.

    Where complaints hold every demand of `rest_when` at its grade, what is left is no exercise; `gentle` movements may
    still be done, with `instead` said to the member.
    """

    least_score: Distance
    good_score: Distance
    wide_interval: Annotated[float, Meta(gt=1)]
    harder_reach: Rank
    easily_learnt: Rank
    degrees: Degrees
    rest_when: dict[Id, Grade] = {}
    gentle: tuple[Id, ...] = ()
    instead: str = ""


class Rung(Record, frozen=True, kw_only=True):
    """When a movement that others need is owned: a measure that a coach can count.

    `before` names the movements for which this measure holds in place of the plain one; `pages` is the number of
    independent sources of a rule of the trade (0: common practice, none).
    """

    movement: Id
    before: tuple[Id, ...] = ()
    amount: Positive
    unit: Unit
    criterion: Text
    source: SourceId = "common-practice"
    where: str = ""
    pages: Annotated[int, Meta(ge=0)] = 0

    @property
    def id(self) -> str:
        """The movement, and what the measure is before where that is not all."""
        return f"{self.movement}>{'+'.join(self.before)}" if self.before else self.movement


class SituationRecord(Record, frozen=True, kw_only=True):
    """What a gym, a member or a day leaves; fields as the flags of an ask, in ids.

    `nothing_for` names the families for which the trade has nothing there, each with the reason.
    """

    id: Id
    name: Name
    short: Annotated[str, Meta(min_length=1, max_length=3)]
    only: tuple[str, ...] | None = None
    without: tuple[Id, ...] = ()
    limits: tuple[Id, ...] = ()
    complaints: tuple[Id, ...] = ()
    irritability: Irritability = "sore"
    level: Level | None = None
    cannot: tuple[Id, ...] = ()
    nothing_for: dict[Id, Text] = {}


class RedFlagLevel(Record, frozen=True, kw_only=True):
    """How urgent a referral is, in words."""

    id: Literal["emergency", "urgent", "clinician"]
    name: Text


class Source(Record, frozen=True, kw_only=True):
    """A publication, a rule of the trade, or memory."""

    id: SourceId
    citation: Annotated[str, Meta(min_length=1)]
    kind: str
    doi: str = ""
    looked_at: str = ""


PhraseKind = Literal[
    "section",
    "format",
    "split",
    "team",
    "role",
    "effort",
    "how",
    "filler",
    "note",
    "talk",
    "aside",
    "implement",
    "piece",
    "standard",
    "version",
    "about",
    "blank",
    "nameless",
    "loaded",
    "moving",
    "climb",
    "day",
    "part",
    "column",
]


class BoardPhrase(Record, frozen=True, kw_only=True):
    """Words that mean one thing on a board and are no movement: a format, a section, a way to share.

    `kind` says what they are for, `id` what they mean; a space also stands for a hyphen or nothing.
    """

    id: Id
    kind: PhraseKind
    words: Annotated[tuple[str, ...], Meta(min_length=1)]


class BoardCall(Record, frozen=True, kw_only=True):
    """What a coach writes on a board for a movement besides its own names; `id` is the movement."""

    id: Id
    also: Annotated[tuple[Name, ...], Meta(min_length=1)]


class BoardReading(Record, frozen=True, kw_only=True):
    """A short form with several readings, the commoner first; `usual` holds the reps that a board gives of each."""

    id: Id
    movements: Annotated[tuple[Id, ...], Meta(min_length=2)]
    usual: tuple[Positive, ...]


AtMost = dict[Id, tuple[Grade, Grade, Grade]]


class Provocation(Record, frozen=True, kw_only=True):
    """What makes a complaint worse, as the highest grade still offered when settled, sore, flared.

    `at_site` says which provocation its words mean at a site of complaints: bending, of a knee, is the knee's.
    """

    id: Id
    name: Name
    also: tuple[Name, ...] = ()
    at_most: AtMost
    at_site: dict[str, Id] = {}


class Complaint(Record, frozen=True, kw_only=True):
    """What a site or condition tolerates, as the highest grade offered when settled, sore, flared.

    `muscles` says the same of how hard a muscle may work: 3 prime mover, 2 strong helper, 1 assists.
    """

    id: Id
    name: Name
    also: tuple[Name, ...] = ()
    site: str
    kind: Literal["site", "pattern", "condition", "life-stage"]
    at_most: AtMost = {}
    muscles: AtMost = {}
    pain_zones_apply: bool
    principle: Text
    tolerated: tuple[Text, ...] = ()
    avoid: tuple[Text, ...] = ()
    watch: tuple[Text, ...] = ()
    refer_when: tuple[Text, ...] = ()
    ask_first: Text
    extra: str = ""
    limits: tuple[Id, ...] = ()
    most_skill: Rank | None = None
    most_strength: Rank | None = None
    refer: bool = False
    refer_with: tuple[Id, ...] = ()
    refer_text: str = ""
    refer_level: Literal["emergency", "urgent", "clinician"] | None = None
    seen: Seen = "memory"
    sources: tuple[SourceId, ...]
    reviewed: str


class RedFlag(Record, frozen=True, kw_only=True, rename={"not_": "not"}):
    """A sign that ends the session and sends the member on."""

    id: Id
    group: str
    level: Literal["emergency", "urgent", "clinician"]
    sees: Text
    first_steps: tuple[Text, ...]
    phrases: tuple[Text, ...]
    weak: tuple[Text, ...] = ()
    denials_ok: bool = True
    not_: tuple[Text, ...] = ()
    seen: Seen = "memory"
    sources: tuple[SourceId, ...]


class WordList(Record, frozen=True, kw_only=True):
    """Words that decide how a sentence is read, or a name written."""

    id: WordListId
    about: Text
    words: tuple[Name, ...]


class Stage(Record, frozen=True, kw_only=True, rename={"from_": "from"}):
    """A stretch of years or weeks that stands for a complaint profile: `from` is in, `below` is out."""

    id: Id
    counts: StageCount
    from_: Annotated[float, Meta(ge=0)] = 0
    below: Positive | None = None
    complaint: Id


class Caution(Record, frozen=True, kw_only=True):
    """A short member-facing caution; `{emergency}` stands for the house's emergency number."""

    id: Id
    when: Text
    text: Annotated[str, Meta(max_length=500)]
    sources: tuple[SourceId, ...] = ()


class TimeDomain(Record, frozen=True, kw_only=True):
    """A class of pieces by how long they take: from `from_min` up to the next one's, and how it should feel."""

    id: Id
    name: Name
    from_min: Annotated[float, Meta(ge=0)]
    feel: Text
    source: SourceId


class Slowing(Record, frozen=True, kw_only=True):
    """How movements of one character slow down.

    `fresh` is the fresh pace as a share of the pace over a long set; `in_sets` whether people break many reps into
    sets with short rests; `most` and `most_loaded` the most reps (of a hold: seconds) that a board usually has of one
    item, without and with a load; `slow` whether a set may be done slowly to make up for a load that is missing.
    """

    id: Id
    fresh: Share
    slow: bool = False
    in_sets: bool = True
    most: Annotated[int, Meta(ge=1)] | None = None
    most_loaded: Annotated[int, Meta(ge=1)] | None = None
    source: SourceId


class Change(Record, frozen=True, kw_only=True):
    """How one gets to a movement: by what it uses, or by a trait; the first that fits counts."""

    id: Literal["ergometer", "rig", "run-out"]
    uses: tuple[Id, ...] = ()
    traits: tuple[str, ...] = ()
    source: SourceId


class PieceRule(Record, frozen=True, kw_only=True):
    """One number of the trade on how a piece is laid out, with its spread."""

    id: Literal[
        "interval-work",
        "strength-rest",
        "window",
        "fresh-best",
        "usual-load",
        "unloaded-set",
        "heavy-reps",
        "heavy-load",
        "circuit",
    ]
    low: Annotated[float, Meta(ge=0)]
    usual: Annotated[float, Meta(ge=0)]
    high: Annotated[float, Meta(ge=0)]
    unit: str
    about: Text
    source: SourceId


class Dose(Record, frozen=True, kw_only=True):
    """A strain that is added up over a piece.

    What counts: movements with all of `demands` at least at the grade given, one of `patterns` and one of `uses` where
    these are given. It is counted in reps, or in seconds of work. `full` is a round number to compare with, `most` the
    stated threshold by level, `says` what to tell where it is passed.
    """

    id: Id
    name: Name
    unit: Literal["rep", "s"]
    demands: dict[Id, Annotated[int, Meta(ge=1, le=3)]] = {}
    patterns: tuple[Id, ...] = ()
    uses: tuple[Id, ...] = ()
    full: Positive
    most: dict[Level, Positive] = {}
    says: str = ""
    caution: str = ""
    basis: Text
    source: SourceId

    def counts(self, movement: Movement) -> bool:
        """Whether a movement adds to it."""
        if any(movement.grade(d) < grade for d, grade in self.demands.items()):
            return False
        if self.patterns and not set(self.patterns) & set(movement.pattern):
            return False
        return not self.uses or any(set(equipment_in(need)) & set(self.uses) for need in movement.uses)


class Concern(Record, frozen=True, kw_only=True):
    """What counts when the substitutes of a piece are chosen together, and how much."""

    id: Literal[
        "stimulus", "second-dose", "threshold", "same-twice", "kit", "pattern", "complex", "unloaded", "short", "alike"
    ]
    weight: Annotated[float, Meta(ge=0)]
    why: Text


LoadPlace = Literal["floor", "hips", "front", "overhead", "back"]


class LoadPath(Record, frozen=True, kw_only=True):
    """Where a load is before and after lifts: they begin at `id`, and `ends` holds them by where they end.

    In a complex the load may be lowered between two lifts, but nobody lifts it there without a lift.
    """

    id: LoadPlace
    ends: dict[LoadPlace, tuple[Id, ...]]
    source: SourceId


class Version(Record, frozen=True, kw_only=True):
    """A column that a coach writes beside the board: its name, and the situation that it is for."""

    id: Id
    name: Name
    without: tuple[Id, ...] = ()
    only: tuple[Id, ...] = ()
    cannot: tuple[Id, ...] = ()
    limits: tuple[Id, ...] = ()
    level: Level | None = None
    note: str = ""


class HouseRule(Record, frozen=True, kw_only=True):
    """A rule of the house, worked out: whom it holds for (all of it empty: anyone), and what it takes out with why."""

    id: Id
    reason: str
    levels: tuple[str, ...] = ()
    complaints: tuple[str, ...] = ()
    out: dict[str, str]

    def holds_for(self, level: str | None, complaints: set[str]) -> bool:
        """Whether it holds for a member of a level with complaint profiles."""
        return (
            not (self.levels or self.complaints) or level in self.levels or not complaints.isdisjoint(self.complaints)
        )


class House(Record, frozen=True, kw_only=True):
    """What a gym's own folder says beside its records; `owned` maps equipment to a count (0: as many as needed)."""

    name: str = ""
    emergency: str = ""
    owned: dict[str, int] | None = None
    rules: tuple[HouseRule, ...] = ()
