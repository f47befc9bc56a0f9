"""Comparisons and searches that ended early find their sessions in the drawer, and come to the answer of one that did not."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.experiments import drawer as drawers
from sim.experiments.compare import Variant, compare_all
from sim.experiments.tune import tune
from tests.unit.experiments.staged_pairs import (
    GAME,
    LONG,
    interrupted_at_once_in_the_second_arm,
    interrupted_in_the_second_arm,
    staged_pairs,
)

PLAYED: list[tuple[float, int]] = []


def counted(game, seed, replicate):
    PLAYED.append((game.areas[0].length, replicate))
    return staged_pairs(game, seed, replicate)


def found_of(drawer=None, session=staged_pairs, bouts=36):
    return compare_all(GAME, [Variant(LONG, ("a=1",), "long")], bouts=bouts, workers=1, session=session, drawer=drawer)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "kept"


def opened(place: Path) -> drawers.Drawer:
    return drawers.opened(place, place.write_bytes, "--save")


@pytest.mark.parametrize("how", [interrupted_in_the_second_arm, interrupted_at_once_in_the_second_arm])
def test_a_comparison_goes_on(how, place: Path):
    first = opened(place)
    try:
        found_of(first, how)
    except KeyboardInterrupt:
        pass  # too little for an answer, and kept all the same
    first.close()
    again = opened(place)
    before = sum(len(sessions) for _, sessions in again.held.values())
    PLAYED.clear()
    assert found_of(again, counted).to_json() == found_of().to_json()
    assert before > 0 and len(PLAYED) == 24 - before, "nothing is played twice"


def test_a_comparison_with_another_tweak_plays_only_that(place: Path):
    first = opened(place)
    found_of(first)
    first.close()
    PLAYED.clear()
    longer = LONG.model_copy(update={"areas": tuple(one.model_copy(update={"length": 14.0}) for one in LONG.areas)})
    second = opened(place)
    compare_all(GAME, [Variant(longer, (), "longer")], bouts=36, workers=1, session=counted, drawer=second)
    assert {length for length, _ in PLAYED} == {14.0}
    second.close()
    assert len(opened(place).held) == 3, "what lies there and was not asked for stays"


def test_a_search_goes_on(place: Path):
    games = {(int(one.areas[0].length),): one for one in (GAME, LONG)}
    target = ("in_play_share", "game", 0.8)

    def asked(drawer=None, session=staged_pairs):
        more = {"bouts": 15, "budget": 120, "fresh": 30, "workers": 1}
        return tune(GAME, games, ["side"], target, session=session, drawer=drawer, **more)

    stops = iter(range(14))

    def stopped(game, seed, replicate):
        if next(stops, None) is None:
            raise KeyboardInterrupt
        return staged_pairs(game, seed, replicate)

    first = opened(place)
    asked(first, stopped)
    first.close()
    PLAYED.clear()
    assert asked(opened(place), counted).to_json() == asked().to_json()
    PLAYED_ONCE = len(PLAYED)
    PLAYED.clear()
    asked(None, counted)
    assert len(PLAYED) == PLAYED_ONCE + 14
