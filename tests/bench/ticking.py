"""The same play as a plain loop in steps of a tenth of a second, to hold the event queue against.

This is what one would write first: every step, everything that has come due is done, then every player without the ball looks
where the others are and decides where to run, and his place is noted.  It uses our own functions for every decision
and every run, so what differs is the stepping alone: moments are rounded up to the step, everybody decides ten times a second
(the engine: when something has happened, and else after about seven tenths of a second), and places are
computed whether anybody asks for them or not.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from sim.game.model import Game
from sim.pitch.clock import PRIORITY, Spell
from sim.pitch.engine import begin, meanwhile, race
from sim.pitch.state import Bout
from sim.players import draw_roster
from tests.support.scene import Scene

STEP_S = 0.1


class Over:
    """What the whistle sets."""

    done = False

    def succeed(self) -> None:
        self.done = True


class Steps:
    """In place of the clock: moments wait in a list until the step at or after their time."""

    def __init__(self) -> None:
        self.waiting: list[tuple[float, int, int, Callable[[], None], Spell | None, int]] = []
        self.given = 0
        self.ends = STEP_S
        self.stopped = False

    def at(self, t: float, kind: str, act: Callable[..., None], spell: Spell | None = None, *what: object) -> None:
        then = partial(act, t, *what)
        self.waiting.append((t, PRIORITY[kind], self.given, then, spell, spell.number if spell else 0))
        self.given += 1

    def stop(self) -> None:
        self.stopped = True

    def next_moment(self) -> float:
        """The end of the step under way: everybody thinks before anything else."""
        return self.ends

    def done(self) -> Over:
        return Over()

    def pass_until(self, t: float) -> bool:
        """Let the moments up to t that wait now come in their order, those that are still valid; returns whether there were any."""
        found = sorted((one for one in self.waiting if one[0] <= t), key=lambda one: one[:3])
        self.waiting = [one for one in self.waiting if one[0] > t]
        for _, _, _, act, spell, number in found:
            if not self.stopped and (spell is None or spell.number == number):
                act()
        return bool(found)


class Stepped(Bout):
    """A bout that is stepped through."""

    def __init__(self, *arguments):
        super().__init__(*arguments)
        self.clock = Steps()
        self.over = self.clock.done()
        self.places: list[list[tuple[float, float]]] = []

    def play_out(self) -> None:
        begin(self)
        step = 0
        while not self.over.done:
            step += 1
            self.step(step * STEP_S)

    def step(self, t: float) -> None:
        self.clock.ends = t + 0.5 * STEP_S
        while not self.over.done and self.clock.pass_until(t):
            pass
        if self.over.done:
            return
        self.now = t
        here = Scene(self)
        here.players["replans_at"] = t
        meanwhile(self)  # everybody thinks at every step
        self.places.append(here.places(t))


def stepped(game: Game, seed: int, replicate: int, bout: int = 0) -> Stepped:
    """One bout, played to the whistle."""
    found = Stepped(game, draw_roster(game, seed, replicate), seed, replicate, bout, race)
    found.play_out()
    return found
