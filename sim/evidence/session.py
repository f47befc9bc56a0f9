"""One session, seen as a field study would: counts by player, role and part of the session, and lists of passes.

`cells[player, role, block]` has the columns `COLUMNS`; the last player is nobody (a ball lost by no one).  A block is
a bout cut by the quarters of the session; `bout_of` and `quarter_of` name them from 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sim.evidence.ball_events import COUNTS, BallEvents, read_bout
from sim.evidence.trajectories import (
    CHANGE_MPS2,
    EDGES_KMH,
    HARD_MPS2,
    STEP_S,
    Trajectories,
    changes,
    longest_run,
    trajectories_of,
    turns,
)
from sim.game.model import Game
from sim.measures.event_reducer import ReducedEvents
from sim.measures.session_counts import SessionCounts, counts_of_reduced
from sim.measures.session_counts import session_of as session_counts
from sim.pitch.log import BoutLog

ZONES = tuple(f"{low:g}-{high:g}" for low, high in zip(EDGES_KMH[:-1], EDGES_KMH[1:], strict=True))
RUNNING = ("seconds", *(f"metres {zone}" for zone in ZONES), "accelerations", "hard_accelerations", "turns")
COLUMNS = RUNNING + COUNTS
COLUMN = {name: i for i, name in enumerate(COLUMNS)}


@dataclass(frozen=True, eq=False)
class Session:
    """`in_play_s[block]`; `peak_mps` and `longest_m` a player, over all bouts; `runs`: (passes, cut) of every possession."""

    game: Game
    players: tuple[str, ...]
    teams: tuple[str, ...]
    roles: tuple[str, ...]
    cells: np.ndarray
    bout_of: np.ndarray
    quarter_of: np.ndarray
    in_play_s: np.ndarray
    block_s: np.ndarray
    peak_mps: np.ndarray
    longest_m: np.ndarray
    passes: np.ndarray
    runs: tuple[tuple[int, bool], ...]
    logs: tuple[BoutLog, ...]
    reduced: tuple[ReducedEvents, ...]

    @cached_property
    def counts(self) -> SessionCounts:
        """The session as every other answer counts it."""
        bouts: list[SessionCounts] = []
        for log, seen in zip(self.logs, self.reduced, strict=True):
            bouts.append(counts_of_reduced(self.game, seen, log, before=bouts[-1] if bouts else None))
        return session_counts(bouts)


def blocks_of(game: Game) -> Iterator[tuple[int, int, float, float]]:
    """(bout from 0, quarter from 0, from, to) in seconds of the bout, in order."""
    long, count = game.bouts.seconds, game.bouts.count
    cuts = sorted({n * long for n in range(count + 1)} | {q * long * count / 4 for q in range(5)})
    for start, stop in zip(cuts[:-1], cuts[1:], strict=True):
        middle = (start + stop) / 2
        bout = int(middle // long)
        yield bout, int(middle // (long * count / 4)), start - bout * long, stop - bout * long


def session_of(game: Game, logs: list[BoutLog]) -> Session:
    """What a field study would have of these bouts of one session."""
    first, reduced = logs[0], []
    blocks = list(blocks_of(game))
    cells = np.zeros((len(first.players) + 1, len(first.roles), len(blocks), len(COLUMNS)))
    in_play = np.zeros(len(blocks))
    lasted = np.zeros(len(blocks))
    peak, longest = np.zeros(len(first.players)), np.zeros(len(first.players))
    passes = []
    for number, log in enumerate(logs):
        mine = [(i, start, stop) for i, (bout, _, start, stop) in enumerate(blocks) if bout == number]
        edges = np.array([start for _, start, _ in mine])
        trajectories, (seen, ball_events) = trajectories_of(log), read_bout(game, log)
        reduced.append(seen)
        add_running(cells, trajectories, mine[0][0], edges)
        add_ball_events(cells, ball_events, trajectories, mine[0][0], edges)
        for i, start, stop in mine:
            lasted[i] = min(stop, log.duration_s) - min(start, log.duration_s)
            in_play[i] = sum(max(0.0, min(b, stop) - max(a, start)) for a, b in ball_events.live)
        speed = trajectories.speed
        peak = np.maximum(peak, speed.max(axis=1))
        longest = np.maximum(longest, [longest_run(one) for one in speed])
        passes.append(ball_events.pass_table())
    return Session(
        game,
        first.players,
        first.teams,
        first.roles,
        cells,
        np.array([bout + 1 for bout, *_ in blocks]),
        np.array([quarter + 1 for _, quarter, *_ in blocks]),
        in_play,
        lasted,
        peak,
        longest,
        np.concatenate(passes),
        tuple((run.passes, run.cut) for seen in reduced for run in seen.possessions.runs),
        tuple(logs),
        tuple(reduced),
    )


def add_running(cells: np.ndarray, trajectories: Trajectories, first: int, edges: np.ndarray) -> None:
    """Running of one bout; its blocks are `first`, `first + 1`, ... and begin at `edges`."""
    block = first + np.searchsorted(edges, trajectories.times, side="right") - 1
    speed = trajectories.speed
    zone = np.searchsorted(np.array(EDGES_KMH[1:-1]) / 3.6, speed, side="right")
    roles, blocks = cells.shape[1:3]
    for i in range(len(speed)):
        place = trajectories.role[i] * blocks + block
        seconds = np.bincount(place, minlength=roles * blocks).reshape(roles, blocks)
        cells[i, :, :, COLUMN["seconds"]] += seconds * STEP_S
        width = len(ZONES)
        metres = np.bincount(place * width + zone[i], speed[i] * STEP_S, minlength=roles * blocks * width)
        cells[i, :, :, 1 : 1 + width] += metres.reshape(roles, blocks, width)
        for name, where in (
            ("accelerations", changes(speed[i], CHANGE_MPS2)),
            ("hard_accelerations", changes(speed[i], HARD_MPS2)),
            ("turns", turns(trajectories.vx[i], trajectories.vy[i])),
        ):
            np.add.at(cells[i, :, :, COLUMN[name]], (trajectories.role[i][where], block[where]), 1.0)


def add_ball_events(
    cells: np.ndarray, ball_events: BallEvents, trajectories: Trajectories, first: int, edges: np.ndarray
) -> None:
    """Counts go to the role the player has just then."""
    if not ball_events.counts:
        return
    t, player, what, value = np.array(ball_events.counts).T
    player, what = player.astype(int), what.astype(int)
    reading = np.minimum((t / STEP_S).astype(int), len(trajectories.times) - 1)
    role = np.where(player >= 0, trajectories.role[player, reading], 0)
    block = first + np.searchsorted(edges, t, side="right") - 1
    np.add.at(cells, (player, role, block, len(RUNNING) + what), value)
