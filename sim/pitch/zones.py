"""Who may be where inside one ground: zones that are closed, full, or must not be left (compiled).

`limits` of the state of play say it, a rectangle and whom it is about each: how many of them are in it at least and at most (none:
it is closed to them).  Whoever runs for a place that is not open to him stops on the line.  Only free players are meant.
"""

from __future__ import annotations

from sim.compiled import njit
from sim.geometry import ROUNDING_M
from sim.motion import state_at
from sim.pitch.arrays import ANYBODY, FLOATER, FREE, NO_LIMIT, WAIT, WITH_BALL, WITHOUT_BALL
from sim.pitch.border import on_ground
from sim.pitch.goals import ahead_of_goal
from sim.pitch.numerics import FAR

LOOKED_AT_S = 0.1  # a run is looked at so often for where it takes him


@njit(cache=True)
def is_in(zone, x, y, slack):
    """Whether (x, y) lies in a zone, more than `slack` metres inside its lines."""
    slack += ROUNDING_M
    return zone.west + slack < x < zone.east - slack and zone.south + slack < y < zone.north - slack


@njit(cache=True)
def is_about(pitch, limit, j):
    """Whether a limit is about player j just now."""
    player = pitch.players[j]
    if player.style != FREE or limit.role not in (ANYBODY, player.role) or limit.side not in (ANYBODY, player.side):
        return False
    holds = WITH_BALL if player.side in (FLOATER, pitch.play.side) else WITHOUT_BALL
    return limit.holding in (ANYBODY, holds)


@njit(cache=True)
def place_at(player, t):
    """(x, y) of a player on his run at time t."""
    x, y, _, _ = state_at(player.plan, player.plan_length, t)
    return x, y


@njit(cache=True)
def is_bound_for(player, zone):
    """Whether a player's run ends in a zone."""
    x, y = place_at(player, FAR)
    return is_in(zone, x, y, 0.0)


@njit(cache=True)
def is_shut(pitch, limit, j, x, y, t):
    """Whether a zone is closed or full for player j, at (x, y) at time t; of too many inside, the last in order have to leave.  Who
    is hardly over its line is not inside: nobody takes another's place by a foot."""
    if limit.most == NO_LIMIT:
        return False
    slack = pitch.constants.line_slack
    there, inside = 0, is_in(limit, x, y, slack)
    for k in range(len(pitch.players)):
        if k != j and limit.most > 0 and is_about(pitch, limit, k):
            kx, ky = place_at(pitch.players[k], t)
            if is_in(limit, kx, ky, slack):
                there += 1 if k < j or not inside else 0
            elif not inside and is_bound_for(pitch.players[k], limit):
                there += 1
    return there >= limit.most


@njit(cache=True)
def is_needed(pitch, limit, j, x, y, t):
    """Whether player j, at (x, y) at time t, is in a zone in which there would be too few without him."""
    if limit.least == 0 or not is_in(limit, x, y, 0.0):
        return False
    there = 0
    for k in range(len(pitch.players)):
        if k != j and is_about(pitch, limit, k) and is_bound_for(pitch.players[k], limit):
            kx, ky = place_at(pitch.players[k], t)
            there += 1 if is_in(limit, kx, ky, 0.0) else 0
    return there < limit.least


@njit(cache=True)
def is_limited(pitch, j):
    """Whether there is any ground in play that player j may have to stay out of."""
    return (pitch.play.limits_in_use > 0 or pitch.players[j].locked) and pitch.players[j].style == FREE


@njit(cache=True)
def may_be(pitch, j, x, y):
    """Whether player j, from where he is, may go to (x, y), or just over a line to it."""
    if not is_limited(pitch, j):
        return True
    player, play, slack = pitch.players[j], pitch.play, pitch.constants.line_slack
    if player.locked and not (
        player.west - slack <= x <= player.east + slack and player.south - slack <= y <= player.north + slack
    ):
        return False
    t = player.recorded_until
    hx, hy = place_at(player, t)
    for k in range(play.limits_in_use):
        limit = play.limits[k]
        if is_about(pitch, limit, j):
            if is_in(limit, x, y, slack) and is_shut(pitch, limit, j, hx, hy, t):
                return False
            if not is_in(limit, x, y, -slack) and is_needed(pitch, limit, j, hx, hy, t):
                return False
    return True


@njit(cache=True)
def strays(pitch, j, x, y, t):
    """Whether player j, at (x, y) at time t, is where he may not be."""
    play, slack = pitch.play, pitch.constants.line_slack
    for k in range(play.limits_in_use if pitch.players[j].style == FREE else 0):
        limit = play.limits[k]
        if is_in(limit, x, y, slack) and is_about(pitch, limit, j) and is_shut(pitch, limit, j, x, y, t):
            return True
    return False


@njit(cache=True)
def into(zone, x, y, inset):
    """The nearest point of a zone, that far inside its lines (half the zone at most)."""
    ix, iy = min(inset, 0.5 * (zone.east - zone.west)), min(inset, 0.5 * (zone.north - zone.south))
    return min(max(x, zone.west + ix), zone.east - ix), min(max(y, zone.south + iy), zone.north - iy)


@njit(cache=True)
def round_it(zone, x, y, px, py, inset):
    """Where a player at (x, y), outside a zone that is shut, gets to on his way to (px, py): the nearest place to it on his side of
    the zone."""
    best, qx, qy = FAR, x, y
    for side in range(4):
        nx, ny = px, py
        if side == 0:
            beside, nx = x <= zone.west + ROUNDING_M, min(px, zone.west - inset)
        elif side == 1:
            beside, nx = x >= zone.east - ROUNDING_M, max(px, zone.east + inset)
        elif side == 2:
            beside, ny = y <= zone.south + ROUNDING_M, min(py, zone.south - inset)
        else:
            beside, ny = y >= zone.north - ROUNDING_M, max(py, zone.north + inset)
        off = abs(nx - px) + abs(ny - py)
        if beside and off < best:
            best, qx, qy = off, nx, ny
    return qx, qy


@njit(cache=True)
def is_shut_place(pitch, j, x, y, px, py, t):
    """Whether (px, py) lies in a zone that is closed or full for player j, at (x, y) at time t."""
    play = pitch.play
    for k in range(play.limits_in_use):
        limit = play.limits[k]
        if is_in(limit, px, py, 0.0) and is_about(pitch, limit, j) and is_shut(pitch, limit, j, x, y, t):
            return True
    return False


@njit(cache=True)
def out_of(pitch, j, zone, x, y, t):
    """The nearest place outside a zone, on ground that is in play and open to him, for player j at (x, y) inside it at time t."""
    play, inset = pitch.play, pitch.constants.line_inset
    best, qx, qy = FAR, x, y
    for side in range(4):
        nx, ny = x, y
        if side == 0:
            nx = zone.west - inset
        elif side == 1:
            nx = zone.east + inset
        elif side == 2:
            ny = zone.south - inset
        else:
            ny = zone.north + inset
        off = abs(nx - x) + abs(ny - y)
        if off < best and on_ground(play, nx, ny, -play.run_off) and not is_shut_place(pitch, j, x, y, nx, ny, t):
            best, qx, qy = off, nx, ny
    return qx, qy


@njit(cache=True)
def open_place(pitch, j, x, y, px, py, t):
    """Where player j, at (x, y) at time t, goes who means to go to (px, py): as far as the lines let him.  Who is in a zone that is
    shut leaves it by the nearest way, and not across it."""
    player, play, inset = pitch.players[j], pitch.play, pitch.constants.line_inset
    if player.locked:
        px, py = into(player, px, py, inset)
    for k in range(play.limits_in_use):
        limit = play.limits[k]
        if not is_about(pitch, limit, j):
            continue
        if is_shut(pitch, limit, j, x, y, t):
            qx, qy = x, y
            if is_in(limit, x, y, 0.0):
                qx, qy = out_of(pitch, j, limit, x, y, t)
            px, py = round_it(limit, qx, qy, px, py, inset)
        elif is_needed(pitch, limit, j, x, y, t):
            px, py = into(limit, px, py, inset)
    return px, py


@njit(cache=True)
def ends_open(pitch, j):
    """Whether the run that player j has planned ends where he may be: who runs through a point runs on beyond it."""
    x, y = place_at(pitch.players[j], FAR)
    return may_be(pitch, j, x, y)


@njit(cache=True)
def runs_over(pitch, j, start):
    """Whether the run that player j has planned from `start` takes him further over a line than he may reach: out of the zone he
    keeps to, or into one that is closed or full for him as he sets off."""
    player, play, slack = pitch.players[j], pitch.play, pitch.constants.line_slack
    x, y = place_at(player, start)
    keeps_to = player.locked and is_in(player, x, y, -slack)
    t, end = start, player.plan[player.plan_length - 1].t0  # from when he stands
    while t < end:
        t = min(t + LOOKED_AT_S, end)
        qx, qy = place_at(player, t)
        if keeps_to and not is_in(player, qx, qy, -slack):
            return True
        for k in range(play.limits_in_use):
            limit = play.limits[k]
            if is_in(limit, qx, qy, slack) and not is_in(limit, x, y, slack) and is_about(pitch, limit, j):
                if is_shut(pitch, limit, j, x, y, start):
                    return True
    return False


@njit(cache=True)
def called_in(pitch, j, t):
    """Which limit has too few players in its zone, so that player j, the nearest of those it is about, goes there (-1: none)."""
    players, play = pitch.players, pitch.play
    for k in range(play.limits_in_use):
        limit = play.limits[k]
        if limit.least == 0 or not is_about(pitch, limit, j):
            continue
        there, nearer = 0, 0
        x, y = place_at(players[j], t)
        mine = gap_to(limit, x, y)
        for m in range(len(players)):
            if m != j and is_about(pitch, limit, m):
                mx, my = place_at(players[m], t)
                gap = gap_to(limit, mx, my)
                there += 1 if gap <= 0.0 else 0
                nearer += 1 if 0.0 < gap < mine or (gap == mine and m < j) else 0
        if mine > 0.0 and there + nearer < limit.least:
            return k
    return -1


@njit(cache=True)
def gap_to(zone, x, y):
    """Metres from (x, y) to a zone, the greater of those along and across; 0 or less inside."""
    return max(max(zone.west - x, x - zone.east), max(zone.south - y, y - zone.north))


@njit(cache=True)
def place_at_start(pitch, j):
    """Where player j stands as the bout begins: where he is, in a zone that has too few, or out of one that is closed or full."""
    x, y = place_at(pitch.players[j], 0.0)
    limit = called_in(pitch, j, 0.0)
    if limit >= 0:
        return into(pitch.play.limits[limit], x, y, pitch.constants.entry_inset)
    if is_limited(pitch, j):
        return open_place(pitch, j, x, y, x, y, 0.0)
    return x, y


@njit(cache=True)
def is_offside_place(pitch, i, x, y):
    """Whether player i, of the side with the ball, would be offside at (x, y) in the picture: where offside counts, nearer to the
    line of the goal than the ball and than all but one of the others."""
    players, play, ball = pitch.players, pitch.play, pitch.ball
    counts = False
    for k in range(play.offside_in_use):
        counts = counts or is_in(play.offside[k], x, y, 0.0)
    if not counts:
        return False
    mine, deeper = ahead_of_goal(play, x, y), 0
    for j in range(len(players)):
        theirs = players[j].side not in (FLOATER, play.side) and players[j].style != WAIT
        if theirs and ahead_of_goal(play, players[j].seen_x, players[j].seen_y) <= mine:
            deeper += 1
    holder = ball.holder if ball.holder >= 0 else ball.passer
    if holder < 0 or holder == i:
        return False
    return deeper < 2 and mine < ahead_of_goal(play, players[holder].seen_x, players[holder].seen_y)


@njit(cache=True)
def offside_now(pitch, t):
    """Who of the side with the ball is offside at time t: a bit a player."""
    players, found = pitch.players, 0
    for j in range(len(players)):
        players[j].seen_x, players[j].seen_y = place_at(players[j], t)
    for i in range(len(players)):
        ours = players[i].style == FREE and players[i].side in (FLOATER, pitch.play.side)
        if ours and is_offside_place(pitch, i, players[i].seen_x, players[i].seen_y):
            found |= 1 << i
    return found
