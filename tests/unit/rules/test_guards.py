"""A rule answers to its event, if every guard it names holds, and a counter rule once until its counter begins again."""

from __future__ import annotations

import pytest

from sim.rules.guards import RuleEvent, answers
from tests.theory.games import keep_ball
from tests.unit.rules.desk import rule, standing_of


@pytest.fixture
def standing():
    return standing_of(keep_ball())


@pytest.mark.parametrize(
    ("guards", "event", "expected"),
    [
        ({"on": "loss"}, RuleEvent("loss", "outside", 0, -1, "out"), True),
        ({"on": "loss"}, RuleEvent("win", "outside", 0), False),
        ({"on": "loss", "by": "outside"}, RuleEvent("loss", "outside"), True),
        ({"on": "loss", "by": "inside"}, RuleEvent("loss", "outside"), False),
        ({"on": "loss", "causes": ("out", "tackle")}, RuleEvent("loss", "outside", cause="tackle"), True),
        ({"on": "loss", "causes": ("out", "tackle")}, RuleEvent("loss", "outside", cause="shot"), False),
        ({"on": "loss", "causes": ("out",), "by": "inside"}, RuleEvent("loss", "outside", cause="out"), False),
        ({"on": "passes", "count": 3.0}, RuleEvent("passes", "outside", count=2.0), False),
        ({"on": "passes", "count": 3.0}, RuleEvent("passes", "outside", count=3.0), True),
        ({"on": "passes", "count": 3.0}, RuleEvent("passes", "outside", count=4.0), True),
        ({"on": "passes", "count": 3.0, "each": True}, RuleEvent("passes", "outside", count=0.0), False),
        ({"on": "passes", "count": 3.0, "each": True}, RuleEvent("passes", "outside", count=4.0), False),
        ({"on": "passes", "count": 3.0, "each": True}, RuleEvent("passes", "outside", count=6.0), True),
        ({"on": "wins", "count": 2.0}, RuleEvent("wins", "inside", count=1.0), False),
        ({"on": "wins", "count": 2.0}, RuleEvent("wins", "inside", count=2.0), True),
        ({"on": "time", "count": 8.0}, RuleEvent("time", "outside", count=8.0), True),
        ({"on": "time", "count": 8.0}, RuleEvent("time", "outside", count=9.0), False),
    ],
)
def test_guard(standing, guards, event, expected):
    assert answers(rule(**guards), event, standing) is expected


def test_a_counter_rule_that_has_fired_waits_but_only_for_that_side(standing):
    counting = rule("wins", count=2.0)
    standing.fired.add(("r", "inside"))
    assert not answers(counting, RuleEvent("wins", "inside", count=3.0), standing)
    assert answers(counting, RuleEvent("wins", "outside", count=3.0), standing)


def test_each_fires_at_every_multiple_even_when_it_has_fired(standing):
    standing.fired.add(("r", "outside"))
    assert answers(rule("passes", count=3.0, each=True), RuleEvent("passes", "outside", count=6.0), standing)
