"""One bout, or one session, as plain numbers: small, picklable, and added up without a table.

`cells[player, role]` has the columns `CELLS`.  Seconds, metres and counts add up over bouts; so does *part*, the share
of the bout the player spent in the role, which is the weight of every mean "per player over one bout": the mean of
x over a group is sum(x)/sum(part).  Peaks and longest spells do not add up; their sums weighted with part
(`peak_part`, `longest_part`) do, and so do the player's own, over all his roles (`persons`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.deeds import DEEDS
from sim.measures.load import ADULT_MEN, LOADS, Thresholds, running
from sim.measures.scan import Scan, scan
from sim.pitch.log import BoutLog

EXPOSURES = ("time_s", "in_play_s", "defending_s")
MORE = ("spells", "spell_s", "part", "peak_part", "longest_part")
CELLS = EXPOSURES + DEEDS + LOADS + MORE
COLUMN = {name: i for i, name in enumerate(CELLS)}
PERSONS = ("bouts", "peak_kmh", "longest_s", "able")
KMH = 3.6


@dataclass(frozen=True, eq=False)
class Tally:
    """The numbers of `bouts` bouts of the same players.

    `able` in `persons` says in how many bouts the player had a job that can defend.  `runs` counts pass runs by
    (side, passes, cut); the other counters are those of a scan.
    """

    replicate: int
    bouts: int
    duration_s: float
    in_play_s: float
    players: tuple[str, ...]
    teams: tuple[str, ...]
    roles: tuple[str, ...]
    cells: np.ndarray
    persons: np.ndarray
    totals: Counter
    by_side: Counter
    reached: Counter
    runs: Counter
    thresholds: Thresholds


def tally(game: Game, log: BoutLog, thresholds: Thresholds = ADULT_MEN) -> Tally:
    """The numbers of one bout."""
    return count(scan(game, log), log, thresholds)


def count(seen: Scan, log: BoutLog, thresholds: Thresholds = ADULT_MEN) -> Tally:
    """The numbers of one bout that has been scanned."""
    loads, peaks = running(log.segments, len(log.players), len(log.roles), thresholds)
    times = np.array(seen.exposure.times)
    spells = np.zeros((*peaks.shape, 2))
    longest = np.zeros(peaks.shape)
    for spell in seen.exposure.spells:
        spells[spell.player, spell.role] += (1.0, spell.seconds)
        longest[spell.player, spell.role] = max(longest[spell.player, spell.role], spell.seconds)
    part = times[:, :, 0] / log.duration_s
    weighted = np.stack([part, part * peaks * KMH, part * longest], axis=2)
    cells = np.concatenate([times, np.array(seen.deeds.counts), loads, spells, weighted], axis=2)
    able = np.array(seen.exposure.ever_able, dtype=float)
    persons = np.column_stack([np.ones(len(able)), peaks.max(axis=1) * KMH, longest.max(axis=1), able])
    runs = Counter((run.side, run.passes, run.cut) for run in seen.possessions.runs)
    return Tally(
        replicate=log.replicate,
        bouts=1,
        duration_s=log.duration_s,
        in_play_s=seen.exposure.clock,
        players=log.players,
        teams=log.teams,
        roles=log.roles,
        cells=cells,
        persons=persons,
        totals=seen.totals,
        by_side=seen.by_side,
        reached=seen.reached,
        runs=runs,
        thresholds=thresholds,
    )


def added(counters: Iterable[Counter]) -> Counter:
    """The sum of counters, keys with nothing or less kept (points can be taken away)."""
    total = Counter()
    for counter in counters:
        total.update(counter)
    return total


def session_of(bouts: Sequence[Tally]) -> Tally:
    """The numbers of one session from those of its bouts, in their order."""
    first = bouts[0]
    for bout in bouts:
        if (bout.replicate, bout.players, bout.roles, bout.thresholds) != (
            first.replicate,
            first.players,
            first.roles,
            first.thresholds,
        ):
            raise ValueError("bouts of one session must have the same players, roles and thresholds")
    return Tally(
        replicate=first.replicate,
        bouts=sum(bout.bouts for bout in bouts),
        duration_s=sum(bout.duration_s for bout in bouts),
        in_play_s=sum(bout.in_play_s for bout in bouts),
        players=first.players,
        teams=first.teams,
        roles=first.roles,
        cells=sum((bout.cells for bout in bouts[1:]), start=first.cells),
        persons=sum((bout.persons for bout in bouts[1:]), start=first.persons),
        totals=added(bout.totals for bout in bouts),
        by_side=added(bout.by_side for bout in bouts),
        reached=added(bout.reached for bout in bouts),
        runs=added(bout.runs for bout in bouts),
        thresholds=first.thresholds,
    )
