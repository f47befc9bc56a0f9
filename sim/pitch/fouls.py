"""Fouls, where a game declares them: a tackle that is one, and the free restart."""

from __future__ import annotations

from sim.game.fouls import FOUL
from sim.pitch.answering import tell
from sim.pitch.bout_parts import Charge
from sim.pitch.counting import areas_at
from sim.pitch.log import EventKind
from sim.pitch.moves import draw, where
from sim.pitch.possession import lose
from sim.pitch.restarts import serve
from sim.pitch.state import Bout
from sim.rules.guards import RuleEvent
from sim.rules.passes import Deed


def is_foul(bout: Bout, stream: int, i: int) -> bool:
    """Whether the tackle that player i is about to make is a foul; nothing is drawn where the game declares none."""
    share = bout.game.foul_share
    return share > 0.0 and draw(bout.records, i, stream) < share


def foul(bout: Bout, t: float, i: int, c: int) -> None:
    """Player i fouls the carrier c: the rules answer, then the ball is dead, and the other side has it back.

    The side that had it goes on with its count.  While the win of the carrier's side waits to be confirmed it is a loss of the
    other side, whose ball it still was.
    """
    x, y, _, _ = where(bout.records, c, t)
    side, phase, role = bout.side_for(i), bout.standing.phase, bout.standing.role
    event = RuleEvent(FOUL, side, i, c, cause=FOUL, deed=Deed(by=role[i], to=role[c], start=areas_at(bout, c, x, y)))
    bout.note(EventKind.FOUL, i, c, x=x, y=y)
    if side == bout.standing.side:
        lose(bout, side, Charge("rule fault", i))
    tell(bout, event, phase)  # also when the rules of the loss have stopped play
    serve(bout, FOUL, event)
