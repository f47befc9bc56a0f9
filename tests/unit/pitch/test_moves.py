"""Starting, changing and recording runs on the arrays of a bout."""

from __future__ import annotations

import numpy as np
import pytest

from sim.pitch import columns as col
from sim.pitch.moves import go, record, where
from tests.support.scenes import field, place
from tests.support.watching import ran, states


def run_to(bout, now: float, start: float, x: float, y: float, through: bool = False) -> None:
    go(bout.P, bout.M, bout.C, bout.G, bout.count, 0, now, start, x, y, 9.0, 1.0, through)


def ready():
    bout = field("amateur men")
    place(bout, [(0.0, 0.0)] + [(60.0, 60.0)] * 5)
    return bout


def test_what_he_was_doing_goes_on_through_his_reaction():
    bout = ready()
    run_to(bout, 0.0, 0.0, 12.0, 0.0)
    before = [where(bout.P, bout.M, 0, t) for t in (1.0, 1.1, 1.29)]
    run_to(bout, 1.0, 1.3, 0.0, 8.0)
    assert [where(bout.P, bout.M, 0, t) for t in (1.0, 1.1, 1.29)] == before
    assert where(bout.P, bout.M, 0, 9.0)[:2] == pytest.approx((0.0, 8.0), abs=0.35)


def test_a_change_of_mind_before_the_start_replaces_the_plan():
    bout, other = ready(), ready()
    run_to(bout, 0.0, 0.3, 12.0, 0.0)
    run_to(bout, 0.0, 0.3, 0.0, 8.0)
    run_to(other, 0.0, 0.3, 0.0, 8.0)
    assert all(where(bout.P, bout.M, 0, t) == where(other.P, other.M, 0, t) for t in (0.2, 0.5, 1.0, 5.0))


def test_recording_twice_records_once_and_players_stay_apart():
    bout = ready()
    run_to(bout, 0.0, 0.0, 12.0, 0.0)
    for _ in range(2):
        record(bout.P, bout.M, bout.C, bout.G, bout.count, 0, 1.0)
    rows = bout.G[: bout.count[0]].copy()
    assert rows[:, 0].tolist() == [0.0] * len(rows)
    assert (rows[:, 2] - rows[:, 1]).sum() == pytest.approx(1.0, abs=1e-12)
    assert bout.P[1, col.LOGGED] == 0.0


def test_many_changes_of_mind_leave_one_whole_path():
    """More plans than a plan has room for, some of them before the last one has begun."""
    bout = ready()
    rng = np.random.default_rng(3)
    for k in range(60):
        x, y = rng.uniform(-10.0, 10.0, 2)
        run_to(bout, 0.05 * k, 0.05 * k + rng.uniform(0.0, 0.4), x, y, bool(k % 2))
    rows = ran(bout, 0, 6.0)
    assert rows[0, 1] == 0.0 and rows[-1, 2] == 6.0
    assert np.array_equal(rows[1:, 1], rows[:-1, 2])
    ends = np.vstack([states(rows[k : k + 1], rows[k : k + 1, 2]) for k in range(len(rows) - 1)])
    assert np.abs(ends[:, :4] - rows[1:, 3:7]).max() < 2e-6


def test_nobody_moves_who_is_where_he_was_sent():
    bout = ready()
    run_to(bout, 0.0, 0.2, 0.0, 0.0)
    assert where(bout.P, bout.M, 0, 5.0) == (0.0, 0.0, 0.0, 0.0)
