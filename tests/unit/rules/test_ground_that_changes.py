"""Areas that shrink or grow, and players who come in one by one: with the word, and without it."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, resolve, to_short
from sim.report.bout_data import bout_data
from sim.words.rules import rules_in_words
from tests.theory.games import bouts, even, events_of, keep_ball, of_kind, one_bout, scripted

KEPT_AND_OUT = ["on", "on", "out"] * 6


def shrinking(*script: str, **resize: object) -> list[dict]:
    """A square of 12 m that changes with every two passes in a row."""
    rules = {"out": {"on": "out", "do": [{"restart": "start"}]}}
    if resize:
        rules["two"] = {"on": "passes", "count": 2, "do": [{"resize": "square", **resize}]}
    game = keep_ball(seconds=24.0, delay=1.0, rules=rules)
    assert resolve(to_short(game), game.name) == game and rules_in_words(game)
    return one_bout(game, scripted(*script))


def sizes(events: list[dict]) -> list[tuple[float, float]]:
    return [(each["x"], each["y"]) for each in of_kind(events, "ground")]


def test_a_point_shrinks_the_square_down_to_a_least():
    events = shrinking(*KEPT_AND_OUT, by=-3, to=7)
    assert sizes(events) == [(9.0, 9.0), (7.0, 7.0)]
    assert not of_kind(shrinking(*KEPT_AND_OUT), "ground")
    # It is so from the next dead ball on, and all play is within the new lines from then on.
    dead = [each["t"] for each in of_kind(events, "dead")]
    assert [each["t"] for each in of_kind(events, "ground")] == dead[:2]
    live = [each["t"] for each in of_kind(events, "live") if each["t"] > dead[1]][0] + 4.0
    played = [each for each in of_kind(events, "touch") if each["t"] > live]
    run_off = 2.0
    assert played and max(max(abs(each["x"]), abs(each["y"])) for each in played) <= 3.5 + run_off


def test_it_grows_up_to_a_most():
    assert sizes(shrinking(*KEPT_AND_OUT, by=2, to=15)) == [(14.0, 14.0), (15.0, 15.0)]


@pytest.mark.parametrize("order", [[0, 1], [1, 0]])
def test_where_the_ball_is_dead_it_is_so_at_once(order):
    do = [{"resize": "square", "by": -2, "to": 8}, {"restart": "start"}]
    rules = {"out": {"on": "out", "do": [do[k] for k in order]}}
    events = one_bout(keep_ball(seconds=6.0, delay=1.0, rules=rules), scripted("on", "out"))
    (changed,) = of_kind(events, "ground")
    assert changed["t"] == of_kind(events, "dead")[0]["t"] and (changed["x"], changed["y"]) == (10.0, 10.0)
    assert len(of_kind(events, "live")) == 2


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"resize": {"by": 0, "to": 8}}, ".by must be -50 to 50 metres, not 0 (got 0.0)"),
        ({"resize": {"by": -1, "to": 30}}, ".to must be at most the shorter side, 24 (got 30.0)"),
        (
            {"areas": {"next": {"length": 10, "width": 10, "beside": "square", "on": "east"}}},
            " must be of an area that touches no other at any size (got areas.next)",
        ),
        (
            {"goals": {"goal": {"at": "west end of square", "width": 4}}},
            " must be of an area whose lines come by no goal (got goals.goal)",
        ),
        (
            {"gates": {"gate": {"within": "square", "width": 20}}},
            " must be of an area whose lines come by no gate (got gates.gate)",
        ),
        (
            {"zones": {"box": {"within": "square", "length": 12, "width": 6}}},
            " must be of an area whose lines come by no zone (got zones.box)",
        ),
        (
            {"zones": {"box": {"at": "west end of square", "depth": 4}}, "resize": {"by": 1, "to": 30}},
            " must be of an area whose lines come by no zone (got zones.box)",
        ),
    ],
)
def test_what_cannot_be_marked_out_is_refused(more, told):
    change = {"resize": "square", "by": -1, "to": 8} | more.pop("resize", {})
    rules = {"point": {"on": "pass", "do": [change, {"score": 1}]}} | (
        {"gate": {"on": "pass", "through": "gate", "do": [{"score": 1}]}} if "gates" in more else {}
    )
    with pytest.raises(InputError) as caught:
        even(rules=rules, **more)
    assert list(caught.value.problems) == [f"phases.keep.rules.point.do.resize{told}"]


def test_a_zone_inside_at_every_size_may_stay_where_it_is():
    rules = {"point": {"on": "pass", "do": [{"resize": "square", "by": -1, "to": 8}]}}
    (zone,) = even(rules=rules, zones={"box": {"within": "square", "length": 6, "width": 6}}).zones
    assert zone.bounds == (-3.0, -3.0, 3.0, 3.0)


def entering(*script: str, entry: bool = True, exit_all: bool = True) -> list[dict]:
    """Four against one, and two who wait: one more with every two passes, and all of them off again on a loss."""
    roles = {
        "extra": {"side": "inside", "style": "free", "place": "square"},
        "bench": {"side": "inside", "style": "wait", "place": "square", "players": 2},
    }
    rules: dict = {"lost": {"on": "loss", "do": [{"restart": "start"}]}}
    if entry:
        enters = {"assign": "extra", "of": "other", "from": "bench", "count": 1, "choose": "next on the list"}
        rules["more"] = {"on": "passes", "count": 2, "each": True, "do": [enters]}
    else:
        del roles["extra"]
    if exit_all and entry:
        rules["lost"]["do"].insert(0, {"assign": "bench", "of": "all", "from": "extra"})
    return one_bout(keep_ball(4, 1, seconds=16.0, delay=1.0, roles=roles, rules=rules), scripted(*script))


def taking(events: list[dict], role: str) -> list[tuple[str, float]]:
    return [(each["player"], each["t"]) for each in of_kind(events, "job") if each["cause"] == role and each["t"] > 0]


def test_one_more_comes_in_with_every_two_passes_and_all_go_off_on_a_loss():
    script = ["on"] * 6 + ["won"] + ["on"] * 20
    events = entering(*script)
    second, fourth = [each["t"] for each in of_kind(events, "receive")][1:4:2]
    lost = of_kind(events, "loss")[0]["t"]
    assert taking(events, "extra")[:2] == [("squad-6", second), ("squad-7", fourth)]
    assert sorted(taking(events, "bench")) == [("squad-6", lost), ("squad-7", lost)]
    assert not taking(entering(*script, exit_all=False), "bench")
    assert not taking(entering(*script, entry=False), "extra")


def test_the_replay_knows_how_the_ground_changes():
    rules = {"out": {"on": "out", "do": [{"resize": "square", "by": -2, "to": 8}, {"restart": "start"}]}}
    game = keep_ball(seconds=6.0, delay=1.0, rules=rules)
    (log,) = bouts(game, scripted("on", "out"), 1)
    (changed,) = of_kind(events_of(log), "ground")
    (area,) = bout_data(game, log, "")["ground"]["areas"]
    before, after = area["marked"]
    assert before == (0.0, (-6.0, -6.0, 6.0, 6.0)) and after == (round(changed["t"], 3), (-5.0, -5.0, 5.0, 5.0))
    (still,) = bouts(keep_ball(seconds=6.0, delay=1.0), scripted("on", "out"), 1)
    assert "marked" not in bout_data(game, still, "")["ground"]["areas"][0]


def test_waves_go_on_with_the_next_of_each_queue():
    game = load_game(Path(__file__).resolve().parents[2] / "cases" / "language" / "waves.toml", ["bouts.seconds=40"])
    events = one_bout(game, scripted(*["on", "won"] * 8))
    role, turns = {}, []
    for each in events:
        if each["kind"] == "job":
            role[each["player"]] = each["cause"]
        if each["kind"] in ("release", "end") and turns:
            playing = [player.split("-")[0] for player, name in role.items() if name == "player"]
            assert (playing.count(turns[-1]), len(playing)) == (3, 5)
        if each["kind"] == "loss":
            turns.append({"amber": "slate", "slate": "amber"}[each["side"]])
    came = [each["player"] for each in of_kind(events, "job") if each["cause"] == "player" and each["t"] > 0]
    assert len(turns) > 4 and len(came) == len(turns)
    slates = [player for player in came if player.startswith("slate")]
    assert len(set(slates[:3])) == 3, "each of the queue in turn"
