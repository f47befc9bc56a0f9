"""What plain Python asks of the compiled functions, one entrance each.

Handing over a record costs a call from Python more than the call itself; three arrays cost little.  So every entrance takes
the arrays of the bout (`State.arrays`: players, match, segments) and makes the `Pitch` of them inside, where it is free.
What each does is said at the function of the same name.
"""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch import (
    ball_races,
    border,
    carrying,
    decisions,
    dribbling,
    goals,
    moves,
    passing,
    perception,
    positions,
    prizes,
    reaching,
    replanning,
    shooting,
    tackles,
    zones,
)
from sim.pitch.arrays import Pitch
from sim.pitch.options import PASS
from sim.pitch.passing import Look
from sim.streams import stream_index

CONTROL = stream_index("control")


@njit(inline="always")
def pitch_in(players, match, segments):
    """The arrays of a bout as one value.  (Written into its callers: a compiled function cannot return a record.)"""
    return Pitch(players, match[0].ball, match[0].play, match[0].constants, segments)


@njit(cache=True)
def record(players, match, segments, i, now):
    """`sim.pitch.moves.record`."""
    return moves.record(pitch_in(players, match, segments), i, now)


@njit(cache=True)
def go(players, match, segments, i, now, start, px, py, cap, effort, through):
    """`sim.pitch.moves.go`."""
    moves.go(pitch_in(players, match, segments), i, now, start, moves.Course(px, py, cap, effort, through))


@njit(cache=True)
def edge_point(players, match, segments, i, u):
    """`sim.pitch.positions.edge_point`."""
    return positions.edge_point(pitch_in(players, match, segments), i, u)


@njit(cache=True)
def shape_point(players, match, segments, i, bx, by):
    """`sim.pitch.positions.shape_point`."""
    return positions.shape_point(pitch_in(players, match, segments), i, bx, by)


@njit(cache=True)
def with_ball(players, match, segments, i):
    """`sim.pitch.perception.with_ball`."""
    return perception.with_ball(pitch_in(players, match, segments), i)


@njit(cache=True)
def room_at(players, match, segments, i, x, y, t):
    """`sim.pitch.perception.room_at`."""
    return perception.room_at(pitch_in(players, match, segments), i, x, y, t)


@njit(cache=True)
def replan_all(players, match, segments, holder, now):
    """`sim.pitch.replanning.replan_all`."""
    return replanning.replan_all(pitch_in(players, match, segments), holder, now)


@njit(cache=True)
def replan_until(players, match, segments, until, taker, live, look_at):
    """`sim.pitch.replanning.replan_until`."""
    return replanning.replan_until(pitch_in(players, match, segments), until, taker, live, look_at)


@njit(cache=True)
def pursue(players, match, segments, now, struck, barred):
    """`sim.pitch.ball_races.pursue`."""
    return ball_races.pursue(pitch_in(players, match, segments), now, struck, barred)


@njit(cache=True)
def miscontrols(players, match, segments, j, t):
    """Whether player j's first touch at time t fails, with the chance of `sim.pitch.ball_races.miscontrol_chance`."""
    failing = moves.draw(players, j, CONTROL)
    return failing < ball_races.miscontrol_chance(pitch_in(players, match, segments), j, t)


@njit(cache=True)
def next_tackle(players, match, segments, c, now, end):
    """`sim.pitch.tackles.next_tackle`."""
    return tackles.next_tackle(pitch_in(players, match, segments), c, now, end)


@njit(cache=True)
def settle(players, match, segments, c, t, arriving, all_anew, latest):
    """Player c has the ball under control: he takes it on (`carrying.take_on`), the others think again (`replan_at_control`, or
    `replan_all` with `all_anew`), he does something with his first touch (`decisions.first_touch`), and somebody may tackle him
    (`tackles.next_tackle`).

    Returns (whether he plays it first time, when he looks up: at `latest` the latest, who tackles him before, and when).
    """
    pitch = pitch_in(players, match, segments)
    carrying.take_on(pitch, c, t)
    if all_anew:
        replanning.replan_all(pitch, c, t)
    else:
        replanning.replan_at_control(pitch, c, t)
    first_time, wait = decisions.first_touch(pitch, c, t, arriving)
    look_at = min(t + wait, latest)
    who, when = tackles.next_tackle(pitch, c, t, look_at)
    return first_time, look_at, who, when


@njit(cache=True)
def keep(players, match, segments, c, t, kind, latest):
    """Carrier c keeps the ball (`decisions.keep`), and somebody may tackle him (`tackles.next_tackle`).

    Returns (whether he touches it, when he looks up again: at `latest` the latest, who tackles him before, and when).
    """
    pitch = pitch_in(players, match, segments)
    wait, touched = decisions.keep(pitch, c, t, kind)
    look_at = min(t + wait, latest)
    who, when = tackles.next_tackle(pitch, c, t, look_at)
    return touched, look_at, who, when


@njit(cache=True)
def past_chance(players, match, segments, c, j):
    """`sim.pitch.dribbling.past_chance`."""
    return dribbling.past_chance(pitch_in(players, match, segments), c, j)


@njit(cache=True)
def go_past(players, match, segments, c, j, t):
    """`sim.pitch.dribbling.go_past`."""
    dribbling.go_past(pitch_in(players, match, segments), c, j, t)


@njit(cache=True)
def decide(players, match, segments, carrier, t, first_time, arriving, may_shoot, must_play):
    """`sim.pitch.decisions.decide`, and if that is a pass, `sim.pitch.passing.kick`.

    Returns (kind, receiver, x, y, obviousness, and of a pass where it is struck from and the room that the passer has, m).
    """
    pitch = pitch_in(players, match, segments)
    option = decisions.decide(pitch, Look(carrier, t, first_time, arriving, may_shoot, must_play))
    x, y, room = 0.0, 0.0, 0.0
    if option.kind == PASS:
        x, y, _, _ = moves.where(players, carrier, t)
        room = perception.room_at(pitch, carrier, x, y, t)
        passing.kick(pitch, Look(carrier, t, first_time, arriving, False, False), option.x, option.y)
    return option.kind, option.receiver, option.x, option.y, option.obviousness, x, y, room


@njit(cache=True)
def shoot(players, match, segments, c, t):
    """`sim.pitch.shooting.shoot`, as (result, when, x, y, stopper)."""
    shot = shooting.shoot(pitch_in(players, match, segments), c, t)
    return shot.result, shot.when, shot.x, shot.y, shot.stopper


@njit(cache=True)
def ball_point(match, t):
    """`sim.pitch.reaching.ball_point`."""
    return reaching.ball_point(match[0].ball, t)


@njit(cache=True)
def ball_stops(match):
    """`sim.pitch.reaching.ball_stops`."""
    return reaching.ball_stops(match[0].ball)


@njit(cache=True)
def on_ground(match, x, y, slack):
    """`sim.pitch.border.on_ground`."""
    return border.on_ground(match[0].play, x, y, slack)


@njit(cache=True)
def through_gate(match, k, x, y):
    """`sim.pitch.prizes.goes_through`, of the ball on its way to (x, y) from where it was last touched."""
    return prizes.goes_through(match[0].play.gates[k], match[0].ball.x, match[0].ball.y, x, y)


@njit(cache=True)
def within_lines(match, x, y, slack):
    """`sim.pitch.border.within_lines`."""
    return border.within_lines(match[0].play, x, y, slack)


@njit(cache=True)
def ahead_of_goal(players, match, i, t):
    """`sim.pitch.goals.ahead_of_goal`, where player i is at time t."""
    x, y, _, _ = moves.where(players, i, t)
    return goals.ahead_of_goal(match[0].play, x, y)


@njit(cache=True)
def spare_touch(players, match, segments, c):
    """`sim.pitch.decisions.spare_touch`."""
    return decisions.spare_touch(pitch_in(players, match, segments), c)


@njit(cache=True)
def may_be(players, match, segments, i, x, y):
    """`sim.pitch.zones.may_be`."""
    return zones.may_be(pitch_in(players, match, segments), i, x, y)


@njit(cache=True)
def place_at_start(players, match, segments, i):
    """`sim.pitch.zones.place_at_start`."""
    return zones.place_at_start(pitch_in(players, match, segments), i)


@njit(cache=True)
def offside_now(players, match, segments, t):
    """`sim.pitch.zones.offside_now`."""
    return zones.offside_now(pitch_in(players, match, segments), t)
