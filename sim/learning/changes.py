"""What a posterior says of each value: before and after, in the value's own unit, whether the counts speak of it at all, and which
two they cannot tell apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from sim.assumptions import Assumptions, preset
from sim.experiments.assumption_table import widest
from sim.experiments.learned_entries import Value
from sim.game.model import Game
from sim.learning.club import Club
from sim.learning.values import (
    DAY,
    LATER,
    PASSING,
    PRESSING,
    RESTARTS,
    TRAITS,
    UNSURE,
    WILLINGNESS,
    everybody,
    later_s,
    moved_by,
    trait_values,
    willingness,
)
from sim.players import spread_about

NARROWER = 0.8
"""The counts say something on a value where they leave less than this share of its prior's standard deviation: two thirds of its
variance (house default).  A mean that moves while the doubt stays is moved along by other values, and nothing is said of it."""
RIDGE = 0.7
"""A correlation in the posterior beyond which two values cannot be told apart (house default)."""
OUTSIDE = 0.1
"""Left out on either side of a range."""
FAR = 2.0
"""A club so many standard deviations lower: what that would do to a count (`Change.shows`)."""
DIGITS = 4


@dataclass(frozen=True)
class Change:
    """One value: in force `before`; `after`, its range `low` to `high` (80 %) and standard deviation `doubt`, in `unit`.

    As standard scores: `score` is the mean after, `narrower` the standard deviation after over the one before.  `far`: the value
    of a club far lower, `shows`: by which share that moves the leading count, `night`: by which share (one standard deviation) a
    night differs by players and luck alone.  `tied`: it cannot be told apart from another, and the counts speak of both together.
    """

    name: str
    unit: str
    before: float
    after: float
    low: float
    high: float
    doubt: float
    score: float
    narrower: float
    far: float
    shows: float
    night: float
    tied: bool = False

    @property
    def is_told(self) -> bool:
        """Whether the counts say anything on it."""
        return self.narrower <= NARROWER or self.tied


UNITS = {PASSING: "1", PRESSING: "m/s", RESTARTS: "s", WILLINGNESS: "1"}


def changes_of(
    club: Club, particles: np.ndarray, games: Sequence[Game], own: Assumptions, now: Assumptions
) -> tuple[Change, ...]:
    """Of every value of a club."""
    found, tied = [], {name for pair in inseparable(club, particles) for name in pair}
    for place, value in enumerate(club.values):
        scores = particles[:, place]
        drawn = np.array([in_unit(value.name, games, own, float(z)) for z in scores])
        low, high = np.quantile(drawn, [OUTSIDE, 1.0 - OUTSIDE])
        spread = prior_sd(value.low, value.high)
        shows, night = shown_by(club, place)
        found.append(Change(
            value.name, UNITS[value.name], in_force(value.name, games, now), float(drawn.mean()), float(low), float(high),
            float(drawn.std()), float(scores.mean()), float(scores.std()) / spread,
            in_unit(value.name, games, own, max(-FAR, value.low)), shows, night,
            value.name in tied,
        ))  # fmt: skip
    return tuple(found)


def prior_sd(low: float, high: float) -> float:
    """Standard deviation of a standard normal between two ends."""
    from scipy.stats import truncnorm

    return float(truncnorm.std(low, high))


def in_unit(name: str, games: Sequence[Game], own: Assumptions, z: float) -> float:
    """A score in the unit of its value; of several populations the first."""
    if name == RESTARTS:
        return later_s(own, z)
    if name == WILLINGNESS:
        return willingness(everybody(games)[0], own, z)
    return trait_values(preset(moved_by(name, games)[0], own).traits[TRAITS[name]], z)[0]


def in_force(name: str, games: Sequence[Game], now: Assumptions) -> float:
    """The value before."""
    if name == RESTARTS:
        return now.table[LATER]
    if name == WILLINGNESS:
        return preset(everybody(games)[0], now).days[DAY].value
    return preset(moved_by(name, games)[0], now).traits[TRAITS[name]].mean


def shown_by(club: Club, place: int) -> tuple[float, float]:
    """(share by which a club far lower moves the leading count of the first game, share by which a night differs anyway)."""
    part = next(one for one in club.parts.values() if one.counts.keys)
    if place not in part.values:
        return 0.0, 0.0
    leading = part.counts.emulators[part.counts.keys[0]]
    scores = np.zeros((2, len(part.values)))
    scores[1, part.values.index(place)] = max(-FAR, club.values[place].low)
    usual, far = leading.log_rate(scores)[0]
    mean = float(leading.night_s * np.exp(usual))
    return float(np.expm1(far - usual)), float(np.sqrt(leading.variance(np.array([mean]))[0]) / mean)


def inseparable(club: Club, particles: np.ndarray) -> tuple[tuple[str, str], ...]:
    """Pairs of values that cannot be told apart: each may be as unsure as before where only both together are known."""
    related = np.atleast_2d(np.corrcoef(particles[:, : len(club.values)].T))
    pairs = combinations(range(len(club.values)), 2)
    return tuple((club.values[a].name, club.values[b].name) for a, b in pairs if abs(related[a, b]) > RIDGE)


def in_the_file(
    changes: Sequence[Change], particles: np.ndarray, games: Sequence[Game], own: Assumptions, now: Assumptions
) -> tuple[Value, ...]:
    """What goes into the user's file: of a trait its mean, the spread that goes with it, and our ignorance, now smaller.

    Means are those of the draws, as they are shown: the value of the mean score would be another, where a law is skewed.
    """
    found: list[Value] = []
    for one, scores in zip(changes, particles.T, strict=False):
        if not one.is_told:
            continue
        if one.name == RESTARTS:
            found.append(value_of(("club", LATER), one.before, one.after))
            found.append(value_of(("club", UNSURE), now.table[UNSURE], one.doubt))
        elif one.name == WILLINGNESS:
            found += [
                value_of(
                    ("population", whose, DAY),
                    preset(whose, now).days[DAY].value,
                    float(np.mean([willingness(whose, own, float(z)) for z in scores])),
                )
                for whose in everybody(games)
            ]
        else:
            found += [value for whose in moved_by(one.name, games) for value in of_trait(one, scores, whose, own, now)]
    return tuple(found)


def of_trait(one: Change, scores: np.ndarray, whose: str, own: Assumptions, now: Assumptions) -> list[Value]:
    """The three numbers of a trait of one population."""
    name = TRAITS[one.name]
    trait, before = preset(whose, own).traits[name], preset(whose, now).traits[name]
    mean = float(np.mean([trait_values(trait, float(z))[0] for z in scores]))
    spread = spread_about(trait, mean)
    ahead = trait_values(trait, one.score + one.narrower / 2)[0] - trait_values(trait, one.score - one.narrower / 2)[0]
    after: Mapping[str, float] = {
        "mean": mean, "spread": min(spread, widest(name, "spread")), "ignorance": min(ahead, widest(name, "ignorance")),
    }  # fmt: skip
    return [
        value_of(("population", whose, name, number), getattr(before, number), new) for number, new in after.items()
    ]


def value_of(place: tuple[str, ...], before: float, after: float) -> Value:
    """A value with no more digits than it is sure of."""
    return Value(place, float(before), float(f"{after:.{DIGITS}g}"))
