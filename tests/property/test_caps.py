"""What single players may do at most, and where a side may not go, is never broken; the same games without the limits break each.

The long form is a command, `python -m tests.caps 10000`.
"""

from __future__ import annotations

from collections import Counter

import pytest

from tests.support.caps import BOUTS, WORDS, broken, drawn, played, search

IN_CI, TRIED = 200, 40


@pytest.mark.slow
def test_no_limit_is_broken():
    counted = []
    found = search(IN_CI, 1, lambda done, _: counted.append(done))
    assert {word: found[word] for word in WORDS} == dict.fromkeys(WORDS, 0)
    assert counted[-1] == IN_CI and len(counted) == IN_CI // BOUTS


@pytest.mark.slow
def test_without_the_limits_each_of_them_would_be_seen_broken():
    found: Counter[str] = Counter()
    for number in range(TRIED):
        game = drawn(number)
        found += broken(game.limited, played(game.free, number))
        if set(found) == set(WORDS):
            return
    assert set(found) == set(WORDS)
