"""Cases at the edge of the rules, played in the engine with a ball that does as it is told."""

from __future__ import annotations

import pytest

from sim.measures.event_reducer import reduce_events
from sim.pitch.chance import constant_success
from tests.theory.games import HOLD_S, SWAPPED, bouts, even, events_of, keep_ball, of_kind, one_bout, scripted

CYCLE = HOLD_S + 0.3  # s, with `scripted` as it is


def test_e1_over_the_line_off_an_attacker_is_a_loss_and_the_others_ball():
    events = one_bout(even(), scripted("on", "out"))
    passer = of_kind(events, "release")[1]["player"]
    out, loss, dead, serve = (of_kind(events, kind)[0] for kind in ("out", "loss", "dead", "serve"))
    serve = of_kind(events, "serve")[1]
    assert (out["player"], loss["player"], loss["side"], loss["cause"], loss["other"]) == (
        passer,
        passer,
        "amber",
        "out",
        "",
    )
    assert (dead["cause"], serve["side"]) == ("out", "slate")
    assert of_kind(events, "live")[1]["t"] == dead["t"] + 4.0
    assert of_kind(events, "win") == []


def test_e1_over_the_line_off_a_defender_is_no_loss_and_stays_the_attackers_ball():
    # The opponent gets a foot to it (no control), and from him it goes out.
    events = one_bout(even(), scripted("won", "out"), steal_control=0.0)
    deflector = of_kind(events, "deflect")[0]["player"]
    out = of_kind(events, "out")[0]
    assert out["player"] == deflector and deflector.startswith("slate")
    assert of_kind(events, "loss") == []
    assert of_kind(events, "serve")[1]["side"] == "amber"


def test_e1_without_a_rule_for_out_the_restart_of_that_name_holds_even_to_the_same_side():
    events = one_bout(keep_ball(seconds=30.0, delay=3.0), scripted("out"))
    assert [each["side"] for each in of_kind(events, "serve")[:2]] == ["outside", "outside"]
    assert of_kind(events, "dead")[0]["cause"] == "out"


def test_e3_a_floaters_loss_is_his_sides_and_he_does_not_go_in():
    game = keep_ball(
        1,
        2,
        seconds=20.0,
        delay=2.0,
        rules={"lost": SWAPPED},
        roles={"joker": {"side": "holder", "style": "edge", "place": "square", "players": 1}},
    )
    # One outside player and a floater: the server plays to the player, and after one pass the floater has the ball.
    events = one_bout(game, scripted("on", "won", "won", "on", "won", "won"))
    by_floater = [each for each in of_kind(events, "loss") if each["player"] == "squad-4"]
    assert by_floater, "the floater never lost the ball: the scene is wrong"
    assert {each["side"] for each in by_floater} == {"outside"}
    swapped = {each["t"]: each["player"] for each in of_kind(events, "swap")}
    assert all(each["t"] not in swapped for each in by_floater)
    others = [each for each in of_kind(events, "loss") if each["player"] != "squad-4"]
    assert all(swapped[each["t"]] == each["player"] for each in others)


def test_e4_the_passer_is_at_fault_for_a_pass_and_the_receiver_for_his_touch():
    events = one_bout(even(), scripted("on", "won"))
    assert of_kind(events, "loss")[0]["player"] == of_kind(events, "release")[1]["player"]
    # A first touch that fails for sure; the ball runs loose, and an opponent has it.
    events = one_bout(
        even(seconds=5.0), scripted("on", "won"), miscontrol_pressed=1e9, miscontrol_stretch=1e9, miscontrol_level=0.0
    )
    loss = of_kind(events, "loss")[0]
    assert (loss["cause"], loss["player"]) == ("miscontrol", of_kind(events, "release")[0]["other"])


HOLD_1S = {"win": {"confirm": "hold", "seconds": 1.0}}
TWO_PASSES = {"win": {"confirm": "passes", "passes": 2}}


def test_e5_a_win_counts_after_the_time_it_has_to_be_held():
    events = one_bout(even(**HOLD_1S), scripted("on", "won"))
    touch = of_kind(events, "touch")[4]
    loss, win = of_kind(events, "loss")[0], of_kind(events, "win")[0]
    assert loss["t"] == win["t"] == touch["t"] + 1.0
    assert (win["player"], loss["other"], win["side"]) == (touch["player"], touch["player"], "slate")
    assert loss["cause"] == "interception"
    assert of_kind(events, "contested") == []


@pytest.mark.parametrize("confirm", [HOLD_1S, TWO_PASSES])
def test_e5_a_win_that_is_lost_again_at_once_is_contested_and_no_loss(confirm):
    # Slate have it for 0.54 + 0.3 s and no completed pass; amber had one pass and go on counting.
    events = one_bout(even(seconds=12.0, **confirm), scripted("on", "won", "won"))
    assert len(of_kind(events, "contested")) == 1
    assert of_kind(events, "contested")[0]["player"].startswith("slate")
    assert of_kind(events, "loss", "win") == []
    received = of_kind(events, "receive")
    assert [each["passes"] for each in received] == list(range(1, len(received) + 1))
    assert {each["side"] for each in events if each["kind"] != "job"} == {"amber"}


def test_e5_passes_of_a_winner_who_is_not_confirmed_are_nobodys():
    # Slate complete one pass of the two they need, then lose it again.
    events = one_bout(even(seconds=8.0, **TWO_PASSES), scripted("on", "won", "on", "won"))
    assert len(of_kind(events, "contested")) == 1
    assert [each["passes"] for each in of_kind(events, "receive")][:3] == [1, 1, 2]


def test_e5_a_win_counts_after_its_passes_and_the_new_count_begins_then():
    points = {"point": {"on": "passes", "count": 2, "do": [{"score": 1}]}}
    events = one_bout(even(seconds=8.0, rules=points, **TWO_PASSES), scripted("on", "won"))
    win = of_kind(events, "win")[0]
    received = [each for each in of_kind(events, "receive") if each["player"].startswith("slate")]
    assert win["t"] == received[1]["t"]
    score = of_kind(events, "score")[0]
    assert (score["side"], score["t"]) == ("slate", received[3]["t"])


def test_e5_a_win_that_goes_over_the_line_before_it_counts_is_contested():
    events = one_bout(even(seconds=8.0, **HOLD_1S), scripted("on", "won", "out"))
    assert [each["kind"] for each in of_kind(events, "contested", "loss", "dead")][:2] == ["contested", "dead"]
    assert of_kind(events, "serve")[1]["side"] == "amber"


def test_e5_the_measures_see_no_turnover_in_a_contested_ball():
    game = even(seconds=12.0, **HOLD_1S)
    log = next(bouts(game, scripted("on", "won", "won"), 1))
    seen = reduce_events(game, log)
    assert (seen.totals["turnovers"], len(seen.possessions.runs)) == (0, 1)
    assert seen.possessions.runs[0].passes == len([each for each in events_of(log) if each["kind"] == "receive"])


def walled(hold_limit: float):
    """The only team mate stands in the other square, and passing there is closed: nobody to pass to."""
    return keep_ball(
        1,
        1,
        seconds=60.0,
        delay=2.0,
        hold_limit_seconds=hold_limit,
        areas={"far": {"length": 12.0, "width": 12.0, "beside": "square", "on": "east"}},
        roles={"mate": {"side": "outside", "style": "free", "place": "far", "players": 1}},
    )


@pytest.mark.parametrize("limit", [2.0, 6.0])
def test_e22_with_nobody_to_pass_to_the_ball_is_lost_at_the_limit_and_the_bout_ends(limit):
    events = one_bout(walled(limit), scripted())
    losses, lives = of_kind(events, "loss"), of_kind(events, "live")
    assert {each["cause"] for each in losses} == {"time limit"}
    for live, loss in zip(lives, losses, strict=False):
        assert loss["t"] - live["t"] == pytest.approx(limit, abs=1e-6)
    assert len(losses) == int(60.0 // (limit + 2.0)) + (60.0 % (limit + 2.0) >= limit)
    assert events[-1]["kind"] == "end" and events[-1]["t"] == 60.0
    assert of_kind(events, "release") == []


def test_e22_a_bout_ends_at_its_whistle_even_if_every_pass_fails_at_once():
    events = one_bout(keep_ball(seconds=20.0, delay=0.0), constant_success(0.0, 1e-3))
    assert events[-1]["kind"] == "end" and events[-1]["t"] == 20.0


def test_e23_when_the_balls_are_used_up_each_restart_waits_for_one():
    game = even(seconds=120.0, supply={"balls": 3, "retrieve_seconds": 10.0})
    events = one_bout(game, scripted(*["out"] * 6))
    dead = [each["t"] for each in of_kind(events, "dead")]
    live = [each["t"] for each in of_kind(events, "live")]
    waits = [back - gone for gone, back in zip(dead, live[1:], strict=False)]
    assert waits == pytest.approx([4.0, 4.0, 14.0, 14.0, 14.0, 14.0])


def test_e23_a_ball_in_hand_uses_up_none():
    game = keep_ball(seconds=60.0, delay=3.0, supply={"balls": 1, "retrieve_seconds": 10.0})
    events = one_bout(game, scripted(*["won"] * 5, then="won"))
    dead = [each["t"] for each in of_kind(events, "dead")]
    live = [each["t"] for each in of_kind(events, "live")]
    assert [back - gone for gone, back in zip(dead, live[1:], strict=False)] == pytest.approx([3.0] * (len(live) - 1))


def test_a_count_of_wins_is_heard_though_the_loss_stops_play_and_fires_once():
    rules = {
        "lost": {"on": "loss", "do": [{"restart": "start"}]},
        "two": {"on": "wins", "count": 2, "do": [{"score": 5, "to": "holder"}]},
        "four": {"on": "wins", "count": 4, "do": [{"end": "bout"}]},
        "each": {"on": "win", "do": [{"score": 1, "to": "holder"}]},
    }
    events = one_bout(keep_ball(seconds=60.0, delay=2.0, rules=rules), scripted(then="won"))
    assert len(of_kind(events, "win")) == 4
    assert [(each["side"], each["value"]) for each in of_kind(events, "score")] == [
        ("inside", value) for value in (1.0, 1.0, 5.0, 1.0, 1.0)
    ]
    assert events[-1]["t"] == of_kind(events, "win")[-1]["t"]


def test_a_reset_of_wins_lets_the_count_fire_again():
    rules = {
        "lost": {"on": "loss", "do": [{"restart": "start"}]},
        "two": {"on": "wins", "count": 2, "do": [{"score": 1, "to": "holder"}, {"reset": "wins"}]},
    }
    events = one_bout(keep_ball(seconds=30.0, delay=2.0, rules=rules), scripted(then="won"))
    wins, scores = of_kind(events, "win"), of_kind(events, "score")
    assert [each["t"] for each in scores] == [each["t"] for each in wins[1::2]]


def test_a_timer_is_heard_while_the_ball_is_dead():
    # The ball is out from 0.84 s to 12.84 s; the window of 5 s ends in between.
    game = even(
        seconds=20.0,
        rules={"shut": {"on": "time", "count": 5.0, "do": [{"phase": "after"}]}},
        phases={"after": {"rules": {"over": {"on": "loss", "do": [{"end": "bout"}]}}}},
        restarts={"out": {"seconds": 12.0}},
    )
    events = one_bout(game, scripted("out"))
    assert [(each["cause"], each["t"]) for each in of_kind(events, "phase")] == [("after", 5.0)]
    assert of_kind(events, "live")[1]["t"] == pytest.approx(CYCLE + 12.0)


def test_a_counter_of_passes_begins_again_with_every_possession():
    points = {"point": {"on": "passes", "count": 3, "do": [{"score": 1}]}}
    events = one_bout(
        even(seconds=14.0, rules=points), scripted("on", "on", "won", *["on"] * 3, "won", *["on"] * 2, "won")
    )
    scores = of_kind(events, "score")
    assert [each["side"] for each in scores[:1]] == ["slate"]
    assert scores[0]["passes"] == 3
    assert [each["passes"] for each in of_kind(events, "receive")][:7] == [1, 2, 1, 2, 3, 1, 2]
