"""What a notebook shows: of a game its diagram, of an answer its small screen, of a bout its replay."""

from __future__ import annotations

from functools import singledispatch
from typing import Any

from sim.experiments.adjusted import Card
from sim.experiments.comparison import Compared, Comparison
from sim.experiments.tuned import Tuned
from sim.experiments.why import Why
from sim.game.model import Game
from sim.pitch.log import BoutLog
from sim.plots.diagram import diagram
from sim.report.pages import rendered
from sim.report.replay import replay_page
from sim.results import Result
from sim.words.adjust_screen import card_screen
from sim.words.compare_screen import compared_on_a_screen
from sim.words.estimate_screen import short_answer
from sim.words.replay_words import bout_heading
from sim.words.tune_screen import tuned_on_a_screen
from sim.words.why import why_screen

TALL = 900  # CSS pixels of a replay in a cell: ground, strip and buttons; the list beside it scrolls


def diagram_of(game: Game) -> str:
    """The diagram as the text of an SVG."""
    return diagram(game, "svg").decode("utf-8")


def html_of(value: Any) -> str:
    """What a cell shows of an answer or a bout that knows its games."""
    if isinstance(value, BoutLog):
        (game,) = value.games
        return rendered("cell.html", page=replay_page([("", game, value)]), title=bout_heading(game, value), tall=TALL)
    return rendered("screen.html", text=in_words(value, *value.games))


@singledispatch
def in_words(value: Any, *games: Game) -> str:
    """The small screen of an answer about these games."""
    raise TypeError(f"must be an answer or a bout (got {type(value).__name__})")


@in_words.register
def _(value: Result, game: Game) -> str:
    return short_answer(value, game)


@in_words.register
def _(value: Comparison, *games: Game) -> str:
    return compared_on_a_screen(Compared((value,), ()), games)


@in_words.register
def _(value: Compared, *games: Game) -> str:
    return compared_on_a_screen(value, games)


@in_words.register
def _(value: Tuned, game: Game, chosen: Game) -> str:
    return tuned_on_a_screen(value, game, chosen)


@in_words.register
def _(value: Card, game: Game) -> str:
    return card_screen(value, game).text()


@in_words.register
def _(value: Why, game: Game) -> str:
    return why_screen(value, game).text()
