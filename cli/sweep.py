"""`overload sweep GAME --key side=8..14 --key touches=1,2,3`: the answer over many values, as one tidy table."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.plot import give_plot, measure_of, numbers_of, refuse_without, require_plot
from cli.scenario import scenario_of


def sweep(
    game: options.GameName,
    keys: Annotated[
        list[str],
        typer.Option(
            "--key",
            metavar="KEY=A,B,C|FROM..TO",
            help="What to change: a word as for `tune --knob` or a key as for --set.  May be given several times.",
        ),
    ],
    points: Annotated[
        int | None,
        typer.Option(
            "--spread", metavar="N", help="Play N combinations spread evenly over all of them, instead of every one."
        ),
    ] = None,
    bouts: Annotated[int, options.bounded("--bouts", 2, options.MOST_BOUTS, "Bouts of each run, at least.")] = 40,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
    details: options.Details = False,
    save: Annotated[
        Path | None,
        typer.Option(
            "--save",
            metavar="FILE",
            help="The table, as CSV.  Where one of the same sweep is there already, it is finished.",
        ),
    ] = None,
    table: Annotated[
        Path | None,
        typer.Option(
            "--table", metavar="FILE", help="The table once more at the end, as .csv or .parquet (extra `parquet`)."
        ),
    ] = None,
    plot: options.Plot = None,
    measure: Annotated[
        str | None,
        typer.Option(
            "--measure", metavar="MEASURE[.ROLE]", help="What --plot draws (if not given, what the game is about)."
        ),
    ] = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """How everything changes with size, touches or players: every combination, or a sample spread over them all."""
    from cli.files import encoded, keeper_at, write_bytes
    from sim.errors import InputError
    from sim.experiments.designs import axis_of, full_factorial, latin_hypercube
    from sim.experiments.stopping_rule import key_measure_of
    from sim.experiments.sweep import Lines, as_parquet, lines_of, runs_of, text_of

    scenario = scenario_of(game, seed, population, changes, assumptions)
    base = scenario.load()
    own = scenario.replaced()
    axes = [axis_of(one) for one in keys]
    design = full_factorial(axes) if points is None else latin_hypercube(axes, points, seed)
    runs = runs_of(base, axes, design, bouts, seed, scenario.load, own)
    if table is not None:
        require_table(table, save)
    numbers = numbers_of(plot, save, table)
    require_plot(plot, save, table, numbers=numbers)
    refuse_without(plot, measure=measure)
    if plot is not None and len(axes) > 2:
        raise InputError(f"must go with one key or two (got {len(axes)})", "--plot")
    about = None if plot is None else measure_of(measure or key_measure_of(base), [base, *(run.game for run in runs)])
    keeper = keeper_at(save)
    done: Lines = {}
    if save is not None and save.exists():
        done = lines_of(save.read_text(encoding="utf-8", errors="replace"), axes, runs, "--save")

    from cli.executors import executor_of
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.levers import unit_of
    from sim.experiments.sweep import sweep as sweep_game
    from sim.words.sweep_details import Swept, details_of_swept
    from sim.words.sweep_screen import swept_on_a_screen

    def keep(lines: Lines) -> None:
        keeper(encoded(text_of(axes, lines)))

    with executor_of(workers, cluster) as executor, Progress("bouts") as progress:
        found = sweep_game(runs, bouts, seed, executor, progress, done, keep, assumptions=own)
    asked = scenario.given(
        "sweep", ("--key", tuple(keys)), ("--spread", points), ("--bouts", bouts), ("--details", details), ("--save", save),
        ("--table", table), ("--plot", plot), ("--measure", measure), ("--workers", workers), ("--cluster", cluster),
        played=base,
    )  # fmt: skip
    length = unit_of(base, scenario.load)
    swept = Swept(base, axes, runs, found, own, length)
    screen = swept_on_a_screen(swept, None if save is None else str(save), asked)
    say(f"{screen}\n\n{details_of_swept(swept, console_width())}" if details else screen)
    keeper.settle()
    if table is not None:
        write_bytes(table, as_parquet(text_of(axes, found)) if is_parquet(table) else encoded(text_of(axes, found)))
    if plot is not None and about is not None and found:
        from sim.plots.pages import of_sweep

        give_plot(plot, of_sweep(base, axes, (runs, found), about, scenario.changes, own, length), numbers)


def is_parquet(table: Path) -> bool:
    """Whether a table of this name is written as Parquet, else as CSV."""
    return table.suffix.lower() == ".parquet"


def require_table(table: Path, save: Path | None) -> None:
    """Refuse a suffix we cannot write, a place that cannot be written, and Parquet without its extra."""
    from importlib.util import find_spec

    from cli.files import require_place
    from sim.errors import InputError

    if not is_parquet(table) and table.suffix.lower() != ".csv":
        raise InputError(f"must end in .csv or .parquet (got {str(table)!r})", "--table")
    require_place("--table", table)
    if save is not None and save.resolve() == table.resolve():
        raise InputError(f"must be another file than that of --save (got {str(save)!r} for both)", "--table")
    if is_parquet(table) and find_spec("pyarrow") is None:
        raise InputError(
            "must have the extra: pip install 'quillhaven-overload[parquet]' (got no pyarrow here)", "--table"
        )
