"""A player has the ball under control: what that means for possession, passes and areas."""

from __future__ import annotations

import math

from sim.pitch import stopwatch
from sim.pitch.aiming import aim
from sim.pitch.answering import pass_in_windows, tell
from sim.pitch.arrays import NOBODY
from sim.pitch.ball_state import HELD
from sim.pitch.bout_parts import NO_CHARGE, Charge
from sim.pitch.carrier import first_look
from sim.pitch.counting import (
    areas_at,
    asks_where,
    count,
    counted_as,
    deed_of_pass,
    done,
    rolled_here,
    tell_deed,
    touch,
)
from sim.pitch.log import EventKind
from sim.pitch.moves import where
from sim.pitch.possession import (
    confirm_by_gate,
    confirm_by_passes,
    in_play_at,
    locate,
    lose,
    take_over,
    tell_arrival,
)
from sim.pitch.restarts import ASK_AGAIN_S, ready, serve, served_to
from sim.pitch.state import NEVER, Bout
from sim.pitch.whistle import start_clock
from sim.rules.guards import RuleEvent
from sim.rules.passes import Deed


def put_in_play(bout: Bout, t: float, to: str, taker: int) -> None:
    """The restart is taken: side `to` has the ball, `taker` or (-1) whom the server picks."""
    bout.now = t
    if taker < 0 and not ready(bout, to):  # all of them wait: so does the ball
        bout.expect(t + ASK_AGAIN_S, "serve", bout.spells.ball, to, taker)
        return
    bout.play.spot_x = NEVER
    taker = served_to(bout, to) if taker < 0 else taker
    bout.note(EventKind.LIVE, other=taker)
    bout.possession.charge = NO_CHARGE
    bout.possession.last_pass = (-1, -1)
    bout.possession.last_of_side = -1
    bout.play.lost_at = -NEVER
    bout.restart.played += 1
    start_clock(bout)
    take_control(bout, t, taker, served=True)
    stopwatch.read(bout)
    counted_as(bout, "balls", Deed(), to, taker)


def take_control(bout: Bout, t: float, i: int, served: bool = False) -> None:
    """Player i has the ball under control at time t, from a restart (`served`) or in play: possession, passes, areas, and what he
    does next."""
    standing, possession = bout.standing, bout.possession
    bout.now = t
    x, y, _, _ = where(bout.records, i, t)
    rolled_here(bout)
    ours = bout.is_ours(i)
    if bout.flight.offside and offside(bout, i, ours):
        return
    across = locate(bout, i, x, y, ours)
    passer = bout.ball.passer
    bout.become(HELD, i)
    bout.ball.received_at, bout.ball.touches, bout.ball.meant_for = t, 1, NOBODY
    bout.trace_ball()
    bout.touched(i)
    touch(bout, i, x, y)
    if asks_where(bout):
        bout.carrier.inside = areas_at(bout, i, x, y)
    completed = ours and not served and not possession.charge.cause and passer >= 0 and passer != i
    bout.ball.giver = passer if completed else NOBODY
    if bout.layout.spares:
        spare(bout, i, completed)
    if served:
        bout.note(EventKind.POSSESSION, i)
        possession.controlled_in, possession.just_won = standing.area, False
    if not ours:
        take_over(bout, t, i)
    elif completed:
        complete_pass(bout, passer, i, x, y)
    possession.charge = NO_CHARGE
    bout.ball.passer = NOBODY
    if bout.holder() == i:
        tell_arrival(bout, i, across)
    if completed and bout.holder() == i:
        tell_pass(bout, passer, i, x, y)
    if bout.holder() != i:  # the rules have stopped play
        return
    bout.carrier.in_play = in_play_at(bout, i, x, y)
    aim(bout)
    first_look(bout, t, i, bout.layout.turns and not ours)


def spare(bout: Bout, i: int, passed: bool) -> None:
    """Player i has the ball, from a team-mate (`passed`) or otherwise: may he be tackled, as his role has it?"""
    for one, player in zip(bout.players, bout.game.players, strict=True):
        one.spared = not player.tackles
    tackled = bout.standing.roles[bout.standing.role[i]].tackled
    if tackled == "never" or (tackled == "after a back-pass" and not passed):
        bout.players[i].spared = True


def offside(bout: Bout, i: int, ours: bool) -> bool:
    """Whether player i, who gets a pass of his side, was offside as it was struck: then it is lost, and comes back by `out`."""
    judged, bout.flight.offside = bout.flight.offside >> i & 1, 0
    if not (ours and judged and bout.possession.charge.passer >= 0):
        return False
    bout.touched(i)
    side = bout.side_for(i)
    bout.possession.charge = NO_CHARGE
    if side == bout.standing.side:
        lose(bout, side, Charge("rule fault", i))
    serve(bout, "out", RuleEvent("out", side, i, cause="rule fault"))
    return True


def complete_pass(bout: Bout, passer: int, i: int, x: float, y: float) -> None:
    """A pass by `passer` has reached player i of his side at (x, y)."""
    if bout.possession.pending is None:
        bout.standing.passes += 1
    bout.possession.last_pass = (passer, i)
    length = math.hypot(x - bout.ball.x, y - bout.ball.y)
    gates = () if bout.flight.struck is None else bout.flight.struck.gates
    bout.note(EventKind.RECEIVE, i, passer, value=length, x=x, y=y, detail=" ".join(gates))


def tell_pass(bout: Bout, passer: int, i: int, x: float, y: float) -> None:
    """The rules hear of a pass completed at (x, y); one that confirms a win only, or leads up to that, is no pass of theirs yet.

    It is one more in a row, then a pass such as it was, then one more of what the game counts; a window that closes with it does
    so last.
    """
    if bout.possession.pending is not None:
        confirm_by_passes(bout)
        confirm_by_gate(bout)
        return
    side, phase = bout.standing.side, bout.standing.phase
    deed = deed_of_pass(bout, i, x, y) if asks_where(bout) else None
    counters = [] if deed is None else done(bout, "passes", deed)
    tell(bout, RuleEvent("passes", side, i, passer, count=bout.standing.passes))
    if deed is not None:
        tell_deed(bout, side, passer, i, deed, phase)
        count(bout, counters, side, i, phase)
    pass_in_windows(bout, side, "holder" in (bout.standing.side_of(passer), bout.standing.side_of(i)))
