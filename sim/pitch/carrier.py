"""The carrier: first touch, looks, release, time limit, and the tackles on him."""

from __future__ import annotations

import math

from sim.pitch import arrays as col
from sim.pitch import entries
from sim.pitch.moves import draw, draw_lognormal, where
from sim.pitch.skill import odds
from sim.pitch.state import State
from sim.rules.guards import RuleEvent
from sim.streams import stream_index

CONTROL = stream_index("control")
HOLD = stream_index("hold")
TACKLE = stream_index("tackle")
PRESSED_M = 3.0  # an opponent this near at release makes it a pressed pass


class Carrier(State):
    """What the player with the ball does until it leaves him."""

    def first_look(self, t: float, i: int) -> None:
        """What the receiver does with the first touch: play it on at once, or bring it under control."""
        limit = int(self.players["touch_limit"][i])
        self.first_time = limit == 1
        entries.mean_to(*self.arrays, i)
        share = 2.0 * float(self.players["tempo"][i]) * self.constants["first_time_share"]
        if not self.first_time and draw(self.players, i, HOLD) < share:
            entries.choose(*self.arrays, i, t, True, self.arriving, self.out)
            self.first_time = self.out[0] >= 0 and entries.ready_to_release(*self.arrays, i, t, self.out[5])
        if self.first_time:
            wait = self.constants["contact_time"]
        else:
            pace = 1.5 - float(self.players["tempo"][i])
            x, y, _, _ = where(self.players, i, t)
            pace *= 1.0 + self.constants["control_pressed"] * entries.pressure(*self.arrays, i, x, y, t)
            wait = pace * draw_lognormal(
                self.players, i, CONTROL, self.constants["control_time"], self.constants["control_time_sd"]
            )
        self.await_look(t, min(t + wait, self.hold_until()))

    def hold_until(self) -> float:
        """When the holder must have let go of the ball."""
        return float(self.ball["received_at"]) + self.game.hold_limit_s

    def await_look(self, t: float, then: float) -> None:
        self.plan += 1
        plan = self.plan
        self.look_at = then
        self.clock.at(then, "look", lambda s: self.look(s, plan))
        self.await_tackle(t)

    def look(self, t: float, plan: int) -> None:
        """The carrier looks up: shoot, pass, carry on or hold."""
        if self.stopped or plan != self.plan:
            return
        self.now = t
        i = self.holder()
        self.carried_over(i)
        if self.stopped or plan != self.plan:
            return
        x, y, _, _ = where(self.players, i, t)
        if (
            self.play["aim"] == col.SCORE and entries.ahead_of_goal(self.match, x, y) <= 0.0
        ):  # he has carried it past that goal, or round it
            self.aim_again()
        if (
            self.play["may_shoot"]
            and self.play["aim"] == col.SCORE
            and self.players["style"][i] != col.GOAL
            and self.provisional is None
        ):
            chance = entries.goal_chance(*self.arrays, i, t)
            if chance >= max(
                self.constants["shot_least"],
                self.constants["shot_worth"] - self.constants["shot_patience"] * (t - self.ball["received_at"]),
            ):
                self.shot(t, i)
                return
        if not self.first_time:  # that was decided with a pass in view
            entries.mean_to(*self.arrays, i)
        entries.choose(*self.arrays, i, t, self.first_time, self.arriving, self.out)
        found = self.out[0] >= 0.0
        held = t - self.ball["received_at"]
        if found and (self.first_time or entries.ready_to_release(*self.arrays, i, t, self.out[5])):
            self.release(t, i, int(self.out[0]), float(self.out[3]), float(self.out[4]))
            return
        if t >= self.hold_until():
            if found:
                self.release(t, i, int(self.out[0]), float(self.out[3]), float(self.out[4]))
            else:
                self.out_of_time(i)
            return
        limit = int(self.players["touch_limit"][i])
        step = self.constants["look_interval"] * (0.7 + 0.6 * draw(self.players, i, HOLD))
        if limit == 0 or self.ball["touches"] < limit - 1:
            entries.carry(*self.arrays, i, t)
            if (
                held >= (self.ball["touches"] + 0.5) * self.constants["dribble_touch"]
            ):  # a pass half an interval after it would be that touch itself
                self.ball["touches"] += 1.0
                x, y, _, _ = where(self.players, i, t)
                self.note("touch", player=i, x=x, y=y)
        self.await_look(t, min(t + step, self.hold_until()))

    def out_of_time(self, i: int) -> None:
        """Held too long with nowhere to go: a rule fault, the ball goes to the others."""
        side = self.side_for(i)
        if side == self.standing.side:  # else his win has not counted yet: it is over, and the ball still the others'
            self.lose(side, i, -1, "time limit")
        if self.live and not self.stopped:
            self.serve("out", RuleEvent("out", side, i, cause="time limit"))

    def release(self, t: float, i: int, to: int, tx: float, ty: float) -> None:
        """Player i passes towards (tx, ty), meant for `to`."""
        x, y, _, _ = where(self.players, i, t)
        near = entries.room_at(*self.arrays, i, x, y, t)
        if not self.first_time:
            self.ball["touches"] += 1.0
            self.note("touch", player=i, x=x, y=y)
        place = self.jobs[to].place
        across = self.jobs[to].style != "goal" and (place, self.standing.area) not in self.lies_in
        entries.kick(*self.arrays, i, t, tx, ty, self.first_time, self.arriving)
        detail = "transfer" if across else "first-time" if self.first_time else "pass"
        self.note(
            "release",
            player=i,
            other=to,
            value=math.hypot(tx - x, ty - y),
            x=x,
            y=y,
            cause="pressed" if near <= PRESSED_M else "free",
            detail=detail,
        )
        self.ball["state"], self.ball["holder"] = col.ROLLING, -1.0
        self.ball["passer"], self.ball["meant_for"], self.ball["target_x"], self.ball["target_y"] = i, to, tx, ty
        self.ball["obviousness"] = self.out[2]
        self.ball["arrives_at"] = t + math.hypot(tx - x, ty - y) / max(float(self.ball["launch_speed"]), 1.0)
        self.trace_ball()
        self.players["busy_until"][i] = t + 0.2
        if across:
            self.cross(place)
        self.cause, self.culprit = "", i
        self.roll(t, True, 1 << i)

    def cross(self, place: str) -> None:
        """The ball is on its way to another area: the ground in play is both and what lies between; chasers may set off."""
        self.crossing, self.landed = (self.standing.area, place), False
        self.standing.area = place
        holding = self.players["may_receive"].copy()
        self.assign()
        self.players["may_receive"] = holding

    def await_tackle(self, t: float) -> None:
        """Find the next attempt at a tackle before the carrier's next look."""
        holder = self.holder()
        self.tackling += 1
        if holder < 0 or not self.live:
            return
        entries.next_tackle(*self.arrays, holder, t, self.look_at, self.out)
        self.tackle_found()

    def tackle_found(self) -> None:
        """Wait for the attempt in `out`, if there is one."""
        number = self.tackling
        if self.out[0] >= 0:
            tackler, when = int(self.out[0]), float(self.out[1])
            self.clock.at(when, "tackle", lambda s: self.tackle(s, number, tackler))

    def tackle(self, t: float, number: int, i: int) -> None:
        if self.stopped or number != self.tackling:
            return
        self.now = t
        c = self.holder()
        skill = self.players["duel"][i] - self.players["duel"][c]
        win = 1.0 / (1.0 + math.exp(-odds(self.constants["tackle_win"]) - skill))
        u = draw(self.players, i, TACKLE)
        x, y, _, _ = where(self.players, c, t)
        if u < win:
            self.note("tackle", player=i, other=c, cause="won", x=x, y=y)
            self.cause, self.culprit = "tackle", c
            self.players["busy_until"][c] = t + self.constants["beaten_time"]
            self.ball["x"], self.ball["y"] = x, y
            self.take_control(t, i)
        elif u < win + (1.0 - win) * self.constants["tackle_loose"] / (1.0 - self.constants["tackle_win"]):
            self.note("tackle", player=i, other=c, cause="loose", x=x, y=y)
            self.touched(i)
            self.cause, self.culprit = "tackle", c
            px, py, _, _ = where(self.players, i, t)
            gap = math.hypot(x - px, y - py) + 1e-9
            self.ball["dx"], self.ball["dy"] = (x - px) / gap, (y - py) / gap
            if gap < 1e-6:
                self.ball["dx"], self.ball["dy"] = self.play["frame_x"], 0.0
            self.arriving = 6.0
            self.players["busy_until"][i] = t + 0.35
            self.bounce(t, c, 0.5, x, y)
        else:
            self.note("tackle", player=i, other=c, cause="beaten", x=x, y=y)
            self.players["busy_until"][i] = t + self.constants["beaten_time"]
            px, py, vx, vy = where(self.players, i, t)
            entries.go(*self.arrays, i, t, t, px + 0.2 * vx, py + 0.2 * vy, 1.5, 0.8, False)
            self.await_tackle(t)
