"""The stated order of moments of the same time, whatever order they were booked in."""

from __future__ import annotations

import pytest

from sim.pitch.clock import ORDER, Clock

STATED = ("contact", "line", "tackle", "look", "take on", "shot", "count", "timer", "limit", "serve", "whistle")


def played(bookings: list[tuple[float, str]]) -> list[tuple[float, str]]:
    clock, seen = Clock(), []
    over = clock.done()
    for t, kind in bookings:
        clock.at(t, kind, lambda s, kind=kind: seen.append((s, kind)))
    clock.at(100.0, "whistle", lambda s: over.succeed())
    clock.run(over)
    return seen


def test_the_order_is_the_stated_one():
    assert ORDER == STATED


@pytest.mark.parametrize("order", [STATED, STATED[::-1], STATED[4:] + STATED[:4]])
def test_simultaneous_moments_come_in_the_stated_order(order: tuple[str, ...]):
    assert [kind for _, kind in played([(1.0, kind) for kind in order])] == list(STATED)


def test_what_goes_on_after_a_moment_comes_before_the_next_one():
    clock, seen = Clock(), []
    clock.after = lambda: seen.append(clock.next_moment())
    over = clock.done()
    clock.at(1.0, "look", lambda s: seen.append("look"))
    clock.at(1.0, "contact", lambda s: (seen.append("contact"), clock.at(1.5, "timer", lambda s: seen.append("timer"))))
    clock.at(2.0, "whistle", lambda s: over.succeed())
    clock.run(over)
    assert seen[:6] == ["contact", 1.0, "look", 1.5, "timer", 2.0]


def test_time_comes_before_order_and_arrives_exactly():
    times = [0.1 + 0.2, 0.3, 1.0 / 3.0]
    assert [t for t, _ in played([(t, "contact") for t in reversed(times)])] == sorted(times)


def test_a_moment_booked_from_another_time_is_simultaneous_with_one_booked_at_the_start():
    clock, seen = Clock(), []
    over = clock.done()
    t = 0.1 + 0.2
    clock.at(t, "serve", lambda s: (seen.append("serve"), over.succeed()))
    clock.at(0.1, "timer", lambda s: clock.at(t, "contact", lambda u: seen.append("contact")))
    clock.run(over)
    assert seen == ["contact", "serve"]
