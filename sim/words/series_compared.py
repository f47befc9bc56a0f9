"""Four bouts of three minutes or six of two: which to take and why, where two games differ in their bouts alone."""

from __future__ import annotations

from collections.abc import Callable

from sim.experiments.series import Series, SeriesCompared
from sim.game.model import Game
from sim.words.estimate_beside import in_the_middle
from sim.words.evening_out import roles_change_hands
from sim.words.figures import span
from sim.words.listing import listed
from sim.words.setting_up import time_of

WORTH = {"rolling_s": 0.03, "apart": 0.03, "drop": 0.01}
"""What is worth a word: a share of the rolling time; of the time, and of the metres, shares by themselves (house default)."""
CUT = ("count", "seconds", "rest_seconds")
"""What may differ between two ways of cutting the same evening."""
AS_LONG = 0.05
"""By what share of the longer the time worked may differ for the evening to be as long (house default)."""
REASONS = {
    "rolling_s": "the ball rolls for longer",
    "apart": "the defending is shared out more evenly",
    "drop": "there is more left in the last bout",
}
TOO_CLOSE = "Too close to call"
TIRING = "How much they tire is our assumption, and so is that drop."


def bouts_alone_differ(first: Game, second: Game) -> bool:
    """Whether two games are the same but for how many bouts they have, how long, and the rest between, and work as long in all."""
    ours, theirs = first.bouts, second.bouts
    if (ours.count, ours.seconds) == (theirs.count, theirs.seconds):
        return False
    worked = sorted(one.count * one.seconds for one in (ours, theirs))
    if worked[0] < (1 - AS_LONG) * worked[1]:
        return False
    cut = ours.model_copy(update={name: getattr(theirs, name) for name in CUT})
    return first.model_copy(update={"bouts": cut}) == second


def take(found: SeriesCompared, game: Game) -> str:
    """Which of the two, and why; or that it is too close to call."""
    first, second = of(found.first), of(found.second)
    ours, theirs = better(found, game)
    if not ours and not theirs:
        fewer = first if found.first.count < found.second.count else second
        return f"{TOO_CLOSE}: take {fewer}, which is fewer stops."
    if ours and theirs:
        return f"{first}: {listed(ours)}; {second}: {listed(theirs)}. Which matters more is for you to say."
    return f"Take {second if theirs else first}: {listed(theirs or ours)}."


def of(one: Series) -> str:
    """``6 of 2 min``."""
    return f"{one.count} of {time_of(one.seconds)}"


def better(found: SeriesCompared, game: Game) -> tuple[list[str], list[str]]:
    """(what speaks for the first, what for the second), where it is clear and worth a word.

    How evenly they defend speaks for neither where nobody changes roles: there it is only which team had the ball.
    """
    ours: list[str] = []
    theirs: list[str] = []
    for name, reason in REASONS.items():
        difference = getattr(found, name)
        if difference is None or (name == "apart" and not roles_change_hands(game)):
            continue
        mean, low, high = difference
        least = WORTH[name] * ((found.first.rolling_s.mean or 0.0) if name == "rolling_s" else 1.0)
        if abs(mean) < least or low <= 0 <= high:
            continue
        more_is_better = name == "rolling_s"
        (theirs if (mean > 0) == more_is_better else ours).append(reason)
    return ours, theirs


def side_by_side(found: SeriesCompared, game: Game) -> list[str]:
    """Minutes rolling, how unequal defending is, and the drop from the first bout to the last, with one evening's range of each."""
    does = "in" if in_the_middle(game) else "defending"
    lines = [
        both(found, "rolling_s", "Ball rolling: {} min", minutes, "usually "),
        both(found, "apart", f"Most and least time {does}: {{}} % apart", hundredths),
        both(found, "drop", "Metres of the last bout: {} on the first", down),
    ]
    return [line for line in lines if line]


def both(found: SeriesCompared, name: str, head: str, say: Callable[[float], str], usually: str = "") -> str:
    """``Ball rolling: 11 min (usually 10 to 12), as it is 11 (10 to 12).``; nothing where either is not known."""
    now, then = getattr(found.first, name), getattr(found.second, name)
    if now.mean is None or then.mean is None:
        return ""
    told, before = span(then.low, then.high, say), span(now.low, now.high, say)
    ends = f" ({usually}{told})" if told else "", f" ({before})" if before else ""
    return f"{head.format(say(then.mean))}{ends[0]}, as it is {say(now.mean)}{ends[1]}."


def hundredths(share: float) -> str:
    """Whole per cent without the sign."""
    return f"{100 * share:.0f}"


def down(share: float) -> str:
    """``2 % down``, ``1 % up``, ``level``."""
    whole = round(100 * share)
    return f"{abs(whole)} % {'down' if whole > 0 else 'up'}" if whole else "level"


def minutes(seconds: float) -> str:
    """Minutes of an evening, to the tenth."""
    return f"{seconds / 60:.1f}".removesuffix(".0")
