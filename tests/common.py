"""Shared builders: a tiny sound library, overlays on it, and a few short cuts."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import yaml

from subgraph.library.cache import stored
from subgraph.library.compile import content_key
from subgraph.library.knowledge import Library
from subgraph.library.load import load_folder

ROOT = Path(__file__).resolve().parent.parent

# What every movement of the tiny library has unless it says otherwise: an air squat.
PLAIN_MOVEMENT: dict[str, Any] = {
    "name": "air squat",
    "pattern": {"squat": 1.0},
    "muscles": {"quads": 3},
    "character": "dynamic",
    "suits": ["conditioning"],
    "skill": 0,
    "strength": 1,
    "uses": [],
    "stance": ["standing"],
    "hands": 0,
    "area": "mat",
    "height": "low",
    "noise": "silent",
    "demands": {"heart-rate": 1},
    "units": {"rep": [2.0, 1.5, 1.2]},
    "sides": "both",
    "met": {"value": 5.0, "source": "common-practice"},
    "cues": ["chest up", "knees over the toes"],
    "faults": [{"see": "heels lift", "say": "sit back"}],
    "sources": ["common-practice"],
}
PLAIN_RATIO: dict[str, Any] = {"basis": "practice", "source": "common-practice"}
PLAIN_COMPLAINT: dict[str, Any] = {
    "name": "sore elbow",
    "site": "elbow",
    "kind": "site",
    "pain_zones_apply": True,
    "principle": "Work the legs and spare the arms.",
    "ask_first": "Any swelling?",
    "sources": ["common-practice"],
    "reviewed": "2026-01-01",
}
_PLAIN = {"movements": PLAIN_MOVEMENT, "ratios": PLAIN_RATIO, "complaints": PLAIN_COMPLAINT}

# Section to file; a name without ending is a folder.
_HOME = {
    "movements": "movements",
    "links": "links",
    "ratios": "ratios",
    "complaints": "complaints",
    "provocations": "complaints",
    "equipment": "equipment.yaml",
    "demands": "demands.yaml",
    **dict.fromkeys(
        ("patterns", "muscles", "characters", "stances", "areas", "heights", "noises", "limits", "levels"),
        "vocabulary.yaml",
    ),
    "abbreviations": "vocabulary.yaml",
    "intents": "intents.yaml",
    "scoring": "intents.yaml",
    "red_flag_levels": "red_flags.yaml",
    "red_flags": "red_flags.yaml",
    "cautions": "cautions.yaml",
    "sources": "sources.yaml",
    "postures": "postures.yaml",
    **dict.fromkeys(("domains", "slowing", "changes", "rules", "doses", "concerns", "load_paths"), "workout.yaml"),
    "versions": "versions.yaml",
    "situations": "situations.yaml",
    "rungs": "rungs.yaml",
    "words": "words.yaml",
    **dict.fromkeys(("computed", "published", "accepted"), "grading.yaml"),
}


def _real_words() -> list[dict[str, Any]]:
    """The word lists as shipped: they are plain English, the same for any library."""
    found: list[dict[str, Any]] = yaml.safe_load((ROOT / "library" / "words.yaml").read_text(encoding="utf-8"))["words"]
    return found


def movement(id_: str, **fields: Any) -> dict[str, Any]:
    """One movement record: the plain one with other fields."""
    return {**PLAIN_MOVEMENT, "id": id_, "name": id_.replace("-", " "), **fields}


def _terms(*ids: str) -> list[dict[str, Any]]:
    return [{"id": id_, "name": id_.replace("-", " ")} for id_ in ids]


def tiny_records() -> dict[str, Any]:
    """Every section of the tiny library, freshly built: sixteen movements that a coach would know."""
    bar = {"uses": ["pull-up-bar"], "stance": ["hanging"], "hands": 2, "height": "rig"}
    floor = {"traits": ["floor"], "stance": ["supine"]}
    lying = {"supine": 2, "floor-transfer": 1, "heart-rate": 1}
    rope = {"uses": ["skipping-rope"], "traits": ["jump"], "pattern": {"jump": 1.0}, "hands": 2}
    loaded = {"uses": ["barbell"], "hands": 2, "load": {"kg": [43, 30], "implement": "barbell"}}
    met = {n: {"value": n, "source": "common-practice"} for n in (2.5, 4.0, 7.0, 8.0, 10.0, 11.0)}
    pull = {"pattern": {"pull": 1.0}, "muscles": {"lats": 3}}
    trunk = {"pattern": {"trunk": 1.0}, "muscles": {"abdominals": 3}}
    return {
        "movements": [
            movement(
                "toes-to-bar",
                **(bar | trunk),
                also=["T2B", "toes to bars"],
                skill=3,
                strength=3,
                needs=["hanging-knee-raise"],
                demands={"hang": 3, "grip": 2, "heart-rate": 2},
                met=met[7.0],
            ),
            movement(
                "hanging-knee-raise",
                **(bar | trunk),
                also=["HKR"],
                skill=1,
                strength=2,
                demands={"hang": 2, "grip": 2, "heart-rate": 1},
            ),
            movement("v-up", **(floor | trunk), skill=1, strength=2, demands=lying),
            movement("tuck-up", **(floor | trunk), demands=lying),
            movement(
                "pull-up",
                **(bar | pull),
                skill=1,
                strength=3,
                demands={"hang": 2, "grip": 2, "heart-rate": 2},
                met=met[8.0],
            ),
            movement(
                "ring-row", **pull, uses=["rings"], stance=["leaning"], hands=2, demands={"grip": 2, "heart-rate": 1}
            ),
            movement("bent-over-row", **(loaded | pull), demands={"grip": 1, "heart-rate": 1}),
            movement(
                "double-under",
                **rope,
                also=["DU"],
                skill=3,
                needs=["single-under"],
                demands={"landing": 2, "heart-rate": 3},
                units={"rep": [0.7, 0.6, 0.5]},
                met=met[11.0],
                cap={"amount": 100, "seconds": 120},
            ),
            movement(
                "single-under",
                **rope,
                demands={"landing": 2, "heart-rate": 2},
                units={"rep": [0.6, 0.5, 0.5]},
                met=met[8.0],
            ),
            movement(
                "thruster",
                **loaded,
                skill=2,
                strength=3,
                height="reach",
                demands={"overhead": 2, "grip": 1, "heart-rate": 2},
                met=met[8.0],
            ),
            movement("air-squat"),
            movement(
                "run",
                pattern={"gait": 1.0},
                uses=["open-floor"],
                area="outdoors",
                traits=["run"],
                demands={"landing": 2, "heart-rate": 3},
                units={"m": [0.42, 0.33, 0.27]},
                met=met[10.0],
            ),
            movement(
                "row",
                pattern={"gait": 0.6, "pull": 0.4},
                uses=["rowing-ergometer"],
                stance=["seated"],
                hands=2,
                demands={"grip": 1, "heart-rate": 2},
                units={"m": [0.3, 0.25, 0.22], "cal": [6.0, 4.5, 3.5]},
                met=met[8.0],
            ),
            movement("march", pattern={"gait": 1.0}, sides="alternating", met=met[4.0]),
            movement(
                "plank",
                **(floor | trunk | {"stance": ["prone"]}),
                demands={"prone": 2, "floor-transfer": 1},
                units={"s": [1.0, 1.0, 1.0]},
                met=met[2.5],
            ),
            movement(
                "push-up",
                **(floor | {"stance": ["prone"]}),
                strength=2,
                demands={"prone": 2, "floor-transfer": 1, "heart-rate": 1},
                met=met[4.0],
            ),
        ],
        "links": [
            {"from": "toes-to-bar", "to": "hanging-knee-raise", "kind": "easier", "why": "same hang, shorter lever"},
            {
                "from": "toes-to-bar",
                "to": "v-up",
                "kind": "sideways",
                "without": ["pull-up-bar"],
                "spares": ["hang"],
                "why": "same fold from the floor",
            },
            {"from": "v-up", "to": "tuck-up", "kind": "easier", "why": "knees bent"},
            {"from": "pull-up", "to": "ring-row", "kind": "easier", "why": "feet carry some"},
            {
                "from": "ring-row",
                "to": "bent-over-row",
                "kind": "sideways",
                "without": ["rings"],
                "why": "same pull with a bar",
            },
            {"from": "double-under", "to": "single-under", "kind": "easier", "why": "one turn"},
            {"from": "single-under", "to": "march", "kind": "easier", "spares": ["landing"], "why": "no landing"},
            {"from": "thruster", "to": "air-squat", "kind": "easier", "without": ["barbell"], "why": "no bar"},
            {"from": "run", "to": "row", "kind": "sideways", "for": ["conditioning"], "why": "same engine"},
            {"from": "row", "to": "march", "kind": "easier", "without": ["rowing-ergometer"], "why": "nothing needed"},
            {"from": "plank", "to": "push-up", "kind": "harder", "why": "bend the arms"},
        ],
        "ratios": [
            {
                **PLAIN_RATIO,
                "id": "du-su",
                "from": "double-under",
                "to": "single-under",
                "ratio": 2,
                "low": 1.5,
                "high": 2.5,
                "pages": 5,
            },
            {
                **PLAIN_RATIO,
                "id": "t2b-tuck",
                "from": "toes-to-bar",
                "to": "tuck-up",
                "ratio": 3,
                "low": 1.5,
                "high": 4,
                "pages": 2,
            },
            {
                **PLAIN_RATIO,
                "id": "pull-row",
                "from": "pull-up",
                "to": "ring-row",
                "ratio": 2,
                "low": 1,
                "high": 4,
                "equals": "effort",
            },
            {
                **PLAIN_RATIO,
                "id": "run-row",
                "from": "run",
                "to": "row",
                "units": ["m", "m"],
                "ratio": 1.25,
                "low": 1,
                "high": 1.4,
                "equals": "time",
            },
        ],
        "equipment": [
            {"id": "open-floor", "name": "room to run", "surroundings": True},
            {
                "id": "rig",
                "name": "rig",
                "also": ["pull-up rig"],
                "holds": ["pull-up-bar", "rings"],
            },
            *_terms("pull-up-bar", "rings", "skipping-rope", "barbell", "rowing-ergometer"),
            {"id": "dumbbell", "name": "dumbbell", "also": ["DB"], "sizes_kg": [5, 10, 15]},
        ],
        "demands": [
            {
                "id": id_,
                "name": id_.replace("-", " "),
                "measure": "how much",
                "grades": {"1": "some", "2": "more", "3": "most"},
                "source": "common-practice",
            }
            for id_ in (
                "overhead",
                "hang",
                "grip",
                "landing",
                "floor-transfer",
                "supine",
                "prone",
                "kneeling",
                "heart-rate",
            )
        ],
        "patterns": [
            {"id": "squat", "name": "squatting", "kin": {"jump": 0.5}},
            *_terms("jump", "pull", "trunk", "gait"),
        ],
        "muscles": _terms("quads", "lats", "abdominals"),
        "characters": _terms("dynamic", "elastic"),
        "stances": _terms("standing", "leaning", "seated", "kneeling", "hanging", "supine", "prone"),
        "areas": [
            {"id": "mat", "name": "a mat", "square_m": 3.7},
            {"id": "outdoors", "name": "a street", "square_m": 100},
        ],
        "heights": [
            {"id": "low", "name": "low", "height_m": 2.1},
            {"id": "reach", "name": "reach", "height_m": 2.5},
            {"id": "rig", "name": "rig", "height_m": 3.7},
        ],
        "noises": _terms("silent", "loud"),
        "limits": [
            {"id": "no-jumping", "name": "no jumping", "also": ["no jumps"], "excludes": {"traits": ["jump"]}},
            {"id": "low-ceiling", "name": "low ceiling", "most": {"height": "low"}},
        ],
        "levels": [
            {"id": "novice", "name": "novice", "also": ["beginner"], "skill": 2, "strength": 2},
            {"id": "regular", "name": "regular", "skill": 3, "strength": 3},
            {"id": "advanced", "name": "advanced", "skill": 5, "strength": 5},
        ],
        "abbreviations": {"db": "dumbbell", "oh": "overhead"},
        "intents": [
            {"id": id_, "name": id_, "weights": {"pattern": 1.5, "muscles": 1.0, "link": 1.0}}
            for id_ in ("conditioning", "strength", "skill", "warm-up")
        ],
        "postures": [{"movement": "plank", "start": {"trunk_deg": 10}, "end": {"trunk_deg": 10}, "why": "held still"}],
        "computed": [
            {"id": "hang-all", "demand": "hang", "quantity": "hang-share", "borders": [0.1, 0.5, 0.9], "why": "share"}
        ],
        "published": [
            {
                "id": "landing-rope",
                "demand": "landing",
                "grade": 2,
                "movements": ["single-under"],
                "figure": "2.5 body weights",
                "source": "common-practice",
                "seen": "memory",
            }
        ],
        "accepted": [],
        "scoring": {
            "least_score": 0.1,
            "good_score": 0.4,
            "wide_interval": 2.0,
            "harder_reach": 2,
            "easily_learnt": 2,
            "degrees": {
                **dict.fromkeys(
                    ("second_hand", "other_intent", "written_for_another", "no_obstacle_named", "other_obstacle"), 0.5
                ),
                **{
                    "few_pages": 0.25,
                    "from_memory": 0.5,
                    "for_some": 0.75,
                    "well_known": 6,
                    "well_linked": 18,
                    "long_list": 8,
                },
                "nothing_in_common": 4,
            },
        },
        "complaints": [
            {
                **PLAIN_COMPLAINT,
                "id": "shoulder",
                "name": "sore shoulder",
                "site": "shoulder",
                "at_most": {"hang": [1, 0, 0], "overhead": [2, 1, 0]},
            },
            {
                **PLAIN_COMPLAINT,
                "id": "new-swelling",
                "name": "new swelling",
                "kind": "condition",
                "refer": True,
                "refer_text": "see a clinician first",
                "refer_level": "clinician",
            },
        ],
        "provocations": [{"id": "overhead", "name": "arms overhead", "at_most": {"overhead": [1, 0, 0]}}],
        "red_flag_levels": [
            {"id": "emergency", "name": "call for help now"},
            {"id": "urgent", "name": "seen today"},
            {"id": "clinician", "name": "seen before the next session"},
        ],
        "red_flags": [
            {
                "id": "chest",
                "group": "heart",
                "level": "emergency",
                "sees": "Pain or pressure in the chest.",
                "first_steps": ["stop, sit down"],
                "phrases": ["chest pain*|tight*|hurt*", "heart attack"],
                "not": ["chest to bar", "tight to the chest"],
                "sources": ["common-practice"],
            },
            {
                "id": "collapse",
                "group": "heart",
                "level": "emergency",
                "sees": "Drops and does not answer.",
                "first_steps": ["call"],
                "phrases": ["collapsed", "not|isn't breathing"],
                "denials_ok": False,
                "sources": ["common-practice"],
            },
            {
                "id": "numb-leg",
                "group": "spine",
                "level": "urgent",
                "sees": "A numb leg.",
                "first_steps": ["stop"],
                "phrases": ["numb* leg|thigh"],
                "weak": ["pins needles"],
                "sources": ["common-practice"],
            },
        ],
        "cautions": [
            {"id": "default", "when": "any answer", "text": "Stop if it hurts. Emergency: {emergency}."},
            {"id": "refer", "when": "a referral", "text": "No training today. Emergency: {emergency}."},
        ],
        "sources": [{"id": "common-practice", "citation": "Common practice", "kind": "practice"}],
        "situations": [],
        "rungs": [],
        "words": _real_words(),
    }


class _Plain(yaml.SafeDumper):
    """YAML without anchors: the reader refuses aliases."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def as_yaml(value: Any) -> str:
    """Block style outside, one line inside, keys in the order given."""
    return yaml.dump(value, Dumper=_Plain, sort_keys=False, width=10_000, default_flow_style=None)


def key_of(record: dict[str, Any]) -> str:
    """What a record is replaced by: its id, or the two ends of a link."""
    return record.get("id") or record.get("movement") or f"{record.get('from')}>{record.get('to')}"


def _top(section: str) -> str:
    return "levels" if section == "red_flag_levels" else section


def _write(folder: Path, records: dict[str, Any]) -> None:
    by_file: dict[str, dict[str, Any]] = {}
    for section, value in records.items():
        home = _HOME[section]
        file = home if home.endswith(".yaml") else f"{home}/{section}.yaml"
        by_file.setdefault(file, {})[_top(section)] = value
    for file, content in by_file.items():
        write(folder, file, "".join(as_yaml({key: value}) for key, value in content.items()))


def write(folder: Path, file: str, text: str) -> Path:
    """Write one file below a folder and give its path."""
    path = folder / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def tiny_library(folder: Path, **changes: Any) -> Path:
    """Write the tiny library as YAML.

    Each change names a section. A list of records takes the place of those with the same id (or the same two ends),
    and adds the others; a mapping takes the place of the whole (`abbreviations`, `scoring`).
    """
    records = tiny_records()
    for section, new in changes.items():
        if isinstance(new, dict):
            records[section] = new
        else:
            replaced = {key_of(r) for r in new}
            records[section] = [r for r in records.get(section, []) if key_of(r) not in replaced] + list(new)
    _write(folder, records)
    return folder


def load_tiny(folder: Path, **changes: Any) -> Library:
    """The tiny library, loaded; the test fails with its problems where it is unsound."""
    tiny_library(folder, **changes)
    loaded = load_folder(folder, content_key(folder)[:12])
    assert loaded.library is not None, "\n".join(map(str, loaded.problems))
    return loaded.library


def lay_over(folder: Path, overlay: str) -> set[str]:
    """Write the tiny library with an overlay on it; give the files that the overlay went to.

    An overlay is YAML in parts between `---` lines, one section each, named as in `tiny_records`. Its records keep
    their line numbers; they take the place of those with the same id, and what they leave out is filled in from the
    plain record of their kind.
    """
    records = tiny_records()
    lines = overlay.split("\n")
    starts = [0, *(i + 1 for i, line in enumerate(lines) if line == "---")]
    parts: list[tuple[str, str]] = []
    for start, end in zip(starts, [*(s - 1 for s in starts[1:]), len(lines)], strict=True):
        body = "\n".join(lines[start:end])
        section = next(s for s in re.findall(r"^([a-z_]+):", body, re.M) if s in _HOME)
        for key in _keys_in(body, section):
            records[section] = [r for r in records.get(section, []) if key_of(r) != key]
        body = re.sub(r"^red_flag_levels:", "levels:", body, flags=re.M)
        parts.append((section, "\n" * start + body.rstrip() + "\n"))
    _write(folder, records)
    files = set()
    for number, (section, text) in enumerate(parts):
        home = _HOME[section]
        if not home.endswith(".yaml"):
            home = f"{home}/overlay-{number}.yaml"
            if section in _PLAIN and "\ndefaults:" not in text:
                text += as_yaml({"defaults": _PLAIN[section]})
        else:
            rest = {_top(s): v for s, v in records.items() if _HOME[s] == home}
            text += as_yaml(rest.pop(_top(section))) if rest[_top(section)] else ""
            text += "".join(as_yaml({key: value}) for key, value in rest.items() if key != _top(section))
        write(folder, home, text)
        files.add(home)
    return files


_HOUSE_HOME = {
    "house": "house.yaml",
    "owns": "equipment.yaml",
    **{section: f"{section}.yaml" for section in ("equipment", "names", "changes", "rules", "sources")},
    **{section: f"{section}/ours.yaml" for section in ("movements", "links", "ratios")},
}


def lay_house(folder: Path, text: str) -> set[str]:
    """Write a house folder from YAML in parts between `---` lines; give the files as problems name them.

    The first key of a part decides its file. Records keep their line numbers; movements and ratios are filled in from
    the plain record of their kind.
    """
    lines = text.split("\n")
    starts = [0, *(i + 1 for i, line in enumerate(lines) if line == "---")]
    files = set()
    for start, end in zip(starts, [*(s - 1 for s in starts[1:]), len(lines)], strict=True):
        body = "\n".join(lines[start:end])
        section = next(s for s in re.findall(r"^([a-z_]+):", body, re.M) if s in _HOUSE_HOME)
        body = "\n" * start + body.rstrip() + "\n"
        if section in _PLAIN and "\ndefaults:" not in body:
            body += as_yaml({"defaults": _PLAIN[section]})
        files.add(str(write(folder, _HOUSE_HOME[section], body)))
    return files


def _keys_in(body: str, section: str) -> Iterable[str]:
    try:
        value = yaml.safe_load(body)
        return [key_of(r) for r in value[section]]
    except (yaml.YAMLError, AttributeError, TypeError, KeyError):
        return []


def store_at(folder: str, barrier: Any, results: Any) -> None:
    """Run in a second process: store a payload at the same moment as the others, and tell what came back."""
    import os

    os.environ["SUBGRAPH_CACHE"] = folder

    def build() -> bytes:
        barrier.wait(timeout=60)
        return b"payload" * 50_000

    results.put(stored("thing", "key", build) == b"payload" * 50_000)


def compile_at(cache: str, library: str, barrier: Any, results: Any) -> None:
    """Run in a second process: compile a library at the same moment as the others, and tell how many movements."""
    import os

    os.environ["SUBGRAPH_CACHE"] = cache
    from subgraph.library.compile import compiled

    barrier.wait(timeout=60)
    results.put(len(compiled(Path(library)).library.movements))
