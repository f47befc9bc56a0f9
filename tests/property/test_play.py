"""What every bout keeps: its mirror image, its clocks, one owner of the ball, limits of speed, touch and acceleration."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.game.write import to_short
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.turning import TOTAL_ACCELERATION
from tests.support.games import GAMES, mirrored, plain
from tests.support.watching import on

FRAMES = ((-1, 1), (1, -1), (-1, -1))
SEEDS = (1, 2)


def bout(name: str, seed: int, changes: tuple[str, ...] = ()):
    game = load_game(name, changes)
    roster = draw_roster(game, seed, 0)
    return game, roster, play_bout(game, roster, seed)


def ends(rows: np.ndarray) -> np.ndarray:
    """Place and velocity at the end of each recorded segment."""
    return on(rows, rows["t1"])[:, :4]


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("frame", FRAMES)
def test_the_mirror_image_of_a_bout_is_exact(name: str, frame: tuple[int, int]):
    game, roster, log = bout(name, 1)
    image = play_bout(mirrored(game, *frame), roster, 1, frame=frame)
    events, paths = plain(log)
    seen, mirrored_paths = plain(image, *frame)
    assert seen == [tuple(e if not isinstance(e, float) else e + 0.0 for e in row) for row in events]
    assert np.array_equal(paths, mirrored_paths)


@pytest.mark.parametrize("name", GAMES)
def test_the_order_of_a_file_does_not_matter(name: str):
    game, roster, log = bout(name, 3)
    short = to_short(game)
    for table in ("teams", "roles", "areas", "players"):
        if table in short:
            short[table] = dict(reversed(short[table].items()))
    again = load_game(short)
    other = play_bout(again, draw_roster(again, 3, 0), 3)
    order = [log.roles.index(role) for role in other.roles]
    paths = other.segments.copy()
    paths["role"] = [order[role] for role in paths["role"]]
    assert again.players == game.players
    assert plain(other)[0] == plain(log)[0]
    assert np.array_equal(paths, log.segments)


def test_the_colours_of_the_bibs_do_not_matter():
    teams = {"amber": ["a", "b", "c", "d"], "slate": ["p", "q", "r", "s"]}
    short = to_short(load_game("even-keep-ball"))
    short["roles"]["player"]["players"] = teams
    first = load_game(short)
    swapped = load_game(_renamed(short, {"amber": "slate", "slate": "amber"}))
    log = play_bout(first, draw_roster(first, 4, 0), 4)
    other = play_bout(swapped, draw_roster(swapped, 4, 0), 4)
    names = {"amber": "slate", "slate": "amber"}
    assert [(*e[:5], names.get(e[5], e[5]), *e[6:]) for e in plain(other)[0]] == plain(log)[0]
    assert np.array_equal(other.segments, log.segments)


def _renamed(value, names: dict[str, str]):
    if isinstance(value, dict):
        return {names.get(key, key): _renamed(item, names) for key, item in value.items()}
    if isinstance(value, list):
        return [_renamed(item, names) for item in value]
    return names.get(value, value) if isinstance(value, str) else value


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("seed", SEEDS)
def test_paths_are_whole_and_keep_the_limits(name: str, seed: int):
    game, roster, log = bout(name, seed)
    for i, player in enumerate(log.players):
        rows = log.segments[log.segments["player"] == i]
        assert rows["t0"][0] == 0.0 and rows["t1"][-1] == log.duration_s
        assert np.array_equal(rows["t1"][:-1], rows["t0"][1:])  # no gap in time
        after = ends(rows)
        assert (
            np.abs(after[:-1] - np.column_stack([rows[name][1:] for name in ("x", "y", "vx", "vy")])).max() < 2e-6
        )  # none in place or velocity
        speeds = np.hypot(rows["vx"], rows["vy"])
        pushes = np.hypot(rows["ax"], rows["ay"])
        who = roster[player]
        assert speeds.max() <= who.vmax_mps
        assert pushes.max() <= TOTAL_ACCELERATION + 1e-6
        moving = speeds > 1e-3
        along = (rows["vx"] * rows["ax"] + rows["vy"] * rows["ay"])[moving] / speeds[moving]
        assert along.min() >= -who.brake_mps2 - 1e-6
        limit = (who.vmax_mps - speeds[moving]) / max(who.tau_s, who.vmax_mps / TOTAL_ACCELERATION)
        assert (along - limit).max() <= 1e-6
        length = np.hypot(np.diff(after[:, 0]), np.diff(after[:, 1])).sum()
        assert length >= math.hypot(after[-1, 0] - rows["x"][0], after[-1, 1] - rows["y"][0]) - 1e-6


@pytest.mark.parametrize("name", GAMES)
@pytest.mark.parametrize("seed", SEEDS)
def test_clocks_add_up_and_the_ball_has_one_owner(name: str, seed: int):
    game, _, log = bout(name, seed)
    assert log.events[-1][2] == "end" and log.events[-1][0] == log.duration_s
    last = max((event[0] for event in log.events if event[2] == "shot"), default=0.0)
    in_the_air = last < game.bouts.seconds < log.duration_s < last + 2.0  # a shot on its way at the whistle counts
    assert log.duration_s == game.bouts.seconds or in_the_air
    assert [event[0] for event in log.events] == sorted(event[0] for event in log.events)
    live_since, live, dead_since, dead, owner = None, 0.0, 0.0, 0.0, ""
    for t, _, kind, player, other, *_ in log.events:
        if kind == "live":
            assert live_since is None
            dead, live_since = dead + t - dead_since, t
        elif kind == "dead":
            live, live_since, dead_since, owner = live + t - live_since, None, t, ""
        elif kind == "release":
            assert owner == player  # only who has it can pass it
            owner = ""
        elif kind in ("receive", "possession"):
            owner = player
        elif kind == "tackle":
            assert owner == other
            owner = owner if kind == "tackle" and "beaten" in _ else ""
        elif kind == "shot":
            assert owner == player
            owner = ""
        elif kind == "deflect":
            owner = ""  # touched, not controlled: whoever has it next need not have been passed to
        elif kind == "touch" and owner == "":
            owner = player
    assert live + dead + (log.duration_s - dead_since if live_since is None else 0.0) == pytest.approx(log.duration_s)


@pytest.mark.parametrize("limit", [1, 2, 3])
def test_touch_limits_hold(limit: int):
    _, _, log = bout("tight-square", 5, (f"roles.outside.touches={limit}", "bouts.minutes=3"))
    outside = {event[3] for event in log.events if event[2] == "job" and event[6] == "outside"}
    touches: Counter = Counter()
    for _, _, kind, player, *_ in log.events:
        if kind in ("live", "receive", "dead", "tackle", "loss", "deflect"):  # a loose ball starts the count anew
            touches.clear()
            touches[player] = 1 if kind == "receive" else 0
        elif kind == "touch" and player in outside:
            touches[player] += 1
            assert touches[player] <= limit
    assert outside


def test_the_same_seed_gives_the_same_bout_and_another_another():
    first, again, other = (plain(bout("two-squares", seed)[2]) for seed in (0, 0, 1))
    assert first[0] == again[0] and np.array_equal(first[1], again[1])
    assert first[0] != other[0]
