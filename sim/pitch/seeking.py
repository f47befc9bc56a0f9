"""Which passes the side with the ball is after because its rules reward them, written where the carrier's eyes are."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sim.game.counters import ANY_GATE, Conditions, Gate
from sim.game.model import Game, Rule
from sim.game.sought import asked, lies_inside, places_asked
from sim.game.verbs import ChangePhase, Open, Score
from sim.geometry import Bounds
from sim.pitch import arrays as col
from sim.pitch.state import NEVER, Bout

ANYTHING = Conditions()
BEYOND_GATE_M = 3.0  # judgement: so far behind a gate somebody offers himself for the pass through it
NEXT_TO_GATE_M, BESIDE_GATE_M = 0.5, 1.0  # judgement: no nearer to its line, and so far beside its cones at most
TOWARDS_BALL = 0.4  # judgement: a zone is gone for so far from the middle of its line towards the ball


def rewards(rule: Rule, side: str) -> bool:
    """Whether a side is glad of what follows when a rule answers to what it has done: points of its own, something opened, or
    another phase, and no points for the others."""
    if rule.by not in (None, side):
        return False
    points = [action.to in ("holder", side) for action in rule.do if isinstance(action, Score)]
    opens = [action for action in rule.do if isinstance(action, Open) and action.to in (None, "holder", side)]
    return all(points) and (bool(points or opens) or any(isinstance(action, ChangePhase) for action in rule.do))


def sought(game: Game, bout: Bout) -> Iterator[Conditions]:
    """What is asked of the passes that the side with the ball is rewarded for, as the phase has it; one that plays for passes is
    after those alone that are counted."""
    phase, side = bout.standing.phase, bout.standing.side
    counted_alone = phase.aim_of(side) == "passes"
    for rule in phase.rules:
        other = rule.on == "carry" or (counted_alone and rule.on != "counter")
        wanted = None if other else asked(game, rule)
        if wanted is not None and rewards(rule, side):
            wanted = Conditions(**{name: getattr(wanted, name) for name in Conditions.model_fields})
            if wanted != ANYTHING:
                yield wanted


def is_shut_to(bout: Bout, name: str, side: str) -> bool:
    """Whether a zone is closed to everybody in play of the side that plays the ball."""
    standing = bout.standing
    mine = [i for i in range(len(bout.ids)) if standing.side_of(i) == side and standing.in_play(i)]
    return all(name in standing.shut_to(i) for i in mine)


def before_ball(zone: Bounds, bx: float, by: float, depth: float) -> tuple[float, float]:
    """Where in a zone the ball at (bx, by) is taken: `depth` inside the line before it, and along that line between its middle and
    the ball."""
    west, south, east, north = zone
    ix, iy = min(depth, (east - west) / 2), min(depth, (north - south) / 2)
    x, y = min(max(bx, west + ix), east - ix), min(max(by, south + iy), north - iy)
    if abs(x - bx) > abs(y - by):
        return x, (south + north) / 2 + TOWARDS_BALL * (y - (south + north) / 2)
    return (west + east) / 2 + TOWARDS_BALL * (x - (west + east) / 2), y


def zone_sought(bout: Bout) -> tuple[float, float] | None:
    """Where the side that plays the ball takes it because a rule rewards it for having it in a zone: the nearest place in the
    nearest of those that the ball is not in; None where there is none."""
    bx, by = bout.ball_place()
    side = bout.playing()
    best, found = NEVER, None
    for rule, name in places_asked(bout.game, bout.standing.phase):
        west, south, east, north = bout.game.place(name).bounds
        x, y = min(max(bx, west), east), min(max(by, south), north)
        far = math.hypot(x - bx, y - by)
        if 0.0 < far < best and rewards(rule, side) and not is_shut_to(bout, name, side):
            best, found = far, before_ball((west, south, east, north), bx, by, float(bout.constants.zone_depth))
    return found


def gates_sought(bout: Bout, side: str) -> list[Gate]:
    """The gates that a side is rewarded for playing through, without the last one where that is barred."""
    found: dict[str, Gate] = {}
    last = bout.standing.last_gate.get(side, "")
    for rule in bout.standing.phase.rules:
        wanted = None if rule.on == "carry" else asked(bout.game, rule)
        if wanted is not None and wanted.through is not None and rewards(rule, side):
            barred = last if wanted.other_gate else ""
            found |= {g.name: g for g in bout.game.gates if wanted.through in (ANY_GATE, g.name) and g.name != barred}
    return list(found.values())


def beyond(gate: Gate, bx: float, by: float, metres: float, frame: tuple[float, float]) -> tuple[float, float]:
    """The place so far behind the middle of a gate, as seen from the ball at (bx, by); `frame` (the signs of the axes) settles it
    for a ball on its line."""
    if gate.way == "west-east":
        return gate.x - math.copysign(metres, (bx - gate.x) or frame[0]), gate.y
    return gate.x, gate.y - math.copysign(metres, (by - gate.y) or frame[1])


def behind_gates(bout: Bout, side: str) -> Iterator[tuple[Conditions, Bounds]]:
    """Of a side that plays through gates: a pass through each, and where behind it somebody has to be for it."""
    if bout.standing.phase.aim_of(side) == "gates":
        ball = bout.ball_place()
        for gate in gates_sought(bout, side):
            x, y = beyond(gate, *ball, BEYOND_GATE_M, (bout.play.frame_x, bout.play.frame_y))
            deep, wide = BEYOND_GATE_M - NEXT_TO_GATE_M, gate.width / 2 + BESIDE_GATE_M
            along, across = (deep, wide) if gate.way == "west-east" else (wide, deep)
            yield Conditions(through=gate.name), (x - along, y - across, x + along, y + across)


def seek(bout: Bout) -> None:
    """Write down what is sought now."""
    game, play = bout.game, bout.match["play"][0]
    roles = {role.name: k for k, role in enumerate(game.roles)}
    gates = {gate.name: k for k, gate in enumerate(game.gates)}
    wanted: list[tuple[Conditions, Bounds | None]] = [(one, None) for one in dict.fromkeys(sought(game, bout))]
    wanted += list(behind_gates(bout, bout.standing.side))
    play["prizes_in_use"] = min(len(wanted), col.PRIZES_MOST)
    play["last_gate"] = gates.get(bout.standing.last_gate.get(bout.standing.side, ""), col.NO_GATE)
    for row, (one, behind) in zip(play["prizes"], wanted, strict=False):
        area = None if one.to_area is None else game.place(one.to_area)
        bounds = behind or ((-NEVER, -NEVER, NEVER, NEVER) if area is None else area.bounds)
        row["inside"] = behind is not None or lies_inside(game, one.to_area)
        row["west"], row["south"], row["east"], row["north"] = bounds
        row["gate"] = {None: col.NO_GATE, ANY_GATE: col.ANY_GATE}.get(one.through, gates.get(one.through or "", 0))
        row["by_role"] = roles.get(one.by_role or "", col.NOBODY)
        row["to_role"] = roles.get(one.to_role or "", col.NOBODY)
        row["other_gate"], row["first_time"], row["not_back"] = one.other_gate, one.first_time, one.not_back


def set_up(bout: Bout) -> None:
    """Write where the gates stand, and where offside counts."""
    play = bout.match["play"][0]
    play["gates_in_use"] = len(bout.game.gates)
    for row, gate in zip(play["gates"], bout.game.gates, strict=False):
        (row["west"], row["south"]), (row["east"], row["north"]) = gate.cones
    for row, zone in zip(play["offside"], [zone for zone in bout.game.zones if zone.offside], strict=False):
        row["west"], row["south"], row["east"], row["north"] = zone.bounds
