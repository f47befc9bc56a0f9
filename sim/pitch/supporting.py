"""Where players offer themselves whose side has the ball: along a line, or inside (compiled).

What is worth more is made faster: a run that gains much is made up to four times as fast as one that gains nothing.
"""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit, square
from sim.pitch.arrays import KEEP, SUPPORT
from sim.pitch.defending import through_on_goal
from sim.pitch.moves import clip, draw, draw_normal
from sim.pitch.numerics import FAR, SMALL, TURN, distance
from sim.pitch.passing_lanes import USUAL_PACE, Strike, lane_chance
from sim.pitch.perception import nearest_opponent, nearest_opponent_place, nearest_two
from sim.pitch.positions import beat, edge_point, into_zone, shape_point
from sim.pitch.prizes import way_into, zone_to_be_in
from sim.pitch.runs import Run, ordinary_push, urgent_run
from sim.pitch.zones import is_in, is_offside_place
from sim.streams import stream_index

RUN = stream_index("run")
EDGE_STEPS = 2  # places a player on a line weighs beside his own: that many to either side, half a beat apart
AROUND = 6  # places a free player weighs around him
OFFERS = AROUND + 2  # and where he is, and his own in the shape


@njit(cache=True)
def lane_to(pitch, situation, x, y, floor):
    """Chance (0-1) that a usual pass from the ball to (x, y) gets there; see `sim.pitch.passing_lanes.lane_chance`."""
    return lane_chance(pitch, Strike(situation.ball_x, situation.ball_y, USUAL_PACE), 0.0, x, y, floor)


@njit(cache=True)
def worth_on_line(pitch, situation, x, y):
    """What a place on the line is worth before the lane to it is looked at: room there, less the way to it."""
    play, constants = pitch.play, pitch.constants
    theirs, ours = nearest_two(pitch, situation.player, x, y)
    worth = constants.edge_apart * min(1.0, ours / play.spacing)
    worth += constants.edge_room * min(1.0, theirs / play.spacing)
    way = distance(situation.x, situation.y, x, y)
    return worth - constants.edge_move_cost * way / min(play.spacing, constants.edge_spacing)


@njit(cache=True)
def best_on_line(pitch, situation):
    """(x, y) on the border, within the player's own beat, from which the ball can best be had."""
    players, constants, i = pitch.players, pitch.constants, situation.player
    x, y = situation.x, situation.y
    half = 0.5 * beat(pitch, i)
    sx, sy = edge_point(pitch, i, players[i].slot)
    cx, cy = edge_point(pitch, i, players[i].slot + half)
    step = square(cx - sx) + square(cy - sy) + SMALL
    best, px, py = -FAR, x, y
    for q in range(-EDGE_STEPS - 1, EDGE_STEPS + 1):
        here = q < -EDGE_STEPS
        if here:
            cx, cy = x, y
        else:
            cx, cy = edge_point(pitch, i, players[i].slot + q * half)
        worth = worth_on_line(pitch, situation, cx, cy)
        if here:
            worth += constants.stay_worth - constants.edge_stray * (square(x - sx) + square(y - sy)) / step
        else:
            worth -= constants.edge_stray * q * q
        worth += constants.run_noise * draw_normal(players, i, RUN)
        if worth + 1.0 > best:  # the lane, which costs most, is looked at only where it can matter
            worth += lane_to(pitch, situation, cx, cy, best - worth)
        if worth > best:
            best, px, py = worth, cx, cy
    return px, py


@njit(cache=True)
def worth_inside(pitch, situation, x, y, sx, sy, ahead):
    """What a place inside is worth before the lane to it is looked at: free of opponents, spread, near the own one (sx, sy), and
    with the way to goal open (`ahead`) nearer to it."""
    play, constants, i = pitch.play, pitch.constants, situation.player
    spacing = play.spacing
    theirs, ours = nearest_two(pitch, i, x, y)
    worth = constants.support_room * min(1.0, theirs / (constants.support_room_full * spacing))
    worth += constants.support_apart * min(1.0, ours / spacing)
    pull = constants.held_pull if pitch.players[i].fixed else constants.pull
    if ahead:
        gain = distance(situation.x, situation.y, play.goal_x, play.goal_y) - distance(x, y, play.goal_x, play.goal_y)
        worth += constants.run_ahead * gain / spacing
    worth -= pull * distance(x, y, sx, sy) / spacing
    return worth - constants.move_cost * distance(situation.x, situation.y, x, y) / spacing


@njit(cache=True)
def offers_inside(pitch, situation, xs, ys, worths):
    """Writes the places a free player weighs, and what they are worth without the lane: where he is, his own, six around him."""
    players, play, constants, i = pitch.players, pitch.play, pitch.constants, situation.player
    x, y = situation.x, situation.y
    sx, sy = shape_point(pitch, i, situation.ball_x, situation.ball_y)
    radius = (
        play.spacing
        * (constants.support_near + constants.support_range * draw(players, i, RUN))
        * (constants.held_radius if players[i].fixed else 1.0)
    )
    turn = TURN * draw(players, i, RUN)
    ahead = through_on_goal(pitch, situation.ball_x, situation.ball_y)
    marked = nearest_opponent(pitch, i, x, y) / (constants.marked_within * play.spacing)
    zone = zone_to_be_in(pitch, i, situation.ball_x, situation.ball_y) if play.prizes_in_use > 0 else -1
    for q in range(OFFERS):
        if q == 0:
            cx, cy = x, y
        elif q == 1:
            cx, cy = sx, sy
        else:
            angle = turn + TURN * q / AROUND
            cx = x + radius * play.frame_x * math.sin(angle)
            cy = y + radius * play.frame_y * math.cos(angle)
            cx, cy = into_zone(players, i, cx, cy, constants.run_inset)
            if q == OFFERS - 1 and zone >= 0:
                cx, cy = way_into(pitch, i, zone, x, y)
        worth = worth_inside(pitch, situation, cx, cy, sx, sy, ahead)
        if q == 0:
            worth -= constants.marked_cost * max(0.0, 1.0 - marked)
        worth += worth_by_lines(pitch, zone, i, cx, cy)
        xs[q], ys[q], worths[q] = cx, cy, worth + constants.run_noise * draw_normal(players, i, RUN)


@njit(cache=True)
def worth_by_lines(pitch, zone, i, x, y):
    """What a place is worth for the lines inside the area: in the zone of a prize (-1: none) more, and offside less."""
    play, constants = pitch.play, pitch.constants
    worth = 0.0
    if zone >= 0 and is_in(play.prizes[zone], x, y, 0.0):
        worth += constants.zone_worth
    if play.offside_in_use > 0 and is_offside_place(pitch, i, x, y):
        worth -= constants.offside_cost
    return worth


@njit(cache=True)
def best_of(worths):
    """The place in the list of what is worth most (of equals the first)."""
    most = 0
    for q in range(1, len(worths)):
        if worths[q] > worths[most]:
            most = q
    return most


@njit(cache=True, makes_arrays=True)
def best_inside(pitch, situation):
    """(x, y, gain): where inside the zone the ball can best be had (free of opponents, spread, near the player's place), and how
    much more that is worth than where he is (beyond `run_gain` only that it is)."""
    lane = pitch.constants.support_lane
    offers = np.empty((3, OFFERS))
    xs, ys, worths = offers[0], offers[1], offers[2]
    offers_inside(pitch, situation, xs, ys, worths)
    best, px, py = -FAR, situation.x, situation.y
    here, judged = worths[0], False
    for _ in range(OFFERS):  # the lane costs most to judge: the likeliest first, the others only while they can matter
        q = best_of(worths)
        worth = worths[q]
        if worth + lane <= best:
            break
        worth += lane * lane_to(pitch, situation, xs[q], ys[q], (best - worth) / lane)
        if worth > best:
            best, px, py = worth, xs[q], ys[q]
            if q == 0:
                here, judged = worth, True
        worths[q] = -FAR
    full = best - pitch.constants.run_gain  # if staying is worth less than this, it matters no more how much less
    if not judged and here + lane > full:
        here += lane * lane_to(pitch, situation, situation.x, situation.y, (full - here) / lane)
    return px, py, best - here


@njit(cache=True)
def support_run(pitch, situation, place, factor):
    """The run to a place where he offers himself; quicker where more than the ball is wanted: for some seconds after
    a win, and while his side is through on goal."""
    player, play, constants = pitch.players[situation.player], pitch.play, pitch.constants
    cap = constants.run_cap
    won = situation.now - play.lost_at < constants.transition_window and play.aim != KEEP
    if won or through_on_goal(pitch, situation.ball_x, situation.ball_y):
        factor, cap = constants.urgency_transition, max(cap, constants.transition_cap)
    return urgent_run(pitch, situation, SUPPORT, player.marks, place, factor, cap * player.top_speed)


@njit(cache=True)
def support_on_line(pitch, situation):
    """Offer himself along the line he plays on."""
    return support_run(pitch, situation, best_on_line(pitch, situation), pitch.constants.urgency_attack)


@njit(cache=True)
def way_round(pitch, situation, ux, uy):
    """Which way round the ball, (ux, uy) away from it, a player without hurry moves on: +1 or -1, turning left or right about it;
    the way he goes already, or who stands, away from his nearest opponent."""
    play, constants = pitch.play, pitch.constants
    hx, hy = situation.vx, situation.vy
    if square(hx) + square(hy) < square(constants.stands_below):
        ox, oy = nearest_opponent_place(pitch, situation.player, situation.x, situation.y)
        hx, hy = situation.x - ox, situation.y - oy
    left = play.frame_x * play.frame_y  # in a mirror the other way round
    return left if left * (ux * hy - uy * hx) >= 0.0 else -left


@njit(cache=True)
def drift(pitch, situation):
    """Nowhere is better, and he keeps moving for another angle: across the line from the ball, and back where his zone ends."""
    players, constants, i = pitch.players, pitch.constants, situation.player
    x, y = situation.x, situation.y
    ux, uy = x - situation.ball_x, y - situation.ball_y
    way = constants.drift * constants.drift_for * way_round(pitch, situation, ux, uy)
    way /= math.sqrt(ux * ux + uy * uy) + SMALL
    px, py = into_zone(players, i, x - way * uy, y + way * ux, constants.run_inset)
    if distance(x, y, px, py) < constants.deadband:
        px, py = into_zone(players, i, x + way * uy, y - way * ux, constants.run_inset)
    push = ordinary_push(pitch, i, constants.drift)
    return Run(SUPPORT, players[i].marks, True, px, py, constants.drift, push, False)


@njit(cache=True)
def support_inside(pitch, situation):
    """Offer himself inside his zone."""
    constants = pitch.constants
    px, py, gain = best_inside(pitch, situation)
    idle = square(situation.vx) + square(situation.vy) < square(constants.walk)
    if idle and distance(situation.x, situation.y, px, py) < constants.deadband:
        return drift(pitch, situation)
    factor = constants.urgency_attack * 2.0 ** (1.0 - 2.0 * clip(gain / constants.run_gain, 0.0, 1.0))
    return support_run(pitch, situation, (px, py), factor)
