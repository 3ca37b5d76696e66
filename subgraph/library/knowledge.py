"""The knowledge base in memory: records by id, decoded when first asked for.

An answer needs a few numbers of every movement and all of a few movements. So the numbers stand in `Columns`, one
row per movement, and the records themselves stay encoded until somebody looks at them.
"""

import functools
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Generic, TypeVar

import msgspec

from subgraph.library import records as r
from subgraph.library.alarms import Alarms
from subgraph.quantities import Unit

if TYPE_CHECKING:
    from subgraph.library.laid import Laid

T = TypeVar("T")


class Setting(msgspec.Struct, frozen=True, gc=False, array_like=True):
    """Where and how a movement is done: what limits look at."""

    stance: tuple[str, ...]
    area: str
    height: str
    noise: str
    hands: int
    traits: tuple[str, ...]


class Columns(msgspec.Struct, frozen=True, gc=False):
    """What the filter and the distance need of every movement, by position.

    Parameters
    ----------
    ids : list of str
        Movement ids in file order.
    skill, strength : bytes
        Ranks 0 to 5, shape (n,).
    demands : bytes
        Grades 0 to 3, shape (n, number of demands), in the order of `demand_order`.
    demand_order : list of str
        Demand ids.
    uses : list of int
        Row of `uses_table` per movement.
    uses_items : list of list of str
        Equipment ids in each row of `uses_table`.
    uses_table : list
        Distinct equipment expressions.
    scarcity : list of float
        How hard to come by each row of `uses_table` is, 0 to 1.
    setting : list of int
        Row of `setting_table` per movement.
    setting_table : list of Setting
        Distinct combinations of position, room, noise, hands and traits.
    pattern, muscles : list of int
        Rows of `pattern_table` and `muscle_table` per movement.
    pattern_table : list of list of (str, float)
        Distinct pattern shares.
    muscle_table : list of Raw
        Distinct muscle weights, still encoded: a list of (str, int) each.
    pattern_norm, muscle_norm : list of float
        Lengths of the rows of the two tables, under the kinship of patterns and of plain muscles.
    character, unit, suits, family : list of int
        Rows of the tables that follow.
    character_table, unit_table, suits_table, family_table : list
        Distinct values as in the records; the family is the file that it stands in.
    met : list of float
        Energy cost [MET].
    pace : list of float or None
        Seconds per usual unit [s] at the regular level.
    loaded : bytes
        1 where a load is carried, shape (n,).
    rules : list of int
        How many rules of the trade speak of it.
    links : list of int
        How many links it has.
    load_kg : list of float
        Usual load, the heavier standard [kg]; 0 where none is carried.
    """

    ids: list[str]
    skill: bytes
    strength: bytes
    demands: bytes
    demand_order: list[str]
    uses: list[int]
    uses_items: list[list[str]]
    uses_table: list[tuple[str | tuple[str, ...], ...]]
    scarcity: list[float]
    setting: list[int]
    setting_table: list[Setting]
    pattern: list[int]
    pattern_table: list[list[tuple[str, float]]]
    pattern_norm: list[float]
    muscles: list[int]
    muscle_table: list[msgspec.Raw]
    muscle_norm: list[float]
    character: list[int]
    character_table: list[str]
    unit: list[int]
    unit_table: list[Unit]
    suits: list[int]
    suits_table: list[tuple[r.Intent, ...]]
    family: list[int]
    family_table: list[str]
    met: list[float]
    pace: list[float | None]
    loaded: bytes
    rules: list[int]
    links: list[int]
    load_kg: list[float]


class Ladder(msgspec.Struct, frozen=True, gc=False):
    """What falls away with what: `harder` by links, `dependants` by needs."""

    harder: dict[str, list[str]]
    dependants: dict[str, list[str]]


class Lazy(Mapping[str, T], Generic[T]):
    """Records by id, each decoded on first look."""

    __slots__ = ("_decoded", "_decoder", "_raw")

    def __init__(self, raw: Mapping[str, msgspec.Raw], kind: type[T]) -> None:
        self._raw = raw
        self._decoder = msgspec.msgpack.Decoder(kind)
        self._decoded: dict[str, T] = {}

    def __getitem__(self, key: str) -> T:
        if key not in self._decoded:
            self._decoded[key] = self._decoder.decode(self._raw[key])
        return self._decoded[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._raw)

    def __len__(self) -> int:
        return len(self._raw)

    def __contains__(self, key: object) -> bool:
        return key in self._raw


class Sequenced(Generic[T]):
    """Records in file order, found by the movements at their ends and decoded when looked at."""

    __slots__ = ("_at", "_decoder", "_raw")

    def __init__(self, raw: msgspec.Raw, at: Mapping[str, msgspec.Raw], kind: type[T]) -> None:
        self._raw: list[msgspec.Raw] = _decode(raw, list[msgspec.Raw])
        self._at = at
        self._decoder = msgspec.msgpack.Decoder(kind)

    def at(self, movement: str) -> list[T]:
        """Records with one end at a movement."""
        where = self._at.get(movement)
        positions: list[int] = _decode(where, list[int]) if where is not None else []
        return [self._decoder.decode(self._raw[i]) for i in positions]


class Pack(msgspec.Struct, frozen=True, gc=False):
    """A compiled library as it is stored: sections stay encoded until used.

    Parameters
    ----------
    version : str
        Short digest of the content.
    sections : dict
        By name; the type of each is in `SECTIONS` or `ONE_BY_ONE`.
    movements : dict
        Records by id.
    links, ratios : Raw
        A list of records each.
    links_at, ratios_at : dict
        Movement id to a list of positions in them.
    """

    version: str
    sections: dict[str, msgspec.Raw]
    movements: dict[str, msgspec.Raw]
    links: msgspec.Raw
    links_at: dict[str, msgspec.Raw]
    ratios: msgspec.Raw
    ratios_at: dict[str, msgspec.Raw]


# Sections by name with the type of each; small enough to decode whole when first used.
SECTIONS: dict[str, Any] = {
    "family": dict[str, str],
    "equipment": dict[str, r.Equipment],
    "demands": dict[str, r.Demand],
    "patterns": dict[str, r.Term],
    "muscles": dict[str, r.Term],
    "characters": dict[str, r.Term],
    "stances": dict[str, r.Term],
    "areas": dict[str, r.Area],
    "heights": dict[str, r.Height],
    "noises": dict[str, r.Term],
    "limits": dict[str, r.Limit],
    "levels": dict[str, r.LevelRecord],
    "intents": dict[str, r.IntentRecord],
    "scoring": r.Scoring,
    "situations": dict[str, r.SituationRecord],
    "rungs": dict[str, r.Rung],
    "abbreviations": dict[str, str],
    "house": r.House,
    "red_flag_levels": dict[str, r.RedFlagLevel],
    "words": dict[str, r.WordList],
    "stages": dict[str, r.Stage],
    "alarms": Alarms,
    "phrases": dict[str, r.BoardPhrase],
    "calls": dict[str, r.BoardCall],
    "readings": dict[str, r.BoardReading],
    "computed": dict[str, r.Computed],
    "published": dict[str, r.Published],
    "accepted": dict[str, r.Accepted],
    "domains": dict[str, r.TimeDomain],
    "slowing": dict[str, r.Slowing],
    "changes": dict[str, r.Change],
    "rules": dict[str, r.PieceRule],
    "doses": dict[str, r.Dose],
    "concerns": dict[str, r.Concern],
    "load_paths": dict[str, r.LoadPath],
    "versions": dict[str, r.Version],
    "columns": Columns,
    "ladder": Ladder,
    "neighbours": dict[str, msgspec.Raw],
}
# Sections of long records, of which an answer looks at a few.
ONE_BY_ONE: dict[str, Any] = {
    "provocations": r.Provocation,
    "complaints": r.Complaint,
    "red_flags": r.RedFlag,
    "cautions": r.Caution,
    "postures": r.Postures,
    "sources": r.Source,
}


class Library:
    """The knowledge base: records by id, in file order."""

    version: str
    movements: Mapping[str, r.Movement]
    family: dict[str, str]
    equipment: dict[str, r.Equipment]
    demands: dict[str, r.Demand]
    patterns: dict[str, r.Term]
    muscles: dict[str, r.Term]
    characters: dict[str, r.Term]
    stances: dict[str, r.Term]
    areas: dict[str, r.Area]
    heights: dict[str, r.Height]
    noises: dict[str, r.Term]
    limits: dict[str, r.Limit]
    levels: dict[str, r.LevelRecord]
    intents: dict[str, r.IntentRecord]
    scoring: r.Scoring
    situations: dict[str, r.SituationRecord]
    rungs: dict[str, r.Rung]
    abbreviations: dict[str, str]
    provocations: Mapping[str, r.Provocation]
    complaints: Mapping[str, r.Complaint]
    red_flag_levels: dict[str, r.RedFlagLevel]
    domains: dict[str, r.TimeDomain]
    slowing: dict[str, r.Slowing]
    changes: dict[str, r.Change]
    rules: dict[str, r.PieceRule]
    doses: dict[str, r.Dose]
    concerns: dict[str, r.Concern]
    load_paths: dict[str, r.LoadPath]
    versions: dict[str, r.Version]
    red_flags: Mapping[str, r.RedFlag]
    cautions: Mapping[str, r.Caution]
    postures: Mapping[str, r.Postures]
    sources: Mapping[str, r.Source]
    house: r.House
    words: dict[str, r.WordList]
    stages: dict[str, r.Stage]
    alarms: Alarms
    phrases: dict[str, r.BoardPhrase]
    calls: dict[str, r.BoardCall]
    readings: dict[str, r.BoardReading]
    computed: dict[str, r.Computed]
    published: dict[str, r.Published]
    accepted: dict[str, r.Accepted]
    columns: Columns
    ladder: Ladder
    neighbours: dict[str, msgspec.Raw]

    def __init__(self, pack: Pack) -> None:
        self.packed = pack
        self.version = pack.version
        self.movements = Lazy(pack.movements, r.Movement)

    def __getattr__(self, name: str) -> Any:
        value: Any
        if name in ONE_BY_ONE:
            value = Lazy(_decode(self.packed.sections[name], dict[str, msgspec.Raw]), ONE_BY_ONE[name])
        elif name in SECTIONS:
            value = _decode(self.packed.sections[name], SECTIONS[name])
        else:
            raise AttributeError(name)
        setattr(self, name, value)
        return value

    @staticmethod
    def load() -> "Library":
        """Load the embedded library, from the compiled cache where it is current.

        Raises
        ------
        LibraryError
            If a record is damaged.
        """
        from subgraph.library.compile import compiled_library

        return compiled_library()

    @functools.cached_property
    def laid(self) -> "list[Laid]":
        """What a house folder lays over the library; nothing where there is none."""
        from subgraph.library.laid import Laid

        return _decode(self.packed.sections["laid"], list[Laid])

    @functools.cached_property
    def links(self) -> tuple[r.Link, ...]:
        """All links."""
        return _decode(self.packed.links, tuple[r.Link, ...])

    @functools.cached_property
    def ratios(self) -> tuple[r.Ratio, ...]:
        """All ratio records."""
        return _decode(self.packed.ratios, tuple[r.Ratio, ...])

    @functools.cached_property
    def _links(self) -> Sequenced[r.Link]:
        return Sequenced(self.packed.links, self.packed.links_at, r.Link)

    @functools.cached_property
    def _ratios(self) -> Sequenced[r.Ratio]:
        return Sequenced(self.packed.ratios, self.packed.ratios_at, r.Ratio)

    def links_at(self, movement: str) -> list[r.Link]:
        """Links with one end at a movement, in file order."""
        return self._links.at(movement)

    def ratios_at(self, movement: str) -> list[r.Ratio]:
        """Ratio records with one end at a movement, in file order."""
        return self._ratios.at(movement)

    def linked_with(self, movement: str) -> list[str]:
        """Other ends of the links at a movement, without the records."""
        raw = self.neighbours.get(movement)
        return _decode(raw, list[str]) if raw is not None else []

    def muscles_of(self, row: int) -> list[tuple[str, int]]:
        """Row of the columns' `muscle_table`."""
        return self._decode_muscles(self.columns.muscle_table[row])

    @functools.cached_property
    def _decode_muscles(self) -> Callable[[msgspec.Raw], list[tuple[str, int]]]:
        return msgspec.msgpack.Decoder(list[tuple[str, int]]).decode


def _decode(raw: msgspec.Raw, kind: type[T]) -> T:
    return msgspec.msgpack.decode(raw, type=kind)
