"""How likely a ground pass gets past every opponent, as its passer judges it (compiled).

An opponent stops it in one of two ways: he runs to a point of the lane before the ball is there, or his body is in the way before
he can react at all.  Times of opponents at the points of the lane are compared with those of the ball; a race that is nearly even
is nearly even odds (a logistic curve as wide as the passer's doubt).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.ball import Launch, Surface, launch_speed, struck, time_to, travelled
from sim.compiled import njit, square
from sim.pitch.arrays import EDGE, WAIT
from sim.pitch.moves import clip, quick, quickest
from sim.pitch.numerics import FAR, ROOT_2
from sim.pitch.perception import seen, with_ball

LANE_POINTS = 5  # of a lane at which races are judged: one a fifth of its length, the last where it ends
LANE_SURE = 7.0  # an opponent who would be this many doubts late would take less than one in a thousand off the chance: left out
USUAL_PACE = 1.0


class Strike(NamedTuple):
    """How a passer would strike a pass now."""

    x: float  # m, from where
    y: float
    pace: float  # speed over the usual one of its length
    error: float = 0.0  # rad, of a pass that takes no turn
    back_x: float = 0.0  # a unit vector back to where the ball came from, for one played first time (0, 0: a set ball)
    back_y: float = 0.0
    pressed: float = 0.0  # 0-1, how closely the passer is


class Flight(NamedTuple):
    """A pass on its lane, worked out once for all opponents."""

    x: float  # m, from where
    y: float
    gx: float  # m, from there to where it is to go
    gy: float
    length: float  # m
    error: float  # rad, the bearing error that is allowed for
    launch: Launch
    times: tuple[float, ...]  # s, when the ball is at each point of its lane
    doubts: tuple[float, ...]  # s, how sure a passer is of a race to each


@njit(cache=True)
def surface_of(constants):
    """How the ground slows a struck ball."""
    return Surface(constants.ball_slide, constants.ball_roll, constants.ball_changeover)


@njit(cache=True)
def lane_times(launch, length):
    """When a pass is at each point of a lane of that length (s after its launch)."""
    step = length / LANE_POINTS
    return (
        time_to(launch, step),
        time_to(launch, 2.0 * step),
        time_to(launch, 3.0 * step),
        time_to(launch, 4.0 * step),
        time_to(launch, length),
    )


@njit(cache=True)
def lane_doubts(constants, error, length):
    """How sure a passer is of a race at each of those points: its logistic scale (s), the wider the further his error may take the
    ball off its line."""
    still, wide = square(constants.lane_doubt), square(error * length / (constants.lunge * LANE_POINTS))
    return (
        math.sqrt(still + wide),
        math.sqrt(still + square(2.0) * wide),
        math.sqrt(still + square(3.0) * wide),
        math.sqrt(still + square(4.0) * wide),
        math.sqrt(still + square(5.0) * wide),
    )


@njit(cache=True)
def past_body(pitch, j, flight, along, ex, ey):
    """Chance that the ball gets past the body of opponent j of the picture before he can react.

    along   m of its way to the point of the lane that is nearest to him;  ex, ey: from him to that point
    Where just his body will be is in doubt, too, right beside the ball excepted.
    """
    constants = pitch.constants
    _, _, vx, vy = seen(pitch.players, j)
    t = time_to(flight.launch, along)
    apart = abs((ey - vy * t) * (flight.gx / flight.length) - (ex - vx * t) * (flight.gy / flight.length))
    moved = constants.lane_doubt * constants.step_speed * min(1.0, along)
    wide = math.sqrt(square(flight.error * along) + square(moved)) * ROOT_2
    return 1.0 - 0.5 * (
        math.erf((apart + constants.block_radius) / wide) - math.erf((apart - constants.block_radius) / wide)
    )


@njit(cache=True)
def doubts_late(pitch, j, flight, behind):
    """How late opponent j of the picture, who sets off after `behind` seconds, would be at the point of the lane that he can best
    reach, in units of the passer's doubt there (below 0: before the ball; FAR: out of the question)."""
    players, reach = pitch.players, pitch.constants.intercept_reach
    x, y, vx, vy = seen(players, j)
    sx, sy = flight.gx / LANE_POINTS, flight.gy / LANE_POINTS
    first, least = 0, FAR  # where he could be soonest against the ball, and how late he is there at the least
    for q in range(LANE_POINTS):
        px, py = flight.x + (q + 1.0) * sx, flight.y + (q + 1.0) * sy
        early = (behind + quickest(players, j, x, y, vx, vy, px, py, reach) - flight.times[q]) / flight.doubts[q]
        if early < least:
            first, least = q, early
    if least > LANE_SURE:
        return FAR
    px, py = flight.x + (first + 1.0) * sx, flight.y + (first + 1.0) * sy
    need = behind + quick(players, j, x, y, vx, vy, px, py, reach)
    least = (need - flight.times[first]) / flight.doubts[first]
    for q in range(LANE_POINTS):
        if q != first:
            px, py = flight.x + (q + 1.0) * sx, flight.y + (q + 1.0) * sy
            early = behind + quickest(players, j, x, y, vx, vy, px, py, reach) - flight.times[q]
            if early < least * flight.doubts[q]:
                need = behind + quick(players, j, x, y, vx, vy, px, py, reach)
                least = min(least, (need - flight.times[q]) / flight.doubts[q])
    return least


@njit(cache=True)
def past_opponent(pitch, j, flight, read, chance):
    """`chance`, times that of the ball's getting past opponent j of the picture, who has seen it coming by `read` seconds."""
    player, constants = pitch.players[j], pitch.constants
    x, y, _, _ = seen(pitch.players, j)
    gx, gy, length = flight.gx, flight.gy, flight.length
    near = clip(((x - flight.x) * gx + (y - flight.y) * gy) / (length * length), 0.0, 1.0)
    ex, ey = flight.x + near * gx - x, flight.y + near * gy - y
    off = ex * ex + ey * ey
    if off > square(player.top_speed * length / constants.lane_speed + constants.lane_margin):
        return chance
    behind = player.reaction - read
    along = near * length
    if 0.0 < near < 1.0 and off < square(constants.body_near) and along < travelled(flight.launch, behind)[0]:
        chance *= past_body(pitch, j, flight, along, ex, ey)
    late = doubts_late(pitch, j, flight, behind)
    if late >= FAR:
        return chance
    return chance * (1.0 / (1.0 + math.exp(-late)))


@njit(cache=True)
def lane_chance(pitch, strike, error, tx, ty, floor):
    """Judged chance (0-1) that a ground pass to (tx, ty) gets past every opponent of the picture.

    error   rad, the bearing error that is allowed for: a ball off its line may run nearer to an opponent
    floor   the chance from which it is of use: what is found to lie below may be returned unfinished
    """
    players, constants = pitch.players, pitch.constants
    gx, gy = tx - strike.x, ty - strike.y
    length = math.sqrt(gx * gx + gy * gy)
    if length < constants.lane_least:
        return 1.0
    surface = surface_of(constants)
    launch = struck(launch_speed(length, strike.pace, surface), surface)
    times = lane_times(launch, length)
    doubts = lane_doubts(constants, error, length)
    flight = Flight(strike.x, strike.y, gx, gy, length, error, launch, times, doubts)
    read = constants.anticipation * max(0.0, constants.read_share - constants.obvious_from)
    chance = 1.0
    for j in range(len(players)):
        if not with_ball(pitch, j) and players[j].style != WAIT and players[j].style != EDGE:
            chance = past_opponent(pitch, j, flight, read, chance)
            if chance < floor:
                break
    return chance
