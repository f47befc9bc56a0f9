"""Where a keeper stands (compiled)."""

from __future__ import annotations

import math

from sim.compiled import njit
from sim.pitch.moves import clip
from sim.pitch.numerics import SMALL
from sim.pitch.perception import with_ball
from sim.pitch.runs import Run, urgent_run


@njit(cache=True)
def keeper_place(pitch, situation):
    """(x, y) between the ball and the goal: between his posts, on his line while the ball is far off and further out the nearer it
    comes, to leave less of the goal; or well out as a support when the own side has the ball."""
    keeper, constants = pitch.players[situation.player], pitch.constants
    gx, gy = situation.ball_x - keeper.goal_x, situation.ball_y - keeper.goal_y
    length = math.sqrt(gx * gx + gy * gy) + SMALL
    supports = with_ball(pitch, situation.player)
    if supports:
        out = clip(constants.keeper_support * length, constants.keeper_support_least, constants.keeper_support_most)
    else:
        out = constants.keeper_out * (constants.keeper_out_from - length)
        out = clip(out, constants.keeper_out_least, constants.keeper_out_most)
        out = min(out, constants.keeper_half_way * length)
    px, py = keeper.goal_x + out * gx / length, keeper.goal_y + out * gy / length
    if supports:
        return px, py
    half = 0.5 * keeper.goal_width
    if keeper.goal_x == keeper.west or keeper.goal_x == keeper.east:  # the mouth of a west or east goal lies along y
        return px, clip(py, keeper.goal_y - half, keeper.goal_y + half)
    return clip(px, keeper.goal_x - half, keeper.goal_x + half), py


@njit(cache=True)
def keep_goal(pitch, situation):
    """Go where a keeper stands: by the law of urgency, and with more of a push than an ordinary run while he keeps the other side
    from scoring."""
    player, constants = pitch.players[situation.player], pitch.constants
    place, cap = keeper_place(pitch, situation), constants.run_cap * player.top_speed
    if with_ball(pitch, situation.player):
        return urgent_run(pitch, situation, player.duty, player.marks, place, constants.urgency_defence, cap)
    run = urgent_run(pitch, situation, player.duty, player.marks, place, constants.keeper_urgency, cap)
    return Run(run.duty, run.marks, run.sets_off, run.x, run.y, run.cap, constants.effort, False)
