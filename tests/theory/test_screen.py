"""The screening against functions whose indices are known in closed form, and against scipy's Sobol indices."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest
from scipy import stats

from sim.experiments.designs import SURPLUS, screening_design
from sim.experiments.screen import Screened, screened

pytestmark = pytest.mark.theory

WEIGHTS = np.array([3.0, -2.0, 1.0, 0.5, 0.0])
KNOWN = (
    WEIGHTS**2 / (WEIGHTS**2).sum()
)  # first-order indices of a sum of independent inputs: their shares of its variance


def screen(respond: Callable[[np.ndarray], float], spreads: Sequence[float]) -> Screened:
    """The screening of a plain function of the inputs' levels (in steps from the middle)."""
    design = screening_design(spreads)
    first, second = (np.array([respond(way * row) for row in design], dtype=float) for way in (1, -1))
    return screened(design, first, second)


def shares(found) -> np.ndarray:
    return np.array([one.share for one in found.indices])


def test_a_linear_function_gives_its_indices_exactly():
    found = screen(lambda x: 7.0 + float(WEIGHTS @ x), np.ones(5))
    assert shares(found) == pytest.approx(KNOWN, abs=1e-12)
    assert [one.effect for one in found.indices] == pytest.approx(WEIGHTS, abs=1e-12)
    assert max(one.share_se for one in found.indices) < 1e-12
    assert found.sd == pytest.approx(np.sqrt((WEIGHTS**2).sum()))


def test_scipy_finds_the_same_indices():
    # scipy.stats.sobol_indices (Saltelli et al. 2010) with inputs of mean 0 and standard deviation 1.
    dists = [stats.norm()] * 5
    found = stats.sobol_indices(func=lambda x: WEIGHTS @ x, n=4096, dists=dists, rng=np.random.default_rng(1))
    assert shares(screen(lambda x: float(WEIGHTS @ x), np.ones(5))) == pytest.approx(found.first_order, abs=0.02)


def test_what_two_inputs_do_only_together_does_not_disturb_the_main_effects():
    # The mirrored run takes it out (Box & Wilson's foldover); without it, products would be mixed into other inputs.
    found = screen(lambda x: float(WEIGHTS @ x) + 2.0 * x[0] * x[1] - x[2] * x[4] + x[3] ** 2, np.ones(5))
    assert shares(found) == pytest.approx(KNOWN, abs=1e-12)


def test_what_three_inputs_do_together_is_counted_as_error():
    found = screen(lambda x: float(WEIGHTS @ x) + 0.5 * x[0] * x[1] * x[2], np.ones(5))
    errors = np.array([one.effect_se for one in found.indices])
    assert errors.min() > 0.05
    assert np.all(np.abs([one.effect for one in found.indices] - WEIGHTS) < 4 * errors)


@pytest.mark.parametrize("place", range(5))
def test_an_input_without_spread_has_index_0_exactly_and_the_others_share_the_rest(place):
    spreads = np.ones(5)
    spreads[place] = 0.0
    noise = iter(np.random.default_rng(3).normal(size=1000))
    found = screen(lambda x: float(WEIGHTS @ x) + 0.1 * next(noise), spreads)
    still = found.indices[place]
    assert (still.effect, still.effect_se, still.share, still.share_se) == (0.0, 0.0, 0.0, 0.0)
    left = np.where(spreads > 0, WEIGHTS**2, 0.0)
    assert shares(found) == pytest.approx(left / left.sum(), abs=0.05)


def test_the_stated_errors_are_right_over_many_screenings():
    # 300 screenings of 20 inputs with noise: 95 % within 1.96 standard errors of the truth.  Counted over 6000 effects (their
    # error is t-distributed with few degrees of freedom, which costs about 3 points) the share must be 90 to 96 %.
    rng = np.random.default_rng(5)
    weights = rng.normal(size=20)
    known = weights**2 / (weights**2).sum()
    hits, off, se = [], [], []
    for _ in range(300):
        found = screen(lambda x: float(weights @ x) + rng.normal(), np.ones(20))
        hits += [
            abs(one.effect - true) < 1.96 * one.effect_se for one, true in zip(found.indices, weights, strict=True)
        ]
        off.append(shares(found) - known)
        se.append([one.share_se for one in found.indices])
    assert 0.90 < np.mean(hits) < 0.96
    large = known > 0.05  # squares of small effects are skew: their shares are cut at nought
    assert np.array(off).std(axis=0)[large] == pytest.approx(np.array(se).mean(axis=0)[large], rel=0.25)
    assert np.abs(np.array(off).mean(axis=0)[large]).max() < 0.01


def test_noise_alone_is_hardly_ever_called_clear():
    rng = np.random.default_rng(7)
    clear = [screen(lambda x: rng.normal(), np.ones(30)).clear for _ in range(200)]
    assert np.mean(clear) < 0.05


def test_the_design_is_orthogonal_and_has_pairs_to_spare():
    design = screening_design([1.0] * 80)
    assert np.array_equal(design.T @ design, len(design) * np.eye(80))
    assert len(design) >= 80 + SURPLUS


def test_pairs_that_were_not_played_are_left_out():
    design = screening_design(np.ones(5))
    first, second = design @ WEIGHTS, -(design @ WEIGHTS)
    first[3] = np.nan
    found = screened(design, first, second)
    assert found.pairs == len(design) - 1
    assert shares(found) == pytest.approx(KNOWN, abs=1e-12)
    with pytest.raises(ValueError, match="more pairs than inputs"):
        screened(design, np.where(np.arange(len(design)) < 5, first, np.nan), second)
