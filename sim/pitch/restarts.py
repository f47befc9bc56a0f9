"""Dead balls: how long, who takes them, from where."""

from __future__ import annotations

import math

from sim.game import model
from sim.pitch import arrays as col
from sim.pitch import entries, stopwatch
from sim.pitch.assignment import assign, nearest_area, place_when_dead
from sim.pitch.ball_state import DEAD
from sim.pitch.bout_parts import Called
from sim.pitch.goals import beside_mouth
from sim.pitch.ground import lay_out
from sim.pitch.log import EventKind
from sim.pitch.moves import where
from sim.pitch.numerics import SMALL
from sim.pitch.setup import has_room
from sim.pitch.state import NEVER, Bout
from sim.pitch.whistle import end_attack, finish, stop_clock
from sim.rules.choosing import loser_and_winner, side_named
from sim.rules.guards import RuleEvent

GONE = ("out", "goal", "miss")  # after these the ball has left the ground and another one is needed
DEAD_BY = {"loss": "loss", "out": "out", "goal": "goal", "save": "shot", "miss": "shot", "foul": "foul"}
NEWCOMERS = (-1,)  # in place of who takes a restart: whoever came into his role as it was called
ASK_AGAIN_S = 1.0  # judgement: so often a server looks whether there is somebody to play to


def serve(bout: Bout, name: str, event: RuleEvent) -> None:
    """The ball in play is dead until the restart of that name has been served; a dead one waits for its own."""
    if not bout.in_play():
        return
    restart = bout.game.restart(name)
    to = side_of_restart(bout, restart, event)
    cause = event.cause if event.cause in GONE else event.kind
    kill(bout, DEAD_BY.get(cause, "rule"))
    if last_ball(bout):
        return
    bout.restart.role, bout.restart.by = restart.role, takers_by(bout, restart.by, event)
    bout.restart.called_at = bout.now
    delay = restart.seconds
    if cause in GONE:
        bout.restart.balls -= 1
        if bout.restart.balls < 0:
            delay += bout.game.supply.retrieve_seconds
    bout.standing.area = area_of_restart(bout, restart, to)
    spot = spot_of_restart(bout, restart, to)
    if event.kind not in ("out", "foul") or to != bout.standing.side:
        bout.standing.new_possession(to)  # a ball that comes back to the same side goes on with its count
    await_service(bout, to, restart.source, bout.now + delay, spot)


def last_ball(bout: Bout) -> bool:
    """Whether no other ball comes after this dead one: it was the last of the bout, or time was up and this attack was seen out.
    Then the bout is over as soon as the rules have answered."""
    balls = bout.game.bouts.balls
    last = balls is not None and bout.restart.played >= balls
    if last:
        bout.clock.at(bout.now, "whistle", lambda t: finish(bout, t))
    return last or end_attack(bout)


def takers_by(bout: Bout, by: str | None, event: RuleEvent) -> tuple[int, ...] | None:
    """Who alone is to get or take a restart after that event (None: anybody; of nobody nobody, so whoever can); newcomers are
    those of this very moment."""
    if by is None or by == "newcomer":
        return None if by is None else NEWCOMERS
    loser, winner = loser_and_winner(event)
    meant = winner if by == "winner" else loser
    return (meant,) if meant >= 0 else ()


def spot_of_restart(bout: Bout, restart: model.Restart, to: str) -> tuple[float, float] | None:
    """From where a restart for side `to` is played (None: wherever somebody gets it)."""
    if restart.source == "line":
        return bout.restart.spot
    if restart.source == "gate":
        return next((gate.x, gate.y) for gate in bout.game.gates if gate.name == restart.gate)
    return own_end(bout, to) if restart.source == "own end" else None


def own_end(bout: Bout, side: str) -> tuple[float, float]:
    """The middle of the end of the area in play that a side defends: that of the nearest goal the others attack."""
    area, other = bout.game.area(bout.standing.area), bout.standing.other_side(side)
    goals = [goal for goal in bout.game.goals if goal.attacked_by in (other, "any")]
    goal = min(goals, key=lambda one: math.hypot(one.x - area.x, one.y - area.y))
    west, south, east, north = area.bounds
    x = {"west": west, "east": east}.get(goal.end, area.x)
    return x, {"south": south, "north": north}.get(goal.end, area.y)


def side_of_restart(bout: Bout, restart: model.Restart, event: RuleEvent) -> str:
    """The side that a restart gives the ball to, after that event."""
    if restart.to not in ("other", "same"):
        return side_named(bout.standing, restart.to, event)
    last = event.side if event.kind in ("loss", "foul") else bout.possession.touching_side
    return last if restart.to == "same" else bout.standing.other_side(last)


def area_of_restart(bout: Bout, restart: model.Restart, to: str) -> str:
    """The area in which the ball that side `to` gets is played."""
    standing = bout.standing
    if restart.area == "home":
        return standing.home_of(to) or standing.area
    if restart.area == "across":
        return next(area.name for area in bout.game.areas if area.name != standing.area)
    if restart.area != "active":
        return restart.area
    if standing.phase.ball_in != "active" and not bout.possession.crossed:
        return standing.phase.ball_in  # it is played there until it has been played across
    if restart.source == "line":
        names = [area.name for area in bout.layout.grounds[standing.area]]
        return nearest_area(bout, names, *bout.restart.spot)[0]
    return standing.area


def kill(bout: Bout, cause: str) -> None:
    """The ball goes out of play."""
    leave_area(bout)
    void_pending(bout)
    bx, by = bout.restart.spot = bout.ball_place()
    bout.become(DEAD)
    stop_clock(bout)
    bout.restart.called, bout.restart.taker = None, -1
    lay_out(bout)
    if bout.standing.leaving:
        bout.expect(bout.now, "limit", None, -1)
    bout.note(EventKind.DEAD, cause=cause, x=bx, y=by)
    area = bout.game.area(bout.standing.area)
    bout.ball.x, bout.ball.y = area.x, area.y
    bout.trace_ball()


def play_in_again(bout: Bout) -> None:
    """The ball is dead without anybody's doing: the server plays it in to the side whose it is."""
    kill(bout, "rule")
    if not last_ball(bout):
        to = bout.standing.side
        bout.standing.new_possession(to)
        bout.restart.role = bout.restart.by = None
        await_service(bout, to, "server", bout.now + bout.game.restart("out").seconds, None)


def void_pending(bout: Bout) -> None:
    """A win that waits to be confirmed, if there is one, will never count."""
    if bout.possession.pending is not None:
        bout.note(EventKind.CONTESTED, bout.possession.pending.winner)
        bout.possession.pending = None
        bout.possession.loss_noted = None
        bout.spells.win.renew()


def leave_area(bout: Bout) -> None:
    """A ball lost on its way between areas counts as still in the one it left."""
    crossing = bout.possession.crossing
    if crossing is not None:
        bout.standing.area = crossing.start
        bout.possession.crossing = None


def await_service(bout: Bout, to: str, source: str, t: float, spot: tuple[float, float] | None) -> None:
    """Side `to` gets the dead ball at time t (later, if the taker cannot be there yet)."""
    bout.hold_for(to)
    bout.play.live_at = t
    assign(bout)
    bout.note(EventKind.SERVE, side=to, detail=source)
    bout.restart.called = Called(to, source, t, spot)
    book_service(bout, bout.restart.called)


def call_again(bout: Bout) -> None:
    """Players or ground have changed while a ball is waited for: who takes it, and where, is settled anew."""
    if bout.ball_state is DEAD and bout.restart.called is not None:
        bout.spells.ball.renew()
        book_service(bout, bout.restart.called)


def choose_taker_anew(bout: Bout) -> None:
    """Roles have changed while a ball is waited for: somebody else may have to go and take it."""
    if bout.restart.taker >= 0:
        call_again(bout)


def book_service(bout: Bout, called: Called) -> None:
    """Wait for the restart that has been called."""
    to, source, t, spot = called
    taker = taker_of(bout, to, source, spot)
    set_spot(bout, taker, to, spot, t)
    entries.replan_all(*bout.arrays, -1, bout.now)
    stopwatch.read(bout)
    if spot is not None and taker >= 0:
        t = max(t, walk_to_spot(bout, taker, t))
        bout.play.live_at = t
    bout.restart.taker = taker
    bout.expect(t, "serve", bout.spells.ball, to, taker)


def walk_to_spot(bout: Bout, taker: int, t: float) -> float:
    """The taker sets off to where the ball is to be put in play at time t; returns when his run ends."""
    x, y = bout.play.spot_x, bout.play.spot_y
    constants = bout.constants
    left = max(constants.taker_time_least, t - bout.now - constants.taker_early)
    cap = max(constants.taker_slowest, bout.distance_from(taker, x, y) / left)
    start = bout.now + constants.taker_reaction
    entries.go(*bout.arrays, taker, bout.now, start, x, y, cap, constants.taker_effort, False)
    going = bout.players[taker]
    return float(going.plan[going.plan_length - 1].t0)


def set_spot(bout: Bout, taker: int, to: str, spot: tuple[float, float] | None, t: float) -> None:
    """Where opponents make room until the ball is live at time t: where it went out, a little inside the line; the goal of the
    keeper who takes it; or where one will be whom the server may play to."""
    if spot is not None and taker >= 0:
        west, south, east, north = bout.game.area(bout.standing.area).bounds
        inset = bout.constants.spot_inset
        x, y = beside_mouth(bout.game.goals, *spot, (bout.play.frame_x, bout.play.frame_y))
        bout.play.spot_x = min(max(x, west + inset), east - inset)
        bout.play.spot_y = min(max(y, south + inset), north - inset)
    elif taker >= 0:
        bout.play.spot_x, bout.play.spot_y = bout.players[taker].goal_x, bout.players[taker].goal_y
    else:
        bout.play.spot_x, bout.play.spot_y = spot_of_server(bout, to, t)


def spot_of_server(bout: Bout, to: str, t: float) -> tuple[float, float]:
    """Where one will be at time t whom the server may play to, rather one with room about his place; far off, where all wait."""
    others = [
        place_when_dead(bout, j)
        for j in range(len(bout.ids))
        if not bout.is_ours(j) and bout.players[j].style == col.FREE
    ]
    able = {i: place_when_dead(bout, i) for i in ready(bout, to)}
    if not able:
        return NEVER, bout.play.spot_y
    free = [i for i in able if has_room(able[i], others, float(bout.constants.start_room))]
    back = [i for i in free or able if in_own_half(bout, *able[i])]
    i = min(back or free or able, key=bout.lot)
    x, y, _, _ = where(bout.records, i, bout.now)
    px, py = able[i]
    walk = bout.constants.dead_pace * max(0.0, t - bout.now - bout.players[i].reaction)
    share = min(1.0, walk / (math.hypot(px - x, py - y) + SMALL))
    return x + share * (px - x), y + share * (py - y)


def taker_of(bout: Bout, to: str, source: str, spot: tuple[float, float] | None) -> int:
    """Who goes to take the restart: the keeper, or the nearest to the spot; -1 when the server chooses at the last moment."""
    if source == "keeper":
        keepers = [i for i in players_of(bout, to) if bout.players[i].style == col.GOAL]
        if keepers:
            return min(keepers, key=lambda i: (bout.distance_to_ball(i), bout.lot(i)))
    if spot is not None and (able := ready(bout, to)):
        x, y = spot
        if bout.game.zones:
            able = [i for i in able if entries.may_be(*bout.arrays, i, x, y)] or able
        return min(able, key=lambda i: (bout.distance_from(i, x, y), bout.lot(i)))
    return -1


def players_of(bout: Bout, side: str) -> list[int]:
    """The players of a side, without floaters."""
    return [i for i in range(len(bout.ids)) if bout.standing.side_of(i) == side]


def ready(bout: Bout, to: str) -> list[int]:
    """Players of a side who may receive a restart, those in the area in play first; its keepers, then floaters, if there is
    nobody; never one who waits."""
    playing = [i for i in range(len(bout.ids)) if bout.players[i].style != col.WAIT]
    mine = [i for i in playing if bout.standing.side_of(i) == to]
    able = [i for i in mine if bout.players[i].may_receive and bout.players[i].style != col.GOAL]
    asked = [i for i in able if is_asked(bout, i)]
    here = [i for i in asked or able if (bout.jobs[i].place, bout.standing.area) in bout.layout.lies_in]
    floaters = [i for i in playing if bout.players[i].side == col.FLOATER]
    return here or asked or able or mine or floaters


def is_asked(bout: Bout, i: int) -> bool:
    """Whether player i is one of those who alone are to get or take the restart that is waited for."""
    restart = bout.restart
    if restart.by == NEWCOMERS:
        return bout.standing.since[i] == restart.called_at
    return i in restart.by if restart.by is not None else bout.jobs[i].role == restart.role


def in_own_half(bout: Bout, x: float, y: float) -> bool:
    """Whether (x, y) lies no nearer to the goal that is attacked than the middle of the area does; everywhere, where none is."""
    if bout.play.aim != col.SCORE:
        return True
    area, goal_x, goal_y = bout.game.area(bout.standing.area), bout.play.goal_x, bout.play.goal_y
    return math.hypot(x - goal_x, y - goal_y) >= math.hypot(area.x - goal_x, area.y - goal_y)


def served_to(bout: Bout, to: str) -> int:
    """Whom the server picks: by lot among those with room, where a goal is attacked those in their own half first; else the
    freest."""
    room, back = {}, []
    for i in ready(bout, to):
        x, y, _, _ = where(bout.records, i, bout.now)
        room[i] = entries.room_at(*bout.arrays, i, x, y, bout.now)
        if in_own_half(bout, x, y):
            back.append(i)
    free = [i for i in room if room[i] >= bout.constants.start_room]
    if free:
        return min([i for i in free if i in back] or free, key=bout.lot)
    return max(room, key=lambda i: (room[i], bout.lot(i)))
