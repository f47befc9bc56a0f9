"""How a player moves between two decisions: closed forms, no clock, no random numbers.

A run is a short list of segments.  On a segment the acceleration is ``a exp(-k s)`` along a fixed vector: ``k = 0`` is
constant acceleration (cutting, braking, standing, holding a speed), ``k = effort/tau`` is the mono-exponential sprint
``v(t) = vmax - (vmax - v0) exp(-k t)`` (Furusawa, Hill & Parkinson 1927; Samozino et al. 2016) along a straight line.

A run to a point is: *cut* and *plant* (`sim.turning`), *accelerate* (mono-exponential), *hold*, *brake* to rest.  Every run ends
at rest, so a player who is never asked again stops where he was sent.  The same primitive answers "when can he be there?", so
a predicted reach time is the executed one.

A plan is an array of `sim.trajectory.SEGMENT`, where the law itself stands.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit, square
from sim.roots import bisect
from sim.trajectory import growth, sprint
from sim.turning import NEAR_M, STILL_MPS, Approach, Limits, State, approach

MOST_SEGMENTS = 7
NEAR_STEP_S = 0.04  # step in which a turn is searched for the moment it comes near a point
NEAR_HALVINGS = 30  # of such a step
NEWTON_MOST = 60  # steps of a root finder: far more than it ever takes
WORTH_M = 0.3  # a player who has stopped this near the point does not come back for it
UNDER_WAY = 0.999  # of top speed: nobody is planned to run faster
FOR_GOOD_S = 1e9  # longer than any bout


class Stretch(NamedTuple):
    """A stretch of constant acceleration, and a point with a circle of `reach` about it (m)."""

    begin: State
    ax: float
    ay: float
    px: float
    py: float
    reach: float


class How(NamedTuple):
    """How a run is made: within which limits, up to what speed once under way (m/s), how gently he stops where he has the room
    (m/s2, the limit at most), and flat out through the point, braking behind it as hard as he can, rather than to rest on it."""

    limits: Limits
    cap: float
    stop: float
    through: bool


class Straight(NamedTuple):
    """A straight run: speed up to `top` (m/s) for `gain_s` over `gain` metres, hold it for `hold_s`, and brake (m/s2)."""

    top: float
    gain_s: float
    gain: float
    hold_s: float
    brake: float


@njit(cache=True)
def state_on(row, t):
    """(x, y, vx, vy) on one segment row at watch time t."""
    s = t - row.t0
    g1, g2 = growth(row.rate, s)
    return (
        row.x + row.vx * s + row.ax * g2,
        row.y + row.vy * s + row.ay * g2,
        row.vx + row.ax * g1,
        row.vy + row.ay * g1,
    )


@njit(cache=True)
def state_at(plan, n, t):
    """(x, y, vx, vy) of a plan of n segments at time t.

    Before the plan began, its first velocity is carried back; after its end the player stands.
    """
    if t < plan[0].t0:
        s = t - plan[0].t0
        return plan[0].x + plan[0].vx * s, plan[0].y + plan[0].vy * s, plan[0].vx, plan[0].vy
    for i in range(n):
        if t < plan[i].t1:
            return state_on(plan[i], t)
    x, y, vx, vy = state_on(plan[n - 1], plan[n - 1].t1)
    return x, y, 0.0, 0.0


@njit(cache=True)
def first_guess(distance, v0, vmax, k):
    """About `time_for` a distance > 0 from below vmax, short by up to two fifths: the nearer of two guesses (at once under way; at
    steady push, stretched by the first term of its fading)."""
    gap = vmax - v0
    push = k * gap
    t = 2.0 * distance / (v0 + math.sqrt(v0 * v0 + 2.0 * push * distance))
    t *= 1.0 + k * t * push * t / (6.0 * (v0 + push * t))
    return min(t, (distance + gap / k) / vmax)


@njit(cache=True)
def time_for(distance, v0, vmax, k):
    """Seconds to cover `distance` (m) from speed v0 at full steer: root of x(t) = vmax t - (vmax - v0)(1 - e^-kt)/k.

    Newton on a convex function; equals the Lambert-W form to rounding.  (No search by halves: other last digits, and slower.)
    """
    if distance <= 0.0:
        return 0.0
    gap = vmax - v0
    if gap <= 1e-9:
        return distance / v0
    t = first_guess(distance, v0, vmax, k)
    for _ in range(NEWTON_MOST):
        metres, speed = sprint(gap, vmax, k, t)
        step = (metres - distance) / speed
        t -= step
        if abs(step) <= 1e-6 * (1.0 + t):  # what is left is of the order of its square
            break
    return t


@njit(cache=True)
def judged_time_for(distance, v0, vmax, k):
    """`time_for` a distance > 0 from below vmax after a single step: never short, and less than 10 ms long up to 60 m."""
    t = first_guess(distance, v0, vmax, k)
    metres, speed = sprint(vmax - v0, vmax, k, t)
    return t - (metres - distance) / speed


@njit(cache=True)
def distance_to_gain(v0, v1, vmax, k):
    """Metres covered while accelerating from v0 to v1 (v0 <= v1 < vmax)."""
    return (vmax * math.log((vmax - v0) / (vmax - v1)) - (v1 - v0)) / k


@njit(cache=True)
def is_near(stretch, s):
    """Whether the point is within reach s seconds into a stretch."""
    x, y, vx, vy = stretch.begin
    ex = x + vx * s + 0.5 * stretch.ax * s * s - stretch.px
    ey = y + vy * s + 0.5 * stretch.ay * s * s - stretch.py
    return square(ex) + square(ey) <= square(stretch.reach)


@njit(cache=True)
def comes_near(stretch, seconds):
    """First moment (s, -1: never) of a stretch of so many seconds at which its point is within reach.

    Sought in steps and halved; a touch of the circle shorter than a step counts as none.
    """
    x, y, vx, vy = stretch.begin
    gap = math.sqrt(square(stretch.px - x) + square(stretch.py - y))
    fastest = max(
        math.sqrt(vx * vx + vy * vy),
        math.sqrt(square(vx + stretch.ax * seconds) + square(vy + stretch.ay * seconds)),
    )
    if gap - stretch.reach > fastest * seconds:
        return -1.0
    steps = 1 + int(seconds / NEAR_STEP_S)
    low = 0.0
    for q in range(1, steps + 1):
        high = seconds * q / steps
        if is_near(stretch, high):
            return bisect(is_near, stretch, low, high, NEAR_HALVINGS)
        low = high
    return -1.0


@njit(cache=True)
def reach_time(state, px, py, reach, limits):
    """Seconds until a player running flat out through (px, py) is within `reach` of it (0 if already there).

    The first such moment of the run that `plan_run` writes, on the way through a turn or a stop as well.
    """
    x, y, vx, vy = state
    gap = math.sqrt(square(px - x) + square(py - y))
    if gap <= reach:
        return 0.0
    vmax, k = limits.vmax, limits.rate
    way = approach(state, px, py, limits, UNDER_WAY * vmax)
    c, cut_s = way.kept, way.cut_s
    if not way.direct:
        stop = math.sqrt(vx * vx + vy * vy) / limits.brake
        passing = comes_near(Stretch(state, -vx / stop, -vy / stop, px, py, reach), stop)
        if passing >= 0.0:
            return passing
        gap = math.sqrt(square(px - x - 0.5 * vx * stop) + square(py - y - 0.5 * vy * stop))
        return stop + time_for(gap - reach, 0.0, vmax, k)
    if cut_s > 0.0:
        ax, ay = (c * way.dx - vx) / cut_s, (c * way.dy - vy) / cut_s
        passing = comes_near(Stretch(state, ax, ay, px, py, reach), cut_s)
        if passing >= 0.0:
            return passing
    glide = c * way.plant_s
    if way.rest - reach < glide:
        return cut_s + (way.rest - reach) / c
    return cut_s + way.plant_s + time_for(way.rest - glide - reach, c, vmax, k)


@njit(cache=True)
def quick_time(gx, gy, vx, vy, reach, limits):
    """About `reach_time` for a point (gx, gy) away: speed across the way is ignored, speed against it is braked first."""
    vmax, k, brake = limits
    gap = math.sqrt(gx * gx + gy * gy)
    if gap <= reach:
        return 0.0
    along = (vx * gx + vy * gy) / gap
    if along >= 0.0:
        return judged_time_for(gap - reach, min(along, UNDER_WAY * vmax), vmax, k)
    return -along / brake + judged_time_for(gap - reach + 0.5 * along * along / brake, 0.0, vmax, k)


@njit(cache=True)
def least_time(gx, gy, vx, vy, reach, limits):
    """A time below `quick_time` of the same run, and near it when the run is short: the push he starts with does not fade, and he
    is nowhere faster than vmax."""
    vmax, k, brake = limits
    gap = math.sqrt(gx * gx + gy * gy)
    if gap <= reach:
        return 0.0
    along = (vx * gx + vy * gy) / gap
    distance, stop = gap - reach, 0.0
    if along < 0.0:
        stop = -along / brake
        distance, along = distance + 0.5 * along * along / brake, 0.0
    along = min(along, UNDER_WAY * vmax)
    push = k * (vmax - along)
    steady = 2.0 * distance / (along + math.sqrt(along * along + 2.0 * push * distance))
    return 0.999999 * (stop + max(steady, distance / vmax))


@njit(cache=True)
def put(plan, n, t, seconds, state, push):
    """Write one segment behind the n already there, unless it lasts no time: from time t on, at first in that state, with the
    `push` (ax, ay, rate); returns the new count."""
    if t + seconds <= t:
        return n
    row = plan[n]
    row.t0, row.t1 = t, t + seconds
    row.x, row.y, row.vx, row.vy = state
    row.ax, row.ay, row.rate = push
    return n + 1


@njit(cache=True)
def put_stand(plan, n, t, x, y):
    """Stand at (x, y) from t on, behind the n segments already there; returns the new count."""
    return put(plan, n, t, FOR_GOOD_S, State(x, y, 0.0, 0.0), (0.0, 0.0, 0.0))


@njit(cache=True)
def plan_stand(plan, t, x, y):
    """Stand at (x, y) from t on; returns the count of segments (1)."""
    return put_stand(plan, 0, t, x, y)


@njit(cache=True)
def put_turn(plan, n, t, state, way):
    """Write the turn from a state into a way; returns the new count, when it ends, and the way that is left."""
    c, dx, dy, x, y, rest = way.kept, way.dx, way.dy, way.x, way.y, way.rest
    if way.cut_s > 0.0:
        push = ((c * dx - state.vx) / way.cut_s, (c * dy - state.vy) / way.cut_s, 0.0)
        n = put(plan, n, t, way.cut_s, state, push)
        t += way.cut_s
    if way.plant_s > 0.0:
        n = put(plan, n, t, way.plant_s, State(x, y, c * dx, c * dy), (0.0, 0.0, 0.0))
        x, y, t = x + c * dx * way.plant_s, y + c * dy * way.plant_s, t + way.plant_s
        rest = max(0.0, rest - c * way.plant_s)
    return n, t, Approach(True, dx, dy, c, 0.0, 0.0, x, y, rest)


@njit(cache=True)
def top_for(rest, c, top, limits):
    """The speed, from c up to `top` (which is too much), from which a player can still brake to rest at the end of `rest` metres.

    Newton on a convex function from above.  (No search by halves: other last digits, and slower.)
    """
    vmax, k, brake = limits
    for _ in range(NEWTON_MOST):
        f = distance_to_gain(c, top, vmax, k) + top * top / (2.0 * brake) - rest
        step = f / (top / (k * (vmax - top)) + top / brake + 1e-12)
        top -= step
        if step <= 1e-12:
            break
    return max(top, c)


@njit(cache=True)
def straight_through(rest, c, cap, limits):
    """Flat out from speed c over `rest` metres, up to the speed `cap`."""
    vmax, k, brake = limits
    gain = distance_to_gain(c, cap, vmax, k) if cap > c else 0.0
    top = max(cap, c)
    if gain <= rest:
        gain_s = math.log((vmax - c) / (vmax - top)) / k if top > c else 0.0
        return Straight(top, gain_s, gain, (rest - gain) / top, brake)
    gain_s = time_for(rest, c, vmax, k)
    _, top = sprint(vmax - c, vmax, k, gain_s)
    return Straight(top, gain_s, rest, 0.0, brake)


@njit(cache=True)
def braking_for(rest, c, limits, stop):
    """How hard (m/s2) he brakes at the end of `rest` metres that he begins at speed c: as gently as `stop`, or as hard as it takes
    up to his limit."""
    if c * c >= 2.0 * limits.brake * rest:
        return limits.brake
    return min(limits.brake, max(stop, c * c / (2.0 * rest)))


@njit(cache=True)
def straight_to(rest, c, how, cap):
    """From speed c over `rest` metres, braking to rest included, up to the speed `cap`."""
    vmax, k, _ = how.limits
    brake = braking_for(rest, c, how.limits, how.stop)
    gain = distance_to_gain(c, cap, vmax, k) if cap > c else 0.0
    top = max(cap, c)
    if gain + top * top / (2.0 * brake) > rest:
        top = top_for(rest, c, top, Limits(vmax, k, brake))
    gain = distance_to_gain(c, top, vmax, k)
    gain_s = math.log((vmax - c) / (vmax - top)) / k
    hold_s = max(0.0, rest - gain - top * top / (2.0 * brake)) / max(top, STILL_MPS)
    return Straight(top, gain_s, gain, hold_s, brake)


@njit(cache=True)
def put_straight(plan, n, t, way, run, limits):
    """Write a straight run from where a turn has ended, the braking and the stand behind it; returns the new count."""
    dx, dy, x, y, c = way.dx, way.dy, way.x, way.y, way.kept
    top, brake = run.top, run.brake
    if run.gain_s > 0.0:
        push = limits.rate * (limits.vmax - c)
        n = put(plan, n, t, run.gain_s, State(x, y, c * dx, c * dy), (push * dx, push * dy, limits.rate))
        x, y, t = x + run.gain * dx, y + run.gain * dy, t + run.gain_s
    if run.hold_s > 0.0:
        n = put(plan, n, t, run.hold_s, State(x, y, top * dx, top * dy), (0.0, 0.0, 0.0))
        x, y, t = x + run.hold_s * top * dx, y + run.hold_s * top * dy, t + run.hold_s
    if top > STILL_MPS:
        stop = top / brake
        n = put(plan, n, t, stop, State(x, y, top * dx, top * dy), (-brake * dx, -brake * dy, 0.0))
        x, y, t = x + 0.5 * top * stop * dx, y + 0.5 * top * stop * dy, t + stop
    return put_stand(plan, n, t, x, y)


@njit(cache=True)
def overshoots(way, through, brake):
    """Whether he must stop first: the point lies inside the turning circle, or he is too fast to come to rest on it."""
    c = way.kept
    return not way.direct or (not through and c * c > 2.0 * brake * way.rest * (1.0 + 1e-9) and c > STILL_MPS)


@njit(cache=True)
def plan_run(plan, t, state, px, py, how):
    """Write the run from a state at time t to (px, py) into `plan`; returns the count of segments.

    A player too fast to stop overshoots, stops and comes back.
    """
    n, limits, through = 0, how.limits, how.through
    cap = min(how.cap, UNDER_WAY * limits.vmax)
    way = approach(state, px, py, limits, cap)
    x, y, vx, vy = state
    v = math.sqrt(vx * vx + vy * vy)
    if overshoots(way, through, limits.brake):
        stop = v / limits.brake
        n = put(plan, n, t, stop, state, (-vx / stop, -vy / stop, 0.0))
        state, t = State(x + 0.5 * vx * stop, y + 0.5 * vy * stop, 0.0, 0.0), t + stop
        if not through and math.sqrt(square(px - state.x) + square(py - state.y)) < WORTH_M:
            return put_stand(plan, n, t, state.x, state.y)
        way = approach(state, px, py, limits, cap)
    elif v < STILL_MPS and way.rest < NEAR_M:
        return plan_stand(plan, t, x, y)
    n, t, way = put_turn(plan, n, t, state, way)
    c, rest = way.kept, way.rest
    run = straight_through(rest, c, cap, limits) if through else straight_to(rest, c, how, cap)
    return put_straight(plan, n, t, way, run, limits)
