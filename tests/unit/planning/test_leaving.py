"""Whose bouts or minutes run out is off, and the others go on; where the game does not allow it, it is refused and says why."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.errors import InputError
from sim.planning.block import Block
from sim.planning.forecast import forecast
from sim.planning.heat import Heat, Rule
from sim.planning.session import Planned, planned
from sim.planning.session_data import session_data
from sim.squads.squad import Person, numbered
from sim.words.within_limits import within_limits
from tests.support.evening import SHORT, SIX, evening, fake

FOUR = replace(SHORT, bouts=4, drinks_s=90, changeover_s=60)
TWELVE = numbered(12).people


def capped(people: tuple[Person, ...] = SIX, **most: float) -> tuple[Person, ...]:
    return (replace(people[0], set_by="M. Thorne", **most), *people[1:])


def plan_of(people: tuple[Person, ...], *blocks: Block, anew: bool = True, heat: Heat | None = None) -> Planned:
    return planned(evening(*blocks, people=people), people, heat, anew=anew)


def in_each(plan: Planned, shirt: int) -> list[tuple[str, int, int]]:
    """(block, its bouts, his bouts)."""
    return [(one.part.name, one.games[0].bouts.count, one.bouts.get(shirt, 0)) for one in plan.line_ups]


def test_he_is_off_after_his_bouts_and_the_others_go_on():
    plan = plan_of(capped(most_bouts=3), FOUR, SHORT)
    assert in_each(plan, 1) == [("b1", 3, 3), ("b1 without 1", 1, 0), ("b2", 3, 0)]
    assert in_each(plan, 2) == [("b1", 3, 3), ("b1 without 1", 1, 1), ("b2", 3, 3)]
    assert [len(one.games[0].players) for one in plan.line_ups] == [6, 5, 5]
    assert [(one.part, one.bouts) for one in plan.leaves] == [("b1", 3)]


def test_the_clock_is_as_without_the_cap():
    """Drinks included, wherever he goes."""
    whole = plan_of(SIX, FOUR, SHORT).long_s
    assert [plan_of(capped(most_bouts=most), FOUR, SHORT).long_s for most in (1, 2, 3, 4, 5)] == [whole] * 5


def test_minutes_run_out_as_bouts_do_and_nobody_is_off_at_his_very_limit():
    assert in_each(plan_of(capped(most_minutes=5.9), FOUR), 1) == [("b1", 2, 2), ("b1 without 1", 2, 0)]
    assert in_each(plan_of(capped(most_minutes=6.0), FOUR), 1) == [("b1", 3, 3), ("b1 without 1", 1, 0)]
    assert plan_of(capped(most_minutes=8.0), FOUR).leaves == ()
    assert in_each(plan_of(capped(most_bouts=4), FOUR, SHORT), 1) == [("b1", 4, 4), ("b2", 3, 0)]


def test_the_others_stay_in_their_groups_on_the_same_cones():
    people = tuple(replace(one, level=float(1 + one.shirt % 10)) for one in capped(TWELVE, most_bouts=2))
    before, after = plan_of(people, replace(FOUR, changes=("side=13",))).line_ups
    assert len(before.games) == len(after.games) == 2
    assert {shirt: before.cells[shirt] for shirt in after.cells} == dict(after.cells)
    assert {area.length for game in after.games for area in game.areas} == {13.0}
    assert plan_of(people, replace(FOUR, changes=("side=13",))).kit.new_cones[1] == 0


def test_two_who_go_at_once_leave_one_block_and_two_who_do_not_leave_two():
    people = tuple(replace(one, most_bouts=2, set_by="M. Thorne") if one.shirt < 3 else one for one in TWELVE)
    assert [name for name, _, _ in in_each(plan_of(people, FOUR), 3)] == ["b1", "b1 without 1"]
    people = (replace(people[0], most_bouts=1), *people[1:])
    assert [name for name, _, _ in in_each(plan_of(people, FOUR), 3)] == ["b1", "b1 without 1", "b1 without 1, 2"]


def test_in_heat_the_bouts_that_are_played_count():
    hot = Heat(30.0, Rule(28.0, 0.5, 600.0, 0.0, 0.0, True, "R. Hale"), "heat.csv")
    assert plan_of(capped(most_bouts=2), FOUR, heat=hot).leaves == ()
    assert in_each(plan_of(capped(most_bouts=1), FOUR, heat=hot), 1) == [("b1", 1, 1), ("b1 without 1", 1, 0)]


def test_where_the_game_forces_it_it_is_refused_with_the_reason():
    said = (
        "1 P1 must have at most 3 bouts, set by M. Thorne .got 4.: .* takes away most; without him after 3 of b1 it does not "
        "hold: blocks.b1 without 1 must have 6 players a group for tight-square as it is .got 5.: regroup = true"
    )
    with pytest.raises(InputError, match=said):
        plan_of(capped(most_bouts=3), FOUR, anew=False)
    with pytest.raises(InputError, match="without him from b1 on it does not hold: blocks.b1 must have 6 players"):
        plan_of(capped(most_minutes=0.5), FOUR, anew=False)


def test_where_one_waits_in_turn_nothing_need_be_set_up_anew():
    seven = (*SIX, Person(7, "P7"))
    plan = plan_of(capped(seven, most_bouts=1), FOUR, anew=False)
    assert len(plan.line_ups[0].waiting) == 1 and plan.line_ups[-1].waiting == ()
    assert sum(his for _, _, his in in_each(plan, 1)) <= 1 and not any(one.anew for one in plan.line_ups)


def test_he_is_not_held_against_the_band_and_it_is_said():
    plan = plan_of(capped(most_bouts=3), FOUR, SHORT)
    found = forecast(plan, {game: fake(game) for game in plan.games})
    assert found.judged == [1, 2, 3, 4, 5]
    assert within_limits(found)[-1] == "1 P1 is off after three bouts of b1; the others go on without him."
    data = session_data(found, None, None, None, 1)["players"]
    assert data[0]["off_after"] == {"block": "b1", "bouts": 3} and data[1]["off_after"] is None
    later = plan_of(capped(most_bouts=4), FOUR, SHORT)
    found = forecast(later, {game: fake(game) for game in later.games})
    assert within_limits(found)[-1] == "1 P1 sits out from b2 on."


def test_minutes_beyond_the_time_of_a_bout_count_when_he_goes():
    longer = replace(SHORT, changes=("bouts.finish_seconds=60",))
    assert in_each(plan_of(capped(most_minutes=6.0), longer), 1) == [("b1", 2, 2), ("b1 without 1", 1, 0)]
