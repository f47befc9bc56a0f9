"""Dead balls: how long, who takes them, from where."""

from __future__ import annotations

import math

from sim.pitch import arrays as col
from sim.pitch import entries
from sim.pitch.moves import where
from sim.pitch.setup import has_room
from sim.pitch.state import NEVER, State
from sim.rules.consequences import side_named
from sim.rules.guards import RuleEvent

GONE = ("out", "goal", "miss")  # after these the ball has left the ground and another one is needed
DEAD_BY = {"loss": "loss", "out": "out", "goal": "goal", "save": "shot", "miss": "shot"}
ASK_AGAIN_S = 1.0  # judgement: so often a server looks whether there is somebody to play to


class Restarts(State):
    """From the ball going dead until it is in play again."""

    def serve(self, name: str, event: RuleEvent) -> None:
        """The ball is dead until the restart of that name has been served."""
        if self.stopped or self.awaiting:
            return
        restart = self.game.restart(name)
        to = side_named(self, restart.to, event)
        if restart.to in ("other", "same"):
            last = event.side if event.kind == "loss" else self.touching_side
            to = last if restart.to == "same" else self.standing.other_side(last)
        cause = event.cause if event.cause in GONE else event.kind
        self.kill(DEAD_BY.get(cause, "rule"))
        delay = restart.seconds
        if cause in GONE:
            self.balls -= 1
            if self.balls < 0:
                delay += self.game.supply.retrieve_seconds
        if restart.area == "home":
            self.standing.area = self.standing.home_of(to) or self.standing.area
        elif restart.area != "active":
            self.standing.area = restart.area
        elif self.standing.phase.ball_in != "active" and self.across_in != self.phase_number:
            self.standing.area = self.standing.phase.ball_in  # it is played there until it has been played across
        elif restart.source == "line":
            names = [area.name for area in self.grounds[self.standing.area]]
            self.standing.area, _ = self.nearest_area(names, *self.ball_spot)
        spot = self.ball_spot if restart.source == "line" else None
        if event.kind != "out" or to != self.standing.side:
            self.standing.new_possession(to)  # a ball that comes back to the same side goes on with its count
        self.await_service(to, restart.source, self.now + delay, spot)

    def kill(self, cause: str) -> None:
        """The ball goes out of play."""
        self.leave_area()
        self.plan += 1
        self.tackling += 1
        if self.provisional is not None:
            self.note("contested", player=self.provisional[1])
            self.provisional = None
            self.noted = None
        bx, by = self.ball_place()
        self.ball_spot = (bx, by)
        if self.live:
            self.live = False
            self.note("dead", cause=cause, x=bx, y=by)
        area = self.game.area(self.standing.area)
        self.ball["state"], self.ball["x"], self.ball["y"] = col.DEAD, area.x, area.y
        self.ball["holder"] = -1.0
        self.trace_ball()

    def await_service(self, to: str, source: str, t: float, spot: tuple[float, float] | None) -> None:
        """Side `to` gets the ball at time t (later, if the taker cannot be there yet)."""
        self.play["side"] = self.sides[to]
        self.play["live_at"] = t
        self.assign()
        self.note("serve", side=to, detail=source)
        taker = self.taker(to, source, spot)
        self.set_spot(taker, to, spot, t)
        entries.everybody_thinks(*self.arrays, -1, self.now)
        if spot is not None and taker >= 0:
            x, y = float(self.play["spot_x"]), float(self.play["spot_y"])
            cap = max(2.0, self.distance_from(taker, x, y) / max(0.8, t - self.now - 1.0))
            entries.go(*self.arrays, taker, self.now, self.now + 0.3, x, y, cap, 0.8, False)
            t = max(t, float(self.players["plan"][taker]["t0"][self.players["plan_length"][taker] - 1]))
            self.play["live_at"] = t
        self.plan += 1
        plan = self.plan
        self.awaiting = True
        self.taking = taker
        self.clock.at(t, "serve", lambda s: self.put_in_play(s, plan, to, taker))

    def set_spot(self, taker: int, to: str, spot: tuple[float, float] | None, t: float) -> None:
        """Where opponents make room until the ball is live at time t: where it went out, a little inside the line; the goal of the
        keeper who takes it; or where one will be whom the server may play to, rather one with room about his place."""
        if spot is not None and taker >= 0:
            west, south, east, north = self.game.area(self.standing.area).bounds
            self.play["spot_x"] = min(max(spot[0], west + 0.2), east - 0.2)
            self.play["spot_y"] = min(max(spot[1], south + 0.2), north - 0.2)
        elif taker >= 0:
            self.play["spot_x"], self.play["spot_y"] = self.players["goal_x"][taker], self.players["goal_y"][taker]
        else:
            others = [
                self.place_when_dead(j)
                for j in range(len(self.players))
                if not self.is_ours(j) and self.players["style"][j] == col.FREE
            ]
            able = {i: self.place_when_dead(i) for i in self.ready(to)}
            if not able:  # all of them wait
                self.play["spot_x"] = NEVER
                return
            free = [i for i in able if has_room(able[i], others, float(self.constants["start_room"]))]
            i = min(free or able, key=self.lot)
            x, y, _, _ = where(self.players, i, self.now)
            px, py = able[i]
            walk = self.constants["dead_pace"] * max(0.0, t - self.now - self.players["reaction"][i])
            share = min(1.0, walk / (math.hypot(px - x, py - y) + 1e-9))
            self.play["spot_x"], self.play["spot_y"] = x + share * (px - x), y + share * (py - y)

    def taker(self, to: str, source: str, spot: tuple[float, float] | None) -> int:
        """Who goes to take the restart: the keeper, or the nearest to the spot; -1 when the server chooses at the last moment."""
        if source == "keeper":
            keepers = [i for i in self.players_of(to) if self.players["style"][i] == col.GOAL]
            if keepers:
                return min(keepers, key=lambda i: (self.distance_to_ball(i), self.lot(i)))
        if spot is not None and self.ready(to):
            return min(self.ready(to), key=lambda i: (self.distance_from(i, *spot), self.lot(i)))
        return -1

    def players_of(self, side: str) -> list[int]:
        return [i for i in range(len(self.players)) if self.standing.side_of(i) == side]

    def ready(self, to: str) -> list[int]:
        """Players of a side who may receive a restart, those in the area in play first; its keepers, then floaters, if there is
        nobody; never one who waits."""
        playing = [i for i in range(len(self.players)) if self.players["style"][i] != col.WAIT]
        mine = [i for i in playing if self.standing.side_of(i) == to]
        able = [i for i in mine if self.players["may_receive"][i] != 0.0 and self.players["style"][i] != col.GOAL]
        here = [i for i in able if (self.jobs[i].place, self.standing.area) in self.lies_in]
        floaters = [i for i in playing if self.players["side"][i] == col.FLOATER]
        return here or able or mine or floaters

    def served_to(self, to: str) -> int:
        """Whom the server picks: by lot among those with room, or the freest."""
        room = {}
        for i in self.ready(to):
            x, y, _, _ = where(self.players, i, self.now)
            room[i] = entries.room_at(*self.arrays, i, x, y, self.now)
        free = [i for i in room if room[i] >= self.constants["start_room"]]
        if free:
            return min(free, key=self.lot)
        return max(room, key=lambda i: (room[i], self.lot(i)))

    def put_in_play(self, t: float, plan: int, to: str, taker: int) -> None:
        if self.stopped or plan != self.plan:
            return
        self.now = t
        if taker < 0 and not self.ready(to):  # all of them wait: so does the ball
            self.clock.at(t + ASK_AGAIN_S, "serve", lambda s: self.put_in_play(s, plan, to, taker))
            return
        self.awaiting = False
        self.play["spot_x"] = NEVER
        taker = self.served_to(to) if taker < 0 else taker
        self.live = True
        self.note("live", other=taker)
        self.served, self.cause, self.culprit = True, "", -1
        self.passed = (-1, -1)
        self.play["lost_at"] = -NEVER
        self.take_control(t, taker)

    def leave_area(self) -> None:
        """A ball lost on its way between areas counts as still in the one it left."""
        if self.crossing is not None:
            self.standing.area, _ = self.crossing
            self.crossing = None
