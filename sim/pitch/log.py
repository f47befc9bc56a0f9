"""What happened in one bout: an append-only list of events and the exact paths of all players.

Events are tuples in the order of `FIELDS`; times are seconds on the watch since the bout began.  Paths are records of
`sim.trajectory.RUN`, read by name (`log.segments["player"]`), and move by the law of that module: s seconds after the start of a
segment the acceleration is ``a exp(-k s)`` with ``a = (ax, ay)`` and ``k = rate`` (0: constant), so with g1 = (1 - exp(-k s))/k
and g2 = (s - g1)/k (limits s and s^2/2): velocity = v + a g1, position = x + v s + a g2.

The ball's path are records of `sim.trajectory.BALL_RUN`.  While `holder` (as in `players`) is not -1 the ball is where that player
is, and its law is nan; else it moves by the same law as the players.  While it is not `in_play` it lies where it went dead, until
it is brought in.

The kinds of event are those of `EventKind`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from sim.players import Profile
from sim.rules.between import Held
from sim.shown import Shown
from sim.trajectory import BALL_RUN

FIELDS = (
    "t",
    "seq",
    "kind",
    "player",
    "other",
    "side",
    "cause",
    "detail",
    "value",
    "x",
    "y",
    "phase",
    "area",
    "passes",
)


class EventKind(StrEnum):
    """What kinds of event there are, and what their fields mean.

    Fields not named are "" or nan; `side`, `phase`, `area`, `passes` always hold the state after the event.
    """

    BEGIN = "begin"
    """The bout starts."""
    JOB = "job"
    """`player` now has role `cause` and style `detail`; `side` is the player's side ("holder" for floaters)."""
    SERVE = "serve"
    """A restart is called: `side` will have the ball, from `detail` (server, line, keeper)."""
    LIVE = "live"
    """The ball comes into play; `side` receives it; `other` is the intended player."""
    DEAD = "dead"
    """The ball goes out of play; `cause`: "loss", "out", "goal", "shot", "foul", "rule", "end"."""
    POSSESSION = "possession"
    """`side` begins a possession (control by `player`)."""
    TOUCH = "touch"
    """`player` touches the ball (every contact, the releasing one included; one record a contact)."""
    RELEASE = "release"
    """A pass by `player` meant for `other`; `value` planned length m; `cause` "pressed" | "free" (an opponent within 3 m);
    `detail` "pass" | "first-time" | "transfer"."""
    RECEIVE = "receive"
    """A pass completed: `player` controls it, `other` passed it; `value` length m, `detail` the gates it went through, in order."""
    CARRY = "carry"
    """`player` has carried the ball into area `detail` (where a rule or a counter asks)."""
    COUNT = "count"
    """A counter of the game's own stands at `value`: `cause` its name, `side` (and `player`) who has done what it counts."""
    EXTRA = "extra"
    """Time is up and play goes on: `cause` "attack" (until it is over) | "level" (until the next point), `value` s at most."""
    LOSS = "loss"
    """A side's possession ends: `side` here is the losing side, `player` whom it is charged to (the last to touch the ball for it
    before it was won, went out, was shot or had been held too long, unless the game says otherwise), `other` the winner or "";
    `cause`: interception, tackle, miscontrol, misplaced, out, "time limit", "rule fault", shot."""
    WIN = "win"
    """A loss made by a controlled touch of an opponent, confirmed: `player` the winner, `side` the winning side."""
    CONTESTED = "contested"
    """A provisional win that was not confirmed: `player` who had it."""
    TACKLE = "tackle"
    """Attempted by `player` on `other`; `cause`: won, loose, beaten; `detail` "heavy touch" if that of `other` was one,
    "taken on" if `other`, who has the ball, tried to go past him."""
    FOUL = "foul"
    """`player` fouls `other`, who has the ball; a free restart follows, if no rule has stopped play already."""
    DEFLECT = "deflect"
    """`player` touches without controlling."""
    OUT = "out"
    """The ball crosses the line; `player` touched it last."""
    RULE = "rule"
    """A rule answers to what `side` (or `player`) did: `cause` its name, `detail` its phase, `value` the count for counters
    and timers; what it does follows."""
    THRESHOLD = "threshold"
    """A counter reached its count: `cause` the counter, `value` the count, `side` who did it."""
    WINDOW = "window"
    """From now on `side`, for which `player` lost the ball, may win it back within `value` `detail` ("seconds" | "passes" of the
    others)."""
    STEP = "step"
    """`player` is on another step of the ladder of his role: he now has `value` touches (0: free)."""
    GROUND = "ground"
    """Area `detail` is marked out anew: `x` m long and `y` m wide from now on."""
    UNLOCK = "unlock"
    """`cause` ("transfer" | "shoot" | a zone) is allowed from now on: to side `detail` alone ("": to everybody)."""
    TRANSFER = "transfer"
    """A pass to another area is controlled there by the side that played it: `player`, `detail` "FROM>TO"."""
    AREA = "area"
    """The ball is now played in another area, as `player` has it there, without a transfer: `detail` "FROM>TO"."""
    BREAK = "break"
    """Play turns from keeping to attacking a goal."""
    PHASE = "phase"
    """The phase is now `cause`."""
    SHOT = "shot"
    """By `player`; `value` distance m;  then one of the four that follow here."""
    GOAL = "goal"
    """A shot by `other` went in."""
    SAVE = "save"
    """`player`, a keeper, has a shot by `other`."""
    MISS = "miss"
    """A shot by `other` went wide."""
    BLOCK = "block"
    """`player` got in the way of a shot by `other`."""
    SCORE = "score"
    """`side` gets `value` points; `cause` the rule."""
    LIMIT = "limit"
    """`player` has had all the `cause` ("bouts" | "minutes") he may play and leaves; `other` comes for him ("": nobody)."""
    SWAP = "swap"
    """`player` takes the role of `other` and the other way round."""
    END = "end"
    """The bout is over."""


@dataclass(frozen=True)
class BoutLog(Shown):
    """One played bout.

    `players` are ids in the order that `segments["player"]` counts; `roles` are role names in the order that
    `segments["role"]` counts; `teams[i]` is the team of player i.  `duration_s` is the watch time of the bout: to the whistle, or
    to the end of a shot struck before it.
    `reserve_end` and `reserve_lowest` are the shares (0-1) of each player's hard-running reserve at the end and at the least,
    `reserve_drawn` how many times over he has drawn it since the session began.  `phase` is the phase at the whistle and
    `held` each player's role then, with the seconds of play for which he has had it; `points` are those of each side,
    `colours` those of each team on whichever side it was, `holder` the side that had the ball.  `profiles` are the players as
    they were in this session, in the order of `players`: what is counted of a bout is counted of those who played it.
    """

    game: str
    seed: int
    replicate: int
    bout: int
    duration_s: float
    players: tuple[str, ...]
    teams: tuple[str, ...]
    roles: tuple[str, ...]
    events: tuple[tuple, ...] = field(repr=False)
    segments: np.ndarray = field(repr=False)
    reserve_end: tuple[float, ...] = ()
    reserve_lowest: tuple[float, ...] = ()
    reserve_drawn: tuple[float, ...] = ()
    phase: str = ""
    held: tuple[Held, ...] = ()
    profiles: tuple[Profile, ...] = field(default=(), repr=False)
    ball: np.ndarray = field(default_factory=lambda: np.zeros(0, BALL_RUN), repr=False)
    points: tuple[tuple[str, float], ...] = ()
    holder: str = ""
    colours: tuple[tuple[str, float], ...] = ()
