"""What each mechanism of play costs: the same games with it and without it, timed in turns.

A mechanism is without effect where its constants are as below.  Without it the play is another one, so a figure says what a
minute of the play that follows costs, not what one line of code takes: less than 1, and the play without it has more in it.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Mapping

from sim.assumptions import Assumptions
from sim.experiments.sessions import session_bouts, session_counts
from sim.game.model import Game
from tests.bench.table import lined_up, two
from tests.bench.workload import SEED, TIGHT, Size, eights, shipped

SWITCHED: Mapping[str, Mapping[str, float]] = {
    "men overlooked by a late look": {"scan_time": 0.3, "scan_level": 0.0},
    "heavy first touches": {"heavy_touch": 0.0},
    "turning away": {"turn_worth": 0.0},
    "shielding": {"shield": 0.0},
    "reading the kick": {"kick_read": 0.0},
    "sideways steps of a presser": {"shuffle_rate": 0.05, "shuffle_follow": 0.0},
    "pressing as a pair": {"pair_tuck": 0.0, "show_bow": 0.0},
    "a sideways move of the far side": {"far_shift": 0.0},
    "looking ahead to a line": {"line_ahead": 0.0},
    "tackles of whoever passes by": {"passing_tackles": 0.0},
    "delaying without cover": {"delay_wider": 1.0, "covered_tackles": 1.0, "uncovered_tackles": 1.0},
}
"""Constants by mechanism with which it does nothing, or next to nothing."""


def cost(game: Game, size: Size, constants: Mapping[str, float]) -> float:
    """Processor seconds per in-play minute of the workload's sessions."""
    assumptions = Assumptions(engine=tuple(sorted(constants.items())))
    spent, in_play = 0.0, 0.0
    for number in range(size.sessions):
        start = time.process_time()
        logs = list(session_bouts(game, SEED, number, assumptions))
        spent += time.process_time() - start
        in_play += session_counts(game, logs, assumptions).in_play_s
    return 60.0 * spent / in_play


def ratios(game: Game, size: Size) -> dict[str, float]:
    """By mechanism: a minute with it over a minute without, each between two minutes as they are; medians of the repeats."""
    cost(game, size, {})  # whatever is built on first use
    found: dict[str, list[float]] = {name: [] for name in SWITCHED}
    for _ in range(size.repeats):
        before = cost(game, size, {})
        for name, constants in SWITCHED.items():
            without, after = cost(game, size, constants), cost(game, size, {})
            found[name].append((before + after) / 2.0 / without)
            before = after
    return {name: statistics.median(values) for name, values in found.items()}


def table(size: Size) -> str:
    """The mechanisms by games, as a Markdown table."""
    games = {TIGHT: shipped(TIGHT, size), "two-squares": shipped("two-squares", size), "eight a side": eights(size)}
    columns = {name: ratios(game, size) for name, game in games.items()}
    lines = [("Mechanism", *columns), *((name, *(two(of[name]) for of in columns.values())) for name in SWITCHED)]
    return lined_up(lines)
