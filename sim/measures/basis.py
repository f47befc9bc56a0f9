"""On what a number stands: the user's own data, published figures, or the model alone.

The domain of the published evidence is data (`EVIDENCE`): which family of rules, how many players, how much area
for each, which populations.  It lists only what the model has been calibrated on; in this version nothing has, so
every answer that the user's own counts do not carry is "extrapolated".
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


EVIDENCE: tuple[Evidence, ...] = ()


@dataclass(frozen=True)
class Setting:
    """What decides whether a game lies inside the evidence.  `players` counts inside players only."""

    family: str
    players: int
    area_per_player_m2: float
    populations: frozenset[str]


def setting_of(game: Game) -> Setting:
    """Inside players are those at the start who neither wait, nor keep a goal, nor float outside on the edge."""
    jobs = {job.role: job.style for job in game.phase(game.start_phase).jobs}
    inside = 0
    for player in game.players:
        role = game.role(player.role)
        style = jobs.get(role.name, role.style)
        inside += not (style in ("wait", "goal") or (role.side == "holder" and style == "edge"))
    area = game.area(game.start_area)
    return Setting(
        family=game.family,
        players=inside,
        area_per_player_m2=area.length * area.width / max(inside, 1),
        populations=frozenset(team.population for team in game.teams),
    )


def basis_of(
    measure: str,
    setting: Setting,
    own: Collection[str] = (),
    evidence: Collection[Evidence] = EVIDENCE,
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
            and domain.players[0] <= setting.players <= domain.players[1]
            and domain.area_per_player_m2[0] <= setting.area_per_player_m2 <= domain.area_per_player_m2[1]
            and setting.populations <= domain.populations
        ):
            return "published"
    return "extrapolated"
