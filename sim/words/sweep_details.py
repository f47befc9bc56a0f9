"""The runs of a sweep with all that is told of them, for `--details`: a line a run, with our doubt about each figure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sim.assumptions import NONE, Assumptions
from sim.experiments.designs import Axis
from sim.experiments.key_measures import keys_of
from sim.experiments.last_line import LINE
from sim.experiments.provenance import replacements
from sim.experiments.stopping_rule import key_measure_of
from sim.experiments.sweep import Lines, Run, places
from sim.game.model import Game
from sim.words.assumptions import replaced_in_words
from sim.words.changes import phrase
from sim.words.figures import NOT_KNOWN, two
from sim.words.losses import footer, lead
from sim.words.measure_phrases import clock_of, name_in_table
from sim.words.screen import folded
from sim.words.tables import table

SIZE_KEYS = ("side", "area")
"""Keys whose value is not the whole size."""


@dataclass(frozen=True)
class Swept:
    """A sweep as far as it has been played.

    `base`: the game as it is; `axes`: what was varied; `runs`: all there are; `found`: the lines of the finished ones;
    `assumptions`: the user's own; `unit`: what the file of the game counts lengths in.
    """

    base: Game
    axes: Sequence[Axis]
    runs: Sequence[Run]
    found: Lines
    assumptions: Assumptions = NONE
    unit: str = "m"


def details_of_swept(swept: Swept, width: int | None = None) -> str:
    """Every finished run; `width`: columns of the terminal, None in a pipe."""
    base, axes, runs, found = swept.base, swept.axes, swept.runs, swept.found
    known = {name for name, _ in keys_of(base)}
    measures = columns_of(base)
    head = [
        *(axis.key for axis in axes),
        *(f"{name_in_table(one, 'game', known)}, {clock_of(one)}" for one in measures),
    ]
    rows = [
        [*values_of(axes, run, swept.unit), *(figure_with_doubt(found[run.id], one, len(axes)) for one in measures)]
        for run in runs
        if run.id in found
    ]
    lines = [
        f"{len(found)} of {len(runs)} runs, the same players and luck in all of them. In brackets our doubt (95 in 100)."
    ]
    own = replaced_in_words(replacements(swept.assumptions))
    parts = ["\n".join([*lines, table(head, rows, width, range(len(axes)))]), own, "\n".join([footer(measures), LINE])]
    return folded("\n\n".join(part for part in parts if part), width)


def columns_of(base: Game) -> list[str]:
    """What the game is about, losses, and how much the ball is in play."""
    known = {name for name, _ in keys_of(base)}
    return list(dict.fromkeys([key_measure_of(base), lead(known), "in_play_share"]))


def values_of(axes: Sequence[Axis], run: Run, unit: str) -> list[str]:
    """The values of a run as they were typed; a size whole."""
    return [
        phrase([f"{axis.key}={value}"], run.game, unit) if is_size(axis.key) else value
        for axis, value in zip(axes, run.values, strict=True)
    ]


def is_size(key: str) -> bool:
    """``side``, ``area``, ``AREA.side`` and ``side.AREA``."""
    parts = key.split(".")
    return len(parts) <= len(SIZE_KEYS) and any(part in SIZE_KEYS for part in parts)


def figures_of(cells: list[list[str]], measure: str, keys: int) -> tuple[list[float | None], str]:
    """(mean, low, high; unit) for the whole game."""
    at = places(keys)
    row = next(one for one in cells if (one[at["measure"]], one[at["scope"]]) == (measure, "game"))
    return [float(row[at[name]]) if row[at[name]] else None for name in ("mean", "low", "high")], row[at["unit"]]


def figure_with_doubt(cells: list[list[str]], measure: str, keys: int) -> str:
    """``3.1 (2.9 to 3.3)`` for the whole game; a range from few sessions ends where the measure itself does (0, and 100 %)."""
    figures, unit = figures_of(cells, measure, keys)
    by, most = (100, 100.0) if unit == "share" else (1, float("inf"))
    middle, *ends = (NOT_KNOWN if one is None else two(min(max(by * one, 0.0), most)) for one in figures)
    return middle if NOT_KNOWN in ends else f"{middle} ({' to '.join(ends)})"
