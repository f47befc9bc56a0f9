"""Which bout is typical: the one nearest the middle of the game's main measures among those of some sessions, not the prettiest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sim.assumptions import NONE, Assumptions
from sim.experiments.key_measures import key_measures, keys_of
from sim.experiments.sessions import bout_counts, session_bouts
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts
from sim.measures.sessions import Sessions

SESSIONS = 12
"""So many sessions are looked at: the middle of four dozen bouts is known well enough to pick one near it (house default)."""


@dataclass(frozen=True)
class Typical:
    """Bout `bout` of session `session` (both from 0), chosen out of `bouts`."""

    session: int
    bout: int
    bouts: int


def typical_bout(game: Game, seed: int, sessions: int = SESSIONS, assumptions: Assumptions = NONE) -> Typical:
    """The bout whose main measures lie nearest, all together, to their medians over all bouts of these sessions.

    Each measure counts in units of its own spread (the median distance from its median); one that never differs, or that a
    bout has no value of, counts nothing.  Of bouts as near as each other the first is taken.
    """
    places, values = [], []
    for session in range(sessions):
        for bout, one in enumerate(bout_counts(game, session_bouts(game, seed, session, assumptions), assumptions)):
            places.append((session, bout))
            values.append(measured(game, one))
    session, bout = places[nearest_the_middle(np.array(values))]
    return Typical(session, bout, len(places))


def measured(game: Game, one: SessionCounts) -> list[float]:
    """The main measures of one bout, nan where it has none."""
    found = key_measures(game, Sessions([one]))
    return [float(found[key].values[0]) for key in keys_of(game)]


def nearest_the_middle(values: np.ndarray) -> int:
    """The row, of [bout, measure], nearest the medians of the columns."""
    known = values[:, ~np.isnan(values).all(axis=0)]
    away = np.abs(known - np.nanmedian(known, axis=0))
    spread = np.nanmedian(away, axis=0)
    away = away[:, spread > 0] / spread[spread > 0]
    return int(np.argmin(np.nansum(away**2, axis=1))) if away.size else 0
