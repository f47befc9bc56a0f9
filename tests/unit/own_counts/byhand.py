"""Forecasts and rows made by hand: nothing is played."""

from __future__ import annotations

import numpy as np

from sim.own_counts.columns import COUNTS
from sim.own_counts.forecast import Forecast
from sim.own_counts.tally import Row

TODAY = "2026-11-29"


def forecast(losses, watch_s=120.0, rolling=0.8, key="k", setup="s", **more) -> Forecast:
    """From losses [session][bout]; the other counts are nought unless given."""
    losses = np.array(losses, dtype=int)
    counts = {name: np.zeros_like(losses) for name in COUNTS} | {"losses": losses}
    counts |= {name: np.array(one, dtype=int) for name, one in more.items()}
    seconds = {"watch": np.full(losses.shape, watch_s), "rolling": np.full(losses.shape, rolling * watch_s)}
    made = {"engine": "e" * 12, "version": "0.0", "seed": 1}
    return Forecast(key, setup, made, watch_s, seconds, counts)


def chance(rate: float, sessions: int, bouts: int = 4, spread: float = 0.0, seed: int = 1) -> np.ndarray:
    """Losses by pure chance, `rate` a bout; `spread`: coefficient of variation of the rate between sessions."""
    dice = np.random.default_rng(seed)
    rates = dice.gamma(1 / spread**2, rate * spread**2, sessions) if spread else np.full(sessions, rate)
    return dice.poisson(rates[:, None], (sessions, bouts))


def row(losses: int = 14, minutes: float = 8.0, **more) -> Row:
    counts = more.pop("counts", {"losses": losses})
    return Row(**{"day": TODAY, "minutes": minutes, "clock": "watch", "counts": counts} | more)
