"""What is written of the players' jobs when they change is what would be written anew."""

from __future__ import annotations

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.pitch import setup
from sim.pitch.engine import Bout, race
from sim.players import draw_roster
from tests.support.games import GAMES


class Checked(Bout):
    """A bout that writes everything anew after every change of jobs and looks whether that changes anything."""

    written = 0

    def assign(self) -> None:
        before = self.jobs
        super().assign()
        self.written += self.jobs != before
        kept = self.P.copy()
        assert setup.assign(self.game, self.standing, self.P, self.sides) == self.jobs
        assert np.array_equal(self.P, kept)


@pytest.mark.parametrize("name", GAMES)
def test_jobs_written_as_they_change_are_those_written_anew(name: str):
    game = load_game(name, ["bouts.minutes=3"])
    bout = Checked(game, draw_roster(game, 5, 0), 5, 0, 0, race)
    bout.begin()
    bout.clock.run(bout.over)
    assert bout.written >= (1 if name.startswith("even") else 2)
