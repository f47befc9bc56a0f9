"""Whose ball it is: wins that count at once or later, losses, the area the ball is in, and the line.

A loss is charged to the last player to touch the ball for the side that loses it: before the touch that won it (also where the win
counts only later), before it went out, was shot or had been held too long; of a pass that has not come under control, to whom the
game says.  A floater touches it for the side he plays with just then.  While a win waits to be confirmed the ball is still the
other side's: what its winners do with it (over the line, held too long) ends their win and is nobody's loss, but an opponent of
theirs who puts it out has lost it for his own side.
"""

from __future__ import annotations

from functools import partial

from sim.game.borders import distance
from sim.game.counters import ANY_GATE
from sim.pitch import arrays as col
from sim.pitch import entries
from sim.pitch.answering import tell
from sim.pitch.assignment import assign, nearest_area, nearest_in_play
from sim.pitch.bout_parts import Charge, Crossing, PendingWin
from sim.pitch.counting import count, done, tell_carried
from sim.pitch.log import EventKind
from sim.pitch.moves import where
from sim.pitch.restarts import leave_area, serve, void_pending
from sim.pitch.state import NEAR_M, Bout
from sim.pitch.whistle import end_attack
from sim.rules.guards import RuleEvent
from sim.rules.passes import Deed

# --- wins and losses


def charged(bout: Bout, charge: Charge) -> int:
    """Whom a loss is charged to, as the game has it (-1: nobody)."""
    loss, who = bout.game.loss, charge.player
    if charge.passer >= 0:  # a pass that nobody of the side has brought under control
        match loss.charged:
            case "passer":
                who = charge.passer
            case "receiver":
                who = charge.receiver
            case "nearest":
                side = [i for i in range(len(bout.ids)) if bout.standing.side_of(i) == bout.standing.side]
                playing = [i for i in side if bout.players[i].style != col.WAIT]
                who = min(playing, key=lambda i: (bout.distance_to_ball(i), bout.lot(i)), default=who)
    floater = who >= 0 and bout.standing.side_of(who) == "holder"
    return bout.possession.last_of_side if floater and loss.floater == "last team-mate" else who


def take_over(bout: Bout, t: float, i: int) -> None:
    """An opponent controls the ball: a loss, confirmed now or later."""
    possession, win = bout.possession, bout.game.win
    old, new = bout.standing.side, bout.standing.side_of(i)
    charge = possession.charge._replace(cause=possession.charge.cause or "interception")
    won_back = possession.pending is not None and possession.pending.side == new
    if won_back:
        void_pending(bout)
        if win.contested == "starts again":
            bout.standing.reset("passes")
    bout.hold_for(new)
    if bout.layout.turns:
        assign(bout)
    bout.play.lost_at = t
    possession.just_won = not won_back  # it has been theirs all the time
    possession.together = at_the_ball(bout, i)
    if won_back:
        return
    if win.confirm in ("control", "touch") or possession.loss_noted:  # a save is the end of the other side's possession
        lose(bout, old, charge, i)
        return
    possession.pending = PendingWin(old, i, charge._replace(player=charged(bout, charge), passer=-1))
    bout.spells.win.renew()
    if win.confirm == "hold":
        bout.clock.at(t + win.amount, "timer", partial(confirm_by_time, bout), bout.spells.win)


def at_the_ball(bout: Bout, i: int) -> tuple[int, ...]:
    """Player i, who has just won the ball, and those of his side who could have touched it at this moment, too."""
    side = bout.standing.side_of(i)
    if bout.game.win.together == "first":
        return (i,)
    mates = [j for j in range(len(bout.ids)) if j == i or bout.standing.side_of(j) == side]
    reach = bout.constants.intercept_reach
    free = [
        j for j in mates if bout.players[j].style in (col.FREE, col.EDGE) and bout.players[j].busy_until <= bout.now
    ]
    return tuple(j for j in mates if j == i or (j in free and bout.distance_to_ball(j) <= reach))


def confirm_by_time(bout: Bout, t: float) -> None:
    """The ball has been held for as long as a win takes."""
    bout.now = t
    confirm(bout)


def confirm_by_passes(bout: Bout) -> None:
    """One more pass completed by a side whose win may wait for that."""
    pending = bout.possession.pending
    if pending is not None and bout.game.win.confirm == "passes":
        pending.passes += 1
        if pending.passes >= bout.game.win.amount:
            confirm(bout)


def confirm_by_gate(bout: Bout) -> None:
    """A pass has been completed, through which gates, by a side whose win may wait for that."""
    win, struck = bout.game.win, bout.flight.struck
    if win.confirm == "gate" and struck is not None and any(win.gate in (ANY_GATE, gate) for gate in struck.gates):
        confirm(bout)


def confirm(bout: Bout) -> None:
    """The win that waits, if there is one, counts."""
    pending = bout.possession.pending
    if pending is None:
        return
    bout.possession.pending = None
    lose(bout, pending.side, pending.charge, pending.winner)
    if bout.holder() >= 0:
        tell_arrival(bout, bout.holder(), None)


def lose(bout: Bout, side: str, charge: Charge, winner: int = -1) -> None:
    """Side `side` has lost the ball (to `winner`, or to nobody: -1); the rules answer."""
    standing, loser, cause = bout.standing, charged(bout, charge), charge.cause
    x, y = bout.ball_place()
    bout.possession.last_of_side = winner
    noted, bout.possession.loss_noted = bout.possession.loss_noted, None
    phase = standing.phase if noted is None else noted
    if noted is None:
        bout.note(EventKind.LOSS, loser, winner, side=side, cause=cause, x=x, y=y)
    new = standing.side_of(winner) if winner >= 0 else standing.other_side(side)
    standing.new_possession(new)
    regained = standing.windows.pop(new, None)
    if winner >= 0:
        bout.note(EventKind.WIN, winner, x=x, y=y)
        bout.note(EventKind.POSSESSION, winner)
        standing.wins[new] = standing.wins.get(new, 0) + 1
        assign(bout)
    counters = [] if winner < 0 else done(bout, "wins", Deed(by=standing.role[winner]))
    together = bout.possession.together if winner in bout.possession.together else ()
    tell(bout, RuleEvent("loss", side, loser, winner, cause, together=together), phase)
    if winner >= 0:  # also when the rules of the loss have stopped play or begun another phase
        tell(bout, RuleEvent("win", new, winner, loser, cause, together=together), phase)
        wins = float(standing.wins.get(new, 0))
        tell(bout, RuleEvent("wins", new, winner, loser, count=wins, together=together), phase)
        count(bout, counters, new, winner, phase)
    if regained is not None:
        tell(bout, RuleEvent("won back", new, winner, loser, cause, together=together), phase)
    if winner >= 0:
        end_attack(bout)


# --- where it is played


def locate(bout: Bout, i: int, x: float, y: float, ours: bool) -> Crossing | None:
    """Which area the ball is in, now that player i has it at (x, y); from where to where it has come, if that is a transfer: a
    pass to another area, under control there by the side that played it.

    A pass across that ends on the ground between the areas counts as still in the area it left.  Without one the ball is
    where it is controlled, among areas that form one ground, unless the phase has named the area it is played in.
    """
    standing, grounds = bout.standing, bout.layout.grounds
    crossing, bout.possession.crossing = bout.possession.crossing, None
    if crossing is not None:
        return locate_across(bout, crossing, i, x, y, ours)
    if len(grounds[standing.area]) > 1 and standing.phase.ball_in == "active":
        before = standing.area
        if distance(bout.game.area(before), x, y) > NEAR_M:
            standing.area, _ = nearest_area(bout, [area.name for area in grounds[before]], x, y)
        if standing.area != before:
            bout.note(EventKind.AREA, i, detail=f"{before}>{standing.area}")
            assign(bout)
    return None


def locate_across(bout: Bout, crossing: Crossing, i: int, x: float, y: float, ours: bool) -> Crossing | None:
    """The same at the end of a pass across."""
    standing, layout = bout.standing, bout.layout
    start, end = crossing.start, crossing.end
    first = (start, end) if (start, end) in layout.lies_in else (end, start)
    near = [area.name for name in (start, end) for area in layout.grounds[name]]
    standing.area, beyond = nearest_area(bout, dict.fromkeys((*first, *near)), x, y)
    if beyond > NEAR_M + bout.players[i].run_off:
        standing.area = start
    arrived = ours and standing.area == end
    if standing.area != start and not arrived:
        bout.note(EventKind.AREA, i, detail=f"{start}>{standing.area}")
    assign(bout)
    return crossing if arrived else None


def tell_arrival(bout: Bout, i: int, across: Crossing | None) -> None:
    """The rules hear of a pass across that has arrived, and of a ball that is home; not while a win waits to be confirmed."""
    standing, possession = bout.standing, bout.possession
    if possession.pending is not None:
        return
    came, possession.controlled_in = standing.area != possession.controlled_in, standing.area
    won, possession.just_won = possession.just_won, False
    if across is not None:
        bout.note(EventKind.TRANSFER, i, detail=f"{across.start}>{across.end}")
        possession.crossed = True
        tell(bout, RuleEvent("transfer", standing.side, i, start=across.start, end=across.end))
        if bout.holder() != i:
            return
    if (
        (came or won)
        and standing.phase.aim_of(standing.side) == "home"
        and standing.home_of(standing.side) == possession.controlled_in
    ):
        tell(bout, RuleEvent("home", standing.side, i))


# --- the line


def in_play_at(bout: Bout, i: int, x: float, y: float) -> bool:
    """Whether player i still has the ball in play at (x, y): a keeper always has, a player on the lines also in the run-off."""
    style = bout.players[i].style
    if style == col.GOAL:
        return True
    ground = entries.on_ground if style == col.EDGE else entries.within_lines
    return bool(ground(bout.match, x, y, NEAR_M))


def carried_over(bout: Bout, i: int) -> None:
    """Player i, who has the ball, may have carried it over the line: into another area, or out."""
    x, y, _, _ = where(bout.records, i, bout.now)
    before = bout.standing.area
    if len(bout.layout.grounds[before]) > 1:
        locate(bout, i, x, y, True)
    if bout.standing.area != before:
        tell_arrival(bout, i, None)
    if bout.holder() == i:
        tell_carried(bout, i, x, y)
    if bout.holder() != i:
        return
    still = in_play_at(bout, i, x, y)
    if bout.carrier.in_play and not still:
        bout.ball.x, bout.ball.y = nearest_in_play(bout, x, y)
        bout.roll_only(0.0, bout.constants.ball_roll)
        bout.touched(i)
        bout.possession.charge = Charge("", i)
        ball_out(bout, bout.now)
        return
    bout.carrier.in_play = still


def ball_out(bout: Bout, t: float) -> None:
    """The ball has crossed the line."""
    bout.now = t
    possession, phase = bout.possession, bout.standing.phase
    x, y, _ = entries.ball_point(bout.match, t)
    toucher = possession.toucher
    bout.note(EventKind.OUT, toucher, x=x, y=y)
    leave_area(bout)
    bout.standing.tally.reset_by("out")
    side = bout.standing.side
    if possession.touching_side == side:
        lose(bout, side, possession.charge._replace(cause="out", player=toucher))
    # Also when the rules of the loss have stopped play.
    tell(bout, RuleEvent("out", possession.touching_side, toucher, cause="out"), phase)
    serve(bout, "out", RuleEvent("out", possession.touching_side, toucher, cause="out"))
