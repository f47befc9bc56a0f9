"""Players on a diagram: a badge each, told apart by shape as well as shade, none on top of another.

A badge stands where its player stands, or, where there is no room, as near as there is, with a line to the spot.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from sim.plots.look import INK

DIAMETER = 12.0  # points: two figures of the size below fit into it
NUMBER = 7.0
TRIES = 400  # each moves every badge that is too near to another
SLACK = 0.02  # of a diameter: no more is left between two badges than that
TURN = 2.399963  # the golden angle: badges on one spot go apart in different directions


class Look(NamedTuple):
    """`size` is the marker's over a circle's, so that all look equally large; `low` is how far its number sits below its middle;
    `inner`: a goalkeeper's own colour inside the bib of his side."""

    mark: str
    fill: str
    ink: str
    size: float = 1.0
    low: float = 0.0
    inner: str = ""


LOOKS = (
    Look("o", "white", INK),
    Look("s", "#17375e", "white", 0.88),
    Look("^", "#b4b4b4", INK, 1.2, 0.12),
    Look("h", "#5a5a5a", "white", 1.05),
    Look("p", "#dcdcdc", INK, 1.08),
    Look("8", "#8c2d4f", "white"),
)
"""By side; whoever starts with the ball first.  In grey: white, dark, mid, dark, pale, dark, each in a shape of its own."""
OWN = "#b5da6c"  # what is worn by whoever wears a colour that nobody has named: keepers, floaters without bibs
FLOATER = Look("D", OWN, INK, 0.82)


def spread(places: Sequence[tuple[float, float]], least: float = DIAMETER) -> list[tuple[float, float]]:
    """The places, in points, moved as little as is needed for no two to be nearer than `least`."""
    found = np.array(places, dtype=float).reshape(-1, 2)
    for i in range(len(found)):  # what lies on one spot has no direction to go
        same = [j for j in range(i) if math.dist(found[i], found[j]) < SLACK * least]
        if same:
            found[i] += 2 * SLACK * least * np.array([math.cos(TURN * i), math.sin(TURN * i)])
    for _ in range(TRIES):
        ways = found[:, None, :] - found[None, :, :]
        gaps = np.hypot(ways[..., 0], ways[..., 1])
        np.fill_diagonal(gaps, np.inf)
        short = np.maximum(0.0, least - gaps)
        if short.max(initial=0.0) <= SLACK * least:
            break
        found += ((0.5 * short / gaps)[..., None] * ways).sum(axis=1)
    return [(float(x), float(y)) for x, y in found]
