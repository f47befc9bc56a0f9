"""Nobody of a side goes into a zone that is closed to it, from wherever, and whoever is in one as it closes leaves by the nearest
way: measured on all paths of several games (the bouts are some in which a player had been in by up to 3 m)."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest

from sim.game.loader import resolve
from sim.game.model import Game
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from sim.pitch.state import Bout
from sim.players import draw_roster
from sim.trajectory import state_after

OVER_M = 0.6  # "his foot may reach a little over it": `line_slack`, and a little for a turn at speed
STEP_S = 0.1
LEFT_S = 4.0  # so long after it has closed nobody is in it any more
FOUR = {"player": {"players": {"amber": 4, "slate": 4}}}
IN_AND_OUT = {"out": {"players": 6}, "in": {"players": 3}}
LOST = {"lost": {"on": "loss", "do": [{"swap": "loser", "with": "longest in"}, {"restart": "start"}]}}


def box(x: float, y: float, size: float, *closed: str) -> dict:
    return {"centre": [x, y], "length": size, "width": size, "closed_to": list(closed)}


THIRDS = {
    "east": {"at": "east third of pitch", "closed_to": ["slate"]},
    "west": {"at": "west third of pitch", "closed_to": ["amber"]},
}
BOXES = {"one": box(-6, -5, 6, "slate"), "two": box(6, 5, 6, "slate"), "three": box(0, 0, 4, "slate")}
GOALS = {"west-goal": {"at": "west end of pitch", "attacked_by": "slate", "other_side": True}}
GOAL_AREA = {"area": {"at": "west end of pitch", "depth": 8, "width": 12, "closed_to": ["slate"]}}
PLAYED = {
    "thirds": (7, {"zones": THIRDS, "roles": FOUR}),
    "lane": (8, {"zones": {"lane": {"at": "middle lane of pitch", "closed_to": ["slate"]}}, "roles": FOUR}),
    "boxes": (10, {"zones": BOXES, "roles": FOUR}),
    "goal area": (7, {"zones": GOAL_AREA, "goals": GOALS, "roles": FOUR}),
    "swaps": (7, {"zones": {"corner": box(4, 4, 6, "out", "in")}, "roles": IN_AND_OUT, "rules": LOST}),
}


def played(more: dict, seed: int) -> tuple[Game, BoutLog]:
    length = 30 if "goals" in more else 24
    areas = {"pitch": {"length": length, "width": 20}}
    game = resolve({"areas": areas, "bouts": {"count": 1, "seconds": 150}, **more}, "closed")
    return game, play_bout(game, draw_roster(game, seed, 0), seed)


def depths(game: Game, log: BoutLog, zone: str, i: int) -> Iterator[tuple[float, float]]:
    """(t, metres inside the lines of a zone) all along the path of player i."""
    west, south, east, north = game.place(zone).bounds
    rows = log.segments[log.segments["player"] == i]
    for row in rows[np.argsort(rows["t0"], kind="stable")]:
        for t in np.arange(row["t0"], row["t1"], STEP_S):
            x, y, _, _ = state_after(row, t - row["t0"])
            yield float(t), float(min(x - west, east - x, y - south, north - y))


@pytest.mark.parametrize("name", PLAYED)
def test_nobody_of_the_side_is_ever_in_a_zone_that_is_closed_to_it(name):
    seed, more = PLAYED[name]
    game, log = played(more, seed)
    for zone in game.zones:
        everybody = set(log.roles) <= set(zone.closed_to)
        shut = [i for i, team in enumerate(log.teams) if everybody or team in zone.closed_to]
        assert shut
        deepest = {log.players[i]: max(deep for _, deep in depths(game, log, zone.name, i)) for i in shut}
        assert max(deepest.values()) <= OVER_M, deepest


@pytest.mark.parametrize(("word", "seed"), [("other", 1), ("holder", 2)])
def test_who_is_in_a_zone_as_it_closes_to_his_side_leaves_it_and_nobody_else_goes_in(word, seed, monkeypatch):
    turns: list[tuple[float, str]] = []
    hold_for = Bout.hold_for

    def told(bout: Bout, side: str) -> None:
        turns.append((bout.now, side))
        hold_for(bout, side)

    monkeypatch.setattr(Bout, "hold_for", told)
    long = {"bouts": {"count": 1, "seconds": 300}}
    game, log = played({"zones": {"box": box(0, 0, 8, word)}, "roles": FOUR} | long, seed)
    begins, sides = zip(*turns, strict=True)
    began: dict[str, list[float]] = {
        side: [] for side in ("amber", "slate")
    }  # when it has been closed to each, on and on
    for side, found in began.items():
        shut = [(holder == side) == (word == "holder") for holder in sides]
        since = np.inf
        for t, closed in zip(begins, shut, strict=True):
            since = (t if since == np.inf else since) if closed else np.inf
            found.append(since)
    late = []
    for i, side in enumerate(log.teams):
        for t, deep in depths(game, log, "box", i):
            since = began[side][int(np.searchsorted(begins, t, side="right")) - 1]
            if deep > OVER_M and t > since + LEFT_S:
                late.append((log.players[i], round(t, 1), round(deep, 2)))
    assert len(turns) > 10 and not late
