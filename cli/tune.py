"""`overload tune GAME --knob KEY --from A --to B --target MEASURE=VALUE`: one knob, in whole steps, to a target."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli.options import Changes, GameName, Population, Seed

if TYPE_CHECKING:
    from sim.game.model import Game

MOST_VALUES = 40


def tune(
    game: GameName,
    knob: Annotated[
        str,
        typer.Option(
            "--knob", metavar="KEY", help="What to turn: a key as for --set, `side` or `AREA.side` for a size."
        ),
    ],
    start: Annotated[int, typer.Option("--from", help="Smallest value, a whole number.")],
    end: Annotated[int, typer.Option("--to", help="Largest value, a whole number.")],
    target: Annotated[
        str,
        typer.Option(
            "--target", metavar="MEASURE=VALUE", help="E.g. turnovers_per_min=3 or distance_per_min.inside=90."
        ),
    ],
    bouts: Annotated[int, typer.Option("--bouts", min=1, help="Bouts for each value; more where it is close.")] = 40,
    seed: Seed = 1,
    population: Population = None,
    changes: Changes = None,
    json: Annotated[
        str | None,
        typer.Option("--json", metavar="FILE|-", help="Write the answer as JSON to a file, or to the output with -."),
    ] = None,
    workers: Annotated[
        int | None, typer.Option("--workers", min=1, help="Processes to use (default: one a processor).")
    ] = None,
) -> None:
    """Which size, number of players or touches gives so many turnovers a minute?"""
    from cli.files import require_place, write_whole
    from sim import load_game
    from sim.errors import GameError

    if not 1 <= end - start < MOST_VALUES:
        raise GameError(f"--to must be above --from, by less than {MOST_VALUES} (got {start} to {end})")
    base = load_game(game, changes or (), population)
    key = target_of(target, base)
    candidates = {
        value: load_game(game, [*(changes or ()), *turned(base, knob, value)], population)
        for value in range(start, end + 1)
    }
    if json not in (None, "-"):
        require_place("--json", Path(json))

    from cli.progress import Progress  # the heavy half, only for input that has been accepted
    from sim.experiments.tune import tune as tune_game
    from sim.words.tuned import tuned_in_words

    with Progress("runs") as progress:
        found = tune_game(
            base,
            candidates,
            knob,
            key,
            bouts=bouts,
            seed=seed,
            workers=workers,
            progress=progress,
            changes=changes or (),
        )
    if json == "-":
        typer.echo(found.to_json())
        return
    if json is not None:
        write_whole(Path(json), found.to_json() + "\n")
    typer.echo(tuned_in_words(found))


def turned(game: Game, knob: str, value: int) -> list[str]:
    """The changes that put a knob at a value; a side keeps the shape of its area, in whole metres."""
    from sim.errors import GameError

    area, dot, what = knob.rpartition(".")
    if what != "side" or "." in area:
        return [f"{knob}={value}"]
    start = game.area(game.start_area)
    areas = [
        one
        for one in game.areas
        if (one.name == area if dot else (one.length, one.width) == (start.length, start.width))
    ]
    if not areas:
        raise GameError(f"must name an area: {', '.join(one.name for one in game.areas)} (got {area})", "--knob")
    return [
        f"areas.{one.name}.{side}={size}"
        for one in areas
        for side, size in (("length", value), ("width", round(value * one.width / one.length)))
    ]


def target_of(text: str, game: Game) -> tuple[str, str, float]:
    """MEASURE=VALUE or MEASURE.ROLE=VALUE as typed."""
    from sim.errors import GameError
    from sim.experiments.headline import keys_of

    name, _, number = text.partition("=")
    measure, _, role = name.strip().partition(".")
    known = [one if scope == "game" else f"{one}.{scope.removeprefix('role:')}" for one, scope in keys_of(game)]
    if name.strip() not in known:
        raise GameError(f"must name one of: {', '.join(known)} (got {name.strip()})", "--target")
    try:
        return measure, f"role:{role}" if role else "game", float(number)
    except ValueError:
        raise GameError(f"must read MEASURE=VALUE, a number (got {text!r})", "--target") from None
