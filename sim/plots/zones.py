"""Zones on a diagram: dashed lines inside an area, with a name and what they say in few words."""

from __future__ import annotations

from collections.abc import Iterator

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from sim.game.model import Game
from sim.plots.ground import Ground, gid
from sim.plots.look import INK
from sim.words.diagram_words import zone_label

DASH = (0, (4, 2))
SHUT = "#e6ddd6"  # ground that is closed to somebody
INSIDE = 5.5  # points from a line to the middle of a label
Point = tuple[float, float]


def draw_zones(axis: Axes, game: Game, ground: Ground) -> Iterator[tuple[str, list[Point]]]:
    """Their lines, closed ones shaded; yields the label of each and where its middle may be, in points."""
    for zone in game.zones:
        west, south, _, _ = zone.bounds
        box = Rectangle(
            (west, south), zone.length, zone.width, facecolor=SHUT if zone.closed_to else "none", edgecolor=INK,
            linewidth=0.9, linestyle=DASH, zorder=3.5, clip_on=False,
        )  # fmt: skip
        box.set_gid(gid("zone", zone.name))
        axis.add_patch(box)
        west, south, east, north = ground.box(zone.bounds)
        x = (west + east) / 2
        yield zone_label(game, zone), [(x, south + INSIDE), (x, north - INSIDE), (x, (south + north) / 2)]
