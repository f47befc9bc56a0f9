"""Players' own lines: limits, coming late, the day after a match, the largest jump, and what would fill a gap."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from sim.errors import InputError
from sim.weeks.bands import HOUSE, TOP_UP, Band
from sim.weeks.choosing import Offer, Taken
from sim.weeks.days import Match
from sim.weeks.filling import Fill, fill, short_of
from sim.weeks.lines import Season, Squad, keeper_line, largest_jump, line_of, within
from sim.weeks.people import NO_LIMITS, Limits, Member
from sim.weeks.seats import Turnout, goals_of, may_keep, seated, seats_of

KEPT = frozenset(["no defending"])
MONDAY = date(2026, 8, 10)
WARM_UP = {"minutes": 15.0, "metres": 900.0, "fast_metres": 0.0, "accelerations": 0.0}
EACH = {"metres": 500.0, "fast_metres": 20.0, "accelerations": 10.0}
FIRST = Offer("first", 1.0, "keep", 12, EACH, 5.0, 5.0, 1, 6, {"fast_metres": 5.0}, places=(frozenset(KEPT),))
SECOND = replace(FIRST, game="second", places=())
TAKEN = (Taken(FIRST, 4), Taken(SECOND, 3))
MATCH = {"metres": Band(10_000, 10_000), "fast_metres": Band(500, 500), "accelerations": Band(100, 100)}


def squad(day: date = MONDAY, label: str = "MD-4", **more: object) -> Squad:
    return Squad(day, (label,), HOUSE[label], TAKEN, WARM_UP, **more)


def season(*evenings: Squad, matches: tuple[Match, ...] = (), pre_season: bool = False) -> Season:
    return Season(evenings, matches, MATCH, MONDAY, pre_season)


def member(limits: Limits = NO_LIMITS, **more: object) -> Member:
    return Member(7, "7 Ola", limits=limits, **more)


@pytest.mark.parametrize(
    ("limits", "bouts"),
    [
        (NO_LIMITS, (4, 3)),
        (Limits("x", bouts=5), (4, 1)),
        (Limits("x", minutes=45), (4, 0)),
        (Limits("x", minutes=10), (0, 0)),
        (Limits("x", fast_metres=80), (3, 0)),
        (Limits("x", bouts=0), (0, 0)),
        (Limits("x", kept=KEPT), (0, 0)),
    ],
)
def test_a_limit_takes_bouts_away(limits: Limits, bouts: tuple[int, int]):
    assert within(limits, WARM_UP, TAKEN) == bouts
    assert within(Limits("x", kept=KEPT), WARM_UP, TAKEN, seats=(True, False)) == (4, 0)


def test_a_place_without_defending_is_for_as_many_as_there_are():
    kept = Limits("the physio", kept=KEPT)
    first, second = member(kept), replace(member(kept), shirt=8)
    turnout = Turnout(11, ((7, KEPT), (8, KEPT)))
    seats = seats_of([(MONDAY, turnout, TAKEN)])
    assert line_of(first, season(squad()), seats[7]).days[0].bouts == (4, 0)
    assert line_of(second, season(squad()), seats[8]).days[0].bouts == (0, 0)
    alone = seats_of([(MONDAY, Turnout(12, ((7, KEPT),)), TAKEN)])
    assert line_of(first, season(squad()), alone[7]).days[0].bouts == (0, 0)  # twelve others fill a game for twelve


def test_what_games_differ_by_adds_up_over_an_evening():
    one = replace(squad(), taken=(TAKEN[0], Taken(replace(SECOND, spread=FIRST.spread), 3)))
    day = line_of(member(), season(one)).days[0]
    assert day.amounts["fast_metres"] == 7 * 20
    assert day.high["fast_metres"] - day.amounts["fast_metres"] == pytest.approx(1.28 * 7 * 5.0)


def test_a_line_says_who_set_the_limit():
    day = line_of(member(Limits("the physio", bouts=2)), season(squad())).days[0]
    assert (day.why, day.by, day.bouts) == ("limited", "the physio", (2, 0))
    assert day.amounts["metres"] == 900 + 2 * 500
    assert day.amounts["minutes"] == 15 + 5 + 2 * 5


def test_minutes_of_a_week_hold_over_matches_and_evenings():
    match = Match(MONDAY + timedelta(days=5), "m", minutes={7: 30})
    evenings = [squad(), squad(MONDAY + timedelta(days=2))]
    line = line_of(member(Limits("the doctor", week_minutes=100)), season(*evenings, matches=(match,)))
    assert line.weeks[1]["minutes"] <= 100
    assert [sum(day.bouts) for day in line.days] == [7, 0, 0]


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        (Limits("the physio", minutes=30), "must be at most 30 min for 7 Ola: set by the physio (got 45 min)"),
        (Limits("the physio", week_minutes=30), "the matches of week 1 must be at most 30 min for 7 Ola"),
        (Limits("the physio", kept=KEPT), "without 7 Ola, for whom no defending holds: set by the physio (got 45 min)"),
    ],
)
def test_a_match_that_breaks_a_limit_is_refused(limits: Limits, said: str):
    match = Match(MONDAY, "on the lower pitch", minutes={7: 45})
    with pytest.raises(InputError) as refused:
        line_of(member(limits), season(matches=(match,)))
    assert said in refused.value.problems[0]


def test_a_match_while_away_is_refused():
    match = Match(MONDAY, "on the lower pitch", minutes={7: 45})
    with pytest.raises(InputError, match="who is away"):
        line_of(member(away=frozenset([MONDAY])), season(matches=(match,)))


def test_a_friendly_counts_in_the_budget_of_who_plays_it_whatever_days_he_trains_on():
    saturday = MONDAY + timedelta(days=5)
    match = Match(saturday, "on the lower pitch", friendly=True, minutes={7: 45})
    own = member(Limits("the doctor", week_minutes=80), trains=("mon",))
    line = line_of(own, season(squad(), matches=(match,)))
    assert line.days[1].amounts["minutes"] == 45 and line.days[1].amounts["metres"] == 5000
    assert line.weeks[1]["minutes"] <= 80 and sum(line.days[0].bouts) == 3
    alone = line_of(own, season(squad()))
    assert sum(alone.days[0].bouts) == 7 and line.weeks[1]["metres"] > alone.weeks[1]["metres"]


def test_the_day_after_a_match_some_recover_and_some_are_topped_up():
    match = Match(MONDAY, "m", minutes={7: 90, 8: 20})
    own = season(squad(MONDAY + timedelta(days=1), TOP_UP), matches=(match,))
    assert line_of(member(), own).days[1].why == "recovers"
    assert line_of(replace(member(), shirt=8), own).days[1].why == "trains"


def test_who_comes_late_does_his_own_first_weeks():
    late = member(joins=MONDAY + timedelta(days=7))
    evenings = [squad(MONDAY + timedelta(days=7 * week), volume=1.15) for week in range(5)]
    line = line_of(late, season(*evenings, pre_season=True))
    assert [day.why for day in line.days] == ["away", "catching up", "catching up", "catching up", "trains"]
    assert [sum(day.bouts) for day in line.days] == [0, 3, 5, 5, 7]


def test_a_match_counts_with_his_own_values():
    match = Match(MONDAY, "m", minutes={7: 45})
    own = line_of(member(full_match={"metres": 9000}), season(matches=(match,))).days[0].amounts
    assert own == {"minutes": 45, "metres": 4500, "fast_metres": 250, "accelerations": 50}


def test_nothing_of_adults_is_lent_to_a_minor():
    match = Match(MONDAY, "m", minutes={7: 45})
    line = line_of(member(minor=True), season(squad(MONDAY + timedelta(days=1)), matches=(match,)))
    assert line.days[0].amounts == {"minutes": 45}
    assert set(line.days[1].band) == {"minutes"}


def test_the_largest_jump_is_held_against_the_weeks_before():
    weeks = {1: {"metres": 10_000.0}, 2: {"metres": 15_000.0}, 3: {"metres": 16_000.0}}
    jump = largest_jump(weeks, ())
    assert (jump.week, jump.start, jump.end, jump.before) == (2, 10_000, 15_000, None)
    assert not jump.larger_than_any
    known = largest_jump(weeks, (8_000.0, 12_000.0, 9_000.0))
    assert (known.week, known.before, known.larger_than_any) == (2, 4_000, True)
    assert not largest_jump(weeks, (2_000.0, 9_000.0)).larger_than_any
    assert largest_jump({1: {"metres": 5.0}}, ()) is None


def gap_of(limits: Limits = NO_LIMITS, **more: object) -> Fill:
    """What would fill the gap in fast metres of a player on an MD-3 of 90 minutes."""
    own = member(limits)
    days = line_of(own, season(squad(label="MD-3", **{"minutes": 90.0, **more}))).days
    short = [one for one in short_of(days) if one.measure == "fast_metres"]
    return fill(short, own, days)


def test_runs_fill_a_gap_within_what_he_may_do():
    free = gap_of()
    assert (free.runs, free.on, free.left, free.bound) == (3, MONDAY, {"fast_metres": 0.0}, "")
    bound = gap_of(Limits("the physio", fast_metres=230))
    assert (bound.runs, bound.bound, bound.by) == (1, "limit", "the physio")
    assert bound.left["fast_metres"] == pytest.approx(70)


@pytest.mark.parametrize(
    ("limits", "runs"),
    [
        (Limits("the physio", bouts=7), 0),
        (Limits("the physio", bouts=8), 3),
        (Limits("the physio", minutes=61.0), 1),
        (Limits("the physio", week_minutes=62.0), 2),
        (Limits("the physio", reduced=True), 0),
    ],
)
def test_runs_are_held_to_every_limit(limits: Limits, runs: int):
    found = gap_of(limits)
    assert (found.runs, found.bound) == (runs, "" if runs == 3 else "limit")


def test_runs_have_time_in_the_evening_and_none_in_heat():
    assert (gap_of(minutes=62.0).runs, gap_of(minutes=62.0).bound) == (2, "time")
    assert (gap_of(hot=True).runs, gap_of(hot=True).bound) == (0, "heat")


def test_minutes_of_a_match_count_before_runs():
    own = member(Limits("the doctor", week_minutes=91))
    match = Match(MONDAY + timedelta(days=5), "m", minutes={7: 30})
    days = line_of(own, season(squad(label="MD-3", minutes=90.0), matches=(match,))).days
    short = [one for one in short_of(days) if one.measure == "fast_metres"]
    assert fill(short, own, days).runs == 1
    assert fill(short, own, days, beyond_min=1.0).runs == 0


def test_whoever_is_kept_from_a_part_of_the_game_is_offered_no_runs():
    kept = member(Limits("the physio", kept=KEPT))
    days = line_of(kept, season(squad(label="MD-3", minutes=90.0))).days
    found = fill(short_of(days), kept, days)
    assert (found.runs, found.by) == (0, "the physio")


def test_places_are_given_in_order_the_one_that_keeps_from_least_first():
    all_, some = frozenset(["no defending", "no tackles"]), frozenset(["no defending"])
    assert seated([all_, some], [some, all_]) == [True, True]
    assert seated([some, some], [all_, some]) == [False, True]


def test_a_keeper_is_somewhere_within_his_limits():
    goals = Taken(replace(FIRST, goals=1), 4)
    one = replace(squad(), taken=(goals, TAKEN[1]))
    keepers = [Member(1, "1 Vane", keeper=True), Member(12, "12 Alder", keeper=True)]
    bound = Member(13, "13 Bound", keeper=True, limits=Limits("the physio", minutes=20))
    found = goals_of([(MONDAY, Turnout(12, keepers=(1, 12)), one.taken)])
    assert [may_keep(own) for own in (*keepers, bound)] == [True, True, False]
    lines = [keeper_line(own, season(one), found.get(own.shirt, {})) for own in (*keepers, bound)]
    assert [line.days[0].why for line in lines] == ["in goal", "keepers' coach", "keepers' coach"]
    assert [line.days[0].bouts for line in lines] == [(4, 0), (0, 0), ()]
    assert [line.days[0].amounts for line in lines] == [{"minutes": 60.0}, {"minutes": 60.0}, {"minutes": 20}]


def test_nobody_is_short_of_what_he_was_not_asked_for():
    match = Match(MONDAY, "m", minutes={7: 90})
    line = line_of(member(), season(squad(MONDAY + timedelta(days=1), TOP_UP), matches=(match,)))
    assert short_of(line.days) == ()
