"""What is told bout by bout: bouts without a point, bouts without a long enough run, and how long between two balls across.

Sums over a session would hide it, so each bout leaves tallies behind, (what, side, whole number) -> times, which add up:

LONGEST   the most passes in one run of the side in a bout, once a bout
SCORED    a bout in which the side has more points than none, as the number 1
ACROSS    whole seconds on the watch from one ball across to the next of the same bout; CUT: from the last one to its whistle

A wait that the whistle cuts short was at least so long: shares of waits are the product-limit estimate (Kaplan & Meier 1958).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

import numpy as np

from sim.game.model import Game
from sim.game.verbs import Score
from sim.measures.asked import asked_of
from sim.measures.possession import PassRun
from sim.pitch.log import BoutLog, EventKind

LONGEST, SCORED, ACROSS, CUT = "longest run", "scored", "across", "across, cut"
Tally = tuple[str, str, int]
WAITS = {"p20": 0.2, "median": 0.5, "p80": 0.8}
"""Shares of waits that are over by then, by the name in the measure."""


def tallies_of(log: BoutLog, runs: Iterable[PassRun], by_side: Mapping[tuple[str, str], float]) -> Counter[Tally]:
    """The tallies of one bout."""
    longest: dict[str, int] = {}
    for run in runs:
        longest[run.side] = max(longest.get(run.side, 0), run.passes)
    found = Counter((LONGEST, side, passes) for side, passes in longest.items())
    found.update((SCORED, side, 1) for (what, side), points in by_side.items() if what == "points" and points > 0)
    at = [event[0] for event in log.events if event[2] == EventKind.TRANSFER]
    found.update((ACROSS, "", round(later - earlier)) for earlier, later in pairwise(at))
    if at:
        found[CUT, "", round(log.duration_s - at[-1])] += 1
    return found


def point_for_passes(game: Game, side: str) -> int | None:
    """The passes in one run for which a side gets points, where nothing else gives it any; None for any other game."""
    giving = [rule for phase in game.phases for rule in phase.rules if any(isinstance(one, Score) for one in rule.do)]
    asked = asked_of(game, side)
    if not giving or asked != asked or any(rule.on != "passes" or rule.count is None for rule in giving):
        return None
    own = {rule.count for rule in giving if rule.by in (None, side)}
    return int(asked) if own == {asked} else None


def reaching(tallies: Sequence[Counter[Tally]], side: str, passes: int) -> np.ndarray:
    """Bouts of each session in which a run of the side has at least so many passes."""
    return np.array(
        [
            float(sum(n for (what, who, most), n in one.items() if (what, who) == (LONGEST, side) and most >= passes))
            for one in tallies
        ]
    )


def waits(tallies: Sequence[Counter[Tally]]) -> tuple[Counter[int], Counter[int]]:
    """(waits that ended with a ball across, waits cut short by the whistle) of all sessions given, by whole seconds."""
    both: tuple[Counter[int], Counter[int]] = Counter(), Counter()
    for one in tallies:
        for (what, _, seconds), n in one.items():
            if what in (ACROSS, CUT):
                both[what == CUT][seconds] += n
    return both


def over_by(ended: Mapping[int, int], cut: Mapping[int, int], shares: Sequence[float]) -> list[float | None]:
    """Seconds by which each of these shares of waits is over, shares in rising order; None where nobody watched so long."""
    left, lasting = sum(ended.values()) + sum(cut.values()), 1.0
    found: list[float | None] = []
    for seconds in sorted({*ended, *cut}):
        if left:
            lasting *= 1 - ended.get(seconds, 0) / left
        left -= ended.get(seconds, 0) + cut.get(seconds, 0)
        while len(found) < len(shares) and 1 - lasting >= shares[len(found)] - 1e-9:
            found.append(float(seconds))
    return [*found, *[None] * (len(shares) - len(found))]


def waits_by_session(tallies: Sequence[Counter[Tally]]) -> Iterator[tuple[str, float | None, np.ndarray]]:
    """(name, over all sessions, each session's own where it has one) of every share in `WAITS`."""
    shares = list(WAITS.values())
    whole = over_by(*waits(tallies), shares)
    each = [over_by(*waits([one]), shares) for one in tallies]
    for i, name in enumerate(WAITS):
        yield name, whole[i], np.array([own[i] for own in each if own[i] is not None], dtype=float)
