"""Clubs, designs and tallies made by a known law of counts: nothing is played."""

from __future__ import annotations

from functools import cache

import numpy as np

from sim import load_game
from sim.assumptions import NONE
from sim.experiments.replicate import Replication
from sim.game.model import Game
from sim.learning.design import Design, Plan, planned
from sim.learning.emulator import held_out
from sim.learning.learn import Answer, learned
from sim.learning.tallies import Tally
from sim.learning.values import PASSING, RESTARTS
from sim.own_counts.columns import COUNTS
from sim.own_counts.forecast import Forecast, key_of, setup_of
from sim.own_counts.tally import Row
from sim.provenance import engine

LAW = {
    "losses": (2.5, {PASSING: -0.10, RESTARTS: -0.20}),
    "outs": (0.8, {PASSING: -0.30}),
}
"""Counts a minute of a usual club, and by how much a score moves the logarithm of it."""
BOUT_S = 120.0


@cache
def square() -> Game:
    """The game of these tests."""
    return load_game("tight-square")


@cache
def plan(points: int = 128) -> Plan:
    """Its design, not played."""
    return planned(square(), Replication(1, 1), points)


def counts(scores: dict[str, float], bouts: int, dice: np.random.Generator, law=LAW, players: float = 0.05) -> dict:
    """Clocks and counts of one session of a club with these scores."""
    night = dice.gamma(1 / players**2, players**2)
    found = {name: [0.0] * bouts for name in COUNTS} | {"watch": [BOUT_S] * bouts, "rolling": [BOUT_S * 0.8] * bouts}
    for name, (usual, slopes) in law.items():
        mean = usual * BOUT_S / 60 * np.exp(sum(slope * scores.get(value, 0.0) for value, slope in slopes.items()))
        found[name] = [float(one) for one in dice.poisson(night * mean, bouts)]
    return found


def design(law=LAW, seed: int = 1, wild: float = 0.0) -> Design:
    """What the clubs of the plan would have played; `wild`: noise of the clubs that no value explains."""
    dice = np.random.default_rng(seed)
    names = [one.name for one in plan().learned]
    clubs, held = {}, held_out(len(plan().scores))
    for number, row in enumerate(plan().scores):
        bent = {name: (usual * np.exp(wild * held[number]), slopes) for name, (usual, slopes) in law.items()}
        clubs[number] = counts(dict(zip(names, row, strict=True)), 4, dice, bent)
    return Design(engine(), len(plan().scores), clubs)


def nights(
    scores: dict[str, float], count: int = 6, seed: int = 2, law=LAW, measures=("losses", "outs")
) -> list[Tally]:
    """Sessions of a club as they would have been counted."""
    dice, found = np.random.default_rng(seed), []
    for night in range(count):
        played = counts(scores, 4, dice, law)
        day = f"2026-10-{night + 1:02d}"
        rows = tuple(Row(day, 2.0, "watch", {m: int(played[m][bout]) for m in measures}, bout + 1) for bout in range(4))
        found.append(Tally(day, setup_of(square()), rows))
    return found


def taught(tallies: list[Tally], law=LAW, played: Design | None = None) -> Answer:
    """What these sessions teach."""
    setup = setup_of(square())
    return learned(tallies, 0, {setup: plan()}, {plan().key: played or design(law)}, NONE, NONE, 1)


def forecast() -> Forecast:
    """A forecast of the game, of sessions that were never played."""
    key, made = key_of(square(), 8, Replication(1, 1))
    dice = np.random.default_rng(5)
    every = [counts({}, 4, dice) for _ in range(2)]
    seconds = {clock: np.array([one[clock] for one in every]) for clock in ("watch", "rolling")}
    return Forecast(
        key,
        setup_of(square()),
        made,
        BOUT_S,
        seconds,
        {n: np.array([one[n] for one in every], dtype=int) for n in COUNTS},
    )
