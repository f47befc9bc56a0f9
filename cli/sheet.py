"""`overload sheet GAME --out FILE`: everything an assistant needs to lay the game out and run it, on both sides of one A4."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import say
from cli.scenario import scenario_of
from sim.game.timetable import DRINKS_MIN, EXPLAIN_MIN, MOST_MIN

SUFFIXES = (".html", ".htm", ".pdf")
BOUTS = 80
"""Of the game and of each change, as many as `overload adjust` plays, so that sheet and card say the same."""


def sheet(
    game: options.GameName,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE", help="Where the sheet goes, as .pdf or .html.")
    ] = None,
    explain: Annotated[int, options.bounded("--explain", 0, MOST_MIN, "Minutes to explain the game.")] = EXPLAIN_MIN,
    drinks: Annotated[
        int, options.bounded("--drinks", 0, MOST_MIN, "Minutes for drinks, half-way through.")
    ] = DRINKS_MIN,
    quick: Annotated[
        bool, typer.Option("--quick", help="At once, without playing: nothing on when to make it easier or harder.")
    ] = False,
    card: Annotated[
        Path | None,
        typer.Option(
            "--card", metavar="FILE", help="When to change what from this card, as `overload adjust --json` wrote it."
        ),
    ] = None,
    bouts: Annotated[
        int | None,
        options.bounded("--bouts", 1, options.MOST_BOUTS, f"Bouts of the game and of each change (default {BOUTS})."),
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    workers: options.Workers = None,
) -> None:
    """Print the sheet for whoever runs the game: ground, players, rules, kit, jobs, when to change what, and what to count."""
    from cli.files import asked_for, encoded, require_place, write_bytes
    from sim import __version__
    from sim.errors import InputError
    from sim.experiments.card_file import read_card
    from sim.experiments.levers import levers_of, unit_of

    out = asked_for(out, "sheet", game, "sheet.pdf")
    suffix = out.suffix.lower()
    if suffix not in SUFFIXES:
        raise InputError(f"must end in .pdf or .html (got {str(out)!r})", "--out")
    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    own = scenario.replaced()
    for option, given in (("--card", card), ("--bouts", bouts)):
        if quick and given is not None:
            raise InputError(f"must be left out with --quick, which plays nothing (got {str(given)!r})", option)
    if card is not None and bouts is not None:
        raise InputError(f"must be left out with --card, which has been played (got {bouts})", "--bouts")
    require_place("--out", out)
    found = None if card is None else read_card(card, chosen, scenario.changes, population)

    from sim.plots.on_sheet import drawing  # the heavy half, only for input that has been accepted
    from sim.report.sheet import sheet_page
    from sim.report.sheet_pdf import sheet_pdf
    from sim.report.sheet_setting import require_letters, setting_of
    from sim.words.sheet import sheet_of, sheet_written

    unit = unit_of(chosen, scenario.load)
    draw = drawing(chosen, "png" if suffix == ".pdf" else "svg", unit)
    playing = found is None and not quick
    made = sheet_of(chosen, __version__, found, scenario.changes, unit, explain, drinks)
    require_letters(made)  # refused before anything is played
    if playing:
        from cli.executors import executor_of
        from cli.progress import Progress
        from sim.experiments.adjust import GOALS, adjust
        from sim.experiments.key_measures import aims_of
        from sim.words.losses import lead

        levers, left_out = levers_of(chosen, scenario.load)
        aim = lead({measure for measure, _ in aims_of(chosen)}), "game", GOALS[0]
        with executor_of(workers, None) as executor, Progress("bouts") as progress:
            found = adjust(
                chosen,
                aim,
                levers,
                left_out,
                bouts=bouts or BOUTS,
                seed=seed,
                workers=executor,
                progress=progress,
                changes=scenario.changes,
                population=population,
                assumptions=own,
            )
        made = sheet_of(chosen, __version__, found, scenario.changes, unit, explain, drinks)
    set_so = setting_of(made, draw)
    write_bytes(out, sheet_pdf(made, set_so) if suffix == ".pdf" else encoded(sheet_page(made, set_so)))
    say(sheet_written(str(out), len(set_so.sides)), err=True)
