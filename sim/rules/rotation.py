"""Who starts a bout in which role.

"none": as the file says, unless roles carry on from the bout before (`sim.rules.between`).  "list": within a team the
roles move down the list from bout to bout.  The list holds the team's players role by role, in the order of the file
and by number; keepers stay in goal.  It moves on by as many places as the smallest role has players, so a pair of
defenders is followed by the next two players of the list; where that would leave some role unevenly shared (only with
three roles or more) it moves by the greatest number that divides all roles.  Everybody has had every role equally often
first after n / gcd(n, d) bouts: n players on the list, and d the players of one of its two roles.
"""

from __future__ import annotations

from math import gcd

from sim.game.model import Game


def starting_roles(game: Game, bout: int) -> list[str]:
    """Role of each player (order of `game.players`) at the start of bout number `bout` (from 0)."""
    written = [player.role for player in game.players]
    if game.bouts.rotate == "none":
        return written
    roles = list(written)
    for members in rotation_lists(game):
        step = places_a_bout([written[i] for i in members])
        for place, i in enumerate(members):
            roles[i] = written[members[(place - step * bout) % len(members)]]
    return roles


def rotation_lists(game: Game) -> list[list[int]]:
    """The players (as indices) of each team among whom the roles move, in the order in which they do."""
    keeping = {job.role for phase in game.phases for job in phase.jobs if job.style == "goal"}
    keeping |= {role.name for role in game.roles if role.style == "goal"}
    order = {role.name: place for place, role in enumerate(game.roles)}
    players = game.players
    found = []
    for team in game.teams:
        members = [i for i, one in enumerate(players) if one.team == team.name and one.role not in keeping]
        if members:
            found.append(sorted(members, key=lambda i: (order[players[i].role], players[i].number, players[i].id)))
    return found


def places_a_bout(roles: list[str]) -> int:
    """How many places the list moves on between two bouts."""
    counts = [roles.count(name) for name in set(roles)]
    common = gcd(*counts)
    return min(counts) if gcd(len(roles), min(counts)) == common else common
