"""A tackle on the carrier: won, loose, or he is past."""

from __future__ import annotations

import math

from sim.pitch import entries
from sim.pitch.bout_parts import Charge
from sim.pitch.carrier import await_look
from sim.pitch.counting import touch
from sim.pitch.flight import bounce
from sim.pitch.fouls import foul, is_foul
from sim.pitch.log import EventKind
from sim.pitch.moves import draw, where
from sim.pitch.numerics import ROUNDING_M, SMALL
from sim.pitch.reception import take_control
from sim.pitch.skill import odds
from sim.pitch.state import Bout
from sim.pitch.tackle_attempts import await_tackle
from sim.pitch.winning_touch import win_by_touch
from sim.streams import stream_index

TACKLE = stream_index("tackle")


def tackle(bout: Bout, t: float, i: int) -> None:
    """Player i tries to take the ball off the carrier."""
    bout.now = t
    c = bout.holder()
    if is_foul(bout, TACKLE, i):
        foul(bout, t, i, c)
        return
    win = 1.0 / (1.0 + math.exp(-tackle_odds(bout, i, c)))
    detail = "heavy touch" if bout.ball.heavy else ""
    u = draw(bout.records, i, TACKLE)
    x, y, _, _ = where(bout.records, c, t)
    if u < win:
        won(bout, t, i, c, x, y, detail)
    elif u < win + (1.0 - win) * bout.constants.tackle_loose / (1.0 - bout.constants.tackle_win):
        knocked_loose(bout, t, i, c, x, y, detail)
    else:
        bout.note(EventKind.TACKLE, i, c, cause="beaten", x=x, y=y, detail=detail)
        beaten(bout, t, i)
        await_tackle(bout, t)


def won(bout: Bout, t: float, i: int, c: int, x: float, y: float, detail: str) -> None:
    """Player i comes away with the ball of the carrier c at (x, y)."""
    bout.note(EventKind.TACKLE, i, c, cause="won", x=x, y=y, detail=detail)
    bout.possession.charge = Charge("tackle", c)
    bout.players[c].busy_until = t + bout.constants.beaten_time
    bout.ball.x, bout.ball.y = x, y
    take_control(bout, t, i)


def knocked_loose(bout: Bout, t: float, i: int, c: int, x: float, y: float, detail: str) -> None:
    """Player i knocks the ball of the carrier c at (x, y) away; nobody has it."""
    bout.note(EventKind.TACKLE, i, c, cause="loose", x=x, y=y, detail=detail)
    poke_loose(bout, t, i, c, x, y)


def beaten(bout: Bout, t: float, i: int) -> None:
    """Player i has missed the ball and is out of it for a moment."""
    bout.players[i].busy_until = t + bout.constants.beaten_time
    px, py, vx, vy = where(bout.records, i, t)
    entries.go(*bout.arrays, i, t, t, *beaten_run(bout, px, py, vx, vy), False)


def taken_on(bout: Bout, t: float, i: int) -> None:
    """The carrier takes on player i: past him and on he goes, or the ball is won or knocked loose as in a tackle, or runs into
    player i who is still out of reach of one."""
    bout.now = t
    c = bout.holder()
    past = entries.past_chance(*bout.arrays, c, i)
    u = draw(bout.records, i, TACKLE)
    x, y, _, _ = where(bout.records, c, t)
    if u < past:
        bout.note(EventKind.TACKLE, i, c, cause="beaten", x=x, y=y, detail="taken on")
        beaten(bout, t, i)
        entries.go_past(*bout.arrays, c, i, t)
        touch(bout, c, x, y)
        await_look(bout, t, t + bout.constants.past_time)
        return
    win, loose = bout.constants.tackle_win, bout.constants.tackle_loose
    px, py, _, _ = where(bout.records, i, t)
    if math.hypot(px - x, py - y) > bout.constants.tackle_reach:
        played_into(bout, t, i, c, x, y)
    elif u < past + (1.0 - past) * win / (win + loose):
        won(bout, t, i, c, x, y, "taken on")
    else:
        knocked_loose(bout, t, i, c, x, y, "taken on")


def played_into(bout: Bout, t: float, i: int, c: int, x: float, y: float) -> None:
    """The carrier c at (x, y) pushes the ball too near to player i, whom he would pass: it runs loose towards him."""
    bout.note(EventKind.TACKLE, i, c, cause="loose", x=x, y=y, detail="taken on")
    bout.possession.charge = Charge("tackle", c)
    px, py, _, _ = where(bout.records, i, t)
    gap = math.hypot(px - x, py - y)
    bout.ball.dx, bout.ball.dy = (px - x) / gap, (py - y) / gap
    bout.flight.speed = bout.constants.tackled_speed
    bounce(bout, t, c, 1.0, x, y)


def tackle_odds(bout: Bout, i: int, c: int) -> float:
    """Logit of player i's chance to win the ball cleanly off the carrier c: their skill, a heavy touch, and whether c has a touch
    to spare to shield it with."""
    constants, ball = bout.constants, bout.ball
    logit = odds(constants.tackle_win) + bout.players[i].duel - bout.players[c].duel
    if ball.heavy:
        return float(logit + constants.heavy_tackle)
    return float(logit - constants.shield if entries.spare_touch(*bout.arrays, c) else logit)


def beaten_run(bout: Bout, x: float, y: float, vx: float, vy: float) -> tuple[float, float, float, float]:
    """Where a beaten tackler at (x, y), going at (vx, vy), comes to a stop (m), how fast at most, and with what share of his
    greatest push."""
    constants = bout.constants
    return x + constants.beaten_run * vx, y + constants.beaten_run * vy, constants.beaten_cap, constants.beaten_effort


def poke_loose(bout: Bout, t: float, i: int, c: int, x: float, y: float) -> None:
    """Player i gets a foot to the ball of the carrier c at (x, y): it runs off, away from i."""
    bout.touched(i)
    bout.possession.charge = Charge("tackle", c)
    px, py, _, _ = where(bout.records, i, t)
    gap = math.hypot(x - px, y - py) + SMALL
    bout.ball.dx, bout.ball.dy = (x - px) / gap, (y - py) / gap
    if gap < ROUNDING_M:
        bout.ball.dx, bout.ball.dy = bout.play.frame_x, 0.0
    bout.flight.speed = bout.constants.tackled_speed
    bout.players[i].busy_until = t + bout.constants.loose_busy
    bounce(bout, t, c, bout.constants.tackled_keeps, x, y)
    win_by_touch(bout, t, i)
