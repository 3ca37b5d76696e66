"""The pace model against published cadences and the trade's caps.

Paces are the trade's rows `pace_*` (`common_practice`; novice, regular, advanced), most of them from memory; cadences
are `energetics` rate.* and jump.*, caps `cap_*`. Two bodies of evidence meet here, so a row passes where the published
figure or range and the model's band for the stated people overlap.
"""

import pytest

from subgraph.models.pace import (
    LARGEST_SET,
    Band,
    cap_of,
    seconds_for,
    seconds_in_sets,
    seconds_of_piece,
    split_sets,
    transition,
    units_in,
)

# fresh and long-set seconds per unit, by level (None: not done at that level)
Paces = dict[str, tuple[float, float]]
PACES: dict[str, Paces] = {
    "double_under": {"novice": (0.9, 2.0), "regular": (0.65, 1.0), "advanced": (0.55, 0.65)},
    "single_under": {"novice": (0.6, 0.8), "regular": (0.5, 0.6), "advanced": (0.45, 0.5)},
    "push_up": {"novice": (2.0, 4.5), "regular": (1.5, 2.6), "advanced": (1.2, 1.6)},
    "strict_pull_up": {"regular": (3.0, 7.0)},
    "kipping_pull_up": {"novice": (2.5, 6.0), "regular": (1.8, 3.0), "advanced": (1.3, 1.7)},
    "ring_muscle_up": {"regular": (4.5, 15.0), "advanced": (3.2, 5.5)},
    "burpee": {"novice": (5.5, 7.0), "regular": (4.2, 5.0), "advanced": (3.0, 3.6)},
    "wall_ball_shot": {"novice": (2.8, 4.2), "regular": (2.3, 2.9), "advanced": (2.0, 2.2)},
    "barbell_thruster": {"novice": (3.0, 5.5), "regular": (2.4, 3.5), "advanced": (1.9, 2.3)},
    "clean_and_jerk": {"regular": (4.0, 6.5), "advanced": (3.0, 4.0)},
    "alternating_dumbbell_snatch": {"regular": (2.9, 3.4)},
    "kettlebell_swing_chest": {"regular": (1.6, 2.0)},
    "farmers_carry": {"regular": (0.9, 1.2)},
    "run_200m": {"novice": (70, 80), "regular": (55, 62)},
    "run_400m": {"novice": (150, 165), "regular": (118, 130)},
    "run_800m": {"regular": (255, 270)},
    "row_500m_women": {"regular": (134, 142)},
    "row_1000m_men": {"regular": (245, 258)},
    "row_cal_men": {"regular": (4.0, 4.5)},
    "air_bike_cal_men": {"regular": (4.6, 5.4)},
    "air_bike_cal_women": {"regular": (6.2, 7.2)},
    "rope_climb": {"novice": (25, 60), "regular": (14, 32)},
}


def band(movement: str, level: str, amount: float) -> Band:
    return seconds_for(amount, *PACES[movement][level])


# --- published cadences: id, movement, level, amount, low and high seconds published
CADENCES: list[tuple[str, str, str, float, float, float]] = [
    # pages of the trade: 100 double-unders in about 60 s (0.6 s each); 20 push-ups in 28 to 30 s fresh; 45 burpees in
    # 4:30 as a beginner's plan; wall balls at 2 s; 30 clean and jerks in 3 min as the strong mark; 18 dumbbell snatches
    # in about 60 s ("about" is read to the nearest five seconds)
    ("pace_double_under", "double_under", "advanced", 100, 57.5, 62.5),
    ("pace_push_up", "push_up", "regular", 20, 28, 30),
    ("pace_burpee plan", "burpee", "novice", 45, 270, 270),
    ("pace_wall_ball_shot", "wall_ball_shot", "advanced", 30, 60, 60),
    ("pace_clean_and_jerk", "clean_and_jerk", "regular", 30, 180, 180),
    ("pace_alternating_dumbbell_snatch", "alternating_dumbbell_snatch", "regular", 18, 57.5, 62.5),
    # rate.pushup.40: 40 a minute by metronome, at most 80 (pushup40)
    ("rate.pushup.40", "push_up", "regular", 40, 60, 60),
    # rate.vezina: pull-ups at 3 s a repetition lasted 29.3 s, about ten (vezina2012)
    ("rate.vezina pull-ups", "strict_pull_up", "regular", 10, 29.3, 30.0),
    # rate.burpee.men: 47 to 66 in 3 min is the average band of 5971 students; all-out, so the quick end of a class
    ("rate.burpee.men", "burpee", "advanced", 56.69, 180 * 56.69 / 66, 180 * 56.69 / 47),
    # rate.burpee.women: 37 to 60 of 3862
    ("rate.burpee.women", "burpee", "regular", 48.84, 180 * 48.84 / 60, 180 * 48.84 / 37),
]


@pytest.mark.parametrize(
    ("row", "movement", "level", "amount", "low_s", "high_s"), CADENCES, ids=[r[0] for r in CADENCES]
)
def test_band_meets_the_published_cadence(
    row: str, movement: str, level: str, amount: float, low_s: float, high_s: float
) -> None:
    ours = band(movement, level, amount)
    assert ours.low_s <= high_s + 1e-9
    assert ours.high_s >= low_s - 1e-9


def test_a_station_of_fifteen_burpees_lies_between_two_levels() -> None:
    # pace_burpee: "15 in about 60 s", levels not told
    assert band("burpee", "advanced", 15).high_s <= 62.5
    assert band("burpee", "regular", 15).high_s >= 57.5


def test_typical_time_of_a_hundred_double_unders_is_the_pages_minute() -> None:
    # pace_double_under: "100 in about 60 s"; tolerance: "about", to the nearest five seconds
    assert band("double_under", "advanced", 100).typical_s == pytest.approx(60, abs=2.5)


# --- ceilings: nobody at any level is quicker than the quickest published rate
@pytest.mark.parametrize(
    ("row", "movement", "per_min"),
    [
        ("rate.rope.30s", "single_under", 165.83),  # all-out for 30 s, 23 young adults (chow2023)
        ("rate.rope.3min", "single_under", 148.33),
        ("rate.rope.du.derived", "double_under", 120),  # from the turn time of children who can (doubleskip)
        ("rate.burpee.men best", "burpee", 82 / 3),  # best of 5971 in 3 min (podstawski2019)
    ],
)
def test_no_level_beats_the_published_best(row: str, movement: str, per_min: float) -> None:
    assert min(fresh for fresh, _ in PACES[movement].values()) >= 60 / per_min


def test_typical_time_of_twenty_push_ups_is_still_the_fresh_one() -> None:
    # pace_push_up: "20 in 28 to 30 s fresh"
    assert 28 <= band("push_up", "regular", 20).typical_s <= 30


def test_swings_in_twelve_minutes_with_fade() -> None:
    # rate.kb.swing: 265 (sd 68) in 12 min, 16 kg, self-chosen rests (farrar2010)
    fresh, long = PACES["kettlebell_swing_chest"]["regular"]
    reps = 720 / (seconds_in_sets((400,), fresh, long).typical_s / 400)
    assert reps == pytest.approx(265, abs=68)
    assert units_in(720, fresh, long) > reps  # without fade there would be more


# --- caps: id, movement, amount, cap and its spread; regular members finish inside the wide end, and at the long pace
# of the level named the cap bites
CAPS: list[tuple[str, str, str, float, float, float, str | None]] = [
    ("cap_du_100", "double_under", "regular", 100, 90, 120, "novice"),
    ("cap_du_50", "double_under", "regular", 50, 30, 60, "novice"),
    ("cap_run_400", "run_400m", "regular", 1, 120, 150, "novice"),
    ("cap_run_200", "run_200m", "regular", 1, 60, 75, "novice"),
    ("cap_run_800", "run_800m", "regular", 1, 240, 300, None),
    ("cap_row_500", "row_500m_women", "regular", 1, 120, 150, None),
    ("cap_row_1000", "row_1000m_men", "regular", 1, 240, 300, None),
    ("cap_bike_20 men", "air_bike_cal_men", "regular", 21, 75, 120, None),
    ("cap_bike_20 women", "air_bike_cal_women", "regular", 15, 75, 120, None),
    ("cap_row_small", "row_cal_men", "regular", 6, 25, 30, None),
    ("cap_rope_climb", "rope_climb", "regular", 1, 30, 60, None),
    ("cap_muscle_up_30", "ring_muscle_up", "advanced", 30, 240, 480, None),
]


@pytest.mark.parametrize(
    ("row", "movement", "level", "amount", "low_s", "high_s", "bites"), CAPS, ids=[r[0] for r in CAPS]
)
def test_cap_lets_the_members_through_that_it_is_written_for(
    row: str, movement: str, level: str, amount: float, low_s: float, high_s: float, bites: str | None
) -> None:
    assert band(movement, level, amount).typical_s <= high_s
    if bites is not None:
        assert band(movement, bites, amount).high_s > high_s


@pytest.mark.xfail(
    strict=True, reason="the trade's two rows disagree: 200 m in 120 s is 0.6 s a metre, the pace row 0.9"
)
def test_cap_of_a_loaded_carry() -> None:
    # cap_carry_200 (100 to 120 s) against pace_farmers_carry, which is from memory
    assert band("farmers_carry", "regular", 200).typical_s <= 120


def test_a_short_benchmark_fits_its_window() -> None:
    # cap_short_benchmark: 21-15-9 of two quick movements meant for under 5 min, 10 min the outer end
    def piece(level: str) -> Band:
        items = [band(m, level, n) for n in (21, 15, 9) for m in ("barbell_thruster", "kipping_pull_up")]
        return seconds_of_piece(items, change="next-station")

    assert piece("advanced").high_s <= 300
    assert piece("regular").typical_s <= 300
    assert piece("novice").typical_s <= 600


# split_21, split_50, split_100 (from memory): total, largest set, sets as written
@pytest.mark.parametrize(
    ("reps", "largest", "sets"),
    [
        (21, 11, (11, 10)),
        (15, 8, (8, 7)),
        (9, 5, (5, 4)),
        (50, LARGEST_SET["regular"], (10,) * 5),
        (50, LARGEST_SET["advanced"], (25,) * 2),
        (50, LARGEST_SET["novice"], (5,) * 10),
        (100, LARGEST_SET["regular"], (10,) * 10),
        (100, LARGEST_SET["advanced"], (25,) * 4),
    ],
)
def test_sets_are_split_as_the_trade_splits_them(reps: int, largest: int, sets: tuple[int, ...]) -> None:
    assert split_sets(reps, largest) == sets


# cap_over_expected: expected 20 to 25 min capped at 30; 15 to 20 at 25
@pytest.mark.parametrize(("expected_min", "cap_min"), [(25, 30), (20, 25)])
def test_caps_over_expected_times(expected_min: float, cap_min: float) -> None:
    cap = cap_of(expected_min * 60)
    assert cap.low_s <= cap_min * 60 <= cap.high_s


# tr_next_station: 3 s at best, 5 usual; tr_wheelchair 10 to 45
def test_transitions_are_the_published_ones() -> None:
    assert transition("next-station") == Band(3, 5, 10)
    assert transition("wheelchair") == Band(10, 20, 45)
