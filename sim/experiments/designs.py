"""Experimental designs: at which values of the inputs a game is played.

*Full factorial*: every combination.  *Latin hypercube* (McKay, Beckman & Conover 1979, Technometrics 21:239): so many points
that fill the space evenly.  *Plackett-Burman* (1946, Biometrika 33:305): two levels of every input, all of them moved at once,
in as few runs as tell their main effects apart; with every run played a second time with all levels reversed (foldover, Box &
Wilson 1951, J R Stat Soc B 13:1) it is the design of a *screening*.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.errors import InputError
from sim.experiments.ranges import values_of

MOST_RUNS = 2000
OPTION = "--key"
SURPLUS = 10  # pairs of a screening beyond the number of inputs, at least


@dataclass(frozen=True)
class Axis:
    """A key with the values it may have, as typed; for a spread design only its ends count."""

    key: str
    values: tuple[str, ...]
    span: tuple[float, float] | None = None
    whole: bool = True


def axis_of(text: str) -> Axis:
    """A key and its values as typed (`sim.experiments.ranges`); ``KEY=1.5..4.5`` without a step is for a spread."""
    key, equals, rest = (part.strip() for part in text.partition("="))
    if not equals or not key or not rest:
        raise InputError(
            f"must read KEY=A,B,C or KEY=FROM..TO, such as touches=1,2,3 or side=8..14 (got {text!r})", OPTION
        )
    values = values_of(rest, key, OPTION, MOST_RUNS)
    return Axis(key, values.listed, values.span, values.whole)


def check_axes(axes: Sequence[Axis]) -> None:
    """Refuse a key that is named twice."""
    keys = [axis.key for axis in axes]
    if len(set(keys)) < len(keys):
        raise InputError(f"must name every key once (got {', '.join(keys)})", OPTION)


def full_factorial(axes: Sequence[Axis]) -> list[tuple[str, ...]]:
    """Every combination, the last key changing fastest."""
    check_axes(axes)
    found: list[tuple[str, ...]] = [()]
    for axis in axes:
        if not axis.values:
            raise InputError(f"{axis.key} must be whole numbers or a list, or else --spread N (got a range)", OPTION)
        values = dict.fromkeys(axis.values)
        if len(found) * len(values) > MOST_RUNS:
            raise InputError(f"must come to {MOST_RUNS} runs at most (got more)", OPTION)
        found = [(*one, value) for one in found for value in values]
    return found


def latin_hypercube(axes: Sequence[Axis], points: int, seed: int) -> list[tuple[str, ...]]:
    """So many points that fill the space evenly; what rounds to the same whole numbers is kept once."""
    from scipy.stats.qmc import LatinHypercube

    check_axes(axes)
    if not 2 <= points <= MOST_RUNS:
        raise InputError(f"must be from 2 to {MOST_RUNS} points (got {points})", "--spread")
    unit = LatinHypercube(d=len(axes), seed=seed).random(points)
    found = [tuple(placed(axis, float(at)) for axis, at in zip(axes, row, strict=True)) for row in unit]
    return list(dict.fromkeys(found))


def placed(axis: Axis, at: float) -> str:
    """The value at this share of the way."""
    if axis.span is None or (axis.values and len(axis.values) < axis.span[1] - axis.span[0] + 1):
        return axis.values[min(int(at * len(axis.values)), len(axis.values) - 1)]
    low, high = axis.span
    return str(int(low + at * (high - low + 1))) if axis.whole else f"{low + at * (high - low):.4g}"


def plackett_burman(factors: int) -> np.ndarray:
    """A two-level design of at least `factors` columns, by Paley's construction: [run, factor] of +1 and -1.

    The first prime q of the form 4 k + 3 that is large enough gives q + 1 runs; any two columns are orthogonal.
    """
    q = next(n for n in range(max(factors, 3), 4 * factors + 16) if n % 4 == 3 and is_prime(n))
    squares = {(n * n) % q for n in range(1, q)}
    first = np.array([1 if n in squares else -1 for n in range(q)])
    first[0] = 1
    rows = np.array([np.roll(first, shift) for shift in range(q)])
    return np.vstack([rows, -np.ones(q, dtype=int)])[:, :factors]


def is_prime(n: int) -> bool:
    """Whether a whole number is a prime."""
    return n > 1 and all(n % k for k in range(2, math.isqrt(n) + 1))


def effects(design: np.ndarray, results: np.ndarray) -> np.ndarray:
    """[factor, result]: half the change of each result from the low to the high level of each factor."""
    return design.T @ results / len(design)


def screening_design(spreads: Sequence[float]) -> np.ndarray:
    """[pair, input] of +1 and -1, the first run of each pair; 0 for an input without spread."""
    moved = np.flatnonzero(np.asarray(spreads) > 0)
    runs = plackett_burman(len(moved) + SURPLUS)
    design = np.zeros((len(runs), len(spreads)), dtype=int)
    design[:, moved] = runs[:, : len(moved)]
    return design
