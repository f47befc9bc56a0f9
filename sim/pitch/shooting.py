"""Shots at goal: what a carrier thinks of one, and what becomes of it (compiled).

No published constants are used: speed, error, the keeper's reach and blocks are judgements (`sim.pitch.assumptions`).
"""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.assumptions import (
    KEEPER_REACH,
    KEEPER_SPEED,
    SHOT_BLOCK,
    SHOT_ERROR,
    SHOT_SPEED,
)
from sim.pitch.columns import (
    AG_FACING,
    AG_SIDEWAYS,
    AGW,
    AGX,
    AGY,
    FRAME_X,
    FRAME_Y,
    GOAL,
    GX,
    GY,
    REACT,
    REACT_SD,
    STYLE,
    WAIT,
)
from sim.pitch.ground import with_ball
from sim.pitch.moves import clip, draw, draw_lognormal, draw_normal, where
from sim.streams import stream_index

SHOT = stream_index("shot")
KEEPER = stream_index("keeper")
GOAL_SCORED, SAVED, MISSED, BLOCKED = 0.0, 1.0, 2.0, 3.0


@njit(cache=True)
def ahead_of_goal(B, x, y):
    """Metres by which (x, y) lies in front of the line of the attacked goal; below 0: behind it, where its mouth does not look."""
    return B[AG_FACING] * (y - B[AGY] if B[AG_SIDEWAYS] != 0.0 else x - B[AGX])


@njit(cache=True)
def goal_chance(P, M, B, C, c, t):
    """Judged chance that a shot by c now is a goal: aim at the freer side, keeper's reach, bodies in the line; none from behind
    the goal."""
    x, y, _, _ = where(P, M, c, t)
    if ahead_of_goal(B, x, y) <= 0.0:
        return 0.0
    gx, gy = B[AGX] - x, B[AGY] - y
    length = math.sqrt(gx * gx + gy * gy)
    if length < 0.5:
        return 1.0
    sideways = B[AG_SIDEWAYS] != 0.0
    half = 0.5 * B[AGW]
    spread = C[SHOT_ERROR] * length * length / max(abs(gy if sideways else gx), 0.3 * length)
    aimed = 0.6 * half
    shut = -half
    through = 1.0
    for j in range(P.shape[0]):
        if with_ball(P, B, j) or P[j, STYLE] == WAIT:
            continue
        ox, oy, _, _ = where(P, M, j, t)
        if P[j, STYLE] == GOAL:
            if P[j, GX] == B[AGX] and P[j, GY] == B[AGY]:
                reach = C[KEEPER_REACH] + C[KEEPER_SPEED] * max(0.0, length / C[SHOT_SPEED] - P[j, REACT])
                shut = reach - abs(ox - B[AGX] if sideways else oy - B[AGY])
            continue
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if 0.3 < along < length and off < 0.35 + 0.06 * along:
            through *= 1.0 - C[SHOT_BLOCK]
    over = math.erf((half - aimed) / (spread * 1.4142135623730951))
    under = math.erf((min(max(shut, -half), half) - aimed) / (spread * 1.4142135623730951))
    return 0.5 * (over - under) * through


@njit(cache=True)
def shoot(P, M, B, C, K, N, c, t, out):
    """Carrier c shoots at time t, at the side the keeper leaves.

    out: 0 what happens (GOAL_SCORED, SAVED, MISSED, BLOCKED), 1 when, 2-3 where the ball then is, 4 who stopped it (-1).
    """
    x, y, _, _ = where(P, M, c, t)
    sideways = B[AG_SIDEWAYS] != 0.0
    half = 0.5 * B[AGW]
    keeper, offset = -1, 0.0
    for j in range(P.shape[0]):
        if not with_ball(P, B, j) and P[j, STYLE] == GOAL and P[j, GX] == B[AGX] and P[j, GY] == B[AGY]:
            kx, ky, _, _ = where(P, M, j, t)
            keeper, offset = j, kx - B[AGX] if sideways else ky - B[AGY]
    frame = B[FRAME_X] if sideways else B[FRAME_Y]
    side = frame if draw(K, N, c, SHOT) < 0.5 else -frame
    if abs(offset) > 0.1:
        side = -1.0 if offset > 0.0 else 1.0
    length = math.sqrt(square(B[AGX] - x) + square(B[AGY] - y)) + 1e-9
    across = 0.6 * half * side + frame * length * C[SHOT_ERROR] * draw_normal(K, N, c, SHOT)
    speed = C[SHOT_SPEED] * clip(1.0 + 0.08 * draw_normal(K, N, c, SHOT), 0.6, 1.4)
    ex = B[AGX] + (across if sideways else 0.0)
    ey = B[AGY] + (0.0 if sideways else across)
    gx, gy = ex - x, ey - y
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    flight = length / speed
    out[0] = GOAL_SCORED if abs(across) <= half else MISSED
    out[1], out[2], out[3], out[4] = t + flight, ex, ey, -1.0
    if keeper >= 0 and abs(across) <= half + 0.3:
        reaction = draw_lognormal(K, N, keeper, KEEPER, P[keeper, REACT], P[keeper, REACT_SD])
        reach = C[KEEPER_REACH] + C[KEEPER_SPEED] * max(0.0, flight - reaction)
        if abs(across - offset) <= reach and abs(across) <= half:
            out[0], out[4] = SAVED, keeper
    nearest = length
    for j in range(P.shape[0]):
        if with_ball(P, B, j) or P[j, STYLE] == GOAL or P[j, STYLE] == WAIT:
            continue
        ox, oy, _, _ = where(P, M, j, t)
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if 0.3 < along < nearest and off < 0.35 + 0.06 * along and draw(K, N, j, SHOT) < C[SHOT_BLOCK]:
            nearest = along
            out[0], out[1], out[4] = BLOCKED, t + along / speed, j
            out[2], out[3] = x + gx * along / length, y + gy * along / length
