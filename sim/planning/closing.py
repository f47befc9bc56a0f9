"""The cheapest change that brings a session nearer to its band: a bout, a rest or a metre in one block, and what else moves.

Bouts and rests are reckoned from what is known.  Only where none of them closes every gap is a block played once more, on a ground
a metre larger or smaller.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.game.model import Game
from sim.geometry import ROUNDING_M
from sim.groups.ground import stretched
from sim.planning.band import MEASURES
from sim.planning.block_loads import BlockLoads
from sim.planning.caps import caps_broken
from sim.planning.forecast import Forecast, forecast
from sim.planning.heat import in_force
from sim.planning.layout import laid_out

REST_S = 30.0
HELPS = 0.1
"""The share of the gaps that a change must close to be told."""
Kind = Literal["bout", "rest", "metre"]
Play = Callable[[Sequence[Game]], Mapping[Game, BlockLoads]]


@dataclass(frozen=True, eq=False)
class Change:
    """One change: `step` bouts, half minutes of each rest or metres a side more (less: negative) in the block `part`.

    With it: `mean` [person, measure], `long_s` of the evening, and `off`, how many figures of players are out of the band then.
    """

    kind: Kind
    part: str
    step: int
    mean: np.ndarray
    long_s: float
    off: int


def cheapest_change(found: Forecast, loads: Mapping[Game, BlockLoads], play: Play) -> Change | None:
    """The change that leaves fewest figures out of the band, of those the one that moves the clock least.

    None where there is no band, where no change helps with a tenth of the gaps, and where a heat table has taken away: that is not
    made up for.  Whatever the evening or somebody's cap does not allow is left out."""
    now = out_of_band(found, found.mean)
    if now == 0 or in_force(found.plan.heat):
        return None
    room_s = 60.0 * found.plan.evening.minutes
    enough = (1.0 - HELPS) * now
    known = [one for one in (*_bouts(found), *_rests(found)) if one.off <= enough and one.long_s <= room_s]
    helping = known if any(one.off == 0 for one in known) else [*known, *_metres(found, loads, play)]
    return min(
        (one for one in helping if one.off <= enough),
        key=lambda one: (one.off, abs(one.long_s - found.plan.long_s)),
        default=None,
    )


def out_of_band(found: Forecast, mean: np.ndarray) -> int:
    """How many figures of players are out of the band."""
    band = found.plan.evening.band
    return sum(band.off(name, mean[i, j]) != 0 for i in found.judged for j, name in enumerate(MEASURES))


def _with(found: Forecast, kind: Kind, number: int, step: int, by_block: np.ndarray, more_s: float) -> Change:
    plan = found.plan
    mean = by_block.sum(axis=0)
    off = out_of_band(found, mean)
    return Change(kind, plan.evening.parts[number].name, step, mean, plan.long_s + more_s, off)


def _bouts(found: Forecast) -> Iterator[Change]:
    """A bout more or fewer of each block."""
    plan = found.plan
    for number, line_up in enumerate(plan.line_ups):
        own = line_up.games[0].bouts
        for step in (1, -1):
            if own.count + step < 1 or (step > 0 and _breaks_a_cap(found, number)):
                continue
            by_block = found.by_block.copy()
            by_block[number] *= (own.count + step) / own.count
            yield _with(found, "bout", number, step, by_block, step * (own.seconds + own.rest_seconds))


def _breaks_a_cap(found: Forecast, number: int) -> bool:
    """Whether one bout more of a block is more than somebody may have."""
    plan = found.plan
    named = dict(zip((part.name for part in plan.evening.parts), plan.line_ups, strict=True))
    more = plan.evening.parts[number].name
    bouts = {name: {shirt: count + (name == more) for shirt, count in one.bouts.items()} for name, one in named.items()}
    return bool(caps_broken(plan.people, bouts, {name: one.games[0].bouts.most_seconds for name, one in named.items()}))


def _rests(found: Forecast) -> Iterator[Change]:
    """Half a minute more or less of every rest of a block."""
    plan = found.plan
    effort = list(MEASURES).index("effort")
    for number, line_up in enumerate(plan.line_ups):
        own = line_up.games[0].bouts
        playing = own.count * own.seconds
        rests = own.count - 1
        for step in (1, -1):
            rest_s = own.rest_seconds + step * REST_S
            if rests == 0 or rest_s < 0:
                continue
            by_block = found.by_block.copy()
            by_block[number, :, effort] *= (playing + rests * rest_s) / (playing + rests * own.rest_seconds)
            yield _with(found, "rest", number, step, by_block, step * rests * REST_S)


def _metres(found: Forecast, loads: Mapping[Game, BlockLoads], play: Play) -> Iterator[Change]:
    """A metre more each side of a block's grids where people are short, a metre less where they have too much."""
    plan = found.plan
    band = plan.evening.band
    short = sum(band.off(name, found.mean[i, j]) for i in found.judged for j, name in enumerate(MEASURES))
    step = 1 if short < 0 else -1
    tried = []
    for number, line_up in enumerate(plan.line_ups):
        try:
            games = tuple(_resized(game, step) for game in line_up.games)
            if not all(_is_resized(*both, step) for both in zip(line_up.games, games, strict=True)):
                continue
            laid_out(line_up.part, games, plan.evening.ground)
        except InputError:
            continue
        tried.append((number, games))
    new = play(list(dict.fromkeys(game for _, games in tried for game in games)))
    for number, games in tried:
        line_ups = list(plan.line_ups)
        line_ups[number] = replace(line_ups[number], games=games)
        by_block = forecast(replace(plan, line_ups=tuple(line_ups)), {**loads, **new}).by_block
        yield _with(found, "metre", number, step, by_block, 0.0)


def _is_resized(before: Game, after: Game, metres: int) -> bool:
    """Whether the first area is so many metres longer, which some grounds of several areas cannot be."""
    return abs(after.areas[0].length - before.areas[0].length - metres) < ROUNDING_M


def _resized(game: Game, metres: int) -> Game:
    """The game on a ground whose first area is so many metres longer, and the rest of it with it."""
    length = game.areas[0].length
    return resolve(stretched(to_short(game), (length + metres) / length), game.name, game.name)
