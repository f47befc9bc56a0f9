"""How often players are in each role could be evened out: by which rotation, and after how many bouts, in plain words."""

from __future__ import annotations

from math import gcd, lcm

from sim.game.model import Game
from sim.game.verbs import Assign, Swap, Trade
from sim.measures.catalogue import actions_of
from sim.rules.rotation import places_a_bout, rotation_lists
from sim.words.listing import some

CHANGES_OF_ROLE = (Swap, Trade, Assign)
"""The consequences that give players other roles."""


def roles_change_hands(game: Game) -> bool:
    """Whether a rule, or the list between bouts, gives players other roles: where nothing does, nothing shares the defending."""
    return game.bouts.rotate == "list" or any(isinstance(action, CHANGES_OF_ROLE) for action in actions_of(game))


def bouts_until_even(game: Game) -> int:
    """After how many bouts of ``rotate = "list"`` everybody has begun in every role of his team equally often.

    0 where it is so already, cannot be, or no team has two roles to move between.
    """
    if game.bouts.rotate == "list" or game.bouts.stays is not None or any(player.never for player in game.players):
        return 0
    rounds = []
    for members in rotation_lists(game):
        roles = [game.players[i].role for i in members]
        if len(set(roles)) > 1:
            rounds.append(len(roles) // gcd(len(roles), places_a_bout(roles)))
    return lcm(*rounds) if rounds else 0


def evened_out(game: Game) -> list[str]:
    """The rotation that shares the roles out evenly, where the file has another."""
    bouts = bouts_until_even(game)
    if not bouts:
        return []
    return [
        f"To even it out, move down the list between bouts: everybody has begun in every role equally often after "
        f"{some(bouts, 'bout')}."
    ]
