"""The table `load` of a game: which speeds, changes of speed and turns are counted.

Left out, everything is as usual for the populations that play (`sim.speed_zones`).  Speeds are cut either in km/h or in shares of
each player's own top speed; km/h are those of adults and are refused where minors play.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from pydantic import Field

from sim.game.messages import Problem, broken
from sim.game.values import SpecTable
from sim.speed_zones import ZONES, chosen, minors_of


def _kmh(zone: str, men: str, women: str) -> Any:
    description = (
        f"Speed at which {zone} begins. Unit: km/h; refused where minors play. Usual: men {men}, women {women}."
    )
    return Field(default=None, gt=0, le=45, description=description)


def _share(zone: str, usual: str) -> Any:
    description = f"The same as a share of each player's own top speed, for {zone}. Usual with minors: {usual}."
    return Field(default=None, gt=0, lt=1, description=description)


class LoadSpec(SpecTable):
    """What is counted as fast and as sharp. All may be left out."""

    jog_kmh: float | None = _kmh("jogging", "7.2", "7")
    run_kmh: float | None = _kmh("running", "14.4", "13")
    high_speed_kmh: float | None = _kmh("high speed", "19.8", "19")
    sprint_kmh: float | None = _kmh("sprinting", "25.2", "23")
    jog_share: float | None = _share("jogging", "0.25")
    run_share: float | None = _share("running", "0.60")
    high_speed_share: float | None = _share("high speed", "0.80")
    sprint_share: float | None = _share("sprinting", "0.90")
    speed_seconds: float | None = Field(
        default=None, ge=0, le=10, description="Least length of a high-speed run or sprint. Unit: s. Default 1."
    )
    acceleration_mps2: float | None = Field(
        default=None, ge=0.5, le=8, description="Change of speed that counts as sharp. Unit: m/s2. Default 2."
    )
    acceleration_seconds: float | None = Field(
        default=None, ge=0, le=5, description="How long it must last. Unit: s. Default 0.5."
    )
    turn_degrees: float | None = Field(
        default=None, ge=30, le=170, description="Change of direction that counts as a turn. Unit: degrees. Default 90."
    )
    turn_seconds: float | None = Field(default=None, ge=0.2, le=3, description="Within how long. Unit: s. Default 1.")
    turn_mps: float | None = Field(
        default=None, ge=0.5, le=8, description="Least speed before and after it. Unit: m/s. Default 1.5."
    )


def load_problems(load: LoadSpec, populations: dict[str, str]) -> Iterator[Problem]:
    """What does not fit together; `populations` by team."""
    written = load.model_dump()
    given = {key: value for key, value in written.items() if value is not None and key.rpartition("_")[0] in ZONES}
    speeds = [key for key in given if key.endswith("_kmh")]
    minors = minors_of(populations.values())
    if speeds and minors:
        rule = (
            f"must give its speeds as shares of own top speed (such as high_speed_share) where minors play, as km/h are "
            f"those of adults (got {', '.join(speeds)} with {', '.join(minors)})"
        )
        yield Problem("load", rule)
        return
    if speeds and len(speeds) < len(given):
        yield Problem(
            "load", f"must give its speeds either in km/h or as shares of own top speed (got {', '.join(given)})"
        )
        return
    cuts = chosen(populations.values(), written)
    for low, high in pairwise(ZONES):
        below, above = f"{low}_{cuts.unit}", f"{high}_{cuts.unit}"
        least, most = getattr(cuts, low), getattr(cuts, high)
        if most <= least:
            if above in given:
                yield broken(f"load.{above}", f"be above {below}, {least:g}", most)
            else:
                yield broken(f"load.{below}", f"be below {above}, {most:g}", least)
