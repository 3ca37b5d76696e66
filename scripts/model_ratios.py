"""Compute the modelled evidence of the ratio network: `library/ratios/modelled-mechanics.yaml` and `-energy.yaml`.

Run by `scripts/model_ratios`; the same inputs give the same bytes. Every ratio says how many of `to` take the work, the
effort or the energy of one of `from`; its sigma is the model's error by the rules printed at the head of each file.

Left out on purpose:

- Ratios of maxima between lifts (`models.lifts`) tell loads, not repetitions. As repetitions they would need the share
  of the maximum that a usual load is for a member, which no record holds; so there is no `modelled-load.yaml`.
- Loaded hip bridges: the load lies on the hips, which the mechanics cannot place.
- Pike push-ups and straight bars on boxes: the planar body has no posture for them that was checked.
- Wall planks: their force on the hands (0.08 of body weight) is hardly more than its error.
- Curl-based trunk work against sit-ups by moment: a straight spine cannot curl, so only work is compared.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import pairwise
from pathlib import Path
from typing import Any, Literal

import msgspec
import yaml

from subgraph.errors import RangeError
from subgraph.library.records import Movement
from subgraph.models.body import Body
from subgraph.models.energy import RELATIVE_ERROR, Effort, met_of_oxygen, metabolic_power_w, power_of_w
from subgraph.models.mechanics import (
    HAND_SHARE_SIGMA,
    STRAP_FORCE_SIGMA,
    WORK_LOG_SIGMA,
    Posture,
    force_on_hands,
    posture_from_mapping,
    share_on_hands,
    work_per_rep_j_per_kg,
)
from subgraph.models.metabolic import oxygen_of_stepping
from subgraph.ratios import Z_80

ROOT = Path(__file__).resolve().parent.parent
BODIES = (Body.mean("male"), Body.mean("female"))
MEMBER_KG = 75.0

# Judgement, stated at the head of the file.
APPROXIMATE_SIGMA = 0.25  # a posture that simplifies legs, arms or a swing
SAME_MUSCLES_SIGMA = 0.20  # work or force taken as effort, the same muscles working
OTHER_MUSCLES_SIGMA = 0.35  # added where half or more of the main muscles differ
MET_SIGMA = 0.20  # one table value taken for all members
STEP_SIGMA = 0.08  # standard error 1.7 mL/kg/min (latin2001) over about 22
SAME = 0.02
BEYOND_SIGMA = 0.25  # an equation used outside its range

Method = Literal["work", "hands"]

# Chains of neighbours: each is joined to the next, and the first of a group to the ones behind "|".
# `work` compares work per rep; `hands` the force that the hands carry, as a share of body weight.
MECHANICS: tuple[tuple[Method, str], ...] = (
    ("work", "air-squat squat-to-calf-raise"),
    ("work", "air-squat box-squat high-box-squat quarter-squat"),
    ("work", "air-squat sit-to-stand raised-seat-sit-to-stand high-box-squat"),
    ("work", "air-squat squat-with-reach wall-facing-squat"),
    ("work", "air-squat sumo-squat alternating-lunge box-step-up air-squat"),
    ("work", "air-squat medicine-ball-squat goblet-squat front-squat back-squat barbell-box-squat"),
    ("work", "air-squat vest-squat goblet-squat plate-squat"),
    ("work", "goblet-squat goblet-box-squat box-squat"),
    ("work", "goblet-squat single-dumbbell-front-squat dumbbell-front-squat front-squat"),
    ("work", "goblet-squat single-kettlebell-rack-squat kettlebell-front-squat front-squat overhead-squat"),
    ("work", "dumbbell-squat goblet-squat sandbag-squat front-squat crook-held-squat"),
    ("work", "air-squat stick-overhead-squat plate-overhead-squat overhead-squat"),
    ("work", "fast-sit-to-stand sit-to-stand box-step-up"),
    ("work", "alternating-lunge reverse-lunge shallow-reverse-lunge"),
    ("work", "reverse-lunge deficit-reverse-lunge goblet-lunge"),
    ("work", "alternating-lunge walking-lunge forward-lunge curtsy-lunge static-split-squat"),
    ("work", "static-split-squat goblet-split-squat goblet-lunge reverse-lunge"),
    ("work", "walking-lunge weighted-walking-lunge dumbbell-lunge suitcase-lunge reverse-lunge"),
    ("work", "weighted-walking-lunge front-rack-lunge back-rack-lunge overhead-lunge"),
    ("work", "overhead-lunge overhead-plate-lunge walking-lunge"),
    ("work", "front-rack-lunge sandbag-lunge single-arm-overhead-lunge overhead-lunge"),
    ("work", "box-step-up lateral-step-up low-step-up fast-low-step-up"),
    ("work", "box-step-up low-step-up supported-step-up"),
    ("work", "low-step-up lateral-low-step-over box-step-down reverse-step-down"),
    ("work", "box-step-up weighted-step-up two-dumbbell-step-up barbell-step-up"),
    ("work", "knee-drive-step-up box-step-up walking-lunge"),
    ("work", "box-step-over box-step-up box-jump lower-box-jump"),
    ("work", "box-jump box-jump-step-down box-step-over"),
    ("work", "box-jump jump-squat air-squat"),
    ("work", "jump-squat tuck-jump box-jump"),
    ("work", "pistol heel-supported-single-leg-squat half-single-leg-squat"),
    ("work", "pistol box-pistol"),
    ("work", "calf-raise supported-calf-raise"),
    ("work", "calf-raise weighted-calf-raise"),
    ("work", "deadlift hex-bar-deadlift"),
    ("work", "deadlift sumo-deadlift dumbbell-deadlift kettlebell-sumo-deadlift kettlebell-deadlift"),
    ("work", "deadlift snatch-grip-deadlift raised-deadlift"),
    ("work", "deadlift rack-pull raised-deadlift"),
    ("work", "deadlift double-kettlebell-deadlift dumbbell-deadlift suitcase-deadlift kettlebell-deadlift"),
    ("work", "kettlebell-deadlift medicine-ball-deadlift raised-kettlebell-deadlift"),
    ("work", "deadlift romanian-deadlift dumbbell-romanian-deadlift"),
    ("work", "dumbbell-romanian-deadlift kettlebell-romanian-deadlift backpack-romanian-deadlift"),
    ("work", "romanian-deadlift stiff-leg-deadlift plate-stiff-leg-deadlift kettlebell-romanian-deadlift"),
    ("work", "romanian-deadlift good-morning good-morning-stick"),
    ("work", "single-leg-romanian-deadlift kickstand-deadlift kettlebell-romanian-deadlift"),
    ("work", "good-morning back-extension hip-extension"),
    ("work", "kettlebell-swing-overhead kettlebell-swing dumbbell-swing single-arm-kettlebell-swing"),
    ("work", "kettlebell-swing alternating-kettlebell-swing double-kettlebell-swing"),
    ("work", "kettlebell-swing plate-swing kettlebell-romanian-deadlift kettlebell-swing"),
    ("work", "power-clean dumbbell-power-clean hang-power-clean dumbbell-hang-power-clean single-dumbbell-hang-clean"),
    ("work", "power-clean hang-power-clean"),
    ("work", "power-clean sandbag-clean"),
    ("work", "power-clean clean-and-jerk dumbbell-clean-and-jerk dumbbell-ground-to-overhead"),
    ("work", "power-snatch dumbbell-snatch plate-ground-to-overhead"),
    ("work", "power-snatch hang-power-snatch hang-dumbbell-snatch dumbbell-snatch kettlebell-snatch"),
    ("work", "power-snatch ground-to-overhead dumbbell-ground-to-overhead"),
    ("work", "clean-and-jerk ground-to-overhead hang-clean-and-jerk"),
    ("work", "sumo-deadlift-high-pull kettlebell-sumo-deadlift-high-pull"),
    ("work", "thruster dumbbell-thruster kettlebell-thruster single-kettlebell-thruster single-dumbbell-thruster"),
    ("work", "thruster sandbag-thruster medicine-ball-thruster plate-thruster air-thruster"),
    ("work", "thruster front-squat"),
    ("work", "air-thruster air-squat"),
    ("work", "strict-press dumbbell-strict-press double-kettlebell-press"),
    ("work", "dumbbell-strict-press single-arm-dumbbell-press kettlebell-press plate-press"),
    ("work", "push-press dumbbell-push-press strict-press"),
    ("work", "push-press push-jerk shoulder-to-overhead"),
    ("work", "dumbbell-push-press dumbbell-push-jerk push-jerk"),
    ("work", "bench-press dumbbell-bench-press dumbbell-floor-press barbell-floor-press"),
    ("work", "bent-over-row dumbbell-bent-over-row double-kettlebell-row"),
    ("work", "dumbbell-bent-over-row single-arm-dumbbell-row kettlebell-row"),
    ("hands", "push-up hands-raised-push-up wall-push-up one-arm-wall-push-up"),
    ("hands", "push-up knee-push-up hands-raised-push-up"),
    ("hands", "knee-push-up knee-hand-release-push-up hand-release-push-up"),
    ("hands", "feet-raised-push-up push-up weighted-push-up"),
    ("hands", "push-up wide-push-up"),
    ("hands", "push-up close-push-up"),
    ("hands", "push-up fist-push-up"),
    ("hands", "ring-dip push-up"),
    ("hands", "weighted-dip bar-dip push-up"),
    ("hands", "bar-dip bench-dip push-up"),
    ("hands", "strict-handstand-push-up feet-raised-push-up"),
    ("hands", "strict-handstand-push-up push-up"),
    ("work", "push-up deficit-push-up"),
    ("work", "strict-pull-up weighted-pull-up"),
    ("work", "strict-pull-up strict-chest-to-bar-pull-up"),
    ("work", "kipping-pull-up chest-to-bar-pull-up"),
    ("work", "strict-pull-up scapular-pull-up"),
    ("hands", "strict-pull-up ring-row-feet-raised ring-row-level ring-row-45 ring-row high-ring-row"),
    ("hands", "strict-pull-up ring-row"),
    ("hands", "inverted-bar-row ring-row-level doorway-row"),
    ("hands", "high-plank hands-raised-plank"),
    ("hands", "plank knee-plank"),
    ("hands", "plank high-plank"),
    ("work", "sit-up weighted-sit-up plate-overhead-sit-up"),
    ("work", "anchored-sit-up sit-up butterfly-sit-up"),
    ("work", "glute-ham-sit-up glute-ham-sit-up-to-parallel sit-up crunch"),
    ("work", "weighted-v-up v-up tuck-up sit-up v-up"),
    ("work", "lying-leg-raise bench-lying-leg-raise"),
    ("work", "v-up lying-leg-raise lying-knee-tuck reverse-crunch"),
    ("work", "strict-toes-to-bar hanging-leg-raise strict-hanging-knee-raise"),
    ("work", "toes-to-bar knees-to-elbows hanging-knee-raise"),
    ("work", "toes-to-ring toes-to-bar v-up"),
    ("work", "hanging-leg-raise lying-leg-raise"),
    ("work", "burpee up-down sprawl squat-thrust"),
    ("work", "burpee no-push-up-burpee up-down step-back-burpee hands-raised-burpee"),
    ("work", "burpee-to-target burpee get-up-and-down"),
    ("work", "burpee push-up-burpee"),
    ("work", "burpee squat-thrust hands-raised-burpee"),
)

# Ways of moving that the energy model knows, at the regular pace of the record.
MODES: dict[str, tuple[str, str]] = {
    "run": ("run", "m"),
    "treadmill-run": ("run", "m"),
    "jog": ("run", "m"),
    "brisk-walk": ("walk", "m"),
    "walk": ("walk", "m"),
    "row": ("row", "m"),
    "row-easy": ("row", "m"),
    "ski": ("ski", "m"),
    "bike-ergometer": ("bike-ergometer", "m"),
    "bike-easy": ("bike-ergometer", "m"),
    "air-bike": ("air-bike", "m"),
    "swim": ("swim", "m"),
    "single-under": ("rope", "rep"),
    "slow-single-under": ("rope", "rep"),
    "double-under": ("rope-double", "rep"),
}
STEPS_M = {"low-step-up": 0.20, "box-step-up": 0.508}
STEPPER_PER_MIN = 70.0  # the rate at which stair climbing was measured
# All other movements take the METs of their record, from a table or a study.
# from/unit to/unit
ENERGY = """
run/m row/m | run/m ski/m | run/m bike-ergometer/m | run/m air-bike/m | run/m swim/m | run/m brisk-walk/m | run/m walk/m
run/m jog/m | run/m treadmill-run/m | run/m row/cal | run/m ski/cal | run/m bike-ergometer/cal | run/m air-bike/cal
run/m single-under/rep | run/m double-under/rep | run/m low-step-up/rep | run/m box-step-up/rep | run/s row/s
run/s ski/s | run/s bike-ergometer/s | run/s air-bike/s | run/s swim/s | run/s brisk-walk/s | run/s stair-climber/s
run/s single-under/s | run/s elliptical/s | run/s incline-walk/s | run/m shuttle-run/m | run/m stair-climb/rep
row/m ski/m | row/m bike-ergometer/m | row/m air-bike/m | row/m swim/m | row/cal ski/cal | row/cal bike-ergometer/cal
row/cal air-bike/cal | row/m row-easy/m | row/cal row-easy/cal | row/cal single-under/rep | row/cal double-under/rep
row/cal low-step-up/rep | row/m air-bike/cal | row/m ski/cal | row/m bike-ergometer/cal | row/s bike-ergometer/s
row/s ski/s | row/s air-bike/s | ski/m bike-ergometer/m | ski/cal air-bike/cal | bike-ergometer/m air-bike/m
bike-ergometer/cal air-bike/cal | bike-ergometer/m air-bike/cal | bike-ergometer/m bike-easy/m
bike-ergometer/s stair-climber/s | brisk-walk/m walk/m | brisk-walk/m bike-easy/m | brisk-walk/m row-easy/m
brisk-walk/m low-step-up/rep | single-under/rep double-under/rep | single-under/rep slow-single-under/rep
single-under/rep jumping-jack/rep | swim/m bike-ergometer/m | low-step-up/rep box-step-up/rep
air-bike/s stair-climber/s | row/cal burpee/rep | row/cal kettlebell-swing/rep | run/m burpee/rep
run/m kettlebell-swing/rep | run/m high-knees/rep | run/m jog-in-place/rep
run/m mountain-climber/rep | jog-in-place/rep high-knees/rep | high-knees/rep butt-kick/rep
burpee/rep kettlebell-swing/rep | mountain-climber/rep jumping-jack/rep
alternating-lunge/rep jumping-lunge/rep | burpee/rep mountain-climber/rep
air-squat/rep alternating-lunge/rep
"""


def read_movements() -> dict[str, Movement]:
    """Records of movements, read without the rest of the library, whose ratios this script writes."""
    found = {}
    for path in sorted((ROOT / "library/movements").glob("*.yaml")):
        family = yaml.safe_load(path.read_text(encoding="utf-8"))
        for record in family["movements"]:
            movement = msgspec.convert(family.get("defaults", {}) | record, Movement, strict=False)
            found[movement.id] = movement
    return found


def load_kg(movement: Movement, body: Body) -> float:
    """Usual load in a man's or a woman's hands, both together [kg]."""
    if movement.load is None:
        return 0.0
    kg = movement.load.kg[0 if body.sex == "male" else 1]
    return kg * (2 if movement.load.per_hand else 1)


class Held:
    """One record of the file of postures, ready to be weighed."""

    def __init__(self, movement: Movement, raw: dict[str, Any]) -> None:
        self.movement = movement
        self.start: Posture = posture_from_mapping(raw["start"])
        self.end: Posture = posture_from_mapping(raw["end"])
        self.load_at = raw.get("load_at")
        self.approximate = bool(raw.get("approximate"))

    def _load(self, body: Body) -> dict[str, Any]:
        return {"load_kg": load_kg(self.movement, body), "load_at": self.load_at} if self.load_at else {}

    def work(self) -> float:
        """Work of a rep, mean of man and woman [J/kg]."""
        each = [work_per_rep_j_per_kg(b, self.start, self.end, **self._load(b)) for b in BODIES]
        return math.sqrt(each[0] * each[1])

    def hands(self) -> float:
        """Force on the hands, mean of man and woman [body weights]; along the strap or bar for rows."""
        held = self.start if "hang" in self.start.supports else self.end
        force = force_on_hands if "hang" in held.supports else share_on_hands
        each = [force(b, held, **self._load(b)) for b in BODIES]
        return math.sqrt(each[0] * each[1])

    def sigma(self, method: Method) -> float:
        """Error of the log of work or force, without the step from there to effort."""
        if method == "work":
            own = WORK_LOG_SIGMA
        elif len(self.start.supports) == 1:
            own = 0.0  # all of the body hangs from or stands on the hands
        else:
            own = (STRAP_FORCE_SIGMA if "hang" in self.start.supports else HAND_SHARE_SIGMA) / self.hands()
        return math.hypot(own, APPROXIMATE_SIGMA if self.approximate else 0.0)


def same_muscles(a: Movement, b: Movement) -> bool:
    """Whether more than half of the main muscles (grade 3) of both together are shared."""
    mains = [{m for m, grade in x.muscles.items() if grade == 3} for x in (a, b)]
    return 2 * len(mains[0] & mains[1]) > len(mains[0] | mains[1])


def line(name: str, ends: tuple[str, str], units: tuple[str, str], ratio: float, sigma: float, tail: str) -> str:
    """One edge, in the format of the library."""
    low, high = ratio * math.exp(-Z_80 * sigma), ratio * math.exp(Z_80 * sigma)
    return (
        f"- {{id: {name}, from: {ends[0]}, to: {ends[1]}, units: [{units[0]}, {units[1]}], ratio: {ratio:.4g}, "
        f"low: {low:.4g}, high: {high:.4g}, sigma: {sigma:.3f}, {tail}}}"
    )


def pairs(chains: Iterable[tuple[Method, str]]) -> dict[tuple[str, str], Method]:
    """Neighbours of all chains, each pair once."""
    found: dict[tuple[str, str], Method] = {}
    for method, chain in chains:
        names = chain.split()
        for a, b in pairwise(names):
            if (b, a) not in found:
                found.setdefault((a, b), method)
    return found


def mechanics(movements: dict[str, Movement]) -> list[str]:
    """Edges of equal work or equal force on the hands."""
    raw = yaml.safe_load((ROOT / "library/postures.yaml").read_text(encoding="utf-8"))["postures"]
    held = {r["movement"]: Held(movements[r["movement"]], r) for r in raw}
    lines = []
    for (a, b), method in pairs(MECHANICS).items():
        one, two = held[a], held[b]
        measure: Callable[[Held], float] = Held.work if method == "work" else Held.hands
        ratio = measure(one) / measure(two)
        if (one.start, one.end) == (two.start, two.end) and abs(math.log(ratio)) < SAME:
            continue  # one posture under two names tells nothing
        parts = [one.sigma(method), two.sigma(method), SAME_MUSCLES_SIGMA]
        if not same_muscles(one.movement, two.movement):
            parts.append(OTHER_MUSCLES_SIGMA)
        unit = "s" if one.start == one.end else "rep"
        said = f"{measure(one):.2f} and {measure(two):.2f} " + (
            "J/kg a rep" if method == "work" else "of body weight on the hands"
        )
        tail = f"where: {said}"
        lines.append(line(f"mm-{a}-{b}", (a, b), (unit, unit), ratio, math.hypot(*parts), tail))
    return lines


class Power:
    """Energy of one unit of a movement for the member of `MEMBER_KG`, with its error and source."""

    def __init__(self, movement: Movement) -> None:
        self.movement = movement
        name = movement.id
        if name in MODES:
            mode, unit = MODES[name]
            pace = movement.pace(unit)
            self.effort: Effort | None = Effort(mode, pace, unit)  # type: ignore[arg-type]
            self.watts, self.sigma = self._within(lambda beyond: power_of_w(self.effort, MEMBER_KG, extrapolate=beyond))
            self.sigma = math.hypot(self.sigma, RELATIVE_ERROR[mode])  # type: ignore[index]
            self.kind = "model"
        elif name in STEPS_M:
            per_min = 60 / movement.pace("rep")
            self.effort = None
            self.watts, self.sigma = self._within(
                lambda beyond: metabolic_power_w(
                    met_of_oxygen(oxygen_of_stepping(per_min, STEPS_M[name], extrapolate=beyond)), MEMBER_KG
                )
            )
            self.sigma = math.hypot(self.sigma, STEP_SIGMA)
            self.kind = "model"
        elif name == "stair-climber":
            self.effort = None
            self.watts = power_of_w(Effort("stairs", 60 / STEPPER_PER_MIN, "rep"), MEMBER_KG)
            self.sigma = RELATIVE_ERROR["stairs"]
            self.kind = "model"
        else:
            self.effort = None
            self.watts = metabolic_power_w(movement.met.value, MEMBER_KG)
            self.sigma = MET_SIGMA
            self.kind = "table"

    @staticmethod
    def _within(of: Callable[[bool], float]) -> tuple[float, float]:
        try:
            return of(False), 0.0
        except RangeError:
            return of(True), BEYOND_SIGMA

    def joules(self, unit: str) -> float:
        """Metabolic energy of one unit [J]; a calorie is what the machine shows at that pace."""
        if unit == "s":
            return self.watts
        if self.effort is not None:
            return self.watts * self.effort.seconds_per(unit)  # type: ignore[arg-type]
        return self.watts * self.movement.pace(unit)


def energy(movements: dict[str, Movement]) -> list[str]:
    """Edges of equal energy."""
    lines = []
    for pair in ENERGY.replace("\n", " | ").split(" | "):
        if not pair.strip():
            continue
        (a, ua), (b, ub) = (end.split("/") for end in pair.split())
        one, two = Power(movements[a]), Power(movements[b])
        sigma = math.hypot(one.sigma, two.sigma)
        if a in MODES and b in MODES and MODES[a][0] == MODES[b][0]:
            sigma = max(0.08, sigma / 2)  # one model at two paces: most of its error cancels
        ratio = one.joules(ua) / two.joules(ub)
        table = [p.movement for p in (one, two) if p.kind == "table"]
        source = table[0].met.source if table else _model_source(b)
        met_w = metabolic_power_w(1, MEMBER_KG)
        said = f"{one.watts / met_w:.1f} and {two.watts / met_w:.1f} METs"
        ends = f"me-{a}-{ua}-{b}-{ub}"
        lines.append(line(ends, (a, b), (ua, ub), ratio, sigma, f"source: {source}, where: {said}"))
    return lines


def _model_source(to: str) -> str:
    mode = MODES.get(to, ("",))[0]
    return {
        "row": "fukunaga1986",
        "ski": "fukunaga1986",
        "rope": "cpd2011tg",
        "rope-double": "cpd2024",
        "swim": "cpd2011tg",
    }.get(mode, "bassett1997" if to == "stair-climber" else "acsm-getp")


HEAD_MECHANICS = f"""\
# Computed by scripts/model_ratios; do not edit by hand.
#   ratio: reps (or seconds) of `to` that take the work, or the force on the hands, of one of `from`
#   The body is a planar chain of rigid segments, mean of a man and a woman, with the records' usual loads.
#   sigma (of the log) adds in squares, for each movement: work {WORK_LOG_SIGMA}; or force on the hands
#     {HAND_SHARE_SIGMA} (in straps {STRAP_FORCE_SIGMA}) of body weight over the force; {APPROXIMATE_SIGMA} where its
#     posture is approximate. For the pair, by judgement: {SAME_MUSCLES_SIGMA} for taking work as effort, and a
#     further {OTHER_MUSCLES_SIGMA} where half or more of the main muscles differ
#   low, high: four in five inside
about: planar mechanics on published segment parameters
defaults: {{basis: modelled, source: planar_here, seen: secondary, equals: effort}}
ratios:
"""
ERRORS = ", ".join(f"{mode} {sigma}" for mode, sigma in RELATIVE_ERROR.items())
HEAD_ENERGY = f"""\
# Computed by scripts/model_ratios; do not edit by hand.
#   ratio: units of `to` that take the metabolic energy of one of `from`, for a member of {MEMBER_KG:g} kg
#     at the records' regular paces. A calorie of a machine is what its screen shows at that pace.
#   sigma (of the log) adds in squares, for each movement: the model's error against published rows
#     ({ERRORS},
#     step {STEP_SIGMA}), or {MET_SIGMA} for one table value; {BEYOND_SIGMA} where an equation is used
#     outside its range. Two paces of one model: half, at least 0.08
#   low, high: four in five inside
about: metabolic equations, tables and measured efficiencies
defaults: {{basis: modelled, seen: secondary, equals: energy}}
ratios:
"""


def main() -> None:
    """Write both files."""
    movements = read_movements()
    for name, head, lines in (
        ("mechanics", HEAD_MECHANICS, mechanics(movements)),
        ("energy", HEAD_ENERGY, energy(movements)),
    ):
        path = ROOT / f"library/ratios/modelled-{name}.yaml"
        path.write_text(head + "\n".join(lines) + "\n", encoding="utf-8")
        print(f"{path.relative_to(ROOT)}: {len(lines)}")


if __name__ == "__main__":
    main()
