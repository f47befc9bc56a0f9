"""Rows of tracking: the data and their roles, and each measure on a large game, against the log read in another way."""

from __future__ import annotations

import hashlib
import math

import numpy as np
import pytest

from sim.evidence.conditions import game_of
from sim.evidence.tracking.measures import ROWS, completion, pace, passes_of, rolling, slowing, time_between
from sim.evidence.tracking.play import GAMES, figure, rows, statistic
from sim.evidence.tracking.samples import STEP_S, changes, samples_of
from sim.experiments.sessions import session_bouts

# Roles were given before any fit; whoever needs others has to change this line and say why.  29 November 2026: P04, P09, P10 and
# P12 (standing, accelerations, the stride after reception) fitted, before anything was fitted to them.
ROLES = "bd3654c99d4b1ff0759ddef2cac760d780ca0e2bd2407428d7eec6d891d4ce16"


def test_twenty_nine_rows_each_with_two_ends_about_its_value():
    assert [row.id for row in rows()] == [f"P{number:02d}" for number in range(1, 30)]
    for row in rows():
        assert row.low < row.high and row.low <= float(row.value) <= row.high
    assert set(ROWS) == {row.id for row in rows()}


def test_roles_never_change_and_at_most_ten_are_fitted():
    text = "\n".join(f"{row.id} {row.role} {row.value} {row.low} {row.high}" for row in rows())
    assert hashlib.sha256(text.encode()).hexdigest() == ROLES
    assert {row.role for row in rows()} == {"fitted", "predicted"}
    assert sum(row.role == "fitted" for row in rows()) <= 10


@pytest.fixture(scope="module")
def seen():
    game = game_of(GAMES[1])
    (log,) = session_bouts(game, 6, 0)
    return samples_of(game, log)


def test_the_large_games_are_as_written():
    for condition, (length, width, outfield) in zip(GAMES, [(105, 68, 20), (70, 50, 16)], strict=True):
        game = game_of(condition)
        assert (game.areas[0].length, game.areas[0].width) == (length, width)
        assert len(game.players) == outfield + 2
        assert {(goal.width, goal.height) for goal in game.goals} == {(7.32, 2.44)}


def test_samples_follow_the_paths_and_the_log(seen):
    assert seen.x.shape == (18, len(seen.times)) and int(seen.outfield.sum()) == 16
    step = np.hypot(np.diff(seen.x), np.diff(seen.y))
    assert np.abs(step / STEP_S - (seen.speed[:, 1:] + seen.speed[:, :-1]) / 2).max() < 1.0
    assert np.abs(step.sum(axis=1) - seen.speed.sum(axis=1) * STEP_S).max() < 1.0
    live = [(row[0], row[2]) for row in seen.log.events if row[2] in ("live", "dead")]
    in_play = sum(dead - begun for (begun, _), (dead, _) in zip(live[::2], live[1::2], strict=False))
    assert (seen.owner != "").sum() * STEP_S == pytest.approx(in_play, abs=len(live) * STEP_S)
    assert set(seen.owner) == {"", "amber", "slate"}


def test_shares_of_time_sum_to_all_of_it(seen):
    parts = [time_between("own", low, high)(seen) for low, high in ((0.0, 7.0), (7.0, 14.4), (14.4, math.inf))]
    assert sum(top / bottom for top, bottom in parts) == pytest.approx(100.0)


def test_every_row_finds_something_and_is_plausible(seen):
    for row, measure in ROWS.items():
        value = statistic(row, np.array(measure(seen)))
        assert not math.isnan(value), row
    assert 60 < statistic("P01", np.array(ROWS["P01"](seen))) < 250
    assert 0 <= statistic("P23", np.array(completion(8, 12)(seen))) <= 1


def test_a_pass_ends_once_and_a_reception_is_its_own(seen):
    found = list(passes_of(seen))
    assert len(found) > 10
    for one in found:
        assert one.receive is None or (one.receive.other == one.release.player and one.receive.t > one.release.t)
        assert not (one.over and one.receive)
    releases = sum(
        event.kind == "release" and 5 <= event.value < 30 and seen.outfield[seen.number[event.player]]
        for event in seen.events
    )
    assert releases - 1 <= len(found) <= releases


def test_the_deceleration_of_the_ball_is_that_of_its_law(seen):
    slow, all_of_it = (np.array(slowing(*ends)(seen)) for ends in ((4.0, 6.0), (0.5, math.inf)))
    rows_ = seen.log.ball[(seen.log.ball["holder"] < 0) & seen.log.ball["in_play"]]
    push = np.hypot(rows_["ax"], rows_["ay"])
    for top, bottom in (slow, all_of_it):
        assert push[push > 0].min() - 1e-6 <= top / bottom <= push.max() + 1e-6


def test_changes_of_speed_are_counted_once_each():
    still, ramp = np.full(50, 2.0), np.linspace(2.0, 5.0, 25)
    up = np.concatenate([still, ramp, np.full(50, 5.0)])  # 3 m/s in a second
    assert len(changes(up, 1.0)) == 1 and len(changes(up, -1.0)) == 0
    assert len(changes(up[::-1], -1.0)) == 1
    gentle = np.concatenate([still, np.linspace(2.0, 3.5, 25), np.full(50, 3.5)])
    assert len(changes(gentle, 1.0)) == 0


def test_the_spread_of_pace_is_that_of_the_residuals():
    lot = np.random.default_rng(3)
    x = lot.uniform(1.6, 3.4, 400)
    y = 0.5 * x + 1.0 + lot.normal(0.0, 0.25, 400)
    sums = [(1.0, a, b, a * a, a * b, b * b) for a, b in zip(x, y, strict=True)]
    residuals = y - np.polyval(np.polyfit(x, y, 1), x)
    ours = figure("P21", sums)
    assert ours.value == pytest.approx(math.sqrt((residuals @ residuals) / 398))
    assert ours.low < ours.value < ours.high


def test_pace_is_the_mean_speed_of_received_passes(seen):
    count, x, y, *_ = pace(seen)
    found = [(p.receive.value, p.receive.t - p.release.t) for p in passes_of(seen) if p.receive is not None]
    assert count == len(found) > 10
    assert y == pytest.approx(sum(math.log(way) - math.log(time) for way, time in found))
    assert x == pytest.approx(sum(math.log(way) for way, _ in found))
    launched = max(float(speed[0]) for _, speed in rolling(seen.log))
    assert 5.0 < max(way / time for way, time in found) < launched  # m/s: nothing comes faster than it was struck


def test_a_mean_has_the_error_of_its_bouts():
    ours = figure("P11", [(10.0, 2.0), (12.0, 2.0), (17.0, 3.0)])
    assert ours.value == pytest.approx(39 / 7) and ours.low < ours.value < ours.high
    assert math.isnan(figure("P11", [(0.0, 0.0), (0.0, 0.0)]).value)
