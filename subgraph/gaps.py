"""Where the knowledge base has holes: good options per family of movements and situation.

Every family is asked for its typical movements in every situation of `library/situations.yaml`, and the options are
counted whose score reaches `good_score` of `library/intents.yaml`. A cell is the median ask, so that one lucky or
unlucky movement does not speak for a family.
"""

from __future__ import annotations

import difflib
import statistics
from collections.abc import Callable, Iterable

from msgspec import Struct

from subgraph.errors import UnknownNameError
from subgraph.library.compile import Compiled
from subgraph.library.knowledge import Library
from subgraph.library.records import SituationRecord
from subgraph.notation.ask import read_ask
from subgraph.notation.situation import Situation, read_situation
from subgraph.options import options
from subgraph.today import Filter

ASKS_PER_FAMILY = 5
MOST_COUNTED = 5  # good options of one ask beyond which counting ends


class Asked(Struct, frozen=True):
    """One ask of a cell.

    Parameters
    ----------
    movement : str
        Id.
    outcome : str
        As in `options`.
    good : int
        Good options, the movement as written among them where nothing stands in its way; at most `MOST_COUNTED`.
    best : str or None
        First option, good or not.
    best_score : float
        Its closeness, 0 to 1; 0 without one.
    """

    movement: str
    outcome: str
    good: int
    best: str | None
    best_score: float


class Cell(Struct, frozen=True):
    """A family in a situation.

    Parameters
    ----------
    family, situation : str
        Ids.
    good : int
        Good options of the median ask (the lower of the two where their number is even).
    asks : tuple of Asked
        What it rests on.
    nothing : str
        Why the trade has nothing here; empty where it should have.
    """

    family: str
    situation: str
    good: int
    asks: tuple[Asked, ...]
    nothing: str

    @property
    def is_hole(self) -> bool:
        """Whether the median ask gets no good option though the trade could give one."""
        return not self.good and not self.nothing

    @property
    def is_filled_after_all(self) -> bool:
        """Whether there are good options although the record says that the trade has none."""
        return bool(self.good and self.nothing)


class Gaps(Struct, frozen=True):
    """The matrix.

    Parameters
    ----------
    families : tuple of str
        Rows, in file order.
    situations : tuple of SituationRecord
        Columns, in file order.
    cells : dict
        (family, situation) to `Cell`.
    good_score : float
        Closeness from which an option counts.
    """

    families: tuple[str, ...]
    situations: tuple[SituationRecord, ...]
    cells: dict[tuple[str, str], Cell]
    good_score: float

    @property
    def holes(self) -> list[Cell]:
        """Cells that the trade could fill and that are empty, in print order."""
        return [c for c in self.cells.values() if c.is_hole]

    @property
    def filled_after_all(self) -> list[Cell]:
        """Cells marked as empty by nature that are not."""
        return [c for c in self.cells.values() if c.is_filled_after_all]


def typical_asks(library: Library, family: str, most: int = ASKS_PER_FAMILY) -> list[str]:
    """Movements of a family that stand on boards most: those with most links and rules of the trade.

    Pieces that are used in a warm-up alone come last.

    Parameters
    ----------
    library : Library
        Records.
    family : str
        Name of its file.
    most : int
        How many at most.

    Returns
    -------
    list of str
        Ids, the best connected first; ties in file order.
    """
    columns = library.columns
    members = [i for i, row in enumerate(columns.family) if columns.family_table[row] == family]
    ranked = sorted(
        members,
        key=lambda i: (
            columns.suits_table[columns.suits[i]] == ("warm-up",),
            -(columns.links[i] + columns.rules[i]),
            i,
        ),
    )
    return [columns.ids[i] for i in ranked[:most]]


def situation_of(base: Compiled, record: SituationRecord) -> Situation:
    """A situation record, read as the flags of a command are."""
    return read_situation(
        base,
        only=record.only,
        without=record.without,
        limits=record.limits,
        complaints=record.complaints,
        irritability=record.irritability,
        level=record.level,
        cannot=record.cannot,
    )


def gaps(
    base: Compiled,
    *,
    families: Iterable[str] | None = None,
    situations: Iterable[str] | None = None,
    asks: int = ASKS_PER_FAMILY,
    tell: Callable[[str], None] | None = None,
) -> Gaps:
    """Count good options per family and situation.

    Parameters
    ----------
    base : Compiled
        Library and names.
    families, situations : iterable of str, optional
        Ids; all where left out.
    asks : int
        Typical movements per family.
    tell : callable, optional
        Takes the name of each situation as it begins.

    Returns
    -------
    Gaps
        The matrix.

    Raises
    ------
    UnknownNameError
        If there is no such family or situation.
    """
    library = base.library
    rows = _chosen(families, list(dict.fromkeys(library.family.values())), "family")
    columns = tuple(library.situations[s] for s in _chosen(situations, list(library.situations), "situation"))
    read = {family: [read_ask(m, base).ask for m in typical_asks(library, family, asks)] for family in rows}
    found: dict[tuple[str, str], Cell] = {}
    for record in columns:
        if tell:
            tell(record.name)
        situation = situation_of(base, record)
        filter_ = Filter(library, situation.today)
        for family in rows:
            answered = []
            for ask in read[family]:
                answer = options(library, ask, situation.today, top=MOST_COUNTED, says=situation.says, filter_=filter_)
                good = (answer.outcome == "as-written") + sum(
                    o.score >= library.scoring.good_score for o in answer.options
                )
                first = answer.options[0] if answer.options else None
                answered.append(
                    Asked(
                        ask.movement,
                        answer.outcome,
                        min(good, MOST_COUNTED),
                        first.movement.id if first else None,
                        first.score if first else 0.0,
                    )
                )
            found[family, record.id] = Cell(
                family,
                record.id,
                statistics.median_low(a.good for a in answered),
                tuple(answered),
                record.nothing_for.get(family, ""),
            )
    cells = {(family, record.id): found[family, record.id] for family in rows for record in columns}
    return Gaps(rows, columns, cells, library.scoring.good_score)


def _chosen(wanted: Iterable[str] | None, known: list[str], kind: str) -> tuple[str, ...]:
    """The ids wanted, or all; an unknown one is refused with the nearest."""
    ids = known if wanted is None else list(dict.fromkeys(wanted))
    for id_ in ids:
        if id_ not in known:
            close = difflib.get_close_matches(id_, known, 3)
            mend = "nearest: " + ", ".join(close) if close else "one of: " + ", ".join(known)
            raise UnknownNameError(f"no {kind} is called '{id_[:40]}'", mend=mend, nearest=tuple(close))
    return tuple(ids)
