"""What becomes of measures with a change: a sentence each, and losses by the bout."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.comparison import Row
from sim.experiments.key_measures import OF_ROLES
from sim.words.clocks import WATCH
from sim.words.figures import present, two
from sim.words.losses import lead
from sim.words.measure_names import MEASURES, wording

METRES_COME = 2
FEW = 2.5
"""Below this a whole number of losses says too little."""
NOTHING_ELSE = "Nothing else changes enough to notice."


def role_of(scope: str) -> str:
    """The role of a scope, ``role:inside``."""
    return scope.removeprefix("role:")


def two_digits(row_unit: str, value: float) -> str:
    """Two digits, shares in per cent (the sign stands in the words)."""
    return two(100 * value if row_unit == "share" else value)


def clear(row: Row) -> bool:
    """Whether it surely changes, and is known in both games."""
    return row.verdict.startswith("clear") and is_known(row)


def is_known(row: Row) -> bool:
    """Whether both games have a figure."""
    return row.first is not None and row.second is not None


def both(row: Row) -> tuple[float, float]:
    """(first, second) of a row that is known in both games."""
    return present(row.first), present(row.second)


def what_else(rows: Sequence[Row], asked: tuple[str, str] | None = None) -> list[str]:
    """A sentence for every other measure that clearly changes; `asked` and losses are told elsewhere."""
    said = {
        row.measure: row for row in rows if clear(row) and row.scope == "game" and (row.measure, row.scope) != asked
    }
    told = [change_told(said[measure]) for measure, words in MEASURES.items() if words.instead and measure in said]
    metres = [row for row in rows if clear(row) and row.measure == OF_ROLES and (row.measure, row.scope) != asked]
    if metres:
        each = "; ".join(
            f"{role_of(row.scope)} {now}, not {before}" for row in metres for now, before in [both_figures(row)]
        )
        told.insert(min(METRES_COME, len(told)), f"Metres a minute {WATCH}: {each}.")
    return told or [NOTHING_ELSE]


def change_told(row: Row) -> str:
    """``They string about 5 passes together, not 9.``"""
    now, before = reversed(counts(*both(row))) if wording(row.measure).whole else both_figures(row)
    return wording(row.measure).instead.format(now, before)


def both_figures(row: Row) -> tuple[str, str]:
    """(with the change, without it), of a row that is known in both games."""
    first, second = both(row)
    return two_digits(row.unit, second), two_digits(row.unit, first)


def lost_a_bout(rows: Sequence[Row], seconds: tuple[float, float]) -> tuple[float, float] | None:
    """Losses in one bout by the watch, of both games: losses with the ball rolling, times how much of a bout it rolls."""
    known = {row.measure: row for row in rows if row.scope == "game"}
    lost, rolling = known[lead(known)], known.get("in_play_share")
    if rolling is None or not (is_known(lost) and is_known(rolling)):
        return None
    rates, shares = both(lost), both(rolling)
    return rates[0] * shares[0] * seconds[0] / 60, rates[1] * shares[1] * seconds[1] / 60


def counts(first: float, second: float) -> tuple[str, str]:
    """Two counts as whole numbers, or with two digits where these would be the same or say too little."""
    whole = f"{first:.0f}", f"{second:.0f}"
    if whole[0] != whole[1] and min(first, second) >= FEW:
        return whole
    return two(first).removesuffix(".0"), two(second).removesuffix(".0")
