"""Kept bytes: atomic, rebuilt when damaged, never in the way."""

from __future__ import annotations

import multiprocessing
import os
from pathlib import Path

import pytest

from subgraph.library import cache
from subgraph.library.cache import digest, digest_of_files, recalled, stored
from tests.common import compile_at, store_at, tiny_library


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty cache folder that is not there yet, and a process that has told nothing."""
    monkeypatch.setenv("SUBGRAPH_CACHE", str(tmp_path / "deep" / "cache"))
    monkeypatch.setattr(cache, "_told", False)
    return tmp_path / "deep" / "cache"


def forbidden() -> bytes:
    raise AssertionError("built although a sound copy was there")


def test_digest_tells_where_one_part_ends() -> None:
    assert digest(b"ab", b"c") != digest(b"a", b"bc")
    assert digest(b"ab") != digest(b"ab", b"")
    assert digest(b"a", b"b") != digest(b"b", b"a")
    assert digest(b"a", b"b") == digest(b"a", b"b")
    assert len(digest()) == 16


def test_built_once_and_then_read(folder: Path) -> None:
    assert stored("thing", "k", lambda: b"payload") == b"payload"
    assert stored("thing", "k", forbidden) == b"payload"
    assert [p.name for p in folder.iterdir()] == ["thing-k"]


def test_another_key_is_built_anew(folder: Path) -> None:
    stored("thing", "k1", lambda: b"one")
    assert stored("thing", "k2", lambda: b"two") == b"two"
    assert stored("thing", "k1", forbidden) == b"one"


def test_empty_payload_is_a_payload(folder: Path) -> None:
    assert stored("thing", "k", lambda: b"") == b""
    assert stored("thing", "k", forbidden) == b""


@pytest.mark.parametrize("damage", ["cut", "flip", "empty", "check", "longer"])
def test_damaged_copy_is_rebuilt(folder: Path, damage: str) -> None:
    stored("thing", "k", lambda: b"payload" * 100)
    path = folder / "thing-k"
    sound = path.read_bytes()
    path.write_bytes(
        {
            "cut": sound[:-5],
            "flip": sound[:50] + bytes([sound[50] ^ 1]) + sound[51:],
            "empty": b"",
            "check": sound[:3],
            "longer": sound + b"x",
        }[damage]
    )
    assert stored("thing", "k", lambda: b"payload" * 100) == b"payload" * 100
    assert path.read_bytes() == sound
    assert stored("thing", "k", forbidden) == b"payload" * 100


def test_nothing_half_written_is_left_behind(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(old: str, new: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", fail)
    assert stored("thing", "k", lambda: b"payload") == b"payload"
    assert list(folder.iterdir()) == []


def test_interrupted_write_leaves_the_old_copy_alone(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stored("thing", "k", lambda: b"old")
    (folder / "thing-k").write_bytes(b"damaged")

    def interrupt(old: str, new: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        stored("thing", "k", lambda: b"new")
    assert [p.name for p in folder.iterdir()] == ["thing-k"]
    assert (folder / "thing-k").read_bytes() == b"damaged"


def test_error_while_building_is_passed_on_and_nothing_is_kept(folder: Path) -> None:
    def broken() -> bytes:
        raise ValueError("no library")

    with pytest.raises(ValueError, match="no library"):
        stored("thing", "k", broken)
    assert not folder.exists() or not list(folder.iterdir())


def test_folder_that_cannot_be_written_is_told_once(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder.parent.mkdir(parents=True)
    folder.write_text("a file stands where the folder should be")
    assert stored("thing", "k1", lambda: b"one") == b"one"
    assert stored("thing", "k2", lambda: b"two") == b"two"
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert err.startswith(f"subgraph: note: the cache folder {folder} can't be written (")
    assert err.endswith("); going on without it\n")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_read_only_folder_is_told_once(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder.mkdir(parents=True)
    folder.chmod(0o500)
    try:
        assert stored("thing", "k", lambda: b"one") == b"one"
        assert stored("thing", "k", lambda: b"one") == b"one"
    finally:
        folder.chmod(0o700)
    assert capsys.readouterr().err.count("can't be written") == 1


def test_old_copies_go_and_other_things_stay(folder: Path) -> None:
    stored("other", "k", lambda: b"other")
    for n in range(12):
        stored("thing", f"k{n:02d}", lambda: b"payload")
        os.utime(folder / f"thing-k{n:02d}", (n, n))
    left = sorted(p.name for p in folder.iterdir())
    assert "other-k" in left
    assert "thing-k11" in left
    assert len(left) <= 8


def test_things_whose_names_begin_alike_do_not_push_each_other_out(folder: Path) -> None:
    for block in range(12):
        stored(f"matrix-{block}", "k", lambda: b"rows")
        os.utime(folder / f"matrix-{block}-k", (block, block))
    stored("matrix", "k", lambda: b"head")
    assert len(list(folder.glob("matrix-*-k"))) == 12


@pytest.mark.parametrize("processes", [2, 4])
def test_processes_that_start_at_once_all_get_the_payload(folder: Path, processes: int) -> None:
    context = multiprocessing.get_context("spawn")
    barrier, results = context.Barrier(processes), context.Queue()
    workers = [context.Process(target=store_at, args=(str(folder), barrier, results)) for _ in range(processes)]
    for worker in workers:
        worker.start()
    assert [results.get(timeout=120) for _ in workers] == [True] * processes
    for worker in workers:
        worker.join(timeout=60)
    assert [w.exitcode for w in workers] == [0] * processes
    assert [p.name for p in folder.iterdir()] == ["thing-key"]
    assert stored("thing", "key", forbidden) == b"payload" * 50_000


def test_two_processes_compile_one_library_at_once(folder: Path, tmp_path: Path) -> None:
    source = tiny_library(tmp_path / "library")
    context = multiprocessing.get_context("spawn")
    barrier, results = context.Barrier(2), context.Queue()
    workers = [context.Process(target=compile_at, args=(str(folder), str(source), barrier, results)) for _ in range(2)]
    for worker in workers:
        worker.start()
    assert [results.get(timeout=120) for _ in workers] == [16, 16]
    for worker in workers:
        worker.join(timeout=60)
    assert [w.exitcode for w in workers] == [0, 0]
    assert not list(folder.glob(".new-*"))


def test_question_is_remembered_and_another_one_is_not(folder: Path) -> None:
    assert recalled("about", "one?", lambda: "1") == "1"
    assert recalled("about", "one?", lambda: "wrong") == "1"
    assert recalled("about", "two?", lambda: "2") == "2"
    (folder / "about").write_bytes(b"damaged")
    assert recalled("about", "two?", lambda: "found anew") == "found anew"


def test_files_are_digested_by_content_and_read_again_only_when_touched(folder: Path, tmp_path: Path) -> None:
    place = tmp_path / "records"
    place.mkdir()
    (place / "a.yaml").write_text("one")
    before = digest_of_files("records", str(place), ["a.yaml"])
    assert before == digest(b"a.yaml", b"one").hex()
    os.utime(place / "a.yaml", (1, 1))
    assert digest_of_files("records", str(place), ["a.yaml"]) == before
    (place / "a.yaml").write_text("two")
    os.utime(place / "a.yaml", (1, 1))  # the same size and time: taken for the same file, as all such tools do
    assert digest_of_files("records", str(place), ["a.yaml"]) == before
    os.utime(place / "a.yaml", (2, 2))
    assert digest_of_files("records", str(place), ["a.yaml"]) == digest(b"a.yaml", b"two").hex()
