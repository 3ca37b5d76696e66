"""Demands that contradict the equipment, the stance or the energy of the same record."""

from __future__ import annotations

from collections.abc import Iterator

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.records import equipment_in

_HANGING = {
    "pull-up-bar",
    "rings",
    "climbing-rope",
    "suspension-trainer",
    "parallel-bars",
    "barbell",
    "towel",
    "rack",
}
_OF_STANCE = {  # a stance that cannot be had without these demands
    "hanging": ("hang", "grip"),
    "prone": ("prone",),
    "supine": ("supine",),
    "inverted": ("inversion", "wrist-extension", "neck"),
    "kneeling": ("kneeling",),
}
_FLOOR = ("prone", "supine", "side-lying", "floor-seated", "hands-and-feet", "kneeling")


def against_equipment(site: Site) -> Iterator[Problem]:
    """Who hangs needs something to hang from; who carries a bar on the shoulders has contact with it.

    Good: hang 3 with a pull-up bar. Bad: hang 3 with no equipment.
    """
    for m in site.library.movements.values():
        used = {item for need in m.uses for item in equipment_in(need)}
        if (
            m.grade("hang")
            and not used & _HANGING
            and "partner" not in used
            and "band" not in used
            and not used & {"lat-pulldown", "assisted-pull-up-machine"}
        ):
            yield site.problem(
                "movements",
                m.id,
                "demands",
                f"hangs ({m.grade('hang')}) from nothing",
                mend="add what it hangs from to uses",
                rule="demand-equipment",
            )
        if m.load and m.grade("grip") == 0 and m.hands and m.load.implement in ("dumbbell", "kettlebell", "barbell"):
            yield site.problem(
                "movements",
                m.id,
                "demands",
                f"holds a {m.load.implement} without grip",
                mend="grade grip",
                rule="demand-equipment",
            )


def against_stance(site: Site) -> Iterator[Problem]:
    """A body position brings its demands with it.

    Good: stance prone with prone 2. Bad: stance hanging without hang.
    """
    for m in site.library.movements.values():
        for stance in m.stance:
            wanted = _OF_STANCE.get(stance, ())
            if wanted and not any(m.grade(d) for d in wanted):
                yield site.problem(
                    "movements",
                    m.id,
                    "demands",
                    f"is {stance} but has none of {', '.join(wanted)}",
                    mend="grade it, or mend the stance",
                    rule="demand-stance",
                )
        if "floor" in m.traits and not m.grade("floor-transfer"):
            yield site.problem(
                "movements",
                m.id,
                "demands",
                "goes to the floor without floor-transfer",
                mend="grade floor-transfer",
                rule="demand-stance",
            )
        if m.grade("floor-transfer") and "floor" not in m.traits:
            yield site.problem(
                "movements",
                m.id,
                "traits",
                "has floor-transfer but not the trait floor",
                mend="add the trait floor",
                rule="demand-stance",
            )
        if "jump" in m.traits and not m.grade("landing"):
            yield site.problem(
                "movements",
                m.id,
                "demands",
                "jumps without landing",
                mend="grade landing",
                rule="demand-stance",
            )
        if any(s in _FLOOR for s in m.stance) and "floor" not in m.traits and not m.uses:
            yield site.problem(
                "movements",
                m.id,
                "traits",
                f"is {m.stance[0]} with no equipment but lacks the trait floor",
                mend="add the trait floor",
                rule="demand-stance",
            )


def against_energy(site: Site) -> Iterator[Problem]:
    """The heart-rate grade is a matter of METs: 3, 6 and 9 are the borders.

    Good: 8 METs with heart-rate 2. Bad: 8 METs with heart-rate 1.
    """
    for m in site.library.movements.values():
        met = m.met.value
        grade = 3 if met >= 9 else 2 if met >= 6 else 1 if met >= 3 else 0
        if m.grade("heart-rate") != grade:
            yield site.problem(
                "movements",
                m.id,
                "demands",
                f"heart-rate is {m.grade('heart-rate')}, {met:g} METs make it {grade}",
                mend=f"write heart-rate: {grade}" if grade else "leave heart-rate out",
                rule="demand-energy",
            )


def explained(site: Site) -> Iterator[Problem]:
    """A reason is given only for a demand that is graded (checked with the ids); cues stay short enough to call.

    Good: a cue of up to 70 characters. Bad: a paragraph.
    """
    for m in site.library.movements.values():
        for position, cue in enumerate(m.cues):
            if len(cue) > 70:
                yield site.problem(
                    "movements",
                    m.id,
                    f"cues.{position}",
                    f"is {len(cue)} characters long",
                    mend="shorten it to 70",
                    rule="cue-length",
                )
