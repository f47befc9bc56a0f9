"""The state of one bout while it is being played, and what can be asked of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

import numpy as np

from sim.game.borders import distance, ground, lies_in
from sim.game.model import Area, Game, Goal, Phase
from sim.pitch import arrays as col
from sim.pitch import entries, setup
from sim.pitch.border import mark_out
from sim.pitch.clock import Clock
from sim.pitch.goals import before_mouth, facing, in_front, nearest
from sim.pitch.moves import draw, where
from sim.pitch.tiring import Legs
from sim.pitch.trace import NOBODY, Mark
from sim.players import Profile
from sim.rules.between import Held, as_written
from sim.rules.rule_state import RuleState
from sim.streams import stream_index

PLACE = stream_index("place")
AIM = stream_index("aim")
NEVER = 1e9
NEAR_M = 1.0  # judgement: a ball this little over the line of its area is still played as in it


class State:
    """Arrays, clock, rule book and log of one bout.

    Moments made under an older `plan` (of the ball) or `tackling` number are void.
    """

    def __init__(
        self,
        game: Game,
        roster: dict[str, Profile],
        seed: int,
        replicate: int,
        bout: int,
        outcome: Callable[[State, float], tuple[int, float, float]],
        assumptions: dict[str, float] | None = None,
        frame: tuple[float, float] = (1.0, 1.0),
        legs: dict[str, Legs] | None = None,
        held: Sequence[Held] | None = None,
    ):
        self.game, self.outcome = game, outcome
        self.ids = tuple(player.id for player in game.players)
        self.match = col.table(1, col.MATCH)
        setup.put_constants(self.match, assumptions)
        self.players = setup.abilities(game, roster, self.match[0]["constants"], legs)
        setup.put_keys(self.players, game, seed, replicate, bout)
        self.segments = col.table(4096, col.RUN)
        self.arrays = (self.players, self.match, self.segments)
        self.ball, self.play, self.constants = (self.match[0][name] for name in col.MATCH.names)
        self.ball["pace"] = 1.0
        self.play["frame_x"], self.play["frame_y"] = frame
        for who in ("holder", "meant_for", "passer"):
            self.ball[who] = col.NOBODY
        self.play["lost_at"] = -NEVER
        self.play["spot_x"] = NEVER
        self.jobs: tuple[setup.Job, ...] = ()  # as they stand in P
        self.out = np.zeros(16 + len(game.players))
        self.fresh, self.barred = True, 0
        self.clock = Clock()
        self.over = self.clock.done()
        self.now = 0.0
        self.events: list[tuple] = []
        self.trace: list[Mark] = []  # of the ball
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
        self.crossing: tuple[str, str] | None = None  # from where to where, while a pass is on its way to another area
        self.landed = False  # that pass has been touched in the area it was played to
        self.noted: Phase | None = None  # the loss now being settled is already in the log: in which phase it happened
        self.answering = ""  # the rule that now answers, or was the last to do so
        self.handed: set[int] = set()  # whom it has already taken from one role to another
        self.took_over = False  # an opponent has just taken the ball
        self.taking = -1  # who takes the restart (-1: the server will choose)
        self.awaiting = False  # a restart has been called and not yet taken
        self.ball_spot = (0.0, 0.0)  # where the ball went dead
        self.look_at = 0.0  # the carrier's next look
        self.target: Goal | None = None  # the goal that is attacked
        self.shot_plan = -1  # of the shot struck last: it is on its way as long as this is the ball's plan
        self.called = False  # time is up, and only a shot that was struck before is waited for
        begin = as_written(game, bout) if held is None else held
        self.standing = RuleState(
            game,
            [one.role for one in begin],
            [0.0 - one.seconds for one in begin],
            game.phase(game.start_phase),
            game.start_area,
            game.start_side,
        )
        self.standing.open = set(self.standing.phase.open)
        if self.standing.phase.ball_in != "active":
            self.standing.area = self.standing.phase.ball_in
        names = sorted(
            {self.standing.side_of(i) for i in range(len(game.players))}
            | {game.start_side}
            | {role.side for role in game.roles if role.side not in ("team", "holder")}
        )
        self.lies_in = {(one.name, other.name) for one in game.areas for other in game.areas if lies_in(one, other)}
        first = game.between_areas == "first"
        self.grounds = {one.name: ground(game.areas, one.name) if first else (one,) for one in game.areas}
        self.controlled_in = self.standing.area  # where the ball was last under control
        self.across_in = 0  # number of the phase in which the ball was last played across
        self.carried_in_play = (
            False  # whether the carrier had the ball on the ground in play when last seen, and it is the same
        )
        self.sides = {name: float(k) for k, name in enumerate(names) if name != "holder"}
        self.play["side"] = self.sides[game.start_side]

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
        """Append one event; the fields are those of `sim.pitch.log.FIELDS`."""
        standing, ids = self.standing, self.ids
        self.events.append(
            (
                self.now if t is None else t,
                len(self.events),
                kind,
                ids[player] if player >= 0 else "",
                ids[other] if other >= 0 else "",
                standing.side if side is None else side,
                cause,
                detail,
                value,
                x,
                y,
                standing.phase.name,
                standing.area,
                standing.passes,
            )
        )

    def trace_ball(self) -> None:
        """Write down where the ball is from now on, or how it moves."""
        t = self.now
        if self.ball["state"] == col.HELD:
            self.trace.append(Mark(t, float(self.ball["holder"]), 1.0))
        elif self.ball["state"] == col.ROLLING:
            vx, vy = (
                float(self.ball["launch_speed"] * self.ball["dx"]),
                float(self.ball["launch_speed"] * self.ball["dy"]),
            )
            self.trace.append(
                Mark(
                    t,
                    NOBODY,
                    1.0,
                    float(self.ball["x"]),
                    float(self.ball["y"]),
                    vx,
                    vy,
                    float(self.ball["deceleration"]),
                )
            )
        else:
            self.trace.append(Mark(t, NOBODY, 0.0, *self.ball_spot))

    def lot(self, i: int) -> float:
        return draw(self.players, i, PLACE)

    def distance_to_ball(self, i: int) -> float:
        x, y, _, _ = where(self.players, i, self.now)
        bx, by = self.ball_place()
        return math.hypot(x - bx, y - by)

    def distance_from(self, i: int, x: float, y: float) -> float:
        px, py, _, _ = where(self.players, i, self.now)
        return math.hypot(px - x, py - y)

    def last_pass(self) -> tuple[int, int]:
        return self.passed

    def place_when_dead(self, i: int) -> tuple[float, float]:
        """Where player i belongs while the ball is dead."""
        if self.players["style"][i] == col.EDGE:
            return entries.edge_point(*self.arrays, i, self.players["slot"][i])
        if self.players["style"][i] == col.GOAL:
            return float(self.players["goal_x"][i]), float(self.players["goal_y"][i])
        return entries.shape_point(*self.arrays, i, self.ball["x"], self.ball["y"])

    def holder(self) -> int:
        return int(self.ball["holder"]) if self.ball["state"] == col.HELD else -1

    def ball_place(self) -> tuple[float, float]:
        if self.ball["state"] == col.HELD:
            x, y, _, _ = where(self.players, int(self.ball["holder"]), self.now)
            return x, y
        if self.ball["state"] == col.ROLLING:
            x, y, _ = entries.ball_point(self.match, self.now)
            return x, y
        return float(self.ball["x"]), float(self.ball["y"])

    def is_ours(self, i: int) -> bool:
        """Whether player i's side holds the ball."""
        return self.players["side"][i] == col.FLOATER or self.players["side"][i] == self.play["side"]

    def playing(self) -> str:
        """The side that plays the ball just now: the one in possession, or the one whose win still waits to be confirmed."""
        return self.standing.side if self.provisional is None else self.standing.side_of(self.provisional[1])

    def side_for(self, i: int) -> str:
        """The side player i plays for right now: a floater for those who have the ball, also before their win is confirmed."""
        side = self.standing.side_of(i)
        return self.playing() if side == "holder" else side

    def note_job(self, i: int) -> None:
        style, _ = self.standing.job_of(i)
        self.note("job", player=i, side=self.standing.side_of(i), cause=self.standing.role[i], detail=style)

    def room(self) -> None:
        """Keep space for the runs of the next moments."""
        if self.play["recorded"] > len(self.segments) - 2048:
            self.segments = np.concatenate([self.segments, np.zeros_like(self.segments)])
            self.arrays = (self.players, self.match, self.segments)

    def assign(self) -> None:
        """Zones, who may receive, ground in play, and what the holder aims at."""
        game, standing = self.game, self.standing
        self.jobs = setup.assign(game, standing, self.players, self.sides, self.jobs)
        area = game.area(standing.area)
        if self.crossing is not None and self.crossing[1] != standing.area:
            self.crossing = None  # the rules have moved the game elsewhere meanwhile
        self.mark_out()
        home = standing.home_of(standing.side)
        bringing = standing.phase.aim == "home" and home is not None and home != standing.area
        room = 0.0
        away, open_to = [], []
        transfer = "transfer" in standing.open
        for i, job in enumerate(self.jobs):
            if job.style == "goal":  # a support like any other, where his goal stands at the ground in play
                away.append(0.0)
                open_to.append(float(self.keeps_at(i, area)))
                continue
            here = (job.place, standing.area) in self.lies_in
            if job.style == "wait":
                away.append(0.0)
                open_to.append(0.0)
                continue
            if here:
                room += 0.5 if job.style == "edge" else 1.0  # half of what is about a player on the line lies outside
            away.append(float(not here and transfer))
            open_to.append(float(here or transfer or (bringing and job.place == home)))
        self.players["across"], self.players["may_receive"] = away, open_to
        self.play["spacing"] = math.sqrt(area.length * area.width / max(room, 1.0))
        self.play["may_shoot"] = float("shoot" in standing.open)
        self.aim(bringing, home)

    def keeps_at(self, i: int, area: Area) -> bool:
        """Whether the box of keeper i reaches into an area."""
        west, south, east, north = area.bounds
        return bool(
            self.players["west"][i] < east
            and west < self.players["east"][i]
            and self.players["south"][i] < north
            and south < self.players["north"][i]
        )

    def mark_out(self) -> None:
        """The ground in play: that of the area the ball is in; of both, and of what lies between, while it is played across."""
        lines = any(job.style == "edge" for job in self.jobs)
        parts = list(self.grounds[self.standing.area])
        between = []
        if self.crossing is not None and not self.landed:
            start = self.grounds[self.crossing[0]]
            if self.standing.area not in [area.name for area in start] or self.game.between_areas == "out":
                here, there = (self.game.area(name).bounds for name in self.crossing)
                between = [(*map(min, here[:2], there[:2]), *map(max, here[2:], there[2:]))]
                parts += start
        slack = self.constants["edge_slack"] if lines and not between else 0.0
        self.carried_in_play = False
        mark_out(self.play, [area.bounds for area in parts] + between, slack)

    def nearest_in_play(self, x: float, y: float) -> tuple[float, float]:
        """The point nearest to (x, y) of the area the ball is in and of those that form one ground with it."""
        name, _ = self.nearest_area([area.name for area in self.grounds[self.standing.area]], x, y)
        west, south, east, north = self.game.area(name).bounds
        return min(max(x, west), east), min(max(y, south), north)

    def nearest_area(self, names: Iterable[str], x: float, y: float) -> tuple[str, float]:
        """Which of some areas a point lies in, or is nearest to, and how far beyond its line it is (m)."""
        gaps = {name: distance(self.game.area(name), x, y) for name in names}
        nearest = min(gaps, key=gaps.get)
        return nearest, gaps[nearest]

    def aim(self, bringing: bool, home: str | None) -> None:
        standing = self.standing
        self.play["aim"] = col.KEEP
        if bringing:
            there = self.game.area(home)
            self.play["aim"], self.play["goal_x"], self.play["goal_y"] = col.HOME, there.x, there.y
        elif standing.phase.aim == "goal":
            theirs = [goal for goal in self.game.goals if goal.attacked_by in (self.playing(), "any")]
            if theirs:
                self.aim_at(theirs)

    def aim_at(self, theirs: list[Goal]) -> None:
        """The holder goes for the nearest goal he is in front of; behind all of them, for the way round the nearest.  Of several
        just as near he keeps to the one he had, or takes one by lot."""
        bx, by = self.ball_place()
        ahead = [goal for goal in theirs if in_front(goal, bx, by)]
        tied = nearest(ahead or theirs, bx, by, (float(self.play["frame_x"]), float(self.play["frame_y"])))
        if self.target not in tied:
            chance = draw(self.players, max(self.toucher, 0), AIM) if len(tied) > 1 else 0.0
            self.target = tied[int(chance * len(tied))]
        goal = self.target
        x, y = (goal.x, goal.y) if ahead else before_mouth(goal)
        self.play["aim"], self.play["goal_x"], self.play["goal_y"], self.play["goal_width"] = (
            col.SCORE,
            x,
            y,
            goal.width,
        )
        self.play["goal_sideways"] = float(goal.end in ("south", "north"))
        self.play["goal_facing"] = facing(goal)

    def aim_again(self) -> None:
        """The holder's aim, now that he is somebody else or somewhere else; where the ball is only to be kept there is none."""
        if self.standing.phase.aim == "keep" and self.play["aim"] == col.KEEP:
            return
        home = self.standing.home_of(self.standing.side)
        self.aim(self.standing.phase.aim == "home" and home is not None and home != self.standing.area, home)

    def touched(self, i: int) -> None:
        self.toucher, self.touching_side = i, self.side_for(i)
