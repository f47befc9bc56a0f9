"""One bout, played on SimPy: from the first whistle to the last.

The engine holds the order of things.  Where players run, what the carrier sees and who gets to the ball is computed by
the compiled functions of this room (`moves`, `offball`, `decisions`, `ball_races`); what an event means is decided by the
rules (`sim.rules`), which know the engine only through the small face described in `sim.rules.consequences.Play`.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import partial

from sim.game.model import Game
from sim.pitch import entries
from sim.pitch.answering import time_is_up
from sim.pitch.assignment import assign_start
from sim.pitch.ball_state import OVER
from sim.pitch.carrier import look
from sim.pitch.contact import contact
from sim.pitch.counting import counted
from sim.pitch.fatigue import FatigueState
from sim.pitch.leaving import at_the_start, ends_without, share_is_had, told
from sim.pitch.log import BoutLog, EventKind
from sim.pitch.moves import draw
from sim.pitch.offball import REPLANNING
from sim.pitch.phases import start_timers
from sim.pitch.possession import ball_out
from sim.pitch.reception import put_in_play
from sim.pitch.restarts import await_service
from sim.pitch.seeking import set_up
from sim.pitch.shots import shot_ends
from sim.pitch.state import Bout, Handler, Outcome
from sim.pitch.tackle_attempts import expect_attempt
from sim.pitch.tackling import tackle, taken_on
from sim.pitch.trace import rows_of
from sim.pitch.whistle import time_is_over
from sim.players import Profile
from sim.rules.between import Held
from sim.rules.stints import held_at

HANDLERS: Mapping[str, Handler] = {
    "contact": contact,
    "line": ball_out,
    "tackle": tackle,
    "look": look,
    "take on": taken_on,
    "shot": shot_ends,
    "count": counted,
    "timer": time_is_up,
    "limit": share_is_had,
    "serve": put_in_play,
    "whistle": time_is_over,
}
"""What happens at a moment of each kind of `sim.pitch.clock.ORDER`."""


def race(bout: Bout, t: float) -> tuple[int, float, float]:
    """Decide the outcome of a release: (first player to touch the ball or -1, when, when it crosses the line).

    This is the one function a test mode replaces (argument `outcome` of `play_bout`).
    """
    fresh, barred = bout.flight.fresh, bout.flight.barred
    return entries.pursue(*bout.arrays, t, fresh, barred)


def begin(bout: Bout) -> None:
    """The bout begins: everybody is at his place and the first ball is about to be served."""
    bout.handlers = HANDLERS
    bout.clock.after = partial(meanwhile, bout)
    set_up(bout)
    over = at_the_start(bout)
    assign_start(bout)
    bout.note(EventKind.BEGIN)
    for one in over:
        told(bout, one)
    for i in range(len(bout.game.players)):
        bout.note_job(i)
    if any(ends_without(bout, one.side) for one in over):
        return
    start_timers(bout)
    for i in range(len(bout.game.players)):
        bout.players[i].replans_at = draw(bout.records, i, REPLANNING) * bout.constants.replan
    bout.expect(bout.game.bouts.most_seconds, "whistle", None)
    bout.restart.balls -= 1
    await_service(bout, bout.game.start_side, "server", 0.0, None)
    meanwhile(bout)


def meanwhile(bout: Bout) -> None:
    """Until the next moment only minds are changed: all those that fall due before it, or before a tackle somebody finds."""
    while bout.ball_state is not OVER:
        until = bout.clock.next_moment()
        tackler, tackle_at, presser_changed, next_due = entries.replan_until(
            *bout.arrays, until, bout.restart.taker, bout.in_play(), bout.carrier.look_at
        )
        if presser_changed:
            bout.spells.tackle.renew()
            expect_attempt(bout, tackler, tackle_at)
        if bout.play.recorded > bout.rows_filled:
            bout.make_room()
        if next_due >= until:
            return


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


def play_bout(  # noqa: PLR0913 - the address of a bout, who plays it, and what is replaced
    game: Game,
    roster: dict[str, Profile],
    seed: int,
    replicate: int = 0,
    bout: int = 0,
    outcome: Outcome = race,
    assumptions: dict[str, float] | None = None,
    frame: tuple[float, float] = (1.0, 1.0),
    fatigue: dict[str, FatigueState] | None = None,
    held: Sequence[Held] | None = None,
) -> BoutLog:
    """Play one bout of a game and return its log.

    roster       profile by player id (`sim.players.draw_roster`)
    seed, replicate, bout   address of the random numbers: the same address gives the same bout
    outcome      decides what happens to a released ball: (player, when, when over the line); default `race`
    assumptions  engine constants by name, to replace defaults
    frame        (+-1, +-1): signs of the axes, to play the mirror image
    fatigue      what each player brings from earlier bouts, by id (None: rested)
    held         the role in which each player begins, in order (None: as the file or the list says)
    """
    state = Bout(game, roster, seed, replicate, bout, outcome, assumptions, frame, fatigue, held)
    begin(state)
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
        state.runs(),
        tuple(one.reserve / one.reserve_full for one in state.players),
        tuple(one.lowest_share for one in state.players),
        tuple(one.drawn for one in state.players),
        state.standing.phase.name,
        tuple(
            held_at(state.standing.stints.get(i), role, state.now - since, state.now)
            for i, (role, since) in enumerate(zip(state.standing.role, state.standing.since, strict=True))
        ),
        tuple(roster[player.id] for player in game.players),
        rows_of(state.trace, state.now),
        tuple(sorted(state.standing.score.items())),
        state.standing.side,
        tuple(sorted(state.standing.colours.items())),
    )
