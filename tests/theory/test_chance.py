"""The test mode itself: it decides releases and nothing else, by a stream of its own."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.pitch import chance
from sim.pitch.chance import constant_success
from sim.pitch.engine import play_bout, race
from tests.support.scene import meant_for
from tests.theory.games import bouts, even, events_of, faultless, keep_ball, of_kind, one_bout


def test_certain_success_never_loses_it_and_certain_failure_always():
    kept = one_bout(keep_ball(seconds=60.0), constant_success(1.0, 0.5))
    assert of_kind(kept, "loss") == []
    assert len(of_kind(kept, "receive")) == len(of_kind(kept, "release")) - 1, "one is on its way at the end"
    lost = one_bout(keep_ball(seconds=60.0), constant_success(0.0, 0.5))
    assert of_kind(lost, "receive") == []
    assert len(of_kind(lost, "win")) == len(of_kind(lost, "release")) - (lost[-3]["kind"] == "release")


def test_a_pass_takes_the_seconds_given_and_reaches_the_player_it_is_meant_for():
    events = of_kind(one_bout(keep_ball(seconds=60.0), constant_success(0.7, 0.5)), "release", "receive", "win")
    for here, then in zip(events, events[1:], strict=False):
        if here["kind"] == "release":
            assert then["t"] == here["t"] + 0.5
            assert then["kind"] == "win" or then["player"] == here["other"]


def test_a_failure_can_be_over_the_line():
    events = one_bout(keep_ball(seconds=60.0, delay=2.0), constant_success(0.5, 0.5, over_the_line=True))
    assert {each["cause"] for each in of_kind(events, "loss")} == {"out"}
    assert of_kind(events, "win") == []


def test_every_opponent_who_may_win_it_does_so_as_often_as_the_others():
    # 3 of 3 inside, about 500 wins: each within three standard errors of a third.
    events = one_bout(keep_ball(4, 3, seconds=600.0), constant_success(0.0, 0.6))
    wins = [each["player"] for each in of_kind(events, "win")]
    for player in ("squad-5", "squad-6", "squad-7"):
        share = wins.count(player) / len(wins)
        assert abs(share - 1.0 / 3.0) <= 3.0 * (2.0 / 9.0 / len(wins)) ** 0.5


def test_a_chance_of_ones_own():
    chances = {f"squad-{number}": 0.0 if number == 2 else 1.0 for number in range(1, 7)}
    losses = of_kind(one_bout(keep_ball(seconds=120.0), constant_success(chances, 0.5)), "loss")
    assert {each["player"] for each in losses} == {"squad-2"}


def test_its_draws_shift_no_other_stream():
    # The smaller chance fails every pass that the greater one fails: up to the first that only the smaller one fails the two
    # bouts are the same, receivers and runs included.
    game = even(3, seconds=60.0)
    one, other = (events_of(next(bouts(game, constant_success(p, 0.5), 1))) for p in (0.95, 0.999))
    same = [
        all(a[field] == b[field] for field in ("t", "kind", "player", "other"))
        for a, b in zip(one, other, strict=False)
    ]
    first = same.index(False)
    assert first > 20
    assert (one[first]["kind"], one[first]["t"]) == (other[first]["kind"], other[first]["t"])
    assert (one[first]["player"][:5], other[first]["player"][:5]) == ("slate", "amber"), (
        "lost in one, kept in the other"
    )


def test_a_normal_run_passes_its_own_function_through_the_same_argument():
    game = even(3, seconds=20.0)
    roster = faultless(game)
    shipped, passed = play_bout(game, roster, 1), play_bout(game, roster, 1, outcome=race)
    assert repr(shipped.events) == repr(passed.events)
    calls = []

    def counted(bout, t):
        calls.append(t)
        return race(bout, t)

    assert repr(play_bout(game, roster, 1, outcome=counted).events) == repr(shipped.events)
    assert len(calls) >= len(of_kind(events_of(shipped), "release")) > 3


def test_a_ball_that_nobody_passed_is_raced_for(monkeypatch):
    # The opponent's foot only deflects now and then: from there the ball is anybody's.
    raced = []

    def counted(bout, t):
        raced.append(meant_for(bout))
        return race(bout, t)

    monkeypatch.setattr(chance, "race", counted)
    events = one_bout(even(3, seconds=60.0), constant_success(0.0, 0.3), steal_control=0.5)
    assert len(raced) == len(of_kind(events, "deflect")) > 3
    assert set(raced) == {-1}


@pytest.mark.parametrize(
    ("p", "seconds", "message"),
    [
        (1.2, 0.5, "p must be from 0 to 1 (got 1.2)"),
        ({"amber-1": -0.1}, 0.5, "p.amber-1 must be from 0 to 1 (got -0.1)"),
        (0.5, 0.0, "seconds must be greater than 0 (got 0.0)"),
        (float("nan"), 0.5, "p must be from 0 to 1 (got nan)"),
    ],
)
def test_a_chance_that_is_none_is_refused(p, seconds, message):
    with pytest.raises(InputError) as refused:
        constant_success(p, seconds)
    assert refused.value.problems == (message,)
