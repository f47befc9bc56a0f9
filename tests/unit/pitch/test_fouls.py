"""Fouls, where a file declares them: every tackle is one, or none is; and how the ball comes back (E26)."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, to_short
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS
from sim.players import draw_roster
from sim.words.rules import rules_in_words

GAME = {
    "bouts": {"count": 1, "seconds": 180},
    "areas": {"field": {"length": 16, "width": 12}},
    "roles": {"player": {"press": 1.0, "players": {"amber": 4, "slate": 4}}},
}


def played(seed: int = 1, **more: object) -> list[dict]:
    game = load_game(GAME | more)
    return [dict(zip(FIELDS, row, strict=True)) for row in play_bout(game, draw_roster(game, seed, 0), seed).events]


def kinds(events: list[dict]) -> set[str]:
    return {event["kind"] for event in events}


def team(player: str) -> str:
    return player.split("-")[0]


def after(events: list[dict], event: dict, kind: str) -> dict | None:
    """The next event of a kind."""
    return next((one for one in events[events.index(event) :] if one["kind"] == kind), None)


def test_every_tackle_is_a_foul_or_none_is():
    without, never, always = played(), played(fouls={"share": 0}), played(fouls={"share": 1})
    assert without == never and "tackle" in kinds(without) and "foul" not in kinds(without)
    assert "foul" in kinds(always) and "tackle" not in kinds(always)


def test_the_side_that_is_fouled_has_it_where_it_was_and_goes_on_with_its_count():
    events = played(fouls={"share": 1})
    fouls = [event for event in events if event["kind"] == "foul"]
    assert len(fouls) > 3
    for foul in fouls[:-1]:
        dead, serve, live = (after(events, foul, kind) for kind in ("dead", "serve", "live"))
        assert dead["t"] == serve["t"] == foul["t"] and dead["cause"] == "foul"
        assert (dead["x"], dead["y"]) == (foul["x"], foul["y"])
        assert serve["side"] == team(foul["other"]) != team(foul["player"]) and serve["detail"] == "line"
        assert live["t"] >= foul["t"] + 2.0 and serve["passes"] == foul["passes"]
    assert any(foul["passes"] > 0 for foul in fouls)
    assert not any(event["kind"] == "loss" and event["t"] in {foul["t"] for foul in fouls} for event in events)


def test_before_a_win_counts_a_foul_of_those_who_had_it_is_their_loss():
    events = played(fouls={"share": 1}, win={"confirm": "hold", "seconds": 5})
    early = [event for event in events if event["kind"] == "foul" and after(events, event, "loss") is not None]
    early = [event for event in early if after(events, event, "loss")["t"] == event["t"]]
    assert early
    for foul in early:
        loss, serve = after(events, foul, "loss"), after(events, foul, "serve")
        assert (loss["cause"], loss["side"]) == ("rule fault", team(foul["player"]))
        assert serve["side"] == team(foul["other"])


def test_the_restart_is_the_files_own():
    events = played(fouls={"share": 1}, restarts={"foul": {"to": "loser", "seconds": 6}})
    foul = next(event for event in events if event["kind"] == "foul")
    serve, live = after(events, foul, "serve"), after(events, foul, "live")
    assert (serve["side"], serve["detail"]) == (team(foul["player"]), "server") and live["t"] == foul["t"] + 6.0


def test_the_words_say_it():
    with_fouls, without = load_game(GAME | {"fouls": {"share": 0.1}}), load_game(GAME)
    said = " ".join(rules_in_words(with_fouls).split())
    assert (
        "About 10 % of tackles are fouls, handball and kicking it away counted in: the ball goes to the side that was fouled"
        in said
    )
    assert "are fouls" not in rules_in_words(without)


def test_a_share_is_a_share():
    with pytest.raises(InputError, match="fouls.share must be"):
        load_game(GAME | {"fouls": {"share": 15}})


def test_restarts_stand_in_one_order_whoever_wrote_them():
    """A file made of the game says them all: with a goal for both and fouls they came in another order than those filled in."""
    short = {
        "goals": {"one": {"at": "west end of square", "width": 2, "attacked_by": "any"}},
        "areas": {"square": {"length": 20, "width": 14}},
        "roles": {"player": {"players": {"amber": 2, "slate": 2}}},
        "fouls": {"share": 0.5},
    }
    game = load_game(short)
    assert [one.name for one in game.restarts] == ["start", "out", "foul", "goal"]
    assert load_game(to_short(game)).restarts == game.restarts
