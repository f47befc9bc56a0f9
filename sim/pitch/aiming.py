"""What the holder aims at: to keep the ball, to bring it home, or a goal."""

from __future__ import annotations

import math

from sim.game.model import Goal
from sim.pitch import arrays as col
from sim.pitch.goals import before_mouth, facing, in_front, nearest
from sim.pitch.moves import draw
from sim.pitch.seeking import BEYOND_GATE_M, beyond, gates_sought, zone_sought
from sim.pitch.state import Bout
from sim.rules.rule_state import RuleState
from sim.streams import stream_index

AIM = stream_index("aim")
ZONE_MOUTH_M = 4.0  # judgement: a place in a zone is shut off as a gap so wide would be


def home_to_bring(standing: RuleState) -> str | None:
    """The home area that the side in possession has to bring the ball to; None where it has none or is there."""
    if standing.phase.aim_of(standing.side) != "home":
        return None
    home = standing.home_of(standing.side)
    return None if home == standing.area else home


def aim(bout: Bout) -> None:
    """What the holder is after, as the rules and his place have it now."""
    standing, playing = bout.standing, bout.playing()
    bout.play.aim, bout.play.offside_in_use = col.KEEP, 0
    bout.play.may_shoot = standing.is_open("shoot", playing)
    home = home_to_bring(standing)
    if home is not None:
        there = bout.game.area(home)
        bout.play.aim, bout.play.goal_x, bout.play.goal_y = col.HOME, there.x, there.y
    elif (wanted := standing.phase.aim_of(playing)) == "goal":
        theirs = [goal for goal in bout.game.goals if goal.attacked_by in (playing, "any")]
        if theirs:
            aim_at(bout, theirs)
    elif wanted == "gates":
        aim_at_gate(bout)
    elif wanted != "passes" and bout.layout.seeks and (place := zone_sought(bout)) is not None:
        aim_at_zone(bout, *place)


def aim_at_gate(bout: Bout) -> None:
    """The holder plays through the nearest gate that he is rewarded for; the others shut the way to it."""
    bx, by = bout.ball_place()
    gates = gates_sought(bout, bout.playing())
    if not gates:
        return
    gate = min(gates, key=lambda one: math.hypot(one.x - bx, one.y - by))
    x, y = beyond(gate, bx, by, BEYOND_GATE_M, (bout.play.frame_x, bout.play.frame_y))
    aim_at_zone(bout, x, y)
    bout.play.goal_width = gate.width
    bout.play.goal_sideways = gate.way == "south-north"
    bout.play.goal_facing = math.copysign(1.0, (by - y) if gate.way == "south-north" else (bx - x))


def aim_at_zone(bout: Bout, x: float, y: float) -> None:
    """The holder takes the ball to (x, y) in a zone that scores; the others defend that place as they would a goal."""
    bx, by = bout.ball_place()
    play, sideways = bout.play, abs(y - by) > abs(x - bx)
    play.aim, play.goal_x, play.goal_y, play.goal_width = col.SCORE, x, y, ZONE_MOUTH_M
    play.goal_sideways, play.goal_facing = sideways, math.copysign(1.0, (by - y) if sideways else (bx - x))
    play.may_shoot = False


def aim_at(bout: Bout, theirs: list[Goal]) -> None:
    """The holder goes for the nearest goal he is in front of; behind all of them, for the way round the nearest.  Of several
    just as near he keeps to the one he had, or takes one by lot."""
    bx, by = bout.ball_place()
    ahead = [goal for goal in theirs if in_front(goal, bx, by)]
    tied = nearest(ahead or theirs, bx, by, (bout.play.frame_x, bout.play.frame_y))
    goal = bout.carrier.target
    if goal is None or goal not in tied:
        chance = draw(bout.records, max(bout.possession.toucher, 0), AIM) if len(tied) > 1 else 0.0
        goal = bout.carrier.target = tied[int(chance * len(tied))]
    play = bout.play
    play.aim = col.SCORE
    play.goal_x, play.goal_y = (goal.x, goal.y) if ahead else before_mouth(goal)
    play.goal_width, play.goal_height = goal.width, goal.height
    play.goal_sideways, play.goal_facing = goal.end in ("south", "north"), facing(goal)
    play.offside_in_use = sum(zone.offside for zone in bout.game.zones)  # with a goal to go for
