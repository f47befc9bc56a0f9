"""The JSON of a plan: what it must never say of minors, beyond limits, or in heat, would be noticed in plans at random."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.weeks import lines, plan
from tests.support.plan_data_at_random import broken_in_data, minors_at_random
from tests.support.weeks_at_random import plans_at_random

SEEDS = range(1, 9)


def found(draw) -> list[str]:
    """Whatever is broken in some plans."""
    return [one for seed in SEEDS for drawn in draw(seed) for one in broken_in_data(drawn)]


def test_minors_are_planned_and_nothing_of_adults_is_told_of_them():
    assert found(minors_at_random) == []
    drawn = [one for seed in SEEDS for one in minors_at_random(seed)]
    assert drawn and all(line.member.minor for one in drawn for line in one.plan.lines)


@pytest.mark.parametrize(
    ("room", "name", "careless", "said"),
    [
        (plan, "without_fast", lambda _: lambda *about: about, "fast metres are told of minors"),
        (
            lines,
            "within",
            lambda own: lambda limits, *about: own(replace(limits, bouts=None), *about),
            "bouts, at most",
        ),
        (plan, "in_heat", lambda _: lambda taken, *_: taken, "WBGT"),
    ],
)
def test_what_is_let_go_is_noticed(monkeypatch: pytest.MonkeyPatch, room, name: str, careless, said: str):
    monkeypatch.setattr(room, name, careless(getattr(room, name)))
    assert any(said in one for one in [*found(minors_at_random), *found(plans_at_random)])
