"""What a player without the ball does when he decides anew (compiled): the one place where that is decided.

Every choice is one function of the pitch and the situation that returns one `Run`: what he is about, and where he goes.
`choose_run` asks for the first that applies, `replan` sets off on it.  A new choice is such a function and one line in
`choose_run`.
"""

from __future__ import annotations

from sim.compiled import njit, square
from sim.pitch.arrays import DEAD, EDGE, FREE, GOAL, NOBODY, NONE, WAIT
from sim.pitch.covering import cover, man_to_cover
from sim.pitch.defending import can_defend
from sim.pitch.far_side import shift_with_ball, waits_far_off
from sim.pitch.goalkeeping import keep_goal
from sim.pitch.joining import join, joins
from sim.pitch.moves import clip, draw
from sim.pitch.numerics import FAR, distance
from sim.pitch.perception import take_in, with_ball
from sim.pitch.positions import beat, edge_point, into_zone, own_place, round_of, shape_point, stand_back
from sim.pitch.pressing import goes_to_ball, press, pressers
from sim.pitch.runs import Run, allowed_time, run_to, set_off, situation_of, stay, urgent_run
from sim.pitch.supporting import support_inside, support_on_line
from sim.pitch.zones import called_in, into, strays
from sim.streams import stream_index

REPLANNING = stream_index("replan")


@njit(cache=True)
def out_of_place(pitch, situation):
    """Whether a player is outside of his zone, or well inside it though he plays on its line."""
    player, constants, x, y = pitch.players[situation.player], pitch.constants, situation.x, situation.y
    depth = min(min(x - player.west, player.east - x), min(y - player.south, player.north - y))  # below 0: outside
    inside = player.style == EDGE and depth > constants.edge_inset + 2.0 * constants.deadband
    return depth < -constants.zone_slack or inside or strays(pitch, situation.player, x, y, situation.start)


@njit(cache=True)
def nearest_mate(pitch, situation):
    """Metres to the nearest other player of his side who plays inside."""
    players, i = pitch.players, situation.player
    nearest = FAR
    for j in range(len(players)):
        if j != i and players[j].style == FREE and with_ball(pitch, j) == with_ball(pitch, i):
            nearest = min(nearest, distance(situation.x, situation.y, players[j].seen_x, players[j].seen_y))
    return nearest


@njit(cache=True)
def is_beyond_beat(pitch, i, gap):
    """Whether player i plays on a line and is `gap` metres from his place on it, further than he ever moves for a better one."""
    player = pitch.players[i]
    return player.style == EDGE and gap > beat(pitch, i) * round_of(player)


@njit(cache=True)
def stand_for_restart(pitch, situation):
    """The ball is dead: walk to the own place before it is in play again, off the spot where an opponent takes it; hurry from
    outside of the zone, and to a place on a line that is far off."""
    player, constants, i = pitch.players[situation.player], pitch.constants, situation.player
    hurry = out_of_place(pitch, situation)
    px, py = own_place(pitch, i, situation.ball_x, situation.ball_y)
    if player.style == FREE and not with_ball(pitch, i):
        px, py, near = stand_back(pitch, i, situation.x, situation.y, px, py)
        hurry = hurry or near
    gap = distance(situation.x, situation.y, px, py)
    if gap <= constants.deadband:
        return stay(pitch, situation)
    cap = constants.dead_pace * player.drive
    if hurry or is_beyond_beat(pitch, i, gap):
        cap = constants.run_cap * player.top_speed
    elif nearest_mate(pitch, situation) < constants.dead_apart:
        cap = max(cap, constants.dead_apart_pace)
    left = max(constants.dead_time_least, pitch.play.live_at - situation.start - constants.dead_time_spare)
    return run_to(pitch, situation, (px, py), clip(gap / left, constants.walk, cap), constants.dead_effort)


@njit(cache=True)
def is_first_chaser(pitch, i, bx, by):
    """Whether no other defender who moves freely is nearer than defender i to the ball at (bx, by)."""
    players = pitch.players
    mine = square(players[i].seen_x - bx) + square(players[i].seen_y - by)
    for j in range(len(players)):
        if j != i and not with_ball(pitch, j) and players[j].style == FREE:
            if square(players[j].seen_x - bx) + square(players[j].seen_y - by) < mine:
                return False
    return True


@njit(cache=True)
def follow_across(pitch, situation):
    """(x, y, most): where a defender runs who follows the ball into another area, and how fast at most (m/s): the nearest to it to
    the ball, hard; the others between it and their places there, and no faster than they can keep up."""
    player, constants, i = pitch.players[situation.player], pitch.constants, situation.player
    bx, by = situation.ball_x, situation.ball_y
    px, py = into_zone(pitch.players, i, bx, by, constants.entry_inset)
    if is_first_chaser(pitch, i, bx, by):
        return px, py, constants.crossing_cap * player.top_speed
    sx, sy = shape_point(pitch, i, bx, by)
    share = constants.crossing_apart
    return px + share * (sx - px), py + share * (sy - py), player.critical_speed


@njit(cache=True)
def return_to_zone(pitch, situation):
    """Travel back to the own place, or as near to the ball as the zone reaches, by the law of urgency; walk if he waits."""
    player, constants, i = pitch.players[situation.player], pitch.constants, situation.player
    bx, by = situation.ball_x, situation.ball_y
    most = constants.entry_cap * player.top_speed
    if player.style == EDGE:
        px, py = edge_point(pitch, i, player.slot)
    elif with_ball(pitch, i) or player.style == WAIT:
        px, py = shape_point(pitch, i, bx, by)
    elif player.style == FREE:
        px, py, most = follow_across(pitch, situation)
    else:
        px, py = into_zone(pitch.players, i, bx, by, constants.entry_inset)
    left = allowed_time(constants, constants.urgency_transition, distance(px, py, bx, by))
    gap = distance(situation.x, situation.y, px, py)
    cap = clip(gap / left, constants.walk, most)
    return Run(NONE, player.marks, True, px, py, constants.walk if player.style == WAIT else cap, 1.0, False)


@njit(cache=True)
def go_in(pitch, situation, limit):
    """There are too few in a zone: the nearest goes into it."""
    constants = pitch.constants
    place = into(pitch.play.limits[limit], situation.x, situation.y, constants.entry_inset)
    cap = constants.run_cap * pitch.players[situation.player].top_speed
    return urgent_run(pitch, situation, NONE, NOBODY, place, constants.urgency_transition, cap)


@njit(cache=True)
def wait(pitch, situation):
    """Walk to the own place and wait there for his turn."""
    constants = pitch.constants
    px, py = shape_point(pitch, situation.player, situation.ball_x, situation.ball_y)
    if distance(situation.x, situation.y, px, py) <= 2.0 * constants.deadband:
        return stay(pitch, situation)
    return run_to(pitch, situation, (px, py), constants.walk, constants.wait_effort)


@njit(cache=True)
def hold_shape(pitch, situation):
    """Keep to the own place, in the shape or on the line: the ball is nothing he could do anything about."""
    player, constants = pitch.players[situation.player], pitch.constants
    place = own_place(pitch, situation.player, situation.ball_x, situation.ball_y)
    cap = constants.run_cap * player.top_speed
    return urgent_run(pitch, situation, player.duty, player.marks, place, constants.urgency_attack, cap)


@njit(cache=True)
def choose_defence(pitch, situation):
    """What he does whose side has not got the ball: press, cover (a man or the middle), or hold the shape."""
    if not can_defend(pitch, situation.player, situation.ball_x, situation.ball_y):
        return hold_shape(pitch, situation)
    first, second = pressers(pitch, situation.now, situation.ball_x, situation.ball_y)
    if goes_to_ball(pitch, situation, first, second):
        return press(pitch, situation)
    return cover(pitch, situation, man_to_cover(pitch, situation, first), first)


@njit(cache=True)
def offer_on_line(pitch, situation):
    """What a player on a line does whose side has the ball: offer himself, or move with a ball that is in another area."""
    if waits_far_off(pitch, situation):
        return shift_with_ball(pitch, situation)
    return support_on_line(pitch, situation)


@njit(cache=True)
def choose_run(pitch, situation):
    """What a player without the ball does: the first of these choices that applies."""
    style = pitch.players[situation.player].style
    if pitch.play.limits_in_use > 0 and style == FREE:
        limit = called_in(pitch, situation.player, situation.start)
        if limit >= 0:
            return go_in(pitch, situation, limit)
    if pitch.ball.state == DEAD:
        return stand_for_restart(pitch, situation)
    if style == GOAL:
        return keep_goal(pitch, situation)
    if out_of_place(pitch, situation):
        return return_to_zone(pitch, situation)
    if style == WAIT:
        return wait(pitch, situation)
    if not with_ball(pitch, situation.player):
        return choose_defence(pitch, situation)
    if style == EDGE:
        return offer_on_line(pitch, situation)
    if joins(pitch, situation):
        return join(pitch, situation)
    return support_inside(pitch, situation)


@njit(cache=True)
def replan(pitch, i, now, start):
    """Player i, without the ball and not racing for it, decides at `now` where to go from time `start` on."""
    take_in(pitch.players, now, False)
    situation = situation_of(pitch, i, now, start)
    set_off(pitch, situation, choose_run(pitch, situation))


@njit(cache=True)
def schedule_replan(pitch, i, t):
    """Player i, who has just decided, does so again by himself a while after t (s), unless something happens first."""
    player, constants = pitch.players[i], pitch.constants
    spread = constants.replan_least + constants.replan_range * draw(pitch.players, i, REPLANNING)
    player.replans_at = t + constants.replan * spread
