"""House defaults: what an evening should amount to, by its label counted from the match and by the week of the pre-season.

All of it is common practice, no source; every line can be put right in the plan file.  Shares are of the player's own full match
(1 = as much as in it); minutes are minutes.  Where the practice says "none" or "very low", the bound is our reading of it.

That an evening three to five days before the match is the heaviest and that the last two are light is published (Oliva-Lozano
2021, Biol Sport; Clemente et al., J Hum Kinet, PMC6458578; Coutinho 2024, Biol Sport); how heavy is not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from sim.weeks.amounts import LOADS, Measure


@dataclass(frozen=True)
class Band:
    """From `low` to `high`, both included."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Half way."""
        return (self.low + self.high) / 2

    def off(self, value: float) -> float:
        """How far a value lies below (negative) or above the band; 0 inside."""
        return min(value - self.low, 0.0) + max(value - self.high, 0.0)


Bands = Mapping[Measure, Band]
TOP_UP, NO_MATCH = "MD+1 top-up", "no match"
"""The day after for those who hardly played, and an evening that no match is near."""


def _bands(*ends: tuple[float, float]) -> Bands:
    measures: tuple[Measure, ...] = ("minutes", *LOADS)
    return MappingProxyType({name: Band(*pair) for name, pair in zip(measures, ends, strict=True)})


HOUSE: Mapping[str, Bands] = MappingProxyType(
    {
        "MD+1": _bands((20, 40), (0.10, 0.25), (0.0, 0.05), (0.0, 0.20)),
        TOP_UP: _bands((45, 70), (0.40, 0.65), (0.30, 0.70), (0.60, 1.00)),
        "MD+2": _bands((0, 60), (0.0, 0.40), (0.0, 0.15), (0.0, 0.40)),
        "MD-4": _bands((70, 90), (0.45, 0.65), (0.10, 0.35), (0.70, 1.20)),
        "MD-3": _bands((75, 95), (0.55, 0.75), (0.50, 1.00), (0.40, 0.75)),
        "MD-2": _bands((50, 75), (0.35, 0.50), (0.10, 0.25), (0.30, 0.50)),
        "MD-1": _bands((40, 60), (0.25, 0.40), (0.05, 0.15), (0.20, 0.40)),
        NO_MATCH: _bands((70, 95), (0.45, 0.75), (0.10, 1.00), (0.40, 1.20)),
    }
)
"""By label; an evening that no match is near may be as tight as MD-4 or as big as MD-3."""


@dataclass(frozen=True)
class PreSeasonWeek:
    """A week of pre-season beside a usual one: shares of volume (minutes, metres, accelerations) and of fast metres."""

    volume: Band
    fast: Band


PRE_SEASON: Sequence[PreSeasonWeek] = (
    PreSeasonWeek(Band(0.60, 0.75), Band(0.0, 0.40)),
    PreSeasonWeek(Band(0.75, 0.90), Band(0.20, 0.60)),
    PreSeasonWeek(Band(0.90, 1.05), Band(0.40, 0.80)),
    PreSeasonWeek(Band(1.00, 1.15), Band(0.70, 1.00)),
    PreSeasonWeek(Band(0.90, 1.00), Band(0.90, 1.00)),
    PreSeasonWeek(Band(0.70, 0.85), Band(0.90, 1.00)),
)
"""Weeks 1 to 6; later ones are like the last.  The practice has words for fast running ("short exposures", "progressive"): the
shares are our reading of them."""

ADULT_MEN = "elite men"
"""The one population for which a match is known well enough to stand in for a player's own."""
ANCHORS: Mapping[Measure, Band] = MappingProxyType({"metres": Band(9500, 12000), "fast_metres": Band(200, 1900)})
"""A full match of adult men, house default: metres by common practice; metres above about 19.8 km/h as reported, very wide
(Martin-Garcia 2019, Biol Sport, PMC6561222).  Never for women, youth or amateurs."""


def week_of_pre_season(number: int) -> PreSeasonWeek:
    """Week `number` (from 1)."""
    return PRE_SEASON[min(number, len(PRE_SEASON)) - 1]


def lower_of(bands: Sequence[Bands]) -> Bands:
    """One band from several: of each end the lower one.  An evening that is near two matches is as light as the lighter label."""
    measures = [measure for measure in bands[0] if all(measure in one for one in bands)]
    return {name: Band(min(one[name].low for one in bands), min(one[name].high for one in bands)) for name in measures}


def in_week(bands: Bands, week: PreSeasonWeek) -> Bands:
    """Bands of an evening in a week of pre-season; nobody is asked for more minutes than in a usual week."""
    found: dict[Measure, Band] = {}
    for measure, band in bands.items():
        share = week.fast if measure == "fast_metres" else week.volume
        most = band.high if measure == "minutes" else band.high * share.high
        found[measure] = Band(band.low * min(1.0, share.low) if measure == "minutes" else band.low * share.low, most)
    return found


def in_amounts(bands: Bands, full_match: Bands) -> Bands:
    """Shares of a full match as amounts; a measure whose full match is not known is left out."""
    found: dict[Measure, Band] = {}
    for measure, band in bands.items():
        if measure == "minutes":
            found[measure] = band
        elif measure in full_match:
            match = full_match[measure]
            found[measure] = Band(band.low * match.low, band.high * match.high)
    return found
