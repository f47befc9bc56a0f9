"""Shots at goal: what a carrier thinks of one, and what becomes of it (compiled).

No published constants are used: speed, error, the keeper's reach and blocks are judgements (`sim.pitch.assumptions`).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit, square
from sim.pitch.arrays import GOAL, NOBODY, WAIT
from sim.pitch.moves import clip, draw, draw_lognormal, draw_normal, where
from sim.pitch.numerics import ROOT_2, SMALL
from sim.pitch.perception import with_ball
from sim.streams import stream_index

SHOT = stream_index("shot")
KEEPER = stream_index("keeper")
GOAL_SCORED, SAVED, MISSED, BLOCKED = range(4)


class Shot(NamedTuple):
    """What becomes of a shot: its result, when (s), where the ball then is (m), and who stopped it (-1: nobody)."""

    result: int
    when: float
    x: float
    y: float
    stopper: int


@njit(cache=True)
def ahead_of_goal(play, x, y):
    """Metres by which (x, y) lies in front of the line of the attacked goal; below 0: behind it, where its mouth does not look."""
    return play.goal_facing * (y - play.goal_y if play.goal_sideways else x - play.goal_x)


@njit(cache=True)
def in_the_line(constants, along, off, until):
    """Whether a body so far along a shot and so far off its line (m) is in its way, `until` being where the shot ends."""
    return constants.shot_past < along < until and off < constants.shot_body + constants.shot_body_grows * along


@njit(cache=True)
def keeps_that_goal(pitch, j):
    """Whether opponent j keeps the goal that is attacked."""
    player, play = pitch.players[j], pitch.play
    return player.style == GOAL and player.goal_x == play.goal_x and player.goal_y == play.goal_y


@njit(cache=True)
def from_the_middle(play, x, y):
    """Metres of (x, y) from the middle of the attacked goal, along its line."""
    return x - play.goal_x if play.goal_sideways else y - play.goal_y


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
    if length < constants.point_blank:
        return 1.0
    half = 0.5 * play.goal_width
    straight = abs(gy if play.goal_sideways else gx)
    spread = constants.shot_error * length * length / max(straight, constants.shot_flat * length)
    aimed = constants.shot_aim * half
    shut = -half
    through = 1.0
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == WAIT:
            continue
        ox, oy, _, _ = where(players, j, t)
        if players[j].style == GOAL:
            if keeps_that_goal(pitch, j):
                late = max(0.0, length / constants.shot_speed - players[j].reaction)
                shut = constants.keeper_reach + constants.keeper_speed * late - abs(from_the_middle(play, ox, oy))
            continue
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if in_the_line(constants, along, off, length):
            through *= 1.0 - constants.shot_block
    over = math.erf((half - aimed) / (spread * ROOT_2))
    under = math.erf((min(max(shut, -half), half) - aimed) / (spread * ROOT_2))
    return 0.5 * (over - under) * through


@njit(cache=True)
def keeper_of(pitch, t):
    """(who keeps the attacked goal (-1: nobody), how far he is off its middle, along its line)."""
    players = pitch.players
    keeper, offset = NOBODY, 0.0
    for j in range(len(players)):
        if not with_ball(pitch, j) and keeps_that_goal(pitch, j):
            x, y, _, _ = where(players, j, t)
            keeper, offset = j, from_the_middle(pitch.play, x, y)
    return keeper, offset


@njit(cache=True)
def struck(pitch, c, x, y, offset):
    """(metres from the middle of the goal where a shot by c from (x, y) is to cross its line, m/s): at the side that a keeper
    `offset` metres off the middle leaves, with the errors of the shot."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    half = 0.5 * play.goal_width
    frame = play.frame_x if play.goal_sideways else play.frame_y
    side = frame if draw(players, c, SHOT) < 0.5 else -frame
    if abs(offset) > constants.keeper_off:
        side = -1.0 if offset > 0.0 else 1.0
    length = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y)) + SMALL
    across = constants.shot_aim * half * side + frame * length * constants.shot_error * draw_normal(players, c, SHOT)
    drawn = 1.0 + constants.shot_speed_sd * draw_normal(players, c, SHOT)
    return across, constants.shot_speed * clip(drawn, constants.shot_speed_least, constants.shot_speed_most)


@njit(cache=True)
def saved(pitch, keeper, across, offset, flight):
    """Whether the keeper gets to a shot that comes `across` metres from the middle of the goal after `flight` seconds."""
    players, constants = pitch.players, pitch.constants
    half = 0.5 * pitch.play.goal_width
    if keeper < 0 or abs(across) > half + constants.keeper_tries:
        return False
    reaction = draw_lognormal(players, keeper, KEEPER, players[keeper].reaction, players[keeper].reaction_sd)
    reach = constants.keeper_reach + constants.keeper_speed * max(0.0, flight - reaction)
    return abs(across - offset) <= reach and abs(across) <= half


@njit(cache=True)
def shoot(pitch, c, t):
    """Carrier c shoots at time t, at the side the keeper leaves: what becomes of it."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    keeper, offset = keeper_of(pitch, t)
    across, speed = struck(pitch, c, x, y, offset)
    ex = play.goal_x + (across if play.goal_sideways else 0.0)
    ey = play.goal_y + (0.0 if play.goal_sideways else across)
    gx, gy = ex - x, ey - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    flight = length / speed
    if saved(pitch, keeper, across, offset, flight):
        shot = Shot(SAVED, t + flight, ex, ey, keeper)
    else:
        shot = Shot(GOAL_SCORED if abs(across) <= 0.5 * play.goal_width else MISSED, t + flight, ex, ey, NOBODY)
    nearest = length
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == GOAL or players[j].style == WAIT:
            continue
        ox, oy, _, _ = where(players, j, t)
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if in_the_line(constants, along, off, nearest) and draw(players, j, SHOT) < constants.shot_block:
            nearest = along
            shot = Shot(BLOCKED, t + along / speed, x + gx * along / length, y + gy * along / length, j)
    return shot
