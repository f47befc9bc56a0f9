"""Who changes his mind when: in order, up to the next moment, and anew after everything he has answered."""

from __future__ import annotations

import numpy as np
import pytest

from sim.game.loader import load_game
from tests.support.scene import FLOATER, RACE, ROLLING, Scene, in_play


def begun() -> Scene:
    """A bout of even keep-ball, somebody with the ball under control."""
    return in_play(load_game("even-keep-ball"), 4)


def test_everybody_due_before_the_next_moment_has_thought_and_nobody_after_it():
    one = begun()
    now, due = one.bout.now, one.players["replans_at"]
    due[:] = now + 0.1 + 0.05 * np.arange(len(due))[::-1]
    before = due.copy()
    until = now + 0.32
    following = one.change_minds(until)
    thought = before < until
    assert 2 < thought.sum() < len(thought)
    assert (due[thought] >= until).all()
    assert (due[~thought] == before[~thought]).all()
    assert following == due.min()
    assert one.next_mind() == int(due.argmin())


def test_the_next_time_lies_within_its_limits():
    one = begun()
    due, waits = one.players["replans_at"], []
    for _ in range(200):
        t, i = float(due.min()), one.next_mind()
        one.change_minds(np.nextafter(t, np.inf))
        waits.append(due[i] - t)
    mean = one.constants["replan"]
    assert 0.6 * mean <= min(waits) < 0.7 * mean and 1.3 * mean < max(waits) <= 1.4 * mean
    assert np.mean(waits) == pytest.approx(mean, rel=0.06)


def test_who_has_just_answered_the_ball_waits_before_he_thinks_again():
    one = begun()
    holder, now = one.bout.holder(), one.bout.now
    due, side = one.players["replans_at"], one.players["side"]
    due[:] = now + 1e-3  # all about to
    one.settle(holder, now)
    others = (side != FLOATER) & (side != one.play["side"])
    assert others.any()
    assert (due[others] >= now + 0.6 * one.constants["replan"]).all()
    assert due[holder] == now + 1e-3


def test_who_has_answered_a_pass_or_a_new_phase_waits_too():
    one = begun()
    while one.ball["state"] != ROLLING:
        one.step()
    idle = [i for i, duty in enumerate(one.players["duty"]) if duty != RACE and i != one.ball["passer"]]
    assert len(idle) > 3
    due, least = one.players["replans_at"], 0.6 * one.constants["replan"]
    assert (due[idle] >= one.ball["kicked_at"] + least).all()
    due[:] = one.bout.now
    one.roles_changed()
    assert (due >= one.bout.now + least).all()


def test_of_two_due_at_the_same_time_the_first_in_order_thinks_first():
    one = begun()
    one.players["replans_at"][:] = one.bout.now + 1.0
    one.players["replans_at"][[2, 5]] = one.bout.now + 0.1
    assert one.next_mind() == 2
