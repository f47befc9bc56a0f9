"""Arguments and options that several commands share, so that they mean and say the same everywhere."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from sim.words.commands import Given, Option

GameName = Annotated[
    str, typer.Argument(metavar="GAME", help="The name of a shipped game (see `overload games`) or a game file.")
]
Seed = Annotated[int, typer.Option("--seed", min=0, help="Same seed, same answer.")]
Population = Annotated[
    str | None,
    typer.Option("--population", metavar="NAME", help="Play with these players instead of the file's, all teams."),
]
Changes = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="KEY=VALUE",
        help="Change one value of the file, e.g. --set areas.square.length=11.  May be given several times.",
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
Json = Annotated[
    str | None,
    typer.Option("--json", metavar="FILE|-", help="Write the answer as JSON to a file, or to the output with -."),
]
Workers = Annotated[int | None, typer.Option("--workers", min=1, help="Processes to use (default: one a processor).")]
Cluster = Annotated[
    str | None,
    typer.Option(
        "--cluster",
        metavar="ADDRESS",
        help="Play on the workers of this Dask scheduler instead, e.g. tcp://10.0.0.5:8786 (extra `cluster`).",
    ),
]


def given(
    command: str,
    game: str,
    seed: int,
    population: str | None,
    changes: Sequence[str] | None,
    assumptions: Path | None,
    *question: Option,
    others: Sequence[str] = (),
) -> Given:
    """How the user asked, for every command that an answer prints."""
    own = None if assumptions is None else str(assumptions)
    return Given(command, game, tuple(changes or ()), population, own, seed, tuple(others), question)
