"""One set of constants played for a calibration: all parts to be met, as cheaply as will do.

Measurements are played by typical players; bands and rows of tracking by drawn ones, as they are judged.  Typical players would
shift those (falls of speed, P10, by 0.6 of the half width) and spare hardly any luck (a tenth of a gap's spread, seen over 60
bouts).  The seed is common to all sets of constants, so that two of them share their luck.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, partial

import numpy as np

from sim.assumptions import Assumptions
from sim.evidence import banded
from sim.evidence.conditions import TYPICAL_PLAYERS, Condition, game_of
from sim.evidence.keepball import cells as squares
from sim.evidence.keepball import play as keepball
from sim.evidence.keepball.cells import Band, bands, cells
from sim.evidence.keepball.counts import BoutCounts, counts_of_session
from sim.evidence.observations import Observations, Question, answers_of, session_player
from sim.evidence.table import Found, condition_of, part_values
from sim.evidence.tables import Part, folder, parts
from sim.evidence.targets import BAND, MEASUREMENT, TRACKING, targets
from sim.evidence.tracking import play as tracking
from sim.evidence.tracking.measures import ROWS, Sums
from sim.evidence.tracking.samples import samples_of
from sim.experiments.executors import Workers
from sim.experiments.replicate import play_batches
from sim.experiments.sessions import Batch
from sim.game.model import Game
from sim.pitch.log import BoutLog

PASSES = ("completion", "reception_to_pass")
MANY = 4  # bands: a cell on which more of them hang is played more often


@dataclass(frozen=True)
class Size:
    """How much is played of each set of constants.

    `sessions` of a condition of the measurements, `passing` where passes are measured; `bouts` of a cell, `often` where many bands
    hang on it; `large`: bouts of each large game.
    """

    sessions: int
    passing: int
    bouts: int
    often: int
    large: int


SIZE = Size(sessions=4, passing=10, bouts=16, often=64, large=10)
"""Chosen so that an evaluation takes at most twelve seconds on two cores."""


@cache
def needed(kind: str) -> frozenset[str]:
    """Names of the parts of a kind that are to be met."""
    return frozenset(one.part for one in targets() if one.kind == kind)


def measured_parts(size: Size) -> tuple[Part, ...]:
    """The parts of measurements that are to be met, and those they are made of, in the order of the plan."""
    met = needed(MEASUREMENT)
    members = {name for part in parts() if part.part in met and not part.game for name in members_of(part)}
    return tuple(
        replace(
            part,
            changes=(*part.changes, TYPICAL_PLAYERS),
            sessions=size.passing if part.measure.startswith(PASSES) else size.sessions,
        )
        if part.game
        else part
        for part in parts()
        if part.part in met | members
    )


def members_of(part: Part) -> list[str]:
    """The parts that a part is made of."""
    return part.measure.partition(":")[2].split(",")


def questions_of(played: Iterable[Part]) -> dict[Condition, tuple[int, tuple[Question, ...]]]:
    """(sessions, questions) of every condition of these parts."""
    found: dict[Condition, tuple[int, tuple[Question, ...]]] = {}
    for part in played:
        if part.game:
            sessions, questions = found.get(condition_of(part), (0, ()))
            asked = dict.fromkeys((*questions, (part.measure, part.scope)))
            found[condition_of(part)] = (max(sessions, part.sessions), tuple(asked))
    return found


def bouts_of_cells(size: Size) -> dict[str, int]:
    """Bouts of every cell that a band to be met hangs on, by its name."""
    hanging = Counter(name for band in bands() if band.id in needed(BAND) for name in {band.cell, band.over} if name)
    return {name: size.often if hanging[name] > MANY else size.bouts for name in cells() if name in hanging}


def tracked(game: Game, logs: Iterable[BoutLog], _: Assumptions) -> dict[str, Sums]:
    """What the one bout of a session adds to each row of tracking that is to be met."""
    (log,) = logs
    seen = samples_of(game, log)
    return {row: measure(seen) for row, measure in ROWS.items() if row in needed(TRACKING)}


def play(
    constants: Mapping[str, float], seed: int, workers: Workers = None, size: Size | None = None
) -> dict[str, float]:
    """Ours for every part to be met, with these constants in place of the engine's; what is not defined is left out.

    Raises `KeyboardInterrupt` where not all could be played.
    """
    size = size or SIZE
    assumptions = Assumptions(engine=tuple(sorted(constants.items())))
    measured = measured_parts(size)
    conditions, often = questions_of(measured), bouts_of_cells(size)
    batches: list[Batch] = [
        Batch(game_of(one), range(sessions), partial(answers_of, questions), session_player(one), assumptions)
        for one, (sessions, questions) in conditions.items()
    ]
    batches += [
        Batch(squares.game_of(cells()[name]), range(bouts), counts_of_session, assumptions=assumptions)
        for name, bouts in often.items()
    ]
    batches += [Batch(game_of(one), range(size.large), tracked, assumptions=assumptions) for one in tracking.GAMES]
    found = play_batches(batches, seed, workers)
    if any(len(one) < len(batch.numbers) for one, batch in zip(found, batches, strict=True)):
        raise KeyboardInterrupt
    results = iter([list(one.values()) for one in found])
    answers = {one: observations(next(results)) for one in conditions}
    counts = {name: next(results) for name in often}
    sums = [bout for of_game in results for bout in of_game]
    values = {name: value for name, (value, *_) in part_values(measured, Found("full", {}, answers, {})).items()}
    values |= {band.id: band_value(band, counts) for band in bands() if band.id in needed(BAND)}
    values |= {row: tracking.statistic(row, np.sum([bout[row] for bout in sums], axis=0)) for row in needed(TRACKING)}
    return {one.part: float(values[one.part]) for one in targets() if np.isfinite(values[one.part])}


def observations(sessions: Iterable[Mapping[Question, np.ndarray]]) -> Observations:
    """What every session contributes, by question."""
    found: Observations = {}
    for answers in sessions:
        for question, value in answers.items():
            found.setdefault(question, []).append(value)
    return found


def band_value(band: Band, counts: Mapping[str, list[BoutCounts]]) -> float:
    """Ours for a band; nan where nothing of the kind happened."""

    def rate(cell: str) -> float:
        top, bottom = keepball.sums_of(counts[cell], band.top, band.bottom).sum(axis=0)
        return float(top / bottom) if bottom > 0.0 else np.nan

    if not band.over:
        return band.scale * rate(band.cell)
    lower = rate(band.over)
    return rate(band.cell) / lower if lower > 0.0 else np.nan


def digest() -> str:
    """A short digest of all that an evaluation hangs on."""
    data = [folder() / "plan.csv", folder() / "measurements.csv", tracking.here() / "tracking.csv"]
    data += [squares.here() / "bands.csv", squares.here() / "cells.csv"]
    return banded.digest(__name__, data, {*keepball.game_files(), *folder().glob("games/*.toml")})
