"""Bouts that are watched while they are played: what the log does not say, seen at the moment it happens."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from sim.game.loader import load_game
from sim.pitch.contact import contact
from sim.pitch.engine import HANDLERS, begin, race
from sim.pitch.state import Bout
from sim.players import draw_roster
from tests.support.scene import FAR, WAIT, Scene, scene


def watched(name: str, seed: int, see: Callable[[Bout, int, float], None]) -> Bout:
    """A shipped game played to the whistle under the eyes of `see(bout, player, gap)`, who is told of every contact with a moving
    ball: who, and how far from his body it is."""
    game = load_game(name)
    bout = Bout(game, draw_roster(game, seed, 0), seed, 0, 0, race)

    def seen(bout: Bout, t: float, i: int) -> None:
        here = Scene(bout)
        see(bout, i, math.dist(here.where(i, t)[:2], here.ball_at(t)[:2]))
        contact(bout, t, i)

    begin(bout)
    bout.handlers = HANDLERS | {"contact": seen}
    bout.clock.run(bout.over)
    return bout


def on(rows: np.ndarray, times: np.ndarray) -> np.ndarray:
    """(x, y, vx, vy, ax, ay) on each recorded segment at its own time, by the formula of `sim.trajectory`."""
    s, k = times - rows["t0"], rows["rate"]
    fade = np.exp(-k * s)
    rate = np.where(k > 0.0, k, 1.0)
    g1 = np.where(k > 0.0, -np.expm1(-k * s) / rate, s)
    g2 = np.where(k * s > 1e-4, (s - g1) / rate, 0.5 * s * s * (1.0 - k * s / 3.0))
    return np.column_stack(
        [
            rows["x"] + rows["vx"] * s + rows["ax"] * g2,
            rows["y"] + rows["vy"] * s + rows["ay"] * g2,
            rows["vx"] + rows["ax"] * g1,
            rows["vy"] + rows["ay"] * g1,
            rows["ax"] * fade,
            rows["ay"] * fade,
        ]
    )


def states(rows: np.ndarray, times: np.ndarray) -> np.ndarray:
    """The same at any times, from all recorded segments of one player."""
    at = np.clip(np.searchsorted(rows["t0"], times, side="right") - 1, 0, len(rows) - 1)
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
    one = scene(game, press_slack=1000.0)
    one.players["style"][1:5], one.players["may_receive"] = WAIT, 0.0
    one.stand((0.0, 0.0), FAR, FAR, FAR, FAR, (-24.0, 0.0)).held_by(0)
    one.think(5, start=one.players["reaction"][5])
    times = np.linspace(0.0, 8.0, 80_001)
    gone = np.hypot(*(states(one.ran(5, 9.0), times)[:, :2] - (-24.0, 0.0)).T)
    return 8.0 / (times[np.argmax(gone >= 8.0)] - times[np.argmax(gone > 0.0)])
