"""The rules of a game as they are printed, but a sentence a line however long it is."""

from __future__ import annotations

from sim.game.model import Game
from sim.words.rules import blocks


def rules_said(game: Game) -> str:
    return "\n\n".join("\n".join([heading, *(f"  {line}" for line in lines)]) for heading, lines in blocks(game))
