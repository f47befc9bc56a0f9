"""Words in the pictures of a plan: the sentence over each, made of the figures that are drawn, and what the marks mean."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.words.listing import listed
from sim.words.plan_words import HARD, evenings_that, kilometres

if TYPE_CHECKING:
    import pandas as pd

AXES = {"minutes": "minutes", "metres": "km", "fast_metres": "m fast", "accelerations": HARD}
BAND, FORECAST, USUALLY = "band of the day", "planned", "eight evenings in ten, a player"
BEFORE, AFTER, AS_BEFORE = "before", "after", "as before"
TRAINS, MATCH, LESS = "training", "match", "less than the squad"
UNKNOWN = "match, minutes unknown"
WEEK_BAND = "bands of the week together"
IN_KM = ("metres",)


def evenings_said(frame: pd.DataFrame) -> str:
    """How many evenings lie in their band of metres."""
    rows = frame[frame["measure"] == "metres"]
    known = rows.dropna(subset=["band_low"])
    if known.empty:
        return f"{len(rows)} evenings: no band of distance is known"
    inside = int(((known["value"] >= known["band_low"]) & (known["value"] <= known["band_high"])).sum())
    where = "in its band of distance"
    return evenings_that(
        inside, len(known), (f"lies {where}", f"does not lie {where}", "lie in their band of distance")
    )


def weeks_said(frame: pd.DataFrame) -> str:
    """The week with most metres, and the last."""
    rows = frame[frame["measure"] == "metres"]
    most = rows.iloc[int(rows["value"].to_numpy().argmax())]
    last = rows.iloc[-1]
    said = f"Week {most['week']} is the fullest, {kilometres(most['value'])} km of training"
    return said if most["week"] == last["week"] else f"{said}; the last is {kilometres(last['value'])} km"


def players_said(frame: pd.DataFrame) -> str:
    """How many do less than the squad on some day."""
    less = list(dict.fromkeys(frame[frame["why"].isin(["limited", "catching up"])]["player"]))
    who = listed(less[:3]) if len(less) <= 3 else f"{len(less)} players"
    return f"{who} {'does' if len(less) == 1 else 'do'} less than the squad" if less else "All do the same evenings"


def move_said(frame: pd.DataFrame) -> str:
    """The evenings that change."""
    other = frame[~((frame["before"] - frame["after"]).abs() < 1.0)]
    days = list(other["evening"])
    return f"{listed(days)} {'changes' if len(days) == 1 else 'change'}" if days else "No evening changes"


def in_unit(measure: str, value: float) -> float:
    """A value as it is drawn: metres as kilometres."""
    return value / 1000 if measure in IN_KM else value
