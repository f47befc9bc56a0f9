"""Opponents start apart, and whoever gets the ball at a start or restart has room for a first pass."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sim.game.loader import load_game, resolve
from sim.game.model import Game
from sim.pitch.assumptions import USUAL
from sim.pitch.engine import HANDLERS, begin, race
from sim.pitch.reception import put_in_play
from sim.pitch.setup import shape
from sim.pitch.state import Bout
from sim.players import draw_roster
from tests.support.scene import FREE, Place, Scene, scene
from tests.theory.games import merged

ROOM_M = USUAL["start_room"]


def even_game(players: int, side: float, **more: object) -> Game:
    """Equal numbers of both colours anywhere in one square; a ball over the line is played in by the server, or from the line."""
    short = {
        "format": 1,
        "title": "Equal numbers",
        "purpose": "Keep it.",
        "bouts": {"count": 1, "seconds": 90.0},
        "start": {"side": "amber"},
        "areas": {"square": {"length": side, "width": side}},
        "teams": {"amber": {}, "slate": {}},
        "roles": {
            "field": {
                "side": "team",
                "style": "free",
                "place": "square",
                "players": {"amber": players, "slate": players},
            }
        },
        "phases": {"keep": {}},
        "restarts": {"out": {"to": "other", "seconds": 4.0}},
        "supply": {"balls": 100},
    }
    return resolve(merged(short, more), "equal")


def seen(game: Game, seed: int) -> tuple[Bout, list[float]]:
    """A bout, and how far the nearest opponent was from whoever got the ball at each start and restart; keepers, who stay in
    their goals, apart."""
    bout, rooms = Bout(game, draw_roster(game, seed, 0), seed, 0, 0, race), []

    def served(bout: Bout, t: float, to: str, taker: int) -> None:
        put_in_play(bout, t, to, taker)
        if bout.holder() >= 0:
            here = Scene(bout)
            at = here.places(t)
            opponents = [i for i, style in enumerate(here.players["style"]) if style == FREE and not bout.is_ours(i)]
            rooms.append(min(math.dist(at[bout.holder()], at[i]) for i in opponents))

    begin(bout)
    bout.handlers = HANDLERS | {"serve": served}
    bout.clock.run(bout.over)
    return bout, rooms


def first_tackles(game: Game, bouts: int) -> tuple[list[float], int]:
    """(room of the first receiver of every bout, bouts with a tackle within the first second)."""
    rooms, early = [], 0
    for seed in range(bouts):
        bout, served = seen(game, seed)
        rooms.append(served[0])
        early += any(event[2] == "tackle" and event[0] < 1.0 for event in bout.events)
    return rooms, early


def test_no_tackle_comes_within_the_first_second():
    rooms, early = first_tackles(even_game(4, 24.0, bouts={"seconds": 5.0}), 40)
    assert early == 0
    assert min(rooms) >= ROOM_M


@pytest.mark.parametrize("players", [1, 2, 3, 5, 8])
def test_there_is_room_with_any_number(players: int):
    floaters = {"field": {"players": {"amber": players, "slate": players}}}
    if players == 1:
        floaters["joker"] = {"side": "holder", "style": "free", "place": "square", "players": {"white": 1}}
    more = {"roles": floaters, "bouts": {"seconds": 2.0}} | ({"teams": {"white": {}}} if players == 1 else {})
    rooms, early = first_tackles(even_game(players, 30.0, **more), 8)
    assert early == 0
    assert min(rooms) >= ROOM_M


def test_sides_in_areas_that_lie_over_one_another_start_apart_too():
    areas = {"zone": {"length": 12.0, "width": 12.0, "within": "square"}}
    roles = {
        "field": {"players": {"amber": 4}},
        "inner": {"side": "team", "style": "free", "place": "zone", "players": {"slate": 4}},
    }
    rooms, early = first_tackles(even_game(4, 24.0, areas=areas, roles=roles, bouts={"seconds": 2.0}), 8)
    assert early == 0
    assert min(rooms) >= ROOM_M


@pytest.mark.parametrize(("source", "bouts"), [("server", 40), ("line", 40)])
def test_there_is_room_at_restarts(source: str, bouts: int):
    game = even_game(4, 26.0, restarts={"out": {"to": "other", "from": source, "seconds": 4.0}})
    rooms = [room for seed in range(bouts) for room in seen(game, seed)[1][1:]]
    assert len(rooms) > 40
    assert np.mean([room >= ROOM_M for room in rooms]) > 0.95
    assert min(rooms) > 0.75 * ROOM_M


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
@pytest.mark.parametrize(
    ("spot", "at", "to"),
    [
        ((-3.4, 12.8), (-3.0, 15.0), (-5.0, 0.0)),  # right behind the spot
        ((-3.4, 12.8), (-3.1, 17.2), (-4.3, 9.5)),  # further behind it, his place before it
        ((12.8, 12.8), (14.5, 14.6), (0.0, 0.0)),  # behind a corner
        ((-3.4, 12.8), (0.65, 12.7), (-7.8, 12.0)),  # on one side of it, his place on the other
    ],
)
def test_nobody_comes_nearer_to_the_spot_of_a_restart_on_his_way_past_it(spot: Place, at: Place, to: Place, turn: int):
    for _ in range(turn):
        spot, at, to = ((-y, x) for x, y in (spot, at, to))
    one = scene(even_game(4, 26.0)).put({"slate-1": at})
    end = one.stand_back(one.index("slate-1"), spot, to)
    leg = [math.dist(spot, (at[0] + k * (end[0] - at[0]) / 50, at[1] + k * (end[1] - at[1]) / 50)) for k in range(51)]
    assert min(leg) >= min(ROOM_M, leg[0]) - 0.01
    assert leg[-1] >= ROOM_M


def test_there_is_room_for_a_keeper_who_plays_it_out():
    game = load_game("even-goals", ["areas.pitch.length=30", "areas.pitch.width=24", "bouts.minutes=3"])
    found = []
    for seed in range(6):
        bout, rooms = seen(game, seed)
        sources = [event[7] for event in bout.events if event[2] == "serve"]
        found += [room for room, source in zip(rooms, sources, strict=False) if source == "keeper"]
    assert len(found) > 5
    assert np.mean([room >= ROOM_M for room in found]) > 0.9


@pytest.mark.parametrize("count", range(1, 12))
def test_two_sides_stand_as_each_other_s_mirror_image_and_never_on_one_spot(count: int):
    one = [shape(count, rank, -0.25) for rank in range(count)]
    other = [shape(count, rank, 0.25) for rank in range(count)]
    flipped = sorted((round(-x, 9) + 0.0, round(y, 9) + 0.0) for x, y in other)
    assert sorted((round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in one) == flipped
    nearest = min(math.dist(a, b) for a in one for b in other)
    assert nearest > 0.2
