"""How defenders with no goal to defend press as a pair: the presser shuts one side, his partner tucks in behind him (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import KEEP, NOBODY
from sim.pitch.defending import can_defend
from sim.pitch.numerics import SMALL, distance
from sim.pitch.perception import seen, with_ball


@njit(cache=True)
def are_two(pitch, i, presser, bx, by):
    """Whether nobody but the presser and defender i defends against the ball at (bx, by)."""
    for j in range(len(pitch.players)):
        if j != i and j != presser and can_defend(pitch, j, bx, by):
            return False
    return True


@njit(cache=True)
def one_way(pitch, situation, off):
    """How far (m) from the ball a presser aims who means to be `off` metres from it: with no goal to defend further, the further
    away he is himself, so that he comes in a bow, along the lane that he shuts."""
    if pitch.play.aim != KEEP:
        return off
    gap = distance(situation.x, situation.y, situation.ball_x, situation.ball_y)
    return off + pitch.constants.show_bow * max(0.0, gap - off)


@njit(cache=True)
def in_the_split(pitch, presser, px, py, bx, by):
    """Who can be played to from (bx, by) between the presser and his partner at (px, py), and is
    furthest from both their lines; -1 for nobody."""
    players, ball = pitch.players, pitch.ball
    x, y, _, _ = seen(players, presser)
    ax, ay, cx, cy = x - bx, y - by, px - bx, py - by
    turn = ax * cy - ay * cx  # above 0: from the presser to his partner it is a turn to the left
    best, who = pitch.constants.pair_gap, NOBODY
    for r in range(len(players)):
        if with_ball(pitch, r) and players[r].may_receive and r != ball.holder and r != ball.meant_for:
            x, y, _, _ = seen(players, r)
            gap = distance(x, y, bx, by) + SMALL
            ux, uy = (x - bx) / gap, (y - by) / gap
            one, other = ax * uy - ay * ux, ux * cy - uy * cx
            if turn < 0.0:
                one, other = -one, -other
            free = min(one, other)  # m by which the lane passes each of them
            if free > best:
                best, who = free, r
    return who


@njit(cache=True)
def tucked_in(pitch, i, presser, px, py, bx, by):
    """(px, py), where defender i covers from; with no goal to defend and as the presser's partner, drawn in on the lane to whom the
    ball could be played between the two, behind the presser."""
    constants, play = pitch.constants, pitch.play
    if play.aim != KEEP or presser < 0 or constants.pair_tuck <= 0.0:
        return px, py
    if not are_two(pitch, i, presser, bx, by):
        return px, py
    r = in_the_split(pitch, presser, px, py, bx, by)
    if r < 0:
        return px, py
    x, y, _, _ = seen(pitch.players, r)
    gap = distance(x, y, bx, by) + SMALL
    ux, uy = (x - bx) / gap, (y - by) / gap
    deep = min(constants.pair_deep * play.spacing, (px - bx) * ux + (py - by) * uy)
    tx, ty = bx + deep * ux, by + deep * uy
    return px + constants.pair_tuck * (tx - px), py + constants.pair_tuck * (ty - py)
