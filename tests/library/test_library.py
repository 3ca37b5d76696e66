"""What holds for every record of the real library; the offender stands in the message."""

from __future__ import annotations

import functools
import itertools
import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import pytest

from subgraph.checks import check_folder
from subgraph.errors import Problem, SubgraphError
from subgraph.graph import must_own_first
from subgraph.library.alarms import spoken_words
from subgraph.library.compile import Compiled
from subgraph.library.knowledge import Library
from subgraph.library.names import Found, resolve
from subgraph.library.where import library_folder, record_files
from subgraph.notation.ask import read_ask
from subgraph.quantities import MOST
from subgraph.ratios import evidence
from subgraph.referral import hear

FOLDER = library_folder()


def none(offenders: Iterable[object], why: str) -> None:
    """Fail with the first offenders and their number."""
    found = [str(o) for o in offenders]
    assert not found, f"{len(found)} {why}:\n" + "\n".join(found[:30])


@pytest.fixture(scope="module")
def problems() -> list[Problem]:
    """All that the lint says of the real library."""
    return check_folder(FOLDER)


# --- the lint, and the size of it ------------------------------------------------------------------------------------


def test_lint_finds_no_error(problems: list[Problem]) -> None:
    none((p for p in problems if p.severity == "error"), "errors")


def test_lint_finds_no_warning(problems: list[Problem]) -> None:
    none((p for p in problems if p.severity == "warning"), "warnings")


def test_library_is_as_large_as_promised(library: Library) -> None:
    assert len(library.movements) >= 200
    assert len(library.complaints) >= 30
    assert len(library.red_flags) >= 25
    assert len(library.demands) >= 20
    assert len(library.cautions) >= 2


def test_files_are_short_and_say_what_belongs_in_them() -> None:
    files = record_files(FOLDER)
    assert len(files) >= 20
    texts = {file: (FOLDER / file).read_text(encoding="utf-8") for file in files}
    families = {f: t for f, t in texts.items() if f.startswith("movements/")}
    none((f"{f}: {t.count(chr(10))} lines" for f, t in families.items() if t.count("\n") > 600), "families too long")
    none((f for f, t in families.items() if not t.startswith("# ")), "families without a word on what belongs there")


def test_records_hold_no_address_and_no_path_of_a_machine() -> None:
    odd = re.compile(r"https?://|www\.|/home/|/Users/|/tmp/|[A-Z]:\\\\")
    none(
        (f"{file}: {hit.group()}" for file in record_files(FOLDER) if (hit := odd.search((FOLDER / file).read_text()))),
        "files with an address",
    )


def test_nothing_says_that_a_member_is_cleared(library: Library) -> None:
    odd = re.compile(r"\b(?:is|are|you're|now) (?:cleared|safe) (?:to|for)\b|\bcleared to\b", re.I)
    texts = {
        **{c.id: " ".join((c.principle, *c.tolerated, *c.watch, c.extra)) for c in library.complaints.values()},
        **{c.id: c.text for c in library.cautions.values()},
        **{m.id: " ".join((*m.cues, *m.cautions)) for m in library.movements.values()},
    }
    none((f"{id_}: {hit.group()}" for id_, text in texts.items() if (hit := odd.search(text))), "clear a member")


# --- names -----------------------------------------------------------------------------------------------------------


def _found(compiled: Compiled, text: str, kind: str) -> Found | SubgraphError:
    try:
        return resolve(text, compiled.names[kind], compiled.library.abbreviations, kind=kind)
    except SubgraphError as error:
        return error


@pytest.mark.parametrize(
    ("section", "kind"),
    [
        ("movements", "movement"),
        ("equipment", "equipment"),
        ("complaints", "complaint"),
        ("provocations", "provocation"),
        ("limits", "limit"),
        ("levels", "level"),
        ("intents", "intent"),
    ],
)
def test_each_record_answers_to_its_id_its_name_and_all_its_other_names(
    compiled: Compiled, section: str, kind: str
) -> None:
    records = getattr(compiled.library, section).values()
    assert records
    none(
        (
            f"{record.id}: '{text}' leads to {found}"
            for record in records
            for text in (record.id, record.name, *record.also)
            if (found := _found(compiled, text, kind)) != Found(record.id)
        ),
        "names lead elsewhere",
    )


def test_provocation_told_alone_is_heard_unless_a_complaint_has_the_word(compiled: Compiled) -> None:
    ids = compiled.library.complaints
    none(
        (
            f"{p.id} leads to {found}"
            for p in compiled.library.provocations.values()
            if not isinstance(found := _found(compiled, p.name, "complaint"), Found)
            or (found.id != f"~{p.id}" and found.id not in ids)
        ),
        "provocations go unheard",
    )


@pytest.mark.parametrize("implement", ["barbell", "dumbbell", "kettlebell", "sandbag", "medicine ball"])
def test_implement_alone_is_never_surely_one_of_its_many_movements(compiled: Compiled, implement: str) -> None:
    found = _found(compiled, implement, "movement")
    assert not (isinstance(found, Found) and found.sure), f"'{implement}' alone is taken for {found}"


def test_no_record_repeats_a_name_of_its_own(library: Library) -> None:
    records = [*library.movements.values(), *library.equipment.values(), *library.complaints.values()]
    none(
        (f"{r.id}: {name}" for r in records for name, n in Counter(a.lower() for a in r.also).items() if n > 1),
        "names repeated",
    )


def test_each_movement_can_be_asked_for_by_its_id_and_name(compiled: Compiled) -> None:
    wrong = []
    for movement in compiled.library.movements.values():
        for text in (movement.id, movement.name):
            try:
                ask = read_ask(f"15 {text}", compiled).ask
            except SubgraphError as error:
                wrong.append(f"15 {text}: {error}")
                continue
            if (ask.movement, ask.amount.value, ask.amount.unit) != (movement.id, 15, movement.unit):
                wrong.append(f"15 {text}: read as {ask}")
    none(wrong, "asks misread")


def test_each_movement_can_be_asked_for_by_its_other_names(compiled: Compiled) -> None:
    wrong = []
    for movement in compiled.library.movements.values():
        for text in movement.also:
            try:
                ask = read_ask(f"15 {text}", compiled).ask
            except SubgraphError as error:
                wrong.append(f"{movement.id}: 15 {text}: {error}")
                continue
            if ask.movement != movement.id:
                wrong.append(f"{movement.id}: 15 {text}: read as {ask.movement}")
    none(wrong, "asks misread")


# --- movements -------------------------------------------------------------------------------------------------------


def test_better_members_are_not_slower(library: Library) -> None:
    none(
        (
            f"{m.id}: {unit} {paces}"
            for m in library.movements.values()
            for unit, paces in m.units.items()
            if any(a < b for a, b in itertools.pairwise(p for p in paces if p is not None))
        ),
        "movements take better members longer",
    )


def test_every_way_of_counting_has_a_pace_for_somebody(library: Library) -> None:
    none(
        (f"{m.id}: {unit}" for m in library.movements.values() for unit, paces in m.units.items() if not any(paces)),
        "ways of counting without a pace",
    )


def test_nothing_that_must_be_owned_first_is_harder(library: Library) -> None:
    none(
        (
            f"{m.id} (skill {m.skill}) needs {need} (skill {library.movements[need].skill})"
            for m in library.movements.values()
            for need in m.needs
            if library.movements[need].skill > m.skill
        ),
        "movements need a harder one first",
    )


def test_nothing_must_be_owned_before_itself(library: Library) -> None:
    none((m for m in library.movements if m in must_own_first(library, m)), "movements need themselves")


def test_each_movement_has_an_easier_or_level_neighbour(library: Library) -> None:
    easier = {lk.from_ for lk in library.links if lk.kind != "harder"} | {
        lk.to for lk in library.links if lk.kind != "easier"
    }
    bottom = [m for m in library.movements.values() if m.id not in easier and m.skill + m.strength > 1]
    none((m.id for m in bottom), "movements have no easier or level neighbour")


def test_heavier_standard_comes_first(library: Library) -> None:
    none(
        (f"{m.id}: {m.load.kg}" for m in library.movements.values() if m.load and m.load.kg[0] < m.load.kg[1]),
        "loads are written the wrong way round",
    )


def test_load_is_on_something_that_the_movement_uses(library: Library) -> None:
    def used(uses: Iterable[str | tuple[str, ...]]) -> set[str]:
        flat = [c for need in uses for c in ((need,) if isinstance(need, str) else need)]
        items = {re.sub(r"^\d+ ", "", part) for choice in flat for part in choice.split(" + ")}
        return items | {need for item in items for need in library.equipment[item].needs}

    none(
        (
            f"{m.id}: {m.load.implement}"
            for m in library.movements.values()
            if m.load and m.load.implement not in used(m.uses)
        ),
        "movements carry what they do not use",
    )


def test_cap_of_the_trade_is_no_faster_than_an_advanced_member(library: Library) -> None:
    none(
        (
            m.id
            for m in library.movements.values()
            if m.cap and (pace := m.pace(m.unit, "advanced")) and m.cap.seconds < m.cap.amount * pace * 0.9
        ),
        "caps that nobody makes",
    )


def test_double_unders_are_capped_as_the_trade_does(library: Library) -> None:
    cap = library.movements["double-under"].cap
    assert cap is not None
    assert (cap.amount, cap.seconds) == (100, 120)


# --- ratios ----------------------------------------------------------------------------------------------------------


def test_no_two_ratios_share_an_id(library: Library) -> None:
    none((id_ for id_, n in Counter(r.id for r in library.ratios).items() if n > 1), "ratio ids used twice")


def test_a_ratio_is_never_against_itself(library: Library) -> None:
    none((r.id for r in library.ratios if (r.from_, r.units[0]) == (r.to, r.units[1])), "ratios against themselves")


def test_double_unders_and_singles_are_as_the_trade_counts(library: Library) -> None:
    pairs = {(r.from_, r.to, r.ratio) for r in library.ratios}
    assert ("double-under", "single-under", 2) in pairs


def test_every_movement_meets_the_network(library: Library) -> None:
    nodes = {end for e in evidence(library, "effort") for end in (e.a, e.b)}
    none((m.id for m in library.movements.values() if f"{m.id}/{m.unit}" not in nodes), "movements without evidence")


def test_usual_amounts_stay_on_the_board(library: Library) -> None:
    none(
        (f"{m.id}: {unit}" for m in library.movements.values() for unit in m.units if unit not in MOST),
        "units that no board knows",
    )


# --- safety ----------------------------------------------------------------------------------------------------------


def _example(phrase: str) -> str:
    """A sentence that a phrase is meant for: the first of each choice, stems as they are."""
    return " ".join(part.split("|")[0].rstrip("*") for part in phrase.split())


def _heard(library: Library, text: str) -> set[str]:
    found = hear(library, text)
    return {flag.id for flag in (*found.standing, *found.to_ask)}


def _hidden(text: str, known: Iterable[str]) -> bool:
    return any(re.sub(r"\W", " ", k) in re.sub(r"\W", " ", text) for k in known)


def test_every_phrase_of_a_red_flag_raises_it(library: Library) -> None:
    none(
        (
            f"{flag.id}: {phrase}"
            for flag in library.red_flags.values()
            for phrase in (*flag.phrases, *flag.weak)
            if flag.id not in _heard(library, _example(phrase)) and not _hidden(_example(phrase), flag.not_)
        ),
        "phrases that raise nothing",
    )


def test_every_false_alarm_is_silent_for_its_own_flag(library: Library) -> None:
    none(
        (
            f"{flag.id}: {words}"
            for flag in library.red_flags.values()
            for words in flag.not_
            if flag.id in {f.id for f in hear(library, words).standing}
        ),
        "false alarms that still ring",
    )


def test_no_name_of_a_movement_is_a_red_flag(library: Library) -> None:
    phrases = [
        [{choice.replace("'", "").rstrip("*") for choice in part.split("|")} for part in phrase.lower().split()]
        for flag in library.red_flags.values()
        for phrase in (*flag.phrases, *flag.weak)
    ]
    stems = set().union(*itertools.chain.from_iterable(phrases))

    @functools.cache
    def begun(word: str) -> set[str]:
        return {stem for stem in stems if word.startswith(stem)}

    def may_ring(text: str) -> bool:
        """Whether some phrase has a word for each of its parts: hearing all six thousand names takes a minute."""
        have = set().union(*(begun(word) for word in spoken_words(text)))
        return any(all(have & part for part in phrase) for phrase in phrases)

    assert may_ring("chest pain")
    assert not may_ring("toes-to-bar")
    none(
        (
            f"{m.id}: '{name}' rings {[f.id for f in found]}"
            for m in library.movements.values()
            for name in (m.name, *m.also)
            if may_ring(name) and (found := hear(library, name).standing)
        ),
        "names ring an alarm",
    )


def test_every_red_flag_says_what_to_do_now(library: Library) -> None:
    none((f.id for f in library.red_flags.values() if not f.first_steps), "red flags without a first step")
    none((f.id for f in library.red_flags.values() if not f.phrases), "red flags that nothing raises")


def test_every_caution_names_the_emergency_number_and_is_short(library: Library) -> None:
    none((c.id for c in library.cautions.values() if "{emergency}" not in c.text), "cautions without the number")
    none((c.id for c in library.cautions.values() if re.search(r"\{(?!emergency\})", c.text)), "unknown place-holders")
    assert "default" in library.cautions


def test_every_complaint_limits_something_or_refers(library: Library) -> None:
    none(
        (
            c.id
            for c in library.complaints.values()
            if not (c.at_most or c.limits or c.refer or c.most_skill is not None or c.most_strength is not None)
        ),
        "profiles that change nothing",
    )


def test_every_provocation_limits_something(library: Library) -> None:
    none((p.id for p in library.provocations.values() if not p.at_most), "provocations that change nothing")


def test_every_grade_of_a_demand_is_defined(library: Library) -> None:
    graded = {(d, g) for m in library.movements.values() for d, g in m.demands.items()}
    none(
        sorted(f"{d} {g}" for d, g in graded if str(g) not in library.demands[d].grades),
        "grades used but not defined",
    )


def test_every_demand_is_graded_somewhere_and_limited_by_somebody(library: Library) -> None:
    used = {d for m in library.movements.values() for d in m.demands}
    told = {
        d
        for records in (library.complaints, library.provocations)
        for c in records.values()
        for d in c.at_most  # type: ignore[attr-defined]
    } | {d for limit in library.limits.values() for d in limit.excludes.demands}
    none((d for d in library.demands if d not in used), "demands that no movement has")
    none((d for d in library.demands if d not in told), "demands that nobody limits")


def test_folder_in_use_is_that_of_the_checkout() -> None:
    assert (Path(__file__).parents[2] / "library").samefile(FOLDER)
