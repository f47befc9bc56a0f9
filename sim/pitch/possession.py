"""Whose ball it is: control, completed passes, provisional and confirmed wins, losses.

A loss is charged to the last player to touch the ball for the side that loses it: before the touch that won it (also where the win
counts only later), before it went out, was shot or had been held too long.  A floater touches it for the side he plays with just
then.  While a win waits to be confirmed the ball is still the other side's: what its winners do with it (over the line, held
too long) ends their win and is nobody's loss, but an opponent of theirs who puts it out has lost it for his own side.
"""

from __future__ import annotations

import math

from sim.pitch import columns as col
from sim.pitch.minds import settle
from sim.pitch.moves import go, where
from sim.pitch.state import State
from sim.rules.guards import Happening


class Possession(State):
    """What a controlled touch means."""

    def take_control(self, t: float, i: int) -> None:
        """Player i has the ball under control at time t: possession, passes, areas, and what he does next."""
        standing, B, P = self.standing, self.B, self.P
        self.now = t
        self.plan += 1
        x, y, vx, vy = where(P, self.M, i, t)
        ours = self.is_ours(i)
        passer = int(B[col.PASSER])
        B[col.MODE], B[col.HOLDER], B[col.RECEIVED], B[col.TOUCHES] = col.HELD, i, t, 1.0
        B[col.MEANT] = -1.0
        self.toucher, self.touching_side = i, self.side_for(i)
        self.note("touch", player=i, x=x, y=y)
        completed = ours and not self.served and not self.cause and passer >= 0 and passer != i
        if self.served:
            self.note("possession", player=i)
        self.served = False
        if not ours:
            self.take_over(t, i)
        elif completed:
            if self.provisional is None:
                standing.passes += 1
            self.passed = (passer, i)
            length = math.hypot(x - B[col.BX], y - B[col.BY])
            self.note("receive", player=i, other=passer, value=length, x=x, y=y)
        self.cause, self.culprit = "", -1
        B[col.PASSER] = -1.0
        if self.stopped or not self.live:
            return
        self.note_arrival(i, x, y)
        if completed and self.live and not self.stopped:
            self.confirm_by_passes()
            if self.live and self.provisional is None:
                self.tell(Happening("passes", standing.side, i, passer, count=standing.passes))
        if not self.live or self.stopped or self.holder() != i:
            return
        self.aim_again()
        go(P, self.M, self.C, self.G, self.count, i, t, t, x + 0.25 * vx, y + 0.25 * vy, 2.5, 0.8, False)
        settle(P, self.M, B, self.C, self.K, self.N, self.G, self.count, i, t)
        self.first_look(t, i)

    def note_arrival(self, i: int, x: float, y: float) -> None:
        """Whether the ball has come to another area, or home."""
        standing = self.standing
        came_from = self.leaving_area
        self.leaving_area = None
        here = standing.area
        if came_from is not None and came_from != here:
            west, south, east, north = self.game.area(here).bounds
            if west - 1.0 <= x <= east + 1.0 and south - 1.0 <= y <= north + 1.0:
                self.note("transfer", player=i, detail=f"{came_from}>{here}")
                if standing.home_of(standing.side) == here and standing.phase.aim == "home":
                    self.tell(Happening("home", standing.side, i))
                else:
                    self.tell(Happening("transfer", standing.side, i))
            else:
                standing.area = came_from
            self.assign()
        elif self.took_over and standing.phase.aim == "home" and standing.home_of(standing.side) == here:
            self.tell(Happening("home", standing.side, i))
        self.took_over = False

    def take_over(self, t: float, i: int) -> None:
        """An opponent controls the ball: a loss, confirmed now or later."""
        standing = self.standing
        old, new = standing.side, self.standing.side_of(i)
        cause, loser = self.cause or "interception", self.culprit
        if self.provisional is not None and self.provisional[0] == new:
            self.note("contested", player=self.provisional[1])
            self.provisional = None
            self.provisional_number += 1
            self.hold_for(new, t)
            return
        if self.game.win.confirm == "control" or self.noted:  # a save is the end of the other side's possession
            self.hold_for(new, t)
            self.lose(old, loser, i, cause)
            return
        self.provisional = (old, i, cause, loser)
        self.provisional_number += 1
        self.confirm_passes = 0
        self.hold_for(new, t)
        if self.game.win.confirm == "hold":
            number = self.provisional_number
            self.clock.at(t + self.game.win.amount, "timer", lambda s: self.confirm_by_time(s, number))

    def hold_for(self, side: str, t: float) -> None:
        """From now on `side` has the ball, as far as running is concerned."""
        self.B[col.HOLDING] = self.sides[side]
        self.B[col.LOST] = t
        self.took_over = True

    def confirm_by_time(self, t: float, number: int) -> None:
        if number == self.provisional_number and self.provisional is not None and self.live and not self.stopped:
            self.now = t
            self.confirm()

    def confirm_by_passes(self) -> None:
        if self.provisional is not None and self.game.win.confirm == "passes":
            self.confirm_passes += 1
            if self.confirm_passes >= self.game.win.amount:
                self.confirm()

    def confirm(self) -> None:
        old, winner, cause, loser = self.provisional
        self.provisional = None
        self.lose(old, loser, winner, cause)

    def lose(self, side: str, loser: int, winner: int, cause: str) -> None:
        """Side `side` has lost the ball (to `winner`, or to nobody: -1); the rules answer."""
        standing = self.standing
        x, y = self.ball_place()
        if not self.noted:
            self.note("loss", player=loser, other=winner, side=side, cause=cause, x=x, y=y)
        self.noted = False
        new = standing.side_of(winner) if winner >= 0 else standing.other_side(side)
        standing.new_possession(new)
        if winner >= 0:
            self.note("win", player=winner, x=x, y=y)
            self.note("possession", player=winner)
            standing.wins[new] = standing.wins.get(new, 0) + 1
            self.assign()
        self.tell(Happening("loss", side, loser, winner, cause))
        if winner >= 0:  # also when the rules of the loss have stopped play
            self.tell(Happening("win", new, winner, loser, cause))
            self.tell(Happening("wins", new, winner, count=float(standing.wins.get(new, 0))))
