"""The sessions of one game as the sums that its measures are ratios of: what comparisons, searches and checks are made from."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from sim.experiments.key_measures import NOT_BY_BOUT, KeyMeasure, key_measures
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts, session_of
from sim.measures.sessions import Sessions

Key = tuple[str, str]
"""(measure, scope)."""


class Sums:
    """The sessions of one game, whole and bout by bout, as the sums that measures are ratios of.

    `more`: measures besides the key measures.
    """

    def __init__(self, game: Game, bouts: Sequence[Sequence[SessionCounts]], more: Sequence[Key] = ()):
        self.game, self.bouts, self.more = game, bouts, more
        self.sessions = [session_of(one) for one in bouts]

    @cached_property
    def whole(self) -> dict[Key, KeyMeasure]:
        """Every key measure over whole sessions, by (measure, scope)."""
        return key_measures(self.game, Sessions(self.sessions), self.more)

    @cached_property
    def by_bout(self) -> dict[Key, list[KeyMeasure]]:
        """What adds up over bouts: of the first bout of every session, of the second, and so on."""
        each = [key_measures(self.game, Sessions(list(bouts)), self.more) for bouts in zip(*self.bouts, strict=True)]
        return {key: [one[key] for one in each] for key in each[0] if key[0] not in NOT_BY_BOUT}
