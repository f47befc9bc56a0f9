"""Two games compared."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.compare import Variant, compare_all
from sim.experiments.comparison import Comparison
from sim.game.model import Game


def compare(first: Game, second: Game, changes: tuple[Sequence[str], Sequence[str]] = ((), ()), **more) -> Comparison:
    """Two games; `more` as for `compare_all`."""
    return compare_all(first, [Variant(second, tuple(changes[1]))], changes=changes[0], **more).comparisons[0]
