"""Keeping the ball: what that is worth against a pass, and where a carrier takes it (compiled)."""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.arrays import EDGE, GOAL, KEEP, NOBODY, WAIT
from sim.pitch.border import NEVER, leads_out, within_lines
from sim.pitch.moves import Course, clip, go, where
from sim.pitch.numerics import SMALL
from sim.pitch.passing import soonest
from sim.pitch.perception import take_in, with_ball
from sim.pitch.positions import into_zone


@njit(cache=True)
def open_ground(pitch, c, x, y, t):
    """0-1: how open the way to the aim is for carrier c at (x, y): 0 with an outfield opponent goal-side within two metres,
    1 with none within eight; 0 where the ball is only to be kept."""
    constants = pitch.constants
    if pitch.play.aim == KEEP:
        return 0.0
    nearest = nearest_before(pitch, x, y, t, NOBODY)
    return clip((nearest - constants.open_from) / (constants.open_fully - constants.open_from), 0.0, 1.0)


@njit(cache=True)
def nearest_before(pitch, x, y, t, but):
    """Metres from (x, y) to the nearest outfield opponent who is nearer to the goal than that, leaving out player `but`."""
    players, play = pitch.players, pitch.play
    mine = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y))
    nearest = NEVER
    for j in range(len(players)):
        if j == but or with_ball(pitch, j) or players[j].style == WAIT or players[j].style == GOAL:
            continue
        ox, oy, _, _ = where(players, j, t)
        if math.sqrt(square(play.goal_x - ox) + square(play.goal_y - oy)) < mine:
            nearest = min(nearest, math.sqrt(square(ox - x) + square(oy - y)))
    return nearest


@njit(cache=True)
def worth_of_keeping(pitch, c, t):
    """What a pass must be worth to be played: the worth of being as free as the carrier is now (more with open ground towards the
    aim), which falls with the time he has had the ball."""
    players, constants = pitch.players, pitch.constants
    x, y, _, _ = where(players, c, t)
    take_in(players, t, False)
    onward = 1.0 - math.exp(-soonest(pitch, x, y, constants.tackle_reach) / constants.next_time)
    ahead = open_ground(pitch, c, x, y, t)
    keeping = (
        constants.release_worth
        * (1.0 - constants.next_weight * (1.0 - onward))
        * (1.0 + constants.progress_weight * ahead)
    )
    keeping *= 1.0 + constants.patience * (0.5 - players[c].tempo)
    return keeping - constants.release_fall * (t - pitch.ball.received_at) * (1.0 - ahead)


@njit(cache=True)
def away_from_opponents(pitch, x, y, t):
    """(ux, uy): the push of all opponents on a carrier at (x, y), the stronger the nearer they are."""
    players = pitch.players
    ux, uy = 0.0, 0.0
    for j in range(len(players)):
        if not with_ball(pitch, j) and players[j].style != WAIT:
            ox, oy, _, _ = where(players, j, t)
            gap = square(x - ox) + square(y - oy) + pitch.constants.carry_soft
            ux += (x - ox) / gap
            uy += (y - oy) / gap
    return ux, uy


@njit(cache=True)
def step_away(pitch, c, t):
    """The carrier takes the ball a step away from who presses him; who plays on a line as far as the line lets him."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    ux, uy = away_from_opponents(pitch, x, y, t)
    size = math.sqrt(ux * ux + uy * uy) + SMALL
    px, py = x + constants.turn_step * ux / size, y + constants.turn_step * uy / size
    px, py = into_zone(players, c, px, py, constants.turn_inset)
    if within_lines(play, px, py, 0.0):
        go(pitch, c, t, t, Course(px, py, constants.dribble, constants.carry_effort, False))


@njit(cache=True)
def way_on(pitch, c, x, y, ahead, t):
    """(ux, uy): which way a carrier at (x, y) takes the ball, and how strongly: away from opponents, towards the aim, the more so
    with open ground `ahead` (0-1), and towards the middle of his zone."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    ux, uy = away_from_opponents(pitch, x, y, t)
    if play.aim != KEEP:
        reach = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y)) + SMALL
        drive = constants.carry_aim + constants.carry_aim_open * ahead
        ux += drive * (play.goal_x - x) / reach
        uy += drive * (play.goal_y - y) / reach
    cx, cy = 0.5 * (players[c].west + players[c].east), 0.5 * (players[c].south + players[c].north)
    ux += constants.carry_centre * (cx - x) / square(play.spacing)
    uy += constants.carry_centre * (cy - y) / square(play.spacing)
    return ux, uy


@njit(cache=True)
def place_to_carry_to(pitch, c, px, py, x, y):
    """(px, py), or as near to it as carrier c at (x, y) may take the ball: nobody carries it over the line."""
    play = pitch.play
    px, py = into_zone(pitch.players, c, px, py, pitch.constants.carry_inset)
    px = clip(px, play.west + play.run_off, play.east - play.run_off)
    py = clip(py, play.south + play.run_off, play.north - play.run_off)
    if not within_lines(play, px, py, 0.0):
        return x, y
    return px, py


@njit(cache=True)
def carry(pitch, c, t):
    """The carrier takes the ball away from the nearest opponent, or on towards the aim, at carrying speed, and the more on the way
    he goes already, the faster he is; on his way over a line he pulls up as hard as he can."""
    players, constants = pitch.players, pitch.constants
    if players[c].style == EDGE:
        return
    x, y, vx, vy = where(players, c, t)
    ahead = open_ground(pitch, c, x, y, t)
    ux, uy = way_on(pitch, c, x, y, ahead, t)
    ux, uy = ux + constants.carry_way * vx, uy + constants.carry_way * vy
    size = math.sqrt(ux * ux + uy * uy) + SMALL
    speed = max(constants.dribble, min(math.sqrt(vx * vx + vy * vy), constants.touch_cap))
    speed += ahead * max(0.0, constants.open_share * players[c].top_speed - speed)
    far = constants.carry_on + constants.carry_on_time * speed
    px, py = place_to_carry_to(pitch, c, x + far * ux / size, y + far * uy / size, x, y)
    out = leads_out(pitch.play, x, y, vx, vy, constants.line_ahead)
    effort = 1.0 if out else constants.carry_effort
    go(pitch, c, t, t, Course(px, py, speed, effort, False))


@njit(cache=True)
def take_on(pitch, c, t):
    """A receiver takes the ball on the move, and the move goes on; who plays on a line soon stands with it."""
    constants = pitch.constants
    if pitch.players[c].style != EDGE:
        carry(pitch, c, t)
        return
    x, y, vx, vy = where(pitch.players, c, t)
    px, py = x + constants.touch_run * vx, y + constants.touch_run * vy
    go(pitch, c, t, t, Course(px, py, constants.touch_cap, constants.touch_effort, False))
