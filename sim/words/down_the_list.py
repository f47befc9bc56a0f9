"""How the roles move down the list between bouts: with one team, by number, who begins which bout in the smaller roles."""

from __future__ import annotations

from sim.game.model import Game
from sim.game.names import called, only_team, written
from sim.rules.rotation import rotation_lists, starting_roles
from sim.words.listing import capital, listed
from sim.words.who import many_of


def moving_down(game: Game) -> str:
    """That roles move down the list, of how many teams, and whether keepers do; for one team who begins which bout where."""
    teams = rotation_lists(game)
    of_each = " of each team" if len(teams) > 1 else ""
    apart = ", keepers apart" if sum(map(len, teams)) < len(game.players) else ""
    head = f"Between bouts the roles move down the list{of_each}{apart}."
    return head if len(teams) > 1 else " ".join([head, *_who_begins(game, teams[0])])


def _who_begins(game: Game, members: list[int]) -> list[str]:
    """``Inside players in bout 1: 6 and 7; bout 2: 1 and 2.``, for every role but the largest; once round the list at most."""
    written_roles = [game.players[i].role for i in members]
    roles = sorted(dict.fromkeys(written_roles), key=written_roles.count)[:-1]
    first = starting_roles(game, 0)
    rows = [first]
    while len(rows) < game.bouts.count and (row := starting_roles(game, len(rows))) != first:
        rows.append(row)
    again = "" if len(rows) == game.bouts.count else "; then from the top again"
    lines = []
    for role in roles:
        bouts = [
            f"bout {bout}: {listed([_tag(game, i) for i in members if row[i] == role])}"
            for bout, row in enumerate(rows, 1)
        ]
        lines.append(f"{capital(many_of(role))} in {'; '.join(bouts)}{again}.")
    return lines


def _tag(game: Game, i: int) -> str:
    """By shirt number, as on his back, where there is one colour; else as he is called."""
    player = game.players[i]
    return called(player) if written(player) or player.team != only_team(game) else str(player.number)
