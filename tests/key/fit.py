"""Fit the facet weights of `library/intents.yaml` on the visible key; report folds that the fit has not seen.

Run by `scripts/fit`. Each case is a choice among all movements that survive today: the likelihood of picking one of
`best` (or, at half weight, of `good`) under a softmax of the closeness. Weights are never negative; each intent may
lean away from the common weights as far as its cases earn it (a quadratic penalty pulls it back). Folds keep all
cases of one asked movement together, so that a held-out case is about a movement that the fit has not met.
"""

from __future__ import annotations

import argparse
import re
import warnings
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

from subgraph.admission import Admission
from subgraph.library.compile import compiled
from subgraph.library.records import INTENTS
from subgraph.library.where import library_folder
from subgraph.ranking import Candidate, stimulus_of
from subgraph.stimulus import FACETS
from subgraph.today import Filter
from tests.key.cases import Case, cases

SEED = 20261125
FOLDS = 5
GOOD = 0.5  # what picking one of `good` is worth beside one of `best`
TO_COMMON = 0.2
# How familiar a movement is says little about what it trains: left free, it draws all asks to the same few movements.
# The most it may count was chosen on the keys that the fit never sees (`cases("fresh")` and `cases("again")`).
FAMILIAR = {"uncommon": 1.5, "sparse": 1.5}
PRIOR, TO_PRIOR = 0.5, 0.5  # a facet that the key says nothing of still counts a little


@dataclass
class Choice:
    """One case as numbers: distances of all candidates, shape (n, facets), and what each pick is worth."""

    case: Case
    intent: int
    asked: str
    distances: np.ndarray
    worth: np.ndarray
    best: np.ndarray


def choices() -> list[Choice]:
    """All cases that name a best choice which survives."""
    base = compiled()
    library = base.library
    found = []
    for case in cases():
        if not case.best:
            continue
        read, situation = case.read(base)
        filter_ = Filter(library, situation.today)
        stimulus = stimulus_of(library, read.ask, filter_)
        blocked = filter_.removals(stimulus.asked)
        unable = any(r.kind == "ability" for r in blocked)
        admission = Admission(library, stimulus, situation.today, unable=unable, fits=not blocked)
        rows, ids = [], []
        for position in filter_.survivors():
            id_ = library.columns.ids[position]
            distances = stimulus.distances(position)
            if id_ != read.ask.movement and admission.bar(Candidate(id_, 1.0, distances)) is None:
                rows.append(distances)
                ids.append(id_)
        worth = np.array([1.0 if i in case.best else GOOD if i in case.good else 0.0 for i in ids])
        if worth.any():
            best = np.array([i in case.best for i in ids])
            intent = INTENTS.index(stimulus.intent)
            found.append(Choice(case, intent, read.ask.movement, np.array(rows), worth, best))
    return found


def loss(flat: np.ndarray, data: list[Choice]) -> tuple[float, np.ndarray]:
    """Negative log likelihood with penalties, and its gradient; `flat` is (common, lean per intent)."""
    size = len(FACETS)
    common, lean = flat[:size], flat[size:].reshape(len(INTENTS), size)
    total, gradient = 0.0, np.zeros_like(flat)
    for choice in data:
        weights = common + lean[choice.intent]
        closeness = -choice.distances @ weights
        closeness -= closeness.max()
        chance = np.exp(closeness)
        chance /= chance.sum()
        picked = float(chance @ choice.worth)
        total -= np.log(picked)
        pull = chance * choice.worth / picked - chance  # d log(picked) / d closeness
        step = choice.distances.T @ pull
        gradient[:size] += step
        gradient[size * (1 + choice.intent) : size * (2 + choice.intent)] += step
    total += TO_PRIOR * float(((common - PRIOR) ** 2).sum()) + TO_COMMON * float((lean**2).sum())
    gradient[:size] += 2 * TO_PRIOR * (common - PRIOR)
    gradient[size:] += 2 * TO_COMMON * lean.ravel()
    return total, gradient


def fit(data: list[Choice]) -> np.ndarray:
    """Weights per intent, shape (intents, facets), none negative."""
    size = len(FACETS)
    start = np.concatenate([np.ones(size), np.zeros(size * len(INTENTS))])
    bounds = [(0.0, FAMILIAR.get(f)) for f in FACETS]
    bounds += [(0.0, 0.0) if f in FAMILIAR else (None, None) for f in FACETS] * len(INTENTS)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = minimize(
            loss, start, args=(data,), jac=True, method="L-BFGS-B", bounds=bounds, options={"maxiter": 500}
        )
    common, lean = found.x[:size], found.x[size:].reshape(len(INTENTS), size)
    return np.maximum(0.0, common + lean)


def agreement(weights: np.ndarray, data: list[Choice]) -> tuple[float, float, float]:
    """Shares of cases: first is best, first fits, one of best among three."""
    first = fits = three = 0
    for choice in data:
        order = np.argsort(choice.distances @ weights[choice.intent], kind="stable")
        first += bool(choice.best[order[0]])
        fits += bool(choice.worth[order[0]])
        three += bool(choice.best[order[:3]].any())
    return first / len(data), fits / len(data), three / len(data)


def folds(data: list[Choice]) -> list[int]:
    """Fold of each case; cases of one asked movement share a fold."""
    asked = sorted({c.asked for c in data})
    shuffled = np.random.default_rng(SEED).permutation(len(asked))
    fold = {a: int(shuffled[i]) % FOLDS for i, a in enumerate(asked)}
    return [fold[c.asked] for c in data]


def write(weights: np.ndarray, sharpness: float) -> None:
    """Put the weights into intents.yaml, divided by `sharpness` so that scores read from 0 to 1."""
    path = library_folder() / "intents.yaml"
    text = path.read_text()
    for intent, row in zip(INTENTS, weights / sharpness, strict=True):
        line = ", ".join(f"{f}: {w:.3f}" for f, w in zip(FACETS, row, strict=True))
        text, count = re.subn(rf"(- id: {intent}\n(?:  .*\n)*?  weights: )\{{.*\}}", rf"\g<1>{{{line}}}", text)
        assert count == 1, intent
    path.write_text(text)


def main() -> None:
    """Cross-validate, fit on all, and write when asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="write the weights into intents.yaml")
    arguments = parser.parse_args()
    data = choices()
    fold = folds(data)
    held = []
    for k in range(FOLDS):
        weights = fit([c for c, f in zip(data, fold, strict=True) if f != k])
        held.append((agreement(weights, [c for c, f in zip(data, fold, strict=True) if f == k]), fold.count(k)))
    mean = [sum(a[i] * n for a, n in held) / len(data) for i in range(3)]
    print(f"{len(data)} cases, {FOLDS} folds by asked movement, seed {SEED}")
    print("held out: first is best {:.1%}, first fits {:.1%}, best in three {:.1%}".format(*mean))
    weights = fit(data)
    print("fitted:   first is best {:.1%}, first fits {:.1%}, best in three {:.1%}".format(*agreement(weights, data)))
    for intent, row in zip(INTENTS, weights, strict=True):
        print(f"{intent:<13}" + " ".join(f"{f} {w:.2f}" for f, w in zip(FACETS, row, strict=True)))
    chosen = [float(np.min(c.distances @ weights[c.intent])) for c in data]
    sharpness = float(np.median(chosen)) / -np.log(0.6)  # the usual first choice reads 0.6
    print(f"sharpness {sharpness:.3f}")
    if arguments.write:
        write(weights, sharpness)


if __name__ == "__main__":
    main()
