"""Limits of players in plans at random (10,000 by `python -m tests.plans 10000`)."""

from __future__ import annotations

from dataclasses import replace

from sim.weeks import lines
from tests.plans import found_broken
from tests.support.weeks_at_random import plan_at_random

PLANS = 200


def test_no_limit_is_ever_broken():
    made, limited, problems = found_broken(PLANS, seed=1)
    assert problems == []
    assert made > PLANS / 3
    assert limited > PLANS


def test_a_limit_that_is_let_go_is_noticed(monkeypatch):
    own = lines.within

    def careless(limits, *about):
        return own(replace(limits, bouts=None), *about)

    monkeypatch.setattr(lines, "within", careless)
    assert any("bouts of" in one for one in found_broken(20, seed=1)[2])


def test_the_same_seed_is_the_same_plan():
    assert plan_at_random(7) == plan_at_random(7)
