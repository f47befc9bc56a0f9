"""The large games played, and every row of the table held against what came out.

Rows are judged in ten a side on 105 x 68 m and eight a side on 70 x 50 m, a keeper each, elite men, both together; fresh legs and
newly drawn players in every bout of four minutes.  In squares the bands of keep-ball judge.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np

from sim.assumptions import Assumptions
from sim.evidence import banded
from sim.evidence.banded import NOTHING, BandedLine, Figure
from sim.evidence.conditions import Condition, game_of
from sim.evidence.measures import interval
from sim.evidence.tables import folder
from sim.evidence.tracking.measures import ROWS, SPREAD, Sums
from sim.evidence.tracking.samples import samples_of
from sim.experiments.executors import Workers
from sim.experiments.replicate import Progress, play_batches
from sim.experiments.sessions import Batch
from sim.game.model import Game
from sim.pitch.log import BoutLog

LEVEL = 0.95


def large(length: float, width: float, players: int) -> Condition:
    """A game to full-size goals with so many and a keeper on either side."""
    goals = (f"goals.{end}-goal.{side}" for end in ("west", "east") for side in ("width=7.32", "height=2.44"))
    return Condition(
        "goals",
        (
            f"areas.pitch.length={length}",
            f"areas.pitch.width={width}",
            f"roles.player.players={{amber={players},slate={players}}}",
            "bouts.count=1",
            "bouts.minutes=4",
            *goals,
        ),
        "elite men",
    )


GAMES = (large(105, 68, 10), large(70, 50, 8))


@dataclass(frozen=True)
class Row:
    """A figure from tracking, `value`, and the ends that its small sample allows; n: of how many."""

    id: str
    quantity: str
    unit: str
    value: str
    low: float
    high: float
    source: str
    n: str
    judged_in: str
    note: str
    role: str


def here() -> Path:
    """Where the table of this package lies."""
    return Path(str(resources.files("sim.evidence.tracking")))


@cache
def rows() -> tuple[Row, ...]:
    """Every row, in the order of the table."""
    with (here() / "tracking.csv").open(encoding="utf-8", newline="") as file:
        return tuple(row_of(row) for row in csv.DictReader(file))


def row_of(cells: dict[str, Any]) -> Row:
    """The row with these cells."""
    return Row(**cells | {name: float(cells[name]) for name in ("low", "high")})


def sums_of_session(game: Game, logs: Iterable[BoutLog], _: Assumptions) -> dict[str, Sums]:
    """What the one bout of a session adds to each row."""
    (log,) = logs
    seen = samples_of(game, log)
    return {row: measure(seen) for row, measure in ROWS.items()}


def statistic(row: str, sums: np.ndarray) -> float:
    """The value of a row from its sums; nan where nothing of the kind happened."""
    if row not in SPREAD:
        return float(sums[0] / sums[1]) if sums[1] else math.nan
    n, x, y, xx, xy, yy = sums
    if n < len(sums):
        return math.nan
    sxx, sxy, syy = xx - x * x / n, xy - x * y / n, yy - y * y / n
    return math.sqrt(max(syy - sxy * sxy / sxx, 0.0) / (n - 2))


def figure(row: str, bouts: Sequence[Sums]) -> Figure:
    """The value over all bouts, its error by leaving out one bout after the other (jackknife)."""
    each = np.array(bouts, dtype=float)
    whole, n = each.sum(axis=0), len(each)
    value = statistic(row, whole)
    if math.isnan(value) or n < 2:
        return NOTHING._replace(value=value)
    left = np.array([statistic(row, whole - one) for one in each])
    error = math.sqrt((n - 1) / n * float(((left - left.mean()) ** 2).sum()))
    return Figure(value, *interval(value, error, n, LEVEL))


def compare(bouts: int, seed: int, workers: Workers = None, progress: Progress | None = None) -> list[BandedLine]:
    """Play so many bouts of each game; every row in order.  Raises `KeyboardInterrupt` where not all could be played."""
    batches = [Batch(game_of(game), range(bouts), sums_of_session) for game in GAMES]
    found = play_batches(batches, seed, workers, progress)
    if any(len(one) < bouts for one in found):
        raise KeyboardInterrupt
    played = [sums for one in found for sums in one.values()]
    return [
        BandedLine(
            row.id, row.role, row.quantity, "" if row.unit == "1" else row.unit, row.low, row.high,
            *figure(row.id, [sums[row.id] for sums in played]), len(played),
            f"open tracking data {row.source} (n {row.n}): {row.value}", row.note,
        )
        for row in rows()
    ]  # fmt: skip


def digest() -> str:
    """A short digest of all that the numbers of the rows hang on."""
    return banded.digest("sim.evidence.tracking.play", [here() / "tracking.csv"], [folder() / "games" / "goals.toml"])
