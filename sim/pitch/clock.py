"""Moments of a bout on SimPy's event queue, with a stated order for moments of the same time.

Order of simultaneous moments: the ball reaches somebody, crosses a line, is tackled for, is played, what was counted is told, a
rule's timer runs out, a player has had his share, the server serves, the whistle.  So whatever happens at the very end still
counts.  What goes on between two moments (players change their minds) is played as soon as the first of them has passed.

A moment says what it is valid for, a `Spell`: when that is over before its time comes, nothing happens at it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import simpy
from simpy.events import NORMAL, EventPriority

ORDER = ("contact", "line", "tackle", "look", "take on", "shot", "count", "timer", "limit", "serve", "whistle")
PRIORITY = {name: EventPriority(place + 1) for place, name in enumerate(ORDER)}


class Spell:
    """A stretch of play that moments are valid for: it lasts until it is renewed, and then the next one has begun."""

    __slots__ = ("number",)

    def __init__(self) -> None:
        self.number = 0

    def renew(self) -> None:
        """This spell is over, and with it the moments that waited for it; the next begins."""
        self.number += 1


class Until(float):
    """A delay that ends at this very time, or at once if that has passed.

    SimPy adds delays to the time it is, and now + (t - now) misses t by its last bit now and then; but moments meant for the same
    time must stand at the same time.
    """

    __slots__ = ()

    def __radd__(self, now: float) -> float:
        return now if now > self else float(self)


class Moment(simpy.Timeout):
    """Something booked for time t: then `act(t, *what)` is called, if the spell it was booked in still lasts."""

    __slots__ = ("act", "number", "priority", "spell", "t", "what")

    def __init__(  # noqa: PLR0913 - one argument a fact
        self,
        env: simpy.Environment,
        t: float,
        priority: EventPriority,
        act: Callable[..., None],
        what: tuple[object, ...],
        spell: Spell | None,
    ):
        self.t, self.priority, self.act, self.what, self.spell = t, priority, act, what, spell
        self.number = 0 if spell is None else spell.number
        super().__init__(env, Until(t))


class Queue(simpy.Environment):
    """SimPy's queue, in which every moment has the priority of its kind."""

    def schedule(self, event: simpy.Event, priority: EventPriority = NORMAL, delay: float = 0) -> None:
        """As SimPy, which calls this, but with the priority of a moment."""
        super().schedule(event, event.priority if isinstance(event, Moment) else priority, delay)


class Clock:
    """The watch of one bout.  `after`: what is called when a moment has passed, also one that was valid no more."""

    def __init__(self) -> None:
        self.env = Queue()
        self.after: Callable[[], None] | None = None
        self.stopped = False

    def at(self, t: float, kind: str, act: Callable[..., None], spell: Spell | None = None, *what: object) -> None:
        """Call `act(t, *what)` at watch time t (s) unless `spell` is over by then; `kind` (of `ORDER`) settles ties."""
        Moment(self.env, t, PRIORITY[kind], act, what, spell).callbacks.append(self.pass_by)

    def pass_by(self, moment: Moment) -> None:
        """A moment's time has come; it is valid if the spell it was booked in still lasts."""
        if self.stopped:
            return
        spell = moment.spell
        if spell is None or spell.number == moment.number:
            moment.act(moment.t, *moment.what)
        if self.after is not None:
            self.after()

    def next_moment(self) -> float:
        """Watch time of the next moment that waits."""
        t: float = self.env.peek()
        return t

    def run(self, until_done: simpy.Event) -> None:
        """Let moments pass until that event has happened."""
        self.env.run(until=until_done)

    def stop(self) -> None:
        """Nothing happens any more, whatever still waits."""
        self.stopped = True

    def forget(self) -> None:
        """Drop the moments that still wait, and with them their hold on the bout, which is then freed at once."""
        self.stop()
        self.after = None
        while self.env.peek() < math.inf:
            self.env.step()

    def done(self) -> simpy.Event:
        """An event that ends `run` when it succeeds."""
        return self.env.event()
