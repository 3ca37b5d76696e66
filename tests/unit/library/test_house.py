"""A gym's own folder over the library: what is in force, what is refused, what is told."""

from __future__ import annotations

import os
import re
from pathlib import Path

import platformdirs
import pytest

from subgraph.checks import check_folder, errors_of
from subgraph.errors import AskError, HouseError, Problem
from subgraph.library import house as house_module
from subgraph.library import where
from subgraph.library.compile import Compiled, compiled
from subgraph.library.house import compiled_with_house, house_key, new_house
from subgraph.library.knowledge import Library
from subgraph.library.names import resolve
from subgraph.library.overlay import load_with_house
from subgraph.library.where import house_folder, library_folder, own_house_folder
from subgraph.options import emergency_words, options, why_not
from subgraph.quantities import Amount
from subgraph.rack import on_hand_kg
from subgraph.today import Ask, Filter, Today, Told
from tests.common import lay_house, movement, tiny_library, write

SAMPLE = re.compile(r"^#(?=[^ ]|  [^ ])", re.M)
NO_RUNS = "rules:\n- {id: no-runs, reason: no runs, for: [anyone], movements: [run]}\n"
TWO_ERRORS = "rules:\n- {id: x, reason: r, for: [nobody], movements: [run]}\n- {id: y, reason: r, for: [anyone]}\n"


@pytest.fixture
def tiny_folder(tmp_path: Path) -> Path:
    return tiny_library(tmp_path / "library")


@pytest.fixture
def house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the house of a test stands; nothing is told or judged yet."""
    house_module._note.cache_clear()
    house_module._judged.cache_clear()
    return tmp_path / "house"


def merged(tiny_folder: Path, house: Path, text: str) -> Library:
    """The tiny library with a sound house over it."""
    lay_house(house, text)
    loaded = load_with_house(tiny_folder, house, "v")
    assert loaded.library is not None, "\n".join(map(str, loaded.problems))
    return loaded.library


def in_force(tiny_folder: Path, house: Path, *, asked_for: bool = True) -> Compiled:
    return compiled_with_house(house, errors_of, asked_for=asked_for, folder=tiny_folder)


# What a house may hold.


def test_new_movement_joins_the_records(tiny_folder: Path, house: Path) -> None:
    text = "movements:\n- {id: beam-walk, name: beam walk}\n"
    text += "---\nlinks:\n- {from: march, to: beam-walk, kind: sideways, why: w}\n"
    lay_house(house, text)
    base = in_force(tiny_folder, house)
    assert base.library.family["beam-walk"] == "ours"
    assert resolve("walk beam", base.names["movement"], {}, kind="movement").id == "beam-walk"
    assert [link.to for link in base.library.links_at("beam-walk")] == ["beam-walk"]


def test_override_takes_the_place_and_keeps_the_family(tiny_folder: Path, house: Path) -> None:
    library = merged(tiny_folder, house, "movements:\n- {id: run, name: our run, overrides: true}\n")
    assert library.movements["run"].name == "our run"
    assert library.family["run"] == "movements"
    assert len(library.movements) == 16
    (laid,) = library.laid
    assert (laid.what, laid.record) == ("overridden", "run")
    assert laid.was.startswith("movements/movements.yaml:")


def test_overridden_link_replaces_the_librarys(tiny_folder: Path, house: Path) -> None:
    text = "links:\n- {from: plank, to: push-up, kind: harder, why: ours, overrides: true}\n"
    library = merged(tiny_folder, house, text)
    assert [link.why for link in library.links if link.from_ == "plank"] == ["ours"]
    assert len(library.links) == 11


def test_change_is_of_one_field_alone(tiny_folder: Path, house: Path) -> None:
    before = merged(tiny_folder, house.with_name("plain"), "house: plain\n").movements["run"]
    text = "changes:\n- {record: run, set: {demands.landing: 3, units.m: [0.5, 0.4, 0.3]}, why: steep}\n"
    library = merged(tiny_folder, house, text)
    after = library.movements["run"]
    assert after.demands == {**before.demands, "landing": 3}
    assert after.units == {"m": (0.5, 0.4, 0.3)}
    assert (after.name, after.met, after.cues) == (before.name, before.met, before.cues)
    assert [(x.field, x.was, x.now) for x in library.laid] == [
        ("demands.landing", 2, 3),
        ("units.m", [0.42, 0.33, 0.27], [0.5, 0.4, 0.3]),
    ]
    assert {x.why for x in library.laid} == {"steep"}


def test_null_takes_a_value_out(tiny_folder: Path, house: Path) -> None:
    library = merged(tiny_folder, house, "changes:\n- {record: run, set: {demands.landing: null}, why: water}\n")
    assert library.movements["run"].demands == {"heart-rate": 3}


def test_changed_ratio_and_profile(tiny_folder: Path, house: Path) -> None:
    text = (
        "changes:\n- {record: du-su, of: ratio, set: {ratio: 2.5}, why: counted}\n"
        "- {record: shoulder, of: complaint, set: {at_most.hang: [0, 0, 0], at_most.grip: [2, 1, 1]}, why: careful}\n"
    )
    library = merged(tiny_folder, house, text)
    assert next(x for x in library.ratios if x.id == "du-su").ratio == 2.5
    assert library.complaints["shoulder"].at_most == {"hang": (0, 0, 0), "overhead": (2, 1, 0), "grip": (2, 1, 1)}


def test_other_names_are_understood(tiny_folder: Path, house: Path) -> None:
    text = "names:\n- {record: toes-to-bar, also: [feet up high]}\n"
    text += "- {record: dumbbell, of: equipment, also: [hand bell]}\n"
    lay_house(house, text)
    base = in_force(tiny_folder, house)
    assert resolve("feet up high", base.names["movement"], {}, kind="movement").id == "toes-to-bar"
    assert resolve("T2B", base.names["movement"], {}, kind="movement").id == "toes-to-bar"
    assert resolve("hand bells", base.names["equipment"], {}, kind="equipment").id == "dumbbell"


@pytest.mark.parametrize(
    ("rule", "today", "out"),
    [
        ("for: [anyone], movements: [run]", Today(), {"run"}),
        ("for: [novice], movements: [run]", Today(), set()),
        ("for: [novice], movements: [run]", Today(level="novice"), {"run"}),
        ("for: [novice, shoulder], movements: [run]", Today(complaints=(Told("shoulder"),)), {"run"}),
        ("for: [novice, shoulder], movements: [run]", Today(level="regular"), set()),
        ("for: [anyone], demands: {hang: 2}", Today(), {"toes-to-bar"}),
        ("for: [anyone], demands: {hang: 1}, except: [pull-up]", Today(), {"toes-to-bar", "hanging-knee-raise"}),
    ],
)
def test_rule_takes_out_whom_it_holds_for(
    tiny_folder: Path, house: Path, rule: str, today: Today, out: set[str]
) -> None:
    plain = merged(tiny_folder, house.with_name("plain"), "house: plain\n")
    library = merged(tiny_folder, house, f"rules:\n- {{id: our-rule, reason: our reason, {rule}}}\n")
    columns = library.columns
    there = {columns.ids[i] for i in Filter(plain, today).survivors()}
    left = {columns.ids[i] for i in Filter(library, today).survivors()}
    assert left == there - out
    for id_ in out:
        first = Filter(library, today).removals(library.movements[id_])[0]
        assert (first.kind, first.reason) == ("house", "house rule: our reason")
        assert first.detail


def test_family_rule(tiny_folder: Path, house: Path) -> None:
    text = "rules:\n- {id: r, reason: r, for: [anyone], families: [ours]}\n"
    text += "---\nmovements:\n- {id: beam-walk, name: beam walk}\n"
    library = merged(tiny_folder, house, text)
    removals = Filter(library, Today()).removals(library.movements["beam-walk"])
    assert [x.detail for x in removals] == ["family ours"]
    assert not Filter(library, Today()).removals(library.movements["run"])


def test_rule_explains_itself_in_answers(tiny_folder: Path, house: Path) -> None:
    library = merged(tiny_folder, house, NO_RUNS)
    ask = Ask("run", Amount(400, "m"))
    answer = options(library, ask, Today())
    assert answer.outcome == "options"
    assert answer.removed == {"house rule: no runs": 1}
    assert [x.reason for x in answer.standing_in_the_way] == ["house rule: no runs"]
    assert [x.reason for x in why_not(library, ask, Today(), "run").removals] == ["house rule: no runs"]


def test_without_flags_the_house_has_what_it_owns(tiny_folder: Path, house: Path) -> None:
    library = merged(tiny_folder, house, "owns:\n- {item: rig}\n- {item: dumbbell, count: 1}\n")
    here = Filter(library, Today())
    items = ("rig", "pull-up-bar", "rings", "dumbbell", "2 dumbbell", "barbell", "open-floor")
    assert [i for i in items if here.has(i)] == ["rig", "pull-up-bar", "rings", "dumbbell", "open-floor"]
    less = Filter(library, Today(without=frozenset(["rig"])))
    assert [i for i in items if less.has(i)] == ["dumbbell", "open-floor"]
    told = Filter(library, Today(only={"barbell": 0}))
    assert [i for i in items if told.has(i)] == ["barbell", "open-floor"]
    assert Filter(library, Today()).reasons() == {
        "needs a skipping rope": 2,
        "needs a barbell": 2,
        "needs a rowing ergometer": 1,
    }


def test_house_that_owns_nothing_is_not_a_house_that_does_not_say(tiny_folder: Path, house: Path) -> None:
    assert merged(tiny_folder, house, "owns: []\n").house.owned == {}
    assert merged(tiny_folder, house.with_name("silent"), "house: silent\n").house.owned is None


def test_loads_are_rounded_to_the_rack_and_a_single_is_no_pair(tiny_folder: Path, house: Path) -> None:
    bell = {"load": {"kg": [10, 5], "implement": "dumbbell"}, "hands": 2, "demands": {"grip": 1, "heart-rate": 1}}
    tiny_library(
        tiny_folder,
        movements=[movement("one-bell", uses=["dumbbell"], **bell), movement("two-bells", uses=["2 dumbbell"], **bell)],
    )
    library = merged(tiny_folder, house, "owns:\n- {item: dumbbell, sizes_kg: [14, 6, 9], single_kg: [14]}\n")
    filter_, asked = Filter(library, Today()), library.movements["thruster"]
    given = {
        (name, kg): on_hand_kg(filter_, other, kg / asked.load.kg[0] * other.load.kg[0])
        for name, other in ((n, library.movements[n]) for n in ("one-bell", "two-bells"))
        for kg in (30.0, 43.0, 60.0)
    }
    assert given == {
        ("one-bell", 30.0): 6,
        ("one-bell", 43.0): 9,
        ("one-bell", 60.0): 14,
        ("two-bells", 30.0): 6,
        ("two-bells", 43.0): 9,
        ("two-bells", 60.0): 9,
    }


def test_where_every_size_stands_alone_there_is_no_pair(tiny_folder: Path, house: Path) -> None:
    library = merged(tiny_folder, house, "owns:\n- {item: dumbbell, sizes_kg: [6, 9], single_kg: [6, 9]}\n")
    assert Filter(library, Today()).has("dumbbell")
    assert not Filter(library, Today()).has("2 dumbbell")


@pytest.mark.parametrize(("written", "said"), [("112", "112"), ('"0 11"', "0 11"), ("000", "000")])
def test_emergency_number_is_the_houses_first(
    tiny_folder: Path, house: Path, monkeypatch: pytest.MonkeyPatch, written: str, said: str
) -> None:
    monkeypatch.setenv("SUBGRAPH_EMERGENCY", "999")
    library = merged(tiny_folder, house, f"house: mill lane\nemergency: {written}\n")
    assert emergency_words(library) == said
    assert f"Emergency: {said}." in options(library, Ask("run", Amount(400, "m")), Today()).caution
    assert emergency_words(merged(tiny_folder, house.with_name("silent"), "house: silent\n")) == "999"


def test_house_without_a_card_is_called_like_its_folder(tiny_folder: Path, house: Path) -> None:
    assert merged(tiny_folder, house, NO_RUNS).house.name == "house"


# What is refused, and what is then in force.


def problems(tiny_folder: Path, house: Path) -> list[Problem]:
    return check_folder(tiny_folder, house)


def test_all_problems_come_at_once_with_file_and_line(tiny_folder: Path, house: Path) -> None:
    """A wrong record, two of one id, a library id claimed, a cycle through both folders, an unreadable file."""
    lay_house(
        house,
        "movements:\n"
        "- {id: wrong, skill: 9}\n"
        "- {id: twin, name: twin one}\n"
        "- {id: twin, name: twin two}\n"
        "- {id: run}\n"
        "- {id: round, name: round, needs: [toes-to-bar]}\n"
        "---\nchanges:\n- {record: hanging-knee-raise, set: {needs: [round]}, why: w}\n"
        "---\nlinks:\n- {from: wrong, to: march, kind: easier, why: w}\n"
        "- {from: twin, to: nowhere, kind: easier, why: w}\n",
    )
    (house / "rules.yaml").write_bytes(b"rules:\n- \xff\n")
    found = problems(tiny_folder, house)
    at = [(Path(p.file).relative_to(house).as_posix(), p.line, p.rule) for p in found]
    assert at == [
        ("changes.yaml", 9, "needs-acyclic"),
        ("links/ours.yaml", 13, "id-known"),
        ("movements/ours.yaml", 2, "field-type"),
        ("movements/ours.yaml", 4, "id-unique"),
        ("movements/ours.yaml", 5, "id-unique"),
        ("rules.yaml", 2, "structure"),
    ], "\n".join(map(str, found))
    assert "(movements/movements.yaml:" in next(p.mend + p.what for p in found if p.line == 5)


def test_files_that_cannot_be_read_are_told(tiny_folder: Path, house: Path) -> None:
    lay_house(house, NO_RUNS)
    (house / "names.yaml").symlink_to(house / "gone.yaml")
    write(house, "changes.yml", "changes: []\n")
    write(house, "menu.yaml", "menu: []\n")
    write(house, "names.yaml.d/names.yaml", "names: []\n")
    write(house, ".hidden/rules.yaml", "not: [a rule\n")
    write(house, "notes.txt", "buy chalk\n")
    os.mkfifo(house / "sources.yaml")
    found = {Path(p.file).relative_to(house).as_posix(): p.what for p in problems(tiny_folder, house)}
    assert found == {
        "names.yaml": "cannot be read (FileNotFoundError)",
        "changes.yml": "is not read: its name must end in .yaml",
        "menu.yaml": "is no file of a house",
        "names.yaml.d/names.yaml": "is no file of a house",
        "sources.yaml": "is no plain file",
    }


def test_folder_without_files_is_a_problem(tiny_folder: Path, house: Path) -> None:
    house.mkdir()
    (problem,) = problems(tiny_folder, house)
    assert problem.what == "is missing: the folder holds no .yaml file"


def test_library_record_made_untrue_is_told_as_the_houses(tiny_folder: Path, house: Path) -> None:
    lay_house(house, "changes:\n- {record: march, set: {demands: {landing: 2, heart-rate: 1}}, why: stamping}\n")
    (problem,) = problems(tiny_folder, house)
    assert (problem.rule, problem.file) == ("link-spares", "links/links.yaml")
    assert "comes of a change in the house" in problem.mend


def test_house_asked_for_and_broken_answers_nothing(tiny_folder: Path, house: Path) -> None:
    lay_house(house, TWO_ERRORS)
    with pytest.raises(HouseError, match=r"has 2 errors and nothing was answered; first: .*rules.yaml:2:") as caught:
        in_force(tiny_folder, house)
    assert len(caught.value.problems) == 2


def test_sense_is_checked_before_a_house_is_in_force(tiny_folder: Path, house: Path) -> None:
    lay_house(house, "changes:\n- {record: run, set: {character: wobbly}, why: w}\n")
    with pytest.raises(HouseError, match="no character is called 'wobbly'"):
        in_force(tiny_folder, house)


def test_warnings_do_not_keep_a_house_out(tiny_folder: Path, house: Path) -> None:
    lay_house(house, "changes:\n- {record: run, set: {demands.landing: 1}, why: grass}\n")
    assert [p.severity for p in problems(tiny_folder, house)] == ["warning"]
    assert in_force(tiny_folder, house).library.movements["run"].grade("landing") == 1


def test_own_house_that_is_broken_leaves_the_library_alone_and_says_so_once(
    tiny_folder: Path, house: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lay_house(house, NO_RUNS + TWO_ERRORS.removeprefix("rules:\n"))
    for _ in range(2):
        base = in_force(tiny_folder, house, asked_for=False)
        assert base.library.house.rules == ()
        assert base.library.version == compiled(tiny_folder).library.version
    said = capsys.readouterr().err
    assert len(said.splitlines()) == 1
    assert "2 errors, so the library alone is in force; first: " in said


def test_missing_folder(tiny_folder: Path, house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(AskError, match="is not there; nothing was answered"):
        in_force(tiny_folder, house)
    assert in_force(tiny_folder, house, asked_for=False).library.house.name == ""
    assert "the library alone is in force" in capsys.readouterr().err
    house.write_text("a file")
    with pytest.raises(AskError, match="is no folder"):
        in_force(tiny_folder, house)


# Which folder, and when it is read again.


def test_every_change_of_a_house_changes_its_key(tmp_path: Path, house: Path) -> None:
    write(house, "rules.yaml", NO_RUNS)
    keys = [house_key(house, "k")]
    write(house, "rules.yaml", NO_RUNS.replace("run]", "row]"))
    keys.append(house_key(house, "k"))
    write(house, "links/ours.yaml", "")
    keys.append(house_key(house, "k"))
    (house / "links" / "ours.yaml").rename(house / "links" / "more.yaml")
    keys.append(house_key(house, "k"))
    write(house, "names.yml", "")
    keys.append(house_key(house, "k"))
    (house / "names.yaml").symlink_to(house / "gone.yaml")
    keys.append(house_key(house, "k"))
    keys.append(house_key(house, "another library"))
    assert len(set(keys)) == len(keys)
    assert house_key(house, "another library") == keys[-1]


def test_compiled_library_and_its_files_make_the_same_whole(tmp_path: Path) -> None:
    folder = tmp_path / "gym"
    for path in new_house(folder):
        path.write_text(SAMPLE.sub("", path.read_text(encoding="utf-8")), encoding="utf-8")
    files = load_with_house(library_folder(), folder, "v").library
    quick = load_with_house(compiled().library, folder, "v").library
    assert files is not None
    assert quick is not None
    assert quick.packed == files.packed


def test_mended_house_comes_into_force(tiny_folder: Path, house: Path) -> None:
    lay_house(house, TWO_ERRORS)
    with pytest.raises(HouseError):
        in_force(tiny_folder, house)
    lay_house(house, NO_RUNS)
    house_module._judged.cache_clear()
    base = in_force(tiny_folder, house)
    assert [rule.id for rule in base.library.house.rules] == ["no-runs"]
    assert base.library.version != compiled(tiny_folder).library.version


def test_second_ask_reads_no_yaml(tiny_folder: Path, house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lay_house(house, NO_RUNS)
    first = in_force(tiny_folder, house)
    house_module._judged.cache_clear()
    monkeypatch.setattr("subgraph.library.overlay.load_with_house", lambda *_: pytest.fail("read again"))
    assert in_force(tiny_folder, house).library.version == first.library.version


def test_which_folder_is_meant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    own = tmp_path / "config" / "subgraph" / "house"
    monkeypatch.setattr(where, "own_house_folder", lambda: own)
    monkeypatch.delenv("SUBGRAPH_HOUSE")
    assert house_folder(None) is None
    own.mkdir(parents=True)
    assert house_folder(None) == (own, False)
    assert house_folder("none") is None
    assert house_folder("there") == (Path("there"), True)
    monkeypatch.setenv("SUBGRAPH_HOUSE", "elsewhere")
    assert house_folder(None) == (Path("elsewhere"), False)
    assert house_folder("there") == (Path("there"), True)
    monkeypatch.setenv("SUBGRAPH_HOUSE", "none")
    assert house_folder(None) is None
    assert house_folder("there") == (Path("there"), True)


@pytest.mark.parametrize("base", [None, "somewhere"])
def test_own_folder_is_where_the_platform_keeps_settings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, base: str | None
) -> None:
    if base:
        monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / base))
    else:
        monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    wanted = platformdirs.user_config_path("subgraph", appauthor=False) / "house"
    assert own_house_folder() == wanted
    monkeypatch.setattr("sys.platform", "another")
    assert own_house_folder() == wanted


# The template.


def test_template_is_sound_and_changes_nothing_but_the_name(tmp_path: Path) -> None:
    folder = tmp_path / "gym"
    written = new_house(folder)
    assert {p.relative_to(folder).parts[0] for p in written} == {
        *("house.yaml", "equipment.yaml", "names.yaml", "changes.yaml", "rules.yaml", "sources.yaml"),
        *("movements", "links", "ratios"),
    }
    loaded = load_with_house(library_folder(), folder, "v")
    assert loaded.library is not None, "\n".join(map(str, loaded.problems))
    assert loaded.library.laid == []
    assert loaded.library.house.name == "our gym"
    plain = compiled().library
    assert loaded.library.packed.movements == plain.packed.movements
    assert loaded.library.packed.links == plain.packed.links


def test_every_sample_of_the_template_passes_the_lint(tmp_path: Path) -> None:
    for path in new_house(tmp_path):
        text = path.read_text(encoding="utf-8")
        assert SAMPLE.search(text), f"{path.name} has no sample"
        path.write_text(SAMPLE.sub("", text), encoding="utf-8")
    loaded = load_with_house(library_folder(), tmp_path, "v")
    assert not [str(p) for p in (*loaded.problems, *errors_of(loaded))]
    assert loaded.library is not None
    assert {laid.what for laid in loaded.library.laid} == {"added", "changed", "named", "rule", "owned"}
    assert loaded.library.house.emergency == "112"


def test_template_never_overwrites(tmp_path: Path) -> None:
    mine = write(tmp_path, "house.yaml", "house: mine\n")
    for folder, what in ((tmp_path, "is not empty"), (mine, "is a file"), (mine / "below", "can't be written")):
        with pytest.raises(AskError, match=what):
            new_house(folder)
    assert [p.name for p in tmp_path.iterdir()] == ["house.yaml"]
    assert mine.read_text() == "house: mine\n"
