"""Who is charged with a loss: the last to touch the ball for the side that loses it, also while a win waits to be confirmed."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.game.loader import load_game
from sim.pitch.chance import opponents
from sim.pitch.engine import play_bout
from sim.pitch.state import NEVER
from sim.players import draw_roster
from tests.support.scene import meant_for
from tests.theory.games import even, events_of, keep_ball, of_kind, one_bout

LONG_HOLD = {"win": {"confirm": "hold", "seconds": 20.0}}
MANY_PASSES = {"win": {"confirm": "passes", "passes": 9}}
NOT_YET = pytest.mark.parametrize("confirm", [LONG_HOLD, MANY_PASSES], ids=["hold", "passes"])


def told(*script: str, seconds: float = 0.3) -> Callable:
    """A ball goes "on" to whom it is meant, is "won" or only "deflected" by an opponent, or goes "out"; at last always on."""
    left = iter(script)

    def outcome(bout, t: float) -> tuple[int, float, float]:
        word = next(left, "on")
        bout.constants.steal_control = float(word != "deflected")
        if word == "out":
            return -1, NEVER, t + seconds
        if word in ("won", "deflected"):
            return opponents(bout)[0], t + seconds, NEVER
        return meant_for(bout), t + seconds, NEVER

    return outcome


@NOT_YET
def test_whoever_puts_out_the_ball_of_a_winner_not_yet_confirmed_has_lost_it(confirm):
    events = one_bout(even(seconds=6.0, **confirm), told("on", "won", "deflected", "out"))
    last, out = of_kind(events, "deflect")[0], of_kind(events, "out")[0]
    losses = of_kind(events, "loss")
    assert last["player"].startswith("amber") and out["player"] == last["player"]
    assert [(each["side"], each["player"], each["cause"]) for each in losses] == [("amber", last["player"], "out")]
    assert of_kind(events, "serve")[1]["side"] == "slate"


@NOT_YET
def test_it_is_he_who_swaps_roles_for_it(confirm):
    lost = {"lost": {"on": "loss", "do": [{"swap": "loser", "with": "longest in"}, {"restart": "start"}]}}
    free = {"outside": {"style": "free"}}  # a man on the lines could not get a foot in
    game = keep_ball(seconds=6.0, rules=lost, roles=free, **confirm)
    events = one_bout(game, told("on", "won", "deflected", "out"))
    last, swap = of_kind(events, "deflect")[0], of_kind(events, "swap")[0]
    inside = [each["player"] for each in of_kind(events, "job")[:6] if each["cause"] == "inside"]
    assert last["player"] not in inside and swap["player"] == last["player"] and swap["other"] in inside


@NOT_YET
def test_a_winner_not_yet_confirmed_who_puts_it_out_himself_has_lost_nothing(confirm):
    events = one_bout(even(seconds=6.0, **confirm), told("on", "won", "out"))
    assert of_kind(events, "out")[0]["player"].startswith("slate")
    assert of_kind(events, "loss") == []
    assert of_kind(events, "serve")[1]["side"] == "amber"


@NOT_YET
def test_a_winner_not_yet_confirmed_who_holds_it_too_long_has_lost_nothing(confirm):
    alone = {"field": {"players": {"amber": 3, "slate": 1}}}
    events = one_bout(even(seconds=8.0, hold_limit_seconds=2.0, roles=alone, **confirm), told("on", "won"))
    took = of_kind(events, "touch")[4]
    assert took["player"].startswith("slate")
    assert of_kind(events, "loss") == []
    assert of_kind(events, "contested")[0]["t"] == pytest.approx(took["t"] + 2.0)
    assert of_kind(events, "serve")[1]["side"] == "amber"


def test_a_floater_touches_it_for_the_side_he_plays_with():
    roles = {
        "field": {"players": {"amber": 2, "slate": 1}},
        "joker": {"side": "holder", "style": "free", "place": "square", "players": {"white": 1}},
    }
    game = even(seconds=6.0, roles=roles, teams={"white": {}}, **LONG_HOLD)
    events = one_bout(game, told("won", "on", "out"))
    assert of_kind(events, "out")[0]["player"].startswith("white")
    assert of_kind(events, "loss") == []
    assert of_kind(events, "serve")[1]["side"] == "amber"


def test_a_floaters_shot_is_noted_as_it_is_charged():
    goals = {
        "west": {"at": "west end of square", "width": 4.0, "attacked_by": "slate"},
        "east": {"at": "east end of square", "width": 4.0, "attacked_by": "amber"},
    }
    roles = {
        "field": {"players": {"amber": 1, "slate": 1}},
        "joker": {"side": "holder", "style": "free", "place": "square", "players": {"white": 3}},
    }
    phases = {"keep": {"aim": "goal", "open": ["shoot"]}}
    lost = {"lost": {"on": "loss", "causes": ["shot"], "do": [{"reset": "passes"}]}}
    game = even(seconds=60.0, rules=lost, goals=goals, roles=roles, teams={"white": {}}, phases=phases,
                loss={"floater": "last team-mate"})  # fmt: skip
    events = events_of(play_bout(game, draw_roster(game, 1, 0), 1))
    shooters = [each["player"] for each in of_kind(events, "shot")]
    losses = [each for each in of_kind(events, "loss") if each["cause"] == "shot"]
    assert sum(player.startswith("white") for player in shooters) > 2
    assert losses and not [each for each in losses if each["player"].startswith("white")]
    heard = [(each["t"], each["player"]) for each in of_kind(events, "rule")]
    assert heard == [(each["t"], each["player"]) for each in losses]


@pytest.fixture(scope="module")
def to_goals() -> list[list[dict]]:
    """Bouts to goals in which a win counts after two seconds."""
    game = load_game("even-goals", ["win.confirm=hold", "win.seconds=2", "bouts.minutes=4"])
    return [events_of(play_bout(game, draw_roster(game, seed, 0), seed)) for seed in range(12)]


def test_nobody_shoots_before_his_win_counts(to_goals):
    shots = [each for events in to_goals for each in of_kind(events, "shot")]
    assert len(shots) > 10
    assert all(each["player"].startswith(each["side"]) for each in shots)


def test_a_save_counts_as_a_win_at_once_and_every_win_has_its_loss(to_goals):
    saves = 0
    for events in to_goals:
        for k, event in enumerate(events):
            if event["kind"] == "save":
                same = [each for each in events[k:] if each["t"] == event["t"]]
                assert [each["player"] for each in of_kind(same, "win")] == [event["player"]]
                saves += 1
        assert len(of_kind(events, "win")) <= len(of_kind(events, "loss"))
    assert saves > 3
