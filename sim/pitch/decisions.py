"""What the player with the ball does when he looks up, and with his first touch (compiled): the one place where that is decided.

Every option is one function of the pitch and the look that returns one `Option`: what it is, what it promises, and whether
what it needs is there.  `decide` tries them in order and takes the first that can be had.  A new option is such a function, in a
module of its own, and one line in `decide`; a new way to act is a kind in `sim.pitch.options` that acts in `keep`.
"""

from __future__ import annotations

from sim.compiled import njit
from sim.pitch.arrays import GOAL, NOBODY, SCORE
from sim.pitch.carrying import carry, worth_of_keeping
from sim.pitch.moves import draw, draw_lognormal, where
from sim.pitch.options import CARRY, PASS, SHOOT, STAY, Option
from sim.pitch.passing import Look, best_pass, draw_pace, pressure
from sim.pitch.shooting import goal_chance
from sim.streams import stream_index

CONTROL = stream_index("control")
HOLD = stream_index("hold")


@njit(cache=True)
def shot(pitch, look):
    """A shot: allowed, at a goal that is attacked, and a good enough chance for as long as he has had the ball."""
    play, constants = pitch.play, pitch.constants
    able = play.may_shoot and look.may_shoot and play.aim == SCORE and pitch.players[look.carrier].style != GOAL
    chance = goal_chance(pitch, look.carrier, look.t) if able else 0.0
    asked = constants.shot_worth - constants.shot_patience * (look.t - pitch.ball.received_at)
    good = able and chance >= max(constants.shot_least, asked)
    return Option(SHOOT, good, chance, chance, NOBODY, play.goal_x, play.goal_y, 0.0)


@njit(cache=True)
def pass_on(pitch, look):
    """The best pass: better than keeping the ball, unless it is played first time or he may keep it no longer."""
    if not look.first_time:  # that was decided with a pass in view
        draw_pace(pitch, look.carrier)
    best = best_pass(pitch, look)
    found = best.receiver >= 0
    good = found and (look.first_time or look.must_play or best.worth >= worth_of_keeping(pitch, look.carrier, look.t))
    return Option(PASS, good, best.chance, best.worth, best.receiver, best.x, best.y, best.obviousness)


@njit(cache=True)
def move_on(pitch, look):
    """Carry the ball: as long as a touch is left after it to play it with."""
    limit = pitch.players[look.carrier].touch_limit
    free = not look.must_play and (limit == 0 or pitch.ball.touches < limit - 1)
    return Option(CARRY, free, 1.0, 0.0, NOBODY, 0.0, 0.0, 0.0)


@njit(cache=True)
def stay(pitch, look):
    """Stand with the ball: always possible."""
    return Option(STAY, True, 1.0, 0.0, NOBODY, 0.0, 0.0, 0.0)


@njit(cache=True)
def decide(pitch, look):
    """What the carrier does: the first of these options that can be had."""
    option = shot(pitch, look)
    option = option if option.taken else pass_on(pitch, look)
    option = option if option.taken else move_on(pitch, look)
    return option if option.taken else stay(pitch, look)


@njit(cache=True)
def keep(pitch, c, t, kind):
    """The carrier keeps the ball until his next look, as he has decided: here an option of that kind acts.

    Returns (seconds until that look, whether he has touched the ball).
    """
    ball, constants = pitch.ball, pitch.constants
    step = constants.look_interval * (constants.look_least + constants.look_range * draw(pitch.players, c, HOLD))
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
    players, constants = pitch.players, pitch.constants
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
    return False, pace * draw_lognormal(players, c, CONTROL, constants.control_time, constants.control_time_sd)
