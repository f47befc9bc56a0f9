"""Whether what was learned would have forecast what it had not seen: each session (or bout) is held back in turn.

The score is the logarithm of the chance that was given to what was counted: by the values learned from the rest, and by the
population, as far as these values go.  With three sessions or more whole sessions are held back, else single rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from scipy.special import logsumexp

from sim.learning.club import Club
from sim.learning.posterior import PARTICLES, posterior, prior
from sim.learning.tallies import Tally

FEWEST_SESSIONS = 3
MOST_FOLDS = 6
PRIOR_PARTICLES = 4000
Fold = tuple[list[Tally], list[Tally]]
"""(what is learned from, what is held back)."""


@dataclass(frozen=True)
class HeldOut:
    """Log scores of what was held back, `parts` times: by what was learned from the rest (`own`), and by the population."""

    parts: int
    own: float
    population: float

    @property
    def is_no_worse(self) -> bool:
        """Whether the values learned may be offered."""
        return self.parts > 1 and self.own >= self.population


def folds(tallies: Sequence[Tally]) -> list[Fold]:
    """Everything held back once."""
    if len(tallies) >= FEWEST_SESSIONS:
        parts = min(MOST_FOLDS, len(tallies))
        turns = [list(tallies[turn::parts]) for turn in range(parts)]
        return [([one for one in tallies if one not in held], held) for held in turns]
    rows = [(one, row) for one in tallies for row in one.rows]
    if len(rows) < 2:
        return []
    return [
        (without(tallies, one, i), [replace(one, rows=(row,))]) for one in tallies for i, row in enumerate(one.rows)
    ]


def without(tallies: Sequence[Tally], tally: Tally, place: int) -> list[Tally]:
    """All sessions, one of them without its row at this place."""
    left = replace(tally, rows=(*tally.rows[:place], *tally.rows[place + 1 :]))
    return [one for one in (left if other is tally else other for other in tallies) if one.rows]


def checked(club: Club, tallies: Sequence[Tally], seed: int) -> HeldOut:
    """The scores of everything that was held back."""
    parts = folds(tallies)
    usual = club.as_forecast(prior(club.ends, PRIOR_PARTICLES, np.random.default_rng(seed)))
    own = population = 0.0
    for rest, held in parts:
        learned = posterior(partial(club.log_likelihood, rest), club.ends, seed, PARTICLES // 2)
        own += log_score(club, held, learned)
        population += log_score(club, held, usual)
    return HeldOut(len(parts), own, population)


def log_score(club: Club, held: Sequence[Tally], particles: np.ndarray) -> float:
    """Logarithm of the chance that these particles together give to what was counted."""
    return float(logsumexp(club.log_likelihood(held, particles)) - np.log(len(particles)))
