"""The rule that decides whether a fit is taken, on gaps made by hand."""

from __future__ import annotations

import math

import pytest

from sim.evidence.luck import luck_of
from sim.evidence.targets import targets

SEEDS = (1001, 1002, 1003, 1004)


def gaps(tracking: float, band: float = 0.0) -> dict[str, float]:
    """Of a seed: every measurement met, every row of tracking and every band so far off."""
    off = {"measurement": 0.0, "band": band, "tracking": tracking}
    return {one.part: off[one.kind] for one in targets()}


BEFORE = [gaps(math.sqrt(square)) for square in (1.0, 1.2, 0.8, 1.0)]


def test_mean_spread_and_paired_difference_of_the_loss():
    fitted = [gaps(math.sqrt(square)) for square in (0.5, 0.6, 0.2, 0.7)]
    luck = luck_of(SEEDS, BEFORE, fitted)
    assert luck.before.of_seed == pytest.approx([10, 12, 8, 10]) and luck.fitted.of_seed == pytest.approx([5, 6, 2, 7])
    assert (
        luck.before.by_kind["tracking"] == pytest.approx((10, 12, 8, 10)) and luck.before.by_kind["band"] == (0.0,) * 4
    )
    # Differences -5, -6, -6, -3: mean -5, standard deviation sqrt(2), over four seeds.
    assert luck.difference == pytest.approx((-5.0, math.sqrt(2.0) / 2.0))
    assert luck.clear and luck.taken and (luck.bands, luck.before.bands_inside) == (28, 28)


@pytest.mark.parametrize(("squares", "clear"), [((0.9, 1.1, 0.7, 0.8), True), ((0.5, 1.4, 0.2, 1.3), False)])
def test_only_what_is_clear_of_luck_is_taken(squares, clear: bool):
    luck = luck_of(SEEDS, BEFORE, [gaps(math.sqrt(square)) for square in squares])
    assert luck.difference[0] < 0 and luck.clear == luck.taken == clear


def test_nothing_is_taken_that_costs_a_band():
    fitted = [gaps(0.0) | {"B05": 1.1} for _ in SEEDS]
    luck = luck_of(SEEDS, BEFORE, fitted)
    assert luck.clear and luck.fitted.bands_inside == 27 and not luck.taken
    # Inside on the mean of the seeds, though not on each.
    fitted = [gaps(0.0) | {"B05": gap} for gap in (1.4, 0.9, 0.8, 0.7)]
    assert luck_of(SEEDS, BEFORE, fitted).taken


def test_a_band_that_gives_nothing_is_not_inside():
    luck = luck_of(SEEDS, BEFORE, [gaps(0.0) | {"B05": math.nan} for _ in SEEDS])
    assert luck.fitted.bands_inside == 27
