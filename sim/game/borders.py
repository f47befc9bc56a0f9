"""Which areas lie beside, inside or apart from each other, and where a ball may be between two of them.

Areas that share a stretch of line form one ground, and so do those that touch these: with `between_areas = "first"` a ball over
the line between them is in play.  Areas marked out inside another one have their own border.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from sim.game.messages import Problem, broken
from sim.game.model import Area, Game
from sim.game.verbs import Open
from sim.game.zones import Zone
from sim.geometry import ROUNDING_M, covers, gaps

BESIDE_GOAL_M = 3.0
"""No ball is brought in from the line nearer to a post than this (common practice, no source)."""


def lies_in(inner: Area, outer: Area) -> bool:
    """Whether an area is the other one or marked out inside it."""
    return covers(outer.bounds, inner.bounds)


def nested(one: Area, other: Area) -> bool:
    """Whether one of two areas is marked out inside the other."""
    return lies_in(one, other) or lies_in(other, one)


def touch(one: Area, other: Area) -> bool:
    """Whether two areas, neither inside the other, share a stretch of line."""
    across, along = gaps(one.bounds, other.bounds)
    return not nested(one, other) and abs(max(across, along)) <= ROUNDING_M and min(across, along) < -ROUNDING_M


def ground(areas: Sequence[Area], name: str) -> tuple[Area, ...]:
    """The area of that name and all that form one ground with it, in the order of the file; never one it is marked out in."""
    own = next(area for area in areas if area.name == name)
    found, waiting = {own.name}, [own]
    while waiting:
        here = waiting.pop()
        for other in areas:
            if other.name not in found and touch(here, other) and not lies_in(own, other):
                found.add(other.name)
                waiting.append(other)
    return tuple(area for area in areas if area.name in found)


def around(game: Game, zone: Zone) -> Area:
    """The smallest area that a zone lies in."""
    found = [area for area in game.areas if covers(area.bounds, zone.bounds)]
    return min(found, key=lambda one: (one.length * one.width, distance(one, zone.x, zone.y)))


def distance(area: Area | Zone, x: float, y: float) -> float:
    """Metres from a point to an area or a zone, 0 inside: the greater of those along and across."""
    west, south, east, north = area.bounds
    return max(west - x, x - east, south - y, y - north, 0.0)


def _goes_home(game: Game) -> bool:
    return any("home" in phase.all_aims for phase in game.phases)


def plays_across(game: Game) -> bool:
    """Whether a pass to another area is ever allowed."""
    opened = {what for phase in game.phases for what in phase.opened}
    opened |= {
        action.what for phase in game.phases for rule in phase.rules for action in rule.do if isinstance(action, Open)
    }
    return "transfer" in opened or _goes_home(game)


def _played_in(game: Game) -> set[str]:
    """The areas the ball can come to by the rules: where it starts, is served and kept, and where somebody can be played to."""
    names = {game.start_area} | {phase.ball_in for phase in game.phases} | {restart.area for restart in game.restarts}
    homes = {team.home for team in game.teams if team.home is not None}
    if "home" in names or _goes_home(game):
        names |= homes
    if plays_across(game):
        posts = [(role.style, role.place) for role in game.roles]
        posts += [(job.style, job.place) for phase in game.phases for job in phase.jobs]
        names |= {place for style, place in posts if style not in ("goal", "wait")}
        names |= homes if "home" in names else set()
    return names & {area.name for area in game.areas}


def touching(game: Game) -> tuple[tuple[Area, Area], ...]:
    """Pairs of areas with a line between them that a ball in play can roll over."""
    grounds = {area.name for name in _played_in(game) for area in ground(game.areas, name)}
    return tuple(
        (one, other)
        for one, other in combinations(game.areas, 2)
        if {one.name, other.name} <= grounds and touch(one, other)
    )


def apart(game: Game) -> tuple[tuple[Area, Area], ...]:
    """Pairs of areas between which the ball can be played over ground that is in neither."""
    played = _played_in(game) if plays_across(game) else set()
    return tuple(
        (one, other)
        for one, other in combinations(game.areas, 2)
        if {one.name, other.name} <= played and not nested(one, other) and other not in ground(game.areas, one.name)
    )


def between_problems(game: Game) -> list[Problem]:
    """`between_areas = "out"` has to have something to say."""
    if game.between_areas == "out" and not touching(game) and not apart(game):
        return [broken("between_areas", "be left out, as no ball can be between two areas here", game.between_areas)]
    return []
