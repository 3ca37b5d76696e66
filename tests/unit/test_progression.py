"""What stands between a member and a movement, by hand: the rungs, their order, their measures, what is owned."""

from __future__ import annotations

import pytest

from subgraph.errors import AskError
from subgraph.graph import must_own_first
from subgraph.library.knowledge import Library
from subgraph.progression import all_owned, in_order, one_rung_away, progression, rung_of
from subgraph.quantities import Amount
from subgraph.today import Ask, Today, Told

RING_MUSCLE_UP = Ask("ring-muscle-up", Amount(5, "rep"))


def ids(found: object) -> list[str]:
    return [s.movement.id for s in found]  # type: ignore[attr-defined]


def test_owning_nothing_leaves_all_that_is_needed(library: Library) -> None:
    found = progression(library, RING_MUSCLE_UP, Today())
    assert found.outcome == "rungs"
    assert set(ids(found.steps)) == must_own_first(library, "ring-muscle-up")
    assert {"dead-hang", "strict-pull-up", "ring-dip", "low-ring-transition"} <= set(ids(found.steps))


def test_owning_a_movement_implies_what_it_needs(library: Library) -> None:
    found = progression(library, RING_MUSCLE_UP, Today(), ["strict-pull-up", "bar-dip"])
    owned = {m.id for m in found.owned}
    assert {"dead-hang", "active-hang", "ring-row", "push-up", "parallel-bar-support-hold"} <= owned
    assert not owned & set(ids(found.steps))
    assert "ring-dip" in ids(found.steps)


def test_owning_the_goal_or_what_needs_it_leaves_nothing(library: Library) -> None:
    ask = Ask("strict-pull-up", Amount(10, "rep"))
    for owns in ("strict-pull-up", "kipping-pull-up"):
        found = progression(library, ask, Today(), [owns])
        assert (found.outcome, found.steps) == ("owned", ())


def test_goal_that_needs_nothing_is_said(library: Library) -> None:
    found = progression(library, Ask("sit-up", Amount(10, "rep")), Today())
    assert (found.outcome, found.steps) == ("next", ())
    assert found.answer.options, "what to do while learning it"


def test_all_needs_owned_leaves_the_goal_itself(library: Library) -> None:
    needs = library.movements["ring-muscle-up"].needs
    assert progression(library, RING_MUSCLE_UP, Today(), needs).outcome == "next"


def test_tiny_ladder_by_hand(tiny: Library) -> None:
    found = progression(tiny, Ask("toes-to-bar", Amount(10, "rep")), Today())
    (step,) = found.steps
    assert step.movement.id == "hanging-knee-raise"
    assert [m.id for m in step.opens] == ["toes-to-bar"]
    assert step.rung is None, "the tiny library holds no measures"
    assert not step.waits_for


def test_rung_waits_for_what_it_needs_itself(library: Library) -> None:
    found = progression(library, Ask("kipping-pull-up", Amount(10, "rep")), Today(), ["ring-row"])
    by_id = {s.movement.id: s for s in found.steps}
    assert [m.id for m in by_id["strict-pull-up"].waits_for] == ["active-hang", "negative-pull-up"]
    assert not by_id["dead-hang"].waits_for


def test_measure_written_for_what_it_opens_comes_before_the_plain_one(library: Library) -> None:
    plain, own = rung_of(library, "strict-pull-up"), rung_of(library, "strict-pull-up", ["legless-rope-climb"])
    assert plain is not None
    assert own is not None
    assert own.amount > plain.amount
    assert rung_of(library, "strict-pull-up", ["kipping-pull-up"]) == plain


def test_easiest_of_what_is_free_comes_first(library: Library) -> None:
    order = in_order(library, must_own_first(library, "ring-dip"))
    ranks = [library.movements[m].skill + library.movements[m].strength for m in order[:2]]
    assert ranks == sorted(ranks)
    assert order.index("parallel-bar-support-hold") < order.index("bar-dip")


def test_complaint_takes_rungs_out_and_says_why(library: Library) -> None:
    today = Today(complaints=(Told("shoulder", ("overhead",)),))
    found = progression(library, RING_MUSCLE_UP, today)
    out = {s.movement.id: s.removals for s in found.steps if s.removals}
    assert "dead-hang" in out
    assert all(r.kind == "complaint" and r.reason for r in out["dead-hang"])
    assert found.removals
    assert all(s.stand_in is None or s.removals for s in found.steps)


def test_level_takes_easy_rungs_as_owned_and_lists_them_apart(library: Library) -> None:
    found = progression(library, RING_MUSCLE_UP, Today(level="regular"))
    assumed = {m.id for m in found.assumed}
    assert "dead-hang" in assumed
    assert not assumed & set(ids(found.steps))
    assert not found.owned
    assert not progression(library, RING_MUSCLE_UP, Today(level="novice")).assumed


def test_what_is_told_as_not_owned_is_never_taken_as_owned(library: Library) -> None:
    found = progression(library, RING_MUSCLE_UP, Today(level="advanced", cannot=frozenset(["dead-hang"])))
    assert "dead-hang" in ids(found.steps)
    assert "active-hang" in ids(found.steps), "it needs the dead hang"


@pytest.mark.parametrize("cannot", ["strict-pull-up", "dead-hang"])
def test_owned_and_not_owned_at_once_is_refused(library: Library, cannot: str) -> None:
    with pytest.raises(AskError, match="owned") as caught:
        progression(library, RING_MUSCLE_UP, Today(cannot=frozenset([cannot])), ["strict-pull-up"])
    assert caught.value.nearest == (cannot,)
    with pytest.raises(AskError, match="owned"):
        one_rung_away(library, Today(cannot=frozenset([cannot])), ["strict-pull-up"])


def test_red_flag_refers_and_gives_no_rung(library: Library) -> None:
    found = progression(library, RING_MUSCLE_UP, Today(), says="crushing chest pain")
    assert (found.outcome, found.steps, found.owned, found.answer.options) == ("refer", (), (), ())
    assert found.answer.refer is not None


def test_member_who_has_climbed_gets_more_than_a_novice(library: Library) -> None:
    found = progression(library, RING_MUSCLE_UP, Today(level="novice"))
    last = found.steps[-1].substitute
    assert last is not None
    assert last.movement.strength > library.levels["novice"].strength


def test_one_rung_away_needs_only_what_is_owned(library: Library) -> None:
    found = one_rung_away(library, Today(), ["strict-pull-up", "bar-dip"])
    near = ids(found.nearby)
    assert {"weighted-pull-up", "weighted-dip", "strict-chest-to-bar-pull-up"} <= set(near)
    assert "kipping-pull-up" not in near, "it needs the kip swing too"
    assert "kipping-pull-up" in ids(one_rung_away(library, Today(), ["strict-pull-up", "kip-swing"]).nearby)


def test_nothing_easier_than_what_is_owned_is_one_rung_away(library: Library) -> None:
    near = ids(one_rung_away(library, Today(), ["strict-pull-up"]).nearby)
    assert not {"band-assisted-pull-up", "ring-row", "negative-pull-up"} & set(near)


def test_what_is_not_for_today_is_counted_with_its_reason(library: Library) -> None:
    whole = one_rung_away(library, Today(), ["strict-pull-up"])
    found = one_rung_away(library, Today(without=frozenset(["rig"])), ["strict-pull-up"])
    assert len(found.nearby) + sum(found.removed.values()) == len(whole.nearby)
    assert any("pull-up bar" in reason for reason in found.removed)


def test_owning_only_the_hardest_still_leads_somewhere(library: Library) -> None:
    assert "bar-muscle-up" in ids(one_rung_away(library, Today(), ["ring-muscle-up"]).nearby)


def test_what_opens_from_the_told_movements_comes_first(library: Library) -> None:
    nearby = one_rung_away(library, Today(), ["strict-pull-up", "bar-dip"]).nearby
    told = [bool({"strict-pull-up", "bar-dip"} & {m.id for m in near.from_}) for near in nearby]
    assert told == sorted(told, reverse=True)
    assert not all(told)


def test_assumed_amount_becomes_about_a_minute(library: Library) -> None:
    ask = Ask("handstand-walk", Amount(400, "m"), assumed=True)
    found = progression(library, ask, Today()).asked
    pace = library.movements["handstand-walk"].pace("m")
    assert pace is not None
    assert 0.7 * 60 <= found.amount.value * pace <= 1.3 * 60
    given = Ask("handstand-walk", Amount(400, "m"))
    assert progression(library, given, Today()).asked == given


def test_everything_owned_is_closed_under_needs(library: Library) -> None:
    owned = all_owned(library, ["ring-muscle-up"])
    assert owned == {"ring-muscle-up"} | must_own_first(library, "ring-muscle-up")
