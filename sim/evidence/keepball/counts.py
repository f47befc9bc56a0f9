"""What one bout of a cell holds, as plain sums and lists.

Sums, added up over bouts ("ROLE": a role's name; watch and minutes are minutes, metres are metres):

    minutes                with the ball rolling
    passes, completed      releases that are not shots, and those that a mate controls
    losses, losses CAUSE   balls given away, in all and by the causes of `sim.evidence.keepball.causes`; shots are none
    passes received        passes by somebody who had the ball from a mate's pass; "straight back": those meant for that mate
    receptions             passes controlled; "receptions near": with an opponent within 3 m
    crossings, unlocks     passes across that arrive; how often the way across was opened, and (unlocks lost) lost unused
    shots, goals, break-aways
    goal-side              outfield opponents nearer to the goal than the ball, over all shots; "shots alone": shots with none
    metres ROLE, fast metres ROLE (above 19.8 km/h), watch ROLE, touches ROLE, passes ROLE

Lists, put together over bouts: "opponent m" (metres to the nearest opponent at a reception) and "switch s" (seconds on the watch
from the unlock to the pass across that arrives).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from sim.assumptions import Assumptions
from sim.evidence.ball_events import space_at
from sim.evidence.keepball.causes import SHOT, Causes
from sim.evidence.trajectories import Path, rows_of
from sim.game.model import Game
from sim.measures.event_reducer import LoggedEvent, reduce_events
from sim.measures.session_counts import COLUMN, counts_of_reduced
from sim.pitch.log import BoutLog, EventKind

NEAR_M = 3.0
FAST = ("high_speed_band_m", "sprint_band_m")
GOAL = "goal"  # the style of a keeper


@dataclass(frozen=True)
class BoutCounts:
    """`sums` by name (missing: 0) and `lists` by name (missing: empty)."""

    sums: dict[str, float]
    lists: dict[str, list[float]]


class Reader:
    """Reads the events of one bout in order."""

    def __init__(self, game: Game, log: BoutLog) -> None:
        self.game, self.log = game, log
        self.sums: defaultdict[str, float] = defaultdict(float)
        self.lists: defaultdict[str, list[float]] = defaultdict(list)
        self.number = {player: i for i, player in enumerate(log.players)}
        self.sides, self.styles = [""] * len(log.players), [""] * len(log.players)
        self.paths = [Path(rows) for rows in rows_of(log)]
        self.causes = Causes()
        self.giver: dict[str, str] = {}  # of whoever has the ball from a mate
        self.opened = math.nan
        self.crossing = math.nan

    def read(self, event: LoggedEvent) -> None:
        """Count one event."""
        own = event.player in self.number and self.sides[self.number[event.player]] in (event.side, "holder")
        self.causes.see(event.kind, event.cause, own, event.detail)
        handle = HANDLERS.get(event.kind)
        if handle is not None:
            handle(self, event)

    def job(self, event: LoggedEvent) -> None:
        """A player has a side and a style."""
        i = self.number[event.player]
        self.sides[i], self.styles[i] = event.side, event.detail

    def receive(self, event: LoggedEvent) -> None:
        """A pass arrives."""
        self.giver = {event.player: event.other}
        who = self.number[event.player]
        space = space_at(self.paths, who, self.sides, self.styles, event.t)
        if not math.isnan(space):
            self.sums["receptions"] += 1
            self.sums["receptions near"] += space <= NEAR_M
            self.lists["opponent m"].append(space)

    def release(self, event: LoggedEvent) -> None:
        """A pass is tried."""
        self.sums["passes"] += 1
        giver = self.giver.pop(event.player, "")
        if giver:
            self.sums["passes received"] += 1
            self.sums["straight back"] += giver == event.other
        self.giver = {}
        self.crossing = event.t if event.detail == "transfer" else math.nan

    def loss(self, event: LoggedEvent) -> None:
        """The ball is given away (by a shot: not so to a coach)."""
        self.giver = {}
        if event.cause == SHOT:
            return
        self.sums["losses"] += 1
        self.sums[f"losses {self.causes.of_loss(event.cause)}"] += 1
        if not math.isnan(self.opened):
            self.sums["unlocks lost"] += 1
            self.opened = math.nan

    def unlock(self, event: LoggedEvent) -> None:
        """The way across is open (or the way to goal, which is not counted here)."""
        if event.cause == "transfer" and math.isnan(self.opened):
            self.sums["unlocks"] += 1
            self.opened = event.t

    def transfer(self, _: LoggedEvent) -> None:
        """A pass across has arrived."""
        if not math.isnan(self.opened) and not math.isnan(self.crossing):
            self.lists["switch s"].append(self.crossing - self.opened)
        self.opened = math.nan

    def shot(self, event: LoggedEvent) -> None:
        """A shot: how many outfield opponents are nearer to the goal than the ball."""
        self.giver = {}
        goals = [one for one in self.game.goals if one.attacked_by in (event.side, "any")]
        if not goals:
            return
        goal = min(goals, key=lambda one: math.hypot(one.x - event.x, one.y - event.y))
        gap = math.hypot(goal.x - event.x, goal.y - event.y)
        there = 0
        for i, path in enumerate(self.paths):
            if self.sides[i] not in (event.side, "holder") and self.styles[i] not in (GOAL, "wait"):
                x, y, *_ = path.at(event.t)
                there += math.hypot(goal.x - x, goal.y - y) < gap
        self.sums["goal-side"] += there
        self.sums["shots alone"] += there == 0


HANDLERS: Mapping[str, Callable[[Reader, LoggedEvent], None]] = {
    EventKind.JOB: Reader.job,
    EventKind.RECEIVE: Reader.receive,
    EventKind.RELEASE: Reader.release,
    EventKind.LOSS: Reader.loss,
    EventKind.UNLOCK: Reader.unlock,
    EventKind.TRANSFER: Reader.transfer,
    EventKind.SHOT: Reader.shot,
}
"""By kind of event; what the others say is counted elsewhere or not at all."""


def counts_of_bout(game: Game, log: BoutLog) -> BoutCounts:
    """What one bout holds."""
    reader = Reader(game, log)
    for row in log.events:
        reader.read(LoggedEvent._make(row))
    sums, seen = reader.sums, reduce_events(game, log)
    counts = counts_of_reduced(game, seen, log)
    sums["minutes"] = counts.in_play_s / 60.0
    sums["completed"] = float(counts.cells[..., COLUMN["completed"]].sum())
    for name, total in (
        ("crossings", "transfers"), ("shots", "shots"), ("goals", "goals"), ("break-aways", "break_aways"),
    ):  # fmt: skip
        sums[name] = counts.totals[total]
    for i, role in enumerate(counts.roles):
        cell = counts.cells[:, i].sum(axis=0)
        sums[f"watch {role}"] = float(cell[COLUMN["time_s"]]) / 60.0
        sums[f"metres {role}"] = float(cell[COLUMN["distance_m"]])
        sums[f"fast metres {role}"] = float(sum(cell[COLUMN[name]] for name in FAST))
        sums[f"touches {role}"] = float(cell[COLUMN["touches"]])
        sums[f"passes {role}"] = float(cell[COLUMN["passes"]])
    return BoutCounts(dict(sums), dict(reader.lists))


def counts_of_session(game: Game, logs: Iterable[BoutLog], _: Assumptions) -> BoutCounts:
    """What the one bout of a session of a cell holds."""
    (log,) = logs
    return counts_of_bout(game, log)
