"""Where everybody stands at the start: in a bout nobody begins anywhere else."""

from __future__ import annotations

import numpy as np
import pytest

import sim
from sim.experiments.places import starting_places
from sim.game.loader import load_game
from sim.game.model import Game
from tests.support.games import GAMES as SIX


def seen_at_start(game: Game, seed: int) -> dict[str, tuple[float, float]]:
    """Where everybody's first segment begins, from the log alone."""
    log = sim.play(game, seed)
    rows = log.segments[np.lexsort((log.segments["t0"], log.segments["player"]))]
    firsts = rows[np.searchsorted(rows["player"], np.arange(len(log.players)))]
    assert (firsts["t0"] == 0.0).all()
    return {who: (row["x"], row["y"]) for who, row in zip(log.players, firsts, strict=True)}


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("name", SIX)
def test_places_are_those_that_the_bout_begins_with(name: str, seed: int):
    game = load_game(name, ["bouts.minutes=0.1"])
    assert starting_places(game, seed) == seen_at_start(game, seed)


def test_another_length_of_bout_has_the_same_places():
    assert starting_places(load_game("even-goals")) == starting_places(load_game("even-goals", ["bouts.minutes=0.1"]))
