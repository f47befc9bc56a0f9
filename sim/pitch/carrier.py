"""The carrier: what he does with his first touch, when he looks up, what he then decides, and what comes of it."""

from __future__ import annotations

from sim.pitch import arrays as col
from sim.pitch import entries
from sim.pitch.aiming import aim
from sim.pitch.bout_parts import Charge
from sim.pitch.counting import touch
from sim.pitch.moves import where
from sim.pitch.options import PASS, PAST, SHOOT
from sim.pitch.passing import Look
from sim.pitch.possession import carried_over, lose
from sim.pitch.release import release, strike
from sim.pitch.restarts import serve
from sim.pitch.state import Bout
from sim.pitch.tackle_attempts import await_tackle, expect_attempt
from sim.rules.guards import RuleEvent
from sim.streams import stream_index

CONTROL = stream_index("control")
HOLD = stream_index("hold")


def first_look(bout: Bout, t: float, i: int, all_anew: bool) -> None:
    """What the receiver does with the first touch: play it on at once, or bring it under control; and the others answer, all of
    them (`all_anew`) or those whom it concerns (`sim.pitch.entries.settle`)."""
    bout.carrier.first_time, look_at, who, when = entries.settle(
        *bout.arrays, i, t, bout.flight.speed, all_anew, hold_until(bout)
    )
    await_either(bout, look_at, who, when)


def hold_until(bout: Bout) -> float:
    """When the holder must have let go of the ball."""
    return bout.ball.received_at + bout.game.hold_limit_s


def await_either(bout: Bout, look_at: float, who: int, when: float) -> None:
    """The carrier looks up next at time `look_at`; before that player `who` (-1: nobody) tackles him at time `when`."""
    bout.carrier.look_at = look_at
    bout.expect(look_at, "look", bout.spells.ball)
    bout.spells.tackle.renew()
    expect_attempt(bout, who, when)


def await_look(bout: Bout, t: float, then: float) -> None:
    """The carrier looks up next at time `then`, or when he must let go; from time t on he may be tackled meanwhile."""
    bout.carrier.look_at = min(then, hold_until(bout))
    bout.expect(bout.carrier.look_at, "look", bout.spells.ball)
    await_tackle(bout, t)


def look(bout: Bout, t: float) -> None:
    """The carrier looks up: shoot, pass, carry on or hold (`sim.pitch.decisions`)."""
    bout.now = t
    i = bout.holder()
    carried_over(bout, i)
    if bout.holder() != i:
        return
    if bout.play.aim == col.SCORE:
        look_for_goal(bout, i, t)
    elif bout.layout.seeks:
        aim(bout)
    must_play = t >= hold_until(bout)
    view = Look(i, t, bout.carrier.first_time, bout.flight.speed, bout.possession.pending is None, must_play)
    kind, to, px, py, obviousness, x, y, room = entries.decide(*bout.arrays, *view)
    if kind == SHOOT:
        strike(bout, view)
    elif kind == PASS:
        release(bout, view, to, (x, y), (px, py), room, obviousness)
    elif kind == PAST:
        bout.spells.tackle.renew()
        bout.expect(t, "take on", bout.spells.ball, to)
    elif must_play:
        out_of_time(bout, i)
    else:
        keep(bout, t, i, kind)


def look_for_goal(bout: Bout, i: int, t: float) -> None:
    """The carrier i may have carried the ball past the goal he went for, or on his way round it be in front of it now."""
    goal, play = bout.carrier.target, bout.play
    round_it = goal is not None and (play.goal_x, play.goal_y) != (goal.x, goal.y)
    if round_it or entries.ahead_of_goal(bout.records, bout.match, i, t) <= 0.0:
        aim(bout)


def keep(bout: Bout, t: float, i: int, kind: int) -> None:
    """He keeps the ball until his next look, as he has decided."""
    touched, look_at, who, when = entries.keep(*bout.arrays, i, t, kind, hold_until(bout))
    if touched:
        x, y, _, _ = where(bout.records, i, t)
        touch(bout, i, x, y)
    await_either(bout, look_at, who, when)


def out_of_time(bout: Bout, i: int) -> None:
    """Held too long with nowhere to go: a rule fault, the ball goes to the others."""
    side = bout.side_for(i)
    if side == bout.standing.side:  # else his win has not counted yet: it is over, and the ball still the others'
        lose(bout, side, Charge("time limit", i))
    serve(bout, "out", RuleEvent("out", side, i, cause="time limit"))
