"""The list of shipped games: numbers, sizes, what each is for."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.groups.purposes import PURPOSES, purpose_of
from sim.words.screen import WIDTH
from sim.words.shipped import HEADS, INDENT, games_in_words, numbers_of, sizes_of

SHORT = {
    "break-away": ("6 v 3", "56 x 36, 20 x 20 m"),
    "even-goals": ("5 v 5", "42 x 30 m"),
    "even-keep-ball": ("4 v 4 + 2", "30 x 24 m"),
    "home-grids": ("6 v 6", "two 18 x 18 m"),
    "tight-square": ("4 v 2", "11 x 11 m"),
    "two-squares": ("10 v 3", "two 14 x 14 m"),
}
GAMES = [load_game(name) for name in sorted(shipped_games())]


@pytest.mark.parametrize("name", SHORT)
def test_numbers_and_sizes(name):
    assert (numbers_of(load_game(name)), sizes_of(load_game(name))) == SHORT[name]


def test_it_fits_a_screen_and_nothing_is_lost():
    text = games_in_words(GAMES, WIDTH)
    assert max(map(len, text.splitlines())) <= WIDTH
    for game in GAMES:
        assert sorted(word for word in game.purpose.split() if word not in text.split()) == []


def test_in_a_pipe_a_game_is_a_line():
    lines = games_in_words(GAMES, None).splitlines()
    listed = {line.split()[0]: line for line in lines if line.startswith(INDENT)}
    assert sorted(listed) == [game.name for game in GAMES] and len(lines) == len(GAMES) + len(HEADS)
    assert all(listed[game.name].endswith(game.purpose) for game in GAMES)


def test_every_purpose_has_its_games_and_the_engine_is_not_asked_their_names():
    found = {name: purpose_of(load_game(name)) for name in shipped_games()}
    assert set(found.values()) == set(PURPOSES)
    assert found["tight-square"] == "keep" and found["even-goals"] == "goal" and found["in-pairs"] == "together"
    assert purpose_of(load_game("tight-square", ["win.passes=2", "win.confirm=passes"])) == "win"
