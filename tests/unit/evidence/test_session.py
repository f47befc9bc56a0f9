"""What is read off a bout: on logs written by hand, where the right number is plain."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sim.evidence.ball_events import read_bout
from sim.evidence.conditions import SAME_PLAYERS, TYPICAL_PLAYERS, Condition, game_of
from sim.evidence.measures import Unknown, change, estimate, observed
from sim.evidence.session import COLUMN, blocks_of, session_of
from sim.evidence.trajectories import changes, longest_run, turns
from sim.measures.session_counts import CELLS
from sim.players import typical_roster
from tests.support.evidence import play_session
from tests.unit.measures.handmade import Bout, goals_game, square_bout, square_game


def value(session, measure: str, scope: str = "all") -> float:
    found, _ = estimate(measure, [observed(session, measure, scope)])
    return found


@pytest.fixture(scope="module")
def played():
    """Two short bouts of real play."""
    changes = ("areas.field.length=40", "areas.field.width=30", "bouts.minutes=1", "bouts.count=2")
    return play_session(Condition("possession", changes, "amateur men"), 0)


@pytest.fixture(scope="module")
def square():
    """Two bouts of 60 s: see `square_bout`."""
    return session_of(square_game(), [square_bout(), square_bout(number=1)])


def test_metres_per_minute_are_counted_by_role_and_by_who_began_in_it(square):
    # p1: 10 m outside, 150 m inside; p2-p4: 30 m each outside; p5: 8 + 64 m inside, 25 m outside; p6: 120 m inside.
    outside, inside = (10 + 90 + 25), (150 + 72 + 120)
    assert value(square, "distance_per_min") == pytest.approx((outside + inside) / 6, rel=1e-3)
    assert value(square, "distance_per_min", "role:outside") == pytest.approx(outside / (10 + 180 + 50) * 60, rel=1e-3)
    assert value(square, "distance_per_min", "role:inside") == pytest.approx(inside / (50 + 10 + 60) * 60, rel=1e-3)
    assert value(square, "distance_per_min", "start:inside") == pytest.approx((72 + 25 + 120) / 2, rel=1e-3)


def test_bands_of_speed(square):
    # Above 25.2 km/h (7 m/s): p5 alone, his last quarter of a second of starting and 8 s at 8 m/s.
    assert value(square, "metres_per_min:25.2-99") == pytest.approx((64 + (64 - 49) / 8) / 6, rel=0.02)
    assert value(square, "metres:7-14.4", "start:inside") == pytest.approx(
        2 * (120 + (16 - 1.944**2) / 8) / 2, rel=0.02
    )
    assert value(square, "share:0-99") == pytest.approx(1.0)
    assert value(square, "peak_kmh", "start:inside") == pytest.approx((28.8 + 7.2) / 2, rel=1e-3)
    assert value(square, "longest_run:18", "start:inside") == pytest.approx((64 + (64 - 25) / 8) / 2, rel=0.02)
    with pytest.raises(Unknown):
        value(square, "metres:3-4")


def test_who_never_had_a_role_is_not_counted_in_it(square):
    # Inside have been p1, p5 and p6; above 25.2 km/h only p5 (see above), in both bouts.
    assert value(square, "metres:25.2-99", "role:inside") == pytest.approx(2 * (64 + (64 - 49) / 8) / 3, rel=0.02)


def test_estimates_are_those_of_the_answers_and_none_for_minors(square):
    from sim.measures.session_counts import counts_of_bout
    from sim.measures.session_counts import session_of as counts_of_session
    from sim.measures.summary import summarise

    first = counts_of_bout(square_game(), square_bout())
    both = counts_of_session([first, counts_of_bout(square_game(), square_bout(number=1), before=first)])
    rows = {(row.measure, row.scope): row.mean for row in summarise(square_game(), [both])}
    assert value(square, "heart_rate_pct") == pytest.approx(rows["mean_heart_rate_estimate", "game"])
    assert value(square, "heart_rate_pct", "role:inside") == pytest.approx(
        rows["mean_heart_rate_estimate", "role:inside"]
    )
    assert value(square, "perceived_effort") == pytest.approx(rows["perceived_effort_estimate", "game"])
    youngsters = square_game().model_copy(
        update={"teams": tuple(team.model_copy(update={"population": "U12"}) for team in square_game().teams)}
    )
    with pytest.raises(Unknown):
        value(session_of(youngsters, [square_bout()]), "heart_rate_pct")


def test_counts_of_the_ball(square):
    # A bout: in play 8 s, 10 s, 25 s; 2 losses; 6 passes that ended (the last is on its way), 5 completed.
    minutes = (8 + 10 + 25) / 60
    assert value(square, "losses_per_min") == pytest.approx(2 / minutes)
    assert value(square, "passes_per_min") == pytest.approx(6 / minutes)
    assert value(square, "completion") == pytest.approx(5 / 6)
    assert value(square, "losses_per_pass") == pytest.approx(2 / 6)
    assert value(square, "outs_per_min") == pytest.approx(1 / minutes)
    assert value(square, "in_play_share") == pytest.approx(43 / 60)
    assert value(square, "losses_per_min", "bout:1") == pytest.approx(2 / minutes)
    # Half a bout a quarter: both losses fall into the first half (at 10 s, and at 30 s into the second).
    assert value(square, "losses_per_min", "quarter:1") == pytest.approx(1 / (18 / 60))
    assert value(square, "losses_per_min", "quarter:2") == pytest.approx(1 / (25 / 60))


def test_receptions_time_on_the_ball_and_waits(square):
    table = read_bout(square_game(), square_bout())[1].pass_table()
    assert table[:, 0].tolist() == [8.0] * 6
    assert table[:, 1].tolist() == [0, 0, 1, 0, 0, 0]
    assert table[:, 2].tolist() == [1, 1, 0, 1, 1, 1]
    assert table[:, 3] == pytest.approx([8.0, 8.0, math.nan, 4.0, 4.0, 4.0], nan_ok=True)
    # p1 was served (no mate's pass); p2 first time; p1 received at 6, lets go at 8; p4 served; then 2 s each.
    assert table[:, 4] == pytest.approx([math.nan, 0.0, 2.0, math.nan, 2.0, 2.0], nan_ok=True)
    # First touch to release: 1, 0, 2, 2, 2, 2 s; and p3's last (from 48 to 59), whose pass is on its way but was released.
    assert value(square, "on_ball_s") == pytest.approx((1 + 0 + 2 + 2 + 2 + 2 + 11) / 7)
    # Receivers: p2, p1 (1 m/s before 10 s), p3, p4, p3, all others at 0.5.
    assert value(square, "receiver_speed_kmh") == pytest.approx(3.6 * (4 * 0.5 + 1.0) / 5)


def test_pools_of_passes(square):
    pool = [observed(square, "pass_speed:5-10:q50", "all")] * 2
    assert estimate("pass_speed:5-10:q50", pool)[0] == 4.0
    assert (
        estimate("reception_to_pass:pressed:q50", [observed(square, "reception_to_pass:pressed:q50", "all")] * 2)[0]
        == 2
    )
    share = [observed(square, "reception_to_pass_share:0.3", "all")] * 2
    assert estimate("reception_to_pass_share:0.3", share)[0] == pytest.approx(1 / 4)
    assert value(square, "completion:5-10:free") == 1.0
    assert value(square, "completion:5-10:pressed") == 0.0


def test_chance_of_a_number_of_passes(square):
    # Possessions of a bout: 2 passes and lost, 0 and lost, 3 and cut short by the whistle.
    assert value(square, "reached:2") == pytest.approx(2 / 3)
    assert value(square, "reached:3") == pytest.approx(1 / 3)
    assert value(square, "reached:4") == pytest.approx(0 / 2)


def test_tackles_space_and_keepers():
    game = goals_game()
    bout = Bout(game)
    for name, place in (("a1", 0.0), ("a2", 4.0), ("s1", 9.0), ("s2", 30.0), ("w1", 4.5)):
        bout.rows.append((bout.ids.index(name), 0, 60, place, 0, 0, 0, 0, 0, 0, 0))
    for name in ("ak", "sk"):
        bout.rows.append((bout.ids.index(name), 0, 60, -15, 0, 0, 3.0, 0, 0, 0, 1))
    bout(1, "live", side="amber", other="a1")
    bout(2, "touch", "a1", side="amber")
    bout(3, "tackle", "s1", "a1", cause="beaten")
    bout(4, "release", "a1", "a2", side="amber", cause="free", value=12.0)
    bout(5, "receive", "a2", "a1", side="amber", value=12.0)
    session = session_of(game.model_copy(update={"bouts": game.bouts.model_copy(update={"seconds": 60})}), [bout.log()])
    assert value(session, "tackles") == 1
    assert value(session, "receiver_space_m") == pytest.approx(5.0)  # the floater beside him is no opponent
    assert value(session, "distance_per_min") == 0.0  # the keepers ran, and do not count
    assert value(session, "distance_per_min", "role:keeper") != value(session, "distance_per_min", "role:keeper")
    assert estimate("pass_speed:10-15:q50", [observed(session, "pass_speed:10-15:q50", "all")] * 2)[0] == 12.0


def test_supports_after_a_transfer():
    from tests.unit.measures.handmade import grids_game

    game = grids_game()
    bout = Bout(game)
    # The ball crosses to slate's grid (x 4 to 12); mates of a1 walk in from x = 0 at 2 and at 1 m/s: over x = 3 at 3 s.
    for name, speed in (("a1", 0.0), ("a2", 2.0), ("a3", 1.0), ("s1", 3.0), ("s2", 3.0), ("s3", 3.0)):
        bout.runs(name, "home", 0, 60, (speed, 0.0))
    bout(0, "transfer", "a1", detail="amber-grid>slate-grid", side="amber")
    session = session_of(game, [bout.log()])
    assert value(session, "support_arrival_s") == pytest.approx(3.0, abs=0.11)


def test_a_change_of_speed_must_be_sharp_and_last():
    still, fast = np.zeros(30), np.full(30, 6.0)
    sharp = np.concatenate([still, np.arange(0.0, 6.0, 0.25), fast])  # 2.5 m/s2 for 2.4 s
    assert len(changes(sharp, 2.0)) == 1 and len(changes(sharp, 3.0)) == 0
    assert len(changes(np.concatenate([still, np.arange(0.0, 6.0, 0.15), fast]), 2.0)) == 0
    assert len(changes(np.concatenate([still, [0.3], still]), 2.0)) == 0


def test_turns_and_longest_run():
    there_and_back = np.concatenate([np.full(30, 3.0), np.full(30, -3.0)])
    assert len(turns(there_and_back, np.zeros(60))) == 1
    assert len(turns(there_and_back / 3, np.zeros(60))) == 0
    run = np.concatenate([np.full(20, 6.0), np.full(5, 1.0), np.full(10, 6.0)])
    assert longest_run(run) == pytest.approx(12.0)
    assert longest_run(np.ones(10)) == 0.0


def test_blocks_cut_bouts_by_the_quarters_of_the_session():
    game = square_game(count=3)
    assert list(blocks_of(game)) == [
        (0, 0, 0.0, 45.0), (0, 1, 45.0, 60.0), (1, 1, 0.0, 30.0), (1, 2, 30.0, 60.0), (2, 2, 0.0, 15.0), (2, 3, 15.0, 60.0),
    ]  # fmt: skip


def test_the_spread_between_sessions_and_between_players(square):
    values = [np.array([100.0, 1.0]), np.array([110.0, 1.0]), np.array([90.0, 1.0])]
    assert estimate("session_cv:distance", values)[0] == pytest.approx(10.0)
    own = np.array([160, 30, 30, 30, 97, 120])
    assert value(square, "distance_cv") == pytest.approx(own.std(ddof=1) / own.mean(), rel=1e-3)


def test_a_change_is_taken_session_by_session():
    lot = np.random.default_rng(1)
    players = lot.normal(100, 20, 50)
    first = [np.array([p, 1.0]) for p in players]
    second = [np.array([1.1 * p + noise, 1.0]) for p, noise in zip(players, lot.normal(0, 1, 50), strict=True)]
    grown, error = change(("distance_per_min", "distance_per_min"), first, second, relative=True)
    assert grown == pytest.approx(0.1, abs=0.01) and error == pytest.approx(1 / 100 / math.sqrt(50), rel=0.3)
    points, error = change(("distance_per_min", "distance_per_min"), first, second, relative=False)
    assert points == pytest.approx(0.1 * players.mean(), abs=0.5)
    # Pairs that are not pairs: the error is that of both, about 20 / sqrt(50) each.
    _, error = change(("distance_per_min", "distance_per_min"), first, second[:-1], relative=False)
    assert error == pytest.approx(math.hypot(20, 22) / math.sqrt(50), rel=0.3)


def test_an_unknown_measure_is_refused(square):
    with pytest.raises(Unknown):
        value(square, "heart_rate_pct_of_nobody")


def test_other_measures_come_from_the_answers(square):
    from sim.measures.session_counts import counts_of_bout
    from sim.measures.session_counts import session_of as counts_of_session
    from sim.measures.sessions import Sessions, groups_of
    from sim.measures.summary import summarise

    game = square_game()
    whole = counts_of_session([counts_of_bout(game, log) for log in square.logs])
    assert [one.scope for one in groups_of(game, Sessions([whole]))][0] == "game"
    answer = {(row.measure, row.scope): row.mean for row in summarise(game, [whole])}
    assert value(square, "defending_share") == pytest.approx(answer["defending_share", "game"])
    assert value(square, "time_defending_s", "role:inside") == pytest.approx(answer["time_defending_s", "role:inside"])
    with pytest.raises(Unknown):
        value(square, "defending_share", "all quarter:1")


def test_what_both_readings_define_alike_is_counted_alike(played):
    """The counts of an answer are made from the same log by other code: touches, time on the ball, losses and balls out."""
    session, counts = played, played.counts
    for ours, theirs in (
        ("touches", "touches"),
        ("timed", "timed_releases"),
        ("on_ball_s", "on_ball_s"),
        ("losses", "losses"),
        ("outs", "outs"),
    ):
        mine = session.cells[:-1, :, :, COLUMN[ours]].sum(axis=(1, 2))
        assert mine == pytest.approx(counts.cells[:, :, CELLS.index(theirs)].sum(axis=1)), ours
        assert mine.sum() > 0, ours
    assert session.in_play_s.sum() == pytest.approx(counts.in_play_s)
    assert session.cells[:, :, :, COLUMN["losses"]].sum() == counts.totals["turnovers"]


def test_typical_and_same_players_play_where_the_condition_asks_for_them():
    short = ("bouts.minutes=0.5", "bouts.count=1")
    drawn, again = (play_session(Condition("square", short, "amateur men"), number).logs[0] for number in (0, 1))
    assert drawn.profiles != again.profiles
    same = play_session(Condition("square", (*short, SAME_PLAYERS), "amateur men"), 1).logs[0]
    assert [replace(who, drive=1.0) for who in same.profiles] == [replace(who, drive=1.0) for who in drawn.profiles]
    condition = Condition("square", (*short, TYPICAL_PLAYERS), "amateur men")
    typical = play_session(condition, 1).logs[0]
    assert typical.profiles == tuple(typical_roster(game_of(condition))[name] for name in typical.players)
