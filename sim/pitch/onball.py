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
from sim.pitch.arrays import EDGE, FREE, GOAL, KEEP, WAIT
from sim.pitch.border import NEVER, on_ground, to_the_line
from sim.pitch.ground import FAR, into_zone, lane_chance, nearest_opponent_place, room_at, sooner, take_in, with_ball
from sim.pitch.moves import clip, draw_normal, go, quick, where
from sim.streams import stream_index

CHOICE = stream_index("choice")
DIRECTION = stream_index("direction")
WEIGHT = stream_index("weight")
HOW_HARD = stream_index("pace")
PACE_LEAST, PACE_MOST = 0.55, 1.6  # judgement: what is still a ground pass to a player


@njit(cache=True)
def pressure(pitch, i, x, y, t):
    """0-1: how closely player i is pressed at (x, y): 1 within a metre of an opponent, 0 beyond three."""
    return clip(0.5 * (3.0 - room_at(pitch, i, x, y, t)), 0.0, 1.0)


@njit(cache=True)
def direction_error(pitch, c, x, y, t, first_time, arriving):
    """Standard deviation (rad) of the bearing of a pass by c now; `arriving` is the speed of the ball he plays first time."""
    players, constants = pitch.players, pitch.constants
    sigma = players[c].bearing_error * (1.0 + constants.pressed_error * pressure(pitch, c, x, y, t))
    if first_time:
        sigma *= (
            constants.first_time_error
            * (1.0 + constants.stretch_error * players[c].stretch)
            * (1.0 + constants.speed_error * arriving / 8.0)
        )
    return sigma


@njit(cache=True)
def soonest(pitch, px, py, reach):
    """Seconds until the first opponent of the picture who may play could be within `reach` of a point."""
    players = pitch.players
    best = NEVER
    for j in range(len(players)):
        if not with_ball(pitch, j) and players[j].style != WAIT and players[j].style != EDGE:
            best = sooner(players, j, px, py, reach, best)
    return best


@njit(cache=True)
def room_beside(play, x, y, tx, ty):
    """Metres from (tx, ty), to the left and to the right of a pass from (x, y), until the ball would be over the line."""
    gap = math.sqrt(square(tx - x) + square(ty - y))
    nx, ny = -(ty - y) / gap, (tx - x) / gap
    left, right = NEVER, NEVER
    for side in range(2):
        ux, uy = (nx, ny) if side == 0 else (-nx, -ny)
        room = to_the_line(play, tx, ty, ux, uy) if play.parts_in_play > 0.0 and on_ground(play, tx, ty, 0.0) else NEVER
        if ux > 1e-9:
            room = min(room, (play.east - tx) / ux)
        if ux < -1e-9:
            room = min(room, (play.west - tx) / ux)
        if uy > 1e-9:
            room = min(room, (play.north - ty) / uy)
        if uy < -1e-9:
            room = min(room, (play.south - ty) / uy)
        if side == 0:
            left = max(room, 0.0)
        else:
            right = max(room, 0.0)
    return left, right


@njit(cache=True)
def value_of(pitch, r, x, y, tx, ty, ready, pace, sigma, floor):
    """(chance, worth) of a ground pass from (x, y) to (tx, ty) for receiver r, who can be there after `ready` seconds.

    The chance is that of getting past every opponent, of being struck well enough, and of the receiver getting there first;
    the worth is less by a share that hangs on how long he will be free, and more for ground gained where that is the aim.
    `pace` is how hard it is struck, over the usual.  A pass found to be worth less than `floor` is given (0, 0).
    """
    players, play, constants = pitch.players, pitch.play, pitch.constants
    gap = math.sqrt(square(tx - x) + square(ty - y))
    if gap < 1.0:
        return 0.0, 0.0
    if (
        play.parts_in_play > 0.0
        and on_ground(play, tx, ty, 0.0)
        and to_the_line(play, x, y, (tx - x) / gap, (ty - y) / gap) < gap
    ):
        return 0.0, 0.0  # over a corner that is not in play
    flight = gap / (pace * mean_pass_speed(gap))
    met = max(flight, ready)
    width = constants.receiver_reach + 1.2 * max(0.0, flight - players[r].reaction - constants.read_time)
    left, right = room_beside(play, x, y, tx, ty)
    scale = 1.0 / (sigma * gap * 1.4142135623730951)
    chance = 0.5 * (math.erf(min(width, left) * scale) + math.erf(min(width, right) * scale))
    free = players[r].reaction + soonest(pitch, tx, ty, 1.0) - met
    if ready > flight:
        chance *= math.exp(flight - ready) / (1.0 + math.exp(-free / constants.lane_doubt))
    onward = 1.0 - math.exp(-max(0.0, free) / constants.next_time)
    worth = 1.0 - constants.next_weight * (1.0 - onward)
    if play.aim != KEEP:
        near = math.sqrt(square(tx - play.goal_x) + square(ty - play.goal_y))
        gain = math.sqrt(square(x - play.goal_x) + square(y - play.goal_y)) - near
        worth *= 1.0 + constants.progress_weight * clip(0.5 * gain / play.spacing, -1.0, 1.0)
    most = chance * worth
    if most <= floor:
        return 0.0, 0.0
    chance *= lane_chance(pitch, x, y, tx, ty, pace, sigma, floor / most)
    worth *= chance
    return (chance, worth) if worth > floor else (0.0, 0.0)


@njit(cache=True)
def mean_to(pitch, c):
    """Carrier c comes to play the ball: how hard he means to, over the usual for any length."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    ball.pace = clip(math.exp(constants.pace_spread * draw_normal(players, c, HOW_HARD)), PACE_LEAST, PACE_MOST)


@njit(cache=True)
def choose(pitch, c, t, first_time, arriving, out):
    """Value every legal pass of carrier c at time t: to feet, and for free receivers into the space away from their marker
    and towards the aim.  All are struck as hard as he is about to (`mean_to`): a soft one needs an open lane, a hard one leaves
    the receiver less time to come across.

    out: 0 receiver (-1: none), 1 judged chance, 2 share of odds the choice had in a watcher's eyes, 3-4 where to,
    5 worth of the choice without the noise of judging.
    """
    players, ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    t_mates = t - constants.stale_look
    sigma = direction_error(pitch, c, x, y, t, first_time, arriving)
    noise = constants.choice_noise * 2.0 * (1.0 - players[c].composure) * (1.0 + pressure(pitch, c, x, y, t))
    if first_time:
        noise += constants.choice_noise_first
    take_in(players, t - (constants.stale_first_time if first_time else constants.stale_look), first_time)
    pace = ball.pace
    best, odds, total = -FAR, 0.0, 0.0
    out[0] = -1.0
    for r in range(len(players)):
        if r == c or not with_ball(pitch, r) or not players[r].may_receive:
            continue
        rx, ry, rvx, rvy = where(players, r, t_mates)
        gap = math.sqrt(square(rx - x) + square(ry - y))
        if gap < 1.5:
            continue
        fx, fy, _, _ = where(players, r, t + min(gap / (pace * mean_pass_speed(gap)), constants.foreseen))
        if players[r].style != GOAL:
            fx, fy = into_zone(players, r, fx, fy, 0.2)
        chance, worth = value_of(pitch, r, x, y, fx, fy, 0.0, pace, sigma, 0.0)
        tx, ty = fx, fy
        if players[r].style == FREE:
            lead = min(constants.lead_most, constants.lead_share * gap)
            ox, oy = nearest_opponent_place(pitch, r, fx, fy)
            away = math.sqrt(square(fx - ox) + square(fy - oy)) + 1e-9
            for q in range(2):
                if q == 0:
                    sx, sy = fx + lead * (fx - ox) / away, fy + lead * (fy - oy) / away
                elif play.aim != KEEP:
                    far = math.sqrt(square(play.goal_x - fx) + square(play.goal_y - fy)) + 1e-9
                    sx, sy = fx + lead * (play.goal_x - fx) / far, fy + lead * (play.goal_y - fy) / far
                else:
                    break
                sx, sy = into_zone(players, r, sx, sy, 0.3)
                ready = (
                    players[r].reaction
                    + constants.read_time
                    + quick(players, r, rx, ry, rvx, rvy, sx, sy, constants.receiver_reach)
                )
                c2, w2 = value_of(pitch, r, x, y, sx, sy, ready, pace, sigma, worth)
                if w2 > worth:
                    chance, worth, tx, ty = c2, w2, sx, sy
        if players[r].across:
            worth *= 1.0 + constants.transfer_worth
        weight = math.exp(constants.read_keenness * worth)
        total += weight
        doubt = 2.0 * math.sqrt(chance * (1.0 - chance))  # what is nearly sure either way is hardly misjudged
        judged = worth + noise * doubt * draw_normal(players, r, CHOICE)
        if judged > best:
            best, odds = judged, weight
            out[0], out[1], out[3], out[4], out[5] = r, chance, tx, ty, worth
    out[2] = odds / total if total > 0.0 else 0.0


@njit(cache=True)
def open_ground(pitch, c, x, y, t):
    """0-1: how open the way to the aim is for carrier c at (x, y): 0 with an outfield opponent goal-side within two metres,
    1 with none within eight; 0 where the ball is only to be kept."""
    players, play = pitch.players, pitch.play
    if play.aim == KEEP:
        return 0.0
    mine = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y))
    nearest = NEVER
    for j in range(len(players)):
        if with_ball(pitch, j) or players[j].style == WAIT or players[j].style == GOAL:
            continue
        ox, oy, _, _ = where(players, j, t)
        if math.sqrt(square(play.goal_x - ox) + square(play.goal_y - oy)) < mine:
            nearest = min(nearest, math.sqrt(square(ox - x) + square(oy - y)))
    return clip((nearest - 2.0) / 6.0, 0.0, 1.0)


@njit(cache=True)
def ready_to_release(pitch, c, t, worth):
    """Whether a pass of that worth is better than keeping the ball: the standard is the worth of being as free as the
    carrier is now (more with open ground towards the aim), and falls with the time he has had it."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    x, y, _, _ = where(players, c, t)
    take_in(players, t, False)
    onward = 1.0 - math.exp(-soonest(pitch, x, y, constants.tackle_reach) / constants.next_time)
    ahead = open_ground(pitch, c, x, y, t)
    keeping = (
        constants.release_worth
        * (1.0 - constants.next_weight * (1.0 - onward))
        * (1.0 + constants.progress_weight * ahead)
    )
    keeping *= 1.0 + constants.patience * (0.5 - players[c].tempo)
    return worth >= keeping - constants.release_fall * (t - ball.received_at) * (1.0 - ahead)


@njit(cache=True)
def carry(pitch, c, t):
    """The carrier takes the ball away from the nearest opponent, or on towards the aim, at carrying speed."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    ux, uy = 0.0, 0.0
    for j in range(len(players)):
        if not with_ball(pitch, j) and players[j].style != WAIT:
            ox, oy, _, _ = where(players, j, t)
            gap = square(x - ox) + square(y - oy) + 0.25
            ux += (x - ox) / gap
            uy += (y - oy) / gap
    if play.aim != KEEP:
        reach = math.sqrt(square(play.goal_x - x) + square(play.goal_y - y)) + 1e-9
        drive = 0.5 + 2.0 * open_ground(pitch, c, x, y, t)
        ux += drive * (play.goal_x - x) / reach
        uy += drive * (play.goal_y - y) / reach
    cx, cy = 0.5 * (players[c].west + players[c].east), 0.5 * (players[c].south + players[c].north)
    ux += 0.3 * (cx - x) / square(play.spacing)
    uy += 0.3 * (cy - y) / square(play.spacing)
    size = math.sqrt(ux * ux + uy * uy) + 1e-9
    if players[c].style == EDGE:
        return
    ahead = open_ground(pitch, c, x, y, t)
    speed = constants.dribble + ahead * max(0.0, constants.open_share * players[c].top_speed - constants.dribble)
    far = 1.0 + 1.5 * speed
    px, py = into_zone(players, c, x + far * ux / size, y + far * uy / size, 0.5)
    px, py = clip(px, play.west, play.east), clip(py, play.south, play.north)  # nobody carries it over the line
    if not on_ground(play, px, py, 0.0):
        px, py = x, y
    go(pitch, c, t, t, px, py, speed, 0.8, False)


@njit(cache=True)
def kick(pitch, c, t, tx, ty, first_time, arriving):
    """Carrier c plays the ball towards (tx, ty) at time t: sets the ball rolling with his errors of direction and weight."""
    players, ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    x, y, _, _ = where(players, c, t)
    gx, gy = tx - x, ty - y
    gap = math.sqrt(gx * gx + gy * gy)
    error = direction_error(pitch, c, x, y, t, first_time, arriving) * draw_normal(players, c, DIRECTION)
    error *= play.frame_x * play.frame_y
    cosine, sine = math.cos(error), math.sin(error)
    spread = constants.weight_error * (constants.first_time_weight if first_time else 1.0)
    a = constants.ball_deceleration
    ball.launch_speed = launch_speed(gap, a, ball.pace) * clip(1.0 + spread * draw_normal(players, c, WEIGHT), 0.5, 1.5)
    ball.dx, ball.dy = (gx * cosine - gy * sine) / gap, (gx * sine + gy * cosine) / gap
    ball.x, ball.y, ball.kicked_at, ball.deceleration = x, y, t, a
    return a


@njit(cache=True)
def leaving_distance(pitch):
    """Metres the rolling ball has to go until it crosses the border of the ground in play (NEVER if it starts outside)."""
    ball, play = pitch.ball, pitch.play
    if play.parts_in_play > 0.0:
        return to_the_line(play, ball.x, ball.y, ball.dx, ball.dy)
    best = NEVER
    x, y = ball.x, ball.y
    if ball.dx > 0.0:
        best = min(best, (play.east - x) / ball.dx)
    if ball.dx < 0.0:
        best = min(best, (play.west - x) / ball.dx)
    if ball.dy > 0.0:
        best = min(best, (play.north - y) / ball.dy)
    if ball.dy < 0.0:
        best = min(best, (play.south - y) / ball.dy)
    return max(best, 0.0)
