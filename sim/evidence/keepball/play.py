"""The cells played, and every band held against what came out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import numpy as np

from sim.evidence import banded
from sim.evidence.banded import NOTHING, BandedLine, Figure
from sim.evidence.keepball.cells import Band, Cell, bands, cells, game_file, game_of, here
from sim.evidence.keepball.counts import BoutCounts, counts_of_session
from sim.evidence.measures import interval, paired_error
from sim.experiments.executors import Workers
from sim.experiments.replicate import Progress, play_batches
from sim.experiments.sessions import Batch
from sim.measures.intervals import ratio_error

LEVEL = 0.95
Played = Mapping[str, Sequence[BoutCounts]]
"""The bouts of every cell by its name, in order."""


def play_cells(
    wanted: Iterable[Cell], bouts: int, seed: int, workers: Workers = None, progress: Progress | None = None
) -> dict[str, tuple[BoutCounts, ...]]:
    """So many bouts of every cell; raises `KeyboardInterrupt` where not all could be played."""
    wanted = list(wanted)
    batches = [Batch(game_of(cell), range(bouts), counts_of_session) for cell in wanted]
    found = play_batches(batches, seed, workers, progress)
    if any(len(one) < bouts for one in found):
        raise KeyboardInterrupt
    return {cell.name: tuple(one.values()) for cell, one in zip(wanted, found, strict=True)}


def sums_of(bouts: Sequence[BoutCounts], top: str, bottom: str) -> np.ndarray:
    """[bout, 2]: top and bottom of a quantity."""
    return np.array([(one.sums.get(top, 0.0), one.sums.get(bottom, 0.0)) for one in bouts])


def quantity(bouts: Sequence[BoutCounts], top: str, bottom: str, scale: float = 1.0) -> Figure:
    """top over bottom, times scale."""
    tops, bottoms = sums_of(bouts, top, bottom).T
    if bottoms.sum() <= 0.0:
        return NOTHING
    value = scale * float(tops.sum() / bottoms.sum())
    return Figure(value, *interval(value, scale * ratio_error(tops, bottoms), len(bouts), LEVEL))


def quantity_over(upper: Sequence[BoutCounts], lower: Sequence[BoutCounts], top: str, bottom: str) -> Figure:
    """The quantity of `upper` over that of `lower`; bouts of one number are taken as a pair."""
    first, second = sums_of(lower, top, bottom), sums_of(upper, top, bottom)
    (top_a, bottom_a), (top_b, bottom_b) = first.sum(axis=0), second.sum(axis=0)
    if min(bottom_a, bottom_b, top_a) <= 0.0:
        return NOTHING
    before, after = top_a / bottom_a, top_b / bottom_b
    ratio = float(after / before)
    error = paired_error(list(first), list(second), ratio / before, 1.0 / before)
    return Figure(ratio, *interval(ratio, error, len(upper), LEVEL))


def line_of(band: Band, played: Played) -> BandedLine:
    """One band held against what was played."""
    bouts = played[band.cell]
    if band.over:
        ours = quantity_over(bouts, played[band.over], band.top, band.bottom)
    else:
        ours = quantity(bouts, band.top, band.bottom, band.scale)
    touches = "1 touch" if band.touches == "1" else f"{band.touches} touches"
    what = f"{band.measure}: {band.game}, {band.population}, {touches}"
    return BandedLine(
        band.id, band.role, what, "" if band.unit == "1" else band.unit, band.low, band.high, *ours, len(bouts),
        band.source, band.note,
    )  # fmt: skip


def compare(
    bouts: int, seed: int, workers: Workers = None, progress: Progress | None = None
) -> tuple[list[BandedLine], dict[str, tuple[BoutCounts, ...]]]:
    """Play every cell; the bands in order, and the bouts of every cell by its name."""
    played = play_cells(cells().values(), bouts, seed, workers, progress)
    return [line_of(band, played) for band in bands()], played


def game_files() -> set[Path]:
    """The files of all games that are played."""
    return {game_file(cell) for cell in cells().values()}


def digest() -> str:
    """A short digest of all that the numbers of the bands hang on."""
    data = (here() / "bands.csv", here() / "cells.csv")
    return banded.digest("sim.evidence.keepball.play", data, game_files())
