"""What players know of each other: who is with the ball, where everybody was when they looked, how near the others are (compiled).

Looking is dear, so it is done once: `take_in` takes a picture of everybody at one time, and the functions below it answer from
that picture until the next is taken.
"""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.arrays import DEAD, FLOATER, HELD, WAIT
from sim.pitch.moves import clip, draw, quick, where
from sim.pitch.numerics import FAR, ROUNDING_M, distance
from sim.streams import stream_index

SCAN = stream_index("scan")


@njit(cache=True)
def with_ball(pitch, i):
    """Whether player i's side holds the ball (floaters always do)."""
    players, play = pitch.players, pitch.play
    return players[i].side == FLOATER or players[i].side == play.side


@njit(cache=True)
def ball_at(pitch, now):
    """(x, y) of the ball as players think of it at time `now`: at the holder, or where the pass is meant to arrive."""
    players, ball = pitch.players, pitch.ball
    if ball.state == HELD:
        x, y, _, _ = where(players, ball.holder, now)
        return x, y
    if ball.state == DEAD:
        return ball.x, ball.y
    return ball.target_x, ball.target_y


@njit(cache=True)
def take_in(players, t, blind):
    """Take the picture of where everybody is at time t (`seen_x` and the like), from which the functions below answer until the
    next is taken; blind: a glimpse that shows where players were, not where they were going."""
    for j in range(len(players)):
        x, y, vx, vy = where(players, j, t)
        players[j].seen_x, players[j].seen_y = x, y
        players[j].seen_vx, players[j].seen_vy = (0.0, 0.0) if blind else (vx, vy)


@njit(cache=True)
def seen(players, i):
    """(x, y, vx, vy) of player i in the picture (m, m/s)."""
    return players[i].seen_x, players[i].seen_y, players[i].seen_vx, players[i].seen_vy


@njit(cache=True)
def sooner(players, j, px, py, reach, best):
    """The seconds player j of the picture needs to within `reach` (m) of a point, or `best` if that is less (often without
    solving)."""
    x, y, vx, vy = seen(players, j)
    gap = distance(x, y, px, py) - reach
    if gap > players[j].top_speed * best + ROUNDING_M:
        return best
    return min(best, quick(players, j, x, y, vx, vy, px, py, reach))


@njit(cache=True)
def nearest_opponent_place(pitch, i, x, y):
    """(x, y) of the player of the picture nearest to a point who is not on player i's side of the ball and may play (far off if
    nobody)."""
    players, play = pitch.players, pitch.play
    best, px, py = FAR, x + FAR * play.frame_x, y
    mine = with_ball(pitch, i)
    for j in range(len(players)):
        if j != i and with_ball(pitch, j) != mine and players[j].style != WAIT:
            gap = square(players[j].seen_x - x) + square(players[j].seen_y - y)
            if gap < best:
                best, px, py = gap, players[j].seen_x, players[j].seen_y
    return px, py


@njit(cache=True)
def nearest_opponent(pitch, i, x, y):
    """Distance (m) from (x, y) to that player."""
    px, py = nearest_opponent_place(pitch, i, x, y)
    return distance(x, y, px, py)


@njit(cache=True)
def room_at(pitch, i, x, y, t):
    """Distance (m) from (x, y) to player i's nearest opponent at time t (FAR if there is none); the picture stays as it is."""
    players, mine, best = pitch.players, with_ball(pitch, i), FAR * FAR
    for j in range(len(players)):
        if j != i and with_ball(pitch, j) != mine and players[j].style != WAIT:
            ox, oy, _, _ = where(players, j, t)
            best = min(best, square(ox - x) + square(oy - y))
    return math.sqrt(best)


@njit(cache=True)
def pressure(pitch, i, x, y, t):
    """0-1: how closely player i is pressed at (x, y): 1 within a metre of an opponent, 0 beyond three."""
    constants = pitch.constants
    width = constants.pressed_within - constants.pressed_fully_within
    return clip((constants.pressed_within - room_at(pitch, i, x, y, t)) / width, 0.0, 1.0)


@njit(cache=True)
def level(players, i):
    """How hard the game is for player i: 1 for one half composed, 0 for one wholly so, 2 for one not at all."""
    return 2.0 * (1.0 - players[i].composure)


@njit(cache=True)
def scan(pitch, i):
    """Player i has the ball: which of his opponents he has overlooked hangs on these draws until he has played it."""
    players = pitch.players
    for j in range(len(players)):
        if not with_ball(pitch, j):
            players[j].overlooked = draw(players, j, SCAN)


@njit(cache=True)
def take_in_as(pitch, c, t, t_seen, blind, pressed):
    """The picture that carrier c has of the others when he looks up at t: as of `t_seen`; an opponent whom he has not seen lately
    he takes to stand where that one was when the ball was played to him.

    He has had the time since then to look, less the closer he is pressed (`pressed`, 0-1), and more once he has turned away with
    the ball.  Whoever is right beside him he knows of.
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    take_in(players, t_seen, blind)
    hard = level(players, c)
    if hard <= 0.0:
        return
    x, y, _, _ = where(players, c, t)
    looked = (t - ball.kicked_at) * (1.0 - constants.scan_pressed * pressed)
    looked += constants.scan_turned * ball.turns
    unseen = math.exp(-looked / (constants.scan_time * hard**constants.scan_level))
    for j in range(len(players)):
        if not with_ball(pitch, j) and players[j].overlooked < unseen:
            if square(players[j].seen_x - x) + square(players[j].seen_y - y) > square(constants.scan_near):
                players[j].seen_x, players[j].seen_y = players[j].struck_x, players[j].struck_y
                players[j].seen_vx, players[j].seen_vy = 0.0, 0.0


@njit(cache=True)
def nearest_two(pitch, i, x, y):
    """Distances (m) from (x, y) to the nearest opponent of player i and to the nearest player on his side of the ball."""
    players = pitch.players
    theirs, ours = FAR * FAR, FAR
    mine = with_ball(pitch, i)
    for j in range(len(players)):
        if j != i and players[j].style != WAIT:
            gap = square(players[j].seen_x - x) + square(players[j].seen_y - y)
            if with_ball(pitch, j) == mine:
                ours = min(ours, gap)
            else:
                theirs = min(theirs, gap)
    return math.sqrt(theirs), math.sqrt(ours)
