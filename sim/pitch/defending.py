"""What players do whose side has not got the ball: press the carrier, cover a lane, hold the middle, keep goal (compiled)."""

from __future__ import annotations

import math

import numpy as np

from sim.compiled import njit, square
from sim.pitch.arrays import COVER, EDGE, FREE, GOAL, HELD, KEEP, PRESS, SCORE
from sim.pitch.ground import FAR, into_zone, move, seen, shape_point, with_ball
from sim.pitch.moves import clip, go, quick, where

LEAD_MOST_S = 2.0  # no presser reckons further ahead


@njit(cache=True)
def can_defend(pitch, j, bx, by):
    """Whether player j defends now: not with the ball, free to move, and the ball is in (or at) his zone."""
    players = pitch.players
    if with_ball(pitch, j) or players[j].style != FREE:
        return False
    return (
        players[j].west - 2.0 <= bx <= players[j].east + 2.0 and players[j].south - 2.0 <= by <= players[j].north + 2.0
    )


@njit(cache=True)
def hunts(pitch, i, now):
    """Whether defender i was told to hunt the ball for some seconds after a loss, and they are not over."""
    players, play = pitch.players, pitch.play
    return now - play.lost_at < players[i].win_back


@njit(cache=True)
def tightness(pitch, i, now):
    """0-1: how far defender i marks men rather than space; tight while his side hunts the ball."""
    players, constants = pitch.players, pitch.constants
    if hunts(pitch, i, now):
        return max(players[i].marking, constants.hunting)
    return players[i].marking


@njit(cache=True)
def cover_line(pitch, r, bx, by):
    """(x, y, length, dx, dy): where receiver r is, how far from the ball, and which way from him he is covered: on the lane to the
    ball, goal-side where a goal is attacked."""
    players, play = pitch.players, pitch.play
    x, y, _, _ = seen(players, r)
    gx, gy = bx - x, by - y
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    ux, uy = gx / length, gy / length
    if play.aim != KEEP:
        hx, hy = play.goal_x - x, play.goal_y - y
        reach = math.sqrt(hx * hx + hy * hy) + 1e-9
        ux, uy = ux + hx / reach, uy + hy / reach
        size = math.sqrt(ux * ux + uy * uy) + 1e-9
        ux, uy = ux / size, uy / size
    return x, y, length, ux, uy


@njit(cache=True)
def cover_place(pitch, x, y, length, ux, uy, tight, bx, by):
    """Where a receiver with that line is covered from; the nearer to him the more men rather than space are to be marked."""
    _ball, play, constants = pitch.ball, pitch.play, pitch.constants
    loose = 2.0 * (1.0 - tight)
    off = clip(
        loose * constants.cover_share * length, constants.tight, max(constants.tight, loose * constants.cover_most)
    )
    px, py = x + off * ux, y + off * uy
    if play.aim == SCORE:  # whoever minds a man far from the ball tucks in towards the line from ball to goal
        hx, hy = play.goal_x - bx, play.goal_y - by
        reach = hx * hx + hy * hy + 1e-9
        along = clip(((px - bx) * hx + (py - by) * hy) / reach, 0.2, 0.9)
        far = clip((length - constants.far_man) / constants.far_man, 0.0, 1.0) * constants.tuck_in * min(1.0, loose)
        px, py = px + far * (bx + along * hx - px), py + far * (by + along * hy - py)
    return px, py


@njit(cache=True)
def cover_point(pitch, i, r, bx, by, now):
    """Where defender i stands to cover receiver r."""
    x, y, length, ux, uy = cover_line(pitch, r, bx, by)
    return cover_place(pitch, x, y, length, ux, uy, tightness(pitch, i, now), bx, by)


@njit(cache=True)
def ahead_of(pitch, j, bx, by):
    """Where presser j meets a carrier on the move: ahead of him by a share of the time he himself needs to get to him."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    if ball.state != HELD:
        return bx, by
    x, y, vx, vy = seen(players, j)
    lead = constants.press_lead * min(quick(players, j, x, y, vx, vy, bx, by, constants.stand_off), LEAD_MOST_S)
    _, _, cx, cy = seen(players, ball.holder)
    return into_zone(players, j, bx + lead * cx, by + lead * cy, 0.0)


@njit(cache=True)
def beaten(play, x, y, bx, by):
    """Whether a goal is attacked and a player at (x, y) is no nearer to it than the ball is."""
    if play.aim != SCORE:
        return False
    return square(x - play.goal_x) + square(y - play.goal_y) > square(bx - play.goal_x) + square(by - play.goal_y)


@njit(cache=True)
def pressers(pitch, now, bx, by):
    """(first, second) defender to go to the ball: those who could be there soonest, a present presser favoured; -1 for nobody."""
    players, constants = pitch.players, pitch.constants
    best, next_best, who, second = FAR, FAR, -1, -1
    for j in range(len(players)):
        if can_defend(pitch, j, bx, by) and players[j].busy_until <= now:
            x, y, vx, vy = seen(players, j)
            px, py = ahead_of(pitch, j, bx, by)
            need = quick(players, j, x, y, vx, vy, px, py, constants.stand_off)
            if players[j].duty == PRESS:
                need -= 0.3
            if players[j].fixed:
                sx, sy = shape_point(pitch, j, bx, by)
                need += constants.own_zone * math.sqrt(square(sx - bx) + square(sy - by))
            if need < best:
                next_best, second = best, who
                best, who = need, j
            elif need < next_best:
                next_best, second = need, j
    return who, second


@njit(cache=True, makes_arrays=True)
def covered_by(pitch, i, presser, now, bx, by):
    """Whom defender i covers (-1: nobody left): pairs are made nearest and most dangerous first."""
    players, ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    n = len(players)
    spacing = play.spacing
    who_is = np.empty((2, n), np.int64)  # guards, men
    guards, men = who_is[0], who_is[1]
    lines = np.empty((n, 6))  # of a man: his line, and how dangerous he is
    many, most = 0, 0
    for r in range(n):
        if not with_ball(pitch, r):
            if r != presser and can_defend(pitch, r, bx, by):
                guards[many] = r
                many += 1
            continue
        if (
            not players[r].may_receive
            or players[r].style == GOAL
            or r == ball.holder
            or (ball.state != HELD and r == ball.meant_for)
        ):
            continue
        rx, ry, length, ux, uy = cover_line(pitch, r, bx, by)
        lines[most, 0], lines[most, 1], lines[most, 2], lines[most, 3], lines[most, 4] = rx, ry, length, ux, uy
        danger = math.exp(-math.sqrt(square(rx - bx) + square(ry - by)) / (1.2 * spacing))
        if play.aim != KEEP:
            danger += 0.6 * math.exp(-math.sqrt(square(rx - play.goal_x) + square(ry - play.goal_y)) / (2.0 * spacing))
        if play.aim == SCORE and players[r].style == EDGE:
            danger *= constants.outside_danger
        lines[most, 5] = danger
        men[most] = r
        most += 1
    costs = np.empty((many, most))
    for g in range(many):
        j = guards[g]
        x, y, _, _ = seen(players, j)
        tight = tightness(pitch, j, now)
        for m in range(most):
            qx, qy = cover_place(pitch, lines[m, 0], lines[m, 1], lines[m, 2], lines[m, 3], lines[m, 4], tight, bx, by)
            costs[g, m] = math.sqrt(square(qx - x) + square(qy - y)) / spacing - 0.9 * lines[m, 5]
            if players[j].marks == men[m]:
                costs[g, m] -= constants.stick * players[j].marking
    for _ in range(min(many, most)):
        best, who, whom = FAR, -1, -1
        for g in range(many):
            for m in range(most):
                if costs[g, m] < best:
                    best, who, whom = costs[g, m], g, m
        if who < 0:  # what is left costs more than anything can: row -1 was never filled
            return -1
        if guards[who] == i:
            return men[whom]
        costs[who, :] = FAR
        costs[:, whom] = FAR
    return -1


@njit(cache=True)
def open_lane(pitch, bx, by):
    """The receiver whose lane a presser shuts: the nearest legal one to the ball; -1 for nobody."""
    players, ball = pitch.players, pitch.ball
    best, who = FAR, -1
    for r in range(len(players)):
        if with_ball(pitch, r) and players[r].may_receive and r != ball.holder and r != ball.meant_for:
            x, y, _, _ = seen(players, r)
            gap = square(x - bx) + square(y - by)
            if gap < best:
                best, who = gap, r
    return who


@njit(cache=True)
def keenness(pitch, i, now):
    """0-1: how far defender i attacks the ball rather than contains; hunting it for the seconds after a loss he was told to."""
    players, constants = pitch.players, pitch.constants
    if hunts(pitch, i, now):
        return max(players[i].pressing, constants.hunting)
    return players[i].pressing


@njit(cache=True)
def joins_in(pitch, i, now, bx, by):
    """Whether defender i goes for the ball as a second one: keen on it, and soon there."""
    players, constants = pitch.players, pitch.constants
    if keenness(pitch, i, now) < constants.hunting:
        return False
    x, y, vx, vy = seen(players, i)
    return quick(players, i, x, y, vx, vy, bx, by, constants.stand_off) < constants.join_time


@njit(cache=True)
def press(pitch, i, now, start, bx, by):
    """Close the carrier: arrive a foot's length off (further when containing), on the lane to his nearest receiver, goal-side where
    a goal is attacked; jog when it would be in vain, unless told to attack the ball."""
    players, ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    keen = keenness(pitch, i, now)
    bx, by = ahead_of(pitch, i, bx, by)
    stand_off = constants.stand_off * (1.0 + 3.0 * (0.5 - keen) if keen < 0.5 else 1.5 - keen)
    x, y, vx, vy = where(players, i, start)
    ux, uy = x - bx, y - by
    gap = math.sqrt(ux * ux + uy * uy) + 1e-9
    ux, uy = ux / gap, uy / gap
    r = open_lane(pitch, bx, by)
    if r >= 0:
        rx, ry, _, _ = seen(players, r)
        size = math.sqrt(square(rx - bx) + square(ry - by)) + 1e-9
        ux, uy = ux + (rx - bx) / size, uy + (ry - by) / size
    if play.aim != KEEP:
        size = math.sqrt(square(play.goal_x - bx) + square(play.goal_y - by)) + 1e-9
        ux, uy = (
            ux + constants.goal_side * (play.goal_x - bx) / size,
            uy + constants.goal_side * (play.goal_y - by) / size,
        )
    size = math.sqrt(ux * ux + uy * uy)
    if size < 1e-6:
        ux, uy = (x - bx) / gap, (y - by) / gap
    else:
        ux, uy = ux / size, uy / size
    px, py = into_zone(players, i, bx + stand_off * ux, by + stand_off * uy, 0.0)
    need = quick(players, i, x, y, vx, vy, px, py, stand_off)
    left = constants.hold_expected + (
        max(0.0, ball.arrives_at - start) if ball.state != HELD else -(start - ball.received_at)
    )
    if beaten(play, x, y, bx, by) or need < max(left, 0.2) + constants.press_slack + 2.0 * (keen - 0.5):
        go(pitch, i, now, start, px, py, FAR, players[i].press_effort, False)
    else:
        cx, cy = into_zone(players, i, 0.5 * (px + x), 0.5 * (py + y), 0.0)
        go(pitch, i, now, start, cx, cy, 2.5, constants.effort, False)


@njit(cache=True)
def defend(pitch, i, now, start, bx, by):
    """Press, cover a receiver's lane, or hold the middle."""
    players = pitch.players
    presser, second = pressers(pitch, now, bx, by)
    if presser == i or (second == i and joins_in(pitch, i, now, bx, by)):
        players[i].duty, players[i].marks = PRESS, -1.0
        press(pitch, i, now, start, bx, by)
        return
    players[i].duty = COVER
    cover(pitch, i, covered_by(pitch, i, presser, now, bx, by), now, start, bx, by)


@njit(cache=True)
def cover(pitch, i, whom, now, start, bx, by):
    """Go where receiver `whom` is covered from (-1: hold the middle)."""
    players, _ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    players[i].marks = whom
    if whom >= 0:
        px, py = cover_point(pitch, i, whom, bx, by, now)
    else:
        px = 0.5 * (bx + 0.5 * (players[i].west + players[i].east))
        py = 0.5 * (by + 0.5 * (players[i].south + players[i].north))
        if play.aim != KEEP:
            px, py = 0.5 * (px + play.goal_x), 0.5 * (py + play.goal_y)
    own = max(0.5 * players[i].fixed, constants.zonal_share * max(0.0, 1.0 - 2.0 * tightness(pitch, i, now)))
    if own > 0.0:
        sx, sy = shape_point(pitch, i, bx, by)
        px, py = px + own * (sx - px), py + own * (sy - py)
    x, y, _, _ = where(players, i, start)
    back = beaten(play, x, y, bx, by)
    if back and beaten(play, px, py, bx, by):  # first of all back to the right side of the ball
        px, py = px + constants.recover * (play.goal_x - px), py + constants.recover * (play.goal_y - py)
    px, py = into_zone(players, i, px, py, 0.3)
    cap = constants.run_cap * players[i].top_speed
    factor = constants.urgency_defence * (1.4 - 0.8 * players[i].marking) * (1.25 - 0.5 * players[i].pressing)
    if now - play.lost_at < max(constants.transition_window, players[i].win_back):
        factor, cap = constants.urgency_transition, max(cap, constants.transition_cap * players[i].top_speed)
    move(pitch, i, now, start, px, py, factor, cap, bx, by)


@njit(cache=True)
def keep_goal(pitch, i, now, start, bx, by):
    """Between the ball and the goal, further out the further the ball is away; a support when the own side has it."""
    players, constants = pitch.players, pitch.constants
    gx, gy = bx - players[i].goal_x, by - players[i].goal_y
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    out = clip(0.08 * length, 0.6, 3.0)
    if with_ball(pitch, i):
        out = clip(0.2 * length, 1.0, 8.0)
    px, py = players[i].goal_x + out * gx / length, players[i].goal_y + out * gy / length
    if not with_ball(pitch, i):
        half = 0.5 * players[i].goal_width
        if (
            players[i].goal_x == players[i].west or players[i].goal_x == players[i].east
        ):  # the mouth of a west or east goal lies along y
            py = clip(py, players[i].goal_y - half, players[i].goal_y + half)
        else:
            px = clip(px, players[i].goal_x - half, players[i].goal_x + half)
    move(pitch, i, now, start, px, py, constants.urgency_defence, constants.run_cap * players[i].top_speed, bx, by)
