"""Which of many inputs moves a result: a screening with two-level runs in mirrored pairs, and what it says with what error.

The runs are the design of Plackett & Burman (1946, Biometrika 33:305), each played a second time with all levels reversed
(foldover, Box & Wilson 1951, J R Stat Soc B 13:1).  Both runs of a pair share their luck, which cancels in half
their difference, and so does whatever two inputs do only together.  What is left is fitted by least squares; the design
has more pairs than inputs, and what the surplus leaves over is the error.

An input moved by one standard deviation of our doubt either way has a main effect whose square is its part of the variance
(its first-order index of Sobol's, if the result is straight in it).  The squares are corrected for their error; the share is that
of what all inputs make by themselves.  An input without spread is not played and has index 0 exactly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Index:
    """One input: `effect` is what one step up does to the result; `share` of the variance, each with its standard error."""

    effect: float
    effect_se: float
    share: float
    share_se: float


@dataclass(frozen=True)
class Screened:
    """`indices` in the order of the inputs; `sd` of the result by all of them together (each by itself); `clear`: whether that
    stands out of the error."""

    indices: tuple[Index, ...]
    sd: float
    clear: bool
    pairs: int


NOTHING = Index(0.0, 0.0, 0.0, 0.0)


def screened(design: np.ndarray, first: np.ndarray, second: np.ndarray) -> Screened:
    """From the results of both runs of each pair; pairs that were not played (nan) are left out."""
    there = ~np.isnan(first + second)
    moved = np.flatnonzero(design.any(axis=0))
    x, half = design[np.ix_(there, moved)].astype(float), (first - second)[there] / 2.0
    left = len(half) - len(moved)
    if left < 1:
        raise ValueError(f"more pairs than inputs are needed (got {len(half)} for {len(moved)})")
    effect, *_ = np.linalg.lstsq(x, half, rcond=None)
    noise = float(((half - x @ effect) ** 2).sum()) / left
    se2 = noise * np.diag(np.linalg.inv(x.T @ x))
    shares, share_se, clear = shares_of(effect, se2)
    found = [NOTHING] * design.shape[1]
    for place, *numbers in zip(moved, effect, np.sqrt(se2), shares, share_se, strict=True):
        found[place] = Index(*(float(one) for one in numbers))
    sd = math.sqrt(max(0.0, float((effect**2 - se2).sum())))
    return Screened(tuple(found), sd, clear, int(there.sum()))


def shares_of(effect: np.ndarray, se2: np.ndarray) -> tuple[np.ndarray, np.ndarray, bool]:
    """(shares, their standard errors, whether the whole stands out of its error by three).

    The variance of a squared effect is 4 b^2 se^2 + 2 se^4; the error of the whole is carried into the shares to first order.
    """
    part = effect**2 - se2
    variance = 4.0 * np.maximum(part, 0.0) * se2 + 2.0 * se2**2
    whole, error = float(part.sum()), float(np.sqrt(variance.sum()))
    if whole <= 0.0 or (error > 0.0 and whole < 3.0 * error):
        return np.zeros(len(effect)), np.full(len(effect), np.nan), False
    share = np.maximum(part, 0.0) / whole
    others = variance.sum() - variance
    return share, np.sqrt(variance * (1.0 - share) ** 2 + share**2 * others) / whole, True
