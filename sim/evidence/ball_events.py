"""What happened with the ball in one bout, as short lists: passes, receptions, and counts with their time and player.

The definitions are those of the publications beside which the rows stand, and they need the moment of everything, which the
counts of an answer (`sim.measures.event_reducer`) have no more.  Touches, time on the ball, losses and balls out are the same
in both; passes are not: here one is completed when a mate controls it whoever touched it on the way, counts at the moment and in
the role of its release, and a touch of somebody's does not settle it at the end of the bout.

A pass is *pressed* when an opponent was within 3 m of the passer at the release (the log says so), *completed* when a
mate controls it.  Its speed is its length over its time from foot to control, for completed passes; its class of length is the
length that was meant.  Its *wait* is the time since the passer had received it from a mate, if he had.  Time on the
ball runs from a player's first touch to his release, however he came by it.  A pass that is still on its way when the
bout ends is left out.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from sim.evidence.trajectories import Path, rows_of, state_at
from sim.game.model import Game
from sim.pitch.log import BoutLog

COUNTS = ("touches", "passes", "completed", "losses", "tackles", "outs", "timed", "on_ball_s", "received",
          "received_mps", "spaced", "space_m", "supports", "support_s")  # fmt: skip
PASS = ("length_m", "pressed", "completed", "speed_mps", "wait_s", "keeper")
SUPPORTS = 2  # mates that must have arrived after a transfer
SUPPORT_MOST_S = 10.0
NOBODY = -1


@dataclass
class BallEvents:
    """`counts`: (t, player or -1, place in `COUNTS`, value); `passes`: rows of `PASS`; `live`: (from, to) in play."""

    counts: list[tuple[float, int, int, float]] = field(default_factory=list)
    passes: list[list[float]] = field(default_factory=list)
    live: list[tuple[float, float]] = field(default_factory=list)

    def add(self, t: float, player: int, what: str, value: float = 1.0) -> None:
        """Count something that this player (or nobody) did at `t`."""
        self.counts.append((t, player, COUNTS.index(what), value))

    def pass_table(self) -> np.ndarray:
        """[pass, column of `PASS`]."""
        return np.array(self.passes, dtype=float).reshape(-1, len(PASS))


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


def ball_events_of(game: Game, log: BoutLog) -> BallEvents:
    """Read a bout's events in order."""
    number = {player: i for i, player in enumerate(log.players)}
    reader = Reader(game, log)
    for t, _, kind, player, _, side, cause, detail, value, *_ in log.events:
        if kind in HANDLERS:
            HANDLERS[kind](reader, Event(t, number.get(player, NOBODY), side, cause, detail, value))
    return reader.finish(log.duration_s)


def speed_at(path: Path, t: float) -> float:
    """m/s."""
    return math.hypot(*path.at(t)[2:])


def space_at(paths: list[Path], who: int, sides: list[str], styles: list[str], t: float) -> float:
    """Metres from a player to the nearest opponent (neither floaters nor players who wait are opponents)."""
    if sides[who] == "holder":
        return math.nan
    x, y, *_ = paths[who].at(t)
    places = [
        paths[i].at(t)[:2] for i in range(len(paths)) if sides[i] not in (sides[who], "holder") and styles[i] != "wait"
    ]
    return min((math.hypot(px - x, py - y) for px, py in places), default=math.nan)


def support_time(game: Game, rows: list[np.ndarray], who: int, sides: list[str], area: str, t: float) -> float:
    """Seconds from a transfer until two mates are in the new area too, at most `SUPPORT_MOST_S`."""
    west, south, east, north = game.area(area).bounds
    times = t + np.arange(0.0, SUPPORT_MOST_S, 0.1)
    there = np.zeros(len(times), dtype=int)
    for i in range(len(rows)):
        if i != who and sides[i] in (sides[who], "holder"):
            x, y, *_ = state_at(rows[i], times)
            there += (x >= west - 1.0) & (x <= east + 1.0) & (y >= south - 1.0) & (y <= north + 1.0)
    enough = np.flatnonzero(there >= SUPPORTS)
    return float(times[enough[0]] - t) if len(enough) else SUPPORT_MOST_S
