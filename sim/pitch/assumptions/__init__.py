"""The engine's constants: the judgements behind the play, each with its range.

They are part of the one table of assumptions (`sim.parameters`).  Compiled code reads them by name, as the record `constants`
of `sim.pitch.arrays`, whose fields are the rows of `ENGINE`.  A constant stands here once: a row in the module of its subject.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sim.pitch.assumptions.defending import DEFENDING
from sim.pitch.assumptions.judged import JUDGED
from sim.pitch.assumptions.off_ball import OFF_BALL
from sim.pitch.assumptions.on_ball import ON_BALL
from sim.pitch.assumptions.perception import PERCEPTION
from sim.pitch.assumptions.races import RACES
from sim.pitch.assumptions.restarts import RESTARTS
from sim.pitch.assumptions.running import RUNNING
from sim.pitch.assumptions.shooting import SHOOTING

ENGINE = (*JUDGED, *ON_BALL, *RACES, *SHOOTING, *OFF_BALL, *DEFENDING, *PERCEPTION, *RUNNING, *RESTARTS)
"""All rows; the order of the first is that of the columns of the screening design, so new ones are added behind."""

BEFORE_FIT: Mapping[str, float] = MappingProxyType(
    {
        "progress_weight": 0.35,
        "recover": 0.4,
        "move_cost": 0.15,
        "receiver_reach": 1.0,
        "keeper_reach": 1.1,
        "effort": 0.85,
        "lane_doubt": 0.14,
        "arrival_noise": 0.08,
    }
)
"""Values, before the first fit, of the constants that were fitted: what a calibration is pulled to."""

USUAL: Mapping[str, float] = MappingProxyType({row.name: row.value for row in ENGINE})
"""All constants by name."""


def constant(name: str, replaced: Mapping[str, float] | None = None) -> float:
    """One constant by name, or what stands in its place."""
    usual = USUAL[name]
    return (replaced or {}).get(name, usual)
