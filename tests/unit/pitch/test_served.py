"""Whom the server plays a ball to where a goal is attacked: somebody in his own half (common practice, no source)."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.pitch import restarts
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.theory.games import events_of, of_kind

BOUTS = 12


def first_touches() -> list[float]:
    """How far towards the goal they attack, from the middle (m), whoever gets the first ball of a bout has it; a bout each."""
    game = load_game("even-goals", ["bouts.count=1", "bouts.minutes=0.1"])
    ahead = next(goal.x for goal in game.goals if goal.attacked_by == game.start_side)
    found = []
    for seed in range(BOUTS):
        touch = of_kind(events_of(play_bout(game, draw_roster(game, seed, 0), seed)), "touch")[0]
        found.append(touch["x"] if ahead > 0.0 else -touch["x"])
    return found


def test_the_first_ball_goes_to_one_in_his_own_half():
    assert max(first_touches()) <= 0.0


def test_else_it_would_go_to_a_forward_too(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(restarts, "in_own_half", lambda bout, x, y: True)
    assert max(first_touches()) > 0.0
