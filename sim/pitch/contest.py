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
from sim.motion import MOST_SEGMENTS, SEGMENT, TOTAL_ACCELERATION, plan_run, reach_time, state_at
from sim.pitch.arrays import EDGE, FREE, PRESS, RACE, WAIT
from sim.pitch.border import on_ground
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
def ball_point(ball, t):
    """(x, y, speed) of the rolling ball at watch time t."""
    far, speed = rolled(ball.launch_speed, ball.deceleration, max(0.0, t - ball.kicked_at))
    return ball.x + far * ball.dx, ball.y + far * ball.dy, speed


@njit(cache=True)
def may_play_at(pitch, j, x, y):
    """Whether player j may play the ball at (x, y): free players anywhere in play, the others in (and just behind) their zone."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    if players[j].style == FREE:
        return on_ground(play, x, y, 0.5)
    slack = constants.edge_slack
    return (
        players[j].west - slack <= x <= players[j].east + slack
        and players[j].south - slack <= y <= players[j].north + slack
    )


@njit(cache=True)
def misses_by(pitch, j, x, y, vx, vy, t, start, reach):
    """Seconds by which player j, off flat out at `start` in the given state, would be late at the ball's point of time t."""
    players, ball = pitch.players, pitch.ball
    bx, by, _ = ball_point(ball, t)
    return (
        start
        + reach_time(
            x, y, vx, vy, bx, by, reach, players[j].top_speed, 1.0 / players[j].time_constant, players[j].braking
        )
        - t
    )


@njit(cache=True)
def run_meets(pitch, j, x, y, vx, vy, t, start, reach, plan):
    """Whether a run of player j, off flat out at `start` in the given state, through or to the ball's point of time t, has him
    within reach of it at t.  `plan` is room for such a run."""
    players, ball = pitch.players, pitch.ball
    bx, by, _ = ball_point(ball, t)
    vmax, k, brake = players[j].top_speed, 1.0 / players[j].time_constant, players[j].braking
    for through in (True, False):
        n = plan_run(plan, start, x, y, vx, vy, bx, by, FLAT_OUT * vmax, vmax, k, brake, through)
        px, py, _, _ = state_at(plan, n, t)
        if square(px - bx) + square(py - by) <= square(reach + MEET_SLACK_M):
            return True
    return False


@njit(cache=True, makes_arrays=True)
def first_reach(pitch, j, start, end, reach):
    """Earliest time in [start, end] at which a run of player j meets the ball (FAR if none does)."""
    players, ball = pitch.players, pitch.ball
    n = players[j].plan_length
    x, y, vx, vy = state_at(players[j].plan, n, start)
    vmax = players[j].top_speed
    plan = np.empty(MOST_SEGMENTS + 1, SEGMENT)
    t = start
    before = start
    late = True
    while t <= end:
        bx, by, speed = ball_point(ball, t)
        if may_play_at(pitch, j, bx, by):
            s = t - start
            apart, drift = square(bx - x) + square(by - y), square(bx - x - vx * s) + square(by - y - vy * s)
            if apart <= square(vmax * s + reach) and drift <= square(0.5 * TOTAL_ACCELERATION * s * s + reach):
                in_time = misses_by(pitch, j, x, y, vx, vy, t, start, reach) <= 0.0
                if in_time and late and before < t:
                    low, high = before, t
                    for _ in range(12):
                        mid = 0.5 * (low + high)
                        if misses_by(pitch, j, x, y, vx, vy, mid, start, reach) <= 0.0:
                            high = mid
                        else:
                            low = mid
                    if run_meets(pitch, j, x, y, vx, vy, high, start, reach, plan):
                        return high
                if in_time and run_meets(pitch, j, x, y, vx, vy, t, start, reach, plan):
                    return t
                late = not in_time
        before = t
        t += min(STEP, LEAP * reach / speed) if speed > 0.3 else 4.0 * STEP
    return FAR


@njit(cache=True)
def body_in_the_way(pitch, j, start, end, radius):
    """Earliest time in [start, end] at which the ball passes within `radius` of player j's own path (FAR if never)."""
    players, ball = pitch.players, pitch.ball
    t = start
    while t < end:
        x, y, vx, vy = where(players, j, t)
        bx, by, speed = ball_point(ball, t)
        rx, ry, ux, uy = bx - x, by - y, speed * ball.dx - vx, speed * ball.dy - vy
        s = min(
            max(-(rx * ux + ry * uy) / (ux * ux + uy * uy + 1e-9), 0.0), min(BODY_STEP, end - t)
        )  # closest in this step
        if square(rx + s * ux) + square(ry + s * uy) <= radius * radius:
            return t + s
        t += BODY_STEP
    return FAR


@njit(cache=True)
def passes_closest(pitch, j, start, end):
    """Time at which the ball comes closest to where player j stands at `start`."""
    players, ball = pitch.players, pitch.ball
    x, y, _, _ = where(players, j, start)
    along = (x - ball.x) * ball.dx + (y - ball.y) * ball.dy
    return min(max(ball.kicked_at + roll_time(ball.launch_speed, ball.deceleration, along), start), end)


@njit(cache=True)
def meets(pitch, j, t, reach):
    """Whether player j's run, as planned, has him within `reach` of the rolling ball at time t."""
    players, ball = pitch.players, pitch.ball
    x, y, _, _ = where(players, j, t)
    bx, by, _ = ball_point(ball, t)
    return square(bx - x) + square(by - y) <= square(reach + MEET_SLACK_M)


@njit(cache=True)
def run_onto(pitch, j, now, start, t, reach):
    """Player j runs so as to have the ball within `reach` at time t; returns whether he will.

    So as to meet it on the move when there is time, else flat out through the point, else flat out to the point.
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    players[j].duty = RACE
    bx, by, _ = ball_point(ball, t)
    x, y, vx, vy = where(players, j, start)
    gap = math.sqrt(square(bx - x) + square(by - y))
    if gap < 0.25 and vx * vx + vy * vy < 0.25:
        return meets(pitch, j, t, reach)
    need = reach_time(
        x, y, vx, vy, bx, by, 0.0, players[j].top_speed, 1.0 / players[j].time_constant, players[j].braking
    )
    left = t - start
    if need <= 0.8 * left:
        go(pitch, j, now, start, bx, by, max(constants.walk, constants.meeting * gap / left), constants.effort, True)
        if meets(pitch, j, t, reach):
            return True
        go(pitch, j, now, start, bx, by, max(constants.walk, 1.8 * gap / left), constants.effort, False)
        if meets(pitch, j, t, reach):
            return True
    go(pitch, j, now, start, bx, by, FAR, 1.0, True)
    if meets(pitch, j, t, reach):
        return True
    go(pitch, j, now, start, bx, by, FAR, 1.0, False)
    return meets(pitch, j, t, reach)


@njit(cache=True)
def expect(pitch, j, now):
    """The meant receiver, in view of the passer, sets off for where the pass is meant to meet him as it is struck.

    What the kick makes of it he has to see first: that takes his reaction and reading time (`pursue`).
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    gap = math.sqrt(square(ball.target_x - ball.x) + square(ball.target_y - ball.y))
    left = gap / (ball.pace * mean_pass_speed(gap))
    start = max(now, players[j].busy_until)
    x, y, _, _ = where(players, j, start)
    far = math.sqrt(square(ball.target_x - x) + square(ball.target_y - y))
    if far > READY_M:
        go(
            pitch,
            j,
            now,
            start,
            ball.target_x,
            ball.target_y,
            max(constants.walk, constants.meeting * far / left),
            1.0,
            True,
        )


@njit(cache=True)
def pursue(pitch, now, fresh, barred, out):
    """Everybody answers a ball that has just been set rolling (or was missed) at `now`; who touches it first?

    fresh   True for a kick: reactions are drawn anew and the obvious pass is anticipated
    barred  bit set of players who may not touch it now
    out     0 first to touch (-1: nobody), 1 when, 2 when the ball crosses the line (FAR if it stays in), 3-4 where
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    n = len(players)
    stops = ball.kicked_at + ball.launch_speed / ball.deceleration
    leaves = ball.kicked_at + roll_time(ball.launch_speed, ball.deceleration, leaving_distance(pitch))
    end = min(leaves, stops + STILL_WAIT)
    meant = ball.meant_for
    starts = out[16:]
    own_best, their_best = FAR, FAR
    own_who = -1
    if fresh and meant >= 0 and not (barred >> meant) & 1:
        expect(pitch, meant, now)
    for j in range(n):
        record(pitch, j, now)  # races are decided with the legs that will run them
        starts[j] = now
        if fresh:
            reaction = draw_lognormal(players, j, REACTION, players[j].reaction, players[j].reaction_sd)
            if not with_ball(pitch, j):
                reaction -= constants.anticipation * max(0.0, ball.obviousness - 0.25)
                passer = ball.passer
                if passer >= 0 and players[passer].touch_limit == 1:
                    reaction -= constants.anticipation_one_touch
            else:
                reaction += constants.read_time
            starts[j] = now + max(reaction, LEAST_REACTION)
        starts[j] = max(starts[j], players[j].busy_until)
    receiver_time = FAR
    if meant >= 0 and not (barred >> meant) & 1:
        receiver_time = min(
            body_in_the_way(pitch, meant, now, min(starts[meant], end), constants.receiver_reach),
            first_reach(pitch, meant, starts[meant], end, constants.receiver_reach),
        )
    own_best, own_who = receiver_time, meant if receiver_time < FAR else -1
    who, when, best = -1, FAR, FAR
    for j in range(n):
        if (barred >> j) & 1 or with_ball(pitch, j) or players[j].style == WAIT or players[j].style == EDGE:
            continue
        blocked = body_in_the_way(
            pitch, j, max(now, players[j].busy_until), min(starts[j], end), constants.block_radius
        )
        t = min(blocked, first_reach(pitch, j, starts[j], end, constants.intercept_reach))
        if t < FAR:
            judged = t + constants.arrival_noise * draw_normal(players, j, INTERCEPT)
            judged = min(max(judged, now + 0.02), end)
            their_best = min(their_best, judged)
            if judged < receiver_time + constants.compete:
                run_onto(pitch, j, now, starts[j], t, constants.intercept_reach)
                starts[j] = -starts[j] - 1.0
            if judged < best:
                who, when, best = j, t, judged
    if receiver_time < FAR:
        first = receiver_time
        easy = passes_closest(pitch, meant, min(starts[meant], receiver_time), end)
        if easy > receiver_time and easy + 0.2 < their_best:
            receiver_time = easy
        elif easy > receiver_time:
            receiver_time = max(receiver_time, min(easy, their_best - 0.15))
        if not run_onto(pitch, meant, now, starts[meant], receiver_time, constants.receiver_reach):
            receiver_time = first
            run_onto(pitch, meant, now, starts[meant], receiver_time, constants.receiver_reach)
        starts[meant] = -starts[meant] - 1.0
        own_best = receiver_time
    if receiver_time == FAR:
        for j in range(n):
            if j == meant or (barred >> j) & 1 or not with_ball(pitch, j) or players[j].style == WAIT:
                continue
            t = first_reach(pitch, j, starts[j], end, constants.receiver_reach)
            if t < own_best:
                own_best, own_who = t, j
        if own_who >= 0:
            run_onto(pitch, own_who, now, starts[own_who], own_best, constants.receiver_reach)
            starts[own_who] = -starts[own_who] - 1.0
    if own_best <= best:
        who, when = own_who, own_best
    for j in range(n):
        if starts[j] >= 0.0:
            think(pitch, j, now, max(starts[j], now))
            think_again(pitch, j, max(starts[j], now))
    if who < 0 and leaves >= FAR:
        for j in range(n):
            if players[j].style == WAIT:
                continue
            bx, by, _ = ball_point(ball, stops)
            x, y, _, _ = where(players, j, now)
            t = stops + STILL_WAIT + math.sqrt(square(bx - x) + square(by - y))
            if t < when and not (barred >> j) & 1:
                who, when = j, t
        if who >= 0:
            bx, by, _ = ball_point(ball, stops)
            players[who].duty = RACE
            go(pitch, who, now, now, bx, by, FAR, constants.effort, False)
    out[0], out[1], out[2] = who, when, leaves
    if who >= 0:
        bx, by, _ = ball_point(ball, when)
        out[3], out[4] = bx, by


@njit(cache=True)
def miscontrol_chance(pitch, j, t):
    """Chance that player j's first touch at time t fails: his own base, more when pressed or stretched; sets his STRETCH."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    x, y, _, _ = where(players, j, t)
    bx, by, _ = ball_point(ball, t)
    players[j].stretch = min(1.0, math.sqrt(square(bx - x) + square(by - y)) / constants.receiver_reach)
    pressed = pressure(pitch, j, x, y, t)
    return (
        players[j].first_touch_miss
        + constants.miscontrol_pressed * pressed
        + constants.miscontrol_stretch
        * max(0.0, players[j].stretch - 0.5)
        * 2.0
        * (constants.stretch_free + (1.0 - constants.stretch_free) * pressed)
    )


@njit(cache=True)
def next_tackle(pitch, c, now, end, out):
    """First attempt at a tackle on carrier c in [now, end): out 0 who (-1: nobody), 1 when.

    Attempts come at a constant rate, the higher the keener he is on the ball, while he is within reach on the runs now under way.
    """
    players, constants = pitch.players, pitch.constants
    out[0], out[1] = -1.0, end
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].duty != PRESS:
            continue
        x, y, _, _ = where(players, j, now)
        cx, cy, _, _ = where(players, c, now)
        if square(x - cx) + square(y - cy) > square(constants.tackle_reach + 8.0 * (end - now)):
            continue
        need = exponential(players[j].keys[TACKLE], players[j].draws[TACKLE]) / (
            constants.tackle_rate * (0.5 + keenness(pitch, j, now))
        )
        players[j].draws[TACKLE] += 1
        t = max(now, players[j].busy_until)
        while t < out[1]:
            x, y, _, _ = where(players, j, t)
            cx, cy, _, _ = where(players, c, t)
            if square(x - cx) + square(y - cy) <= square(constants.tackle_reach):
                need -= 0.05
                if need <= 0.0:
                    t = max(now, min(t + 0.05 + need, out[1]))
                    if t < out[1]:
                        out[0], out[1] = j, t
                    break
            t += 0.05
