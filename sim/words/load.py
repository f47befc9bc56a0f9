"""What the work amounts to, in a small table: metabolic power, sharp changes of speed, and (adults only) two estimates."""

from __future__ import annotations

from sim.game.model import Game
from sim.results import Result
from sim.words.running import said

POWER, UP, DOWN, TURNS = "metabolic_power", "accelerations_per_min", "decelerations_per_min", "turns_per_min"
HEART, EFFORT, LOAD = "mean_heart_rate_estimate", "perceived_effort_estimate", "session_load_estimate"
COLUMNS = (
    ("metabolic power", "W/kg", POWER),
    ("accelerations", "1/min", UP),
    ("decelerations", "1/min", DOWN),
    ("turns", "1/min", TURNS),
)
ESTIMATES = (("heart rate, estimate", "% of maximum", HEART), ("effort, estimate", "0 to 10", EFFORT))
NO_MINORS = "No heart rate or effort is estimated where minors play."


def load_in_words(result: Result, game: Game, scopes: list[str]) -> list[str]:
    """The table for these scopes ("team:amber", "role:inside"), with a line on the load of a session or why there is none."""
    estimated = bool(result.rows(HEART))
    columns = COLUMNS + (ESTIMATES if estimated else ())
    rows = [["", *(head for head, *_ in columns)], ["unit", *(unit for _, unit, _ in columns)]]
    for scope in scopes:
        rows.append([scope.replace(":", " "), *(cell(result, name, scope) for *_, name in columns)])
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = [
        "  ".join([row[0].ljust(widths[0]), *(text.rjust(wide) for text, wide in zip(row[1:], widths[1:], strict=True))])
        for row in rows
    ]
    limits = result.provenance.thresholds
    intro = (
        f"Load, mean per player on the watch; a change of speed counts from {limits.change_mps2:g} m/s2 for "
        f"{limits.change_min_s:g} s."
    )
    last = NO_MINORS
    if estimated:
        last = f"Estimated load of the session, effort x minutes as played, with rests: {said(result.row(LOAD))} a player."
    return [intro, *(line.rstrip() for line in lines), last]


def cell(result: Result, name: str, scope: str) -> str:
    found = [row for row in result.rows(name) if row.scope == scope]
    return said(found[0]) if found else ""
