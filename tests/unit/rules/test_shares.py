"""How much single players play at most: they leave, the next of those who wait comes, and the log shows it."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.loader import resolve, to_short
from sim.measures.event_reducer import reduce_events
from sim.pitch.engine import play_bout
from sim.rules.between import Held, next_start
from sim.words.rules import rules_in_words
from tests.theory.games import STEADY, events_of, faultless, keep_ball, of_kind, scripted

KEPT = ["on"] * 5
FIRST = "squad-5"  # is inside at the start
BENCH = {"side": "inside", "style": "wait", "place": "square"}
NO_BENCH = (
    "players.squad-5.most_bouts must go with a waiting role for him to go to: one with "
    'style = "wait" in every phase (got 1)'
)


def capped(waiting: int = 1, seconds: float = 12.0, count: int = 1, **limits: object):
    """Four against two, of whom the first may play so much at most, and so many who wait."""
    bench = BENCH | ({"players": waiting} if waiting else {})
    players = {FIRST: limits} if limits else {}
    game = keep_ball(seconds=seconds, delay=1.0, count=count, roles={"bench": bench}, players=players)
    assert resolve(to_short(game), game.name) == game
    return game


def played(game, *script: str, held=None) -> tuple:
    log = play_bout(game, faultless(game), 1, 0, 0, scripted(*script), STEADY, held=held)
    return log, events_of(log)


def test_he_leaves_at_the_next_dead_ball_and_the_next_who_waits_comes():
    log, events = played(capped(most_minutes=0.05), *KEPT, "won")
    (leaves,) = of_kind(events, "limit")
    (lost,) = of_kind(events, "loss")
    assert (leaves["player"], leaves["other"], leaves["cause"]) == (FIRST, "squad-7", "minutes")
    assert leaves["t"] == lost["t"] > 3.0
    assert log.held[4].role == "bench" and log.held[6].role == "inside"
    assert log.held[4].played == pytest.approx(leaves["t"])
    _, without = played(capped(), *KEPT, "won")
    assert not of_kind(without, "limit", "swap")
    assert "Player 5 plays 3 s of the session at most and leaves at the next dead ball." in rules_in_words(
        capped(most_minutes=0.05)
    )


def test_with_nobody_who_waits_the_numbers_change_and_it_is_logged():
    log, events = played(capped(0, most_minutes=0.05), *KEPT, "won")
    (leaves,) = of_kind(events, "limit")
    assert (leaves["player"], leaves["other"]) == (FIRST, "")
    assert [one.role for one in log.held].count("inside") == 1
    assert [(one["player"], one["detail"]) for one in of_kind(events, "job") if one["t"] == leaves["t"]] == [
        (FIRST, "wait")
    ]


def test_a_restricted_player_is_never_over_it():
    # The ball is kept all the while: he leaves in the middle of play, on the second.
    log, events = played(capped(most_minutes=0.05, restricted=True))
    (leaves,) = of_kind(events, "limit")
    assert leaves["t"] == pytest.approx(3.0) and not of_kind(events, "loss")
    assert log.held[4].played == pytest.approx(3.0)


@pytest.mark.parametrize("minutes", [0.05, 0.06, 0.07, 0.08])
def test_a_restricted_player_who_has_the_ball_leaves_it(minutes):
    bench = BENCH | {"side": "outside", "players": 1}
    capped_one = {"squad-1": {"most_minutes": minutes, "restricted": True}}
    log, events = played(keep_ball(2, 1, seconds=8.0, roles={"bench": bench}, players=capped_one))
    (leaves,) = of_kind(events, "limit")
    assert leaves["t"] == pytest.approx(60.0 * minutes) and log.held[0].played == pytest.approx(60.0 * minutes)
    assert not [
        one for one in events if one["t"] > leaves["t"] and one["player"] == "squad-1" and one["kind"] == "touch"
    ]
    assert not of_kind(events, "loss")


def test_the_bouts_of_a_session_are_counted_and_then_others_begin():
    game = capped(most_bouts=1, count=3, seconds=2.0)
    first, _ = played(game)
    assert first.held[4].bouts == 1 and first.held[6].bouts == 0
    second, events = played(game, held=next_start(game, 1, first.phase, first.held))
    (leaves,) = of_kind(events, "limit")
    assert (leaves["t"], leaves["player"], leaves["other"], leaves["cause"]) == (0.0, FIRST, "squad-7", "bouts")
    assert second.held[4] == Held("bench", 2.0, 1, first.held[4].played)


def test_whoever_has_had_it_does_not_come_back():
    rules = {
        "lost": {"on": "loss", "do": [{"swap": "longest in", "of": "holder", "with": "waiting"}, {"restart": "start"}]}
    }
    game = keep_ball(seconds=20.0, delay=1.0, roles={"bench": BENCH | {"players": 1}}, rules=rules)
    played_game = resolve(to_short(game) | {"players": {FIRST: {"most_minutes": 0.02}}}, "capped")
    for one, back in ((game, True), (played_game, False)):
        _, events = played(one, *["on", "won"] * 20)
        inside = [each["player"] for each in of_kind(events, "job") if each["cause"] == "inside" and each["t"] > 3.0]
        assert (FIRST in inside) == back


def test_with_nobody_left_on_a_side_the_bout_is_over():
    short = to_short(keep_ball(4, 1, seconds=12.0, roles={"bench": BENCH}, players={FIRST: {"most_minutes": 0.05}}))
    log, events = played(resolve(short, "alone"), *KEPT, "won")
    assert events[-1]["t"] == of_kind(events, "limit")[0]["t"] == log.duration_s < 12.0


def test_with_nobody_left_as_it_begins_the_bout_is_over_at_once():
    bench = BENCH | {"side": "outside"}
    game = keep_ball(4, 1, seconds=4.0, count=2, roles={"bench": bench}, players={FIRST: {"most_bouts": 1}})
    first, _ = played(game)
    log, events = played(game, held=next_start(game, 1, first.phase, first.held))
    (leaves,) = of_kind(events, "limit")
    assert (leaves["player"], leaves["other"], leaves["side"]) == (FIRST, "", "inside")
    assert events[-1]["kind"] == "end" and log.duration_s == 0.0 and not of_kind(events, "serve")
    assert reduce_events(game, log).exposure.clock == 0.0


def test_a_role_that_waits_in_one_phase_only_is_no_place_to_have_had_it():
    phases = {
        "first": {"jobs": {"inside": "wait in square"}, "rules": {"bell": bell("keep", 1)}},
        "keep": {"rules": {"bell": bell("first", 30)}},
    }
    limits = {"roles": {"bench": BENCH | {"players": 1}}, "players": {FIRST: {"most_bouts": 1}}}
    game = keep_ball(seconds=4.0, count=2, phases=phases, start={"phase": "first"}, **limits)
    first, _ = played(game)
    assert first.held[4].bouts == 1
    second, _ = played(game, held=next_start(game, 1, first.phase, first.held))
    assert second.held[4].role == "bench" and second.held[4].bouts == 1
    assert second.duration_s == 4.0, "though all of his side wait as it begins"


def bell(phase: str, seconds: int) -> dict:
    """A rule that begins another phase after so long."""
    return {"on": "time", "count": seconds, "do": [{"phase": phase}]}


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (
            {"roles": {"bench": {"style": "free", "players": 1}}},
            NO_BENCH,
        ),
        (
            {"phases": {"keep": {"jobs": {"bench": "free in square"}}}, "roles": {"bench": {"players": 1}}},
            NO_BENCH,
        ),
    ],
)
def test_what_cannot_be_kept_is_refused(more, told):
    roles = {"bench": BENCH | more.pop("roles")["bench"]}
    with pytest.raises(InputError) as caught:
        keep_ball(roles=roles, players={FIRST: {"most_bouts": 1}}, **more)
    assert list(caught.value.problems) == [told]
