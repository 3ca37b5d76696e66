"""The knowledge base in memory: records by id, decoded when first asked for.

An answer needs a few numbers of every movement and all of a few movements. So the numbers stand in `Columns`, one
row per movement, and the records themselves stay encoded until somebody looks at them.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Generic, TypeVar

import msgspec

from subgraph.library import records as r

T = TypeVar("T")


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
    uses_table : list
        Distinct equipment expressions.
    setting : list of int
        Row of `setting_table` per movement.
    setting_table : list of Setting
        Distinct combinations of position, room, noise, hands and traits.
    pattern : list of list of (str, float)
        Pattern shares.
    muscles : list of list of (str, int)
        Muscle weights.
    pattern_norm, muscle_norm : list of float
        Lengths under the kinship of patterns and of plain muscles.
    character, unit : list of str
        As in the record.
    met : list of float
        Energy cost [MET].
    pace : list of float or None
        Seconds per usual unit [s] at the regular level.
    suits : list of tuple of str
        Intents.
    loaded : bytes
        1 where a load is carried, shape (n,).
    rules : list of int
        How many rules of the trade speak of it.
    family : list of str
        File that it stands in.
    links : list of int
        How many links it has.
    """

    ids: list[str]
    skill: bytes
    strength: bytes
    demands: bytes
    demand_order: list[str]
    uses: list[int]
    uses_table: list[tuple[str | tuple[str, ...], ...]]
    setting: list[int]
    setting_table: list[Setting]
    pattern: list[list[tuple[str, float]]]
    muscles: list[list[tuple[str, int]]]
    pattern_norm: list[float]
    muscle_norm: list[float]
    character: list[str]
    unit: list[str]
    met: list[float]
    pace: list[float | None]
    suits: list[tuple[str, ...]]
    loaded: bytes
    rules: list[int]
    family: list[str]
    links: list[int]


class Setting(msgspec.Struct, frozen=True, gc=False, array_like=True):
    """Where and how a movement is done: what limits look at."""

    stance: tuple[str, ...]
    area: str
    height: str
    noise: str
    hands: int
    traits: tuple[str, ...]


class Ladder(msgspec.Struct, frozen=True, gc=False):
    """What falls away with what: `harder` by links, `dependants` by needs."""

    harder: dict[str, list[str]]
    dependants: dict[str, list[str]]


class Neighbours(msgspec.Struct, frozen=True, gc=False):
    """Both ends of every link, without the words."""

    ends: list[tuple[str, str]]


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


class Pack(msgspec.Struct, frozen=True, gc=False):
    """A compiled library as it is stored: sections stay encoded until used."""

    version: str
    sections: dict[str, msgspec.Raw]
    movements: dict[str, msgspec.Raw]
    links: list[msgspec.Raw]
    links_at: dict[str, list[int]]
    ratios: list[msgspec.Raw]
    ratios_at: dict[str, list[int]]


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
    "abbreviations": dict[str, str],
    "provocations": dict[str, r.Provocation],
    "complaints": dict[str, r.Complaint],
    "red_flag_levels": dict[str, r.RedFlagLevel],
    "red_flags": dict[str, r.RedFlag],
    "cautions": dict[str, r.Caution],
    "postures": dict[str, r.Postures],
    "computed": dict[str, r.Computed],
    "published": dict[str, r.Published],
    "accepted": dict[str, r.Accepted],
    "sources": dict[str, r.Source],
    "columns": Columns,
    "ladder": Ladder,
    "neighbours": Neighbours,
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
    abbreviations: dict[str, str]
    provocations: dict[str, r.Provocation]
    complaints: dict[str, r.Complaint]
    red_flag_levels: dict[str, r.RedFlagLevel]
    red_flags: dict[str, r.RedFlag]
    cautions: dict[str, r.Caution]
    postures: dict[str, r.Postures]
    computed: dict[str, r.Computed]
    published: dict[str, r.Published]
    accepted: dict[str, r.Accepted]
    sources: dict[str, r.Source]
    columns: Columns
    ladder: Ladder
    neighbours: Neighbours

    def __init__(self, pack: Pack) -> None:
        self.packed = pack
        self.version = pack.version
        self.movements = Lazy(pack.movements, r.Movement)

    def __getattr__(self, name: str) -> Any:
        if name not in SECTIONS:
            raise AttributeError(name)
        value = msgspec.msgpack.decode(self.packed.sections[name], type=SECTIONS[name])
        setattr(self, name, value)
        return value

    @staticmethod
    def load() -> Library:
        """Load the embedded library, from the compiled cache where it is current.

        Raises
        ------
        LibraryError
            If a record is damaged.
        """
        from subgraph.library.compile import compiled_library

        return compiled_library()

    @functools.cached_property
    def links(self) -> tuple[r.Link, ...]:
        """All links."""
        return tuple(_decode_all(self.packed.links, r.Link))

    @functools.cached_property
    def ratios(self) -> tuple[r.Ratio, ...]:
        """All ratio records."""
        return tuple(_decode_all(self.packed.ratios, r.Ratio))

    @functools.cached_property
    def _link_decoder(self) -> Callable[[msgspec.Raw], r.Link]:
        return msgspec.msgpack.Decoder(r.Link).decode

    @functools.cached_property
    def _ratio_decoder(self) -> Callable[[msgspec.Raw], r.Ratio]:
        return msgspec.msgpack.Decoder(r.Ratio).decode

    def links_at(self, movement: str) -> list[r.Link]:
        """Links with one end at a movement, in file order."""
        return [self._link_decoder(self.packed.links[i]) for i in self.packed.links_at.get(movement, ())]

    def ratios_at(self, movement: str) -> list[r.Ratio]:
        """Ratio records with one end at a movement, in file order."""
        return [self._ratio_decoder(self.packed.ratios[i]) for i in self.packed.ratios_at.get(movement, ())]


def _decode_all(raw: list[msgspec.Raw], kind: type[T]) -> Iterator[T]:
    decode = msgspec.msgpack.Decoder(kind).decode
    return (decode(item) for item in raw)
