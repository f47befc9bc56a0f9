"""Options that somebody guesses: the name of something that can be set, typed as an option of its own."""

from __future__ import annotations

import typer

MISTYPED = typer.BadParameter.__mro__[1]  # what typer raises for every wrong command line; it has no public name


def meant_by(error: Exception) -> str | None:
    """What to write instead of ``--touches 1``; None where no everyday name was meant."""
    from sim.game.everyday import NAMES  # heavy: only where something is wrong

    option = str(getattr(error, "option_name", ""))
    word = option.removeprefix("--")
    return f"{option} is not an option: write --set {word}=VALUE" if option != word and word in NAMES else None
