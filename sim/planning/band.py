"""What a session should come to for each player: the band of the day, by measures that a coach asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

MEASURES: Mapping[str, tuple[str, float]] = {
    "minutes": ("time_s", 1 / 60),
    "metres": ("session_distance_m", 1.0),
    "fast_metres": ("session_high_speed_distance_m", 1.0),
    "accelerations": ("accelerations", 1.0),
    "decelerations": ("decelerations", 1.0),
    "effort": ("session_load_estimate", 1.0),
    "middle": ("session_time_defending_s", 1 / 60),
}
"""What a band may speak of: the measure of `sim.planning.kept_loads` it is, and by what that is multiplied.

minutes on the pitch; metres; metres at high speed; hard accelerations and decelerations; effort times minutes (an estimate for a
group); middle: minutes without the ball while it rolls."""
NOT_OF_MINORS = ("fast_metres", "effort")
"""What rests on thresholds of adults, or is never told of single youngsters."""


@dataclass(frozen=True)
class Band:
    """`ends`: (least, most) by measure; `label` of the day, as MD-4; `source`: who says so."""

    ends: Mapping[str, tuple[float, float]]
    label: str = ""
    source: str = ""

    def off(self, measure: str, value: float) -> int:
        """-1 below the band, 1 above it, 0 in it or where there is none."""
        if measure not in self.ends:
            return 0
        least, most = self.ends[measure]
        return -1 if value < least else int(value > most)


NO_BAND = Band({})
