"""Speeds and places of all players on a grid of time, and what is counted on them, from the paths of one bout.

Measured as a tracking device would: speed ten times a second.  Distance and bands take every reading, with no least
duration.  For changes of speed the speed is smoothed over half a second first; a change counts when the smoothed
speed grows by more than 2 (hard: 3) m/s2 for at least half a second.  A turn is a change of heading of more than 90
degrees within one second, faster than 1.5 m/s before and after; one that lasts counts once.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np

from sim.pitch.log import BoutLog
from sim.trajectory import state_after, states_after

STEP_S = 0.1
SMOOTH = 5  # readings
LEAST = 5  # readings in a row that a change of speed must last
CHANGE_MPS2 = 2.0
HARD_MPS2 = 3.0
TURN_S = 1.0
TURN_MPS = 1.5
RUN_KMH = 18.0
EDGES_KMH = (0.0, 7.0, 14.4, 14.5, 18.0, 19.8, 19.9, 25.2, 99.0)


@dataclass(frozen=True, eq=False)
class Trajectories:
    """[player, reading]: place, velocity and role number; reading k stands for the tenth of a second about `times[k]`."""

    times: np.ndarray
    x: np.ndarray
    y: np.ndarray
    vx: np.ndarray
    vy: np.ndarray
    role: np.ndarray

    @property
    def speed(self) -> np.ndarray:
        """[player, reading], m/s."""
        return np.hypot(self.vx, self.vy)


def state_at(rows: np.ndarray, times: np.ndarray) -> tuple[np.ndarray, ...]:
    """(x, y, vx, vy, role) of one player at these times; `rows` are his segments in order of time."""
    place = np.maximum(np.searchsorted(rows["t0"], times, side="right") - 1, 0)
    row = rows[place]
    s = np.clip(times - row["t0"], 0.0, row["t1"] - row["t0"])
    return *states_after(row, s), row["role"]


def rows_of(log: BoutLog) -> list[np.ndarray]:
    """Each player's segments in order of time."""
    ordered = log.segments[np.lexsort((log.segments["t0"], log.segments["player"]))]
    ends = np.searchsorted(ordered["player"], np.arange(len(log.players) + 1))
    return [ordered[ends[i] : ends[i + 1]] for i in range(len(log.players))]


class Path:
    """One player's segments, asked for single instants."""

    def __init__(self, rows: np.ndarray):
        self.rows, self.starts = rows, rows["t0"].tolist()

    def at(self, t: float) -> tuple[float, float, float, float]:
        """(x, y, vx, vy), as `state_at`."""
        row = self.rows[max(bisect_right(self.starts, t) - 1, 0)]
        t0, t1 = float(row["t0"]), float(row["t1"])
        return state_after(row, min(max(t - t0, 0.0), t1 - t0))


def trajectories_of(log: BoutLog) -> Trajectories:
    """All players of a bout, read at the middle of every tenth of a second."""
    times = (np.arange(int(log.duration_s / STEP_S + 1e-6)) + 0.5) * STEP_S
    columns = [state_at(rows, times) for rows in rows_of(log)]
    return Trajectories(times, *(np.stack(column) for column in zip(*columns, strict=True)))


def stretches(mask: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(first, behind last) of every unbroken stretch of True."""
    edge = np.diff(np.concatenate([[False], mask, [False]]).astype(np.int8))
    return np.flatnonzero(edge == 1), np.flatnonzero(edge == -1)


def changes(speed: np.ndarray, limit_mps2: float) -> np.ndarray:
    """Readings at which a counted change of speed begins."""
    smooth = np.convolve(speed, np.ones(SMOOTH) / SMOOTH, mode="valid")
    start, stop = stretches(np.diff(smooth) / STEP_S > limit_mps2)
    return start[stop - start >= LEAST] + SMOOTH // 2


def turns(vx: np.ndarray, vy: np.ndarray) -> np.ndarray:
    """Readings at which a turn begins."""
    lag = round(TURN_S / STEP_S)
    speed = np.hypot(vx, vy)
    fast = (speed[:-lag] > TURN_MPS) & (speed[lag:] > TURN_MPS)
    back = vx[:-lag] * vx[lag:] + vy[:-lag] * vy[lag:] < 0.0
    return stretches(fast & back)[0]


def longest_run(speed: np.ndarray, kmh: float = RUN_KMH) -> float:
    """Metres of the longest unbroken stretch above this speed."""
    start, stop = stretches(speed > kmh / 3.6)
    gone = np.concatenate([[0.0], np.cumsum(speed) * STEP_S])
    return float((gone[stop] - gone[start]).max(initial=0.0))
