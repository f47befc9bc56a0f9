"""The moving ball: who gets to it, what his touch does, the line, and shots."""

from __future__ import annotations

import math

from sim.pitch import arrays as col
from sim.pitch import entries
from sim.pitch.moves import draw, where
from sim.pitch.state import NEVER, State
from sim.rules.guards import RuleEvent
from sim.streams import stream_index

CONTROL = stream_index("control")
SHOT_RESULTS = ("goal", "save", "miss", "block")


class Flight(State):
    """From the kick until somebody has the ball or it is dead."""

    def roll(self, t: float, fresh: bool, barred: int) -> None:
        """The ball is rolling: find out what happens to it first and wait for that."""
        self.fresh, self.barred = fresh, barred
        self.plan += 1
        self.tackling += 1
        plan = self.plan
        who, when, leaves = self.outcome(self, t)
        leaves = min(leaves, self.stops_between())
        if who >= 0 and when <= leaves:
            self.clock.at(max(when, t), "contact", lambda s: self.contact(s, plan, who))
        else:
            self.clock.at(max(leaves, t), "line", lambda s: self.over_the_line(s, plan))

    def contact(self, t: float, plan: int, i: int) -> None:
        """Player i gets to the moving ball: control it, deflect it, miss it."""
        if self.stopped or plan != self.plan:
            return
        self.now = t
        bx, by, speed = entries.ball_point(self.match, t)
        self.arriving = speed
        ours = self.is_ours(i)
        if not ours and draw(self.players, i, CONTROL) >= self.constants["touch_chance"]:
            self.players["busy_until"][i] = t + 0.3
            self.roll(t, False, self.barred | 1 << i)
            return
        if self.touched_between(t, i, bx, by):
            return
        if ours:
            if draw(self.players, i, CONTROL) < entries.miscontrol_chance(*self.arrays, i, t):
                self.fumble(t, i, "miscontrol")
            else:
                self.take_control(t, i)
            return
        if draw(self.players, i, CONTROL) < self.constants["steal_control"]:
            self.take_control(t, i)
            return
        self.touched(i)
        self.note("deflect", player=i, x=bx, y=by)
        self.bounce(t, i, self.constants["deflect_speed"], bx, by)

    def between(self, x: float, y: float) -> str | None:
        """Which of the two areas a ball played across is in, None on the ground between them."""
        nearest, beyond = self.nearest_area(self.crossing, x, y)
        slack = self.constants["edge_slack"] if any(job.style == "edge" for job in self.jobs) else 0.0
        return nearest if beyond <= slack else None

    def stops_between(self) -> float:
        """When a ball played across comes to rest between the areas, if that puts it out (NEVER: it does not)."""
        if self.crossing is None or self.landed or self.game.between_areas == "first":
            return NEVER
        stops = float(self.ball["kicked_at"] + self.ball["launch_speed"] / self.ball["deceleration"])
        x, y, _ = entries.ball_point(self.match, stops)
        return stops if self.between(x, y) is None else NEVER

    def touched_between(self, t: float, i: int, x: float, y: float) -> bool:
        """Where only a pass across may leave its area, player i's touch ends the crossing: in an area that is where the ball is,
        between the two it is out (True)."""
        if self.crossing is None or self.landed or self.game.between_areas == "first":
            return False
        area = self.between(x, y)
        if area is None:
            self.touched(i)
            self.over_the_line(t, self.plan)
            return True
        if area == self.crossing[1]:
            self.landed = True
        else:
            self.leave_area()
        self.mark_out()
        return False

    def fumble(self, t: float, i: int, cause: str) -> None:
        """A touch that fails: the ball runs loose."""
        bx, by, _ = entries.ball_point(self.match, t)
        self.note("touch", player=i, x=bx, y=by)
        self.note("deflect", player=i, x=bx, y=by)  # the ball is loose: whoever has it next counts his touches anew
        self.touched(i)
        self.cause, self.culprit = cause, i
        self.served = False
        self.bounce(t, i, 0.3, bx, by)

    def bounce(self, t: float, i: int, keep: float, x: float, y: float) -> None:
        """The ball leaves (x, y) with part of its speed, off its old line by up to 80 degrees."""
        speed = max(1.5, keep * max(self.arriving, 4.0) * (0.6 + 0.8 * draw(self.players, i, CONTROL)))
        turn = (draw(self.players, i, CONTROL) - 0.5) * 2.8 * self.play["frame_x"] * self.play["frame_y"]
        dx, dy = self.ball["dx"], self.ball["dy"]
        cosine, sine = math.cos(turn), math.sin(turn)
        self.ball["dx"], self.ball["dy"] = dx * cosine - dy * sine, dx * sine + dy * cosine
        self.ball["state"], self.ball["holder"], self.ball["meant_for"] = col.ROLLING, -1.0, -1.0
        self.ball["x"], self.ball["y"], self.ball["launch_speed"], self.ball["kicked_at"], self.ball["deceleration"] = (
            x,
            y,
            speed,
            t,
            self.constants["ball_deceleration"],
        )
        self.ball["target_x"], self.ball["target_y"] = x + 1.5 * self.ball["dx"], y + 1.5 * self.ball["dy"]
        self.ball["arrives_at"], self.ball["obviousness"] = t + 0.5, 0.0
        self.trace_ball()
        self.players["busy_until"][i] = t + 0.35
        self.roll(t, True, 0)

    def over_the_line(self, t: float, plan: int) -> None:
        """The ball has crossed the line."""
        if self.stopped or plan != self.plan:
            return
        self.now = t
        x, y, _ = entries.ball_point(self.match, t)
        toucher = self.toucher
        self.note("out", player=toucher, x=x, y=y)
        self.leave_area()
        side, phase = self.standing.side, self.standing.phase
        if self.touching_side == side:
            self.lose(side, toucher, -1, "out")
        if not self.stopped:  # also when the rules of the loss have stopped play
            self.tell(RuleEvent("out", self.touching_side, toucher, cause="out"), phase)
        if not self.stopped and self.live:
            self.serve("out", RuleEvent("out", self.touching_side, toucher, cause="out"))

    def shot(self, t: float, i: int) -> None:
        x, y, _, _ = where(self.players, i, t)
        if not self.first_time:
            self.note("touch", player=i, x=x, y=y)
        self.note("shot", player=i, value=math.hypot(self.play["goal_x"] - x, self.play["goal_y"] - y), x=x, y=y)
        entries.shoot(*self.arrays, i, t, self.out)
        result, when, ex, ey, who = (float(v) for v in self.out[:5])
        self.ball["state"], self.ball["holder"], self.ball["passer"], self.ball["meant_for"] = (
            col.ROLLING,
            -1.0,
            -1.0,
            -1.0,
        )
        gap = math.hypot(ex - x, ey - y) + 1e-9
        self.ball["x"], self.ball["y"], self.ball["kicked_at"] = x, y, t
        self.ball["dx"], self.ball["dy"], self.ball["launch_speed"], self.ball["deceleration"] = (
            (ex - x) / gap,
            (ey - y) / gap,
            gap / max(when - t, 1e-3),
            1e-6,
        )
        self.ball["target_x"], self.ball["target_y"], self.ball["arrives_at"], self.ball["obviousness"] = (
            ex,
            ey,
            when,
            0.0,
        )
        self.trace_ball()
        self.touched(i)
        self.plan += 1
        self.tackling += 1
        plan = self.shot_plan = self.plan
        self.clock.at(when, "shot", lambda s: self.shot_ends(s, plan, i, SHOT_RESULTS[int(result)], int(who), ex, ey))

    def shot_ends(self, t: float, plan: int, i: int, result: str, who: int, x: float, y: float) -> None:
        if self.stopped or plan != self.plan:
            return
        self.now = t
        self.shot_plan = -1
        self.shot_was(t, i, result, who, x, y)
        if self.called:
            self.finish(t)

    def shot_was(self, t: float, i: int, result: str, who: int, x: float, y: float) -> None:
        """What became of a shot by player i, and what follows."""
        side, phase = self.standing.side, self.standing.phase
        self.note(result, player=who if who >= 0 else i, other=i, x=x, y=y)
        if result == "block":
            self.touched(who)
            self.cause, self.culprit = "shot", i
            self.arriving = 8.0
            self.bounce(t, who, 0.5, x, y)
            return
        keeper = who if result == "save" else -1
        self.note("loss", player=i, other=keeper, side=side, cause="shot", x=x, y=y)
        self.tell(RuleEvent(result, side, i, who, "shot"))
        if not self.live or self.stopped:
            return
        if keeper >= 0:
            self.cause, self.culprit, self.noted = "shot", i, phase
            self.take_control(t, keeper)
            return
        self.noted = phase
        self.lose(side, i, -1, "shot")
        if self.live and not self.stopped:
            self.serve("start" if result == "goal" else "out", RuleEvent("out", side, i, cause=result))
