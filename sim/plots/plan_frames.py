"""From a plan to the frames of its pictures: evenings with bands, weeks, players, and what a move changes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sim.weeks.amounts import MEASURES
from sim.weeks.days import week_number
from sim.weeks.moving import Moved
from sim.weeks.plan import Planned, PlannedEvening
from sim.words.plan_words import day_of, label_of

if TYPE_CHECKING:
    import pandas as pd

EVENING = ("week", "evening", "label", "measure", "value", "low", "high", "band_low", "band_high")
WEEK = ("week", "measure", "value", "band_low", "band_high", "friendlies")
PLAYER = ("player", "day", "why", "value", "band_low", "band_high")
CHANGE = ("evening", "measure", "before", "after", "band_low", "band_high")


def of_evenings(plan: Planned, week: int | None = None) -> pd.DataFrame:
    """A row for each evening and measure: what it gives, where eight in ten lie, its band (nan: none)."""
    import pandas as pd

    rows = []
    for number in range(1, plan.weeks + 1) if week is None else [week]:
        for one in plan.week(number):
            low, high = one.usual
            for name in one.amounts:
                band = one.need.bands.get(name)
                ends = (float("nan"),) * 2 if band is None else (band.low, band.high)
                value = one.amounts.get(name, 0.0) if one.taken else 0.0
                said = (day_of(one.evening.day), label_of(one.labels), name)
                rows.append((number, *said, value, low.get(name, value), high.get(name, value), *ends))
    return pd.DataFrame(rows, columns=list(EVENING))


def of_weeks(plan: Planned) -> pd.DataFrame:
    """A row for each week and measure: the sum of its evenings for somebody who trains all of it, and of their bands."""
    import pandas as pd

    rows = []
    for number in range(1, plan.weeks + 1):
        own = plan.week(number)
        here = [one.name for one in plan.file.matches if week_number(one.day, plan.file.first) == number]
        friendlies = ", ".join(here)
        for name in MEASURES:
            if not any(name in one.amounts for one in plan.evenings):
                continue
            value = sum(one.amounts.get(name, 0.0) for one in own if one.taken)
            rows.append((number, name, value, *_bands(own, name), friendlies))
    return pd.DataFrame(rows, columns=list(WEEK))


def _bands(own: Sequence[PlannedEvening], name: str) -> tuple[float, float]:
    bands = [band for one in own for measure, band in one.need.bands.items() if measure == name]
    if len(bands) < len(own) or not bands:
        return float("nan"), float("nan")
    return sum(band.low for band in bands), sum(band.high for band in bands)


def of_players(plan: Planned) -> pd.DataFrame:
    """A row for each player and day, in metres: what it is for him (nan: a match whose minutes nobody knows yet), and his band;
    keepers' metres are not known."""
    import pandas as pd

    unknown = {match.day for match in plan.file.matches if not match.minutes}
    rows = []
    for line in (one for one in plan.lines if not one.member.keeper):
        for day in line.days:
            band = None if day.band is None else day.band.get("metres")
            ends = (float("nan"),) * 2 if band is None else (band.low, band.high)
            known = not (day.why == "match" and day.day in unknown)
            value = day.amounts.get("metres", 0.0) if known else float("nan")
            rows.append((line.member.name, day_of(day.day), day.why, value, *ends))
    return pd.DataFrame(rows, columns=list(PLAYER))


def of_move(found: Moved) -> pd.DataFrame:
    """A row for each evening before and after (nan: it is not there then), in metres, with its band after."""
    import pandas as pd

    before = {one.evening.day: one for one in found.before.evenings}
    after = {one.evening.day: one for one in found.after.evenings}
    rows = []
    for day in sorted({*before, *after}):
        values = [
            own[day].amounts["metres"] if day in own and own[day].taken else float("nan") for own in (before, after)
        ]
        band = after[day].need.bands.get("metres") if day in after else None
        ends = (float("nan"),) * 2 if band is None else (band.low, band.high)
        rows.append((day_of(day), "metres", *values, *ends))
    return pd.DataFrame(rows, columns=list(CHANGE))
