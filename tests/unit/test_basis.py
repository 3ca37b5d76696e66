"""What an amount rests on, in words and piece by piece."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from subgraph.basis import Piece, basis_of, pieces_of, worth_of
from subgraph.library.knowledge import Library
from subgraph.quantities import Amount, Unit
from subgraph.ratios import evidence, solve
from subgraph.today import Ask
from tests.common import PLAIN_RATIO, load_tiny

SOURCES = [{"id": id_, "citation": id_, "kind": "study"} for id_ in ("lab", "model", "other-lab")]


def rule(id_: str, from_: str, to: str, ratio: float, **fields: Any) -> dict[str, Any]:
    return {**PLAIN_RATIO, "id": id_, "from": from_, "to": to, "ratio": ratio, "low": ratio, "high": ratio} | fields


def modelled(id_: str, from_: str, to: str, ratio: float, where: str) -> dict[str, Any]:
    return rule(id_, from_, to, ratio, basis="modelled", sigma=0.3, source="model", where=where)


def library_with(folder: Path, *ratios: dict[str, Any]) -> Library:
    return load_tiny(folder, ratios=list(ratios), sources=SOURCES)


def asked(id_: str, unit: Unit = "rep") -> Ask:
    return Ask(id_, Amount(10, unit))


def words(library: Library, one: str, other: str) -> tuple[tuple[str, ...], str]:
    network = solve(evidence(library, "effort"))
    return basis_of(library, network, asked(one), library.movements[other], library.movements[other].unit)


def pieces(library: Library, one: str, other: str) -> tuple[Piece, ...]:
    network = solve(evidence(library, "effort"))
    return pieces_of(library, network, asked(one), library.movements[other], library.movements[other].unit)


def test_practice_tells_how_many_sources(tiny: Library) -> None:
    assert words(tiny, "double-under", "single-under") == (("common-practice",), "practice, 5 sources")


def test_practice_without_pages_is_from_memory(tiny: Library) -> None:
    assert words(tiny, "pull-up", "ring-row")[1] == "practice, from memory of the trade"


@pytest.mark.parametrize(
    ("ratio", "said"),
    [
        (2.0, "agrees within 1 %"),
        (2.16, "agrees within 8 %"),
        (1.85, "agrees within 9 %"),  # 2 / 1.85 = 1.081
        (2.8, "would give 40 % more"),
        (1.2, "would give 40 % less"),
        (5.0, "would give 2.5 times as many"),
    ],
)
def test_model_is_compared_with_the_rule(tmp_path: Path, ratio: float, said: str) -> None:
    library = library_with(tmp_path, modelled("m", "double-under", "single-under", ratio, "4.1 and 2.0 J/kg a rep"))
    sources, text = words(library, "double-under", "single-under")
    assert text == f"practice, 5 sources; work per rep {said}"
    assert sources == ("common-practice", "model")


def test_comparison_reads_rules_in_either_direction(tmp_path: Path) -> None:
    library = library_with(tmp_path, modelled("m", "single-under", "double-under", 0.5, "2 and 4.1 METs"))
    assert words(library, "double-under", "single-under")[1] == "practice, 5 sources; energy agrees within 1 %"
    assert words(library, "single-under", "double-under")[1] == "practice, 5 sources; energy agrees within 1 %"


def test_each_kind_of_comparison_is_told(tmp_path: Path) -> None:
    library = library_with(
        tmp_path,
        modelled("m", "push-up", "plank", 2, "0.64 and 0.43 of body weight on the hands") | {"units": ["rep", "s"]},
        rule("p", "push-up", "plank", 2, pages=1, units=["rep", "s"]),
        rule("l", "push-up", "plank", 2.2, basis="measured", source="lab", units=["rep", "s"]),
    )
    _, text = words(library, "push-up", "plank")
    assert text == "practice, 1 source; measurement agrees within 10 %; force on the hands agrees within 1 %"


def test_model_alone_says_what_it_compares(tmp_path: Path) -> None:
    library = library_with(tmp_path, modelled("m", "v-up", "tuck-up", 1.2, "4 and 3 J/kg a rep"))
    assert words(library, "v-up", "tuck-up") == (("model",), "modelled, work per rep")


def test_indirect_ratio_names_the_way_and_the_sources_that_carry_it(tmp_path: Path) -> None:
    library = library_with(
        tmp_path,
        rule("one", "pull-up", "air-squat", 2, sigma=0.05, basis="measured", source="lab"),
        rule("two", "air-squat", "push-up", 2, sigma=0.05, pages=3),
        rule("far", "air-squat", "run", 9, sigma=0.05, basis="measured", source="other-lab", units=["rep", "m"]),
    )
    sources, text = words(library, "pull-up", "push-up")
    assert sources == ("common-practice", "lab")
    assert text in [
        f"by way of air squat: {mix}" for mix in ("measured 50 %, practice 50 %", "practice 50 %, measured 50 %")
    ]


def test_pair_that_only_the_clock_joins_says_so(tiny: Library) -> None:
    sources, text = words(tiny, "thruster", "air-squat")
    assert sources == ("common-practice",)
    assert text == "by way of the clock alone: pace 100 %"


def test_work_by_the_clock_is_the_same_time(tiny: Library) -> None:
    ask = Ask("thruster", Amount(30, "s"), by_the_clock=True)
    network = solve(evidence(tiny, "time"))
    assert basis_of(tiny, network, ask, tiny.movements["air-squat"], "s")[1] == "the same time under work"
    assert pieces_of(tiny, network, ask, tiny.movements["air-squat"], "s") == ()


def test_pieces_tell_rule_worth_and_share(tiny: Library) -> None:
    first, *rest = pieces(tiny, "double-under", "single-under")
    assert first.record == "du-su"
    assert first.says == "1 double under = 2 single under"
    assert (first.basis, first.worth, first.source) == ("practice", "5 sources", "common-practice")
    assert first.ratio == pytest.approx(2)
    assert first.share > 0.9
    assert {p.basis for p in rest} == {"pace"}
    assert rest[0].says in ("1 double under takes 0.6 s", "1 single under takes 0.5 s")


def test_pieces_of_a_pair_share_the_whole(tiny: Library) -> None:
    found = pieces(tiny, "double-under", "single-under")
    leaving = [p.share for p in found if p.record == "du-su" or p.says.startswith("1 double under takes")]
    assert sum(leaving) == pytest.approx(1, abs=0.01)


def test_worth_of_a_record_is_its_sources_or_its_study(tmp_path: Path) -> None:
    library = library_with(
        tmp_path,
        rule("one", "v-up", "tuck-up", 1.2, pages=1),
        modelled("two", "v-up", "tuck-up", 1.3, "4 and 3 J/kg a rep"),
    )
    by_id = {r.id: worth_of(r) for r in library.ratios}
    assert by_id["one"] == "1 source"
    assert by_id["two"] == "model"
    assert by_id["pull-row"] == "from memory"
