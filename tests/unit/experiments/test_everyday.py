"""Everyday names of measures: what each is called in JSON, in which game, and what is said of a wrong one."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.experiments.everyday import NAMES, called, every_key, measure_named, target_of, typed
from sim.experiments.key_measures import aims_of
from sim.experiments.stopping_rule import precision_of
from sim.experiments.why import asked_of
from sim.game.loader import load_game
from tests.support.games import GAMES as SIX

GAMES = {name: load_game(name) for name in SIX}


@pytest.mark.parametrize(
    ("game", "typed", "key"),
    [
        ("tight-square", "losses", ("turnovers_per_min", "game")),
        ("even-goals", "losses", ("balls_lost_per_min", "game")),
        ("tight-square", "losses.inside", ("turnovers_per_min", "role:inside")),
        ("tight-square", "turnovers", ("turnovers_per_min", "game")),
        ("tight-square", "wins", ("wins_per_min", "game")),
        ("tight-square", "passes", ("passes_per_min", "game")),
        ("tight-square", "run", ("pass_run_median", "game")),
        ("tight-square", "run.outside", ("pass_run_median", "role:outside")),
        ("tight-square", "defending", ("defending_share_most", "game")),
        ("tight-square", "defending.inside", ("defending_share", "role:inside")),
        ("tight-square", "metres", ("distance_per_min", "game")),
        ("tight-square", "metres.inside", ("distance_per_min", "role:inside")),
        ("tight-square", "fast", ("high_speed_distance_per_min", "game")),
        ("tight-square", "rolling", ("in_play_share", "game")),
        ("two-squares", "transfers", ("transfers_per_min", "game")),
        ("two-squares", "points", ("points_per_min", "game")),
        ("break-away", "breaks", ("break_aways_per_bout", "game")),
        ("even-goals", "goals", ("goals_per_bout", "game")),
        ("tight-square", "distance.inside", ("distance_per_min", "role:inside")),
        ("tight-square", "turnovers_per_min", ("turnovers_per_min", "game")),
    ],
)
def test_a_measure_by_its_everyday_name(game, typed, key):
    assert measure_named(typed, GAMES[game], aims_of(GAMES[game]), "--aim") == key
    assert target_of(f"{typed}=50", GAMES[game], aims_of(GAMES[game]))[:2] == key
    assert precision_of("5%", typed, 400, GAMES[game]).measure == key[0]


@pytest.mark.parametrize(
    ("game", "typed", "said"),
    [
        ("tight-square", "goals", "there are no goals"),
        ("tight-square", "transfers", "there is one area only"),
        ("tight-square", "breaks", "nobody goes from keeping the ball to a goal"),
        ("tight-square", "points", "no rule gives points"),
        ("tight-square", "lossess", "did you mean losses, "),
        ("tight-square", "metres.insde", "must be one of: metres, metres.outside or metres.inside"),
        ("tight-square", "running", "did you mean metres.outside, metres.inside"),
        ("tight-square", "sprinting", "did you mean fast"),
        ("tight-square", "xyzzy", "there are losses, turnovers, "),
    ],
)
def test_what_is_no_measure_of_the_game_is_refused(game, typed, said):
    with pytest.raises(InputError) as refusal:
        measure_named(typed, GAMES[game], aims_of(GAMES[game]), "--aim")
    assert said in str(refusal.value) and len(str(refusal.value)) < 200
    assert str(refusal.value).startswith("--aim: must ")


def test_why_takes_the_role_after_the_dot_or_as_scope():
    game = GAMES["tight-square"]
    for asked in (("losses.inside", "game"), ("losses", "role:inside")):
        assert asked_of(game, *asked) == ("turnovers_per_min", "role:inside")
    assert asked_of(game, "metres", "team:squad") == ("distance_per_min", "team:squad")
    with pytest.raises(InputError, match="must be one of: defending.squad, defending.outside or defending.inside"):
        asked_of(game, "defending", "game")


@pytest.mark.parametrize("name", GAMES)
def test_every_measure_is_found_by_what_it_is_called(name):
    game = GAMES[name]
    for key in aims_of(game):
        assert measure_named(called(key, game), game, aims_of(game), "--aim") == key
    for measure, scope in every_key(game):
        assert measure_named(typed(measure, scope), game, every_key(game), "--measure") == (measure, scope)
    assert {"losses", "wins", "passes", "run", "metres", "fast", "rolling"} <= {called(key, game) for key in aims_of(game)} <= {
        *NAMES, *(one for one in (called(key, game) for key in aims_of(game)) if "_" in one or "." in one)
    }  # fmt: skip
