"""One run of a player without the ball: what he decides from, what he decides, how urgently he goes, and setting off (compiled).

One law of urgency serves every game: a move may take as long as the ball needs to get there and be played on,
``factor x (flight + expected time on the ball)``; the speed is distance over that time.  Runs after a loss or into
another area use a smaller factor.  So small squares are quick and short, big pitches slower and longer, without a
constant per game.
"""

from __future__ import annotations

from typing import NamedTuple

from sim.ball import mean_pass_speed
from sim.compiled import njit, square
from sim.pitch.arrays import EDGE
from sim.pitch.border import leads_out, within_lines
from sim.pitch.moves import Course, clip, go, where
from sim.pitch.numerics import distance
from sim.pitch.perception import ball_at


class Situation(NamedTuple):
    """A player without the ball who decides where to go."""

    player: int
    now: float  # s, when he decides
    start: float  # s, when he sets off: later by his reaction, or when he is free to
    ball_x: float  # m, the ball as he thinks of it (`sim.pitch.perception.ball_at`)
    ball_y: float
    x: float  # m, where he is when he sets off
    y: float
    vx: float  # m/s
    vy: float


class Run(NamedTuple):
    """What he decides: what he is about, and where he goes."""

    duty: int
    marks: int  # whom he covers
    sets_off: bool  # False: the move is not worth making
    x: float  # m, where to
    y: float
    cap: float  # m/s, not to be exceeded
    effort: float  # 0-1, share of his greatest push
    through: bool  # through the place and beyond, rather than to rest on it


@njit(cache=True)
def situation_of(pitch, i, now, start):
    """The situation of player i, who decides at `now` and sets off at `start`."""
    bx, by = ball_at(pitch, now)
    x, y, vx, vy = where(pitch.players, i, start)
    return Situation(i, now, start, bx, by, x, y, vx, vy)


@njit(cache=True)
def allowed_time(constants, factor, far):
    """Seconds a move may take when the ball is `far` metres from where it ends: the law of urgency."""
    return factor * (far / mean_pass_speed(far) + constants.hold_expected)


@njit(cache=True)
def run_to(pitch, situation, place, cap, effort):
    """The run to `place` (x, y) of a player who stays about what he is about."""
    player = pitch.players[situation.player]
    return Run(player.duty, player.marks, True, place[0], place[1], cap, effort, False)


@njit(cache=True)
def stay(pitch, situation):
    """No run: he goes on with what he does."""
    player = pitch.players[situation.player]
    return Run(player.duty, player.marks, False, situation.x, situation.y, 0.0, 0.0, False)


@njit(cache=True)
def ordinary_push(pitch, i, speed):
    """Share (0-1) of his greatest push with which player i starts an ordinary run: in proportion to the speed he wants (m/s)."""
    player, constants = pitch.players[i], pitch.constants
    wanted = clip(speed / (constants.push_full * player.top_speed), constants.push_least, 1.0)
    return wanted * min(1.0, constants.effort * player.drive)


@njit(cache=True)
def urgent_run(pitch, situation, duty, marks, place, factor, cap):
    """The run to `place` (x, y) by the law of urgency, no faster than `cap` (m/s); none when it is not worth it."""
    player, constants = pitch.players[situation.player], pitch.constants
    px, py = place
    gap = distance(situation.x, situation.y, px, py)
    slow = square(situation.vx) + square(situation.vy) < square(constants.stands_below)
    if gap < constants.deadband and slow:
        return Run(duty, marks, False, px, py, 0.0, 0.0, False)
    far = distance(situation.ball_x, situation.ball_y, px, py)
    speed = clip(player.drive * gap / allowed_time(constants, factor, far), player.drive * constants.walk, cap)
    return Run(duty, marks, True, px, py, speed, ordinary_push(pitch, situation.player, speed), False)


@njit(cache=True)
def pulls_up(pitch, situation, run):
    """Whether a player within the lines, on his way to a place within them, is about to be carried over one: then he brakes as
    hard as he can.  Who plays on a line has it beside him."""
    play = pitch.play
    if run.through or pitch.players[situation.player].style == EDGE:
        return False
    x, y = situation.x, situation.y
    if not leads_out(play, x, y, situation.vx, situation.vy, pitch.constants.stop_ahead):
        return False
    return within_lines(play, x, y, 0.0) and within_lines(play, run.x, run.y, 0.0)


@njit(cache=True)
def set_off(pitch, situation, run):
    """The player of the situation is about what he has decided, and goes."""
    i = situation.player
    pitch.players[i].duty, pitch.players[i].marks = run.duty, run.marks
    if run.sets_off:
        effort = 1.0 if pulls_up(pitch, situation, run) else run.effort
        go(pitch, i, situation.now, situation.start, Course(run.x, run.y, run.cap, effort, run.through))
