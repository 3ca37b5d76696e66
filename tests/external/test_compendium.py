"""Rows of the compendium of physical activities that `energy` holds, and the stated errors of its models.

Codes and METs are from `cpd2011tg` (2011, the official guide, seen primary) and `cpd2024` (2024, secondary).
"""

import math

import pytest

from subgraph.models.energy import MET_OF_MODE, RELATIVE_ERROR, ROPE_MET, Effort, Mode, metabolic_power_w, power_of_w
from subgraph.models.ergometer import pace_s_per_m

HELD = [
    ("15552, 2011", 0.75, 8.8),  # fewer than 100 jumps/min: at 80
    ("15551, 2011", 0.55, 11.8),  # 100 to 120: at 109
    ("15550, 2011", 0.45, 12.3),  # 120 to 160: at 133
]


def met(effort: Effort, body_mass_kg: float = 70) -> float:
    return power_of_w(effort, body_mass_kg, extrapolate=True) / metabolic_power_w(1, body_mass_kg)


@pytest.mark.parametrize(("code", "pace_s", "value"), HELD, ids=[r[0] for r in HELD])
def test_rope_bands_are_the_published_ones(code: str, pace_s: float, value: float) -> None:
    assert met(Effort("rope", pace_s, "rep")) == pytest.approx(value)


@pytest.mark.parametrize(
    ("code", "mode", "unit", "value"),
    [
        ("15554, 2024", "rope-double", "rep", 10.0),
        ("18230, 2011", "swim", "m", 9.8),
        ("18240, 2011", "swim-easy", "m", 5.8),
    ],
)
def test_paceless_modes_are_the_published_rows(code: str, mode: Mode, unit: str, value: float) -> None:
    assert MET_OF_MODE[mode] == value
    assert met(Effort(mode, 1.0, "rep" if unit == "rep" else "m")) == pytest.approx(value)


def test_transcribed_rows_are_complete() -> None:
    assert (len(ROPE_MET), len(MET_OF_MODE)) == (3, 3)
    assert sum(value for _, value in ROPE_MET) == pytest.approx(32.9)
    assert sum(MET_OF_MODE.values()) == pytest.approx(25.6)


MPH = 1609.344 / 3600
# mph and METs, 2011 codes 12029 to 12132, and 17152 to 17200 on the level within the equation's 50 to 100 m/min
RUNNING_2011 = {4: 6.0, 5: 8.3, 5.2: 9.0, 6: 9.8, 6.7: 10.5, 7: 11.0, 7.5: 11.5, 8: 11.8, 8.6: 12.3, 9: 12.8, 10: 14.5}
RUNNING_2011 |= {11: 16.0, 12: 19.0}
WALKING_2011 = {2.0: 2.8, 2.5: 3.0, 3.0: 3.5, 3.5: 4.3}
# W and METs: 2011 codes 02072 to 02074; 2024 codes 02072 and 02073 at the middle of their band, 02074 at its lower end
ROWING = [(100, 7.0), (150, 8.5), (200, 12.0), (124.5, 7.5), (174.5, 11.0), (200, 14.0)]
# 2011 codes 02017, 02012 to 02014; 2024 codes 01214 to 01232; middles of bands within the equation's 50 to 200 W
CYCLING = [(70, 4.8), (95, 6.8), (130.5, 8.8), (180.5, 11.0)]
CYCLING += [(50, 4.0), (60, 5.0), (75, 5.8), (95, 6.0), (113, 6.8), (138, 8.0), (175, 10.3)]

ROWS: dict[Mode, list[tuple[Effort, float]]] = {
    "run": [(Effort("run", 1 / (mph * MPH)), value) for mph, value in RUNNING_2011.items()],
    "walk": [(Effort("walk", 1 / (mph * MPH)), value) for mph, value in WALKING_2011.items()],
    "row": [(Effort("row", pace_s_per_m("row", w)), value) for w, value in ROWING],
    "bike-ergometer": [(Effort("bike-ergometer", pace_s_per_m("bike-ergometer", w)), v) for w, v in CYCLING],
    # rope.chottidao 33.02 mL/kg/min at 72 turns/min; rope.town 41.1, 42.0, 42.5 at 125, 135, 145; 2024 code 15552
    "rope": [
        (Effort("rope", 60 / per_min, "rep"), value)
        for per_min, value in [(72, 33.02 / 3.5), (125, 41.1 / 3.5), (135, 42.0 / 3.5), (145, 42.5 / 3.5), (80, 8.3)]
    ],
}


@pytest.mark.parametrize("mode", ROWS)
def test_stated_error_is_the_disagreement_with_published_rows(mode: Mode) -> None:
    logs = [math.log(met(effort) / value) for effort, value in ROWS[mode]]
    rms = math.sqrt(sum(x * x for x in logs) / len(logs))
    assert round(rms, 2) == RELATIVE_ERROR[mode]


def test_stated_error_of_stairs_is_half_the_gap_between_two_studies() -> None:
    # stair.step.bassett 0.15 and stair.step.teh 0.11 kcal a step
    assert round(math.log(0.15 / 0.11) / 2, 2) == RELATIVE_ERROR["stairs"]


@pytest.mark.parametrize("mode", [m for m in ROWS if m != "rope"])
def test_no_published_row_is_off_by_more_than_three_stated_errors(mode: Mode) -> None:
    worst = max(abs(math.log(met(effort) / value)) for effort, value in ROWS[mode])
    assert worst <= 3 * RELATIVE_ERROR[mode]
