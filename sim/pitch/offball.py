"""Where players without the ball go: offering on the edge or inside, travelling to their zone, waiting (compiled)."""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit, square
from sim.pitch.arrays import DEAD, EDGE, FREE, GOAL, KEEP, NONE, SUPPORT, WAIT
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
def offer_on_edge(pitch, i, start, bx, by):
    """(x, y) on the border, within the player's own beat, from which the ball can best be had."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    round_m = 2.0 * (
        (players[i].east - players[i].west) + (players[i].north - players[i].south)
    )  # each axis by itself: as exact in a mirror
    beat = min(0.4 * players[i].share, constants.edge_beat / round_m)
    x, y, _, _ = where(players, i, start)
    best, px, py = -FAR, x, y
    sx, sy = edge_point(pitch, i, players[i].slot)
    cx, cy = edge_point(pitch, i, players[i].slot + 0.5 * beat)
    step = square(cx - sx) + square(cy - sy) + 1e-9
    for q in range(-3, 3):
        if q == -3:
            cx, cy = x, y
        else:
            cx, cy = edge_point(pitch, i, players[i].slot + 0.5 * q * beat)
        theirs, ours = nearest_two(pitch, i, cx, cy)
        worth = 0.25 * min(1.0, ours / play.spacing)
        worth += 0.35 * min(1.0, theirs / play.spacing)
        worth -= (
            constants.edge_move_cost
            * math.sqrt(square(cx - x) + square(cy - y))
            / min(play.spacing, constants.edge_spacing)
        )
        if q == -3:
            worth += constants.stay_worth - 0.05 * (square(x - sx) + square(y - sy)) / step
        else:
            worth -= 0.05 * q * q
        worth += 0.08 * draw_normal(players, i, RUN)
        if worth + 1.0 > best:  # the lane, which costs most, is looked at only where it can matter
            worth += lane_chance(pitch, bx, by, cx, cy, 1.0, 0.0, best - worth)
        if worth > best:
            best, px, py = worth, cx, cy
    return px, py


@njit(cache=True, makes_arrays=True)
def offer_free(pitch, i, start, bx, by):
    """(x, y, gain): where inside the zone the ball can best be had (free of opponents, spread, near the player's place), and how
    much more that is worth than where he is (beyond `run_gain` only that it is)."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, i, start)
    sx, sy = shape_point(pitch, i, bx, by)
    spacing = play.spacing
    held = players[i].fixed
    radius = spacing * (0.25 + 0.45 * draw(players, i, RUN)) * (constants.held_radius if held else 1.0)
    turn = 6.283185307179586 * draw(players, i, RUN)
    marked = nearest_opponent(pitch, i, x, y) / (0.45 * spacing)
    places = np.empty((OFFERS, 3))
    for q in range(OFFERS):
        if q == 0:
            cx, cy = x, y
        elif q == 1:
            cx, cy = sx, sy
        else:
            angle = turn + 6.283185307179586 * q / 6.0
            cx = x + radius * play.frame_x * math.sin(angle)
            cy = y + radius * play.frame_y * math.cos(angle)
            cx, cy = into_zone(players, i, cx, cy, 0.3)
        theirs, ours = nearest_two(pitch, i, cx, cy)
        worth = 0.5 * min(1.0, theirs / (0.5 * spacing))
        worth += 0.3 * min(1.0, ours / spacing)
        worth -= (
            (constants.held_pull if held else constants.pull) * math.sqrt(square(cx - sx) + square(cy - sy)) / spacing
        )
        worth -= constants.move_cost * math.sqrt(square(cx - x) + square(cy - y)) / spacing
        if q == 0:
            worth -= 0.4 * max(0.0, 1.0 - marked)
        places[q, 0], places[q, 1], places[q, 2] = cx, cy, worth + 0.08 * draw_normal(players, i, RUN)
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
        worth += 0.9 * lane_chance(pitch, bx, by, cx, cy, 1.0, 0.0, (best - worth) / 0.9)
        if worth > best:
            best, px, py = worth, cx, cy
            if q == 0:
                here, judged = worth, True
        places[q, 2] = -FAR
    full = best - constants.run_gain  # if staying is worth less than this, it matters no more how much less
    if not judged and here + 0.9 > full:
        here += 0.9 * lane_chance(pitch, bx, by, x, y, 1.0, 0.0, (full - here) / 0.9)
    return px, py, best - here


@njit(cache=True)
def think_again(pitch, i, t):
    """Player i, who has just thought, does so again by himself 0.6 to 1.4 mean times after t, unless something happens first."""
    players, constants = pitch.players, pitch.constants
    players[i].replans_at = t + constants.replan * (0.6 + 0.8 * draw(players, i, REPLANNING))


@njit(cache=True)
def think(pitch, i, now, start):
    """Player i, without the ball and not racing for it, decides where to go from time `start` on."""
    players, ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    x, y, _, _ = where(players, i, start)
    bx, by = ball_at(pitch, now)
    style = players[i].style
    take_in(players, now, False)
    depth = min(
        min(x - players[i].west, players[i].east - x), min(y - players[i].south, players[i].north - y)
    )  # below 0: outside his zone
    outside = depth < -0.5 or (style == EDGE and depth > constants.edge_inset + 2.0 * constants.deadband)
    if ball.state == DEAD:
        if style == EDGE:
            px, py = edge_point(pitch, i, players[i].slot)
        elif style == GOAL:
            px, py = players[i].goal_x, players[i].goal_y
        else:
            px, py = shape_point(pitch, i, bx, by)
        if style == FREE and not with_ball(pitch, i):
            px, py, hurry = stand_back(pitch, i, x, y, px, py)
            outside = outside or hurry
        gap = math.sqrt(square(px - x) + square(py - y))
        if gap > constants.deadband:
            cap = constants.run_cap * players[i].top_speed if outside else constants.dead_pace
            speed = clip(gap / max(0.5, play.live_at - start - 1.0), constants.walk, cap)
            go(pitch, i, now, start, px, py, speed, 0.6, False)
        return
    if outside and style != GOAL:
        players[i].duty = NONE
        if style == EDGE:
            px, py = edge_point(pitch, i, players[i].slot)
        elif with_ball(pitch, i) or style == WAIT:
            px, py = shape_point(pitch, i, bx, by)
        else:
            px, py = into_zone(players, i, bx, by, 1.0)
        gap = math.sqrt(square(px - x) + square(py - y))
        ball = math.sqrt(square(px - bx) + square(py - by))
        cap = clip(
            gap / allowed_time(constants, constants.urgency_transition, ball),
            constants.walk,
            0.95 * players[i].top_speed,
        )
        go(pitch, i, now, start, px, py, constants.walk if style == WAIT else cap, 1.0, False)
        return
    if style == WAIT:
        px, py = shape_point(pitch, i, bx, by)
        if math.sqrt(square(px - x) + square(py - y)) > 2.0 * constants.deadband:
            go(pitch, i, now, start, px, py, constants.walk, 0.5, False)
        return
    if style == GOAL:
        keep_goal(pitch, i, now, start, bx, by)
        return
    if with_ball(pitch, i):
        players[i].duty = SUPPORT
        if style == EDGE:
            px, py = offer_on_edge(pitch, i, start, bx, by)
            factor = constants.urgency_attack
        else:
            px, py, gain = offer_free(pitch, i, start, bx, by)
            # What is worth more is made faster.
            factor = constants.urgency_attack * 2.0 ** (1.0 - 2.0 * clip(gain / constants.run_gain, 0.0, 1.0))
        cap = constants.run_cap
        if now - play.lost_at < constants.transition_window and play.aim != KEEP:
            factor, cap = constants.urgency_transition, max(cap, constants.transition_cap)
        move(pitch, i, now, start, px, py, factor, cap * players[i].top_speed, bx, by)
        return
    if can_defend(pitch, i, bx, by):
        defend(pitch, i, now, start, bx, by)
    else:
        px, py = shape_point(pitch, i, bx, by)
        move(pitch, i, now, start, px, py, constants.urgency_attack, constants.run_cap * players[i].top_speed, bx, by)
