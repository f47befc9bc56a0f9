"""Nobody is counted on an evening to which the minutes of his week no longer stretch."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sim.weeks.days import Evening, Match
from sim.weeks.moving import moved, read_move
from sim.weeks.people import Limits, Member
from sim.weeks.plan import planned
from sim.weeks.used_up import settled, used_up
from tests.unit.weeks.test_plan import FILE, NOT_DEFENDING, TABLE, THURSDAY, TUESDAY

TWELVE = [Member(shirt, f"{shirt} Player") for shirt in range(1, 13)]


def with_week(minutes: float, **more) -> list[Member]:
    """Twelve, the last of whom has so many minutes a week."""
    return [*TWELVE[:-1], replace(TWELVE[-1], limits=Limits("the physio", week_minutes=minutes, **more))]


def of_twelve(plan, day: date):
    (line,) = [one for one in plan.lines if one.member.shirt == 12]
    return next(one for one in line.days if one.day == day)


def people(plan) -> list[int]:
    return [one.people for one in plan.evenings]


def test_who_has_used_up_his_week_is_in_no_game_of_the_next_evening():
    members = with_week(95.0)
    first = planned(FILE, members, TABLE)
    assert people(first) == [12, 12] and of_twelve(first, THURSDAY).bouts == (0,) * len(first.evenings[1].taken)
    assert used_up(first) == {12: frozenset([THURSDAY])}
    plan, table = settled(FILE, members, TABLE)
    assert people(plan) == [12, 11] and table is TABLE and used_up(plan) == {}
    assert all(one.offer.people == 11 for one in plan.evenings[1].taken)
    day = of_twelve(plan, THURSDAY)
    assert (day.why, day.by, sum(day.bouts)) == ("limited", "the physio", 0)
    assert sum(of_twelve(plan, TUESDAY).bouts) > 0


def test_with_minutes_left_for_a_bout_he_is_counted():
    plan, _ = settled(FILE, with_week(130.0), TABLE)
    assert people(plan) == [12, 12] and sum(of_twelve(plan, THURSDAY).bouts) > 0


def test_games_that_were_not_played_yet_are_asked_for_once():
    table, asked = {12: TABLE[12]}, []

    def wider(members):
        asked.append([one.shirt for one in members if one.spent])
        return TABLE

    plan, found = settled(FILE, with_week(95.0), table, wider=wider)
    assert people(plan) == [12, 11] and asked == [[12]] and found is TABLE


def test_where_no_game_holds_those_who_are_left_the_evening_stays():
    plan, _ = settled(FILE, with_week(95.0), {12: TABLE[12]})
    assert people(plan) == [12, 12]


def test_an_evening_that_cannot_do_without_him_keeps_no_other_from_it():
    """Two weeks, and too few for a game on the first Thursday were he not counted: on the second they are enough."""
    second = (Evening(date(2026, 8, 18), 90.0, ("win",)), Evening(date(2026, 8, 20), 75.0))
    members = with_week(95.0)
    members = [*(replace(one, away=frozenset([THURSDAY])) for one in members[:2]), *members[2:]]
    file, table = replace(FILE, evenings=(*FILE.evenings, *second)), {12: TABLE[12], 10: TABLE[10]}
    asked = []

    def wider(those):
        asked.append({day for one in those for day in one.spent})
        return table | ({11: TABLE[11]} if second[1].day in asked[-1] else {9: []})

    plan, found = settled(file, members, table, wider=wider)
    assert people(plan) == [12, 10, 12, 11] and set(found) == {10, 11, 12}
    assert asked == [{THURSDAY}, {second[1].day}]


def test_a_place_of_his_own_is_given_up_too():
    kept = with_week(70.0, kept=NOT_DEFENDING)
    plan, _ = settled(FILE, kept, TABLE)
    assert people(plan) == [12, 11] and plan.evenings[1].turnout.kept == ()


def test_a_limit_of_the_evening_alone_is_no_week_that_is_used_up():
    members = [*TWELVE[:-1], replace(TWELVE[-1], limits=Limits("the physio", minutes=18.0))]
    assert used_up(planned(FILE, members, TABLE)) == {}


def test_after_a_move_he_is_counted_as_his_minutes_then_stretch():
    """Two matches of half an hour, in one week: nothing is left for Thursday.  With one of them a week later he is in it again."""
    matches = (replace(FILE.matches[0], minutes={12: 20.0}), Match(date(2026, 8, 16), "the second", minutes={12: 20.0}))
    file = replace(FILE, matches=matches)
    members = with_week(130.0)
    before, table = settled(file, members, TABLE)
    assert people(before) == [12, 11]
    after = moved(before, read_move("2026-08-16=2026-08-18", file), members, table).after
    assert of_twelve(after, THURSDAY).bouts != of_twelve(before, THURSDAY).bouts and people(after) == [12, 12]
    later = (*FILE.evenings, Evening(date(2026, 8, 18), 75.0))
    whole, _ = settled(replace(FILE, evenings=later), with_week(95.0), TABLE)
    assert [one.people for one in whole.evenings] == [12, 11, 12]  # a new week


def test_who_is_not_counted_has_no_bout_though_minutes_may_be_left():
    members = [*TWELVE[:-1], replace(with_week(500.0)[-1], spent=frozenset([THURSDAY]))]
    day = of_twelve(planned(FILE, members, TABLE), THURSDAY)
    assert (day.why, sum(day.bouts), day.by) == ("limited", 0, "the physio")


def test_a_match_that_moves_into_the_week_may_use_it_up():
    file = replace(FILE, matches=(FILE.matches[0], Match(date(2026, 8, 18), "the second", minutes={12: 40.0})))
    members = with_week(130.0)
    before, table = settled(file, members, TABLE)
    assert people(before) == [12, 12]
    after = moved(before, read_move("2026-08-18=2026-08-16", file), members, table).after
    assert people(after) == [12, 11]
