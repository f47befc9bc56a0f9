"""Three colours, each for itself: rules that go by who wears what, and bouts and series that a colour wins."""

from __future__ import annotations

from collections import Counter

from sim.game.loader import load_game, resolve, to_short
from sim.pitch.log import FIELDS, BoutLog
from sim.pitch.session import bouts_in_turn
from sim.players import typical_roster
from sim.rules.series import sole_best
from sim.words.rules import rules_in_words

GAME = {
    "bouts": {"count": 5, "minutes": 4, "best_of": True, "first_to": 3, "points_by": "colour"},
    "areas": {"field": {"length": 15, "width": 13}},
    "roles": {
        "keeping": {"side": "keeping", "touches": 3, "players": {"amber": 4, "slate": 4}},
        "hunting": {"side": "hunting", "players": {"white": 4}},
    },
    "rules": {
        "four": {"on": "passes", "count": 4, "by": "keeping", "each": True, "do": [{"score": 1}]},
        "white": {"on": "loss", "colour": "white", "do": [{"score": 0.5, "to": "winner"}]},
        "lost": {
            "on": "loss",
            "by": "keeping",
            "do": [{"swap": "loser's team", "with": "winner"}, {"restart": "start"}],
        },
    },
    "restarts": {"start": {"seconds": 3}, "out": {"to": "keeping"}},
}


def played(seed: int = 5, **bouts: object) -> list[BoutLog]:
    game = load_game(GAME | {"bouts": GAME["bouts"] | bouts})
    return list(bouts_in_turn(game, typical_roster(game), seed, 0))


def by_hand(log: BoutLog) -> tuple[Counter[str], list[Counter[str]]]:
    """The points of every colour, read off the log, and how they stood after each."""
    role: dict[str, str] = {}
    points: Counter[str] = Counter()
    stood = []
    for event in (dict(zip(FIELDS, row, strict=True)) for row in log.events):
        if event["kind"] == "job":
            role[event["player"]] = event["cause"]
        if event["kind"] == "score":
            points.update({one.split("-")[0]: 0.0 for one in role})
            for team in {player.split("-")[0] for player, now in role.items() if now == event["side"]}:
                points[team] += event["value"]
            stood.append(Counter(points))
    return points, stood


def test_a_bout_is_over_when_a_colour_has_its_points():
    logs = played()
    for log in logs:
        points, stood = by_hand(log)
        assert dict(log.colours) == {team: had for team, had in points.items() if had}
        assert all(max(one.values()) < 3 for one in stood[:-1]), "and not before"
    early = [log for log in logs if log.duration_s < 240]
    assert early and all(max(by_hand(log)[0].values()) >= 3 for log in early)


def test_by_side_the_same_bout_is_over_at_other_points():
    told_apart = 0
    for seed in range(1, 12):
        (colours,), (sides,) = (
            played(seed, count=1, best_of=False, first_to=6, points_by=by) for by in ("colour", "side")
        )
        assert max(dict(sides.points).values()) == 6 <= max(dict(colours.colours).values())
        told_apart += sides.duration_s != colours.duration_s
    assert told_apart


def test_the_series_is_over_when_a_colour_has_won_more_than_half():
    lengths = set()
    for seed in range(10):
        logs = played(seed, first_to=8)
        winners = [sole_best(by_hand(log)[0]) for log in logs]
        before = Counter(one for one in winners[:-1] if one is not None)
        assert max(before.values(), default=0) < 3
        assert len(logs) == 5 or Counter(winners)[winners[-1]] == 3
        lengths.add(len(logs))
    assert min(lengths) < 5, "some were decided early"


def test_who_has_most_is_one():
    assert sole_best({"amber": 2.0, "slate": 1.0}) == "amber"
    assert sole_best({"amber": 2.0, "slate": 2.0, "white": 1.0}) is None and sole_best({}) is None


def test_a_rule_for_a_colour_answers_to_those_who_wear_it_on_whichever_side():
    rules, losses = [], []
    for log in played(first_to=30):
        events = [dict(zip(FIELDS, row, strict=True)) for row in log.events]
        rules += [event["player"] for event in events if (event["kind"], event["cause"]) == ("rule", "white")]
        losses += [event["player"] for event in events if event["kind"] == "loss"]
    assert rules == [one for one in losses if one.startswith("white")] and 0 < len(rules) < len(losses)


def test_the_words():
    game = load_game(GAME)
    said = " ".join(rules_in_words(game).split())
    assert "If white lose it: 0.5 points for the other side." in said
    assert "A bout is over when a colour has three points" in said and "it is over when a colour has won three" in said
    assert "a point of theirs is one for each colour among them then" in said
    assert resolve(to_short(game), game.name) == game
