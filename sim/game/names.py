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


def only_team(game: Game) -> str | None:
    """The bibs that need no name: those of everybody but keepers, where they are all of one team."""
    keeping = {role.name for role in game.roles if role.style == "goal"}
    outfield = {player.team for player in game.players if player.role not in keeping}
    return outfield.pop() if len(outfield) == 1 else None


def spoken_of(game: Game) -> dict[str, str]:
    """What each player is called in a sentence, by id: "player 3" where only one team has more than keepers, as on his back."""
    own = only_team(game)
    taken = {called(player) for player in game.players}
    found = {}
    for player in game.players:
        short = f"player {player.number}"
        found[player.id] = called(player) if written(player) or player.team != own or short in taken else short
    return found
