"""What a list of bouts cannot share out: where whoever loses it changes places, minutes without the ball go by luck as well."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

import numpy as np

from sim.game.model import Game
from sim.game.verbs import Assign, Swap, Trade
from sim.groups.posts import shape_of
from sim.planning.block_loads import BlockLoads
from sim.planning.forecast import EIGHT_IN_TEN
from sim.planning.rotating import RESTING, Rotation


class WithoutBall(NamedTuple):
    """Minutes of one evening that somebody is without the ball while it rolls: the mean, and between what they lie for eight
    players in ten; that is None where the list itself gives some more turns than others, which is no luck."""

    mean: float
    usually: tuple[float, float] | None


def game_of_luck(found: Rotation) -> Game | None:
    """The game to play, in which roles move on by the game's own list: as many bouts as anybody plays, nobody resting.

    None where the rules leave everybody in his place for the bout, or both sides are as many and have the ball in turn.
    """
    game = found.game
    actions = [action for phase in game.phases for rule in phase.rules for action in rule.do]
    if shape_of(game).even or not any(isinstance(one, (Swap, Trade, Assign)) for one in actions):
        return None
    most = ceil(bouts_each(found))
    return game.model_copy(
        update={"bouts": game.bouts.model_copy(update={"count": most, "rotate": "list", "roles": "list"})}
    )


def bouts_each(found: Rotation) -> Fraction:
    """How many bouts a player plays, in the mean of all."""
    people = len(found.wish.names)
    return Fraction(found.game.bouts.count * (people - dict(found.jobs).get(RESTING, 0)), people)


def without_ball(found: Rotation, loads: BlockLoads) -> WithoutBall:
    """Over all players and sessions of `game_of_luck`, for the bouts that a player plays."""
    each = bouts_each(found)
    minutes = loads.of("session_time_defending_s") / 60.0 * float(each / ceil(each))
    low, high = np.quantile(minutes, EIGHT_IN_TEN)
    return WithoutBall(float(minutes.mean()), (float(low), float(high)) if found.equal else None)
