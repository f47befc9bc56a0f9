"""Scenes: players put by hand on the ground, everything else as in any bout, and what the engine makes of them.

    scene().carrier(at=(0, 0)).mate(at=(10, 0)).opponent(at=(0, 2))

puts players in order of their ids on a very large ground; whoever is not named waits far off.  `scene(game).put(...)` puts those
of a game by their ids.  Fields of players, ball and play are read and written by name (`one.ball["x"]`,
`one.players["top_speed"][i]`); no test knows how the engine keeps them, or how its functions are called.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

import numpy as np

from sim.game.loader import load_game
from sim.game.model import Game
from sim.motion import plan_stand
from sim.pitch import border, contest, defending, ground, minds, moves, offball, onball, setup, shooting
from sim.pitch import columns as col
from sim.pitch.assumptions import USUAL
from sim.pitch.engine import Bout, race
from sim.players import Profile, typical_roster

EDGE, FREE, GOAL, WAIT = col.EDGE, col.FREE, col.GOAL, col.WAIT
DEAD, HELD, ROLLING = col.DEAD, col.HELD, col.ROLLING
COVER, RACE, SCORE, FLOATER = col.COVER, col.RACE, col.SCORE, col.FLOATER
NEVER, NOBODY = 1e9, -1
FAR = (60.0, 60.0)
LARGE = ("areas.square.length=150", "areas.square.width=150", "roles.outside.style=free")
Place = tuple[float, float]

PLAYER = {
    "top_speed": col.VMAX, "time_constant": col.TAU, "braking": col.BRAKE, "reaction": col.REACT, "bearing_error": col.SIGMA,
    "composure": col.COMPOSURE, "fresh_top_speed": col.FRESH_VMAX, "fresh_bearing_error": col.FRESH_SIGMA,
    "fresh_reaction": col.FRESH_REACT, "reserve_full": col.RESERVE_FULL, "reserve": col.RESERVE, "drawn": col.DRAWN,
    "whistle_at": col.WHISTLE, "side": col.SIDE, "style": col.STYLE, "touch_limit": col.LIMIT, "may_receive": col.OPEN,
    "west": col.ZX0, "south": col.ZY0, "east": col.ZX1, "north": col.ZY1, "tempo": col.TEMPO, "duty": col.DUTY,
    "busy_until": col.BUSY, "replans_at": col.MIND, "seen_x": col.SEEN_X, "seen_y": col.SEEN_Y, "seen_vx": col.SEEN_VX,
    "seen_vy": col.SEEN_VY, "plan_length": col.NSEG, "recorded_until": col.LOGGED,
}  # fmt: skip
BALL = {
    "state": col.MODE, "x": col.BX, "y": col.BY, "dx": col.DX, "dy": col.DY, "launch_speed": col.V0, "kicked_at": col.KICKED,
    "deceleration": col.DECEL, "holder": col.HOLDER, "received_at": col.RECEIVED, "pace": col.PACE, "passer": col.PASSER,
    "meant_for": col.MEANT, "target_x": col.TX, "target_y": col.TY,
}  # fmt: skip
PLAY = {
    "side": col.HOLDING, "lost_at": col.LOST, "live_at": col.LIVE_AT, "aim": col.AIM, "goal_x": col.AGX, "goal_y": col.AGY,
    "spacing": col.SPACING, "parts_in_play": col.PARTS, "west": col.PX0, "south": col.PY0, "east": col.PX1, "north": col.PY1,
}  # fmt: skip
CONSTANTS = {name: number for number, name in enumerate(USUAL)}


class Fields:
    """An array by the names of its columns."""

    def __init__(self, array: np.ndarray, columns: dict[str, int]):
        self.array, self.columns = array, columns

    def __getitem__(self, name: str):
        """The values under a name: an array that can be written into, or a number."""
        return self.array.T[self.columns[name]]

    def __setitem__(self, name: str, value: object) -> None:
        """Write the values under a name."""
        self.array.T[self.columns[name]] = value

    def __len__(self) -> int:
        return len(self.array)


class Scene:
    """A bout that is not played but put: players are numbered in order of their ids."""

    def __init__(self, bout: Bout):
        self.bout, self.out = bout, bout.out
        self.put_arrays(bout.P, bout.M, bout.B, bout.C)
        self.named = 0

    def put_arrays(self, players: np.ndarray, plans: np.ndarray, ball: np.ndarray, constants: np.ndarray) -> None:
        """The arrays that the engine's functions are called with."""
        self.P, self.M, self.B, self.C = players, plans, ball, constants
        self.players, self.ball, self.play = Fields(players, PLAYER), Fields(ball, BALL), Fields(ball, PLAY)
        self.constants = Fields(constants, CONSTANTS)

    # who stands where

    def carrier(self, at: Place, **fields: float) -> Scene:
        """The next player has the ball under control."""
        i = self.next_one(at, fields)
        self.held_by(i)
        return self

    def mate(self, at: Place, **fields: float) -> Scene:
        """The next player is free, with those who have the ball, and may be played to."""
        self.next_one(at, {"side": self.players["side"][0], "may_receive": 1.0} | fields)
        return self

    def opponent(self, at: Place, **fields: float) -> Scene:
        """The next player is free, and against those who have the ball."""
        self.next_one(at, {"side": self.players["side"][0] + 1.0} | fields)
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
        self.bout.count[0] = 0
        for i in range(len(self.P)):
            self.put_one(i, places[i] if i < len(places) else FAR, t)
        return self

    def put_one(self, i: int, at: Place, t: float = 0.0, velocity: Place = (0.0, 0.0)) -> None:
        """One player is at a place from time t on, standing or moving."""
        self.players["plan_length"][i] = plan_stand(self.M[i], t, *at)
        self.M[i, 0, 4:6] = velocity
        self.players["recorded_until"][i] = self.players["busy_until"][i] = t

    def put(self, places: dict[str, Place], elsewhere: Place = FAR) -> Scene:
        """Players stand where `places` says by their ids, the others all at one place."""
        return self.stand(*(places.get(one, elsewhere) for one in self.bout.ids))

    def index(self, player: str) -> int:
        """The number of a player."""
        return list(self.bout.ids).index(player)

    def held_by(self, i: int) -> Scene:
        """Player i has had the ball under control since time 0, and nobody has lost it for long."""
        self.ball["state"], self.ball["holder"], self.ball["received_at"] = HELD, float(i), 0.0
        self.play["side"], self.play["lost_at"] = self.players["side"][i], -NEVER
        return self

    def rolling(self, at: Place, angle: float, speed: float, deceleration: float | None = None) -> Scene:
        """The ball was kicked at time 0: from where, which way (rad from the x axis) and how hard (m/s)."""
        slower = self.constants["ball_deceleration"] if deceleration is None else deceleration
        put = {"state": ROLLING, "x": at[0], "y": at[1], "dx": math.cos(angle), "dy": math.sin(angle), "kicked_at": 0.0}
        for name, value in (put | {"launch_speed": speed, "deceleration": slower}).items():
            self.ball[name] = value
        return self

    def rest(self) -> None:
        """Nobody is tired any more."""
        for name in ("top_speed", "bearing_error", "reaction"):
            self.players[name] = self.players[f"fresh_{name}"]
        self.players["reserve"] = self.players["reserve_full"]

    def keeper(self, i: int, goal: str) -> Scene:
        """Player i keeps that goal, against whoever has the ball."""
        self.players["side"][i], self.players["style"][i] = 7.0, GOAL
        setup.keeper_zone(self.bout.game, goal, self.P[i])
        return self

    # where they are and what they have run

    def where(self, i: int, t: float) -> tuple[float, float, float, float]:
        """(x, y, vx, vy) of player i at a time."""
        return moves.where(self.P, self.M, i, t)

    def places(self, t: float = 0.0) -> list[Place]:
        """Where everybody is at a time."""
        return [self.where(i, t)[:2] for i in range(len(self.P))]

    def top_speed(self, i: int, seconds: float, step: float) -> float:
        """The greatest speed of player i (m/s), looked at in steps."""
        return max(math.hypot(*self.where(i, step * k)[2:]) for k in range(round(seconds / step)))

    def record(self, i: int, until: float) -> None:
        """Write down what player i has run up to a time."""
        moves.record(self.P, self.M, self.C, self.bout.G, self.bout.count, i, until)

    def ran(self, i: int, until: float) -> np.ndarray:
        """What player i has run up to a time: rows in the order of `sim.pitch.log.SEGMENT_FIELDS`."""
        self.record(i, until)
        rows = self.recorded()
        return rows[rows[:, 0] == i]

    def recorded(self) -> np.ndarray:
        """All that is written down so far."""
        return self.bout.G[: self.bout.count[0]].copy()

    def ball_at(self, t: float) -> tuple[float, float, float]:
        """(x, y, speed) of the rolling ball."""
        return contest.ball_point(self.B, t)

    # what the engine does with it

    def everything(self) -> tuple:
        """What most of its functions are handed first."""
        return self.P, self.M, self.B, self.C, self.bout.K, self.bout.N

    def writing(self) -> tuple:
        """What those are handed first that write runs down."""
        return *self.everything(), self.bout.G, self.bout.count

    def run(
        self, i: int, now: float, start: float, to: Place, cap: float = 9.0, effort: float = 1.0, through: bool = False
    ) -> None:
        """Player i decides at `now` to run there from `start` on."""
        moves.go(self.P, self.M, self.C, self.bout.G, self.bout.count, i, now, start, *to, cap, effort, through)

    def move(self, i: int, to: Place, factor: float, cap: float) -> None:
        """Player i makes an ordinary run there at time 0."""
        ground.move(
            self.P, self.M, self.B, self.C, self.bout.G, self.bout.count, i, 0.0, 0.0, *to, factor, cap, *to
        )  # fmt: skip

    def look_around(self, t: float = 0.0) -> Scene:
        """Everybody takes in where all are."""
        ground.take_in(self.P, self.M, t, False)
        return self

    def think(self, i: int, start: float = 0.0) -> None:
        """Player i decides at time 0 what to do, and begins with it at `start`."""
        offball.think(*self.writing(), i, 0.0, start)

    def offer(self, i: int, ball: Place) -> tuple[float, float, float]:
        """(x, y, gain) of the run that a free player makes up for one who has the ball there; draws nothing in the end."""
        drawn = self.bout.N.copy()
        found = offball.offer_free(*self.everything(), i, 0.0, *ball)
        self.bout.N[:] = drawn
        return found

    def covered_by(self, i: int, presser: int, ball: Place, plain: bool = False) -> int:
        """Whom defender i covers; `plain`: by the function that is not compiled."""
        function = uncompiled(defending.covered_by) if plain else defending.covered_by
        return function(self.P, self.B, self.C, i, presser, 0.0, *ball)

    def cover(self, i: int, whom: int, ball: Place) -> None:
        """Defender i covers somebody, or the way to the goal."""
        defending.cover(
            self.P, self.M, self.B, self.C, self.bout.G, self.bout.count, i, whom, 0.0, 0.0, *ball
        )  # fmt: skip

    def keep_goal(self, i: int, ball: Place) -> None:
        """Keeper i goes where he should stand."""
        defending.keep_goal(self.P, self.M, self.B, self.C, self.bout.G, self.bout.count, i, 0.0, 0.0, *ball)

    def choose(self, c: int, t: float) -> int:
        """Whom the carrier plays it to."""
        onball.choose(*self.everything(), c, t, False, 0.0, self.out)
        return int(self.out[0])

    def mean_to(self, c: int) -> float:
        """How hard the carrier means to play it, over the usual."""
        onball.mean_to(self.B, self.C, self.bout.K, self.bout.N, c)
        return float(self.ball["pace"])

    def kick(self, c: int, t: float, to: Place) -> None:
        """The carrier plays it there."""
        onball.kick(*self.everything(), c, t, *to, False, 0.0)

    def goal_chance(self, c: int, t: float = 0.0) -> float:
        """That a shot of the carrier goes in."""
        return shooting.goal_chance(self.P, self.M, self.B, self.C, c, t)

    def with_ball(self, i: int) -> bool:
        """Whether player i is with those who have the ball."""
        return ground.with_ball(self.P, self.B, i)

    def lane_chance(self, ball: Place, to: Place, pace: float, sigma: float, floor: float = 0.0) -> float:
        """That a pass there comes past everybody."""
        return ground.lane_chance(self.P, self.B, self.C, *ball, *to, pace, sigma, floor)

    def show(self, i: int, at: Place, velocity: Place = (0.0, 0.0)) -> Scene:
        """Player i is seen there in the picture that everybody decides by, moving so."""
        for name, value in zip(("seen_x", "seen_y", "seen_vx", "seen_vy"), (*at, *velocity), strict=True):
            self.players[name][i] = value
        return self

    def seen(self, i: int) -> tuple[float, float, float, float]:
        """(x, y, vx, vy) of player i in the picture taken last."""
        return ground.seen(self.P, i)

    def quick(self, i: int, seen: tuple[float, float, float, float], to: Place, reach: float) -> float:
        """Seconds in which player i, as he was seen, can be within reach of a place, judged at a glance."""
        return moves.quick(self.P, i, *seen, *to, reach)

    def body_in_the_way(self, i: int, start: float, end: float, radius: float) -> float:
        """When the ball meets his body."""
        return contest.body_in_the_way(self.P, self.M, self.B, i, start, end, radius)

    def first_reach(self, i: int, start: float, end: float, reach: float) -> float:
        """When he can first play the ball."""
        return contest.first_reach(self.P, self.M, self.B, self.C, i, start, end, reach)

    def pursue(self, t: float, barred: int) -> tuple[int, float]:
        """(who has the ball first, when)."""
        contest.pursue(*self.writing(), t, True, barred, self.out)
        return int(self.out[0]), float(self.out[1])

    def change_minds(self, until: float) -> float:
        """All who are due by then decide anew; when the next one is due."""
        minds.change_minds(*self.writing(), until, -1, False, self.bout.look_at, self.out)
        return float(self.out[3])

    def settle(self, holder: int, t: float) -> None:
        """Everybody answers to a new holder."""
        minds.settle(*self.writing(), holder, t)

    def next_mind(self) -> int:
        """Who decides anew next."""
        return minds.next_mind(self.P)

    def step(self) -> None:
        """The next moment of the bout comes."""
        self.bout.clock.env.step()

    def roles_changed(self) -> None:
        """The rules have given out jobs anew."""
        self.bout.roles_changed([])

    def first_look(self, t: float, c: int) -> float:
        """Player c has just received it: when he looks up."""
        self.bout.first_look(t, c)
        return self.bout.look_at

    def look(self, t: float) -> None:
        """The carrier looks up, and does something or waits."""
        self.bout.look(t, self.bout.plan)

    def aim(self) -> None:
        """The carrier picks the goal to play at."""
        self.bout.aim(False, None)

    # the ground in play

    def mark_out(self, rectangles: Sequence[tuple[float, float, float, float]], slack: float = 0.0) -> Scene:
        """These rectangles (west, south, east, north) are in play, and a margin around them."""
        border.mark_out(self.B, rectangles, slack)
        return self

    def to_the_line(self, at: Place, way: Place, plain: bool = False) -> float:
        """Metres to the outer border; `plain`: by the function that is not compiled."""
        function = uncompiled(border.to_the_line) if plain else border.to_the_line
        return function(self.B, *at, *way)

    def on_ground(self, x: float, y: float, slack: float = 0.0) -> bool:
        """Whether a place is in play."""
        return border.on_ground(self.B, x, y, slack)

    def leaving_distance(self) -> float:
        """Metres that the rolling ball stays in play."""
        return onball.leaving_distance(self.B)


def scene(
    game: Game | None = None,
    population: str = "amateur men",
    roster: dict[str, Profile] | None = None,
    begun: bool = False,
    **constants: float,
) -> Scene:
    """A scene on the ground of a game: by default a very large one, on which everybody waits who is not named.

    constants  of the engine, by name
    begun      after the first restart has been called, as in a bout
    """
    here = load_game("tight-square", LARGE, population) if game is None else game
    bout = Bout(here, roster or typical_roster(here), 1, 0, 0, race, constants)
    if begun:
        bout.begin()
    else:
        bout.assign_start()
    found = Scene(bout)
    if game is None:
        found.players["style"], found.players["may_receive"] = WAIT, 0.0
        found.stand()
    return found


def in_play(game: Game, seed: int) -> Scene:
    """A bout just when somebody has the ball under control for the first time."""
    bout = Bout(game, typical_roster(game), seed, 0, 0, race)
    bout.begin()
    found = Scene(bout)
    while bout.holder() < 0 or not bout.live:
        found.step()
    return found


def bare(players: int = 0, rectangles: Iterable[tuple[float, float, float, float]] = (), slack: float = 0.0) -> Scene:
    """Nothing but empty records of so many players and a ball, for functions that ask for no more."""
    parts = list(rectangles)
    found = object.__new__(Scene)
    table = np.zeros((players, col.PLAYER_COLUMNS))
    plans = setup.plans(table, [(0.0, 0.0)] * players)
    found.put_arrays(table, plans, np.zeros(col.BALL_COLUMNS + border.room_for_parts(len(parts))), setup.constants())
    if parts:
        found.mark_out(parts, slack)
    return found


def uncompiled(function: Callable) -> Callable:
    """The Python function behind a compiled one."""
    return getattr(function, "py_func", function)


def meant_for(bout: Bout) -> int:
    """Whom the ball of a bout is meant for."""
    return int(bout.B[col.MEANT])
