"""Energy of every segment and turns of every player, from the exact motion (compiled).

A segment is looked at along its acceleration (`sim.trajectory.Course`).  Metabolic power jumps where walking turns into
running and has a kink where a player stands; a segment is cut at these instants, and each piece is integrated by Gauss
quadrature.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from sim.compiled import njit
from sim.energy import RUN_ABOVE_MPS, metabolic_power, power_running, power_walking, walks
from sim.roots import bisect
from sim.trajectory import Course, along_after, course_of, faded, seconds_until, velocity_gain

ORDER = 6  # points a piece: twice as many change the energy of a player's bout by less than 1e-4 of it (in a test)
LOOKS = 6  # instants at which a stretch is asked whether the player walks or runs
HALVINGS = 40  # of the gap in which that changes
STILL_MPS = 1e-9
READING_S = 0.1  # turns are looked for ten times a second


def gauss_rule(order: int = ORDER) -> Quadrature:
    """Points and weights of Gauss quadrature on 0 to 1."""
    points, weights = np.polynomial.legendre.leggauss(order)
    return Quadrature(0.5 * (points + 1.0), 0.5 * weights)


class Quadrature(NamedTuple):
    """Points and weights of a rule of integration on 0 to 1."""

    points: np.ndarray
    weights: np.ndarray


@njit(cache=True)
def speed_after(course: Course, s: float) -> tuple[float, float]:
    """(speed in m/s, its growth in m/s2) s seconds into a course."""
    fade = faded(course.rate, s)
    along = along_after(course, s)
    v = math.sqrt(course.across * course.across + along * along)
    return v, (0.0 if v < STILL_MPS else fade * course.push * along / v)


@njit(cache=True)
def piece(course: Course, start: float, stop: float, walking: bool, by: Quadrature) -> float:
    """J/kg from start to stop, all of it walked or all of it run."""
    total = 0.0
    for i in range(by.points.shape[0]):
        v, growth = speed_after(course, start + (stop - start) * by.points[i])
        total += by.weights[i] * (power_walking(v, growth) if walking else power_running(v, growth))
    return total * (stop - start)


@njit(cache=True)
def goes_otherwise(than: tuple[Course, bool], s: float) -> bool:
    """Whether, s seconds into a course, the player walks where he ran (False) or runs where he walked (True)."""
    course, walking = than
    v, growth = speed_after(course, s)
    return walks(v, growth) != walking


@njit(cache=True)
def gait_change(course: Course, low: float, high: float, walking: bool) -> float:
    """The second, between `low` (walking or not) and `high` (the other), at which walking turns into running or back."""
    return bisect(goes_otherwise, (course, walking), low, high, HALVINGS)


@njit(cache=True)
def stretch_energy(course: Course, start: float, stop: float, by: Quadrature) -> float:
    """J/kg from start to stop of a course whose speed only grows or only falls between them."""
    slowest = min(speed_after(course, start)[0], speed_after(course, stop)[0])
    if slowest > RUN_ABOVE_MPS:
        return piece(course, start, stop, False, by)
    total = 0.0
    begin = start
    step = (stop - start) / LOOKS
    last = start + 0.5 * step
    v, growth = speed_after(course, last)
    walking = walks(v, growth)
    for i in range(1, LOOKS):
        now = start + (i + 0.5) * step
        v, growth = speed_after(course, now)
        if walks(v, growth) != walking:
            change = gait_change(course, last, now, walking)
            total += piece(course, begin, change, walking, by)
            begin, walking = change, not walking
        last = now
    return total + piece(course, begin, stop, walking, by)


@njit(cache=True)
def segment_energy(row: np.record, by: Quadrature) -> float:
    """J/kg, above standing still, of one segment (`sim.trajectory.SEGMENT`)."""
    course = course_of(row)
    d = row.t1 - row.t0
    if course.push == 0.0:
        return metabolic_power(course.along, 0.0) * d
    if course.along >= 0.0:
        return stretch_energy(course, 0.0, d, by)
    turn = min(seconds_until(course, 0.0), d)  # slowest where nothing is left along the acceleration
    if turn >= d:
        return stretch_energy(course, 0.0, d, by)
    before = stretch_energy(course, 0.0, turn, by)
    return before + stretch_energy(course, turn, d, by)


@njit(cache=True, makes_arrays=True)
def energies(rows: np.recarray, points: np.ndarray, weights: np.ndarray) -> np.ndarray:
    """J/kg of every row."""
    out = np.zeros(rows.shape[0])
    by = Quadrature(points, weights)
    for i in range(rows.shape[0]):
        if rows[i].t1 - rows[i].t0 > 0.0:
            out[i] = segment_energy(rows[i], by)
    return out


@njit(cache=True, makes_arrays=True)
def readings(rows: np.recarray, first: int, behind: int, count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(vx, vy, role) of one player, rows first to behind in order of time, in the middle of every tenth of a second.

    Where no row is, he stands (role -1).
    """
    vx, vy = np.zeros(count), np.zeros(count)
    roles = np.full(count, -1)
    i = first
    for n in range(count):
        t = (n + 0.5) * READING_S
        while i < behind - 1 and rows[i + 1].t0 <= t:
            i += 1
        row = rows[i]
        if row.t0 <= t <= row.t1:
            gain = velocity_gain(row.rate, t - row.t0)
            vx[n], vy[n] = row.vx + row.ax * gain, row.vy + row.ay * gain
            roles[n] = row.role
    return vx, vy, roles


@njit(cache=True, makes_arrays=True)
def count_turns(rows: np.recarray, cosine: float, lag: int, least: float, out: np.ndarray) -> None:
    """Fill `out[player, role]`: turns, each in the role in which it begins; rows in order of player, then time."""
    first = 0
    while first < rows.shape[0]:
        player = rows[first].player
        behind = first
        while behind < rows.shape[0] and rows[behind].player == player:
            behind += 1
        count = int(rows[behind - 1].t1 / READING_S + 1e-6)
        vx, vy, roles = readings(rows, first, behind, count)
        turning = False
        for n in range(count - lag):
            m = n + lag
            before, after = math.hypot(vx[n], vy[n]), math.hypot(vx[m], vy[m])
            back = vx[n] * vx[m] + vy[n] * vy[m] < cosine * before * after
            now = before > least and after > least and back
            if now and not turning and roles[n] >= 0:
                out[player, roles[n]] += 1.0
            turning = now
        first = behind


def turns(rows: np.recarray, players: int, roles: int, degrees: float, seconds: float, mps: float) -> np.ndarray:
    """Turns by player and role; the time is rounded to tenths of a second."""
    out = np.zeros((players, roles))
    cosine = 0.0 if degrees == 90.0 else math.cos(math.radians(degrees))
    count_turns(rows, cosine, max(1, round(seconds / READING_S)), mps, out)
    return out
