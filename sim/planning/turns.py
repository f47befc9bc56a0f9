"""A list of bouts: who does what in each, shared out as evenly as whole bouts can be.

Everybody does one job in every bout (resting is one), and every job has so many people in every bout.  Over all bouts nobody has a
job more than once more often than anybody else.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import gcd

import numpy as np

Turns = tuple[tuple[int, ...], ...]
"""[bout][player]: the number of the job that he has."""


def bouts_to_equal(counts: Sequence[int]) -> int:
    """The fewest bouts after which everybody has had every job equally often; `counts`: how many people each job has."""
    return sum(counts) // gcd(*counts)


def shares(counts: Sequence[int], bouts: int) -> list[list[int]]:
    """[player][job]: how often each has each job over so many bouts.

    All turns are dealt out in one round after the other, job after job: so everybody is dealt as many, and of each job as many as
    anybody else, or one more.
    """
    people = sum(counts)
    found = [[0] * len(counts) for _ in range(people)]
    dealt = 0
    for job, count in enumerate(counts):
        for _ in range(count * bouts):
            found[dealt % people][job] += 1
            dealt += 1
    return found


def turns(counts: Sequence[int], bouts: int) -> Turns:
    """Who does what, bout by bout, so that it adds up to `shares`.

    In every bout each job goes to those who are furthest behind with it, and to nobody twice running where that can be helped
    (but for the job that most people have).
    """
    from scipy.optimize import linear_sum_assignment

    people, most = sum(counts), max(counts)
    slots = [job for job, count in enumerate(counts) for _ in range(count)]
    owed = np.array(shares(counts, bouts))
    left, last = owed.copy(), np.full(people, -1)
    tired = np.array([job for job, count in enumerate(counts) if count < most])
    in_order = np.outer(np.arange(people), np.arange(people)) / people**3  # equals go in the order of the names
    found = []
    for bout in range(bouts):
        cost = (bouts * (owed - left) - (bout + 1) * owed).astype(float)
        again = np.isin(last, tired)
        cost[again, last[again]] += bouts
        cost[left == 0] = 2.0 * people * bouts * (bouts + 2)  # has had it as often as he should: never
        _, taken = linear_sum_assignment(cost[:, slots] - in_order)
        last = np.array(slots)[taken]
        left[np.arange(people), last] -= 1
        found.append(tuple(int(job) for job in last))
    return tuple(found)


def exposure(found: Turns, jobs: int) -> list[tuple[int, ...]]:
    """How often each player has each of the jobs."""
    return [tuple(own.count(job) for job in range(jobs)) for own in zip(*found, strict=True)]
