"""What plain Python asks of the compiled functions, one entrance each.

Handing over a record costs a call from Python more than the call itself; three arrays cost little.  So every entrance takes
the arrays of the bout (`State.arrays`: players, match, segments) and makes the `Pitch` of them inside, where it is free.
What each does is said at the function of the same name.
"""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch import border, contest, ground, minds, moves, onball, shooting
from sim.pitch.arrays import Pitch


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
    return moves.go(pitch_in(players, match, segments), i, now, start, px, py, cap, effort, through)


@njit(cache=True)
def edge_point(players, match, segments, i, u):
    """`sim.pitch.ground.edge_point`."""
    return ground.edge_point(pitch_in(players, match, segments), i, u)


@njit(cache=True)
def shape_point(players, match, segments, i, bx, by):
    """`sim.pitch.ground.shape_point`."""
    return ground.shape_point(pitch_in(players, match, segments), i, bx, by)


@njit(cache=True)
def with_ball(players, match, segments, i):
    """`sim.pitch.ground.with_ball`."""
    return ground.with_ball(pitch_in(players, match, segments), i)


@njit(cache=True)
def room_at(players, match, segments, i, x, y, t):
    """`sim.pitch.ground.room_at`."""
    return ground.room_at(pitch_in(players, match, segments), i, x, y, t)


@njit(cache=True)
def everybody_thinks(players, match, segments, holder, now):
    """`sim.pitch.minds.everybody_thinks`."""
    return minds.everybody_thinks(pitch_in(players, match, segments), holder, now)


@njit(cache=True)
def settle(players, match, segments, holder, now):
    """`sim.pitch.minds.settle`."""
    return minds.settle(pitch_in(players, match, segments), holder, now)


@njit(cache=True)
def change_minds(players, match, segments, until, taking, live, look_at, out):
    """`sim.pitch.minds.change_minds`."""
    return minds.change_minds(pitch_in(players, match, segments), until, taking, live, look_at, out)


@njit(cache=True)
def pursue(players, match, segments, now, fresh, barred, out):
    """`sim.pitch.contest.pursue`."""
    return contest.pursue(pitch_in(players, match, segments), now, fresh, barred, out)


@njit(cache=True)
def next_tackle(players, match, segments, c, now, end, out):
    """`sim.pitch.contest.next_tackle`."""
    return contest.next_tackle(pitch_in(players, match, segments), c, now, end, out)


@njit(cache=True)
def miscontrol_chance(players, match, segments, j, t):
    """`sim.pitch.contest.miscontrol_chance`."""
    return contest.miscontrol_chance(pitch_in(players, match, segments), j, t)


@njit(cache=True)
def mean_to(players, match, segments, c):
    """`sim.pitch.onball.mean_to`."""
    return onball.mean_to(pitch_in(players, match, segments), c)


@njit(cache=True)
def choose(players, match, segments, c, t, first_time, arriving, out):
    """`sim.pitch.onball.choose`."""
    return onball.choose(pitch_in(players, match, segments), c, t, first_time, arriving, out)


@njit(cache=True)
def ready_to_release(players, match, segments, c, t, worth):
    """`sim.pitch.onball.ready_to_release`."""
    return onball.ready_to_release(pitch_in(players, match, segments), c, t, worth)


@njit(cache=True)
def pressure(players, match, segments, i, x, y, t):
    """`sim.pitch.onball.pressure`."""
    return onball.pressure(pitch_in(players, match, segments), i, x, y, t)


@njit(cache=True)
def carry(players, match, segments, c, t):
    """`sim.pitch.onball.carry`."""
    return onball.carry(pitch_in(players, match, segments), c, t)


@njit(cache=True)
def kick(players, match, segments, c, t, tx, ty, first_time, arriving):
    """`sim.pitch.onball.kick`."""
    return onball.kick(pitch_in(players, match, segments), c, t, tx, ty, first_time, arriving)


@njit(cache=True)
def goal_chance(players, match, segments, c, t):
    """`sim.pitch.shooting.goal_chance`."""
    return shooting.goal_chance(pitch_in(players, match, segments), c, t)


@njit(cache=True)
def shoot(players, match, segments, c, t, out):
    """`sim.pitch.shooting.shoot`."""
    return shooting.shoot(pitch_in(players, match, segments), c, t, out)


@njit(cache=True)
def ball_point(match, t):
    """`sim.pitch.contest.ball_point`."""
    return contest.ball_point(match[0].ball, t)


@njit(cache=True)
def on_ground(match, x, y, slack):
    """`sim.pitch.border.on_ground`."""
    return border.on_ground(match[0].play, x, y, slack)


@njit(cache=True)
def ahead_of_goal(match, x, y):
    """`sim.pitch.shooting.ahead_of_goal`."""
    return shooting.ahead_of_goal(match[0].play, x, y)
