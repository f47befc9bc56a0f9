"""`overload draw GAME --out FILE`: the game as a diagram to scale."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli.console import say
from cli.options import Changes, GameName

SUFFIXES = (".png", ".svg", ".pdf")


def draw(
    game: GameName,
    out: Annotated[Path, typer.Option("--out", metavar="FILE", help="Where to draw it, as .png, .svg or .pdf.")],
    changes: Changes = None,
) -> None:
    """Draw a game to scale: areas and goals in metres and paces, who starts where, the balls, and what unlocks what."""
    from cli.files import require_place, write_bytes
    from sim.errors import InputError
    from sim.experiments.levers import unit_of
    from sim.game.loader import load_game

    if out.suffix.lower() not in SUFFIXES:
        raise InputError(f"must end in {', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]} (got {str(out)!r})", "--out")
    require_place("--out", out)
    own = changes or ()
    chosen = load_game(game, own)
    unit = unit_of(chosen, lambda more: load_game(game, (*own, *more)))

    from sim.plots.diagram import diagram  # the heavy half, only for input that has been accepted
    from sim.words.diagram_words import drawn

    write_bytes(out, diagram(chosen, out.suffix.lower().removeprefix("."), own, unit))
    say(drawn(str(out)), err=True)
