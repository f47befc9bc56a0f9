"""Three colours of one size, as they are played: each defends a third of the time, and a point is that of all who play for it."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from statistics import mean, stdev

import pytest

from sim.game.loader import load_game
from sim.measures.event_reducer import COLOUR_POINTS, reduce_events
from sim.pitch.log import FIELDS, BoutLog
from sim.pitch.session import bouts_in_turn
from sim.players import typical_roster

BOUTS = 24


def session(name: str, seconds: int = 150) -> tuple:
    game = load_game(name, [f"bouts.count={BOUTS}", f"bouts.seconds={seconds}"])
    return game, list(bouts_in_turn(game, typical_roster(game), 3, 0))


def events_of(log: BoutLog) -> list[dict]:
    return [dict(zip(FIELDS, row, strict=True)) for row in log.events]


def hunted(log: BoutLog) -> Counter[str]:
    """Seconds on the watch for which each colour hunts, read off the log."""
    role: dict[str, str] = {}
    seconds: Counter[str] = Counter()
    for one, then in pairwise([*events_of(log), {"t": log.duration_s}]):
        if one["kind"] == "job":
            role[one["player"]] = one["cause"]
        for team in {player.split("-")[0] for player, now in role.items() if now == "hunting"}:
            seconds[team] += then["t"] - one["t"]
    return seconds


def unequal(logs: list[BoutLog]) -> list[str]:
    """The colours that do not hunt a third of the time, by three standard errors over the bouts."""
    found = []
    for team in ("amber", "slate", "white"):
        shares = [hunted(log)[team] / log.duration_s for log in logs]
        if abs(mean(shares) - 1 / 3) > 3 * stdev(shares) / len(shares) ** 0.5:
            found.append(team)
    return found


def test_three_equal_colours_defend_a_third_each():
    _, logs = session("three-colours")
    assert all(sum(hunted(log).values()) == pytest.approx(log.duration_s) for log in logs)
    assert unequal(logs) == []


def test_the_check_hears_that_nobody_changes(monkeypatch):
    monkeypatch.setattr("sim.rules.consequences.goers", lambda play, event, action: [])
    assert unequal(session("three-colours", 30)[1]) == ["amber", "slate", "white"]


def test_a_point_is_that_of_both_colours_that_keep_it():
    game, logs = session("three-strips")
    by_hand: Counter[str] = Counter()
    counted: Counter[str] = Counter()
    for log in logs:
        role: dict[str, str] = {}
        for event in events_of(log):
            if event["kind"] == "job":
                role[event["player"]] = event["cause"]
            if event["kind"] == "score":
                ends = {player.split("-")[0] for player, now in role.items() if now in ("west-end", "east-end")}
                by_hand.update({team: event["value"] for team in ends})
        found = reduce_events(game, log).by_side
        counted.update({team: n for (what, team), n in found.items() if what == COLOUR_POINTS})
    assert counted == by_hand and set(counted) == {"amber", "slate", "white"}
    assert sum(counted.values()) == 2 * sum(points for log in logs for side, points in log.points if side == "ends") > 0
