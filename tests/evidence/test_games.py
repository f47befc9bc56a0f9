"""All six shipped games run through check, play and estimate, and give what they are about.

Sizes: common practice, no source; wide on purpose, so that only nonsense falls outside.
"""

from __future__ import annotations

import pytest

from sim import estimate, load_game, play
from sim.results import Result
from sim.words.estimate_details import answer_in_words
from sim.words.rules import rules_in_words
from tests.support.games import GAMES

pytestmark = pytest.mark.evidence
ABOUT = {
    "tight-square": ("wins_per_min", "defending_spell_s"),
    "two-squares": ("transfers_per_min", "threshold_reached_per_min", "points_per_min"),
    "home-grids": ("transfers_per_min", "points_per_min"),
    "break-away": ("break_aways_per_bout", "shots_per_bout", "goals_per_bout"),
    "even-goals": ("shots_per_bout", "goals_per_bout"),
    "even-keep-ball": ("threshold_reached_per_min", "points_per_min"),
}
PLAUSIBLE = {
    "passes_per_min": (8.0, 80.0),
    "pass_completion": (0.5, 0.99),
    "turnovers_per_min": (0.5, 15.0),
    "in_play_share": (0.3, 1.0),
    "touches_per_release": (1.0, 5.0),
}
_results: dict[str, Result] = {}


def answer(name: str) -> Result:
    if name not in _results:
        _results[name] = estimate(load_game(name), bouts=24, seed=2, workers=1)
    return _results[name]


def game_row(name: str, measure: str):
    return next(row for row in answer(name).measures if row.measure == measure and row.scope == "game")


@pytest.mark.parametrize("name", GAMES)
def test_a_shipped_game_is_checked_played_and_estimated(name: str):
    game = load_game(name)
    assert "Area per player" in rules_in_words(game)
    assert play(game, seed=7).events[-1][2] == "end"
    words = answer_in_words(answer(name), game)
    assert "An estimate, not advice: medical staff decide" in words


@pytest.mark.parametrize(("name", "measure"), [(name, measure) for name in GAMES for measure in ABOUT[name]])
def test_a_game_gives_what_it_is_about(name: str, measure: str):
    row = next(row for row in answer(name).measures if row.measure == measure and row.mean is not None)
    assert row.mean > 0.0


@pytest.mark.parametrize("name", GAMES)
def test_figures_are_not_nonsense(name: str):
    for measure, (least, most) in PLAUSIBLE.items():
        assert least <= game_row(name, measure).mean <= most, measure
    for row in answer(name).measures:
        if row.measure == "distance_per_min" and row.scope.startswith("player:"):
            waits = "keepers" in row.scope  # most of a break-away game a keeper has nothing to do
            assert (4.0 if waits else 15.0) <= row.mean <= 180.0, row.scope
        if row.measure == "peak_speed_kmh" and row.mean is not None:
            assert row.mean <= 37.0, row.scope
