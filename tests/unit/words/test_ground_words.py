"""Words of the ground: what a coach reads has none of the map's, and what people call themselves stays."""

from __future__ import annotations

import re

import pytest

from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.shipped import shipped_games
from sim.plots.diagram import diagram_figure
from sim.plots.page import our_settings
from sim.words.diagram_words import EDGES, edges_of
from sim.words.ground_words import DRAWN, PICTURE, as_drawn
from sim.words.rules import rules_in_words
from sim.words.sheet import Sheet, sheet_of
from tests.support.rules_said import rules_said

COMPASS = re.compile(r"(?<![A-Za-z])(west|east|north|south)(?![A-Za-z])", re.IGNORECASE)


def read(sheet: Sheet) -> str:
    return "\n".join([sheet.purpose, *(line for one in sheet.sections for line in one.lines)])


def words_on(game: Game) -> list[str]:
    with our_settings():
        figure = diagram_figure(game)
    return [text.get_text() for axis in figure.axes for text in axis.texts]


@pytest.mark.parametrize("name", shipped_games())
def test_no_word_of_the_map_stands_where_a_coach_reads(name: str):
    game = load_game(name)
    assert not COMPASS.search(read(sheet_of(game, "0")))
    said = rules_said(game)
    assert not COMPASS.search(said.replace(PICTURE, ""))


def test_what_the_words_are_in_the_file_is_said_where_it_matters():
    assert PICTURE in rules_in_words(load_game("waves")).replace("\n    ", " ")
    assert "picture" not in rules_in_words(load_game("tight-square"))


@pytest.mark.parametrize("name", ["tight-square", "waves", "three-strips"])
def test_the_words_stand_at_the_edges_of_the_picture(name: str):
    said = words_on(load_game(name))
    assert [said.count(one) for one in EDGES.values()].count(0) == 0
    assert not [one for one in said if COMPASS.search(one)]


def test_a_sentence_is_told_with_its_capitals_and_its_article():
    tell = as_drawn(load_game("waves"))
    assert tell("West-goal: an east-keeper becomes a west-queue player.") == (
        "Left-goal: a right-keeper becomes a left-queue player."
    )
    assert tell("at the northern end, northwest of Easton") == "at the northern end, northwest of Easton"


def test_what_people_are_called_stays_as_it_is():
    game = load_game("even-goals")
    one, *others = game.players
    named = game.model_copy(update={"players": (one.model_copy(update={"id": "Clara West"}), *others)})
    assert as_drawn(named)("Clara West plays towards the west end, Bo to the north") == (
        "Clara West plays towards the west end, Bo to the far"
    )
    assert edges_of(named)["west"] == "left (west)" and edges_of(named)["north"] == EDGES["north"]


def test_two_things_never_get_one_name():
    game = load_game("two-squares")
    west, east = game.areas
    game = game.model_copy(update={"areas": (west.model_copy(update={"name": "left"}), east)})
    assert as_drawn(game)("from the left area to the east area") == "from the left area to the east area"
    assert edges_of(game)["east"] == "right (east)"


def test_every_word_of_the_map_has_one_of_the_ground():
    assert set(DRAWN) == {"west", "east", "south", "north"} and len(set(DRAWN.values())) == 4
