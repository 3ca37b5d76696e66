"""Figures of the ratio network, printed by `scripts/ratios_report`.

The share of sure answers is counted over every option for every ask of the visible key (`tests/key`): an amount is sure
where its four-in-five interval, before rounding, lies within a quarter either way.
"""

from __future__ import annotations

import math
import random
import statistics
import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import msgspec

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from subgraph.library.compile import compiled  # noqa: E402
from subgraph.library.knowledge import Library  # noqa: E402
from subgraph.options import options  # noqa: E402
from subgraph.ratios import (  # noqa: E402
    EQUALISERS,
    Z_90,
    Edge,
    Equal,
    Network,
    evidence,
    network_of,
    node,
    ratio_between,
    solve,
)
from subgraph.ratios.dependence import counted_once, groups, parts  # noqa: E402
from subgraph.ratios.heterogeneity import faults, fit, quarrel  # noqa: E402
from tests.key.cases import cases  # noqa: E402

SURE = 0.25  # an interval within so much of the amount either way
LARGEST = 5
FIRM = 0.4  # sigma below which other evidence can tell how far a rule is off
FEWEST = 20
RESAMPLES = 2000


def width(equal: Equal) -> float:
    """How far the four-in-five interval reaches up, as a share of the ratio."""
    return equal.high / equal.value - 1


def reach(network: Network, pairs: Iterable[tuple[str, str]]) -> str:
    """Median reach of the intervals of some pairs, as text."""
    found = [width(equal) for a, b in pairs if (equal := ratio_between(network, a, b)) is not None and a != b]
    return f"+{statistics.median(found):.0%} over {len(found)}" if found else "none"


def print_network(library: Library, equaliser: str, edges: list[Edge], network: Network) -> None:
    """Evidence, parts, intervals and disagreement of one network."""
    rules = [e for e in edges if not e.of_the_clock]
    kinds = Counter(e.basis for e in rules)
    ends = {end for e in rules for end in (e.a, e.b)}
    apart = parts([(e.a, e.b) for e in rules])
    largest = max(len({end for k in part for end in (rules[k].a, rules[k].b)}) for part in apart)
    with_clock = len(parts([(e.a, e.b) for e in edges]))
    pairs = sorted({(e.a, e.b) for e in rules})
    links = sorted({(usual(library, link.from_), usual(library, link.to)) for link in library.links})
    found = quarrel(fit(rules))
    shared = sum(len(members) for members in groups(rules))
    grown = zip(in_order(counted_once(rules)), in_order(as_it_counts(network)), strict=True)
    print(f"\nequal {equaliser}")
    print(f"  evidence          {len(rules)}: " + ", ".join(f"{n} {kind}" for kind, n in kinds.most_common()))
    print(f"  pace hints        {len(edges) - len(rules)}")
    print(f"  nodes with rules  {len(ends)} in {len(apart)} parts, the largest {largest}; with pace {with_clock} part")
    print(f"  counted once      {shared} edges that close cycles of one model run or study")
    print(
        f"  Q                 {found.q:.1f}, degrees of freedom {found.freedom:.1f}; one tau2 for all {found.tau2:.3f}"
    )
    print(f"  disagreement      {sum(b.sigma > 1.001 * a.sigma for a, b in grown)} edges have grown by it")
    print(f"  median interval   {reach(network, pairs)} pairs with evidence; fixed effect {reach(solve(edges), pairs)}")
    print(f"                    {reach(network, links)} linked pairs")
    print("  largest residuals")
    for fault in faults(edges)[:LARGEST]:
        ratio, others = math.exp(fault.edge.log_ratio), math.exp(fault.others)
        print(f"    {fault.z:+.1f}  {fault.edge.source}: {ratio:.3g} against {others:.3g} from all else")


def usual(library: Library, movement: str) -> str:
    """Node of a movement in its usual unit."""
    return node(movement, library.movements[movement].unit)


def as_it_counts(network: Network) -> list[Edge]:
    """The evidence of a solved network with the sigmas that it counts with, pace hints left out."""
    decode = msgspec.msgpack.Decoder(Edge).decode
    return [edge for edge in map(decode, network.threads().edges) if not edge.of_the_clock]


def in_order(edges: list[Edge]) -> list[Edge]:
    """Edges in an order that does not depend on their weights."""
    return sorted(edges, key=lambda e: (e.source, e.a, e.b))


def print_memory(library: Library) -> None:
    """How far rules from memory are off against all other evidence, beyond their own spread: `SPREAD_OF_MEMORY`."""
    by_id = {r.id: r for r in library.ratios}
    print("\nrules from memory against all other evidence on their pair")
    for equaliser in EQUALISERS:
        rules = [e for e in evidence(library, equaliser) if not e.of_the_clock]
        known = [e for e in rules if by_id[e.source].basis != "practice" or by_id[e.source].pages]
        network = solve(counted_once(known))
        beyond = []
        for edge in rules:
            rule, equal = by_id[edge.source], ratio_between(network, edge.a, edge.b)
            memory = rule.basis == "practice" and not rule.pages and not rule.population and rule.sigma is None
            if memory and equal is not None and equal.sigma < FIRM:
                spread = math.log(rule.high / rule.low) / (2 * Z_90)
                beyond.append((edge.log_ratio - math.log(equal.value)) ** 2 - equal.sigma**2 - spread**2)
        if len(beyond) < FEWEST:
            print(f"  equal {equaliser:<11} {len(beyond)} rules: too few")
            continue
        dice = random.Random(1)
        again = sorted(statistics.mean(dice.choices(beyond, k=len(beyond))) for _ in range(RESAMPLES))
        ends = (again[RESAMPLES // 10], again[-RESAMPLES // 10])
        low, middle, high = (math.sqrt(max(0.0, v)) for v in (ends[0], statistics.mean(beyond), ends[1]))
        print(
            f"  equal {equaliser:<11} {len(beyond)} rules: {middle:.2f}, four in five resamples {low:.2f} to {high:.2f}"
        )


def print_answers() -> None:
    """Share of sure amounts over the options for all asks of the key."""
    base = compiled()
    widths: dict[str, list[float]] = {}
    judged = total = 0
    for case in cases():
        read, situation = case.read(base)
        answer = options(base.library, read.ask, situation.today, says=situation.says)
        for option in answer.options:
            total += 1
            judged += option.judge
            widths.setdefault(answer.intent, []).append(width(option.ratio))
    every = [w for group in widths.values() for w in group]
    print(f"\namounts of {total} options for {len(cases())} asks of the key")
    print(f"  within a quarter  {sum(w <= SURE for w in every) / total:.0%}")
    print(f"  median interval   +{statistics.median(every):.0%}")
    print(f"  to be judged      {judged / total:.0%}")
    for intent, group in sorted(widths.items()):
        print(f"  {intent:<17} {sum(w <= SURE for w in group) / len(group):.0%} of {len(group)} within a quarter")


def main() -> None:
    """Print all."""
    library = compiled().library
    print(
        f"{len(library.ratios)} ratio records: "
        + ", ".join(f"{n} {k}" for k, n in Counter(r.basis for r in library.ratios).most_common())
    )
    for equaliser in EQUALISERS:
        print_network(library, equaliser, evidence(library, equaliser), network_of(library, equaliser))
    print_memory(library)
    print_answers()


if __name__ == "__main__":
    main()
