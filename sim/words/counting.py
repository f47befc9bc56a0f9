"""Counts a coach makes: how often in a bout, on the watch, with what is usual; the rate with the ball rolling stands second."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sim.game.model import Game
from sim.results import Measure, Result
from sim.words.clocks import ROLLING, WATCH
from sim.words.figures import WHOLE_FROM, count, percent, present, two, usual, whole
from sim.words.setting_up import spelt_time

FEW = 2.0
"""Below so many a bout nobody counts by the bout: all bouts of a session are taken together (house default)."""
SAME_S = 0.5
"""A bout that was played to within half a second was played whole."""
WORDS = {"1": "once", "1.0": "once", "2": "twice", "2.0": "twice"}


@dataclass(frozen=True)
class Counted:
    """How many in a bout: the mean, and what is usual where that is known."""

    mean: float
    low: float | None = None
    high: float | None = None


def mean_of(row: Measure) -> float:
    """The mean of a row that is known."""
    return present(row.mean)


def times(figure: str) -> str:
    """``twice``, ``4 times``."""
    return WORDS.get(figure, f"{figure} times")


def whole_bouts(result: Result, game: Game) -> bool:
    """Whether every session's bouts were played to their end."""
    length = result.row("bout_length_s")
    ends = [length.mean, length.session_low, length.session_high]
    return all(one is None or abs(one - game.bouts.seconds) < SAME_S for one in ends)


def bout_of(result: Result, game: Game) -> float:
    """Seconds of a bout as it was played."""
    mean = result.row("bout_length_s").mean
    return game.bouts.seconds if mean is None else mean


def losses_a_bout(result: Result, game: Game) -> Counted | None:
    """Losses in a bout, without shots.  What is usual is known where it can be read off without a doubt: one clock, whole bouts."""
    clock, rate, rolling = (
        result.row(name) for name in ("turnovers_per_clock_min", "balls_lost_per_min", "in_play_share")
    )
    minutes = bout_of(result, game) / 60
    if clock.mean is None or rate.mean is None or rolling.mean is None:
        return None
    if game.goals:
        return of_rate(rate, result, game)
    ends = [None if one is None else one * minutes for one in (clock.session_low, clock.session_high)]
    return Counted(clock.mean * minutes, *ends) if whole_bouts(result, game) else Counted(clock.mean * minutes)


def of_rate(row: Measure, result: Result, game: Game) -> Counted | None:
    """What happens so often a minute with the ball rolling, by the bout."""
    share = result.row("in_play_share").mean
    return None if row.mean is None or share is None else Counted(row.mean * share * bout_of(result, game) / 60)


def per_bout(row: Measure) -> Counted | None:
    """A row that is counted by the bout as it stands; None where it is not known."""
    return None if row.mean is None else Counted(row.mean, row.session_low, row.session_high)


def spanned(found: Counted, share: int = 1) -> str:
    """`` (usually 3 to 5)`` of counts: whole where the count itself is."""
    low, high = (None if one is None else share * one for one in (found.low, found.high))
    return usual(low, high, whole if share * found.mean >= WHOLE_FROM else count)


def bouts_taken_together(found: Counted, game: Game) -> int:
    """How many bouts are counted as one: all of a session where hardly anything happens in one."""
    return game.bouts.count if found.mean < FEW else 1


def count_told(found: Counted, result: Result, game: Game, say: Callable[[str], str] = str, brief: bool = False) -> str:
    """``about 4 a bout, two minutes on the watch (usually 3 to 5)``; `brief` leaves out how long that is."""
    share = bouts_taken_together(found, game)
    period = "a bout" if share == 1 else "in both bouts" if share == 2 else f"in all {share} bouts"
    if not brief:
        roughly = "" if whole_bouts(result, game) else "about "
        period += f", {roughly}{spelt_time(round(share * bout_of(result, game)))}"
    return f"about {say(count(share * found.mean))} {period} {WATCH}{spanned(found, share)}"


def rate(row: Measure) -> str:
    """``2.1 times a minute with the ball rolling``."""
    return "" if row.mean is None else f"{times(two(row.mean))} a minute {ROLLING}"


def rolls(result: Result) -> str:
    """``it rolls for 87 % of the bout``."""
    share = result.row("in_play_share").mean
    return "" if share is None else f"it rolls for {percent(share)} of the bout"
