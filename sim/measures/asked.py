"""What a game asks of a run of passes, and which runs reach it.

Asked is the lowest number of passes for which the game has a rule: what a run is for.  Every run counts as it stands when it
ends, by whatever ends it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable

from sim.game.model import Game
from sim.measures.possession import PassRun

ASKED, REACHING = "runs asked", "runs reaching"


def asked_of(game: Game, side: str) -> float:
    """The lowest number of passes that the game asks of a side, nan for none."""
    return min(
        (
            rule.count
            for phase in game.phases
            for rule in phase.rules
            if rule.on == "passes" and rule.count is not None and rule.by in (None, side)
        ),
        default=math.nan,
    )


def reaching(game: Game, runs: Iterable[PassRun]) -> Counter[tuple[str, str]]:
    """(what, side) -> runs of the sides that are asked for passes, and those of them that reach the number."""
    found: Counter[tuple[str, str]] = Counter()
    for run in runs:
        asked = asked_of(game, run.side)
        if not math.isnan(asked):
            found[ASKED, run.side] += 1
            found[REACHING, run.side] += run.passes >= asked
    return found
