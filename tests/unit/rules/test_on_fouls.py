"""Rules that answer to a foul: whose it was, in which role, where; and what the loser and the winner of one are."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.having import sides_scoring
from sim.game.loader import load_game, resolve, to_short
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS
from sim.players import draw_roster
from sim.words.diagram_words import unlocking
from sim.words.edge_cases import LAST_TOUCH, edge_cases_in_words
from sim.words.rules import rules_in_words
from tests.support.read_from_log import misplayed

GAME = {
    "bouts": {"count": 1, "seconds": 180},
    "areas": {"field": {"length": 14, "width": 11}},
    "zones": {"left": {"at": "west half of field"}},
    "fouls": {"share": 0.9},
    "roles": {
        "keeping": {"players": 4},
        "hunter": {"side": "hunters", "players": 2, "press": 1.0},
        "helper": {"side": "hunters", "players": 2, "press": 1.0},
    },
}


def played(rule: dict, seed: int = 2, **more: object) -> tuple[list[dict], list[dict]]:
    """The fouls of a bout with one rule, and the events in which that rule answers, each with what stands behind it."""
    rules = {"foul": {"on": "foul", **rule}, "lost": {"on": "loss", "by": "keeping", "do": [{"restart": "start"}]}}
    game = load_game(GAME | {"rules": rules} | more)
    log = play_bout(game, draw_roster(game, seed, 0), seed)
    assert misplayed(game, log) == []
    events = [dict(zip(FIELDS, event, strict=True)) for event in log.events]
    answered = [
        event | {"after": events[k + 1]}
        for k, event in enumerate(events)
        if (event["kind"], event["cause"]) == ("rule", "foul")
    ]
    return [event for event in events if event["kind"] == "foul"], answered


def times(events: list[dict]) -> list[float]:
    return [event["t"] for event in events]


def test_every_foul_is_a_point_for_those_who_were_fouled():
    for to, gets in ({}, "keeping"), ({"to": "winner"}, "keeping"), ({"to": "loser"}, "hunters"):
        fouls, answered = played({"do": [{"score": 1} | to]})
        assert len(fouls) > 3 and times(answered) == times(fouls)
        assert {(one["side"], one["after"]["kind"], one["after"]["side"]) for one in answered} == {
            ("hunters", "score", gets)
        }


def test_a_foul_of_one_side_one_role_or_in_one_zone():
    do = {"do": [{"score": 1}]}
    assert played({"by": "keeping"} | do)[1] == []
    for key, told in (
        ("by_role", lambda foul: foul["player"] in ("squad-7", "squad-8")),
        ("from", lambda foul: foul["x"] <= 0.0),
    ):
        fouls, answered = played({key: {"by_role": "helper", "from": "left"}[key]} | do)
        meant = [foul for foul in fouls if told(foul)]
        assert 0 < len(meant) < len(fouls) and times(answered) == times(meant)


def test_who_fouls_changes_places_with_whom_he_fouled():
    fouls, answered = played({"do": [{"swap": "loser", "with": "winner"}]})
    assert [(one["after"]["kind"], one["after"]["player"], one["after"]["other"]) for one in answered] == [
        ("swap", foul["player"], foul["other"]) for foul in fouls
    ]


def test_a_rule_may_bring_another_ball_than_the_free_restart():
    do = {"do": [{"restart": "again"}]}
    fouls, answered = played(do, restarts={"again": {"to": "loser", "seconds": 5}})
    assert fouls and all(one["after"]["kind"] == "dead" for one in answered)


def test_the_words():
    rules = {
        "foul": {"on": "foul", "by": "hunters", "do": [{"score": 2}]},
        "helper": {"on": "foul", "by_role": "helper", "to_role": "keeping", "from": "left", "do": [{"end": "bout"}]},
        "swap": {"on": "foul", "do": [{"swap": "loser", "with": "winner"}, {"restart": "start"}]},
    }
    game = load_game(GAME | {"rules": rules})
    said = " ".join(rules_in_words(game).split())
    assert "If the hunters foul: two points for the side that was fouled." in said
    assert "On a foul by a helper on a keeping player in the left zone: the bout is over." in said
    assert "On a foul: whoever fouled swaps with whoever was fouled (else the one who has been in longest);" in said
    assert "About 90 % of tackles are fouls, handball and kicking it away counted in." in said, "a rule brings the ball"
    assert "a foul: whoever fouled swaps with whoever was fouled" in unlocking(game)
    assert LAST_TOUCH not in edge_cases_in_words(game)
    assert resolve(to_short(game), game.name) == game
    assert sides_scoring(game) == ("keeping",), "who has the ball is fouled"


@pytest.mark.parametrize("share", [{}, {"fouls": {"share": 0}}])
def test_where_nothing_is_a_foul_no_rule_waits_for_one(share):
    with pytest.raises(InputError, match="must go with fouls.share, .* above 0"):
        load_game(
            {key: table for key, table in GAME.items() if key != "fouls"}
            | share
            | {"rules": {"foul": {"on": "foul", "do": [{"score": 1}]}}}
        )
