"""The ball leaves its carrier: passes and shots."""

from __future__ import annotations

import math

from sim.pitch import entries
from sim.pitch.arrays import NOBODY
from sim.pitch.assignment import assign
from sim.pitch.ball_state import ROLLING
from sim.pitch.bout_parts import Charge, Crossing
from sim.pitch.counting import played, touch
from sim.pitch.flight import roll
from sim.pitch.log import EventKind
from sim.pitch.moves import where
from sim.pitch.numerics import SMALL
from sim.pitch.passing import Look
from sim.pitch.state import Bout

SHORTEST_S = 1e-3  # of the way of a shot: keeps its speed finite
HARDLY_SLOWS = 1e-6  # m/s2: a shot is as fast at its end
PRESSED_M = 3.0  # an opponent this near at release makes it a pressed pass
SHOT_RESULTS = (EventKind.GOAL, EventKind.SAVE, EventKind.MISS, EventKind.BLOCK)


def release(  # noqa: PLR0913 - one a fact
    bout: Bout,
    look: Look,
    to: int,
    start: tuple[float, float],
    target: tuple[float, float],
    room: float,
    obviousness: float,
) -> None:
    """The carrier has struck a pass from `start` towards `target` (m), meant for player `to`, when the nearest opponent was `room`
    metres off; `obviousness`: the share of the odds that a watcher gives to that choice (0-1), by which opponents foresee it."""
    i, t, first_time = look.carrier, look.t, look.first_time
    (x, y), (tx, ty) = start, target
    if not first_time:
        bout.ball.touches += 1
        touch(bout, i, x, y)
    job = bout.jobs[to]
    across = job.style != "goal" and (job.place, bout.standing.area) not in bout.layout.lies_in
    bout.note(
        EventKind.RELEASE,
        i,
        to,
        value=math.hypot(tx - x, ty - y),
        x=x,
        y=y,
        cause="pressed" if room <= PRESSED_M else "free",
        detail="transfer" if across else "first-time" if first_time else "pass",
    )
    played(bout, i, x, y, first_time)
    bout.flight.offside = entries.offside_now(*bout.arrays, t) if bout.play.offside_in_use else 0
    bout.become(ROLLING)
    bout.ball.passer, bout.ball.meant_for, bout.ball.target_x, bout.ball.target_y = i, to, tx, ty
    bout.ball.obviousness = obviousness
    bout.trace_ball()
    bout.players[i].busy_until = t + bout.constants.follow_through
    if across:
        cross(bout, bout.layout.area_of[job.place])
    bout.possession.charge = Charge("", i, i, to)
    roll(bout, t, True, 1 << i)


def cross(bout: Bout, place: str) -> None:
    """The ball is on its way to another area: the ground in play is both and what lies between; chasers may set off."""
    bout.possession.crossing = Crossing(bout.standing.area, place)
    bout.standing.area = place
    holding = [one.may_receive for one in bout.players]
    assign(bout)
    for one, may in zip(bout.players, holding, strict=True):
        one.may_receive = may


def strike(bout: Bout, look: Look) -> None:
    """The carrier shoots at the goal he goes for."""
    i, t = look.carrier, look.t
    x, y, _, _ = where(bout.records, i, t)
    if not look.first_time:
        touch(bout, i, x, y)
    bout.note(EventKind.SHOT, i, value=math.hypot(bout.play.goal_x - x, bout.play.goal_y - y), x=x, y=y)
    result, when, ex, ey, who = entries.shoot(*bout.arrays, i, t)
    bout.become(ROLLING)
    bout.flight.shot = True
    bout.ball.passer = bout.ball.meant_for = NOBODY
    gap = math.hypot(ex - x, ey - y) + SMALL
    bout.ball.x, bout.ball.y, bout.ball.kicked_at = x, y, t
    bout.ball.dx, bout.ball.dy = (ex - x) / gap, (ey - y) / gap
    bout.roll_only(gap / max(when - t, SHORTEST_S), HARDLY_SLOWS)
    bout.ball.target_x, bout.ball.target_y, bout.ball.arrives_at, bout.ball.obviousness = ex, ey, when, 0.0
    bout.trace_ball()
    bout.touched(i)
    pull_up(bout, i, t)
    bout.expect(when, "shot", bout.spells.ball, i, SHOT_RESULTS[result], who, ex, ey)


def pull_up(bout: Bout, i: int, t: float) -> None:
    """Player i, who has struck the ball as hard as he can, runs out as soon as he can stop, and sees what comes of it."""
    x, y, vx, vy = where(bout.records, i, t)
    seconds = math.hypot(vx, vy) / bout.players[i].braking
    px, py = x + 0.5 * seconds * vx, y + 0.5 * seconds * vy
    entries.go(*bout.arrays, i, t, t, px, py, bout.players[i].top_speed, 1.0, False)
