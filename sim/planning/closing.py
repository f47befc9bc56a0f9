"""The cheapest change that brings a session nearer to its band: bouts, rests or metres in one block, and what else moves.

Bouts and rests are reckoned from what is known.  Only where none of them closes every gap is a block played once more, on a ground
a metre larger or smaller, and the one that helps most on two or three.  Every change is a whole plan, held against all that the
evening has and all that somebody may do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sim.errors import InputError
from sim.game.model import Game
from sim.planning.band import MEASURES
from sim.planning.block_loads import BlockLoads
from sim.planning.changed import holds, with_count, with_metres, with_rest
from sim.planning.forecast import Forecast, forecast
from sim.planning.heat import in_force
from sim.planning.session import Planned

REST_S = 30.0
STEPS = (1, 2, 3)
"""So many bouts, half minutes or metres are tried, each way."""
HELPS = 0.1
"""The share of the gaps that a change must close to be told."""
Kind = Literal["bout", "rest", "metre"]
Play = Callable[[Sequence[Game]], Mapping[Game, BlockLoads]]


@dataclass(frozen=True, eq=False)
class Change:
    """One change: `step` bouts, half minutes of each rest or metres a side more (less: negative) in the block `part`.

    With it: the `plan`, `mean` [person, measure], and `off`, how many figures of players are out of the band then.
    """

    kind: Kind
    part: str
    step: int
    mean: np.ndarray
    plan: Planned
    off: int

    @property
    def long_s(self) -> float:
        """Seconds of the evening with it."""
        return self.plan.long_s


def cheapest_change(found: Forecast, loads: Mapping[Game, BlockLoads], play: Play) -> Change | None:
    """The change that leaves fewest figures out of the band, of those the one that moves the clock least, then the smallest.

    None where there is no band, where no change helps with a tenth of the gaps, and where a heat table has taken away: that is not
    made up for.  Whatever the evening or somebody's cap does not allow is left out."""
    now = out_of_band(found, found.mean)
    if now == 0 or in_force(found.plan.heat):
        return None
    enough = (1.0 - HELPS) * now
    known = [one for one in (*_bouts(found), *_rests(found)) if one.off <= enough]
    helping = known if any(one.off == 0 for one in known) else [*known, *_metres(found, loads, play)]
    return min((one for one in helping if one.off <= enough), key=lambda one: _price(found, one), default=None)


def _price(found: Forecast, change: Change) -> tuple[int, float, int]:
    return change.off, abs(change.long_s - found.plan.long_s), abs(change.step)


def out_of_band(found: Forecast, mean: np.ndarray) -> int:
    """How many figures of players are out of the band."""
    band = found.plan.evening.band
    return sum(band.off(name, mean[i, j]) != 0 for i in found.judged for j, name in enumerate(MEASURES))


def _with(found: Forecast, change: tuple[Kind, int, int], by_block: np.ndarray, plan: Planned) -> Change:
    kind, number, step = change
    mean = by_block.sum(axis=0)
    return Change(kind, plan.evening.parts[number].name, step, mean, plan, out_of_band(found, mean))


def _bouts(found: Forecast) -> Iterator[Change]:
    """Bouts more or fewer of each block; whoever takes turns has as many of them as his turns give."""
    for number, line_up in enumerate(found.plan.line_ups):
        for step in (*STEPS, *(-one for one in STEPS)):
            if line_up.games[0].bouts.count + step < 1:
                continue
            plan = with_count(found.plan, number, line_up.games[0].bouts.count + step)
            if not holds(plan):
                continue
            by_block = found.by_block.copy()
            for i, person in enumerate(plan.people):
                before, after = (one.bouts.get(person.shirt, 0) for one in (line_up, plan.line_ups[number]))
                by_block[number, i] *= after / before if before else 1.0
            yield _with(found, ("bout", number, step), by_block, plan)


def _rests(found: Forecast) -> Iterator[Change]:
    """Half minutes more or less of every rest of a block."""
    effort = list(MEASURES).index("effort")
    for number, line_up in enumerate(found.plan.line_ups):
        own = line_up.games[0].bouts
        playing, rests = own.count * own.seconds, own.count - 1
        for step in (*STEPS, *(-one for one in STEPS)):
            rest_s = own.rest_seconds + step * REST_S
            if rests == 0 or rest_s < 0:
                continue
            plan = with_rest(found.plan, number, rest_s)
            if not holds(plan):
                continue
            by_block = found.by_block.copy()
            by_block[number, :, effort] *= (playing + rests * rest_s) / (playing + rests * own.rest_seconds)
            yield _with(found, ("rest", number, step), by_block, plan)


def _metres(found: Forecast, loads: Mapping[Game, BlockLoads], play: Play) -> list[Change]:
    """A metre more each side of a block's grids where people are short, a metre less where they have too much; where none closes
    every gap, two and three of the block that helps most."""
    band = found.plan.evening.band
    short = sum(band.off(name, found.mean[i, j]) for i in found.judged for j, name in enumerate(MEASURES))
    way = 1 if short < 0 else -1
    tried = _resized(found, [(number, way) for number in range(len(found.plan.line_ups))], loads, play)
    best = min(tried, key=lambda one: _price(found, one), default=None)
    if best is None or best.off == 0 or best.off >= out_of_band(found, found.mean):
        return tried
    number = [part.name for part in found.plan.evening.parts].index(best.part)
    return [*tried, *_resized(found, [(number, way * step) for step in STEPS[1:]], loads, play)]


def _resized(
    found: Forecast, steps: Sequence[tuple[int, int]], loads: Mapping[Game, BlockLoads], play: Play
) -> list[Change]:
    """The changes by (block, metres) that find room, played."""
    plans = []
    for number, metres in steps:
        try:
            plan = with_metres(found.plan, number, metres)
        except InputError:
            continue
        if holds(plan):
            plans.append((number, metres, plan))
    new = play(list(dict.fromkeys(game for number, _, plan in plans for game in plan.line_ups[number].games)))
    return [
        _with(found, ("metre", number, metres), forecast(plan, {**loads, **new}).by_block, plan)
        for number, metres, plan in plans
    ]
