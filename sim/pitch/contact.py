"""Somebody gets to the moving ball: he controls it, deflects it or misses it."""

from __future__ import annotations

from sim.pitch import entries
from sim.pitch.assignment import mark_out
from sim.pitch.bout_parts import Charge
from sim.pitch.counting import touch
from sim.pitch.flight import CONTROL, area_at, bounce, roll, watched_crossing
from sim.pitch.log import EventKind
from sim.pitch.moves import draw
from sim.pitch.possession import ball_out
from sim.pitch.reception import take_control
from sim.pitch.restarts import leave_area
from sim.pitch.state import Bout
from sim.pitch.winning_touch import win_by_touch


def contact(bout: Bout, t: float, i: int) -> None:
    """Player i gets to the moving ball: control it, deflect it, miss it."""
    bout.now = t
    bx, by, bout.flight.speed = entries.ball_point(bout.match, t)
    ours = bout.is_ours(i)
    if not ours and draw(bout.records, i, CONTROL) >= bout.constants.touch_chance:
        bout.players[i].busy_until = t + bout.constants.missed_busy
        roll(bout, t, False, bout.flight.barred | 1 << i)
        return
    if touched_between(bout, t, i, bx, by):
        return
    if ours and entries.miscontrols(*bout.arrays, i, t):
        fumble(bout, t, i, "miscontrol")
    elif ours or draw(bout.records, i, CONTROL) < bout.constants.steal_control:
        take_control(bout, t, i)
    else:
        bout.touched(i)
        bout.note(EventKind.DEFLECT, i, x=bx, y=by)
        bounce(bout, t, i, bout.constants.deflect_speed, bx, by)
        win_by_touch(bout, t, i)


def touched_between(bout: Bout, t: float, i: int, x: float, y: float) -> bool:
    """Where only a pass across may leave its area, player i's touch ends the crossing: in an area that is where the ball is,
    between the two it is out (True)."""
    crossing = watched_crossing(bout)
    if crossing is None:
        return False
    area = area_at(bout, crossing, x, y, i)
    if area is None:
        bout.touched(i)
        ball_out(bout, t)
        return True
    if area == crossing.end:
        crossing.landed = True
    else:
        leave_area(bout)
    mark_out(bout)
    return False


def fumble(bout: Bout, t: float, i: int, cause: str) -> None:
    """A touch that fails: the ball runs loose."""
    bx, by, _ = entries.ball_point(bout.match, t)
    touch(bout, i, bx, by)
    bout.note(EventKind.DEFLECT, i, x=bx, y=by)  # the ball is loose: whoever has it next counts his touches anew
    bout.touched(i)
    bout.possession.charge = Charge(cause, i, bout.possession.charge.passer, i)
    bounce(bout, t, i, bout.constants.fumble_keeps, bx, by)
