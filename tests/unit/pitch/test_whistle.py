"""A shot struck before the whistle stands: the bout ends with it, the rules answer, and the clocks say what was played."""

from __future__ import annotations

from functools import cache

import pytest

from sim.game.loader import load_game
from sim.game.model import Rule
from sim.game.verbs import EndBout, OpenWindow, Score
from sim.measures.event_reducer import reduce_events
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.theory.games import events_of, of_kind

RESULTS = ("goal", "save", "miss", "block")
# Nobody plans his effort by the length of the bout, so a shorter one begins as the longer one does; and anybody shoots.
CARELESS = {"pacing": 0.0, "shot_worth": 0.05, "shot_least": 0.01}


def played(seconds: float, seed: int):
    game = load_game("even-goals")
    game = game.model_copy(update={"bouts": game.bouts.model_copy(update={"seconds": seconds})})
    log = play_bout(game, draw_roster(game, seed, 0), seed, assumptions=CARELESS)
    return game, log, events_of(log)


@cache
def shots() -> dict[str, tuple[int, float, float]]:
    """One shot for every result: (seed, struck, ended)."""
    found = {}
    for seed in range(12):
        _, _, events = played(240.0, seed)
        struck = 0.0
        for event in events:
            if event["kind"] == "shot":
                struck = event["t"]
            elif event["kind"] in RESULTS:
                found.setdefault(event["kind"], (seed, struck, event["t"]))
        if len(found) == len(RESULTS):
            break
    return found


@pytest.mark.parametrize("result", RESULTS)
def test_a_shot_on_its_way_is_waited_for(result: str):
    seed, struck, ended = shots()[result]
    whistle = 0.5 * (struck + ended)
    game, log, events = played(whistle, seed)
    assert of_kind(events, "shot")[-1]["t"] == struck < whistle
    last = of_kind(events, *RESULTS)[-1]
    assert (last["kind"], last["t"]) == (result, ended)
    assert log.duration_s == events[-1]["t"] == ended
    assert events[-1]["kind"] == "end" and events[-2]["t"] == ended
    assert log.segments["t1"].max() == ended
    if result == "goal":
        score = of_kind(events, "score")[-1]
        assert (score["t"], score["side"], score["value"]) == (ended, last["side"], 1.0)
    seen = reduce_events(game, log)
    assert seen.totals["shots"] == len(of_kind(events, *RESULTS))
    assert 0.0 < seen.exposure.clock <= log.duration_s


@pytest.mark.parametrize("result", RESULTS)
def test_a_rule_that_ends_the_bout_waits_for_it_too(result: str):
    seed, struck, ended = shots()[result]
    game = load_game("even-goals")
    over = Rule(name="over", on="time", count=0.5 * (struck + ended), causes=(), each=False, do=(EndBout(),))
    phase = game.phases[0].model_copy(update={"rules": (*game.phases[0].rules, over)})
    log = play_bout(
        game.model_copy(update={"phases": (phase,)}), draw_roster(game, seed, 0), seed, assumptions=CARELESS
    )
    events = events_of(log)
    assert (of_kind(events, *RESULTS)[-1]["kind"], of_kind(events, *RESULTS)[-1]["t"]) == (result, ended)
    assert log.duration_s == events[-1]["t"] == ended


def after_a_loss() -> tuple[int, float, float, float]:
    """A shot for which the others had lost the ball before: (seed, when they lost it last, struck, ended)."""
    for seed, struck, ended in shots().values():
        _, _, events = played(ended, seed)
        (shooter,) = {each["side"] for each in of_kind(events, "shot") if each["t"] == struck}
        losses = [each for each in of_kind(events, "loss") if each["t"] < struck and each["side"] != shooter]
        if losses and losses[-1]["cause"] != "shot":  # a rule on the miss may have stopped play before
            return seed, losses[-1]["t"], struck, ended
    raise AssertionError("no shot after a loss: the scene is wrong")


def test_a_window_does_not_close_while_a_shot_is_waited_for():
    seed, lost, struck, ended = after_a_loss()
    window = OpenWindow(length=0.5 * (struck + ended) - lost, unit="seconds")
    opens = Rule(name="opens", on="loss", causes=(), each=False, do=(window,))
    late = Rule(name="late", on="not won back", causes=(), each=False, do=(Score(value=1.0, to="winner"),))
    for whistle, closes in ((ended + 1.0, True), (struck + 0.25 * (ended - struck), False)):
        game = load_game("even-goals")
        phase = game.phases[0].model_copy(update={"rules": (*game.phases[0].rules, opens, late)})
        bouts = game.bouts.model_copy(update={"seconds": whistle})
        game = game.model_copy(update={"phases": (phase,), "bouts": bouts})
        found = events_of(play_bout(game, draw_roster(game, seed, 0), seed, assumptions=CARELESS))
        told = [each["t"] for each in of_kind(found, "rule") if each["cause"] == "late" and each["t"] > struck]
        assert (told[:1] == [pytest.approx(lost + window.length)]) == closes


def test_a_goal_that_ends_the_bout_ends_it_at_once():
    game = load_game("even-goals")
    golden = Rule(name="goal", on="goal", causes=(), each=False, do=(EndBout(),))
    phase = game.phases[0].model_copy(update={"rules": (golden,)})
    game = game.model_copy(update={"phases": (phase,)})
    ended = 0
    for seed in range(4):
        log = play_bout(game, draw_roster(game, seed, 0), seed, assumptions=CARELESS)
        goals = of_kind(events_of(log), "goal")
        if goals:
            assert [event[2] for event in log.events[-5:]] == ["goal", "loss", "rule", "dead", "end"]
            assert log.duration_s == goals[0]["t"] and len(goals) == 1
            ended += 1
    assert ended > 1


def test_nothing_but_a_shot_is_waited_for():
    seed, struck, _ = shots()["goal"]
    _, log, events = played(struck, seed)  # at the same moment: what happens at the very end still counts
    assert of_kind(events, "shot")[-1]["t"] == struck < log.duration_s
    _, log, events = played(struck - 1e-3, seed)
    assert log.duration_s == struck - 1e-3
    assert len(of_kind(events, "shot")) == len(of_kind(events, *RESULTS))
