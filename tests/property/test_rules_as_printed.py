"""Every rule of a game fires when its printed words say so, and does what they say: read from the log, on games at random."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from sim.errors import GameError
from sim.game.loader import load_game, resolve
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.words.rules import rules_in_words
from tests.games_at_random import games
from tests.read_from_log import misplayed
from tests.scenes import GAMES

CASES = sorted((Path(__file__).resolve().parents[1] / "cases" / "valid").glob("*.toml"))


def wrong(game, seed: int) -> list[str]:
    return misplayed(game, play_bout(game, draw_roster(game, seed, 0), seed))


@settings(max_examples=60)
@given(games(), st.integers(0, 3))
def test_the_log_agrees_with_the_words(short, seed):
    try:
        game = resolve(short, "random")
    except GameError:
        reject()
    assert wrong(game, seed) == [], rules_in_words(game)


@pytest.mark.parametrize("name", GAMES)
def test_shipped_games_are_played_as_printed(name):
    assert wrong(load_game(name), 1) == []


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.stem)
def test_other_games_are_played_as_printed(file):
    assert wrong(load_game(file), 2) == []
