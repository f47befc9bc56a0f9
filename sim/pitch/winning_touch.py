"""A touch that wins the ball, in games in which the first touch of an opponent does."""

from __future__ import annotations

from sim.pitch.arrays import NOBODY
from sim.pitch.assignment import assign
from sim.pitch.bout_parts import Charge
from sim.pitch.flight import roll
from sim.pitch.possession import at_the_ball, lose
from sim.pitch.state import Bout


def win_by_touch(bout: Bout, t: float, i: int) -> None:
    """Player i has touched a ball that runs on without being under control: where a touch wins it, it is his side's from here."""
    if bout.game.win.confirm != "touch" or bout.is_ours(i):
        return
    charge = bout.possession.charge
    bout.hold_for(bout.standing.side_of(i))
    if bout.layout.turns:
        assign(bout)
    bout.play.lost_at = t
    bout.possession.just_won = True
    bout.possession.together = at_the_ball(bout, i)
    bout.possession.charge = Charge("", i)
    bout.ball.passer = NOBODY
    lose(bout, bout.standing.side, charge._replace(cause=charge.cause or "interception"), i)
    if bout.in_play():
        bout.spells.ball.renew()
        roll(bout, t, True, 0)
