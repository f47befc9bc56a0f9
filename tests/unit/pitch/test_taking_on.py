"""Taking a man on: a carrier with a touch to spare goes past the man between him and the goal, or loses the ball to him."""

from __future__ import annotations

import math
from functools import cache

import pytest

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from sim.players import typical_roster
from tests.support.paths import player_at
from tests.support.scene import scene
from tests.theory.games import events_of, of_kind

BOUTS = 16
LATER_S = 1.2


@cache
def played(name: str, changes: tuple[str, ...] = (), bouts: int = BOUTS, **constants: float) -> list[BoutLog]:
    """Bouts of equals."""
    game = load_game(name, changes)
    return [play_bout(game, typical_roster(game), seed, assumptions=constants) for seed in range(bouts)]


def taken_on(logs: list[BoutLog]) -> list[dict]:
    return [one for log in logs for one in of_kind(events_of(log), "tackle") if one["detail"] == "taken on"]


def past(found: list[dict]) -> float:
    """Share of them in which the carrier got past."""
    return sum(one["cause"] == "beaten" for one in found) / len(found)


def test_equals_get_past_as_often_as_the_constant_says():
    """Binomial: 3.3 standard deviations of about 100 tries each; with so much noise in the choice whom to take on is by lot."""
    for chance in (0.4, 0.65):
        found = taken_on(played("even-goals", past=chance, past_noise=1.0))
        assert len(found) > 60
        assert past(found) == pytest.approx(chance, abs=3.3 * math.sqrt(0.25 / len(found)))
    assert taken_on(played("even-goals", past_within=0.0)) == []


def test_a_better_dribbler_gets_past_more_often():
    one = scene(load_game("even-goals"))
    chances = []
    for skill in (-0.5, 0.0, 0.5):
        one.players["duel"][0] = skill
        chances.append(one.past_chance(0, 5))
    assert chances[1] == pytest.approx(one.constants["past"])
    assert chances[0] == pytest.approx(1.0 / (1.0 + math.exp(0.5))) and chances[2] == pytest.approx(1.0 - chances[0])


def test_who_gets_past_is_soon_nearer_to_the_goal_than_his_man():
    """Not always: some turn back or pass, and the ball is lost again."""
    goals = {goal.attacked_by: (goal.x, goal.y) for goal in load_game("even-goals").goals}
    gains = []
    for log in played("even-goals", bouts=3 * BOUTS, past_noise=1.0):
        events = events_of(log)
        sides = {one["player"]: one["side"] for one in of_kind(events, "job")}
        for one in of_kind(events, "tackle"):
            if one["detail"] == "taken on" and one["cause"] == "beaten":
                ends = [player_at(log, log.players.index(one[who]), one["t"] + LATER_S) for who in ("player", "other")]
                his, mine = (math.dist(end, goals[sides[one["other"]]]) for end in ends)
                gains.append(his - mine)
    assert len(gains) > 60
    assert sum(gain > 0.0 for gain in gains) > 0.6 * len(gains)  # 14 % of them at 0.3 s


def test_nobody_is_taken_on_without_a_goal_a_touch_to_spare_or_where_he_may_not_be_tackled():
    assert taken_on(played("tight-square")) == []
    assert taken_on(played("even-goals", ("roles.outfield.touches=1",))) == []
    spared = tuple(f"players.slate-{number}.tackles=false" for number in range(1, 6))
    assert taken_on(played("even-goals", spared, past_noise=1.0)) == []
