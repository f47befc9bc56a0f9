"""Who goes to the ball, and how he closes the carrier (compiled)."""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.arrays import HELD, KEEP, NOBODY, PRESS, SCORE
from sim.pitch.defending import beaten, can_defend, is_covered, keenness
from sim.pitch.moves import clip, quick
from sim.pitch.numerics import FAR, ROUNDING_M, SMALL, distance
from sim.pitch.pairs import one_way
from sim.pitch.perception import seen, with_ball
from sim.pitch.positions import into_zone, shape_point
from sim.pitch.runs import Run
from sim.pitch.zones import may_be


@njit(cache=True)
def ahead_of(pitch, j, bx, by):
    """Where presser j meets a carrier on the move: ahead of him by a share of the time he himself needs to get to him."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    if ball.state != HELD:
        return bx, by
    x, y, vx, vy = seen(players, j)
    need = quick(players, j, x, y, vx, vy, bx, by, constants.stand_off)
    lead = constants.press_lead * min(need, constants.press_lead_most)
    _, _, cx, cy = seen(players, ball.holder)
    return into_zone(players, j, bx + lead * cx, by + lead * cy, 0.0)


@njit(cache=True)
def time_to_press(pitch, j, bx, by):
    """Seconds until defender j of the picture could be at the ball, less for whoever presses already, more for whose fixed place is
    far off."""
    players, constants = pitch.players, pitch.constants
    x, y, vx, vy = seen(players, j)
    px, py = ahead_of(pitch, j, bx, by)
    need = quick(players, j, x, y, vx, vy, px, py, constants.stand_off)
    if players[j].duty == PRESS:
        need -= constants.press_stick
    if players[j].fixed:
        sx, sy = shape_point(pitch, j, bx, by)
        need += constants.own_zone * distance(bx, by, sx, sy)
    if not may_be(pitch, j, px, py):
        need += constants.shut_delay
    return need


@njit(cache=True)
def pressers(pitch, now, bx, by):
    """(first, second) defender to go to the ball: those who could be there soonest, a present presser favoured; -1 for nobody."""
    best, next_best, who, second = FAR, FAR, NOBODY, NOBODY
    for j in range(len(pitch.players)):
        if can_defend(pitch, j, bx, by) and pitch.players[j].busy_until <= now:
            need = time_to_press(pitch, j, bx, by)
            if need < best:
                next_best, second = best, who
                best, who = need, j
            elif need < next_best:
                next_best, second = need, j
    return who, second


@njit(cache=True)
def joins_in(pitch, situation):
    """Whether a defender goes for the ball as a second one: keen on it, and soon there."""
    i, constants = situation.player, pitch.constants
    if keenness(pitch, i, situation.now) < constants.hunting:
        return False
    x, y, vx, vy = seen(pitch.players, i)
    need = quick(pitch.players, i, x, y, vx, vy, situation.ball_x, situation.ball_y, constants.stand_off)
    return need < constants.join_time


@njit(cache=True)
def goes_to_ball(pitch, situation, first, second):
    """Whether a defender presses: as the first of the two who could be there soonest, or as the second if he joins in."""
    return first == situation.player or (second == situation.player and joins_in(pitch, situation))


@njit(cache=True)
def open_receiver(pitch, bx, by):
    """The receiver whose lane a presser shuts: the nearest legal one to the ball; -1 for nobody."""
    players, ball = pitch.players, pitch.ball
    best, who = FAR, NOBODY
    for r in range(len(players)):
        if with_ball(pitch, r) and players[r].may_receive and r != ball.holder and r != ball.meant_for:
            x, y, _, _ = seen(players, r)
            gap = square(x - bx) + square(y - by)
            if gap < best:
                best, who = gap, r
    return who


@njit(cache=True)
def side_of_ball(pitch, situation, bx, by, turn):
    """Which way from the ball (a unit vector) a presser stands: on his own side, on the lane to its nearest receiver, and goal-side
    where a goal is attacked; the more so, and the less on his own side, the greater `turn`."""
    play, constants = pitch.play, pitch.constants
    x, y = situation.x, situation.y
    ux, uy = x - bx, y - by
    gap = math.sqrt(ux * ux + uy * uy) + SMALL
    ux, uy = ux / gap, uy / gap
    r = open_receiver(pitch, bx, by)
    if r >= 0:
        rx, ry, _, _ = seen(pitch.players, r)
        size = distance(bx, by, rx, ry) + SMALL
        ux, uy = ux + turn * (rx - bx) / size, uy + turn * (ry - by) / size
    if play.aim != KEEP:
        size = distance(bx, by, play.goal_x, play.goal_y) + SMALL
        ux += turn * constants.goal_side * (play.goal_x - bx) / size
        uy += turn * constants.goal_side * (play.goal_y - by) / size
    size = math.sqrt(ux * ux + uy * uy)
    if size < ROUNDING_M:
        return (x - bx) / gap, (y - by) / gap
    return ux / size, uy / size


@njit(cache=True)
def in_time(pitch, situation, place, reach, keen):
    """Whether a presser would be within `reach` (m) of `place` when the ball gets to its receiver, or soon enough after it; later,
    the more he is told to attack the ball."""
    ball, constants = pitch.ball, pitch.constants
    x, y, vx, vy = situation.x, situation.y, situation.vx, situation.vy
    need = quick(pitch.players, situation.player, x, y, vx, vy, place[0], place[1], reach)
    due = ball.received_at if ball.state == HELD else ball.arrives_at
    return situation.start + need < due + constants.press_slack + constants.press_keenness * (keen - 0.5)


@njit(cache=True)
def has_waited(pitch, situation, keen):
    """Whether the ball has been held for as long as a presser who stands off lets it; the shorter, the keener he is."""
    constants = pitch.constants
    return situation.start - pitch.ball.received_at > 2.0 * (1.0 - keen) * constants.press_patience


@njit(cache=True)
def alone(pitch, situation):
    """Whether nobody else of his side defends now."""
    for j in range(len(pitch.players)):
        if j != situation.player and can_defend(pitch, j, situation.ball_x, situation.ball_y):
            return False
    return True


@njit(cache=True)
def middle_of_lane(pitch, situation):
    """(x, y) half way along the lane from the ball to that receiver which a lone presser can shut soonest."""
    players, ball, i = pitch.players, pitch.ball, situation.player
    best, px, py = FAR, situation.x, situation.y
    for r in range(len(players)):
        if with_ball(pitch, r) and players[r].may_receive and r != ball.holder and r != ball.meant_for:
            rx, ry, _, _ = seen(players, r)
            mx, my = into_zone(players, i, 0.5 * (situation.ball_x + rx), 0.5 * (situation.ball_y + ry), 0.0)
            need = quick(players, i, situation.x, situation.y, situation.vx, situation.vy, mx, my, SMALL)
            if need < best:
                best, px, py = need, mx, my
    return px, py


@njit(cache=True)
def wideness(constants, keen):
    """How much further than usual from the ball a presser stays who contains it, or nearer who attacks it (1: as usual)."""
    return 1.0 + (constants.contain_wider if keen < 0.5 else constants.attack_closer) * (0.5 - keen)


@njit(cache=True)
def place_of_press(pitch, situation, off, turn):
    """(x, y) of a presser `off` metres from the ball, or from where he meets a carrier on the move."""
    bx, by = ahead_of(pitch, situation.player, situation.ball_x, situation.ball_y)
    ux, uy = side_of_ball(pitch, situation, bx, by, turn)
    return into_zone(pitch.players, situation.player, bx + off * ux, by + off * uy, 0.0)


@njit(cache=True)
def close_down(pitch, situation, off):
    """While the ball is on its way: run so as to be at the place to stand off (`off` metres) when it arrives, and through it."""
    player, constants = pitch.players[situation.player], pitch.constants
    px, py = place_of_press(pitch, situation, one_way(pitch, situation, off), 1.0)
    gap = distance(situation.x, situation.y, px, py)
    left = max(constants.press_time_least, pitch.ball.arrives_at - situation.start)
    cap = clip(constants.meeting * gap / left, constants.walk, constants.press_cap * player.top_speed)
    effort = min(1.0, constants.press_push * player.press_effort)
    return Run(PRESS, NOBODY, True, px, py, cap, effort, gap > constants.deadband)


@njit(cache=True)
def stand_off(pitch, situation, off):
    """The ball is held, and he is not near: slow down, keep `off` metres, and shuffle across to the lane and the way to goal."""
    player, constants = pitch.players[situation.player], pitch.constants
    near = distance(situation.x, situation.y, situation.ball_x, situation.ball_y) < constants.shuffle_within
    px, py = place_of_press(pitch, situation, off, constants.shuffle_turn if near else 1.0)
    _, _, cx, cy = seen(pitch.players, pitch.ball.holder)
    speed = constants.shuffle_rate * distance(situation.x, situation.y, px, py)
    speed += constants.shuffle_follow * math.sqrt(square(cx) + square(cy))
    cap = min(speed, constants.run_cap * player.top_speed)
    return Run(PRESS, NOBODY, True, px, py, cap, constants.effort, False)


@njit(cache=True)
def press(pitch, situation):
    """Close the carrier in three phases.

    While the ball is on its way he runs so as to be in front of the receiver when it arrives; once it is held he stands off, on the
    lane to the nearest receiver and goal-side where a goal is attacked; and he goes in if he is there as soon as the ball, after a
    while, or when he attacks it; further off where nobody covers him before a goal.  Alone, and too late, he shuts a lane.
    """
    players, constants, i = pitch.players, pitch.constants, situation.player
    keen = keenness(pitch, i, situation.now)
    wide = wideness(constants, keen)
    if pitch.play.aim == SCORE and not is_covered(pitch, i, situation.ball_x, situation.ball_y):
        wide *= constants.delay_wider
    close = constants.stand_off * wide
    px, py = place_of_press(pitch, situation, close, 1.0)
    soon = in_time(pitch, situation, (px, py), close, keen)
    if not soon and alone(pitch, situation) and not beaten(pitch.play, situation.x, situation.y, px, py):
        cx, cy = middle_of_lane(pitch, situation)
        cap = constants.run_cap * players[i].top_speed
        return Run(PRESS, NOBODY, True, cx, cy, cap, constants.effort, False)
    off = max(close, wide * min(constants.room_share * pitch.play.spacing, constants.room_most))
    if pitch.ball.state != HELD:
        return close_down(pitch, situation, off)
    at_it = distance(situation.x, situation.y, situation.ball_x, situation.ball_y) < constants.tackle_reach
    if soon or at_it or has_waited(pitch, situation, keen) or beaten(pitch.play, situation.x, situation.y, px, py):
        return Run(PRESS, NOBODY, True, px, py, FAR, players[i].press_effort, False)
    return stand_off(pitch, situation, off)
