"""What a player is called wherever he is named to people: by the name written in the file, else by team and number.

Ids (``squad-3``) stay what everything is keyed by, and what is written in a game file.
"""

from __future__ import annotations

from sim.game.model import Game, Player


def written(player: Player) -> bool:
    """Whether the file gives him a name of his own ("Ali", or "7" in quotation marks)."""
    return player.id != f"{player.team}-{player.number}"


def called(player: Player) -> str:
    """``Ali``, or ``squad 3`` for a player without a written name."""
    return player.id if written(player) else f"{player.team} {player.number}"


def names_of(game: Game) -> dict[str, str]:
    """What each player is called, by id."""
    return {player.id: called(player) for player in game.players}
