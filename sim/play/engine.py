"""One bout, played on SimPy: the ball, its carrier, who presses and supports, restarts, timers and the whistle.

The engine holds the order of things.  Where players run, what the carrier sees and who gets to the ball is computed by
the compiled functions of this room; what a happening means is decided by the rules (`sim.rules`), which know the engine
only through the small face described in `sim.rules.consequences.Play`.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from sim.game.model import Game
from sim.play import columns as col
from sim.play import setup
from sim.play.assumptions import (
    BALL_DECELERATION,
    BEATEN_TIME,
    CONTACT_TIME,
    CONTROL_TIME,
    CONTROL_TIME_SD,
    DRIBBLE_TOUCH,
    EDGE_SLACK,
    FIRST_TIME_SHARE,
    LOOK_INTERVAL,
    REPLAN,
    SHOT_WORTH,
    STEAL_CONTROL,
    TACKLE_LOOSE,
    TACKLE_WIN,
    TOUCH_CHANCE,
)
from sim.play.clock import Clock
from sim.play.contest import (
    ball_point,
    everybody_thinks,
    miscontrol_chance,
    next_tackle,
    pursue,
    settle,
)
from sim.play.log import SEGMENT_FIELDS, BoutLog
from sim.play.moves import draw, draw_lognormal, go, record, where
from sim.play.offball import nearest_opponent, snapshot, think
from sim.play.onball import carry, choose, goal_chance, kick, ready_to_release, shoot
from sim.play.skill import odds
from sim.players import Profile
from sim.rules.consequences import VERBS, side_named
from sim.rules.guards import Happening, answers
from sim.rules.rotation import starting_roles
from sim.rules.standing import Standing
from sim.streams import STREAMS, stream_index

REPLANNING = stream_index("replan")
CONTROL = stream_index("control")
HOLD = stream_index("hold")
PLACE = stream_index("place")
TACKLE = stream_index("tackle")
NEVER = 1e9
PRESSED_M = 3.0
SHOT_RESULTS = ("goal", "save", "miss", "block")


def race(bout: Bout, t: float) -> tuple[int, float, float]:
    """Decide the outcome of a release: (first player to touch the ball or -1, when, when it crosses the line).

    This is the one function a test mode replaces (argument `outcome` of `play_bout`).
    """
    pursue(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, t, bout.fresh, bout.barred, bout.out)
    return int(bout.out[0]), float(bout.out[1]), float(bout.out[2])


class Bout:
    """The state of one bout while it is being played."""

    def __init__(
        self,
        game: Game,
        roster: dict[str, Profile],
        seed: int,
        replicate: int,
        bout: int,
        outcome: Callable[[Bout, float], tuple[int, float, float]] = race,
        assumptions: dict[str, float] | None = None,
        frame: tuple[float, float] = (1.0, 1.0),
    ):
        self.game, self.outcome = game, outcome
        self.C = setup.constants(assumptions)
        self.K = setup.keys(game, seed, replicate, bout)
        self.N = np.zeros((len(game.players), len(STREAMS)), dtype=np.int64)
        self.P = setup.abilities(game, roster, self.C)
        self.B = np.zeros(col.BALL_COLUMNS)
        self.B[col.FRAME_X], self.B[col.FRAME_Y] = frame
        self.B[[col.HOLDER, col.MEANT, col.PASSER]] = -1.0
        self.B[col.LOST] = -NEVER
        self.G = np.zeros((4096, len(SEGMENT_FIELDS)))
        self.count = np.zeros(1, dtype=np.int64)
        self.out = np.zeros(16 + len(game.players))
        self.fresh, self.barred = True, 0
        self.clock = Clock()
        self.over = self.clock.done()
        self.now = 0.0
        self.events: list[tuple] = []
        self.plan = 0  # of the ball: moments made under an older number are void
        self.tackling = 0  # of the tackle awaited
        self.phase_number = 0
        self.live = False
        self.stopped = False
        self.served = False  # the ball came from the server: the reception is no pass
        self.first_time = False
        self.arriving = 0.0
        self.cause, self.culprit = "", -1
        self.toucher, self.touching_side = -1, game.start_side
        self.passed = (-1, -1)
        self.balls = game.supply.balls
        self.provisional: tuple[str, int, str, int] | None = None
        self.provisional_number = 0
        self.confirm_passes = 0
        self.standing = Standing(
            game,
            starting_roles(game, bout),
            [0.0] * len(game.players),
            game.phase(game.start_phase),
            game.start_area,
            game.start_side,
        )
        self.standing.open = set(self.standing.phase.open)
        if self.standing.phase.ball_in != "active":
            self.standing.area = self.standing.phase.ball_in
        names = sorted({self.standing.side_of(i) for i in range(len(game.players))} | {game.start_side}
                       | {role.side for role in game.roles if role.side not in ("team", "holder")})
        self.sides = {name: float(k) for k, name in enumerate(names) if name != "holder"}
        self.B[col.HOLDING] = self.sides[game.start_side]
        self.restart_to = game.start_side

    # ---- the face shown to the rules -------------------------------------------------------------------------------

    def note(
        self,
        kind: str,
        player: int = -1,
        other: int = -1,
        side: str | None = None,
        cause: str = "",
        detail: str = "",
        value: float = math.nan,
        x: float = math.nan,
        y: float = math.nan,
        t: float | None = None,
    ) -> None:
        """Append one event; the fields are those of `sim.play.log.FIELDS`."""
        standing, players = self.standing, self.game.players
        self.events.append((
            self.now if t is None else t,
            len(self.events),
            kind,
            players[player].id if player >= 0 else "",
            players[other].id if other >= 0 else "",
            standing.side if side is None else side,
            cause,
            detail,
            value,
            x,
            y,
            standing.phase.name,
            standing.area,
            standing.passes,
        ))

    def lot(self, i: int) -> float:
        return draw(self.K, self.N, i, PLACE)

    def distance_to_ball(self, i: int) -> float:
        x, y, _, _ = where(self.P, self.M, i, self.now)
        bx, by = self.ball_place()
        return math.hypot(x - bx, y - by)

    def last_pass(self) -> tuple[int, int]:
        return self.passed

    def stop(self) -> None:
        self.finish(self.now)

    def change_phase(self, name: str) -> None:
        before = self.standing.phase
        self.standing.enter_phase(name, self.now)
        self.note("phase", cause=name)
        if before.aim != "goal" and self.standing.phase.aim == "goal":
            self.note("break")
        self.start_timers()
        self.roles_changed([])

    def roles_changed(self, players: list[int]) -> None:
        """Write the new assignment into the arrays and let everybody think again."""
        for i in players:
            record(self.P, self.M, self.G, self.count, i, self.now)
        self.assign()
        for i in players:
            self.note_job(i)
        everybody_thinks(self.P, self.M, self.B, self.C, self.K, self.N, self.G, self.count, self.holder(), self.now)
        self.await_tackle(self.now)

    def serve(self, name: str, happening: Happening) -> None:
        """The ball is dead until the restart of that name has been served."""
        if self.stopped or not self.live and self.events[-1][2] == "serve":
            return
        restart = self.game.restart(name)
        to = side_named(self, restart.to, happening)
        if restart.to == "other":
            to = self.standing.other_side(happening.side if happening.kind == "loss" else self.touching_side)
        self.kill(happening.cause if happening.kind == "loss" else happening.kind)
        delay = restart.seconds
        self.balls -= 1
        if self.balls < 0:
            delay += self.game.supply.retrieve_seconds
        if restart.area == "home":
            self.standing.area = self.standing.home_of(to) or self.standing.area
        elif restart.area != "active":
            self.standing.area = restart.area
        spot = self.ball_spot if restart.source == "line" else None
        self.await_service(to, restart.source, self.now + delay, spot)

    # ---- small helpers ---------------------------------------------------------------------------------------------

    def holder(self) -> int:
        return int(self.B[col.HOLDER]) if self.B[col.MODE] == col.HELD else -1

    def ball_place(self) -> tuple[float, float]:
        if self.B[col.MODE] == col.HELD:
            x, y, _, _ = where(self.P, self.M, int(self.B[col.HOLDER]), self.now)
            return x, y
        if self.B[col.MODE] == col.ROLLING:
            x, y, _ = ball_point(self.B, self.now)
            return x, y
        return float(self.B[col.BX]), float(self.B[col.BY])

    def is_ours(self, i: int) -> bool:
        """Whether player i's side holds the ball."""
        return self.P[i, col.SIDE] == col.FLOATER or self.P[i, col.SIDE] == self.B[col.HOLDING]

    def side_for(self, i: int) -> str:
        """The side player i plays for right now."""
        side = self.standing.side_of(i)
        return self.standing.side if side == "holder" else side

    def note_job(self, i: int) -> None:
        style, _ = self.standing.job_of(i)
        self.note("job", player=i, side=self.standing.side_of(i), cause=self.standing.role[i], detail=style)

    def room(self) -> None:
        """Keep space for the runs of the next moments."""
        if self.count[0] > len(self.G) - 2048:
            self.G = np.concatenate([self.G, np.zeros_like(self.G)])

    def assign(self) -> None:
        """Zones, who may receive, ground in play, and what the holder aims at."""
        game, standing, P, B = self.game, self.standing, self.P, self.B
        setup.assign(game, standing, P, self.sides)
        area = game.area(standing.area)
        slack = self.C[EDGE_SLACK] if any(standing.job_of(i)[0] == "edge" for i in range(len(P))) else 0.0
        west, south, east, north = area.bounds
        B[col.PX0], B[col.PY0], B[col.PX1], B[col.PY1] = west - slack, south - slack, east + slack, north + slack
        home = standing.home_of(standing.side)
        bringing = standing.phase.aim == "home" and home is not None and home != standing.area
        inside = 0
        for i in range(len(game.players)):
            style, place = standing.job_of(i)
            place = standing.place_of(i, place)
            if style == "goal":
                P[i, col.OPEN] = 0.0 if standing.phase.aim == "keep" else 1.0
                continue
            here = place == standing.area
            inside += here
            P[i, col.OPEN] = float(
                (here and style != "wait") or (not here and ("transfer" in standing.open or (bringing and place == home)))
            )
        B[col.SPACING] = math.sqrt(area.length * area.width / max(inside, 1))
        B[col.SHOOT] = float("shoot" in standing.open)
        self.aim(bringing, home)

    def aim(self, bringing: bool, home: str | None) -> None:
        B, standing = self.B, self.standing
        B[col.AIM] = col.KEEP
        if bringing:
            there = self.game.area(home)
            B[col.AIM], B[col.AGX], B[col.AGY] = col.HOME, there.x, there.y
        elif standing.phase.aim == "goal":
            goals = [goal for goal in self.game.goals if goal.attacked_by in (standing.side, "any")]
            if goals:
                bx, by = self.ball_place()
                goal = min(goals, key=lambda g: (math.hypot(g.x - bx, g.y - by), g.name))
                B[col.AIM], B[col.AGX], B[col.AGY], B[col.AGW] = col.SCORE, goal.x, goal.y, goal.width
                B[col.AG_SIDEWAYS] = float(goal.end in ("south", "north"))

    def tell(self, happening: Happening) -> None:
        """Let the rules of the phase answer to a happening, in the order of the file."""
        if self.stopped:
            return
        phase = self.standing.phase
        for rule in phase.rules:
            if answers(rule, happening, self.standing):
                if rule.on in ("passes", "wins"):
                    self.standing.fired.add(rule.name)
                    self.note("threshold", side=happening.side, cause=rule.on, value=float(rule.count))
                for action in rule.do:
                    VERBS[action.verb](self, happening, action)
                    if self.stopped:
                        return

    def start_timers(self) -> None:
        self.phase_number += 1
        number = self.phase_number
        for rule in self.standing.phase.rules:
            if rule.on == "time":
                self.clock.at(self.now + rule.count, "timer", lambda t, n=number, c=rule.count: self.time_is_up(t, n, c))

    def time_is_up(self, t: float, number: int, count: float) -> None:
        if number == self.phase_number and not self.stopped:
            self.now = t
            if self.live:
                self.tell(Happening("time", self.standing.side, self.holder(), count=count))

    # ---- beginning, dead ball and end ------------------------------------------------------------------------------

    def begin(self) -> None:
        self.assign_start()
        self.note("begin")
        for i in range(len(self.game.players)):
            self.note_job(i)
        self.start_timers()
        for i in range(len(self.game.players)):
            self.clock.at(draw(self.K, self.N, i, REPLANNING) * self.C[REPLAN], "think", lambda t, i=i: self.change_of_mind(t, i), i)
        self.clock.at(self.game.bouts.seconds, "whistle", self.finish)
        start = self.game.restart("start")
        self.balls -= 1
        self.await_service(self.game.start_side, "server", 0.0, None)
        del start

    def assign_start(self) -> None:
        """Everybody stands at his place, a little off it by lot."""
        places = []
        self.M = setup.plans(self.P, [(0.0, 0.0)] * len(self.game.players))
        self.assign()
        from sim.play.offball import edge_point, shape_point

        for i in range(len(self.game.players)):
            if self.P[i, col.STYLE] == col.EDGE:
                x, y = edge_point(self.P, self.B, self.C, i, self.P[i, col.SLOT])
            elif self.P[i, col.STYLE] == col.GOAL:
                x, y = self.P[i, col.GX], self.P[i, col.GY]
            else:
                x, y = shape_point(self.P, self.B, self.C, i, 0.0, 0.0)
                x += 0.6 * self.B[col.FRAME_X] * (draw(self.K, self.N, i, PLACE) - 0.5)
                y += 0.6 * self.B[col.FRAME_Y] * (draw(self.K, self.N, i, PLACE) - 0.5)
            places.append((x, y))
        self.M = setup.plans(self.P, places)

    def kill(self, cause: str) -> None:
        """The ball goes out of play."""
        self.plan += 1
        self.tackling += 1
        self.provisional = None
        bx, by = self.ball_place()
        self.ball_spot = (bx, by)
        if self.live:
            self.live = False
            self.note("dead", cause=cause, x=bx, y=by)
        area = self.game.area(self.standing.area)
        self.B[col.MODE], self.B[col.BX], self.B[col.BY] = col.DEAD, area.x, area.y
        self.B[col.HOLDER] = -1.0

    def await_service(self, to: str, source: str, t: float, spot: tuple[float, float] | None) -> None:
        """Side `to` gets the ball at time t (later, if the taker cannot be there yet)."""
        self.restart_to = to
        self.standing.new_possession(to)
        self.B[col.HOLDING] = self.sides[to]
        self.B[col.LIVE_AT] = t
        self.assign()
        self.note("serve", side=to, detail=source)
        taker = self.taker(to, source, spot)
        everybody_thinks(self.P, self.M, self.B, self.C, self.K, self.N, self.G, self.count, -1, self.now)
        if spot is not None and taker >= 0:
            area = self.game.area(self.standing.area)
            west, south, east, north = area.bounds
            x = min(max(spot[0], west + 0.2), east - 0.2)
            y = min(max(spot[1], south + 0.2), north - 0.2)
            cap = max(2.0, self.distance_from(taker, x, y) / max(0.8, t - self.now - 1.0))
            go(self.P, self.M, self.G, self.count, taker, self.now, self.now + 0.3, x, y, cap, 0.8, False)
            t = max(t, float(self.M[taker, int(self.P[taker, col.NSEG]) - 1, 0]))
            self.B[col.LIVE_AT] = t
        self.plan += 1
        plan = self.plan
        self.taking = taker
        self.clock.at(t, "serve", lambda s: self.put_in_play(s, plan, taker))

    def distance_from(self, i: int, x: float, y: float) -> float:
        px, py, _, _ = where(self.P, self.M, i, self.now)
        return math.hypot(px - x, py - y)

    def taker(self, to: str, source: str, spot: tuple[float, float] | None) -> int:
        """Who receives the restart: the keeper, the nearest to the spot, or one of the side by lot."""
        P = self.P
        mine = [i for i in range(len(P)) if self.standing.side_of(i) == to]
        if source == "keeper":
            keepers = [i for i in mine if P[i, col.STYLE] == col.GOAL]
            if keepers:
                return min(keepers, key=lambda i: (self.distance_to_ball(i), self.lot(i)))
        ready = [i for i in mine if P[i, col.OPEN] != 0.0 and P[i, col.STYLE] not in (col.GOAL, col.WAIT)]
        here = [i for i in ready if self.standing.place_of(i, self.standing.job_of(i)[1]) == self.standing.area]
        ready = here or ready or mine
        if not ready:
            ready = [i for i in range(len(P)) if P[i, col.SIDE] == col.FLOATER]
        if spot is not None:
            return min(ready, key=lambda i: (self.distance_from(i, *spot), self.lot(i)))
        return min(ready, key=self.lot)

    def put_in_play(self, t: float, plan: int, taker: int) -> None:
        if self.stopped or plan != self.plan:
            return
        self.now = t
        self.live = True
        self.note("live", other=taker)
        self.served, self.cause, self.culprit = True, "", -1
        self.passed = (-1, -1)
        self.B[col.LOST] = -NEVER
        self.take_control(t, taker)

    def finish(self, t: float) -> None:
        """The whistle."""
        if self.stopped:
            return
        self.now = t
        self.stopped = True
        if self.live:
            self.note("dead", cause="end")
            self.live = False
        self.note("end")
        for i in range(len(self.game.players)):
            record(self.P, self.M, self.G, self.count, i, t)
            self.room()
        self.over.succeed()

    # ---- players without the ball ----------------------------------------------------------------------------------

    def change_of_mind(self, t: float, i: int) -> None:
        if self.stopped:
            return
        self.now = t
        self.room()
        again = self.C[REPLAN] * (0.6 + 0.8 * draw(self.K, self.N, i, REPLANNING))
        self.clock.at(t + again, "think", lambda s: self.change_of_mind(s, i), i)
        racing = self.B[col.MODE] == col.ROLLING and self.P[i, col.DUTY] == col.RACE
        taking = self.B[col.MODE] == col.DEAD and i == self.taking
        if i == self.holder() or racing or taking or self.P[i, col.BUSY] > t:
            return
        think(self.P, self.M, self.B, self.C, self.K, self.N, self.G, self.count, i, t, t)
        if self.B[col.MODE] == col.HELD and not self.is_ours(i):
            self.await_tackle(t)

    # ---- the carrier -----------------------------------------------------------------------------------------------

    def take_control(self, t: float, i: int) -> None:
        """Player i has the ball under control at time t: possession, passes, areas, and what he does next."""
        standing, B, P = self.standing, self.B, self.P
        self.now = t
        self.room()
        self.plan += 1
        x, y, vx, vy = where(P, self.M, i, t)
        ours = self.is_ours(i)
        passer = int(B[col.PASSER])
        B[col.MODE], B[col.HOLDER], B[col.RECEIVED], B[col.TOUCHES] = col.HELD, i, t, 1.0
        B[col.MEANT] = -1.0
        self.toucher, self.touching_side = i, self.side_for(i)
        self.note("touch", player=i, x=x, y=y)
        completed = ours and not self.served and not self.cause and passer >= 0 and passer != i
        self.served_possession(i) if self.served else None
        self.served = False
        if not ours:
            self.take_over(t, i)
        elif completed:
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
        go(P, self.M, self.G, self.count, i, t, t, x + 0.25 * vx, y + 0.25 * vy, 2.5, 0.8, False)
        settle(P, self.M, B, self.C, self.K, self.N, self.G, self.count, i, t)
        self.first_look(t, i)

    def served_possession(self, i: int) -> None:
        self.note("possession", player=i)

    def aim_again(self) -> None:
        home = self.standing.home_of(self.standing.side)
        self.aim(self.standing.phase.aim == "home" and home is not None and home != self.standing.area, home)

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

    leaving_area: str | None = None
    took_over = False
    taking = -1
    ball_spot = (0.0, 0.0)

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
        if self.game.win.confirm == "control":
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
        self.note("loss", player=loser, other=winner, side=side, cause=cause, x=x, y=y)
        new = standing.side_of(winner) if winner >= 0 else standing.other_side(side)
        standing.new_possession(new)
        if winner >= 0:
            self.note("win", player=winner, x=x, y=y)
            self.note("possession", player=winner)
            standing.wins[new] = standing.wins.get(new, 0) + 1
            self.assign()
        self.tell(Happening("loss", side, loser, winner, cause))
        if winner >= 0 and self.live:
            self.tell(Happening("win", new, winner, loser, cause))
        if winner >= 0 and self.live:
            self.tell(Happening("wins", new, winner, count=float(standing.wins.get(new, 0))))

    def first_look(self, t: float, i: int) -> None:
        """What the receiver does with the first touch: play it on at once, or bring it under control."""
        limit = int(self.P[i, col.LIMIT])
        self.first_time = limit == 1
        if not self.first_time and draw(self.K, self.N, i, HOLD) < self.C[FIRST_TIME_SHARE]:
            choose(self.P, self.M, self.B, self.C, self.K, self.N, i, t, True, self.arriving, self.out)
            self.first_time = self.out[0] >= 0 and ready_to_release(self.P, self.M, self.B, self.C, i, t, self.out[5])
        if self.first_time:
            wait = self.C[CONTACT_TIME]
        else:
            wait = draw_lognormal(self.K, self.N, i, CONTROL, self.C[CONTROL_TIME], self.C[CONTROL_TIME_SD])
        self.await_look(t, t + wait)

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
        self.room()
        i = self.holder()
        P, M, B, C = self.P, self.M, self.B, self.C
        if B[col.SHOOT] and B[col.AIM] == col.SCORE:
            chance = goal_chance(P, M, B, C, i, t)
            if chance >= C[SHOT_WORTH] - 0.08 * (t - B[col.RECEIVED]):
                self.shot(t, i)
                return
        choose(P, M, B, C, self.K, self.N, i, t, self.first_time, self.arriving, self.out)
        found = self.out[0] >= 0.0
        held = t - B[col.RECEIVED]
        if found and (self.first_time or ready_to_release(P, M, B, C, i, t, self.out[5])):
            self.release(t, i, int(self.out[0]), float(self.out[3]), float(self.out[4]))
            return
        if held >= self.game.hold_limit_s:
            if found:
                self.release(t, i, int(self.out[0]), float(self.out[3]), float(self.out[4]))
            else:
                self.out_of_time(i)
            return
        limit = int(P[i, col.LIMIT])
        step = C[LOOK_INTERVAL] * (0.7 + 0.6 * draw(self.K, self.N, i, HOLD))
        if limit == 0 or B[col.TOUCHES] < limit - 1:
            carry(P, M, B, C, self.G, self.count, i, t)
            if held - (B[col.TOUCHES] - 1.0) * C[DRIBBLE_TOUCH] >= C[DRIBBLE_TOUCH]:
                B[col.TOUCHES] += 1.0
                x, y, _, _ = where(P, M, i, t)
                self.note("touch", player=i, x=x, y=y)
        self.await_look(t, min(t + step, B[col.RECEIVED] + self.game.hold_limit_s + 1e-9))

    def out_of_time(self, i: int) -> None:
        """Held too long with nowhere to go: a rule fault, the ball goes to the others."""
        side = self.standing.side
        self.lose(side, i, -1, "time limit")
        if self.live and not self.stopped:
            self.serve("out", Happening("out", side, i, cause="time limit"))

    def release(self, t: float, i: int, to: int, tx: float, ty: float) -> None:
        """Player i passes towards (tx, ty), meant for `to`."""
        P, M, B = self.P, self.M, self.B
        x, y, _, _ = where(P, M, i, t)
        near = nearest_opponent(P, M, B, i, x, y, t)
        if not self.first_time:
            B[col.TOUCHES] += 1.0
            self.note("touch", player=i, x=x, y=y)
        standing = self.standing
        place = standing.place_of(to, standing.job_of(to)[1])
        across = P[to, col.STYLE] != col.GOAL and place != standing.area
        snapshot(P, M, t)
        kick(P, M, B, self.C, self.K, self.N, i, t, tx, ty, self.first_time, self.arriving)
        detail = "transfer" if across else "first-time" if self.first_time else "pass"
        self.note(
            "release", player=i, other=to, value=math.hypot(tx - x, ty - y), x=x, y=y,
            cause="pressed" if near <= PRESSED_M else "free", detail=detail,
        )
        B[col.MODE], B[col.HOLDER] = col.ROLLING, -1.0
        B[col.PASSER], B[col.MEANT], B[col.TX], B[col.TY] = i, to, tx, ty
        B[col.SHARE] = self.out[2]
        B[col.ARRIVES] = t + math.hypot(tx - x, ty - y) / max(float(B[col.V0]), 1.0)
        P[i, col.BUSY] = t + 0.2
        if across:
            self.cross(place)
        self.cause, self.culprit = "", i
        self.roll(t, True, 1 << i)

    def cross(self, place: str) -> None:
        """The ball is on its way to another area: the ground in play is both and what lies between; chasers may set off."""
        self.leaving_area = self.leaving_area or self.standing.area
        here, there = self.game.area(self.leaving_area).bounds, self.game.area(place).bounds
        self.standing.area = place
        holding = self.P[:, col.OPEN].copy()
        self.assign()
        self.P[:, col.OPEN] = holding
        B = self.B
        B[col.PX0], B[col.PY0] = min(here[0], there[0]), min(here[1], there[1])
        B[col.PX1], B[col.PY1] = max(here[2], there[2]), max(here[3], there[3])

    # ---- the moving ball -------------------------------------------------------------------------------------------

    def roll(self, t: float, fresh: bool, barred: int) -> None:
        """The ball is rolling: find out what happens to it first and wait for that."""
        self.fresh, self.barred = fresh, barred
        self.plan += 1
        self.tackling += 1
        plan = self.plan
        who, when, leaves = self.outcome(self, t)
        if who >= 0 and when <= leaves:
            self.clock.at(max(when, t), "contact", lambda s: self.contact(s, plan, who))
        else:
            self.clock.at(max(leaves, t), "line", lambda s: self.over_the_line(s, plan))

    def contact(self, t: float, plan: int, i: int) -> None:
        """Player i gets to the moving ball: control it, deflect it, miss it."""
        if self.stopped or plan != self.plan:
            return
        self.now = t
        self.room()
        P, M, B, C = self.P, self.M, self.B, self.C
        bx, by, speed = ball_point(B, t)
        self.arriving = speed
        if self.is_ours(i):
            if draw(self.K, self.N, i, CONTROL) < miscontrol_chance(P, M, B, C, i, t):
                self.fumble(t, i, "miscontrol")
            else:
                self.take_control(t, i)
            return
        if draw(self.K, self.N, i, CONTROL) >= C[TOUCH_CHANCE]:
            P[i, col.BUSY] = t + 0.3
            self.roll(t, False, self.barred | 1 << i)
            return
        if draw(self.K, self.N, i, CONTROL) < C[STEAL_CONTROL]:
            self.take_control(t, i)
            return
        self.touched(i)
        self.note("deflect", player=i, x=bx, y=by)
        self.bounce(t, i, 0.35, bx, by)

    def touched(self, i: int) -> None:
        self.toucher, self.touching_side = i, self.side_for(i)

    def fumble(self, t: float, i: int, cause: str) -> None:
        """A touch that fails: the ball runs loose."""
        bx, by, _ = ball_point(self.B, t)
        self.note("touch", player=i, x=bx, y=by)
        self.touched(i)
        self.cause, self.culprit = cause, i
        self.served = False
        self.bounce(t, i, 0.3, bx, by)

    def bounce(self, t: float, i: int, keep: float, x: float, y: float) -> None:
        """The ball leaves (x, y) with part of its speed, off its old line by up to 80 degrees."""
        B = self.B
        speed = max(1.5, keep * max(self.arriving, 4.0) * (0.6 + 0.8 * draw(self.K, self.N, i, CONTROL)))
        turn = (draw(self.K, self.N, i, CONTROL) - 0.5) * 2.8 * B[col.FRAME_X] * B[col.FRAME_Y]
        dx, dy = B[col.DX], B[col.DY]
        cosine, sine = math.cos(turn), math.sin(turn)
        B[col.DX], B[col.DY] = dx * cosine - dy * sine, dx * sine + dy * cosine
        B[col.MODE], B[col.HOLDER], B[col.MEANT] = col.ROLLING, -1.0, -1.0
        B[col.BX], B[col.BY], B[col.V0], B[col.KICKED], B[col.DECEL] = x, y, speed, t, self.C[BALL_DECELERATION]
        B[col.TX], B[col.TY] = x + 1.5 * B[col.DX], y + 1.5 * B[col.DY]
        B[col.ARRIVES], B[col.SHARE] = t + 0.5, 0.0
        self.P[i, col.BUSY] = t + 0.35
        self.roll(t, True, 0)

    def over_the_line(self, t: float, plan: int) -> None:
        """The ball has crossed the line."""
        if self.stopped or plan != self.plan:
            return
        self.now = t
        x, y, _ = ball_point(self.B, t)
        toucher = self.toucher if self.toucher >= 0 else self.culprit
        self.note("out", player=toucher, x=x, y=y)
        self.leave_area()
        side = self.standing.side
        mine = self.touching_side == side
        if mine:
            self.lose(side, self.culprit if self.culprit >= 0 else toucher, -1, "out")
        if not self.stopped and self.live:
            self.tell(Happening("out", self.touching_side, toucher, cause="out"))
        if not self.stopped and self.live:
            self.serve("out", Happening("out", self.touching_side, toucher, cause="out"))

    def leave_area(self) -> None:
        """A ball lost on its way between areas counts as still in the one it left."""
        if self.leaving_area is not None:
            self.standing.area = self.leaving_area
            self.leaving_area = None

    # ---- tackles and shots -----------------------------------------------------------------------------------------

    def await_tackle(self, t: float) -> None:
        """Find the next attempt at a tackle before the carrier's next look."""
        holder = self.holder()
        self.tackling += 1
        if holder < 0 or not self.live:
            return
        number = self.tackling
        next_tackle(self.P, self.M, self.B, self.C, self.K, self.N, holder, t, self.look_at, self.out)
        if self.out[0] >= 0:
            tackler, when = int(self.out[0]), float(self.out[1])
            self.clock.at(when, "tackle", lambda s: self.tackle(s, number, tackler))

    look_at = 0.0

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
            go(P, self.M, self.G, self.count, i, t, t, px + 0.2 * vx, py + 0.2 * vy, 1.5, 0.8, False)
            self.await_tackle(t)

    def shot(self, t: float, i: int) -> None:
        P, M, B = self.P, self.M, self.B
        x, y, _, _ = where(P, M, i, t)
        if not self.first_time:
            self.note("touch", player=i, x=x, y=y)
        self.note("shot", player=i, value=math.hypot(B[col.AGX] - x, B[col.AGY] - y), x=x, y=y)
        shoot(P, M, B, self.C, self.K, self.N, i, t, self.out)
        result, when, ex, ey, who = (float(v) for v in self.out[:5])
        B[col.MODE], B[col.HOLDER], B[col.PASSER], B[col.MEANT] = col.ROLLING, -1.0, -1.0, -1.0
        gap = math.hypot(ex - x, ey - y) + 1e-9
        B[col.BX], B[col.BY], B[col.KICKED] = x, y, t
        B[col.DX], B[col.DY], B[col.V0], B[col.DECEL] = (ex - x) / gap, (ey - y) / gap, gap / max(when - t, 1e-3), 1e-6
        B[col.TX], B[col.TY], B[col.ARRIVES], B[col.SHARE] = ex, ey, when, 0.0
        self.touched(i)
        self.plan += 1
        self.tackling += 1
        plan = self.plan
        self.clock.at(when, "shot", lambda s: self.shot_ends(s, plan, i, SHOT_RESULTS[int(result)], int(who), ex, ey))

    def shot_ends(self, t: float, plan: int, i: int, result: str, who: int, x: float, y: float) -> None:
        if self.stopped or plan != self.plan:
            return
        self.now = t
        B, side = self.B, self.standing.side
        self.note(result, player=who if who >= 0 else i, other=i, x=x, y=y)
        if result == "block":
            self.touched(who)
            self.cause, self.culprit = "shot", i
            self.arriving = 8.0
            self.bounce(t, who, 0.5, x, y)
            return
        self.tell(Happening(result, side, i, who, "shot"))
        if self.stopped:
            return
        self.end_by_shot(t, side, i, who, result, x, y)

    def end_by_shot(self, t: float, side: str, i: int, who: int, result: str, x: float, y: float) -> None:
        """A goal, save or miss ends the possession; unless a rule has already restarted play, the default follows."""
        if not self.live:
            return
        self.cause, self.culprit = "shot", i
        if result == "save":
            self.take_control(t, who)
        else:
            self.lose(side, i, -1, "shot")
            if self.live and not self.stopped:
                self.serve("start" if result == "goal" else "out", Happening("out", side, i, cause="shot"))


def play_bout(
    game: Game,
    roster: dict[str, Profile],
    seed: int,
    replicate: int = 0,
    bout: int = 0,
    outcome: Callable[[Bout, float], tuple[int, float, float]] = race,
    assumptions: dict[str, float] | None = None,
    frame: tuple[float, float] = (1.0, 1.0),
) -> BoutLog:
    """Play one bout of a game and return its log.

    roster       profile by player id (`sim.players.draw_roster`)
    seed, replicate, bout   address of the random numbers: the same address gives the same bout
    outcome      decides what happens to a released ball: (player, when, when over the line); default `race`
    assumptions  engine constants by name, to replace defaults
    frame        (+-1, +-1): signs of the axes, to play the mirror image
    """
    state = Bout(game, roster, seed, replicate, bout, outcome, assumptions, frame)
    state.begin()
    state.clock.run(state.over)
    return BoutLog(
        game.name,
        seed,
        replicate,
        bout,
        game.bouts.seconds if not math.isnan(state.now) else state.now,
        tuple(player.id for player in game.players),
        tuple(player.team for player in game.players),
        tuple(role.name for role in game.roles),
        tuple(state.events),
        state.G[: state.count[0]].copy(),
    )
