"""Starting, changing and recording runs of the players of one bout (compiled, on the bout's arrays)."""

from __future__ import annotations

import math

from sim.compiled import njit
from sim.motion import AX, AY, MOST_SEGMENTS, RATE, T0, T1, WIDTH, least_time, plan_run, quick_time, state_at, state_on
from sim.pitch.assumptions import PACING, PLAN_TIME
from sim.pitch.columns import BRAKE, LOGGED, NSEG, RESERVE, RESERVE_FULL, ROLE, SPAN, TAU, VMAX, WHISTLE
from sim.pitch.tiring import tire
from sim.streams import lognormal, normal, uniform

FLAT_OUT = 0.98  # share of top speed at which a run holds its speed: the rest takes for ever


@njit(cache=True)
def draw(K, N, i, stream):
    """Next uniform of player i's stream."""
    value = uniform(K[i, stream], N[i, stream])
    N[i, stream] += 1
    return value


@njit(cache=True)
def draw_normal(K, N, i, stream):
    """Next standard normal of player i's stream."""
    value = normal(K[i, stream], N[i, stream])
    N[i, stream] += 1
    return value


@njit(cache=True)
def draw_lognormal(K, N, i, stream, mean, sd):
    """Next lognormal of player i's stream, by mean and standard deviation."""
    value = lognormal(K[i, stream], N[i, stream], mean, sd)
    N[i, stream] += 1
    return value


@njit(cache=True)
def where(P, M, i, t):
    """(x, y, vx, vy) of player i at time t."""
    return state_at(M[i], int(P[i, NSEG]), t)


@njit(cache=True)
def record(P, M, C, G, count, i, now):
    """Append what player i has run up to `now` to G (count[0] rows so far) and forget the finished part of his plan."""
    done = P[i, LOGGED]
    kept = 0
    for r in range(int(P[i, NSEG])):
        row = M[i, r]
        start, stop = max(row[T0], done), min(row[T1], now)
        if stop > start:
            x, y, vx, vy = state_on(row, start)
            fade = math.exp(-row[RATE] * (start - row[T0])) if row[RATE] > 0.0 else 1.0
            out = G[count[0]]
            out[0], out[1], out[2] = i, start, stop
            out[3], out[4], out[5], out[6] = x, y, vx, vy
            out[7], out[8], out[9], out[10] = row[AX] * fade, row[AY] * fade, row[RATE], P[i, ROLE]
            count[0] += 1
            tire(P, C, i, vx, vy, row[AX] * fade, row[AY] * fade, row[RATE], stop - start)
        if row[T1] > now:
            if kept != r:
                for c in range(WIDTH):
                    M[i, kept, c] = M[i, r, c]
            kept += 1
    P[i, NSEG] = kept
    P[i, LOGGED] = max(done, now)


@njit(cache=True)
def go(P, M, C, G, count, i, now, start, px, py, cap, effort, through):
    """From time `start` (>= now) player i runs to (px, py), no faster than `cap`, with a share `effort` of his greatest push.

    What he was doing goes on until `start` (his reaction); `through`: see `sim.motion.plan_run`.  A tired player saves effort in
    ordinary runs, the less the shorter the bout, not when he goes flat out.
    """
    record(P, M, C, G, count, i, now)
    n = int(P[i, NSEG])
    kept = 0
    while kept < n and M[i, kept, T0] < start:
        kept += 1
    if kept > SPAN - MOST_SEGMENTS:
        kept, start = 1, now
    x, y, vx, vy = state_at(M[i], n, start)
    if kept > 0 and M[i, kept - 1, T1] > start:
        M[i, kept - 1, T1] = start
    vmax = P[i, VMAX]
    if effort < 1.0:
        needed = min(P[i, WHISTLE] / C[PLAN_TIME], 1.0)
        effort *= 1.0 - C[PACING] * max(0.0, 1.0 - P[i, RESERVE] / (needed * P[i, RESERVE_FULL]))
    brake = P[i, BRAKE] * (0.4 + 0.6 * effort)
    P[i, NSEG] = kept + plan_run(
        M[i, kept:], start, x, y, vx, vy, px, py, min(cap, FLAT_OUT * vmax), vmax, effort / P[i, TAU], brake, through
    )


@njit(cache=True)
def quick(P, i, x, y, vx, vy, px, py, reach):
    """About how long player i needs from that state to get within reach of a point, flat out (a quick estimate)."""
    return quick_time(px - x, py - y, vx, vy, reach, P[i, VMAX], 1.0 / P[i, TAU], P[i, BRAKE])


@njit(cache=True)
def quickest(P, i, x, y, vx, vy, px, py, reach):
    """A time that `quick` cannot be under, at a fraction of its cost."""
    return least_time(px - x, py - y, vx, vy, reach, P[i, VMAX], 1.0 / P[i, TAU], P[i, BRAKE])


@njit(cache=True)
def clip(value, low, high):
    return min(max(value, low), high)
