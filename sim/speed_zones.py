"""From which speed on a player jogs, runs, runs fast and sprints: presets by population.

Adults are read by fixed speeds: men 7.2, 14.4, 19.8, 25.2 km/h (the upper two: Martin-Garcia et al. 2020, J Sports Sci Med
19:1-9; the lower two from memory), women 7, 13, 19, 23 km/h (from memory).  Both misread youngsters, so a game in which minors
play is read by shares of each player's own top speed: 60, 80 and 90 % (from memory), and 25 % for jogging (judgement:
7.2 km/h is 22 % of a man's top speed, 7 km/h is 25 % of a woman's).  So is a game of mixed adults, or of men with
women: no fixed speed fits all of them.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Final, Literal

from sim.populations import POPULATIONS

ZONES = ("jog", "run", "high_speed", "sprint")
"""The zones above walking; a cut is where its zone begins."""

Unit = Literal["kmh", "share"]
KMH: Final = "kmh"
SHARE: Final = "share"


@dataclass(frozen=True)
class ZoneEdges:
    """Where jogging, running, high speed and sprinting begin: km/h, or shares of each player's own top speed."""

    unit: Unit
    jog: float
    run: float
    high_speed: float
    sprint: float


MEN = ZoneEdges(KMH, 7.2, 14.4, 19.8, 25.2)
WOMEN = ZoneEdges(KMH, 7.0, 13.0, 19.0, 23.0)
OWN = ZoneEdges(SHARE, 0.25, 0.60, 0.80, 0.90)
_FIXED = {"elite men": MEN, "amateur men": MEN, "women": WOMEN}


def minors_of(populations: Collection[str]) -> list[str]:
    """Those of the populations that are minors, in order."""
    return sorted(name for name in set(populations) if POPULATIONS[name].minors)


def preset(populations: Collection[str]) -> ZoneEdges:
    """The cuts of a game with these populations."""
    found = {_FIXED.get(name, OWN) for name in populations}
    return found.pop() if len(found) == 1 else OWN


def chosen(populations: Collection[str], written: dict[str, float | None]) -> ZoneEdges:
    """The cuts of a game whose file says these, by key ("run_kmh", "sprint_share"); the rest comes from the preset.

    Written km/h in a game read by shares (mixed adults, men with women) are filled up with the women's, the lower ones.
    """
    given = {key: value for key, value in written.items() if value is not None and key.rpartition("_")[0] in ZONES}
    start = preset(populations)
    if any(key.endswith("_kmh") for key in given):
        start = start if start.unit == KMH else WOMEN
    elif given:
        start = OWN
    values = {zone: given.get(f"{zone}_{start.unit}", getattr(start, zone)) for zone in ZONES}
    return ZoneEdges(start.unit, **values)
