"""Who gets to a moving ball first, and whether he controls it (compiled).

After every kick each player goes on with what he was doing for his reaction time and then either races for the ball or
moves as `sim.pitch.offball` says.  Races are decided on the very runs that are executed: the earliest time at which a flat-out
run through a point of the ball's path is within reach of it.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.ball import mean_pass_speed
from sim.compiled import njit, square
from sim.motion import reach_time
from sim.pitch.arrays import EDGE, FREE, NOBODY, RACE, WAIT
from sim.pitch.border import leads_out, leaving_distance, within_lines
from sim.pitch.moves import Course, draw_lognormal, draw_normal, go, limits_of, record, where
from sim.pitch.numerics import FAR
from sim.pitch.offball import replan, schedule_replan
from sim.pitch.perception import pressure, with_ball
from sim.pitch.reaching import (
    ball_gets,
    ball_point,
    ball_stops,
    body_in_the_way,
    easiest_reach,
    first_reach,
    may_play_at,
    meets,
    passes_closest,
)
from sim.pitch.zones import may_be
from sim.streams import stream_index
from sim.turning import State

REACTION = stream_index("reaction")
INTERCEPT = stream_index("intercept")


@njit(cache=True)
def runs_off_with_it(pitch, j, x, y, vx, vy):
    """Whether player j, who moves freely and gets to a ball at (x, y) at that pace, would soon be over the line with it."""
    return pitch.players[j].style == FREE and leads_out(pitch.play, x, y, vx, vy, pitch.constants.line_ahead)


@njit(cache=True)
def run_onto(pitch, j, now, t, reach):
    """Player j runs so as to have the ball within `reach` at time t; returns whether he will.

    So as to meet it on the move when there is time (to stop with it, where he would be over the line with it), else flat out
    through the point, else flat out to the point.
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    start = players[j].sets_off_at
    players[j].duty, players[j].racing = RACE, True
    bx, by, _ = ball_point(ball, t)
    x, y, vx, vy = where(players, j, start)
    gap = math.sqrt(square(bx - x) + square(by - y))
    if gap < constants.stands_within and vx * vx + vy * vy < square(constants.stands_below):
        return meets(pitch, j, t, reach)
    need = reach_time(State(x, y, vx, vy), bx, by, 0.0, limits_of(players[j]))
    left = t - start
    if need <= constants.early_share * left:
        if not runs_off_with_it(pitch, j, bx, by, (bx - x) / left, (by - y) / left):
            go(
                pitch,
                j,
                now,
                start,
                Course(bx, by, max(constants.walk, constants.meeting * gap / left), constants.effort, True),
            )
            if meets(pitch, j, t, reach):
                return True
        go(
            pitch,
            j,
            now,
            start,
            Course(bx, by, max(constants.walk, constants.stopping * gap / left), constants.effort, False),
        )
        if meets(pitch, j, t, reach):
            return True
    go(pitch, j, now, start, Course(bx, by, FAR, 1.0, True))
    if meets(pitch, j, t, reach):
        return True
    go(pitch, j, now, start, Course(bx, by, FAR, 1.0, False))
    return meets(pitch, j, t, reach)


@njit(cache=True)
def expect(pitch, j, now):
    """The meant receiver, in view of the passer, sets off for where the pass is meant to meet him as it is struck.

    What the kick makes of it he has to see first: that takes his reaction and reading time (`pursue`).
    """
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    gap = math.sqrt(square(ball.target_x - ball.x) + square(ball.target_y - ball.y))
    left = gap / (ball.pace * mean_pass_speed(gap))
    start = max(now, players[j].busy_until)
    x, y, _, _ = where(players, j, start)
    far = math.sqrt(square(ball.target_x - x) + square(ball.target_y - y))
    if far > constants.ready_within:
        go(
            pitch,
            j,
            now,
            start,
            Course(ball.target_x, ball.target_y, max(constants.walk, constants.meeting * far / left), 1.0, True),
        )


class Race(NamedTuple):
    """A race for a rolling ball: from when on, until when it is worth running for (s), who may not touch it (a bit a player)."""

    now: float
    end: float
    barred: int


class Finder(NamedTuple):
    """Who gets to the ball (-1: nobody), and when (s)."""

    who: int
    when: float


@njit(cache=True)
def may_touch(race, j):
    """Whether there is a player j who may touch the ball in this race."""
    return j >= 0 and not (race.barred >> j) & 1


@njit(cache=True)
def see_it(pitch, j, now, struck):
    """Settle when player j can set off for a ball that rolls from `now` on: after his reaction if it has just been struck, and
    after reading its line if it is his side's; the sooner, the more obvious the pass was to an opponent of the passer."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    player = players[j]
    record(pitch, j, now)  # races are decided with the legs that will run them
    player.sets_off_at = now
    player.racing = False
    if struck:
        reaction = draw_lognormal(players, j, REACTION, player.reaction, player.reaction_sd)
        if with_ball(pitch, j):
            reaction += constants.read_time
        else:
            reaction -= constants.kick_read + constants.anticipation * max(
                0.0, ball.obviousness - constants.obvious_from
            )
            if ball.passer >= 0 and players[ball.passer].touch_limit == 1:
                reaction -= constants.anticipation_one_touch
        player.sets_off_at = now + max(reaction, constants.reaction_least)
    player.sets_off_at = max(player.sets_off_at, player.busy_until)


@njit(cache=True)
def receiver_reaches(pitch, race, meant):
    """When the meant receiver first could have the ball (FAR: not at all)."""
    if not may_touch(race, meant):
        return FAR
    reach, sets_off_at = pitch.constants.receiver_reach, pitch.players[meant].sets_off_at
    return min(
        body_in_the_way(pitch, meant, race.now, min(sets_off_at, race.end), reach),
        first_reach(pitch, meant, sets_off_at, race.end, reach),
    )


@njit(cache=True)
def judge_opponents(pitch, race):
    """Settle when every opponent could first have the ball, and when he is judged to (FAR: not at all)."""
    players, constants = pitch.players, pitch.constants
    for j in range(len(players)):
        players[j].could_have_at = players[j].judged_at = FAR
        if not may_touch(race, j) or with_ball(pitch, j) or players[j].style == WAIT or players[j].style == EDGE:
            continue
        sets_off_at = players[j].sets_off_at
        ready = max(race.now, players[j].busy_until)
        blocked = body_in_the_way(pitch, j, ready, min(sets_off_at, race.end), constants.block_radius)
        t = min(blocked, first_reach(pitch, j, sets_off_at, race.end, constants.intercept_reach))
        if t < FAR:
            judged = t + constants.arrival_noise * draw_normal(players, j, INTERCEPT)
            players[j].could_have_at = t
            players[j].judged_at = min(max(judged, race.now + constants.race_least), race.end)


@njit(cache=True)
def soonest_opponents(players):
    """(first, second) of those who are judged to get to the ball; -1 for nobody."""
    best, next_best, who, second = FAR, FAR, NOBODY, NOBODY
    for j in range(len(players)):
        judged = players[j].judged_at
        if judged < best:
            next_best, second = best, who
            best, who = judged, j
        elif judged < next_best:
            next_best, second = judged, j
    return who, second


@njit(cache=True)
def goes_too(pitch, race, first, j):
    """Whether j, who is judged second, runs for a ball that nobody is meant to get: hardly later than the first, or close to it."""
    players, constants = pitch.players, pitch.constants
    if players[j].could_have_at < players[first].could_have_at + constants.loose_second:
        return True
    x, y, _, _ = where(players, j, race.now)
    bx, by, _ = ball_point(pitch.ball, race.now)
    return square(x - bx) + square(y - by) < square(constants.loose_near)


@njit(cache=True)
def wins_at(pitch, j, ours):
    """When opponent j, who gets to the ball first, takes it: where his run is slowest, in a share of the time he has until the side
    of the pass could have it (`ours`)."""
    player, constants = pitch.players[j], pitch.constants
    first = player.could_have_at
    if ours.when >= FAR or player.judged_at >= ours.when or first <= player.sets_off_at:
        return first
    latest = first + constants.win_share * max(0.0, ours.when - constants.wait_ahead - first)
    return easiest_reach(pitch, j, first, latest, constants.intercept_reach)


@njit(cache=True)
def opponents_run(pitch, race, ours, meant):
    """Opponents run for the ball: for a pass that its receiver can have (`meant`) those who could get to it not long after him, for
    one that nobody is meant to get the first of them, and a second who is near.

    ours    who of the side of the pass could have it first, and when
    Returns the opponent judged to have it first, and when he has it.
    """
    players, constants = pitch.players, pitch.constants
    reach = constants.intercept_reach
    first, second = soonest_opponents(players)
    when = FAR
    for j in range(len(players)):
        if players[j].judged_at >= FAR:
            continue
        if meant:
            goes = players[j].judged_at < ours.when + constants.compete
        else:
            goes = j == first or (j == second and goes_too(pitch, race, first, j))
        t = wins_at(pitch, j, ours) if j == first else players[j].could_have_at
        if goes and not run_onto(pitch, j, race.now, t, reach):
            t = players[j].could_have_at
            run_onto(pitch, j, race.now, t, reach)
        if j == first:
            when = t
    return Finder(first, when)


@njit(cache=True)
def receive(pitch, race, meant, first, rival):
    """The meant receiver, who could have the ball at `first`, runs for it: he lets it come to him as far as opponents, who may have
    it at `rival`, allow.  Returns when he has it."""
    constants = pitch.constants
    sets_off_at = pitch.players[meant].sets_off_at
    when = first
    easy = passes_closest(pitch, meant, min(sets_off_at, first), race.end)
    if easy > first and easy + constants.wait_safely < rival:
        when = easy
    elif easy > first:
        when = max(first, min(easy, rival - constants.wait_ahead))
    if not run_onto(pitch, meant, race.now, when, constants.receiver_reach):
        when = first
        run_onto(pitch, meant, race.now, when, constants.receiver_reach)
    return when


@njit(cache=True)
def soonest_mate(pitch, race, meant):
    """Nobody's pass, or one that its receiver cannot reach: who else of the side with the ball could have it first."""
    players, reach = pitch.players, pitch.constants.receiver_reach
    who, when = NOBODY, FAR
    for j in range(len(players)):
        if j == meant or not may_touch(race, j) or not with_ball(pitch, j) or players[j].style == WAIT:
            continue
        t = first_reach(pitch, j, players[j].sets_off_at, race.end, reach)
        if t < when:
            who, when = j, t
    return Finder(who, when)


@njit(cache=True)
def stops_beyond(pitch, stops):
    """Whether the ball comes to rest (at `stops`) in the run-off, where only those on the lines may play it."""
    bx, by, _ = ball_point(pitch.ball, stops)
    return not within_lines(pitch.play, bx, by, pitch.constants.over_the_line)


@njit(cache=True)
def fetch(pitch, race, stops):
    """Nobody gets to a ball that stays in play: the one nearest to where it stops (at `stops`) goes and fetches it; out of the
    run-off, whoever may play it there."""
    players, constants = pitch.players, pitch.constants
    bx, by, _ = ball_point(pitch.ball, stops)
    beyond = stops_beyond(pitch, stops)
    who, when = NOBODY, FAR
    for j in range(len(players)):
        if players[j].style == WAIT or (beyond and not may_play_at(pitch, j, bx, by)) or not may_be(pitch, j, bx, by):
            continue
        x, y, _, _ = where(players, j, race.now)
        t = stops + constants.still_wait + math.sqrt(square(bx - x) + square(by - y))
        if t < when and may_touch(race, j):
            who, when = j, t
    if who >= 0:
        players[who].duty = RACE
        go(pitch, who, race.now, race.now, Course(bx, by, FAR, constants.effort, False))
    return Finder(who, when)


@njit(cache=True)
def race_for_it(pitch, race, meant):
    """Whoever should runs for the ball; who has it first, and when."""
    ours = Finder(meant, receiver_reaches(pitch, race, meant))
    received = ours.when < FAR
    if not received:
        ours = soonest_mate(pitch, race, meant)
    theirs = opponents_run(pitch, race, ours, received)
    judged = pitch.players[theirs.who].judged_at if theirs.who >= 0 else FAR
    if received:
        ours = Finder(meant, receive(pitch, race, meant, ours.when, judged))
    elif ours.who >= 0:
        run_onto(pitch, ours.who, race.now, ours.when, pitch.constants.receiver_reach)
    return ours if ours.when <= judged else theirs


@njit(cache=True)
def follows_at(pitch, j, now, struck):
    """When player j, who does not race for a ball, goes where it makes him go: an opponent of the passer sets off by the kick,
    before he has seen what has become of it."""
    player = pitch.players[j]
    start = player.sets_off_at
    if struck and not with_ball(pitch, j) and pitch.ball.meant_for >= 0:
        start = max(start - pitch.constants.follow_read, player.busy_until)
    return max(start, now)


@njit(cache=True)
def pursue(pitch, now, struck, barred):
    """Everybody answers a ball that has just been set rolling (or was missed) at `now`; who touches it first?

    struck  True for a kick: reactions are drawn anew and the obvious pass is anticipated
    barred  bit set of players who may not touch it now
    Returns (first to touch or -1, when, when the ball is out or FAR).
    """
    players, ball = pitch.players, pitch.ball
    stops = ball_stops(ball)
    leaves = ball_gets(ball, leaving_distance(ball, pitch.play))
    race = Race(now, min(leaves, stops + pitch.constants.still_wait), barred)
    meant = ball.meant_for
    if struck and may_touch(race, meant):
        expect(pitch, meant, now)
    for j in range(len(players)):
        see_it(pitch, j, now, struck)
    judge_opponents(pitch, race)
    first = race_for_it(pitch, race, meant)
    for j in range(len(players)):
        if not players[j].racing:
            start = follows_at(pitch, j, now, struck)
            replan(pitch, j, now, start)
            schedule_replan(pitch, j, start)
    if first.who < 0 and leaves >= FAR:
        first = fetch(pitch, race, stops)
        if first.who < 0:
            leaves = stops  # it stops where nobody may go
    return first.who, first.when, leaves


@njit(cache=True)
def touch_level(pitch, j):
    """How much more often player j's first touch goes wrong than a usual one."""
    return pitch.players[j].first_touch_miss / pitch.constants.usual_miss


@njit(cache=True)
def heavy_chance(pitch, j, t, arriving):
    """Chance that player j's first touch at time t on a ball that comes at `arriving` m/s is heavy: he has the ball, but it is
    off his foot."""
    constants = pitch.constants
    x, y, _, _ = where(pitch.players, j, t)
    chance = constants.heavy_touch * touch_level(pitch, j) * arriving / constants.usual_arrival
    return min(1.0, chance * (1.0 + pressure(pitch, j, x, y, t)))


@njit(cache=True)
def miscontrol_chance(pitch, j, t):
    """Chance that player j's first touch at time t fails: his own base, more when pressed or stretched; sets his `stretch`."""
    players, ball, constants = pitch.players, pitch.ball, pitch.constants
    x, y, _, _ = where(players, j, t)
    bx, by, _ = ball_point(ball, t)
    players[j].stretch = min(1.0, math.sqrt(square(bx - x) + square(by - y)) / constants.receiver_reach)
    pressed = pressure(pitch, j, x, y, t)
    beyond = max(0.0, players[j].stretch - constants.stretch_from) / (1.0 - constants.stretch_from)
    stretched = beyond * (constants.stretch_free + (1.0 - constants.stretch_free) * pressed)
    hard = constants.miscontrol_pressed * pressed + constants.miscontrol_stretch * stretched
    return players[j].first_touch_miss + hard * touch_level(pitch, j) ** constants.miscontrol_level
