"""Zones: lines inside one ground.  Strips, thirds and boxes, and who may be in them (resolved form).

A zone is no ground of its own: a ball over its line is in play as before.  What it limits are the free players, never who stands on
a line or keeps a goal.
"""

from __future__ import annotations

from sim.game.frozen import Frozen
from sim.geometry import Bounds, rectangle

HOLDER, OTHER = "holder", "other"  # the side with the ball (floaters too), and the one without


class Limit(Frozen):
    """How many of `who` (a side, a role, "holder" or "other") are in a zone: at least `least`, at most `most` (None: no limit)."""

    who: str
    least: int = 0
    most: int | None = None


class Zone(Frozen):
    """A part of an area: `length` along x, `width` along y, centre (`x`, `y`), metres.

    closed_to   sides, roles, "holder" or "other" that stay out of it, until a rule or a phase opens it
    limits      least and most numbers of players
    offside     whether offside counts in it
    """

    name: str
    length: float
    width: float
    x: float
    y: float
    closed_to: tuple[str, ...] = ()
    limits: tuple[Limit, ...] = ()
    offside: bool = False

    @property
    def bounds(self) -> Bounds:
        """(west, south, east, north) in metres."""
        return rectangle(self.x, self.y, self.length, self.width)

    @property
    def limited(self) -> bool:
        """Whether it says anything about who may be in it."""
        return bool(self.closed_to or self.limits)
