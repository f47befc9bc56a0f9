"""The reference of the language is complete and of today, and its examples are played."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from sim.game.loader import load_game
from sim.game.meanings import EVENTS
from sim.game.model import Event
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.support import language_page

LANGUAGE = Path(__file__).resolve().parents[2] / "cases" / "language"


def test_the_page_has_the_reference_of_today():
    """Written anew with `python -m tests.support.language_page`."""
    page = language_page.PAGE.read_text(encoding="utf-8")
    assert language_page.with_reference(page) == page


def test_every_key_and_every_word_has_an_example():
    assert language_page.missing() == []


def test_a_word_without_an_example_is_named(monkeypatch):
    monkeypatch.setattr(language_page, "FILES", [LANGUAGE / "three-grounds.toml"])
    assert {"GoalSpec.at", "RuleSpec.on = home", "TradeAction.trade"} <= set(language_page.missing())


def test_every_event_has_its_meaning():
    assert set(EVENTS) == set(get_args(Event))


@pytest.mark.parametrize("file", language_page.FILES, ids=lambda file: file.stem)
def test_a_game_that_gives_examples_is_played(file):
    game = load_game(file, ["bouts.count=1", "bouts.seconds=6"])
    log = play_bout(game, draw_roster(game, 1, 0), 1)
    assert len(log.events) > 2
