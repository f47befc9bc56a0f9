"""How counts made by hand are said: ``14 losses``, ``eight minutes on the watch``, ``usual``."""

from __future__ import annotations

import math
from datetime import date

from sim.own_counts.tally import LONGEST, Counted
from sim.own_counts.verdict import Judged, Verdict
from sim.words.clocks import ROLLING, WATCH
from sim.words.figures import count, span, whole
from sim.words.listing import WORDS

ONE = {
    "losses": "loss", "wins": "ball won", "outs": "ball out", "passes": "pass", LONGEST: "pass in the longest run",
    "reached": "time they got there", "goals": "goal",
}  # fmt: skip
MANY = {
    "losses": "losses", "wins": "balls won", "outs": "balls out", "passes": "passes", LONGEST: "passes in the longest run",
    "reached": "times they got there", "goals": "goals",
}  # fmt: skip
ON = {"watch": WATCH, "rolling": ROLLING}
VERDICTS = {
    Verdict.USUAL: "usual",
    Verdict.UNUSUAL: "unusual",
    Verdict.LITTLE: "cannot tell, little was counted",
    Verdict.EDGE: "cannot tell, it could still be luck",
    Verdict.FEW: "cannot tell, too few sessions were played",
    Verdict.NOT_JUDGED: "not judged",
}


def some_of(measure: str, number: int) -> str:
    """``1 loss``, ``14 losses``."""
    return f"{number} {ONE[measure] if number == 1 else MANY[measure]}"


def minutes(value: float) -> str:
    """``eight minutes``, ``a minute``, ``2.5 minutes``."""
    if value == 1:
        return "a minute"
    spelt = WORDS[int(value) - 1] if value == int(value) and value <= len(WORDS) else f"{value:g}"
    return f"{spelt} minutes"


def taken(what: Counted) -> str:
    """``14 losses in eight minutes on the watch``."""
    return f"{some_of(what.measure, what.count)} in {minutes(what.minutes)} {ON[what.clock]}"


def expected(one: Judged) -> str:
    """``about 22 (usually 15 to 27)``."""
    return f"about {count(one.mean)} (usually {span(one.low, one.high, whole)})"


def whole_minutes(value: float) -> str:
    """``about 15 minutes``: whole minutes, from ten on by fives, upwards."""
    whole_ = math.ceil(value - 1e-9)
    told = whole_ if whole_ <= 10 else 5 * math.ceil(whole_ / 5)
    return f"about {minutes(told)}"


def more_minutes(value: float) -> str:
    """``about 15 minutes more``."""
    return f"{whole_minutes(value)} more"


def day(iso: str) -> str:
    """``28 Nov 2026``."""
    found = date.fromisoformat(iso)
    return f"{found.day} {found:%b} {found.year}"
