"""Where the grids of each block stand on the ground that exists, and which cones are there already from the block before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sim.errors import InputError
from sim.game.equipment import cone_places, distinct
from sim.game.model import Game
from sim.geometry import ROUNDING_M, Bounds, Point
from sim.planning.session_file import Ground, Part


@dataclass(frozen=True)
class Grid:
    """A game on the ground; its middle lies at (`x`, `y`), m from the south-west corner."""

    game: Game
    x: float
    y: float

    @property
    def bounds(self) -> Bounds:
        """(west, south, east, north) of all its areas."""
        west, south, east, north = box_of(self.game)
        return self.x + west, self.y + south, self.x + east, self.y + north

    @property
    def cones(self) -> list[Point]:
        """Where its cones stand."""
        return [(self.x + x, self.y + y) for x, y in cone_places(self.game)]


Grids = tuple[Grid, ...]


def box_of(game: Game) -> Bounds:
    """(west, south, east, north) of all areas of a game about its own middle, metres."""
    bounds = [area.bounds for area in game.areas]
    return (
        min(one[0] for one in bounds),
        min(one[1] for one in bounds),
        max(one[2] for one in bounds),
        max(one[3] for one in bounds),
    )


def laid_out(part: Part, games: Sequence[Game], ground: Ground) -> Grids:
    """The grids of one block: at the places of the file, or in rows from the south-west corner on, so that grids of a size share
    their cones from block to block.  Refused (`InputError`) where they lie off the ground or too near to each other."""
    where = f"blocks.{part.name}.at"
    if part.at and len(part.at) != len(games):
        raise InputError(f"{where} must have {len(games)} places, one a grid (got {len(part.at)})")
    if not part.at:
        return _in_rows(part, games, ground)
    grids = tuple(Grid(game, x, y) for game, (x, y) in zip(games, part.at, strict=True))
    problems = []
    for i, grid in enumerate(grids, 1):
        west, south, east, north = grid.bounds
        if min(west, south) < -ROUNDING_M or east > ground.length + ROUNDING_M or north > ground.width + ROUNDING_M:
            problems.append(
                f"{where} must keep grid {i} on the ground of {ground.length:g} x {ground.width:g} m"
                f" (got {west:g} to {east:g} m by {south:g} to {north:g} m)"
            )
        for j, other in enumerate(grids[: i - 1], 1):
            if (apart := gap(other.bounds, grid.bounds)) < ground.run_off - ROUNDING_M:
                found = f"{apart:.1f} m" if apart > 0 else "they overlap"
                problems.append(f"{where} must keep grids {j} and {i} {ground.run_off:g} m apart (got {found})")
    if problems:
        raise InputError(problems)
    return grids


def gap(one: Bounds, other: Bounds) -> float:
    """How far two rectangles lie apart along the axis on which they do, m; 0 or less where they touch or overlap."""
    return max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])


def _in_rows(part: Part, games: Sequence[Game], ground: Ground) -> Grids:
    grids = []
    x = y = tallest = 0.0
    for game in games:
        west, south, east, north = box_of(game)
        length, width = east - west, north - south
        if x > 0 and x + length > ground.length + ROUNDING_M:
            x, y, tallest = 0.0, y + tallest + ground.run_off, 0.0
        if x + length > ground.length + ROUNDING_M or y + width > ground.width + ROUNDING_M:
            raise InputError(
                f"blocks.{part.name} must fit the ground of {ground.length:g} x {ground.width:g} m with {ground.run_off:g} m"
                f" between grids (got {len(games)} of {length:g} x {width:g} m)"
            )
        grids.append(Grid(game, x - west, y - south))
        x, tallest = x + length + ground.run_off, max(tallest, width)
    return tuple(grids)


def new_cones(blocks: Sequence[Grids]) -> tuple[int, ...]:
    """How many cones each block needs that do not stand there already."""
    standing: list[Point] = []
    counts = []
    for grids in blocks:
        every = distinct([*standing, *(point for grid in grids for point in grid.cones)])
        counts.append(len(every) - len(standing))
        standing = every
    return tuple(counts)
