"""What counts as fast, as sharp and as a turn; stored with every number it made.

The change of speed of 2 m/s2 for 0.5 s and the least length of 1 s of a fast run are in common use (from memory).  A turn, as
in the evidence: the heading differs by more than 90 degrees from that one second earlier, at more than 1.5 m/s before
and after, looked at ten times a second (our own definition; no two studies share one).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from pydantic import ConfigDict

from sim.game.model import Game
from sim.speed_zones import KMH, ZONES, chosen

# How values of a result are read back from JSON: nothing unknown, nothing converted, nothing infinite.
STRICT: ConfigDict = {"extra": "forbid", "strict": True, "allow_inf_nan": False}


@dataclass(frozen=True)
class Thresholds:
    """Speeds in km/h, or (where those are None) as shares of each player's own top speed.  The defaults are men's."""

    __pydantic_config__ = STRICT

    high_speed_kmh: float | None = 19.8
    sprint_kmh: float | None = 25.2
    speed_min_s: float = 1.0
    change_mps2: float = 2.0
    change_min_s: float = 0.5
    jog_kmh: float | None = 7.2
    run_kmh: float | None = 14.4
    jog_share: float | None = None
    run_share: float | None = None
    high_speed_share: float | None = None
    sprint_share: float | None = None
    turn_degrees: float = 90.0
    turn_s: float = 1.0
    turn_mps: float = 1.5

    @property
    def own(self) -> bool:
        """Whether speeds are shares of own top speed."""
        return self.high_speed_kmh is None

    def cuts_mps(self, tops_mps: np.ndarray) -> np.ndarray:
        """[player, zone]: where each zone begins for players with these top speeds, m/s."""
        if self.own:
            return np.outer(tops_mps, [getattr(self, f"{zone}_share") for zone in ZONES])
        return np.tile([getattr(self, f"{zone}_kmh") / 3.6 for zone in ZONES], (len(tops_mps), 1))

    def start_in_words(self, zone: str) -> str:
        """Where a zone begins, in words."""
        if self.own:
            return f"{100 * getattr(self, f'{zone}_share'):g} % of own top speed"
        return f"{getattr(self, f'{zone}_kmh'):g} km/h"

    def least(self) -> np.ndarray:
        """(least s of a fast run, change m/s2, least s of a change)."""
        return np.array([self.speed_min_s, self.change_mps2, self.change_min_s])


ADULT_MEN = Thresholds()


def limits_of(game: Game) -> Thresholds:
    """The thresholds of a game: what its file says, the rest as usual for its populations."""
    load = game.load
    cuts = chosen([team.population for team in game.teams], load.model_dump())
    speeds: dict[str, Any] = {
        f"{zone}_{unit}": getattr(cuts, zone) if unit == cuts.unit else None
        for zone in ZONES
        for unit in (KMH, "share")
    }
    others = {
        "speed_min_s": load.speed_seconds,
        "change_mps2": load.acceleration_mps2,
        "change_min_s": load.acceleration_seconds,
        "turn_degrees": load.turn_degrees,
        "turn_s": load.turn_seconds,
        "turn_mps": load.turn_mps,
    }
    written = {name: float(value) for name, value in others.items() if value is not None}
    return replace(Thresholds(), **(speeds | written))
