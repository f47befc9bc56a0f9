"""Everyday names: each stands for the keys it should, and is refused with the choices where it is not one thing."""

from __future__ import annotations

import pytest

from sim.errors import InputError, nearest
from sim.game.everyday import NAMES, expanded, names_of, shortened
from sim.game.loader import load_game
from sim.populations import POPULATIONS, named
from tests.support.games import GAMES as SIX

SQUARE = ["areas.square.length=9", "areas.square.width=9"]


@pytest.mark.parametrize(
    ("game", "short", "whole"),
    [
        ("tight-square", "side=9", SQUARE),
        ("tight-square", "side.square=9", SQUARE),
        ("tight-square", "square.side=9", SQUARE),
        ("tight-square", "area=81", SQUARE),
        ("tight-square", "length=9.5", ["areas.square.length=9.5"]),
        ("two-squares", "width=12", ["areas.west.width=12", "areas.east.width=12"]),
        ("two-squares", "side.west=12", ["areas.west.length=12", "areas.west.width=12"]),
        ("break-away", "side=18", ["areas.middle.length=18", "areas.middle.width=18"]),
        ("tight-square", "touches=1", ["roles.outside.touches=1"]),
        ("tight-square", "touches.inside=1", ["roles.inside.touches=1"]),
        ("two-squares", "touches=free", ["roles.west.touches=free", "roles.east.touches=free"]),
        ("two-squares", "passes=6", ["phases.keep.rules.unlock.count=6"]),
        ("two-squares", "passes.unlock=6", ["phases.keep.rules.unlock.count=6"]),
        ("tight-square", "players.inside=3", ["roles.inside.players=3"]),
        ("tight-square", "inside=3", ["roles.inside.players=3"]),
        ("tight-square", "defenders=3", ["roles.inside.players=3"]),
        ("break-away", "defenders=2", ["roles.hunter.players.squad=2"]),
        ("even-goals", "outfield=4", ["roles.outfield.players.amber=4", "roles.outfield.players.slate=4"]),
        ("home-grids", "players.home.amber=5", ["roles.home.players.amber=5"]),
        ("even-keep-ball", "floaters=1", ["roles.floater.players.white=1"]),
        ("tight-square", "bout=90", ["bouts.minutes=1.5"]),
        ("tight-square", "bout=3min", ["bouts.minutes=3"]),
        ("tight-square", "bout=100s", ["bouts.seconds=100"]),
        ("tight-square", "rest=45", ["bouts.rest_minutes=0.75"]),
        ("tight-square", "bouts=6", ["bouts.count=6"]),
    ],
)
def test_a_name_stands_for_its_keys(game, short, whole):
    base = load_game(game)
    assert expanded(base, *short.split("=")) == whole
    assert load_game(game, [short]) == load_game(game, whole) != base


@pytest.mark.parametrize(
    ("game", "change", "said"),
    [
        ("tight-square", "players=5", "players must say which role: players.outside or players.inside"),
        ("tight-square", "side=9.5", "side must be a whole number"),
        ("tight-square", "passes=4", "passes cannot be changed: this game has no rule that counts passes"),
        ("tight-square", "floaters=1", "this game has no floaters; you can change players.outside and players.inside"),
        ("even-goals", "defenders=2", "no role only hunts the ball here"),
        ("two-squares", "side.north=9", 'side.north must say which area: side.west or side.east (got "side.north")'),
        ("home-grids", "home=5", "players.home must say of which team: players.home.amber or players.home.slate"),
        ("tight-square", "bout=soon", "bout must be a time, in seconds or such as 90s or 3min"),
        ("tight-square", "tuches=1", "tuches is no name in this game: did you mean touches, "),
        ("tight-square", "sides=9", "did you mean side,"),
        ("tight-square", "touches=12", 'roles.outside.touches must be "free" or a whole number from 1 to 10 (got 12)'),
        ("tight-square", "players.squad-1=3", "players.squad-1 must be a table (got 3)"),
    ],
)
def test_what_is_not_one_thing_is_refused(game, change, said):
    with pytest.raises(InputError) as refusal:
        load_game(game, [change])
    assert said in str(refusal.value) and len(refusal.value.problems) == 1


def test_roles_with_other_limits_are_not_one():
    limits = ["touches.outside=2", "touches.inside=3"]
    with pytest.raises(InputError, match="touches must say which role: touches.outside or touches.inside"):
        load_game("tight-square", [*limits, "touches=1"])


def test_the_later_of_two_counts():
    size = load_game("tight-square", ["side=9", "areas.square.width=8"]).area("square")
    assert (size.length, size.width) == (9, 8)
    assert load_game("tight-square", ["areas.square.width=9", "side=9", "width=9"]) == load_game(
        "tight-square", ["side=9"]
    )
    with pytest.raises(InputError, match="side must be set once only"):
        load_game("tight-square", ["side=9", "side=8"])


def test_seconds_take_the_place_of_minutes_and_the_other_way_round():
    game = load_game("tight-square", ["bouts.seconds=90", "bouts.rest_seconds=20"])
    assert (game.bouts.seconds, game.bouts.rest_seconds) == (90, 20)
    assert load_game("tight-square", ["bouts.seconds=90", "bouts.minutes=3"]).bouts.seconds == 180


def test_tables_of_the_same_name_are_what_the_file_says():
    assert load_game("tight-square", ["bouts={ count = 2, minutes = 1 }"]).bouts.count == 2
    assert load_game("tight-square", ["players={}"]) == load_game("tight-square")


def test_a_change_before_it_may_be_mended_by_one_after_it():
    changes = ["areas.middle.length=60", "touches=1", "areas.pitch.length=70"]
    assert load_game("break-away", changes).role("builder").touches == 1


@pytest.mark.parametrize("name", SIX)
def test_every_name_offered_can_be_written_and_said_short_again(name):
    game = load_game(name)
    assert {key.partition(".")[0] for key in names_of(game)} <= set(NAMES)
    for key in names_of(game):
        whole = expanded(game, key, "7")
        short = shortened(game, whole)
        assert [change for one in short for change in (expanded(game, *one.split("=")) or [one])] == whole
        assert len(short) == 1, (key, short)


@pytest.mark.parametrize(
    ("changes", "short"),
    [
        (
            [*SQUARE, "roles.outside.touches=1", "areas.square.run_off=2"],
            ["side=9", "touches=1", "areas.square.run_off=2"],
        ),
        (["areas.square.length=9", "areas.square.width=8"], ["length=9", "width=8"]),
        (["bouts.minutes=1.5", "bouts.count=3"], ["bout=90", "bouts=3"]),
        (["side=9", "units=yards"], ["side=9", "units=yards"]),
    ],
)
def test_changes_are_said_short_where_that_is_the_same(changes, short):
    assert shortened(load_game("tight-square"), changes) == short


def test_near_misses():
    assert nearest("losess", ["passes", "losses", "wins"])[0] == "losses"
    assert nearest("dist", ["distance_per_min", "goals"]) == ["distance_per_min"]
    assert nearest("xyzzy", ["losses", "wins"]) == []
    assert len(nearest("side", [f"side.{n}" for n in range(9)])) == 3


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("elite", "elite men"), ("U-12", "U12"), ("u12", "U12"), ("u17", "U17 boys"), ("Amateur", "amateur men"), ("women", "women"),
     ("mixed", "mixed adults"), ("Mixed Adults", "mixed adults"), ("martians", None)],
)  # fmt: skip
def test_populations_by_what_they_are_called(typed, meant):
    assert named(typed) == meant
    if meant is not None:
        assert load_game("tight-square", population=typed) == load_game("tight-square", population=meant)
        assert load_game("tight-square", [f'teams.squad.population="{typed}"']).teams[0].population == meant


def test_every_preset_is_called_by_its_own_name():
    assert [named(name) for name in POPULATIONS] == list(POPULATIONS)
