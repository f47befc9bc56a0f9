"""The three uncertainties of an answer: error of the simulation, one session, and not knowing the players.

The long form, `python -m tests.evidence.test_uncertainties`, three minutes of processor time: sessions as the game is shipped,
four bouts of two minutes, 1,200 behind the estimate, 400 fresh ones of another seed with freshly drawn players.  The share that
falls into an 80 % range has a standard error of 2.3 points at this size (2 from the fresh sessions, 1.2 from the range), and must
be 74 to 86 % (a threshold of the project).  What it came to is kept, and must be of this engine.

The short form, played every time: bouts of half a minute, 400 sessions behind and 400 fresh.  The error is 2.8 points (2 from
either), the limits are 71.5 to 88.5 %, three errors each way: of ranges that hold 65 or 95 sessions in a hundred it hears 19 in
20, of those that hold 75 or 85 hardly any.  Its sessions have few turnovers, so turnovers and the share in play
have few values (`COARSE`), one of which may hold a fifth of all sessions: of these two the long form tells.

Many sessions have exactly the same value (so many turnovers, each with the same dead time), and the ends of a range are such
values, so that the range holds more than its eighty by what lies on its ends.  A session that lies exactly on an end therefore
counts half (mid-p).
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest

from sim import load_game
from sim.experiments.replicate import replicate
from sim.game.model import Game
from sim.measures.basis import Evidence, Setting, basis_of, setting_of
from sim.measures.catalogue import measures
from sim.measures.session_counts import SessionCounts
from sim.measures.sessions import Sessions, groups_of
from sim.measures.summary import Measure, summarise
from sim.measures.thresholds import ADULT_MEN
from sim.populations import POPULATIONS
from tests.support.games import GAMES as SIX
from tests.support.kept import keep, kept, require_fresh

pytestmark = pytest.mark.evidence

NAME = "uncertainties"
LONG, SHORT = (1200, 400), (400, 400)  # sessions behind the estimate, fresh ones
LONG_LIMITS, SHORT_LIMITS = (0.74, 0.86), (0.715, 0.885)
MANY, FEW = 400, 100
BEHIND_SEED, FRESH_SEED = 11, 12
ASKED = {"sessions": LONG, "many and few": (MANY, FEW), "seeds": (BEHIND_SEED, FRESH_SEED)}
COARSE = ("turnovers_per_min", "in_play_share")
FINE = ("passes_per_min", "pass_completion", "distance_per_min")
MEASURES = (*COARSE, *FINE)


def played(game: Game, count: int, seed: int, workers: int = 1) -> list[SessionCounts]:
    """So many sessions."""
    return replicate(game, game.bouts.count * count, seed, workers=workers).sessions


def rows_of(game: Game, sessions: list[SessionCounts]) -> dict[str, Measure]:
    return {row.measure: row for row in summarise(game, sessions) if row.scope == "game" and row.measure in MEASURES}


def values_of(game: Game, sessions: Sessions, measure: str) -> np.ndarray:
    """The measure of each session by itself."""
    (ratio,) = [one for one in measures(sessions.thresholds) if one.measure == measure]
    whole = groups_of(game, sessions)[0]
    return ratio.top(sessions, whole) * ratio.scale / ratio.bottom(sessions, whole)


def shares_held(game: Game, behind: list[SessionCounts], fresh: list[SessionCounts]) -> dict[str, float]:
    """By measure: the share of fresh sessions in the range of one session."""
    held = {}
    for measure, row in rows_of(game, behind).items():
        own = values_of(game, Sessions(fresh), measure)
        at_an_end = np.isclose(own, row.session_low, rtol=1e-9) | np.isclose(own, row.session_high, rtol=1e-9)
        within = (row.session_low < own) & (own < row.session_high) & ~at_an_end
        held[measure] = float(within.mean() + at_an_end.mean() / 2)
    assert set(held) == set(MEASURES)
    return held


def widths(game: Game, sessions: list[SessionCounts]) -> dict[str, tuple[float, float]]:
    """By measure: (interval of the mean, range of one session) with `MANY` sessions over those with `FEW`."""
    few, many = rows_of(game, sessions[:FEW]), rows_of(game, sessions[:MANY])
    return {
        measure: (
            (many[measure].high - many[measure].low) / (few[measure].high - few[measure].low),
            (many[measure].session_high - many[measure].session_low)
            / (few[measure].session_high - few[measure].session_low),
        )
        for measure in MEASURES
    }


def beyond(held: Mapping[str, float], limits: tuple[float, float]) -> dict[str, float]:
    return {measure: share for measure, share in held.items() if not limits[0] <= share <= limits[1]}


def require_shrunk(found: Mapping[str, tuple[float, float]], of_a_session: tuple[str, ...]) -> None:
    """Four times the sessions halve the first; a tenth of 100 sessions lies beyond either end, so the second wanders a little."""
    for measure, (mean, session) in found.items():
        assert 0.35 < mean < 0.65, measure
        assert measure not in of_a_session or 0.75 < session < 1.33, measure


@pytest.mark.slow
def test_the_range_of_one_session_holds_eight_fresh_sessions_in_ten_and_more_bouts_do_not_narrow_it():
    game = load_game("tight-square", ["bouts.minutes=0.5"])
    behind, fresh = (played(game, *one) for one in zip(SHORT, (BEHIND_SEED, FRESH_SEED), strict=True))
    held = shares_held(game, behind, fresh)
    assert beyond({measure: held[measure] for measure in FINE}, SHORT_LIMITS) == {}
    require_shrunk(widths(game, behind), FINE)


def test_the_long_form_is_of_this_engine():
    require_fresh(NAME, ASKED)


def test_in_the_long_form_it_does_so_for_every_measure():
    found = kept(NAME)
    assert set(found["held"]) == set(found["widths"]) == set(MEASURES)
    assert beyond(found["held"], LONG_LIMITS) == {}
    require_shrunk(found["widths"], MEASURES)


UNMEASURED = [name for name, preset in POPULATIONS.items() if not preset.measured]


def test_there_are_two_populations_without_a_published_row():
    assert UNMEASURED == ["U12", "mixed adults"]


@pytest.mark.parametrize("population", UNMEASURED)
@pytest.mark.parametrize("name", SIX)
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


if __name__ == "__main__":
    square = load_game("tight-square")
    known, new = (played(square, *one, workers=2) for one in zip(LONG, (BEHIND_SEED, FRESH_SEED), strict=True))
    keep(NAME, ASKED, {"held": shares_held(square, known, new), "widths": widths(square, known)})
