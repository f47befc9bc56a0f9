"""The card for the grass on a game worked out on paper: the number of passes asked for, when each comes off with chance p.

Of K passes in a bout that begins with a fresh count, each completes a run of n with chance p**n if the pass before the run
failed (or there was none): E = q p**n (K - n + 1/q), q = 1 - p (our own derivation: the first run can end at pass n, with
chance p**n; each later pass k ends one with chance q p**n).  A pass takes a cycle of known length, so this is a rate.
Interval and rank of the lever "a pass fewer or more" must agree with it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from sim.experiments.adjust import adjust
from sim.experiments.levers import levers_of
from sim.game.loader import load_game, to_short
from sim.game.model import Game
from sim.pitch.chance import constant_success
from sim.pitch.engine import play_bout
from sim.pitch.log import BoutLog
from tests.theory.games import HOLD_S, LOST, STEADY, faultless, keep_ball

P = 0.8
PASS_S = 0.06
CYCLE_S = HOLD_S + PASS_S
BOUT_S = 120.0
ASKED = 4
SEEDS, SESSIONS = 8, 12
HELD = 13  # of 16 intervals of 95 %: fewer has a chance under 1 % if all is right
AIM = "threshold_reached_per_min", "game", "more"


def steady(game: Game, seed: int, replicate: int) -> Iterator[BoutLog]:
    yield play_bout(game, faultless(game), seed, replicate, 0, constant_success(P, PASS_S), STEADY)


def reached_per_min(n: int) -> float:
    q, passes = 1 - P, BOUT_S / CYCLE_S
    return q * P**n * (passes - n + 1 / q) / BOUT_S * 60


@cache
def with_levers(asked: int):
    """The game that asks for so many passes, and all its levers."""
    rules = {"lost": LOST, "run": {"on": "passes", "count": asked, "do": [{"score": 1}]}}
    game = keep_ball(3, 1, seconds=BOUT_S, rules=rules)
    return game, levers_of(game, lambda changes: load_game(to_short(game), changes))[0]


def card(seed: int, kinds: tuple[str, ...], asked: int = ASKED):
    game, levers = with_levers(asked)
    levers = [one for one in levers if one[0].kind in kinds]
    return adjust(game, AIM, levers, bouts=SESSIONS, seed=seed, workers=1, session=steady)


def complaints(found) -> list[str]:
    """Intervals that do not hold the effect, and order that is not that of the effects."""
    wrong = []
    for one in found.effects:
        truth = reached_per_min(ASKED + one.lever.way) - reached_per_min(ASKED)
        if not one.aim.low <= truth <= one.aim.high:
            wrong.append(f"{one.lever.way}: {truth:.3g} not in {one.aim.low:.3g} to {one.aim.high:.3g}")
    return wrong


@pytest.mark.theory
def test_effects_of_the_pass_count_hold_the_closed_form():
    cards = [card(seed, ("passes",)) for seed in range(1, SEEDS + 1)]
    assert sum(len(complaints(one)) for one in cards) <= 2 * SEEDS - HELD
    for way in (-1, 1):
        every = [effect.aim.difference for one in cards for effect in one.effects if effect.lever.way == way]
        errors = [
            (effect.aim.high - effect.aim.low) / 4.4
            for one in cards
            for effect in one.effects
            if effect.lever.way == way
        ]
        truth = reached_per_min(ASKED + way) - reached_per_min(ASKED)  # t with 11 degrees: 2.2
        assert abs(sum(every) / SEEDS - truth) <= 3 * (sum(error**2 for error in errors) / SEEDS) ** 0.5 / SEEDS**0.5


@pytest.mark.theory
def test_the_rank_is_that_of_the_closed_form():
    found = card(3, ("passes", "bout"))
    assert reached_per_min(ASKED - 1) > reached_per_min(ASKED) > reached_per_min(ASKED + 1)
    assert [(one.lever.kind, one.lever.way, one.moves) for one in found.effects[:2]] == [
        ("passes", -1, 1),
        ("passes", 1, -1),
    ]
    assert {(one.lever.kind, one.moves) for one in found.effects[2:]} == {("bout", 0)}
    (trigger,) = found.triggers
    assert (trigger.below, trigger.effects) == (True, (0,))


@pytest.mark.theory
def test_the_check_hears_another_count():
    cards = [card(seed, ("passes",), asked=ASKED - 2) for seed in range(1, 3)]
    assert sum(len(complaints(one)) for one in cards) >= 3
