"""The counters of a game as they stand in a bout."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.counters import Counted, Counter, Reset
from sim.rules.passes import Deed, is_asked

BOTH = ""  # in place of a side, where one count is for both


class Tally:
    """What every counter stands at, for each side or for both."""

    def __init__(self, counters: Sequence[Counter]):
        self.counters = tuple(counters)
        self.of_seconds = tuple(one for one in self.counters if one.of == "seconds")
        self.values: dict[tuple[str, str], float] = {}  # by counter and side; what is not there stands at its start

    def of(self, counter: Counter, side: str) -> float:
        """What a counter stands at."""
        return self.values.get(self.key(counter, side), float(counter.start))

    def put(self, counter: Counter, side: str, value: float) -> None:
        """A counter stands at this now."""
        self.values[self.key(counter, side)] = value

    def key(self, counter: Counter, side: str) -> tuple[str, str]:
        """Which of the counts it is."""
        return counter.name, side if counter.scope == "side" else BOTH

    def counting(self, what: Counted, deed: Deed) -> list[Counter]:
        """The counters that count what was done."""
        return [one for one in self.counters if one.of == what and is_asked(one, deed)]

    def reset(self, name: str) -> None:
        """That counter begins again, for everybody."""
        self.values = {key: value for key, value in self.values.items() if key[0] != name}

    def reset_by(self, what: Reset, side: str | None = None) -> None:
        """Something has happened that sets counters back: those of a side and of both, or (None) all."""
        names = {one.name for one in self.counters if what in one.resets} if self.counters else set()
        if names:
            self.values = {
                key: value
                for key, value in self.values.items()
                if key[0] not in names or (side is not None and key[1] not in (side, BOTH))
            }
