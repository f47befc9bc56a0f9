"""Arguments and options that several commands share, so that they mean and say the same everywhere.

A command imports this module as one name and writes ``seed: options.Seed = 1``.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from cli.console import say
from sim.errors import InputError

MOST_SEED = 2**53 - 1  # the largest whole number that every reader of JSON keeps exact
MOST_BOUTS = 100_000  # about a day on a small machine; more is what --extend is for
MOST_WORKERS = 1024  # more than any one machine has
MOST_STEP = 150  # metres: no side is longer
MOST_PEOPLE = 1000  # more than turn up anywhere
MOST_ROWS = 1000  # of a table to be read


def by_numbers(ctx: typer.Context, typed: str) -> str:
    """The shipped game that is meant by its numbers (4v2), and a word about which it is; anything else as it is."""
    if ctx.resilient_parsing:  # a shell asks what could be typed next: nothing is said
        return typed
    from sim.game.loader import load_game, shipped_name
    from sim.words.shipped import by_its_numbers

    name = shipped_name(typed)
    if name != typed:
        say(by_its_numbers(typed, name, load_game(name).title), err=True)
    return name


def preset(typed: str | None) -> str | None:
    """The population that is meant by what was typed, where there is one: the game refuses what is none."""
    from sim.populations import named

    return typed if typed is None else named(typed) or typed


def bounded(option: str, least: int, most: int, words: str) -> Any:
    """An option that is a whole number from `least` to `most`, refused in one line before anything is built from it."""

    def within(value: int | None) -> int | None:
        if value is not None and not least <= value <= most:
            got = str(value) if abs(value) < 10**20 else "a far longer number"
            raise InputError(f"must be from {least} to {most} (got {got})", option)
        return value

    return typer.Option(option, callback=within, help=words)


# What is played

GameName = Annotated[
    str,
    typer.Argument(
        metavar="GAME",
        callback=by_numbers,
        help="The name of a shipped game (see `overload games`), its numbers (4v2) or a game file.",
    ),
]
Changes = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="KEY=VALUE",
        help="Change one value of the file, e.g. --set side=9 or touches=1.  May be given several times.",
    ),
]
Population = Annotated[
    str | None,
    typer.Option(
        "--population",
        metavar="NAME",
        callback=preset,
        help="Play with these players instead of the file's, all teams.",
    ),
]
Assumptions = Annotated[
    Path | None,
    typer.Option(
        "--assumptions",
        metavar="FILE",
        help="A file of your own assumptions, in place of ours (see `overload assumptions --template`).",
    ),
]
Seed = Annotated[int, bounded("--seed", 0, MOST_SEED, "Same seed, same answer.")]
BoutNumber = Annotated[
    int, typer.Option("--bout", metavar="N", min=1, help="Which bout of the session, counted from 1.")
]

# Where it is played

Workers = Annotated[
    int | None, bounded("--workers", 1, MOST_WORKERS, "How many processes play (default: one a processor).")
]
Cluster = Annotated[
    str | None,
    typer.Option(
        "--cluster",
        metavar="ADDRESS",
        help="Play on the workers of this Dask scheduler instead, e.g. tcp://10.0.0.5:8786 (extra `cluster`).",
    ),
]
Save = Annotated[
    Path | None,
    typer.Option(
        "--save",
        metavar="FILE",
        help="Keep what is played: a run that was stopped goes on with the same command.",
    ),
]

# What is kept

Logbook = Annotated[
    Path | None,
    typer.Option(
        "--logbook",
        metavar="FILE",
        envvar="OVERLOAD_LOGBOOK",
        help="Your logbook: one file with forecasts and counts (made if it is not there).",
    ),
]

# How it is answered

Details = Annotated[bool, typer.Option("--details", help="Everything there is to say: all tables, all columns.")]
Json = Annotated[
    str | None,
    typer.Option("--json", metavar="FILE|-", help="Write the answer as JSON to a file, or to the output with -."),
]
Plot = Annotated[
    Path | None,
    typer.Option(
        "--plot", metavar="FILE", help="Draw it, as .png, .svg or .pdf; the numbers in it go beside it as .csv."
    ),
]
Replay = Annotated[
    Path | None,
    typer.Option(
        "--replay", metavar="FILE", help="A typical bout of each side by side, as .html: a page to watch in a browser."
    ),
]
Report = Annotated[
    Path | None,
    typer.Option(
        "--report",
        metavar="FILE",
        help="A page for the staff meeting, as .html: the answer, a picture, bouts to watch, what matters most, what to count.",
    ),
]
