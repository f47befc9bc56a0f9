"""Tidy frames of our answers to questions about several games: why, adjust, compare, tune, sweep.

Shares are in per cent, everything else in the unit of its measure.  Columns that are the same in all rows say what is
measured: measure, scope, unit, clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sim.experiments.adjusted import Card, Effect
from sim.experiments.compare import ERROR
from sim.experiments.comparison import Compared
from sim.experiments.designs import Axis
from sim.experiments.shares import unit_of
from sim.experiments.sweep import Lines, Run, places
from sim.experiments.tuned import Point, Tuned
from sim.experiments.why import Moved, Why
from sim.game.model import Game
from sim.measures.catalogue import IN_PLAY, measures
from sim.measures.intervals import session_range
from sim.measures.thresholds import ADULT_MEN
from sim.words.levers import bare_name
from sim.words.picture_words import NO_GAMES, condition_names
from sim.words.reasons import reason_of
from sim.words.why import SURE, one_kind_of_player

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


def clock_of(measure: str) -> str:
    """ "in play" or "watch"; a measure that is no ratio (the most exposed player) is counted in play."""
    return {one.measure: one.clock for one in measures(ADULT_MEN)}.get(measure, IN_PLAY)


KINDS = {"play": "how play is modelled", "players": "how little we know of the players", "lever": "what you can turn"}


def of_why(found: Why, most: int = 12) -> pd.DataFrame:
    """The most telling rows, for `levers`: change from one end of each to the other, with two standard errors either way.

    As in the words, nothing is told apart where all together does not stand out of the luck.
    """
    import pandas as pd

    alone = one_kind_of_player(found)
    rows = [
        {
            "lever": moved_words(row, alone),
            "effect": row.change,
            "low": row.change - SURE * row.change_se,
            "high": row.change + SURE * row.change_se,
            "told_apart": found.clear and abs(row.change) > SURE * row.change_se,
            "measure": found.measure,
            "scope": found.scope,
            "unit": found.unit,
            "clock": clock_of(found.measure),
            "kind": KINDS[row.kind],
        }
        for row in ([one for one in found.rows if one.change] or found.rows)[:most]
    ]
    return in_percent(pd.DataFrame(rows), ("effect", "low", "high"))


def moved_words(row: Moved, alone: bool) -> str:
    """``the size: 9 to 11 m``; `alone`: there is one kind of player."""
    unit = "" if row.unit in ("1", "") else f" {row.unit}"
    return f"{reason_of(row.name, row.kind, alone)}: {row.low:.3g} to {row.high:.3g}{unit}"


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
            "told_apart": one.aim.p_holm is not None and one.aim.p_holm < ERROR,
            "measure": card.measure,
            "scope": card.scope,
            "unit": card.unit,
            "clock": card.clock,
            "kind": standing(one),
        }
        for one in ([one for one in told if not one.refusals] or told)
    ]
    columns = ["lever", "effect", "low", "high", "told_apart", "measure", "scope", "unit", "clock", "kind"]
    return in_percent(pd.DataFrame(rows, columns=columns), ("effect", "low", "high"))


def standing(one: Effect) -> str:
    """Whether a lever may be pulled, and with whom."""
    if one.refusals:
        return "not proposed: a player on reduced load"
    return "needs more players" if one.lever.people > 0 else "with the players there are"


VARIANT_FIGURES = ("value", "mean", "session_low", "session_high", "difference", "low", "high")


def of_compared(
    found: Compared, measure: str = "turnovers_per_min", scope: str = "game", games: Mapping[str, Game] = NO_GAMES
) -> pd.DataFrame:
    """For `variants`: a row a game and session with the session's own `value`.

    With each, the same in all rows of a game: its `mean`, where 8 sessions in 10 lie, and (not for the first) the
    `difference` from the first with its 95 % range and the verdict.
    """
    import pandas as pd

    sessions = found.sessions()
    own = sessions[(sessions["measure"] == measure) & (sessions["scope"] == scope)]
    compared = {one.second.name: one for one in found.comparisons}
    called = condition_names(found, games)
    about = found.comparisons[0].row(measure, scope)
    parts = []
    for name in dict.fromkeys(own["condition"]):
        part = own[own["condition"] == name].dropna(subset=["value"])
        row = compared[name].row(measure, scope) if name in compared else None
        ends = session_range(part["value"].to_numpy()) if len(part) > 1 else (float("nan"),) * 2
        parts.append(
            part[["condition", "session", "value"]].assign(
                condition=called[name],
                mean=about.first if row is None else row.second,
                session_low=ends[0],
                session_high=ends[1],
                difference=None if row is None else row.difference,
                low=None if row is None else row.low,
                high=None if row is None else row.high,
                verdict="" if row is None else row.verdict,
            )
        )
    frame = pd.concat(parts, ignore_index=True)
    figures = {name: frame[name].astype("float64") for name in VARIANT_FIGURES}
    about_it = {"measure": measure, "scope": scope, "unit": about.unit, "clock": about.clock}
    return in_percent(frame.assign(**figures, **about_it), VARIANT_FIGURES)


CURVE_FIGURES = ("mean", "low", "high", "target")


def of_tuned(found: Tuned, length: str = "m") -> pd.DataFrame:
    """For `curve` (one knob) or `surface` (two): a row a candidate, and the answer once more as it was played again.

    `what`: "point", "answer" or "played again"; `target` is missing for most and least; `reached` as in the answer.  `length` is
    the unit of lengths in the game's file.
    """
    import pandas as pd

    def row(point: Point, what: str) -> dict[str, object]:
        return keyed(found.knobs, point.values, length) | {
            "mean": point.mean,
            "low": point.low,
            "high": point.high,
            "what": what,
        }

    rows = [row(one, "answer" if one.values == found.answer else "point") for one in found.curve]
    if found.fresh is not None:
        rows.append(row(found.fresh, "played again"))
    goal = found.target if isinstance(found.target, str) else "number"
    about = about_of(found.measure, found.scope)
    frame = pd.DataFrame(rows).assign(
        target=float("nan") if goal != "number" else found.target, goal=goal, reached=found.reached, **about
    )
    return in_percent(frame, CURVE_FIGURES)


def of_sweep(
    axes: Sequence[Axis], runs: Sequence[Run], lines: Lines, measure: str, scope: str = "game", length: str = "m"
) -> pd.DataFrame:
    """For `curve` (one key) or `surface` (two): a row a finished run that has the measure, in the order of the design.

    A range from few sessions ends where the measure itself does, as in the words.
    """
    import pandas as pd

    at = places(len(axes))
    rows = []
    for run in runs:
        for cells in lines.get(run.id, ()):
            if (cells[at["measure"]], cells[at["scope"]]) == (measure, scope) and cells[at["mean"]]:
                figures = {name: float(cells[at[name]] or "nan") for name in ("mean", "low", "high")}
                figures["low"] = max(figures["low"], 0.0)
                figures["high"] = min(figures["high"], 1.0) if cells[at["unit"]] == "share" else figures["high"]
                rows.append(keyed([axis.key for axis in axes], run.values, length) | figures)
    columns = [*keyed([axis.key for axis in axes], ["" for _ in axes], length), "mean", "low", "high"]
    frame = pd.DataFrame(rows, columns=columns).assign(
        what="point", target=float("nan"), goal="", reached=True, **about_of(measure, scope)
    )
    return in_percent(frame, CURVE_FIGURES)


def keyed(keys: Sequence[str], values: Sequence[object], length: str) -> dict[str, object]:
    """``key``, ``value`` and ``key_unit`` of one key, ``key_2`` and so on of another; numbers as numbers."""
    found: dict[str, object] = {}
    for i, (key, value) in enumerate(zip(keys, values, strict=True)):
        end = "" if i == 0 else f"_{i + 1}"
        found |= {f"key{end}": key, f"value{end}": number_or_text(value), f"key_unit{end}": unit_of_key(key, length)}
    return found


def unit_of_key(key: str, length: str) -> str:
    """The unit in which a knob is turned; nothing for what is counted or not known here."""
    last = key.rpartition(".")[2]
    if last in ("side", "length", "width"):
        return length
    if last == "area":
        return f"{length}2"
    return "s" if key in ("bout", "rest") or last in ("seconds", "rest_seconds") else ""


def number_or_text(value: object) -> object:
    """The value as a number where it can be read as one."""
    try:
        return float(value)  # type: ignore[arg-type]  # what is no number is meant to fail
    except (TypeError, ValueError):
        return value


def about_of(measure: str, scope: str) -> dict[str, str]:
    """The columns that say what is measured."""
    return {"measure": measure, "scope": scope, "unit": unit_of(measure), "clock": clock_of(measure)}
