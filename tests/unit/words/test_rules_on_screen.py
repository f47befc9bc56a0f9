"""The rules as they are printed fit a screen, and are said as a coach says them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, reject, settings

from sim.errors import InputError
from sim.game.loader import load_game, resolve
from sim.game.names import only_team
from sim.game.shipped import shipped_games
from sim.words.rules import blocks, rules_in_words
from sim.words.screen import WIDTH
from tests.support.games_at_random import games
from tests.support.screens import NOT_OURS, STATISTICIANS, said

CASES = Path(__file__).resolve().parents[2] / "cases" / "valid"
GAMES = [*shipped_games(), *sorted(CASES.glob("*.toml"))]
STIFF = (
    *(
        "1 x",
        "2 x",
        "4 x",
        "squad",
        "becomes runner",
        "become runner",
        "miscontrol",
        "exchange",
        "nobody begins",
        "at most",
    ),
    *(
        "side side",
        "players player",
        "the the",
        "does not begin",
        "confirm",
        "interception",
        "1 point",
        "the game turns",
    ),
)
"""What the rules said before, and no coach does."""
ONE_SET_OF_BIBS = "squad"
SIZE = re.compile(r"[\d.]+ x [\d.]+ m\b")
"""Of an area: four metres by 26 is said so, four times is not."""


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_rules_fit_a_screen(source):
    text = rules_in_words(load_game(source))
    assert [line for line in text.splitlines() if len(line) > WIDTH] == []
    assert all(line == line.rstrip() for line in text.splitlines())


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_no_word_is_lost_where_a_line_is_broken(source):
    game = load_game(source)
    whole = [word for heading, lines in blocks(game) for one in (heading, *lines) for word in one.split()]
    assert rules_in_words(game).split() == whole


@pytest.mark.parametrize("source", GAMES, ids=lambda source: getattr(source, "stem", source))
def test_rules_are_said_as_a_coach_says_them(source):
    game = load_game(source)
    text = SIZE.sub("", rules_in_words(game))
    several = only_team(game) is None
    stiff = [word for word in STIFF if not (several and word == ONE_SET_OF_BIBS)]
    assert [word for word in (*STATISTICIANS, *NOT_OURS, *stiff) if said(text, word)] == []
    assert not re.search(r"\b(None|null|nan)\b(?! of)|_", text)


def test_who_saves_is_not_the_side_that_shot():
    rule = "phases.play.rules={ saved = { on = 'save', by = 'amber', do = [{ score = 1, to = 'slate' }] } }"
    (line,) = [
        line for line in rules_in_words(load_game("even-goals", [rule])).splitlines() if "is saved: a point" in line
    ]
    assert line == "  If a shot by amber is saved: a point for slate."


def test_a_short_name_and_a_name_for_a_place_are_areas():
    text = " ".join(rules_in_words(load_game("two-squares")).split())
    assert "on the lines of the left area" in text and "in the left" not in text.replace("in the left area", "")


@settings(max_examples=100)
@given(games())
def test_any_game_fits_and_names_everything(short):
    try:
        game = resolve(short, "random")
    except InputError:
        reject()
    text = rules_in_words(game)
    assert [line for line in text.splitlines() if len(line) > WIDTH] == []
    for one in (*game.areas, *game.roles, *game.goals):
        assert one.name in text
    assert not said(text, "players players") and not said(text, "the the")
