"""The traps of YAML: what stays text, what is refused, and where it stands."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from subgraph.library.read import MAX_DEPTH, Document, read_yaml


def read(folder: Path, text: str | bytes) -> Document:
    (folder / "x.yaml").write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_yaml(folder, "x.yaml")


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("1:30", "1:30"),  # no sexagesimal ninety
        ("21:00:00", "21:00:00"),
        ("no", "no"),
        ("yes", "yes"),
        ("on", "on"),
        ("Off", "Off"),
        ("010", "010"),  # no octal eight
        ("0o10", "0o10"),
        ("0x1F", "0x1F"),
        ("1e3", "1e3"),
        ("1_000", "1_000"),
        (".5", ".5"),
        ("5.", "5."),
        ("+5", "+5"),
        (".inf", ".inf"),
        (".nan", ".nan"),
        ("2026-11-25", "2026-11-25"),
        ("True", "True"),
        ("NULL", "NULL"),
        ("'7'", "7"),
        ('"true"', "true"),
        ("'null'", "null"),
        ("7", 7),
        ("-7", -7),
        ("0", 0),
        ("2.5", 2.5),
        ("-0.5", -0.5),
        ("1.50", 1.5),
        ("true", True),
        ("false", False),
        ("null", None),
        ("~", None),
        ("", None),
    ],
)
def test_only_plain_numbers_and_three_words_are_not_text(tmp_path: Path, written: str, value: Any) -> None:
    doc = read(tmp_path, f"key: {written}\n")
    assert not doc.problems
    assert doc.value == {"key": value}
    assert type(doc.value["key"]) is type(value)


def test_block_text_stays_text(tmp_path: Path) -> None:
    assert read(tmp_path, "key: |\n  12\n").value == {"key": "12\n"}
    assert read(tmp_path, "key: >-\n  12\n").value == {"key": "12"}


def test_keys_are_text_even_when_they_look_like_numbers(tmp_path: Path) -> None:
    assert read(tmp_path, "1: a\nno: b\n010: c\n").value == {"1": "a", "no": "b", "010": "c"}


def test_repeated_key_is_a_problem_at_its_second_place(tmp_path: Path) -> None:
    doc = read(tmp_path, "a: 1\nb: 2\na: 3\n")
    (problem,) = doc.problems
    assert (problem.line, problem.column, problem.rule) == (3, 1, "key-repeated")
    assert problem.what == "key 'a' is repeated"
    assert doc.value["a"] == 1, "the first stands until it is mended"


def test_every_repeated_key_is_told(tmp_path: Path) -> None:
    doc = read(tmp_path, "x: {a: 1, a: 2}\ny: {b: 1, b: 2, b: 3}\n")
    assert [p.line for p in doc.problems] == [1, 2, 2]


def test_alias_is_refused(tmp_path: Path) -> None:
    doc = read(tmp_path, "a: &x [1, 2]\nb: *x\n")
    assert [(p.what, p.line) for p in doc.problems] == [("uses a YAML alias", 1)]


def test_aliases_within_aliases_do_not_expand(tmp_path: Path) -> None:
    lines = ["a0: &a0 [x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    doc = read(tmp_path, "\n".join(lines))  # 9^11 items if it did
    assert doc.problems
    assert {p.what for p in doc.problems} == {"uses a YAML alias"}


def test_alias_to_itself_ends(tmp_path: Path) -> None:
    assert [p.what for p in read(tmp_path, "a: &x [*x]\n").problems] == ["uses a YAML alias"]


def test_merge_key_is_refused(tmp_path: Path) -> None:
    assert read(tmp_path, "a: &x {k: 1}\nb:\n  <<: *x\n").problems


def test_deep_nesting_is_refused(tmp_path: Path) -> None:
    assert 6 <= MAX_DEPTH <= 20, "deep enough for any record, and no deeper"
    deep = MAX_DEPTH + 2
    assert [p.what for p in read(tmp_path, "[" * deep + "]" * deep).problems] == ["is nested too deeply"]
    fine = MAX_DEPTH
    assert not read(tmp_path, "[" * fine + "]" * fine).problems


@pytest.mark.parametrize("depth", [500, 3000])
def test_very_deep_nesting_is_a_problem_and_no_crash(tmp_path: Path, depth: int) -> None:
    assert read(tmp_path, "[" * depth + "]" * depth).problems


@pytest.mark.parametrize(
    "content",
    [b"one: 1\nname: caf\xe9\n", b"\n\xff\xfea\x00:\x00 \x001\x00", b"one: 1\na: \xc3\x28\n"],
    ids=["latin-1", "utf-16", "broken utf-8"],
)
def test_file_that_is_not_utf8_is_one_problem(tmp_path: Path, content: bytes) -> None:
    doc = read(tmp_path, content)
    (problem,) = doc.problems
    assert doc.value is None
    assert problem.line == 2
    assert problem.what == "is not UTF-8 text from here on"
    assert problem.mend == "save it as UTF-8"


def test_control_character_is_told_with_its_place(tmp_path: Path) -> None:
    (problem,) = read(tmp_path, "a: 1\nb: 2\nc: x\x07y\n").problems
    assert (problem.line, problem.column) == (3, 5)
    assert problem.what == "holds a control character (U+0007)"


@pytest.mark.parametrize("code", [0x00, 0x07, 0x1B, 0x7F, 0x85, 0xFFFE])
def test_control_characters_are_refused_or_kept_but_never_crash(tmp_path: Path, code: int) -> None:
    doc = read(tmp_path, f"a: 1\nb: x{chr(code)}y\n")
    assert doc.problems or isinstance(doc.value["b"], str)


@pytest.mark.parametrize("code", [0x00, 0x07, 0x1B])
def test_control_character_is_a_problem(tmp_path: Path, code: int) -> None:
    doc = read(tmp_path, f"a: 1\nb: x{chr(code)}y\n")
    assert doc.value is None
    assert len(doc.problems) == 1


def test_letters_of_all_scripts_are_kept(tmp_path: Path) -> None:
    assert read(tmp_path, "a: Größe 大きさ é\n").value == {"a": "Größe 大きさ é"}


def test_byte_order_mark_is_no_part_of_the_first_key(tmp_path: Path) -> None:
    doc = read(tmp_path, b"\xef\xbb\xbfmovements: []\n")
    assert doc.problems or doc.value == {"movements": []}


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("a: [1, 2\nb: 3\n", 2),
        ("a: 1\n\tb: 2\n", 2),
        ("a: 'x\n", 2),
        ("a: b: c\n", 1),
        ("a: 1\n---\nb: 2\n", 2),
        ("%bad\n", 1),
    ],
)
def test_what_is_not_yaml_is_told_with_its_line(tmp_path: Path, text: str, line: int) -> None:
    doc = read(tmp_path, text)
    (problem,) = doc.problems
    assert doc.value is None
    assert problem.line == line
    assert problem.what.startswith("YAML cannot be read: ")
    assert problem.mend == "check the indent, quotes and colons here"


def test_key_that_is_no_text_is_refused(tmp_path: Path) -> None:
    doc = read(tmp_path, "? [a, b]\n: 1\nc: 2\n")
    assert [(p.what, p.line) for p in doc.problems] == [("a key must be text", 1)]
    assert doc.value == {"c": 2}


def test_empty_file_is_no_value_and_no_problem(tmp_path: Path) -> None:
    doc = read(tmp_path, "# only a note\n")
    assert (doc.value, doc.problems) == (None, [])


def test_missing_file_is_a_problem(tmp_path: Path) -> None:
    (problem,) = read_yaml(tmp_path, "gone.yaml").problems
    assert problem.what == "cannot be read (FileNotFoundError)"


def test_folder_in_place_of_a_file_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "x.yaml").mkdir()
    assert len(read_yaml(tmp_path, "x.yaml").problems) == 1


def test_every_value_has_its_place(tmp_path: Path) -> None:
    doc = read(tmp_path, "list:\n- id: a\n  n: {x: 1}\n- [p, q]\n")
    assert doc.place(("list",)) == (2, 1)
    assert doc.place(("list", 0)) == (2, 3)
    assert doc.place(("list", 0, "n", "x")) == (3, 10)
    assert doc.place(("list", 1, 1)) == (4, 7)


def test_unknown_path_has_the_place_of_what_holds_it(tmp_path: Path) -> None:
    doc = read(tmp_path, "list:\n- id: a\n")
    assert doc.place(("list", 0, "missing", "deeper")) == (2, 3)
    assert doc.place(("nowhere",)) == (1, 1)


def test_problem_names_the_field_within_the_record(tmp_path: Path) -> None:
    doc = read(tmp_path, "list:\n- id: a\n  n: {x: 1}\n")
    problem = doc.problem(("list", 0, "n", "x"), "a", "is wrong", mend="mend it", rule="r")
    assert str(problem) == "x.yaml:3:10: a: n.x: is wrong; mend it [r]"
