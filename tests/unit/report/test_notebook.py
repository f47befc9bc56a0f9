"""What a notebook's cell shows, by the methods that a notebook calls; no kernel is needed."""

from __future__ import annotations

import copy
import html
import pickle
import re
from dataclasses import replace
from functools import cache

import pytest

from sim import Result, estimate, load_game, play
from sim.experiments.adjust import adjust
from sim.experiments.compare import Variant, compare_all
from sim.experiments.levers import levers_of
from sim.experiments.tune import tune
from sim.game.loader import resolve, to_short
from sim.provenance import reached
from sim.report.replay import replay_page
from sim.words.adjust_screen import card_screen
from sim.words.compare_screen import compared_on_a_screen
from sim.words.estimate_screen import short_answer
from sim.words.tune_screen import tuned_on_a_screen
from tests.support.comparison import compare

ONE_TOUCH = ("roles.outside.touches=1",)


@cache
def games():
    return load_game("tight-square"), load_game("tight-square", ONE_TOUCH)


def text_of(page: str) -> str:
    """What is read in a cell that shows a small screen."""
    (inner,) = re.findall(r"<pre[^>]*>(.*)</pre>", page, flags=re.DOTALL)
    return html.unescape(inner)


def test_a_game_shows_its_diagram():
    game, _ = games()
    drawn = game._repr_svg_()
    assert "<svg" in drawn and 'id="area-square"' in drawn
    assert len(re.findall(r'id="player-[\w-]+"', drawn)) == len(game.players)


def test_an_estimate_shows_its_small_screen():
    game, _ = games()
    found = estimate(game, bouts=8, seed=1, workers=1)
    assert text_of(found._repr_html_()) == short_answer(found, game)


def test_a_comparison_shows_its_small_screen():
    first, second = games()
    found = compare_all(first, [Variant(second, ONE_TOUCH, "one touch")], bouts=8, seed=1, workers=1)
    assert text_of(found._repr_html_()) == compared_on_a_screen(found, [first, second])
    alone = compare(first, second, ((), ONE_TOUCH), bouts=8, seed=1, workers=1)
    assert text_of(alone._repr_html_()).splitlines()[0] == text_of(found._repr_html_()).splitlines()[0]


def test_a_tune_and_a_card_show_their_small_screens():
    game, other = games()
    told = tune(game, {(1,): other, (2,): game}, ["touches"], ("turnovers_per_min", "game", 4.0), 8, 40, 8, workers=1)
    chosen = {(1,): other, (2,): game}[told.answer]
    assert text_of(told._repr_html_()) == tuned_on_a_screen(told, game, chosen)
    levers, left_out = levers_of(game, lambda more: load_game("tight-square", more))
    card = adjust(game, ("turnovers_per_min", "game", 3.0), levers[:2], left_out, bouts=8, workers=1)
    assert text_of(card._repr_html_()) == card_screen(card, game).text()


def test_a_bout_shows_its_replay_shut_in_a_frame():
    game, _ = games()
    log = play(game, seed=3)
    cell = log._repr_html_()
    assert (
        cell.startswith("<iframe ") and cell.count("<") == 2
    )  # the frame and its end: nothing of the page stands outside
    (inside,) = re.findall(r'srcdoc="([^"]*)"', cell)
    assert html.unescape(inside) == replay_page([("", game, log)])
    assert 'sandbox="allow-scripts"' in cell


@pytest.mark.parametrize("words", ["<script>window.hurt = 1</script>", '"></iframe><b>'])
def test_markup_in_a_name_stays_words(words: str):
    game = resolve(to_short(games()[0]) | {"title": words}, "marked")
    assert play(game, seed=1)._repr_html_().count("<") == 2
    shown = estimate(game, bouts=4, seed=1, workers=1)._repr_html_()
    assert shown.count("<") == 2 and words in html.unescape(shown)
    assert words not in game._repr_svg_()


def test_the_games_of_an_answer_are_no_part_of_it():
    game, _ = games()
    found = estimate(game, bouts=4, seed=1, workers=1)
    again = Result.from_json(found.to_json())
    assert again == found and "games" not in found.to_dict()
    assert again._repr_html_() is None  # read from a file it knows no game: a notebook shows it as text
    assert replace(found, seed=2)._repr_html_() is None
    assert copy.copy(found)._repr_html_() == pickle.loads(pickle.dumps(found))._repr_html_() == found._repr_html_()


def test_no_number_hangs_on_how_it_is_shown():
    above = [name for name in reached() if name.startswith(("sim.report", "sim.words", "sim.plots"))]
    assert above == [] and "sim.shown" in reached()
