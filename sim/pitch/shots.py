"""What becomes of a shot."""

from __future__ import annotations

from sim.pitch.answering import tell
from sim.pitch.bout_parts import Charge
from sim.pitch.flight import bounce
from sim.pitch.log import EventKind
from sim.pitch.possession import charged, lose
from sim.pitch.reception import take_control
from sim.pitch.restarts import serve
from sim.pitch.state import Bout
from sim.pitch.whistle import finish
from sim.pitch.winning_touch import win_by_touch
from sim.rules.guards import RuleEvent


def shot_ends(bout: Bout, t: float, i: int, result: EventKind, who: int, x: float, y: float) -> None:
    """A shot by player i ends at (x, y), saved or blocked by `who` (else -1); and so does the bout, if that was waited for."""
    bout.now = t
    bout.flight.shot = False
    if result is EventKind.SAVE and not bout.standing.roles[bout.standing.role[who]].hands:
        result = EventKind.BLOCK  # with the feet: it runs loose
    bout.note(result, who if who >= 0 else i, i, x=x, y=y)
    if result is EventKind.BLOCK:
        bout.touched(who)
        bout.possession.charge = Charge("shot", i)
        bout.flight.speed = bout.constants.blocked_speed
        bounce(bout, t, who, bout.constants.blocked_keeps, x, y)
        win_by_touch(bout, t, who)
    else:
        possession_ends(bout, t, i, result, who if result is EventKind.SAVE else -1, x, y)
    if bout.flight.whistle_due and not bout.is_over():
        finish(bout, t)


def possession_ends(bout: Bout, t: float, i: int, result: EventKind, keeper: int, x: float, y: float) -> None:
    """A shot by player i has ended his side's possession: the keeper has the ball (-1: nobody) or it is out of play."""
    side, phase = bout.standing.side, bout.standing.phase
    lost = Charge("shot", charged(bout, Charge("shot", i)))
    bout.note(EventKind.LOSS, lost.player, keeper, side=side, cause="shot", x=x, y=y)
    tell(bout, RuleEvent(result.value, side, i, keeper, "shot"))
    if not bout.in_play():
        return
    bout.possession.loss_noted = phase
    if keeper >= 0:
        bout.possession.charge = lost
        take_control(bout, t, keeper)
        return
    lose(bout, side, lost)
    serve(
        bout, bout.game.after_goal if result is EventKind.GOAL else "out", RuleEvent("out", side, i, cause=result.value)
    )
