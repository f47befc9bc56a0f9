"""`overload compare GAME --change KEY=VALUE`: the same game with a tweak, or two games, over the same sessions."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli.options import Changes, GameName, Population, Seed


def compare(
    game: GameName,
    other: Annotated[
        str | None, typer.Argument(metavar="[OTHER]", help="Another game to compare with, instead of --change.")
    ] = None,
    tweak: Annotated[
        list[str] | None,
        typer.Option(
            "--change",
            metavar="KEY=VALUE",
            help="What the second arm has different, with the same keys as --set.  Several together are one tweak.",
        ),
    ] = None,
    bouts: Annotated[
        int, typer.Option("--bouts", min=1, help="Play whole sessions until GAME has at least so many bouts.")
    ] = 200,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    worthwhile: Annotated[
        list[str] | None,
        typer.Option(
            "--worthwhile",
            metavar="MEASURE=SHARE",
            help="Smallest difference that matters, as a share of GAME's value, e.g. turnovers_per_min=0.15.",
        ),
    ] = None,
    json: Annotated[
        str | None,
        typer.Option("--json", metavar="FILE|-", help="Write the answer as JSON to a file, or to the output with -."),
    ] = None,
    workers: Annotated[
        int | None, typer.Option("--workers", min=1, help="Processes to use (default: one a processor).")
    ] = None,
) -> None:
    """Does a tweak make a difference, how large is it, and would you see it on the grass?"""
    from cli.files import require_place, write_whole
    from sim import load_game
    from sim.errors import GameError

    if (other is None) == (not tweak):
        got = "neither" if other is None else "both"
        raise GameError(f"compare must be given either --change or a second game (got {got})")
    base = tuple(changes or ())
    second_changes = with_tweak(base, tuple(tweak or ()))
    first = load_game(game, base, population)
    try:
        second = load_game(other or game, second_changes, population)
    except GameError as error:
        raise GameError(error.problems, source_of(error.source, tweak or ())) from None
    shares = dict(share_of(one) for one in worthwhile or ())
    if json not in (None, "-"):
        require_place("--json", Path(json))

    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.compare import compare as compare_games
    from sim.words.comparison import comparison_in_words

    with Progress("bouts") as progress:
        found = compare_games(
            first,
            second,
            bouts=bouts,
            seed=seed,
            workers=workers,
            progress=progress,
            changes=(base, second_changes),
            worthwhile=shares,
            population=population,
        )
    if json == "-":
        typer.echo(found.to_json())
        return
    if json is not None:
        write_whole(Path(json), found.to_json() + "\n")
    typer.echo(comparison_in_words(found))


def with_tweak(base: tuple[str, ...], tweak: tuple[str, ...]) -> tuple[str, ...]:
    """What the second arm is loaded with: a tweak takes the place of a --set of the same key."""
    keys = {key_of(one) for one in tweak}
    return (*(one for one in base if key_of(one) not in keys), *tweak)


def key_of(change: str) -> str:
    return change.partition("=")[0].strip()


def source_of(source: str, tweak: list[str] | tuple[str, ...]) -> str:
    """A complaint about a tweak names --change; the loader only knows --set."""
    if tweak and source.startswith("--set"):
        return "--change" + source.removeprefix("--set")
    return source


def share_of(text: str) -> tuple[str, float]:
    """MEASURE=SHARE as typed."""
    from sim.errors import GameError

    measure, _, share = text.partition("=")
    try:
        return measure.strip(), float(share)
    except ValueError:
        raise GameError(f"must read MEASURE=SHARE, a share such as 0.1 (got {text!r})", "--worthwhile") from None
