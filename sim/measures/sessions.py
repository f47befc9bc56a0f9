"""Many sessions side by side, and the groups a measure can speak of.

A *group* is the whole game, a team, a role or a player.  Counts of a group add up over its cells (player and role);
`sides` are the sides whose points, thresholds and break-aways are the group's own (None: all; empty: no side is).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.session_counts import COLUMN, PERSONS, SessionCounts


@dataclass(frozen=True, eq=False)
class Group:
    """`scope` as printed; `cells` picks (player, role); `people` picks players, None for a role."""

    scope: str
    kind: str  # "game" | "team" | "role" | "player"
    cells: np.ndarray
    people: np.ndarray | None
    sides: tuple[str, ...] | None


class Sessions:
    """Sessions in order of their number: arrays whose first axis is the session."""

    def __init__(self, counts: Sequence[SessionCounts]):
        self.counts = sorted(counts, key=lambda one: one.replicate)
        first = self.counts[0]
        self.players, self.teams, self.roles = first.players, first.teams, first.roles
        self.thresholds = first.thresholds
        self.n = len(self.counts)
        self.cells = np.stack([one.cells for one in self.counts])
        self.persons = np.stack([one.persons for one in self.counts])
        self.bouts = np.array([float(one.bouts) for one in self.counts])
        self.duration_s = np.array([one.duration_s for one in self.counts])
        self.in_play_s = np.array([one.in_play_s for one in self.counts])

    def sum(self, group: Group, column: str) -> np.ndarray:
        """Sum of a column of the cells of a group, per session."""
        return self.cells[:, group.cells, COLUMN[column]].sum(axis=1)

    def sum_persons(self, group: Group, column: str) -> np.ndarray:
        """Sum of a column of the persons of a group (of a game, a team or a player), per session."""
        return self.persons[:, group.people, PERSONS.index(column)].sum(axis=1)

    def total(self, name: str) -> np.ndarray:
        """A count of the whole game, per session."""
        return np.array([float(one.totals[name]) for one in self.counts])

    def sided(self, name: str, group: Group) -> np.ndarray:
        """A count of sides: the group's own."""
        return np.array(
            [
                float(sum(n for (what, side), n in one.by_side.items() if what == name and belongs(side, group)))
                for one in self.counts
            ]
        )

    def runs(self, group: Group, lost: bool = False) -> np.ndarray:
        """Pass runs of the group's sides by number of passes, [session, passes]; `lost`: those alone that end with a loss."""
        longest = max((passes for one in self.counts for _, passes, _ in one.runs), default=0)
        counts = np.zeros((self.n, longest + 1))
        for i, one in enumerate(self.counts):
            for (side, passes, cut), n in one.runs.items():
                if belongs(side, group) and not (lost and cut):
                    counts[i, passes] += n
        return counts

    def possessions(self, side: str | None) -> np.ndarray:
        """Possessions of a side (None: of all), cut ones included."""
        return np.array(
            [float(sum(n for (owner, _, _), n in one.runs.items() if side in (None, owner))) for one in self.counts]
        )

    def reached(self, counter: str, count: float, side: str | None) -> np.ndarray:
        """How often a counter reached exactly this count."""
        return np.array(
            [
                float(
                    sum(
                        n
                        for (what, value, owner), n in one.reached.items()
                        if what == counter and value == count and side in (None, owner)
                    )
                )
                for one in self.counts
            ]
        )

    def fired(self, phase: str, rule: str) -> np.ndarray:
        """How often a rule answered."""
        return np.array([float(one.fired[phase, rule]) for one in self.counts])

    def defending_shares(self) -> np.ndarray:
        """[session, player]: share of the in-play time defended; nan for who never had a job that can defend."""
        cells = self.cells.sum(axis=2)
        in_play = cells[:, :, COLUMN["in_play_s"]]
        able = (self.persons[:, :, PERSONS.index("able")] > 0) & (in_play > 0)
        return np.divide(cells[:, :, COLUMN["defending_s"]], in_play, out=np.full(in_play.shape, np.nan), where=able)


def belongs(side: str, group: Group) -> bool:
    """Whether a side is one of the group's own."""
    return group.sides is None or side in group.sides


def sides_of(game: Game) -> frozenset[str]:
    """Every side there can be: role words, and team names where a role plays for its team."""
    words = {role.side for role in game.roles} - {"team", "holder"}
    if any(role.side == "team" for role in game.roles):
        words |= {team.name for team in game.teams}
    return frozenset(words)


def groups_of(game: Game, sessions: Sessions) -> list[Group]:
    """The game, its teams, its roles, its players, in that order."""
    players, roles = len(sessions.players), len(sessions.roles)
    everyone = np.ones((players, roles), dtype=bool)
    sides = sides_of(game)
    groups = [Group("game", "game", everyone, np.ones(players, dtype=bool), None)]
    for team in game.teams:
        people = np.array([name == team.name for name in sessions.teams])
        own = (team.name,) if team.name in sides else ()
        groups.append(Group(f"team:{team.name}", "team", everyone & people[:, None], people, own))
    for i, name in enumerate(sessions.roles):
        cells = np.zeros((players, roles), dtype=bool)
        cells[:, i] = True
        side = game.role(name).side
        groups.append(Group(f"role:{name}", "role", cells, None, (side,) if side in sides else ()))
    for i, name in enumerate(sessions.players):
        people = np.zeros(players, dtype=bool)
        people[i] = True
        groups.append(Group(f"player:{name}", "player", everyone & people[:, None], people, ()))
    return groups
