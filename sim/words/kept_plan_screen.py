"""What is said of a plan: what it expects of the session, and that the counts will be held against it."""

from __future__ import annotations

from sim.experiments.last_line import LINE
from sim.game.model import Game
from sim.own_counts.columns import counts_of
from sim.own_counts.forecast import Forecast
from sim.own_counts.planning import Plan
from sim.own_counts.tally import Counted
from sim.own_counts.verdict import judge
from sim.words.listing import capital
from sim.words.losses import USUALLY
from sim.words.own_counts import MANY, day, expected, minutes
from sim.words.screen import Screen

STOPPED = "Stopped: nothing is planned. The same command plays it anew (with --save it goes on where it was)."


def planned_in_words(plan: Plan, found: Forecast, game: Game, command: str) -> str:
    """What `overload logbook plan` prints; `command` hands the counts in afterwards.

    What is expected is of one session as the game is planned, on the watch.
    """
    length = game.bouts.count * game.bouts.seconds / 60
    lines = []
    for name in counts_of(game):
        one = judge(found, Counted(name, 0, length, "watch"))
        if one.high:
            lines.append(f"{capital(MANY[name])}: {expected(one)}.")
    head = f"{plan.game}: planned for {day(plan.day)}"
    answer = ["The forecast is kept: what you count that day is judged by it."]
    beside = [f"In {minutes(length)} on the watch:", *lines] if lines else []
    doing = ["Afterwards:", f"  {command}"]
    return Screen(head, answer, beside, doing, [USUALLY, LINE] if lines else [LINE]).text()
