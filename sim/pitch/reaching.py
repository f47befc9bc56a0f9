"""When a player could have a moving ball, on the very run he would make for it (compiled).

The ball's path is followed in steps; the moment from which on somebody is in time is halved down to.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.ball import Launch, stops_after, time_to, travelled
from sim.compiled import njit, square
from sim.motion import How, plan_run, reach_time, state_at
from sim.pitch.arrays import FREE, GOAL
from sim.pitch.border import within_lines
from sim.pitch.moves import limits_of, where
from sim.pitch.numerics import FAR, SMALL
from sim.pitch.zones import is_limited, may_be
from sim.trajectory import sprint
from sim.turning import TOTAL_ACCELERATION, State

MEET_SLACK_M = 1e-3  # rounding allowed between the race and the run
# How closely a race is looked at: the ball's path is followed in steps, and the moment somebody is in time is halved down to.
STEP = 0.08  # s
LEAP = 1.5  # a ball is looked at again before it has rolled this many times the reach
SLOW_MPS, SLOW_STEPS = 0.3, 4.0  # a ball slower than this is looked at less often, by so many steps
BODY_STEP = 0.1  # s
HALVINGS = 12


@njit(cache=True)
def launch_of(ball):
    """How the rolling ball was set going."""
    return Launch(ball.launch_speed, ball.slide, ball.slides_for, ball.roll)


@njit(cache=True)
def ball_stops(ball):
    """Watch time at which the rolling ball comes to rest."""
    return ball.kicked_at + stops_after(launch_of(ball))


@njit(cache=True)
def ball_gets(ball, distance):
    """Watch time at which the rolling ball is `distance` metres from where it was kicked (FAR or more: it stops short)."""
    return ball.kicked_at + time_to(launch_of(ball), distance)


@njit(cache=True)
def ball_point(ball, t):
    """(x, y, speed) of the rolling ball at watch time t."""
    far, speed = travelled(launch_of(ball), max(0.0, t - ball.kicked_at))
    return ball.x + far * ball.dx, ball.y + far * ball.dy, speed


@njit(cache=True)
def may_play_at(pitch, j, x, y):
    """Whether player j may play the ball at (x, y): free players anywhere within the lines, a player on the lines also in the
    run-off behind his, a keeper in his box and just outside."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    if players[j].style == FREE:
        return within_lines(play, x, y, constants.over_the_line) and may_be(pitch, j, x, y)
    slack = constants.out_of_box if players[j].style == GOAL else players[j].run_off
    return (
        players[j].west - slack <= x <= players[j].east + slack
        and players[j].south - slack <= y <= players[j].north + slack
    )


class Runner(NamedTuple):
    """A player who might set off for the ball flat out: from when (s), where and how fast he then is, how near he must get (m)."""

    who: int
    start: float
    x: float
    y: float
    vx: float
    vy: float
    reach: float


@njit(cache=True)
def misses_by(pitch, runner, t):
    """Seconds by which a runner would be late at the ball's point of time t."""
    player = pitch.players[runner.who]
    bx, by, _ = ball_point(pitch.ball, t)
    state = State(runner.x, runner.y, runner.vx, runner.vy)
    return runner.start + reach_time(state, bx, by, runner.reach, limits_of(player)) - t


@njit(cache=True)
def is_in_time(pitch, runner, t):
    """Whether a runner is at the ball's point of time t by then.

    Turning, he is nowhere faster than straight on from the speed he has: a point further off than that takes him is out of reach,
    and his run there need not be worked out.
    """
    limits = limits_of(pitch.players[runner.who])
    speed = math.sqrt(square(runner.vx) + square(runner.vy))
    if speed < limits.vmax:
        bx, by, _ = ball_point(pitch.ball, t)
        most, _ = sprint(limits.vmax - speed, limits.vmax, limits.rate, t - runner.start)
        if square(bx - runner.x) + square(by - runner.y) > square(most + runner.reach + MEET_SLACK_M):
            return False
    return misses_by(pitch, runner, t) <= 0.0


@njit(cache=True)
def run_meets(pitch, runner, t):
    """Whether his run, through or to the ball's point of time t, has a runner within reach of it at t."""
    player = pitch.players[runner.who]
    bx, by, _ = ball_point(pitch.ball, t)
    state, limits = State(runner.x, runner.y, runner.vx, runner.vy), limits_of(player)
    for through in (True, False):
        how = How(limits, pitch.constants.flat_out * limits.vmax, limits.brake, through)
        n = plan_run(player.trial[:], runner.start, state, bx, by, how)
        if through and is_limited(pitch, runner.who):
            ex, ey, _, _ = state_at(player.trial, n, FAR)
            if not may_be(pitch, runner.who, ex, ey):
                continue
        px, py, _, _ = state_at(player.trial, n, t)
        if square(px - bx) + square(py - by) <= square(runner.reach + MEET_SLACK_M):
            return True
    return False


@njit(cache=True)
def could_be_there(runner, vmax, bx, by, s):
    """Whether nobody's limits forbid that a runner is within reach of a point s seconds after he set off."""
    x, y, reach = runner.x, runner.y, runner.reach
    apart = square(bx - x) + square(by - y)
    drift = square(bx - x - runner.vx * s) + square(by - y - runner.vy * s)
    return apart <= square(vmax * s + reach) and drift <= square(0.5 * TOTAL_ACCELERATION * s * s + reach)


@njit(cache=True)
def just_in_time(pitch, runner, low, high):
    """The moment between `low` (too late) and `high` (in time) from which on a runner is in time, halved down to."""
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        if is_in_time(pitch, runner, middle):
            high = middle
        else:
            low = middle
    return high


@njit(cache=True)
def first_reach(pitch, j, start, end, reach):
    """Earliest time in [start, end] at which a run of player j meets the ball (FAR if none does)."""
    player, ball = pitch.players[j], pitch.ball
    x, y, vx, vy = state_at(player.plan, player.plan_length, start)
    runner = Runner(j, start, x, y, vx, vy, reach)
    t = start
    before = start
    late = True
    while t <= end:
        bx, by, speed = ball_point(ball, t)
        if may_play_at(pitch, j, bx, by) and could_be_there(runner, player.top_speed, bx, by, t - start):
            in_time = is_in_time(pitch, runner, t)
            if in_time and late and before < t:
                sooner = just_in_time(pitch, runner, before, t)
                if run_meets(pitch, runner, sooner):
                    return sooner
            if in_time and run_meets(pitch, runner, t):
                return t
            late = not in_time
        before = t
        t += min(STEP, LEAP * reach / speed) if speed > SLOW_MPS else SLOW_STEPS * STEP
    return FAR


@njit(cache=True)
def easiest_reach(pitch, j, first, latest, reach):
    """When player j, who could have the ball within `reach` at `first`, has it with the slowest run, `latest` at the latest."""
    players, ball = pitch.players, pitch.ball
    start = players[j].sets_off_at
    x, y, _, _ = where(players, j, start)
    slowest, when = FAR, first
    t = first
    while t <= latest:
        bx, by, _ = ball_point(ball, t)
        if not may_play_at(pitch, j, bx, by):
            break
        pace = max(0.0, math.sqrt(square(bx - x) + square(by - y)) - reach) / (t - start + SMALL)
        if pace < slowest:
            slowest, when = pace, t
        t += STEP
    return when


@njit(cache=True)
def body_in_the_way(pitch, j, start, end, radius):
    """Earliest time in [start, end] at which the ball passes within `radius` of player j's own path (FAR if never)."""
    players, ball = pitch.players, pitch.ball
    t = start
    bx, by, _ = ball_point(ball, t)
    while t < end:
        x, y, vx, vy = where(players, j, t)
        nx, ny, _ = ball_point(ball, t + BODY_STEP)
        rx, ry, ux, uy = bx - x, by - y, (nx - bx) / BODY_STEP - vx, (ny - by) / BODY_STEP - vy
        s = min(
            max(-(rx * ux + ry * uy) / (ux * ux + uy * uy + SMALL), 0.0), min(BODY_STEP, end - t)
        )  # closest in this step
        if square(rx + s * ux) + square(ry + s * uy) <= radius * radius:
            return t + s
        bx, by = nx, ny
        t += BODY_STEP
    return FAR


@njit(cache=True)
def passes_closest(pitch, j, start, end):
    """Time at which the ball comes closest to where player j stands at `start`."""
    players, ball = pitch.players, pitch.ball
    x, y, _, _ = where(players, j, start)
    along = (x - ball.x) * ball.dx + (y - ball.y) * ball.dy
    return min(max(ball_gets(ball, along), start), end)


@njit(cache=True)
def meets(pitch, j, t, reach):
    """Whether player j's run, as planned, has him within `reach` of the rolling ball at time t."""
    players, ball = pitch.players, pitch.ball
    x, y, _, _ = where(players, j, t)
    bx, by, _ = ball_point(ball, t)
    return square(bx - x) + square(by - y) <= square(reach + MEET_SLACK_M)
