"""The few measures on which two games are compared, and the two sums per session that each is the ratio of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.catalogue import IN_PLAY, Ratio, can_happen, measures
from sim.measures.sessions import Group, Sessions, groups_of, sides_of
from sim.measures.thresholds import ADULT_MEN

OF_THE_GAME = (
    "turnovers_per_min",
    "turnovers_per_clock_min",
    "balls_lost_per_min",
    "shot_ends_per_min",
    "passes_per_min",
    "pass_completion",
    "pass_run_median",
    "pass_run_share_reaching",
    "in_play_share",
    "points_per_min",
    "threshold_reached_per_min",
    "transfers_per_min",
    "break_aways_per_bout",
    "goals_per_bout",
)
LOST = "balls_lost_per_min"  # only beside turnovers where there are shots to tell them apart: elsewhere it is the same number
MOST = "defending_share_most"
NOT_BY_BOUT = (MOST, "pass_run_median")  # values of whole sessions, which do not add up over bouts
OF_ROLES = "distance_per_min"

# Smallest difference worth having, as a share of the first condition's value: house defaults, to be overruled by the user.
WORTHWHILE = {
    "turnovers_per_min": 0.10,
    "turnovers_per_clock_min": 0.10,
    LOST: 0.10,
    "shot_ends_per_min": 0.10,
    "passes_per_min": 0.05,
    "pass_completion": 0.03,
    "pass_run_median": 0.10,
    "pass_run_share_reaching": 0.10,
    "in_play_share": 0.05,
    "points_per_min": 0.10,
    "threshold_reached_per_min": 0.10,
    "transfers_per_min": 0.10,
    "break_aways_per_bout": 0.10,
    "goals_per_bout": 0.10,
    MOST: 0.10,
    OF_ROLES: 0.03,
}
MORE = {"wins_per_min": 0.10, "defending_share": 0.10, "high_speed_distance_per_min": 0.10}
"""What may be aimed at besides, with the smallest share worth having (house default)."""

ALL_WORTHWHILE = WORTHWHILE | MORE


@dataclass(frozen=True, eq=False)
class KeyMeasure:
    """One measure of one condition: `top` / `bottom` per session; `top` is already in the measure's unit.

    `watched`: of what is counted by the minute with the ball rolling, the seconds of each session on the watch; None of the rest.
    """

    measure: str
    scope: str
    unit: str
    clock: str
    definition: str
    top: np.ndarray
    bottom: np.ndarray
    watched: np.ndarray | None = None

    @property
    def values(self) -> np.ndarray:
        """Each session's own value; nan for one that has none."""
        return np.divide(self.top, self.bottom, out=np.full(len(self.top), np.nan), where=self.bottom > 0)


def key_measures(
    game: Game, sessions: Sessions, more: Sequence[tuple[str, str]] = ()
) -> dict[tuple[str, str], KeyMeasure]:
    """All key measures this game has, by (measure, scope), in the order of the answer; `more` are looked at too."""
    groups = {group.scope: group for group in groups_of(game, sessions)}
    ratios = {ratio.measure: ratio for ratio in measures(sessions.thresholds)}

    def of_catalogue(name: str, group: Group) -> KeyMeasure:
        ratio = ratios[name]
        top, bottom = ratio.top(sessions, group) * ratio.scale, ratio.bottom(sessions, group)
        rolling = (ratio.unit, ratio.clock) == ("1/min", IN_PLAY)
        watched = sessions.duration_s if rolling and group.kind == "game" else None
        return KeyMeasure(name, group.scope, ratio.unit, ratio.clock, ratio.definition, top, bottom, watched)

    wanted = dict.fromkeys([*keys_of(game), *more])
    found = [most_exposed(sessions) if name == MOST else of_catalogue(name, groups[scope]) for name, scope in wanted]
    return {(one.measure, one.scope): one for one in found}


def keys_of(game: Game) -> list[tuple[str, str]]:
    """(measure, scope) of all key measures a game has, before anything is played."""
    needs = {ratio.measure: ratio.needs for ratio in measures(ADULT_MEN)} | {LOST: "goals"}
    names = [name for name in OF_THE_GAME if can_happen(needs[name], game)]
    return [*((name, "game") for name in (*names, MOST)), *((OF_ROLES, f"role:{role.name}") for role in game.roles)]


def aims_of(game: Game) -> list[tuple[str, str]]:
    """(measure, scope) of all that `tune` and `adjust` may be asked for: the key measures first, then the same and more by role."""
    ratios = {ratio.measure: ratio for ratio in measures(ADULT_MEN) if can_happen(ratio.needs, game)}
    known = keys_of(game)
    there = [name for name in dict.fromkeys([*(name for name, _ in known), *MORE]) if name in ratios]
    scopes = ["game", *(f"role:{role.name}" for role in game.roles)]
    more = [(name, scope) for name in there for scope in scopes if has_scope(ratios[name], scope, game)]
    return list(dict.fromkeys([*known, *more]))


def has_scope(ratio: Ratio, scope: str, game: Game) -> bool:
    """Whether a measure can be told of the game, a team or a role."""
    kind, colon, name = scope.partition(":")
    if kind in ratio.scopes or not colon:
        return kind in ratio.scopes
    return "side" in ratio.scopes and (name if kind == "team" else game.role(name).side) in sides_of(game)


def most_exposed(sessions: Sessions) -> KeyMeasure:
    """The largest defending share of each session; sessions in which nobody can defend have none."""
    shares = sessions.defending_shares()
    there = ~np.isnan(shares).all(axis=1)
    top = np.where(there, np.where(np.isnan(shares), 0.0, shares).max(axis=1), 0.0)
    definition = "largest defending share of one session, whoever it is"
    return KeyMeasure(MOST, "game", "share", IN_PLAY, definition, top, there.astype(float))
