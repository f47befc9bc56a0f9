"""One bout as a tracking system would have it: places and velocities 25 times a second, read off the exact paths.

Changes of speed are looked for in the speed smoothed over half a second, as `sim.evidence.trajectories` does at ten a second.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sim.evidence.trajectories import Path, rows_of, state_at, stretches
from sim.game.model import Game
from sim.measures.event_reducer import LoggedEvent
from sim.pitch.log import BoutLog, EventKind
from sim.trajectory import states_after

STEP_S = 0.04
SMOOTH = 13  # samples: half a second
LEAST = 13  # samples that a change of speed must last
CHANGE_MPS2 = 2.0


@dataclass(frozen=True, eq=False)
class Samples:
    """`x`, `y`, `vx`, `vy` are [player, sample]; `sides[player]`, `outfield[player]` (not a keeper).

    `owner[sample]` is the side that has the ball, "" while it is dead.  Sides and roles must not change in the bout.
    """

    log: BoutLog
    events: tuple[LoggedEvent, ...]
    times: np.ndarray
    x: np.ndarray
    y: np.ndarray
    vx: np.ndarray
    vy: np.ndarray
    sides: np.ndarray
    outfield: np.ndarray
    owner: np.ndarray
    number: dict[str, int]
    paths: tuple[Path, ...]

    @property
    def speed(self) -> np.ndarray:
        """[player, sample], m/s."""
        return np.hypot(self.vx, self.vy)

    def opponents(self, side: str) -> np.ndarray:
        """Numbers of the outfield players against this side."""
        return np.flatnonzero((self.sides != side) & self.outfield)

    def nearest(self, who: np.ndarray, x: float, y: float, t: float) -> tuple[int, float]:
        """(player, metres) of the nearest of these to a place at a time."""
        gaps = [math.hypot(px - x, py - y) for px, py, *_ in (self.paths[i].at(t) for i in who)]
        best = int(np.argmin(gaps))
        return int(who[best]), gaps[best]


def samples_of(game: Game, log: BoutLog) -> Samples:
    """Read a bout of a game in which nobody changes side or role."""
    times = np.arange(int(log.duration_s / STEP_S + 1e-6)) * STEP_S
    rows = rows_of(log)
    x, y, vx, vy = (np.stack(one) for one in list(zip(*(state_at(one, times) for one in rows), strict=True))[:4])
    events = tuple(LoggedEvent._make(row) for row in log.events)
    jobs = {event.player: event for event in events if event.kind == EventKind.JOB}
    return Samples(
        log, events, times, x, y, vx, vy,
        np.array([jobs[player].side for player in log.players]),
        np.array([jobs[player].detail != "goal" for player in log.players]),
        owners(events, times),
        {player: i for i, player in enumerate(log.players)},
        tuple(Path(one) for one in rows),
    )  # fmt: skip


def owners(events: tuple[LoggedEvent, ...], times: np.ndarray) -> np.ndarray:
    """The side that has the ball at each of these times, "" while it is dead."""
    found = np.full(len(times), "", dtype=object)
    live, side, since = False, "", 0.0
    for event in events:
        if event.kind == EventKind.LOSS:  # its side is the one that loses the ball
            continue
        now = {EventKind.LIVE: True, EventKind.DEAD: False}.get(EventKind(event.kind), live)
        if (now, event.side) != (live, side):
            if live:
                found[np.searchsorted(times, since) : np.searchsorted(times, event.t)] = side
            live, side, since = now, event.side, event.t
    if live:
        found[np.searchsorted(times, since) :] = side
    return found


def changes(speed: np.ndarray, sign: float) -> np.ndarray:
    """Samples at which a counted rise (`sign` 1) or fall (-1) of speed begins."""
    smooth = np.convolve(speed, np.ones(SMOOTH) / SMOOTH, mode="valid")
    start, stop = stretches(sign * np.diff(smooth) / STEP_S > CHANGE_MPS2)
    return start[stop - start >= LEAST] + SMOOTH // 2


def rolling(log: BoutLog) -> list[tuple[np.ndarray, np.ndarray]]:
    """(times, speeds) of the ball in play on every piece of its way on which nobody has it, 25 a second, both ends taken in."""
    found = []
    for row in log.ball:
        t0, t1 = float(row["t0"]), float(row["t1"])
        if row["holder"] < 0 and row["in_play"] and t1 - t0 > STEP_S / 4:
            s = np.append(np.arange(0.0, t1 - t0, STEP_S), t1 - t0)
            _, _, vx, vy = states_after(row, s)
            found.append((t0 + s, np.hypot(vx, vy)))
    return found


def spells(log: BoutLog) -> list[tuple[int, float, float]]:
    """(player, from, to) of every time somebody has the ball."""
    return [(int(row["holder"]), float(row["t0"]), float(row["t1"])) for row in log.ball if row["holder"] >= 0]
