"""What the zones of a game say about who may be where, written where the runs are planned."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sim.game.bounds import FURTHEST_M
from sim.game.model import Game
from sim.game.zones import HOLDER, OTHER, Zone
from sim.geometry import ROUNDING_M, Bounds, covers
from sim.pitch.arrays import ANYBODY, NO_LIMIT, WITH_BALL, WITHOUT_BALL
from sim.rules.rule_state import RuleState


def write_limits(play: np.void, standing: RuleState, sides: dict[str, int]) -> None:
    """Write down what the zones say as the game stands: what is open, and who plays the ball."""
    game = standing.game
    roles = {role.name: k for k, role in enumerate(game.roles)}
    rows: list[tuple[Zone, str, str | None, int, int]] = [
        (zone, one.who, None, one.least, NO_LIMIT if one.most is None else one.most)
        for zone in game.zones
        for one in zone.limits
    ]
    rows += [(zone, who, side, 0, 0) for zone, who, side in closed_zones(standing, sides)]
    play["limits_in_use"] = len(rows)
    for row, (zone, who, side, least, most) in zip(play["limits"], rows, strict=False):
        row["west"], row["south"], row["east"], row["north"] = with_the_ground_behind(game, zone)
        row["holding"] = {HOLDER: WITH_BALL, OTHER: WITHOUT_BALL}.get(who, ANYBODY)
        row["side"] = sides.get(who if side is None else side, ANYBODY)
        row["role"] = ANYBODY if who in (*sides, HOLDER, OTHER) else roles[who]
        row["least"], row["most"] = least, most


def closed_zones(standing: RuleState, sides: dict[str, int]) -> Iterator[tuple[Zone, str, str | None]]:
    """(zone, to whom it is closed now, of which side alone: None where that goes without saying)."""
    for zone in standing.game.zones:
        for who in zone.closed_to:
            theirs = sides_meant(standing, sides, who)
            shut = [side for side in theirs if not standing.is_open(zone.name, side)]
            if shut:
                yield zone, who, None if shut == theirs else shut[0]


def sides_meant(standing: RuleState, sides: dict[str, int], who: str) -> list[str]:
    """The sides whose players are meant by a word of those whom a zone is closed to: a zone may be open to one of them alone."""
    if who in (HOLDER, OTHER):
        return [standing.playing if who == HOLDER else standing.other_side(standing.playing)]
    if who in sides:
        return [who]
    side = standing.roles[who].side
    return list(sides) if side == "team" else [standing.playing if side == HOLDER else side]


def with_the_ground_behind(game: Game, zone: Zone) -> Bounds:
    """A zone and, where its line is one of its area's, all that lies beyond: nobody is out of it behind it."""
    found = list(zone.bounds)
    for area in game.areas:
        if covers(area.bounds, zone.bounds):
            for k, (own, line) in enumerate(zip(zone.bounds, area.bounds, strict=True)):
                if abs(own - line) <= ROUNDING_M:
                    found[k] = own - FURTHEST_M if k < 2 else own + FURTHEST_M
    west, south, east, north = found
    return west, south, east, north


def open_part(bounds: Bounds, shut: list[Zone], x: float, y: float) -> Bounds:
    """What is left of a rectangle without the strips right across it that are shut, on the side of them where (x, y) is."""
    west, south, east, north = bounds
    for zone in shut:
        w, s, e, n = zone.bounds
        upright = s <= south + ROUNDING_M and north - ROUNDING_M <= n
        level = w <= west + ROUNDING_M and east - ROUNDING_M <= e
        if upright and not level and w < east and west < e:
            west, east = _cut(west, east, w, e, x)
        elif level and not upright and s < north and south < n:
            south, north = _cut(south, north, s, n, y)
    return west, south, east, north


def _cut(low: float, high: float, first: float, last: float, at: float) -> tuple[float, float]:
    """A stretch without the part from `first` to `last`: what is left below or above it, the one that `at` is in or nearer to."""
    if first - low <= ROUNDING_M:
        return last, high
    if high - last <= ROUNDING_M:
        return low, first
    return (low, first) if at < (first + last) / 2 else (last, high)
