"""From a folder of YAML to records: all that is wrong in one run, each with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from subgraph.errors import Problem
from subgraph.library.load import load_folder, nearest, suggestion
from tests.common import lay_over, load_tiny, tiny_library, write


def problems(folder: Path) -> list[Problem]:
    loaded = load_folder(folder, "v")
    assert loaded.library is None
    return loaded.problems


def test_sound_folder_becomes_a_library(tmp_path: Path) -> None:
    loaded = load_folder(tiny_library(tmp_path), "some-version")
    assert loaded.problems == []
    assert loaded.library is not None
    assert loaded.library.version == "some-version"
    assert len(loaded.library.movements) == 16
    assert loaded.library.movements["thruster"].load is not None
    assert loaded.library.movements["row"].units == {"m": (0.3, 0.25, 0.22), "cal": (6.0, 4.5, 3.5)}
    assert loaded.library.movements["row"].unit == "m"


def test_records_keep_the_order_of_their_file(tmp_path: Path) -> None:
    library = load_tiny(tmp_path)
    assert list(library.heights) == ["low", "reach", "rig"]
    assert list(library.movements)[:2] == ["toes-to-bar", "hanging-knee-raise"]


def test_family_is_the_file_that_a_movement_stands_in(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    (tmp_path / "movements" / "movements.yaml").rename(tmp_path / "movements" / "mixed.yaml")
    loaded = load_folder(tmp_path, "v").library
    assert loaded is not None
    assert set(loaded.family.values()) == {"mixed"}


def test_all_problems_of_all_files_come_in_one_run(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(
        tmp_path,
        "links/bad.yaml",
        "links:\n- {from: a, to: b, kind: upwards, why: x}\n- {from: A, to: b, kind: easier}\n",
    )
    write(tmp_path, "movements/bad.yaml", "movements:\n- {id: one, skil: 2}\n- not a record\n")
    write(tmp_path, "equipment.yaml", "equipment:\n- {id: box, name: box, sizes_kg: heavy}\n- {id: box2}\n")
    found = problems(tmp_path)
    assert {p.file for p in found} == {"links/bad.yaml", "movements/bad.yaml", "equipment.yaml"}
    at = {(p.file, p.line, p.field) for p in found}
    assert {
        ("links/bad.yaml", 2, "kind"),
        ("links/bad.yaml", 3, "from"),
        ("links/bad.yaml", 3, "why"),
        ("movements/bad.yaml", 2, "skil"),
        ("movements/bad.yaml", 2, "name"),
        ("equipment.yaml", 2, "sizes_kg"),
        ("equipment.yaml", 3, "name"),
    } <= at
    assert found == sorted(found)


def test_misspelt_field_gets_the_near_name(tmp_path: Path) -> None:
    lay_over(tmp_path, "movements:\n- id: air-squat\n  muscels: {quads: 3}\n")
    (problem,) = problems(tmp_path)
    assert str(problem) == (
        "movements/overlay-0.yaml:3:12: air-squat: muscels: no field is called 'muscels'; "
        "did you mean 'muscles' or 'uses'? [field-known]"
    )


def test_closed_choice_lists_what_there_is(tmp_path: Path) -> None:
    lay_over(tmp_path, "links:\n- {from: march, to: plank, kind: upwards, why: x}\n")
    (problem,) = problems(tmp_path)
    assert problem.mend == "one of: easier, harder, sideways"
    assert "upwards" in problem.what
    assert (problem.line, problem.column) == (2, 34)
    assert problem.record == "march > plank"


@pytest.mark.parametrize(
    ("field", "written"),
    [
        ("skill", "6"),
        ("skill", "-1"),
        ("skill", "1.5"),
        ("skill", "two"),
        ("skill", "'2'"),
        ("skill", "true"),
        ("skill", "null"),
        ("strength", "010"),
        ("hands", "3"),
        ("sides", "left"),
        ("name", "''"),
        ("name", "12"),
        ("also", "T2B"),
        ("also", "[3]"),
        ("cues", "[one]"),
        ("cues", "[one, two, three, four]"),
        ("faults", "[]"),
        ("units", "{}"),
        ("units", "{reps: [2, 1, 1]}"),
        ("units", "{rep: [2, 1]}"),
        ("units", "{rep: [2, 0, 1]}"),
        ("units", "{rep: [2, 1:30, 1]}"),
        ("pattern", "{squat: 0}"),
        ("pattern", "{squat: 1.01}"),
        ("demands", "{hang: 4}"),
        ("demands", "{hang: 0}"),
        ("demands", "{Hang: 1}"),
        ("suits", "[]"),
        ("suits", "[fun]"),
        ("traits", "[fly]"),
        ("load", "{kg: [43], implement: barbell}"),
        ("load", "{kg: [43, 30]}"),
        ("met", "{value: 5.0}"),
        ("met", "5.0"),
        ("id", "Air Squat"),
        ("id", "air--squat"),
    ],
)
def test_value_that_does_not_fit_is_one_problem_at_its_line(tmp_path: Path, field: str, written: str) -> None:
    first = "" if field == "id" else "  id: jumping-jack\n"
    lay_over(tmp_path, f"movements:\n- skill: 0\n{first}  {field}: {written}\n".replace("- skill: 0\n  ", "- ", 1))
    (problem,) = problems(tmp_path)
    assert problem.rule == "field-type"
    assert problem.field.split(".")[0] == field
    assert problem.line == (2 if field == "id" else 3)


def test_problem_inside_a_list_stands_at_the_item(tmp_path: Path) -> None:
    lay_over(tmp_path, "movements:\n- id: air-squat\n  cues:\n  - chest up\n  - 7\n")
    (problem,) = problems(tmp_path)
    assert (problem.line, problem.field) == (5, "cues.1")


def test_long_value_is_shortened_in_the_sentence(tmp_path: Path) -> None:
    lay_over(tmp_path, f"movements:\n- id: air-squat\n  name: {'x' * 500}\n")
    (problem,) = problems(tmp_path)
    assert len(str(problem)) < 250


def test_defaults_are_merged_and_the_record_wins(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(
        tmp_path,
        "links/more.yaml",
        "defaults: {kind: easier, why: less of it}\n"
        "links:\n- {from: push-up, to: march}\n- {from: push-up, to: row, kind: sideways}\n",
    )
    library = load_folder(tmp_path, "v").library
    assert library is not None
    first, second = library.links[-2:]
    assert (first.kind, first.why) == ("easier", "less of it")
    assert (second.kind, second.why) == ("sideways", "less of it")


def test_defaults_of_one_file_do_not_reach_another(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/a.yaml", "defaults: {kind: easier, why: x}\nlinks:\n- {from: push-up, to: march}\n")
    write(tmp_path, "links/b.yaml", "links:\n- {from: push-up, to: row}\n")
    assert {(p.file, p.field) for p in problems(tmp_path)} == {("links/b.yaml", "kind"), ("links/b.yaml", "why")}


def test_wrong_default_is_told(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/a.yaml", "defaults: {kinds: easier}\nlinks:\n- {from: a, to: b, kind: easier, why: x}\n")
    (problem,) = problems(tmp_path)
    assert (problem.rule, problem.mend) == ("field-known", "did you mean 'kind'?")


def test_place_of_each_record_is_known(tmp_path: Path) -> None:
    lay_over(
        tmp_path,
        "# one\n# two\nmovements:\n- id: air-squat\n---\nlinks:\n- {from: march, to: plank, kind: easier, why: x}\n",
    )
    places = load_folder(tmp_path, "v").places
    doc, path = places["movements", "air-squat"]
    assert (doc.file, doc.place(path)) == ("movements/overlay-0.yaml", (4, 3))
    doc, path = places["links", "march>plank"]
    assert (doc.file, doc.place(path)) == ("links/overlay-1.yaml", (7, 3))


def test_id_used_twice_names_the_first_place(tmp_path: Path) -> None:
    lay_over(tmp_path, "equipment:\n- {id: box, name: box}\n- {id: box, name: crate}\n")
    (problem,) = problems(tmp_path)
    assert str(problem) == "equipment.yaml:3:3: box: id 'box' is used twice; first used at equipment.yaml:2 [id-unique]"


@pytest.mark.parametrize(
    "file", ["vocabulary.yaml", "intents.yaml", "red_flags.yaml", "cautions.yaml", "sources.yaml", "demands.yaml"]
)
def test_missing_file_is_named(tmp_path: Path, file: str) -> None:
    tiny_library(tmp_path)
    (tmp_path / file).unlink()
    found = problems(tmp_path)
    assert [(p.file, p.what, p.mend) for p in found] == [(file, "is missing", "restore it")]


def test_empty_folder_is_all_missing_and_no_crash(tmp_path: Path) -> None:
    assert len(problems(tmp_path)) == 12


def test_file_without_records_is_told(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "movements/empty.yaml", "about: nothing\n")
    (problem,) = problems(tmp_path)
    assert (problem.what, problem.mend) == ("holds no records", "start them with `movements:`")


@pytest.mark.parametrize("text", ["- a list\n", "just words\n", "12\n"])
def test_file_that_is_no_mapping_is_told(tmp_path: Path, text: str) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/odd.yaml", text)
    (problem,) = problems(tmp_path)
    assert problem.what == "holds no mapping"


@pytest.mark.parametrize("text", ["", "# nothing yet\n"])
def test_empty_file_is_told(tmp_path: Path, text: str) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/odd.yaml", text)
    (problem,) = problems(tmp_path)
    assert problem.file == "links/odd.yaml"


def test_stray_file_gets_the_near_name(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "equipments.yaml", "equipment: []\n")
    (problem,) = problems(tmp_path)
    assert problem.what == "is no file of a library"
    assert problem.mend.startswith("did you mean 'equipment.yaml'")


def test_unknown_part_gets_the_near_name(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/odd.yaml", "link: []\nlinks: []\n")
    (problem,) = problems(tmp_path)
    assert (problem.what, problem.mend) == ("no part is called 'link'", "did you mean 'links'?")


@pytest.mark.parametrize("written", ["[a, b]", "{db: 7}", "text"])
def test_abbreviations_must_map_to_words(tmp_path: Path, written: str) -> None:
    tiny_library(tmp_path)
    text = (tmp_path / "vocabulary.yaml").read_text()
    at = text.index("abbreviations:")
    write(tmp_path, "vocabulary.yaml", text[:at] + f"abbreviations: {written}\n")
    (problem,) = problems(tmp_path)
    assert problem.what == "maps short forms to words"


def test_scoring_is_checked_like_a_record(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    text = (tmp_path / "intents.yaml").read_text()
    write(tmp_path, "intents.yaml", text.replace("least_score: 0.1", "least_score: 2"))
    (problem,) = problems(tmp_path)
    assert problem.file == "intents.yaml"
    assert "found 2" in problem.what


def test_file_without_scoring_is_told(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    text = (tmp_path / "intents.yaml").read_text()
    write(tmp_path, "intents.yaml", text[: text.index("scoring:")])
    assert [p.file for p in problems(tmp_path)] == ["intents.yaml"]


def test_damaged_file_does_not_hide_the_problems_of_others(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/a.yaml", "links: [")
    write(tmp_path, "links/b.yaml", "links:\n- {from: a}\n")
    assert {p.file for p in problems(tmp_path)} == {"links/a.yaml", "links/b.yaml"}


def test_near_spellings_come_best_first_and_at_most_three() -> None:
    assert nearest("hangs", ["grip", "hang", "change"])[0] == "hang"
    assert len(nearest("aaa", ["aaab", "aaac", "aaad", "aaae"])) == 3
    assert nearest("zzz", ["hang", "grip"]) == []


@pytest.mark.parametrize(
    ("word", "known", "said"),
    [
        ("hangs", ["hang", "grip"], "did you mean 'hang'?"),
        ("zzz", ["hang", "grip"], "one of: hang, grip"),
        ("zzz", [f"word{n}" for n in range(13)], ""),
    ],
)
def test_suggestion_gives_the_near_ones_or_a_short_list(word: str, known: list[str], said: str) -> None:
    assert suggestion(word, known) == said
