"""The watch of a game on the grass: explanation, bouts, rests and a drinks break, one after the other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from sim.game.terms import Bouts

EXPLAIN_MIN, DRINKS_MIN = (
    2,
    2,
)  # house defaults: a new game takes one to three minutes to explain, nobody drinks in less than two
MOST_MIN = 15  # of either; longer, and it is another part of the session


@dataclass(frozen=True)
class Slot:
    """A stretch on the watch, in seconds from the start; `bout` counts from 1 and is 0 for what is no bout."""

    kind: Literal["explain", "bout", "rest", "drinks"]
    start_s: float
    end_s: float
    bout: int = 0


def timetable(bouts: Bouts, explain_min: float = EXPLAIN_MIN, drinks_min: float = DRINKS_MIN) -> tuple[Slot, ...]:
    """Drinks are taken in the rest after half the bouts, which then is as long as the longer of both; after a single bout at the
    end."""
    found: list[Slot] = []

    def add(kind: Literal["explain", "bout", "rest", "drinks"], seconds: float, bout: int = 0) -> None:
        start = found[-1].end_s if found else 0.0
        if seconds > 0:
            found.append(Slot(kind, start, start + seconds, bout))

    add("explain", 60.0 * explain_min)
    middle = (bouts.count + 1) // 2
    for number in range(1, bouts.count + 1):
        add("bout", bouts.seconds, number)
        drink = 60.0 * drinks_min if number == middle else 0.0
        rest = bouts.rest_seconds if number < bouts.count else 0.0
        add("drinks" if drink else "rest", max(drink, rest))
    return tuple(found)
