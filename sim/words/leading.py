"""A comparison told by the measure that it leads with: both figures as a coach counts them, one evening's range, and our doubt.

*Usually* is what one evening may bring, *give or take* our own doubt about the difference: each has a sentence of its own.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from sim.experiments.comparison import Evening, Row
from sim.words.clocks import ROLLING, WATCH
from sim.words.differences import counts
from sim.words.figures import WHOLE_FROM, count, metres, of_ten, present, rounded, span, two, whole
from sim.words.listing import capital
from sim.words.measure_names import is_counted, wording
from sim.words.measure_phrases import happens, holds
from sim.words.screen import WIDTH
from sim.words.setting_up import spelt_time

DEAD = "in_play_share"
"""Coaches ask for the time the ball is dead, which is what is left of this one."""
EVEN = 0.45, 0.55
"""Between these chances nobody would bet on either."""
SLOW = 10.0
"""Metres a minute: below it whole metres say too little."""
MOST_PLACES = 2  # a hundredth of a loss a minute is one in an hour and a half
FULLY = {
    "clear, matters": "a real difference, and a big one",
    "clear, size open": "a real difference, but how big isn't clear",
    "no difference that matters": "too close to call: if there is a difference you would not notice",
    "cannot tell": "it could still be luck",
}


@dataclass(frozen=True)
class Figure:
    """A measure of one game as a coach counts it: a bout on the watch, or in per cent; `low` to `high`: one evening's range."""

    mean: float
    low: float | None
    high: float | None


def figures(row: Row, seconds: tuple[float, float]) -> tuple[Figure, Figure] | None:
    """Of both games, whose bouts last so many `seconds`; None where either is not known."""
    if row.first is None or row.second is None:
        return None
    return (
        figure(row, row.first, row.first_evening, seconds[0]),
        figure(row, row.second, row.second_evening, seconds[1]),
    )


def figure(row: Row, mean: float, evening: Evening, seconds: float) -> Figure:
    """Of one of them."""
    if evening.watch is not None:
        by = seconds / 60
        low, high = evening.watch_low, evening.watch_high
        return Figure(by * evening.watch, None if low is None else by * low, None if high is None else by * high)
    low, high = evening.low, evening.high
    if row.measure == DEAD:
        mean, low, high = 1 - mean, None if high is None else 1 - high, None if low is None else 1 - low
    by = 100.0 if row.unit == "share" else 1.0
    low, high = (None if one is None else by * one for one in (low, high))
    return Figure(by * mean, low, high)


def by_the_bout(row: Row) -> bool:
    """Whether it is counted by the bout."""
    return row.first_evening.watch is not None or row.unit == "1/bout"


def ends_of(row: Row, one: Figure) -> str:
    """``4 to 6``: whole in per cent, and where the count itself is."""
    return span(one.low, one.high, said(row, one.mean))


def said(row: Row, mean: float) -> Callable[[float], str]:
    """How an end of the range about this mean is said."""
    if row.unit == "share" or wording(row.measure).whole:
        return rounded
    if by_the_bout(row):
        return whole if mean >= WHOLE_FROM else count
    return metres_said(row) if row.unit == "m/min" else two


def metres_said(row: Row) -> Callable[[float], str]:
    """Metres a minute: whole, but for the few that are fast."""
    return metres if max(present(row.first), present(row.second)) >= SLOW else two


def both_said(row: Row, both: tuple[Figure, Figure]) -> tuple[str, str]:
    """(before, after), told apart where they differ."""
    before, after = both[0].mean, both[1].mean
    if row.unit == "share":
        whole = rounded(before), rounded(after)
        pair = whole if whole[0] != whole[1] or before == after else (f"{before:.1f}", f"{after:.1f}")
        return f"{pair[0]} %", f"{pair[1]} %"
    if row.unit == "m/min":
        say = metres_said(row)
        return say(before), say(after)
    return counts(before, after)


def does(row: Row, amount: str, shots: bool, period: str = "") -> str:
    """``they lose it about 9 times a bout``, ``the ball is dead for 24 % of the bout``."""
    if row.measure == DEAD:
        return f"the ball is dead for {amount} of {period or 'the bout'}"
    if by_the_bout(row) and is_counted(row.measure):
        return f"{happens(row.measure, f'about {amount}', row.scope, shots)} {period}"
    return holds(row.measure, amount, row.scope, row.clock, row.unit)


def headline(
    row: Row, both: tuple[Figure, Figure], changed: str, lengths: tuple[float, float], shots: bool, another: bool
) -> str:
    """The count a coach makes, of both; `another`: `changed` is another game, and no change of this one."""
    before, after = both_said(row, both)
    counted = by_the_bout(row) and is_counted(row.measure)
    if not counted:
        where = f"In {changed}" if another else f"With {changed}"
        tail = f"here {before}" if another else "as without" if before == after else f"not {before}"
        return f"{where} {does(row, after, shots)}, {tail}."
    if another:
        its = does(row, after, shots, f"a bout of {spelt_time(lengths[1])}")
        return f"In {changed} {its}, here about {number(row, before)} a bout of {spelt_time(lengths[0])}, {WATCH}."
    if lengths[0] != lengths[1]:
        its = does(row, after, shots, f"in {spelt_time(lengths[1])}")
        return f"With {changed} {its}, as it is {number(row, before)} in {spelt_time(lengths[0])}, {WATCH}."
    tail = ", as without" if before == after else f" instead of {before}"
    full = f"With {changed} {does(row, after, shots, 'a bout')}{tail}, {spelt_time(lengths[0])} {WATCH}."
    return full if len(full) <= WIDTH else f"With {changed} {does(row, after, shots, f'a bout {WATCH}')}{tail}."


def number(row: Row, figure_said: str) -> str:
    """``5 times`` of what happens, ``5`` of what is scored."""
    return f"{figure_said} times" if "{times}" in wording(row.measure).happens else figure_said


def one_evening(row: Row, both: tuple[Figure, Figure], another: bool, by_minute: bool = False) -> list[str]:
    """The range of one evening of both, and how likely the second has more on one evening.

    `by_minute`: bouts are not of one length, so that this is said of a minute.
    """
    before, after = (ends_of(row, one) for one in both)
    if not before or not after:
        return []
    here = "here" if another else "as it is"
    ends = f"{after} either way" if before == after else f"{after}, {here} {before}"
    return [f"Usually {ends} (8 evenings in 10){more_often(row, by_minute)}."]


def more_often(row: Row, by_minute: bool = False) -> str:
    """``: more nearly every time``, ``: fewer about 7 times in 10``, on the clock of the ranges; nothing where not known."""
    chance = row.one_session if row.first_evening.watch is None else row.watch_session
    if chance is None or row.difference == 0:
        return ""
    if EVEN[0] < chance < EVEN[1]:
        return ": which has more is a toss-up"
    larger = chance > 0.5
    more = larger != (row.measure == DEAD)
    way = "more" if more else "less" if row.measure == DEAD else wording(row.measure).less
    return f": {'by the minute ' if by_minute else ''}{way} {of_ten(chance if larger else 1 - chance).removeprefix('about ')}"


def how_much(row: Row, lines_alike: bool) -> list[str]:
    """The mean of both, our doubt about the difference, and how sure it is; `lines_alike`: no measure differs at all."""
    if row.first is None or row.second is None:
        return []
    if (row.difference, row.low, row.high) == (0, 0, 0):
        alone = (
            "They lose it exactly as often." if "lose it" in wording(row.measure).happens else "No difference in that."
        )
        return ["No difference at all: they play the same." if lines_alike else alone]
    by = 100.0 if row.unit == "share" else 1.0
    difference, width = by * present(row.difference), by * (present(row.high) - present(row.low))
    places = digits(difference, width)
    size, doubt = f"{abs(difference):.{places}f}", f"{width / 2:.{places}f}"
    up = (difference > 0) != (row.measure == DEAD)
    way = "more" if up else "less" if row.measure == DEAD else wording(row.measure).less
    gap = f"{size} {way}" if float(size) else "about the same"
    verdict = FULLY[row.verdict]
    return [f"{averages(row, by)}: {gap}, give or take {doubt}.", f"{capital(verdict)}."]


def averages(row: Row, by: float) -> str:
    """``With the ball rolling 6.3 a minute, not 3.0``; ``On average 24 %, not 17 %``."""
    first, second = (
        by * (1 - one if row.measure == DEAD else one) for one in (present(row.first), present(row.second))
    )
    if row.first_evening.watch is not None:
        return f"{capital(ROLLING)} {two(second)} a minute, not {two(first)}"
    unit = " %" if row.unit == "share" else ""
    return f"On average {two(second)}{unit}, not {two(first)}{unit}"


def digits(*values: float) -> int:
    """Places that show two digits of the largest, and never more than anybody could count."""
    largest = max(abs(value) for value in values)
    return 1 if largest == 0 else min(max(0, 1 - math.floor(math.log10(largest))), MOST_PLACES)
