"""A whole plan of made-up games: labels, people, misses, a moved match, the calendar, the look back, the screens."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, time

import pytest
from icalendar import Calendar

from sim.errors import InputError
from sim.own_counts.logbook import Evening as Logged
from sim.own_counts.logbook import Kept
from sim.own_counts.tally import Row
from sim.planning.heat import Rule
from sim.plots.plan_frames import of_evenings, of_players, of_weeks
from sim.weeks.calendar_file import calendar
from sim.weeks.choosing import Offer
from sim.weeks.days import Evening, Match
from sim.weeks.moving import moved, read_move
from sim.weeks.people import Limits, Member
from sim.weeks.plan import labels_on, misses_of, planned, turnout_on, turnouts
from sim.weeks.review import evenings_of, played_by_day, players_of
from sim.weeks.week_file import OwnValues, PlanFile
from sim.words.move_screen import move_on_a_screen
from sim.words.plan_details import event_of, plan_in_full
from sim.words.plan_screen import plan_on_a_screen
from sim.words.plan_words import evenings_that
from sim.words.week_review import review_on_a_screen

NOT_DEFENDING = frozenset(["no defending"])
TUESDAY, THURSDAY, SATURDAY = date(2026, 8, 11), date(2026, 8, 13), date(2026, 8, 15)
AGAIN = "overload plan week.toml"


def offer(game: str, purpose: str, metres: float, fast: float, hard: float) -> Offer:
    each = {"metres": metres, "fast_metres": fast, "accelerations": hard}
    spread = {name: 0.1 * value for name, value in each.items()}
    return Offer(
        game, 1.0, purpose, 12, each, 5.0, 5.0, 2, 6, spread, places=(NOT_DEFENDING,), work_s=240.0, rest_s=60.0
    )


GAMES = (
    offer("tight", "keep", 250, 2, 20),
    offer("wide", "even", 480, 30, 10),
    offer("press", "win", 350, 8, 18),
    offer("goals", "goal", 420, 15, 14),
)
TABLE = {people: [replace(one, people=people) for one in GAMES] for people in (10, 11, 12)}
FILE = PlanFile(
    title="The week",
    evenings=(Evening(TUESDAY, 90.0, ("win",), start=time(19)), Evening(THURSDAY, 75.0)),
    matches=(Match(SATURDAY, "on the lower pitch", minutes={1: 90.0, 2: 30.0}),),
    squad=("squad.csv",),
    warm_up={"minutes": 15.0, "metres": 900.0, "fast_metres": 0.0, "accelerations": 0.0},
    full_match={"metres": 9800.0, "fast_metres": 480.0, "accelerations": 150.0},
)
MEMBERS = [
    Member(0, "0 Vane", keeper=True),
    *(Member(shirt, f"{shirt} Player") for shirt in range(1, 12)),
    Member(12, "12 Brandt", limits=Limits("the physio", bouts=3)),
]


@pytest.fixture(scope="module")
def plan():
    return planned(FILE, MEMBERS, TABLE)


def test_keepers_are_not_counted_among_those_who_train(plan):
    assert [one.people for one in turnouts(FILE, MEMBERS)] == [12]
    assert [one.people for one in plan.evenings] == [12, 12]
    assert len(plan.lines) == 13


def test_an_evening_holds_to_its_theme_and_its_minutes(plan):
    assert "press" in [one.offer.game for one in plan.evenings[0].taken]
    assert all(one.amounts["minutes"] <= one.evening.minutes for one in plan.evenings)
    games = [one.offer.game for evening in plan.evenings for one in evening.taken]
    assert len(games) == len(set(games))


def test_a_match_counts_in_the_week_of_whoever_plays(plan):
    metres = {line.member.shirt: line.weeks[1]["metres"] for line in plan.lines if not line.member.keeper}
    assert metres[1] - metres[3] == pytest.approx(9800)
    assert metres[2] - metres[3] == pytest.approx(9800 / 3)


def test_a_limit_leaves_the_others_as_they_are(plan):
    own = {line.member.shirt: line.days[0] for line in plan.lines}
    assert sum(own[12].bouts) == 3
    assert own[12].by == "the physio"
    assert own[1].why == "trains"


def test_the_day_after_a_match_is_for_those_who_hardly_played():
    sunday = Evening(date(2026, 8, 16), 60.0)
    file = replace(FILE, evenings=(*FILE.evenings, sunday))
    assert labels_on(file, sunday) == ("MD+1 top-up",)
    assert turnout_on(file, MEMBERS, sunday).people == 11
    unsaid = replace(file, matches=(replace(FILE.matches[0], minutes={}),))
    assert labels_on(unsaid, sunday) == ("MD+1",)
    lines = {line.member.shirt: line.days[-1].why for line in planned(file, MEMBERS, TABLE).lines}
    assert (lines[1], lines[2]) == ("recovers", "trains")


@pytest.mark.parametrize(
    ("change", "binding"),
    [
        ({"evenings": (Evening(TUESDAY, 50.0),)}, "minutes"),
        ({"full_match": {"fast_metres": 20_000.0}}, "games"),
    ],
)
def test_what_stands_in_the_way_of_a_band_is_found(change: dict, binding: str):
    misses = misses_of(planned(replace(FILE, **change), MEMBERS, TABLE))
    assert binding in misses[TUESDAY][0].binding


def test_a_plan_that_cannot_hold_is_refused_evening_by_evening():
    themed = replace(FILE, evenings=(Evening(TUESDAY, 90.0, ("pass",)),))
    with pytest.raises(InputError, match=r"themes must be such that a game here fits them \(got pass\)"):
        planned(themed, MEMBERS, TABLE)
    short = replace(FILE, evenings=(Evening(TUESDAY, 25.0),))
    with pytest.raises(InputError, match=r"minutes must be at least 30, a warm-up and the shortest game \(got 25\)"):
        planned(short, MEMBERS, TABLE)
    many = replace(FILE, evenings=tuple(Evening(date(2026, 8, 10 + k), 75.0) for k in range(5)))
    with pytest.raises(InputError, match="times_a_week must be more"):
        planned(many, MEMBERS, TABLE)


@pytest.mark.parametrize("typed", ["sat=fri", "2026-08-15=2026-08-14"])
def test_a_match_that_moves_changes_labels_and_as_few_games_as_it_can(plan, typed: str):
    found = moved(plan, read_move(typed, FILE), MEMBERS, TABLE)
    assert [one.labels for one in found.after.evenings] == [("MD-3",), ("MD-1",)]
    assert found.after.file.matches[0].day == date(2026, 8, 14)
    assert found.cut == ()
    assert "moves from Sat 15 Aug to Fri 14 Aug" in move_on_a_screen(found, {}, AGAIN)


def test_an_evening_on_the_new_day_of_a_match_is_cut(plan):
    found = moved(plan, read_move("sat=thu", FILE), MEMBERS, TABLE)
    assert [one.evening.day for one in found.cut] == [THURSDAY]
    assert [one.evening.day for one in found.after.evenings] == [TUESDAY]
    assert "Cut Thu 13 Aug" in move_on_a_screen(found, {}, AGAIN)


def test_an_evening_can_move_too_and_keeps_its_games(plan):
    found = moved(plan, read_move("tue=mon", FILE), MEMBERS, TABLE)
    monday = found.after.evenings[0]
    assert monday.evening.day == date(2026, 8, 10)
    assert {one.offer.game for one in monday.taken} & {one.offer.game for one in plan.evenings[0].taken}


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("sat", "must be DAY=DAY"),
        ("sun=fri", "must name one day of the plan"),
        ("sat=tomorrow", "must name a day as mon to sun"),
        ("tue=thu", "must be to a day that has no evening and no match yet"),
    ],
)
def test_a_move_that_is_none_is_refused(typed: str, said: str):
    with pytest.raises(InputError, match=said):
        read_move(typed, FILE)


def test_who_joins_late_is_not_reckoned_with_before(plan):
    """Nor is anything laid out for other numbers than are planned with."""
    late = replace(FILE, own_values={11: OwnValues(joins=THURSDAY)})
    assert [one.people for one in turnouts(late, MEMBERS)] == [11, 12]
    found = planned(late, MEMBERS, TABLE)
    assert [one.people for one in found.evenings] == [11, 12]
    assert all(one.taken for one in found.evenings)


def test_the_calendar_has_every_evening_and_match_at_its_hour(plan):
    data = calendar(plan, event_of)
    events = Calendar.from_ical(data).walk("VEVENT")
    assert [str(one["summary"]).split(":")[0] for one in events] == ["Training", "Training", "Match"]
    assert events[0]["dtstart"].dt.hour == 19
    assert (events[0]["dtend"].dt - events[0]["dtstart"].dt).seconds == 90 * 60
    assert events[1]["dtstart"].dt == THURSDAY
    assert len({str(one["uid"]) for one in events}) == 3
    assert data == calendar(plan, event_of)


def logged(day: date, minutes: float, players: str, withdrawn: bool = False) -> Logged:
    row = Row(day.isoformat(), minutes, "watch", {"losses": 3}, 1, "", players)
    return Logged(1, day.isoformat(), "Press", "press", "x", (Kept(1, row, withdrawn),), None)


def test_what_is_not_written_down_is_missing_and_never_nought(plan):
    looked = evenings_of(plan, 1, played_by_day([logged(TUESDAY, 20, "1, 2, 3")]))
    assert looked[0].played.games == {"Press": 20}
    assert looked[1].played is None
    own = players_of(plan, looked)
    assert all(one.played_min is None for one in own if not one.line.member.keeper)
    screen = review_on_a_screen(plan, 1, looked, own, details=True)
    assert "missing" in screen
    assert "Missing: Thu 13 Aug" in screen


def test_who_played_is_counted_where_every_row_says_so(plan):
    both = [logged(TUESDAY, 20, "1, 2"), logged(THURSDAY, 10, "2")]
    own = {one.line.member.shirt: one for one in players_of(plan, evenings_of(plan, 1, played_by_day(both)))}
    assert (own[1].played_min, own[2].played_min, own[3].played_min) == (20, 30, 0)
    assert own[3].short
    assert (
        players_of(plan, evenings_of(plan, 1, played_by_day([both[0], logged(THURSDAY, 10, "")])))[1].played_min is None
    )


def test_a_row_that_was_taken_back_is_not_there():
    assert played_by_day([logged(TUESDAY, 20, "1", withdrawn=True)]) == {}


def test_players_stand_in_the_order_of_the_squad_file(plan):
    looked = evenings_of(plan, 1, played_by_day([logged(TUESDAY, 20, "9"), logged(THURSDAY, 20, "9")]))
    assert [one.line.member.shirt for one in players_of(plan, looked)] == list(range(13))


def test_the_screen_is_one_screen(plan):
    text = plan_on_a_screen(plan, misses_of(plan), None, AGAIN)
    lines = text.splitlines()
    assert len(lines) <= 24
    assert max(map(len, lines)) <= 80
    assert "12 Brandt: three bouts on Tue 11 Aug and Thu 13 Aug, set by the physio." in " ".join(text.split())
    assert lines[-1] == "An estimate, not advice: medical staff decide; local heat and youth rules first."


def test_everything_says_what_bands_rest_on(plan):
    text = plan_in_full(plan, misses_of(plan), None)
    assert "Bands: house defaults (common practice, no source)" in text
    assert "12 Brandt" in text
    blank = planned(replace(FILE, full_match={}), MEMBERS, TABLE)
    told = plan_in_full(blank, misses_of(blank), None)
    assert "No band for distance, fast running and hard stops and starts" in told
    assert set(blank.evenings[0].need.bands) == {"minutes"}


def test_no_word_of_injury_ratio_or_risk(plan):
    text = plan_in_full(plan, misses_of(plan), None) + plan_on_a_screen(plan, {}, None, AGAIN)
    assert not any(word in text.casefold() for word in ("injur", "risk", "ratio", "acute", "chronic"))


def test_of_minors_no_fast_metres_are_told_and_nobody_is_ranked():
    file = replace(FILE, minors=True, full_match={"metres": 9800.0})
    young = planned(file, [replace(one, minor=True) for one in MEMBERS], TABLE)
    text = plan_in_full(young, misses_of(young), None) + plan_on_a_screen(young, misses_of(young), None, AGAIN)
    assert not re.search(r"\d m fast|fast running", text)
    assert "Minors train: no fast metres, as no adults' speed holds for them." in text
    assert not any("fast_metres" in day.amounts for line in young.lines for day in line.days)
    assert "fast_metres" not in set(of_evenings(young)["measure"]) | set(of_weeks(young)["measure"])
    assert list(dict.fromkeys(of_players(young)["player"])) == [one.name for one in MEMBERS if not one.keeper]


HEAT = (Rule(28.0, 0.5, 180.0, 240.0, 0.0, True, "R. Hale (doctor)"),)


def test_heat_takes_away_on_its_evening_and_says_who_approved_it(plan):
    evenings = (replace(FILE.evenings[0], wbgt=29.0), replace(FILE.evenings[1], wbgt=20.0))
    file = replace(FILE, evenings=evenings, heat_table="heat.csv", heat_rules=HEAT)
    hot = planned(file, MEMBERS, TABLE)
    before, after = plan.evenings[0], hot.evenings[0]
    assert sum(one.bouts for one in after.taken) <= sum(one.bouts for one in before.taken) / 2
    assert {(one.offer.work_s, one.offer.rest_s) for one in after.taken} == {(180.0, 240.0)}
    assert all(one.offer.around_min == 5.0 + 1.0 for one in after.taken)  # a minute more between two games
    assert hot.evenings[1].taken == plan.evenings[1].taken
    misses = misses_of(hot)
    assert {miss.binding for miss in misses[TUESDAY] if miss.off < 0} == {("heat",)}
    screen = " ".join(plan_on_a_screen(hot, misses, None, AGAIN).split())
    assert "Tue 11 Aug, 29 WBGT: 50 % of the bouts" in screen and "approved by R. Hale (doctor)." in screen
    assert "Thu 13 Aug, 20 WBGT: below every row of heat.csv." in screen
    after = moved(hot, read_move("tue=wed", file), MEMBERS, TABLE)
    told = " ".join(move_on_a_screen(after, {}, AGAIN).split())
    assert "Wed 12 Aug, 29 WBGT: 50 % of the bouts" in told and "The reading was for Tue 11 Aug: take it anew" in told
    assert "approved by R. Hale (doctor)" in event_of(hot.evenings[0])[1]
    bare = planned(replace(FILE, evenings=evenings), MEMBERS, TABLE)
    assert "Tue 11 Aug, No heat table was given" not in plan_on_a_screen(bare, {}, None, AGAIN)
    assert "no heat table was given" in " ".join(plan_on_a_screen(bare, {}, None, AGAIN).split())


def test_games_are_made_for_who_is_in_them_and_nobody_else():
    both = frozenset(["no defending", "no tackles"])
    kept = Member(13, "13 Kept", limits=Limits("the physio", kept=both))
    idle = Member(14, "14 Idle", limits=Limits("the physio", bouts=0))
    members = [*MEMBERS, kept, idle]
    assert [(one.free, one.people) for one in turnouts(FILE, members)] == [(12, 13)]
    free = [replace(one, people=12, places=()) for one in GAMES]
    wide = replace(GAMES[1], people=13, places=(both,))
    for table, bouts in (({12: free}, 0), ({12: free, 13: [wide]}, 1), ({12: free, 13: [replace(wide, places=())]}, 0)):
        found = planned(replace(FILE, evenings=FILE.evenings[1:]), members, table)
        lines = {line.member.shirt: line.days[0] for line in found.lines}
        own = [
            taken.offer.people for taken, count in zip(found.evenings[0].taken, lines[13].bouts, strict=True) if count
        ]
        assert own == [13] * bouts
        assert not any(lines[14].bouts)
        assert all(one.offer.people in (12, 13) for one in found.evenings[0].taken)


def test_who_has_a_place_in_one_game_alone_has_it_on_one_evening():
    """The same game may come once a week: the other evening goes without, and is made for the others."""
    kept = Member(13, "13 Kept", limits=Limits("the physio", kept=NOT_DEFENDING))
    free = [replace(one, people=12, places=()) for one in GAMES]
    found = planned(FILE, [*MEMBERS, kept], {12: free, 13: [replace(GAMES[1], people=13)]})
    people = [{one.offer.people for one in evening.taken} for evening in found.evenings]
    assert people == [{12, 13}, {12}]
    line = next(one for one in found.lines if one.member.shirt == 13)
    assert [any(day.bouts) for day in line.days[:2]] == [True, False]


def test_a_game_with_goals_needs_keepers_who_may():
    goals = [replace(one, people=12, goals=2) for one in GAMES]
    table = {12: [*goals[:2], *(replace(one, people=12) for one in GAMES[2:])]}
    second = Member(15, "15 Alder", keeper=True)
    file = replace(FILE, times_a_week=2)
    alone = planned(file, MEMBERS, table)
    assert not any(one.offer.goals for evening in alone.evenings for one in evening.taken)
    text = " ".join(plan_on_a_screen(alone, {}, None, AGAIN).split())
    assert "Keepers: 0 Vane with the keepers' coach." in text
    both = planned(file, [*MEMBERS, second], table)
    assert any(one.offer.goals for evening in both.evenings for one in evening.taken)
    assert "0 Vane in goal on" in " ".join(plan_on_a_screen(both, {}, None, AGAIN).split())
    sunday = replace(file, evenings=(Evening(date(2026, 8, 16), 60.0),))
    played = replace(sunday, matches=(replace(FILE.matches[0], minutes={0: 90.0, 1: 90.0}),))
    assert [one.keepers for one in turnouts(played, [*MEMBERS, second])] == [(15,)]  # who played recovers
    bound = replace(second, limits=Limits("the physio", minutes=60.0))
    none = planned(file, [*MEMBERS, bound], table)
    assert not any(one.offer.goals for evening in none.evenings for one in evening.taken)


def test_the_look_back_says_what_was_missed(plan):
    asked = [sum(one.bouts * 4 for one in evening.taken) for evening in plan.evenings]
    book = [logged(TUESDAY, asked[0] / 4, "1, 2"), logged(THURSDAY, asked[1], "2")]
    looked = evenings_of(plan, 1, played_by_day(book))
    text = review_on_a_screen(plan, 1, looked, players_of(plan, looked), details=False)
    said = " ".join(text.split())
    assert f"Tue 11 Aug: {asked[0] / 4:.0f} of {asked[0]} min of bouts played; by that" in said
    low = plan.evenings[0].need.bands["metres"].low / 1000
    assert f"km, short of {low:.1f} to" in said
    assert f"Thu 13 Aug: {asked[1]} of {asked[1]} min of bouts played; by that 84 hard stops and starts, over" in said
    assert "Every evening is written down; " in said
    assert not re.search(r"forecast|delivered|label|\d hard\b(?! stops)", text)


@pytest.mark.parametrize(
    ("count", "total", "said"),
    [
        (0, 1, "The evening does not fit"),
        (1, 1, "The evening fits"),
        (0, 2, "No evening fits"),
        (1, 2, "One of two evenings fits"),
        (2, 3, "Two of three evenings fit"),
        (3, 3, "Every evening fits"),
    ],
)
def test_how_many_evenings_is_said_as_a_coach_would(count: int, total: int, said: str):
    assert evenings_that(count, total, ("fits", "does not fit", "fit")) == said
