"""What all defending rests on: who defends now, how keen he is on the ball, how tightly he marks, who is beaten (compiled)."""

from __future__ import annotations

from sim.compiled import njit, square
from sim.pitch.arrays import FREE, SCORE
from sim.pitch.perception import with_ball


@njit(cache=True)
def can_defend(pitch, j, bx, by):
    """Whether player j defends now: not with the ball, free to move, and the ball at (bx, by) is in his zone or near it."""
    player, near = pitch.players[j], pitch.constants.defend_near
    if with_ball(pitch, j) or player.style != FREE:
        return False
    return player.west - near <= bx <= player.east + near and player.south - near <= by <= player.north + near


@njit(cache=True)
def hunts(pitch, i, now):
    """Whether defender i was told to hunt the ball for some seconds after a loss, and they are not over."""
    return now - pitch.play.lost_at < pitch.players[i].win_back


@njit(cache=True)
def tightness(pitch, i, now):
    """0-1: how far defender i marks men rather than space; tight while his side hunts the ball."""
    players, constants = pitch.players, pitch.constants
    if hunts(pitch, i, now):
        return max(players[i].marking, constants.hunting)
    return players[i].marking


@njit(cache=True)
def keenness(pitch, i, now):
    """0-1: how far defender i attacks the ball rather than contains; hunting it for the seconds after a loss he was told to."""
    players, constants = pitch.players, pitch.constants
    if hunts(pitch, i, now):
        return max(players[i].pressing, constants.hunting)
    return players[i].pressing


@njit(cache=True)
def beaten(play, x, y, bx, by):
    """Whether a goal is attacked and a player at (x, y) is no nearer to it than the ball is at (bx, by)."""
    if play.aim != SCORE:
        return False
    return square(x - play.goal_x) + square(y - play.goal_y) > square(bx - play.goal_x) + square(by - play.goal_y)
