"""Which counts tell most, before anything is counted: how many minutes of each until a game a third off would be seen.

*Seen*: in a game whose rate is a third higher, or a third lower, four counts in five lie outside what eight evenings in ten of the
forecast give.  A count of M seconds varies by luck x M + players x M^2 (`sim.own_counts.verdict.Spread`); in the game that is off,
luck goes with the rate and players with its square.  Where players of the level differ by about as much, no number of minutes
tells.  A longest run is a largest, not a sum: nothing is reckoned of it.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass

from sim.game.model import Game
from sim.own_counts.answer import cautions_of
from sim.own_counts.columns import counts_of
from sim.own_counts.forecast import Forecast
from sim.own_counts.predictive import USUAL, predictive
from sim.own_counts.tally import LONGEST, Counted
from sim.own_counts.verdict import Spread, spread_of

OFF = 1 / 3
"""How far off a game is that ought to be seen: as far as a range may lie off its mean (`verdict.TIGHT`, house default)."""
POWER = 0.8
"""So often it should be seen, as in `compare`."""
MOST_MINUTES = 180
"""Nobody counts longer in an evening: beyond, it is not reckoned."""
FORMAT = 1


@dataclass(frozen=True)
class Worth:
    """A count by `measure`: the `minutes` on the watch that would tell (None: none up to `MOST_MINUTES` would), and what is
    expected in the minutes of tonight: `mean`, usual range `low` to `high` (ends inside)."""

    measure: str
    minutes: int | None
    mean: float
    low: int
    high: int


@dataclass(frozen=True)
class ToCount:
    """The counts of the sheet of a game, the one that tells soonest first; `tonight`: minutes of all bouts; from so many
    `sessions`."""

    format: int
    game: str
    seed: int
    sessions: int
    tonight: float
    counts: tuple[Worth, ...]
    cautions: tuple[str, ...]

    def to_json(self) -> str:
        """Strict JSON, in the order of the fields."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)


def to_count(game: Game, found: Forecast, wanted: int = 0) -> ToCount:
    """What is worth counting tonight, of what the sheet of this game asks for, by this forecast, of which so many sessions were
    `wanted`."""
    tonight = game.bouts.count * game.bouts.seconds / 60
    every = [worth_of(found, name, tonight) for name in counts_of(game) if name != LONGEST]
    ranked = sorted((one for one in every if one is not None), key=lambda one: one.minutes or MOST_MINUTES + 1)
    seed, cautions = int(found.made["seed"]), cautions_of(found, wanted)
    return ToCount(FORMAT, game.title, seed, found.sessions, tonight, tuple(ranked), cautions)


def worth_of(found: Forecast, measure: str, tonight: float) -> Worth | None:
    """One count; None where it never happened in the forecast, or nothing was played."""
    what = Counted(measure, 0, tonight, "watch")
    there, spread = predictive(found, what), spread_of(found, what)
    if there is None or spread.rate == 0:
        return None
    return Worth(measure, minutes_to_see(spread), there.mean, there.low, there.high)


def minutes_to_see(spread: Spread) -> int | None:
    """Whole minutes until a game that is off either way would be seen; None: not within `MOST_MINUTES`."""
    return next((m for m in range(1, MOST_MINUTES + 1) if seen(spread, 60.0 * m) >= POWER), None)


def seen(spread: Spread, seconds: float) -> float:
    """Chance that a count of so many seconds lies outside the usual range on its side, in a game that is off: the lower of both."""
    mean, variance = spread.rate * seconds, spread.luck * seconds + spread.players * seconds**2
    if variance == 0:
        return 1.0
    chances = []
    for times, share in ((1 + OFF, (1 + USUAL) / 2), (1 - OFF, (1 - USUAL) / 2)):
        edge = quantile(mean, variance, share)
        there = times * spread.luck * seconds + times**2 * spread.players * seconds**2
        below = at_most(times * mean, there, edge)
        chances.append(1 - below if times > 1 else below)
    return min(chances)


def quantile(mean: float, variance: float, share: float) -> float:
    """Of a gamma distribution of this mean and variance, which leans to the right as such counts do."""
    from scipy.special import gammaincinv

    return float(gammaincinv(mean**2 / variance, share)) * variance / mean


def at_most(mean: float, variance: float, value: float) -> float:
    """Chance of no more than `value` in a gamma distribution of this mean and variance."""
    from scipy.special import gammainc

    return float(gammainc(mean**2 / variance, value * mean / variance))
