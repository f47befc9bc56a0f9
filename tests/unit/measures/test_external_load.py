"""Running figures against brute force: numerical integration and dense sampling of the same motion.

Source of the check values: constants C-1.x are the motion's own tests; here the closed forms are checked against
scipy's adaptive quadrature, and the efforts against a scan in steps of 0.1 ms.  C-8.10 stands below.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from sim.measures.external_load import LOADS, path
from sim.measures.thresholds import Thresholds
from sim.trajectory import RUN, Course
from tests.support.loads import running

KMH = 3.6


def row(player=0, t0=0.0, t1=1.0, v=(0.0, 0.0), a=(0.0, 0.0), rate=0.0, role=0):
    return np.array((player, t0, t1, 0.0, 0.0, v[0], v[1], a[0], a[1], rate, role), RUN)[()]


def velocity(one, s):
    g = s if one["rate"] == 0 else -math.expm1(-one["rate"] * s) / one["rate"]
    return one["vx"] + one["ax"] * g, one["vy"] + one["ay"] * g


def loads_of(rows, **limits):
    out, peaks = running(np.array(rows, RUN), 2, 2, Thresholds(**limits))
    return dict(zip(LOADS, out[0, 0], strict=True)), peaks[0, 0]


def random_rows(seed, count, straight_share=0.5):
    """Consecutive segments of one player with continuous velocity, curved (rate 0) and straight (rate > 0)."""
    rng = np.random.default_rng(seed)
    rows, t, v = [], 0.0, np.array([3.0, 1.0])
    for _ in range(count):
        d = float(rng.uniform(0.05, 1.5))
        if rng.random() < straight_share and np.hypot(*v) > 0.1:
            a = v / np.hypot(*v) * rng.uniform(-9, 9)
            rate = float(rng.uniform(0.3, 3.0))
        else:
            a, rate = rng.uniform(-6, 6, 2), 0.0
        one = row(0, t, t + d, tuple(v), tuple(a), rate)
        w = np.array(velocity(one, d))
        if np.hypot(*w) > 9:
            continue
        rows.append(one)
        t, v = t + d, w
    return rows


def brute_distance(rows):
    total = 0.0
    for one in rows:
        turn = [s for s in np.linspace(0, one["t1"] - one["t0"], 7)[1:-1]]
        speed = lambda s, one=one: math.hypot(*velocity(one, s))  # noqa: E731  (bound at once)
        total += quad(speed, 0.0, one["t1"] - one["t0"], points=turn, limit=400, epsabs=1e-11)[0]
    return total


def brute_efforts(rows, wanted, least, step=1e-4):
    """Efforts by sampling: [(seconds, metres)] of the stretches where `wanted(speed, growth of speed)` holds."""
    speeds, growths = [], []
    for one in rows:
        n = max(1, round((one["t1"] - one["t0"]) / step))
        s = (np.arange(n) + 0.5) * (one["t1"] - one["t0"]) / n
        g = s if one["rate"] == 0 else -np.expm1(-one["rate"] * s) / one["rate"]
        vx, vy = one["vx"] + one["ax"] * g, one["vy"] + one["ay"] * g
        speed = np.hypot(vx, vy)
        speeds.append(speed)
        growths.append((vx * one["ax"] + vy * one["ay"]) * np.exp(-one["rate"] * s) / speed)
    speed, growth = np.concatenate(speeds), np.concatenate(growths)
    on = np.concatenate([[0], wanted(speed, growth).astype(int), [0]])
    starts, stops = np.flatnonzero(np.diff(on) == 1), np.flatnonzero(np.diff(on) == -1)
    found = [((b - a) * step, speed[a:b].sum() * step) for a, b in zip(starts, stops, strict=True)]
    return [effort for effort in found if effort[0] >= least]


@pytest.mark.parametrize("seed", range(12))
def test_path_length_agrees_with_quadrature(seed):
    rows = random_rows(seed, 40)
    load, _ = loads_of(rows)
    assert load["distance_m"] == pytest.approx(brute_distance(rows), abs=1e-6)


@pytest.mark.parametrize("a", [1e-15, 1e-11, 1e-7, 1e-3, 5.0])
@pytest.mark.parametrize("p", [0.0, 1e-320, 1e-200, 1e-9, 1e-4, 2.0])
@pytest.mark.parametrize("u", [-3.0, -1e-6, 0.0, 1e-6, 3.0])
def test_nearly_straight_and_nearly_steady_runs_lose_no_digits(a, p, u):
    """The obvious closed form is off by metres here.  The quadrature is told where the motion turns."""
    turns = [-u / a + k * p / a for k in (-100, -10, -1, 0, 1, 10, 100)]
    exact = quad(
        lambda s: math.hypot(p, u + a * s), 0, 2, points=[s for s in turns if 0 < s < 2] or None, epsabs=1e-13
    )[0]
    assert path(Course(p, u, a, 0.0), 0.0, 2.0) == pytest.approx(exact, abs=1e-9)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("least", [0.0, 0.6])
def test_fast_running_agrees_with_a_dense_scan(seed, least):
    rows = random_rows(seed, 60)
    load, peak = loads_of(rows, high_speed_kmh=4.0 * KMH, sprint_kmh=6.0 * KMH, speed_min_s=least)
    for name, cut in (("high_speed", 4.0), ("sprint", 6.0)):
        efforts = brute_efforts(rows, lambda speed, _, cut=cut: speed > cut, least)
        assert load[f"{name}_efforts"] == len(efforts) > 0
        assert load[f"{name}_s"] == pytest.approx(sum(e[0] for e in efforts), abs=2e-2)
        assert load[f"{name}_m"] == pytest.approx(sum(e[1] for e in efforts), abs=0.1)
    top = max(math.hypot(*velocity(one, s)) for one in rows for s in np.linspace(0, one["t1"] - one["t0"], 50))
    assert peak == pytest.approx(top, abs=1e-9)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("least", [0.05, 0.5])
def test_sharp_changes_of_speed_agree_with_a_dense_scan(seed, least):
    rows = random_rows(seed, 60)
    load, _ = loads_of(rows, change_mps2=2.0, change_min_s=least)
    up = brute_efforts(rows, lambda _, growth: growth > 2.0, least)
    down = brute_efforts(rows, lambda _, growth: growth < -2.0, least)
    assert (load["accelerations"], load["decelerations"]) == (len(up), len(down))
    assert len(up) + len(down) > 0


def split(rows, seed):
    """The same motion, every segment cut in three at random instants."""
    rng = np.random.default_rng(seed)
    pieces = []
    for one in rows:
        d = one["t1"] - one["t0"]
        cuts = [0.0, *sorted(rng.uniform(0.01, 0.99, 2) * d), d]
        for a, b in zip(cuts[:-1], cuts[1:], strict=True):
            v = velocity(one, a)
            fade = math.exp(-one["rate"] * a)
            pieces.append(row(0, one["t0"] + a, one["t0"] + b, v, (one["ax"] * fade, one["ay"] * fade), one["rate"]))
    return pieces


@pytest.mark.parametrize("seed", range(8))
def test_cutting_a_segment_in_pieces_changes_nothing(seed):
    rows = random_rows(seed, 60)
    limits = dict(high_speed_kmh=4.0 * KMH, sprint_kmh=6.0 * KMH, speed_min_s=0.3, change_min_s=0.3)
    whole, peak = loads_of(rows, **limits)
    parts, peak_of_parts = loads_of(split(rows, seed), **limits)
    for name in LOADS:
        near = (
            dict(rel=1e-4) if name == "energy_j_kg" else dict(abs=1e-8)
        )  # energy by quadrature, the rest in closed form
        assert parts[name] == pytest.approx(whole[name], **near), name
    assert whole["sprint_efforts"] > 0 and whole["accelerations"] > 0 and whole["decelerations"] > 0
    assert peak_of_parts == pytest.approx(peak, abs=1e-9)


def test_a_fast_stretch_shorter_than_the_minimum_is_no_effort():
    """C-8.10 (source: check values, load definitions): 5.50 m/s for 0.9 s under a minimum of 1 s is no effort."""
    cut = dict(high_speed_kmh=5.4 * KMH)
    assert loads_of([row(v=(5.5, 0), t1=0.9)], **cut)[0]["high_speed_efforts"] == 0
    assert loads_of([row(v=(5.5, 0), t1=0.9)], **cut)[0]["high_speed_m"] == 0
    long, _ = loads_of([row(v=(5.5, 0), t1=1.0)], **cut)
    assert (long["high_speed_efforts"], long["high_speed_m"]) == (1, pytest.approx(5.5))


def test_an_effort_goes_on_over_segments_but_not_over_a_gap_or_to_another_player():
    cut = dict(high_speed_kmh=5.4 * KMH)
    joined = [row(v=(5.5, 0), t1=0.6), row(v=(0, 5.5), t0=0.6, t1=1.2)]
    gap = [row(v=(5.5, 0), t1=0.6), row(v=(0, 5.5), t0=0.7, t1=1.3)]
    other = [row(v=(5.5, 0), t1=0.6), row(player=1, v=(0, 5.5), t0=0.6, t1=1.2)]
    counts = [
        running(np.array(rows), 2, 2, Thresholds(**cut))[0][:, :, LOADS.index("high_speed_efforts")].sum()
        for rows in (joined, gap, other)
    ]
    assert counts == [1, 0, 0]


def test_an_effort_belongs_to_the_role_it_began_in_and_distance_to_the_role_of_its_row():
    rows = [row(v=(7.5, 0), t1=0.6, role=1), row(v=(7.5, 0), t0=0.6, t1=1.2, role=0)]
    out, peaks = running(np.array(rows), 1, 2)
    sprint = LOADS.index("sprint_m")
    assert out[0, :, sprint].tolist() == [0.0, pytest.approx(9.0)]
    assert out[0, :, 0].tolist() == [pytest.approx(4.5), pytest.approx(4.5)]
    assert peaks.tolist() == [[7.5, 7.5]]


def test_the_peak_is_at_either_end_of_a_segment():
    assert loads_of([row(v=(1, 0), a=(2, 0))])[1] == pytest.approx(3)
    assert loads_of([row(v=(3, 0), a=(-2, 0))])[1] == pytest.approx(3)
    assert loads_of([row(v=(1, 0), a=(2, 0), rate=1.0)])[1] == pytest.approx(1 + 2 * (1 - math.exp(-1)))


def test_turning_at_a_steady_pace_is_no_change_of_speed():
    """Half a turn of uniform speed by short chords of constant acceleration across the motion."""
    rows, steps, speed, turn = [], 200, 3.0, math.pi
    for i in range(steps):
        angle = turn * i / steps
        across = speed * turn / 1.0
        v, a = (speed * math.cos(angle), speed * math.sin(angle)), (-across * math.sin(angle), across * math.cos(angle))
        rows.append(row(0, i / steps, (i + 1) / steps, v, a))
    load, _ = loads_of(rows)
    assert (load["accelerations"], load["decelerations"]) == (0, 0)
    assert load["distance_m"] == pytest.approx(3.0, abs=1e-3)


def test_the_smallest_numbers_give_numbers():
    """Leftovers of rounding in velocity and acceleration, down to the least numbers there are."""
    sizes = (0.0, 5e-324, -1e-320, 1e-200, -1e-170, 1e-17, -1e-9, 1e-4, -2.0)
    rows = [row(v=(vx, vy), a=(ax, ay)) for vx in sizes for vy in sizes for ax in sizes for ay in sizes]
    rows += [row(v=(vx, 0), a=(ax, 0), rate=rate) for vx in sizes for ax in sizes for rate in (1e-300, 1e-9, 1.0)]
    for one in rows:
        out, peaks = running(np.array([one]), 1, 1)
        assert np.isfinite(out).all() and np.isfinite(peaks).all(), one
        assert out[0, 0, 0] == pytest.approx(brute_distance([one]), abs=1e-6), one


def test_a_curved_segment_with_a_rate_is_refused():
    with pytest.raises(ValueError, match=r"segments\[0\] must be straight where its rate is not 0"):
        loads_of([row(v=(1, 0), a=(0, 2), rate=1.0)])


def test_no_segments_no_load():
    out, peaks = running(np.zeros(0, RUN), 2, 1)
    assert out.sum() == 0 and peaks.sum() == 0
