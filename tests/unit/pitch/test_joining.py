"""A carrier is through on goal: who goes with him, where they run, and how hard."""

from __future__ import annotations

import math

import pytest

from sim.game.loader import load_game
from sim.game.model import Game
from tests.support.scene import NOBODY, WAIT, Scene, scene
from tests.unit.pitch.test_zones import GOALS, made

CARRIER, MATE, SECOND, THIRD, BEATEN = "amber-1", "amber-2", "amber-3", "amber-4", "slate-1"
BALL = (-2.0, 0.0)
THROUGH = {CARRIER: BALL, MATE: (-12.0, 7.0), BEATEN: (-8.0, -3.0)}
OFF = {"beside_within": 0.0}
LATER_S = 2.0


def attack(
    places: dict[str, tuple[float, float]], speed: float = 5.0, game: Game | None = None, **constants: float
) -> Scene:
    """Amber 1 runs at the east goal with the ball; whoever is not named is out of it."""
    one = scene(game or load_game("even-goals"), begun=True, **constants).put(places, (-19.0, 14.0))
    for i, name in enumerate(one.bout.ids):
        if name not in places:
            one.players["style"][i], one.players["may_receive"][i] = WAIT, 0.0
    i = one.index(CARRIER)
    one.held_by(i).aim()
    one.put_one(i, places[CARRIER], velocity=(speed, 0.0))
    return one.look_around()


def after(one: Scene, who: str = MATE) -> tuple[float, float, float]:
    """(x, y, speed) of a mate who decides now, two seconds later."""
    one.think(one.index(who))
    x, y, vx, vy = one.where(one.index(who), LATER_S)
    return x, y, math.hypot(vx, vy)


def ends(one: Scene, who: str = MATE) -> tuple[float, float]:
    """Where the run of a mate ends who decides now."""
    one.think(one.index(who))
    return one.where(one.index(who), 30.0)[:2]


def test_a_mate_who_was_left_behind_comes_at_the_pace_of_a_real_run():
    one = attack(THROUGH)
    pace = one.constants["chase_cap"] * one.players["top_speed"][one.index(MATE)]
    x, _, speed = after(one)
    before, _, slow = after(attack(THROUGH, **OFF))
    assert 0.8 * pace < speed <= pace and x > -12.0 + 6.5
    assert slow < 0.65 * pace and before < -12.0 + 4.5


@pytest.mark.parametrize("y", [7.0, -7.0])
def test_he_runs_beside_the_way_to_goal_on_his_own_side_a_little_ahead_of_the_ball_to_come(y: float):
    for speed in (0.0, 5.0):
        one = attack(THROUGH | {MATE: (-10.0, y)}, speed)
        on = one.constants["beside_time"] * speed + one.constants["beside_ahead"]
        assert ends(one) == pytest.approx((BALL[0] + on, math.copysign(one.constants["beside_wide"], y)), abs=0.1)
    x, _ = ends(attack(THROUGH | {MATE: (-10.0, y)}, 5.0, beside_ahead=0.0))
    assert x == pytest.approx(BALL[0] + on - 1.0, abs=0.1)


def test_on_the_other_side_where_there_is_no_room_for_a_pass_across():
    near_the_line = {CARRIER: (-15.0, 13.0), MATE: (-18.0, 14.6), BEATEN: (-19.0, 0.0)}

    def off_the_way(**constants: float) -> float:
        """Metres across the ground from the line from ball to goal to where he runs; his own side above 0."""
        x, y = ends(attack(near_the_line, 0.0, **constants))
        return y - 13.0 * (21.0 - x) / 36.0

    assert off_the_way() < -5.0
    assert off_the_way(beside_wide=1.0) > 0.9


def test_two_go_the_nearest_first_and_the_third_does_as_ever():
    places = THROUGH | {MATE: (-5.0, 7.0), SECOND: (-6.0, -8.0), THIRD: (-13.0, 3.0)}
    for most, go in ((2.0, [MATE, SECOND]), (1.0, [MATE]), (0.0, [])):
        one = attack(places, beside_most=most)
        on = BALL[0] + 5.0 * one.constants["beside_time"] + one.constants["beside_ahead"]
        found = [who for who in (MATE, SECOND, THIRD) if ends(one, who)[0] == pytest.approx(on, abs=0.1)]
        assert found == go


def test_nobody_goes_who_is_too_far_off_or_while_a_defender_is_left_before_the_ball():
    for places, constants in (
        (THROUGH | {"slate-2": (12.0, 4.0)}, {}),
        (THROUGH, {"beside_within": math.hypot(10.0, 7.0) - 0.1}),
    ):
        one, without = attack(places, **constants), attack(places, **constants | OFF)
        assert ends(one) == ends(without)
    assert ends(attack(THROUGH)) != ends(attack(THROUGH, **OFF))


def test_he_stays_onside_where_offside_counts():
    zones = {name: {"offside": True} for name in ("west", "east")}
    places = {CARRIER: (8.0, 0.0), MATE: (4.0, 5.0), BEATEN: (3.0, -3.0)}
    phases = {"phases": {"play": {"aim": "goal", "open": ["shoot"]}}}
    strict, free = (attack(places, 0.0, made(**GOALS, **phases, **more)) for more in ({"zones": zones}, {}))
    assert ends(free)[0] > 8.0 > ends(strict)[0] > 6.0
    assert int(strict.players["marks"][strict.index(MATE)]) == NOBODY
