"""Whose ball it is: control, completed passes, provisional and confirmed wins, losses.

A loss is charged to the last player to touch the ball for the side that loses it: before the touch that won it (also where the win
counts only later), before it went out, was shot or had been held too long.  A floater touches it for the side he plays with just
then.  While a win waits to be confirmed the ball is still the other side's: what its winners do with it (over the line, held
too long) ends their win and is nobody's loss, but an opponent of theirs who puts it out has lost it for his own side.
"""

from __future__ import annotations

import math

from sim.game.borders import distance
from sim.pitch import arrays as col
from sim.pitch import entries
from sim.pitch.moves import where
from sim.pitch.state import NEAR_M, State
from sim.rules.guards import RuleEvent


class Possession(State):
    """What a controlled touch means."""

    def take_control(self, t: float, i: int) -> None:
        """Player i has the ball under control at time t: possession, passes, areas, and what he does next."""
        standing = self.standing
        self.now = t
        self.plan += 1
        x, y, vx, vy = where(self.players, i, t)
        ours = self.is_ours(i)
        across = self.locate(i, x, y, ours)
        passer = int(self.ball["passer"])
        self.ball["state"], self.ball["holder"], self.ball["received_at"], self.ball["touches"] = col.HELD, i, t, 1.0
        self.ball["meant_for"] = -1.0
        self.trace_ball()
        self.toucher, self.touching_side = i, self.side_for(i)
        self.note("touch", player=i, x=x, y=y)
        completed = ours and not self.served and not self.cause and passer >= 0 and passer != i
        if self.served:
            self.note("possession", player=i)
            self.controlled_in, self.took_over = standing.area, False
        self.served = False
        if not ours:
            self.take_over(t, i)
        elif completed:
            if self.provisional is None:
                standing.passes += 1
            self.passed = (passer, i)
            length = math.hypot(x - self.ball["x"], y - self.ball["y"])
            self.note("receive", player=i, other=passer, value=length, x=x, y=y)
        self.cause, self.culprit = "", -1
        self.ball["passer"] = -1.0
        if self.stopped or not self.live:
            return
        self.tell_arrival(i, across)
        if completed and self.live and not self.stopped:
            self.confirm_by_passes()
            if self.live and self.provisional is None:
                self.tell(RuleEvent("passes", standing.side, i, passer, count=standing.passes))
        if not self.live or self.stopped or self.holder() != i:
            return
        self.carried_in_play = self.in_play_at(i, x, y)
        self.aim_again()
        entries.go(*self.arrays, i, t, t, x + 0.25 * vx, y + 0.25 * vy, 2.5, 0.8, False)
        entries.settle(*self.arrays, i, t)
        self.first_look(t, i)

    def locate(self, i: int, x: float, y: float, ours: bool) -> tuple[str, str] | None:
        """Which area the ball is in, now that player i has it at (x, y); from where to where it has come, if that is a transfer: a
        pass to another area, under control there by the side that played it.

        A pass across that ends on the ground between the areas counts as still in the area it left.  Without one the ball is
        where it is controlled, among areas that form one ground, unless the phase has named the area it is played in.
        """
        standing, crossing = self.standing, self.crossing
        self.crossing = None
        if crossing is not None:
            start, end = crossing
            first = (start, end) if (start, end) in self.lies_in else (end, start)
            near = [area.name for name in crossing for area in self.grounds[name]]
            standing.area, beyond = self.nearest_area(dict.fromkeys((*first, *near)), x, y)
            if beyond > NEAR_M:
                standing.area = start
            arrived = ours and standing.area == end
            if standing.area != start and not arrived:
                self.note("area", player=i, detail=f"{start}>{standing.area}")
            self.assign()
            return crossing if arrived else None
        ground = self.grounds[standing.area]
        if len(ground) > 1 and standing.phase.ball_in == "active":
            before = standing.area
            if distance(self.game.area(before), x, y) > NEAR_M:
                standing.area, _ = self.nearest_area([area.name for area in ground], x, y)
            if standing.area != before:
                self.note("area", player=i, detail=f"{before}>{standing.area}")
                self.assign()
        return None

    def carried_over(self, i: int) -> None:
        """Player i, who has the ball, may have carried it over the line: into another area, or out."""
        x, y, _, _ = where(self.players, i, self.now)
        before = self.standing.area
        if len(self.grounds[before]) > 1:
            self.locate(i, x, y, True)
        if self.standing.area != before:
            self.tell_arrival(i, None)
        elif self.carried_in_play and not self.in_play_at(i, x, y):
            self.ball["x"], self.ball["y"], self.ball["launch_speed"] = *self.nearest_in_play(x, y), 0.0
            self.touched(i)
            self.cause, self.culprit = "", i
            self.over_the_line(self.now, self.plan)
            return
        self.carried_in_play = self.in_play_at(i, x, y)

    def in_play_at(self, i: int, x: float, y: float) -> bool:
        """Whether player i still has the ball in play at (x, y); a keeper always has."""
        return self.players["style"][i] == col.GOAL or entries.on_ground(self.match, x, y, NEAR_M)

    def tell_arrival(self, i: int, across: tuple[str, str] | None) -> None:
        """The rules hear of a pass across that has arrived, and of a ball that is home; not while a win waits to be confirmed."""
        standing = self.standing
        if self.provisional is not None:
            return
        came, self.controlled_in = standing.area != self.controlled_in, standing.area
        won, self.took_over = self.took_over, False
        if across is not None:
            start, end = across
            self.note("transfer", player=i, detail=f"{start}>{end}")
            self.across_in = self.phase_number
            self.tell(RuleEvent("transfer", standing.side, i, start=start, end=end))
            if not self.live or self.stopped or self.holder() != i:
                return
        if (came or won) and standing.phase.aim == "home" and standing.home_of(standing.side) == self.controlled_in:
            self.tell(RuleEvent("home", standing.side, i))

    def take_over(self, t: float, i: int) -> None:
        """An opponent controls the ball: a loss, confirmed now or later."""
        standing = self.standing
        old, new = standing.side, self.standing.side_of(i)
        cause, loser = self.cause or "interception", self.culprit
        if self.provisional is not None and self.provisional[0] == new:
            self.note("contested", player=self.provisional[1])
            self.provisional = None
            self.provisional_number += 1
            self.noted = None
            self.hold_for(new, t)
            self.took_over = False  # it has been theirs all the time
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
        self.play["side"] = self.sides[side]
        self.play["lost_at"] = t
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
        if self.live and not self.stopped and self.holder() >= 0:
            self.tell_arrival(self.holder(), None)

    def lose(self, side: str, loser: int, winner: int, cause: str) -> None:
        """Side `side` has lost the ball (to `winner`, or to nobody: -1); the rules answer."""
        standing = self.standing
        x, y = self.ball_place()
        phase = standing.phase if self.noted is None else self.noted
        if self.noted is None:
            self.note("loss", player=loser, other=winner, side=side, cause=cause, x=x, y=y)
        self.noted = None
        new = standing.side_of(winner) if winner >= 0 else standing.other_side(side)
        standing.new_possession(new)
        if winner >= 0:
            self.note("win", player=winner, x=x, y=y)
            self.note("possession", player=winner)
            standing.wins[new] = standing.wins.get(new, 0) + 1
            self.assign()
        self.tell(RuleEvent("loss", side, loser, winner, cause), phase)
        if winner >= 0:  # also when the rules of the loss have stopped play or begun another phase
            self.tell(RuleEvent("win", new, winner, loser, cause), phase)
            self.tell(RuleEvent("wins", new, winner, count=float(standing.wins.get(new, 0))), phase)
