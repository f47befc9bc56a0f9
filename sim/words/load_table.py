"""What the work amounts to, in a small table: metabolic power, sharp changes of speed, and (adults only) two estimates."""

from __future__ import annotations

from sim.game.model import Game
from sim.results import Result
from sim.words.running_tables import scope_names, usual_figure
from sim.words.tables import table

POWER, UP, DOWN, TURNS = "metabolic_power", "accelerations_per_min", "decelerations_per_min", "turns_per_min"
HEART, EFFORT, LOAD = "mean_heart_rate_estimate", "perceived_effort_estimate", "session_load_estimate"
COLUMNS = (
    ("power, W/kg", POWER),
    ("hard accels a minute", UP),
    ("hard decels a minute", DOWN),
    ("turns a minute", TURNS),
)
ESTIMATES = (("heart rate, estimate, % of maximum", HEART), ("effort, estimate, 0 to 10", EFFORT))
NO_MINORS = "No heart rate or effort is estimated where minors play."


def load_in_words(result: Result, game: Game, scopes: list[str], width: int | None) -> list[str]:
    """The table for these scopes ("team:amber", "role:inside"), with a line on the load of a session or why there is none."""
    estimated = bool(result.rows(HEART))
    columns = COLUMNS + (ESTIMATES if estimated else ())
    rows = [[name, *(cell(result, measure, scope) for _, measure in columns)] for scope, name in scope_names(scopes)]
    limits = result.provenance.thresholds
    intro = (
        f"Load of each player on average, all on the watch; hard is {limits.change_mps2:g} m/s2 or more for "
        f"{limits.change_min_s:g} s."
    )
    last = NO_MINORS
    if estimated:
        last = f"Load of the session, estimate, effort x minutes as played, with rests: {usual_figure(result.row(LOAD))} a player."
    return [intro, table(["", *(head for head, _ in columns)], rows, width), last]


def cell(result: Result, name: str, scope: str) -> str:
    """What stands in the table for a measure of a scope; nothing where there is no such row."""
    found = [row for row in result.rows(name) if row.scope == scope]
    return usual_figure(found[0]) if found else ""
