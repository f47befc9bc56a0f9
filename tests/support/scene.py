"""Scenes: players put by hand on the ground, everything else as in any bout, and what the engine makes of them.

    scene().carrier(at=(0, 0)).mate(at=(10, 0)).opponent(at=(0, 2))

puts players in order of their ids on a very large ground; whoever is not named waits far off.  `scene(game).put(...)` puts those
of a game by their ids.  Fields of players, ball and play are read and written by name (`one.ball["x"]`,
`one.players["top_speed"][i]`); no test knows how the engine keeps them, or how its functions are called.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from types import SimpleNamespace

import numpy as np

from sim.ball import Launch, launch_speed, struck
from sim.game.loader import load_game
from sim.game.model import Game
from sim.motion import plan_stand
from sim.pitch import arrays as col
from sim.pitch import (
    ball_races,
    border,
    carrier,
    covering,
    decisions,
    entries,
    goalkeeping,
    moves,
    offball,
    passing,
    passing_lanes,
    perception,
    phases,
    positions,
    pressing,
    reaching,
    replanning,
    runs,
    setup,
    shooting,
    supporting,
    tackling,
)
from sim.pitch.aiming import aim
from sim.pitch.assignment import assign_start
from sim.pitch.ball_state import BallState
from sim.pitch.engine import begin, race
from sim.pitch.options import TURN
from sim.pitch.state import Bout
from sim.players import Profile, typical_roster
from sim.trajectory import RUN

EDGE, FREE, GOAL, WAIT = col.EDGE, col.FREE, col.GOAL, col.WAIT
DEAD, HELD, ROLLING = col.DEAD, col.HELD, col.ROLLING
COVER, RACE, SCORE, FLOATER = col.COVER, col.RACE, col.SCORE, col.FLOATER
NEVER, NOBODY = 1e9, -1
FAR = (60.0, 60.0)
LARGE = ("areas.square.length=150", "areas.square.width=150", "roles.outside.style=free")
Place = tuple[float, float]


class Scene:
    """A bout that is not played but put: players are numbered in order of their ids."""

    def __init__(self, bout: Bout):
        self.bout, self.named = bout, 0
        self.players, match, _ = bout.arrays
        self.ball, self.play, self.constants = (match[name][0] for name in ("ball", "play", "constants"))

    @property
    def pitch(self) -> col.Pitch:
        """What the engine's functions are called with."""
        return col.Pitch(self.players, self.ball, self.play, self.constants, self.bout.arrays[2])

    # who stands where

    def carrier(self, at: Place, **fields: float) -> Scene:
        """The next player has the ball under control."""
        i = self.next_one(at, fields)
        self.held_by(i)
        return self

    def mate(self, at: Place, **fields: float) -> Scene:
        """The next player is free, with those who have the ball, and may be played to."""
        self.next_one(at, {"side": self.players["side"][0], "may_receive": True} | fields)
        return self

    def opponent(self, at: Place, **fields: float) -> Scene:
        """The next player is free, and against those who have the ball."""
        self.next_one(at, {"side": self.players["side"][0] + 1} | fields)
        return self

    def next_one(self, at: Place, fields: dict[str, float]) -> int:
        """Put the next player: his number."""
        i, self.named = self.named, self.named + 1
        for name, value in ({"style": FREE} | fields).items():
            self.players[name][i] = value
        self.put_one(i, at)
        return i

    def stand(self, *places: Place, t: float = 0.0) -> Scene:
        """The first players stand at these places from time t on and all others far off; nothing run so far."""
        self.play["recorded"] = 0
        for i in range(len(self.players)):
            self.put_one(i, places[i] if i < len(places) else FAR, t)
        return self

    def put_one(self, i: int, at: Place, t: float = 0.0, velocity: Place = (0.0, 0.0)) -> None:
        """One player is at a place from time t on, standing or moving."""
        self.players["plan_length"][i] = plan_stand(self.players["plan"][i], t, *at)
        self.players["plan"][["vx", "vy"]][i, 0] = velocity
        self.players["recorded_until"][i] = self.players["busy_until"][i] = t

    def put(self, places: dict[str, Place], elsewhere: Place = FAR) -> Scene:
        """Players stand where `places` says by their ids, the others all at one place."""
        return self.stand(*(places.get(one, elsewhere) for one in self.bout.ids))

    def index(self, player: str) -> int:
        """The number of a player."""
        return list(self.bout.ids).index(player)

    def held_by(self, i: int) -> Scene:
        """Player i has had the ball under control since time 0, and nobody has lost it for long."""
        self.bout.ball_state, self.bout.held_by = BallState.HELD, i
        self.ball["state"], self.ball["holder"], self.ball["received_at"] = HELD, i, 0.0
        self.play["side"], self.play["lost_at"] = self.players["side"][i], -NEVER
        return self

    def rolling(self, at: Place, angle: float, speed: float, deceleration: float | None = None) -> Scene:
        """The ball was kicked at time 0: from where, which way (rad from the x axis) and how hard (m/s); with a deceleration
        (m/s2), it only rolls."""
        self.bout.ball_state, self.bout.held_by = BallState.ROLLING, NOBODY
        launch = self.struck(speed) if deceleration is None else Launch(speed, 0.0, 0.0, deceleration)
        put = {"state": ROLLING, "x": at[0], "y": at[1], "dx": math.cos(angle), "dy": math.sin(angle), "kicked_at": 0.0}
        put |= dict(zip(("launch_speed", "slide", "slides_for", "roll"), launch, strict=True))
        for name, value in put.items():
            self.ball[name] = value
        return self

    def struck(self, speed: float) -> Launch:
        """A ball kicked at that speed on the ground of this scene."""
        return struck(speed, passing_lanes.surface_of(self.pitch.constants))

    def launch_speed(self, distance: float, pace: float) -> float:
        """How hard a pass of that length and pace is meant (m/s)."""
        return launch_speed(distance, pace, passing_lanes.surface_of(self.pitch.constants))

    @property
    def launch(self) -> Launch:
        """How the rolling ball was set going."""
        return reaching.launch_of(self.ball)

    def rest(self) -> None:
        """Nobody is tired any more."""
        for name in ("top_speed", "bearing_error", "reaction"):
            self.players[name] = self.players[f"fresh_{name}"]
        self.players["reserve"] = self.players["reserve_full"]

    def keeper(self, i: int, goal: str) -> Scene:
        """Player i keeps that goal, against whoever has the ball."""
        self.players["side"][i], self.players["style"][i] = 7, GOAL
        setup.keeper_zone(self.bout.game, goal, self.bout.players[i])
        return self

    # where they are and what they have run

    def where(self, i: int, t: float) -> tuple[float, float, float, float]:
        """(x, y, vx, vy) of player i at a time."""
        return moves.where(self.players, i, t)

    def places(self, t: float = 0.0) -> list[Place]:
        """Where everybody is at a time."""
        return [self.where(i, t)[:2] for i in range(len(self.players))]

    def top_speed(self, i: int, seconds: float, step: float) -> float:
        """The greatest speed of player i (m/s), looked at in steps."""
        return max(math.hypot(*self.where(i, step * k)[2:]) for k in range(round(seconds / step)))

    def record(self, i: int, until: float) -> None:
        """Write down what player i has run up to a time."""
        entries.record(*self.bout.arrays, i, until)

    def ran(self, i: int, until: float) -> np.ndarray:
        """What player i has run up to a time: records of `sim.trajectory.RUN`."""
        self.record(i, until)
        rows = self.recorded()
        return rows[rows["player"] == i]

    def recorded(self) -> np.ndarray:
        """All that is written down so far."""
        return self.bout.runs()

    def ball_at(self, t: float) -> tuple[float, float, float]:
        """(x, y, speed) of the rolling ball."""
        return reaching.ball_point(self.ball, t)

    # what the engine does with it

    def run(
        self, i: int, now: float, start: float, to: Place, cap: float = 9.0, effort: float = 1.0, through: bool = False
    ) -> None:
        """Player i decides at `now` to run there from `start` on."""
        entries.go(*self.bout.arrays, i, now, start, *to, cap, effort, through)

    def situation(self, i: int, ball: Place, start: float = 0.0) -> runs.Situation:
        """What player i decides from at time 0, to set off at `start`, when he thinks the ball is there."""
        return runs.situation_of(self.pitch, i, 0.0, start)._replace(ball_x=ball[0], ball_y=ball[1])

    def move(self, i: int, to: Place, factor: float, cap: float) -> None:
        """Player i makes an ordinary run to the ball, which is there, at time 0."""
        here, player = self.situation(i, to), self.players[i]
        ordinary = runs.urgent_run(self.pitch, here, int(player["duty"]), int(player["marks"]), to, factor, cap)
        runs.set_off(self.pitch, here, ordinary)

    def look_around(self, t: float = 0.0) -> Scene:
        """Everybody takes in where all are."""
        perception.take_in(self.players, t, False)
        return self

    def think(self, i: int, start: float = 0.0) -> None:
        """Player i decides at time 0 what to do, and begins with it at `start`."""
        offball.replan(self.pitch, i, 0.0, start)

    def stand_back(self, i: int, spot: Place, to: Place) -> Place:
        """Where player i, who wants to be somewhere, goes first while an opponent takes a restart from the spot."""
        self.play["spot_x"], self.play["spot_y"] = spot
        x, y, _ = positions.stand_back(self.pitch, i, *self.where(i, 0.0)[:2], *to)
        return x, y

    def offer(self, i: int, ball: Place) -> tuple[float, float, float]:
        """(x, y, gain) of the run that a free player makes up for one who has the ball there; draws nothing in the end."""
        drawn = self.players["draws"].copy()
        found = supporting.best_inside(self.pitch, self.situation(i, ball))
        self.players["draws"] = drawn
        return found

    def shape(self, i: int, ball: Place) -> Place:
        """Where a player belongs by the shape of his side."""
        return entries.shape_point(*self.bout.arrays, i, *ball)

    def covered_by(self, i: int, presser: int, ball: Place, plain: bool = False) -> int:
        """Whom defender i covers; `plain`: by the function that is not compiled."""
        function = uncompiled(covering.man_to_cover) if plain else covering.man_to_cover
        return function(self.pitch, self.situation(i, ball), presser)

    def cover(self, i: int, whom: int, ball: Place, presser: int = NOBODY) -> None:
        """Defender i covers somebody, or the way to the goal, while the presser is at the ball."""
        here = self.situation(i, ball)
        runs.set_off(self.pitch, here, covering.cover(self.pitch, here, whom, presser))

    def keep_goal(self, i: int, ball: Place) -> None:
        """Keeper i goes where he should stand."""
        here = self.situation(i, ball)
        runs.set_off(self.pitch, here, goalkeeping.keep_goal(self.pitch, here))

    def choose(self, c: int, t: float, first_time: bool = False) -> int:
        """Whom the carrier plays it to."""
        return passing.best_pass(self.pitch, look_of(c, t, first_time)).receiver

    def worth(self, c: int, t: float) -> float:
        """What the carrier's best pass is worth to him."""
        return passing.best_pass(self.pitch, look_of(c, t)).worth

    def decide(self, c: int, t: float) -> int:
        """Which kind of option the carrier takes."""
        return decisions.decide(self.pitch, look_of(c, t)).kind

    def first_touch(self, c: int, t: float, arriving: float) -> float:
        """Player c takes a ball that comes that fast (m/s): seconds until he can play it."""
        return decisions.first_touch(self.pitch, c, t, arriving)[1]

    def turn_away(self, c: int, t: float) -> None:
        """The carrier turns away with the ball."""
        decisions.keep(self.pitch, c, t, TURN)

    def past_chance(self, c: int, j: int) -> float:
        """Chance that carrier c gets past player j."""
        return float(entries.past_chance(*self.bout.arrays, c, j))

    def tackle_odds(self, i: int, c: int) -> float:
        """Logit of opponent i's chance to win the ball off the carrier."""
        return tackling.tackle_odds(self.bout, i, c)

    def direction_error(self, c: int, to: Place, first_time: bool = False) -> float:
        """Standard deviation (rad) of the bearing of the carrier's pass to a place."""
        strike = passing.strike_of(self.pitch, look_of(c, 0.0, first_time))
        return strike.error * passing.turn_error(self.constants, strike, to[0] - strike.x, to[1] - strike.y)

    def heavy_chance(self, c: int, arriving: float) -> float:
        """That player c's first touch on a ball that comes that fast (m/s) is heavy."""
        return ball_races.heavy_chance(self.pitch, c, 0.0, arriving)

    def pressure(self, i: int) -> float:
        """0-1: how closely player i is pressed."""
        return perception.pressure(self.pitch, i, *self.where(i, 0.0)[:2], 0.0)

    def look_round(self, c: int, t: float) -> Scene:
        """The carrier looks up: the picture is his."""
        pressed = perception.pressure(self.pitch, c, *self.where(c, t)[:2], t)
        perception.take_in_as(self.pitch, c, t, t, False, pressed)
        return self

    def press(self, i: int, ball: Place) -> runs.Run:
        """What a presser decides."""
        return pressing.press(self.pitch, self.look_around().situation(i, ball))

    def mean_to(self, c: int) -> float:
        """How hard the carrier means to play it, over the usual."""
        passing.draw_pace(self.pitch, c)
        return float(self.ball["pace"])

    def kick(self, c: int, t: float, to: Place) -> None:
        """The carrier plays it there."""
        passing.kick(self.pitch, look_of(c, t), *to)

    def goal_chance(self, c: int, t: float = 0.0) -> float:
        """That a shot of the carrier goes in."""
        return shooting.goal_chance(self.pitch, c, *self.where(c, t)[:2], t)

    def with_ball(self, i: int) -> bool:
        """Whether player i is with those who have the ball."""
        return entries.with_ball(*self.bout.arrays, i)

    def lane_chance(self, ball: Place, to: Place, pace: float, sigma: float, floor: float = 0.0) -> float:
        """That a pass there comes past everybody."""
        return passing_lanes.lane_chance(self.pitch, passing_lanes.Strike(*ball, pace), sigma, *to, floor)

    def show(self, i: int, at: Place, velocity: Place = (0.0, 0.0)) -> Scene:
        """Player i is seen there in the picture that everybody decides by, moving so."""
        for name, value in zip(("seen_x", "seen_y", "seen_vx", "seen_vy"), (*at, *velocity), strict=True):
            self.players[name][i] = value
        return self

    def seen(self, i: int) -> tuple[float, float, float, float]:
        """(x, y, vx, vy) of player i in the picture taken last."""
        return perception.seen(self.players, i)

    def quick(self, i: int, seen: tuple[float, float, float, float], to: Place, reach: float) -> float:
        """Seconds in which player i, as he was seen, can be within reach of a place, judged at a glance."""
        return moves.quick(self.players, i, *seen, *to, reach)

    def body_in_the_way(self, i: int, start: float, end: float, radius: float) -> float:
        """When the ball meets his body."""
        return reaching.body_in_the_way(self.pitch, i, start, end, radius)

    def first_reach(self, i: int, start: float, end: float, reach: float) -> float:
        """When he can first play the ball."""
        return reaching.first_reach(self.pitch, i, start, end, reach)

    def pursue(self, t: float, barred: int) -> tuple[int, float]:
        """(who has the ball first, when)."""
        first, when, _ = self.outcome(t, barred)
        return first, when

    def outcome(self, t: float = 0.0, barred: int = 0) -> tuple[int, float, float]:
        """(who has the ball first, when, when it is out)."""
        return entries.pursue(*self.bout.arrays, t, True, barred)

    def change_minds(self, until: float) -> float:
        """All who are due by then decide anew; when the next one is due."""
        return entries.replan_until(*self.bout.arrays, until, NOBODY, False, self.bout.carrier.look_at)[3]

    def settle(self, holder: int, t: float) -> None:
        """Everybody answers to a new holder."""
        replanning.replan_at_control(self.pitch, holder, t)

    def next_mind(self) -> int:
        """Who decides anew next."""
        return replanning.next_to_replan(self.players)

    def step(self) -> None:
        """The next moment of the bout comes."""
        self.bout.clock.env.step()

    def roles_changed(self) -> None:
        """The rules have given out jobs anew."""
        phases.roles_changed(self.bout, [])

    def first_look(self, t: float, c: int) -> float:
        """Player c has just received it: when he looks up."""
        self.bout.carrier.first_time, wait = decisions.first_touch(self.pitch, c, t, self.bout.flight.speed)
        carrier.await_look(self.bout, t, t + wait)
        return self.bout.carrier.look_at

    def look(self, t: float) -> None:
        """The carrier looks up, and does something or waits."""
        carrier.look(self.bout, t)

    def aim(self) -> None:
        """The carrier picks the goal to play at."""
        aim(self.bout)

    # the ground in play

    def mark_out(self, rectangles: Sequence[tuple[float, float, float, float]], *run_offs: float) -> Scene:
        """These rectangles (west, south, east, north) are in play with their run-offs; one is that of all."""
        wide = run_offs * len(rectangles) if len(run_offs) == 1 else run_offs
        (play,) = col.records_in(self.bout.arrays[1], "play")
        border.mark_out(play, [border.Part(*one) for one in zip(rectangles, wide, strict=True)])
        return self

    def to_the_line(self, at: Place, way: Place, plain: bool = False) -> float:
        """Metres to the outer border; `plain`: by the function that is not compiled."""
        if not plain:
            return border.to_the_line(self.play, *at, *way)
        return uncompiled(border.to_the_line)(self.bout.arrays[1].view(np.recarray)["play"][0], *at, *way)

    def on_ground(self, x: float, y: float, slack: float = 0.0) -> bool:
        """Whether a place is in play."""
        return border.on_ground(self.play, x, y, slack)

    def within_lines(self, x: float, y: float, slack: float = 0.0) -> bool:
        """Whether a place in play is on this side of the line."""
        return border.within_lines(self.play, x, y, slack)

    def leaving_distance(self) -> float:
        """Metres that the rolling ball stays in play."""
        return border.leaving_distance(self.ball, self.play)


def scene(
    game: Game | None = None,
    population: str = "amateur men",
    roster: dict[str, Profile] | None = None,
    begun: bool = False,
    seed: int = 1,
    **constants: float,
) -> Scene:
    """A scene on the ground of a game: by default a very large one, on which everybody waits who is not named.

    constants  of the engine, by name
    begun      after the first restart has been called, as in a bout
    seed       of the random numbers
    """
    here = load_game("tight-square", LARGE, population) if game is None else game
    bout = Bout(here, roster or typical_roster(here), seed, 0, 0, race, constants)
    if begun:
        begin(bout)
    else:
        assign_start(bout)
    found = Scene(bout)
    found.players["overlooked"] = 1.0  # whoever has the ball has seen everybody
    if game is None:
        found.players["style"], found.players["may_receive"] = WAIT, 0.0
        found.stand()
    return found


def in_play(game: Game, seed: int) -> Scene:
    """A bout just when somebody has the ball under control for the first time."""
    bout = Bout(game, typical_roster(game), seed, 0, 0, race)
    begin(bout)
    found = Scene(bout)
    while bout.holder() < 0 or not bout.in_play():
        found.step()
    return found


def bare(players: int = 0, rectangles: Iterable[tuple[float, float, float, float]] = (), *run_offs: float) -> Scene:
    """Nothing but empty records of so many players and a ball, for functions that ask for no more."""
    match, ground = col.table(1, col.MATCH), list(rectangles)
    setup.put_constants(match)
    arrays = (col.table(players, col.PLAYER), match, col.table(1, RUN))
    setup.stand_at(arrays[0], [(0.0, 0.0)] * players)
    found = Scene(SimpleNamespace(arrays=arrays))
    return found.mark_out(ground, *(run_offs or (0.0,))) if ground else found


def look_of(c: int, t: float, first_time: bool = False) -> passing.Look:
    """The carrier looks up with a set ball at his feet, or plays it first time."""
    return passing.Look(c, t, first_time, 0.0, False, False)


def uncompiled(function: Callable) -> Callable:
    """The Python function behind a compiled one."""
    return getattr(function, "py_func", function)


def meant_for(bout: Bout) -> int:
    """Whom the ball of a bout is meant for."""
    return int(bout.ball.meant_for)
