"""The passes a carrier has, what each is worth, which he picks, and how well the kick comes off (compiled).

A carrier on a set ball knows opponents a fifth of a second late; a first-time passer last looked for them while the ball
was coming and knows nothing of their velocity.  The runs of his own side a passer foresees.  First-time passes are struck
less well, the worse the further he had to stretch.  Both together are why one touch loses more balls: speed alone would
have it the other way round.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.ball import launch_speed, mean_pass_speed, stops_after, struck, time_to
from sim.compiled import njit, square
from sim.pitch.arrays import EDGE, FREE, GOAL, KEEP, NOBODY, WAIT
from sim.pitch.border import NEVER, on_ground, room_to_the_line, to_the_line
from sim.pitch.moves import clip, draw, draw_normal, quick, where
from sim.pitch.numerics import FAR, ROOT_2, SMALL
from sim.pitch.passing_lanes import Strike, lane_chance, surface_of
from sim.pitch.perception import level, nearest_opponent_place, pressure, sooner, take_in_as, with_ball
from sim.pitch.positions import into_zone
from sim.pitch.prizes import prized
from sim.pitch.zones import is_offside_place, may_be
from sim.streams import stream_index

CHOICE = stream_index("choice")
DIRECTION = stream_index("direction")
WEIGHT = stream_index("weight")
HOW_HARD = stream_index("pace")
SCAN = stream_index("scan")


class Look(NamedTuple):
    """What a carrier looks up with."""

    carrier: int
    t: float  # s
    first_time: bool  # he plays the ball with his first touch
    arriving: float  # m/s, the speed with which it came to him
    may_shoot: bool  # his side has the ball for good (no win of theirs waits to be confirmed)
    must_play: bool  # he may keep it no longer


class Target(NamedTuple):
    """A pass to somebody: where to, the chance that it comes off, and what it is worth."""

    x: float
    y: float
    chance: float
    worth: float


class Choice(NamedTuple):
    """The pass that a carrier would play: to whom (-1: nobody), where, its chance, its worth without the noise of judging, and
    its share of the odds in a watcher's eyes."""

    receiver: int
    x: float
    y: float
    chance: float
    worth: float
    obviousness: float


@njit(cache=True)
def direction_error(pitch, look, pressed):
    """Standard deviation (rad) of the bearing of a pass by the carrier now, pressed so closely (0-1)."""
    player, constants = pitch.players[look.carrier], pitch.constants
    hurried = constants.pressed_error * level(pitch.players, look.carrier)
    sigma = player.bearing_error * (1.0 + hurried * pressed)
    if pitch.ball.heavy:
        sigma *= constants.heavy_error
    if look.first_time:
        sigma *= (
            constants.first_time_error
            * (1.0 + constants.stretch_error * player.stretch)
            * (1.0 + constants.speed_error * look.arriving / constants.fast_ball)
        )
    return sigma


@njit(cache=True)
def turn_error(constants, strike, gx, gy):
    """How much wider of its line a pass of (gx, gy) m goes for the turn that it takes: 1 for a set ball, and for one played first
    time more or less back where it came from."""
    if strike.back_x == 0.0 and strike.back_y == 0.0:
        return 1.0
    cosine = (gx * strike.back_x + gy * strike.back_y) / (math.sqrt(gx * gx + gy * gy) + SMALL)
    turn = math.acos(clip(cosine, -1.0, 1.0))
    if turn > constants.turn_blind:
        return constants.turn_blind_error
    return 1.0 + constants.turn_error * max(0.0, turn - constants.turn_easy)


@njit(cache=True)
def strike_of(pitch, look):
    """How the carrier would strike a pass now."""
    x, y, _, _ = where(pitch.players, look.carrier, look.t)
    pressed = pressure(pitch, look.carrier, x, y, look.t)
    back = -1.0 if look.first_time else 0.0
    error = direction_error(pitch, look, pressed)
    return Strike(x, y, pitch.ball.pace, error, back * pitch.ball.dx, back * pitch.ball.dy, pressed)


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
    return room_to_the_line(play, tx, ty, nx, ny), room_to_the_line(play, tx, ty, -nx, -ny)


@njit(cache=True)
def over_a_corner(play, x, y, tx, ty, gap):
    """Whether a pass of `gap` metres to a point in play would go over ground that is not."""
    return (
        play.parts_in_play > 0
        and on_ground(play, tx, ty, 0.0)
        and to_the_line(play, x, y, (tx - x) / gap, (ty - y) / gap) < gap
    )


@njit(cache=True)
def is_barred(pitch, r, tx, ty):
    """Whether receiver r may not be played to at (tx, ty): he may not go there, or is offside where he was seen."""
    if not may_be(pitch, r, tx, ty):
        return True
    player = pitch.players[r]
    return pitch.play.offside_in_use > 0 and is_offside_place(pitch, r, player.seen_x, player.seen_y)


@njit(cache=True)
def value_of(pitch, strike, r, tx, ty, ready, floor):
    """(chance, worth) of a ground pass to (tx, ty) for receiver r, who can be there after `ready` seconds.

    The chance is that of getting past every opponent, of being struck well enough, and of the receiver getting there first;
    the worth is less by a share that hangs on how long he will be free, and more for ground gained where that is the aim.
    A pass found to be worth less than `floor` is given (0, 0).
    """
    players, play, constants = pitch.players, pitch.play, pitch.constants
    x, y, pace = strike.x, strike.y, strike.pace
    sigma = strike.error * turn_error(constants, strike, tx - x, ty - y)
    gap = math.sqrt(square(tx - x) + square(ty - y))
    if gap < constants.pass_least or over_a_corner(play, x, y, tx, ty, gap) or is_barred(pitch, r, tx, ty):
        return 0.0, 0.0
    flight = gap / (pace * mean_pass_speed(gap))
    met = max(flight, ready)
    across = max(0.0, flight - players[r].reaction - constants.read_time)
    width = constants.receiver_reach + constants.cross_speed * across
    left, right = room_beside(play, x, y, tx, ty)
    scale = 1.0 / (sigma * gap * ROOT_2)
    chance = 0.5 * (math.erf(min(width, left) * scale) + math.erf(min(width, right) * scale))
    free = players[r].reaction + soonest(pitch, tx, ty, constants.free_reach) - met
    if ready > flight:
        chance *= math.exp(flight - ready) / (1.0 + math.exp(-free / constants.lane_doubt))
    onward = 1.0 - math.exp(-max(0.0, free) / constants.next_time)
    worth = 1.0 - constants.next_weight * (1.0 - onward)
    if play.aim != KEEP:
        near = math.sqrt(square(tx - play.goal_x) + square(ty - play.goal_y))
        gain = math.sqrt(square(x - play.goal_x) + square(y - play.goal_y)) - near
        worth *= 1.0 + constants.progress_weight * clip(gain / (constants.progress_full * play.spacing), -1.0, 1.0)
    most = chance * worth
    if most <= floor:
        return 0.0, 0.0
    chance *= lane_chance(pitch, strike, sigma, tx, ty, floor / most)
    worth *= chance
    return (chance, worth) if worth > floor else (0.0, 0.0)


@njit(cache=True)
def draw_pace(pitch, carrier):
    """The carrier comes to play the ball: how hard he means to, over the usual for any length."""
    constants = pitch.constants
    drawn = math.exp(constants.pace_spread * draw_normal(pitch.players, carrier, HOW_HARD))
    pitch.ball.pace = clip(drawn, constants.pace_least, constants.pace_most)


@njit(cache=True)
def to_feet(pitch, strike, r, t, gap):
    """The pass to where receiver r's run will have taken him, `gap` metres off."""
    players = pitch.players
    ahead = min(gap / (strike.pace * mean_pass_speed(gap)), pitch.constants.foreseen)
    x, y, _, _ = where(players, r, t + ahead)
    if players[r].style != GOAL:
        x, y = into_zone(players, r, x, y, pitch.constants.feet_inset)
    chance, worth = value_of(pitch, strike, r, x, y, 0.0, 0.0)
    return Target(x, y, chance, worth)


@njit(cache=True)
def into_space(pitch, strike, r, t_seen, gap, feet):
    """The best pass for free receiver r, seen last at `t_seen`: to his feet, or led into the space away from his marker or towards
    the aim."""
    players, play, constants = pitch.players, pitch.play, pitch.constants
    lead = min(constants.lead_most, constants.lead_share * gap)
    x, y, vx, vy = where(players, r, t_seen)
    fx, fy, best = feet.x, feet.y, feet
    ox, oy = nearest_opponent_place(pitch, r, fx, fy)
    away = math.sqrt(square(fx - ox) + square(fy - oy)) + SMALL
    for q in range(2):
        if q == 0:
            sx, sy = fx + lead * (fx - ox) / away, fy + lead * (fy - oy) / away
        elif play.aim != KEEP:
            far = math.sqrt(square(play.goal_x - fx) + square(play.goal_y - fy)) + SMALL
            sx, sy = fx + lead * (play.goal_x - fx) / far, fy + lead * (play.goal_y - fy) / far
        else:
            break
        sx, sy = into_zone(players, r, sx, sy, constants.space_inset)
        run = quick(players, r, x, y, vx, vy, sx, sy, constants.receiver_reach)
        ready = players[r].reaction + constants.read_time + run
        chance, worth = value_of(pitch, strike, r, sx, sy, ready, best.worth)
        if worth > best.worth:
            best = Target(sx, sy, chance, worth)
    return best


@njit(cache=True)
def best_pass(pitch, look):
    """Value every legal pass of the carrier: to feet, and for free receivers into space; the one he judges best.

    All are struck as hard as he is about to (`draw_pace`): a soft one needs an open lane, a hard one leaves the receiver less
    time to come across.
    """
    players, constants = pitch.players, pitch.constants
    c, t = look.carrier, look.t
    t_mates = t - constants.stale_look
    strike = strike_of(pitch, look)
    x, y = strike.x, strike.y
    noise = constants.choice_noise * 2.0 * (1.0 - players[c].composure) * (1.0 + strike.pressed)
    if look.first_time:
        noise += constants.choice_noise_first
    age = constants.stale_first_time if look.first_time else constants.stale_look
    take_in_as(pitch, c, t, t - age, look.first_time, strike.pressed)
    far_seen = draw(players, c, SCAN) < constants.far_seen * (1.0 - strike.pressed)
    best, odds, total = -FAR, 0.0, 0.0
    receiver, found, value = NOBODY, Target(x, y, 0.0, 0.0), 0.0
    for r in range(len(players)):
        if r == c or not with_ball(pitch, r) or not players[r].may_receive:
            continue
        if players[r].across and not far_seen:  # another area has to be seen before it can be played to
            continue
        rx, ry, _, _ = where(players, r, t_mates)
        gap = math.sqrt(square(rx - x) + square(ry - y))
        if gap < constants.mate_least:
            continue
        target = to_feet(pitch, strike, r, t, gap)
        if players[r].style == FREE:
            target = into_space(pitch, strike, r, t_mates, gap, target)
        sought = players[r].across or prized(pitch, look, r, x, y, target.x, target.y)
        worth = target.worth * (1.0 + constants.transfer_worth) if sought else target.worth
        if r == pitch.ball.giver:
            worth *= 1.0 - constants.back_cost
        weight = math.exp(constants.read_keenness * worth)
        total += weight
        doubt = 2.0 * math.sqrt(target.chance * (1.0 - target.chance))  # what is nearly sure is hardly misjudged
        judged = worth + noise * doubt * draw_normal(players, r, CHOICE)
        if judged > best:
            best, odds = judged, weight
            receiver, found, value = r, target, worth
    return Choice(receiver, found.x, found.y, found.chance, value, odds / total if total > 0.0 else 0.0)


@njit(cache=True)
def kick(pitch, look, tx, ty):
    """The carrier plays the ball towards (tx, ty): sets it going with his errors of direction and weight."""
    players, ball, play, constants = pitch.players, pitch.ball, pitch.play, pitch.constants
    c = look.carrier
    strike = strike_of(pitch, look)
    x, y, gx, gy = strike.x, strike.y, tx - strike.x, ty - strike.y
    gap = math.sqrt(gx * gx + gy * gy)
    error = strike.error * turn_error(constants, strike, gx, gy) * draw_normal(players, c, DIRECTION)
    error *= play.frame_x * play.frame_y
    cosine, sine = math.cos(error), math.sin(error)
    spread = constants.weight_error * (constants.first_time_weight if look.first_time else 1.0)
    weight = clip(1.0 + spread * draw_normal(players, c, WEIGHT), constants.weight_least, constants.weight_most)
    surface = surface_of(constants)
    launch = struck(launch_speed(gap, ball.pace, surface) * weight, surface)
    ball.launch_speed, ball.slide, ball.slides_for, ball.roll = launch
    ball.dx, ball.dy = (gx * cosine - gy * sine) / gap, (gx * sine + gy * cosine) / gap
    ball.x, ball.y, ball.kicked_at = x, y, look.t
    ball.arrives_at = look.t + min(time_to(launch, gap), stops_after(launch))
    for j in range(len(players)):
        players[j].struck_x, players[j].struck_y, _, _ = where(players, j, look.t)
