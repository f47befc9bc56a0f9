"""Tidy tables at six fixed levels: event, pass_run, defending_spell, player, bout, summary.

Columns and their types are the same whatever happened, also when nothing did.  Times are seconds on the watch of the
bout unless the name says otherwise; `replicate` is the session and `bout` the number within it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import fields
from typing import TYPE_CHECKING

from sim.game.model import Game
from sim.game.names import names_of
from sim.measures.ball_events import BALL_EVENTS
from sim.measures.basis import Evidence
from sim.measures.event_reducer import CAUSES, ReducedEvents, reduce_events
from sim.measures.external_load import LOADS
from sim.measures.internal_load import has_minors
from sim.measures.minors import untold
from sim.measures.session_counts import COLUMN, SessionCounts, counts_of_reduced, session_of
from sim.measures.summary import Measure, summarise
from sim.measures.thresholds import Thresholds
from sim.pitch.log import FIELDS, BoutLog

if TYPE_CHECKING:
    from pandas import DataFrame

WHERE = {"replicate": "int64", "bout": "int64"}
WORDS = ("kind", "player", "other", "side", "cause", "detail", "phase", "area")
NAMED = {"player": "player_name", "other": "other_name"}
"""Columns of ids in the log of events, and those with what the players are called."""

EVENT = WHERE | {
    column: "int64" if column in ("seq", "passes") else "str" if name in WORDS else "float64"
    for name in FIELDS
    for column in ([name, NAMED[name]] if name in NAMED else [name])
}
PASS_RUN = WHERE | {
    "side": "str",
    "start_s": "float64",
    "end_s": "float64",
    "in_play_s": "float64",
    "passes": "int64",
    "cause": "str",
    "cut": "bool",
}
SPELL = WHERE | {
    "player": "str",
    "player_name": "str",
    "team": "str",
    "role": "str",
    "start_s": "float64",
    "end_s": "float64",
    "defending_s": "float64",
    "cut": "bool",
}
PLAYER_NUMBERS = ("time_s", "in_play_s", "defending_s", "spells", *BALL_EVENTS, *LOADS)
PLAYER = (
    WHERE
    | {"player": "str", "player_name": "str", "team": "str", "role": "str"}
    | {name: "float64" for name in PLAYER_NUMBERS}
    | {"peak_speed_kmh": "float64", "longest_spell_s": "float64"}
)
BOUT_COUNTS = ("turnovers", "wins", "outs", "thresholds", "unlocks", "transfers", "break_aways", "shots", "goals")
BOUT_SUMS = ("touches", "passes", "completed", "distance_m")
BOUT = (
    WHERE
    | {"duration_s": "float64", "in_play_s": "float64", "points": "float64", "pass_runs": "int64"}
    | {name: "int64" for name in BOUT_COUNTS}
    | {f"lost_by_{cause.replace(' ', '_')}": "int64" for cause in CAUSES}
    | {name: "float64" for name in BOUT_SUMS}
)
MEASURE = [field.name for field in fields(Measure)]
SUMMARY = {
    column: "float64"
    if column in ("mean", "low", "high", "session_low", "session_high")
    else "int64"
    if column == "n"
    else "str"
    for name in MEASURE
    for column in ([name, "player_name"] if name == "scope" else [name])
}


def tables(
    game: Game,
    logs: Sequence[BoutLog],
    thresholds: Thresholds | None = None,
    values: Mapping[str, float] | None = None,
    evidence: Collection[Evidence] = (),
) -> dict[str, DataFrame]:
    """All six tables of these bouts; a session of the summary is the bouts that share a replicate number, in order.

    `values` as in `counts_of_reduced`, `evidence` as in `summarise`.
    """
    reduced = [reduce_events(game, log) for log in logs]
    counts: list[SessionCounts] = []
    for seen, log in zip(reduced, logs, strict=True):
        before = counts[-1] if counts and counts[-1].replicate == log.replicate else None
        counts.append(counts_of_reduced(game, seen, log, thresholds, before, values))
    names = names_of(game)
    both = list(zip(reduced, logs, strict=True))
    counted = list(zip(counts, logs, strict=True))
    return {
        "event": frame(
            EVENT, (session_and_bout(log) + event_row(event, names) for log in logs for event in log.events)
        ),
        "pass_run": frame(
            PASS_RUN, (session_and_bout(log) + tuple(run) for seen, log in both for run in seen.possessions.runs)
        ),
        "defending_spell": frame(SPELL, (row for seen, log in both for row in spell_rows(seen, log, names))),
        "player": frame(
            PLAYER, (row for one, log in counted for row in player_rows(one, log, names, has_minors(game)))
        ),
        "bout": frame(BOUT, (bout_row(one, log) for one, log in counted)),
        "summary": summary_frame(summarise(game, sessions_of(counts), values=values, evidence=evidence), names),
    }


def summary_frame(measures: Iterable[Measure], names: Mapping[str, str]) -> DataFrame:
    """The rows of an answer as a table, those of a player with what he is called; undefined numbers are missing values."""
    by_scope = {f"player:{player}": name for player, name in names.items()}
    rows = (
        (row.measure, row.scope, by_scope.get(row.scope, ""), *(getattr(row, name) for name in MEASURE[2:]))
        for row in measures
    )
    return frame(SUMMARY, rows)


def sessions_of(counts: Iterable[SessionCounts]) -> list[SessionCounts]:
    """Bouts put together to sessions by their replicate number."""
    found: dict[int, list[SessionCounts]] = {}
    for one in counts:
        found.setdefault(one.replicate, []).append(one)
    return [session_of(bouts) for _, bouts in sorted(found.items())]


def frame(columns: dict[str, str], rows: Iterable[tuple]) -> DataFrame:
    """A table with these columns and types, also when there are no rows."""
    import pandas as pd

    return pd.DataFrame(list(rows), columns=list(columns)).astype(columns)


def session_and_bout(log: BoutLog) -> tuple[int, int]:
    """The first two columns of a row: session and bout."""
    return (log.replicate, log.bout)


def event_row(event: tuple, names: Mapping[str, str]) -> tuple:
    """An event with what its players are called beside their ids."""
    row: list = []
    for name, value in zip(FIELDS, event, strict=True):
        row += [value, names.get(value, "")] if name in NAMED else [value]
    return tuple(row)


def spell_rows(seen: ReducedEvents, log: BoutLog, names: Mapping[str, str]) -> Iterable[tuple]:
    """A row for each defending spell of a bout."""
    for spell in seen.exposure.spells:
        player = log.players[spell.player]
        who = (player, names[player], log.teams[spell.player], log.roles[spell.role])
        yield session_and_bout(log) + who + (spell.start_s, spell.end_s, spell.seconds, spell.cut)


def player_rows(one: SessionCounts, log: BoutLog, names: Mapping[str, str], minors: bool) -> Iterable[tuple]:
    """One row for each player and role he had; peaks and longest spells are those within the role.

    `minors`: whether some play, of whom not everything is told (`sim.measures.minors`).
    """
    left_out = {name for name in (*PLAYER_NUMBERS, "peak_speed_kmh") if minors and untold(name)}
    for p, player in enumerate(log.players):
        for r, role in enumerate(log.roles):
            cell = one.cells[p, r]
            part = cell[COLUMN["part"]]
            if part > 0:
                numbers = tuple(float("nan") if name in left_out else cell[COLUMN[name]] for name in PLAYER_NUMBERS)
                peak = float("nan") if "peak_speed_kmh" in left_out else cell[COLUMN["peak_part"]] / part
                tops = (peak, cell[COLUMN["longest_part"]] / part)
                yield session_and_bout(log) + (player, names[player], log.teams[p], role) + numbers + tops


def bout_row(one: SessionCounts, log: BoutLog) -> tuple:
    """The row of a bout."""
    counts = tuple(one.totals[name] for name in BOUT_COUNTS)
    causes = tuple(one.totals["turnovers: " + cause] for cause in CAUSES)
    sums = tuple(one.cells[:, :, COLUMN[name]].sum() for name in BOUT_SUMS)
    return (
        session_and_bout(log)
        + (one.duration_s, one.in_play_s, one.totals["points"], one.runs.total())
        + counts
        + causes
        + sums
    )
