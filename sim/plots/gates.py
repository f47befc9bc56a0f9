"""Gates on a diagram."""

from __future__ import annotations

from collections.abc import Iterator

from matplotlib.axes import Axes

from sim.game.model import Game
from sim.plots.ground import Ground, gid
from sim.plots.look import INK
from sim.words.diagram_words import gate_label
from sim.words.ground_words import as_drawn

BELOW = 6.2  # points from a cone down, or up, to the middle of its label
FURTHER = (1.0, 2.5, 4.0)  # times that, where a player stands in the way
DOTS = (0, (1.5, 1.5))
Point = tuple[float, float]


def draw_gates(axis: Axes, game: Game, ground: Ground) -> Iterator[tuple[str, list[Point]]]:
    """A dotted line between its two cones; yields the label of each gate and where its middle may be, in points."""
    tell = as_drawn(game)
    for gate in game.gates:
        xs, ys = zip(*gate.cones, strict=True)
        (line,) = axis.plot(xs, ys, color=INK, linewidth=0.8, linestyle=DOTS, zorder=5, clip_on=False)
        line.set_gid(gid("gate", gate.name))
        (x, y), (px, py) = (ground.box((*cone, *cone))[:2] for cone in gate.cones)
        ends = ((x, y, -BELOW), (px, py, BELOW))
        yield tell(gate_label(gate)), [(at, up + far * off) for far in FURTHER for at, up, off in ends]
