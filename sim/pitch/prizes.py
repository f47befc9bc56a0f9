"""Passes that the rules answer to with something good for the side: through a gate, into an area, to a role (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import ANY_GATE, NO_GATE


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
