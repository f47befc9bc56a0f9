"""`overload rotate GAME --players 7 --minutes 15`: who is in the middle, outside and resting in which bout, so that it is fair."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import say
from cli.scenario import scenario_of
from sim.game.bounds import MOST_PLAYERS

if TYPE_CHECKING:
    from sim.game.model import Game
    from sim.planning.rotating import Rotation

MOST_MINUTES = 240


def rotate(
    game: options.GameName,
    players: Annotated[
        int | None, options.bounded("--players", 2, MOST_PLAYERS, "How many take part, keepers not counted.")
    ] = None,
    names: Annotated[
        str | None, typer.Option("--names", metavar="NAMES", help="Who takes part, with commas between: Ann,Bea,Cy.")
    ] = None,
    minutes: Annotated[
        int | None,
        options.bounded("--minutes", 1, MOST_MINUTES, "How long you have, from the first whistle to the last."),
    ] = None,
    bouts: Annotated[
        int | None, options.bounded("--bouts", 1, 60, "So many bouts (default: as many as make it equal).")
    ] = None,
    resting: Annotated[
        int | None,
        options.bounded(
            "--resting", 0, MOST_PLAYERS, "How many rest at a time (default: as many as the game has no place for)."
        ),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE", help="Write the list there, as .csv, a row a bout.")
    ] = None,
    seed: options.Seed = 1,
    population: options.Population = None,
    changes: options.Changes = None,
    workers: options.Workers = None,
) -> None:
    """A list of bouts with names, shared out as evenly as can be, and whether that is equal."""
    from cli.files import encoded, require_place, write_together
    from sim.errors import InputError
    from sim.planning.rotating import Wish, names_of, rotation

    scenario = scenario_of(game, seed, population, changes)
    chosen = scenario.load()
    if out is not None:
        require_place("--out", out)
        if out.suffix.lower() != ".csv":
            raise InputError(f"must end in .csv (got {str(out)!r})", "--out")
    found = rotation(chosen, Wish(names_of(players, names), minutes, bouts, resting))
    nobody_rests = all_in(chosen, found)

    from cli.executors import executor_of
    from cli.progress import Progress
    from cli.shelf import shelf_of
    from sim.planning.block_loads import loads_of
    from sim.planning.luck_in_turn import game_of_luck, without_ball
    from sim.words.rotate_screen import list_as_csv, rotation_on_a_screen

    luck, played = None, game_of_luck(found)
    if played is not None:
        with executor_of(workers, None) as executor, Progress("bouts") as progress:
            luck = without_ball(found, loads_of((played,), shelf_of(), seed, None, executor, progress)[0])
    if out is not None:
        write_together({out: encoded(list_as_csv(found))})
    given = scenario.given(
        "rotate", ("--players", players), ("--names", names), ("--minutes", minutes), ("--bouts", bouts), ("--resting", resting),
        ("--out", out), played=chosen,
    )  # fmt: skip
    say(rotation_on_a_screen(found, luck, nobody_rests, None if out is None else str(out), given))


def all_in(game: Game, found: Rotation) -> Rotation | None:
    """The same with nobody resting; None where nobody does, where that was settled, or where the game does not hold so many."""
    from dataclasses import replace

    from sim.errors import InputError
    from sim.planning.rotating import RESTING, rotation

    if found.wish.resting is not None or RESTING not in dict(found.jobs):
        return None
    try:
        return rotation(game, replace(found.wish, resting=0))
    except InputError:
        return None
