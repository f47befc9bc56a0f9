"""Where players without the ball go: offering on the edge or inside, travelling to their zone, waiting (compiled)."""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit, square
from sim.pitch.assumptions import (
    DEAD_PACE,
    DEADBAND,
    EDGE_BEAT,
    EDGE_INSET,
    EDGE_MOVE_COST,
    EDGE_SPACING,
    HELD_PULL,
    HELD_RADIUS,
    MOVE_COST,
    PULL,
    REPLAN,
    RUN_CAP,
    RUN_GAIN,
    STAY_WORTH,
    TRANSITION_CAP,
    TRANSITION_WINDOW,
    URGENCY_ATTACK,
    URGENCY_TRANSITION,
    WALK,
)
from sim.pitch.columns import (
    AIM,
    DEAD,
    DUTY,
    EDGE,
    FIXED,
    FRAME_X,
    FRAME_Y,
    FREE,
    GOAL,
    GX,
    GY,
    KEEP,
    LIVE_AT,
    LOST,
    MIND,
    MODE,
    NONE,
    SLOT,
    SPACING,
    SPREAD,
    STYLE,
    SUPPORT,
    VMAX,
    WAIT,
    ZX0,
    ZX1,
    ZY0,
    ZY1,
)
from sim.pitch.defending import can_defend, defend, keep_goal
from sim.pitch.ground import (
    FAR,
    allowed_time,
    ball_at,
    edge_point,
    into_zone,
    lane_chance,
    move,
    nearest_opponent,
    nearest_two,
    shape_point,
    stand_back,
    take_in,
    with_ball,
)
from sim.pitch.moves import clip, draw, draw_normal, go, where
from sim.streams import stream_index

RUN = stream_index("run")
REPLANNING = stream_index("replan")
OFFERS = 8  # places a free player weighs: where he is, his own in the shape, and six around him


@njit(cache=True)
def offer_on_edge(P, M, B, C, K, N, i, start, bx, by):
    """(x, y) on the border, within the player's own beat, from which the ball can best be had."""
    round_m = 2.0 * ((P[i, ZX1] - P[i, ZX0]) + (P[i, ZY1] - P[i, ZY0]))  # each axis by itself: as exact in a mirror
    beat = min(0.4 * P[i, SPREAD], C[EDGE_BEAT] / round_m)
    x, y, _, _ = where(P, M, i, start)
    best, px, py = -FAR, x, y
    sx, sy = edge_point(P, B, C, i, P[i, SLOT])
    cx, cy = edge_point(P, B, C, i, P[i, SLOT] + 0.5 * beat)
    step = square(cx - sx) + square(cy - sy) + 1e-9
    for q in range(-3, 3):
        if q == -3:
            cx, cy = x, y
        else:
            cx, cy = edge_point(P, B, C, i, P[i, SLOT] + 0.5 * q * beat)
        theirs, ours = nearest_two(P, B, i, cx, cy)
        worth = 0.25 * min(1.0, ours / B[SPACING])
        worth += 0.35 * min(1.0, theirs / B[SPACING])
        worth -= C[EDGE_MOVE_COST] * math.sqrt(square(cx - x) + square(cy - y)) / min(B[SPACING], C[EDGE_SPACING])
        if q == -3:
            worth += C[STAY_WORTH] - 0.05 * (square(x - sx) + square(y - sy)) / step
        else:
            worth -= 0.05 * q * q
        worth += 0.08 * draw_normal(K, N, i, RUN)
        if worth + 1.0 > best:  # the lane, which costs most, is looked at only where it can matter
            worth += lane_chance(P, B, C, bx, by, cx, cy, 1.0, 0.0, best - worth)
        if worth > best:
            best, px, py = worth, cx, cy
    return px, py


@njit(cache=True, makes_arrays=True)
def offer_free(P, M, B, C, K, N, i, start, bx, by):
    """(x, y, gain): where inside the zone the ball can best be had (free of opponents, spread, near the player's place), and how
    much more that is worth than where he is (beyond `run_gain` only that it is)."""
    x, y, _, _ = where(P, M, i, start)
    sx, sy = shape_point(P, B, C, i, bx, by)
    spacing = B[SPACING]
    held = P[i, FIXED] == 1.0
    radius = spacing * (0.25 + 0.45 * draw(K, N, i, RUN)) * (C[HELD_RADIUS] if held else 1.0)
    turn = 6.283185307179586 * draw(K, N, i, RUN)
    marked = nearest_opponent(P, B, i, x, y) / (0.45 * spacing)
    places = np.empty((OFFERS, 3))
    for q in range(OFFERS):
        if q == 0:
            cx, cy = x, y
        elif q == 1:
            cx, cy = sx, sy
        else:
            angle = turn + 6.283185307179586 * q / 6.0
            cx = x + radius * B[FRAME_X] * math.sin(angle)
            cy = y + radius * B[FRAME_Y] * math.cos(angle)
            cx, cy = into_zone(P, i, cx, cy, 0.3)
        theirs, ours = nearest_two(P, B, i, cx, cy)
        worth = 0.5 * min(1.0, theirs / (0.5 * spacing))
        worth += 0.3 * min(1.0, ours / spacing)
        worth -= (C[HELD_PULL] if held else C[PULL]) * math.sqrt(square(cx - sx) + square(cy - sy)) / spacing
        worth -= C[MOVE_COST] * math.sqrt(square(cx - x) + square(cy - y)) / spacing
        if q == 0:
            worth -= 0.4 * max(0.0, 1.0 - marked)
        places[q, 0], places[q, 1], places[q, 2] = cx, cy, worth + 0.08 * draw_normal(K, N, i, RUN)
    best, px, py = -FAR, x, y
    here, judged = places[0, 2], False
    for _ in range(
        OFFERS
    ):  # the lane costs most to judge: the likeliest places first, the others only while they can matter
        q = 0
        for other in range(1, OFFERS):
            if places[other, 2] > places[q, 2]:
                q = other
        cx, cy, worth = places[q, 0], places[q, 1], places[q, 2]
        if worth + 0.9 <= best:
            break
        worth += 0.9 * lane_chance(P, B, C, bx, by, cx, cy, 1.0, 0.0, (best - worth) / 0.9)
        if worth > best:
            best, px, py = worth, cx, cy
            if q == 0:
                here, judged = worth, True
        places[q, 2] = -FAR
    full = best - C[RUN_GAIN]  # if staying is worth less than this, it matters no more how much less
    if not judged and here + 0.9 > full:
        here += 0.9 * lane_chance(P, B, C, bx, by, x, y, 1.0, 0.0, (full - here) / 0.9)
    return px, py, best - here


@njit(cache=True)
def think_again(P, C, K, N, i, t):
    """Player i, who has just thought, does so again by himself 0.6 to 1.4 mean times after t, unless something happens first."""
    P[i, MIND] = t + C[REPLAN] * (0.6 + 0.8 * draw(K, N, i, REPLANNING))


@njit(cache=True)
def think(P, M, B, C, K, N, G, count, i, now, start):
    """Player i, without the ball and not racing for it, decides where to go from time `start` on."""
    x, y, _, _ = where(P, M, i, start)
    bx, by = ball_at(P, M, B, now)
    style = P[i, STYLE]
    take_in(P, M, now, False)
    depth = min(min(x - P[i, ZX0], P[i, ZX1] - x), min(y - P[i, ZY0], P[i, ZY1] - y))  # below 0: outside his zone
    outside = depth < -0.5 or (style == EDGE and depth > C[EDGE_INSET] + 2.0 * C[DEADBAND])
    if B[MODE] == DEAD:
        if style == EDGE:
            px, py = edge_point(P, B, C, i, P[i, SLOT])
        elif style == GOAL:
            px, py = P[i, GX], P[i, GY]
        else:
            px, py = shape_point(P, B, C, i, bx, by)
        if style == FREE and not with_ball(P, B, i):
            px, py, hurry = stand_back(P, B, C, i, x, y, px, py)
            outside = outside or hurry
        gap = math.sqrt(square(px - x) + square(py - y))
        if gap > C[DEADBAND]:
            cap = C[RUN_CAP] * P[i, VMAX] if outside else C[DEAD_PACE]
            speed = clip(gap / max(0.5, B[LIVE_AT] - start - 1.0), C[WALK], cap)
            go(P, M, C, G, count, i, now, start, px, py, speed, 0.6, False)
        return
    if outside and style != GOAL:
        P[i, DUTY] = NONE
        if style == EDGE:
            px, py = edge_point(P, B, C, i, P[i, SLOT])
        elif with_ball(P, B, i) or style == WAIT:
            px, py = shape_point(P, B, C, i, bx, by)
        else:
            px, py = into_zone(P, i, bx, by, 1.0)
        gap = math.sqrt(square(px - x) + square(py - y))
        ball = math.sqrt(square(px - bx) + square(py - by))
        cap = clip(gap / allowed_time(C, C[URGENCY_TRANSITION], ball), C[WALK], 0.95 * P[i, VMAX])
        go(P, M, C, G, count, i, now, start, px, py, C[WALK] if style == WAIT else cap, 1.0, False)
        return
    if style == WAIT:
        px, py = shape_point(P, B, C, i, bx, by)
        if math.sqrt(square(px - x) + square(py - y)) > 2.0 * C[DEADBAND]:
            go(P, M, C, G, count, i, now, start, px, py, C[WALK], 0.5, False)
        return
    if style == GOAL:
        keep_goal(P, M, B, C, G, count, i, now, start, bx, by)
        return
    if with_ball(P, B, i):
        P[i, DUTY] = SUPPORT
        if style == EDGE:
            px, py = offer_on_edge(P, M, B, C, K, N, i, start, bx, by)
            factor = C[URGENCY_ATTACK]
        else:
            px, py, gain = offer_free(P, M, B, C, K, N, i, start, bx, by)
            # What is worth more is made faster.
            factor = C[URGENCY_ATTACK] * 2.0 ** (1.0 - 2.0 * clip(gain / C[RUN_GAIN], 0.0, 1.0))
        cap = C[RUN_CAP]
        if now - B[LOST] < C[TRANSITION_WINDOW] and B[AIM] != KEEP:
            factor, cap = C[URGENCY_TRANSITION], max(cap, C[TRANSITION_CAP])
        move(P, M, B, C, G, count, i, now, start, px, py, factor, cap * P[i, VMAX], bx, by)
        return
    if can_defend(P, B, i, bx, by):
        defend(P, M, B, C, G, count, i, now, start, bx, by)
    else:
        px, py = shape_point(P, B, C, i, bx, by)
        move(P, M, B, C, G, count, i, now, start, px, py, C[URGENCY_ATTACK], C[RUN_CAP] * P[i, VMAX], bx, by)
