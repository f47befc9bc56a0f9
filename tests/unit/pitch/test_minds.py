"""Who changes his mind when: in order, up to the next moment, and anew after everything he has answered."""

from __future__ import annotations

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.pitch import columns as col
from sim.pitch.assumptions import REPLAN
from sim.pitch.engine import begin, race
from sim.pitch.minds import change_minds, next_mind, settle
from sim.pitch.phases import roles_changed
from sim.pitch.state import Bout
from sim.players import typical_roster


def begun() -> Bout:
    """A bout of even keep-ball, somebody with the ball under control."""
    game = load_game("even-keep-ball")
    bout = Bout(game, typical_roster(game), 4, 0, 0, race)
    begin(bout)
    while bout.holder() < 0:
        bout.clock.env.step()
    return bout


def changed(bout: Bout, until: float) -> None:
    change_minds(
        bout.P,
        bout.M,
        bout.B,
        bout.C,
        bout.K,
        bout.N,
        bout.G,
        bout.count,
        until,
        -1,
        False,
        bout.carrier.look_at,
        bout.out,
    )


def test_everybody_due_before_the_next_moment_has_thought_and_nobody_after_it():
    bout = begun()
    now = bout.now
    bout.P[:, col.MIND] = now + 0.1 + 0.05 * np.arange(len(bout.P))[::-1]
    before = bout.P[:, col.MIND].copy()
    until = now + 0.32
    changed(bout, until)
    thought = before < until
    assert 2 < thought.sum() < len(thought)
    assert (bout.P[thought, col.MIND] >= until).all()
    assert (bout.P[~thought, col.MIND] == before[~thought]).all()
    assert bout.out[3] == bout.P[:, col.MIND].min()
    assert next_mind(bout.P) == int(bout.P[:, col.MIND].argmin())


def test_the_next_time_lies_within_its_limits():
    bout = begun()
    waits = []
    for _ in range(200):
        t = float(bout.P[:, col.MIND].min())
        i = next_mind(bout.P)
        changed(bout, np.nextafter(t, np.inf))
        waits.append(bout.P[i, col.MIND] - t)
    mean = bout.C[REPLAN]
    assert 0.6 * mean <= min(waits) < 0.7 * mean and 1.3 * mean < max(waits) <= 1.4 * mean
    assert np.mean(waits) == pytest.approx(mean, rel=0.06)


def test_who_has_just_answered_the_ball_waits_before_he_thinks_again():
    bout = begun()
    holder, now = bout.holder(), bout.now
    bout.P[:, col.MIND] = now + 1e-3  # all about to
    settle(bout.P, bout.M, bout.B, bout.C, bout.K, bout.N, bout.G, bout.count, holder, now)
    others = (bout.P[:, col.SIDE] != col.FLOATER) & (bout.P[:, col.SIDE] != bout.B[col.HOLDING])
    assert others.any()
    assert (bout.P[others, col.MIND] >= now + 0.6 * bout.C[REPLAN]).all()
    assert bout.P[holder, col.MIND] == now + 1e-3


def test_who_has_answered_a_pass_or_a_new_phase_waits_too():
    bout = begun()
    while bout.B[col.MODE] != col.ROLLING:
        bout.clock.env.step()
    idle = [i for i in range(len(bout.P)) if bout.P[i, col.DUTY] != col.RACE and i != int(bout.B[col.PASSER])]
    assert len(idle) > 3
    kicked = float(bout.B[col.KICKED])
    assert (bout.P[idle, col.MIND] >= kicked + 0.6 * bout.C[REPLAN]).all()
    bout.P[:, col.MIND] = bout.now
    roles_changed(bout, [])
    assert (bout.P[:, col.MIND] >= bout.now + 0.6 * bout.C[REPLAN]).all()


def test_of_two_due_at_the_same_time_the_first_in_order_thinks_first():
    bout = begun()
    bout.P[:, col.MIND] = bout.now + 1.0
    bout.P[[2, 5], col.MIND] = bout.now + 0.1
    assert next_mind(bout.P) == 2
