"""The three uncertainties of an answer: error of the simulation, one session, and not knowing the players.

Sessions are as the game is shipped, four bouts of two minutes: 1,200 behind the estimate, 400 fresh ones of another seed with
freshly drawn players.  The share that falls into an 80 % range has a standard error of 2.3 points at this size (2 from the fresh
sessions, 1.2 from the range), and must be 74 to 86 % (a threshold of the project).  With 400 behind the estimate, where the
error is 2.8 points, turnovers came to 0.866 and the other four kept within the limits.

Many sessions have exactly the same value (so many turnovers, each with the same dead time), and the ends of a range are such
values, so that the range holds more than its eighty by what lies on its ends.  A session that lies exactly on an end therefore
counts half (mid-p).
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import pytest

from sim import load_game
from sim.experiments.replicate import replicate
from sim.game.shipped import shipped_games
from sim.measures.basis import Evidence, Setting, basis_of, setting_of
from sim.measures.catalogue import measures
from sim.measures.session_counts import SessionCounts
from sim.measures.sessions import Sessions, groups_of
from sim.measures.summary import summarise
from sim.measures.thresholds import ADULT_MEN
from sim.populations import POPULATIONS

pytestmark = pytest.mark.evidence

FRESH, BEHIND, MANY, FEW = 400, 1200, 400, 100
MEASURES = ("turnovers_per_min", "passes_per_min", "pass_completion", "in_play_share", "distance_per_min")


_known: dict[int, dict[int, SessionCounts]] = defaultdict(dict)  # by seed and number: no session is played twice


def played(count: int, seed: int):
    """That many sessions of the shipped square."""
    game = load_game("tight-square")
    found = replicate(game, game.bouts.count * count, seed, workers=1, known=_known[seed]).sessions
    _known[seed] |= dict(enumerate(found))
    return game, found


def rows_of(game, sessions) -> dict:
    return {row.measure: row for row in summarise(game, sessions) if row.scope == "game" and row.measure in MEASURES}


def values_of(game, sessions: Sessions, measure: str) -> np.ndarray:
    """The measure of each session by itself."""
    (ratio,) = [one for one in measures(sessions.thresholds) if one.measure == measure]
    whole = groups_of(game, sessions)[0]
    return ratio.top(sessions, whole) * ratio.scale / ratio.bottom(sessions, whole)


@pytest.mark.slow
def test_the_range_of_one_session_holds_eight_fresh_sessions_in_ten():
    game, known = played(BEHIND, 11)
    rows, fresh = rows_of(game, known), Sessions(played(FRESH, 12)[1])
    held = {}
    for measure, row in rows.items():
        own = values_of(game, fresh, measure)
        assert len(own) == FRESH
        at_an_end = np.isclose(own, row.session_low, rtol=1e-9) | np.isclose(own, row.session_high, rtol=1e-9)
        within = (row.session_low < own) & (own < row.session_high) & ~at_an_end
        held[measure] = within.mean() + at_an_end.mean() / 2
    assert set(held) == set(MEASURES)
    assert {measure: share for measure, share in held.items() if not 0.74 <= share <= 0.86} == {}


@pytest.mark.slow
def test_more_bouts_shrink_the_error_of_the_mean_and_not_the_range_of_one_session():
    # Four times the sessions halve the first; a tenth of 100 sessions lies beyond either end, so the second wanders a little.
    game, sessions = played(MANY, 11)
    few, many = rows_of(game, sessions[:FEW]), rows_of(game, sessions[:MANY])
    for measure in MEASURES:
        small, large = few[measure], many[measure]
        assert 0.35 < (large.high - large.low) / (small.high - small.low) < 0.65, measure
        assert 0.75 < (large.session_high - large.session_low) / (small.session_high - small.session_low) < 1.33, (
            measure
        )


UNMEASURED = [name for name, preset in POPULATIONS.items() if not preset.measured]


def test_there_are_two_populations_without_a_published_row():
    assert UNMEASURED == ["U12", "mixed adults"]


@pytest.mark.parametrize("population", UNMEASURED)
@pytest.mark.parametrize("name", sorted(shipped_games()))
def test_what_is_said_of_them_is_always_extrapolated(name, population):
    setting = setting_of(load_game(name, population=population))
    assert {basis_of(ratio.measure, setting) for ratio in measures(ADULT_MEN)} == {"extrapolated"}


@pytest.mark.parametrize("population", [*UNMEASURED, "elite men"])
def test_even_a_domain_of_evidence_that_named_them_would_not_count(population):
    everybody = frozenset(POPULATIONS)
    domain = Evidence("keep-ball", (1, 99), (1.0, 999.0), everybody, frozenset({"distance_per_min"}), "none, made up")
    setting = Setting("keep-ball", 8, 50.0, frozenset({population}))
    wanted = "published" if POPULATIONS[population].measured else "extrapolated"
    assert basis_of("distance_per_min", setting, evidence=[domain]) == wanted
    mixed = Setting("keep-ball", 8, 50.0, frozenset({population, "U12"}))
    assert basis_of("distance_per_min", mixed, evidence=[domain]) == "extrapolated"
