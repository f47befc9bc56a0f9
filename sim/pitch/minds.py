"""When players without the ball decide anew: by themselves every now and then, and when something has happened (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.columns import (
    BUSY,
    COVER,
    DEAD,
    DUTY,
    HELD,
    HOLDER,
    MAN,
    MARKING,
    MIND,
    MODE,
    NONE,
    PRESS,
    RACE,
    REACT,
    ROLLING,
    SUPPORT,
)
from sim.pitch.contest import next_tackle
from sim.pitch.defending import can_defend, cover
from sim.pitch.ground import ball_at, with_ball
from sim.pitch.moves import draw
from sim.pitch.offball import RUN, think, think_again

SEGMENTS_LEFT = 1024  # rows of the record that must be free for one more change of mind


@njit(cache=True)
def followed(P, M, B, C, K, N, G, count, i, now):
    """Player i has set off anew: the defender who covers him goes with him after his reaction, the more surely the more he is
    to mark men rather than space."""
    bx, by = ball_at(P, M, B, now)
    for j in range(P.shape[0]):
        if P[j, DUTY] == COVER and P[j, MAN] == i and P[j, BUSY] <= now and can_defend(P, B, j, bx, by):
            if draw(K, N, j, RUN) < P[j, MARKING]:
                cover(P, M, B, C, G, count, j, i, now, now + P[j, REACT], bx, by)


@njit(cache=True)
def change_mind(P, M, B, C, K, N, G, count, i, now, taking):
    """Player i's own change of mind at `now`: he thinks, unless he has the ball, races for it, is to take it or is beaten.

    Returns whether a presser has changed his run at a held ball.
    """
    think_again(P, C, K, N, i, now)
    if i == int(B[HOLDER]) and B[MODE] == HELD:
        return False
    if (B[MODE] == ROLLING and P[i, DUTY] == RACE) or (B[MODE] == DEAD and i == taking) or P[i, BUSY] > now:
        return False
    pressed = P[i, DUTY] == PRESS
    think(P, M, B, C, K, N, G, count, i, now, now)
    if P[i, DUTY] == SUPPORT:
        followed(P, M, B, C, K, N, G, count, i, now)
    return B[MODE] == HELD and not with_ball(P, B, i) and (pressed or P[i, DUTY] == PRESS)


@njit(cache=True)
def next_mind(P):
    """The player whose change of mind is due first (of two at the same time the first in order)."""
    who = 0
    for i in range(1, P.shape[0]):
        if P[i, MIND] < P[who, MIND]:
            who = i
    return who


@njit(cache=True)
def change_minds(P, M, B, C, K, N, G, count, until, taking, live, look_at, out):
    """Changes of mind in the order they fall due, as long as they come before `until`, when something else happens, and nobody
    has found a moment to tackle the carrier (who looks up at `look_at`).

    taking  who is to take the restart;  live: the ball is in play
    out     0 who tries a tackle (-1: nobody), 1 when, 2 whether a presser has changed his run (a tackle awaited before is then
            void), 3 when the next change of mind falls due
    """
    out[0], out[2] = -1.0, 0.0
    i = next_mind(P)
    while P[i, MIND] < until and out[0] < 0.0 and count[0] <= G.shape[0] - SEGMENTS_LEFT:
        now = P[i, MIND]
        if change_mind(P, M, B, C, K, N, G, count, i, now, taking):
            out[2] = 1.0
            if live:
                next_tackle(P, M, B, C, K, N, int(B[HOLDER]), now, look_at, out)
        i = next_mind(P)
    out[3] = P[i, MIND]


@njit(cache=True)
def settle(P, M, B, C, K, N, G, count, holder, now):
    """Somebody has the ball under control: opponents, and everybody who raced for it, decide anew after a short reaction."""
    for j in range(P.shape[0]):
        if j != holder and (P[j, DUTY] == RACE or not with_ball(P, B, j)):
            P[j, DUTY] = NONE if P[j, DUTY] == RACE else P[j, DUTY]
            start = max(now + 0.5 * P[j, REACT], P[j, BUSY])
            think(P, M, B, C, K, N, G, count, j, now, start)
            think_again(P, C, K, N, j, start)


@njit(cache=True)
def everybody_thinks(P, M, B, C, K, N, G, count, holder, now):
    """All but the holder decide anew (a restart, a new phase, new roles)."""
    for j in range(P.shape[0]):
        if j != holder:
            P[j, DUTY] = NONE
            start = max(now + P[j, REACT], P[j, BUSY])
            think(P, M, B, C, K, N, G, count, j, now, start)
            think_again(P, C, K, N, j, start)
