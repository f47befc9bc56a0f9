"""Who is with the ball, where players belong, what they know, and how urgently they move (compiled; shared by attack and
defence).

One law of urgency serves every game: a move may take as long as the ball needs to get there and be played on,
``factor x (flight + expected time on the ball)``; the speed is distance over that time.  Runs after a loss or into
another area use a smaller factor.  So small squares are quick and short, big pitches slower and longer, without a
constant per game.
"""

from __future__ import annotations

import math

from sim.ball import launch_speed, mean_pass_speed, roll_time
from sim.compiled import njit, square
from sim.pitch.arrays import DEAD, EDGE, FLOATER, HELD, KEEP, SCORE, WAIT
from sim.pitch.moves import clip, go, quick, quickest, where

FAR = 1e9
LANE_POINTS = 5
BODY_NEAR_M = 1.5  # a body further from the lane than this is not in the way
STEPPING = 2.0  # m/s, about what a presser moves at while the ball is struck (this and the last: judgement)
ROOT_2 = 1.4142135623730951
LANE_SURE = 7.0  # an opponent who would be this many doubts late would take less than one in a thousand off the chance: left out


@njit(cache=True)
def with_ball(pitch, i):
    """Whether player i's side holds the ball (floaters always do)."""
    players, play = pitch.players, pitch.play
    return players[i].side == FLOATER or players[i].side == play.side


@njit(cache=True)
def ball_at(pitch, now):
    """(x, y) of the ball as players think of it: at the holder, or where the pass is meant to arrive."""
    players, ball = pitch.players, pitch.ball
    if ball.state == HELD:
        x, y, _, _ = where(players, ball.holder, now)
        return x, y
    if ball.state == DEAD:
        return ball.x, ball.y
    return ball.target_x, ball.target_y


@njit(cache=True)
def take_in(players, t, blind):
    """Take the picture of where everybody is at time t (P, SEEN columns), from which the functions below answer until the next is
    taken; blind: a glimpse that shows where players were, not where they were going."""
    for j in range(len(players)):
        x, y, vx, vy = where(players, j, t)
        players[j].seen_x, players[j].seen_y = x, y
        players[j].seen_vx, players[j].seen_vy = (0.0, 0.0) if blind else (vx, vy)


@njit(cache=True)
def seen(players, i):
    """(x, y, vx, vy) of player i in the picture."""
    return players[i].seen_x, players[i].seen_y, players[i].seen_vx, players[i].seen_vy


@njit(cache=True)
def sooner(players, j, px, py, reach, best):
    """The seconds player j of the picture needs to within reach of a point, or `best` if that is less (often without solving)."""
    x, y, vx, vy = seen(players, j)
    gap = math.sqrt(square(px - x) + square(py - y)) - reach
    if gap > players[j].top_speed * best + 1e-6:
        return best
    return min(best, quick(players, j, x, y, vx, vy, px, py, reach))


@njit(cache=True)
def lane_times(v0, a, length):
    """When a pass launched at v0 is at each point of its lane (s)."""
    step = length / LANE_POINTS
    return (
        roll_time(v0, a, step),
        roll_time(v0, a, 2.0 * step),
        roll_time(v0, a, 3.0 * step),
        roll_time(v0, a, 4.0 * step),
        roll_time(v0, a, length),
    )


@njit(cache=True)
def lane_doubts(constants, sigma, length):
    """How sure a passer is of a race at each of those points: its logistic scale (s), the wider the further his error may take the
    ball off its line."""
    still, wide = square(constants.lane_doubt), square(sigma * length / (constants.lunge * LANE_POINTS))
    return (
        math.sqrt(still + wide),
        math.sqrt(still + 4.0 * wide),
        math.sqrt(still + 9.0 * wide),
        math.sqrt(still + 16.0 * wide),
        math.sqrt(still + 25.0 * wide),
    )


@njit(cache=True)
def past_a_body(constants, vx, vy, ex, ey, ux, uy, along, v0, sigma):
    """Chance that a ball struck at v0 gets past a body before its owner can react.

    ex, ey  from him to the nearest point of the lane, which runs along the unit vector (ux, uy) and is there `along` metres long
    sigma   bearing error (rad) the passer allows for; where just the body will be is in doubt, too, right beside the ball excepted
    """
    t = along / v0
    apart = abs((ey - vy * t) * ux - (ex - vx * t) * uy)
    wide = math.sqrt(square(sigma * along) + square(constants.lane_doubt * STEPPING * min(1.0, along))) * ROOT_2
    return 1.0 - 0.5 * (
        math.erf((apart + constants.block_radius) / wide) - math.erf((apart - constants.block_radius) / wide)
    )


@njit(cache=True)
def lane_chance(pitch, bx, by, tx, ty, pace, sigma, floor):
    """Judged chance that a ground pass from (bx, by) to (tx, ty) gets past every opponent of the picture.

    pace    speed of the pass over the usual one of its length
    sigma   bearing error (rad) the passer allows for: a ball off its line may run nearer to an opponent
    floor   the chance from which it is of use: what is found to lie below may be returned unfinished
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    gx, gy = tx - bx, ty - by
    length = math.sqrt(gx * gx + gy * gy)
    if length < 0.5:
        return 1.0
    a = constants.ball_deceleration
    v0 = launch_speed(length, a, pace)
    ball = lane_times(v0, a, length)
    doubt = lane_doubts(constants, sigma, length)
    sx, sy = gx / LANE_POINTS, gy / LANE_POINTS
    read = constants.anticipation * max(0.0, constants.read_share - 0.25)  # they will have seen it coming
    chance = 1.0
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == WAIT or players[j].style == EDGE:
            continue
        x, y, vx, vy = seen(players, j)
        near = clip(((x - bx) * gx + (y - by) * gy) / (length * length), 0.0, 1.0)
        ex, ey = bx + near * gx - x, by + near * gy - y
        if ex * ex + ey * ey > square(players[j].top_speed * length / 8.0 + 1.0):
            continue
        behind = players[j].reaction - read
        if 0.0 < near < 1.0 and near * length < v0 * behind and ex * ex + ey * ey < square(BODY_NEAR_M):
            chance *= past_a_body(constants, vx, vy, ex, ey, gx / length, gy / length, near * length, v0, sigma)
        first, least = (
            0,
            FAR,
        )  # where he could be soonest against the ball, and s in hand there over the doubt, at the least
        for q in range(LANE_POINTS):
            px, py = bx + (q + 1.0) * sx, by + (q + 1.0) * sy
            early = (behind + quickest(players, j, x, y, vx, vy, px, py, constants.intercept_reach) - ball[q]) / doubt[
                q
            ]
            if early < least:
                first, least = q, early
        if least > LANE_SURE:
            continue
        px, py = bx + (first + 1.0) * sx, by + (first + 1.0) * sy
        least = (behind + quick(players, j, x, y, vx, vy, px, py, constants.intercept_reach) - ball[first]) / doubt[
            first
        ]
        for q in range(LANE_POINTS):
            if q != first:
                px, py = bx + (q + 1.0) * sx, by + (q + 1.0) * sy
                if (
                    behind + quickest(players, j, x, y, vx, vy, px, py, constants.intercept_reach) - ball[q]
                    < least * doubt[q]
                ):
                    need = behind + quick(players, j, x, y, vx, vy, px, py, constants.intercept_reach)
                    least = min(least, (need - ball[q]) / doubt[q])
        chance *= 1.0 / (1.0 + math.exp(-least))
        if chance < floor:
            break
    return chance


@njit(cache=True)
def nearest_opponent_place(pitch, i, x, y):
    """(x, y) of the player of the picture nearest to a point who is not on player i's side of the ball and may play (far off if
    nobody)."""
    players, play = pitch.players, pitch.play
    best, px, py = FAR, x + FAR * play.frame_x, y
    mine = with_ball(pitch, i)
    for j in range(len(players)):
        if j != i and with_ball(pitch, j) != mine and players[j].style != WAIT:
            gap = square(players[j].seen_x - x) + square(players[j].seen_y - y)
            if gap < best:
                best, px, py = gap, players[j].seen_x, players[j].seen_y
    return px, py


@njit(cache=True)
def nearest_opponent(pitch, i, x, y):
    """Distance (m) from (x, y) to that player."""
    px, py = nearest_opponent_place(pitch, i, x, y)
    return math.sqrt(square(px - x) + square(py - y))


@njit(cache=True)
def room_at(pitch, i, x, y, t):
    """Distance (m) from (x, y) to player i's nearest opponent at time t (takes a picture)."""
    players = pitch.players
    take_in(players, t, False)
    return nearest_opponent(pitch, i, x, y)


@njit(cache=True)
def nearest_two(pitch, i, x, y):
    """Distances (m) from (x, y) to the nearest opponent of player i and to the nearest player on his side of the ball."""
    players = pitch.players
    theirs, ours = FAR * FAR, FAR
    mine = with_ball(pitch, i)
    for j in range(len(players)):
        if j != i and players[j].style != WAIT:
            gap = square(players[j].seen_x - x) + square(players[j].seen_y - y)
            if with_ball(pitch, j) == mine:
                ours = min(ours, gap)
            else:
                theirs = min(theirs, gap)
    return math.sqrt(theirs), math.sqrt(ours)


@njit(cache=True)
def edge_point(pitch, i, u):
    """The point a share u (from 0, going round once at 1) along the inset border of player i's zone."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    hx = 0.5 * (players[i].east - players[i].west) - constants.edge_inset
    hy = 0.5 * (players[i].north - players[i].south) - constants.edge_inset
    w = (u - math.floor(u)) * 4.0 * (hx + hy)
    if w < 2.0 * hx:
        x, y = -hx + w, hy
    elif w < 2.0 * (hx + hy):
        x, y = hx, hy - (w - 2.0 * hx)
    elif w < 4.0 * hx + 2.0 * hy:
        x, y = hx - (w - 2.0 * (hx + hy)), -hy
    else:
        x, y = -hx, -hy + (w - 4.0 * hx - 2.0 * hy)
    return 0.5 * (players[i].west + players[i].east) + play.frame_x * x, 0.5 * (
        players[i].south + players[i].north
    ) + play.frame_y * y


@njit(cache=True)
def shape_point(pitch, i, bx, by):
    """Where a free player belongs when his side has the ball: his place in the shape, shifted with the ball."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    cx, cy = 0.5 * (players[i].west + players[i].east), 0.5 * (players[i].south + players[i].north)
    hx, hy = 0.5 * (players[i].east - players[i].west), 0.5 * (players[i].north - players[i].south)
    x = cx + constants.spread_attack * players[i].depth * hx * play.frame_x * players[i].shape_x
    y = cy + constants.spread_attack * players[i].width * hy * play.frame_y * players[i].shape_y
    if play.aim != KEEP:
        x += constants.ball_shift * (clip(bx, players[i].west, players[i].east) - cx) * (1.0 - abs(players[i].shape_x))
        y += (
            constants.ball_shift * (clip(by, players[i].south, players[i].north) - cy) * (1.0 - abs(players[i].shape_y))
        )
    if play.aim == SCORE:
        x += constants.attack_lean * (play.goal_x - x)
        y += constants.attack_lean * (play.goal_y - y)
    return into_zone(players, i, x, y, 0.5)


@njit(cache=True)
def into_zone(players, i, x, y, inset):
    """The nearest point of player i's zone, at least `inset` metres inside it (half the zone at most)."""
    ix = min(inset, 0.5 * (players[i].east - players[i].west))
    iy = min(inset, 0.5 * (players[i].north - players[i].south))
    return clip(x, players[i].west + ix, players[i].east - ix), clip(y, players[i].south + iy, players[i].north - iy)


@njit(cache=True)
def off_the_spot(pitch, i, x, y):
    """The place of player i's zone that is `start_room` off the spot of the restart (and as much more as he may stop short of it):
    straight away from it by way of (x, y), or towards the middle of his zone where that leaves more room."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    sx, sy, room = play.spot_x, play.spot_y, constants.start_room + constants.deadband
    cx, cy = 0.5 * (players[i].west + players[i].east) - sx, 0.5 * (players[i].south + players[i].north) - sy
    middle = math.sqrt(cx * cx + cy * cy) + 1e-9
    px, py = into_zone(players, i, sx + room * cx / middle, sy + room * cy / middle, 0.3)
    gap = math.sqrt(square(x - sx) + square(y - sy))
    if gap < 1e-6:
        return px, py
    qx, qy = into_zone(players, i, sx + room * (x - sx) / gap, sy + room * (y - sy) / gap, 0.3)
    further = square(px - sx) + square(py - sy) > square(qx - sx) + square(qy - sy) + 1e-9
    return (px, py) if further else (qx, qy)


@njit(cache=True)
def stand_back(pitch, i, x, y, px, py):
    """(px, py, hurry): where player i, now at (x, y) and on his way to (px, py), goes while an opponent takes a restart: off the
    spot first, at a run, then round it, and to a place off it."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    sx, sy, room = play.spot_x, play.spot_y, constants.start_room + constants.deadband
    here = math.sqrt(square(x - sx) + square(y - sy))
    if here < constants.start_room:
        qx, qy = off_the_spot(pitch, i, x, y)
        return qx, qy, True
    there = math.sqrt(square(px - sx) + square(py - sy))
    if there < room:
        qx, qy = off_the_spot(pitch, i, px, py)
        return qx, qy, False
    gx, gy = px - x, py - y
    gap = gx * gx + gy * gy + 1e-9
    along = clip(((sx - x) * gx + (sy - y) * gy) / gap, 0.0, 1.0)
    if square(x + along * gx - sx) + square(y + along * gy - sy) >= square(room):
        return px, py, False
    ux, uy = (x - sx) / here + (px - sx) / there, (y - sy) / here + (py - sy) / there
    size = math.sqrt(ux * ux + uy * uy)
    if size < 1e-6:
        return x, y, False
    far = ROOT_2 * room
    qx, qy = into_zone(players, i, sx + far * ux / size, sy + far * uy / size, 0.3)
    return qx, qy, False


@njit(cache=True)
def allowed_time(constants, factor, distance):
    """Seconds a move may take when the ball is `distance` metres from where it ends."""
    return factor * (distance / mean_pass_speed(distance) + constants.hold_expected)


@njit(cache=True)
def move(pitch, i, now, start, px, py, factor, cap, bx, by):
    """Go to (px, py) by the law of urgency, no faster than `cap`, or let it be when it is not worth it."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    x, y, vx, vy = where(players, i, start)
    gap = math.sqrt(square(px - x) + square(py - y))
    if gap < constants.deadband and vx * vx + vy * vy < 0.25:
        return
    ball = math.sqrt(square(px - bx) + square(py - by))
    speed = clip(players[i].drive * gap / allowed_time(constants, factor, ball), players[i].drive * constants.walk, cap)
    go(pitch, i, now, start, px, py, speed, min(1.0, constants.effort * players[i].drive), False)
