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
from sim.pitch.assumptions import (
    ANTICIPATION,
    ATTACK_LEAN,
    BALL_DECELERATION,
    BALL_SHIFT,
    BLOCK_RADIUS,
    DEADBAND,
    EDGE_INSET,
    EFFORT,
    HOLD_EXPECTED,
    INTERCEPT_REACH,
    LANE_DOUBT,
    LUNGE,
    READ_SHARE,
    SPREAD_ATTACK,
    START_ROOM,
    WALK,
)
from sim.pitch.columns import (
    AGX,
    AGY,
    AIM,
    BX,
    BY,
    DEAD,
    DEPTH,
    DRIVE,
    EDGE,
    FLOATER,
    FRAME_X,
    FRAME_Y,
    HELD,
    HOLDER,
    HOLDING,
    KEEP,
    MODE,
    REACT,
    SCORE,
    SEEN_VX,
    SEEN_VY,
    SEEN_X,
    SEEN_Y,
    SHAPEX,
    SHAPEY,
    SIDE,
    SPOT_X,
    SPOT_Y,
    STYLE,
    TX,
    TY,
    VMAX,
    WAIT,
    WIDTH,
    ZX0,
    ZX1,
    ZY0,
    ZY1,
)
from sim.pitch.moves import clip, go, quick, quickest, where

FAR = 1e9
LANE_POINTS = 5
BODY_NEAR_M = 1.5  # a body further from the lane than this is not in the way
STEPPING = 2.0  # m/s, about what a presser moves at while the ball is struck (this and the last: judgement)
ROOT_2 = 1.4142135623730951
LANE_SURE = 7.0  # an opponent who would be this many doubts late would take less than one in a thousand off the chance: left out


@njit(cache=True)
def with_ball(P, B, i):
    """Whether player i's side holds the ball (floaters always do)."""
    return P[i, SIDE] == FLOATER or P[i, SIDE] == B[HOLDING]


@njit(cache=True)
def ball_at(P, M, B, now):
    """(x, y) of the ball as players think of it: at the holder, or where the pass is meant to arrive."""
    if B[MODE] == HELD:
        x, y, _, _ = where(P, M, int(B[HOLDER]), now)
        return x, y
    if B[MODE] == DEAD:
        return B[BX], B[BY]
    return B[TX], B[TY]


@njit(cache=True)
def take_in(P, M, t, blind):
    """Take the picture of where everybody is at time t (P, SEEN columns), from which the functions below answer until the next is
    taken; blind: a glimpse that shows where players were, not where they were going."""
    for j in range(P.shape[0]):
        x, y, vx, vy = where(P, M, j, t)
        P[j, SEEN_X], P[j, SEEN_Y] = x, y
        P[j, SEEN_VX], P[j, SEEN_VY] = (0.0, 0.0) if blind else (vx, vy)


@njit(cache=True)
def seen(P, i):
    """(x, y, vx, vy) of player i in the picture."""
    return P[i, SEEN_X], P[i, SEEN_Y], P[i, SEEN_VX], P[i, SEEN_VY]


@njit(cache=True)
def sooner(P, j, px, py, reach, best):
    """The seconds player j of the picture needs to within reach of a point, or `best` if that is less (often without solving)."""
    x, y, vx, vy = seen(P, j)
    gap = math.sqrt(square(px - x) + square(py - y)) - reach
    if gap > P[j, VMAX] * best + 1e-6:
        return best
    return min(best, quick(P, j, x, y, vx, vy, px, py, reach))


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
def lane_doubts(C, sigma, length):
    """How sure a passer is of a race at each of those points: its logistic scale (s), the wider the further his error may take the
    ball off its line."""
    still, wide = square(C[LANE_DOUBT]), square(sigma * length / (C[LUNGE] * LANE_POINTS))
    return (
        math.sqrt(still + wide),
        math.sqrt(still + 4.0 * wide),
        math.sqrt(still + 9.0 * wide),
        math.sqrt(still + 16.0 * wide),
        math.sqrt(still + 25.0 * wide),
    )


@njit(cache=True)
def past_a_body(C, vx, vy, ex, ey, ux, uy, along, v0, sigma):
    """Chance that a ball struck at v0 gets past a body before its owner can react.

    ex, ey  from him to the nearest point of the lane, which runs along the unit vector (ux, uy) and is there `along` metres long
    sigma   bearing error (rad) the passer allows for; where just the body will be is in doubt, too, right beside the ball excepted
    """
    t = along / v0
    apart = abs((ey - vy * t) * ux - (ex - vx * t) * uy)
    wide = math.sqrt(square(sigma * along) + square(C[LANE_DOUBT] * STEPPING * min(1.0, along))) * ROOT_2
    return 1.0 - 0.5 * (math.erf((apart + C[BLOCK_RADIUS]) / wide) - math.erf((apart - C[BLOCK_RADIUS]) / wide))


@njit(cache=True)
def lane_chance(P, B, C, bx, by, tx, ty, pace, sigma, floor):
    """Judged chance that a ground pass from (bx, by) to (tx, ty) gets past every opponent of the picture.

    pace    speed of the pass over the usual one of its length
    sigma   bearing error (rad) the passer allows for: a ball off its line may run nearer to an opponent
    floor   the chance from which it is of use: what is found to lie below may be returned unfinished
    """
    gx, gy = tx - bx, ty - by
    length = math.sqrt(gx * gx + gy * gy)
    if length < 0.5:
        return 1.0
    a = C[BALL_DECELERATION]
    v0 = launch_speed(length, a, pace)
    ball = lane_times(v0, a, length)
    doubt = lane_doubts(C, sigma, length)
    sx, sy = gx / LANE_POINTS, gy / LANE_POINTS
    read = C[ANTICIPATION] * max(0.0, C[READ_SHARE] - 0.25)  # they will have seen it coming
    chance = 1.0
    for j in range(P.shape[0]):
        if with_ball(P, B, j) or P[j, STYLE] == WAIT or P[j, STYLE] == EDGE:
            continue
        x, y, vx, vy = seen(P, j)
        near = clip(((x - bx) * gx + (y - by) * gy) / (length * length), 0.0, 1.0)
        ex, ey = bx + near * gx - x, by + near * gy - y
        if ex * ex + ey * ey > square(P[j, VMAX] * length / 8.0 + 1.0):
            continue
        behind = P[j, REACT] - read
        if 0.0 < near < 1.0 and near * length < v0 * behind and ex * ex + ey * ey < square(BODY_NEAR_M):
            chance *= past_a_body(C, vx, vy, ex, ey, gx / length, gy / length, near * length, v0, sigma)
        first, least = (
            0,
            FAR,
        )  # where he could be soonest against the ball, and s in hand there over the doubt, at the least
        for q in range(LANE_POINTS):
            px, py = bx + (q + 1.0) * sx, by + (q + 1.0) * sy
            early = (behind + quickest(P, j, x, y, vx, vy, px, py, C[INTERCEPT_REACH]) - ball[q]) / doubt[q]
            if early < least:
                first, least = q, early
        if least > LANE_SURE:
            continue
        px, py = bx + (first + 1.0) * sx, by + (first + 1.0) * sy
        least = (behind + quick(P, j, x, y, vx, vy, px, py, C[INTERCEPT_REACH]) - ball[first]) / doubt[first]
        for q in range(LANE_POINTS):
            if q != first:
                px, py = bx + (q + 1.0) * sx, by + (q + 1.0) * sy
                if behind + quickest(P, j, x, y, vx, vy, px, py, C[INTERCEPT_REACH]) - ball[q] < least * doubt[q]:
                    need = behind + quick(P, j, x, y, vx, vy, px, py, C[INTERCEPT_REACH])
                    least = min(least, (need - ball[q]) / doubt[q])
        chance *= 1.0 / (1.0 + math.exp(-least))
        if chance < floor:
            break
    return chance


@njit(cache=True)
def nearest_opponent_place(P, B, i, x, y):
    """(x, y) of the player of the picture nearest to a point who is not on player i's side of the ball and may play (far off if
    nobody)."""
    best, px, py = FAR, x + FAR * B[FRAME_X], y
    mine = with_ball(P, B, i)
    for j in range(P.shape[0]):
        if j != i and with_ball(P, B, j) != mine and P[j, STYLE] != WAIT:
            gap = square(P[j, SEEN_X] - x) + square(P[j, SEEN_Y] - y)
            if gap < best:
                best, px, py = gap, P[j, SEEN_X], P[j, SEEN_Y]
    return px, py


@njit(cache=True)
def nearest_opponent(P, B, i, x, y):
    """Distance (m) from (x, y) to that player."""
    px, py = nearest_opponent_place(P, B, i, x, y)
    return math.sqrt(square(px - x) + square(py - y))


@njit(cache=True)
def room_at(P, M, B, i, x, y, t):
    """Distance (m) from (x, y) to player i's nearest opponent at time t (takes a picture)."""
    take_in(P, M, t, False)
    return nearest_opponent(P, B, i, x, y)


@njit(cache=True)
def nearest_two(P, B, i, x, y):
    """Distances (m) from (x, y) to the nearest opponent of player i and to the nearest player on his side of the ball."""
    theirs, ours = FAR * FAR, FAR
    mine = with_ball(P, B, i)
    for j in range(P.shape[0]):
        if j != i and P[j, STYLE] != WAIT:
            gap = square(P[j, SEEN_X] - x) + square(P[j, SEEN_Y] - y)
            if with_ball(P, B, j) == mine:
                ours = min(ours, gap)
            else:
                theirs = min(theirs, gap)
    return math.sqrt(theirs), math.sqrt(ours)


@njit(cache=True)
def edge_point(P, B, C, i, u):
    """The point a share u (from 0, going round once at 1) along the inset border of player i's zone."""
    hx = 0.5 * (P[i, ZX1] - P[i, ZX0]) - C[EDGE_INSET]
    hy = 0.5 * (P[i, ZY1] - P[i, ZY0]) - C[EDGE_INSET]
    w = (u - math.floor(u)) * 4.0 * (hx + hy)
    if w < 2.0 * hx:
        x, y = -hx + w, hy
    elif w < 2.0 * (hx + hy):
        x, y = hx, hy - (w - 2.0 * hx)
    elif w < 4.0 * hx + 2.0 * hy:
        x, y = hx - (w - 2.0 * (hx + hy)), -hy
    else:
        x, y = -hx, -hy + (w - 4.0 * hx - 2.0 * hy)
    return 0.5 * (P[i, ZX0] + P[i, ZX1]) + B[FRAME_X] * x, 0.5 * (P[i, ZY0] + P[i, ZY1]) + B[FRAME_Y] * y


@njit(cache=True)
def shape_point(P, B, C, i, bx, by):
    """Where a free player belongs when his side has the ball: his place in the shape, shifted with the ball."""
    cx, cy = 0.5 * (P[i, ZX0] + P[i, ZX1]), 0.5 * (P[i, ZY0] + P[i, ZY1])
    hx, hy = 0.5 * (P[i, ZX1] - P[i, ZX0]), 0.5 * (P[i, ZY1] - P[i, ZY0])
    x = cx + C[SPREAD_ATTACK] * P[i, DEPTH] * hx * B[FRAME_X] * P[i, SHAPEX]
    y = cy + C[SPREAD_ATTACK] * P[i, WIDTH] * hy * B[FRAME_Y] * P[i, SHAPEY]
    if B[AIM] != KEEP:
        x += C[BALL_SHIFT] * (clip(bx, P[i, ZX0], P[i, ZX1]) - cx) * (1.0 - abs(P[i, SHAPEX]))
        y += C[BALL_SHIFT] * (clip(by, P[i, ZY0], P[i, ZY1]) - cy) * (1.0 - abs(P[i, SHAPEY]))
    if B[AIM] == SCORE:
        x += C[ATTACK_LEAN] * (B[AGX] - x)
        y += C[ATTACK_LEAN] * (B[AGY] - y)
    return into_zone(P, i, x, y, 0.5)


@njit(cache=True)
def into_zone(P, i, x, y, inset):
    """The nearest point of player i's zone, at least `inset` metres inside it (half the zone at most)."""
    ix = min(inset, 0.5 * (P[i, ZX1] - P[i, ZX0]))
    iy = min(inset, 0.5 * (P[i, ZY1] - P[i, ZY0]))
    return clip(x, P[i, ZX0] + ix, P[i, ZX1] - ix), clip(y, P[i, ZY0] + iy, P[i, ZY1] - iy)


@njit(cache=True)
def off_the_spot(P, B, C, i, x, y):
    """The place of player i's zone that is `start_room` off the spot of the restart (and as much more as he may stop short of it):
    straight away from it by way of (x, y), or towards the middle of his zone where that leaves more room."""
    sx, sy, room = B[SPOT_X], B[SPOT_Y], C[START_ROOM] + C[DEADBAND]
    cx, cy = 0.5 * (P[i, ZX0] + P[i, ZX1]) - sx, 0.5 * (P[i, ZY0] + P[i, ZY1]) - sy
    middle = math.sqrt(cx * cx + cy * cy) + 1e-9
    px, py = into_zone(P, i, sx + room * cx / middle, sy + room * cy / middle, 0.3)
    gap = math.sqrt(square(x - sx) + square(y - sy))
    if gap < 1e-6:
        return px, py
    qx, qy = into_zone(P, i, sx + room * (x - sx) / gap, sy + room * (y - sy) / gap, 0.3)
    further = square(px - sx) + square(py - sy) > square(qx - sx) + square(qy - sy) + 1e-9
    return (px, py) if further else (qx, qy)


@njit(cache=True)
def stand_back(P, B, C, i, x, y, px, py):
    """(px, py, hurry): where player i, now at (x, y) and on his way to (px, py), goes while an opponent takes a restart: off the
    spot first, at a run, then round it, and to a place off it."""
    sx, sy, room = B[SPOT_X], B[SPOT_Y], C[START_ROOM] + C[DEADBAND]
    here = math.sqrt(square(x - sx) + square(y - sy))
    if here < C[START_ROOM]:
        qx, qy = off_the_spot(P, B, C, i, x, y)
        return qx, qy, True
    there = math.sqrt(square(px - sx) + square(py - sy))
    if there < room:
        qx, qy = off_the_spot(P, B, C, i, px, py)
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
    qx, qy = into_zone(P, i, sx + far * ux / size, sy + far * uy / size, 0.3)
    return qx, qy, False


@njit(cache=True)
def allowed_time(C, factor, distance):
    """Seconds a move may take when the ball is `distance` metres from where it ends."""
    return factor * (distance / mean_pass_speed(distance) + C[HOLD_EXPECTED])


@njit(cache=True)
def move(P, M, B, C, G, count, i, now, start, px, py, factor, cap, bx, by):
    """Go to (px, py) by the law of urgency, no faster than `cap`, or let it be when it is not worth it."""
    x, y, vx, vy = where(P, M, i, start)
    gap = math.sqrt(square(px - x) + square(py - y))
    if gap < C[DEADBAND] and vx * vx + vy * vy < 0.25:
        return
    ball = math.sqrt(square(px - bx) + square(py - by))
    speed = clip(P[i, DRIVE] * gap / allowed_time(C, factor, ball), P[i, DRIVE] * C[WALK], cap)
    go(P, M, C, G, count, i, now, start, px, py, speed, min(1.0, C[EFFORT] * P[i, DRIVE]), False)
