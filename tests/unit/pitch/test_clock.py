"""The stated order of moments of the same time, whatever order they were booked in."""

from __future__ import annotations

import itertools

import pytest

from sim.pitch.clock import ORDER, RANKS, Clock

STATED = ("contact", "line", "tackle", "look", "shot", "timer", "serve", "think", "whistle")


def played(bookings: list[tuple[float, str, int]]) -> list[tuple[float, str, int]]:
    clock, seen = Clock(), []
    over = clock.done()
    for t, kind, rank in bookings:
        clock.at(t, kind, lambda s, kind=kind, rank=rank: seen.append((s, kind, rank)), rank)
    clock.at(100.0, "whistle", lambda s: over.succeed())
    clock.run(over)
    return seen


def test_the_order_is_the_stated_one():
    assert ORDER == STATED


@pytest.mark.parametrize("order", [STATED, STATED[::-1], STATED[4:] + STATED[:4]])
def test_simultaneous_moments_come_in_the_stated_order(order: tuple[str, ...]):
    assert [kind for _, kind, _ in played([(1.0, kind, 0) for kind in order])] == list(STATED)


def test_of_one_kind_the_lower_rank_comes_first():
    for ranks in itertools.permutations(range(4)):
        assert [rank for _, _, rank in played([(2.0, "think", rank) for rank in ranks])] == [0, 1, 2, 3]


def test_the_highest_rank_of_a_kind_still_comes_before_the_next_kind():
    assert [kind for _, kind, _ in played([(1.0, "whistle", 0), (1.0, "think", RANKS - 1)])] == ["think", "whistle"]


def test_time_comes_before_order_and_arrives_exactly():
    times = [0.1 + 0.2, 0.3, 1.0 / 3.0]
    assert [t for t, _, _ in played([(t, "contact", 0) for t in reversed(times)])] == sorted(times)


def test_a_moment_booked_from_another_time_is_simultaneous_with_one_booked_at_the_start():
    clock, seen = Clock(), []
    over = clock.done()
    t = 0.1 + 0.2
    clock.at(t, "think", lambda s: (seen.append("think"), over.succeed()))
    clock.at(0.1, "think", lambda s: clock.at(t, "contact", lambda u: seen.append("contact")))
    clock.run(over)
    assert seen == ["contact", "think"]
