"""`overload sweep GAME --key side=8..14 --key touches=1,2,3`: the answer over many values, as one tidy table."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli.console import columns, say
from cli.options import (
    MOST_BOUTS,
    Assumptions,
    Changes,
    Cluster,
    Details,
    GameName,
    Population,
    Seed,
    Workers,
    bounded,
    given,
)
from cli.plot import Plot, give_plot, measure_of, numbers_of, refuse_without, require_plot


def sweep(
    game: GameName,
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
    bouts: Annotated[int, bounded("--bouts", 2, MOST_BOUTS, "Bouts of each run, at least.")] = 40,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    assumptions: Assumptions = None,
    details: Details = False,
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
    plot: Plot = None,
    measure: Annotated[
        str | None,
        typer.Option(
            "--measure", metavar="MEASURE[.ROLE]", help="What --plot draws (if not given, what the game is about)."
        ),
    ] = None,
    workers: Workers = None,
    cluster: Cluster = None,
) -> None:
    """How everything changes with size, touches or players: every combination, or a sample spread over them all."""
    from cli.files import Keeper, encoded, require_place, write_bytes
    from sim import load_game
    from sim.errors import InputError
    from sim.experiments.assumption_file import read_or_none
    from sim.experiments.stopping_rule import key_measure_of
    from sim.experiments.sweep import as_parquet, axis_of, full, lines_of, runs_of, spread, text_of
    from sim.words.commands import with_tweak

    whole = tuple(changes or ())
    base = load_game(game, whole, population)
    own = read_or_none(assumptions)
    axes = [axis_of(one) for one in keys]
    design = full(axes) if points is None else spread(axes, points, seed)
    runs = runs_of(
        base, axes, design, bouts, seed, lambda turn: load_game(game, with_tweak(whole, tuple(turn)), population), own
    )
    if table is not None:
        require_table(table, save)
    numbers = numbers_of(plot, save, table)
    require_plot(plot, save, table, numbers=numbers)
    refuse_without(plot, measure=measure)
    if plot is not None and len(axes) > 2:
        raise InputError(f"must go with one key or two (got {len(axes)})", "--plot")
    about = () if plot is None else measure_of(measure or key_measure_of(base), [base, *(run.game for run in runs)])
    done = {}
    if save is not None:
        require_place("--save", save, again=True)
        if save.exists():
            done = lines_of(save.read_text(encoding="utf-8", errors="replace"), axes, runs, "--save")

    from cli.executors import crew
    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.levers import unit_of
    from sim.experiments.sweep import sweep as sweep_game
    from sim.words.sweep_details import Swept, details_of_swept
    from sim.words.sweep_screen import swept_on_a_screen

    keeper = Keeper(save)

    def keep(lines: dict) -> None:
        keeper(encoded(text_of(axes, lines)))

    with crew(workers, cluster) as hands, Progress("bouts") as progress:
        found = sweep_game(runs, bouts, seed, hands, progress, done, keep, assumptions=own)
    said = given(
        "sweep", game, seed, population, changes, assumptions,
        ("--key", tuple(keys)), ("--spread", points), ("--bouts", bouts), ("--details", details), ("--save", save),
        ("--table", table), ("--plot", plot), ("--measure", measure), ("--workers", workers), ("--cluster", cluster),
        played=base,
    )  # fmt: skip
    length = unit_of(base, lambda turn: load_game(game, with_tweak(whole, tuple(turn)), population))
    swept = Swept(base, axes, runs, found, own, length)
    screen = swept_on_a_screen(swept, None if save is None else str(save), said)
    say(f"{screen}\n\n{details_of_swept(swept, columns())}" if details else screen)
    keeper.settle()
    if table is not None:
        write_bytes(table, as_parquet(text_of(axes, found)) if is_parquet(table) else encoded(text_of(axes, found)))
    if plot is not None and found:
        from sim.plots.pages import of_sweep

        give_plot(plot, of_sweep(base, axes, (runs, found), about, whole, own, length), numbers)


def is_parquet(table: Path) -> bool:
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
