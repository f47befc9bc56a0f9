"""Whom a defender covers who does not press, and from where; what he does with nobody to cover (compiled)."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from sim.compiled import njit
from sim.pitch.arrays import COVER, EDGE, GOAL, HELD, KEEP, NOBODY, SCORE
from sim.pitch.defending import alarm_pace, ball_to_come, beaten, can_defend, is_hindmost, is_last_man, tightness
from sim.pitch.moves import clip
from sim.pitch.numerics import FAR, SMALL, distance
from sim.pitch.pairs import tucked_in
from sim.pitch.perception import seen, with_ball
from sim.pitch.positions import into_zone, shape_point
from sim.pitch.runs import Run, ordinary_push, urgent_run


class CoverLine(NamedTuple):
    """A receiver, and the line he is covered on."""

    x: float  # m, where he is
    y: float
    length: float  # m, how far from the ball
    ux: float  # unit vector from him
    uy: float


@njit(cache=True)
def cover_line(pitch, r, bx, by):
    """The line that receiver r is covered on: that of the lane to the ball; where a goal is attacked, turned goal-side, and from
    where he will be a little later."""
    play = pitch.play
    x, y, vx, vy = seen(pitch.players, r)
    if play.aim == SCORE:
        x, y = x + pitch.constants.track_ahead * vx, y + pitch.constants.track_ahead * vy
    gx, gy = bx - x, by - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    ux, uy = gx / length, gy / length
    if play.aim != KEEP:
        hx, hy = play.goal_x - x, play.goal_y - y
        reach = math.sqrt(hx * hx + hy * hy) + SMALL
        weight = pitch.constants.cover_goal_side if play.aim == SCORE else 1.0
        ux, uy = ux + weight * hx / reach, uy + weight * hy / reach
        size = math.sqrt(ux * ux + uy * uy) + SMALL
        ux, uy = ux / size, uy / size
    return CoverLine(x, y, length, ux, uy)


@njit(cache=True)
def cover_place(pitch, line, tight, bx, by):
    """(x, y) from which a receiver is covered on his line; the nearer to him the more men rather than space are to be marked
    (`tight`, 0-1)."""
    play, constants = pitch.play, pitch.constants
    loose = 2.0 * (1.0 - tight)
    share, most = constants.cover_share, constants.cover_most
    if play.aim == KEEP:  # with no goal to defend, further from him: between two lanes, and in the way of a split pass
        share, most = constants.screen_share, constants.screen_most
    off = clip(loose * share * line.length, constants.tight, max(constants.tight, loose * most))
    px, py = line.x + off * line.ux, line.y + off * line.uy
    if play.aim == SCORE:  # whoever minds a man far from the ball tucks in towards the line from ball to goal
        hx, hy = play.goal_x - bx, play.goal_y - by
        reach = hx * hx + hy * hy + SMALL
        along = clip(((px - bx) * hx + (py - by) * hy) / reach, constants.tuck_least, constants.tuck_most)
        far = clip((line.length - constants.far_man) / constants.far_man, 0.0, 1.0)
        far = far * constants.tuck_in * min(1.0, loose)
        px, py = px + far * (bx + along * hx - px), py + far * (by + along * hy - py)
    return px, py


@njit(cache=True)
def is_to_be_covered(pitch, r):
    """Whether player r of the side with the ball can be passed to: not its holder, nor whom the pass on its way is meant for; a
    keeper only where goals are played at."""
    player, ball = pitch.players[r], pitch.ball
    if not player.may_receive or r == ball.holder or (player.style == GOAL and pitch.play.aim != SCORE):
        return False
    return ball.state == HELD or r != ball.meant_for


@njit(cache=True)
def danger_of(pitch, r, line, bx, by):
    """How dangerous receiver r is (0 to about 2): near the ball, near a goal that is attacked; less on a line from which he may not
    come in."""
    play, constants = pitch.play, pitch.constants
    danger = math.exp(-distance(line.x, line.y, bx, by) / (constants.danger_range * play.spacing))
    if play.aim != KEEP:
        to_goal = distance(line.x, line.y, play.goal_x, play.goal_y)
        danger += constants.danger_goal * math.exp(-to_goal / (constants.danger_goal_range * play.spacing))
    if play.aim == SCORE and pitch.players[r].style == EDGE:
        danger *= constants.outside_danger
    return danger


@njit(cache=True)
def price_covering(pitch, situation, costs, guards, men):
    """Writes what it costs each of these defenders to cover each of these men (guards x men): his way, in lengths of spacing, less
    the danger, and less for the man he has."""
    play, constants = pitch.play, pitch.constants
    bx, by = situation.ball_x, situation.ball_y
    for m in range(costs.shape[1]):
        line = cover_line(pitch, men[m], bx, by)
        relief = constants.danger_weight * danger_of(pitch, men[m], line, bx, by)
        for g in range(costs.shape[0]):
            guard = pitch.players[guards[g]]
            qx, qy = cover_place(pitch, line, tightness(pitch, guards[g], situation.now), bx, by)
            costs[g, m] = distance(guard.seen_x, guard.seen_y, qx, qy) / play.spacing - relief
            if guard.marks == men[m]:
                costs[g, m] -= constants.stick * guard.marking


@njit(cache=True)
def cheapest(costs):
    """(guard, man) of the pair that costs least; -1 for both if none costs less than anything can."""
    best, who, whom = FAR, NOBODY, NOBODY
    for g in range(costs.shape[0]):
        for m in range(costs.shape[1]):
            if costs[g, m] < best:
                best, who, whom = costs[g, m], g, m
    return who, whom


@njit(cache=True)
def left_to_cover(pitch, situation, men, most, many):
    """How many of the first `most` men of the list are covered by `many` guards: where a goal is attacked by more than defend it,
    the least dangerous are struck off the list and left free."""
    bx, by = situation.ball_x, situation.ball_y
    while pitch.play.aim == SCORE and 0 < many < most:
        least, who = FAR, 0
        for m in range(most):
            danger = danger_of(pitch, men[m], cover_line(pitch, men[m], bx, by), bx, by)
            if danger < least:
                least, who = danger, m
        most -= 1
        for m in range(who, most):
            men[m] = men[m + 1]
    return most


@njit(cache=True, makes_arrays=True)
def man_to_cover(pitch, situation, presser):
    """Whom a defender covers (-1: nobody left): pairs are made nearest and most dangerous first.  Where a goal is attacked by more
    than defend it, the least dangerous are left free."""
    players = pitch.players
    listed = np.empty((2, len(players)), np.int64)
    guards, men = listed[0], listed[1]
    many, most = 0, 0
    for r in range(len(players)):
        if with_ball(pitch, r):
            if is_to_be_covered(pitch, r):
                men[most] = r
                most += 1
        elif r != presser and can_defend(pitch, r, situation.ball_x, situation.ball_y):
            guards[many] = r
            many += 1
    most = left_to_cover(pitch, situation, men, most, many)
    costs = np.empty((many, most))
    price_covering(pitch, situation, costs, guards, men)
    for _ in range(min(many, most)):
        who, whom = cheapest(costs)
        if who < 0:  # what is left costs more than anything can
            return NOBODY
        if guards[who] == situation.player:
            return men[whom]
        costs[who, :] = FAR
        costs[:, whom] = FAR
    return NOBODY


@njit(cache=True)
def middle_to_hold(pitch, situation):
    """(x, y) half-way between the ball and the middle of the zone, and half-way from there to the goal where one is attacked."""
    player, play = pitch.players[situation.player], pitch.play
    px = 0.5 * (situation.ball_x + 0.5 * (player.west + player.east))
    py = 0.5 * (situation.ball_y + 0.5 * (player.south + player.north))
    if play.aim != KEEP:
        px, py = 0.5 * (px + play.goal_x), 0.5 * (py + play.goal_y)
    return px, py


@njit(cache=True)
def drawn_in(pitch, px, py, most, level):
    """(px, py), or where he stands for it no further than about `most` metres from the goal: straight towards its middle (`level`
    0), where they would all stand in a heap, or towards its line, in his own lane (1)."""
    play = pitch.play
    dx, dy = px - play.goal_x, py - play.goal_y
    mine = math.sqrt(dx * dx + dy * dy)
    if mine <= most:
        return px, py
    share = most / mine
    if play.goal_sideways:
        across, out = dx, dy
    else:
        across, out = dy, dx
    across *= level + (1.0 - level) * share
    out = level * clip(out, -most, most) + (1.0 - level) * share * out
    if play.goal_sideways:
        return play.goal_x + across, play.goal_y + out
    return play.goal_x + out, play.goal_y + across


@njit(cache=True)
def goal_side_of(pitch, situation, px, py):
    """The place for (px, py) that is goal-side of where the ball will be; for the last man, before it on its way to goal."""
    play, constants = pitch.play, pitch.constants
    bx, by = ball_to_come(pitch, situation.ball_x, situation.ball_y)
    gx, gy = bx - play.goal_x, by - play.goal_y
    far = math.sqrt(gx * gx + gy * gy) + SMALL
    most = max(0.5 * far, far - constants.goal_side_by)
    if far < constants.last_man_within and is_last_man(pitch, situation.player, situation.ball_x, situation.ball_y):
        share = max(0.5, 1.0 - constants.last_man_off / far)
        return play.goal_x + share * gx, play.goal_y + share * gy
    level = constants.goal_side_level
    if is_hindmost(pitch, situation.player, situation.ball_x, situation.ball_y):
        most, level = min(most, far - min(constants.sweep_most, constants.sweep_share * far)), 0.0
    return drawn_in(pitch, px, py, most, level)


@njit(cache=True)
def place_of_cover(pitch, situation, whom, presser, tight):
    """(x, y) from which a defender covers receiver `whom` (-1: holds the middle): nearer to his own place the more zonally he
    plays, and first of all on the right side of the ball."""
    player, play, constants = pitch.players[situation.player], pitch.play, pitch.constants
    bx, by = situation.ball_x, situation.ball_y
    if whom >= 0:
        px, py = cover_place(pitch, cover_line(pitch, whom, bx, by), tight, bx, by)
    else:
        px, py = middle_to_hold(pitch, situation)
    px, py = tucked_in(pitch, situation.player, presser, px, py, bx, by)
    own = max(constants.fixed_share * player.fixed, constants.zonal_share * max(0.0, 1.0 - 2.0 * tight))
    if own > 0.0:
        sx, sy = shape_point(pitch, situation.player, bx, by)
        px, py = px + own * (sx - px), py + own * (sy - py)
    if play.aim == SCORE:
        px, py = goal_side_of(pitch, situation, px, py)
    if beaten(play, situation.x, situation.y, bx, by):
        px, py = px + constants.recover * (play.goal_x - px), py + constants.recover * (play.goal_y - py)
    return into_zone(pitch.players, situation.player, px, py, constants.run_inset)


@njit(cache=True)
def tracking_pace(pitch, situation, whom):
    """m/s that a defender needs to go with his man, receiver `whom`, who runs at an attacked goal and is not well behind him; 0 if
    there is nobody to go with."""
    constants, play = pitch.constants, pitch.play
    if whom < 0 or play.aim != SCORE:
        return 0.0
    x, y, vx, vy = seen(pitch.players, whom)
    gx, gy = play.goal_x - x, play.goal_y - y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    gains = (vx * gx + vy * gy) / length
    behind = distance(situation.x, situation.y, play.goal_x, play.goal_y) - length + constants.goal_side_by
    if gains <= 0.0 or behind <= 0.0:
        return 0.0
    top = pitch.players[situation.player].top_speed
    most = min(constants.recover_cap * top, max(constants.run_cap * top, gains + constants.track_gain))
    return min(gains + behind / constants.track_time, most)


@njit(cache=True)
def recovery_run(pitch, situation, whom, place, pace):
    """The run of a beaten defender to where receiver `whom` (-1: nobody) is covered from: at `pace` (m/s) where that is far enough
    off to be reached so, slower near it, but no slower than he needs to go with his man."""
    player, constants = pitch.players[situation.player], pitch.constants
    by_the_way = distance(situation.x, situation.y, place[0], place[1]) / constants.sprint_time
    pace = min(pace, max(constants.run_cap * player.top_speed, by_the_way))
    needed = tracking_pace(pitch, situation, whom)
    return Run(COVER, whom, True, place[0], place[1], max(pace, needed), 1.0, False)


@njit(cache=True)
def cover(pitch, situation, whom, presser):
    """Go where receiver `whom` is covered from (-1: hold the middle): with him if he runs at goal, and faster if beaten."""
    player, constants = pitch.players[situation.player], pitch.constants
    place = place_of_cover(pitch, situation, whom, presser, tightness(pitch, situation.player, situation.now))
    cap, sprint = constants.run_cap * player.top_speed, alarm_pace(pitch, situation)
    factor = (
        constants.urgency_defence
        * (constants.zonal_ease - constants.marking_haste * player.marking)
        * (constants.contain_ease - constants.pressing_haste * player.pressing)
    )
    if situation.now - pitch.play.lost_at < max(constants.transition_window, player.win_back):
        factor, cap = constants.urgency_transition, max(cap, constants.transition_cap * player.top_speed)
        sprint = max(sprint, cap)
    bx, by = ball_to_come(pitch, situation.ball_x, situation.ball_y)
    if beaten(pitch.play, situation.x, situation.y, bx, by):
        return recovery_run(pitch, situation, whom, place, sprint)
    needed = tracking_pace(pitch, situation, whom)
    run = urgent_run(pitch, situation, COVER, whom, place, factor, cap)
    if needed <= run.cap:
        return run
    push = ordinary_push(pitch, situation.player, needed)
    return Run(COVER, whom, True, place[0], place[1], needed, push, True)
