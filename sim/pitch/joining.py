"""Who goes with a carrier that is through on goal, and where he runs: beside his way to goal, for a pass across (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import FREE, HELD, SUPPORT
from sim.pitch.defending import through_on_goal
from sim.pitch.goals import ahead_of_goal
from sim.pitch.moves import clip
from sim.pitch.numerics import SMALL, distance
from sim.pitch.perception import seen, with_ball
from sim.pitch.positions import into_zone
from sim.pitch.runs import Run, ordinary_push
from sim.pitch.zones import is_offside_place


@njit(cache=True)
def carrier_of(ball):
    """Who has the ball, or whom it is on its way to (-1: nobody)."""
    return ball.holder if ball.state == HELD else ball.meant_for


@njit(cache=True)
def way_to_goal(pitch, situation):
    """(ux, uy, length, on): which way the goal lies from the ball and how far off it is (m), and how far towards it the ball will
    be when a joining run is to be there."""
    play, bx, by = pitch.play, situation.ball_x, situation.ball_y
    length = distance(bx, by, play.goal_x, play.goal_y) + SMALL
    ux, uy = (play.goal_x - bx) / length, (play.goal_y - by) / length
    _, _, vx, vy = seen(pitch.players, carrier_of(pitch.ball))
    return ux, uy, length, clip(pitch.constants.beside_time * (vx * ux + vy * uy), 0.0, 0.5 * length)


@njit(cache=True)
def may_join(pitch, situation, j):
    """Whether player j is free to go with the ball: a free mate who was not told to hold his place, no further off than a run goes,
    and not ahead already of where he would run to."""
    player, play, constants = pitch.players[j], pitch.play, pitch.constants
    if j == carrier_of(pitch.ball) or not with_ball(pitch, j) or player.style != FREE or player.fixed:
        return False
    if distance(player.seen_x, player.seen_y, situation.ball_x, situation.ball_y) > constants.beside_within:
        return False
    _, _, length, on = way_to_goal(pitch, situation)
    left = length - on - constants.beside_ahead - constants.deadband
    return distance(player.seen_x, player.seen_y, play.goal_x, play.goal_y) >= left


@njit(cache=True)
def joins(pitch, situation):
    """Whether his side is through on goal and he is one of the nearest who may go with the ball."""
    players, i = pitch.players, situation.player
    bx, by = situation.ball_x, situation.ball_y
    if carrier_of(pitch.ball) < 0 or not through_on_goal(pitch, bx, by) or not may_join(pitch, situation, i):
        return False
    mine, nearer = distance(players[i].seen_x, players[i].seen_y, bx, by), 0
    for j in range(len(players)):
        if j != i and distance(players[j].seen_x, players[j].seen_y, bx, by) < mine and may_join(pitch, situation, j):
            nearer += 1
    return nearer < pitch.constants.beside_most


@njit(cache=True)
def beside(pitch, situation, left):
    """(x, y): the place of a joining run on one side of the way to goal (`left` 1, right -1), as far as his zone goes; onside."""
    play, constants = pitch.play, pitch.constants
    ux, uy, length, on = way_to_goal(pitch, situation)
    ahead = min(on + constants.beside_ahead, length)
    x = situation.ball_x + ahead * ux - left * constants.beside_wide * uy
    y = situation.ball_y + ahead * uy + left * constants.beside_wide * ux
    if play.offside_in_use > 0 and is_offside_place(pitch, situation.player, x, y):
        ball = ahead_of_goal(play, situation.ball_x + on * ux, situation.ball_y + on * uy)
        back = max(0.0, ball + constants.beside_onside - ahead_of_goal(play, x, y)) * play.goal_facing
        x, y = (x, y + back) if play.goal_sideways else (x + back, y)
    return into_zone(pitch.players, situation.player, x, y, constants.run_inset)


@njit(cache=True)
def join(pitch, situation):
    """Run hard to a place beside the carrier's way to goal, level with where the ball will be or a little ahead of it: on his own
    side of it, or on the other where the ground is too narrow for a pass across."""
    constants, i = pitch.constants, situation.player
    ux, uy, _, _ = way_to_goal(pitch, situation)
    across = ux * (situation.y - situation.ball_y) - uy * (situation.x - situation.ball_x)
    left = pitch.play.frame_x * pitch.play.frame_y  # in a mirror the other way round
    left = left if left * across >= 0.0 else -left
    px, py = beside(pitch, situation, left)
    wide = abs(ux * (py - situation.ball_y) - uy * (px - situation.ball_x))
    if wide < 0.5 * constants.beside_wide:
        px, py = beside(pitch, situation, -left)
    player, gap = pitch.players[i], distance(situation.x, situation.y, px, py)
    speed = clip(gap / constants.beside_time, constants.walk, constants.chase_cap * player.top_speed)
    push = ordinary_push(pitch, i, speed)
    if speed > constants.run_cap * player.top_speed:
        push = min(1.0, constants.effort * player.drive)
    return Run(SUPPORT, player.marks, True, px, py, speed, push, False)
