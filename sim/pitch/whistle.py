"""The end of a bout."""

from __future__ import annotations

from sim.pitch import entries
from sim.pitch.ball_state import BallState
from sim.pitch.log import EventKind
from sim.pitch.state import Bout


def whistle(bout: Bout, t: float) -> None:
    """Time is up, or a rule ends the bout: it is over, with a shot already on its way when that has ended."""
    if bout.flight.shot:
        bout.flight.whistle_due = True
        bout.spells.timers.renew()
    else:
        finish(bout, t)


def finish(bout: Bout, t: float) -> None:
    """The bout is over at time t."""
    bout.now = t
    if bout.in_play():
        bout.note(EventKind.DEAD, cause="end")
    bout.become(BallState.OVER)
    bout.note(EventKind.END)
    for i in range(len(bout.game.players)):
        entries.record(*bout.arrays, i, t)
        bout.room()
    bout.clock.stop()
    bout.over.succeed()
