"""How often the tool says what the key says; beside two general baselines on the same cases.

Run by `scripts/score`; `--fresh` for the cases that nothing was fitted on, `--again` for situations of the key answered
a second time, by someone who had not seen the first answers, `--third` for new situations answered in the same way,
which nothing was mended towards. An ask that is not understood counts as no choice.
Figures: first choice among `best`; first choice among `best` or `good`; one of `best` among the first three; share of
the first three that are `best` or `good`; number of `never` violations; outcomes that the key names.
"""

from __future__ import annotations

import argparse
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from subgraph.errors import SubgraphError
from subgraph.library.compile import compiled
from subgraph.library.knowledge import Library
from subgraph.options import options
from subgraph.today import Filter
from tests.key.cases import Case, cases

Chooser = Callable[[Case], tuple[str, list[str]]]


@dataclass
class Tally:
    """Counts over a group of cases."""

    cases: int = 0
    first_best: int = 0
    first_fits: int = 0
    best_in_three: int = 0
    fitting: int = 0
    offered: int = 0
    outcomes: int = 0
    outcomes_right: int = 0
    never: list[str] = field(default_factory=list)

    def add(self, case: Case, outcome: str, chosen: list[str]) -> None:
        """Count one case."""
        if case.outcome:
            self.outcomes += 1
            self.outcomes_right += outcome == case.outcome
        self.never += [f"{case}: offers {c}" for c in chosen if c in case.never]
        if case.best:
            fits = {*case.best, *case.good}
            self.cases += 1
            self.first_best += bool(chosen) and chosen[0] in case.best
            self.first_fits += bool(chosen) and chosen[0] in fits
            self.best_in_three += any(c in case.best for c in chosen)
            self.fitting += sum(c in fits for c in chosen)
            self.offered += len(chosen)

    def row(self, name: str) -> str:
        """One line of the table."""

        def share(n: int, of: int) -> str:
            return f"{n / of:7.0%}" if of else "      -"

        return (
            f"{name:<22}{self.cases:>6}{share(self.first_best, self.cases)}{share(self.first_fits, self.cases)}"
            f"{share(self.best_in_three, self.cases)}{share(self.fitting, self.offered)}"
            f"{len(self.never):>7}{share(self.outcomes_right, self.outcomes)}"
        )


HEADER = f"{'':<22}{'cases':>6}{'first':>7}{'fits':>7}{'in 3':>7}{'of 3':>7}{'never':>7}{'outc.':>7}"


def ours(case: Case) -> tuple[str, list[str]]:
    """What the tool answers."""
    base = compiled()
    read, situation = case.read(base)
    answer = options(base.library, read.ask, situation.today, says=situation.says)
    return answer.outcome, [o.movement.id for o in answer.options]


def tag_overlap(*, filtered: bool) -> Chooser:
    """Baseline: the largest overlap of plain tags (patterns, muscles, equipment, positions, intents)."""
    library = compiled().library
    tags = {
        m.id: {*m.pattern, *m.muscles, *m.stance, *m.suits, m.character, *(str(u) for u in m.uses)}
        for m in library.movements.values()
    }

    def choose(case: Case) -> tuple[str, list[str]]:
        asked, pool = _pool(case, library, filtered=filtered)
        near = sorted(pool, key=lambda i: (-len(tags[i] & tags[asked]) / len(tags[i] | tags[asked]), i))
        return "options", near[:3]

    return choose


def text_similarity(*, filtered: bool) -> Chooser:
    """Baseline: cosine of TF-IDF vectors over names, muscles and cues."""
    from sklearn.feature_extraction.text import TfidfVectorizer

    library = compiled().library
    ids = list(library.movements)
    texts = [
        " ".join([m.name, *m.also, *(library.muscles[x].name for x in m.muscles), *m.cues])
        for m in library.movements.values()
    ]
    matrix = TfidfVectorizer(sublinear_tf=True).fit_transform(texts)
    position = {id_: i for i, id_ in enumerate(ids)}

    def choose(case: Case) -> tuple[str, list[str]]:
        asked, pool = _pool(case, library, filtered=filtered)
        like = (matrix @ matrix[position[asked]].T).toarray().ravel()
        near = sorted(pool, key=lambda i: (-like[position[i]], i))
        return "options", near[:3]

    return choose


def _pool(case: Case, library: Library, *, filtered: bool) -> tuple[str, list[str]]:
    read, situation = case.read(compiled())
    asked = read.ask.movement
    if not filtered:
        return asked, [i for i in library.movements if i != asked]
    staying = Filter(library, situation.today).survivors()
    return asked, [library.columns.ids[i] for i in staying if library.columns.ids[i] != asked]


def _answered(choose: Chooser, case: Case) -> tuple[str, list[str]]:
    try:
        return choose(case)
    except SubgraphError:
        return "not understood", []


def tally(choose: Chooser, by: Callable[[Case], str] = lambda _: "all", folder: str = "") -> dict[str, Tally]:
    """Count all cases of a folder of the key with one chooser, grouped."""
    found: dict[str, Tally] = defaultdict(Tally)
    for case in cases(folder):
        found[by(case)].add(case, *_answered(choose, case))
    return found


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--misses", action="store_true", help="list cases whose first choice does not fit")
    parser.add_argument("--no-baselines", action="store_true")
    parser.add_argument("--fresh", dest="folder", action="store_const", const="fresh", default="")
    parser.add_argument("--again", dest="folder", action="store_const", const="again")
    parser.add_argument("--third", dest="folder", action="store_const", const="third")
    arguments = parser.parse_args()
    folder = arguments.folder
    print(HEADER)
    whole = tally(ours, folder=folder)["all"]
    print(whole.row("subgraph"))
    if not arguments.no_baselines:
        for filtered in (True, False):
            after = "after our filter" if filtered else "alone"
            print(tally(tag_overlap(filtered=filtered), folder=folder)["all"].row(f"tags, {after}"[:22]))
            print(tally(text_similarity(filtered=filtered), folder=folder)["all"].row(f"TF-IDF, {after}"[:22]))
    for title, by in (("by kind", lambda c: c.kind), ("by family", lambda c: c.family)):
        print(f"\n{title}")
        for name, group in sorted(tally(ours, by, folder).items()):
            print(group.row(name))
    print(f"\nnever violations: {len(whole.never)}")
    for line in whole.never:
        print("  " + line)
    if arguments.misses:
        print("\nfirst choice does not fit")
        for case in cases(folder):
            outcome, chosen = _answered(ours, case)
            if case.best and (not chosen or chosen[0] not in {*case.best, *case.good}):
                print(f"  {case}\n      says {chosen}, key {list(case.best)} or {list(case.good)}")
            if case.outcome and outcome != case.outcome:
                print(f"  {case}\n      outcome {outcome}, key {case.outcome}")


if __name__ == "__main__":
    main()
