"""What a session gives each player: the sum of what its blocks give the places he has in them, each game played once.

Blocks add up: what is left in the legs from one block to the next is not in it (how far that is off: `cli/README.md`, session).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.internal_load import has_minors
from sim.planning.band import MEASURES, NOT_OF_MINORS
from sim.planning.block_loads import PLACE, BlockLoads
from sim.planning.line_up import LineUp
from sim.planning.session import Planned
from sim.squads.squad import Person

TWISTS = 8
"""How often the sessions of the blocks are put together anew, each time with other players of a post: more for the ranges."""
EIGHT_IN_TEN = (0.1, 0.9)


@dataclass(frozen=True, eq=False)
class Forecast:
    """What a session gives: arrays by (person, measure of `sim.planning.band.MEASURES`), and by block in between.

    `mean`; `low`, `high`: eight sessions in ten lie between; `error`: of the mean, from so few sessions (1 sigma); `by_block`
    [block, person, measure]: means.
    """

    plan: Planned
    mean: np.ndarray
    low: np.ndarray
    high: np.ndarray
    error: np.ndarray
    by_block: np.ndarray
    losses: tuple[float, ...]
    sessions: int

    @property
    def judged(self) -> list[int]:
        """Who is held against the band: everybody on full load who is no keeper, by place among the people."""
        return [i for i, one in enumerate(self.plan.people) if not one.keeps and not one.restricted]

    @property
    def told(self) -> tuple[str, ...]:
        """The measures that are told of single players: where minors play, none that rests on adults."""
        young = any(has_minors(game) for game in self.plan.games)
        return tuple(name for name in MEASURES if not (young and name in NOT_OF_MINORS))


def forecast(plan: Planned, loads: Mapping[Game, BlockLoads]) -> Forecast:
    """What everybody gets over all blocks, from what the games give their places."""
    columns = [PLACE[name] for name, _ in MEASURES.values()]
    scale = np.array([factor for _, factor in MEASURES.values()])
    count = min(one.sessions for one in loads.values())
    shape = (len(plan.people), len(MEASURES))
    pool = np.zeros((TWISTS * count, *shape))
    by_block, variance = np.zeros((len(plan.line_ups), *shape)), np.zeros(shape)
    for b, line_up in enumerate(plan.line_ups):
        for p, person in enumerate(plan.people):
            share = line_up.bouts.get(person.shirt, 0) / line_up.games[0].bouts.count
            if share == 0.0:
                continue
            own, places, rank = _stands(line_up, person, loads)
            by_block[b, p] = share * own.mean()[places].mean(axis=0)[columns] * scale
            variance[p] += (share * own.error()[places].mean(axis=0)[columns] * scale) ** 2
            for twist in range(TWISTS):
                place = places[(rank + twist * (b + 1)) % len(places)]
                drawn = share * own.loads[:count, place][:, columns] * scale
                pool[twist * count : (twist + 1) * count, p] += drawn
    low, high = np.quantile(pool, EIGHT_IN_TEN, axis=0)
    mean = by_block.sum(axis=0)
    losses = tuple(float(np.mean([loads[game].losses_per_min for game in one.games])) for one in plan.line_ups)
    return Forecast(
        plan, mean, np.minimum(low, mean), np.maximum(high, mean), np.sqrt(variance), by_block, losses, count
    )


def _stands(line_up: LineUp, person: Person, loads: Mapping[Game, BlockLoads]) -> tuple[BlockLoads, list[int], int]:
    """(what his game gives, the places that are as good as his, which of them is his); whoever begins outside takes any place of
    the first game in turn."""
    spot = next((one for one in line_up.spots if one.person.shirt == person.shirt), None)
    if spot is None:
        own = loads[line_up.games[0]]
        free = [i for i, player in enumerate(own.game.players) if not player.restricted]
        return own, free, 0
    own = loads[line_up.games[spot.game]]
    post = next(post for post in own.posts if spot.place in post)
    return own, list(post), post.index(spot.place)
