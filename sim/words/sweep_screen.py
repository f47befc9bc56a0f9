"""The small screen of a sweep: a short table that begins with what was varied, and where the whole of it lies."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.key_measures import LOST
from sim.experiments.provenance import replacements
from sim.experiments.sweep import Run, cautions_of
from sim.game.model import Game
from sim.words.assumptions import own_assumptions
from sim.words.clocks import ROLLING, WATCH
from sim.words.commands import Given
from sim.words.figures import two
from sim.words.measure_names import wording
from sim.words.screen import LINES, WIDTH, Screen
from sim.words.setting_up import question_line, spelt_time
from sim.words.sweep_details import Swept, columns_of, figures_of, values_of
from sim.words.tables import table

MOST_ROWS = 8
FEWEST_ROWS = 3
SHARE = "in_play_share"
ABOUT = ("transfers_per_min", "break_aways_per_bout", "goals_per_bout")
"""What a game may be about besides losses; the clock stands in the line above."""
HEAD = ("a bout", "a minute", "give or take", "ball rolling")
UNKNOWN = "-"


def swept_on_a_screen(swept: Swept, place: str | None, given: Given | None = None) -> str:
    """As many runs as fit; `place`: where the whole table is kept; `given`: how the user asked."""
    base, axes, runs, found, unit = swept.base, swept.axes, swept.runs, swept.found, swept.unit
    done = [run for run in runs if run.id in found]
    measures = columns_of(base)
    about = next((one for one in measures if one in ABOUT), None)
    head = [*(axis.key for axis in axes), *HEAD, *([wording(about).rate(False)] if about else [])]
    rows = [
        [*values_of(axes, run, unit), *cells_of_run(found[run.id], run.game, measures, about, len(axes))]
        for run in done
    ]
    question = question_line(base, f"{len(found)} of {len(runs)} runs", unit)
    foot = [*cautions_of(axes, runs, found)]
    foot = [*foot[:-1], *own_assumptions(replacements(swept.assumptions), swept.assumptions.own_data), foot[-1]]
    doing = to_go_on(len(runs) - len(found), place, given) + [where(place)]
    text = ""
    for count in range(min(MOST_ROWS, len(rows)), min(FEWEST_ROWS, len(rows)) - 1, -1):
        shown = table(head, rows[:count], WIDTH, range(len(axes))).splitlines() if rows else []
        more = [f"and {len(rows) - count} more: --details"] if count < len(rows) else []
        text = Screen(question, [clocks(done, about), *shown, *more], [], doing, foot).text()
        if len(text.splitlines()) <= LINES:
            break
    return text


def clocks(done: Sequence[Run], about: str | None) -> str:
    """What the columns are, each with its clock."""
    lengths = {run.game.bouts.seconds for run in done}
    bout = f"a bout of {spelt_time(lengths.pop())}" if len(lengths) == 1 else "a bout, as long as each has it,"
    if about is None:
        return f"Losses {bout} {WATCH}, and a minute {ROLLING}:"
    also = wording(about).rate(False).partition(" ")[0]
    by_bout = wording(about).per == "bout"
    first, second = (f"Losses and {also}", "losses") if by_bout else ("Losses", f"losses and {also}")
    return f"{first} {bout} {WATCH}; {second} a minute {ROLLING}:"


def cells_of_run(
    cells: list[list[str]], game: Game, measures: Sequence[str], about: str | None, keys: int
) -> list[str]:
    """Losses a bout and a minute, our doubt, how much of the watch the ball rolls, and what else the game is about."""
    lost = next(one for one in measures if one in (LOST, "turnovers_per_min"))
    (rate, low, high), _ = figures_of(cells, lost, keys)
    (rolling, _, _), _ = figures_of(cells, SHARE, keys)
    bout = None if rate is None or rolling is None else rate * rolling * game.bouts.seconds / 60
    doubt = None if low is None or high is None else (high - low) / 2
    row = [
        figure_or_dash(bout),
        figure_or_dash(rate),
        figure_or_dash(doubt),
        UNKNOWN if rolling is None else f"{100 * rolling:.0f} %",
    ]
    return [*row, figure_or_dash(figures_of(cells, about, keys)[0][0])] if about else row


def figure_or_dash(value: float | None) -> str:
    """Two digits; a dash where it is not known."""
    return UNKNOWN if value is None else two(value)


def where(place: str | None) -> str:
    """Where all of it lies, or how to keep it."""
    return f"All measures of all runs: {place}" if place else "To keep all measures of all runs: --save FILE."


def to_go_on(missing: int, place: str | None, given: Given | None) -> list[str]:
    """What is missing where it was stopped, and how to go on."""
    if not missing:
        return []
    said = f"Stopped early: {missing} {'run is' if missing == 1 else 'runs are'} missing"
    if place and given is not None:
        return [f"{said}. To go on:", f"  {given.again()}"]
    return [f"{said}; {'the same command goes on' if place else 'with --save the same command would go on'}."]
