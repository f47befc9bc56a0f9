"""From where on something holds: the one search by halves (compiled)."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from sim.compiled import njit

Asked = TypeVar("Asked")


@njit(inline="always")  # a function handed over is an address, and on some machines the caller would not be kept
def bisect(holds: Callable[[Asked, float], bool], of: Asked, low: float, high: float, halvings: int) -> float:
    """The upper end of the gap between `low`, where ``holds(of, x)`` is not true, and `high`, where it is, halved so many times.

    `holds` is a compiled function; of several places where the answer changes one is found.
    """
    for _ in range(halvings):
        middle = 0.5 * (low + high)
        if holds(of, middle):
            high = middle
        else:
            low = middle
    return high
