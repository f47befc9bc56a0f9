"""Where a label goes on a diagram: of some places beside what it names, the one where it covers least."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from sim.plots.look import LETTER

Box = tuple[float, float, float, float]
"""West, south, east, north."""
LINE = 1.18  # height of a line over the size of its letters
AIR = 1.5  # points about a label


def box_at(x: float, y: float, text: str, size: float, upright: bool = False) -> Box:
    """What the text takes up with its middle at (x, y), all in points; `upright`: turned by a quarter."""
    lines = text.split("\n")
    wide, high = max(map(len, lines)) * LETTER * size + 2 * AIR, len(lines) * LINE * size + 2 * AIR
    wide, high = (high, wide) if upright else (wide, high)
    return x - wide / 2, y - high / 2, x + wide / 2, y + high / 2


def overlap(one: Box, other: Box) -> float:
    """The area that two boxes share."""
    wide, high = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    return max(0.0, wide) * max(0.0, high)


@dataclass
class Room:
    """What is taken so far; whoever places a label adds it."""

    taken: list[Box] = field(default_factory=list)

    def place(
        self,
        text: str,
        size: float,
        places: Sequence[tuple[float, float]],
        more: Sequence[Box] = (),
        upright: bool = False,
    ) -> tuple[float, float]:
        """The first of the places where the text covers least, and not of `more` either; it is taken from then on."""

        def covered(at: tuple[float, float]) -> float:
            own = box_at(*at, text, size, upright)
            return round(sum(overlap(own, box) for box in (*self.taken, *more)), 3)

        best = min(places, key=covered)
        self.taken.append(box_at(*best, text, size, upright))
        return best
