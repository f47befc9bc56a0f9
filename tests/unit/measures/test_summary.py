"""The rows of the answer against numbers worked out by hand from bouts made by hand."""

from __future__ import annotations

import math
import pickle
from dataclasses import replace

import numpy as np
import pytest

from sim.measures.asked import asked_of
from sim.measures.basis import Evidence, basis_of, is_studied, setting_of
from sim.measures.session_counts import CELLS, counts_of_bout, session_of
from sim.measures.sessions import Sessions, groups_of, sides_of
from sim.measures.summary import summarise, thresholds_of
from sim.measures.thresholds import Thresholds
from tests.unit.measures.handmade import Bout, goals_game, grids_game, square_bout, square_game

GAME = square_game()

# The names the answer promises.
PROMISED = """passes_per_min pass_completion pass_run_median pass_run_share_reaching pass_run_mean pass_run_p80
balls_lost_per_min shot_ends_per_min bout_length_s session_distance_m session_high_speed_distance_m
session_time_defending_s high_speed_distance_per_min sprint_distance_per_min turnovers_per_min turnovers_per_clock_min
wins_per_min balls_out_per_min loss_share_by_cause in_play_share threshold_reached_per_min thresholds_per_bout
transfers_per_min transfer_success break_aways_per_bout shots_per_bout goals_per_bout time_between_unlocks_s
points_per_min points_per_bout time_defending_s defending_share defending_share_most defending_share_least defending_spell_s
longest_defending_spell_s total_distance_m distance_per_min high_speed_distance_m sprint_distance_m peak_speed_kmh
accelerations_per_min decelerations_per_min touches_per_min touches_per_release time_on_ball_s losses_per_min
turns_per_min walking_distance_m jogging_distance_m running_distance_m high_speed_band_distance_m sprint_band_distance_m
metabolic_power energy lowest_reserve mean_heart_rate_estimate perceived_effort_estimate session_load_estimate""".split()


def session(replicate, *lates, game=GAME):
    return session_of([counts_of_bout(game, square_bout(replicate, i, late)) for i, late in enumerate(lates)])


@pytest.fixture(scope="module")
def rows():
    found = summarise(GAME, [session(0, 0.0, 2.0), session(1, 1.0, 1.0), session(2, 4.0, 0.0)])
    return {(row.measure, row.scope): row for row in found}


def test_every_promised_measure_has_a_row_for_the_game(rows):
    assert [name for name in PROMISED if (name, "game") not in rows] == []


def test_every_row_is_whole_or_undefined(rows):
    for row in rows.values():
        numbers = (row.mean, row.low, row.high, row.session_low, row.session_high)
        assert all(value is None or (type(value) is float and math.isfinite(value)) for value in numbers), row
        assert (row.mean is None) <= (row.low is None and row.session_low is None)
        assert row.clock in ("in play", "watch") and row.unit and row.definition and row.n == 3


def test_rates_are_ratios_of_sums(rows):
    """Six bouts: 12 turnovers; in play 43 s and what the first loss came later: 6 x 43 + 8 s."""
    in_play = 6 * 43 + 8
    row = rows["turnovers_per_min", "game"]
    assert row.mean == pytest.approx(60 * 12 / in_play)
    assert rows["turnovers_per_clock_min", "game"].mean == pytest.approx(60 * 12 / 360)
    assert rows["in_play_share", "game"].mean == pytest.approx(in_play / 360)
    per_session = [60 * 4 / (2 * 43 + late) for late in (2, 2, 4)]
    assert row.session_low == pytest.approx(np.quantile(per_session, 0.1))
    assert row.session_high == pytest.approx(np.quantile(per_session, 0.9))
    assert row.low < row.mean < row.high


def test_bouts_of_one_session_are_not_independent():
    """Two bouts a session that are copies: the interval is that of the sessions, not 1/sqrt(2) of it."""
    single = [session(i, late) for i, late in enumerate((0.0, 1.0, 2.0, 4.0))]
    double = [session(i, late, late) for i, late in enumerate((0.0, 1.0, 2.0, 4.0))]
    one = next(r for r in summarise(GAME, single) if r.measure == "turnovers_per_min")
    two = next(r for r in summarise(GAME, double) if r.measure == "turnovers_per_min")
    assert (two.mean, two.low, two.high, two.n) == (
        pytest.approx(one.mean),
        pytest.approx(one.low),
        pytest.approx(one.high),
        4,
    )


def test_a_role_is_told_by_the_minute_in_it_and_by_what_its_players_did_in_it():
    """One bout: inside are p5 (10 s, 72 m), p6 (30 s, 120 m of 2 m/s), p1 (50 s, 150 m), p2 (30 s, none drawn).

    Together 120 s in the role, by four players.  p6's 60 s of path are all drawn as inside.
    """
    rows = {(r.measure, r.scope): r for r in summarise(GAME, [session(0, 0.0)])}
    assert rows["time_in_role_s", "role:inside"].mean == pytest.approx(120 / 4)
    assert rows["total_distance_m", "role:inside"].mean == pytest.approx((72 + 120 + 150) / 4)
    assert rows["distance_per_min", "role:inside"].mean == pytest.approx((72 + 120 + 150) / 2)
    assert rows["time_defending_s", "role:inside"].mean == pytest.approx(86 / 4)
    assert rows["walking_distance_per_min", "role:outside"].mean == pytest.approx(
        rows["distance_per_min", "role:outside"].mean
    )
    assert rows["defending_share", "role:inside"].mean == pytest.approx(1.0)
    assert rows["defending_share", "role:outside"].mean == 0.0
    assert rows["time_defending_s", "game"].mean == pytest.approx(86 / 6)
    assert rows["time_defending_s", "player:p1"].mean == pytest.approx(35)
    assert rows["peak_speed_kmh", "role:inside"].mean == pytest.approx((28.8 / 6 + 7.2 / 2 + 10.8 * 5 / 6) / 2)
    assert rows["peak_speed_kmh", "player:p1"].mean == pytest.approx(10.8)
    assert rows["longest_defending_spell_s", "team:squad"].mean == pytest.approx((8 + 18 + 35 + 25) / 6)
    assert rows["defending_spell_s", "game"].mean == pytest.approx((8 + 18 + 35 + 25) / 4)


def test_nobody_runs_further_in_a_role_than_he_can_in_the_time_he_has_it():
    """p5 is inside for 10 s, at 8 m/s: 72 m.  As if for the whole bout it would be 430 m, and 171 m for the four together."""
    rows = {(r.measure, r.scope): r for r in summarise(GAME, [session(0, 0.0)])}
    furthest = 150  # of p1, in 50 s
    for measure in ("total_distance_m", "jogging_distance_m", "running_distance_m", "high_speed_distance_m"):
        assert rows[measure, "role:inside"].mean <= furthest
    assert rows["high_speed_distance_per_min", "role:inside"].mean == pytest.approx(
        rows["high_speed_distance_m", "game"].mean * 3
    )
    assert ("time_in_role_s", "game") not in rows


def test_a_player_has_his_metres_of_a_bout_and_of_the_session():
    """Two bouts alike: p1 runs 10 m outside and 150 m inside in each."""
    rows = {(r.measure, r.scope): r for r in summarise(GAME, [session(0, 0.0, 0.0)])}
    assert rows["total_distance_m", "player:p1"].mean == pytest.approx(160)
    assert rows["session_distance_m", "player:p1"].mean == pytest.approx(320)
    assert rows["session_distance_m", "team:squad"].mean == pytest.approx(
        2 * rows["total_distance_m", "team:squad"].mean
    )
    assert rows["session_time_defending_s", "player:p1"].mean == pytest.approx(70)
    assert ("session_distance_m", "role:inside") not in rows


def test_bouts_that_end_early_are_as_long_as_they_were_played():
    early = [counts_of_bout(GAME, Bout(GAME, 0, i).log(seconds)) for i, seconds in enumerate((20.0, 40.0))]
    rows = {(r.measure, r.scope): r for r in summarise(GAME, [session_of(early)])}
    assert rows["bout_length_s", "game"].mean == 30.0
    assert all(
        "as long as it was played" in r.definition
        for r in rows.values()
        if r.unit == "1/bout" and "_per_bout" in r.measure
    )


def test_balls_lost_and_ends_by_a_shot_are_told_apart():
    """Amber loses it once (60 s in play) and shoots twice: three turnovers, one ball lost, two ends by a shot."""
    game = goals_game()
    bout = Bout(game)
    bout(0, "live", side="amber", other="a1")
    for t, cause in ((10, "tackle"), (20, "shot"), (30, "shot")):
        bout(t - 5, "possession", "a1", side="amber")
        if cause == "shot":
            bout(t, "shot", "a1", side="amber")
        bout(t, "loss", "a1", side="amber", cause=cause)
    rows = {(r.measure, r.scope): r.mean for r in summarise(game, [counts_of_bout(game, bout.log())])}
    for scope in ("game", "team:amber", "role:field"):
        assert (
            rows["turnovers_per_min", scope],
            rows["balls_lost_per_min", scope],
            rows["shot_ends_per_min", scope],
        ) == (3, 1, 2)
    assert rows["losses_per_min", "player:a1"] == 1
    causes = [r for r in summarise(game, [counts_of_bout(game, bout.log())]) if r.measure == "loss_share_by_cause"]
    assert {r.definition.split(";")[0]: r.mean for r in causes if r.mean} == {"cause: tackle": 1.0}
    words = {r.measure: r.definition for r in summarise(game, [counts_of_bout(game, bout.log())])}
    assert "shot included" in words["turnovers_per_min"] and "but by a shot" in words["balls_lost_per_min"]


def test_load_by_hand():
    """p4 walks 60 s at 0.5 m/s, p6 60 s at 2.0 m/s, p1 10 s at 1 and 50 s at 3 m/s; costs on the flat 2.32, 3.05 and 2.02
    J/kg/m walking (di Prampero & Osgnach 2018), 3.6 running (Minetti & Pavei 2018)."""
    rows = {(r.measure, r.scope): r for r in summarise(GAME, [session(0, 0.0)])}
    assert rows["metabolic_power", "player:p4"].mean == pytest.approx(0.5 * 2.32, rel=2e-3)
    assert rows["metabolic_power", "player:p6"].mean == pytest.approx(2.0 * 3.05, rel=2e-3)
    assert rows["metabolic_power", "player:p1"].mean == pytest.approx((10 * 2.02 + 150 * 3.6) / 60)
    assert rows["energy", "player:p1"].mean == pytest.approx((10 * 2.02 + 150 * 3.6) / 1000)
    bands = ("walking", "jogging", "running", "high_speed_band", "sprint_band")
    assert [rows[f"{band}_distance_m", "player:p1"].mean for band in bands] == pytest.approx([10, 150, 0, 0, 0])
    assert rows["turns_per_min", "game"].mean == 0.0


def test_the_lowest_reserve_is_that_of_the_bouts_that_tell_it():
    silent, told = square_bout(0), replace(square_bout(0, 1), reserve_lowest=(0.5, 1.0, 1.0, 1.0, 0.7, 0.2))
    rows = {
        (r.measure, r.scope): r
        for r in summarise(GAME, [session_of([counts_of_bout(GAME, silent), counts_of_bout(GAME, told)])])
    }
    assert rows["lowest_reserve", "player:p1"].mean == pytest.approx(0.5)
    assert rows["lowest_reserve", "game"].mean == pytest.approx(4.4 / 6)
    inside = (0.5 * 50 + 1.0 * 30 + 0.7 * 10 + 0.2 * 30) / 120
    assert rows["lowest_reserve", "role:inside"].mean == pytest.approx(inside)
    (alone,) = [
        r for r in summarise(GAME, [counts_of_bout(GAME, silent)]) if (r.measure, r.scope) == ("lowest_reserve", "game")
    ]
    assert alone.mean is None


def test_counts_of_a_group_are_not_divided_by_its_players(rows):
    for measure in ("passes_per_min", "turnovers_per_min"):
        assert rows[measure, "role:outside"].mean == pytest.approx(rows[measure, "game"].mean)
    assert rows["losses_per_min", "game"].mean == pytest.approx(rows["turnovers_per_min", "game"].mean / 6)


def test_passes_and_runs(rows):
    """A bout: 6 passes that ended, 5 completed; possessions 2, 0 and 3 (unfinished): 5 passes for 2 losses, the middle one 2."""
    assert rows["pass_run_median", "game"].mean == 2
    assert rows["pass_run_share_reaching", "role:outside"].mean == pytest.approx(1 / 3)
    assert rows["pass_run_p80", "game"].mean == 3
    assert rows["pass_run_median", "role:inside"].mean is None
    assert rows["pass_completion", "game"].mean == pytest.approx(5 / 6)
    assert rows["pass_run_mean", "game"].mean == pytest.approx(5 / 2)
    assert rows["pass_run_mean", "role:outside"].mean == pytest.approx(5 / 2)
    assert ("pass_run_mean", "team:squad") not in rows  # the bibs are no side here
    assert rows["pass_run_mean", "role:inside"].mean is None
    assert rows["pass_completion", "role:inside"].mean is None


def test_shares_of_causes_add_up():
    causes = [r for r in summarise(GAME, [session(0, 0.0)]) if r.measure == "loss_share_by_cause"]
    assert {r.definition.split(";")[0]: r.mean for r in causes if r.mean} == {
        "cause: interception": 0.5,
        "cause: out": 0.5,
    }
    assert sum(r.mean for r in causes) == pytest.approx(1)


def test_the_player_at_each_end(rows):
    """Shares of a session of two bouts of 43 and 45 s: p1 defends 70 of 88, p3 and p4 never do."""
    most = [70 / 88, 70 / 88, 70 / 90]
    assert rows["defending_share_most", "game"].mean == pytest.approx(np.mean(most))
    assert rows["defending_share_least", "game"].mean == 0.0
    assert rows["chance_someone_defends_over_60", "game"].mean == 1.0
    assert rows["chance_someone_defends_over_60", "game"].low < 1.0


def test_thresholds(rows):
    assert [t.words for t in thresholds_of(GAME)] == ["3 passes by outside"]
    assert rows["threshold_chance", "game"].mean == pytest.approx(1 / 3)
    assert rows["thresholds_per_bout", "role:outside"].mean == 1
    assert rows["points_per_min", "role:inside"].mean == 0


def test_a_rare_event_never_seen_has_an_upper_bound_but_an_impossible_one_has_none(rows):
    """Rule of three (Hanley & Lippman-Hand 1983, JAMA 249:1743): nought in n, at most 3/n."""
    assert rows["wins_per_min", "role:outside"].high == pytest.approx(60 * 3 / (6 * 43 + 8))
    assert (rows["goals_per_bout", "game"].mean, rows["goals_per_bout", "game"].high) == (0, 0)
    assert ("goals_per_bout", "player:p1") not in rows
    assert rows["time_between_unlocks_s", "game"].mean is None


def test_a_session_without_a_denominator_is_in_the_ratio_but_not_in_the_range():
    """Two ordinary sessions and one without a pass: 10 of 12 completed, each of the two 5 of 6."""
    sessions = [session(0, 0.0), session(1, 0.0), counts_of_bout(GAME, Bout(GAME, 2).log())]
    row = next(r for r in summarise(GAME, sessions) if r.measure == "pass_completion")
    assert (row.mean, row.session_low, row.session_high) == (pytest.approx(5 / 6),) * 3
    assert row.n == 3


def test_the_longest_spell_of_a_player_is_one_spell():
    """s1 defends 5 s as a chaser and later 3 s at home: longest 5 s, together 8 s."""
    game = grids_game()
    bout = Bout(game)
    bout.job(0, "s1", "chaser")
    bout(0, "live", side="amber")
    bout(5, "dead", cause="rule")
    bout(6, "live", side="slate")
    bout(7, "dead", cause="rule")
    bout.area = "slate-grid"
    bout(7, "transfer", "s2", side="slate")
    bout.job(7, "s1", "home")
    bout(8, "live", side="amber")
    bout(11, "dead", cause="end")
    rows = {(r.measure, r.scope): r.mean for r in summarise(game, [counts_of_bout(game, bout.log(11))])}
    assert rows["longest_defending_spell_s", "player:s1"] == 5
    assert rows["time_defending_s", "player:s1"] == 8


def test_one_session_has_no_interval():
    row = summarise(GAME, [session(0, 0.0)])[0]
    assert row.mean is not None and row.n == 1
    assert (row.low, row.high, row.session_low, row.session_high) == (None,) * 4


def test_the_order_of_sessions_does_not_matter():
    sessions = [session(i, float(i)) for i in range(4)]
    assert summarise(GAME, sessions) == summarise(GAME, sessions[::-1])


def test_no_session_no_rows():
    assert summarise(GAME, []) == ()


def test_a_bout_without_a_single_event_gives_no_nan():
    for game in (square_game(), goals_game(), grids_game()):
        rows = summarise(game, [session_of([counts_of_bout(game, Bout(game, i).log())]) for i in range(3)])
        assert {row.mean for row in rows if row.measure == "pass_completion"} == {None}
        assert not any(v is not None and math.isnan(v) for r in rows for v in (r.mean, r.low, r.high, r.session_low))


def test_definitions_hold_threshold_and_duration():
    found = [counts_of_bout(GAME, square_bout(i), Thresholds(19.0, 23.0, 0.8, 3.0, 0.4)) for i in range(2)]
    words = {row.measure: row.definition for row in summarise(GAME, found)}
    assert "above 19 km/h for at least 0.8 s" in words["high_speed_distance_m"]
    assert "above 23 km/h for at least 0.8 s" in words["sprint_distance_m"]
    assert "3 m/s2 for at least 0.4 s" in words["accelerations_per_min"]
    assert "3 m/s2 for at least 0.4 s" in words["decelerations_per_min"]


def test_tallies_travel_between_processes():
    one = counts_of_bout(GAME, square_bout())
    back = pickle.loads(pickle.dumps(one))
    assert (back.cells == one.cells).all() and back.runs == one.runs
    assert len(pickle.dumps(one)) < 10_000
    assert one.cells.shape == (6, 2, len(CELLS))


def test_unlike_bouts_are_no_session():
    with pytest.raises(ValueError, match="bouts of one session must have the same players"):
        session_of([counts_of_bout(GAME, square_bout(0)), counts_of_bout(GAME, square_bout(1))])
    with pytest.raises(ValueError, match="thresholds"):
        session_of(
            [counts_of_bout(GAME, square_bout(0)), counts_of_bout(GAME, square_bout(0), Thresholds(sprint_kmh=24.0))]
        )


def test_points_taken_away_are_kept():
    bout = Bout(GAME)
    bout(1, "score", side="inside", value=-1.0)
    one = counts_of_bout(GAME, bout.log())
    assert session_of([one, one]).by_side["points", "inside"] == -2


def test_sides():
    assert sides_of(GAME) == {"outside", "inside"}
    assert sides_of(goals_game()) == {"amber", "slate", "white"}
    bout = Bout(goals_game())
    bout(1, "score", side="slate", value=2.0)
    rows = {(r.measure, r.scope): r.mean for r in summarise(goals_game(), [counts_of_bout(goals_game(), bout.log())])}
    assert rows.get(("points_per_min", "team:slate"), "missing") is None  # the ball was never in play
    groups = {
        group.scope: group.sides
        for group in groups_of(goals_game(), Sessions([counts_of_bout(goals_game(), bout.log())]))
    }
    assert (groups["team:slate"], groups["role:field"], groups["role:floater"]) == (("slate",), (), ())


def test_runs_are_counted_as_an_assistant_counts_them():
    """Five passes, then the whistle; before it 1 and 0: 0, 1 and 5, whoever ended them.  Corrected it would be 6 for 2 losses."""
    bout = Bout(GAME)
    bout(0, "live", side="outside", other="p1")
    for start, passes in ((1, 1), (10, 0), (20, 5)):
        bout(start, "possession", "p1", side="outside")
        for i in range(passes):
            giver, taker = ("p1", "p2") if i % 2 == 0 else ("p2", "p1")
            bout(start + 1 + i, "release", giver, taker, side="outside", detail="pass")
            bout(start + 1.5 + i, "receive", taker, giver, side="outside")
        if start < 20:
            bout(start + 5, "loss", "p1", "p5", side="outside", cause="tackle")
    rows = {(r.measure, r.scope): r for r in summarise(GAME, [counts_of_bout(GAME, bout.log())])}
    assert rows["pass_run_median", "game"].mean == 1
    assert rows["pass_run_share_reaching", "game"].mean == pytest.approx(1 / 3)
    assert rows["pass_run_mean", "game"].mean == pytest.approx(6 / 2)
    assert "not what is counted on the grass" in rows["pass_run_mean", "game"].definition


def test_what_a_game_asks_is_its_lowest_number_of_passes_and_may_be_nothing():
    assert asked_of(GAME, "outside") == 3
    assert math.isnan(asked_of(GAME, "inside")) and math.isnan(asked_of(goals_game(), "amber"))
    (phase,) = GAME.phases
    more = phase.rules[1].model_copy(update={"name": "more", "count": 2.0, "by": None})
    twice = GAME.model_copy(update={"phases": (phase.model_copy(update={"rules": (*phase.rules, more)}),)})
    assert (asked_of(twice, "outside"), asked_of(twice, "inside")) == (2, 2)
    rows = {
        (r.measure, r.scope): r
        for r in summarise(goals_game(), [counts_of_bout(goals_game(), Bout(goals_game()).log())])
    }
    assert rows["pass_run_share_reaching", "game"].mean is None


DOMAIN = Evidence(
    "even with goals", (4, 6), (80.0, 150.0), frozenset({"women"}), frozenset({"distance_per_min"}), "made up"
)


def test_basis_counts_inside_players_only():
    """2v2 with an inside floater on 30 x 20 m; the keepers are apart."""
    setting = setting_of(goals_game())
    assert (setting.players, setting.area_per_player_m2) == (5, 120.0)
    assert setting_of(GAME).players == 6


def test_basis_own_data():
    assert basis_of("turnovers_per_min", setting_of(GAME), own={"turnovers_per_min"}) == "own data"
    assert basis_of("passes_per_min", setting_of(GAME), own={"turnovers_per_min"}) == "extrapolated"


def test_basis_published():
    assert basis_of("distance_per_min", setting_of(goals_game()), evidence=[DOMAIN]) == "published"


@pytest.mark.parametrize(
    "outside",
    [
        dict(family="even keep-ball"),
        dict(players=(6, 8)),
        dict(players=(2, 4)),
        dict(area_per_player_m2=(121.0, 150.0)),
        dict(area_per_player_m2=(80.0, 119.0)),
        dict(populations=frozenset({"elite men"})),
        dict(measures=frozenset({"touches_per_min"})),
    ],
)
def test_basis_extrapolated_outside_any_side_of_the_evidence(outside):
    assert (
        basis_of("distance_per_min", setting_of(goals_game()), evidence=[replace(DOMAIN, **outside)]) == "extrapolated"
    )


def test_helpers_outside_make_it_another_game():
    setting = replace(setting_of(goals_game()), helpers=True)
    assert basis_of("distance_per_min", setting, evidence=[DOMAIN]) == "extrapolated"
    assert basis_of("distance_per_min", setting, evidence=[replace(DOMAIN, helpers=True)]) == "published"


def test_nothing_is_called_published_without_evidence():
    assert basis_of("distance_per_min", setting_of(goals_game())) == "extrapolated"


def test_studies_speak_of_field_players_together_and_of_nobody_alone():
    scopes = ("game", "team:amber", "team:white", "role:field", "role:keeper", "player:a1")
    assert [is_studied(goals_game(), scope) for scope in scopes] == [False, False, True, True, False, False]
    assert is_studied(GAME, "game")
    rows = summarise(goals_game(), [counts_of_bout(goals_game(), Bout(goals_game()).log())], evidence=[DOMAIN])
    assert {r.scope for r in rows if r.basis == "published"} == {"team:white", "role:field", "role:floater"}
