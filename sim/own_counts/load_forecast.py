"""What is forecast for single players: the load of each in each bout of each session, and what that says of somebody in a role.

Who a forecast's players are does not matter: they are drawn.  So a real player is held against all of them who have his role, in
as many bouts as he played.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sim.game.model import Game
from sim.measures.session_counts import COLUMN, SessionCounts
from sim.measures.thresholds import limits_of
from sim.speed_zones import minors_of

COLUMNS: Mapping[str, tuple[str, ...]] = {
    "metres": ("distance_m",),
    "fast_metres": ("high_speed_band_m", "sprint_band_m"),
    "sprint_metres": ("sprint_band_m",),
    "accelerations": ("accelerations",),
    "decelerations": ("decelerations",),
}
"""What a device measures, in the columns of our counts: fast metres are all from the threshold on, however short."""


USUAL = (0.1, 0.9)
"""Between these shares of players and sessions: eight in ten."""


@dataclass(frozen=True)
class Range:
    """What is expected: `mean`, and eight sessions in ten from `low` to `high`."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class LoadForecast:
    """`each` by name, [session, bout, player], whole metres and counts.

    `roles`: the names of the roles that each player has in a session, most players one; `keeping`: roles that stand in goal.
    `fast_from`, `sprint_from`: where these metres begin, in words; `minors`: whether minors play.
    """

    each: Mapping[str, np.ndarray]
    roles: tuple[tuple[str, ...], ...]
    keeping: tuple[str, ...]
    fast_from: str
    sprint_from: str
    minors: bool

    def to_plain(self) -> dict[str, Any]:
        """As JSON would have it; nobody is named in it."""
        return {
            "each": {name: one.tolist() for name, one in self.each.items()},
            "roles": [list(one) for one in self.roles],
            "keeping": list(self.keeping),
            "fast_from": self.fast_from,
            "sprint_from": self.sprint_from,
            "minors": self.minors,
        }

    @classmethod
    def from_plain(cls, plain: Mapping[str, Any]) -> LoadForecast:
        """The forecast that `to_plain` was made from."""
        return cls(
            {name: np.array(one, dtype=int) for name, one in plain["each"].items()},
            tuple(tuple(one) for one in plain["roles"]),
            tuple(plain["keeping"]),
            str(plain["fast_from"]),
            str(plain["sprint_from"]),
            bool(plain["minors"]),
        )

    def start_of(self, name: str) -> str:
        """From which speed on metres of this name are; "" where there is no such speed."""
        return {"fast_metres": self.fast_from, "sprint_metres": self.sprint_from}.get(name, "")

    def who(self, role: str) -> list[int]:
        """Players to be held against somebody in this role: those who have no other, else all who have it; else all but keepers."""
        alone = [i for i, own in enumerate(self.roles) if own == (role,)]
        among = [i for i, own in enumerate(self.roles) if role in own]
        outfield = [i for i, own in enumerate(self.roles) if not set(own) <= set(self.keeping)]
        return alone or among or outfield

    def expected(self, name: str, role: str, bouts: int) -> Range | None:
        """What so many bouts bring a player in this role ("": not said); None where a session has not so many for anybody."""
        players = self.who(role)
        values, played = self.each[name][:, :, players], self.each["metres"][:, :, players] > 0
        order = np.argsort(~played, axis=1, kind="stable")[
            :, :bouts
        ]  # the bouts in which he played, in their order, come first
        enough = played.sum(axis=1) >= bouts
        if bouts < 1 or bouts > values.shape[1] or not enough.any():
            return None
        sums = np.take_along_axis(values, order, axis=1).sum(axis=1)[enough]
        low, high = np.quantile(sums, USUAL)
        return Range(float(sums.mean()), float(low), float(high))


def loads_of(game: Game, sessions: Sequence[Sequence[SessionCounts]]) -> LoadForecast:
    """The loads in these sessions, each a list of its bouts."""
    limits = limits_of(game)
    first = sessions[0][0]
    time = sum(bout.cells[:, :, COLUMN["time_s"]] for one in sessions for bout in one)
    names = np.array(first.roles)
    each = {
        name: np.array([
            [np.rint(sum(bout.cells[:, :, COLUMN[one]] for one in columns).sum(axis=1)) for bout in session]  # type: ignore[union-attr]
            for session in sessions
        ]).astype(int)
        for name, columns in COLUMNS.items()
    }  # fmt: skip
    return LoadForecast(
        each,
        tuple(tuple(str(role) for role in names[own > 0]) for own in np.asarray(time)),
        tuple(role.name for role in game.roles if role.style == "goal"),
        limits.start_in_words("high_speed"),
        limits.start_in_words("sprint"),
        bool(minors_of([team.population for team in game.teams])),
    )
