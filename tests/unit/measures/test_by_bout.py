"""What is told bout by bout, against bouts made by hand and against waits drawn from a known law."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from sim.game.verbs import Score
from sim.measures.by_bout import (
    ACROSS,
    CUT,
    LONGEST,
    SCORED,
    over_by,
    point_for_passes,
    reaching,
    tallies_of,
    waits,
    waits_by_session,
)
from sim.measures.possession import PassRun
from sim.measures.session_counts import counts_of_bout, session_of
from sim.measures.summary import summarise
from tests.unit.measures.handmade import Bout, square_bout, square_game

GAME = square_game()


def run(side: str, passes: int) -> PassRun:
    return PassRun(side, 0.0, 1.0, 1.0, passes, "", True)


def across_at(*seconds: float):
    bout = Bout(GAME)
    for t in seconds:
        bout(t, "transfer", player="p1", side="outside")
    return bout.log()


def test_a_bout_leaves_its_longest_run_its_points_and_its_waits():
    log = across_at(10.0, 22.4, 50.0)
    found = tallies_of(
        log,
        [run("outside", 4), run("inside", 1), run("outside", 2)],
        {("points", "outside"): 2, ("points", "inside"): -1},
    )
    assert found == Counter(
        {(LONGEST, "outside", 4): 1, (LONGEST, "inside", 1): 1, (SCORED, "outside", 1): 1,
         (ACROSS, "", 12): 1, (ACROSS, "", 28): 1, (CUT, "", round(log.duration_s - 50)): 1}
    )  # fmt: skip


def test_bouts_that_reach_so_many_passes():
    one = Counter({(LONGEST, "outside", 3): 2, (LONGEST, "outside", 5): 1, (LONGEST, "inside", 9): 4})
    assert [reaching([one, Counter()], "outside", n).tolist() for n in (3, 4, 6)] == [[3, 0], [1, 0], [0, 0]]


def test_a_point_for_passes_is_one_that_nothing_else_gives():
    assert point_for_passes(GAME, "outside") == 3
    assert point_for_passes(GAME, "inside") is None  # the rule is for the others
    (phase,) = GAME.phases
    more = replace_rules(phase.rules[0].model_copy(update={"do": (Score(to="winner", value=1.0),)}), phase.rules[1])
    assert point_for_passes(more, "outside") is None


def replace_rules(*rules):
    (phase,) = GAME.phases
    return GAME.model_copy(update={"phases": (phase.model_copy(update={"rules": rules}),)})


def test_rows_say_how_many_bouts_go_without():
    """Two bouts in which nothing happens, and the square by hand: one run of three passes, which is a point."""
    bouts = [*[counts_of_bout(GAME, Bout(GAME, 0).log())] * 2, counts_of_bout(GAME, square_bout(0, 1))]
    rows = summarise(GAME, [session_of(bouts), session_of([replace(one, replicate=1) for one in bouts])])
    (none,) = [one for one in rows if (one.measure, one.scope) == ("bouts_without_point", "role:outside")]
    assert (none.mean, none.low, none.high) == pytest.approx((2 / 3, 2 / 3, 2 / 3))
    short = {
        int(one.definition.removeprefix("passes: ").split(";")[0]): one.mean
        for one in rows
        if (one.measure, one.scope) == ("bouts_without_run", "role:outside")
    }
    assert short == pytest.approx({1: 2 / 3, 2: 2 / 3, 3: 2 / 3})


def test_waits_without_a_whistle_are_plain_quantiles():
    assert over_by({10: 1, 20: 2, 30: 1, 40: 1}, {}, [0.2, 0.5, 0.8]) == [10, 20, 30]
    assert over_by({}, {30: 2}, [0.5]) == [None]
    assert over_by({}, {}, [0.5]) == [None]


def test_waits_that_the_whistle_cuts_do_not_make_them_look_short():
    """Waits of 30 s on average, watched for 40 s at most: the median of all is 21 s, of those seen to end far less."""
    rng = np.random.default_rng(1)
    drawn, watched = rng.exponential(30.0, 20_000), rng.uniform(0.0, 40.0, 20_000)
    ended = Counter(np.round(drawn[drawn <= watched]).astype(int).tolist())
    cut = Counter(np.round(watched[drawn > watched]).astype(int).tolist())
    assert over_by(ended, cut, [0.5])[0] == pytest.approx(30 * np.log(2), abs=1.0)
    assert np.median(drawn[drawn <= watched]) < 15


def test_each_session_has_its_own_waits():
    one, two = Counter({(ACROSS, "", 10): 3}), Counter({(ACROSS, "", 30): 1, (CUT, "", 50): 1})
    assert waits([one, two]) == (Counter({10: 3, 30: 1}), Counter({50: 1}))
    found = {name: (value, own.tolist()) for name, value, own in waits_by_session([one, two, Counter()])}
    assert found["median"] == (10.0, [10.0, 30.0])
    assert found["p80"] == (30.0, [10.0])  # the second was watched too short for that
