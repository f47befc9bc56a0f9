"""What a session gives each player: the sum of what its blocks give the places he has in them, each game played once.

Blocks add up: what is left in the legs from one block to the next is not in it (how far that is off: `cli/README.md`, session).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.planning.band import MEASURES, NOT_OF_MINORS
from sim.planning.block_loads import PLACE, BlockLoads
from sim.planning.line_up import LineUp
from sim.planning.session import Planned
from sim.squads.squad import Person

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
        """Who is held against the band, by place among the people: everybody on full load who is no keeper and not off before the
        end."""
        off = {one.person.shirt for one in self.plan.leaves}
        people = enumerate(self.plan.people)
        return [i for i, one in people if not one.keeps and not one.restricted and one.shirt not in off]

    @property
    def told(self) -> tuple[str, ...]:
        """The measures that are told of single players: where minors play, none that rests on adults."""
        return tuple(name for name in MEASURES if not (self.plan.minors and name in NOT_OF_MINORS))


@dataclass(frozen=True, eq=False)
class Stand:
    """Where somebody stands in a block: what his game gives, the `places` in it that are as good as his, and the share of its bouts
    that he plays."""

    own: BlockLoads
    places: list[int]
    share: float


def forecast(plan: Planned, loads: Mapping[Game, BlockLoads]) -> Forecast:
    """What everybody gets over all blocks, from what the games give their places."""
    columns = [PLACE[name] for name, _ in MEASURES.values()]
    scale = np.array([factor for _, factor in MEASURES.values()])
    shape = (len(plan.people), len(MEASURES))
    by_block, error = np.zeros((len(plan.line_ups), *shape)), np.zeros(shape)
    low, high = np.zeros(shape), np.zeros(shape)
    scores = {game: standard_scores(one)[:, :, columns] for game, one in loads.items()}
    count = min(one.sessions for one in loads.values())
    for p, person in enumerate(plan.people):
        stands = [_stand(line_up, person, loads) for line_up in plan.line_ups]
        playing = [(b, one) for b, one in enumerate(stands) if one is not None]
        for b, one in playing:
            by_block[b, p] = one.share * one.own.mean()[one.places].mean(axis=0)[columns] * scale
        if playing:
            off = _together([one for _, one in playing], scores, columns, count) * scale
            low[p], high[p] = np.quantile(off, EIGHT_IN_TEN, axis=(0, 1))
            error[p] = doubt_of([one for _, one in playing], columns, count) * scale
    mean = by_block.sum(axis=0)
    losses = tuple(float(np.mean([loads[game].losses_per_min for game in one.games])) for one in plan.line_ups)
    low, high = np.clip(mean + np.minimum(low, 0.0), 0.0, None), mean + np.maximum(high, 0.0)
    return Forecast(plan, mean, low, high, error, by_block, losses, count)


def doubt_of(stands: Sequence[Stand], columns: Sequence[int], count: int) -> np.ndarray:
    """[measure]: the standard error of what these blocks give together (Monte Carlo, 1 sigma).

    Session by session it is the same people on the same day in all blocks: what is by chance high in one is so in the others, and
    does not even out.
    """
    each = sum(one.share * one.own.loads[:count, one.places].mean(axis=1)[:, columns] for one in stands)
    found: np.ndarray = np.std(each, axis=0, ddof=1) / math.sqrt(count)
    return found


def standard_scores(own: BlockLoads) -> np.ndarray:
    """[session, place, measure]: how far each is from the mean of his post, in standard deviations of it; 0 where all are alike."""
    found = np.zeros(own.loads.shape)
    for post in own.posts:
        at = list(post)
        mean, sd = own.loads[:, at].mean(axis=(0, 1)), own.loads[:, at].std(axis=(0, 1))
        found[:, at] = np.where(sd > 0, (own.loads[:, at] - mean) / np.where(sd > 0, sd, 1.0), 0.0)
    return found


def _together(
    stands: Sequence[Stand], scores: Mapping[Game, np.ndarray], columns: Sequence[int], count: int
) -> np.ndarray:
    """[session, player drawn, measure]: how far an evening is from its mean, for each of the players drawn.

    The player at one place of two games is the same person on the same day (`block_loads.by_place`): who is strong, or runs much
    tonight, is and does so in all blocks.  His scores are laid on the spread of the posts in question.
    """
    free = set.intersection(*(set(_free(one.own.game)) for one in stands))
    drawn = sorted(free) or [0]
    total = np.zeros((count, len(drawn), len(columns)))
    for one in stands:
        sd = one.own.loads[:, one.places].std(axis=(0, 1))[columns]
        total += one.share * sd * scores[one.own.game][:count, drawn]
    return total


def _stand(line_up: LineUp, person: Person, loads: Mapping[Game, BlockLoads]) -> Stand | None:
    """Where somebody stands, None where he does not play; whoever begins outside takes any place of the first game in turn."""
    share = line_up.bouts.get(person.shirt, 0) / line_up.games[0].bouts.count
    if share == 0.0:
        return None
    spot = next((one for one in line_up.spots if one.person.shirt == person.shirt), None)
    if spot is None:
        own = loads[line_up.games[0]]
        return Stand(own, _free(own.game), share)
    own = loads[line_up.games[spot.game]]
    return Stand(own, list(next(post for post in own.posts if spot.place in post)), share)


def _free(game: Game) -> list[int]:
    """Places that anybody may have: no keeper's goal, and none for somebody on reduced load."""
    players = enumerate(game.players)
    return [i for i, player in players if not player.restricted and game.role(player.role).style != "goal"]
