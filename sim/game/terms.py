"""What holds for every phase of a game: its bouts, its balls, what is counted as fast, what a win and a loss are."""

from __future__ import annotations

from typing import Literal

from sim.game.bounds import LONGEST_BY_WATCH
from sim.game.frozen import Frozen


class Supply(Frozen):
    """Ball stock: `balls` ready at the area; when they are used up, each restart waits `retrieve_seconds` more."""

    balls: int
    retrieve_seconds: float


class Bouts(Frozen):
    """`count` bouts of `seconds` with `rest_seconds` between; `rotate`: "none" or "list" (roles move on between bouts).

    `roles`: at the start of the next bout everybody has the role of the whistle ("carry on") or the one written in the file
    ("start anew"); "list" where the list decides.

    A bout may be over before its time: with the ball after `balls` of them, or when a side has `first_to` points.  It may go on
    after it: for `level_seconds` at most where the sides are level, until the next point, and for `finish_seconds` at most until
    the attack that is under way is over (0: it does not).

    What the next bout has of the one before: `first_ball`, the side that has the first ball, `points`, and with `stays` the team
    that has won, `longest_stay` bouts in a row at most; `tie` says who leaves after a draw.  `best_of`: no bout follows once a side
    has won more than half of `count`.  `points_by`: whose points `first_to` and `best_of` go by, a side's or those of a team on
    whichever side it was ("colour").  `clock` "stopped": `seconds` are those with the ball in play.
    """

    count: int
    seconds: float
    rest_seconds: float
    rotate: Literal["none", "list"]
    roles: Literal["carry on", "start anew", "list"] = "carry on"
    balls: int | None = None
    first_to: float | None = None
    level_seconds: float = 0.0
    finish_seconds: float = 0.0
    best_of: bool = False
    first_ball: Literal["start", "in turn", "winner", "loser", "holder"] = "start"
    points: Literal["start anew", "carry on"] = "start anew"
    points_by: Literal["side", "colour"] = "side"
    stays: Literal["winner"] | None = None
    longest_stay: int | None = None
    tie: Literal["nobody", "longest on"] | None = None
    clock: Literal["running", "stopped"] = "running"

    @property
    def most_seconds(self) -> float:
        """How long a bout can last by the watch (s), extra time apart: the clock may stand while the ball is dead."""
        return self.seconds * (LONGEST_BY_WATCH if self.clock == "stopped" else 1.0)


class Load(Frozen):
    """What is counted as fast, sharp and turning (`sim.game.loads`); None: as usual for the populations that play."""

    jog_kmh: float | None = None
    run_kmh: float | None = None
    high_speed_kmh: float | None = None
    sprint_kmh: float | None = None
    jog_share: float | None = None
    run_share: float | None = None
    high_speed_share: float | None = None
    sprint_share: float | None = None
    speed_seconds: float | None = None
    acceleration_mps2: float | None = None
    acceleration_seconds: float | None = None
    turn_degrees: float | None = None
    turn_seconds: float | None = None
    turn_mps: float | None = None


class Win(Frozen):
    """What counts as winning the ball.

    `confirm`: "touch", "control", "hold" (`amount` seconds), "passes" (`amount` of them) or "gate" (a pass through it, or any).
    `contested`: the passes in a row of a side that has the ball back before that go on, or start again.
    `together`: who of several who are at the ball as it is won changes places as the winner.
    """

    confirm: Literal["touch", "control", "hold", "passes", "gate"]
    amount: float
    gate: str | None = None
    contested: Literal["goes on", "starts again"] = "goes on"
    together: Literal["first", "longest in", "next on the list"] = "first"


class Loss(Frozen):
    """Whom a loss is charged to.

    charged  of a pass that does not come under control: "last touch" | "passer" | "receiver" (whom it was meant for) | "nearest"
    floater  for a floater: "nobody" | "last team-mate" (who of the side touched it last before him)
    """

    charged: Literal["last touch", "passer", "receiver", "nearest"] = "last touch"
    floater: Literal["nobody", "last team-mate"] = "nobody"
