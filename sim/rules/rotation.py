"""Who starts a bout in which role.

"none": as the file says, every bout.  "list": the roles move on by one place a bout along the players in order of id, so
that after as many bouts as there are places everybody has had each of them; with n players and d of them defending,
full equality first comes after n / gcd(n, d) bouts when the list moves on by d places.
"""

from __future__ import annotations

from sim.game.model import Game


def starting_roles(game: Game, bout: int) -> list[str]:
    """Role of each player (order of `game.players`) at the start of bout number `bout` (from 0)."""
    written = [player.role for player in game.players]
    if game.bouts.rotate == "none":
        return written
    out = list(written)
    for team in game.teams:
        members = [i for i, player in enumerate(game.players) if player.team == team.name]
        ordered = sorted(members, key=lambda i: (game.players[i].number, game.players[i].id))
        counts = {}
        for i in ordered:
            counts[written[i]] = counts.get(written[i], 0) + 1
        step = min(counts.values())
        for place, i in enumerate(ordered):
            out[i] = written[ordered[(place + step * bout) % len(ordered)]]
    return out
