"""Starting, changing and recording runs of the players of one bout (compiled, on the bout's arrays)."""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit
from sim.motion import (
    MOST_SEGMENTS,
    How,
    least_time,
    plan_run,
    plan_stand,
    put,
    put_stand,
    quick_time,
    state_at,
    state_on,
)
from sim.pitch.arrays import PLAN_MOST
from sim.pitch.fatigue import tire
from sim.pitch.numerics import distance
from sim.pitch.zones import ends_open, is_limited, open_place, runs_over
from sim.streams import key_of, lognormal, normal, uniform
from sim.trajectory import faded
from sim.turning import NEAR_M, Limits, State


@njit(cache=True)
def put_keys(players, i, seed, replicate, bout, word):
    """Write player i's keys, one a stream of random numbers; `word` stands for his id (`sim.streams.hash_id`)."""
    keys = players[i].keys
    for stream in range(len(keys)):
        keys[stream] = key_of(seed, replicate, bout, stream, word)


@njit(cache=True)
def draw(players, i, stream):
    """Next uniform of player i's stream."""
    value = uniform(players[i].keys[stream], players[i].draws[stream])
    players[i].draws[stream] += 1
    return value


@njit(cache=True)
def draw_normal(players, i, stream):
    """Next standard normal of player i's stream."""
    value = normal(players[i].keys[stream], players[i].draws[stream])
    players[i].draws[stream] += 1
    return value


@njit(cache=True)
def draw_lognormal(players, i, stream, mean, sd):
    """Next lognormal of player i's stream, by mean and standard deviation."""
    value = lognormal(players[i].keys[stream], players[i].draws[stream], mean, sd)
    players[i].draws[stream] += 1
    return value


@njit(cache=True)
def limits_of(player):
    """What a player can do flat out, as he is now."""
    return Limits(player.top_speed, 1.0 / player.time_constant, player.braking)


@njit(cache=True)
def stand(players, i, t, x, y):
    """Player i stands at (x, y) from time t on, and whatever he was doing is forgotten."""
    players[i].plan_length = plan_stand(players[i].plan, t, x, y)


@njit(cache=True)
def where(players, i, t):
    """(x, y, vx, vy) of player i at time t."""
    return state_at(players[i].plan, players[i].plan_length, t)


@njit(cache=True)
def record(pitch, i, now):
    """Append what player i has run up to `now` to the segments of the bout and forget the finished part of his plan."""
    players, play = pitch.players, pitch.play
    player = players[i]
    done = player.recorded_until
    kept = 0
    for r in range(player.plan_length):
        row = player.plan[r]
        start, stop = max(row.t0, done), min(row.t1, now)
        if stop > start:
            x, y, vx, vy = state_on(row, start)
            fade = faded(row.rate, start - row.t0)
            ax, ay = row.ax * fade, row.ay * fade
            run = pitch.segments[play.recorded]
            run.player, run.t0, run.t1, run.role = i, start, stop, player.role
            run.x, run.y, run.vx, run.vy, run.ax, run.ay, run.rate = x, y, vx, vy, ax, ay, row.rate
            play.recorded += 1
            tire(pitch, i, run)
        if row.t1 > now:
            if kept != r:
                player.plan[kept] = player.plan[r]
            kept += 1
    player.plan_length = kept
    player.recorded_until = max(done, now)


@njit(cache=True)
def plan_stop(plan, t, state, brake):
    """Brake to rest from a state at time t on, straight ahead, `brake` m/s2 hard; returns the count of segments."""
    x, y, vx, vy = state
    stop = math.sqrt(vx * vx + vy * vy) / brake
    if stop <= 0.0:
        return put_stand(plan, 0, t, x, y)
    n = put(plan, 0, t, stop, state, (-vx / stop, -vy / stop, 0.0))
    return put_stand(plan, n, t + stop, x + 0.5 * vx * stop, y + 0.5 * vy * stop)


class Course(NamedTuple):
    """Where a player runs, and how."""

    x: float  # m
    y: float
    cap: float  # m/s, not to be exceeded
    effort: float  # 0-1, share of his greatest push
    through: bool  # flat out through the point and beyond, rather than to rest on it (`sim.motion.plan_run`)


@njit(cache=True)
def gentle_stop(constants, speed, way):
    """How hard (m/s2) a player brakes at the end of an ordinary run of `way` metres at that speed: over the last share
    `brake_over` of it, so the harder, the faster and shorter it is."""
    return max(constants.brake_gentle, speed * speed / (2.0 * constants.brake_over * max(way, NEAR_M)))


@njit(cache=True)
def cut(player, kept, start):
    """What a player was doing, `kept` segments of it, is over at `start`."""
    if kept > 0 and player.plan[kept - 1].t1 > start:
        player.plan[kept - 1].t1 = start


@njit(cache=True)
def stop_short(pitch, i, kept, n, start, state):
    """Player i, who is in that state at time `start`, behind the `kept` segments of what he was doing (all `n` of it in `trial`),
    pulls up; where that takes him over a line that he may not cross and what he was doing does not, he does that."""
    player = pitch.players[i]
    player.plan_length = kept + plan_stop(player.plan[kept:], start, state, player.braking)
    if runs_over(pitch, i, start):
        for r in range(n):
            player.plan[r] = player.trial[r]
        player.plan_length = n
        if runs_over(pitch, i, start):
            cut(player, kept, start)
            player.plan_length = kept + plan_stop(player.plan[kept:], start, state, player.braking)


@njit(cache=True)
def go(pitch, i, now, start, course):
    """From time `start` (>= now) player i runs a course.

    What he was doing goes on until `start` (his reaction).  In ordinary runs, not when he goes flat out, he brakes gently
    and, tired, saves effort, the less the shorter the bout.  Before a line that he may not cross he brakes as hard as he can;
    where that is not enough he pulls up at once, and where he would be over it even so he goes on as he was.
    """
    px, py, cap, effort, through = course
    players, constants = pitch.players, pitch.constants
    record(pitch, i, now)
    n = players[i].plan_length
    kept = 0
    while kept < n and players[i].plan[kept].t0 < start:
        kept += 1
    if kept > PLAN_MOST - MOST_SEGMENTS:
        kept, start = 1, now
    x, y, vx, vy = state_at(players[i].plan, n, start)
    limited = is_limited(pitch, i)
    if limited:
        px, py = open_place(pitch, i, x, y, px, py, start)
        for r in range(n):
            players[i].trial[r] = players[i].plan[r]
    cut(players[i], kept, start)
    vmax = players[i].top_speed
    if effort < 1.0:
        needed = min(players[i].whistle_at / constants.plan_time, 1.0)
        effort *= 1.0 - constants.pacing * max(0.0, 1.0 - players[i].reserve / (needed * players[i].reserve_full))
    brake = players[i].braking * (constants.brake_least + (1.0 - constants.brake_least) * effort)
    limits = Limits(vmax, effort / players[i].time_constant, brake)
    cap = min(cap, constants.flat_out * vmax)
    stop = brake
    if effort < 1.0:
        stop = min(brake, gentle_stop(constants, max(cap, math.sqrt(vx * vx + vy * vy)), distance(x, y, px, py)))
    how = How(limits, cap, stop, through)
    players[i].plan_length = kept + plan_run(players[i].plan[kept:], start, State(x, y, vx, vy), px, py, how)
    if limited and ((through and not ends_open(pitch, i)) or runs_over(pitch, i, start)):
        hard = players[i].braking
        how = How(Limits(vmax, limits.rate, hard), cap, hard, False)
        players[i].plan_length = kept + plan_run(players[i].plan[kept:], start, State(x, y, vx, vy), px, py, how)
        if runs_over(pitch, i, start):
            stop_short(pitch, i, kept, n, start, State(x, y, vx, vy))


@njit(cache=True)
def quick(players, i, x, y, vx, vy, px, py, reach):
    """About how long player i needs from that state to get within reach of a point, flat out (a quick estimate)."""
    return quick_time(px - x, py - y, vx, vy, reach, limits_of(players[i]))


@njit(cache=True)
def quickest(players, i, x, y, vx, vy, px, py, reach):
    """A time that `quick` cannot be under, at a fraction of its cost."""
    return least_time(px - x, py - y, vx, vy, reach, limits_of(players[i]))


@njit(cache=True)
def clip(value, low, high):
    """The value, or the end of the range it lies beyond."""
    return min(max(value, low), high)
