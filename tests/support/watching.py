"""Bouts that are watched while they are played: what the log does not say, seen at the moment it happens."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assignment import assign_start
from sim.pitch.contact import contact
from sim.pitch.contest import ball_point
from sim.pitch.engine import HANDLERS, begin, race
from sim.pitch.moves import record, where
from sim.pitch.offball import think
from sim.pitch.onball import mean_to
from sim.pitch.release import release
from sim.pitch.state import Bout
from sim.players import draw_roster, typical_roster
from tests.support.scenes import place


def watched(name: str, seed: int, see: Callable[[Bout, int, float], None]) -> Bout:
    """A shipped game played to the whistle under the eyes of `see(bout, player, gap)`, who is told of every contact with a moving
    ball: who, and how far from his body it is."""
    game = load_game(name)
    bout = Bout(game, draw_roster(game, seed, 0), seed, 0, 0, race)

    def seen(bout: Bout, t: float, i: int) -> None:
        bx, by, _ = ball_point(bout.B, t)
        x, y, _, _ = where(bout.P, bout.M, i, t)
        see(bout, i, math.hypot(bx - x, by - y))
        contact(bout, t, i)

    begin(bout)
    bout.handlers = HANDLERS | {"contact": seen}
    bout.clock.run(bout.over)
    return bout


class PassScene:
    """Player 0 passes 10 m to player 1, who stands; the others wait far away.  Everything from the release to the first contact
    is the engine's own: `release`, `roll`, the race, `contact`.  All passes are meant at the usual pace, or as in a bout
    (`drawn`)."""

    ARRIVES_S = 1.5  # controlled as the ball comes to him, not when he has run after it

    def __init__(self, bout: Bout):
        self.bout, self.drawn, self.began = bout, False, 0.0
        self.decided: bool | None = None
        bout.handlers = {"contact": self.contact, "line": self.over_the_line}

    def contact(self, bout: Bout, t: float, i: int) -> None:
        before = len(bout.events)
        contact(bout, t, i)
        received = any(event[2] == "receive" and event[3] == bout.ids[1] for event in bout.events[before:])
        self.decided = received and t - self.began < self.ARRIVES_S
        bout.ball.renew()  # what would follow is no part of the scene
        bout.tackle.renew()

    def over_the_line(self, bout: Bout, t: float) -> None:
        self.decided = False

    def one(self) -> bool:
        """One pass: does the receiver control it?"""
        bout = self.bout
        bout.now = self.began = t = bout.clock.env.now
        bout.events.clear()
        bout.B[col.MODE], bout.B[col.HOLDER] = col.HELD, 0.0
        bout.carrier.first_time, self.decided = False, None
        place(bout, [(0.0, 0.0), (10.0, 0.0)] + [(60.0, 60.0)] * 4, t)
        bout.P[:, col.RESERVE] = bout.P[:, col.RESERVE_FULL]  # nobody is tired
        bout.P[:, [col.VMAX, col.SIGMA, col.REACT]] = bout.P[:, [col.FRESH_VMAX, col.FRESH_SIGMA, col.FRESH_REACT]]
        bout.B[col.PACE] = 1.0
        if self.drawn:
            mean_to(bout.B, bout.C, bout.K, bout.N, 0)
        release(bout, t, 0, 1, 10.0, 0.0)
        while self.decided is None:
            bout.clock.env.step()
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
    bout = Bout(game, typical_roster(game), seed, 0, 0, race)
    assign_start(bout)
    bout.P[2:, col.STYLE], bout.P[2:, col.OPEN] = col.WAIT, 0.0
    return PassScene(bout)


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
    assign_start(bout)
    place(bout, [(0.0, 0.0)] + [(60.0, 60.0)] * 4 + [(-24.0, 0.0)])
    P, B = bout.P, bout.B
    P[1:5, col.STYLE], P[:, col.OPEN] = col.WAIT, 0.0
    B[[col.MODE, col.HOLDER, col.RECEIVED]] = col.HELD, 0.0, 0.0
    start = P[5, col.REACT]
    think(P, bout.M, B, bout.C, bout.K, bout.N, bout.G, bout.count, 5, 0.0, start)
    times = np.linspace(0.0, 8.0, 80_001)
    gone = np.hypot(*(states(ran(bout, 5, 9.0), times)[:, :2] - (-24.0, 0.0)).T)
    return 8.0 / (times[np.argmax(gone >= 8.0)] - times[np.argmax(gone > 0.0)])
