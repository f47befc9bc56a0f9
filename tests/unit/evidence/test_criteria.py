"""Inside or outside, by numbers made by hand: each rule once on either side of its limit."""

from __future__ import annotations

import math

import pytest

from sim.evidence.criteria import ascending, range_over_mean, reproduced, together, within_size


@pytest.mark.parametrize(
    ("rule", "size", "published", "good", "bad"),
    [
        ("percent", "6", 100.0, (94.01, 105.99), (93.9, 106.1)),
        ("absolute", "0.08", 0.46, (0.39, 0.53), (0.37, 0.55)),
        ("band", "1.6..2.4", 2.1, (1.6, 2.4), (1.59, 2.41)),
        ("below", "15", 7.0, (0.0, 14.9), (15.0, 40.0)),
        ("above", "2", 3.0, (2.0, 9.0), (1.99, 0.5)),
    ],
)
def test_a_measurement(rule, size, published, good, bad):
    assert [within_size(rule, size, value, published) for value in good] == [True] * 2
    assert [within_size(rule, size, value, published) for value in bad] == [False] * 2
    assert within_size(rule, size, math.nan, published) is None


@pytest.mark.parametrize(
    ("sign", "size", "good", "bad"),
    [
        ("up", "0.1", (0.11, 0.4), (0.09, 0.4)),
        ("up points", "1", (1.1, 2.0), (0.9, 2.0)),
        ("down", "0.1", (-0.4, -0.11), (-0.4, -0.09)),
        ("not down", "0.03", (-0.02, 0.4), (-0.04, 0.4)),
        ("equal", "0.05", (-0.04, 0.04), (-0.04, 0.06)),
        ("equal", "0.05", (-0.04, 0.04), (-0.06, 0.01)),
        ("below", "0.2", (-0.1, 0.19), (0.0, 0.21)),
        ("within", "0.3..0.92", (0.3, 0.92), (0.29, 0.5)),
        ("within", "0.3..0.92", (0.4, 0.92), (0.4, 0.93)),
    ],
)
def test_a_direction_needs_its_whole_interval(sign, size, good, bad):
    assert reproduced(sign, size, *good) is True
    assert reproduced(sign, size, *bad) is False
    assert reproduced(sign, size, math.nan, math.nan) is None


def test_what_only_tells_has_no_verdict():
    assert within_size("reported", "", 1.0, 1.0) is None
    assert within_size("not played", "", math.nan, math.nan) is None


def test_unknown_rules_are_bugs():
    with pytest.raises(ValueError, match="rule must be known"):
        within_size("about", "1", 1.0, 1.0)
    with pytest.raises(ValueError, match="sign must be known"):
        reproduced("sideways", "1", 1.0, 2.0)


def test_rows_of_several():
    assert ascending([1, 2, 3]) is True and ascending([1, 3, 3]) is False and ascending([1, math.nan]) is None
    assert range_over_mean([90.0, 100.0, 110.0]) == pytest.approx(0.2)
    assert together([True, None, True]) is True and together([True, False]) is False and together([None]) is None
