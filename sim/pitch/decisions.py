"""What the player with the ball does when he looks up, and with his first touch (compiled): the one place where that is decided.

Every option is one function of the pitch and the look that returns one `Option`: what it is, the chance that it comes off, what
it is worth, and whether what it needs is there.  All are valued on one scale, and `decide` takes the one worth most.  A new
option is such a function and one line in `decide`; a new way to act is a kind in `sim.pitch.options` that acts in `keep`.
"""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import GOAL, NOBODY, SCORE
from sim.pitch.ball_races import heavy_chance
from sim.pitch.carrying import carry, open_ground, step_away, worth_of_keeping
from sim.pitch.dribbling import can_take_on, man_before, past_chance, past_worth
from sim.pitch.moves import draw, draw_lognormal, draw_normal, where
from sim.pitch.numerics import FAR, distance
from sim.pitch.options import CARRY, PASS, PAST, SHOOT, STAY, TURN, Option
from sim.pitch.passing import Look, best_pass, draw_pace
from sim.pitch.perception import level, pressure, scan
from sim.pitch.shooting import better_nearer, goal_chance, within_range
from sim.streams import stream_index

CONTROL = stream_index("control")
HEAVY = stream_index("heavy touch")
HOLD = stream_index("hold")


@njit(cache=True)
def chance_asked(pitch, held_for):
    """The chance of a goal (0-1) at which a player shoots who has had the ball for so many seconds: the less, the longer that is,
    and the more room there is, as chances come seldom there."""
    constants = pitch.constants
    asked = max(constants.shot_least, constants.shot_worth - constants.shot_patience * held_for)
    return asked * min(1.0, constants.shot_room / pitch.play.spacing) ** constants.shot_seldom


@njit(cache=True)
def shot(pitch, look):
    """A shot: allowed, at a goal that is attacked, from where such a player shoots, a good enough chance for as long as he has had
    the ball, and no better one a few metres on.  One that is just good enough is worth as much as the best pass there can be."""
    play, constants, c = pitch.play, pitch.constants, look.carrier
    able = play.may_shoot and look.may_shoot and play.aim == SCORE and pitch.players[c].style != GOAL
    chance, x, y = 0.0, 0.0, 0.0
    if able:
        x, y, _, _ = where(pitch.players, c, look.t)
        far = distance(x, y, play.goal_x, play.goal_y)
        chance = within_range(pitch, c, far) * goal_chance(pitch, c, x, y, look.t)
    asked = chance_asked(pitch, look.t - pitch.ball.received_at)
    worth = (1.0 + constants.progress_weight) * chance / asked
    able = able and chance >= asked
    if able and not look.first_time and not look.must_play and spare_touch(pitch, c):
        able = not better_nearer(pitch, c, look.t, chance, open_ground(pitch, c, x, y, look.t))
    return Option(SHOOT, able, chance, worth, NOBODY, play.goal_x, play.goal_y, 0.0)


@njit(cache=True)
def pass_on(pitch, look):
    """The best pass, to feet or into space."""
    if not look.first_time:  # that was decided with a pass in view
        draw_pace(pitch, look.carrier)
    best = best_pass(pitch, look)
    return Option(PASS, best.receiver >= 0, best.chance, best.worth, best.receiver, best.x, best.y, best.obviousness)


@njit(cache=True)
def spare_touch(pitch, c):
    """Whether carrier c may touch the ball again before the touch he needs to play it."""
    limit = pitch.players[c].touch_limit
    return limit == 0 or pitch.ball.touches < limit - 1


@njit(cache=True)
def turn_away(pitch, look):
    """Turn away from who presses him, or settle a heavy touch: a touch that brings time to look; worth the more the closer he is
    pressed."""
    players, ball, constants, c = pitch.players, pitch.ball, pitch.constants, look.carrier
    x, y, _, _ = where(players, c, look.t)
    worth = constants.turn_worth + constants.turn_pressed * pressure(pitch, c, x, y, look.t)
    worth += constants.turn_noise * draw_normal(players, c, HOLD)
    if ball.heavy:
        worth += constants.settle_worth
    can_be = ball.turns == 0 and spare_touch(pitch, c)
    return Option(TURN, can_be, 1.0, worth, NOBODY, 0.0, 0.0, 0.0)


@njit(cache=True)
def move_on(pitch, look, keeping):
    """Carry the ball."""
    return Option(CARRY, spare_touch(pitch, look.carrier), 1.0, keeping, NOBODY, 0.0, 0.0, 0.0)


@njit(cache=True)
def past_him(pitch, look):
    """Take on the man before him: the chance to get past times what it is worth to be past him."""
    play, c = pitch.play, look.carrier
    x, y, _, _ = where(pitch.players, c, look.t)
    if (
        not spare_touch(pitch, c)
        or pitch.ball.heavy
        or not can_take_on(pitch, c, distance(x, y, play.goal_x, play.goal_y))
    ):
        return Option(PAST, False, 0.0, 0.0, NOBODY, 0.0, 0.0, 0.0)
    man = man_before(pitch, c, x, y, look.t)
    if man.who < 0:
        return Option(PAST, False, 0.0, 0.0, NOBODY, 0.0, 0.0, 0.0)
    chance = past_chance(pitch, c, man.who)
    worth = chance * past_worth(pitch, man) + pitch.constants.past_noise * draw_normal(pitch.players, c, HOLD)
    return Option(PAST, True, chance, worth, man.who, 0.0, 0.0, 0.0)


@njit(cache=True)
def stay(keeping):
    """Stand with the ball: always possible."""
    return Option(STAY, True, 1.0, keeping, NOBODY, 0.0, 0.0, 0.0)


@njit(cache=True)
def better(one, other):
    """Of two options the one that is worth more, if it can be had; the first of equals."""
    return one if one.can_be and one.worth >= other.worth else other


@njit(cache=True)
def decide(pitch, look):
    """What the carrier does: of all options that can be had the one that is worth most to him.

    Who plays first time, or may keep the ball no longer, has no choice but to play it if he can.
    """
    playing = pass_on(pitch, look)
    shooting = shot(pitch, look)
    if look.first_time or look.must_play:
        keeping = -FAR
        return better(shooting, better(playing, stay(keeping)))
    keeping = worth_of_keeping(pitch, look.carrier, look.t)
    best = better(move_on(pitch, look, keeping), stay(keeping))
    best = better(playing, best)
    best = better(turn_away(pitch, look), best)
    best = better(past_him(pitch, look), best)
    return better(shooting, best)


@njit(cache=True)
def keep(pitch, c, t, kind):
    """The carrier keeps the ball until his next look, as he has decided: here an option of that kind acts.

    Returns (seconds until that look, whether he has touched the ball).
    """
    ball, constants = pitch.ball, pitch.constants
    step = constants.look_interval * (constants.look_least + constants.look_range * draw(pitch.players, c, HOLD))
    if kind == TURN:
        step_away(pitch, c, t)
        ball.touches += 1
        ball.turns += 1
        ball.heavy = False
        return constants.turn_time, True
    if kind != CARRY:
        return step, False
    carry(pitch, c, t)
    # A pass half an interval after a touch would be that touch itself.
    touched = t - ball.received_at >= (ball.touches + 0.5) * constants.dribble_touch
    if touched:
        ball.touches += 1
    return step, touched


@njit(cache=True)
def first_touch(pitch, c, t, arriving):
    """What a receiver does with his first touch: play the ball on at once, or bring it under control.

    Returns (whether he plays it first time, seconds until he can); `arriving` is the speed of the ball (m/s).
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    ball.heavy, ball.turns = False, 0
    scan(pitch, c)
    draw_pace(pitch, c)
    at_once = players[c].touch_limit == 1
    if not at_once and draw(players, c, HOLD) < 2.0 * players[c].tempo * constants.first_time_share:
        best = best_pass(pitch, Look(c, t, True, arriving, False, False))
        at_once = best.receiver >= 0 and best.worth >= worth_of_keeping(pitch, c, t)
    if at_once:
        return True, constants.contact_time
    x, y, _, _ = where(players, c, t)
    pace = (constants.control_tempo - players[c].tempo) * (
        1.0 + constants.control_pressed * pressure(pitch, c, x, y, t)
    )
    pace *= level(players, c) ** constants.control_level
    if draw(players, c, HEAVY) < heavy_chance(pitch, c, t, arriving):
        ball.heavy = True
        pace *= constants.heavy_time
    return False, pace * draw_lognormal(players, c, CONTROL, constants.control_time, constants.control_time_sd)
