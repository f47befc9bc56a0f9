"""The panel: every square of four sizes, with four numbers, three limits of touches and three levels, by losses and spells.

What a coach may read in a minute: is it easier in a larger square, with a touch more, for better players, with one more outside?
Bouts of two minutes, fresh legs and newly drawn players in each.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from sim.assumptions import Assumptions
from sim.evidence import banded
from sim.evidence.keepball.causes import SHOT
from sim.evidence.keepball.cells import Cell, game_file, game_of
from sim.evidence.keepball.counts import BoutCounts
from sim.evidence.keepball.play import quantity
from sim.evidence.tables import folder
from sim.experiments.executors import Workers
from sim.experiments.replicate import Progress, play_batches
from sim.experiments.sessions import Batch
from sim.game.model import Game
from sim.measures.event_reducer import LoggedEvent
from sim.pitch.log import BoutLog, EventKind

NUMBERS = ((4, 1), (4, 2), (5, 2), (4, 3))
SIZES = (8, 11, 14, 18)
TOUCHES = ("1", "2", "free")
LEVELS = ("elite men", "amateur men", "U12")
COLUMNS = ("numbers", "side_m", "touches", "population", "bouts", "lost_of_100", "low", "high", "spell")


@dataclass(frozen=True)
class Square:
    """A square of the panel: so many outside against so many inside."""

    outside: int
    inside: int
    side_m: int
    touches: str
    population: str

    @property
    def numbers(self) -> str:
        """As it is said: 4v2."""
        return f"{self.outside}v{self.inside}"

    @property
    def cell(self) -> Cell:
        """The shipped square with these settings."""
        return Cell(
            f"{self.numbers}, {self.side_m} m, {self.touches}, {self.population}",
            "tight-square",
            (
                "bouts.count=1",
                "bouts.minutes=2",
                f"areas.square.length={self.side_m}",
                f"areas.square.width={self.side_m}",
                f"roles.outside.touches={self.touches}",
                f"roles.outside.players={self.outside}",
                f"roles.inside.players={self.inside}",
            ),
            self.population,
        )


@dataclass(frozen=True)
class PanelRow:
    """What came out: losses of 100 passes tried with the 95 % interval, and completed passes in a spell."""

    numbers: str
    side_m: int
    touches: str
    population: str
    bouts: int
    lost_of_100: float
    low: float
    high: float
    spell: float


def squares() -> list[Square]:
    """All squares of the panel."""
    return [
        Square(*numbers, side, touches, level)
        for numbers, side, touches, level in product(NUMBERS, SIZES, TOUCHES, LEVELS)
    ]


def passes_and_losses(_: Game, logs: Iterable[BoutLog], __: Assumptions) -> BoutCounts:
    """ "passes" tried, "completed" and "losses" of a session of one bout, and nothing else."""
    (log,) = logs
    sums: Counter[str] = Counter()
    for row in log.events:
        event = LoggedEvent._make(row)
        if event.kind == EventKind.RELEASE:
            sums["passes"] += 1
        elif event.kind == EventKind.RECEIVE:
            sums["completed"] += 1
        elif event.kind == EventKind.LOSS and event.cause != SHOT:
            sums["losses"] += 1
    return BoutCounts({name: float(count) for name, count in sums.items()}, {})


def play_panel(bouts: int, seed: int, workers: Workers = None, progress: Progress | None = None) -> list[PanelRow]:
    """So many bouts of every square; raises `KeyboardInterrupt` where not all could be played."""
    every = squares()
    batches = [Batch(game_of(square.cell), range(bouts), passes_and_losses) for square in every]
    found = play_batches(batches, seed, workers, progress)
    if any(len(one) < bouts for one in found):
        raise KeyboardInterrupt
    return [row_of(square, list(one.values())) for square, one in zip(every, found, strict=True)]


def row_of(square: Square, bouts: list[BoutCounts]) -> PanelRow:
    """The row of a square."""
    lost = quantity(bouts, "losses", "passes", 100.0)
    spell = quantity(bouts, "completed", "losses").value
    return PanelRow(square.numbers, square.side_m, square.touches, square.population, len(bouts), *lost, spell)


def as_csv(rows: Iterable[PanelRow]) -> str:
    """One row a square; figures to a hundredth."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        cells = [getattr(row, name) for name in COLUMNS]
        writer.writerow([f"{one:.2f}" if isinstance(one, float) else one for one in cells])
    return out.getvalue()


def read_rows(path: Path) -> list[PanelRow]:
    """The rows of such a CSV."""
    with path.open(encoding="utf-8", newline="") as file:
        return [
            PanelRow(
                row["numbers"], int(row["side_m"]), row["touches"], row["population"], int(row["bouts"]),
                *(float(row[name]) for name in ("lost_of_100", "low", "high", "spell")),
            )
            for row in csv.DictReader(file)
        ]  # fmt: skip


def kept_rows() -> list[PanelRow]:
    """The panel that came with the program; none where there is none."""
    file = folder() / "results" / "panel.csv"
    return read_rows(file) if file.exists() else []


def digest() -> str:
    """A short digest of all that the numbers of the panel hang on."""
    return banded.digest("sim.evidence.keepball.panel", [], [game_file(squares()[0].cell)])
