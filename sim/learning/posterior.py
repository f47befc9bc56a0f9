"""Draws from a posterior by sequential Monte Carlo: particles from the prior are led to it in steps.

The likelihood is let in little by little (tempering), each step as large as leaves half of the particles worth having; then they
are drawn anew by their weights and moved by random-walk Metropolis steps that leave the step's distribution as it is (Del Moral,
Doucet & Jasra 2006, J R Stat Soc B 68:411).  The prior of every coordinate is standard normal between its ends.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from scipy.optimize import brentq
from scipy.special import logsumexp, ndtr, ndtri

PARTICLES = 1000
WORTH = 0.5
"""Share of the particles that a step leaves worth having (effective sample size)."""
MOVES = 5
SCALE = 2.38
"""Of a random walk, over the root of the dimensions (Roberts, Gelman & Gilks 1997, Ann Appl Probab 7:110)."""
LEAST = 1e-9
LogLikelihood = Callable[[np.ndarray], np.ndarray]
"""Of particles [particle, coordinate], one value each."""


def prior(ends: Sequence[tuple[float, float]], particles: int, dice: np.random.Generator) -> np.ndarray:
    """Draws [particle, coordinate] from standard normals between their `ends` (infinite: nowhere cut)."""
    low, high = (ndtr(np.array(one)) for one in zip(*ends, strict=True))
    return ndtri(low + (high - low) * dice.uniform(size=(particles, len(ends))))


def posterior(
    log_likelihood: LogLikelihood, ends: Sequence[tuple[float, float]], seed: int, particles: int = PARTICLES
) -> np.ndarray:
    """Draws [particle, coordinate], equally weighted, from the prior between these `ends` times the likelihood."""
    dice = np.random.default_rng(seed)
    x = prior(ends, particles, dice)
    told, let_in = log_likelihood(x), 0.0
    while let_in < 1.0:
        step = next_step(told, 1.0 - let_in)
        let_in = 1.0 if step >= 1.0 - let_in else let_in + step
        weights = np.exp(step * told - logsumexp(step * told))
        chosen = drawn_anew(weights, dice)
        x, told = moved(x[chosen], told[chosen], let_in, log_likelihood, ends, dice)
    return x


def next_step(told: np.ndarray, left: float) -> float:
    """How much more of the likelihood can be let in: all that is `left`, or what leaves `WORTH` of the particles."""

    def spare(step: float) -> float:
        scaled = step * told
        return float(2 * logsumexp(scaled) - logsumexp(2 * scaled) - np.log(WORTH * len(told)))

    return left if spare(left) >= 0 else float(brentq(spare, 0.0, left, xtol=LEAST * left))


def drawn_anew(weights: np.ndarray, dice: np.random.Generator) -> np.ndarray:
    """Places of as many particles, each about as often as its weight says (systematic resampling)."""
    at = (np.arange(len(weights)) + dice.uniform()) / len(weights)
    return np.minimum(np.searchsorted(np.cumsum(weights), at), len(weights) - 1)


def moved(
    x: np.ndarray,
    told: np.ndarray,
    let_in: float,
    log_likelihood: LogLikelihood,
    ends: Sequence[tuple[float, float]],
    dice: np.random.Generator,
) -> tuple[np.ndarray, np.ndarray]:
    """The particles after some Metropolis steps at this temperature, with their likelihoods."""
    low, high = (np.array(one) for one in zip(*ends, strict=True))
    size = x.shape[1]
    walk = np.linalg.cholesky(np.atleast_2d(np.cov(x.T)) + LEAST * np.eye(size)) * SCALE / np.sqrt(size)
    for _ in range(MOVES):
        there = x + dice.standard_normal(x.shape) @ walk.T
        inside = ((there >= low) & (there <= high)).all(axis=1)
        likely = log_likelihood(np.where(inside[:, None], there, x))
        gain = let_in * (likely - told) - (there**2 - x**2).sum(axis=1) / 2.0
        taken = inside & (np.log(dice.uniform(size=len(x))) < gain)
        x, told = np.where(taken[:, None], there, x), np.where(taken, likely, told)
    return x, told
