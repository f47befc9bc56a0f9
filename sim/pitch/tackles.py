"""Tackles on the carrier: who tries one next, and when (compiled)."""

from __future__ import annotations

from sim.compiled import njit, square
from sim.pitch.arrays import NOBODY, PRESS, SCORE
from sim.pitch.defending import can_defend, is_covered, keenness
from sim.pitch.moves import where
from sim.pitch.perception import with_ball
from sim.streams import exponential, stream_index

TACKLE = stream_index("tackle")
STEP = 0.05  # s, in which runs are followed to see whether a presser is within reach
CLOSING_MPS = 8.0  # nobody who is further off than he could close at this speed is followed


@njit(cache=True)
def next_tackle(pitch, c, now, end):
    """First attempt at a tackle on carrier c in [now, end): (who or -1, when or `end`).

    Attempts come at a constant rate, the higher the keener he is on the ball, while he is within reach on the runs now under way;
    before a goal whoever is covered goes in, and who is not delays (common practice, no source).
    """
    players, constants = pitch.players, pitch.constants
    who, when = NOBODY, end
    if players[c].spared:
        return who, when
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].spared:
            continue
        x, y, _, _ = where(players, j, now)
        cx, cy, _, _ = where(players, c, now)
        if players[j].duty != PRESS and not can_defend(pitch, j, cx, cy):
            continue
        if square(x - cx) + square(y - cy) > square(constants.tackle_reach + CLOSING_MPS * (end - now)):
            continue
        rate = constants.tackle_rate * (constants.tackle_keenness + keenness(pitch, j, now))
        if players[j].duty != PRESS:
            rate *= constants.passing_tackles
            if rate <= 0.0:
                continue
        if pitch.play.aim == SCORE:
            rate *= constants.covered_tackles if is_covered(pitch, j, cx, cy) else constants.uncovered_tackles
        need = exponential(players[j].keys[TACKLE], players[j].draws[TACKLE]) / rate
        players[j].draws[TACKLE] += 1
        t = tries_at(pitch, j, c, now, when, need)
        if t < when:
            who, when = j, t
    return who, when


@njit(cache=True)
def within_reach(pitch, j, c, t):
    """Whether defender j can reach carrier c with a tackle at time t."""
    x, y, _, _ = where(pitch.players, j, t)
    cx, cy, _, _ = where(pitch.players, c, t)
    return square(x - cx) + square(y - cy) <= square(pitch.constants.tackle_reach)


@njit(cache=True)
def tries_at(pitch, j, c, now, end, need):
    """When defender j tries to tackle carrier c: after `need` seconds within reach of him on their runs, and while he is (`end` if
    not before)."""
    t = max(now, pitch.players[j].busy_until)
    while t < end:
        if within_reach(pitch, j, c, t):
            need -= STEP
            tried = max(now, min(t + max(STEP + need, 0.0), end))
            if need <= 0.0 and within_reach(pitch, j, c, tried):
                return tried
        t += STEP
    return end
