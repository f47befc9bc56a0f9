"""Counter-based random numbers: known outputs, distributions, independence of neighbours, both twins alike."""

from __future__ import annotations

import math
import os
import subprocess
import sys

import numpy as np
import pytest
from scipy import stats

from sim import streams

MASK = (1 << 64) - 1
GOLDEN = 0x9E3779B97F4A7C15


def finaliser(word: int) -> int:
    """SplitMix64's finaliser written out once more with Python integers (Steele, Lea & Flood 2014, figure 17)."""
    word = ((word ^ (word >> 30)) * 0xBF58476D1CE4E5B9) & MASK
    word = ((word ^ (word >> 27)) * 0x94D049BB133111EB) & MASK
    return word ^ (word >> 31)


def test_splitmix64_reference_outputs():
    # From memory: outputs of splitmix64.c (S. Vigna, public domain) from state 1234567; the loop below derives them anew.
    reference = [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]
    state, stepped = 1234567, []
    for _ in reference:
        state = (state + GOLDEN) & MASK
        stepped.append(finaliser(state))
    assert stepped == reference
    assert [streams.bits(1234567, counter) for counter in range(5)] == reference


def test_fnv_1a_reference_outputs():
    # From memory: the FNV-1a 64-bit test vectors published by Fowler, Noll & Vo: "", "a", "foobar".
    assert streams.hash_id("") == 0xCBF29CE484222325
    assert streams.hash_id("a") == 0xAF63DC4C8601EC8C
    assert streams.hash_id("foobar") == 0x85944171F73967E8


@pytest.mark.parametrize(
    "words", [(0, 0, 0, 0, 0), (1, 2, 3, 4, 5), (-7, 2**31, 9, 15, MASK), (2**63 - 1, 1, 0, 3, 1 << 63)]
)
def test_keys_agree_with_plain_integers(words):
    key = 0
    for word in words:
        key = finaliser(((key ^ (word & MASK)) + GOLDEN) & MASK)
    assert streams.key_of(*words) == key
    assert int(streams.key_of.py_func(*words)) == key


def test_compiled_and_plain_python_give_the_same_bits():
    script = (
        "from sim import streams as s\n"
        "for i in range(400):\n"
        "    k = s.key_of(i - 5, i * 7, i, i % 16, s.hash_id(f'reds-{i}'))\n"
        "    print(int(k), int(s.bits(k, i)), s.uniform(k, i).hex(), s.normal(k, i).hex(),\n"
        "          s.exponential(k, i).hex(), s.lognormal(k, i, 0.28, 0.06).hex())\n"
    )
    out = {}
    for disabled in ("0", "1"):
        environment = os.environ | {"NUMBA_DISABLE_JIT": disabled}
        done = subprocess.run(
            [sys.executable, "-W", "error", "-c", script], env=environment, capture_output=True, text=True, check=True
        )
        out[disabled] = done.stdout
    assert out["0"].count("\n") == 400
    assert out["0"] == out["1"]


def test_every_word_of_the_key_counts():
    base = (5, 6, 7, 8, 9)
    keys = {streams.key_of(*base)}
    for place in range(5):
        for other in range(20, 30):
            keys.add(streams.key_of(*base[:place], other, *base[place + 1 :]))
    assert len(keys) == 51
    assert streams.key_of(5, 6, 7, 8, 9) != streams.key_of(6, 5, 7, 8, 9)


def test_registry_of_streams():
    # Changing the order would change every number of every game: append only.
    assert streams.STREAMS == (
        "profile", "reaction", "direction", "weight", "choice", "control", "tackle", "replan", "run", "hold", "place",
        "intercept", "shot", "keeper", "rotation", "day", "outcome", "pace", "aim", "scan", "heavy touch",
    )  # fmt: skip
    assert [streams.stream_index(name) for name in streams.STREAMS] == list(range(21))
    assert all(streams.PURPOSES.values())


def test_uniform_over_counters_and_over_keys():
    # Kolmogorov-Smirnov (scipy.stats.kstest); seeds fixed, so a pass is a pass for good.
    key = streams.key_of(1, 0, 0, 1, streams.hash_id("blues-4"))
    over_counters = [streams.uniform(key, counter) for counter in range(50_000)]
    over_players = [
        streams.uniform(streams.key_of(1, 0, 0, 1, streams.hash_id(f"blues-{number}")), 0) for number in range(50_000)
    ]
    over_seeds = [streams.uniform(streams.key_of(seed, 0, 0, 1, 77), 0) for seed in range(50_000)]
    over_bouts = [streams.uniform(streams.key_of(1, 0, bout, 1, 77), 0) for bout in range(50_000)]
    for sample in (over_counters, over_players, over_seeds, over_bouts):
        assert stats.kstest(sample, "uniform").pvalue > 0.001
        assert len(set(sample)) == len(sample)


@pytest.mark.parametrize("place", range(5))
def test_neighbouring_keys_are_uncorrelated(place):
    # |r| of 20,000 independent pairs stays below 4/sqrt(20,000) = 0.028 with probability 0.99994.
    words = [3, 1, 4, 1, 59]
    first, second = [], []
    for step in range(20_000):
        words[place] = step
        here = streams.key_of(*words)
        words[place] = step + 1
        first.append(streams.uniform(here, 0))
        second.append(streams.uniform(streams.key_of(*words), 0))
    assert abs(np.corrcoef(first, second)[0, 1]) < 0.028


def test_neighbouring_counters_are_uncorrelated():
    draws = np.array([streams.uniform(12345, counter) for counter in range(20_001)])
    for lag in (1, 2, 3):
        assert abs(np.corrcoef(draws[:-lag], draws[lag:])[0, 1]) < 0.028


def test_uniform_is_never_zero_or_one():
    # The largest and smallest numbers the formula can give: 2^52 - 1/2 and 1/2, times 2^-52.
    assert (float(2**52 - 1) + 0.5) * 2.0**-52 == 1 - 2.0**-53 < 1
    values = [streams.uniform(9, counter) for counter in range(1000)]
    assert all(float(value * 2**53).is_integer() and int(value * 2**53) % 2 == 1 for value in values)


def test_normal_quantile_against_scipy():
    # scipy.stats.norm.ppf (Cephes ndtri), an algorithm other than AS 241.
    p = np.concatenate(
        [10.0 ** np.linspace(-300, -1, 4000), np.linspace(1e-4, 1 - 1e-4, 20_001), 1 - 2.0 ** -np.arange(2, 53)]
    )
    ours = np.array([streams.normal_quantile(value) for value in p])
    theirs = stats.norm.ppf(p)
    assert np.max(np.abs(ours - theirs) / np.maximum(1, np.abs(theirs))) < 1e-12


def test_draws_are_monotone_in_one_uniform():
    key = 2024
    order = np.argsort([streams.uniform(key, counter) for counter in range(2000)])
    for draw in (streams.normal, streams.exponential, lambda k, c: streams.lognormal(k, c, 1.1, 0.6)):
        values = np.array([draw(key, counter) for counter in range(2000)])[order]
        assert np.all(np.diff(values) > 0)


def test_exponential_and_lognormal_distributions():
    key = streams.key_of(8, 0, 0, 2, 3)
    assert stats.kstest([streams.exponential(key, c) for c in range(20_000)], "expon").pvalue > 0.001
    held = np.array([streams.lognormal(key, c, 1.1, 0.6) for c in range(100_000)])
    assert held.mean() == pytest.approx(1.1, abs=0.01)  # C-2.3
    assert held.std() == pytest.approx(0.6, abs=0.02)


@pytest.mark.parametrize(
    ("mean", "sd", "mu", "sigma"), [(1.1, 0.6, -0.03492, 0.51034), (0.28, 0.06, -1.29541, 0.21189)]
)
def test_lognormal_from_mean_and_sd(mean, sd, mu, sigma):
    # C-2.1, C-2.2: arithmetic from the definition of the lognormal.
    assert streams.lognormal_parameters(mean, sd) == pytest.approx((mu, sigma), abs=1e-4)


def test_lognormal_without_spread_is_its_mean():
    assert streams.lognormal(1, 2, 0.7, 0.0) == pytest.approx(0.7, rel=1e-15)
    assert math.isfinite(streams.lognormal(1, 2, 0.7, 0.25))
