"""What players do whose side has not got the ball: press the carrier, cover a lane, hold the middle, keep goal (compiled)."""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit, square
from sim.pitch.assumptions import (
    COVER_MOST,
    COVER_SHARE,
    EFFORT,
    FAR_MAN,
    GOAL_SIDE,
    HOLD_EXPECTED,
    HUNTING,
    JOIN_TIME,
    OUTSIDE_DANGER,
    OWN_ZONE,
    PRESS_LEAD,
    PRESS_SLACK,
    RECOVER,
    RUN_CAP,
    STAND_OFF,
    STICK,
    TIGHT,
    TRANSITION_CAP,
    TRANSITION_WINDOW,
    TUCK_IN,
    URGENCY_DEFENCE,
    URGENCY_TRANSITION,
    ZONAL_SHARE,
)
from sim.pitch.columns import (
    AGX,
    AGY,
    AIM,
    ARRIVES,
    BUSY,
    COVER,
    DUTY,
    EDGE,
    FIXED,
    FREE,
    GOAL,
    GW,
    GX,
    GY,
    HELD,
    HOLDER,
    KEEP,
    LOST,
    MAN,
    MARKING,
    MEANT,
    MODE,
    OPEN,
    PRESS,
    PRESS_EFFORT,
    PRESSING,
    RECEIVED,
    SCORE,
    SPACING,
    STYLE,
    VMAX,
    WIN_BACK,
    ZX0,
    ZX1,
    ZY0,
    ZY1,
)
from sim.pitch.ground import FAR, into_zone, move, seen, shape_point, with_ball
from sim.pitch.moves import clip, go, quick, where

LEAD_MOST_S = 2.0  # no presser reckons further ahead


@njit(cache=True)
def can_defend(P, B, j, bx, by):
    """Whether player j defends now: not with the ball, free to move, and the ball is in (or at) his zone."""
    if with_ball(P, B, j) or P[j, STYLE] != FREE:
        return False
    return P[j, ZX0] - 2.0 <= bx <= P[j, ZX1] + 2.0 and P[j, ZY0] - 2.0 <= by <= P[j, ZY1] + 2.0


@njit(cache=True)
def hunts(P, B, i, now):
    """Whether defender i was told to hunt the ball for some seconds after a loss, and they are not over."""
    return now - B[LOST] < P[i, WIN_BACK]


@njit(cache=True)
def tightness(P, B, C, i, now):
    """0-1: how far defender i marks men rather than space; tight while his side hunts the ball."""
    if hunts(P, B, i, now):
        return max(P[i, MARKING], C[HUNTING])
    return P[i, MARKING]


@njit(cache=True)
def cover_line(P, B, r, bx, by):
    """(x, y, length, dx, dy): where receiver r is, how far from the ball, and which way from him he is covered: on the lane to the
    ball, goal-side where a goal is attacked."""
    x, y, _, _ = seen(P, r)
    gx, gy = bx - x, by - y
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    ux, uy = gx / length, gy / length
    if B[AIM] != KEEP:
        hx, hy = B[AGX] - x, B[AGY] - y
        reach = math.sqrt(hx * hx + hy * hy) + 1e-9
        ux, uy = ux + hx / reach, uy + hy / reach
        size = math.sqrt(ux * ux + uy * uy) + 1e-9
        ux, uy = ux / size, uy / size
    return x, y, length, ux, uy


@njit(cache=True)
def cover_place(B, C, x, y, length, ux, uy, tight, bx, by):
    """Where a receiver with that line is covered from; the nearer to him the more men rather than space are to be marked."""
    loose = 2.0 * (1.0 - tight)
    off = clip(loose * C[COVER_SHARE] * length, C[TIGHT], max(C[TIGHT], loose * C[COVER_MOST]))
    px, py = x + off * ux, y + off * uy
    if B[AIM] == SCORE:  # whoever minds a man far from the ball tucks in towards the line from ball to goal
        hx, hy = B[AGX] - bx, B[AGY] - by
        reach = hx * hx + hy * hy + 1e-9
        along = clip(((px - bx) * hx + (py - by) * hy) / reach, 0.2, 0.9)
        far = clip((length - C[FAR_MAN]) / C[FAR_MAN], 0.0, 1.0) * C[TUCK_IN] * min(1.0, loose)
        px, py = px + far * (bx + along * hx - px), py + far * (by + along * hy - py)
    return px, py


@njit(cache=True)
def cover_point(P, B, C, i, r, bx, by, now):
    """Where defender i stands to cover receiver r."""
    x, y, length, ux, uy = cover_line(P, B, r, bx, by)
    return cover_place(B, C, x, y, length, ux, uy, tightness(P, B, C, i, now), bx, by)


@njit(cache=True)
def ahead_of(P, B, C, j, bx, by):
    """Where presser j meets a carrier on the move: ahead of him by a share of the time he himself needs to get to him."""
    if B[MODE] != HELD:
        return bx, by
    x, y, vx, vy = seen(P, j)
    lead = C[PRESS_LEAD] * min(quick(P, j, x, y, vx, vy, bx, by, C[STAND_OFF]), LEAD_MOST_S)
    _, _, cx, cy = seen(P, int(B[HOLDER]))
    return into_zone(P, j, bx + lead * cx, by + lead * cy, 0.0)


@njit(cache=True)
def beaten(B, x, y, bx, by):
    """Whether a goal is attacked and a player at (x, y) is no nearer to it than the ball is."""
    if B[AIM] != SCORE:
        return False
    return square(x - B[AGX]) + square(y - B[AGY]) > square(bx - B[AGX]) + square(by - B[AGY])


@njit(cache=True)
def pressers(P, B, C, now, bx, by):
    """(first, second) defender to go to the ball: those who could be there soonest, a present presser favoured; -1 for nobody."""
    best, next_best, who, second = FAR, FAR, -1, -1
    for j in range(P.shape[0]):
        if can_defend(P, B, j, bx, by) and P[j, BUSY] <= now:
            x, y, vx, vy = seen(P, j)
            px, py = ahead_of(P, B, C, j, bx, by)
            need = quick(P, j, x, y, vx, vy, px, py, C[STAND_OFF])
            if P[j, DUTY] == PRESS:
                need -= 0.3
            if P[j, FIXED] == 1.0:
                sx, sy = shape_point(P, B, C, j, bx, by)
                need += C[OWN_ZONE] * math.sqrt(square(sx - bx) + square(sy - by))
            if need < best:
                next_best, second = best, who
                best, who = need, j
            elif need < next_best:
                next_best, second = need, j
    return who, second


@njit(cache=True, makes_arrays=True)
def covered_by(P, B, C, i, presser, now, bx, by):
    """Whom defender i covers (-1: nobody left): pairs are made nearest and most dangerous first."""
    n = P.shape[0]
    spacing = B[SPACING]
    who_is = np.empty((2, n), np.int64)  # guards, men
    guards, men = who_is[0], who_is[1]
    lines = np.empty((n, 6))  # of a man: his line, and how dangerous he is
    many, most = 0, 0
    for r in range(n):
        if not with_ball(P, B, r):
            if r != presser and can_defend(P, B, r, bx, by):
                guards[many] = r
                many += 1
            continue
        if P[r, OPEN] == 0.0 or P[r, STYLE] == GOAL or r == int(B[HOLDER]) or (B[MODE] != HELD and r == int(B[MEANT])):
            continue
        rx, ry, length, ux, uy = cover_line(P, B, r, bx, by)
        lines[most, 0], lines[most, 1], lines[most, 2], lines[most, 3], lines[most, 4] = rx, ry, length, ux, uy
        danger = math.exp(-math.sqrt(square(rx - bx) + square(ry - by)) / (1.2 * spacing))
        if B[AIM] != KEEP:
            danger += 0.6 * math.exp(-math.sqrt(square(rx - B[AGX]) + square(ry - B[AGY])) / (2.0 * spacing))
        if B[AIM] == SCORE and P[r, STYLE] == EDGE:
            danger *= C[OUTSIDE_DANGER]
        lines[most, 5] = danger
        men[most] = r
        most += 1
    costs = np.empty((many, most))
    for g in range(many):
        j = guards[g]
        x, y, _, _ = seen(P, j)
        tight = tightness(P, B, C, j, now)
        for m in range(most):
            qx, qy = cover_place(B, C, lines[m, 0], lines[m, 1], lines[m, 2], lines[m, 3], lines[m, 4], tight, bx, by)
            costs[g, m] = math.sqrt(square(qx - x) + square(qy - y)) / spacing - 0.9 * lines[m, 5]
            if P[j, MAN] == men[m]:
                costs[g, m] -= C[STICK] * P[j, MARKING]
    for _ in range(min(many, most)):
        best, who, whom = FAR, -1, -1
        for g in range(many):
            for m in range(most):
                if costs[g, m] < best:
                    best, who, whom = costs[g, m], g, m
        if who < 0:  # what is left costs more than anything can: row -1 was never filled
            return -1
        if guards[who] == i:
            return men[whom]
        costs[who, :] = FAR
        costs[:, whom] = FAR
    return -1


@njit(cache=True)
def open_lane(P, B, bx, by):
    """The receiver whose lane a presser shuts: the nearest legal one to the ball; -1 for nobody."""
    best, who = FAR, -1
    for r in range(P.shape[0]):
        if with_ball(P, B, r) and P[r, OPEN] != 0.0 and r != int(B[HOLDER]) and r != int(B[MEANT]):
            x, y, _, _ = seen(P, r)
            gap = square(x - bx) + square(y - by)
            if gap < best:
                best, who = gap, r
    return who


@njit(cache=True)
def keenness(P, B, C, i, now):
    """0-1: how far defender i attacks the ball rather than contains; hunting it for the seconds after a loss he was told to."""
    if hunts(P, B, i, now):
        return max(P[i, PRESSING], C[HUNTING])
    return P[i, PRESSING]


@njit(cache=True)
def joins_in(P, B, C, i, now, bx, by):
    """Whether defender i goes for the ball as a second one: keen on it, and soon there."""
    if keenness(P, B, C, i, now) < C[HUNTING]:
        return False
    x, y, vx, vy = seen(P, i)
    return quick(P, i, x, y, vx, vy, bx, by, C[STAND_OFF]) < C[JOIN_TIME]


@njit(cache=True)
def press(P, M, B, C, G, count, i, now, start, bx, by):
    """Close the carrier: arrive a foot's length off (further when containing), on the lane to his nearest receiver, goal-side where
    a goal is attacked; jog when it would be in vain, unless told to attack the ball."""
    keen = keenness(P, B, C, i, now)
    bx, by = ahead_of(P, B, C, i, bx, by)
    stand_off = C[STAND_OFF] * (1.0 + 3.0 * (0.5 - keen) if keen < 0.5 else 1.5 - keen)
    x, y, vx, vy = where(P, M, i, start)
    ux, uy = x - bx, y - by
    gap = math.sqrt(ux * ux + uy * uy) + 1e-9
    ux, uy = ux / gap, uy / gap
    r = open_lane(P, B, bx, by)
    if r >= 0:
        rx, ry, _, _ = seen(P, r)
        size = math.sqrt(square(rx - bx) + square(ry - by)) + 1e-9
        ux, uy = ux + (rx - bx) / size, uy + (ry - by) / size
    if B[AIM] != KEEP:
        size = math.sqrt(square(B[AGX] - bx) + square(B[AGY] - by)) + 1e-9
        ux, uy = ux + C[GOAL_SIDE] * (B[AGX] - bx) / size, uy + C[GOAL_SIDE] * (B[AGY] - by) / size
    size = math.sqrt(ux * ux + uy * uy)
    if size < 1e-6:
        ux, uy = (x - bx) / gap, (y - by) / gap
    else:
        ux, uy = ux / size, uy / size
    px, py = into_zone(P, i, bx + stand_off * ux, by + stand_off * uy, 0.0)
    need = quick(P, i, x, y, vx, vy, px, py, stand_off)
    left = C[HOLD_EXPECTED] + (max(0.0, B[ARRIVES] - start) if B[MODE] != HELD else -(start - B[RECEIVED]))
    if beaten(B, x, y, bx, by) or need < max(left, 0.2) + C[PRESS_SLACK] + 2.0 * (keen - 0.5):
        go(P, M, C, G, count, i, now, start, px, py, FAR, P[i, PRESS_EFFORT], False)
    else:
        cx, cy = into_zone(P, i, 0.5 * (px + x), 0.5 * (py + y), 0.0)
        go(P, M, C, G, count, i, now, start, cx, cy, 2.5, C[EFFORT], False)


@njit(cache=True)
def defend(P, M, B, C, G, count, i, now, start, bx, by):
    """Press, cover a receiver's lane, or hold the middle."""
    presser, second = pressers(P, B, C, now, bx, by)
    if presser == i or (second == i and joins_in(P, B, C, i, now, bx, by)):
        P[i, DUTY], P[i, MAN] = PRESS, -1.0
        press(P, M, B, C, G, count, i, now, start, bx, by)
        return
    P[i, DUTY] = COVER
    cover(P, M, B, C, G, count, i, covered_by(P, B, C, i, presser, now, bx, by), now, start, bx, by)


@njit(cache=True)
def cover(P, M, B, C, G, count, i, whom, now, start, bx, by):
    """Go where receiver `whom` is covered from (-1: hold the middle)."""
    P[i, MAN] = whom
    if whom >= 0:
        px, py = cover_point(P, B, C, i, whom, bx, by, now)
    else:
        px = 0.5 * (bx + 0.5 * (P[i, ZX0] + P[i, ZX1]))
        py = 0.5 * (by + 0.5 * (P[i, ZY0] + P[i, ZY1]))
        if B[AIM] != KEEP:
            px, py = 0.5 * (px + B[AGX]), 0.5 * (py + B[AGY])
    own = max(0.5 * P[i, FIXED], C[ZONAL_SHARE] * max(0.0, 1.0 - 2.0 * tightness(P, B, C, i, now)))
    if own > 0.0:
        sx, sy = shape_point(P, B, C, i, bx, by)
        px, py = px + own * (sx - px), py + own * (sy - py)
    x, y, _, _ = where(P, M, i, start)
    back = beaten(B, x, y, bx, by)
    if back and beaten(B, px, py, bx, by):  # first of all back to the right side of the ball
        px, py = px + C[RECOVER] * (B[AGX] - px), py + C[RECOVER] * (B[AGY] - py)
    px, py = into_zone(P, i, px, py, 0.3)
    cap = C[RUN_CAP] * P[i, VMAX]
    factor = C[URGENCY_DEFENCE] * (1.4 - 0.8 * P[i, MARKING]) * (1.25 - 0.5 * P[i, PRESSING])
    if now - B[LOST] < max(C[TRANSITION_WINDOW], P[i, WIN_BACK]):
        factor, cap = C[URGENCY_TRANSITION], max(cap, C[TRANSITION_CAP] * P[i, VMAX])
    move(P, M, B, C, G, count, i, now, start, px, py, factor, cap, bx, by)


@njit(cache=True)
def keep_goal(P, M, B, C, G, count, i, now, start, bx, by):
    """Between the ball and the goal, further out the further the ball is away; a support when the own side has it."""
    gx, gy = bx - P[i, GX], by - P[i, GY]
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    out = clip(0.08 * length, 0.6, 3.0)
    if with_ball(P, B, i):
        out = clip(0.2 * length, 1.0, 8.0)
    px, py = P[i, GX] + out * gx / length, P[i, GY] + out * gy / length
    if not with_ball(P, B, i):
        half = 0.5 * P[i, GW]
        if P[i, GX] == P[i, ZX0] or P[i, GX] == P[i, ZX1]:  # the mouth of a west or east goal lies along y
            py = clip(py, P[i, GY] - half, P[i, GY] + half)
        else:
            px = clip(px, P[i, GX] - half, P[i, GX] + half)
    move(P, M, B, C, G, count, i, now, start, px, py, C[URGENCY_DEFENCE], C[RUN_CAP] * P[i, VMAX], bx, by)
