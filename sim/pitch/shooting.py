"""Shots at goal: what a carrier thinks of one, and what becomes of it (compiled).

No published constants are used: speed, error, the keeper's reach and blocks are judgements (`sim.pitch.assumptions`).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit, square
from sim.pitch.arrays import GOAL, NOBODY, WAIT
from sim.pitch.goals import ahead_of_goal
from sim.pitch.moves import clip, draw, draw_lognormal, draw_normal, where
from sim.pitch.numerics import ROOT_2, SMALL
from sim.pitch.perception import pressure, with_ball
from sim.streams import stream_index

SHOT = stream_index("shot")
KEEPER = stream_index("keeper")
USUAL_GOAL_M = 5.0  # the width of goal that the range of shots is given for
GOAL_SCORED, SAVED, MISSED, BLOCKED = range(4)


class Shot(NamedTuple):
    """What becomes of a shot: its result, when (s), where the ball then is (m), and who stopped it (-1: nobody)."""

    result: int
    when: float
    x: float
    y: float
    stopper: int


class Shadow(NamedTuple):
    """What a keeper shuts of the goal, as seen from the ball."""

    keeper: int  # -1: nobody keeps it
    offset: float  # m, of the middle of what he shuts from the middle of the goal, along its line
    wider: float  # his reach on the goal line over that where he stands: more the further out, and the less squarely it is seen
    way: float  # share of the way of a shot until it is at him


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
def shot_error(pitch, c, x, y, t):
    """Standard deviation (rad) of the direction of a shot by c from (x, y): wider the worse the first touch of his population is,
    and the more closely he is pressed there at time t."""
    constants = pitch.constants
    hurried = 1.0 + constants.shot_pressed * pressure(pitch, c, x, y, t)
    return constants.shot_error * hurried * pitch.players[c].touch_level ** constants.shot_error_level


@njit(cache=True)
def rise_error(pitch, c, x, y, t, length):
    """Standard deviation (m) of the height at which such a shot crosses the line of the goal, `length` metres off."""
    return pitch.constants.shot_rise * shot_error(pitch, c, x, y, t) * length


@njit(cache=True)
def shot_speed(pitch, c):
    """Mean speed (m/s) of a shot by c: the slower the worse the first touch of his population is."""
    return pitch.constants.shot_speed * pitch.players[c].touch_level ** -pitch.constants.shot_speed_level


@njit(cache=True)
def within_range(pitch, c, length):
    """0-1: how far a place `length` metres from goal is one that c would shoot from at all; nearer for children than for adults,
    and at a narrower goal."""
    constants = pitch.constants
    most = constants.shot_range * pitch.players[c].touch_level ** -constants.shot_range_level
    most *= (pitch.play.goal_width / USUAL_GOAL_M) ** constants.shot_range_goal
    return 1.0 / (1.0 + math.exp((length - most) / constants.shot_range_soft))


@njit(cache=True)
def squareness(pitch, x, y):
    """How squarely the attacked goal is seen from (x, y): 1 from straight in front, towards 0 along its line, but for a least share
    that an angle is reckoned with."""
    play = pitch.play
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    return max(abs(gy if play.goal_sideways else gx) / length, pitch.constants.shot_flat)


@njit(cache=True)
def shadow_of(pitch, x, y, t):
    """What the keeper of the attacked goal shuts at time t as seen from the ball at (x, y): the more, the nearer to it he is and
    the less squarely the goal is seen; one whom the ball has passed shuts nothing."""
    players, play = pitch.players, pitch.play
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    ux, uy = gx / length, gy / length
    square_on = squareness(pitch, x, y)
    for j in range(len(players)):
        if not with_ball(pitch, j) and keeps_that_goal(pitch, j):
            ox, oy, _, _ = where(players, j, t)
            way = min(1.0, ((ox - x) * ux + (oy - y) * uy) / length)
            if way > pitch.constants.keeper_past:
                off = (oy - y) * ux - (ox - x) * uy  # to the left of the way to goal
                along_line = -uy if play.goal_sideways else ux  # which way that is along the line of the goal
                offset = math.copysign(off, off * along_line) / (way * square_on)
                return Shadow(j, offset, 1.0 / (way * square_on), way)
    return Shadow(NOBODY, 0.0, 1.0, 1.0)


@njit(cache=True)
def goal_chance(pitch, c, x, y, t):
    """Judged chance that a shot by c from (x, y) at time t is a goal: aim at the freer side, under the bar, keeper's reach, bodies
    in the line, which he takes too lightly; none from behind the goal."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    if ahead_of_goal(play, x, y) <= 0.0:
        return 0.0
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy)
    if length < constants.point_blank:
        return 1.0
    half = 0.5 * play.goal_width
    spread = shot_error(pitch, c, x, y, t) * length / squareness(pitch, x, y)
    aimed = constants.shot_aim * half
    shut, through = -half, 1.0
    shadow = shadow_of(pitch, x, y, t)
    if shadow.keeper >= 0:
        late = max(0.0, shadow.way * length / shot_speed(pitch, c) - players[shadow.keeper].reaction)
        shut = shadow.wider * (constants.keeper_reach + constants.keeper_speed * late) - abs(shadow.offset)
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == WAIT or players[j].style == GOAL:
            continue
        ox, oy, _, _ = where(players, j, t)
        along = ((ox - x) * gx + (oy - y) * gy) / length
        off = abs((ox - x) * gy - (oy - y) * gx) / length
        if in_the_line(constants, along, off, length):
            through *= 1.0 - constants.shot_body_judged * constants.shot_block
    beside = math.erf((half - aimed) / (spread * ROOT_2))
    shadowed = math.erf((min(max(shut, -half), half) - aimed) / (spread * ROOT_2))
    room_above = (1.0 - constants.shot_aim_high) * play.goal_height
    under_the_bar = 0.5 * (1.0 + math.erf(room_above / ((rise_error(pitch, c, x, y, t, length) + SMALL) * ROOT_2)))
    return 0.5 * (beside - shadowed) * under_the_bar * through


@njit(cache=True)
def better_nearer(pitch, c, t, chance, ahead):
    """Whether a few metres nearer a shot by c would be better than the `chance` it has now, and the way he runs it is no worse when
    he looks up next; he reckons the less with getting there the less open the ground ahead of him is (`ahead`, 0-1)."""
    constants = pitch.constants
    nx, ny, _, _ = where(pitch.players, c, t + constants.look_interval)
    if goal_chance(pitch, c, nx, ny, t) < chance:
        return False
    x, y, _, _ = where(pitch.players, c, t)
    gx, gy = pitch.play.goal_x - x, pitch.play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    step = min(constants.shot_nearer, 0.5 * length) / length
    nearer = goal_chance(pitch, c, x + step * gx, y + step * gy, t)
    return nearer * (1.0 - constants.shot_nearer_doubt * (1.0 - ahead)) > chance


@njit(cache=True)
def struck(pitch, c, t, offset):
    """(metres from the middle of the goal where a shot by c at time t is to cross its line, metres above the ground, m/s): at the
    side that a keeper leaves whose shadow is `offset` metres off the middle, with the errors of the shot."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    half = 0.5 * play.goal_width
    frame = play.frame_x if play.goal_sideways else play.frame_y
    side = frame if draw(players, c, SHOT) < 0.5 else -frame
    if abs(offset) > constants.keeper_off:
        side = -1.0 if offset > 0.0 else 1.0
    length = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y)) + SMALL
    across = constants.shot_aim * half * side + frame * length * shot_error(pitch, c, x, y, t) * draw_normal(
        players, c, SHOT
    )
    high = constants.shot_aim_high * play.goal_height
    high += rise_error(pitch, c, x, y, t, length) * draw_normal(players, c, SHOT)
    drawn = 1.0 + constants.shot_speed_sd * draw_normal(players, c, SHOT)
    return across, high, shot_speed(pitch, c) * clip(drawn, constants.shot_speed_least, constants.shot_speed_most)


@njit(cache=True)
def saved(pitch, shadow, across, flight):
    """Whether the keeper gets to a shot that would come `across` metres from the middle of the goal after `flight` seconds."""
    players, constants, keeper = pitch.players, pitch.constants, shadow.keeper
    half = 0.5 * pitch.play.goal_width
    if keeper < 0 or abs(across) > half + constants.keeper_tries:
        return False
    reaction = draw_lognormal(players, keeper, KEEPER, players[keeper].reaction, players[keeper].reaction_sd)
    reach = constants.keeper_reach + constants.keeper_speed * max(0.0, shadow.way * flight - reaction)
    return abs(across - shadow.offset) <= shadow.wider * reach and abs(across) <= half


@njit(cache=True)
def shoot(pitch, c, t):
    """Carrier c shoots at time t, at the side the keeper leaves: what becomes of it; wide or over the bar is missed."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    shadow = shadow_of(pitch, x, y, t)
    across, high, speed = struck(pitch, c, t, shadow.offset)
    ex = play.goal_x + (across if play.goal_sideways else 0.0)
    ey = play.goal_y + (0.0 if play.goal_sideways else across)
    gx, gy = ex - x, ey - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    flight = length / speed
    nearest = length
    over = high > play.goal_height
    if not over and saved(pitch, shadow, across, flight):
        nearest *= shadow.way
        shot = Shot(SAVED, t + shadow.way * flight, x + shadow.way * gx, y + shadow.way * gy, shadow.keeper)
    else:
        scored = not over and abs(across) <= 0.5 * play.goal_width
        shot = Shot(GOAL_SCORED if scored else MISSED, t + flight, ex, ey, NOBODY)
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
