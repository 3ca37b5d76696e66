"""Modelled ratios of the library against published ones that the ratio did not come from.

Each row names its source. A published ratio of two figures must lie within two of the edge's own sigmas. The sigmas of
the models below the edges (`HAND_SHARE_SIGMA`, `RELATIVE_ERROR`) were sized on some of the same papers; their
parameters were not: segment tables, metabolic equations and one efficiency carry the ratios.
"""

import math
from pathlib import Path

import pytest
import yaml

from subgraph.models.body import Body
from subgraph.models.mechanics import WORK_LOG_SIGMA, posture_from_mapping, work_per_rep_j_per_kg

LIBRARY = Path(__file__).resolve().parents[2] / "library"
EDGES = {
    edge["id"]: edge
    for name in ("mechanics", "energy")
    for edge in yaml.safe_load((LIBRARY / f"ratios/modelled-{name}.yaml").read_text(encoding="utf-8"))["ratios"]
}
POSTURES = {
    p["movement"]: p for p in yaml.safe_load((LIBRARY / "postures.yaml").read_text(encoding="utf-8"))["postures"]
}
BODIES = {sex: Body.mean(sex) for sex in ("male", "female")}
SIGMAS = 2

RUN_S_PER_M, JOG_S_PER_M, BRISK_S_PER_M = 0.33, 0.45, 0.65  # regular paces of the records
# The table of step classes prints no rate; evidence note x.step8 sets it beside 30 steps a minute. At the record's own
# 26 a minute the same row misses by 2.1 sigmas.
STEP_S = 60 / 30


# edge, published ratio, source
PUBLISHED = [
    # share of body weight on the hands, push-up over the version
    ("mm-push-up-knee-push-up", 0.64 / 0.49, "ebben_2011, highest force in the rep"),
    ("mm-push-up-knee-push-up", 0.664 / 0.529, "gouvali_2005, held"),
    ("mm-push-up-knee-push-up", 0.69 / 0.54, "suprak_2011, held high"),
    ("mm-push-up-knee-push-up", 0.746 / 0.601, "mier_2014, men held low (flat 0.746, knees 0.601)"),
    ("mm-push-up-knee-push-up", 0.703 / 0.566, "mier_2014, women held low"),
    # hands on 0.5 m lie between the published 0.3048 and 0.6096 m
    ("mm-push-up-hands-raised-push-up", 0.64 / (0.55 - 0.14 * (0.5 - 0.3048) / 0.3048), "ebben_2011, interpolated"),
    ("mm-feet-raised-push-up-push-up", (0.70 + 0.04 * (0.5 - 0.3048) / 0.3048) / 0.64, "ebben_2011, interpolated"),
    # pull on the straps, by lean from upright
    ("mm-ring-row-level-ring-row-45", 0.7938 / 0.5288, "melrose_dawes_2015, 75 and 45 degrees"),
    ("mm-ring-row-45-ring-row", 0.5288 / (0.3744 + (0.5288 - 0.3744) / 3), "melrose_dawes_2015, 45 and 35 degrees"),
    # METs of tables and studies at the same kind of pace, times the seconds of a unit
    ("me-run-s-brisk-walk-s", 10.5 / 4.3, "cpd2011tg 12060 (6.7 mph) and 17200 (3.5 mph)"),
    ("me-run-m-brisk-walk-m", 10.5 * RUN_S_PER_M / (4.3 * BRISK_S_PER_M), "cpd2011tg 12060 and 17200"),
    ("me-run-m-jog-m", 10.5 * RUN_S_PER_M / (8.3 * JOG_S_PER_M), "cpd2011tg 12060 and 12030 (5 mph, as the record)"),
    ("me-run-s-single-under-s", 10.5 / (41.1 / 3.5), "cpd2011tg 12060 and town1980 (125 skips/min)"),
    ("me-run-s-stair-climber-s", 10.5 / 9.6, "cpd2011tg 12060 and teh2002 (own pace)"),
    ("me-run-s-row-s", 10.5 / 11.0, "cpd2011tg 12060 and cpd2024 (150 to 199 W)"),
    ("me-run-m-low-step-up-rep", 10.5 * RUN_S_PER_M / (7.3 * STEP_S), "cpd2011tg 12060 and cpd2024 03016 (15-20 cm)"),
]


@pytest.mark.parametrize(("name", "published", "source"), PUBLISHED)
def test_modelled_ratio(name, published, source):
    edge = EDGES[name]
    assert abs(math.log(edge["ratio"] / published)) < SIGMAS * edge["sigma"], source


def test_no_modelled_ratio_leans_all_one_way():
    misses = [math.log(EDGES[name]["ratio"] / published) / EDGES[name]["sigma"] for name, published, _ in PUBLISHED]
    assert abs(sum(misses) / len(misses)) < 1
    assert math.sqrt(sum(m * m for m in misses) / len(misses)) < 1.25


def test_more_oxygen_on_the_rower_than_on_the_bike_at_equal_power():  # lindenthaler2018, 20 rowers, every power
    assert EDGES["me-row-s-bike-ergometer-s"]["ratio"] > 1  # 150 W on both


def work(movement, sex):
    posture = POSTURES[movement]
    ends = (posture_from_mapping(posture[end]) for end in ("start", "end"))
    return work_per_rep_j_per_kg(BODIES[sex], *ends)


# chandana_2021: travel of a burpee 0.631 (men), 0.639 (women) of stature, jump of 0.1 included; ours 0.15 m
@pytest.mark.parametrize(("sex", "of_stature"), [("male", 0.631), ("female", 0.639)])
def test_burpee_over_box_step_up(sex, of_stature):
    published = of_stature * BODIES[sex].stature_m / 0.508
    assert work("burpee", sex) / work("box-step-up", sex) == pytest.approx(published, rel=SIGMAS * WORK_LOG_SIGMA)


# baltasar_2021, alcazar_2018: chair rise 0.9 x 9.81 x (half of stature - seat)
@pytest.mark.parametrize("sex", BODIES)
def test_chair_rise_over_low_step(sex):
    published = 0.9 * (0.5 * BODIES[sex].stature_m - 0.43) / 0.20
    assert work("sit-to-stand", sex) / work("low-step-up", sex) == pytest.approx(published, rel=SIGMAS * WORK_LOG_SIGMA)


def test_energy_is_not_work():  # vezina2014: pull-ups and lunges cost little more than push-ups, 8.03, 7.52, 6.91 METs
    costs = {"push-up": 6.91, "strict-pull-up": 8.03, "alternating-lunge": 7.52}
    works = {name: work(name, "male") for name in costs}
    assert sorted(costs, key=costs.get)[0] == sorted(works, key=works.get)[0] == "push-up"
    assert sorted(costs, key=costs.get)[-1] == sorted(works, key=works.get)[-1] == "strict-pull-up"
    # so a ratio of work is off by up to this much as a ratio of energy: more than the model, less than a factor of two
    assert 1.2 < (works["strict-pull-up"] / works["push-up"]) / (8.03 / 6.91) < 2


@pytest.mark.parametrize("name", sorted(EDGES))
def test_four_in_five_inside(name):
    edge = EDGES[name]
    wide = math.exp(1.2816 * edge["sigma"])
    assert edge["low"] == pytest.approx(edge["ratio"] / wide, rel=0.005)
    assert edge["high"] == pytest.approx(edge["ratio"] * wide, rel=0.005)
