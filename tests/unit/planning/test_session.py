"""An evening: it holds or is refused, caps are never broken, blocks add up, and the cheapest change is that."""

from __future__ import annotations

import csv
import io
import random
import sys
from dataclasses import replace

import numpy as np
import pytest

from sim.errors import InputError
from sim.game.model import Game
from sim.planning.band import MEASURES, Band
from sim.planning.block import Block
from sim.planning.block_loads import PLACE, BlockLoads
from sim.planning.caps import caps_broken
from sim.planning.closing import cheapest_change
from sim.planning.forecast import forecast
from sim.planning.heat import Heat, Rule
from sim.planning.layout import laid_out, new_cones
from sim.planning.line_up import FIRST_OUT
from sim.planning.session import Planned, moved, people_there, planned, replanned
from sim.planning.session_file import Ground, Part
from sim.squads.squad import Person, Squad, numbered
from sim.words.session_details import players_csv
from tests.support.evening import SHORT, SIX, evening, fake

FIVES = Block("even-keep-ball", bouts=2, work_s=120, rest_s=60)


def play(games) -> dict[Game, BlockLoads]:
    return {game: fake(game) for game in games}


def test_blocks_add_up_and_bouts_that_somebody_waits_do_not_count():
    seven = (*SIX, Person(7, "P7", level=4.0))
    plan = planned(evening(SHORT, SHORT, people=seven), seven)
    assert len(plan.line_ups[0].waiting) == 1 and FIRST_OUT in plan.line_ups[0].cells.values()
    assert sum(plan.line_ups[0].bouts.values()) == 3 * 6
    found = forecast(plan, play(plan.games))
    minutes = {one.shirt: found.mean[i, list(MEASURES).index("minutes")] for i, one in enumerate(seven)}
    for shirt, value in minutes.items():
        assert value == pytest.approx(2.0 * sum(one.bouts[shirt] for one in plan.line_ups))
    assert (found.low <= found.mean + 1e-9).all() and (found.high >= found.mean - 1e-9).all()
    assert found.mean == pytest.approx(found.by_block.sum(axis=0))


def test_who_runs_much_does_so_in_all_blocks():
    """The ranges of two blocks add up, as they would not if each block drew other players."""
    alone, twice = planned(evening(SHORT), SIX), planned(evening(SHORT, SHORT), SIX)
    own = fake(alone.games[0], sessions=9)
    own.loads[:, :, PLACE["session_distance_m"]] += np.random.default_rng(1).normal(0.0, 30.0, (9, 6))
    one, both = (forecast(plan, {own.game: own}) for plan in (alone, twice))
    column = list(MEASURES).index("metres")

    def role(plan: Planned, block: int, shirt: int) -> str:
        line_up = plan.line_ups[block]
        return line_up.place(next(spot for spot in line_up.spots if spot.person.shirt == shirt)).role

    width = {role(alone, 0, person.shirt): one.high[i, column] - one.low[i, column] for i, person in enumerate(SIX)}
    for i, person in enumerate(SIX):
        wide = sum(width[role(twice, block, person.shirt)] for block in (0, 1))
        assert both.high[i, column] - both.low[i, column] == pytest.approx(wide)


def test_what_is_by_chance_high_in_one_block_does_not_even_out_in_the_next():
    """The same game twice: the doubt is twice that of one, not 1.4 times."""
    alone, twice = planned(evening(SHORT), SIX), planned(evening(SHORT, SHORT), SIX)
    own = fake(alone.games[0], sessions=9)
    own.loads[:, :, PLACE["session_distance_m"]] += np.random.default_rng(1).normal(0.0, 30.0, (9, 1))
    one, both = (forecast(plan, {own.game: own}).error[:, list(MEASURES).index("metres")] for plan in (alone, twice))
    assert both == pytest.approx(2 * one) and (one > 0).all()


def test_who_has_begun_in_the_middle_does_not_at_once_again():
    plan = planned(evening(SHORT, SHORT, SHORT), SIX)
    begun = [[spot.person.shirt for spot in one.spots if one.place(spot).role == "inside"] for one in plan.line_ups]
    assert sorted(sum(begun, [])) == [1, 2, 3, 4, 5, 6]


def test_nobody_floats_twice_while_others_have_not():
    ten = tuple(Person(i, "", level=5.0) for i in range(1, 11))
    plan = planned(evening(FIVES, FIVES, FIVES, people=ten), ten)
    floaters = [spot.person.shirt for one in plan.line_ups for spot in one.spots if one.place(spot).role == "floater"]
    assert len(floaters) == 6 == len(set(floaters))


def test_what_is_known_of_somebody_stands_at_his_place():
    people = (replace(SIX[0], pass_success=0.91), *SIX[1:])
    line_up = planned(evening(SHORT, people=people), people).line_ups[0]
    known = {one.person.shirt: line_up.games[0].players[one.place].pass_success for one in line_up.spots}
    assert known == {1: 0.91} | dict.fromkeys(range(2, 7))


def test_of_two_populations_one_must_be_chosen():
    people = (replace(SIX[0], population="women"), replace(SIX[1], population="elite men"), *SIX[2:])
    with pytest.raises(InputError, match="population must be given where people are of several"):
        planned(evening(SHORT, people=people), people)
    plan = planned(evening(SHORT, people=people, population="women"), people)
    assert {team.population for team in plan.games[0].teams} == {"women"}


def test_adults_bands_are_refused_for_minors():
    band = Band({"fast_metres": (0, 10), "metres": (0, 10)})
    with pytest.raises(InputError, match="band.fast_metres must be left out where minors play"):
        planned(evening(SHORT, band=band, population="U12"), SIX)


U17 = tuple(replace(one, population="U17 boys") for one in SIX)


@pytest.mark.parametrize(
    ("people", "population", "rule"),
    [
        (U17, "amateur men", "population must be one of minors, as that of 1 P1 is, U17 boys .got amateur men."),
        (
            (*SIX[:5], replace(SIX[5], population="women")),
            "U12",
            "population must be one of adults, as that of 6 P6 is, women .got U12.",
        ),
        ((*U17[:3], *SIX[3:]), None, "the population of 4 P4 must be given where 1 P1's is U17 boys .got none."),
        (
            (*SIX[:2], *U17[2:5], replace(SIX[5], population="women")),
            None,
            "the population of 1 P1 must be given where 3 P3's is U17 boys .got none.",
        ),
        (
            (*U17[:5], replace(SIX[5], population="women")),
            None,
            "the population of 6 P6 must be one of minors where 1 P1's is U17 boys .got women.",
        ),
    ],
)
def test_nobody_is_planned_as_of_another_age(people: tuple[Person, ...], population: str | None, rule: str):
    with pytest.raises(InputError, match=rule) as refused:
        planned(evening(SHORT, SHORT, people=people, population=population), people)
    assert len(refused.value.problems) == 1


def test_who_is_said_to_be_a_minor_is_one_whatever_the_games_say():
    assert planned(evening(SHORT, people=U17), U17).minors
    assert planned(evening(SHORT, people=U17, population="U12"), U17).minors
    assert not planned(evening(SHORT), SIX).minors
    adults = replace(planned(evening(SHORT), SIX), people=U17)
    told = forecast(adults, play(adults.games)).told
    assert "metres" in told and not {"effort", "fast_metres"} & set(told)


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"minutes": 8.0}, "minutes must be enough for the blocks, 9.0 .got 8.: a bout fewer of blocks.b1 saves 3.0"),
        ({"balls": 2}, "balls must be . at least"),
        ({"staff": 1}, "staff must be 2 at least"),
        ({"ground": Ground(10.0, 30.0)}, "blocks.b1 must fit the ground of 10 x 30 m"),
    ],
)
def test_what_the_evening_does_not_have_is_refused(changes: dict, rule: str):
    with pytest.raises(InputError, match=rule):
        planned(evening(SHORT, **changes), SIX)


def test_too_few_for_a_game_are_refused_unless_it_may_be_set_up_anew():
    five = SIX[:5]
    with pytest.raises(
        InputError, match="blocks.b1 must have 6 players a group for tight-square as it is .got 5.: regroup"
    ):
        planned(evening(SHORT, people=five), five)
    plan = planned(evening(SHORT, people=five), five, anew=True)
    assert plan.line_ups[0].anew and len(plan.line_ups[0].games[0].players) == 5


def test_grids_keep_apart_on_the_ground_and_share_their_cones():
    game = planned(evening(SHORT), SIX).games[0]
    ground = Ground(40.0, 30.0)
    part = Part("b1", SHORT)
    rows = laid_out(part, [game] * 3, ground)
    assert [(grid.x, grid.y) for grid in rows] == [(5.5, 5.5), (19.5, 5.5), (33.5, 5.5)]
    assert [(grid.x, grid.y) for grid in laid_out(part, [game] * 3, Ground(30.0, 30.0))][2] == (5.5, 19.5)
    assert new_cones([rows[:1], rows[:1], rows]) == (4, 0, 8)
    for at, rule in (
        (((6, 6), (15, 6)), "keep grids 1 and 2 3 m apart .got they overlap."),
        (((6, 6), (18, 6)), "keep grids 1 and 2 3 m apart .got 1.0 m."),
        (((6, 6), (38, 6)), "keep grid 2 on the ground of 40 x 30 m"),
        (((6, 6),), "must have 2 places, one a grid .got 1."),
    ):
        with pytest.raises(InputError, match=rule):
            laid_out(replace(part, at=at), [game] * 2, ground)
    assert len(laid_out(replace(part, at=((6, 6), (20, 6))), [game] * 2, ground)) == 2


def test_whoever_must_not_defend_has_a_place_that_keeps_him_from_it():
    eleven = tuple(Person(i, "", level=5.0) for i in range(1, 11))
    people = (replace(eleven[0], limits=("no defending", "no tackles"), set_by="M. Thorne"), *eleven[1:])
    with pytest.raises(InputError, match="places for 1 on reduced load"):
        planned(evening(FIVES, people=people), people)
    line_up = planned(evening(FIVES, people=people), people, anew=True).line_ups[0]
    spot = next(one for one in line_up.spots if one.person.shirt == 1)
    game = line_up.games[spot.game]
    player = game.players[spot.place]
    assert game.role(player.role).side == "holder" and not player.tackles


def test_a_cap_of_somebody_who_takes_turns_is_not_kept_by_a_bout_fewer_of_the_block():
    (said,) = caps_broken((replace(SIX[0], most_bouts=1, set_by="M. Thorne"),), {"b1": {1: 2, 2: 3}}, {"b1": 120.0})
    assert "(got 2): blocks.b1.out" in said


def test_a_cap_is_refused_with_who_set_it_and_what_keeps_to_it():
    people = (replace(SIX[0], most_bouts=5, set_by="M. Thorne"), *SIX[1:])
    said = r"1 P1 must have at most 5 bouts, set by M. Thorne .got 6.: blocks.b1.bouts = 2 keeps to it, or blocks.b1.out = .1."
    with pytest.raises(InputError, match=said):
        planned(evening(SHORT, SHORT, people=people), people)
    people = (replace(SIX[0], most_bouts=1, set_by="M. Thorne"), *SIX[1:])
    with pytest.raises(InputError, match=r".got 6.: blocks.b1.out = .1. takes away most"):  # none of b1 would be left
        planned(evening(SHORT, SHORT, people=people), people)
    people = (replace(SIX[0], most_minutes=11.5, set_by="M. Thorne"), *SIX[1:])
    with pytest.raises(
        InputError, match="at most 11.5 minutes of play, set by M. Thorne .got 12.: blocks.b1.bouts = 2"
    ):
        planned(evening(SHORT, SHORT, people=people), people)


def keeps_caps(seed: int) -> bool:
    """Whether a random evening holds; raises AssertionError where it holds and what it prints breaks a cap, or the change that it
    proposes would."""
    dice = random.Random(seed)
    count = dice.choice([6, 7, 8])
    people = tuple(
        Person(
            i,
            "",
            level=float(dice.randint(1, 10)),
            status=dice.choice(["full"] * 9 + ["out"]),
            most_bouts=dice.choice([None, None, dice.randint(2, 12)]),
            most_minutes=dice.choice([None, None, dice.uniform(4, 30)]),
            set_by="M. Thorne",
        )
        for i in range(1, count + 1)
    )
    blocks = [
        replace(SHORT, bouts=dice.randint(1, 4), work_s=60 * dice.randint(1, 3)) for _ in range(dice.randint(1, 3))
    ]
    own = evening(*blocks, people=people, band=Band({"metres": (dice.uniform(200, 900), 2000.0)}))
    try:
        plan = planned(own, people_there(own), anew=dice.random() < 0.5)
    except InputError:
        return False
    loads = play(plan.games)
    found = forecast(plan, loads)
    change = cheapest_change(found, loads, play)
    for one in (found, *([] if change is None else [forecast(change.plan, play(change.plan.games))])):
        sheet = {int(row["shirt"]): float(row["minutes"]) for row in csv.DictReader(io.StringIO(players_csv(one)))}
        assert sheet.keys() == {person.shirt for person in people if person.status != "out"}
        shortest = min(block.games[0].bouts.seconds for block in one.plan.line_ups) / 60
        for person in (one for one in people if one.shirt in sheet):
            assert person.most_minutes is None or sheet[person.shirt] <= person.most_minutes + 0.05
            bouts = sum(block.bouts.get(person.shirt, 0) for block in one.plan.line_ups)
            assert person.most_bouts is None or bouts <= person.most_bouts
            assert sheet[person.shirt] >= bouts * shortest - 0.05
        assert one.plan.long_s <= 60 * own.minutes
    return True


def test_caps_are_never_broken_in_random_evenings():
    """So many here; ``python -m tests.unit.planning.test_session 10000`` for more."""
    held = [keeps_caps(seed) for seed in range(40)]
    assert any(held) and not all(held)


def test_a_change_that_breaks_a_cap_is_noticed(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("sim.planning.closing.holds", lambda _: True)
    with pytest.raises(AssertionError):
        [keeps_caps(seed) for seed in range(40)]


def test_who_is_there():
    squad = Squad((SIX[0], replace(SIX[1], status="out", set_by="M"), replace(SIX[2], days=("thu",)), *SIX[3:]))
    own = evening(SHORT, squad=squad, day="tue")
    assert [one.shirt for one in people_there(own)] == [1, 4, 5, 6]
    assert [one.shirt for one in people_there(own, players=2, without=(4,))] == [1, 5]
    with pytest.raises(InputError, match="must be shirts of those who are there .got 2."):
        people_there(own, without=(2,))
    with pytest.raises(InputError, match="must be at most the 4 of the squad who are there and no keepers .got 5."):
        people_there(own, players=5)
    keeper = replace(SIX[5], position="keeper")
    own = evening(SHORT, people=(*SIX[:5], keeper))
    assert [one.shirt for one in people_there(own, players=2)] == [1, 2, 6]


def test_when_somebody_is_missing_as_few_as_can_be_move():
    twelve = numbered(12).people
    own = evening(SHORT, people=twelve)
    before = planned(own, twelve)
    after = planned(own, (*twelve[:3], *twelve[4:], Person(13, "")), before=before)
    assert moved(before, after) == [("b1", [])]


def test_a_plan_that_would_not_have_held_does_not_stand_in_the_way():
    people = (replace(SIX[0], population="U12"), *(replace(one, population="women") for one in SIX[1:]))
    plan, before = replanned(evening(SHORT, people=people), people[1:], None)
    assert before is None and len(plan.people) == 5
    plan, before = replanned(evening(SHORT), SIX[1:], None)
    assert before is not None and len(before.people) == 6 and len(plan.people) == 5


def gap_plan(least: float, most: float) -> Planned:
    return planned(evening(SHORT, FIVES_OF_SIX, band=Band({"metres": (least, most)})), SIX)


FIVES_OF_SIX = Block("tight-square", bouts=2, work_s=60, rest_s=60)


def test_the_cheapest_change_closes_the_gap_and_moves_the_clock_least():
    plan = gap_plan(590.0, 900.0)
    loads = play(plan.games)
    found = forecast(plan, loads)
    assert found.mean[:, 1].max() < 590
    change = cheapest_change(found, loads, play)
    assert (change.kind, change.part, change.step, change.off) == ("bout", "b2", 1, 0)
    assert change.long_s == plan.long_s + 120
    assert change.mean[:, 1].min() > 590


def test_no_change_where_all_is_in_the_band_and_none_that_breaks_a_cap():
    plan = gap_plan(400.0, 900.0)
    loads = play(plan.games)
    assert cheapest_change(forecast(plan, loads), loads, play) is None
    people = (replace(SIX[0], most_bouts=5, set_by="M. Thorne"), *SIX[1:])
    own = evening(SHORT, FIVES_OF_SIX, people=people, band=Band({"metres": (590.0, 900.0)}))
    plan = planned(own, people)
    loads = play(plan.games)
    assert cheapest_change(forecast(plan, loads), loads, play) is None


def test_where_there_is_no_time_for_a_bout_it_is_a_metre():
    def larger(games) -> dict[Game, BlockLoads]:
        return {game: fake(game, 100.0 + 10.0 * (game.areas[0].length - 11.0)) for game in games}

    plan = planned(evening(SHORT, minutes=9.0, band=Band({"metres": (320.0, 900.0)})), SIX)
    loads = larger(plan.games)
    change = cheapest_change(forecast(plan, loads), loads, larger)
    assert (change.kind, change.step, change.off, change.long_s) == ("metre", 1, 0, plan.long_s)
    small = replace(plan, evening=replace(plan.evening, ground=Ground(11.0, 11.0)))
    assert cheapest_change(forecast(small, loads), loads, larger) is None


def test_in_heat_nothing_is_added():
    plan = gap_plan(590.0, 900.0)
    hot = replace(plan, heat=Heat(30.0, Rule(28.0, 1.0, 600.0, 0.0, 0.0, True, "R. Hale"), "heat.csv"))
    loads = play(plan.games)
    assert cheapest_change(forecast(hot, loads), loads, play) is None


def main(count: int) -> None:
    """Play so many random evenings against their caps."""
    held = sum(keeps_caps(seed) for seed in range(count))
    sys.stdout.write(f"{count} random evenings, {held} of which hold: no cap broken\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
