"""Shots at goal: what a carrier thinks of one, and what becomes of it (compiled).

No published constants are used: speed, error, the keeper's reach and blocks are judgements (`sim.pitch.assumptions`).
"""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.arrays import GOAL, WAIT
from sim.pitch.ground import with_ball
from sim.pitch.moves import clip, draw, draw_lognormal, draw_normal, where
from sim.streams import stream_index

SHOT = stream_index("shot")
KEEPER = stream_index("keeper")
GOAL_SCORED, SAVED, MISSED, BLOCKED = 0.0, 1.0, 2.0, 3.0


@njit(cache=True)
def ahead_of_goal(play, x, y):
    """Metres by which (x, y) lies in front of the line of the attacked goal; below 0: behind it, where its mouth does not look."""
    return play.goal_facing * (y - play.goal_y if play.goal_sideways else x - play.goal_x)


@njit(cache=True)
def goal_chance(pitch, c, t):
    """Judged chance that a shot by c now is a goal: aim at the freer side, keeper's reach, bodies in the line; none from behind
    the goal."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    if ahead_of_goal(play, x, y) <= 0.0:
        return 0.0
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy)
    if length < 0.5:
        return 1.0
    sideways = play.goal_sideways
    half = 0.5 * play.goal_width
    spread = constants.shot_error * length * length / max(abs(gy if sideways else gx), 0.3 * length)
    aimed = 0.6 * half
    shut = -half
    through = 1.0
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == WAIT:
            continue
        ox, oy, _, _ = where(players, j, t)
        if players[j].style == GOAL:
            if players[j].goal_x == play.goal_x and players[j].goal_y == play.goal_y:
                reach = constants.keeper_reach + constants.keeper_speed * max(
                    0.0, length / constants.shot_speed - players[j].reaction
                )
                shut = reach - abs(ox - play.goal_x if sideways else oy - play.goal_y)
            continue
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if 0.3 < along < length and off < 0.35 + 0.06 * along:
            through *= 1.0 - constants.shot_block
    over = math.erf((half - aimed) / (spread * 1.4142135623730951))
    under = math.erf((min(max(shut, -half), half) - aimed) / (spread * 1.4142135623730951))
    return 0.5 * (over - under) * through


@njit(cache=True)
def shoot(pitch, c, t, out):
    """Carrier c shoots at time t, at the side the keeper leaves.

    out: 0 what happens (GOAL_SCORED, SAVED, MISSED, BLOCKED), 1 when, 2-3 where the ball then is, 4 who stopped it (-1).
    """
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    sideways = play.goal_sideways
    half = 0.5 * play.goal_width
    keeper, offset = -1, 0.0
    for j in range(len(players)):
        if (
            not with_ball(pitch, j)
            and players[j].style == GOAL
            and players[j].goal_x == play.goal_x
            and players[j].goal_y == play.goal_y
        ):
            kx, ky, _, _ = where(players, j, t)
            keeper, offset = j, kx - play.goal_x if sideways else ky - play.goal_y
    frame = play.frame_x if sideways else play.frame_y
    side = frame if draw(players, c, SHOT) < 0.5 else -frame
    if abs(offset) > 0.1:
        side = -1.0 if offset > 0.0 else 1.0
    length = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y)) + 1e-9
    across = 0.6 * half * side + frame * length * constants.shot_error * draw_normal(players, c, SHOT)
    speed = constants.shot_speed * clip(1.0 + 0.08 * draw_normal(players, c, SHOT), 0.6, 1.4)
    ex = play.goal_x + (across if sideways else 0.0)
    ey = play.goal_y + (0.0 if sideways else across)
    gx, gy = ex - x, ey - y
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    flight = length / speed
    out[0] = GOAL_SCORED if abs(across) <= half else MISSED
    out[1], out[2], out[3], out[4] = t + flight, ex, ey, -1.0
    if keeper >= 0 and abs(across) <= half + 0.3:
        reaction = draw_lognormal(players, keeper, KEEPER, players[keeper].reaction, players[keeper].reaction_sd)
        reach = constants.keeper_reach + constants.keeper_speed * max(0.0, flight - reaction)
        if abs(across - offset) <= reach and abs(across) <= half:
            out[0], out[4] = SAVED, keeper
    nearest = length
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == GOAL or players[j].style == WAIT:
            continue
        ox, oy, _, _ = where(players, j, t)
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if 0.3 < along < nearest and off < 0.35 + 0.06 * along and draw(players, j, SHOT) < constants.shot_block:
            nearest = along
            out[0], out[1], out[4] = BLOCKED, t + along / speed, j
            out[2], out[3] = x + gx * along / length, y + gy * along / length
