"""What an amount rests on: the sources that carry it, in words and piece by piece."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from msgspec import Struct

from subgraph.library.knowledge import Library
from subgraph.library.records import Movement, Ratio
from subgraph.quantities import Unit, number
from subgraph.ratios import CLOCK, Z_90, Equal, Network, node, ratio_between, sigma_of
from subgraph.today import Ask

if TYPE_CHECKING:
    from subgraph.models.lifts import LiftRatio
    from subgraph.ratios.flow import Share

CARRIES = 0.10  # share of an answer from which a source is said to be behind it
_VIA = 0.25  # share of an answer from which a movement on the way is named
AGREES = 0.25  # two ratios that differ by less are said to agree
# What a computed ratio compares, by the unit of the figures that its record shows.
_COMPARED = (("J/kg", "work per rep"), ("of body weight", "force on the hands"), ("METs", "energy"))


class Piece(Struct, frozen=True):
    """One piece of evidence behind an amount.

    Parameters
    ----------
    share : float
        How much of the amount runs over it, 0 to 1.
    says : str
        The evidence in words: "1 burpee = 1.5 kettlebell swing".
    basis : str
        `practice`, `measured`, `modelled` or `pace`.
    worth : str
        How much stands behind it: number of sources, or the figures.
    record : str
        Id of the ratio record; empty for a pace.
    source : str
        Id in `sources.yaml`.
    ratio : float
        Units of the second that equal one of the first.
    sigma : float
        Standard deviation of its log, disagreement with other evidence included.
    """

    share: float
    says: str
    basis: str
    worth: str
    record: str
    source: str
    ratio: float
    sigma: float


def basis_of(library: Library, network: Network, ask: Ask, other: Movement, unit: Unit) -> tuple[tuple[str, ...], str]:
    """Source ids behind a ratio, and the same in words.

    Parameters
    ----------
    library : Library
        Records.
    network : Network
        That the ratio comes from.
    ask : Ask
        From.
    other : Movement
        To.
    unit : str
        Unit of the answer.

    Returns
    -------
    (tuple of str, str)
        Ids in `sources.yaml`, of the rules for the very pair, or else of what carries at least `CARRIES`; words for the
        coach.
    """
    start, end = node(ask.movement, ask.amount.unit), node(other.id, unit)
    direct = [r for r in library.ratios_at(ask.movement) if {start, end} == set(_ends(r))]
    if direct:  # no need to trace the flow, which costs more than the rest
        return tuple(dict.fromkeys(r.source for r in direct)), _directly(direct, start)
    shares = _shares(network, start, end)
    carried = dict.fromkeys(s.edge.cites for s in shares if s.share >= CARRIES)
    sources = tuple(carried) or ("common-practice",)
    if ask.by_the_clock or not shares:
        return sources, "the same time under work"
    return sources, _by_way(library, shares, start, end)


def pieces_of(library: Library, network: Network, ask: Ask, other: Movement, unit: Unit) -> tuple[Piece, ...]:
    """The evidence behind a ratio, piece by piece, what carries most first.

    Parameters
    ----------
    library, network, ask, other, unit
        As for `basis_of`.

    Returns
    -------
    tuple of Piece
        Empty where nothing but time joins the two.
    """
    by_id = {r.id: r for r in library.ratios}
    found = []
    for share in _shares(network, node(ask.movement, ask.amount.unit), node(other.id, unit)):
        edge, record = share.edge, by_id.get(share.edge.source)
        one, many = (_counted(library, end) for end in (edge.a, edge.b))
        ratio = math.exp(edge.log_ratio)
        if record is None:
            basis, worth, says = "pace", "common practice", f"{one} takes {number(round(ratio, 2))} s"
        else:
            basis, says = record.basis, f"{one} = {ratio:.3g} {many.removeprefix('1 ')}"
            worth = worth_of(record)
        id_ = record.id if record else ""
        found.append(Piece(share.share, says, basis, worth, id_, edge.cites, ratio, edge.sigma))
    return tuple(found)


def basis_of_maxima(library: Library, asked: Movement, other: Movement, row: LiftRatio) -> Piece:
    """The ratio of maxima behind a load, as one piece of evidence."""
    low, high = row.band
    return Piece(
        1.0,
        f"1 kg {asked.name} = {row.ratio:.2g} kg {other.name}, maxima",
        row.basis,
        f"{row.pages} sources" if row.pages else f"from {row.seen}" if row.seen == "memory" else row.source,
        "",
        row.source if row.source in library.sources else "common-practice",
        row.ratio,
        math.log(high / low) / (2 * Z_90),
    )


def _shares(network: Network, start: str, end: str) -> list[Share]:
    from subgraph.ratios.flow import evidence_shares

    if start == end or ratio_between(network, start, end) is None:
        return []
    return evidence_shares(network, start, end)


def _counted(library: Library, end: str) -> str:
    id_, _, unit = end.rpartition("/")
    if end == CLOCK:
        return "1 s"
    return f"1 {'' if unit == 'rep' else unit + ' '}{library.movements[id_].name}"


def _ends(ratio: Ratio) -> tuple[str, str]:
    return node(ratio.from_, ratio.units[0]), node(ratio.to, ratio.units[1])


def worth_of(ratio: Ratio) -> str:
    """What stands behind a ratio record: how many sources of the trade, or the study or model."""
    if ratio.basis != "practice":
        return ratio.source
    return f"{ratio.pages} source{'s' if ratio.pages != 1 else ''}" if ratio.pages else "from memory"


def _directly(direct: list[Ratio], start: str) -> str:
    practice = [r for r in direct if r.basis == "practice"]
    parts = []
    if practice:
        pages = sum(r.pages for r in practice)
        said = f"{pages} source{'s' if pages != 1 else ''}" if pages else "from memory of the trade"
        parts.append(f"practice, {said}")
    rule = _pooled(practice, start) if practice else None
    for basis in ("measured", "modelled"):
        rows = [r for r in direct if r.basis == basis]
        for what in dict.fromkeys(_what(r) for r in rows):
            same = [r for r in rows if _what(r) == what]
            if rule is None:
                parts.append(what if basis == "measured" else f"modelled, {what}")
            else:
                parts.append(f"{what} {_against(_pooled(same, start).value / rule.value)}")
    return "; ".join(parts)


def _what(ratio: Ratio) -> str:
    if ratio.basis == "measured":
        return "measurement"
    return next((words for mark, words in _COMPARED if mark in ratio.where), "the model")


def _pooled(rows: list[Ratio], start: str) -> Equal:
    """Weighted mean of rules for one pair, from `start` to its other end."""
    weights = [sigma_of(r) ** -2 for r in rows]
    logs = [math.log(r.ratio) if _ends(r)[0] == start else -math.log(r.ratio) for r in rows]
    total = sum(weights)
    mean = sum(w * x for w, x in zip(weights, logs, strict=True)) / total
    return Equal(math.exp(mean), total**-0.5)


def _against(times: float) -> str:
    """How a computed ratio stands to the rule, given how many times as much it asks for."""
    off = max(times, 1 / times) - 1
    if off <= AGREES:
        return f"agrees within {max(1, math.ceil(100 * off - 1e-9))} %"
    if times >= 2:
        return f"would give {times:.1f} times as many"
    return f"would give {100 * abs(times - 1):.0f} % {'more' if times > 1 else 'less'}"


def _by_way(library: Library, shares: list[Share], start: str, end: str) -> str:
    kinds: dict[str, float] = {}
    through: dict[str, float] = {}
    for share in shares:
        kind = "pace" if share.edge.of_the_clock else share.edge.basis
        kinds[kind] = kinds.get(kind, 0.0) + share.share
        for place in {share.edge.a, share.edge.b} - {start, end}:
            through[place] = through.get(place, 0.0) + share.share / 2
    total = sum(kinds.values())
    mix = ", ".join(f"{k} {100 * v / total:.0f} %" for k, v in sorted(kinds.items(), key=lambda kv: -kv[1]))
    ways = sorted((p for p in through if p != CLOCK), key=lambda p: (-through[p], p))
    named = [p for p in ways if through[p] >= _VIA][:2] or ways[:1]
    words = [library.movements[p.rpartition("/")[0]].name for p in dict.fromkeys(named)]
    return f"by way of {' and '.join(dict.fromkeys(words)) or 'the clock alone'}: {mix}"
