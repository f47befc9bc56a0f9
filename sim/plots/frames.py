"""Tidy frames for the pictures, made of our answers; shares in per cent, everything else in the unit of its measure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sim.errors import GameError
from sim.experiments.adjusted import Card, Effect
from sim.experiments.compare import ERROR
from sim.experiments.why import Moved, Why
from sim.measures.catalogue import IN_PLAY, measures
from sim.measures.thresholds import ADULT_MEN
from sim.words.levers import bare_name
from sim.words.why import SURE

if TYPE_CHECKING:
    import pandas as pd


def in_percent(frame: pd.DataFrame, figures: Sequence[str]) -> pd.DataFrame:
    """The same with shares as per cent; rows of another unit stay as they are."""
    shares = frame["unit"] == "share"
    found = frame.copy()
    for name in figures:
        found[name] = found[name].where(~shares, 100 * found[name])
    found["unit"] = found["unit"].where(~shares, "%")
    return found


KINDS = {"play": "how play is modelled", "players": "how little we know of the players", "lever": "what you can turn"}


def of_why(found: Why, most: int = 12) -> pd.DataFrame:
    """The most telling rows, for `levers`: change from one end of each to the other, with two standard errors either way."""
    import pandas as pd

    rows = [
        {
            "lever": moved_words(row),
            "effect": row.change,
            "low": row.change - SURE * row.change_se,
            "high": row.change + SURE * row.change_se,
            "told_apart": abs(row.change) > SURE * row.change_se,
            "measure": found.measure,
            "scope": found.scope,
            "unit": found.unit,
            "clock": clock_of(found.measure),
            "kind": KINDS[row.kind],
        }
        for row in ([one for one in found.rows if one.change] or found.rows)[:most]
    ]
    return in_percent(pd.DataFrame(rows), ("effect", "low", "high"))


def clock_of(measure: str) -> str:
    """ "in play" or "watch"; a measure that is no ratio (the most exposed player) is counted in play."""
    return {one.measure: one.clock for one in measures(ADULT_MEN)}.get(measure, IN_PLAY)


def moved_words(row: Moved) -> str:
    """``side 9 to 11 m``."""
    unit = "" if row.unit in ("1", "") else f" {row.unit}"
    return f"{row.name.replace('_', ' ')} {row.low:.3g} to {row.high:.3g}{unit}"


def of_card(card: Card) -> pd.DataFrame:
    """The levers of a card, for `levers`; those that are refused only where there is nothing else, and then said to be."""
    import pandas as pd

    told = [one for one in card.effects if one.aim.difference is not None]
    rows = [
        {
            "lever": bare_name(one.lever),
            "effect": one.aim.difference,
            "low": one.aim.low,
            "high": one.aim.high,
            "told_apart": one.aim.p_holm < ERROR,
            "measure": card.measure,
            "scope": card.scope,
            "unit": card.unit,
            "clock": card.clock,
            "kind": standing(one),
        }
        for one in ([one for one in told if not one.refusals] or told)
    ]
    if not rows:
        raise GameError("must have a lever whose effect is known (got none)", "--plot")
    return in_percent(pd.DataFrame(rows), ("effect", "low", "high"))


def standing(one: Effect) -> str:
    """Whether a lever may be pulled, and with whom."""
    if one.refusals:
        return "not proposed: a player on reduced load"
    return "needs more players" if one.lever.people > 0 else "with the players there are"
