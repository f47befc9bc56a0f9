"""The bands and the cells as data: what the trade expects, and the games in which it is looked for.

A *cell* is a game with its settings and people, one bout long: fresh legs and newly drawn players in every bout.  A *band* says
between which two figures a quantity of a cell should lie, or its ratio to that of another cell (`over`).  A quantity is
`top` over `bottom`, times `scale`, of what `sim.evidence.keepball.counts` counts in a bout, summed over bouts.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from sim.evidence.tables import folder
from sim.game.model import Game

NUMBERS = ("low", "high", "scale")


@dataclass(frozen=True)
class Cell:
    """`game`: a shipped one by name, or a file in the folder of the evidence.  `population`: "" leaves the file's own."""

    name: str
    game: str
    changes: tuple[str, ...]
    population: str


@dataclass(frozen=True)
class Band:
    """A figure of the trade: what is counted in which game, and between which ends it should lie.

    `role`: "fitted" (constants may be moved to meet it) or "predicted".
    """

    id: str
    game: str
    population: str
    touches: str
    measure: str
    unit: str
    low: float
    high: float
    note: str
    source: str
    role: str
    cell: str
    over: str
    top: str
    bottom: str
    scale: float


def here() -> Path:
    """Where the tables of this package lie."""
    return Path(str(resources.files("sim.evidence.keepball")))


def rows_of(name: str) -> list[dict[str, Any]]:
    """The rows of one of the tables, by column."""
    with (here() / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@cache
def cells() -> dict[str, Cell]:
    """Every cell by its name, in the order of the table."""
    return {
        row["name"]: Cell(row["name"], row["game"], tuple(filter(None, row["changes"].split(";"))), row["population"])
        for row in rows_of("cells.csv")
    }


@cache
def bands() -> tuple[Band, ...]:
    """Every band, in the order of the table."""
    return tuple(Band(**row | {name: float(row[name]) for name in NUMBERS}) for row in rows_of("bands.csv"))


def game_file(cell: Cell) -> Path:
    """The file of the cell's game."""
    from sim.game.shipped import shipped_games

    return folder() / cell.game if cell.game.endswith(".toml") else shipped_games()[cell.game]


@cache
def game_of(cell: Cell) -> Game:
    """The game of a cell; raises `InputError` where its settings do not go together."""
    from sim.game.loader import load_game

    return load_game(game_file(cell), cell.changes, cell.population or None)
