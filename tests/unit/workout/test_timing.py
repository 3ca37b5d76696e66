"""Time of whole pieces, against sums worked out by hand from the records."""

from __future__ import annotations

import pytest

from subgraph.library.knowledge import Library
from subgraph.library.records import LEVELS
from subgraph.models.pace import SET_REST_S, TRANSITION_S
from subgraph.notation.board import Block, Item
from subgraph.workout.character import character_of
from subgraph.workout.laid_out import Work, lay_out
from subgraph.workout.timing import band_of, believable, clock_of, done, time_piece
from tests.expected import NAMES, board


def item(movement: str, *amount: float, unit: str = "rep", **fields: object) -> Item:
    amount_is = fields.pop("amount_is", "each")
    words = {"line": 1, "as_written": movement, "name": movement, "amount_is": amount_is}
    return Item(movement=movement, amount=amount, unit=unit, **{**words, **fields})  # type: ignore[arg-type]


def work(library: Library, movement: str, *amounts: float, unit: str = "rep", load_kg: float | None = None) -> Work:
    record = library.movements[movement]
    return Work(item=item(movement, *amounts), movement=record, unit=unit, amounts=amounts, load_kg=load_kg)  # type: ignore[arg-type]


def test_a_hold_takes_what_it_says(library: Library) -> None:
    band = band_of(library, work(library, "plank", 45, unit="s"), (45, 45), "regular")
    assert (band.low_s, band.typical_s, band.high_s) == (90, 90, 90)


def test_a_short_set_is_fresh_and_a_long_sum_is_at_the_long_pace(library: Library) -> None:
    rope = work(library, "double-under", 100)
    pace, fresh = rope.movement.pace("rep", "regular"), library.slowing["elastic"].fresh
    assert pace is not None
    short = band_of(library, rope, (10,), "regular")
    assert short.typical_s == pytest.approx(10 * pace * fresh)
    long = band_of(library, rope, (100,) * 5, "regular")
    assert long.typical_s == pytest.approx(500 * pace)


def test_the_same_work_in_more_rounds_is_as_slow(library: Library) -> None:
    squat = work(library, "air-squat", 60)
    whole = band_of(library, squat, (10,) * 6, "regular")
    assert whole.low_s < whole.typical_s <= whole.high_s
    assert whole.typical_s > 6 * band_of(library, squat, (10,), "regular").typical_s


def test_a_heavier_load_is_broken_into_smaller_sets(library: Library) -> None:
    times = []
    for load in (43.0, 60.0, 75.0):
        thruster = work(library, "thruster", 21, load_kg=load)
        times.append(band_of(library, thruster, (21,), "regular").typical_s)
    assert times[0] < times[1] < times[2]


def test_a_cap_ends_each_set(library: Library) -> None:
    import msgspec

    capped = msgspec.structs.replace(work(library, "double-under", 100), cap_s=60.0)
    assert band_of(library, capped, (100, 100), "novice").typical_s == 120


def test_rests_and_changes_are_added_to_the_work(library: Library) -> None:
    items = (item("plank", 30, unit="s"), item("wall-sit", 40, unit="s"))
    found = clock_of(library, lay_out(library, Block(format="for-time", rounds=3, rest_s=60, items=items)), "regular")
    changes = 6 * TRANSITION_S["next-station"][1]
    assert found.total.typical_s == 3 * 70 + 2 * 60 + changes


def test_rounds_in_the_time_are_time_over_round(library: Library) -> None:
    items = (item("plank", 30, unit="s"), item("wall-sit", 25, unit="s"))
    piece = lay_out(library, Block(format="amrap", duration_s=325, items=items))
    found = clock_of(library, piece, "regular")
    assert found.rounds is not None
    assert found.rounds[1] == pytest.approx(325 / (55 + 2 * TRANSITION_S["next-station"][1]))
    assert found.rounds[0] <= found.rounds[1] <= found.rounds[2]


def test_partners_taking_turns_halve_the_rounds_of_each(library: Library) -> None:
    items = (item("burpee", 10), item("air-squat", 20))
    alone = lay_out(library, Block(format="amrap", duration_s=720, items=items))
    pair = lay_out(library, Block(format="amrap", duration_s=720, items=items, partners=2, split="you-go-i-go"))
    synchro = lay_out(library, Block(format="amrap", duration_s=720, items=items, partners=2, split="synchro"))

    def reps(piece: object) -> float:
        return sum(sum(a) for _, a in done(library, piece, "regular"))  # type: ignore[arg-type]

    assert 0.45 * reps(alone) <= reps(pair) <= 0.65 * reps(alone)
    assert reps(synchro) == pytest.approx(reps(alone))


def test_slots_of_an_alternating_piece_are_timed_apart(library: Library) -> None:
    items = (item("burpee", 8, slot=1), item("plank", 40, unit="s", slot=2, rest_s=60.0))
    piece = lay_out(library, Block(format="emom", every_s=60, rounds=12, items=items))
    found = clock_of(library, piece, "regular")
    assert [s.slot for s in found.slots] == [1, 2]
    assert found.slots[1].work.typical_s == 40
    assert found.total.typical_s == 720
    # three slots with the resting one: four rounds of each
    assert [len(a) for _, a in done(library, piece, "regular")] == [4, 4]


def test_a_lift_takes_sets_and_the_rests_between(library: Library) -> None:
    lift = item("back-squat", 5, sets=5, rest_s=120.0)
    found = clock_of(library, lay_out(library, Block(format="strength", items=(lift,))), "regular")
    pace = library.movements["back-squat"].pace("rep")
    assert pace is not None
    fresh = pace * library.slowing[library.movements["back-squat"].character].fresh
    assert found.total.low_s == pytest.approx(5 * 5 * fresh + 4 * 120)


def test_a_missing_rest_is_assumed_and_said(library: Library) -> None:
    time = time_piece(library, lay_out(library, Block(format="strength", items=(item("back-squat", 5, sets=5),))))
    rest = library.rules["strength-rest"]
    band = time.by_level["regular"].total
    assert band.high_s - band.low_s >= 4 * (rest.high - rest.low)
    assert any("rest between sets assumed" in s for s in time.said)


def test_what_nobody_knows_is_said_not_timed(library: Library) -> None:
    unknown = Item(line=2, as_written="30 zorblax", movement=None, name="zorblax", amount=(30.0,), amount_is="each")
    with_ = time_piece(library, lay_out(library, Block(format="for-time", items=(item("burpee", 30), unknown))))
    assert any("zorblax" in s for s in with_.said)
    alone = time_piece(library, lay_out(library, Block(format="for-time", items=(item("burpee", 30),))))
    assert with_.by_level["regular"].total == alone.by_level["regular"].total


def test_a_time_cap_that_most_will_meet_is_said(library: Library) -> None:
    block = Block(format="for-time", rounds=10, time_cap_s=300, items=(item("burpee", 30),))
    assert any("time cap" in s for s in time_piece(library, lay_out(library, block)).said)


@pytest.mark.parametrize("name", NAMES)
def test_any_board_has_bands_in_order_and_shares_that_sum_to_one(library: Library, name: str) -> None:
    _, reading = board(library, name)
    for block in reading.blocks:
        piece = lay_out(library, block)
        time = time_piece(library, piece)
        usual = [time.by_level[level].total.typical_s for level in LEVELS]
        if block.format in ("for-time", "work", "strength"):
            assert usual[0] >= usual[1] >= usual[2]
        rounds = [time.by_level[level].rounds for level in LEVELS]
        if all(rounds):
            assert rounds[0][1] <= rounds[1][1] <= rounds[2][1]  # type: ignore[index]
        total = sum(s.share for s in time.shares)
        assert total == pytest.approx(1) or total == 0
        character_of(library, piece, time)


@pytest.mark.parametrize(
    ("seconds", "domain"), [(3 * 60, "sprint"), (7 * 60, "short"), (15 * 60, "medium"), (30 * 60, "long")]
)
def test_time_domain_by_usual_time(library: Library, seconds: float, domain: str) -> None:
    block = Block(format="amrap", duration_s=seconds, items=(item("burpee", 10),))
    piece = lay_out(library, block)
    found = character_of(library, piece, time_piece(library, piece))
    assert found.domain is not None
    assert found.domain.id == domain


def test_a_lift_on_the_clock_has_no_time_domain(library: Library) -> None:
    block = Block(format="emom", every_s=120, rounds=6, items=(item("power-clean", 3, percent=(70.0,)),))
    piece = lay_out(library, block)
    assert character_of(library, piece, time_piece(library, piece)).domain is None


def test_times_are_told_to_a_step_that_can_be_believed() -> None:
    assert [believable(s) for s in (47, 388, 1234)] == [45, 390, 1230]


def test_rests_within_a_set_are_those_of_the_pace_model(library: Library) -> None:
    pull = work(library, "strict-pull-up", 20)
    band = band_of(library, pull, (20,), "regular")  # two sets of ten: one rest
    pace = pull.movement.pace("rep", "regular")
    assert pace is not None
    fresh = 20 * pace * library.slowing[pull.movement.character].fresh
    assert band.low_s == pytest.approx(fresh + SET_REST_S["short"][0])


def test_a_ladder_on_the_clock_ends_when_an_interval_is_missed(library: Library) -> None:
    climb = item("burpee", 3, amount_is="scheme")
    piece = lay_out(library, Block(format="emom", every_s=60, scheme=(3,), step=1, items=(climb,)))
    found = clock_of(library, piece, "regular")
    assert found.rounds is not None
    reached = int(found.rounds[1])
    assert found.reps == 3 + reached - 1
    burpee = piece.works[0]
    assert band_of(library, burpee, (found.reps,), "regular").typical_s <= 60
    assert band_of(library, burpee, (found.reps + 1,), "regular").typical_s > 60
    ((_, amounts),) = done(library, piece, "regular")
    assert amounts == tuple(range(3, 3 + reached))


def test_the_time_cap_decides_the_time_domain(library: Library) -> None:
    block = Block(format="for-time", rounds=10, time_cap_s=480, items=(item("burpee", 30),))
    piece = lay_out(library, block)
    found = character_of(library, piece, time_piece(library, piece))
    assert found.domain is not None
    assert found.domain.id == "short"


def test_a_rest_of_the_piece_is_that_of_its_lifts(library: Library) -> None:
    lift = item("back-squat", 5, sets=5)
    own = clock_of(library, lay_out(library, Block(format="strength", items=(lift,), rest_s=120)), "regular")
    told = item("back-squat", 5, sets=5, rest_s=120.0)
    assert own.total == clock_of(library, lay_out(library, Block(format="strength", items=(told,))), "regular").total


def test_a_rest_after_an_amrap_is_not_in_its_rounds(library: Library) -> None:
    items = (item("air-squat", 20), item("push-up", 10))
    plain, rested = (
        clock_of(library, lay_out(library, Block(format="amrap", duration_s=480, rest_s=rest, items=items)), "regular")
        for rest in (None, 180.0)
    )
    assert plain.rounds == rested.rounds
    inside = (items[0], item("push-up", 10, rest_s=60.0))
    slower = clock_of(library, lay_out(library, Block(format="amrap", duration_s=480, items=inside)), "regular")
    assert slower.rounds is not None
    assert plain.rounds is not None
    assert slower.rounds[1] < plain.rounds[1]


def test_an_amrap_that_comes_again_is_done_again(library: Library) -> None:
    items = (item("air-squat", 20), item("push-up", 10))
    once, thrice = (
        sum(sum(a) for _, a in done(library, lay_out(library, block), "regular"))
        for block in (
            Block(format="amrap", duration_s=240, items=items),
            Block(format="amrap", duration_s=240, rounds=3, rest_s=90, items=items),
        )
    )
    assert thrice == pytest.approx(3 * once)


def test_sets_on_the_clock_last_as_long_as_the_sets(library: Library) -> None:
    block = Block(format="emom", every_s=90, items=(item("power-snatch", 2, sets=8, percent=(80.0,)),))
    assert clock_of(library, lay_out(library, block), "regular").total.typical_s == 8 * 90


def test_a_build_up_has_no_time(library: Library) -> None:
    piece = lay_out(library, Block(format="strength", items=(item("front-squat", 3, effort="heavy"),)))
    time = time_piece(library, piece)
    assert time.by_level["regular"].total.typical_s == 0
    assert any("built up" in s for s in time.said)


def test_several_movements_without_rest_breathe(library: Library) -> None:
    block = Block(format="amrap", duration_s=1200, items=(item("strict-pull-up", 5), item("push-up", 10)))
    piece = lay_out(library, block)
    assert character_of(library, piece, time_piece(library, piece)).breathing != "little breathing"


def test_rest_after_a_piece_is_no_part_of_its_time(library: Library) -> None:
    work_ = {"scheme": (21.0, 15.0, 9.0), "items": (item("thruster", 21, 15, 9, amount_is="scheme"),)}
    plain, after, between = (
        clock_of(library, lay_out(library, Block(format="for-time", **work_, **more)), "regular").total.typical_s  # type: ignore[arg-type]
        for more in ({}, {"rest_s": 300.0, "rest_after": True}, {"rest_s": 300.0})
    )
    assert after == plain
    assert between > plain + 300


def test_partners_who_each_do_all_in_turn_take_as_long_as_all_of_them(library: Library) -> None:
    def block(**more: object) -> Block:
        return Block(format="for-time", rounds=5, items=(item("burpee", 10), item("air-squat", 10)), **more)  # type: ignore[arg-type]

    alone = time_piece(library, lay_out(library, block()))
    relay = time_piece(library, lay_out(library, block(partners=3, split="each", in_turn=True)))
    ratio = relay.by_level["regular"].total.typical_s / alone.by_level["regular"].total.typical_s
    assert ratio == pytest.approx(3)
    own = [[sum(a) for _, a in done(library, lay_out(library, b), "regular")] for b in (block(), block(in_turn=True))]
    assert own[0] == own[1] == [50, 50]
    assert any("does all of it, in turn" in s for s in relay.said)


def test_rest_as_long_as_the_work_stands_between_the_rounds(library: Library) -> None:
    rows = {"format": "for-time", "rounds": 4, "items": (item("row", 250, unit="m"),)}
    plain, rested = (
        clock_of(library, lay_out(library, Block(**rows, rest_per_work=share)), "regular").total.typical_s  # type: ignore[arg-type]
        for share in (None, 1.0)
    )
    assert rested == pytest.approx(plain * 7 / 4)


def test_what_partners_do_in_synchro_is_whole_for_each(library: Library) -> None:
    items = (item("sit-up", 20, split="synchro"), item("wall-ball", 30))
    piece = lay_out(library, Block(format="for-time", partners=2, split="shared", items=items))
    assert [sum(a) for _, a in done(library, piece, "regular")] == [20, 15]
    assert any("in synchro" in s for s in time_piece(library, piece).said)


def test_a_heavy_lift_takes_the_time_given_to_build_up(library: Library) -> None:
    heavy = item("back-squat", 3, effort="heavy")
    timed = time_piece(library, lay_out(library, Block(format="strength", duration_s=1200, items=(heavy,))))
    assert timed.by_level["regular"].total.typical_s == 1200
    assert not any("no time" in s for s in timed.said)
