"""Live and dead time: a possession of many cycles, then a restart, and so on.

Source: Ross, Introduction to Probability Models (alternating renewal processes: long-run share E[on] / (E[on] + E[off]); Wald's
equation: mean possession time = cycle / q, the pass that fails included).  C-9.21 is its value at p 0.85, a cycle of 1.8 s
and 4 s of changeover.  The rates a clock minute for 3 turnovers an in-play minute and restarts of 2, 5, 8 and 12 s were
computed by us from the same form: 60 / (20 + delay).

15 comparisons at three standard errors; the seeds are fixed.
"""

from __future__ import annotations

import math

import pytest

from sim.measures.event_reducer import reduce_events
from sim.measures.session_counts import counts_of_bout
from sim.measures.summary import summarise
from sim.pitch import restarts
from sim.pitch.chance import constant_success
from tests.theory.games import HOLD_S, bouts, events_of, keep_ball, of_kind, three_errors

P = 0.85
Q = 1.0 - P


def answer(cycle: float, delay: float, count: int, seconds: float) -> dict[str, float]:
    """The answer's figures for a game with this cycle and restart, from `count` bouts."""
    game = keep_ball(3, 1, seconds=seconds, delay=delay)
    outcome = constant_success(P, cycle - HOLD_S)
    rows = summarise(game, [counts_of_bout(game, log) for log in bouts(game, outcome, count)])
    return {row.measure: row.mean for row in rows if row.scope == "game"}


def complaints(figures: dict[str, float], cycle: float, delay: float, watched: float) -> list[str]:
    """Where live share or turnovers a minute are not those of the alternating renewal process."""
    on, off = cycle / Q, delay
    root = math.sqrt(watched / (on + off))  # of the number of turnovers
    sd = cycle * math.sqrt(P) / Q  # of one possession
    share_error = off / (on + off) ** 2 * sd / root
    clock, play = 60.0 / (on + off), 60.0 / on
    return (
        three_errors("live share", figures["in_play_share"], on / (on + off), share_error)
        + three_errors("a clock minute", figures["turnovers_per_clock_min"], clock, clock * sd / (on + off) / root)
        + three_errors("an in-play minute", figures["turnovers_per_min"], play, play * sd / on / root)
    )


@pytest.mark.theory
def test_live_share_and_possession_time():
    # C-9.21: possession 12.0 s, live share 0.75.
    assert 1.8 / Q == pytest.approx(12.0)
    assert complaints(answer(1.8, 4.0, 12, 3600.0), 1.8, 4.0, 12 * 3600.0) == []


@pytest.mark.theory
@pytest.mark.parametrize(
    ("delay", "rate", "share"), [(2.0, 2.73, 0.91), (5.0, 2.40, 0.80), (8.0, 2.14, 0.71), (12.0, 1.88, 0.62)]
)
def test_turnovers_a_clock_minute_against_restart_delay(delay, rate, share):
    # 3 turnovers an in-play minute: 20 s of play between two of them.
    assert (60.0 / (20.0 + delay), 20.0 / (20.0 + delay)) == pytest.approx((rate, share), abs=0.0051)
    assert complaints(answer(3.0, delay, 16, 3600.0), 3.0, delay, 16 * 3600.0) == []


@pytest.mark.theory
def test_walds_equation_holds_possession_by_possession():
    # Every possession takes exactly its passes, the one that fails included, times the cycle.
    game = keep_ball(3, 1, seconds=1200.0, delay=4.0)
    log = next(bouts(game, constant_success(P, 1.8 - HOLD_S), 1))
    runs = [run for run in reduce_events(game, log).possessions.runs if run.side == "outside" and not run.cut]
    assert len(runs) > 50
    for run in runs:
        assert run.in_play_s == pytest.approx(1.8 * (run.passes + 1), abs=1e-9)
        assert run.in_play_s == pytest.approx(run.end_s - run.start_s, abs=1e-9)


@pytest.mark.theory
def test_clocks_add_up_and_restarts_take_what_the_file_says():
    game = keep_ball(3, 1, seconds=600.0, delay=5.0)
    log = next(bouts(game, constant_success(P, 1.0), 1))
    events = events_of(log)
    live = [each["t"] for each in of_kind(events, "live")]
    dead = [each["t"] for each in of_kind(events, "dead")]
    assert [back - gone for gone, back in zip(dead, live[1:], strict=False)] == pytest.approx([5.0] * (len(live) - 1))
    in_play = reduce_events(game, log).exposure.clock
    assert in_play == pytest.approx(sum(off - on for on, off in zip(live, dead, strict=False)))
    assert in_play + 5.0 * (len(live) - 1) == pytest.approx(600.0 - max(0.0, 600.0 - dead[-1]), abs=1e-9)


@pytest.mark.theory
@pytest.mark.parametrize("factor", [0.5, 1.5])
def test_the_check_hears_a_restart_that_takes_another_time(monkeypatch, factor):
    kept = restarts.await_service
    monkeypatch.setattr(
        restarts,
        "await_service",
        lambda bout, to, source, t, spot: kept(bout, to, source, bout.now + factor * (t - bout.now), spot),
    )
    found = complaints(answer(3.0, 8.0, 4, 3600.0), 3.0, 8.0, 4 * 3600.0)
    assert any("live share" in one for one in found) and any("clock minute" in one for one in found)


@pytest.mark.theory
def test_the_check_hears_a_restart_that_never_comes(monkeypatch):
    kept, calls = restarts.serve, []

    def sometimes(bout, name, event):
        calls.append(name)
        if len(calls) % 20:
            kept(bout, name, event)

    monkeypatch.setattr(restarts, "serve", sometimes)
    assert complaints(answer(3.0, 8.0, 2, 3600.0), 3.0, 8.0, 2 * 3600.0) != []
