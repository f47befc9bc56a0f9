"""When a carrier shoots: from where such a player shoots, not while a few metres on are better, and past or through whoever stands
there."""

from __future__ import annotations

import pytest

from sim.evidence.tables import folder
from sim.game.loader import load_game
from sim.pitch import decisions, shooting
from sim.pitch.goals import beside_mouth
from tests.support.scene import Scene, look_of, scene

CARRIER, KEEPER, DEFENDER = "amber-1", "slate-6", "slate-1"


def alone(
    metres: float, out: float, *bodies: tuple[float, float], population: str = "amateur men", **constants
) -> Scene:
    """Amber 1 with the ball so far from goal, the keeper so far off his line, and perhaps one defender."""
    places = {CARRIER: (21.0 - metres, 0.0), KEEPER: (21.0 - out, 0.0)}
    places |= {DEFENDER: bodies[0]} if bodies else {}
    game = load_game("even-goals", population=population) if population else load_game("even-goals")
    one = scene(game, **constants).put(places, (-19.0, 14.0))
    one.held_by(one.index(CARRIER)).aim()
    return one.look_around()


def chance(one: Scene) -> float:
    return one.goal_chance(one.index(CARRIER))


def shoots(one: Scene, after: float = 0.3) -> bool:
    return bool(decisions.shot(one.pitch, look_of(one.index(CARRIER), after)._replace(may_shoot=True)).can_be)


def error(one: Scene) -> float:
    i = one.index(CARRIER)
    return shooting.shot_error(one.pitch, i, *one.where(i, 0.0)[:2], 0.0)


def test_a_shot_with_an_opponent_beside_goes_wider():
    free, pressed = alone(9.0, 2.0), alone(9.0, 2.0, (12.0, 0.8))
    assert error(pressed) == pytest.approx((1.0 + free.constants["shot_pressed"]) * error(free))
    assert chance(pressed) < 0.9 * chance(free)
    assert chance(alone(9.0, 2.0, (12.0, 0.8), shot_pressed=0.0)) > chance(pressed)


def test_a_keeper_off_his_line_leaves_less_of_the_goal():
    assert chance(alone(9.0, 4.0)) < 0.7 * chance(alone(9.0, 0.6))
    wider = shooting.shadow_of(alone(9.0, 4.5).pitch, 12.0, 0.0, 0.0)
    assert (wider.wider, wider.way) == pytest.approx((2.0, 0.5))


def test_one_whom_the_ball_has_passed_keeps_nothing():
    assert chance(alone(3.0, 4.0, shot_pressed=0.0)) == chance(alone(3.0, 30.0)) > 2.0 * chance(alone(3.0, 1.0))
    assert shooting.shadow_of(alone(3.0, 4.0).pitch, 18.0, 0.0, 0.0).keeper == -1


@pytest.mark.parametrize(("ball", "out"), [(20.0, 0.6), (12.0, 2.4), (7.0, 2.24), (3.0, 0.96)])
def test_he_comes_off_his_line_as_the_ball_comes(ball: float, out: float):
    one = alone(ball, 0.6)
    one.keep_goal(one.index(KEEPER), (21.0 - ball, 0.0))
    assert 21.0 - one.where(one.index(KEEPER), 20.0)[0] == pytest.approx(
        out, abs=0.65
    )  # moves below the deadband are not made


def test_with_open_ground_ahead_he_waits_while_a_few_metres_on_are_better():
    calm = {"shot_worth": 0.001, "shot_least": 0.001, "shot_range": 18.0, "keeper_reach": 1.14}
    assert not shoots(alone(13.0, 2.0, **calm))
    assert shoots(alone(13.0, 2.0, **calm, shot_nearer_doubt=1.0)) is False  # the ground is open: nothing to doubt
    assert shoots(alone(13.0, 2.0, (9.4, 0.8), **calm, shot_nearer_doubt=1.0))  # a man right in front of him: now


def test_children_shoot_from_nearer_than_adults():
    def range_of(population: str) -> float:
        one = alone(9.0, 0.6, population=population)
        return shooting.within_range(one.pitch, one.index(CARRIER), 9.0)

    assert range_of("amateur men") > 0.9
    assert range_of("U12") < 0.5


def test_a_child_shoots_wider_and_slower_by_his_population_not_by_himself():
    child, man = alone(9.0, 0.6, population="U12"), alone(9.0, 0.6)
    i = child.index(CARRIER)
    assert error(child) > 1.5 * error(man)
    assert shooting.shot_speed(child.pitch, i) < 0.85 * shooting.shot_speed(man.pitch, i)
    before = error(child)
    child.players["first_touch_miss"][i] *= 0.5
    assert error(child) == before


def test_he_takes_a_body_in_the_way_too_lightly():
    free, shut = chance(alone(9.0, 0.6)), chance(alone(9.0, 0.6, (16.0, 0.0)))
    block = alone(9.0, 0.6).constants["shot_block"]
    assert free * (1.0 - block) < shut < free


@pytest.mark.parametrize(
    ("out", "brought"), [((21.0, 1.9), (21.0, 5.5)), ((21.0, -4.0), (21.0, -5.5)), ((21.0, 9.0), (21.0, 9.0))]
)
def test_no_ball_is_brought_in_at_the_goal_mouth(out: tuple[float, float], brought: tuple[float, float]):
    goals = load_game("even-goals").goals
    assert beside_mouth(goals, *out, (1.0, 1.0)) == pytest.approx(brought)
    assert beside_mouth(goals, 3.0, 15.0, (1.0, 1.0)) == (3.0, 15.0)


def test_from_the_very_middle_of_a_mouth_the_mirror_brings_it_in_at_the_mirrored_post():
    goals = load_game("even-goals").goals
    (x, y), (mx, my) = (beside_mouth(goals, -21.0, 0.0, (1.0, way)) for way in (1.0, -1.0))
    assert x == mx == -21.0 and y == -my and abs(y) > 0.5 * goals[0].width


def test_they_shoot_from_further_at_a_wider_goal():
    def would(width: float, **constants: float) -> float:
        one = alone(12.0, 0.6, **constants)
        one.play["goal_width"] = width
        return shooting.within_range(one.pitch, one.index(CARRIER), 12.0)

    assert would(2.0) < would(5.0) < would(7.32)
    assert would(2.0, shot_range_goal=0.0) == would(7.32, shot_range_goal=0.0) == would(5.0)


def test_where_there_is_much_room_they_ask_for_less_of_a_chance():
    def asked(spacing: float, **constants: float) -> float:
        one = alone(9.0, 0.6, **constants)
        one.play["spacing"] = spacing
        return float(decisions.chance_asked(one.pitch, 0.0))

    usual = float(alone(9.0, 0.6).constants["shot_worth"])
    assert asked(5.0) == asked(10.0) == pytest.approx(usual)
    assert asked(20.0) == pytest.approx(usual * 0.5 ** float(alone(9.0, 0.6).constants["shot_seldom"]))
    assert asked(20.0, shot_seldom=0.0) == pytest.approx(usual)


def test_a_low_goal_is_shot_over():
    def goals(height: float, **constants: float) -> int:
        one = alone(9.0, 30.0, **constants)  # nobody keeps it
        one.play["goal_height"] = height
        i = one.index(CARRIER)
        return sum(shooting.shoot(one.pitch, i, 0.0).result == shooting.GOAL_SCORED for _ in range(200))

    assert goals(0.5) < 0.75 * goals(2.44)
    assert goals(0.5, shot_rise=0.0) == goals(2.44, shot_rise=0.0) >= goals(2.44)


def test_the_shooter_knows_that_a_low_goal_is_harder_to_hit():
    def judged(height: float, **constants: float) -> float:
        one = alone(9.0, 30.0, **constants)
        one.play["goal_height"] = height
        return chance(one)

    assert judged(0.5) < 0.85 * judged(2.44)
    assert judged(0.5, shot_rise=0.0) == judged(2.44, shot_rise=0.0)


def across_the_mouth(at: tuple[float, float], way: tuple[float, float]) -> Scene:
    """A child alone before an open goal 2 m wide, 12.5 m east of the middle: as he looks up, 0.3 s on, there with the ball, moving
    so."""
    game = load_game(folder() / "games" / "small-goals.toml", population="U12")
    one = scene(game).put({CARRIER: at}, (-9.0, 0.0))
    i = one.index(CARRIER)
    one.held_by(i).aim()
    one.put_one(i, (at[0] - 0.3 * way[0], at[1] - 0.3 * way[1]), velocity=way)
    return one.look_around()


def test_who_runs_on_past_the_mouth_shoots_and_who_comes_nearer_to_it_does_not_yet():
    assert shoots(across_the_mouth((11.5, 0.7), (1.0, 3.5)))
    assert shoots(across_the_mouth((11.5, -0.7), (1.0, -3.5)))
    assert not shoots(across_the_mouth((11.5, 1.0), (1.0, -3.5)))
    assert not shoots(across_the_mouth((10.5, 0.0), (3.5, 0.0)))
