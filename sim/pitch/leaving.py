"""Players who have had all the bouts or minutes they may play: they leave, and the next of those who wait comes."""

from __future__ import annotations

from typing import NamedTuple

from sim.pitch import flight, restarts
from sim.pitch.answering import Answer
from sim.pitch.ball_state import ROLLING
from sim.pitch.log import EventKind
from sim.pitch.state import Bout
from sim.pitch.whistle import finish
from sim.rules.consequences import exchange
from sim.rules.leaving import bench_of, next_to_come


class Leaver(NamedTuple):
    """Who leaves, who comes for him (-1: nobody), the side he played for, and which of his limits he has come to."""

    player: int
    comer: int
    side: str
    why: str


def at_the_start(bout: Bout) -> list[Leaver]:
    """Who has had his share before the bout begins waits, and somebody else has his role."""
    standing, found = bout.standing, []
    standing.done |= {i for i, stint in standing.stints.items() if stint.over(bout.now)}
    for i in sorted(standing.done):
        role = standing.role[i]
        if standing.always_waits(role):
            continue
        side, comer = standing.side_of(i), next_to_come(Answer(bout, ""), i)
        standing.give_role(i, standing.role[comer] if comer >= 0 else bench_of(standing, i), bout.now)
        if comer >= 0:
            standing.give_role(comer, role, bout.now)
        found.append(Leaver(i, comer, side, standing.stints[i].over(bout.now)))
    return found


def told(bout: Bout, one: Leaver) -> None:
    """The log hears of a player who leaves, and of who comes for him."""
    bout.note(EventKind.LIMIT, one.player, one.comer, side=one.side, cause=one.why)


def ends_without(bout: Bout, side: str) -> bool:
    """With nobody of a side in play any more the bout is over; returns whether it is."""
    if bout.standing.plays(side):
        return False
    finish(bout, bout.now)
    return True


def share_is_had(bout: Bout, t: float, i: int) -> None:
    """Player i may have had his minutes (-1: the ball is dead, and those who have had them leave).

    One on reduced load leaves at once: if he has the ball it is played in anew.  Anybody else plays on until the ball is dead.
    """
    bout.now = t
    standing = bout.standing
    if i >= 0:
        why = standing.stints[i].over(t)
        if not why or i in standing.done:
            return
        standing.done.add(i)
        standing.leaving[i] = why
        if bout.game.players[i].restricted:
            if bout.holder() == i:
                restarts.play_in_again(bout)
        elif bout.in_play():
            return
    leave(bout)


def leave(bout: Bout) -> None:
    """Whoever has had his share and still plays leaves, unless the ball is in play and he may see it out."""
    standing, rolling = bout.standing, bout.ball_state is ROLLING
    for i, why in list(standing.leaving.items()):
        if bout.in_play() and not bout.game.players[i].restricted:
            continue
        del standing.leaving[i]
        if standing.always_waits(standing.role[i]):
            continue
        side, play = standing.side_of(i), Answer(bout, "")
        comer = next_to_come(play, i)
        told(bout, Leaver(i, comer, side, why))
        if comer >= 0:
            exchange(play, [i], [comer])
        else:
            standing.give_role(i, bench_of(standing, i), bout.now)
            play.roles_changed([i])
        if ends_without(bout, side):
            return
        if rolling and not bout.flight.shot:  # he may be the one who would have got to it
            bout.spells.ball.renew()
            flight.roll(bout, bout.now, False, bout.flight.barred)
    restarts.call_again(bout)
