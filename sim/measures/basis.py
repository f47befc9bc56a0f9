"""On what a number stands: the user's own data, published figures, or the model alone.

A domain of published evidence says of which family of rules, how many players, how much area for each and which
populations there are figures.  The domains are read off the evidence tables (`sim.evidence.published`) and handed in; what lies in
none of them, and is not carried by the user's own counts, is "extrapolated".
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from sim.game.model import Game
from sim.populations import POPULATIONS

Basis = Literal["own data", "published", "extrapolated"]


@dataclass(frozen=True)
class Evidence:
    """A domain of published figures: ends of the ranges are inside."""

    family: str
    players: tuple[int, int]
    area_per_player_m2: tuple[float, float]
    populations: frozenset[str]
    measures: frozenset[str]
    source: str
    helpers: bool = False


@dataclass(frozen=True)
class Setting:
    """What decides whether a game lies inside the evidence.

    `players` counts inside players only; `helpers`: there are floaters outside who play for whoever has the ball.
    """

    family: str
    players: int
    area_per_player_m2: float
    populations: frozenset[str]
    helpers: bool = False


def inside_roles(game: Game) -> frozenset[str]:
    """Roles of inside players: at the start they neither wait, nor keep a goal, nor float outside on the edge."""
    jobs = {job.role: job.style for job in game.phase(game.start_phase).jobs}
    styles = {role.name: jobs.get(role.name, role.style) for role in game.roles}
    return frozenset(
        role.name
        for role in game.roles
        if not (styles[role.name] in ("wait", "goal") or (role.side == "holder" and styles[role.name] == "edge"))
    )


def is_studied(game: Game, scope: str) -> bool:
    """Whether studies speak of such a group: they print means of field players, never of one player or with the keepers."""
    roles, (kind, _, name) = inside_roles(game), scope.partition(":")
    if kind in ("role", "player"):
        return kind == "role" and name in roles
    return all(player.role in roles for player in game.players if kind == "game" or player.team == name)


def setting_of(game: Game) -> Setting:
    """The setting of a game, counted from the game."""
    roles = inside_roles(game)
    inside = sum(player.role in roles for player in game.players)
    area = game.area(game.start_area)
    return Setting(
        family=game.family,
        players=inside,
        area_per_player_m2=area.length * area.width / max(inside, 1),
        populations=frozenset(team.population for team in game.teams),
        helpers=any(player.role not in roles and game.role(player.role).side == "holder" for player in game.players),
    )


def basis_of(
    measure: str,
    setting: Setting,
    own: Collection[str] = (),
    evidence: Collection[Evidence] = (),
) -> Basis:
    """`own` names the measures that the user's counts of this game have entered."""
    if measure in own:
        return "own data"
    if not all(POPULATIONS[name].measured for name in setting.populations):
        return "extrapolated"  # nothing was ever published of such players
    for domain in evidence:
        if (
            measure in domain.measures
            and setting.family == domain.family
            and setting.helpers == domain.helpers
            and domain.players[0] <= setting.players <= domain.players[1]
            and domain.area_per_player_m2[0] <= setting.area_per_player_m2 <= domain.area_per_player_m2[1]
            and setting.populations <= domain.populations
        ):
            return "published"
    return "extrapolated"
