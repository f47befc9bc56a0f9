"""What players are called in a picture: by the name in the file, else by shirt number, with the bibs where there are several."""

from __future__ import annotations

from sim.game.model import Game
from sim.game.names import called, written


def said_names(game: Game) -> dict[str, str]:
    """``player 3`` where all wear the same bibs, ``amber 3`` where not, by id."""
    alone = len({player.team for player in game.players}) == 1
    return {
        player.id: f"player {player.number}" if alone and not written(player) else called(player) for player in game.players
    }
