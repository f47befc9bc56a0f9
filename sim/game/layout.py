"""Where areas and goals lie: from "beside the west square, 8 m to the east" to coordinates.

Coordinates are metres with the origin in the middle of the rectangle around all areas, so that a mirrored
file gives an exactly mirrored game.  Centres are kept to the nanometre: without that, sums of halves would leave
the two sides of a symmetric layout a last digit apart.
"""

from __future__ import annotations

from typing import get_args

from sim.errors import given
from sim.game.counters import Gate
from sim.game.lines import out_of, run_off_m
from sim.game.model import Area, End, Goal
from sim.game.spec import AreaSpec, GameSpec, GoalSpec
from sim.game.zone_spec import ZoneSpec, zone_area
from sim.game.zones import Limit, Zone
from sim.geometry import INWARD, Bounds, Point, is_upright
from sim.units import to_metres

# Full-size goal of the Laws of the Game (law 1: 7.32 m between the posts, 2.44 m under the bar).
DEFAULT_GOAL_WIDTH_M = 7.32
DEFAULT_GOAL_HEIGHT_M = 2.44

_DIGITS = 9
_CENTRED_M = 1e-6


def _metres(value: float | None, units: str, default_m: float) -> float:
    return default_m if value is None else to_metres(value, units)


def _outward(end: End) -> Point:
    x, y = INWARD[end]
    return -x, -y


def _centre(name: str, spec: GameSpec, done: dict[str, tuple[float, float]]) -> tuple[float, float]:
    """Centre of an area before recentring; `done` holds the ones already placed."""
    if name in done:
        return done[name]
    area: AreaSpec = spec.areas[name]
    if area.centre is not None:
        done[name] = (to_metres(area.centre[0], spec.units), to_metres(area.centre[1], spec.units))
    elif area.within is not None:
        done[name] = _centre(area.within, spec, done)
    elif area.beside is not None:
        other = spec.areas[area.beside]
        x, y = _centre(area.beside, spec, done)
        gap = _metres(area.gap, spec.units, 0.0)
        dx, dy = _outward(given(area.on))
        along = to_metres(area.length + other.length, spec.units) / 2 + gap
        across = to_metres(area.width + other.width, spec.units) / 2 + gap
        done[name] = (x + dx * along, y + dy * across)
    else:
        done[name] = (0.0, 0.0)
    return done[name]


def end_of(at: str) -> End:
    """Where a goal stands by the words of the file: the "east" of "east end of pitch"."""
    return next(end for end in get_args(End) if end == at.split()[0])


def area_of(at: str) -> str:
    """The area at whose end a goal stands by the words of the file: the "pitch" of "east end of pitch"."""
    return at.split()[3]


def _shift(lows: list[float], highs: list[float]) -> float:
    """How far the middle lies from the origin; 0 where it is already there but for rounding."""
    middle = (min(lows) + max(highs)) / 2
    return middle if abs(middle) > _CENTRED_M else 0.0


def _goal(name: str, goal: GoalSpec, areas: dict[str, Area], units: str, shift: tuple[float, float]) -> Goal:
    if goal.centre is not None:
        x, y = to_metres(goal.centre[0], units) - shift[0], to_metres(goal.centre[1], units) - shift[1]
        end = given(goal.end)
    else:
        end, area = end_of(given(goal.at)), areas[area_of(given(goal.at))]
        dx, dy = _outward(end)
        distance = _metres(goal.distance, units, 0.0)
        x, y = area.x + dx * (area.length / 2 + distance), area.y + dy * (area.width / 2 + distance)
    return Goal(
        name=name,
        x=round(x, _DIGITS) + 0.0,
        y=round(y, _DIGITS) + 0.0,
        width=_metres(goal.width, units, DEFAULT_GOAL_WIDTH_M),
        height=_metres(goal.height, units, DEFAULT_GOAL_HEIGHT_M),
        end=end,
        attacked_by=goal.attacked_by,
    )


def _placed(spec: GameSpec) -> tuple[dict[str, Point], dict[str, Point], Point]:
    """Centres and sizes of the areas before recentring, and how far the middle of all lies from the origin (m)."""
    units = spec.units
    done: dict[str, tuple[float, float]] = {}
    centres = {name: _centre(name, spec, done) for name in spec.areas}
    sizes = {name: (to_metres(a.length, units), to_metres(a.width, units)) for name, a in spec.areas.items()}
    west_to_east, south_to_north = (
        _shift(
            [centres[name][axis] - sizes[name][axis] / 2 for name in centres],
            [centres[name][axis] + sizes[name][axis] / 2 for name in centres],
        )
        for axis in (0, 1)
    )
    return centres, sizes, (west_to_east, south_to_north)


def gates_of(spec: GameSpec) -> tuple[Gate, ...]:
    """All gates in metres, with the origin of `lay_out`."""
    centres, _, shift = _placed(spec)
    found = []
    for name, gate in spec.gates.items():
        if gate.centre is not None:
            x, y = (to_metres(one, spec.units) for one in gate.centre)
        else:
            x, y = centres[given(gate.within)]
        x, y = (round(one - off, _DIGITS) + 0.0 for one, off in zip((x, y), shift, strict=True))
        found.append(Gate(name=name, x=x, y=y, width=to_metres(gate.width, spec.units), way=gate.way))
    return tuple(found)


def lay_out(spec: GameSpec) -> tuple[tuple[Area, ...], tuple[Goal, ...]]:
    """All areas and goals in metres, centred on the origin."""
    units = spec.units
    centres, sizes, shift = _placed(spec)
    areas = {
        name: Area(
            name=name,
            length=sizes[name][0],
            width=sizes[name][1],
            x=round(centres[name][0] - shift[0], _DIGITS) + 0.0,
            y=round(centres[name][1] - shift[1], _DIGITS) + 0.0,
            run_off=run_off_m(spec, name),
            out=out_of(spec, name),
        )
        for name in spec.areas
    }
    goals = tuple(_goal(name, goal, areas, units, shift) for name, goal in spec.goals.items())
    return tuple(areas.values()), goals


def _part(at: str, area: Bounds, depth: float | None, along: float | None) -> Bounds:
    """The rectangle of a part of an area by the words of the file; of an end, so deep and so long (None: all of its line)."""
    which, part = at.split()[:2]
    west, south, east, north = area
    upright = is_upright(which) if part in ("end", "half") else part == "third"
    low, high = (west, east) if upright else (south, north)
    size = high - low
    if part in ("end", "half"):
        deep = size / 2 if part == "half" else min(given(depth), size)
        first, last = (low, low + deep) if which in ("west", "south") else (high - deep, high)
    else:
        number = {"west": 0, "south": 0, "middle": 1, "east": 2, "north": 2}[which]
        first, last = low + number * size / 3, low + (number + 1) * size / 3
    if not upright:
        middle, half = (west + east) / 2, ((east - west) if along is None else along) / 2
        return middle - half, first, middle + half, last
    middle, half = (south + north) / 2, ((north - south) if along is None else along) / 2
    return first, middle - half, last, middle + half


def _limits(zone: ZoneSpec) -> tuple[Limit, ...]:
    who = dict.fromkeys([*(one for one, least in zone.least.items() if least), *zone.most])
    return tuple(Limit(who=one, least=zone.least.get(one, 0), most=zone.most.get(one)) for one in who)


def zones_of(spec: GameSpec) -> tuple[Zone, ...]:
    """All zones in metres, with the origin of `lay_out`."""
    centres, _, shift = _placed(spec)
    areas = {area.name: area.bounds for area in lay_out(spec)[0]}
    found = []
    for name, zone in spec.zones.items():
        width = None if zone.width is None else to_metres(zone.width, spec.units)
        if zone.at is not None:
            depth = None if zone.depth is None else to_metres(zone.depth, spec.units)
            west, south, east, north = _part(zone.at, areas[zone_area(zone.at)], depth, width)
            x, y, length, width = (west + east) / 2, (south + north) / 2, east - west, north - south
        else:
            x, y = centres[zone.within] if zone.within else (to_metres(one, spec.units) for one in given(zone.centre))
            x, y = x - shift[0], y - shift[1]
            length = to_metres(given(zone.length), spec.units)
        x, y, length, width = (round(one, _DIGITS) + 0.0 for one in (x, y, length, given(width)))
        found.append(
            Zone(
                name=name,
                length=length,
                width=width,
                x=x,
                y=y,
                closed_to=tuple(dict.fromkeys(zone.closed_to)),
                limits=_limits(zone),
                offside=zone.offside,
            )  # fmt: skip
        )
    return tuple(found)
