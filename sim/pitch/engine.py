"""One bout, played on SimPy: the ball, its carrier, who presses and supports, restarts, timers and the whistle.

The engine holds the order of things.  Where players run, what the carrier sees and who gets to the ball is computed by
the compiled functions of this room (`moves`, `offball`, `onball`, `contest`); what an event means is decided by the
rules (`sim.rules`), which know the engine only through the small face described in `sim.rules.consequences.Play`.
"""

from __future__ import annotations

import gc
import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager

import numpy as np

from sim.game.model import Game, Phase
from sim.pitch import arrays as col
from sim.pitch import entries, setup
from sim.pitch.carrier import Carrier
from sim.pitch.flight import Flight
from sim.pitch.log import SEGMENT_FIELDS, BoutLog
from sim.pitch.moves import draw
from sim.pitch.offball import REPLANNING
from sim.pitch.possession import Possession
from sim.pitch.restarts import Restarts
from sim.pitch.state import PLACE
from sim.pitch.tiring import Legs
from sim.pitch.trace import rows_of
from sim.players import Profile
from sim.rules.between import Held
from sim.rules.consequences import VERBS
from sim.rules.guards import COUNTERS, RuleEvent, answers


def race(bout: Bout, t: float) -> tuple[int, float, float]:
    """Decide the outcome of a release: (first player to touch the ball or -1, when, when it crosses the line).

    This is the one function a test mode replaces (argument `outcome` of `play_bout`).
    """
    entries.pursue(*bout.arrays, t, bout.fresh, bout.barred, bout.out)
    return int(bout.out[0]), float(bout.out[1]), float(bout.out[2])


class Bout(Restarts, Possession, Carrier, Flight):
    """One bout: the whistle at both ends, players changing their minds, and the rules answering to what happens."""

    def begin(self) -> None:
        self.clock.after = self.meanwhile
        self.assign_start()
        self.note("begin")
        for i in range(len(self.game.players)):
            self.note_job(i)
        self.start_timers()
        for i in range(len(self.game.players)):
            self.players["replans_at"][i] = draw(self.players, i, REPLANNING) * self.constants["replan"]
        self.clock.at(self.game.bouts.seconds, "whistle", self.whistle)
        self.balls -= 1
        self.await_service(self.game.start_side, "server", 0.0, None)
        self.meanwhile()

    def assign_start(self) -> None:
        """Everybody stands at his place, a little off it by lot, and opponents off whoever is to have the ball."""
        places = []
        setup.stand_at(self.players, [(0.0, 0.0)] * len(self.game.players))
        self.assign()

        for i in range(len(self.game.players)):
            x, y = self.place_when_dead(i)
            if self.players["style"][i] not in (col.EDGE, col.GOAL):
                x += 0.6 * self.play["frame_x"] * (draw(self.players, i, PLACE) - 0.5)
                y += 0.6 * self.play["frame_y"] * (draw(self.players, i, PLACE) - 0.5)
            places.append((x, y))
        setup.stand_at(self.players, setup.apart(self.arrays, float(self.constants["start_room"]), places))

    def whistle(self, t: float) -> None:
        """Time is up, or a rule ends the bout: it is over, with a shot already on its way when that has ended."""
        if self.shot_plan == self.plan:
            self.called = True
        else:
            self.finish(t)

    def finish(self, t: float) -> None:
        """The end of the bout."""
        if self.stopped:
            return
        self.now = t
        self.stopped = True
        if self.live:
            self.note("dead", cause="end")
            self.live = False
        self.note("end")
        for i in range(len(self.game.players)):
            entries.record(*self.arrays, i, t)
            self.room()
        self.over.succeed()

    def meanwhile(self) -> None:
        """Until the next moment only minds are changed: all those that fall due before it, or before a tackle somebody finds."""
        out = self.out
        while not self.stopped:
            until = self.clock.next_moment()
            entries.change_minds(
                *self.arrays,
                until, self.taking, self.live, self.look_at, out,
            )  # fmt: skip
            if out[2]:
                self.tackling += 1
                self.tackle_found()
            self.room()
            if out[3] >= until:
                return

    def stop(self) -> None:
        self.whistle(self.now)

    def change_phase(self, name: str) -> None:
        before = self.standing.phase
        self.standing.enter_phase(name, self.now)
        self.note("phase", cause=name)
        if before.aim != "goal" and self.standing.phase.aim == "goal":
            self.note("break")
        self.start_timers()
        self.roles_changed([])

    def roles_changed(self, players: list[int]) -> None:
        """Write the new assignment into the arrays and let everybody think again."""
        for i in players:
            entries.record(*self.arrays, i, self.now)
        self.assign()
        for i in players:
            self.note_job(i)
        entries.everybody_thinks(*self.arrays, self.holder(), self.now)
        self.await_tackle(self.now)

    def tell(self, event: RuleEvent, phase: Phase | None = None) -> None:
        """Let the rules of the phase it happened in (None: the present one) answer to an event, in the order of the file."""
        if self.stopped:
            return
        phase = self.standing.phase if phase is None else phase
        due = [rule for rule in phase.rules if answers(rule, event, self.standing)]  # whatever those before them do
        if phase is self.standing.phase:
            self.standing.fired |= {(rule.name, event.side) for rule in due if rule.on in COUNTERS}
        for rule in due:
            self.answering, self.handed = rule.name, set()
            counted = event.count if rule.on in (*COUNTERS, "time") else math.nan
            self.note("rule", event.player, side=event.side, cause=rule.name, detail=phase.name, value=counted)
            if rule.on in COUNTERS:
                self.note("threshold", side=event.side, cause=rule.on, value=float(rule.count))
            for action in rule.do:
                VERBS[action.verb](self, event, action)
                if self.stopped or action.verb == "end":
                    return
        if event.kind != "loss":  # a loss is settled when the win has been told, too
            self.hand_on()

    def hand_on(self) -> None:
        """The ball is the side's whose player has it: one whom the rules have moved to another side takes it with him."""
        holder = self.holder()
        if holder < 0 or not self.live or self.provisional is not None or self.side_for(holder) == self.standing.side:
            return
        self.standing.new_possession(self.side_for(holder))
        self.play["side"] = self.sides[self.standing.side]
        self.touched(holder)
        self.note("possession", player=holder)
        self.roles_changed([])

    def start_timers(self) -> None:
        self.phase_number += 1
        number = self.phase_number
        for count in dict.fromkeys(rule.count for rule in self.standing.phase.rules if rule.on == "time"):
            self.clock.at(self.now + count, "timer", lambda t, n=number, c=count: self.time_is_up(t, n, c))

    def time_is_up(self, t: float, number: int, count: float) -> None:
        if number == self.phase_number and not self.stopped and not self.called:
            self.now = t
            self.tell(RuleEvent("time", self.standing.side, self.holder(), count=count))


@contextmanager
def no_collector() -> Iterator[None]:
    """Python's search for circular garbage is off meanwhile: a bout leaves little, and looking for it cost a tenth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def as_rows(runs: np.ndarray) -> np.ndarray:
    """Runs as a plain table, a copy, in the order of `sim.pitch.log.SEGMENT_FIELDS`."""
    return runs.view(np.float64).reshape(len(runs), len(SEGMENT_FIELDS)).copy()


def play_bout(
    game: Game,
    roster: dict[str, Profile],
    seed: int,
    replicate: int = 0,
    bout: int = 0,
    outcome: Callable[[Bout, float], tuple[int, float, float]] = race,
    assumptions: dict[str, float] | None = None,
    frame: tuple[float, float] = (1.0, 1.0),
    legs: dict[str, Legs] | None = None,
    held: Sequence[Held] | None = None,
) -> BoutLog:
    """Play one bout of a game and return its log.

    roster       profile by player id (`sim.players.draw_roster`)
    seed, replicate, bout   address of the random numbers: the same address gives the same bout
    outcome      decides what happens to a released ball: (player, when, when over the line); default `race`
    assumptions  engine constants by name, to replace defaults
    frame        (+-1, +-1): signs of the axes, to play the mirror image
    legs         what each player brings from earlier bouts, by id (None: rested)
    held         the role in which each player begins, in order (None: as the file or the list says)
    """
    state = Bout(game, roster, seed, replicate, bout, outcome, assumptions, frame, legs, held)
    state.begin()
    with no_collector():
        state.clock.run(state.over)
    state.clock.forget()
    return BoutLog(
        game.name,
        seed,
        replicate,
        bout,
        state.now,
        tuple(player.id for player in game.players),
        tuple(player.team for player in game.players),
        tuple(role.name for role in game.roles),
        tuple(state.events),
        as_rows(state.segments[: state.play["recorded"]]),
        tuple(float(left) for left in state.players["reserve"] / state.players["reserve_full"]),
        tuple(float(least) for least in state.players["lowest_share"]),
        tuple(float(drawn) for drawn in state.players["drawn"]),
        state.standing.phase.name,
        tuple(map(Held, state.standing.role, (state.now - since for since in state.standing.since))),
        tuple(roster[player.id] for player in game.players),
        rows_of(state.trace, state.now),
    )
