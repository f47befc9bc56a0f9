"""Limits of players in plans at random (10,000 by `python -m tests.plans 10000`)."""

from __future__ import annotations

import os
from dataclasses import replace

import pytest

from sim.weeks import filling, lines, plan
from tests.plans import found_broken
from tests.support.weeks_at_random import plans_at_random

PLANS = 200 if os.environ.get("CI") else 60


def test_no_limit_is_ever_broken():
    made, limited, problems = found_broken(PLANS, seed=1)
    assert problems == []
    assert made > PLANS / 3
    assert limited > PLANS


@pytest.mark.parametrize(
    ("room", "name", "careless", "said"),
    [
        (lines, "within", lambda own: lambda limits, *about: own(replace(limits, bouts=None), *about), "bouts"),
        (filling, "_room", lambda own: lambda limits, *about: own(replace(limits, minutes=None), *about), "min"),
        (filling, "_week_room", lambda _: lambda *_: filling.MOST_RUNS, "min in a week"),
        (plan, "in_heat", lambda _: lambda taken, *_: taken, "too much in heat"),
    ],
)
def test_a_limit_that_is_let_go_is_noticed(monkeypatch, room, name: str, careless, said: str):
    monkeypatch.setattr(room, name, careless(getattr(room, name)))
    assert any(said in one for one in found_broken(8, seed=1)[2])


def test_the_same_seed_is_the_same_plan():
    assert plans_at_random(7) == plans_at_random(7)
