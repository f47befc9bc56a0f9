"""Can an area change its size while the game goes on?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sim.game.actions import ResizeAction
from sim.game.bounds import LONGEST_SIDE_M, MOST_CHANGE_M, SHORTEST_SIDE_M
from sim.game.layout import gates_of, lay_out, zones_of
from sim.game.messages import Problem, broken, unknown
from sim.game.model import Area
from sim.game.spec import GameSpec
from sim.geometry import ROUNDING_M, gaps
from sim.units import to_metres


@dataclass(frozen=True)
class Change:
    """One change of size in the rules: where it stands, how much at once, and how far (m)."""

    path: str
    area: str
    by: float
    to: float


def resized(length: float, width: float, by: float, to: float) -> tuple[float, float]:
    """Length and width (m) once they have changed by so much, but not further than that the shorter side has shrunk, or the longer
    one has grown, to `to`."""
    step = max(by, min(0.0, to - min(length, width))) if by < 0 else min(by, max(0.0, to - max(length, width)))
    return length + step, width + step


def changes_of(spec: GameSpec) -> Iterator[Change]:
    """Every change of size in the rules."""
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            for action in rule.do:
                if isinstance(action, ResizeAction):
                    path = f"phases.{phase_name}.rules.{rule_name}.do.resize"
                    by, to = (to_metres(one, spec.units) for one in (action.by, action.to))
                    yield Change(path, action.resize, by, to)


def resize_named(spec: GameSpec, path: str, action: ResizeAction) -> Iterator[Problem]:
    """An area that is not there, or a change of nothing."""
    if action.resize not in spec.areas:
        yield unknown(path, "an area", action.resize, spec.areas)
        return
    by, to = (to_metres(one, spec.units) for one in (action.by, action.to))
    if not 0.0 < abs(by) <= MOST_CHANGE_M:
        yield broken(f"{path}.by", f"be -{MOST_CHANGE_M:g} to {MOST_CHANGE_M:g} metres, not 0", action.by)
    if not SHORTEST_SIDE_M <= to <= LONGEST_SIDE_M:
        yield broken(f"{path}.to", f"be {SHORTEST_SIDE_M:g} to {LONGEST_SIDE_M:g} metres", action.to)
    area = spec.areas[action.resize]
    if by < 0.0 and action.to > min(area.length, area.width):
        yield broken(f"{path}.to", f"be at most the shorter side, {min(area.length, area.width):g}", action.to)
    if by > 0.0 and action.to < max(area.length, area.width):
        yield broken(f"{path}.to", f"be at least the longer side, {max(area.length, area.width):g}", action.to)


def resize_problems(spec: GameSpec) -> Iterator[Problem]:
    """An area that would meet another, a goal, a gate or the lines of a zone on its way."""
    areas, goals = lay_out(spec)
    for change in changes_of(spec):
        area = next(one for one in areas if one.name == change.area)
        last = at_last(area, change)
        least, most = sorted((area, last), key=lambda one: one.length)
        for other in areas:
            if other.name != area.name and max(gaps(most.bounds, other.bounds)) < ROUNDING_M:
                yield Problem(
                    change.path, f"must be of an area that touches no other at any size (got areas.{other.name})"
                )
        for goal in goals:
            if on_the_way(least, most, goal.mouth):
                yield Problem(change.path, f"must be of an area whose lines come by no goal (got goals.{goal.name})")
        for gate in gates_of(spec):
            (x, y), (u, v) = gate.cones
            if on_the_way(least, most, (min(x, u), min(y, v), max(x, u), max(y, v))):
                yield Problem(change.path, f"must be of an area whose lines come by no gate (got gates.{gate.name})")
        for zone in zones_of(spec):
            if on_the_way(least, most, zone.bounds):
                yield Problem(change.path, f"must be of an area whose lines come by no zone (got zones.{zone.name})")


def at_last(area: Area, change: Change) -> Area:
    """The area once it has changed as far as it does."""
    whole = (LONGEST_SIDE_M if change.by > 0 else -LONGEST_SIDE_M) * 2
    length, width = resized(area.length, area.width, whole, change.to)
    return area.model_copy(update={"length": length, "width": width})


def on_the_way(least: Area, most: Area, line: tuple[float, float, float, float]) -> bool:
    """Whether a line, or a rectangle, lies neither inside the smallest size nor clear of the largest."""
    west, south, east, north = least.bounds
    room = min(line[0] - west, line[1] - south, east - line[2], north - line[3])
    return room < ROUNDING_M and max(gaps(most.bounds, line)) < ROUNDING_M
