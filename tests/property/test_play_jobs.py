"""What is written of the players' jobs when they change is what would be written anew."""

from __future__ import annotations

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.pitch import setup
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.support.games import GAMES


@pytest.mark.parametrize("name", GAMES)
def test_jobs_written_as_they_change_are_those_written_anew(name: str, monkeypatch):
    """After every change of jobs everything is written anew, and that changes nothing."""
    game, assign, written = load_game(name, ["bouts.minutes=3"]), setup.assign, []

    def checked(game, standing, players, sides, before, now):
        jobs = assign(game, standing, players, sides, before, now)
        written.append(jobs != before)
        kept = players.copy()
        assert assign(game, standing, players, sides) == jobs
        assert np.array_equal(players, kept)
        return jobs

    monkeypatch.setattr(setup, "assign", checked)
    play_bout(game, draw_roster(game, 5, 0), 5)
    assert sum(written) >= (1 if name.startswith("even") else 2)
