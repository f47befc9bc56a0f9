"""Where players belong: on the line, in the shape of their side, in their zone, off the spot of a restart (compiled)."""

from __future__ import annotations

import math

from sim.compiled import njit, square
from sim.pitch.arrays import EDGE, GOAL, KEEP, SCORE
from sim.pitch.moves import clip
from sim.pitch.numerics import ROUNDING_M, SMALL, distance


@njit(cache=True)
def edge_point(pitch, i, u):
    """The point a share u (from 0, going round once at 1) along the inset border of player i's zone."""
    player, play, inset = pitch.players[i], pitch.play, pitch.constants.edge_inset
    hx = 0.5 * (player.east - player.west) - inset
    hy = 0.5 * (player.north - player.south) - inset
    w = (u - math.floor(u)) * 4.0 * (hx + hy)
    if w < 2.0 * hx:
        x, y = -hx + w, hy
    elif w < 2.0 * (hx + hy):
        x, y = hx, hy - (w - 2.0 * hx)
    elif w < 4.0 * hx + 2.0 * hy:
        x, y = hx - (w - 2.0 * (hx + hy)), -hy
    else:
        x, y = -hx, -hy + (w - 4.0 * hx - 2.0 * hy)
    cx, cy = 0.5 * (player.west + player.east), 0.5 * (player.south + player.north)
    return cx + play.frame_x * x, cy + play.frame_y * y


@njit(cache=True)
def round_of(player):
    """Metres once round the border of a player's zone, each axis by itself: as exact in a mirror."""
    return 2.0 * ((player.east - player.west) + (player.north - player.south))


@njit(cache=True)
def beat(pitch, i):
    """How far from his place, either way, player i moves along the line he plays on: a share of the way round it."""
    player, constants = pitch.players[i], pitch.constants
    return min(constants.edge_beat_share * player.share, constants.edge_beat / round_of(player))


@njit(cache=True)
def shape_point(pitch, i, bx, by):
    """Where a free player belongs when his side has the ball at (bx, by): his place in the shape, shifted with the ball,
    and where goals are attacked no further up or down the pitch from it than a side reaches."""
    player, play, constants = pitch.players[i], pitch.play, pitch.constants
    cx, cy = 0.5 * (player.west + player.east), 0.5 * (player.south + player.north)
    hx, hy = 0.5 * (player.east - player.west), 0.5 * (player.north - player.south)
    x = cx + constants.spread_attack * player.depth * hx * play.frame_x * player.shape_x
    y = cy + constants.spread_attack * player.width * hy * play.frame_y * player.shape_y
    if play.aim != KEEP:
        x += constants.ball_shift * (clip(bx, player.west, player.east) - cx) * (1.0 - abs(player.shape_x))
        y += constants.ball_shift * (clip(by, player.south, player.north) - cy) * (1.0 - abs(player.shape_y))
    if play.aim == SCORE:
        x += constants.attack_lean * (play.goal_x - x)
        y += constants.attack_lean * (play.goal_y - y)
        x = clip(x, bx - constants.side_reach, bx + constants.side_reach)
        y = clip(y, by - constants.side_reach, by + constants.side_reach)
    return into_zone(pitch.players, i, x, y, constants.shape_inset)


@njit(cache=True)
def own_place(pitch, i, bx, by):
    """Where player i stands by his style while the ball lies at (bx, by): on the line, in his goal, or in the shape."""
    player = pitch.players[i]
    if player.style == EDGE:
        return edge_point(pitch, i, player.slot)
    if player.style == GOAL:
        return player.goal_x, player.goal_y
    return shape_point(pitch, i, bx, by)


@njit(cache=True)
def into_zone(players, i, x, y, inset):
    """The nearest point of player i's zone, at least `inset` metres inside it (half the zone at most)."""
    ix = min(inset, 0.5 * (players[i].east - players[i].west))
    iy = min(inset, 0.5 * (players[i].north - players[i].south))
    return clip(x, players[i].west + ix, players[i].east - ix), clip(y, players[i].south + iy, players[i].north - iy)


@njit(cache=True)
def off_the_spot(pitch, i, x, y):
    """The place of player i's zone that is `start_room` off the spot of the restart (and as much more as he may stop short of it):
    straight away from it by way of (x, y), or towards the middle of his zone where that leaves more room."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    sx, sy, room, inset = play.spot_x, play.spot_y, constants.start_room + constants.deadband, constants.run_inset
    cx, cy = 0.5 * (players[i].west + players[i].east) - sx, 0.5 * (players[i].south + players[i].north) - sy
    middle = math.sqrt(cx * cx + cy * cy) + SMALL
    px, py = into_zone(players, i, sx + room * cx / middle, sy + room * cy / middle, inset)
    gap = distance(x, y, sx, sy)
    if gap < ROUNDING_M:
        return px, py
    qx, qy = into_zone(players, i, sx + room * (x - sx) / gap, sy + room * (y - sy) / gap, inset)
    further = square(px - sx) + square(py - sy) > square(qx - sx) + square(qy - sy) + SMALL
    return (px, py) if further else (qx, qy)


@njit(cache=True)
def is_in_zone(player, x, y):
    """Whether (x, y) lies in a player's zone."""
    return player.west <= x <= player.east and player.south <= y <= player.north


@njit(cache=True)
def round_the_spot(pitch, i, x, y, px, py):
    """The place by which player i, now at (x, y) and on his way to (px, py), gets past the spot of a restart without coming nearer
    to it: on that side of it where there is room, and of two the one nearer to where he wants to be; from inside his zone in it."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    sx, sy, room, inset = play.spot_x, play.spot_y, constants.start_room + constants.deadband, constants.run_inset
    far, turn = room / (distance(x, y, sx, sy) + SMALL), play.frame_x * play.frame_y
    ux, uy = (
        far * (x - sx),
        far * (y - sy),
    )  # a way at right angles to this one ends no nearer to the spot than it began
    ax, ay, bx, by = sx + ux - turn * uy, sy + uy + turn * ux, sx + ux + turn * uy, sy + uy - turn * ux
    if is_in_zone(players[i], x, y):
        ax, ay = into_zone(players, i, ax, ay, inset)
        bx, by = into_zone(players, i, bx, by, inset)
    a, b = distance(ax, ay, sx, sy), distance(bx, by, sx, sy)
    if min(a, b) < constants.start_room:
        return (ax, ay) if a >= b else (bx, by)
    return (ax, ay) if distance(ax, ay, px, py) <= distance(bx, by, px, py) else (bx, by)


@njit(cache=True)
def stand_back(pitch, i, x, y, px, py):
    """(px, py, hurry): where player i, now at (x, y) and on his way to (px, py), goes while an opponent takes a restart: off the
    spot first, at a run, then round it, and to a place off it.  From outside of his zone he goes round it before he comes in."""
    play, constants = pitch.play, pitch.constants
    sx, sy, room = play.spot_x, play.spot_y, constants.start_room + constants.deadband
    here = distance(x, y, sx, sy)
    if here < constants.start_room:
        if is_in_zone(pitch.players[i], x, y):
            qx, qy = off_the_spot(pitch, i, x, y)
        else:
            qx, qy = round_the_spot(pitch, i, x, y, px, py)
        return qx, qy, True
    if distance(px, py, sx, sy) < room:
        px, py = off_the_spot(pitch, i, px, py)
    clear = min(room, here, distance(px, py, sx, sy))
    gx, gy = px - x, py - y
    along = clip(((sx - x) * gx + (sy - y) * gy) / (gx * gx + gy * gy + SMALL), 0.0, 1.0)
    if square(x + along * gx - sx) + square(y + along * gy - sy) >= square(clear) - ROUNDING_M:
        return px, py, False
    qx, qy = round_the_spot(pitch, i, x, y, px, py)
    return qx, qy, False
