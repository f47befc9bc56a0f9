"""What the player with the ball does: look, value the options, release or hold or carry, and how well the kick comes off
(compiled).

A carrier on a set ball knows opponents a fifth of a second late; a first-time passer last looked for them while the ball
was coming and knows nothing of their velocity.  The runs of his own side a passer foresees.  First-time passes are struck
less well, the worse the further he had to stretch.  Both together are why one touch loses more balls: speed alone would
have it the other way round.
"""

from __future__ import annotations

import math

from sim.ball import launch_speed, mean_pass_speed
from sim.compiled import njit, square
from sim.pitch.assumptions import (
    BALL_DECELERATION,
    CHOICE_NOISE,
    CHOICE_NOISE_FIRST,
    DRIBBLE,
    FIRST_TIME_ERROR,
    FIRST_TIME_WEIGHT,
    FORESEEN,
    LANE_DOUBT,
    LEAD_MOST,
    LEAD_SHARE,
    NEXT_TIME,
    NEXT_WEIGHT,
    OPEN_SHARE,
    PACE_SPREAD,
    PATIENCE,
    PRESSED_ERROR,
    PROGRESS_WEIGHT,
    READ_KEENNESS,
    READ_TIME,
    RECEIVER_REACH,
    RELEASE_FALL,
    RELEASE_WORTH,
    SPEED_ERROR,
    STALE_FIRST_TIME,
    STALE_LOOK,
    STRETCH_ERROR,
    TACKLE_REACH,
    TRANSFER_WORTH,
    WEIGHT_ERROR,
)
from sim.pitch.border import NEVER, on_ground, to_the_line
from sim.pitch.columns import (
    AGX,
    AGY,
    AIM,
    AWAY,
    BX,
    BY,
    COMPOSURE,
    DECEL,
    DX,
    DY,
    EDGE,
    FRAME_X,
    FRAME_Y,
    FREE,
    GOAL,
    KEEP,
    KICKED,
    OPEN,
    PACE,
    PARTS,
    PX0,
    PX1,
    PY0,
    PY1,
    REACT,
    RECEIVED,
    SIGMA,
    SPACING,
    STRETCH,
    STYLE,
    TEMPO,
    V0,
    VMAX,
    WAIT,
    ZX0,
    ZX1,
    ZY0,
    ZY1,
)
from sim.pitch.ground import FAR, into_zone, lane_chance, nearest_opponent_place, room_at, sooner, take_in, with_ball
from sim.pitch.moves import clip, draw_normal, go, quick, where
from sim.streams import stream_index

CHOICE = stream_index("choice")
DIRECTION = stream_index("direction")
WEIGHT = stream_index("weight")
HOW_HARD = stream_index("pace")
PACE_LEAST, PACE_MOST = 0.55, 1.6  # judgement: what is still a ground pass to a player


@njit(cache=True)
def pressure(P, M, B, i, x, y, t):
    """0-1: how closely player i is pressed at (x, y): 1 within a metre of an opponent, 0 beyond three."""
    return clip(0.5 * (3.0 - room_at(P, M, B, i, x, y, t)), 0.0, 1.0)


@njit(cache=True)
def direction_error(P, M, B, C, c, x, y, t, first_time, arriving):
    """Standard deviation (rad) of the bearing of a pass by c now; `arriving` is the speed of the ball he plays first time."""
    sigma = P[c, SIGMA] * (1.0 + C[PRESSED_ERROR] * pressure(P, M, B, c, x, y, t))
    if first_time:
        sigma *= (
            C[FIRST_TIME_ERROR] * (1.0 + C[STRETCH_ERROR] * P[c, STRETCH]) * (1.0 + C[SPEED_ERROR] * arriving / 8.0)
        )
    return sigma


@njit(cache=True)
def soonest(P, B, px, py, reach):
    """Seconds until the first opponent of the picture who may play could be within `reach` of a point."""
    best = NEVER
    for j in range(P.shape[0]):
        if not with_ball(P, B, j) and P[j, STYLE] != WAIT and P[j, STYLE] != EDGE:
            best = sooner(P, j, px, py, reach, best)
    return best


@njit(cache=True)
def room_beside(B, x, y, tx, ty):
    """Metres from (tx, ty), to the left and to the right of a pass from (x, y), until the ball would be over the line."""
    gap = math.sqrt(square(tx - x) + square(ty - y))
    nx, ny = -(ty - y) / gap, (tx - x) / gap
    left, right = NEVER, NEVER
    for side in range(2):
        ux, uy = (nx, ny) if side == 0 else (-nx, -ny)
        room = to_the_line(B, tx, ty, ux, uy) if B[PARTS] > 0.0 and on_ground(B, tx, ty, 0.0) else NEVER
        if ux > 1e-9:
            room = min(room, (B[PX1] - tx) / ux)
        if ux < -1e-9:
            room = min(room, (B[PX0] - tx) / ux)
        if uy > 1e-9:
            room = min(room, (B[PY1] - ty) / uy)
        if uy < -1e-9:
            room = min(room, (B[PY0] - ty) / uy)
        if side == 0:
            left = max(room, 0.0)
        else:
            right = max(room, 0.0)
    return left, right


@njit(cache=True)
def value_of(P, B, C, r, x, y, tx, ty, ready, pace, sigma, floor):
    """(chance, worth) of a ground pass from (x, y) to (tx, ty) for receiver r, who can be there after `ready` seconds.

    The chance is that of getting past every opponent, of being struck well enough, and of the receiver getting there first;
    the worth is less by a share that hangs on how long he will be free, and more for ground gained where that is the aim.
    `pace` is how hard it is struck, over the usual.  A pass found to be worth less than `floor` is given (0, 0).
    """
    gap = math.sqrt(square(tx - x) + square(ty - y))
    if gap < 1.0:
        return 0.0, 0.0
    if B[PARTS] > 0.0 and on_ground(B, tx, ty, 0.0) and to_the_line(B, x, y, (tx - x) / gap, (ty - y) / gap) < gap:
        return 0.0, 0.0  # over a corner that is not in play
    flight = gap / (pace * mean_pass_speed(gap))
    met = max(flight, ready)
    width = C[RECEIVER_REACH] + 1.2 * max(0.0, flight - P[r, REACT] - C[READ_TIME])
    left, right = room_beside(B, x, y, tx, ty)
    scale = 1.0 / (sigma * gap * 1.4142135623730951)
    chance = 0.5 * (math.erf(min(width, left) * scale) + math.erf(min(width, right) * scale))
    free = P[r, REACT] + soonest(P, B, tx, ty, 1.0) - met
    if ready > flight:
        chance *= math.exp(flight - ready) / (1.0 + math.exp(-free / C[LANE_DOUBT]))
    onward = 1.0 - math.exp(-max(0.0, free) / C[NEXT_TIME])
    worth = 1.0 - C[NEXT_WEIGHT] * (1.0 - onward)
    if B[AIM] != KEEP:
        near = math.sqrt(square(tx - B[AGX]) + square(ty - B[AGY]))
        gain = math.sqrt(square(x - B[AGX]) + square(y - B[AGY])) - near
        worth *= 1.0 + C[PROGRESS_WEIGHT] * clip(0.5 * gain / B[SPACING], -1.0, 1.0)
    most = chance * worth
    if most <= floor:
        return 0.0, 0.0
    chance *= lane_chance(P, B, C, x, y, tx, ty, pace, sigma, floor / most)
    worth *= chance
    return (chance, worth) if worth > floor else (0.0, 0.0)


@njit(cache=True)
def mean_to(B, C, K, N, c):
    """Carrier c comes to play the ball: how hard he means to, over the usual for any length."""
    B[PACE] = clip(math.exp(C[PACE_SPREAD] * draw_normal(K, N, c, HOW_HARD)), PACE_LEAST, PACE_MOST)


@njit(cache=True)
def choose(P, M, B, C, K, N, c, t, first_time, arriving, out):
    """Value every legal pass of carrier c at time t: to feet, and for free receivers into the space away from their marker
    and towards the aim.  All are struck as hard as he is about to (`mean_to`): a soft one needs an open lane, a hard one leaves
    the receiver less time to come across.

    out: 0 receiver (-1: none), 1 judged chance, 2 share of odds the choice had in a watcher's eyes, 3-4 where to,
    5 worth of the choice without the noise of judging.
    """
    x, y, _, _ = where(P, M, c, t)
    t_mates = t - C[STALE_LOOK]
    sigma = direction_error(P, M, B, C, c, x, y, t, first_time, arriving)
    noise = C[CHOICE_NOISE] * 2.0 * (1.0 - P[c, COMPOSURE]) * (1.0 + pressure(P, M, B, c, x, y, t))
    if first_time:
        noise += C[CHOICE_NOISE_FIRST]
    take_in(P, M, t - (C[STALE_FIRST_TIME] if first_time else C[STALE_LOOK]), first_time)
    pace = B[PACE]
    best, odds, total = -FAR, 0.0, 0.0
    out[0] = -1.0
    for r in range(P.shape[0]):
        if r == c or not with_ball(P, B, r) or P[r, OPEN] == 0.0:
            continue
        rx, ry, rvx, rvy = where(P, M, r, t_mates)
        gap = math.sqrt(square(rx - x) + square(ry - y))
        if gap < 1.5:
            continue
        fx, fy, _, _ = where(P, M, r, t + min(gap / (pace * mean_pass_speed(gap)), C[FORESEEN]))
        if P[r, STYLE] != GOAL:
            fx, fy = into_zone(P, r, fx, fy, 0.2)
        chance, worth = value_of(P, B, C, r, x, y, fx, fy, 0.0, pace, sigma, 0.0)
        tx, ty = fx, fy
        if P[r, STYLE] == FREE:
            lead = min(C[LEAD_MOST], C[LEAD_SHARE] * gap)
            ox, oy = nearest_opponent_place(P, B, r, fx, fy)
            away = math.sqrt(square(fx - ox) + square(fy - oy)) + 1e-9
            for q in range(2):
                if q == 0:
                    sx, sy = fx + lead * (fx - ox) / away, fy + lead * (fy - oy) / away
                elif B[AIM] != KEEP:
                    far = math.sqrt(square(B[AGX] - fx) + square(B[AGY] - fy)) + 1e-9
                    sx, sy = fx + lead * (B[AGX] - fx) / far, fy + lead * (B[AGY] - fy) / far
                else:
                    break
                sx, sy = into_zone(P, r, sx, sy, 0.3)
                ready = P[r, REACT] + C[READ_TIME] + quick(P, r, rx, ry, rvx, rvy, sx, sy, C[RECEIVER_REACH])
                c2, w2 = value_of(P, B, C, r, x, y, sx, sy, ready, pace, sigma, worth)
                if w2 > worth:
                    chance, worth, tx, ty = c2, w2, sx, sy
        if P[r, AWAY] == 1.0:
            worth *= 1.0 + C[TRANSFER_WORTH]
        weight = math.exp(C[READ_KEENNESS] * worth)
        total += weight
        doubt = 2.0 * math.sqrt(chance * (1.0 - chance))  # what is nearly sure either way is hardly misjudged
        judged = worth + noise * doubt * draw_normal(K, N, r, CHOICE)
        if judged > best:
            best, odds = judged, weight
            out[0], out[1], out[3], out[4], out[5] = r, chance, tx, ty, worth
    out[2] = odds / total if total > 0.0 else 0.0


@njit(cache=True)
def open_ground(P, M, B, c, x, y, t):
    """0-1: how open the way to the aim is for carrier c at (x, y): 0 with an outfield opponent goal-side within two metres,
    1 with none within eight; 0 where the ball is only to be kept."""
    if B[AIM] == KEEP:
        return 0.0
    mine = math.sqrt(square(B[AGX] - x) + square(B[AGY] - y))
    nearest = NEVER
    for j in range(P.shape[0]):
        if with_ball(P, B, j) or P[j, STYLE] == WAIT or P[j, STYLE] == GOAL:
            continue
        ox, oy, _, _ = where(P, M, j, t)
        if math.sqrt(square(B[AGX] - ox) + square(B[AGY] - oy)) < mine:
            nearest = min(nearest, math.sqrt(square(ox - x) + square(oy - y)))
    return clip((nearest - 2.0) / 6.0, 0.0, 1.0)


@njit(cache=True)
def ready_to_release(P, M, B, C, c, t, worth):
    """Whether a pass of that worth is better than keeping the ball: the standard is the worth of being as free as the
    carrier is now (more with open ground towards the aim), and falls with the time he has had it."""
    x, y, _, _ = where(P, M, c, t)
    take_in(P, M, t, False)
    onward = 1.0 - math.exp(-soonest(P, B, x, y, C[TACKLE_REACH]) / C[NEXT_TIME])
    ahead = open_ground(P, M, B, c, x, y, t)
    keeping = C[RELEASE_WORTH] * (1.0 - C[NEXT_WEIGHT] * (1.0 - onward)) * (1.0 + C[PROGRESS_WEIGHT] * ahead)
    keeping *= 1.0 + C[PATIENCE] * (0.5 - P[c, TEMPO])
    return worth >= keeping - C[RELEASE_FALL] * (t - B[RECEIVED]) * (1.0 - ahead)


@njit(cache=True)
def carry(P, M, B, C, G, count, c, t):
    """The carrier takes the ball away from the nearest opponent, or on towards the aim, at carrying speed."""
    x, y, _, _ = where(P, M, c, t)
    ux, uy = 0.0, 0.0
    for j in range(P.shape[0]):
        if not with_ball(P, B, j) and P[j, STYLE] != WAIT:
            ox, oy, _, _ = where(P, M, j, t)
            gap = square(x - ox) + square(y - oy) + 0.25
            ux += (x - ox) / gap
            uy += (y - oy) / gap
    if B[AIM] != KEEP:
        reach = math.sqrt(square(B[AGX] - x) + square(B[AGY] - y)) + 1e-9
        drive = 0.5 + 2.0 * open_ground(P, M, B, c, x, y, t)
        ux += drive * (B[AGX] - x) / reach
        uy += drive * (B[AGY] - y) / reach
    cx, cy = 0.5 * (P[c, ZX0] + P[c, ZX1]), 0.5 * (P[c, ZY0] + P[c, ZY1])
    ux += 0.3 * (cx - x) / square(B[SPACING])
    uy += 0.3 * (cy - y) / square(B[SPACING])
    size = math.sqrt(ux * ux + uy * uy) + 1e-9
    if P[c, STYLE] == EDGE:
        return
    ahead = open_ground(P, M, B, c, x, y, t)
    speed = C[DRIBBLE] + ahead * max(0.0, C[OPEN_SHARE] * P[c, VMAX] - C[DRIBBLE])
    far = 1.0 + 1.5 * speed
    px, py = into_zone(P, c, x + far * ux / size, y + far * uy / size, 0.5)
    px, py = clip(px, B[PX0], B[PX1]), clip(py, B[PY0], B[PY1])  # nobody carries it over the line
    if not on_ground(B, px, py, 0.0):
        px, py = x, y
    go(P, M, C, G, count, c, t, t, px, py, speed, 0.8, False)


@njit(cache=True)
def kick(P, M, B, C, K, N, c, t, tx, ty, first_time, arriving):
    """Carrier c plays the ball towards (tx, ty) at time t: sets the ball rolling with his errors of direction and weight."""
    x, y, _, _ = where(P, M, c, t)
    gx, gy = tx - x, ty - y
    gap = math.sqrt(gx * gx + gy * gy)
    error = direction_error(P, M, B, C, c, x, y, t, first_time, arriving) * draw_normal(K, N, c, DIRECTION)
    error *= B[FRAME_X] * B[FRAME_Y]
    cosine, sine = math.cos(error), math.sin(error)
    spread = C[WEIGHT_ERROR] * (C[FIRST_TIME_WEIGHT] if first_time else 1.0)
    a = C[BALL_DECELERATION]
    B[V0] = launch_speed(gap, a, B[PACE]) * clip(1.0 + spread * draw_normal(K, N, c, WEIGHT), 0.5, 1.5)
    B[DX], B[DY] = (gx * cosine - gy * sine) / gap, (gx * sine + gy * cosine) / gap
    B[BX], B[BY], B[KICKED], B[DECEL] = x, y, t, a
    return a


@njit(cache=True)
def leaving_distance(B):
    """Metres the rolling ball has to go until it crosses the border of the ground in play (NEVER if it starts outside)."""
    if B[PARTS] > 0.0:
        return to_the_line(B, B[BX], B[BY], B[DX], B[DY])
    best = NEVER
    x, y = B[BX], B[BY]
    if B[DX] > 0.0:
        best = min(best, (B[PX1] - x) / B[DX])
    if B[DX] < 0.0:
        best = min(best, (B[PX0] - x) / B[DX])
    if B[DY] > 0.0:
        best = min(best, (B[PY1] - y) / B[DY])
    if B[DY] < 0.0:
        best = min(best, (B[PY0] - y) / B[DY])
    return max(best, 0.0)
