"""How a player moves between two decisions: closed forms, no clock, no random numbers.

A run is a short list of segments.  On a segment the acceleration is ``a exp(-k s)`` along a fixed vector: ``k = 0`` is
constant acceleration (cutting, braking, standing, holding a speed), ``k = effort/tau`` is the mono-exponential sprint
``v(t) = vmax - (vmax - v0) exp(-k t)`` (Furusawa, Hill & Parkinson 1927; Samozino et al. 2016) along a straight line.

A run to a point is: *cut* (turn the velocity to the new direction, keeping ``v cos^2(th/2)`` of the speed, no harder than
braking and total acceleration allow), *plant* (0.10-0.25 s of standing when the turn is sharper than a right angle and
the player was moving), *accelerate* (mono-exponential), *hold*, *brake* to rest.  Every run ends at rest, so a player
who is never asked again stops where he was sent.  The same primitive answers "when can he be there?", so a predicted
reach time is the executed one.

A plan is an array of `SEGMENT` (SI units; t0 and t1 are the times on the watch from which and to which it holds).
"""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit, square

SEGMENT = np.dtype([(name, "f8") for name in ("t0", "t1", "x", "y", "vx", "vy", "ax", "ay", "rate")])
MOST_SEGMENTS = 7
TOTAL_ACCELERATION = 8.0  # m/s2, judgement: no acceleration of any direction exceeds it
PLANT_LEAST_S, PLANT_MOST_S = 0.10, 0.25  # judgement: plant of a turn of 90 and of 180 degrees
PLANT_FULL_MPS = 3.0  # judgement: below this speed the plant shrinks in proportion
STILL_MPS = 1e-6  # below this a velocity (or a change of it) counts as none
NEAR_M = 1e-3
ASTRAY_M = 0.05  # a cut that would end further off the line is not attempted: stop first
NEAR_STEP_S = 0.04  # step in which a turn is searched for the moment it comes near a point


@njit(cache=True)
def growth(k, s):
    """(g1, g2): velocity and position gained per unit of starting acceleration after s seconds at rate k (1/s)."""
    z = k * s
    if z < 1e-5:
        return s * (1.0 - 0.5 * z), 0.5 * s * s * (1.0 - z / 3.0)
    g1 = -math.expm1(-z) / k
    return g1, (s - g1) / k


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

    Newton on a convex function; equals the Lambert-W form to rounding.
    """
    if distance <= 0.0:
        return 0.0
    gap = vmax - v0
    if gap <= 1e-9:
        return distance / v0
    t = first_guess(distance, v0, vmax, k)
    for _ in range(60):
        e = math.exp(-k * t)
        f = vmax * t - gap * (1.0 - e) / k - distance
        step = f / (vmax - gap * e)
        t -= step
        if abs(step) <= 1e-6 * (1.0 + t):  # what is left is of the order of its square
            break
    return t


@njit(cache=True)
def judged_time_for(distance, v0, vmax, k):
    """`time_for` a distance > 0 from below vmax after a single step: never short, and less than 10 ms long up to 60 m."""
    t = first_guess(distance, v0, vmax, k)
    gap = vmax - v0
    e = math.exp(-k * t)
    return t - (vmax * t - gap * (1.0 - e) / k - distance) / (vmax - gap * e)


@njit(cache=True)
def distance_to_gain(v0, v1, vmax, k):
    """Metres covered while accelerating from v0 to v1 (v0 <= v1 < vmax)."""
    return (vmax * math.log((vmax - v0) / (vmax - v1)) - (v1 - v0)) / k


@njit(cache=True)
def cut_time(v, c, cosine, change, vmax, k, brake):
    """Seconds a cut takes from speed v to speed c at an angle, `change` being the size of the difference of velocities: the
    least that keeps every limit (0 when nothing changes)."""
    if change < STILL_MPS:
        return 0.0
    t = change / TOTAL_ACCELERATION
    against = (v - c * cosine) / brake
    if against > t:
        t = against
    onward = (c - v * cosine) / (k * (vmax - c))
    if onward > t:
        t = onward
    return t


@njit(cache=True)
def cut(x, y, vx, vy, v, dx, dy, vmax, k, brake, cap):
    """(c, seconds, x1, y1, cosine) of the cut from velocity (vx, vy) of size v to the unit direction (dx, dy)."""
    cosine = min(1.0, max(-1.0, (vx * dx + vy * dy) / v))
    c = min(v * 0.5 * (1.0 + cosine), cap)
    change = math.sqrt(square(c * dx - vx) + square(c * dy - vy))
    seconds = cut_time(v, c, cosine, change, vmax, k, brake)
    return c, seconds, x + 0.5 * (vx + c * dx) * seconds, y + 0.5 * (vy + c * dy) * seconds, cosine


@njit(cache=True)
def plant_time(v, cosine):
    """Seconds of standing that a turn sharper than a right angle costs at speed v."""
    if cosine >= 0.0:
        return 0.0
    angle = math.acos(max(-1.0, cosine))
    share = (angle - 0.5 * math.pi) / (0.5 * math.pi)
    return (PLANT_LEAST_S + (PLANT_MOST_S - PLANT_LEAST_S) * share) * min(1.0, v / PLANT_FULL_MPS)


@njit(cache=True)
def approach(x, y, vx, vy, px, py, vmax, k, brake, cap):
    """Turn towards a point: (ok, dx, dy, c, t_cut, t_plant, x1, y1, rest).

    (dx, dy) is the straight direction after the cut, c the speed kept, (x1, y1) where the cut ends, `rest` the metres
    left.  Not ok: the point lies inside the turning circle, so the player must stop first.
    """
    v = math.sqrt(vx * vx + vy * vy)
    gx, gy = px - x, py - y
    gap = math.sqrt(gx * gx + gy * gy)
    if v < STILL_MPS:
        if gap < NEAR_M:
            return True, 1.0, 0.0, 0.0, 0.0, 0.0, x, y, 0.0
        return True, gx / gap, gy / gap, 0.0, 0.0, 0.0, x, y, gap
    if gap < NEAR_M:
        return False, 1.0, 0.0, 0.0, 0.0, 0.0, x, y, 0.0
    dx, dy = gx / gap, gy / gap
    for _ in range(12):
        c, t_cut, x1, y1, cosine = cut(x, y, vx, vy, v, dx, dy, vmax, k, brake, cap)
        ex, ey = px - x1, py - y1
        rest = math.sqrt(ex * ex + ey * ey)
        if rest < NEAR_M:
            return False, dx, dy, c, t_cut, 0.0, x1, y1, 0.0
        moved = abs(ex / rest - dx) + abs(ey / rest - dy)
        dx, dy = ex / rest, ey / rest
        if moved < 1e-9:
            break
    c, t_cut, x1, y1, cosine = cut(x, y, vx, vy, v, dx, dy, vmax, k, brake, cap)
    rest = (px - x1) * dx + (py - y1) * dy
    astray = abs((px - x1) * dy - (py - y1) * dx)
    if rest < NEAR_M or astray > ASTRAY_M:
        return False, dx, dy, c, t_cut, 0.0, x1, y1, 0.0
    return True, dx, dy, c, t_cut, plant_time(v, cosine), x1, y1, rest


@njit(cache=True)
def comes_near(x, y, vx, vy, ax, ay, seconds, px, py, reach):
    """First moment (s, -1: never) of a stretch of constant acceleration at which (px, py) is within `reach`.

    Sought in steps and halved; a touch of the circle shorter than a step counts as none.
    """
    gap = math.sqrt(square(px - x) + square(py - y))
    fastest = max(math.sqrt(vx * vx + vy * vy), math.sqrt(square(vx + ax * seconds) + square(vy + ay * seconds)))
    if gap - reach > fastest * seconds:
        return -1.0
    steps = 1 + int(seconds / NEAR_STEP_S)
    low = 0.0
    for q in range(1, steps + 1):
        high = seconds * q / steps
        ex, ey = x + vx * high + 0.5 * ax * high * high - px, y + vy * high + 0.5 * ay * high * high - py
        if square(ex) + square(ey) <= square(reach):
            for _ in range(30):
                s = 0.5 * (low + high)
                ex, ey = x + vx * s + 0.5 * ax * s * s - px, y + vy * s + 0.5 * ay * s * s - py
                if square(ex) + square(ey) <= square(reach):
                    high = s
                else:
                    low = s
            return high
        low = high
    return -1.0


@njit(cache=True)
def reach_time(x, y, vx, vy, px, py, reach, vmax, k, brake):
    """Seconds until a player running flat out through (px, py) is within `reach` of it (0 if already there).

    The first such moment of the run that `plan_run` writes, on the way through a turn or a stop as well.
    """
    gap = math.sqrt(square(px - x) + square(py - y))
    if gap <= reach:
        return 0.0
    ok, dx, dy, c, t_cut, t_plant, x1, y1, rest = approach(x, y, vx, vy, px, py, vmax, k, brake, 0.999 * vmax)
    if not ok:
        stop = math.sqrt(vx * vx + vy * vy) / brake
        passing = comes_near(x, y, vx, vy, -vx / stop, -vy / stop, stop, px, py, reach)
        if passing >= 0.0:
            return passing
        gap = math.sqrt(square(px - x - 0.5 * vx * stop) + square(py - y - 0.5 * vy * stop))
        return stop + time_for(gap - reach, 0.0, vmax, k)
    if t_cut > 0.0:
        passing = comes_near(x, y, vx, vy, (c * dx - vx) / t_cut, (c * dy - vy) / t_cut, t_cut, px, py, reach)
        if passing >= 0.0:
            return passing
    glide = c * t_plant
    if rest - reach < glide:
        return t_cut + (rest - reach) / c
    return t_cut + t_plant + time_for(rest - glide - reach, c, vmax, k)


@njit(cache=True)
def quick_time(gx, gy, vx, vy, reach, vmax, k, brake):
    """About `reach_time` for a point (gx, gy) away: speed across the way is ignored, speed against it is braked first."""
    gap = math.sqrt(gx * gx + gy * gy)
    if gap <= reach:
        return 0.0
    along = (vx * gx + vy * gy) / gap
    if along >= 0.0:
        return judged_time_for(gap - reach, min(along, 0.999 * vmax), vmax, k)
    return -along / brake + judged_time_for(gap - reach + 0.5 * along * along / brake, 0.0, vmax, k)


@njit(cache=True)
def least_time(gx, gy, vx, vy, reach, vmax, k, brake):
    """A time below `quick_time` of the same run, and near it when the run is short: the push he starts with does not fade, and he
    is nowhere faster than vmax."""
    gap = math.sqrt(gx * gx + gy * gy)
    if gap <= reach:
        return 0.0
    along = (vx * gx + vy * gy) / gap
    distance, stop = gap - reach, 0.0
    if along < 0.0:
        stop = -along / brake
        distance, along = distance + 0.5 * along * along / brake, 0.0
    along = min(along, 0.999 * vmax)
    push = k * (vmax - along)
    steady = 2.0 * distance / (along + math.sqrt(along * along + 2.0 * push * distance))
    return 0.999999 * (stop + max(steady, distance / vmax))


@njit(cache=True)
def put(plan, n, t0, t1, x, y, vx, vy, ax, ay, rate):
    """Write one segment behind the n already there, unless it lasts no time; returns the new count."""
    if t1 <= t0:
        return n
    row = plan[n]
    row.t0, row.t1, row.x, row.y, row.vx, row.vy = t0, t1, x, y, vx, vy
    row.ax, row.ay, row.rate = ax, ay, rate
    return n + 1


@njit(cache=True)
def plan_stand(plan, t, x, y):
    """Stand at (x, y) from t on; returns the count of segments (1)."""
    return put(plan, 0, t, t + 1e9, x, y, 0.0, 0.0, 0.0, 0.0, 0.0)


@njit(cache=True)
def plan_run(plan, t, x, y, vx, vy, px, py, cap, vmax, k, brake, through):
    """Write the run from (x, y, vx, vy) at time t to (px, py) into `plan`; returns the count of segments.

    cap     m/s, speed not to exceed once the player is under way (below vmax)
    k       1/s, effort / tau
    brake   m/s2, braking used (also the limit)
    through True: run flat out through the point and brake behind it; False: come to rest on it
    A player too fast to stop overshoots, stops and comes back.
    """
    n = 0
    cap = min(cap, 0.999 * vmax)
    ok, dx, dy, c, t_cut, t_plant, x1, y1, rest = approach(x, y, vx, vy, px, py, vmax, k, brake, cap)
    v = math.sqrt(vx * vx + vy * vy)
    if not ok or (not through and c * c > 2.0 * brake * rest * (1.0 + 1e-9) and c > STILL_MPS):
        stop = v / brake
        n = put(plan, n, t, t + stop, x, y, vx, vy, -vx / stop, -vy / stop, 0.0)
        x, y, t = x + 0.5 * vx * stop, y + 0.5 * vy * stop, t + stop
        if not through and math.sqrt(square(px - x) + square(py - y)) < 0.3:
            return put(plan, n, t, t + 1e9, x, y, 0.0, 0.0, 0.0, 0.0, 0.0)
        ok, dx, dy, c, t_cut, t_plant, x1, y1, rest = approach(x, y, 0.0, 0.0, px, py, vmax, k, brake, cap)
        vx, vy = 0.0, 0.0
    elif v < STILL_MPS and rest < NEAR_M:
        return plan_stand(plan, t, x, y)
    if t_cut > 0.0:
        n = put(plan, n, t, t + t_cut, x, y, vx, vy, (c * dx - vx) / t_cut, (c * dy - vy) / t_cut, 0.0)
        t += t_cut
    if t_plant > 0.0:
        n = put(plan, n, t, t + t_plant, x1, y1, c * dx, c * dy, 0.0, 0.0, 0.0)
        x1, y1, t = x1 + c * dx * t_plant, y1 + c * dy * t_plant, t + t_plant
        rest = max(0.0, rest - c * t_plant)
    gain = distance_to_gain(c, cap, vmax, k) if cap > c else 0.0
    top = max(cap, c)
    if through:
        if gain <= rest:
            t_gain = math.log((vmax - c) / (vmax - top)) / k if top > c else 0.0
            hold = (rest - gain) / top
        else:
            t_gain = time_for(rest, c, vmax, k)
            top = vmax - (vmax - c) * math.exp(-k * t_gain)
            gain, hold = rest, 0.0
    else:
        if gain + top * top / (2.0 * brake) > rest:
            for _ in range(60):
                f = distance_to_gain(c, top, vmax, k) + top * top / (2.0 * brake) - rest
                step = f / (top / (k * (vmax - top)) + top / brake + 1e-12)
                top -= step
                if step <= 1e-12:
                    break
            top = max(top, c)
        gain = distance_to_gain(c, top, vmax, k)
        t_gain = math.log((vmax - c) / (vmax - top)) / k
        hold = max(0.0, rest - gain - top * top / (2.0 * brake)) / max(top, STILL_MPS)
    if t_gain > 0.0:
        push = k * (vmax - c)
        n = put(plan, n, t, t + t_gain, x1, y1, c * dx, c * dy, push * dx, push * dy, k)
        x1, y1, t = x1 + gain * dx, y1 + gain * dy, t + t_gain
    if hold > 0.0:
        n = put(plan, n, t, t + hold, x1, y1, top * dx, top * dy, 0.0, 0.0, 0.0)
        x1, y1, t = x1 + hold * top * dx, y1 + hold * top * dy, t + hold
    if top > STILL_MPS:
        stop = top / brake
        n = put(plan, n, t, t + stop, x1, y1, top * dx, top * dy, -brake * dx, -brake * dy, 0.0)
        x1, y1, t = x1 + 0.5 * top * stop * dx, y1 + 0.5 * top * stop * dy, t + stop
    return put(plan, n, t, t + 1e9, x1, y1, 0.0, 0.0, 0.0, 0.0, 0.0)
