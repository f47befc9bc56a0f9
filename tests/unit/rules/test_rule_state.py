"""The rule book's memory: what a new possession, a reset and a new phase begin again, and what they leave alone."""

from __future__ import annotations

from tests.theory.games import even, keep_ball
from tests.unit.rules.desk import standing_of

COUNTING = {
    "lost": {"on": "loss", "do": [{"restart": "start"}]},
    "five": {"on": "passes", "count": 5, "do": [{"score": 1}]},
    "three": {"on": "wins", "count": 3, "do": [{"score": 1}]},
}


def counted():
    standing = standing_of(keep_ball(rules=COUNTING))
    standing.passes, standing.wins = 7, {"inside": 4}
    standing.fired = {("five", "outside"), ("three", "inside")}
    return standing


def test_a_new_possession_begins_the_passes_again_and_lets_wins_go_on():
    standing = counted()
    standing.new_possession("inside")
    assert (standing.side, standing.passes, standing.wins) == ("inside", 0, {"inside": 4})
    assert standing.fired == {("three", "inside")}


def test_each_counter_is_reset_by_itself():
    standing = counted()
    standing.reset("passes")
    assert (standing.passes, standing.wins, standing.fired) == (0, {"inside": 4}, {("three", "inside")})
    standing = counted()
    standing.reset("wins")
    assert (standing.passes, standing.wins, standing.fired) == (7, {}, {("five", "outside")})


def test_a_phase_brings_its_area_jobs_and_permissions():
    game = keep_ball(
        rules=COUNTING | {"go": {"on": "transfer", "do": [{"phase": "away"}]}},
        areas={"far": {"length": 8.0, "width": 8.0, "beside": "square", "on": "east"}},
        phases={
            "keep": {"open": ["transfer"]},
            "away": {
                "ball_in": "far",
                "jobs": {"outside": "free in far"},
                "rules": {"back": {"on": "loss", "do": [{"phase": "keep"}]}},
            },
        },
    )
    standing = standing_of(game)
    standing.fired, standing.passes, standing.wins = {("five", "outside")}, 5, {"inside": 2}
    standing.enter_phase("away", 31.0)
    assert (standing.passes, standing.wins) == (0, {}), "what a phase counts begins with it"
    assert (standing.area, standing.phase_began, standing.open, standing.fired) == ("far", 31.0, set(), set())
    assert standing.job_of(0) == ("free", "far")
    assert standing.job_of(5) == ("free", "square")
    standing.enter_phase("keep", 40.0)
    assert standing.open == {"transfer"}
    assert standing.area == "far", "a phase whose ball is in the active area leaves it where it is"
    assert standing.job_of(0) == ("edge", "square")


def test_since_is_the_time_in_the_role_and_keeping_a_role_changes_nothing():
    standing = standing_of(keep_ball())
    standing.give_role(0, "inside", 12.0)
    standing.give_role(1, "outside", 12.0)
    assert standing.role[:2] == ["inside", "outside"]
    assert standing.since[:2] == [12.0, 0.0]


def test_sides_by_word_by_bibs_and_floaters():
    standing = standing_of(
        even(2, roles={"joker": {"side": "holder", "style": "free", "place": "square", "players": {"amber": 1}}})
    )
    sides = {player.id: standing.side_of(i) for i, player in enumerate(standing.game.players)}
    assert sides == {
        "amber-1": "amber",
        "amber-2": "amber",
        "amber-3": "holder",
        "slate-1": "slate",
        "slate-2": "slate",
    }
    assert standing.sides() == {"amber", "slate"}
    assert (standing.other_side("amber"), standing.other_side("slate")) == ("slate", "amber")
    assert standing_of(keep_ball()).side_of(5) == "inside"


def test_home_is_the_teams_and_active_is_where_the_ball_is():
    game = even(
        areas={"east": {"length": 20.0, "width": 20.0, "beside": "square", "on": "east"}},
        teams={"amber": {"home": "square"}, "slate": {"home": "east"}},
    )
    standing = standing_of(game)
    standing.area = "east"
    assert [standing.place_of(i, "home") for i in (0, 3)] == ["square", "east"]
    assert standing.place_of(0, "active") == "east"
    assert standing.place_of(0, "square") == "square"
    assert (standing.home_of("slate"), standing.home_of("nobody")) == ("east", None)
