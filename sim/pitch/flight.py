"""The moving ball: what happens to it first."""

from __future__ import annotations

import math

from sim.pitch import entries
from sim.pitch.arrays import NOBODY
from sim.pitch.assignment import nearest_area, run_off_in_play
from sim.pitch.ball_state import ROLLING
from sim.pitch.bout_parts import Crossing
from sim.pitch.counting import rolled_to
from sim.pitch.moves import draw
from sim.pitch.state import NEVER, Bout
from sim.streams import stream_index

CONTROL = stream_index("control")


def roll(bout: Bout, t: float, fresh: bool, barred: int) -> None:
    """The ball is rolling: find out what happens to it first and wait for that.

    fresh   it has just been struck;  barred: who may not have it next, a bit a player
    """
    bout.flight.fresh, bout.flight.barred = fresh, barred
    who, when, leaves = bout.outcome(bout, t)
    leaves = min(leaves, stops_between(bout))
    if who >= 0 and when <= leaves:
        bout.expect(max(when, t), "contact", bout.spells.ball, who)
    else:
        bout.expect(max(leaves, t), "line", bout.spells.ball)


def watched_crossing(bout: Bout) -> Crossing | None:
    """A pass on its way to another area, where only such a pass may leave its area; None once it has landed."""
    crossing = bout.possession.crossing
    if crossing is None or crossing.landed or bout.game.between_areas == "first":
        return None
    return crossing


def area_at(bout: Bout, crossing: Crossing, x: float, y: float, by: int = NOBODY) -> str | None:
    """Which of its two areas a ball played across is in, None on the ground between them.

    Its run-off is part of an area for those on its lines: for player `by` if he is one, else for a ball that nobody touches.
    """
    nearest, beyond = nearest_area(bout, (crossing.start, crossing.end), x, y)
    run_off = run_off_in_play(bout, bout.game.area(nearest)) if by == NOBODY else bout.players[by].run_off
    return nearest if beyond <= run_off else None


def stops_between(bout: Bout) -> float:
    """When a ball played across comes to rest between the areas, if that puts it out (NEVER: it does not)."""
    crossing = watched_crossing(bout)
    if crossing is None:
        return NEVER
    stops: float = entries.ball_stops(bout.match)
    x, y, _ = entries.ball_point(bout.match, stops)
    return stops if area_at(bout, crossing, x, y) is None else NEVER


def bounce(bout: Bout, t: float, i: int, keep: float, x: float, y: float) -> None:
    """The ball leaves player i at (x, y) with part of its speed, off its old line by up to 80 degrees."""
    rolled_to(bout, x, y)
    constants = bout.constants
    share = constants.loose_share_least + constants.loose_share_range * draw(bout.records, i, CONTROL)
    speed = max(constants.loose_least, keep * max(bout.flight.speed, constants.loose_from) * share)
    turn = (draw(bout.records, i, CONTROL) - 0.5) * constants.loose_turn * bout.play.frame_x * bout.play.frame_y
    dx, dy = bout.ball.dx, bout.ball.dy
    cosine, sine = math.cos(turn), math.sin(turn)
    bout.ball.dx, bout.ball.dy = dx * cosine - dy * sine, dx * sine + dy * cosine
    bout.become(ROLLING)
    bout.ball.meant_for = NOBODY
    bout.ball.x, bout.ball.y, bout.ball.kicked_at = x, y, t
    bout.roll_only(speed, constants.ball_roll)
    bout.ball.target_x, bout.ball.target_y = (
        x + constants.loose_seen * bout.ball.dx,
        y + constants.loose_seen * bout.ball.dy,
    )
    bout.ball.arrives_at, bout.ball.obviousness = t + constants.loose_time, 0.0
    bout.trace_ball()
    bout.players[i].busy_until = t + constants.loose_busy
    roll(bout, t, True, 0)
