"""What happened with the ball in one bout, as short lists: passes, receptions, and counts with their time and player.

The definitions are those of the publications beside which the rows stand, and they need the moment of everything, which the
counts of an answer (`sim.measures.event_reducer`) have no more; so they are noted while those are made.  Touches, time on the
ball, losses and balls out are the same in both; passes are not: here one is completed when a mate controls it whoever touched it
on the way, counts at the moment and in the role of its release, and a touch of somebody's does not settle it at the end of the
bout.

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
from sim.measures.event_reducer import EventReducer, LoggedEvent, ReducedEvents, reduce_events
from sim.pitch.log import BoutLog, EventKind

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


class Reader:
    """Notes what happens with the ball in one bout as the reducer of all measures reads its log: who has what job, who is on the
    ball and since when is known there."""

    def __init__(self, game: Game, log: BoutLog):
        self.game, self.found = game, BallEvents()
        self.keeping = {role.name for role in game.roles if role.style == "goal"}
        self.rows = rows_of(log)
        self.paths = [Path(one) for one in self.rows]
        self.styles = [""] * len(log.players)
        self.receiver = ""  # who is on the ball after a mate's pass
        self.flying: Flight | None = None
        self.live = math.nan

    def see(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """An event, before it is counted."""
        if event.kind in HANDLERS:
            HANDLERS[event.kind](self, so_far, event)

    def add(self, so_far: EventReducer, event: LoggedEvent, what: str, value: float = 1.0) -> None:
        """Count something that the player of an event did."""
        self.found.add(event.t, so_far.number.get(event.player, NOBODY), what, value)

    def leave(self) -> None:
        """Nobody is on the ball, and no pass is on its way."""
        self.receiver, self.flying = "", None

    def job(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """A player has a style of play."""
        self.styles[so_far.number[event.player]] = event.detail

    def possession(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """A player is on the ball."""
        if event.player != so_far.ball_events.carrier:
            self.receiver = ""

    def touch(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """He touches it."""
        self.possession(so_far, event)
        self.add(so_far, event, "touches")

    def receive(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """He controls a mate's pass, `value` metres from where it was released."""
        self.receiver = event.player
        t, who = event.t, so_far.number[event.player]
        if self.flying is not None:
            left, row, passer = self.flying
            row[2] = 1.0
            row[3] = event.value / (t - left) if t > left else math.nan
            self.found.add(left, passer, "completed")
            self.flying = None
        self.add(so_far, event, "received")
        self.add(so_far, event, "received_mps", speed_at(self.paths[who], t))
        space = space_at(self.paths, who, so_far.exposure.side, self.styles, t)
        if not math.isnan(space):
            self.add(so_far, event, "spaced")
            self.add(so_far, event, "space_m", space)

    def release(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """He passes, `value` metres as he means it."""
        t, who, wait = event.t, so_far.number[event.player], math.nan
        if event.player == so_far.ball_events.carrier:
            held = t - so_far.ball_events.since
            self.add(so_far, event, "timed")
            self.add(so_far, event, "on_ball_s", held)
            wait = held if event.player == self.receiver else math.nan
        keeper = float(so_far.log.roles[so_far.exposure.role[who]] in self.keeping)
        row = [event.value, float(event.cause == "pressed"), 0.0, math.nan, wait, keeper]
        self.found.passes.append(row)
        self.add(so_far, event, "passes")
        self.flying = Flight(t, row, who)
        self.receiver = ""

    def transfer(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """The ball has been passed to another area (`detail` "FROM>TO")."""
        area, who = event.detail.split(">")[-1], so_far.number[event.player]
        support = support_time(self.game, self.rows, who, so_far.exposure.side, area, event.t)
        self.add(so_far, event, "supports")
        self.add(so_far, event, "support_s", support)

    def loss(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """A side loses the ball."""
        self.add(so_far, event, "losses")
        self.leave()

    def tackle(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """He tries to tackle."""
        self.add(so_far, event, "tackles")

    def out(self, so_far: EventReducer, event: LoggedEvent) -> None:
        """The ball goes out, last touched by him."""
        self.add(so_far, event, "outs")

    def begin(self, _: EventReducer, event: LoggedEvent) -> None:
        """The ball comes into play."""
        self.live = event.t

    def dead(self, _: EventReducer, event: LoggedEvent) -> None:
        """The ball is out of play."""
        self.close(event.t)
        if event.cause != "end":
            self.leave()

    def shot(self, _: EventReducer, __: LoggedEvent) -> None:
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


HANDLERS: Mapping[str, Callable[[Reader, EventReducer, LoggedEvent], None]] = {
    EventKind.JOB: Reader.job,
    EventKind.TOUCH: Reader.touch,
    EventKind.POSSESSION: Reader.possession,
    EventKind.RECEIVE: Reader.receive,
    EventKind.RELEASE: Reader.release,
    EventKind.TRANSFER: Reader.transfer,
    EventKind.LOSS: Reader.loss,
    EventKind.TACKLE: Reader.tackle,
    EventKind.OUT: Reader.out,
    EventKind.LIVE: Reader.begin,
    EventKind.DEAD: Reader.dead,
    EventKind.SHOT: Reader.shot,
}
"""By kind of event; the others say nothing of what is counted here."""


def read_bout(game: Game, log: BoutLog) -> tuple[ReducedEvents, BallEvents]:
    """What every answer counts of a bout, and what happened with the ball, from one reading of its log."""
    reader = Reader(game, log)
    reduced = reduce_events(game, log, reader.see)
    return reduced, reader.finish(log.duration_s)


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
