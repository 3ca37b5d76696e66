"""The compiled library is that of the files, whatever happened to the files or the cache in between."""

from __future__ import annotations

import os
from pathlib import Path

import msgspec
import pytest

from subgraph.errors import LibraryError
from subgraph.library.compile import Compiled, code_key, content_key, index_names
from subgraph.library.compile import compiled as compiled_once
from subgraph.library.load import load_folder
from subgraph.library.names import resolve
from tests.common import movement, tiny_library, write


def compile_again(folder: Path) -> Compiled:
    """Compile as a fresh process would."""
    compiled_once.cache_clear()
    try:
        return compiled_once(folder)
    finally:
        compiled_once.cache_clear()


@pytest.fixture(autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder for each test."""
    folder = tmp_path_factory.mktemp("own")
    monkeypatch.setenv("SUBGRAPH_CACHE", str(folder))
    return folder


def test_compiled_records_are_those_of_the_files(tmp_path: Path) -> None:
    loaded = load_folder(tiny_library(tmp_path), "v").library
    assert loaded is not None
    for library in (compile_again(tmp_path).library, compile_again(tmp_path).library):  # built, then from the cache
        assert dict(library.movements) == dict(loaded.movements)
        assert list(library.movements) == list(loaded.movements)
        assert library.links == loaded.links
        assert library.ratios == loaded.ratios
        for section in ("equipment", "demands", "limits", "levels", "complaints", "provocations", "red_flags"):
            assert getattr(library, section) == getattr(loaded, section), section
        assert library.scoring == loaded.scoring
        assert library.abbreviations == loaded.abbreviations


def test_second_run_reads_no_yaml(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tiny_library(tmp_path)
    compile_again(tmp_path)

    def refuse(folder: Path, version: str) -> None:
        raise AssertionError("read the YAML although a sound copy was there")

    monkeypatch.setattr("subgraph.library.load.load_folder", refuse)
    assert len(compile_again(tmp_path).library.movements) == 16


def test_changed_record_is_seen(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    before = compile_again(tmp_path).library
    tiny_library(tmp_path, movements=[movement("air-squat", skill=1)])
    after = compile_again(tmp_path).library
    assert (before.movements["air-squat"].skill, after.movements["air-squat"].skill) == (0, 1)
    assert before.version != after.version


def test_change_of_the_same_length_is_seen(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    compile_again(tmp_path)
    path = tmp_path / "vocabulary.yaml"
    path.write_text(path.read_text().replace("square_m: 3.7", "square_m: 4.7"))
    assert compile_again(tmp_path).library.areas["mat"].square_m == 4.7


def test_new_and_removed_files_are_seen(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    compile_again(tmp_path)
    more = write(tmp_path, "links/more.yaml", "links:\n- {from: push-up, to: march, kind: easier, why: x}\n")
    assert len(compile_again(tmp_path).library.links) == 12
    more.unlink()
    assert len(compile_again(tmp_path).library.links) == 11


def test_untouched_content_keeps_its_version_when_only_the_time_changes(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    before = compile_again(tmp_path).library.version
    os.utime(tmp_path / "vocabulary.yaml", (1, 1))
    assert compile_again(tmp_path).library.version == before


@pytest.mark.parametrize("content", [b"", b"nonsense", b"\x00" * 4000])
def test_damaged_copies_are_rebuilt(tmp_path: Path, own_cache: Path, content: bytes) -> None:
    tiny_library(tmp_path)
    compile_again(tmp_path)
    kept = list(own_cache.iterdir())
    assert kept
    for path in kept:
        path.write_bytes(content)
    assert len(compile_again(tmp_path).library.movements) == 16


def test_sound_copy_of_another_layout_is_rebuilt(tmp_path: Path, own_cache: Path) -> None:
    from subgraph.library.cache import checksum

    tiny_library(tmp_path)
    compile_again(tmp_path)
    payload = msgspec.msgpack.encode({"something": "else"})
    for path in own_cache.glob("library-*"):
        path.write_bytes(checksum(payload) + payload)
    assert len(compile_again(tmp_path).library.movements) == 16


def test_damaged_library_is_one_error_with_all_problems(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    write(tmp_path, "links/bad.yaml", "links:\n- {from: a}\n")
    with pytest.raises(LibraryError) as caught:
        compile_again(tmp_path)
    assert len(caught.value.problems) == 3  # to, kind, why
    assert "\n" not in str(caught.value)


def test_damaged_library_is_not_kept(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    bad = write(tmp_path, "links/bad.yaml", "links:\n- {from: a}\n")
    with pytest.raises(LibraryError):
        compile_again(tmp_path)
    bad.unlink()
    assert len(compile_again(tmp_path).library.movements) == 16


def test_content_key_depends_on_names_and_content_alone(tmp_path: Path) -> None:
    one, other = tiny_library(tmp_path / "one"), tiny_library(tmp_path / "other")
    assert content_key(one) == content_key(other)
    (other / "links" / "links.yaml").rename(other / "links" / "renamed.yaml")
    assert content_key(one) != content_key(other)
    before = content_key(one)
    write(one, "notes.txt", "no record")
    assert content_key(one) == before


def test_code_key_is_stable_within_a_version() -> None:
    assert code_key() == code_key()
    assert len(code_key()) == 32


def test_each_kind_of_record_has_its_names(tmp_path: Path) -> None:
    loaded = load_folder(tiny_library(tmp_path), "v").library
    assert loaded is not None
    names = index_names(loaded)
    assert set(names) == {"movement", "equipment", "complaint", "provocation", "limit", "level", "intent"}
    assert resolve("DBs", names["equipment"], loaded.abbreviations, kind="equipment").id == "dumbbell"


def test_provocation_among_complaints_carries_a_tilde(tmp_path: Path) -> None:
    names = compile_again(tiny_library(tmp_path)).names
    assert resolve("arms overhead", names["complaint"], {}, kind="complaint").id == "~overhead"
    assert resolve("arms overhead", names["provocation"], {}, kind="provocation").id == "overhead"


def test_names_from_the_cache_are_those_just_built(tmp_path: Path) -> None:
    tiny_library(tmp_path)
    first, second = compile_again(tmp_path), compile_again(tmp_path)
    assert set(first.names) == set(second.names)
    for kind in first.names:
        assert first.names[kind].exact.text == second.names[kind].exact.text
        assert first.names[kind].spelled == second.names[kind].spelled


def test_real_library_answers_through_the_public_door(compiled: Compiled) -> None:
    from subgraph import Library

    assert set(Library.load().movements) == set(compiled.library.movements)
