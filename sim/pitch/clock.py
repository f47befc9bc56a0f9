"""Moments of a bout on SimPy's event queue, with a stated order for moments of the same time.

Order of simultaneous moments: the ball reaches somebody, crosses a line, is tackled for, is played, a rule's timer runs
out, the server serves, the whistle.  So whatever happens at the very end still counts.  What goes on between two moments
(players change their minds) is played as soon as the first of them has passed.
"""

from __future__ import annotations

from collections.abc import Callable
from heapq import heappush

import simpy
from simpy.events import Event

ORDER = ("contact", "line", "tackle", "look", "shot", "timer", "serve", "whistle")
PRIORITY = {name: place + 1 for place, name in enumerate(ORDER)}


class Moment(Event):
    """An event that happens by itself at time t and then calls `act(t)`, and `after()` when that is done."""

    def __init__(
        self,
        env: simpy.Environment,
        t: float,
        priority: int,
        act: Callable[[float], None],
        after: Callable[[], None] | None,
    ):
        def happen(_: Event) -> None:
            act(t)
            if after is not None:
                after()

        self.env = env
        self.callbacks = [happen]
        self._value = None
        self._ok = True
        # As `env.schedule`, which takes a delay, does it: now + (t - now) misses t by its last bit now and then, and moments meant
        # for the same time must stand at the same time.
        heappush(env._queue, (t if t > env._now else env._now, priority, next(env._eid), self))


class Clock:
    """The watch of one bout.  `after`: what is called when a moment has passed."""

    def __init__(self) -> None:
        self.env = simpy.Environment()
        self.after: Callable[[], None] | None = None

    def at(self, t: float, kind: str, act: Callable[[float], None]) -> None:
        """Call `act(t)` at watch time t; `kind` (of `ORDER`) settles ties."""
        Moment(self.env, t, PRIORITY[kind], act, self.after)

    def next_moment(self) -> float:
        """Watch time of the next moment that waits."""
        return float(self.env.peek())

    def run(self, until_done: Event) -> None:
        self.env.run(until=until_done)

    def forget(self) -> None:
        """Drop the moments that still wait, and with them their hold on the bout, which is then freed at once."""
        self.env._queue.clear()
        self.after = None

    def done(self) -> Event:
        """An event that ends `run` when it succeeds."""
        return self.env.event()
