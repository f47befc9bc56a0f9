"""Taking a man on: who stands before the carrier, whether to go past him, and the run that does (compiled)."""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.compiled import njit
from sim.pitch.arrays import EDGE, GOAL, NOBODY, SCORE, WAIT
from sim.pitch.border import NEVER
from sim.pitch.carrying import nearest_before, place_to_carry_to
from sim.pitch.moves import Course, clip, go, where
from sim.pitch.numerics import SMALL, distance
from sim.pitch.perception import with_ball


class Opponent(NamedTuple):
    """Whom a carrier could take on: who he is (-1: nobody), and how far from the carrier the next one behind him is (m)."""

    who: int
    next_gap: float


@njit(cache=True)
def man_before(pitch, c, x, y, t):
    """The opponent between carrier c at (x, y) and the goal who is near enough to be taken on."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    who, nearest = NOBODY, constants.past_within
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == WAIT or players[j].style == GOAL or players[j].spared:
            continue
        ox, oy, _, _ = where(players, j, t)
        gap = distance(x, y, ox, oy)
        if gap < nearest and (ox - x) * gx + (oy - y) * gy > constants.past_before * gap * length:
            who, nearest = j, gap
    if who < 0 or players[who].busy_until > t:
        return Opponent(NOBODY, NEVER)
    return Opponent(who, nearest_before(pitch, x, y, t, who))


@njit(cache=True)
def past_chance(pitch, c, j):
    """Chance (0-1) that carrier c gets past defender j whom he takes on: by their skill."""
    logit = (
        math.log(pitch.constants.past / (1.0 - pitch.constants.past)) + pitch.players[c].duel - pitch.players[j].duel
    )
    return 1.0 / (1.0 + math.exp(-logit))


@njit(cache=True)
def past_worth(pitch, man):
    """What it is worth to be past him: more with open ground behind him, and more still with nobody but the keeper."""
    constants = pitch.constants
    ahead = clip((man.next_gap - constants.open_from) / (constants.open_fully - constants.open_from), 0.0, 1.0)
    worth = constants.release_worth * (1.0 + constants.progress_weight * ahead)
    return worth * (1.0 + constants.past_last) if man.next_gap >= NEVER else worth


@njit(cache=True)
def can_take_on(pitch, c, far):
    """Whether carrier c, `far` metres from goal, may take a man on at all: there is a goal to go to, and he may be tackled."""
    player = pitch.players[c]
    plays = player.style != GOAL and player.style != EDGE and not player.spared
    return plays and pitch.play.aim == SCORE and far < pitch.constants.past_from


@njit(cache=True)
def go_past(pitch, c, j, t):
    """Carrier c runs past defender j, on the side on which j is not."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    ox, oy, _, _ = where(players, j, t)
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    ux, uy = gx / length, gy / length
    left = play.frame_x * play.frame_y  # in a mirror the other way round
    side = -left if left * (ux * (oy - y) - uy * (ox - x)) > 0.0 else left
    on, wide = constants.past_on, constants.past_wide * side
    wx, wy = x + on * ux - wide * uy, y + on * uy + wide * ux
    px, py = place_to_carry_to(pitch, c, wx, wy, x, y)
    free = px == wx and py == wy  # no line in the way
    if players[c].touch_limit > 0:  # the touch that takes it past him is one of those he has
        pitch.ball.touches += 1.0
    go(pitch, c, t, t, Course(px, py, constants.open_share * players[c].top_speed, 1.0, free))
