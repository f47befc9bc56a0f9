"""The list of shipped games: numbers, sizes, what each is for."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.game.shipped import shipped_games
from sim.words.screen import WIDTH
from sim.words.shipped import games_in_words, numbers_of, sizes_of

SHORT = {
    "break-away": ("6 v 3", "56 x 36, 20 x 20 m"),
    "even-goals": ("5 v 5", "42 x 30 m"),
    "even-keep-ball": ("4 v 4 + 2", "30 x 24 m"),
    "home-grids": ("6 v 6", "two 18 x 18 m"),
    "tight-square": ("4 v 2", "11 x 11 m"),
    "two-squares": ("10 v 3", "two 14 x 14 m"),
}
GAMES = [load_game(name) for name in sorted(shipped_games())]


@pytest.mark.parametrize("name", sorted(shipped_games()))
def test_numbers_and_sizes(name):
    assert (numbers_of(load_game(name)), sizes_of(load_game(name))) == SHORT[name]


def test_it_fits_a_screen_and_nothing_is_lost():
    text = games_in_words(GAMES, WIDTH)
    assert max(map(len, text.splitlines())) <= WIDTH
    for game in GAMES:
        assert sorted(word for word in game.purpose.split() if word not in text.split()) == []


def test_in_a_pipe_a_game_is_a_line():
    head, *lines = games_in_words(GAMES, None).splitlines()
    assert [line.split()[0] for line in lines] == [game.name for game in GAMES]
    assert all(line.endswith(game.purpose) for line, game in zip(lines, GAMES, strict=True))
