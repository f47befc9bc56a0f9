"""Energy, turns, bands and heart rate against brute force on the same motion, and on a bout as played."""

from __future__ import annotations

import math

import numpy as np
import pytest

import sim
from sim.energy import metabolic_power, power_running, power_walking
from sim.evidence import trajectories
from sim.measures.external_load import LOADS, in_order
from sim.measures.heart import after_rest, beat, heart_of, per_watt
from sim.measures.power import ORDER, energies, gauss_rule, segment_energy, turns
from sim.measures.thresholds import Thresholds
from sim.parameters import defaults
from sim.players import typical_roster
from tests.support.loads import running
from tests.unit.measures.test_external_load import random_rows, row, velocity


@pytest.fixture(scope="module")
def bout():
    return sim.play(sim.load_game("tight-square"), seed=1)


def brute_energy(one, step=2e-5):
    d = one["t1"] - one["t0"]
    n = max(1, round(d / step))
    total = 0.0
    for s in (np.arange(n) + 0.5) * d / n:
        vx, vy = velocity(one, s)
        fade, v = math.exp(-one["rate"] * s), math.hypot(vx, vy)
        total += metabolic_power(v, fade * (vx * one["ax"] + vy * one["ay"]) / v)
    return total * d / n


@pytest.mark.parametrize("seed", range(3))
def test_energy_agrees_with_a_dense_sum(seed):
    rows = random_rows(seed, 6)
    spent = energies(np.array(rows), *gauss_rule())
    for one, found in zip(rows, spent, strict=True):
        assert found == pytest.approx(brute_energy(one), rel=3e-4)


def test_energy_of_steady_walking_running_and_standing():
    """Cost on the flat: walking at 1.4 m/s 2.268 J/kg/m (di Prampero & Osgnach 2018), running 3.6 (Minetti & Pavei 2018)."""
    by = gauss_rule()
    assert segment_energy(row(t1=10.0, v=(1.4, 0.0)), by) == pytest.approx(14 * 2.268, rel=1e-3)
    assert segment_energy(row(t1=10.0, v=(0.0, -4.0)), by) == pytest.approx(40 * 3.6)
    assert segment_energy(row(t1=10.0), by) == 0.0


def test_a_run_from_walking_into_running_is_cut_where_it_changes():
    """Steady 1 m/s2 from 1 m/s: slope 0.102, so walking until 1.94 m/s.  Each part by fine midpoints of its own formula."""
    switch = next(v for v in np.arange(1, 3, 1e-4) if metabolic_power(v, 1.0) == power_running(v, 1.0))
    assert 1.93 < switch < 1.96
    walked = np.mean([power_walking(v, 1.0) for v in np.linspace(1, switch, 4001)]) * (switch - 1)
    run = np.mean([power_running(v, 1.0) for v in np.linspace(switch, 3, 4001)]) * (3 - switch)
    segment = row(t1=2.0, v=(1.0, 0.0), a=(1.0, 0.0))
    assert segment_energy(segment, gauss_rule()) == pytest.approx(walked + run, rel=1e-4)


def by_player(rows, order):
    return np.bincount(rows["player"], energies(rows, *gauss_rule(order)))


@pytest.mark.slow
def test_twice_the_points_change_nothing(bout):
    """Order of the quadrature: the energy of every player of a bout as played moves by less than 1e-4 of it."""
    rows = in_order(bout.segments)
    assert by_player(rows, 2 * ORDER) == pytest.approx(by_player(rows, ORDER), rel=1e-4)
    assert by_player(rows, 2) != pytest.approx(by_player(rows, 1), rel=1e-4)  # the check can fail


def arc(t0, seconds, degrees, speed, heading=0.0, pieces=20):
    """A player who changes his heading evenly: short straight chords, each at constant speed."""
    rows = []
    for i in range(pieces):
        angle = math.radians(heading + degrees * (i + 0.5) / pieces)
        step = seconds / pieces
        rows.append(
            row(0, t0 + i * step, t0 + (i + 1) * step, (speed * math.cos(angle), speed * math.sin(angle)), role=1)
        )
    return rows


def run_and_bend(degrees, speed, seconds=0.5):
    last = math.radians(degrees)
    straight = (speed * math.cos(last), speed * math.sin(last))
    return np.array(
        [row(0, 0, 3, (speed, 0)), *arc(3, seconds, degrees, speed), row(0, 3 + seconds, 8, straight, role=1)]
    )


@pytest.mark.parametrize(
    ("degrees", "speed", "seconds", "expected"),
    [(100, 3.0, 0.5, 1), (80, 3.0, 0.5, 0), (100, 1.4, 0.5, 0), (180, 3.0, 0.5, 1), (100, 3.0, 1.4, 0)],
)
def test_a_turn_needs_its_angle_its_speed_and_its_time(degrees, speed, seconds, expected):
    found = turns(run_and_bend(degrees, speed, seconds), 1, 2, 90.0, 1.0, 1.5)
    assert found.sum() == found[0, 0] == expected


def test_the_limits_of_a_turn_are_what_is_asked_for():
    assert turns(run_and_bend(80, 3.0), 1, 2, 60.0, 1.0, 1.5).sum() == 1
    assert turns(run_and_bend(100, 3.0), 1, 2, 120.0, 1.0, 1.5).sum() == 0
    assert turns(run_and_bend(100, 1.4), 1, 2, 90.0, 1.0, 1.0).sum() == 1
    assert turns(run_and_bend(100, 3.0, 1.4), 1, 2, 90.0, 2.0, 1.5).sum() == 1


@pytest.mark.slow
def test_turns_of_a_bout_are_those_the_evidence_counts(bout):
    """Two separate readings of the same paths: here in compiled code, there on the tracks of the evidence."""
    found = turns(in_order(bout.segments), len(bout.players), len(bout.roles), 90.0, 1.0, 1.5).sum(axis=1)
    seen = trajectories.trajectories_of(bout)
    expected = [len(trajectories.turns(vx, vy)) for vx, vy in zip(seen.vx, seen.vy, strict=True)]
    assert found.tolist() == expected and sum(expected) > 5


ZONES = ("walk_m", "jog_m", "run_m", "high_speed_band_m", "sprint_band_m")


@pytest.mark.parametrize("seed", range(4))
def test_metres_in_speed_zones_agree_with_a_dense_scan_and_make_up_the_distance(seed):
    rows = random_rows(seed, 40)
    limits = Thresholds(jog_kmh=7.2, run_kmh=10.8, high_speed_kmh=18.0, sprint_kmh=25.2)
    out, _ = running(np.array(rows), 1, 1, limits)
    load = dict(zip(LOADS, out[0, 0], strict=True))
    speeds, steps = [], []
    for one in rows:
        s = (np.arange(2000) + 0.5) * (one["t1"] - one["t0"]) / 2000
        g = s if one["rate"] == 0 else -np.expm1(-one["rate"] * s) / one["rate"]
        speeds.append(np.hypot(one["vx"] + one["ax"] * g, one["vy"] + one["ay"] * g))
        steps.append(np.full(2000, (one["t1"] - one["t0"]) / 2000))
    speed, step = np.concatenate(speeds), np.concatenate(steps)
    edges = [0.0, 2.0, 3.0, 5.0, 7.0, math.inf]
    for name, low, high in zip(ZONES, edges[:-1], edges[1:], strict=True):
        within = (speed > low) & (speed <= high)
        assert load[name] == pytest.approx((speed * step)[within].sum(), abs=0.05), name
    assert sum(load[name] for name in ZONES) == pytest.approx(load["distance_m"], abs=1e-9)


def test_shares_are_of_each_players_own_top_speed():
    """5 m/s is beyond 80 % of 6 m/s and below 80 % of 9 m/s."""
    rows = np.array([row(0, v=(5, 0), t1=2), row(1, v=(5, 0), t1=2)])
    shares = Thresholds(None, None, 1.0, 2.0, 0.5, None, None, 0.25, 0.6, 0.8, 0.9)
    out, _ = running(rows, 2, 1, shares, np.array([6.0, 9.0]))
    fast = out[:, 0, LOADS.index("high_speed_m")]
    assert fast.tolist() == [pytest.approx(10.0), 0.0]
    assert out[0, 0, LOADS.index("high_speed_band_m")] == pytest.approx(10.0)
    assert out[1, 0, LOADS.index("jog_m")] == pytest.approx(10.0)
    with pytest.raises(ValueError, match="need the players' top speeds"):
        running(rows, 2, 1, shares)


HEART = heart_of(defaults())


def test_the_heart_follows_a_steady_effort():
    """First order: against the exponential; settled at rest + slope x power."""
    rows = np.array([row(0, t0=i, t1=i + 1) for i in range(600)])
    pulse, out = np.array([60.0]), np.zeros((1, 1))
    beat(rows, np.full(600, 8.0), np.array([4.0]), HEART.at_rest, HEART.tau_s, pulse, out)
    target = HEART.at_rest + 32.0
    assert pulse[0] == pytest.approx(target, abs=1e-5)
    expected = target * 600 + (60.0 - target) * HEART.tau_s * (1 - math.exp(-600 / HEART.tau_s))
    assert out[0, 0] == pytest.approx(expected, rel=1e-9)


def test_it_never_goes_beyond_the_maximum():
    rows = np.array([row(0, t0=10.0 * i, t1=10.0 * (i + 1)) for i in range(60)])
    pulse, out = np.array([60.0]), np.zeros((1, 1))
    beat(rows, np.full(60, 500.0), np.array([4.0]), HEART.at_rest, HEART.tau_s, pulse, out)
    assert pulse[0] == 100.0 and out[0, 0] / 600 <= 100.0


def test_it_falls_in_a_rest():
    """C-7.12 (J Sports Sci Med 10:369): 52.5 s; after that long, 1/e of the way is left."""
    assert HEART.tau_rest_s == 52.5
    left = after_rest(HEART, np.array([90.0]), 52.5)[0] - HEART.at_rest
    assert left == pytest.approx((90.0 - HEART.at_rest) / math.e)


def test_running_at_critical_speed_is_the_stated_share_of_the_aerobic_maximum():
    game = sim.load_game("tight-square")
    profile = next(iter(typical_roster(game).values()))
    bare = heart_of(defaults() | {"cost_beyond_running": 1.0})
    power = 3.6 * profile.critical_speed_mps
    assert per_watt(bare, profile) * power == pytest.approx(HEART.aerobic_share * HEART.per_share)
