"""What all defending rests on: who defends now, how keen he is on the ball, how tightly he marks, who is beaten (compiled)."""

from __future__ import annotations

from sim.compiled import njit, square
from sim.pitch.arrays import FREE, HELD, SCORE
from sim.pitch.moves import clip
from sim.pitch.numerics import SMALL, distance
from sim.pitch.perception import seen, with_ball


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


@njit(cache=True)
def is_covered(pitch, j, bx, by):
    """Whether a team-mate of presser j stands near enough to the ball at (bx, by), and nearer to the goal than it, to step in
    should j be beaten."""
    players, play = pitch.players, pitch.play
    for k in range(len(players)):
        if k != j and can_defend(pitch, k, bx, by):
            x, y, _, _ = seen(players, k)
            if distance(x, y, bx, by) < pitch.constants.covered_within and not beaten(play, x, y, bx, by):
                return True
    return False


@njit(cache=True)
def alarm_pace(pitch, situation):
    """m/s at which a beaten defender runs back: the faster, the nearer to the goal the ball is; hardest near it where nobody but
    the keeper is left before its carrier."""
    constants, play = pitch.constants, pitch.play
    far = distance(situation.ball_x, situation.ball_y, play.goal_x, play.goal_y)
    if far < constants.recover_from and through_on_goal(pitch, situation.ball_x, situation.ball_y):
        return constants.chase_cap * pitch.players[situation.player].top_speed
    alarm = clip((constants.recover_from - far) / (constants.recover_from - constants.recover_at), 0.0, 1.0)
    share = constants.recover_least + alarm * (constants.recover_cap - constants.recover_least)
    return share * pitch.players[situation.player].top_speed


@njit(cache=True)
def ball_to_come(pitch, bx, by):
    """(x, y) of the ball at (bx, by) as defenders of a goal reckon with it: where its carrier, or whom it is meant for, will have
    brought it a little later.  Whoever goes by where it is trails a running carrier for ever."""
    play, ball, ahead = pitch.play, pitch.ball, pitch.constants.goal_side_ahead
    who = ball.holder if ball.state == HELD else ball.meant_for
    if play.aim != SCORE or who < 0:
        return bx, by
    _, _, vx, vy = seen(pitch.players, who)
    gx, gy = play.goal_x - bx, play.goal_y - by
    length = distance(0.0, 0.0, gx, gy) + SMALL
    nearer = clip(ahead * (vx * gx + vy * gy) / length, 0.0, 0.5 * length)
    return bx + nearer * gx / length, by + nearer * gy / length


@njit(cache=True)
def is_last_man(pitch, i, bx, by):
    """Whether nobody else of defender i's side is nearer to the goal than the ball at (bx, by), nor than he is."""
    players, play = pitch.players, pitch.play
    mine = distance(players[i].seen_x, players[i].seen_y, play.goal_x, play.goal_y)
    most = distance(bx, by, play.goal_x, play.goal_y)
    for j in range(len(players)):
        if j != i and can_defend(pitch, j, bx, by):
            his = distance(players[j].seen_x, players[j].seen_y, play.goal_x, play.goal_y)
            if his < most or his < mine:
                return False
    return True


@njit(cache=True)
def is_hindmost(pitch, i, bx, by):
    """Whether nobody else who defends against the ball at (bx, by) is nearer to the goal than defender i is."""
    players, play = pitch.players, pitch.play
    mine = distance(players[i].seen_x, players[i].seen_y, play.goal_x, play.goal_y)
    for j in range(len(players)):
        if j != i and can_defend(pitch, j, bx, by):
            if distance(players[j].seen_x, players[j].seen_y, play.goal_x, play.goal_y) < mine:
                return False
    return True


@njit(cache=True)
def through_on_goal(pitch, bx, by):
    """Whether a goal is attacked and no defender of the picture but its keeper is nearer to it than the ball at (bx, by)."""
    if pitch.play.aim != SCORE:
        return False
    for j in range(len(pitch.players)):
        if can_defend(pitch, j, bx, by):
            x, y, _, _ = seen(pitch.players, j)
            if not beaten(pitch.play, x, y, bx, by):
                return False
    return True
