"""The carrier: first touch, looks, release, time limit, and the tackles on him."""

from __future__ import annotations

import math

from sim.pitch import columns as col
from sim.pitch.assumptions import (
    BEATEN_TIME,
    CONTACT_TIME,
    CONTROL_PRESSED,
    CONTROL_TIME,
    CONTROL_TIME_SD,
    DRIBBLE_TOUCH,
    FIRST_TIME_SHARE,
    LOOK_INTERVAL,
    SHOT_LEAST,
    SHOT_PATIENCE,
    SHOT_WORTH,
    TACKLE_LOOSE,
    TACKLE_WIN,
)
from sim.pitch.contest import next_tackle
from sim.pitch.ground import room_at
from sim.pitch.moves import draw, draw_lognormal, go, where
from sim.pitch.onball import carry, choose, kick, mean_to, pressure, ready_to_release
from sim.pitch.shooting import ahead_of_goal, goal_chance
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
        limit = int(self.P[i, col.LIMIT])
        self.first_time = limit == 1
        mean_to(self.B, self.C, self.K, self.N, i)
        share = 2.0 * float(self.P[i, col.TEMPO]) * self.C[FIRST_TIME_SHARE]
        if not self.first_time and draw(self.K, self.N, i, HOLD) < share:
            choose(self.P, self.M, self.B, self.C, self.K, self.N, i, t, True, self.arriving, self.out)
            self.first_time = self.out[0] >= 0 and ready_to_release(self.P, self.M, self.B, self.C, i, t, self.out[5])
        if self.first_time:
            wait = self.C[CONTACT_TIME]
        else:
            pace = 1.5 - float(self.P[i, col.TEMPO])
            x, y, _, _ = where(self.P, self.M, i, t)
            pace *= 1.0 + self.C[CONTROL_PRESSED] * pressure(self.P, self.M, self.B, i, x, y, t)
            wait = pace * draw_lognormal(self.K, self.N, i, CONTROL, self.C[CONTROL_TIME], self.C[CONTROL_TIME_SD])
        self.await_look(t, min(t + wait, self.hold_until()))

    def hold_until(self) -> float:
        """When the holder must have let go of the ball."""
        return float(self.B[col.RECEIVED]) + self.game.hold_limit_s

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
        P, M, B, C = self.P, self.M, self.B, self.C
        self.carried_over(i)
        if self.stopped or plan != self.plan:
            return
        x, y, _, _ = where(P, M, i, t)
        if B[col.AIM] == col.SCORE and ahead_of_goal(B, x, y) <= 0.0:  # he has carried it past that goal, or round it
            self.aim_again()
        if B[col.SHOOT] and B[col.AIM] == col.SCORE and P[i, col.STYLE] != col.GOAL and self.provisional is None:
            chance = goal_chance(P, M, B, C, i, t)
            if chance >= max(C[SHOT_LEAST], C[SHOT_WORTH] - C[SHOT_PATIENCE] * (t - B[col.RECEIVED])):
                self.shot(t, i)
                return
        if not self.first_time:  # that was decided with a pass in view
            mean_to(B, C, self.K, self.N, i)
        choose(P, M, B, C, self.K, self.N, i, t, self.first_time, self.arriving, self.out)
        found = self.out[0] >= 0.0
        held = t - B[col.RECEIVED]
        if found and (self.first_time or ready_to_release(P, M, B, C, i, t, self.out[5])):
            self.release(t, i, int(self.out[0]), float(self.out[3]), float(self.out[4]))
            return
        if t >= self.hold_until():
            if found:
                self.release(t, i, int(self.out[0]), float(self.out[3]), float(self.out[4]))
            else:
                self.out_of_time(i)
            return
        limit = int(P[i, col.LIMIT])
        step = C[LOOK_INTERVAL] * (0.7 + 0.6 * draw(self.K, self.N, i, HOLD))
        if limit == 0 or B[col.TOUCHES] < limit - 1:
            carry(P, M, B, C, self.G, self.count, i, t)
            if (
                held >= (B[col.TOUCHES] + 0.5) * C[DRIBBLE_TOUCH]
            ):  # a pass half an interval after it would be that touch itself
                B[col.TOUCHES] += 1.0
                x, y, _, _ = where(P, M, i, t)
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
        P, M, B = self.P, self.M, self.B
        x, y, _, _ = where(P, M, i, t)
        near = room_at(P, M, B, i, x, y, t)
        if not self.first_time:
            B[col.TOUCHES] += 1.0
            self.note("touch", player=i, x=x, y=y)
        place = self.jobs[to].place
        across = self.jobs[to].style != "goal" and (place, self.standing.area) not in self.lies_in
        kick(P, M, B, self.C, self.K, self.N, i, t, tx, ty, self.first_time, self.arriving)
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
        B[col.MODE], B[col.HOLDER] = col.ROLLING, -1.0
        B[col.PASSER], B[col.MEANT], B[col.TX], B[col.TY] = i, to, tx, ty
        B[col.SHARE] = self.out[2]
        B[col.ARRIVES] = t + math.hypot(tx - x, ty - y) / max(float(B[col.V0]), 1.0)
        self.trace_ball()
        P[i, col.BUSY] = t + 0.2
        if across:
            self.cross(place)
        self.cause, self.culprit = "", i
        self.roll(t, True, 1 << i)

    def cross(self, place: str) -> None:
        """The ball is on its way to another area: the ground in play is both and what lies between; chasers may set off."""
        self.crossing, self.landed = (self.standing.area, place), False
        self.standing.area = place
        holding = self.P[:, col.OPEN].copy()
        self.assign()
        self.P[:, col.OPEN] = holding

    def await_tackle(self, t: float) -> None:
        """Find the next attempt at a tackle before the carrier's next look."""
        holder = self.holder()
        self.tackling += 1
        if holder < 0 or not self.live:
            return
        next_tackle(self.P, self.M, self.B, self.C, self.K, self.N, holder, t, self.look_at, self.out)
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
        P, C = self.P, self.C
        c = self.holder()
        skill = P[i, col.DUEL] - P[c, col.DUEL]
        win = 1.0 / (1.0 + math.exp(-odds(C[TACKLE_WIN]) - skill))
        u = draw(self.K, self.N, i, TACKLE)
        x, y, _, _ = where(P, self.M, c, t)
        if u < win:
            self.note("tackle", player=i, other=c, cause="won", x=x, y=y)
            self.cause, self.culprit = "tackle", c
            P[c, col.BUSY] = t + C[BEATEN_TIME]
            self.B[col.BX], self.B[col.BY] = x, y
            self.take_control(t, i)
        elif u < win + (1.0 - win) * C[TACKLE_LOOSE] / (1.0 - C[TACKLE_WIN]):
            self.note("tackle", player=i, other=c, cause="loose", x=x, y=y)
            self.touched(i)
            self.cause, self.culprit = "tackle", c
            px, py, _, _ = where(P, self.M, i, t)
            gap = math.hypot(x - px, y - py) + 1e-9
            self.B[col.DX], self.B[col.DY] = (x - px) / gap, (y - py) / gap
            if gap < 1e-6:
                self.B[col.DX], self.B[col.DY] = self.B[col.FRAME_X], 0.0
            self.arriving = 6.0
            P[i, col.BUSY] = t + 0.35
            self.bounce(t, c, 0.5, x, y)
        else:
            self.note("tackle", player=i, other=c, cause="beaten", x=x, y=y)
            P[i, col.BUSY] = t + C[BEATEN_TIME]
            px, py, vx, vy = where(P, self.M, i, t)
            go(P, self.M, self.C, self.G, self.count, i, t, t, px + 0.2 * vx, py + 0.2 * vy, 1.5, 0.8, False)
            self.await_tackle(t)
