"""How hard ordinary runs are run: the player's own speed and stamina, the ball out of play, the end of the bout."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.pitch.assumptions import USUAL
from sim.populations import POPULATIONS
from tests.support.scene import COVER, DEAD, FLOATER, FREE, Scene, scene


def fastest(one: Scene, i: int, until: float) -> float:
    """Top speed of what player i has run (m/s)."""
    return max(math.hypot(row["vx"], row["vy"]) for row in one.ran(i, until))


def free_players(one: Scene) -> list[int]:
    return [i for i, style in enumerate(one.players["style"]) if style == FREE]


def far_off(name: str, population: str, **constants: float) -> tuple[Scene, int]:
    """A shipped game with the ball held in one corner, and a free player of the other side in the opposite one."""
    game = load_game(name, ["areas.field.length=90", "areas.field.width=60"], population)
    one = scene(game, begun=True, **constants)
    free, sides = free_players(one), one.players["side"]
    mine = [i for i in free if sides[i] == one.play["side"]]
    theirs = [i for i in free if i not in mine and sides[i] != FLOATER]
    one.stand(*((40.0, 25.0) if i in mine else (-40.0, -25.0) for i in range(len(sides))))
    return one.held_by(mine[0]), theirs[-1]


def ordinary_run(population: str, **constants: float) -> float:
    """Top speed (m/s) of the run of a defender who is far from the man he is to cover."""
    one, i = far_off("even-keep-ball", population, urgency_defence=0.9, **constants)
    one.think(i)
    assert one.players["duty"][i] == COVER
    return one.top_speed(i, 30.0, 0.1)


def test_everybody_runs_up_to_the_same_share_of_his_own_top_speed():
    low = {population: ordinary_run(population, run_cap=0.6) for population in ("elite men", "U12")}
    for population, speed in low.items():
        assert speed == pytest.approx(0.6 * scene(population=population).players["top_speed"][0], rel=0.01)


def test_ordinary_speeds_follow_critical_speed():
    assert USUAL["usual_critical"] == POPULATIONS["amateur men"].traits["critical_speed_mps"].mean
    for population in ("elite men", "women"):
        ratio = POPULATIONS[population].traits["critical_speed_mps"].mean / USUAL["usual_critical"]
        alike, fit = (slow_move(population, fitness_share=share) for share in (0.0, 1.0))
        assert fit / alike == pytest.approx(ratio, rel=0.01)


def slow_move(population: str, **constants: float) -> float:
    """Top speed (m/s) of an ordinary move that no limit touches."""
    one, i = far_off("even-keep-ball", population, **constants)
    x, y, _, _ = one.where(i, 0.0)
    one.move(i, to=(x + 12.0, y), factor=6.0, cap=9.0)
    return one.top_speed(i, 10.0, 0.1)


def push(bout_s: float, share: float, now: float = 0.0) -> float:
    """Metres run in the first tenths of a second from standing, in a bout of `bout_s`, with `share` of the reserve."""
    one = scene().stand((0.0, 0.0), t=now)
    one.players["whistle_at"][0] = bout_s
    one.players["reserve"][0] = share * one.players["reserve_full"][0]
    one.run(0, now, now, to=(30.0, 0.0), cap=8.0, effort=0.8)
    return one.where(0, now + 0.3)[0]


def test_a_tired_player_saves_effort_the_less_the_shorter_the_bout():
    long, pacing = (scene().constants[name] for name in ("plan_time", "pacing"))
    fresh = push(long, 1.0)
    assert push(3.0 * long, 0.5) == push(long, 0.5) < push(0.75 * long, 0.5) < push(0.5 * long, 0.5) == fresh
    assert push(long, 0.5, now=0.9 * long) == pytest.approx(push(long, 0.5))  # nor does the whistle draw near for him
    assert push(long, 0.5) / fresh == pytest.approx(1.0 - 0.5 * pacing, abs=0.02)


def test_players_walk_to_their_places_while_the_ball_is_out_of_play():
    one = scene(load_game("even-keep-ball"))
    zone, dead_pace = one.players, one.constants["dead_pace"]
    one.stand(*((0.5 * (one.players["west"][i] + 4.0 * i), 0.5 * one.players["south"][i]) for i in range(len(zone))))
    one.ball["state"], one.play["live_at"] = DEAD, 3.0
    free = free_players(one)
    for i in free:
        one.think(i)
    assert max(fastest(one, i, 20.0) for i in free) == pytest.approx(dead_pace, abs=0.01)
    one.stand(
        *zip(0.5 * zone["west"], 0.5 * zone["south"], strict=True)
    ).look_around()  # out of a heap they go a little faster
    for i in free:
        one.think(i)
    assert max(fastest(one, i, 20.0) for i in free) == pytest.approx(one.constants["dead_apart_pace"], abs=0.01)
    one.stand(*((east + 12.0, 0.0) for east in zone["east"]))  # who is outside his area hurries back into it
    one.think(free[0])
    assert fastest(one, free[0], 20.0) > 2.0 * dead_pace


def line_crossed_by(**constants: float) -> float:
    """How far (m) over the line a defender comes who runs towards it while his place lies within."""
    one = scene(load_game("even-keep-ball"), begun=True, **constants)
    holder, i = free_players(one)[0], free_players(one)[-1]
    one.stand(*((0.0, 0.0) for _ in one.players)).held_by(holder)
    edge = float(one.play["east"]) - float(one.play["run_off"])
    one.put_one(i, (edge - 3.5, 0.0), velocity=(4.5, 1.0))
    one.move(i, to=(edge - 1.0, -3.0), factor=1.8, cap=4.5)
    one.record(i, 3.0)
    return max(one.where(i, k / 20)[0] for k in range(60)) - edge


def test_a_run_to_a_place_within_the_lines_pulls_up_before_them():
    assert line_crossed_by(stop_ahead=0.0) > 1.0
    assert line_crossed_by() < 0.3
