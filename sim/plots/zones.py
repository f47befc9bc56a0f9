"""Zones on a diagram: dashed lines inside an area, with a name and what they say in few words."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from sim.game.model import Game
from sim.plots.ground import Ground, gid
from sim.plots.look import INK, LABEL, LEAST_LABEL, LETTER
from sim.plots.room import LINE, box_at
from sim.words.diagram_words import zone_label
from sim.words.ground_words import as_drawn

DASH = (0, (4, 2))
SHUT = "#e6ddd6"  # ground that is closed to somebody
INSIDE = 5.5  # points from a line to the middle of a label's nearest line
Point = tuple[float, float]


def draw_zones(axis: Axes, game: Game, ground: Ground) -> Iterator[tuple[str, list[Point]]]:
    """Their lines, closed ones shaded; yields the label of each and where its middle may be, in points."""
    tell = as_drawn(game)
    for zone in game.zones:
        west, south, _, _ = zone.bounds
        box = Rectangle(
            (west, south), zone.length, zone.width, facecolor=SHUT if zone.closed_to else "none", edgecolor=INK,
            linewidth=0.9, linestyle=DASH, zorder=3.5, clip_on=False,
        )  # fmt: skip
        box.set_gid(gid("zone", zone.name))
        axis.add_patch(box)
        west, south, east, north = ground.box(zone.bounds)
        label, x = in_lines(tell(zone_label(game, zone)), east - west), (west + east) / 2
        off = INSIDE + label.count("\n") * LINE * LABEL / 2
        _, _, half, _ = box_at(0, 0, label, LABEL)
        ends = (west + half, east - half) if 2 * half < east - west else ()
        within = south + off, north - off, (south + north) / 2
        yield label, [(px, py) for py in (*within, north + off, south - off) for px in (x, *ends)]


def in_lines(label: str, points: float) -> str:
    """A label in lines of about so many points: broken at its commas, and between words where a part is longer than that."""
    letters = max(LEAST_LABEL, points) / (LETTER * LABEL)
    lines: list[str] = []
    for part in label.split(", "):
        if lines and len(f"{lines[-1]} {part},") <= letters:
            lines[-1] += f" {part},"
        else:
            lines += textwrap.wrap(f"{part},", int(letters), break_long_words=False, break_on_hyphens=False)
    return "\n".join(lines).removesuffix(",")
