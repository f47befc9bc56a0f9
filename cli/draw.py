"""`overload draw GAME --out FILE`: the game as a diagram to scale."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import say
from cli.scenario import scenario_of

SUFFIXES = (".png", ".svg", ".pdf")


def draw(
    game: options.GameName,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE", help="Where to draw it, as .png, .svg or .pdf.")
    ] = None,
    changes: options.Changes = None,
) -> None:
    """Draw a game to scale: areas and goals in metres and paces, who starts where, the balls, and what unlocks what."""
    from cli.files import asked_for, require_place, write_bytes
    from sim.errors import InputError
    from sim.experiments.levers import unit_of

    out = asked_for(out, "draw", game, "diagram.png")
    if out.suffix.lower() not in SUFFIXES:
        raise InputError(f"must end in {', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]} (got {str(out)!r})", "--out")
    require_place("--out", out)
    scenario = scenario_of(game, 1, None, changes)
    chosen = scenario.load()
    unit = unit_of(chosen, scenario.load)

    from sim.plots.diagram import diagram  # the heavy half, only for input that has been accepted
    from sim.words.diagram_words import drawn

    write_bytes(out, diagram(chosen, out.suffix.lower().removeprefix("."), scenario.changes, unit))
    say(drawn(str(out)), err=True)
