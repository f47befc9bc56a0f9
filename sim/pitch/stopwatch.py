"""Counters of seconds: how long the ball has been in play, or a side has had it in play."""

from __future__ import annotations

import math

from sim.errors import given
from sim.game.counters import Counter
from sim.pitch.numerics import SMALL
from sim.pitch.state import Bout


def read(bout: Bout) -> None:
    """The seconds since the watch was last read are counted, and what the rules of the phase wait for is booked anew.

    Whatever stops or starts the watch, or sets a counter back, is followed by a reading at the same moment: so a count that is not
    there begins now.
    """
    counters = bout.standing.tally.of_seconds
    if not counters:
        return
    watch, tally = bout.watch, bout.standing.tally
    if watch.side is not None:
        for counter in counters:
            if tally.key(counter, watch.side) in tally.values:
                tally.put(counter, watch.side, tally.of(counter, watch.side) + bout.now - watch.read_at)
    bout.spells.watch.renew()
    watch.read_at, watch.side = bout.now, bout.standing.side if bout.in_play() else None
    if watch.side is not None:
        for counter in counters:
            tally.put(counter, watch.side, tally.of(counter, watch.side))
            book(bout, counter, watch.side)


def book(bout: Bout, counter: Counter, side: str) -> None:
    """Wait for the seconds of a counter that rules of the phase name."""
    value = bout.standing.tally.of(counter, side)
    for seconds in due(bout, counter, side):
        then = bout.now + seconds - value
        bout.expect(then, "count", bout.spells.watch, [counter], side, -1, bout.standing.phase, seconds)


def due(bout: Bout, counter: Counter, side: str) -> list[float]:
    """The next seconds of a counter that rules of the phase wait for."""
    value, found = bout.standing.tally.of(counter, side), []
    for rule in bout.standing.phase.rules:
        if rule.counter == counter.name and rule.by in (None, side):
            step = given(rule.count)
            next_one = step * (math.floor(value / step + SMALL) + 1) if rule.each else step
            found += [next_one] if next_one > value + SMALL else []
    return list(dict.fromkeys(found))
