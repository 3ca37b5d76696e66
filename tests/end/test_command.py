"""The real command in a subprocess: exit codes, both streams, and what a coach can get wrong."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.common import ROOT

T2B = "15 toes-to-bar"
ANSWER = {"asked", "outcome", "options", "refer", "removed", "caution", "library"}
ASKED = {"movement", "name", "amount", "unit", "load_kg"}
OPTION = {"movement", "name", "also", "amount", "unit", "low", "high", "load_kg", "score", "keeps", "loses", "because"}
OPTION |= {"cautions", "cues", "ratio", "equipment", "demands"}
HEAVY = {"networkx", "numpy", "scipy", "yaml", "rapidfuzz"}


def subgraph(*args: str, **env: str) -> subprocess.CompletedProcess[str]:
    """Run the command as a coach would, away from the checkout's own folder of tests."""
    plain = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR", "SUBGRAPH_EMERGENCY")}
    return subprocess.run(
        [sys.executable, "-m", "subgraph", *args],
        cwd=ROOT,
        env={**plain, "COLUMNS": "80", **env},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def as_json(*args: str, code: int = 0) -> dict[str, Any]:
    run = subgraph(*args, "--json")
    assert run.returncode == code, run.stderr
    found = json.loads(run.stdout)
    assert isinstance(found, dict)
    return found


def assert_one_line(run: subprocess.CompletedProcess[str], *parts: str) -> None:
    """Exit code 2, nothing on standard output, one readable line on standard error."""
    assert run.returncode == 2, run.stdout
    assert run.stdout == ""
    assert "Traceback" not in run.stderr
    assert len(run.stderr.splitlines()) == 1, run.stderr
    assert run.stderr.startswith("subgraph: ")
    assert all(c.isprintable() for c in run.stderr.rstrip("\n"))
    for part in parts:
        assert part in run.stderr


def test_an_answer_goes_to_standard_output() -> None:
    run = subgraph("options", T2B, "--without", "rig")
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.startswith("15 toes-to-bar")


def test_json_has_the_fixed_names() -> None:
    answer = as_json("options", T2B, "--without", "rig")
    assert answer.keys() >= ANSWER
    assert answer["asked"].keys() >= ASKED
    assert answer["outcome"] == "options"
    assert len(answer["options"]) == 3
    for option in answer["options"]:
        assert option.keys() >= OPTION
        assert option["ratio"].keys() >= {"value", "low", "high", "basis"}
        assert all(grade >= 1 for grade in option["demands"].values())


def test_as_written_comes_with_exit_code_0() -> None:
    assert as_json("options", "10 air squats")["outcome"] == "as-written"


def test_a_red_flag_gives_exit_code_1_and_no_options() -> None:
    answer = as_json("options", T2B, "--says", "crushing chest pain", code=1)
    assert (answer["outcome"], answer["options"]) == ("refer", [])
    assert answer["refer"]["level"] == "emergency"
    assert answer["refer"]["text"]
    run = subgraph("options", T2B, "--says", "crushing chest pain")
    assert run.returncode == 1
    assert "STOP" in run.stdout
    assert "\n1  " not in run.stdout


def test_why_not_speaks_of_nothing_after_a_red_flag() -> None:
    answer = as_json("why-not", T2B, "v-up", "--says", "crushing chest pain", code=1)
    assert answer["refer"]["level"] == "emergency"


def test_nothing_suitable_gives_exit_code_1() -> None:
    flags = ("--limit", "seated", "--limit", "standing-only")
    answer = as_json("options", T2B, *flags, code=1)
    assert (answer["outcome"], answer["options"]) == ("nothing-suitable", [])


@pytest.mark.parametrize(
    ("args", "parts"),
    [
        (["5 zzzyqx"], ["zzzyqx"]),
        (["12 kg pull-ups"], ["12 kg"]),
        (["0 pull-ups"], ["positive"]),
        (["-5 pull-ups"], ["negative"]),
        (["1000000000 pull-ups"], ["at most"]),
        (["400 m pull-ups"], ["metres"]),
        ([""], ["empty"]),
        (["15"], ["15"]),
        (["15 toes\x07-to-bar"], ["control character"]),
        (["\x1b[31m15 pull-ups"], ["control character"]),
        (["pull-up " * 1280], ["characters long"]),
        ([T2B, "--without", "rig", "--only", "box"], ["--only", "--without"]),
        ([T2B, "--without", "flux capacitor"], ["flux capacitor"]),
        ([T2B, "--complaint", "zzzyqx"], ["zzzyqx"]),
        ([T2B, "--limit", "zzzyqx"], ["zzzyqx"]),
        ([T2B, "--limit", "zzzyqx"], ["one of: no-jumping, no-running"]),
        ([T2B, "--level", "zzzyqx"], ["zzzyqx", "one of: novice, regular, advanced"]),
        ([T2B, "--level", "nov\x07ice"], ["control character"]),
        ([T2B, "--intent", "zzzyqx"], ["zzzyqx", "one of: "]),
        ([T2B, "--cannot", "zzzyqx"], ["zzzyqx"]),
        ([T2B, "--irritability", "flaired"], ["nearest: flared", "one of: settled, sore, flared"]),
        ([T2B, "--without", "x" * 10_240], ["--without is 10240 characters long"]),
        ([T2B, "--only", "x" * 10_240], ["--only is 10240 characters long"]),
        ([T2B, "--complaint", "x" * 10_240], ["--complaint is 10240 characters long"]),
        ([T2B, "--cannot", "x" * 10_240], ["--cannot is 10240 characters long"]),
        (["21 thrusters", "--load", "heavy"], ["heavy"]),
        ([T2B, "--without", "r\x00ig".replace("\x00", "\x01")], ["control character"]),
        ([T2B, "--says", "fine " * 2048], ["characters long"]),
    ],
)
def test_bad_input_is_one_line_and_exit_code_2(args: list[str], parts: list[str]) -> None:
    assert_one_line(subgraph("options", *args), *parts)


@pytest.mark.parametrize(
    ("args", "parts"),
    [
        (["options", T2B, "--top", "99"], ["--top 99", "from 1 to 20"]),
        (["options", T2B, "--top", "many"], ["--top", "from 1 to 20"]),
        (["options"], ["needs an ask", 'subgraph options "15 toes-to-bar"']),
        (["why-not", T2B], ["needs a name"]),
        (["options", "15", "toes-to-bar"], ["toes-to-bar", "quotes"]),
        (["options", T2B, "--wihtout", "rig"], ["--wihtout", "did you mean --without?"]),
        (["options", T2B, "--wihtout=rig"], ["did you mean --without?"]),
        (["options", T2B, "-x"], ["no flag is called '-x'"]),
        (["movement", "T2B", "--jsn"], ["did you mean --json?"]),
        (["options", T2B, "--level"], ["--level", "without its value"]),
        (["optons", T2B], ["optons", "did you mean options?"]),
        (["library", "chek"], ["chek", "did you mean check?"]),
        (["--nonsense"], ["--nonsense"]),
        ([""], ["no command"]),
        (["library", "check", "x" * 5000], ["no folder"]),
        (["library", "check", "x\x07"], ["no folder 'x?'"]),
    ],
)
def test_a_wrong_command_line_is_one_line_with_a_mend(args: list[str], parts: list[str]) -> None:
    assert_one_line(subgraph(*args), *parts)
    if args[0] in ("options", "why-not"):
        found = as_json(*args, code=2) if args[-1] != "--level" else as_json("options", "--json", "--level", code=2)
        assert found["error"]


@pytest.mark.parametrize("name", ["zzzyqx", "row machine press"])
def test_an_unknown_movement_names_the_nearest(name: str) -> None:
    answer = as_json("movement", name, code=2)
    assert answer["error"]
    assert len(answer["nearest"]) >= 3
    assert all(as_json("movement", near)["id"] == near for near in answer["nearest"][:1])


def test_an_ambiguous_name_gives_the_candidates() -> None:
    answer = as_json("movement", "dumbbell", code=2)
    assert answer["error"]
    assert len(answer["nearest"]) >= 2


def test_a_movement_has_its_names() -> None:
    answer = as_json("movement", "T2B")
    assert answer["id"] == "toes-to-bar"
    assert answer["name"]
    assert "T2B" in answer["also"]


@pytest.mark.parametrize(
    "args",
    [
        [
            "options",
            T2B,
            "--complaint",
            "shoulder:overhead,low back:bending",
            "--only",
            "1 dumbbell,box",
            "--top",
            "20",
        ],
        ["options", "21 thrusters 43kg", "--complaint", "pregnant", "--level", "novice"],
        ["options", T2B, "--says", "crushing chest pain"],
        ["why-not", T2B, "v-up", "--complaint", "low back:bending"],
        ["movement", "T2B"],
        ["library", "stats"],
        ["--help"],
        ["options", "--help"],
    ],
)
def test_lines_fit_80_columns_and_are_plain_when_piped(args: list[str]) -> None:
    run = subgraph(*args)
    assert "\033" not in run.stdout
    assert [line for line in run.stdout.splitlines() if len(line) > 80] == []


@pytest.mark.skipif(os.name != "posix", reason="needs a pseudo-terminal")
@pytest.mark.parametrize(("env", "colour"), [({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)])
def test_colour_is_for_terminals_only(env: dict[str, str], colour: bool) -> None:
    import pty

    ours, theirs = pty.openpty()
    plain = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "TERM")}
    command = [sys.executable, "-m", "subgraph", "library", "stats"]
    with subprocess.Popen(command, cwd=ROOT, stdout=theirs, env={**plain, "TERM": "xterm", **env}) as process:
        os.close(theirs)
        shown = b""
        try:
            while chunk := os.read(ours, 4096):
                shown += chunk
        except OSError:  # the other end is closed
            pass
        finally:
            os.close(ours)
    assert process.returncode == 0
    assert shown
    assert (b"\033[" in shown) is colour


def test_a_cache_that_cannot_be_written_is_told_once(tmp_path: Path) -> None:
    blocker = tmp_path / "file"
    blocker.write_text("in the way of a folder")
    run = subgraph("options", T2B, "--without", "rig", SUBGRAPH_CACHE=str(blocker / "cache"))
    assert run.returncode == 0
    assert len(run.stderr.splitlines()) == 1
    assert "can't be written" in run.stderr
    assert run.stdout == subgraph("options", T2B, "--without", "rig").stdout


def test_a_damaged_record_is_told_with_its_place(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "library", tmp_path / "library")
    file = tmp_path / "library" / "movements" / "pulls.yaml"
    lines = file.read_text().splitlines()
    at = next(i for i, line in enumerate(lines) if "skill:" in line)
    lines[at] = lines[at].replace("skill: ", "skill: 1")  # two digits: beyond the ranks
    file.write_text("\n".join(lines))
    run = subgraph("library", "check", str(tmp_path / "library"))
    assert run.returncode == 2
    assert "Traceback" not in run.stderr
    assert f"movements/pulls.yaml:{at + 1}:" in run.stdout
    found = as_json("library", "check", str(tmp_path / "library"), code=2)
    assert found["errors"] >= 1


@pytest.mark.parametrize("content", [b"movements: [", b"\xff\xfe\x00", b"movements: 3\n"])
def test_a_file_that_cannot_be_read_is_no_traceback(tmp_path: Path, content: bytes) -> None:
    shutil.copytree(ROOT / "library", tmp_path / "library")
    (tmp_path / "library" / "links" / "pulls.yaml").write_bytes(content)
    run = subgraph("library", "check", str(tmp_path / "library"))
    assert run.returncode == 2
    assert "Traceback" not in run.stderr
    assert re.search(r"^error: links/pulls\.yaml:[12]:", run.stdout, re.M)


def test_a_folder_that_is_not_there_is_one_line() -> None:
    run = subgraph("library", "check", "no-such-folder")
    assert run.returncode == 2
    assert "Traceback" not in run.stderr
    assert "no-such-folder" in run.stdout + run.stderr


def test_a_warm_answer_loads_nothing_heavy() -> None:
    subgraph("options", T2B, "--without", "rig")
    code = (
        "import sys; from subgraph.cli import app\n"
        "try: app(sys.argv[1:])\n"
        "except SystemExit as end: assert not end.code\n"
        "print(*sorted({m.partition('.')[0] for m in sys.modules}), file=sys.stderr)"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, "options", T2B, "--without", "rig"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = set(run.stderr.split())
    assert "subgraph" in loaded
    assert loaded & HEAVY == set()


def test_explain_shows_what_carries_each_amount() -> None:
    run = subgraph("options", T2B, "--without", "rig", "--explain")
    assert run.returncode == 0
    assert max(map(len, run.stdout.splitlines())) <= 80
    assert run.stdout.count("   rests   ") == 3
    assert re.search(r"rests +\d+%  1 toes-to-bar = ", run.stdout)
    assert "rests" not in subgraph("options", T2B, "--without", "rig").stdout


def test_explain_in_json_names_records_and_sources() -> None:
    found = as_json("options", T2B, "--without", "rig", "--explain")
    for option in found["options"]:
        pieces = option["evidence"]
        assert [p["share"] for p in pieces] == sorted((p["share"] for p in pieces), reverse=True)
        assert 0 < pieces[0]["share"] <= 1
        for piece in pieces:
            assert piece["basis"] in ("practice", "measured", "modelled", "pace")
            assert (piece["record"] is None) == (piece["basis"] == "pace")
            assert piece["source"]
    assert "evidence" not in as_json("options", T2B, "--without", "rig")["options"][0]


def test_check_counts_notes_apart_from_errors_and_warnings() -> None:
    run = subgraph("library", "check")
    assert run.returncode == 0
    *notes, last = run.stdout.splitlines()
    assert last == f"0 errors, 0 warnings, {len(notes)} notes"
    assert all(line.startswith("note: ") and "standard deviations" in line for line in notes)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_an_answer_that_cannot_be_written_is_one_line_and_an_error() -> None:
    command = [sys.executable, "-m", "subgraph", "options", T2B]
    with Path("/dev/full").open("w") as full:
        run = subprocess.run(command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert run.returncode == 2
    assert run.stderr == "subgraph: the answer could not be written: No space left on device\n"


def test_whoever_stops_reading_early_is_not_told_of_an_error() -> None:
    command = [sys.executable, "-m", "subgraph", "library", "stats", "--json"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0
