"""What players know of each other: who is with the ball, where everybody was when they looked, how near the others are (compiled).

Looking is dear, so it is done once: `take_in` takes a picture of everybody at one time, and the functions below it answer from
that picture until the next is taken.
"""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.arrays import DEAD, FLOATER, HELD, WAIT
from sim.pitch.moves import quick, where
from sim.pitch.numerics import FAR, ROUNDING_M, distance


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
    """Distance (m) from (x, y) to player i's nearest opponent at time t (takes a picture)."""
    take_in(pitch.players, t, False)
    return nearest_opponent(pitch, i, x, y)


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
