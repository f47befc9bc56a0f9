"""How sure a count is of its rate, and whether two counts differ.

A rate from a count that is pure chance (Poisson): the exact interval of Garwood 1936, Biometrika 28:437.  Two such rates: given
their sum, the first count is binomial (Przyborowski & Wilenski 1940, Biometrika 31:313), its share by Clopper & Pearson 1934,
Biometrika 26:404.  Where bouts differ by more or less than chance, counts are divided by their index of dispersion first.
"""

from __future__ import annotations

from math import inf

LEVEL = 0.95


def count_interval(count: float, level: float = LEVEL) -> tuple[float, float]:
    """(low, high) of the expected count behind one count."""
    from scipy.special import gammaincinv

    out = (1 - level) / 2
    return (float(gammaincinv(count, out)) if count > 0 else 0.0), float(gammaincinv(count + 1, 1 - out))


def binomial_interval(hits: float, trials: float, level: float = LEVEL) -> tuple[float, float]:
    """(low, high) of the chance behind so many hits."""
    from scipy.special import betaincinv

    out = (1 - level) / 2
    low = float(betaincinv(hits, trials - hits + 1, out)) if hits > 0 else 0.0
    high = float(betaincinv(hits + 1, trials - hits, 1 - out)) if hits < trials else 1.0
    return low, high


def ratio_interval(
    first: tuple[float, float], second: tuple[float, float], dispersion: float = 1.0, level: float = LEVEL
) -> tuple[float, float]:
    """(low, high) of the second rate over the first; each a (count, minutes).  `dispersion`: variance of a count over its mean."""
    (a, t), (b, u) = first, second
    hits, trials = b / dispersion, (a + b) / dispersion
    if trials <= 0:
        return 0.0, inf
    low, high = binomial_interval(hits, trials, level)

    def odds(share: float) -> float:
        return inf if share >= 1 else share / (1 - share) * t / u

    return odds(low), odds(high)
