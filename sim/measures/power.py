"""Energy of every segment and turns of every player, from the exact motion (compiled).

Seen along its acceleration, a segment has the speed p across and ``u + a g`` along (`sim.measures.external_load`).  Metabolic power
jumps where walking turns into running and has a kink where a player stands; a segment is cut at these instants, and each
piece is integrated by Gauss quadrature.
"""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit
from sim.energy import RUN_ABOVE_MPS, metabolic_power, power_running, power_walking, walks

ORDER = 6  # points a piece: twice as many change the energy of a player's bout by less than 1e-4 of it (in a test)
LOOKS = 6  # instants at which a stretch is asked whether the player walks or runs
HALVINGS = 40  # of the gap in which that changes
STILL_MPS = 1e-9
STEADY_MPS2 = 1e-9
READING_S = 0.1  # turns are looked for ten times a second


def rule(order: int = ORDER) -> tuple[np.ndarray, np.ndarray]:
    """Points and weights of Gauss quadrature on 0 to 1."""
    points, weights = np.polynomial.legendre.leggauss(order)
    return 0.5 * (points + 1.0), 0.5 * weights


@njit(cache=True)
def motion(p, u, a, k, s):
    """(speed, its growth) s seconds into a segment."""
    fade = math.exp(-k * s)
    along = u + a * (s if k == 0.0 else -math.expm1(-k * s) / k)
    v = math.sqrt(p * p + along * along)
    return v, (0.0 if v < STILL_MPS else fade * a * along / v)


@njit(cache=True)
def piece(p, u, a, k, start, stop, walking, points, weights):
    """J/kg from start to stop, all of it walked or all of it run."""
    total = 0.0
    for i in range(points.shape[0]):
        v, growth = motion(p, u, a, k, start + (stop - start) * points[i])
        total += weights[i] * (power_walking(v, growth) if walking else power_running(v, growth))
    return total * (stop - start)


@njit(cache=True)
def stretch_energy(p, u, a, k, start, stop, points, weights):
    """J/kg from start to stop of a segment whose speed only grows or only falls between them."""
    slowest = min(motion(p, u, a, k, start)[0], motion(p, u, a, k, stop)[0])
    if slowest > RUN_ABOVE_MPS:
        return piece(p, u, a, k, start, stop, False, points, weights)
    total = 0.0
    begin = start
    step = (stop - start) / LOOKS
    last = start + 0.5 * step
    v, growth = motion(p, u, a, k, last)
    walking = walks(v, growth)
    for i in range(1, LOOKS):
        now = start + (i + 0.5) * step
        v, growth = motion(p, u, a, k, now)
        if walks(v, growth) != walking:
            low, high = last, now
            for _ in range(HALVINGS):
                middle = 0.5 * (low + high)
                v, growth = motion(p, u, a, k, middle)
                if walks(v, growth) == walking:
                    low = middle
                else:
                    high = middle
            total += piece(p, u, a, k, begin, high, walking, points, weights)
            begin, walking = high, not walking
        last = now
    return total + piece(p, u, a, k, begin, stop, walking, points, weights)


@njit(cache=True)
def segment_energy(vx, vy, ax, ay, k, d, points, weights):
    """J/kg, above standing still, of one segment of d seconds."""
    a = math.hypot(ax, ay)
    if a < STEADY_MPS2:
        return metabolic_power(math.hypot(vx, vy), 0.0) * d
    p, u = abs(vx * ay - vy * ax) / a, (vx * ax + vy * ay) / a
    turn = d
    if u < 0.0:  # slowest where nothing is left along the acceleration
        gone = -u / a
        if k == 0.0:
            turn = min(gone, d)
        elif k * gone < 1.0:
            turn = min(-math.log1p(-k * gone) / k, d)
    if u >= 0.0 or turn >= d:
        return stretch_energy(p, u, a, k, 0.0, d, points, weights)
    before = stretch_energy(p, u, a, k, 0.0, turn, points, weights)
    return before + stretch_energy(p, u, a, k, turn, d, points, weights)


@njit(cache=True, makes_arrays=True)
def energies(rows, points, weights):
    """J/kg of every row."""
    out = np.zeros(rows.shape[0])
    for i in range(rows.shape[0]):
        d = rows[i, 2] - rows[i, 1]
        if d > 0.0:
            out[i] = segment_energy(rows[i, 5], rows[i, 6], rows[i, 7], rows[i, 8], rows[i, 9], d, points, weights)
    return out


@njit(cache=True, makes_arrays=True)
def readings(rows, first, behind, count):
    """(vx, vy, role) of one player, rows first to behind in order of time, in the middle of every tenth of a second.

    Where no row is, he stands (role -1).
    """
    vx, vy = np.zeros(count), np.zeros(count)
    roles = np.full(count, -1)
    i = first
    for n in range(count):
        t = (n + 0.5) * READING_S
        while i < behind - 1 and rows[i + 1, 1] <= t:
            i += 1
        if rows[i, 1] <= t <= rows[i, 2]:
            s, k = t - rows[i, 1], rows[i, 9]
            g = s if k == 0.0 else -math.expm1(-k * s) / k
            vx[n], vy[n] = rows[i, 5] + rows[i, 7] * g, rows[i, 6] + rows[i, 8] * g
            roles[n] = int(rows[i, 10])
    return vx, vy, roles


@njit(cache=True, makes_arrays=True)
def count_turns(rows, cosine, lag, least, out):
    """Fill `out[player, role]`: turns, each in the role in which it begins; rows in order of player, then time."""
    first = 0
    while first < rows.shape[0]:
        player = int(rows[first, 0])
        behind = first
        while behind < rows.shape[0] and int(rows[behind, 0]) == player:
            behind += 1
        count = int(rows[behind - 1, 2] / READING_S + 1e-6)
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


def turns(rows: np.ndarray, players: int, roles: int, degrees: float, seconds: float, mps: float) -> np.ndarray:
    """Turns by player and role; the time is rounded to tenths of a second."""
    out = np.zeros((players, roles))
    cosine = 0.0 if degrees == 90.0 else math.cos(math.radians(degrees))
    count_turns(rows, cosine, max(1, round(seconds / READING_S)), mps, out)
    return out
