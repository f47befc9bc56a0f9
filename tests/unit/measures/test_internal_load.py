"""Estimates of internal load: for groups of adults only, labelled, with their own uncertainty in the range of one session."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sim.measures.internal_load import (
    EIGHT_IN_TEN,
    effort_of,
    effort_sd,
    has_minors,
    heart_sd,
    session_minutes,
    widened,
)
from sim.measures.session_counts import counts_of_bout, session_of
from sim.measures.sessions import Sessions
from sim.measures.summary import summarise
from sim.parameters import TABLE
from tests.unit.measures.handmade import Bout, goals_game, grids_game, square_bout, square_game

GAME = square_game()
NAMES = ("mean_heart_rate_estimate", "perceived_effort_estimate", "session_load_estimate")
INTERNAL = ("heart", "effort", "session_load")


def of_population(*populations):
    teams = tuple(
        team.model_copy(update={"population": population, "name": f"squad{i}" if i else "squad"})
        for team in GAME.teams
        for i, population in enumerate(populations)
    )
    return GAME.model_copy(update={"teams": teams})


def session(game, number, late=0.0):
    first = counts_of_bout(game, square_bout(number, 0, late))
    return session_of([first, counts_of_bout(game, square_bout(number, 1, late), before=first)])


def rows_of(game, count=4):
    return summarise(game, [session(game, i, float(i)) for i in range(count)])


def test_adults_have_three_estimates_for_game_teams_and_roles_and_never_for_a_player():
    rows = [row for row in rows_of(GAME) if row.measure in NAMES]
    assert {(row.measure, row.scope.split(":")[0]) for row in rows} == {
        (name, kind) for name in NAMES for kind in ("game", "team", "role")
    } - {("session_load_estimate", "role")}  # nobody has one role for a whole session
    for row in rows:
        assert row.definition.startswith("estimate") and row.measure.endswith("_estimate")
        assert row.clock == "watch" and row.mean is not None


@pytest.mark.parametrize("populations", [("U12",), ("U17 boys",), ("elite men", "U12"), ("U17 boys", "women")])
def test_where_minors_play_there_is_no_heart_rate_no_effort_and_no_load_of_a_session(populations):
    game = of_population(*populations)
    assert has_minors(game)
    rows = rows_of(game)
    assert [row.measure for row in rows if any(word in row.measure for word in INTERNAL)] == []
    assert any(row.measure == "metabolic_power" for row in rows)
    assert not session(game, 0).heart_pct.any()  # not even reckoned


def test_the_games_made_by_hand_are_told_apart():
    assert not has_minors(GAME) and not has_minors(goals_game()) and has_minors(grids_game())


def test_the_uncertainty_of_the_heart_rate_by_propagation():
    """By hand at 80 %: shares of the three constants about 43 points, the value at rest, and the players' own."""
    shared = (80 - 37) * math.sqrt((0.15 / 1.4) ** 2 + (0.04 / 0.88) ** 2 + (3 / 64) ** 2)
    assert heart_sd(80.0, 1) == pytest.approx(math.sqrt(shared**2 + 3**2 + 4**2))
    assert heart_sd(80.0, 4) == pytest.approx(math.sqrt(shared**2 + 3**2 + 2**2))
    assert heart_sd(80.0, 10**9) > 5.0  # what we do not know of all players does not average out


def test_effort_grows_evenly_from_half_to_full_heart_rate():
    assert [effort_of(pct) for pct in (40, 50, 75, 100)] == [0, 0, 5, 10]
    assert effort_sd(5.0, 4) == pytest.approx(math.sqrt(1.0**2 + 0.8**2 + 0.5**2))


def test_the_range_of_one_session_is_widened_in_quadrature_and_the_simulation_error_is_not():
    numbers = widened((80.0, 79.0, 81.0, 77.0, 84.0), 5.0, 0.0, 100.0)
    more = EIGHT_IN_TEN * 5.0
    assert numbers[:3] == (80.0, 79.0, 81.0)
    assert numbers[3] == pytest.approx(80 - math.hypot(3, more)) and numbers[4] == pytest.approx(
        80 + math.hypot(4, more)
    )
    assert widened((95.0, 94.0, 96.0, 93.0, 97.0), 9.0, 0.0, 100.0)[4] == 100.0
    assert widened((80.0, None, None, None, None), 5.0, 0.0, 100.0) == (80.0, None, None, None, None)


def test_more_sessions_do_not_shrink_the_estimates_own_uncertainty():
    def width(count):
        row = next(row for row in rows_of(GAME, count) if (row.measure, row.scope) == (NAMES[0], "game"))
        return row.session_high - row.session_low

    assert min(width(3), width(30)) > 2 * EIGHT_IN_TEN * 3.0


def test_load_is_effort_times_minutes_with_rests():
    """Two bouts of 60 s and 30 s between them: 2.5 min (Foster 1998: effort x minutes)."""
    assert session_minutes(GAME, Sessions([session(GAME, 0)])).tolist() == [2.5]
    rows = {row.measure: row for row in rows_of(GAME) if row.scope == "game"}
    heart, effort, load = (rows[name] for name in NAMES)
    assert effort.mean == pytest.approx(effort_of(heart.mean))
    assert load.mean == pytest.approx(2.5 * effort.mean)
    assert load.session_high - load.mean == pytest.approx(2.5 * (effort.session_high - effort.mean))


def test_load_is_of_what_was_played_where_bouts_end_early():
    """Bouts of 60 s that a rule ends after 20 and 40 s, with the rest of 30 s between them: 1.5 min, not 2.5."""
    short = [cut_at(20.0), cut_at(40.0)]
    first = counts_of_bout(GAME, short[0])
    both = session_of([first, counts_of_bout(GAME, short[1], before=first)])
    rows = {row.measure: row for row in summarise(GAME, [both, replace(both, replicate=1)]) if row.scope == "game"}
    effort, load = (rows[name] for name in NAMES[1:])
    assert rows["bout_length_s"].mean == 30.0
    assert load.mean == pytest.approx(1.5 * effort.mean)
    assert "1.5 on average" in load.definition
    assert load.session_high <= 15.0


def cut_at(seconds):
    """A bout of which only so much was played, everybody at 4 m/s."""
    bout = Bout(GAME, 0, int(seconds > 20))
    for player in GAME.players:
        bout.runs(player.id, player.role, 0, seconds, (4.0, 0.0))
    return bout.log(seconds)


def test_the_heart_rate_goes_on_from_bout_to_bout():
    alone, after = counts_of_bout(GAME, square_bout(0, 1)), session(GAME, 0)
    assert not np.array_equal(alone.heart_pct, after.heart_pct)


def test_harder_work_has_a_higher_heart_rate():
    """By hand: p4 walks at 0.5 m/s, p1 runs at 3 m/s for 50 s of 60."""
    heart = dict(zip(square_bout().players, counts_of_bout(GAME, square_bout()).heart_pct, strict=True))
    assert heart["p1"] > heart["p6"] > heart["p4"]


def test_every_constant_of_the_estimates_is_a_row_of_the_table_with_its_spread():
    names = [name for name in TABLE if name.startswith(("heart_", "effort_", "cost_beyond", "critical_share"))]
    assert len(names) == 10
    assert all(TABLE[name].spread > 0 for name in names)


def test_nothing_speaks_of_risk_or_injury():
    words = " ".join(f"{row.measure} {row.definition}" for row in rows_of(GAME)).lower()
    assert not any(word in words for word in ("risk", "injur", "acute", "chronic"))
