"""The ball events of the evidence read from the log by a second reading, which keeps for itself who has what job and who is on
the ball: the oracle for `sim.evidence.ball_events`, which asks the reducer of all measures."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import NamedTuple

from sim.evidence.ball_events import NOBODY, BallEvents, space_at, speed_at, support_time
from sim.evidence.trajectories import Path, rows_of
from sim.game.model import Game
from sim.pitch.log import BoutLog


class Flight(NamedTuple):
    """A pass on its way: when it left, its row, and whose it is."""

    left_s: float
    row: list[float]
    passer: int


class Event(NamedTuple):
    """What is read of one event of the log; `who` is the number of its player, or -1."""

    t: float
    who: int
    side: str
    cause: str
    detail: str
    value: float


class Reader:
    """Reads one bout: who has what job, who is on the ball since when, and what is on its way."""

    def __init__(self, game: Game, log: BoutLog):
        players = len(log.players)
        self.game, self.found = game, BallEvents()
        self.keeping = {role.name for role in game.roles if role.style == "goal"}
        self.rows = rows_of(log)
        self.paths = [Path(one) for one in self.rows]
        self.sides, self.styles, self.roles = [""] * players, [""] * players, [""] * players
        self.carrier, self.since, self.received = NOBODY, 0.0, False
        self.flying: Flight | None = None
        self.live = math.nan

    def leave(self) -> None:
        """Nobody is on the ball, and no pass is on its way."""
        self.carrier, self.received, self.flying = NOBODY, False, None

    def job(self, event: Event) -> None:
        """A player has a role, a side and a style of play."""
        self.roles[event.who], self.sides[event.who], self.styles[event.who] = event.cause, event.side, event.detail

    def possession(self, event: Event) -> None:
        """A player is on the ball."""
        if event.who != self.carrier:
            self.carrier, self.since, self.received = event.who, event.t, False

    def touch(self, event: Event) -> None:
        """He touches it."""
        self.possession(event)
        self.found.add(event.t, event.who, "touches")

    def receive(self, event: Event) -> None:
        """He controls a mate's pass, `value` metres from where it was released."""
        self.possession(event)
        self.received = True
        found, t, who = self.found, event.t, event.who
        if self.flying is not None:
            left, row, passer = self.flying
            row[2] = 1.0
            row[3] = event.value / (t - left) if t > left else math.nan
            found.add(left, passer, "completed")
            self.flying = None
        found.add(t, who, "received")
        found.add(t, who, "received_mps", speed_at(self.paths[who], t))
        space = space_at(self.paths, who, self.sides, self.styles, t)
        if not math.isnan(space):
            found.add(t, who, "spaced")
            found.add(t, who, "space_m", space)

    def release(self, event: Event) -> None:
        """He passes, `value` metres as he means it."""
        t, who, wait = event.t, event.who, math.nan
        if who == self.carrier:
            self.found.add(t, who, "timed")
            self.found.add(t, who, "on_ball_s", t - self.since)
            wait = t - self.since if self.received else math.nan
        keeper = float(self.roles[who] in self.keeping)
        row = [event.value, float(event.cause == "pressed"), 0.0, math.nan, wait, keeper]
        self.found.passes.append(row)
        self.found.add(t, who, "passes")
        self.flying = Flight(t, row, who)
        self.carrier, self.received = NOBODY, False

    def transfer(self, event: Event) -> None:
        """The ball has been passed to another area (`detail` "FROM>TO")."""
        area = event.detail.split(">")[-1]
        support = support_time(self.game, self.rows, event.who, self.sides, area, event.t)
        self.found.add(event.t, event.who, "supports")
        self.found.add(event.t, event.who, "support_s", support)

    def loss(self, event: Event) -> None:
        """A side loses the ball."""
        self.found.add(event.t, event.who, "losses")
        self.leave()

    def tackle(self, event: Event) -> None:
        """He tries to tackle."""
        self.found.add(event.t, event.who, "tackles")

    def out(self, event: Event) -> None:
        """The ball goes out, last touched by him."""
        self.found.add(event.t, event.who, "outs")

    def begin(self, event: Event) -> None:
        """The ball comes into play."""
        self.live = event.t

    def dead(self, event: Event) -> None:
        """The ball is out of play."""
        self.close(event.t)
        if event.cause != "end":
            self.leave()

    def shot(self, _: Event) -> None:
        """A shot is no pass."""
        self.leave()

    def close(self, t: float) -> None:
        """The ball was in play until now, if it was."""
        if not math.isnan(self.live):
            self.found.live.append((self.live, t))
            self.live = math.nan

    def finish(self, t: float) -> BallEvents:
        """The bout is over: a pass on its way is none."""
        if self.flying is not None:
            self.found.passes.remove(self.flying.row)
            self.found.add(self.flying.left_s, self.flying.passer, "passes", -1.0)
        self.close(t)
        return self.found


HANDLERS: Mapping[str, Callable[[Reader, Event], None]] = {
    "job": Reader.job,
    "touch": Reader.touch,
    "possession": Reader.possession,
    "receive": Reader.receive,
    "release": Reader.release,
    "transfer": Reader.transfer,
    "loss": Reader.loss,
    "tackle": Reader.tackle,
    "out": Reader.out,
    "live": Reader.begin,
    "dead": Reader.dead,
    "shot": Reader.shot,
}
"""By kind of event (`sim.pitch.log`); the others say nothing of what is counted here."""


def read_anew(game: Game, log: BoutLog) -> BallEvents:
    """Read a bout's events in order."""
    number = {player: i for i, player in enumerate(log.players)}
    reader = Reader(game, log)
    for t, _, kind, player, _, side, cause, detail, value, *_ in log.events:
        if kind in HANDLERS:
            HANDLERS[kind](reader, Event(t, number.get(player, NOBODY), side, cause, detail, value))
    return reader.finish(log.duration_s)
