"""Who gets to a moving ball first, whether he controls it, and tackles on the carrier (compiled).

After every kick each player goes on with what he was doing for his reaction time and then either races for the ball or
moves as `sim.pitch.offball` says.  Races are decided on the very runs that are executed: the earliest time at which a flat-out
run through a point of the ball's path is within reach of it.
"""

from __future__ import annotations

import math

import numpy as np

from sim.ball import mean_pass_speed, roll_time, rolled
from sim.compiled import njit, square
from sim.motion import MOST_SEGMENTS, TOTAL_ACCELERATION, WIDTH, plan_run, reach_time, state_at
from sim.pitch.assumptions import (
    ANTICIPATION,
    ANTICIPATION_ONE_TOUCH,
    ARRIVAL_NOISE,
    BLOCK_RADIUS,
    COMPETE,
    EDGE_SLACK,
    EFFORT,
    INTERCEPT_REACH,
    MEETING,
    MISCONTROL_PRESSED,
    MISCONTROL_STRETCH,
    READ_TIME,
    RECEIVER_REACH,
    STRETCH_FREE,
    TACKLE_RATE,
    TACKLE_REACH,
    WALK,
)
from sim.pitch.border import on_ground
from sim.pitch.columns import (
    BRAKE,
    BUSY,
    BX,
    BY,
    DECEL,
    DUTY,
    DX,
    DY,
    EDGE,
    FIRST_TOUCH,
    FREE,
    KICKED,
    LIMIT,
    MEANT,
    NSEG,
    PACE,
    PASSER,
    PRESS,
    RACE,
    REACT,
    REACT_SD,
    SHARE,
    STRETCH,
    STYLE,
    TAU,
    TX,
    TY,
    V0,
    VMAX,
    WAIT,
    ZX0,
    ZX1,
    ZY0,
    ZY1,
)
from sim.pitch.defending import keenness
from sim.pitch.ground import FAR, with_ball
from sim.pitch.moves import FLAT_OUT, draw_lognormal, draw_normal, go, record, where
from sim.pitch.offball import think, think_again
from sim.pitch.onball import leaving_distance, pressure
from sim.streams import exponential, stream_index

REACTION = stream_index("reaction")
INTERCEPT = stream_index("intercept")
TACKLE = stream_index("tackle")
LEAST_REACTION = 0.05
READY_M = 0.3  # this close to where the ball is meant to come a receiver waits for it
MEET_SLACK_M = 1e-3  # rounding allowed between the race and the run
STEP = 0.08
LEAP = 1.5  # a ball is looked at again before it has rolled this many times the reach
BODY_STEP = 0.1
STILL_WAIT = 6.0  # s, how long a ball that has stopped is worth chasing in one decision


@njit(cache=True)
def ball_point(B, t):
    """(x, y, speed) of the rolling ball at watch time t."""
    far, speed = rolled(B[V0], B[DECEL], max(0.0, t - B[KICKED]))
    return B[BX] + far * B[DX], B[BY] + far * B[DY], speed


@njit(cache=True)
def may_play_at(P, B, C, j, x, y):
    """Whether player j may play the ball at (x, y): free players anywhere in play, the others in (and just behind) their zone."""
    if P[j, STYLE] == FREE:
        return on_ground(B, x, y, 0.5)
    slack = C[EDGE_SLACK]
    return P[j, ZX0] - slack <= x <= P[j, ZX1] + slack and P[j, ZY0] - slack <= y <= P[j, ZY1] + slack


@njit(cache=True)
def misses_by(P, M, B, j, x, y, vx, vy, t, start, reach):
    """Seconds by which player j, off flat out at `start` in the given state, would be late at the ball's point of time t."""
    bx, by, _ = ball_point(B, t)
    return start + reach_time(x, y, vx, vy, bx, by, reach, P[j, VMAX], 1.0 / P[j, TAU], P[j, BRAKE]) - t


@njit(cache=True)
def run_meets(P, B, j, x, y, vx, vy, t, start, reach, plan):
    """Whether a run of player j, off flat out at `start` in the given state, through or to the ball's point of time t, has him
    within reach of it at t.  `plan` is room for such a run."""
    bx, by, _ = ball_point(B, t)
    vmax, k, brake = P[j, VMAX], 1.0 / P[j, TAU], P[j, BRAKE]
    for through in (True, False):
        n = plan_run(plan, start, x, y, vx, vy, bx, by, FLAT_OUT * vmax, vmax, k, brake, through)
        px, py, _, _ = state_at(plan, n, t)
        if square(px - bx) + square(py - by) <= square(reach + MEET_SLACK_M):
            return True
    return False


@njit(cache=True, makes_arrays=True)
def first_reach(P, M, B, C, j, start, end, reach):
    """Earliest time in [start, end] at which a run of player j meets the ball (FAR if none does)."""
    n = int(P[j, NSEG])
    x, y, vx, vy = state_at(M[j], n, start)
    vmax = P[j, VMAX]
    plan = np.empty((MOST_SEGMENTS + 1, WIDTH))
    t = start
    before = start
    late = True
    while t <= end:
        bx, by, speed = ball_point(B, t)
        if may_play_at(P, B, C, j, bx, by):
            s = t - start
            apart, drift = square(bx - x) + square(by - y), square(bx - x - vx * s) + square(by - y - vy * s)
            if apart <= square(vmax * s + reach) and drift <= square(0.5 * TOTAL_ACCELERATION * s * s + reach):
                in_time = misses_by(P, M, B, j, x, y, vx, vy, t, start, reach) <= 0.0
                if in_time and late and before < t:
                    low, high = before, t
                    for _ in range(12):
                        mid = 0.5 * (low + high)
                        if misses_by(P, M, B, j, x, y, vx, vy, mid, start, reach) <= 0.0:
                            high = mid
                        else:
                            low = mid
                    if run_meets(P, B, j, x, y, vx, vy, high, start, reach, plan):
                        return high
                if in_time and run_meets(P, B, j, x, y, vx, vy, t, start, reach, plan):
                    return t
                late = not in_time
        before = t
        t += min(STEP, LEAP * reach / speed) if speed > 0.3 else 4.0 * STEP
    return FAR


@njit(cache=True)
def body_in_the_way(P, M, B, j, start, end, radius):
    """Earliest time in [start, end] at which the ball passes within `radius` of player j's own path (FAR if never)."""
    t = start
    while t < end:
        x, y, vx, vy = where(P, M, j, t)
        bx, by, speed = ball_point(B, t)
        rx, ry, ux, uy = bx - x, by - y, speed * B[DX] - vx, speed * B[DY] - vy
        s = min(
            max(-(rx * ux + ry * uy) / (ux * ux + uy * uy + 1e-9), 0.0), min(BODY_STEP, end - t)
        )  # closest in this step
        if square(rx + s * ux) + square(ry + s * uy) <= radius * radius:
            return t + s
        t += BODY_STEP
    return FAR


@njit(cache=True)
def passes_closest(P, M, B, j, start, end):
    """Time at which the ball comes closest to where player j stands at `start`."""
    x, y, _, _ = where(P, M, j, start)
    along = (x - B[BX]) * B[DX] + (y - B[BY]) * B[DY]
    return min(max(B[KICKED] + roll_time(B[V0], B[DECEL], along), start), end)


@njit(cache=True)
def meets(P, M, B, j, t, reach):
    """Whether player j's run, as planned, has him within `reach` of the rolling ball at time t."""
    x, y, _, _ = where(P, M, j, t)
    bx, by, _ = ball_point(B, t)
    return square(bx - x) + square(by - y) <= square(reach + MEET_SLACK_M)


@njit(cache=True)
def run_onto(P, M, B, C, G, count, j, now, start, t, reach):
    """Player j runs so as to have the ball within `reach` at time t; returns whether he will.

    So as to meet it on the move when there is time, else flat out through the point, else flat out to the point.
    """
    P[j, DUTY] = RACE
    bx, by, _ = ball_point(B, t)
    x, y, vx, vy = where(P, M, j, start)
    gap = math.sqrt(square(bx - x) + square(by - y))
    if gap < 0.25 and vx * vx + vy * vy < 0.25:
        return meets(P, M, B, j, t, reach)
    need = reach_time(x, y, vx, vy, bx, by, 0.0, P[j, VMAX], 1.0 / P[j, TAU], P[j, BRAKE])
    left = t - start
    if need <= 0.8 * left:
        go(P, M, C, G, count, j, now, start, bx, by, max(C[WALK], C[MEETING] * gap / left), C[EFFORT], True)
        if meets(P, M, B, j, t, reach):
            return True
        go(P, M, C, G, count, j, now, start, bx, by, max(C[WALK], 1.8 * gap / left), C[EFFORT], False)
        if meets(P, M, B, j, t, reach):
            return True
    go(P, M, C, G, count, j, now, start, bx, by, FAR, 1.0, True)
    if meets(P, M, B, j, t, reach):
        return True
    go(P, M, C, G, count, j, now, start, bx, by, FAR, 1.0, False)
    return meets(P, M, B, j, t, reach)


@njit(cache=True)
def expect(P, M, B, C, G, count, j, now):
    """The meant receiver, in view of the passer, sets off for where the pass is meant to meet him as it is struck.

    What the kick makes of it he has to see first: that takes his reaction and reading time (`pursue`).
    """
    gap = math.sqrt(square(B[TX] - B[BX]) + square(B[TY] - B[BY]))
    left = gap / (B[PACE] * mean_pass_speed(gap))
    start = max(now, P[j, BUSY])
    x, y, _, _ = where(P, M, j, start)
    far = math.sqrt(square(B[TX] - x) + square(B[TY] - y))
    if far > READY_M:
        go(P, M, C, G, count, j, now, start, B[TX], B[TY], max(C[WALK], C[MEETING] * far / left), 1.0, True)


@njit(cache=True)
def pursue(P, M, B, C, K, N, G, count, now, fresh, barred, out):
    """Everybody answers a ball that has just been set rolling (or was missed) at `now`; who touches it first?

    fresh   True for a kick: reactions are drawn anew and the obvious pass is anticipated
    barred  bit set of players who may not touch it now
    out     0 first to touch (-1: nobody), 1 when, 2 when the ball crosses the line (FAR if it stays in), 3-4 where
    """
    n = P.shape[0]
    stops = B[KICKED] + B[V0] / B[DECEL]
    leaves = B[KICKED] + roll_time(B[V0], B[DECEL], leaving_distance(B))
    end = min(leaves, stops + STILL_WAIT)
    meant = int(B[MEANT])
    starts = out[16:]
    own_best, their_best = FAR, FAR
    own_who = -1
    if fresh and meant >= 0 and not (barred >> meant) & 1:
        expect(P, M, B, C, G, count, meant, now)
    for j in range(n):
        record(P, M, C, G, count, j, now)  # races are decided with the legs that will run them
        starts[j] = now
        if fresh:
            reaction = draw_lognormal(K, N, j, REACTION, P[j, REACT], P[j, REACT_SD])
            if not with_ball(P, B, j):
                reaction -= C[ANTICIPATION] * max(0.0, B[SHARE] - 0.25)
                passer = int(B[PASSER])
                if passer >= 0 and P[passer, LIMIT] == 1.0:
                    reaction -= C[ANTICIPATION_ONE_TOUCH]
            else:
                reaction += C[READ_TIME]
            starts[j] = now + max(reaction, LEAST_REACTION)
        starts[j] = max(starts[j], P[j, BUSY])
    receiver_time = FAR
    if meant >= 0 and not (barred >> meant) & 1:
        receiver_time = min(
            body_in_the_way(P, M, B, meant, now, min(starts[meant], end), C[RECEIVER_REACH]),
            first_reach(P, M, B, C, meant, starts[meant], end, C[RECEIVER_REACH]),
        )
    own_best, own_who = receiver_time, meant if receiver_time < FAR else -1
    who, when, best = -1, FAR, FAR
    for j in range(n):
        if (barred >> j) & 1 or with_ball(P, B, j) or P[j, STYLE] == WAIT or P[j, STYLE] == EDGE:
            continue
        blocked = body_in_the_way(P, M, B, j, max(now, P[j, BUSY]), min(starts[j], end), C[BLOCK_RADIUS])
        t = min(blocked, first_reach(P, M, B, C, j, starts[j], end, C[INTERCEPT_REACH]))
        if t < FAR:
            judged = t + C[ARRIVAL_NOISE] * draw_normal(K, N, j, INTERCEPT)
            judged = min(max(judged, now + 0.02), end)
            their_best = min(their_best, judged)
            if judged < receiver_time + C[COMPETE]:
                run_onto(P, M, B, C, G, count, j, now, starts[j], t, C[INTERCEPT_REACH])
                starts[j] = -starts[j] - 1.0
            if judged < best:
                who, when, best = j, t, judged
    if receiver_time < FAR:
        first = receiver_time
        easy = passes_closest(P, M, B, meant, min(starts[meant], receiver_time), end)
        if easy > receiver_time and easy + 0.2 < their_best:
            receiver_time = easy
        elif easy > receiver_time:
            receiver_time = max(receiver_time, min(easy, their_best - 0.15))
        if not run_onto(P, M, B, C, G, count, meant, now, starts[meant], receiver_time, C[RECEIVER_REACH]):
            receiver_time = first
            run_onto(P, M, B, C, G, count, meant, now, starts[meant], receiver_time, C[RECEIVER_REACH])
        starts[meant] = -starts[meant] - 1.0
        own_best = receiver_time
    if receiver_time == FAR:
        for j in range(n):
            if j == meant or (barred >> j) & 1 or not with_ball(P, B, j) or P[j, STYLE] == WAIT:
                continue
            t = first_reach(P, M, B, C, j, starts[j], end, C[RECEIVER_REACH])
            if t < own_best:
                own_best, own_who = t, j
        if own_who >= 0:
            run_onto(P, M, B, C, G, count, own_who, now, starts[own_who], own_best, C[RECEIVER_REACH])
            starts[own_who] = -starts[own_who] - 1.0
    if own_best <= best:
        who, when = own_who, own_best
    for j in range(n):
        if starts[j] >= 0.0:
            think(P, M, B, C, K, N, G, count, j, now, max(starts[j], now))
            think_again(P, C, K, N, j, max(starts[j], now))
    if who < 0 and leaves >= FAR:
        for j in range(n):
            if P[j, STYLE] == WAIT:
                continue
            bx, by, _ = ball_point(B, stops)
            x, y, _, _ = where(P, M, j, now)
            t = stops + STILL_WAIT + math.sqrt(square(bx - x) + square(by - y))
            if t < when and not (barred >> j) & 1:
                who, when = j, t
        if who >= 0:
            bx, by, _ = ball_point(B, stops)
            P[who, DUTY] = RACE
            go(P, M, C, G, count, who, now, now, bx, by, FAR, C[EFFORT], False)
    out[0], out[1], out[2] = who, when, leaves
    if who >= 0:
        bx, by, _ = ball_point(B, when)
        out[3], out[4] = bx, by


@njit(cache=True)
def miscontrol_chance(P, M, B, C, j, t):
    """Chance that player j's first touch at time t fails: his own base, more when pressed or stretched; sets his STRETCH."""
    x, y, _, _ = where(P, M, j, t)
    bx, by, _ = ball_point(B, t)
    P[j, STRETCH] = min(1.0, math.sqrt(square(bx - x) + square(by - y)) / C[RECEIVER_REACH])
    pressed = pressure(P, M, B, j, x, y, t)
    return (
        P[j, FIRST_TOUCH]
        + C[MISCONTROL_PRESSED] * pressed
        + C[MISCONTROL_STRETCH]
        * max(0.0, P[j, STRETCH] - 0.5)
        * 2.0
        * (C[STRETCH_FREE] + (1.0 - C[STRETCH_FREE]) * pressed)
    )


@njit(cache=True)
def next_tackle(P, M, B, C, K, N, c, now, end, out):
    """First attempt at a tackle on carrier c in [now, end): out 0 who (-1: nobody), 1 when.

    Attempts come at a constant rate, the higher the keener he is on the ball, while he is within reach on the runs now under way.
    """
    out[0], out[1] = -1.0, end
    for j in range(P.shape[0]):
        if with_ball(P, B, j) or P[j, DUTY] != PRESS:
            continue
        x, y, _, _ = where(P, M, j, now)
        cx, cy, _, _ = where(P, M, c, now)
        if square(x - cx) + square(y - cy) > square(C[TACKLE_REACH] + 8.0 * (end - now)):
            continue
        need = exponential(K[j, TACKLE], N[j, TACKLE]) / (C[TACKLE_RATE] * (0.5 + keenness(P, B, C, j, now)))
        N[j, TACKLE] += 1
        t = max(now, P[j, BUSY])
        while t < out[1]:
            x, y, _, _ = where(P, M, j, t)
            cx, cy, _, _ = where(P, M, c, t)
            if square(x - cx) + square(y - cy) <= square(C[TACKLE_REACH]):
                need -= 0.05
                if need <= 0.0:
                    t = max(now, min(t + 0.05 + need, out[1]))
                    if t < out[1]:
                        out[0], out[1] = j, t
                    break
            t += 0.05
