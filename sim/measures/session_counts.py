"""One bout, or one session, as plain numbers: small, picklable, and added up without a table.

`cells[player, role]` has the columns `CELLS`.  Seconds, metres and counts add up over bouts; so does *part*, the share
of the bout the player spent in the role, which is the weight of every mean "per player over one bout": the mean of
x over a group is sum(x)/sum(part).  *held* is 1 where he had the role at all in the bout.  Peaks and longest spells do not
add up; their sums weighted with part (`peak_part`, `longest_part`) do, and so do the player's own, over all his roles
(`persons`).  The lowest reserve is known for a player only; `lowest_part` gives it to his roles by time.  `heart_pct_s` is
estimated heart rate (% of maximum) x s.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.asked import reaching
from sim.measures.ball_events import BALL_EVENTS
from sim.measures.by_bout import tallies_of
from sim.measures.event_reducer import Key, ReducedEvents, reduce_events
from sim.measures.external_load import LOADS, counted, in_order
from sim.measures.heart import after_rest, beat, heart_of, per_watt
from sim.measures.power import energies, gauss_rule
from sim.measures.thresholds import Thresholds, limits_of
from sim.parameters import defaults
from sim.pitch.log import BoutLog
from sim.speed_zones import minors_of

EXPOSURES = ("time_s", "in_play_s", "defending_s")
MORE = ("spells", "spell_s", "part", "held", "peak_part", "longest_part", "lowest_part", "known_part", "heart_pct_s")
CELLS = EXPOSURES + BALL_EVENTS + LOADS + MORE
COLUMN = {name: i for i, name in enumerate(CELLS)}
PERSONS = ("bouts", "peak_kmh", "longest_s", "able", "lowest", "known")
KMH = 3.6


@dataclass(frozen=True, eq=False)
class SessionCounts:
    """The numbers of `bouts` bouts of the same players.

    `able` in `persons` says in how many bouts the player had a job that can defend, `known` in how many the log told his lowest
    reserve.  `heart_pct` is every player's estimated heart rate at the end, % of maximum.  `runs` counts pass runs by
    (side, passes, cut), `tallies` what is told bout by bout (`sim.measures.by_bout`); the other counters are those of
    `ReducedEvents`.
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
    totals: Counter[str]
    by_side: Counter[tuple[str, str]]
    reached: Counter[tuple[str, float, str]]
    fired: Counter[tuple[str, str]]
    runs: Counter[tuple[str, int, bool]]
    tallies: Counter[tuple[str, str, int]]
    thresholds: Thresholds
    heart_pct: np.ndarray


def counts_of_bout(
    game: Game,
    log: BoutLog,
    thresholds: Thresholds | None = None,
    before: SessionCounts | None = None,
    values: Mapping[str, float] | None = None,
) -> SessionCounts:
    """The numbers of one bout; `before` is the bout before it in the session (None: it is the first).

    The rest as in `counts_of_reduced`.
    """
    return counts_of_reduced(game, reduce_events(game, log), log, thresholds, before, values)


def counts_of_reduced(
    game: Game,
    seen: ReducedEvents,
    log: BoutLog,
    thresholds: Thresholds | None = None,
    before: SessionCounts | None = None,
    values: Mapping[str, float] | None = None,
) -> SessionCounts:
    """The numbers of one bout whose events have been reduced.

    `thresholds`: None is what the game says.  `values`: None are those of `sim.parameters`.  Speeds that are shares of a player's
    own, and how hard the work is for him, are reckoned with the players whom the log holds.
    """
    if len(log.profiles) != len(log.players):
        raise ValueError(f"a log must hold the profile of every player (got {len(log.profiles)} of {len(log.players)})")
    thresholds = limits_of(game) if thresholds is None else thresholds
    rows = in_order(log.segments)
    spent = energies(rows, *gauss_rule())
    tops = np.array([who.vmax_mps for who in log.profiles])
    loads, peaks = counted(rows, spent, len(log.players), len(log.roles), thresholds, tops)
    felt, heart_pct = heart_rates(game, log, rows, spent, before, defaults() if values is None else values)
    times = np.array(seen.exposure.times)
    spells = np.zeros((*peaks.shape, 2))
    longest = np.zeros(peaks.shape)
    for spell in seen.exposure.spells:
        spells[spell.player, spell.role] += (1.0, spell.seconds)
        longest[spell.player, spell.role] = max(longest[spell.player, spell.role], spell.seconds)
    part = times[:, :, 0] / log.duration_s
    known = np.full(len(log.players), float(bool(log.reserve_lowest)))
    lowest = np.array(log.reserve_lowest) if log.reserve_lowest else np.zeros(len(log.players))
    of_person = [part * lowest[:, None], part * known[:, None]]
    held = (part > 0).astype(float)
    weighted = np.stack([part, held, part * peaks * KMH, part * longest, *of_person, felt], axis=2)
    cells = np.concatenate([times, np.array(seen.ball_events.counts), loads, spells, weighted], axis=2)
    able = np.array(seen.exposure.ever_able, dtype=float)
    persons = np.column_stack([np.ones(len(able)), peaks.max(axis=1) * KMH, longest.max(axis=1), able, lowest, known])
    runs = Counter((run.side, run.passes, run.cut) for run in seen.possessions.runs)
    return SessionCounts(
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
        by_side=added([seen.by_side, reaching(game, seen.possessions.runs)]),
        reached=seen.reached,
        fired=seen.fired,
        runs=runs,
        tallies=tallies_of(log, seen.possessions.runs, seen.by_side),
        thresholds=thresholds,
        heart_pct=heart_pct,
    )


def heart_rates(
    game: Game,
    log: BoutLog,
    rows: np.recarray,
    spent: np.ndarray,
    before: SessionCounts | None,
    values: Mapping[str, float],
) -> tuple[np.ndarray, np.ndarray]:
    """(% x s by player and role, % at the end by player) of the estimated heart rate; where minors play, nothing is reckoned."""
    felt = np.zeros((len(log.players), len(log.roles)))
    if minors_of([team.population for team in game.teams]):
        return felt, np.zeros(len(log.players))
    heart = heart_of(values)
    if before is None:
        pulse = np.full(len(log.players), heart.start)
    else:
        pulse = after_rest(heart, before.heart_pct, game.bouts.rest_seconds)
    slopes = np.array([per_watt(heart, who) for who in log.profiles])
    beat(rows, spent, slopes, heart.at_rest, heart.tau_s, pulse, felt)
    return felt, pulse


def added(counters: Iterable[Counter[Key]]) -> Counter[Key]:
    """The sum of counters, keys with nothing or less kept (points can be taken away)."""
    total: Counter[Key] = Counter()
    for counter in counters:
        total.update(counter)
    return total


def session_of(bouts: Sequence[SessionCounts]) -> SessionCounts:
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
    return SessionCounts(
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
        fired=added(bout.fired for bout in bouts),
        runs=added(bout.runs for bout in bouts),
        tallies=added(bout.tallies for bout in bouts),
        thresholds=first.thresholds,
        heart_pct=bouts[-1].heart_pct,
    )
