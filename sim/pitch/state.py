"""The state of one bout while it is being played, and what can be asked of it.

What it means when something happens is told by plain functions on a `Bout`, in modules named for what they are about.  They
import each other in one direction: `assignment` and `aiming`, `whistle`, `phases`, `restarts`, `answering` (the rules),
`possession`, `flight`, `release`, `carrier`, `reception`, and on top `contact`, `tackling` and `shots`.  Whatever leads back is
a later moment: it is booked by its kind (`Bout.expect`), and `sim.pitch.engine.HANDLERS` says what happens then.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from sim.game.model import Game
from sim.pitch import arrays as col
from sim.pitch import entries, setup
from sim.pitch.ball_state import DEAD, HELD, OVER, ROLLING, BallState, check
from sim.pitch.bout_parts import Carrier, Flight, PlayClock, Possession, Restart, Spells, Watch, layout_of
from sim.pitch.clock import Clock, Spell
from sim.pitch.fatigue import FatigueState
from sim.pitch.log import EventKind
from sim.pitch.moves import draw, where
from sim.pitch.trace import LYING, NOBODY, NOT_ROLLING
from sim.players import Profile
from sim.rules.between import Held, as_written
from sim.rules.rule_state import RuleState
from sim.rules.stints import stints_of
from sim.streams import stream_index
from sim.trajectory import RUN

PLACE = stream_index("place")
NEVER = 1e9
FIRST_ROWS, ROWS_FREE = 4096, 2048  # of the runs of a bout: room at first, and what must be free for the next moments
NEAR_M = 1.0  # judgement: a ball this little over the line of its area is still played as in it

Outcome = Callable[["Bout", float], tuple[int, float, float]]
"""Decides what happens to a released ball: (first player to touch it or -1, when, when it crosses the line)."""

Handler = Callable[..., None]
"""What happens at a moment: called with the bout, the watch time and what was booked with it."""


class Bout:
    """Arrays (see `sim.pitch.arrays`), clock, rule book and log of one bout, and what is remembered from moment to moment.

    Moments are valid for a spell: `ball`, as long as the ball's state lasts; `tackle`, the attempt that is awaited; `timers`, those
    of the present phase; `win`, the one that waits to be confirmed; `watch`, until the stopwatch is read again; `clock`, until
    that of the bout is stopped.
    """

    def __init__(  # noqa: PLR0913 - the address of a bout, who plays it, and what is replaced
        self,
        game: Game,
        roster: dict[str, Profile],
        seed: int,
        replicate: int,
        bout: int,
        outcome: Outcome,
        assumptions: dict[str, float] | None = None,
        frame: tuple[float, float] = (1.0, 1.0),
        fatigue: dict[str, FatigueState] | None = None,
        held: Sequence[Held] | None = None,
    ):
        self.game, self.outcome = game, outcome
        self.ids = tuple(player.id for player in game.players)
        match = col.table(1, col.MATCH)
        self.constants = setup.put_constants(match, assumptions)
        records = setup.abilities(game, roster, self.constants, fatigue)
        setup.put_keys(records, game, seed, replicate, bout)
        self.arrays: col.Arrays = (records, match, col.room_for_runs(FIRST_ROWS))
        self.rows_filled = FIRST_ROWS - ROWS_FREE  # with more runs than so many there has to be more room
        self.records, self.match = records, match
        self.players = col.records_in(records)
        (self.ball,), (self.play,) = col.records_in(match, "ball"), col.records_in(match, "play")
        setup.stand_at(records, [(0.0, 0.0)] * len(records))
        self.ball_state, self.held_by = DEAD, col.NOBODY  # as the record of the ball has them, too
        self.ball.pace = 1.0
        self.ball.holder = self.ball.meant_for = self.ball.passer = col.NOBODY
        self.play.frame_x, self.play.frame_y = frame
        self.play.lost_at, self.play.spot_x = -NEVER, NEVER
        self.jobs: tuple[setup.Job, ...] = ()  # as they stand in the records of the players

        self.clock = Clock()
        self.handlers: Mapping[str, Handler] = {}  # by the kind of moment (`sim.pitch.clock.ORDER`)
        self.over = self.clock.done()
        self.now = 0.0
        self.spells = Spells(Spell(), Spell(), Spell(), Spell(), Spell(), Spell())
        self.events: list[tuple] = []
        self.trace: list[tuple] = []  # of the ball

        self.standing = standing_at_start(game, as_written(game, bout) if held is None else held)
        self.layout = layout_of(game, self.standing)
        self.hold_for(game.start_side)
        self.possession = Possession(-1, game.start_side, self.standing.area)
        self.carrier, self.flight, self.restart = Carrier(), Flight(), Restart(game.supply.balls)
        self.watch, self.play_clock = Watch(), PlayClock()
        self.extra = ""  # why play goes on though time is up: "attack" | "level"

    # --- the state of the ball

    def in_play(self) -> bool:
        """Whether the ball is in play."""
        return self.ball_state is HELD or self.ball_state is ROLLING

    def is_over(self) -> bool:
        """Whether the bout has ended."""
        return self.ball_state is OVER

    def become(self, state: BallState, holder: int = -1) -> None:
        """The ball is in another state from now on, or in the same state anew: whatever waited for the last one does so no more."""
        check(self.ball_state, state)
        self.ball_state, self.held_by = state, holder
        self.ball.state, self.ball.holder = state, holder
        self.flight.shot = False
        self.spells.ball.renew()
        self.spells.tackle.renew()

    def expect(self, t: float, kind: str, spell: Spell | None, *what: object) -> None:
        """A moment of this kind will come at time t, unless the spell is over by then; its handler is given `what`."""
        self.clock.at(t, kind, self.comes, spell, kind, what)

    def comes(self, t: float, kind: str, what: tuple[object, ...]) -> None:
        """A moment that was waited for has come."""
        self.handlers[kind](self, t, *what)

    # --- the log

    def note(  # noqa: PLR0913 - one argument a field of the log
        self,
        kind: EventKind,
        player: int = -1,
        other: int = -1,
        side: str | None = None,
        cause: str = "",
        detail: str = "",
        value: float = math.nan,
        x: float = math.nan,
        y: float = math.nan,
    ) -> None:
        """Append one event at the present moment; the fields are those of `sim.pitch.log.FIELDS`, players by their number."""
        standing, ids = self.standing, self.ids
        self.events.append(
            (
                self.now,
                len(self.events),
                kind._value_,  # its plain word, the quick way: this is done more often than anything else
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

    def note_job(self, i: int) -> None:
        """Tell of the role and style that player i now has."""
        style, _ = self.standing.job_of(i)
        self.note(EventKind.JOB, i, side=self.standing.side_of(i), cause=self.standing.role[i], detail=style)

    def roll_only(self, speed: float, slowing: float) -> None:
        """The ball is set going without sliding: how fast (m/s), and what it loses (m/s2)."""
        self.ball.launch_speed, self.ball.roll = speed, slowing
        self.ball.slide = self.ball.slides_for = 0.0

    def trace_ball(self) -> None:
        """Write down where the ball is from now on, or how it moves."""
        t = self.now
        if self.ball_state is HELD:
            self.trace.append((t, self.held_by, True, *NOT_ROLLING))
        elif self.ball_state is ROLLING:
            ball = self.ball
            launch = ball.launch_speed, ball.slide, ball.slides_for, ball.roll
            self.trace.append((t, NOBODY, True, ball.x, ball.y, ball.dx, ball.dy, *launch))
        else:
            self.trace.append((t, NOBODY, False, *self.restart.spot, *LYING))

    def make_room(self) -> None:
        """The space for runs is filled so far that the next moments need more of it: twice as much."""
        (records, match, segments), recorded = self.arrays, self.play.recorded
        more = col.room_for_runs(2 * len(segments))
        more[:recorded] = segments[:recorded]
        self.arrays, self.rows_filled = (records, match, more), len(more) - ROWS_FREE

    def runs(self) -> np.ndarray:
        """What has been run so far, records of `sim.trajectory.RUN` (a copy)."""
        return self.arrays[2][: self.play.recorded].view(RUN, np.ndarray).copy()

    # --- where everybody is

    def holder(self) -> int:
        """The player who has the ball under control, -1 if nobody has."""
        return self.held_by

    def ball_place(self) -> tuple[float, float]:
        """(x, y) of the ball now, in metres; of a dead ball, where it is thought to be until it is brought in."""
        if self.ball_state is HELD:
            x, y, _, _ = where(self.records, self.held_by, self.now)
            return x, y
        if self.ball_state is ROLLING:
            x, y, _ = entries.ball_point(self.match, self.now)
            return x, y
        return self.ball.x, self.ball.y

    def distance_to_ball(self, i: int) -> float:
        """Metres from player i to the ball now."""
        x, y, _, _ = where(self.records, i, self.now)
        bx, by = self.ball_place()
        return math.hypot(x - bx, y - by)

    def distance_from(self, i: int, x: float, y: float) -> float:
        """Metres from player i to a point now."""
        px, py, _, _ = where(self.records, i, self.now)
        return math.hypot(px - x, py - y)

    def lot(self, i: int) -> float:
        """A number from 0 to 1 drawn by player i, where only chance can settle who comes first."""
        return draw(self.records, i, PLACE)

    # --- for whom they play

    def is_ours(self, i: int) -> bool:
        """Whether player i's side holds the ball."""
        side: int = self.players[i].side
        return side == col.FLOATER or side == self.play.side

    def playing(self) -> str:
        """The side that plays the ball just now: the one in possession, or the one whose win still waits to be confirmed."""
        pending = self.possession.pending
        return self.standing.side if pending is None else self.standing.side_of(pending.winner)

    def side_for(self, i: int) -> str:
        """The side player i plays for right now: a floater for those who have the ball, also before their win is confirmed."""
        side = self.standing.side_of(i)
        return self.playing() if side == "holder" else side

    def hold_for(self, side: str) -> None:
        """From now on `side` has the ball, as far as running is concerned."""
        self.play.side = self.layout.sides[side]
        self.standing.playing = side

    def touched(self, i: int) -> None:
        """Player i has touched the ball."""
        side = self.standing.side_of(i)
        self.possession.toucher, self.possession.touching_side = i, self.playing() if side == "holder" else side
        if side == self.standing.side:
            self.possession.last_of_side = i


def standing_at_start(game: Game, held: Sequence[Held]) -> RuleState:
    """What the rule book says as a bout begins in which everybody has these roles."""
    standing = RuleState(
        game,
        [one.role for one in held],
        [0.0 - one.seconds for one in held],
        game.phase(game.start_phase),
        game.start_area,
        game.start_side,
    )
    standing.stints = stints_of(game.players, held)
    standing.open_first()
    standing.score = dict(game.start_points)
    if standing.phase.ball_in != "active":
        standing.area = standing.phase.ball_in
    return standing
