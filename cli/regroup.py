"""`overload regroup GAME --players 16 --restricted 1 --keepers 2`: the game for who turned up."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import say
from cli.scenario import scenario_of


def regroup(
    game: options.GameName,
    players: Annotated[
        int | None, options.bounded("--players", 1, options.MOST_PEOPLE, "How many turned up, keepers not counted.")
    ] = None,
    restricted: Annotated[
        int, options.bounded("--restricted", 0, options.MOST_PEOPLE, "How many of them are on reduced load.")
    ] = 0,
    most_bouts: Annotated[
        int | None, options.bounded("--most-bouts", 1, 60, "How many bouts those on reduced load may play at most.")
    ] = None,
    keepers: Annotated[int, options.bounded("--keepers", 0, options.MOST_PEOPLE, "Keepers besides.")] = 0,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="DIR", help="Write every set-up as a game file into this folder.")
    ] = None,
    bouts: Annotated[
        int | None,
        options.bounded("--bouts", 1, options.MOST_BOUTS, "Bouts of the game and of each group (default: 8 to 24)."),
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    workers: options.Workers = None,
) -> None:
    """Two or three set-ups for who turned up, the nearest to what was planned first."""
    from cli.files import require_makeable, write_into
    from sim.errors import InputError
    from sim.groups.brief import brief
    from sim.groups.plans import Turnout, one_fewer, plans

    scenario = scenario_of(game, seed, population, changes)
    chosen = scenario.load()
    if players is None:
        raise InputError("must be given: how many turned up, keepers not counted", "--players")
    turnout = Turnout(players, restricted, keepers, most_bouts)
    if out is not None:
        require_makeable("--out", out)
    plans(chosen, turnout)  # refused before anything is played

    from cli.executors import executor_of
    from cli.progress import Progress
    from sim.groups.regroup import regroup as regroup_game
    from sim.groups.regroup import usual_bouts
    from sim.words.regroup_screen import file_names, regrouped_on_a_screen

    with executor_of(workers, None) as executor, Progress("bouts") as progress:
        found = regroup_game(chosen, turnout, bouts or usual_bouts(chosen), seed, executor, progress)
    files = {} if out is None else file_names(found)
    given = scenario.given(
        "regroup", ("--players", players), ("--restricted", restricted or None), ("--keepers", keepers or None),
        ("--most-bouts", most_bouts), ("--bouts", bouts), played=chosen,
    )  # fmt: skip
    if out is not None:
        write_into(out, {name: brief(one) for name, one in files.items()})
    shorter = one_fewer(chosen, turnout, found.set_ups[0].plan)
    say(regrouped_on_a_screen(found, [str(out / name) for name in files] if out else [], shorter, given))
