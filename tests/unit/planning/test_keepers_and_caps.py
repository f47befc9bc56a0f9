"""Keepers within what they may do, extra time within caps, and a proposed change that is a plan like any other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.errors import InputError
from sim.planning.band import MEASURES, Band
from sim.planning.block import Block
from sim.planning.changed import holds, with_count, with_metres, with_rest
from sim.planning.closing import cheapest_change
from sim.planning.forecast import forecast
from sim.planning.session import planned
from sim.planning.session_file import Ground
from sim.squads.squad import Person
from tests.support.evening import SHORT, SIX, evening, fake

GOALS = Block("even-goals", bouts=3, work_s=300, rest_s=60)
TEN = tuple(Person(i, f"P{i}") for i in range(2, 12))
FIRST, SECOND, THIRD = (Person(shirt, f"K{shirt}", position="keeper") for shirt in (1, 12, 13))
WIDE = Ground(70.0, 60.0)


def in_goal(*keepers: Person, blocks: tuple[Block, ...] = (GOALS,), anew: bool = False) -> list[set[int]]:
    people = (*TEN, *keepers)
    plan = planned(evening(*blocks, people=people, ground=WIDE, minutes=120.0), people, anew=anew)
    return [
        {spot.person.shirt for spot in one.spots if one.games[0].role(one.place(spot).role).style == "goal"}
        for one in plan.line_ups
    ]


@pytest.mark.parametrize(
    "limit",
    [
        {"status": "reduced"},
        {"limits": ("no tackles",)},
        {"limits": ("no defending",)},
        {"most_bouts": 2},
        {"most_minutes": 14.0},
    ],
)
def test_a_keeper_with_limits_is_not_put_in_goal_beyond_them(limit: dict):
    bound = replace(FIRST, set_by="M. Thorne", **limit)
    assert in_goal(bound, SECOND, THIRD) == [{12, 13}]
    with pytest.raises(InputError, match="1 K1 may not be in goal( that long)?, set by M. Thorne"):
        in_goal(bound, SECOND)


def test_a_keepers_cap_holds_over_all_blocks():
    bound = replace(FIRST, set_by="M. Thorne", most_bouts=4)
    assert in_goal(bound, SECOND) == [{1, 12}]
    assert in_goal(bound, SECOND, THIRD, blocks=(GOALS, GOALS)) == [{12, 13}, {12, 13}]
    with pytest.raises(InputError, match="1 K1 may not be in goal that long"):
        in_goal(bound, SECOND, blocks=(GOALS, GOALS))


@pytest.mark.parametrize("more", ["bouts.clock=stopped", "bouts.finish_seconds=60"])
def test_minutes_beyond_the_time_of_a_bout_count(more: str):
    people = (replace(SIX[0], most_minutes=6.0, set_by="M. Thorne"), *SIX[1:])
    assert planned(evening(SHORT, people=people), people)
    longer = replace(SHORT, changes=(more,))
    with pytest.raises(InputError, match="1 P1 must have at most 6 minutes of play"):
        planned(evening(longer, people=people), people)


def test_a_change_is_held_against_caps_minutes_and_ground():
    people = (replace(SIX[0], most_bouts=4, set_by="M. Thorne"), *SIX[1:])
    plan = planned(evening(SHORT, people=people, minutes=13.0, ground=Ground(12.0, 12.0)), people)
    assert holds(with_count(plan, 0, 4)) and not holds(with_count(plan, 0, 5))
    assert with_count(plan, 0, 4).long_s == plan.long_s + 180 and with_count(plan, 0, 4).line_ups[0].bouts[1] == 4
    assert holds(with_rest(plan, 0, 120)) and not holds(with_rest(plan, 0, 240))
    assert holds(with_metres(plan, 0, 1))
    with pytest.raises(InputError, match="must fit the ground"):
        with_metres(plan, 0, 2)


def test_two_or_three_of_a_kind_are_tried_and_turns_are_whole():
    seven = (*SIX, Person(7, "P7"))
    band = Band({"metres": (450.0, 9000.0)})
    plan = planned(evening(SHORT, people=seven, band=band, minutes=60.0), seven)
    loads = {game: fake(game) for game in plan.games}
    found = forecast(plan, loads)
    change = cheapest_change(found, loads, lambda games: {game: fake(game) for game in games})
    assert (change.kind, change.step) == ("bout", 3)
    bouts = change.plan.line_ups[0].bouts
    assert sum(bouts.values()) == 6 * 6 and set(bouts.values()) == {5, 6}
    column = list(MEASURES).index("minutes")
    assert {person.shirt: round(change.mean[i, column] / 2) for i, person in enumerate(seven)} == dict(bouts)
