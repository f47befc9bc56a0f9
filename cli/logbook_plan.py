"""`overload logbook plan GAME`: keep what is forecast for a game before it is played, to be judged by it afterwards."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Annotated

import typer

from cli import options
from cli.scenario import scenario_of

MOST_AHEAD = timedelta(days=365)
"""So far ahead a session is planned at most: what is further off is a slip of the pen."""


def plan(
    game: options.GameName,
    day: Annotated[str | None, typer.Option("--date", metavar="YYYY-MM-DD", help="For when (usual: today).")] = None,
    logbook: options.Logbook = None,
    bouts: Annotated[
        int | None, options.bounded("--bouts", 1, options.MOST_BOUTS, "Bouts of the forecast (usual: 200 sessions).")
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    save: options.Save = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """Keep the forecast of a game now; what is counted that day is judged by it."""
    from cli import days
    from cli.files import keeper_at
    from cli.own_logbook import logbook_at
    from sim.own_counts.planning import add_plan, require_plannable

    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    own = scenario.replaced()
    when = day_typed(day, days.today())
    asked = scenario.given("tally", ("--logbook", logbook), others=("FILE.csv",), played=chosen)
    keeper = keeper_at(save)

    from cli.console import say
    from cli.drawer import drawer
    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.replicate import Replication
    from sim.own_counts.forecast import forecast_of, key_of, lengthened
    from sim.own_counts.verdict import ENOUGH
    from sim.words.kept_plan_screen import STOPPED, planned_in_words

    planned = lengthened(chosen, chosen.bouts.count)
    wanted = bouts or ENOUGH * planned.bouts.count
    with logbook_at(logbook, new=True) as book:
        require_plannable(book, when, chosen.title)
        with executor_of(workers, cluster) as executor, Progress("bouts") as progress, drawer(keeper, chosen) as held:
            run = Replication(seed, executor, progress, assumptions=own, drawer=held)
            key, _ = key_of(planned, wanted, run)
            found = book.forecast(key) or forecast_of(planned, wanted, run)
        keeper.settle()
        if found.key != key:
            say(STOPPED, err=True)
            return
        book.add_forecast(found, chosen.title, game)
        kept = add_plan(book, found, when, chosen.title, game)
        say(planned_in_words(kept, found, chosen, asked.again()))


def day_typed(text: str | None, today: date) -> str:
    """The day that is planned for; refused where it is none, or has been."""
    from sim.errors import InputError

    try:
        found = today if text is None else date.fromisoformat(text)
    except ValueError:
        raise InputError(f"must be year-month-day, such as {today} (got {text!r})", "--date") from None
    if found < today:
        raise InputError(f"must be today or later: a plan comes before the session (got {found})", "--date")
    if found - today > MOST_AHEAD:
        raise InputError(f"must be {today + MOST_AHEAD} at the latest, a year from today (got {found})", "--date")
    return found.isoformat()
