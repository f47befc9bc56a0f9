"""A list of bouts: every job filled in every bout, as even as whole bouts can be, and equal as soon as that is possible at all."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product

import pytest

from sim.planning.turns import Turns, bouts_to_equal, exposure, shares, turns

SMALL = ((1, 1), (1, 2), (2, 2), (1, 3), (1, 1, 2))
JOBS = ((2, 5), (2, 4, 1), (3, 4), (2, 6, 2), (1, 2, 3), (3, 10, 1), (1, 1, 2, 4), (2, 2, 8), (1, 1, 1, 3))


def every_list(counts: tuple[int, ...], bouts: int) -> Iterator[Turns]:
    """All lists of so many bouts that fill every job."""
    slots = [job for job, count in enumerate(counts) for _ in range(count)]
    yield from product(sorted(set(permutations(slots))), repeat=bouts)


def spreads(found: Turns, jobs: int) -> list[int]:
    """By job, how much more often the one who has it most has it than the one who has it least."""
    own = exposure(found, jobs)
    return [max(one[job] for one in own) - min(one[job] for one in own) for job in range(jobs)]


@pytest.mark.parametrize("counts", SMALL)
def test_equality_takes_as_many_bouts_as_by_trying_all_lists(counts):
    first = next(
        bouts for bouts in range(1, 5) if any(not any(spreads(one, len(counts))) for one in every_list(counts, bouts))
    )
    assert bouts_to_equal(counts) == first
    assert not any(spreads(turns(counts, first), len(counts)))


@pytest.mark.parametrize("counts", SMALL)
@pytest.mark.parametrize("bouts", [1, 2, 3])
def test_no_list_at_all_is_fairer(counts, bouts):
    best = min(sum(spreads(one, len(counts))) for one in every_list(counts, bouts))
    assert sum(spreads(turns(counts, bouts), len(counts))) == best


@pytest.mark.parametrize("counts", JOBS)
def test_every_job_is_filled_in_every_bout_and_nobody_is_more_than_one_off(counts):
    for bouts in range(1, 2 * bouts_to_equal(counts) + 1):
        found = turns(counts, bouts)
        assert all([row.count(job) for job in range(len(counts))] == list(counts) for row in found)
        assert exposure(found, len(counts)) == [tuple(own) for own in shares(counts, bouts)]
        uneven = [int(bouts * count % sum(counts) != 0) for count in counts]
        assert spreads(found, len(counts)) == uneven


def test_nobody_has_a_rare_job_twice_running_where_that_can_be_helped():
    found = turns((3, 2, 2), 7)
    rare = [
        player
        for one, other in zip(found, found[1:], strict=False)
        for player in range(7)
        if one[player] == other[player] != 0
    ]
    assert rare == []


def test_seven_in_a_four_against_two_with_one_resting():
    found = turns((2, 4, 1), 7)
    assert bouts_to_equal((2, 4, 1)) == 7
    assert set(exposure(found, 3)) == {(2, 4, 1)}
    assert found[0] == (0, 0, 1, 1, 1, 1, 2)
