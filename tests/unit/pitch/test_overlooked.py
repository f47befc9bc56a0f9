"""What a receiver has not seen: opponents he overlooks, the longer he looks the fewer, and another area."""

from __future__ import annotations

import pytest

from tests.support.scene import Scene, scene

THEN, NOW = (8.0, 3.0), (8.0, 0.5)


def receiver(overlooked: float = 0.3, composure: float = 0.5, **constants: float) -> Scene:
    """0 has just received a ball struck 1 s ago, when opponent 2, who now shuts the lane to mate 1, was off it."""
    one = scene(**constants).carrier(at=(0.0, 0.0), composure=composure).mate(at=(14.0, 0.0))
    one.opponent(at=NOW, overlooked=overlooked, struck_x=THEN[0], struck_y=THEN[1])
    one.ball["kicked_at"] = -1.0
    return one


def test_an_opponent_not_seen_lately_is_taken_to_stand_where_he_was_when_the_ball_was_played():
    assert receiver(overlooked=0.3).look_round(0, 0.0).seen(2) == (*THEN, 0.0, 0.0)
    assert receiver(overlooked=0.99).look_round(0, 0.0).seen(2)[:2] == NOW


def test_he_passes_into_a_lane_that_has_been_shut_behind_his_back():
    assert receiver(overlooked=0.3).worth(0, 0.0) > receiver(overlooked=0.99).worth(0, 0.0) + 0.2


def test_with_more_time_on_the_ball_he_is_seen_and_after_turning_away_as_well():
    one = receiver(overlooked=0.3)
    assert one.look_round(0, 2.5).seen(2)[:2] == NOW
    one.ball["turns"] = 3
    assert one.look_round(0, 0.3).seen(2)[:2] == NOW


def test_who_is_pressed_sees_less():
    one = receiver(overlooked=0.65)
    assert one.look_round(0, 0.0).seen(2)[:2] == NOW
    one.opponent(at=(1.0, 0.0), overlooked=0.99)
    assert one.look_round(0, 0.0).seen(2)[:2] == THEN


@pytest.mark.parametrize(("composure", "where"), [(1.0, NOW), (0.75, NOW), (0.5, THEN), (0.3, THEN)])
def test_the_better_the_player_the_more_he_has_seen(composure: float, where: tuple[float, float]):
    assert receiver(overlooked=0.35, composure=composure).look_round(0, 0.0).seen(2)[:2] == where


def test_nobody_overlooks_who_is_right_beside_him():
    one = scene().carrier(at=(0.0, 0.0)).mate(at=(14.0, 0.0)).opponent(at=(1.2, 0.0), overlooked=0.0, struck_x=9.0)
    assert one.look_round(0, 0.0).seen(2)[:2] == (1.2, 0.0)


def test_asking_how_closely_he_is_pressed_does_not_change_the_picture():
    one = receiver(overlooked=0.3).look_round(0, 0.0)
    before = one.seen(2)
    assert one.pressure(0) == 0.0
    assert one.seen(2) == before == (*THEN, 0.0, 0.0)


def test_another_area_is_played_to_only_when_it_has_been_seen():
    def share(**constants: float) -> float:
        one = scene(**constants).carrier(at=(0.0, 0.0)).mate(at=(14.0, 0.0), across=True).mate(at=(-6.0, 0.0))
        return sum(one.choose(0, 0.0) == 1 for _ in range(400)) / 400

    assert share(far_seen=0.0) == 0.0
    assert share(far_seen=1.0) == 1.0
    assert share() == pytest.approx(0.35, abs=4.0 * 0.024)
