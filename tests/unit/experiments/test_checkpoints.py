"""Estimates that go on: saved sessions give every bit back, and a precision ends where it says."""

from __future__ import annotations

import json
import math
from dataclasses import fields, replace

import numpy as np
import pytest

from sim.errors import InputError
from sim.experiments import estimate as estimate_module
from sim.experiments.checkpoints import Checkpoint, read, require_same, written
from sim.experiments.estimate import estimate
from sim.experiments.keeping import LEAST_S, SHARE, NowAndThen
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import replicate
from sim.experiments.stopping_rule import (
    MINIMUM,
    Precision,
    key_measure_of,
    needed,
    next_look,
    precision_of,
    row_of,
    until_narrow,
    width_of,
)
from sim.game.loader import load_game
from sim.measures.session_counts import SessionCounts
from sim.measures.thresholds import limits_of
from tests.unit.experiments.staged import broken_at_2, interrupted_at_3, staged
from tests.unit.measures.handmade import square_game

GAME = square_game(count=3)


@pytest.fixture
def by_hand(monkeypatch):
    """Estimates of sessions made by hand."""

    def play(session=staged):
        def of_session(*args, **kwargs):
            return replicate(*args, **kwargs, session=session)

        monkeypatch.setattr(estimate_module, "replicate", of_session)

    play()
    return play


def saved_of(tmp_path, bouts: int, **more) -> Checkpoint:
    place = tmp_path / "saved.npz"
    estimate(GAME, bouts, 5, 1, keep=lambda saved: place.write_bytes(written(saved)), **more)
    return read(place, "--extend")


def same(one: SessionCounts, other: SessionCounts) -> bool:
    return all(
        np.array_equal(getattr(one, field.name), getattr(other, field.name))
        and type(getattr(one, field.name)) is type(getattr(other, field.name))
        for field in fields(SessionCounts)
    )


def test_every_bit_comes_back(tmp_path, by_hand):
    saved = saved_of(tmp_path, 60)
    fresh = replicate(GAME, 60, 5, 1, session=staged).sessions
    assert len(saved.sessions) == 20 and saved.asked == 60
    assert all(same(saved.sessions[one.replicate], one) for one in fresh)


@pytest.mark.parametrize("parts", [(40, 40), (7, 73), (1, 1, 78), (40, 41)])
def test_some_today_and_some_tomorrow_equal_all_at_once(tmp_path, by_hand, parts):
    saved = None
    for more in parts:
        result = estimate(GAME, more, 5, 1, saved=saved)
        saved = saved_of(tmp_path, more, saved=saved)
    whole = estimate(GAME, sum(parts), 5, 1)
    assert result == whole and result.to_json() == whole.to_json()


def test_what_was_interrupted_is_filled(tmp_path, by_hand):
    by_hand(interrupted_at_3)
    saved = saved_of(tmp_path, 60)
    assert (len(saved.sessions), saved.asked) == (3, 0)
    by_hand(staged)
    assert estimate(GAME, 60, 5, 1, saved=saved) == estimate(GAME, 60, 5, 1)
    holes = replace(saved, sessions={0: saved.sessions[0], 2: saved.sessions[2]})
    assert estimate(GAME, 60, 5, 1, saved=holes) == estimate(GAME, 60, 5, 1)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda made: made | {"seed": 6}, r"the same --seed \(got 6 there, 5 here\)"),
        (lambda made: made | {"version": "0.0.1"}, r"the same version of the program \(got 0.0.1 there, "),
        (lambda made: made | {"engine": "x"}, r"same version of the program, down to its sources \(got x there"),
        (lambda made: made | {"format": 9}, "the same layout"),
        (lambda made: made | {"libraries": {"numpy": "0"}}, r"same versions of the libraries \(got another numba, numpy, simpy\)"),
        (lambda made: made | {"game": made["game"] | {"title": "x"}}, r"be of the same game, .* \(got another title\)"),
        (lambda made: made | {"parameters": made["parameters"] | {"tackle_win": 0.9}}, r"assumptions \(got another tackle_win\)"),
    ],
)  # fmt: skip
def test_other_sessions_are_refused(tmp_path, by_hand, change, message):
    saved = saved_of(tmp_path, 6)
    with pytest.raises(InputError, match="--extend: must .*" + message):
        estimate(GAME, 6, 5, 1, saved=replace(saved, made=change(saved.made)))


def test_every_difference_is_named_at_once():
    made = made_of(GAME, 1, provenance_of(limits_of(GAME)))
    with pytest.raises(InputError) as refused:
        require_same(made | {"seed": 3, "version": "x"}, made, "--extend")
    assert len(refused.value.problems) == 2
    require_same(json.loads(json.dumps(made)), made, "--extend")


@pytest.mark.parametrize("data", [b"", b"{}", b"PK\x03\x04 something"])
def test_anything_else_is_no_saved_file(tmp_path, data):
    place = tmp_path / "other.npz"
    place.write_bytes(data)
    with pytest.raises(InputError, match="--extend: must be a file that --save wrote"):
        read(place, "--extend")
    np.savez(place.with_suffix(".more.npz"), about=np.array("{}"))
    with pytest.raises(InputError, match="must be a file that --save wrote"):
        read(place.with_suffix(".more.npz"), "--extend")
    with pytest.raises(InputError, match="which is no file"):
        read(tmp_path / "nowhere.npz", "--extend")


def test_the_rule_of_relative_error():
    """C-9.9: Law, Simulation Modeling and Analysis, ch. 9: g / (1 + g)."""
    assert (needed(0.05), needed(0.10)) == pytest.approx((0.047619, 0.090909), abs=1e-6)


def test_looks_are_taken_where_the_spread_asks():
    assert next_look(20, 2 * needed(0.05), 0.05, 1000) == 40  # four times as many, but at most as many again
    assert next_look(100, 1.2 * needed(0.05), 0.05, 1000) == 144
    assert next_look(100, 1.01 * needed(0.05), 0.05, 1000) == 110
    assert next_look(100, math.inf, 0.05, 150) == 150


def test_a_precision_is_met_with_a_minimum_and_said(by_hand):
    wanted = Precision(0.05, "in_play_share", "game", 4000)
    result = estimate(GAME, 1, 5, 1, precision=wanted)
    row = result.row("in_play_share")
    assert (row.high - row.low) / 2 / row.mean <= needed(0.05) and row.n >= MINIMUM
    assert result.cautions[0] == f"As precise as asked: in_play_share to within 5 %, after {row.n} sessions."
    assert estimate(GAME, 1, 5, 2, precision=wanted) == result


def test_a_budget_that_is_spent_is_said(by_hand):
    result = estimate(GAME, 1, 5, 1, precision=Precision(0.0001, "in_play_share", "game", 99))
    assert result.bouts == 99
    assert result.cautions[0].startswith("Not as precise as asked: in_play_share only within ")
    assert result.cautions[0].endswith(" instead of 0.01 %, and the budget of 99 bouts is spent.")
    with pytest.raises(InputError, match="budget must be at least two sessions, 6 bouts"):
        estimate(GAME, 1, 5, 1, precision=Precision(0.1, "in_play_share", "game", 5))


def test_a_measure_must_be_one_of_the_answer(by_hand):
    with pytest.raises(InputError, match=r"--measure: must name one of: passes_per_min, .* \(got luck\)"):
        estimate(GAME, 1, 5, 1, precision=Precision(0.1, "luck", "game", 99))


def test_the_rule_covers_nearly_as_often_as_it_says():
    """600 sequential estimates of a known ratio, 10 %: the value is within 10 % of the truth in 92 % at least.

    Stopping when the interval happens to be narrow costs a little (Law, ch. 9, reports 0.9 and more at 95 %).
    """
    rng, right, sizes = np.random.default_rng(3), 0, []
    base = replicate(GAME, 3, 5, 1, session=staged)
    wanted = Precision(0.10, "in_play_share", "game", 30_000)
    for _ in range(600):
        values = rng.gamma(4, 7.5, 3000)  # mean 30, standard deviation half of that

        def play(n, values=values):
            many = [
                replace(base.sessions[0], replicate=i, in_play_s=float(values[i]), duration_s=60.0) for i in range(n)
            ]
            return replace(base, sessions=tuple(many), wanted=n)

        played = walk(wanted, play)
        found = sum(one.in_play_s for one in played.sessions) / len(played.sessions)
        right += abs(found / 30.0 - 1) <= 0.10
        sizes.append(len(played.sessions))
    assert right / 600 >= 0.92
    assert 60 < np.mean(sizes) < 160  # (1.96 x 0.5 / 0.0909)^2 = 116


def walk(wanted, play):
    """`until_narrow` with the one measure worked out directly, because all measures of 600 estimates would take long."""
    from sim.measures.intervals import mean_interval

    sessions = MINIMUM
    while True:
        played = play(sessions)
        mean, low, high = mean_interval([one.in_play_s for one in played.sessions])
        if (high - low) / 2 / mean <= needed(wanted.share):
            return played
        sessions = next_look(sessions, (high - low) / 2 / mean, wanted.share, 3000)


@pytest.mark.parametrize(
    ("game", "measure"),
    [
        ("tight-square", "turnovers_per_min"),
        ("two-squares", "transfers_per_min"),
        ("break-away", "break_aways_per_bout"),
    ],
)
def test_the_headline_is_what_the_game_is_about(game, measure):
    assert key_measure_of(load_game(game)) == measure


@pytest.mark.parametrize(
    ("text", "share"), [("5%", 0.05), ("5 %", 0.05), ("5", 0.05), ("0.05%", 0.0005), ("12.5%", 0.125)]
)
def test_a_precision_as_typed(text, share):
    assert precision_of(text, None, 100, GAME) == Precision(share, "turnovers_per_min", "game", 100)
    assert precision_of(text, "distance_per_min.inside", 9, GAME).scope == "role:inside"


@pytest.mark.parametrize("text", ["0%", "x", "100%", "-5%", "nan"])
def test_no_precision(text):
    with pytest.raises(InputError, match="--precision: must be a share between 0 and 100 %, such as 5%"):
        precision_of(text, None, 100, GAME)


def test_a_precision_that_could_be_read_in_two_ways_is_refused():
    with pytest.raises(InputError, match=r"--precision: must say which per cent, 5 or 0\.05 %\?"):
        precision_of("0.05", None, 100, GAME)


def test_a_width_that_cannot_be_told_is_infinite():
    played = replicate(GAME, 30, 5, 1, session=staged)
    row = row_of(GAME, played, Precision(0.1, "in_play_share", "game", 100))
    assert width_of(replace(row, mean=None)) == width_of(replace(row, mean=0.0)) == math.inf
    assert width_of(replace(row, mean=2.0, low=1.5, high=2.5)) == 0.25
    _, line = until_narrow(GAME, Precision(0.5, "break_aways_per_bout", "game", 90), 1, lambda n: played)
    assert "not known how far off" in line


def test_a_run_that_ended_early_goes_on_as_if_it_had_not(by_hand):
    taken: list[Checkpoint] = []
    by_hand(interrupted_at_3)
    estimate(GAME, 60, 5, 1, keep=taken.append)
    by_hand(staged)
    begun = taken[-1]
    assert (len(begun.sessions), begun.asked) == (3, 0)
    assert estimate(GAME, 60, 5, 1, begun=begun, keep=taken.append) == estimate(GAME, 60, 5, 1)
    assert (len(taken[-1].sessions), taken[-1].asked) == (20, 60)
    assert estimate(GAME, 9, 5, 1, begun=taken[-1], keep=taken.append) == estimate(GAME, 9, 5, 1)
    assert (len(taken[-1].sessions), taken[-1].asked) == (20, 60), "what is kept and not asked for stays kept"
    precise = Precision(0.05, "in_play_share", "game", 4000)
    assert estimate(GAME, 1, 5, 1, begun=begun, precision=precise) == estimate(GAME, 1, 5, 1, precision=precise)
    with pytest.raises(InputError, match="--save: must have the same --seed"):
        estimate(GAME, 60, 6, 1, begun=begun)


def test_sessions_are_kept_as_they_are_played(by_hand, monkeypatch):
    monkeypatch.setattr("sim.experiments.keeping.LEAST_S", 0.0)
    monkeypatch.setattr("sim.experiments.keeping.SHARE", 0)
    taken: list[tuple[int, int]] = []
    estimate(GAME, 30, 5, 1, keep=lambda saved: taken.append((len(saved.sessions), saved.asked)))
    assert taken == [*((n, 0) for n in range(1, 11)), (10, 30)], "asked for is what has been played to the end"


def test_keeping_takes_a_twentieth_of_the_time_at_most():
    now, done = [0.0], []

    def keep() -> None:
        done.append(now[0])
        now[0] += 1.0  # it takes a second

    often = NowAndThen(keep, lambda: now[0])
    for _ in range(1000):
        now[0] += 0.1
        often()
    assert done[0] == pytest.approx(LEAST_S, abs=0.11)
    assert min(b - a for a, b in zip(done, done[1:], strict=False)) >= SHARE


def test_a_bug_on_the_way_keeps_what_is_finished(by_hand):
    taken: list[Checkpoint] = []
    by_hand(broken_at_2)
    with pytest.raises(ZeroDivisionError):
        estimate(GAME, 60, 5, 1, keep=taken.append)
    assert sorted(taken[-1].sessions) == [0, 1]
