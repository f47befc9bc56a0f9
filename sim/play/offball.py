"""Where players without the ball go: offering, pressing, covering, keeping goal, travelling, waiting (compiled).

One law of urgency serves every game: a move may take as long as the ball needs to get there and be played on,
``factor x (flight + expected time on the ball)``; the speed is distance over that time.  Runs after a loss or into
another area use a smaller factor.  So small squares are quick and short, big pitches slower and longer, without a
constant per game.
"""

from __future__ import annotations

import math

from numba import njit

from sim.ball import launch_speed, mean_pass_speed, roll_time
from sim.play.assumptions import (
    BALL_DECELERATION,
    BALL_SHIFT,
    COVER_MOST,
    COVER_SHARE,
    DEADBAND,
    EDGE_INSET,
    EFFORT,
    HOLD_EXPECTED,
    INTERCEPT_REACH,
    LANE_DOUBT,
    MOVE_COST,
    PRESS_SLACK,
    RUN_CAP,
    SPREAD_ATTACK,
    STAND_OFF,
    TRANSITION_WINDOW,
    URGENCY_ATTACK,
    URGENCY_DEFENCE,
    URGENCY_TRANSITION,
    WALK,
)
from sim.play.columns import (
    AGX,
    AGY,
    AIM,
    ARRIVES,
    BUSY,
    BX,
    BY,
    COVER,
    DEAD,
    DUTY,
    EDGE,
    FLOATER,
    FRAME_X,
    FRAME_Y,
    FREE,
    GOAL,
    GW,
    GX,
    GY,
    HELD,
    HOLDER,
    HOLDING,
    KEEP,
    LIVE_AT,
    LOST,
    MEANT,
    MODE,
    OPEN,
    PRESS,
    PRESS_EFFORT,
    REACT,
    RECEIVED,
    SHAPEX,
    SHAPEY,
    SIDE,
    SLOT,
    SNAPVX,
    SNAPVY,
    SNAPX,
    SNAPY,
    SPACING,
    SPREAD,
    STYLE,
    SUPPORT,
    TX,
    TY,
    VMAX,
    WAIT,
    ZX0,
    ZX1,
    ZY0,
    ZY1,
)
from sim.play.moves import clip, draw, draw_normal, go, quick, where
from sim.streams import stream_index

RUN = stream_index("run")
FAR = 1e9
LANE_POINTS = 5


@njit(cache=True)
def with_ball(P, B, i):
    """Whether player i's side holds the ball (floaters always do)."""
    return P[i, SIDE] == FLOATER or P[i, SIDE] == B[HOLDING]


@njit(cache=True)
def ball_at(P, M, B, now):
    """(x, y) of the ball as players think of it: at the holder, or where the pass is meant to arrive."""
    if B[MODE] == HELD:
        x, y, _, _ = where(P, M, int(B[HOLDER]), now)
        return x, y
    if B[MODE] == DEAD:
        return B[BX], B[BY]
    return B[TX], B[TY]


@njit(cache=True)
def seen(P, M, i, t, blind, back):
    """(x, y, vx, vy) of player i as known from time t; blind: from the last kick, `back` seconds before it, no velocity."""
    if blind:
        return P[i, SNAPX] - P[i, SNAPVX] * back, P[i, SNAPY] - P[i, SNAPVY] * back, 0.0, 0.0
    return where(P, M, i, t)


@njit(cache=True)
def lane_chance(P, M, B, C, t, blind, back, bx, by, tx, ty):
    """Judged chance that a ground pass from (bx, by) to (tx, ty) gets past every opponent."""
    gx, gy = tx - bx, ty - by
    length = math.sqrt(gx * gx + gy * gy)
    if length < 0.5:
        return 1.0
    a = C[BALL_DECELERATION]
    v0 = launch_speed(length, a)
    chance = 1.0
    for j in range(P.shape[0]):
        if with_ball(P, B, j) or P[j, STYLE] == WAIT or P[j, STYLE] == EDGE:
            continue
        x, y, vx, vy = seen(P, M, j, t, blind, back)
        near = clip(((x - bx) * gx + (y - by) * gy) / (length * length), 0.0, 1.0)
        ex, ey = bx + near * gx - x, by + near * gy - y
        if ex * ex + ey * ey > (P[j, VMAX] * length / 8.0 + 1.0) ** 2:
            continue
        least = FAR
        for q in range(LANE_POINTS):
            share = (q + 1.0) / LANE_POINTS
            px, py = bx + share * gx, by + share * gy
            spare = P[j, REACT] + quick(P, j, x, y, vx, vy, px, py, C[INTERCEPT_REACH]) - roll_time(v0, a, share * length)
            least = min(least, spare)
        chance *= 1.0 / (1.0 + math.exp(-least / C[LANE_DOUBT]))
    return chance


@njit(cache=True)
def nearest_opponent(P, M, B, i, x, y, t):
    """Distance (m) from (x, y) to the nearest player who is not on player i's side of the ball and may play."""
    best = FAR
    mine = with_ball(P, B, i)
    for j in range(P.shape[0]):
        if j != i and with_ball(P, B, j) != mine and P[j, STYLE] != WAIT:
            ox, oy, _, _ = where(P, M, j, t)
            best = min(best, (ox - x) ** 2 + (oy - y) ** 2)
    return math.sqrt(best)


@njit(cache=True)
def nearest_mate(P, M, B, i, x, y, t):
    """Distance (m) from (x, y) to the nearest player on player i's side of the ball."""
    best = FAR
    mine = with_ball(P, B, i)
    for j in range(P.shape[0]):
        if j != i and with_ball(P, B, j) == mine and P[j, STYLE] != WAIT:
            ox, oy, _, _ = where(P, M, j, t)
            best = min(best, (ox - x) ** 2 + (oy - y) ** 2)
    return math.sqrt(best)


@njit(cache=True)
def edge_point(P, B, C, i, u):
    """The point a share u (from 0, going round once at 1) along the inset border of player i's zone."""
    hx = 0.5 * (P[i, ZX1] - P[i, ZX0]) - C[EDGE_INSET]
    hy = 0.5 * (P[i, ZY1] - P[i, ZY0]) - C[EDGE_INSET]
    w = (u - math.floor(u)) * 4.0 * (hx + hy)
    if w < 2.0 * hx:
        x, y = -hx + w, hy
    elif w < 2.0 * (hx + hy):
        x, y = hx, hy - (w - 2.0 * hx)
    elif w < 4.0 * hx + 2.0 * hy:
        x, y = hx - (w - 2.0 * (hx + hy)), -hy
    else:
        x, y = -hx, -hy + (w - 4.0 * hx - 2.0 * hy)
    return 0.5 * (P[i, ZX0] + P[i, ZX1]) + B[FRAME_X] * x, 0.5 * (P[i, ZY0] + P[i, ZY1]) + B[FRAME_Y] * y


@njit(cache=True)
def shape_point(P, B, C, i, bx, by):
    """Where a free player belongs when his side has the ball: his place in the shape, shifted with the ball."""
    cx, cy = 0.5 * (P[i, ZX0] + P[i, ZX1]), 0.5 * (P[i, ZY0] + P[i, ZY1])
    hx, hy = 0.5 * (P[i, ZX1] - P[i, ZX0]), 0.5 * (P[i, ZY1] - P[i, ZY0])
    x = cx + C[SPREAD_ATTACK] * hx * B[FRAME_X] * P[i, SHAPEX]
    y = cy + C[SPREAD_ATTACK] * hy * B[FRAME_Y] * P[i, SHAPEY]
    if B[AIM] != KEEP:
        x += C[BALL_SHIFT] * (clip(bx, P[i, ZX0], P[i, ZX1]) - cx) * (1.0 - abs(P[i, SHAPEX]))
        y += C[BALL_SHIFT] * (clip(by, P[i, ZY0], P[i, ZY1]) - cy) * (1.0 - abs(P[i, SHAPEY]))
    return into_zone(P, i, x, y, 0.5)


@njit(cache=True)
def into_zone(P, i, x, y, inset):
    """The nearest point of player i's zone, at least `inset` metres inside it (half the zone at most)."""
    ix = min(inset, 0.5 * (P[i, ZX1] - P[i, ZX0]))
    iy = min(inset, 0.5 * (P[i, ZY1] - P[i, ZY0]))
    return clip(x, P[i, ZX0] + ix, P[i, ZX1] - ix), clip(y, P[i, ZY0] + iy, P[i, ZY1] - iy)


@njit(cache=True)
def allowed_time(C, factor, distance):
    """Seconds a move may take when the ball is `distance` metres from where it ends."""
    return factor * (distance / mean_pass_speed(distance) + C[HOLD_EXPECTED])


@njit(cache=True)
def move(P, M, B, C, G, count, i, now, start, px, py, factor, bx, by):
    """Go to (px, py) by the law of urgency, or let it be when it is not worth it."""
    x, y, vx, vy = where(P, M, i, start)
    gap = math.sqrt((px - x) ** 2 + (py - y) ** 2)
    if gap < C[DEADBAND] and vx * vx + vy * vy < 0.25:
        return
    ball = math.sqrt((px - bx) ** 2 + (py - by) ** 2)
    speed = clip(gap / allowed_time(C, factor, ball), C[WALK], C[RUN_CAP])
    go(P, M, G, count, i, now, start, px, py, speed, C[EFFORT], False)


@njit(cache=True)
def offer_on_edge(P, M, B, C, K, N, i, now, start, bx, by):
    """(x, y) on the border, within the player's own beat, from which the ball can best be had."""
    beat = 0.4 * P[i, SPREAD]
    x, y, _, _ = where(P, M, i, start)
    best, px, py = -FAR, x, y
    for q in range(-2, 3):
        cx, cy = edge_point(P, B, C, i, P[i, SLOT] + 0.5 * q * beat)
        worth = lane_chance(P, M, B, C, now, False, 0.0, bx, by, cx, cy)
        worth += 0.25 * min(1.0, nearest_mate(P, M, B, i, cx, cy, now) / B[SPACING])
        worth += 0.35 * min(1.0, nearest_opponent(P, M, B, i, cx, cy, now) / B[SPACING])
        worth -= C[MOVE_COST] * math.sqrt((cx - x) ** 2 + (cy - y) ** 2) / B[SPACING]
        worth -= 0.05 * q * q
        worth += 0.08 * draw_normal(K, N, i, RUN)
        if worth > best:
            best, px, py = worth, cx, cy
    return px, py


@njit(cache=True)
def offer_free(P, M, B, C, K, N, i, now, start, bx, by):
    """(x, y) inside the zone from which the ball can best be had: free of opponents, spread, near the player's place."""
    x, y, _, _ = where(P, M, i, start)
    sx, sy = shape_point(P, B, C, i, bx, by)
    spacing = B[SPACING]
    radius = spacing * (0.25 + 0.45 * draw(K, N, i, RUN))
    turn = 6.283185307179586 * draw(K, N, i, RUN)
    marked = nearest_opponent(P, M, B, i, x, y, now) / (0.45 * spacing)
    best, px, py = -FAR, x, y
    for q in range(8):
        if q == 0:
            cx, cy = x, y
        elif q == 1:
            cx, cy = sx, sy
        else:
            angle = turn + 6.283185307179586 * q / 6.0
            cx = x + radius * B[FRAME_X] * math.sin(angle)
            cy = y + radius * B[FRAME_Y] * math.cos(angle)
            cx, cy = into_zone(P, i, cx, cy, 0.3)
        worth = 0.9 * lane_chance(P, M, B, C, now, False, 0.0, bx, by, cx, cy)
        worth += 0.5 * min(1.0, nearest_opponent(P, M, B, i, cx, cy, now) / (0.5 * spacing))
        worth += 0.3 * min(1.0, nearest_mate(P, M, B, i, cx, cy, now) / spacing)
        worth -= 0.35 * math.sqrt((cx - sx) ** 2 + (cy - sy) ** 2) / spacing
        worth -= C[MOVE_COST] * math.sqrt((cx - x) ** 2 + (cy - y) ** 2) / spacing
        if q == 0:
            worth -= 0.4 * max(0.0, 1.0 - marked)
        worth += 0.08 * draw_normal(K, N, i, RUN)
        if worth > best:
            best, px, py = worth, cx, cy
    return px, py


@njit(cache=True)
def can_defend(P, B, j, bx, by):
    """Whether player j defends now: not with the ball, free to move, and the ball is in (or at) his zone."""
    if with_ball(P, B, j) or P[j, STYLE] != FREE:
        return False
    return P[j, ZX0] - 2.0 <= bx <= P[j, ZX1] + 2.0 and P[j, ZY0] - 2.0 <= by <= P[j, ZY1] + 2.0


@njit(cache=True)
def cover_point(P, M, B, C, r, bx, by, now):
    """Where a defender stands to cover receiver r: on the lane to the ball, goal-side where a goal is attacked."""
    x, y, vx, vy = where(P, M, r, now)
    gx, gy = bx - x, by - y
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    off = clip(C[COVER_SHARE] * length, 0.8, C[COVER_MOST])
    ux, uy = gx / length, gy / length
    if B[AIM] != KEEP:
        hx, hy = B[AGX] - x, B[AGY] - y
        reach = math.sqrt(hx * hx + hy * hy) + 1e-9
        ux, uy = ux + hx / reach, uy + hy / reach
        size = math.sqrt(ux * ux + uy * uy) + 1e-9
        ux, uy = ux / size, uy / size
    return x + off * ux, y + off * uy


@njit(cache=True)
def presser_of(P, M, B, C, now, bx, by):
    """The defender who goes to the ball: the one who could be there first, the present one favoured; -1 for nobody."""
    best, who = FAR, -1
    for j in range(P.shape[0]):
        if can_defend(P, B, j, bx, by) and P[j, BUSY] <= now:
            x, y, vx, vy = where(P, M, j, now)
            need = quick(P, j, x, y, vx, vy, bx, by, C[STAND_OFF])
            if P[j, DUTY] == PRESS:
                need -= 0.3
            if need < best:
                best, who = need, j
    return who


@njit(cache=True)
def covered_by(P, M, B, C, i, presser, now, bx, by):
    """Whom defender i covers (-1: nobody left): pairs are made nearest and most dangerous first."""
    n = P.shape[0]
    taken = 0
    used = 0
    spacing = B[SPACING]
    for _ in range(n):
        best, who, whom = FAR, -1, -1
        for j in range(n):
            if (used >> j) & 1 or j == presser or not can_defend(P, B, j, bx, by):
                continue
            x, y, vx, vy = where(P, M, j, now)
            for r in range(n):
                if (taken >> r) & 1 or not with_ball(P, B, r) or P[r, OPEN] == 0.0 or P[r, STYLE] == GOAL:
                    continue
                if r == int(B[HOLDER]) or (B[MODE] != HELD and r == int(B[MEANT])):
                    continue
                qx, qy = cover_point(P, M, B, C, r, bx, by, now)
                rx, ry, _, _ = where(P, M, r, now)
                danger = math.exp(-math.sqrt((rx - bx) ** 2 + (ry - by) ** 2) / (1.2 * spacing))
                if B[AIM] != KEEP:
                    danger += 0.6 * math.exp(-math.sqrt((rx - B[AGX]) ** 2 + (ry - B[AGY]) ** 2) / (2.0 * spacing))
                cost = math.sqrt((qx - x) ** 2 + (qy - y) ** 2) / spacing - 0.9 * danger
                if cost < best:
                    best, who, whom = cost, j, r
        if who < 0:
            return -1
        if who == i:
            return whom
        used |= 1 << who
        taken |= 1 << whom
    return -1


@njit(cache=True)
def open_lane(P, M, B, C, now, bx, by):
    """The receiver whose lane a presser shuts: the nearest legal one to the ball; -1 for nobody."""
    best, who = FAR, -1
    for r in range(P.shape[0]):
        if with_ball(P, B, r) and P[r, OPEN] != 0.0 and r != int(B[HOLDER]) and r != int(B[MEANT]):
            x, y, _, _ = where(P, M, r, now)
            gap = (x - bx) ** 2 + (y - by) ** 2
            if gap < best:
                best, who = gap, r
    return who


@njit(cache=True)
def press(P, M, B, C, G, count, i, now, start, bx, by):
    """Close the carrier: arrive a foot's length off, on the lane to his nearest receiver; jog when it would be in vain."""
    x, y, vx, vy = where(P, M, i, start)
    ux, uy = x - bx, y - by
    gap = math.sqrt(ux * ux + uy * uy) + 1e-9
    ux, uy = ux / gap, uy / gap
    r = open_lane(P, M, B, C, now, bx, by)
    if r >= 0:
        rx, ry, _, _ = where(P, M, r, now)
        size = math.sqrt((rx - bx) ** 2 + (ry - by) ** 2) + 1e-9
        ux, uy = ux + (rx - bx) / size, uy + (ry - by) / size
        size = math.sqrt(ux * ux + uy * uy)
        if size < 1e-6:
            ux, uy = (x - bx) / gap, (y - by) / gap
        else:
            ux, uy = ux / size, uy / size
    px, py = into_zone(P, i, bx + C[STAND_OFF] * ux, by + C[STAND_OFF] * uy, 0.0)
    need = quick(P, i, x, y, vx, vy, px, py, C[STAND_OFF])
    left = C[HOLD_EXPECTED] + (max(0.0, B[ARRIVES] - start) if B[MODE] != HELD else -(start - B[RECEIVED]))
    if need < max(left, 0.2) + C[PRESS_SLACK]:
        go(P, M, G, count, i, now, start, px, py, FAR, P[i, PRESS_EFFORT], False)
    else:
        cx, cy = into_zone(P, i, 0.5 * (px + x), 0.5 * (py + y), 0.0)
        go(P, M, G, count, i, now, start, cx, cy, 2.5, C[EFFORT], False)


@njit(cache=True)
def defend(P, M, B, C, G, count, i, now, start, bx, by):
    """Press, cover a receiver's lane, or hold the middle."""
    presser = presser_of(P, M, B, C, now, bx, by)
    if presser == i:
        P[i, DUTY] = PRESS
        press(P, M, B, C, G, count, i, now, start, bx, by)
        return
    P[i, DUTY] = COVER
    whom = covered_by(P, M, B, C, i, presser, now, bx, by)
    if whom >= 0:
        px, py = cover_point(P, M, B, C, whom, bx, by, now)
    else:
        px = 0.5 * (bx + 0.5 * (P[i, ZX0] + P[i, ZX1]))
        py = 0.5 * (by + 0.5 * (P[i, ZY0] + P[i, ZY1]))
        if B[AIM] != KEEP:
            px, py = 0.5 * (px + B[AGX]), 0.5 * (py + B[AGY])
    px, py = into_zone(P, i, px, py, 0.3)
    quickened = now - B[LOST] < C[TRANSITION_WINDOW]
    factor = C[URGENCY_TRANSITION] if quickened else C[URGENCY_DEFENCE]
    move(P, M, B, C, G, count, i, now, start, px, py, factor, bx, by)


@njit(cache=True)
def keep_goal(P, M, B, C, G, count, i, now, start, bx, by):
    """Between the ball and the goal, further out the further the ball is away; a support when the own side has it."""
    gx, gy = bx - P[i, GX], by - P[i, GY]
    length = math.sqrt(gx * gx + gy * gy) + 1e-9
    out = clip(0.08 * length, 0.6, 3.0)
    if with_ball(P, B, i):
        out = clip(0.2 * length, 1.0, 8.0)
    px, py = P[i, GX] + out * gx / length, P[i, GY] + out * gy / length
    if not with_ball(P, B, i):
        py = clip(py, P[i, GY] - 0.5 * P[i, GW], P[i, GY] + 0.5 * P[i, GW])
    move(P, M, B, C, G, count, i, now, start, px, py, C[URGENCY_DEFENCE], bx, by)


@njit(cache=True)
def think(P, M, B, C, K, N, G, count, i, now, start):
    """Player i, without the ball and not racing for it, decides where to go from time `start` on."""
    x, y, _, _ = where(P, M, i, start)
    bx, by = ball_at(P, M, B, now)
    style = P[i, STYLE]
    if B[MODE] == DEAD:
        if style == EDGE:
            px, py = edge_point(P, B, C, i, P[i, SLOT])
        elif style == GOAL:
            px, py = P[i, GX], P[i, GY]
        else:
            px, py = shape_point(P, B, C, i, bx, by)
        gap = math.sqrt((px - x) ** 2 + (py - y) ** 2)
        if gap > C[DEADBAND]:
            speed = clip(gap / max(0.5, B[LIVE_AT] - start - 1.0), C[WALK], C[RUN_CAP])
            go(P, M, G, count, i, now, start, px, py, speed, 0.6, False)
        return
    outside = x < P[i, ZX0] - 0.5 or x > P[i, ZX1] + 0.5 or y < P[i, ZY0] - 0.5 or y > P[i, ZY1] + 0.5
    if outside and style != GOAL:
        if style == EDGE:
            px, py = edge_point(P, B, C, i, P[i, SLOT])
        elif with_ball(P, B, i) or style == WAIT:
            px, py = shape_point(P, B, C, i, bx, by)
        else:
            px, py = into_zone(P, i, bx, by, 1.0)
        gap = math.sqrt((px - x) ** 2 + (py - y) ** 2)
        ball = math.sqrt((px - bx) ** 2 + (py - by) ** 2)
        cap = clip(gap / allowed_time(C, C[URGENCY_TRANSITION], ball), C[WALK], 0.95 * P[i, VMAX])
        go(P, M, G, count, i, now, start, px, py, C[WALK] if style == WAIT else cap, 1.0, False)
        return
    if style == WAIT:
        px, py = shape_point(P, B, C, i, bx, by)
        if math.sqrt((px - x) ** 2 + (py - y) ** 2) > 2.0 * C[DEADBAND]:
            go(P, M, G, count, i, now, start, px, py, C[WALK], 0.5, False)
        return
    if style == GOAL:
        keep_goal(P, M, B, C, G, count, i, now, start, bx, by)
        return
    if with_ball(P, B, i):
        P[i, DUTY] = SUPPORT
        if style == EDGE:
            px, py = offer_on_edge(P, M, B, C, K, N, i, now, start, bx, by)
        else:
            px, py = offer_free(P, M, B, C, K, N, i, now, start, bx, by)
        quickened = now - B[LOST] < C[TRANSITION_WINDOW]
        factor = C[URGENCY_TRANSITION] if quickened and B[AIM] != KEEP else C[URGENCY_ATTACK]
        move(P, M, B, C, G, count, i, now, start, px, py, factor, bx, by)
        return
    if can_defend(P, B, i, bx, by):
        defend(P, M, B, C, G, count, i, now, start, bx, by)
    else:
        px, py = shape_point(P, B, C, i, bx, by)
        move(P, M, B, C, G, count, i, now, start, px, py, C[URGENCY_ATTACK], bx, by)


@njit(cache=True)
def snapshot(P, M, t):
    """Remember where everybody is at a kick: what a first-time passer will still know when the ball arrives."""
    for j in range(P.shape[0]):
        P[j, SNAPX], P[j, SNAPY], P[j, SNAPVX], P[j, SNAPVY] = where(P, M, j, t)
