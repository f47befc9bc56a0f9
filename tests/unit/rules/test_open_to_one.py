"""What is open to one side alone: the log of a pair of files that differ in just that."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.pitch.log import FIELDS
from sim.pitch.zone_limits import closed_zones
from sim.players import draw_roster
from sim.words.rules import rules_in_words
from tests.unit.rules.desk import standing_of

SECONDS = {"bouts": {"count": 1, "seconds": 150}}
SQUARE = {"length": 14, "width": 14}
GROUND = {
    "areas": {"field": {"length": 24, "width": 20}},
    "roles": {"player": {"players": {"amber": 4, "slate": 4}}},
}


def played(game: dict, seed: int = 1) -> tuple:
    """A bout, and its events by their fields."""
    ready = load_game(SECONDS | game)
    log = play_bout(ready, draw_roster(ready, seed, 0), seed)
    return log, [dict(zip(FIELDS, event, strict=True)) for event in log.events]


def to_goals(**word: str) -> dict:
    """Two passes in a row open the goals, which close with a goal."""
    goal = {"at": "west end of field", "width": 6, "height": 2, "attacked_by": "slate", "other_side": True}
    return GROUND | {
        "goals": {"west-goal": goal},
        "phases": {"play": {"aim": "goal", "open": []}},
        "rules": {
            "two": {"on": "passes", "count": 2, "do": [{"open": "shoot"} | word]},
            "goal": {"on": "goal", "do": [{"score": 1}, {"close": "shoot"} | word, {"restart": "out"}]},
        },
    }


def shots_not_earned(events: list[dict]) -> tuple[int, int]:
    """(shots, those of a side that has not made two passes in a row since its last goal)."""
    earned, shots, unearned = set(), 0, 0
    side = {event["player"]: event["player"].split("-")[0] for event in events if event["player"]}
    for event in events:
        if event["kind"] == "receive" and event["passes"] >= 2:
            earned.add(event["side"])
        elif event["kind"] == "goal":
            earned.discard(side[event["other"]])
        elif event["kind"] == "shot":
            shots, unearned = shots + 1, unearned + (side[event["player"]] not in earned)
    return shots, unearned


def test_each_side_earns_its_shots_on_its_own():
    alone = [shots_not_earned(played(to_goals(**{"for": "holder"}), seed)[1]) for seed in (1, 2, 3)]
    both = [shots_not_earned(played(to_goals(), seed)[1]) for seed in (1, 2, 3)]
    assert sum(shots for shots, _ in alone) > 5 and sum(wrong for _, wrong in alone) == 0
    assert sum(wrong for _, wrong in both) > 0, "the pair shows no difference"


def test_the_words_say_for_whom():
    words = rules_in_words(load_game(to_goals(**{"for": "holder"}))).replace("\n    ", " ")
    assert "After two passes in a row: shots at goal count for that side alone." in words
    assert "shots at goal no longer count for the side that scored" in words
    assert "shots at goal count." in rules_in_words(load_game(to_goals()))


def across(open_for: dict) -> dict:
    """Two squares; the way across is open to some from the start."""
    return {
        "areas": {"field": SQUARE, "far": SQUARE | {"beside": "field", "on": "east", "gap": 4}},
        "roles": {
            "player": {"players": {"amber": 3, "slate": 3}},
            "there": {"side": "holder", "place": "far", "players": {"white": 3}},
        },
        "phases": {"play": {"open": [], "open_for": open_for}},
        "rules": {"over": {"on": "transfer", "do": [{"score": 1}, {"restart": "out"}]}},
        "restarts": {"out": {"to": "other", "area": "field"}},
    }


def test_only_the_side_to_which_it_is_open_plays_across():
    one, two = (
        {event["side"] for event in played(across(open_for))[1] if event["detail"] == "transfer"}
        for open_for in ({"amber": ["transfer"]}, {"amber": ["transfer"], "slate": ["transfer"]})
    )
    assert one == {"amber"} and two == {"amber", "slate"}


def with_an_end(closed_to: list[str], open_for: dict) -> tuple:
    """The events of a bout with an end zone that is closed to some and opened to one side."""
    zone = {"at": "west end of field", "depth": 7, "closed_to": closed_to}
    reward = {"on": ["pass", "carry"], "to": "west-end", "do": [{"score": 1}]}
    phases = {"play": {"open_for": open_for}}
    return played(GROUND | {"zones": {"west-end": zone}, "phases": phases, "rules": {"in": reward}})[0].events


def test_a_zone_that_is_open_to_one_side_is_as_one_that_is_closed_to_the_other():
    closed = with_an_end(["amber"], {})
    assert with_an_end(["amber", "slate"], {"slate": ["west-end"]}) == closed
    assert with_an_end(["amber", "slate"], {"amber": ["west-end"], "slate": ["west-end"]}) != closed


@pytest.mark.parametrize("who", ["holder", "other", "player"])
def test_whom_a_zone_is_closed_to_that_is_open_to_one_side(who):
    zone = {"at": "west end of field", "depth": 7, "closed_to": [who]}
    phases = {"play": {"open_for": {"slate": ["west-end"]}}}
    game = load_game(SECONDS | GROUND | {"zones": {"west-end": zone}, "phases": phases})
    standing = standing_of(game)
    standing.open_first()
    for standing.playing in ("amber", "slate"):
        shut = {game.players[i].team for i in range(len(game.players)) if standing.shut_to(i)}
        meant = {"holder": {standing.playing}, "other": {"amber", "slate"} - {standing.playing}}.get(who, {"amber"})
        assert shut == meant - {"slate"}
        written = [(word, side) for _, word, side in closed_zones(standing, {"amber": 0, "slate": 1})]
        assert written == ([(who, "amber" if who == "player" else None)] if shut else [])


def test_closed_to_one_side_it_stays_open_to_the_other():
    standing = standing_of(load_game(to_goals()))
    assert standing.allow("shoot", None) and not standing.allow("shoot", "amber")
    standing.bar("shoot", "amber")
    assert [standing.is_open("shoot", side) for side in ("amber", "slate")] == [False, True]
    standing.bar("shoot", None)
    assert not standing.is_open("shoot", "slate")


REFUSED = {
    "shut": (
        {"open_for": {"slate": ["west-end"]}},
        {"more": {"on": "carry", "to": "west-end", "by": "amber", "do": [{"score": 2}]}},
        "rules.more.to must be a zone that is open to who has the ball",
    ),
    "nobody": (
        {"open_for": {"green": ["shoot"]}},
        {},
        'phases.play.open_for.green must be a side: amber or slate (got "green")',
    ),
    "both": (
        {"open": ["shoot"], "open_for": {"slate": ["shoot"]}},
        {},
        "phases.play.open_for.slate must be left out, as phases.play.open opens it to both sides",
    ),
    "keeps": (
        {"open": [], "aims": {"slate": "keep"}, "open_for": {"slate": ["shoot"], "amber": ["shoot"]}},
        {},
        "phases.play.open_for.slate must be a side that goes for goal, by phases.play.aim or aims",
    ),
    "already": (
        {"open": [], "open_for": {"slate": ["shoot"], "amber": ["shoot"]}},
        {"more": {"on": "passes", "count": 3, "do": [{"open": "shoot", "for": "slate"}]}},
        "rules.more.do.open must open what is closed to slate until then",
    ),
    "loser": (
        {"open": ["shoot"]},
        {"more": {"on": "passes", "count": 3, "do": [{"close": "shoot", "for": "loser"}]}},
        'rules.more.do.close.for must be holder or a side, as on = "passes" has no winner and no loser',
    ),
    "never": (
        {"open": [], "open_for": {"slate": ["shoot"]}},
        {"more": {"on": "goal", "by": "amber", "do": [{"score": 2}]}},
        'rules.more.by must be a side to which shoot is opened (got "amber")',
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_played_is_refused(case):
    phase, rules, message = REFUSED[case]
    zones = {"zones": {"west-end": {"at": "west end of field", "depth": 5, "closed_to": ["holder"]}}}
    game = to_goals() | (zones if case == "shut" else {})
    with pytest.raises(InputError) as caught:
        load_game(game | {"phases": {"play": {"aim": "goal"} | phase}, "rules": rules})
    assert message in str(caught.value)
