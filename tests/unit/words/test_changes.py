"""A change of a game is said as a coach says it, and never loses what was set."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.words.changes import in_words, phrase


@pytest.mark.parametrize(
    ("game", "changes", "said"),
    [
        ("tight-square", ["areas.square.length=8", "areas.square.width=8"], "8 x 8 m"),
        ("tight-square", ["areas.square.length=13"], "13 x 11 m"),
        ("tight-square", ["roles.outside.touches=1"], "one touch for outside"),
        ("tight-square", ["roles.outside.touches=free"], "free touches for outside"),
        ("tight-square", ["roles.inside.players=3"], "3 inside"),
        ("tight-square", ["bouts.minutes=1.5", "bouts.count=6"], "bouts of 1.5 min and 6 bouts"),
        ("tight-square", ["bouts.rest_minutes=0.5"], "rests of 0.5 min"),
        ("tight-square", ["restarts.out.seconds=2"], "the ball back in after 2 s once it is out"),
        ("tight-square", ["supply.balls=1"], "one ball at hand"),
        (
            "tight-square",
            ["supply.balls=12", "supply.retrieve_seconds=20"],
            "12 balls at hand and 20 s to fetch a ball once none is at hand",
        ),
        ("tight-square", ["teams.squad.population=elite men"], "elite men"),
        (
            "even-keep-ball",
            ['teams.amber.population="U12"', 'teams.slate.population="U12"'],
            "U12 in amber and U12 in slate",
        ),
        (
            "tight-square",
            ["hold_limit_seconds=4", "restarts.start.seconds=6"],
            "4 s on the ball at most and the ball back in after 6 s at the start",
        ),
        ("two-squares", [f"areas.{a}.{s}=12" for a in ("west", "east") for s in ("length", "width")], "each 12 x 12 m"),
        ("two-squares", ["areas.west.length=12"], "west 12 x 14 m"),
        ("two-squares", ["roles.west.touches=2", "roles.east.touches=2"], "two touches for west and east"),
        (
            "two-squares",
            ["roles.west.touches=1", "roles.east.touches=2"],
            "one touch for west and two touches for east",
        ),
        ("two-squares", ["phases.keep.rules.open-far-square.count=6"], "6 passes"),
        ("break-away", ["roles.hunter.players.squad=4"], "4 hunters"),
        ("tight-square", ["inside=3"], "3 inside"),
        ("tight-square", ["bout=90s"], "bouts of 90 s"),
        ("tight-square", ["bout=3min", "rest=45 sec"], "bouts of 3 min and rests of 45 s"),
        ("tight-square", ["outside.touches=1"], "one touch for outside"),
        ("two-squares", ["passes.open-far-square=6"], "6 passes"),
        ("home-grids", ["players.home.amber=5"], "5 home in amber"),
        ("home-grids", ["players.home.amber=5", "players.home.slate=5"], "5 home in amber and home in slate"),
        ("tight-square", ["players.squad-3.recovery=60"], "players.squad-3.recovery = 60"),
        ("break-away", ["phases.break.rules.too-slow.count=10"], "phases.break.rules.too-slow.count = 10"),
    ],
)
def test_as_a_coach_says_it(game, changes, said):
    if "open-far-square" in changes[0]:
        rule = next(r.name for p in load_game(game).phases for r in p.rules if r.on == "passes")
        changes = [changes[0].replace("open-far-square", rule)]
    assert phrase(changes, load_game(game, changes)) == said


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (["areas.square.length=8", "areas.square.width=7"], ["8 x 7 m"]),
        (["areas.square.length=8"], ["length 8 m"]),
        (["areas.a.length=8", "areas.a.width=8", "areas.b.length=9", "areas.b.width=9"], ["a 8 x 8 m", "b 9 x 9 m"]),
        (["touches=1", "side=9"], ["one touch", "side 9 m"]),
        (
            ["touches.outside=12", "players.inside=3", "defenders=2"],
            ["12 touches for outside", "3 inside", "2 defenders"],
        ),
        (["passes=1", "bout=90", "rest=45", "bouts=1"], ["1 pass", "bouts of 90 s", "rests of 45 s", "1 bout"]),
        (["bout=90s", "rest=1 min", "defenders=1"], ["bouts of 90 s", "rests of 1 min", "1 defender"]),
        (["teams.a.population=U12", "supply.balls=two"], ["U12 in a", "supply.balls = two"]),
        (["roles.x.players={squad = 3}", "purpose=a = b"], ["roles.x.players = {squad = 3}", "purpose = a = b"]),
    ],
)
def test_without_the_game_what_the_changes_say(changes, said):
    assert in_words(changes) == said


def test_in_the_unit_of_the_file():
    changes = ["units=yards", "areas.square.length=10", "areas.square.width=9"]
    game = load_game("tight-square", changes)
    assert phrase(changes[1:], game, "yd") == "10 x 9 yd"


def test_short_sizes_of_a_game_are_of_all_areas_of_that_size():
    wide = [f"areas.{a}.{s}=12" for a in ("west", "east") for s in ("length", "width")]
    assert phrase(["side=12"], load_game("two-squares", wide)) == "each 12 x 12 m"
    assert phrase(["west.side=14"], load_game("two-squares", wide[2:])) == "west 14 x 14 m"
    assert phrase(["side.west=14"], load_game("two-squares", wide[2:])) == "west 14 x 14 m"


def test_what_this_game_cannot_tell_stays_as_it_was_typed():
    """A name that has to say which role in this game: nothing is guessed."""
    assert phrase(["players=4"], load_game("two-squares")) == "players = 4"
