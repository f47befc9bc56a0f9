"""When players without the ball decide anew: by themselves every now and then, and when something has happened (compiled)."""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import COVER, DEAD, HELD, NOBODY, NONE, PRESS, RACE, ROLLING, SUPPORT
from sim.pitch.covering import cover
from sim.pitch.defending import can_defend
from sim.pitch.moves import draw
from sim.pitch.offball import replan, schedule_replan
from sim.pitch.perception import ball_at, with_ball
from sim.pitch.pressing import pressers
from sim.pitch.runs import set_off, situation_of
from sim.pitch.supporting import RUN
from sim.pitch.tackles import next_tackle

SEGMENTS_LEFT = 1024  # rows of the record that must be free for one more change of mind


@njit(cache=True)
def markers_follow(pitch, i, now):
    """Player i has set off anew: the defender who covers him goes with him after his reaction, the more surely the more he is
    to mark men rather than space."""
    players = pitch.players
    bx, by = ball_at(pitch, now)
    for j in range(len(players)):
        covers = players[j].duty == COVER and players[j].marks == i and players[j].busy_until <= now
        if covers and can_defend(pitch, j, bx, by) and draw(players, j, RUN) < players[j].marking:
            situation = situation_of(pitch, j, now, now + players[j].reaction)
            first, _ = pressers(pitch, now, bx, by)
            set_off(pitch, situation, cover(pitch, situation, i, first))


@njit(cache=True)
def is_bound(pitch, i, now, taker):
    """Whether player i has no choice of a run: he has the ball, races for it, is to take the restart, or is beaten."""
    player, ball = pitch.players[i], pitch.ball
    if ball.state == HELD and i == ball.holder:
        return True
    if ball.state == ROLLING and player.duty == RACE:
        return True
    return (ball.state == DEAD and i == taker) or player.busy_until > now


@njit(cache=True)
def replan_by_himself(pitch, i, now, taker):
    """Player i's own change of mind at `now`.  Returns whether a presser has changed his run at a held ball."""
    players, ball = pitch.players, pitch.ball
    schedule_replan(pitch, i, now)
    if is_bound(pitch, i, now, taker):
        return False
    pressed = players[i].duty == PRESS
    replan(pitch, i, now, now)
    if players[i].duty == SUPPORT:
        markers_follow(pitch, i, now)
    return ball.state == HELD and not with_ball(pitch, i) and (pressed or players[i].duty == PRESS)


@njit(cache=True)
def next_to_replan(players):
    """The player whose change of mind is due first (of two at the same time the first in order)."""
    who = 0
    for i in range(1, len(players)):
        if players[i].replans_at < players[who].replans_at:
            who = i
    return who


@njit(cache=True)
def replan_until(pitch, until, taker, live, look_at):
    """Changes of mind in the order they fall due, as long as they come before `until`, when something else happens, and nobody
    has found a moment to tackle the carrier (who looks up at `look_at`).

    taker   who is to take the restart (-1: nobody);  live: the ball is in play
    Returns (who tries a tackle or -1, when, whether a presser has changed his run, so that a tackle awaited before is void, and
    when the next change of mind falls due).
    """
    players, play, room = pitch.players, pitch.play, len(pitch.segments) - SEGMENTS_LEFT
    tackler, tackle_at, presser_changed = NOBODY, look_at, False
    i = next_to_replan(players)
    while players[i].replans_at < until and tackler < 0 and play.recorded <= room:
        now = players[i].replans_at
        if replan_by_himself(pitch, i, now, taker):
            presser_changed = True
            if live:
                tackler, tackle_at = next_tackle(pitch, pitch.ball.holder, now, look_at)
        i = next_to_replan(players)
    return tackler, tackle_at, presser_changed, players[i].replans_at


@njit(cache=True)
def replan_at_control(pitch, holder, now):
    """Somebody has the ball under control: opponents, and everybody who raced for it, decide anew after a short reaction."""
    players = pitch.players
    for j in range(len(players)):
        if j != holder and (players[j].duty == RACE or not with_ball(pitch, j)):
            players[j].duty = NONE if players[j].duty == RACE else players[j].duty
            start = max(now + pitch.constants.control_reaction * players[j].reaction, players[j].busy_until)
            replan(pitch, j, now, start)
            schedule_replan(pitch, j, start)


@njit(cache=True)
def replan_all(pitch, holder, now):
    """All but the holder (-1: nobody) decide anew after their reaction (a restart, a new phase, new roles)."""
    players = pitch.players
    for j in range(len(players)):
        if j != holder:
            players[j].duty = NONE
            start = max(now + players[j].reaction, players[j].busy_until)
            replan(pitch, j, now, start)
            schedule_replan(pitch, j, start)
