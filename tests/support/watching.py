"""Bouts that are watched while they are played: what the log does not say, seen at the moment it happens."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.contest import ball_point
from sim.pitch.engine import Bout, race
from sim.pitch.moves import record, where
from sim.pitch.offball import think
from sim.pitch.onball import mean_to
from sim.players import draw_roster, typical_roster
from tests.support.scenes import place


class Watched(Bout):
    """A bout that tells `see(bout, player, gap)` of every contact with a moving ball: who, and how far from his body it is."""

    see: Callable[[Bout, int, float], None]

    def contact(self, t: float, plan: int, i: int) -> None:
        if not self.stopped and plan == self.plan:
            bx, by, _ = ball_point(self.B, t)
            x, y, _, _ = where(self.P, self.M, i, t)
            self.see(self, i, math.hypot(bx - x, by - y))
        super().contact(t, plan, i)


def watched(name: str, seed: int, see: Callable[[Bout, int, float], None]) -> Watched:
    """A shipped game played to the whistle under the eyes of `see`."""
    game = load_game(name)
    bout = Watched(game, draw_roster(game, seed, 0), seed, 0, 0, race)
    bout.see = see
    bout.begin()
    bout.clock.run(bout.over)
    return bout


class PassScene(Bout):
    """Player 0 passes 10 m to player 1, who stands; the others wait far away.  Everything from the release to the first contact
    is the engine's own: `release`, `roll`, the race, `contact`.  All passes are meant at the usual pace, or as in a bout
    (`drawn`)."""

    ARRIVES_S = 1.5  # controlled as the ball comes to him, not when he has run after it
    drawn = False
    decided: bool | None

    def contact(self, t: float, plan: int, i: int) -> None:
        if plan == self.plan:
            before = len(self.events)
            super().contact(t, plan, i)
            received = any(event[2] == "receive" and event[3] == self.ids[1] for event in self.events[before:])
            self.decided = received and t - self.began < self.ARRIVES_S
            self.plan += 1  # what would follow is no part of the scene
            self.tackling += 1

    def over_the_line(self, t: float, plan: int) -> None:
        if plan == self.plan:
            self.decided = False

    def one(self) -> bool:
        """One pass: does the receiver control it?"""
        self.now = self.began = t = self.clock.env.now
        self.events.clear()
        self.B[col.MODE], self.B[col.HOLDER] = col.HELD, 0.0
        self.live, self.first_time, self.decided = True, False, None
        place(self, [(0.0, 0.0), (10.0, 0.0)] + [(60.0, 60.0)] * 4, t)
        self.P[:, col.RESERVE] = self.P[:, col.RESERVE_FULL]  # nobody is tired
        self.P[:, [col.VMAX, col.SIGMA, col.REACT]] = self.P[:, [col.FRESH_VMAX, col.FRESH_SIGMA, col.FRESH_REACT]]
        self.B[col.PACE] = 1.0
        if self.drawn:
            mean_to(self.B, self.C, self.K, self.N, 0)
        self.release(t, 0, 1, 10.0, 0.0)
        while self.decided is None:
            self.clock.env.step()
        return self.decided


def pass_scene(population: str, pass_success: float, seed: int = 1) -> PassScene:
    """The scene for players of a population who are alike, with this `pass_success`."""
    game = load_game(
        "tight-square",
        [
            "areas.square.length=150",
            "areas.square.width=150",
            "roles.outside.style=free",
            f"teams.squad.pass_success={pass_success}",
        ],
        population,
    )
    scene = PassScene(game, typical_roster(game), seed, 0, 0, race)
    scene.ids = [player.id for player in game.players]
    scene.assign_start()
    scene.P[2:, col.STYLE], scene.P[2:, col.OPEN] = col.WAIT, 0.0
    return scene


def ran(bout: Bout, i: int, until: float) -> np.ndarray:
    """What player i has run up to a time, from the engine's record: rows in the order of `sim.pitch.log.SEGMENT_FIELDS`."""
    record(bout.P, bout.M, bout.C, bout.G, bout.count, i, until)
    rows = bout.G[: bout.count[0]]
    return rows[rows[:, 0] == i].copy()


def on(rows: np.ndarray, times: np.ndarray) -> np.ndarray:
    """(x, y, vx, vy, ax, ay) on each recorded segment at its own time, by the formula of `sim.pitch.log`."""
    s, k = times - rows[:, 1], rows[:, 9]
    fade = np.exp(-k * s)
    rate = np.where(k > 0.0, k, 1.0)
    g1 = np.where(k > 0.0, -np.expm1(-k * s) / rate, s)
    g2 = np.where(k * s > 1e-4, (s - g1) / rate, 0.5 * s * s * (1.0 - k * s / 3.0))
    return np.column_stack(
        [
            rows[:, 3] + rows[:, 5] * s + rows[:, 7] * g2,
            rows[:, 4] + rows[:, 6] * s + rows[:, 8] * g2,
            rows[:, 5] + rows[:, 7] * g1,
            rows[:, 6] + rows[:, 8] * g1,
            rows[:, 7] * fade,
            rows[:, 8] * fade,
        ]
    )


def states(rows: np.ndarray, times: np.ndarray) -> np.ndarray:
    """The same at any times, from all recorded segments of one player."""
    at = np.clip(np.searchsorted(rows[:, 1], times, side="right") - 1, 0, len(rows) - 1)
    return on(rows[at], times)


def closing_speed(population: str, pressing_speed: float) -> float:
    """Mean m/s over the first 8 m that a presser runs at a carrier who stands 24 m away, from his first movement on.

    He decides as in any bout (`think`), with one constant moved: he thinks it worth a sprint however late he would come.
    """
    game = load_game(
        "tight-square",
        ["areas.square.length=150", "areas.square.width=150", f"teams.squad.pressing_speed={pressing_speed}"],
        population,
    )
    bout = Bout(game, typical_roster(game), 1, 0, 0, race, {"press_slack": 1000.0})
    bout.assign_start()
    place(bout, [(0.0, 0.0)] + [(60.0, 60.0)] * 4 + [(-24.0, 0.0)])
    P, B = bout.P, bout.B
    P[1:5, col.STYLE], P[:, col.OPEN] = col.WAIT, 0.0
    B[[col.MODE, col.HOLDER, col.RECEIVED]] = col.HELD, 0.0, 0.0
    start = P[5, col.REACT]
    think(P, bout.M, B, bout.C, bout.K, bout.N, bout.G, bout.count, 5, 0.0, start)
    times = np.linspace(0.0, 8.0, 80_001)
    gone = np.hypot(*(states(ran(bout, 5, 9.0), times)[:, :2] - (-24.0, 0.0)).T)
    return 8.0 / (times[np.argmax(gone >= 8.0)] - times[np.argmax(gone > 0.0)])
