"""Which areas form one ground, and where a ball can be between two."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.borders import apart, ground, touch, touching
from sim.game.loader import load_game, resolve, to_short
from sim.game.model import Area
from tests.support.rules_said import rules_said
from tests.support.several_areas import HALVES, game_of, halves


def area(name, west, south, east, north):
    return Area(
        name=name, length=east - west, width=north - south, x=(west + east) / 2, y=(south + north) / 2, run_off=3.0
    )


A, B, C = area("a", 0, 0, 10, 10), area("b", 10, 5, 20, 15), area("c", 20, 5, 30, 15)
CORNER, APART, INNER = area("corner", 10, -10, 20, 0), area("apart", 0, 16, 10, 20), area("inner", 5, 2, 10, 8)


def test_areas_touch_along_a_stretch_of_line():
    assert touch(A, B) and touch(B, A)
    assert not touch(A, CORNER)  # a corner is no stretch
    assert not touch(A, APART) and not touch(A, INNER) and not touch(A, A)


def test_a_ground_is_all_that_touches_and_what_touches_that():
    areas = (C, B, A, CORNER, APART, INNER)
    assert [one.name for one in ground(areas, "a")] == ["c", "b", "a", "inner"]
    assert [one.name for one in ground(areas, "apart")] == ["apart"]
    assert "a" not in [one.name for one in ground(areas, "inner")]  # it is marked out in that


def pairs(found):
    return [(one.name, other.name) for one, other in found]


def test_pairs_of_a_game():
    assert pairs(touching(game_of(halves()))) == [("west", "east")] and not apart(game_of(halves()))
    assert pairs(apart(game_of(halves(gap=3.0)))) == [("west", "east")] and not touching(game_of(halves(gap=3.0)))
    assert not apart(game_of(halves(gap=3.0, phases={"play": {}})))  # nothing is ever played across
    row = dict(HALVES) | {"far": {"length": 14, "width": 16, "beside": "east", "on": "east"}}
    role = {"side": "team", "style": "free", "place": "far", "players": {"amber": 1}}
    three = halves(areas=row)
    three["roles"]["far"] = role
    assert pairs(touching(game_of(three))) == [("west", "east"), ("east", "far")]
    assert not apart(game_of(three))  # all of the ground between west and far is in play
    assert not touching(load_game("break-away")) and not apart(load_game("break-away"))


@pytest.mark.parametrize(
    "short",
    [
        halves(gap=3.0, phases={"play": {}}),  # over the line is out anyway
        halves(areas={"west": {"length": 20, "width": 20}, "east": {"length": 8, "width": 8, "within": "west"}}),
    ],
    ids=["apart and closed", "one inside the other"],
)
def test_out_is_refused_where_it_would_change_nothing(short):
    with pytest.raises(InputError) as caught:
        game_of(short | {"between_areas": "out"})
    assert caught.value.problems == (
        'between_areas must be left out, as no ball can be between two areas here (got "out")',
    )


LINE = "The line between the left area and the right area is not out: whoever gets to the ball first has it"


def said(short, word):
    return [line.strip() for line in rules_said(game_of(short)).splitlines() if word in line]


def test_what_is_said_of_the_line_between():
    assert said(halves(), "line between") == [
        f"{LINE}, and play goes on there. That alone does not count as playing across."
    ]
    fixed = halves(phases={"play": {"ball_in": "west"}})
    assert said(fixed, "line between") == [f"{LINE}."]
    assert said(halves(gap=3.0), "ground between") == [
        "The ground between the left area and the right area is in play only while the ball is being played across: whoever gets "
        "there first has it, and it counts as in the area it left. Dribbled over the line of its area it is out."
    ]
    assert said(halves(between_areas="out"), "another area too") == [
        "A ball over the line of its area is out, towards another area too. Only a pass to another area may leave: somebody "
        "has to get it under control inside that area; it is out if anybody touches it, or it stops, on the way."
    ]
    closed = halves(between_areas="out", phases={"play": {}})
    assert said(closed, "another area too") == ["A ball over the line of its area is out, towards another area too."]
    assert not said(
        halves(
            areas={"west": {"length": 20, "width": 20}},
            roles={"west": {"side": "team", "style": "free", "place": "west", "players": {"amber": 2, "slate": 2}}},
            phases={"play": {}},
        ),
        "between",
    )


@pytest.mark.parametrize(
    ("words", "line"),
    [
        ({}, "Play it across to the other area and get it under control there: "),
        ({"from": "west"}, "Play it from the left area to the other area and get it under control there: "),
        ({"to": "west", "by": "slate"}, "If slate play it to the left area and get it under control there: "),
        (
            {"from": "east", "to": "west"},
            "Play it from the right area to the left area and get it under control there: ",
        ),
    ],
)
def test_from_where_to_where_is_said_and_goes_round(words, line):
    rules = {"across": {"on": "transfer", "do": [{"score": 1}]} | words}
    game = game_of(halves(phases={"play": {"open": ["transfer"], "rules": rules}}))
    assert any(one.strip().startswith(line) for one in rules_said(game).splitlines())
    assert resolve(to_short(game), "again", game.name) == game
    assert {key: to_short(game)["phases"]["play"]["rules"]["across"].get(key) for key in ("from", "to")} == {
        "from": words.get("from"),
        "to": words.get("to"),
    }


@pytest.mark.parametrize(
    ("rule", "message"),
    [
        ({"on": "loss", "from": "west"}, 'from must be left out unless on = "transfer", "pass" or "foul" (got "west")'),
        ({"on": "passes", "count": 3, "to": "west"}, 'to must be left out unless on = "transfer", "pass" or "carry" (got "west")'),
        ({"on": "transfer", "to": "nort"}, 'to must be an area: west, east or box (got "nort")'),
        ({"on": "transfer", "from": "active"}, 'from must be an area: west, east or box (got "active")'),
        ({"on": "transfer", "from": "west", "to": "west"}, 'to must be another area than that of from (got "west")'),
        ({"on": "transfer", "from": "west", "to": "box"},
         'to must lie outside areas.west, as inside it anybody may be played to (got "box")'),
    ],
)  # fmt: skip
def test_where_from_and_to_may_not_stand(rule, message):
    areas = {name: dict(one) for name, one in HALVES.items()} | {"box": {"length": 4, "width": 4, "within": "west"}}
    rules = {"across": rule | {"do": [{"score": 1}]}}
    with pytest.raises(InputError) as caught:
        game_of(halves(areas=areas, phases={"play": {"open": ["transfer"], "rules": rules}}))
    assert caught.value.problems == (f"phases.play.rules.across.{message}",)
