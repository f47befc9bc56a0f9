"""When players without the ball decide anew: by themselves every now and then, and when something has happened (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import COVER, DEAD, HELD, NONE, PRESS, RACE, ROLLING, SUPPORT
from sim.pitch.defending import can_defend, cover
from sim.pitch.ground import ball_at, with_ball
from sim.pitch.moves import draw
from sim.pitch.offball import RUN, think, think_again
from sim.pitch.tackles import next_tackle

SEGMENTS_LEFT = 1024  # rows of the record that must be free for one more change of mind


@njit(cache=True)
def followed(pitch, i, now):
    """Player i has set off anew: the defender who covers him goes with him after his reaction, the more surely the more he is
    to mark men rather than space."""
    players = pitch.players
    bx, by = ball_at(pitch, now)
    for j in range(len(players)):
        if (
            players[j].duty == COVER
            and players[j].marks == i
            and players[j].busy_until <= now
            and can_defend(pitch, j, bx, by)
        ):
            if draw(players, j, RUN) < players[j].marking:
                cover(pitch, j, i, now, now + players[j].reaction, bx, by)


@njit(cache=True)
def change_mind(pitch, i, now, taking):
    """Player i's own change of mind at `now`: he thinks, unless he has the ball, races for it, is to take it or is beaten.

    Returns whether a presser has changed his run at a held ball.
    """
    players, ball = pitch.players, pitch.ball
    think_again(pitch, i, now)
    if i == ball.holder and ball.state == HELD:
        return False
    if (
        (ball.state == ROLLING and players[i].duty == RACE)
        or (ball.state == DEAD and i == taking)
        or players[i].busy_until > now
    ):
        return False
    pressed = players[i].duty == PRESS
    think(pitch, i, now, now)
    if players[i].duty == SUPPORT:
        followed(pitch, i, now)
    return ball.state == HELD and not with_ball(pitch, i) and (pressed or players[i].duty == PRESS)


@njit(cache=True)
def next_mind(players):
    """The player whose change of mind is due first (of two at the same time the first in order)."""
    who = 0
    for i in range(1, len(players)):
        if players[i].replans_at < players[who].replans_at:
            who = i
    return who


@njit(cache=True)
def change_minds(pitch, until, taking, live, look_at, out):
    """Changes of mind in the order they fall due, as long as they come before `until`, when something else happens, and nobody
    has found a moment to tackle the carrier (who looks up at `look_at`).

    taking  who is to take the restart;  live: the ball is in play
    out     0 who tries a tackle (-1: nobody), 1 when, 2 whether a presser has changed his run (a tackle awaited before is then
            void), 3 when the next change of mind falls due
    """
    players, ball, play, segments = pitch.players, pitch.ball, pitch.play, pitch.segments
    out[0], out[2] = -1.0, 0.0
    i = next_mind(players)
    while players[i].replans_at < until and out[0] < 0.0 and play.recorded <= len(segments) - SEGMENTS_LEFT:
        now = players[i].replans_at
        if change_mind(pitch, i, now, taking):
            out[2] = 1.0
            if live:
                out[0], out[1] = next_tackle(pitch, ball.holder, now, look_at)
        i = next_mind(players)
    out[3] = players[i].replans_at


@njit(cache=True)
def settle(pitch, holder, now):
    """Somebody has the ball under control: opponents, and everybody who raced for it, decide anew after a short reaction."""
    players = pitch.players
    for j in range(len(players)):
        if j != holder and (players[j].duty == RACE or not with_ball(pitch, j)):
            players[j].duty = NONE if players[j].duty == RACE else players[j].duty
            start = max(now + 0.5 * players[j].reaction, players[j].busy_until)
            think(pitch, j, now, start)
            think_again(pitch, j, start)


@njit(cache=True)
def everybody_thinks(pitch, holder, now):
    """All but the holder decide anew (a restart, a new phase, new roles)."""
    players = pitch.players
    for j in range(len(players)):
        if j != holder:
            players[j].duty = NONE
            start = max(now + players[j].reaction, players[j].busy_until)
            think(pitch, j, now, start)
            think_again(pitch, j, start)
