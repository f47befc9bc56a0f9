"""`sweep`: a game over many values of its keys, one run a combination, all rows of the answer in one tidy table.

All runs of a design (`sim.experiments.designs`) play the same sessions (common random numbers).  A run has an id that is a
digest of all it hangs on, so a table tells which of its runs are done, and a sweep that was killed goes on where it was:
finished runs are taken over as they stand, character by character.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.cautions import cautions_of_runs
from sim.experiments.designs import OPTION, Axis
from sim.experiments.digests import digest_of
from sim.experiments.executors import Workers
from sim.experiments.knobs import turned
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Progress, play_batches, sessions_for
from sim.experiments.sessions import Batch, SessionPlayer, session_bouts, session_counts
from sim.game.everyday import Changes
from sim.game.model import Game
from sim.measures.summary import summarise
from sim.measures.thresholds import limits_of
from sim.provenance import engine

if TYPE_CHECKING:
    import pandas as pd

OF_SEVERAL = ("threshold_chance", "loss_share_by_cause", "rule_fired_per_bout", "bouts_without_run")
"""Measures of which there is a row each of several things."""
MOST_BOUTS = 10**9  # in a run: nobody has played so many
SCOPES = ("game", "team", "role")
FIGURES = ("mean", "low", "high", "session_low", "session_high")
ENDS = ("measure", "scope", "unit", "clock", *FIGURES, "sessions", "bouts", "seed", "version", "engine", "run", "check")
SIGNS = ("run", "version", "engine", "check")  # columns that may look like numbers and are none
DIGITS = 12  # of the id and of the checksum of a run


@dataclass(frozen=True, eq=False)
class Run:
    """One combination: its id, the values of the keys, and the game they make."""

    id: str
    values: tuple[str, ...]
    game: Game


Lines = dict[str, list[list[str]]]
"""Finished runs: by id, the cells of their rows, in the order of `header_of`."""


def header_of(axes: Sequence[Axis]) -> list[str]:
    """What was varied first; what tells runs apart for a program last."""
    return [*(axis.key for axis in axes), *ENDS]


def places(keys: int) -> dict[str, int]:
    """Where each cell behind the values of so many keys stands in a row."""
    return {name: keys + i for i, name in enumerate(ENDS)}


def runs_of(
    base: Game,
    axes: Sequence[Axis],
    design: Sequence[tuple[str, ...]],
    bouts: int,
    seed: int,
    load: Callable[[Sequence[str]], Game],
    assumptions: Assumptions = NONE,
) -> list[Run]:
    """The runs of a design, each loaded and checked before anything is played."""
    found = []
    for values in design:
        changes: Changes = []
        for axis, value in zip(axes, values, strict=True):
            changes += turned(base, axis.key, value, OPTION)
        game = load(changes)
        found.append(Run(id_of(game, values, bouts, seed, assumptions), values, game))
    return found


def id_of(game: Game, values: Sequence[str], bouts: int, seed: int, assumptions: Assumptions = NONE) -> str:
    """A digest of all that a run's rows hang on."""
    made = made_of(game, seed, provenance_of(limits_of(game), assumptions))
    return digest_of([made, list(values), bouts])[:DIGITS]


def sweep(  # noqa: PLR0913 - the public face: what may be asked for by keyword
    runs: Sequence[Run],
    bouts: int,
    seed: int = 1,
    workers: Workers = None,
    progress: Progress | None = None,
    done: Mapping[str, list[list[str]]] | None = None,
    keep: Callable[[Lines], None] | None = None,
    session: SessionPlayer = session_bouts,
    assumptions: Assumptions = NONE,
) -> Lines:
    """The rows of every run, in the order of the design; `done` are not played again, `keep` is told after every run.

    Ctrl-C keeps the runs that are finished.
    """
    found: Lines = {run.id: done[run.id] for run in runs if done and run.id in done}
    total = sum(sessions_for(run.game, bouts) * run.game.bouts.count for run in runs)
    before = sum(sessions_for(run.game, bouts) * run.game.bouts.count for run in runs if run.id in found)
    started = False
    try:
        for run in runs:
            if run.id in found:
                continue
            count = sessions_for(run.game, bouts)

            def told(now: int, _: int, before: int = before) -> None:
                if progress is not None:
                    progress(before + now, total)

            batch = Batch(run.game, range(count), session_counts, session, assumptions)
            (sessions,) = play_batches([batch], seed, workers, told, warm=not started)
            started = True
            if len(sessions) < count:
                break
            before += count * run.game.bouts.count
            found[run.id] = cells_of(run, list(sessions.values()), seed)
            if keep is not None:
                keep(in_order(runs, found))
    except KeyboardInterrupt:
        pass
    return in_order(runs, found)


def in_order(runs: Sequence[Run], found: Lines) -> Lines:
    """Finished runs in the order of the design."""
    return {run.id: found[run.id] for run in runs if run.id in found}


def cells_of(run: Run, sessions: list, seed: int) -> list[list[str]]:
    """The rows of one run as they stand in the table; nothing where undefined."""
    played = sum(one.bouts for one in sessions)
    rows = [
        [
            *run.values,
            row.measure + (f": {told_of(row)}" if row.measure in OF_SEVERAL else ""),
            row.scope,
            row.unit,
            row.clock,
            *("" if getattr(row, name) is None else repr(float(getattr(row, name))) for name in FIGURES),
            str(row.n),
            str(played),
            str(seed),
            __version__,
            engine(),
            run.id,
        ]
        for row in summarise(run.game, sorted(sessions, key=lambda one: one.replicate), evidence=domains())
        if row.scope.partition(":")[0] in SCOPES
    ]
    check = check_of(rows)
    return [[*row, check] for row in rows]


def check_of(rows: Sequence[Sequence[str]]) -> str:
    """A checksum over all rows of a run but for itself."""
    return digest_of([list(row) for row in rows])[:DIGITS]


def cautions_of(axes: Sequence[Axis], runs: Sequence[Run], lines: Lines) -> tuple[str, ...]:
    """What must be said of the finished runs."""
    at = places(len(axes))["measure"]
    return cautions_of_runs(
        [(run.game, {row[at].partition(":")[0] for row in lines[run.id]}) for run in runs if run.id in lines]
    )


def told_of(row) -> str:
    """What tells apart the rows of one measure and scope."""
    return row.definition.split(": ", 1)[1].split(";")[0]


def text_of(axes: Sequence[Axis], lines: Lines) -> str:
    """The table as CSV."""
    place = io.StringIO()
    writer = csv.writer(place, lineterminator="\n")
    writer.writerow(header_of(axes))
    for rows in lines.values():
        writer.writerows(rows)
    return place.getvalue()


def lines_of(text: str, axes: Sequence[Axis], runs: Sequence[Run], source: str) -> Lines:
    """The finished runs of a table; refuses one of another question, and one that is not as it was written."""
    header, at = header_of(axes), places(len(axes))["run"]
    try:
        rows = list(csv.reader(io.StringIO(text), strict=True))
    except csv.Error:
        rows = []
    if not rows or rows[0] != header or any(len(row) != len(header) for row in rows):
        raise InputError(
            f"must be a table of a sweep over {', '.join(axis.key for axis in axes)} (got another)", source
        )
    known = {run.id: run for run in runs}
    other = [row[at] for row in rows[1:] if row[at] not in known]
    if other:
        raise InputError(
            f"must hold runs of this very sweep: same game, values, bouts, seed and version (got run {other[0]})",
            source,
        )
    found: Lines = {}
    for row in rows[1:]:
        found.setdefault(row[at], []).append(row)
    for name, own in found.items():
        if problem := problem_of(own, known[name]):
            raise InputError(f"run {name} must stand as it was written ({problem})", source)
    return found


def problem_of(rows: list[list[str]], run: Run) -> str:
    """What is wrong with the rows of a run, or nothing."""
    keys = len(run.values)
    if any(row[-1] != check_of([one[:-1] for one in rows]) for row in rows):
        return f"got rows that are changed or missing, {len(rows)} in all"
    for row in rows:
        cell = dict(zip(ENDS, row[keys:], strict=True))
        if tuple(row[:keys]) != run.values:
            return f"got the values {', '.join(row[:keys])}"
        for name in ("sessions", "bouts"):
            if not cell[name].isdecimal() or int(cell[name]) > MOST_BOUTS:
                return f"got {cell[name]} {name}"
        figures = [figure_of(cell[name]) for name in FIGURES]
        if any(one is not None and not math.isfinite(one) for one in figures):
            return f"got {cell['measure']} without a number"
        _, low, high, session_low, session_high = figures
        for least, most in ((low, high), (session_low, session_high)):
            if least is not None and most is not None and least > most:
                return f"got {cell['measure']} from {least} to {most}"
    return ""


def figure_of(text: str) -> float | None:
    """The number in a cell; nothing where it is empty, not a number where it is anything else."""
    try:
        return float(text) if text else None
    except ValueError:
        return math.nan


def as_parquet(text: str) -> bytes:
    """The same table as Parquet (extra `parquet`), figures as numbers."""
    place = io.BytesIO()
    table_of(text).to_parquet(place, engine="pyarrow", index=False)
    return place.getvalue()


def table_of(text: str) -> pd.DataFrame:
    """The table for pictures and Parquet: keys and figures as numbers where they are."""
    import pandas as pd

    return pd.read_csv(io.StringIO(text), keep_default_na=True, dtype=dict.fromkeys(SIGNS, str))
