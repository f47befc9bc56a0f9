"""Which measure an answer leads with: what was asked for, else what the change is about.

A change of the supply of balls is about dead time, one of the passes asked for about points; most others are about what the kind of
game is played for.  Of several that a change is about, the one that most clearly changes leads.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Sequence

from sim.experiments.comparison import Row
from sim.experiments.key_measures import LOST, MOST
from sim.experiments.stopping_rule import USUAL, key_measure_of
from sim.game.model import Game

Key = tuple[str, str]

ROLLING = "in_play_share"
ABOUT = (
    (re.compile(r"supply\..+|restarts\.[^.]+\.seconds"), (ROLLING,)),
    (re.compile(r"passes|phases\.[^.]+\.rules\.[^.]+\.(count|each)"), ("points_per_min", "transfers_per_min")),
    (re.compile(r"bouts\.(rotate|stays)"), (MOST,)),
)
"""Keys of changes, as typed or as in a file, and the measures that they are about, as far as a game has them."""


def lead_of(every: Sequence[Sequence[Row]], changes: Sequence[str], game: Game, asked: Key | None = None) -> Key:
    """(measure, scope) that comparisons with one game lead with: `asked`, or what they are about and all of them have.

    `every`: the rows of each; `changes`: the KEY=VALUE that their games have and `game` has not.
    """
    if asked is not None:
        return asked
    there = set.intersection(*({row.measure for row in rows if row.scope == "game"} for rows in every))
    names = about(changes, game, there)
    moved = [
        row
        for rows in every
        for row in rows
        if row.measure in names and row.scope == "game" and row.verdict.startswith("clear")
    ]
    return (max(moved, key=clearness).measure if moved else names[0]), "game"


def about(changes: Sequence[str], game: Game, there: Collection[str]) -> list[str]:
    """The measures, of those that are `there`, that these changes are about."""
    keys = [change.partition("=")[0].strip() for change in changes]
    own = [name for pattern, names in ABOUT if any(pattern.fullmatch(key) for key in keys) for name in names]
    known = [name for name in own if name in there]
    if known:
        return known
    main = key_measure_of(game)
    return [*([main] if main != USUAL and main in there else []), LOST if LOST in there else USUAL]


def clearness(row: Row) -> float:
    """How many times its doubt a difference is."""
    if row.difference is None or row.low is None or row.high is None:
        return 0.0
    half = (row.high - row.low) / 2
    return abs(row.difference) / half if half > 0 else math.inf
