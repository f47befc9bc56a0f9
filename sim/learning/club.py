"""A club as the inference sees it: its values, the same in all its games, and the errors of the emulators, one for each count.

A particle is one row: the standard scores of the values, then of the errors.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.learning.design import Design, Plan
from sim.learning.emulator import Emulator, emulated
from sim.learning.likelihood import Counts, Key
from sim.learning.tallies import Tally
from sim.learning.values import Learned
from sim.own_counts.tally import Counted


@dataclass(frozen=True)
class Part:
    """One game of a club: which values play in it, its counts, and where their errors stand in a particle."""

    values: tuple[int, ...]
    counts: Counts
    errors: slice


class Club:
    """`values` in the order of a particle; `parts` by the digest of a game's layout; `ends` of every coordinate."""

    def __init__(self, plans: Mapping[str, Plan], counts: Mapping[str, Counts]):
        self.values = together([one for plan in plans.values() for one in plan.learned])
        names = [one.name for one in self.values]
        self.parts: dict[str, Part] = {}
        place = len(names)
        for setup, plan in plans.items():
            size = len(counts[setup].keys)
            own = tuple(names.index(one.name) for one in plan.learned)
            self.parts[setup] = Part(own, counts[setup], slice(place, place + size))
            place += size
        infinite = (-np.inf, np.inf)
        self.ends = [*((one.low, one.high) for one in self.values), *[infinite] * (place - len(names))]

    def taken(self, tally: Tally) -> list[Counted]:
        """The counts of a session that are emulated."""
        keys = self.parts[tally.setup].counts.keys
        return [one for one in tally.counts if (one.measure, one.clock) in keys]

    def log_likelihood(self, tallies: Sequence[Tally], particles: np.ndarray) -> np.ndarray:
        """Of these sessions for every particle."""
        found = np.zeros(len(particles))
        for tally in tallies:
            part = self.parts[tally.setup]
            scores, errors = particles[:, part.values], particles[:, part.errors]
            found = found + part.counts.log_likelihood(self.taken(tally), scores, errors)
        return found

    def as_forecast(self, particles: np.ndarray) -> np.ndarray:
        """Particles of the prior as our forecasts have it: what they take for granted stands at a usual club's."""
        found = particles.copy()
        for place, value in enumerate(self.values):
            if not value.forecast:
                found[:, place] = 0.0
        return found


def together(values: Sequence[Learned]) -> tuple[Learned, ...]:
    """Each value once, with the scores that can be played in all games."""
    found: dict[str, Learned] = {}
    for one in values:
        there = found.get(one.name, one)
        found[one.name] = Learned(one.name, max(one.low, there.low), min(one.high, there.high), one.forecast)
    return tuple(found.values())


def counts_from(plan: Plan, design: Design, wanted: Sequence[Key]) -> Counts:
    """The emulators of the counts that were taken of a game, as far as they are good."""
    scores = plan.scores[sorted(design.clubs)]
    found: dict[Key, Emulator] = {}
    for measure, clock in dict.fromkeys(wanted):
        one = emulated(design, scores, measure, clock)
        if one is not None and one.is_good:
            found[measure, clock] = one
    return Counts(found)
