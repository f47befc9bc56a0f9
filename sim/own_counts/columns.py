"""What is counted by hand on the grass: one row a bout, the same columns on every sheet, at most three of the counts.

These names and their order are a contract: sheets are printed with them, and tallies are read back by them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.game.model import Game

COLUMNS = (
    "date", "bout", "minutes", "clock", "losses", "wins", "outs", "passes", "longest_run", "reached", "goals", "changed",
    "players",
)  # fmt: skip
COUNTS = ("losses", "wins", "outs", "passes", "longest_run", "reached", "goals")
CLOCKS = ("watch", "rolling")
"""On which clock the minutes are: the watch that runs on, or one that is stopped at every dead ball."""
ALSO = {
    "balls_out": "outs", "longest_spell": "longest_run", "threshold_reached": "reached", "who_played": "players",
}  # fmt: skip
"""What a column may be called besides."""
MOST_COUNTS = 3  # one person with a pencil sees no more (common practice, no source)


def counts_of(game: Game) -> tuple[str, ...]:
    """What is worth counting in this game, the most telling three, in the order of the columns."""
    from sim.game.family import may, sides_at_start  # heavy: a logbook opens without

    goals = any(may(phase, "shoot") for phase in game.phases)
    counters = any(rule.on in ("passes", "wins") for phase in game.phases for rule in phase.rules)
    uneven = len(set(sides_at_start(game).values())) > 1
    wanted = {
        "losses": True,
        "goals": goals,
        "reached": counters,
        "wins": uneven,
        "longest_run": not goals,
        "outs": True,
    }  # passes are read back where somebody counts them, and never asked for: too many for a pencil
    first = [name for name, worth in wanted.items() if worth][:MOST_COUNTS]
    return tuple(name for name in COUNTS if name in first)


def columns_of(game: Game) -> tuple[str, ...]:
    """The columns of the sheet of this game: its counts among those that every sheet has."""
    own = counts_of(game)
    return tuple(name for name in COLUMNS if name in own or name not in COUNTS)
