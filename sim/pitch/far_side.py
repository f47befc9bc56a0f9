"""What players on the lines of one area do while the ball is in another, and may not be played to them yet (compiled)."""

from __future__ import annotations

from sim.compiled import njit, square
from sim.pitch.moves import clip
from sim.pitch.numerics import SMALL
from sim.pitch.positions import beat, edge_point
from sim.pitch.supporting import support_run

BEATS = 1.0  # judgement: nobody goes further from his place along the line than his own beat


@njit(cache=True)
def ball_beside(pitch, i, bx, by):
    """(x, y): how far (m) the ball at (bx, by) is off the middle of player i's zone, across the way to it; (0, 0) for
    a ball that is in his zone or near it."""
    player, near = pitch.players[i], pitch.constants.defend_near
    if bx < player.west - near or bx > player.east + near:
        return 0.0, clip(by, player.south, player.north) - 0.5 * (player.south + player.north)
    if by < player.south - near or by > player.north + near:
        return clip(bx, player.west, player.east) - 0.5 * (player.west + player.east), 0.0
    return 0.0, 0.0


@njit(cache=True)
def waits_far_off(pitch, situation):
    """Whether a player on a line has nothing to do for now but to move with a ball in another area: he may not be played to."""
    if pitch.constants.far_shift <= 0.0 or pitch.players[situation.player].may_receive:
        return False
    x, y = ball_beside(pitch, situation.player, situation.ball_x, situation.ball_y)
    return x != 0.0 or y != 0.0


@njit(cache=True)
def shift_with_ball(pitch, situation):
    """Move along the own line, without haste, as the ball moves across in the other area: so he sees it, and can be seen."""
    player, constants, i = pitch.players[situation.player], pitch.constants, situation.player
    most = beat(pitch, i)
    sx, sy = edge_point(pitch, i, player.slot)
    ex, ey = edge_point(pitch, i, player.slot + most)
    dx, dy = ball_beside(pitch, i, situation.ball_x, situation.ball_y)
    along = ((ex - sx) * dx + (ey - sy) * dy) / (square(ex - sx) + square(ey - sy) + SMALL)
    along = clip(constants.far_shift * along, -BEATS, BEATS)
    return support_run(pitch, situation, edge_point(pitch, i, player.slot + along * most), constants.urgency_attack)
