"""Measures as a coach says them, each with its clock: alone, and what becomes of one under a change."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from sim.experiments.comparison import Row
from sim.experiments.key_measures import LOST, MOST, OF_ROLES
from sim.words.clocks import ROLLING, WATCH
from sim.words.figures import present, two
from sim.words.losses import lead

TURNOVERS, BY_WATCH = "turnovers_per_min", "turnovers_per_clock_min"
UNITS = {
    TURNOVERS: f"losses a minute {ROLLING}",
    BY_WATCH: f"losses a minute {WATCH}",
    LOST: f"losses a minute {ROLLING}",
    "shot_ends_per_min": f"attacks a minute that end in a shot, {ROLLING}",
    "passes_per_min": f"passes a minute {ROLLING}",
    "pass_completion": "% of passes arriving",
    "pass_run_median": "passes in a run",
    "pass_run_share_reaching": "% of runs getting to the passes asked for",
    "in_play_share": f"% of the time {WATCH} {ROLLING}",
    MOST: f"% of the time {ROLLING} for the player who defends most",
    "points_per_min": f"points a minute {ROLLING}",
    "threshold_reached_per_min": f"times a minute to the passes asked for, {ROLLING}",
    "transfers_per_min": f"transfers a minute {ROLLING}",
    "break_aways_per_bout": f"break-aways a bout {WATCH}",
    "goals_per_bout": f"goals a bout {WATCH}",
    OF_ROLES: f"metres a minute {WATCH}",
    "wins_per_min": f"balls won a minute {ROLLING}",
    "defending_share": f"% of the time {ROLLING} spent defending",
    "high_speed_distance_per_min": f"fast metres a minute {WATCH}",
}
"""What stands behind a figure, so that the two can be said in one breath."""

WITH_SHOTS = "losses and shots a minute"
"""What turnovers are where shots are told apart."""

INSTEAD = {
    "pass_run_median": "They string about {} passes together, not {}.",
    "transfers_per_min": f"They get it across {{}} times a minute {ROLLING}, not {{}}.",
    "break_aways_per_bout": f"{{}} break-aways a bout {WATCH}, not {{}}.",
    "goals_per_bout": f"{{}} goals a bout {WATCH}, not {{}}.",
    "points_per_min": f"{{}} points a minute {ROLLING}, not {{}}.",
    "in_play_share": f"The ball is rolling for {{}} % of the time {WATCH}, not {{}} %.",
    MOST: f"Whoever defends most does so {{}} % of the time {ROLLING}, not {{}} %.",
    "pass_run_share_reaching": "{} % of runs get to the passes asked for, not {} %.",
    "threshold_reached_per_min": f"They get to the passes asked for {{}} times a minute {ROLLING}, not {{}}.",
    "passes_per_min": f"They play {{}} passes a minute {ROLLING}, not {{}}.",
    "shot_ends_per_min": f"They end it with a shot {{}} times a minute {ROLLING}, not {{}}.",
    "pass_completion": "{} % of passes arrive, not {} %.",
}
"""What else changes, in the order of what a coach looks at; metres of all roles come third."""

WHOLE = ("pass_run_median",)
"""What nobody counts in parts."""
METRES_COME = 2
FEW = 2.5
"""Below this a whole number of losses says too little."""
NOTHING_ELSE = "Nothing else changes enough to notice."


def role_of(scope: str) -> str:
    return scope.removeprefix("role:")


def unit_of(measure: str, scope: str, measures: Collection[str]) -> str:
    """What stands behind a figure of this measure; `measures` are all of the answer."""
    if measure in (TURNOVERS, BY_WATCH) and LOST in measures:
        return f"{WITH_SHOTS} {ROLLING if measure == TURNOVERS else WATCH}"
    return UNITS[measure] + (f" for each {role_of(scope)} player" if scope != "game" else "")


def figure(row_unit: str, value: float) -> str:
    """Two digits, shares in per cent (the sign stands in the words)."""
    return two(100 * value if row_unit == "share" else value)


def clear(row: Row) -> bool:
    """Whether it surely changes, and is known in both games."""
    return row.verdict.startswith("clear") and is_known(row)


def is_known(row: Row) -> bool:
    """Whether both games have a figure."""
    return row.first is not None and row.second is not None


def both(row: Row) -> tuple[float, float]:
    """(first, second) of a row that is known in both games."""
    return present(row.first), present(row.second)


def what_else(rows: Sequence[Row], asked: tuple[str, str] | None = None) -> list[str]:
    """A sentence for every other measure that clearly changes; `asked` and losses are told elsewhere."""
    said = {
        row.measure: row for row in rows if clear(row) and row.scope == "game" and (row.measure, row.scope) != asked
    }
    told = [sentence(said[measure]) for measure in INSTEAD if measure in said]
    metres = [row for row in rows if clear(row) and row.measure == OF_ROLES and (row.measure, row.scope) != asked]
    if metres:
        each = "; ".join(
            f"{role_of(row.scope)} {now}, not {before}" for row in metres for now, before in [figures(row)]
        )
        told.insert(min(METRES_COME, len(told)), f"Metres a minute {WATCH}: {each}.")
    return told or [NOTHING_ELSE]


def sentence(row: Row) -> str:
    """``They string about 5 passes together, not 9.``"""
    now, before = reversed(counts(*both(row))) if row.measure in WHOLE else figures(row)
    return INSTEAD[row.measure].format(now, before)


def figures(row: Row) -> tuple[str, str]:
    """(with the change, without it), of a row that is known in both games."""
    first, second = both(row)
    return figure(row.unit, second), figure(row.unit, first)


def lost_a_bout(rows: Sequence[Row], seconds: tuple[float, float]) -> tuple[float, float] | None:
    """Losses in one bout by the watch, of both games: losses with the ball rolling, times how much of a bout it rolls."""
    known = {row.measure: row for row in rows if row.scope == "game"}
    lost, rolling = known[lead(known)], known.get("in_play_share")
    if rolling is None or not (is_known(lost) and is_known(rolling)):
        return None
    rates, shares = both(lost), both(rolling)
    return rates[0] * shares[0] * seconds[0] / 60, rates[1] * shares[1] * seconds[1] / 60


def counts(first: float, second: float) -> tuple[str, str]:
    """Two counts as whole numbers, or with two digits where these would be the same or say too little."""
    whole = f"{first:.0f}", f"{second:.0f}"
    if whole[0] != whole[1] and min(first, second) >= FEW:
        return whole
    return two(first).removesuffix(".0"), two(second).removesuffix(".0")
