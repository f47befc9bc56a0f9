"""Moments of the same time come in the stated order, whenever and in whatever order they were asked for."""

from __future__ import annotations

import math
import random
from itertools import permutations

from sim.pitch.chance import constant_success
from sim.pitch.clock import ORDER, PRIORITY, Clock
from tests.theory.games import even, of_kind, one_bout, scripted

SAME = 60.1


def played(asked: list[tuple[str, float]]) -> list[str]:
    """What happens at `SAME`, each moment asked for at its own time."""
    clock, seen, over = Clock(), [], None
    over = clock.done()
    for kind, when in asked:
        clock.at(when, "timer", lambda _, kind=kind: clock.at(SAME, kind, lambda t: seen.append((kind, t))))
    clock.at(2.0 * SAME, "whistle", lambda _: over.succeed())
    clock.run(over)
    assert {t for _, t in seen} == {SAME}
    return [kind for kind, _ in seen]


def test_the_order_is_the_one_the_clock_states():
    assert ORDER == (
        "contact",
        "line",
        "tackle",
        "look",
        "take on",
        "shot",
        "count",
        "timer",
        "limit",
        "serve",
        "whistle",
    )
    assert sorted(PRIORITY, key=PRIORITY.get) == list(ORDER)


def test_every_two_kinds_come_in_order_whenever_they_were_asked_for():
    # Asked for at times whose difference from the common time is no exact number: now + (t - now) would miss t.
    lottery = random.Random(1)
    misses = 0
    for one, other in permutations(ORDER, 2):
        for _ in range(20):
            early, late = sorted(lottery.uniform(0.0, SAME) for _ in range(2))
            misses += early + (SAME - early) != SAME or late + (SAME - late) != SAME
            assert played([(one, early), (other, late)]) == sorted((one, other), key=ORDER.index)
    assert misses > 10, "no pair of times here would tell a right clock from a wrong one"


def test_all_kinds_at_once():
    backwards = [(kind, 0.37 * place) for place, kind in enumerate(reversed(ORDER))]
    assert played(backwards) == list(ORDER)


POINT = {"point": {"on": "passes", "count": 3, "do": [{"score": 1}]}}


def moment_of(kind: str, number: int = 0) -> float:
    return of_kind(one_bout(even(rules=POINT), constant_success(1.0, 1.26)), kind)[number]["t"]


def test_a_point_at_the_very_whistle_stands():
    # E2: events at the end of a bout count, if they come no later than the signal.
    t = moment_of("score")
    assert of_kind(one_bout(even(rules=POINT, seconds=t), constant_success(1.0, 1.26)), "score")
    early = math.nextafter(t, 0.0)
    assert not of_kind(one_bout(even(rules=POINT, seconds=early), constant_success(1.0, 1.26)), "score")


def test_a_pass_that_comes_as_the_window_closes_is_counted_first():
    # E11: the pass is settled, then the window closes.
    def game(closes: float):
        window = {"shut": {"on": "time", "count": closes, "do": [{"phase": "after"}]}}
        after = {"after": {"rules": {"over": {"on": "loss", "do": [{"end": "bout"}]}}}}
        return even(rules=POINT | window, phases=after)

    t = moment_of("score")
    events = one_bout(game(t), constant_success(1.0, 1.26))
    assert [(each["kind"], each["t"]) for each in of_kind(events, "score", "phase")] == [("score", t), ("phase", t)]
    events = one_bout(game(math.nextafter(t, 0.0)), constant_success(1.0, 1.26))
    assert [each["kind"] for each in of_kind(events, "score", "phase")] == ["phase"]


def test_a_timer_at_the_very_whistle_is_heard_and_one_that_is_still_running_is_void():
    # E9: nothing comes of a window that is still open at the end.
    rules = {"late": {"on": "time", "count": 20.0, "do": [{"score": 1}]}}
    assert of_kind(one_bout(even(rules=rules, seconds=20.0), scripted()), "score")
    assert not of_kind(one_bout(even(rules=rules, seconds=math.nextafter(20.0, 0.0)), scripted()), "score")
