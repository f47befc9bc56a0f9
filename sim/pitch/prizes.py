"""Passes that the rules answer to with something good for the side: through a gate, into an area, to a role (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import ANY_GATE, FREE, NO_GATE
from sim.pitch.numerics import FAR
from sim.pitch.zones import gap_to, into, is_in, may_be


@njit(cache=True)
def goes_through(gate, x, y, tx, ty):
    """Whether a ball from (x, y) to (tx, ty) goes through a gate from one side to the other, between its cones."""
    if gate.west == gate.east:
        if (x - gate.west) * (tx - gate.west) >= 0.0:
            return False
        at = y + (ty - y) * (gate.west - x) / (tx - x)
        return gate.south <= at <= gate.north
    if (y - gate.south) * (ty - gate.south) >= 0.0:
        return False
    at = x + (tx - x) * (gate.south - y) / (ty - y)
    return gate.west <= at <= gate.east


@njit(cache=True)
def gate_taken(play, prize, x, y, tx, ty):
    """Whether a pass goes through the gate that a prize is for, or through any; not through the last one where that is barred."""
    for k in range(play.gates_in_use):
        barred = prize.other_gate and k == play.last_gate
        if (prize.gate == k or prize.gate == ANY_GATE) and not barred and goes_through(play.gates[k], x, y, tx, ty):
            return True
    return False


@njit(cache=True)
def prized(pitch, look, r, x, y, tx, ty):
    """Whether a pass of the carrier from (x, y) to receiver r at (tx, ty) is one that the rules reward."""
    play, players = pitch.play, pitch.players
    for k in range(play.prizes_in_use):
        prize = play.prizes[k]
        asked = (
            (prize.by_role < 0 or prize.by_role == players[look.carrier].role)
            and (prize.to_role < 0 or prize.to_role == players[r].role)
            and prize.west <= tx <= prize.east
            and prize.south <= ty <= prize.north
            and not (prize.first_time and not look.first_time)
            and not (prize.not_back and r == pitch.ball.giver)
        )
        if asked and (prize.gate == NO_GATE or gate_taken(play, prize, x, y, tx, ty)):
            return True
    return False


@njit(cache=True)
def mates_in(pitch, i, zone):
    """How many others of the side with the ball are in a zone, in the picture."""
    players, play, many = pitch.players, pitch.play, 0
    for j in range(len(players)):
        ours = players[j].side == play.side and players[j].style == FREE
        if j != i and ours and is_in(zone, players[j].seen_x, players[j].seen_y, 0.0):
            many += 1
    return many


@njit(cache=True)
def zone_to_be_in(pitch, i, bx, by):
    """Which prize is for a pass to player i in a zone that the ball at (bx, by) is not far from and that has room for one more;
    of several the nearest to him; -1 for none."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    best, found = FAR, -1
    for k in range(play.prizes_in_use):
        prize = play.prizes[k]
        if not prize.inside or (prize.to_role >= 0 and prize.to_role != players[i].role):
            continue
        ball = gap_to(prize, bx, by)
        mine = gap_to(prize, players[i].seen_x, players[i].seen_y)
        near = 0.0 < ball < constants.zone_range * play.spacing
        if near and mine < best and mates_in(pitch, i, prize) < constants.zone_mates:
            best, found = mine, k
    return found


@njit(cache=True)
def way_into(pitch, i, k, x, y):
    """(x, y) of the place in the zone of prize k where player i, at (x, y), would offer himself; where he is, if he may not go."""
    px, py = into(pitch.play.prizes[k], x, y, pitch.constants.zone_depth)
    return (px, py) if may_be(pitch, i, px, py) else (x, y)
