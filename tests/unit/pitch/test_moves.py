"""Starting, changing and recording runs on the arrays of a bout."""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.scene import Scene, scene
from tests.support.watching import states


def ready() -> Scene:
    return scene().stand((0.0, 0.0))


def test_what_he_was_doing_goes_on_through_his_reaction():
    one = ready()
    one.run(0, 0.0, 0.0, to=(12.0, 0.0))
    before = [one.where(0, t) for t in (1.0, 1.1, 1.29)]
    one.run(0, 1.0, 1.3, to=(0.0, 8.0))
    assert [one.where(0, t) for t in (1.0, 1.1, 1.29)] == before
    assert one.where(0, 9.0)[:2] == pytest.approx((0.0, 8.0), abs=0.35)


def test_a_change_of_mind_before_the_start_replaces_the_plan():
    one, other = ready(), ready()
    one.run(0, 0.0, 0.3, to=(12.0, 0.0))
    one.run(0, 0.0, 0.3, to=(0.0, 8.0))
    other.run(0, 0.0, 0.3, to=(0.0, 8.0))
    assert all(one.where(0, t) == other.where(0, t) for t in (0.2, 0.5, 1.0, 5.0))


def test_recording_twice_records_once_and_players_stay_apart():
    one = ready()
    one.run(0, 0.0, 0.0, to=(12.0, 0.0))
    for _ in range(2):
        one.record(0, 1.0)
    rows = one.recorded()
    assert rows["player"].tolist() == [0] * len(rows)
    assert (rows["t1"] - rows["t0"]).sum() == pytest.approx(1.0, abs=1e-12)
    assert one.players["recorded_until"][1] == 0.0


def test_many_changes_of_mind_leave_one_whole_path():
    """More plans than a plan has room for, some of them before the last one has begun."""
    one = ready()
    rng = np.random.default_rng(3)
    for k in range(60):
        x, y = rng.uniform(-10.0, 10.0, 2)
        one.run(0, 0.05 * k, 0.05 * k + rng.uniform(0.0, 0.4), to=(x, y), through=bool(k % 2))
    rows = one.ran(0, 6.0)
    assert rows["t0"][0] == 0.0 and rows["t1"][-1] == 6.0
    assert np.array_equal(rows["t0"][1:], rows["t1"][:-1])
    ends = np.vstack([states(rows[k : k + 1], rows["t1"][k : k + 1]) for k in range(len(rows) - 1)])
    assert np.abs(ends[:, :4] - np.column_stack([rows[name][1:] for name in ("x", "y", "vx", "vy")])).max() < 2e-6


def test_nobody_moves_who_is_where_he_was_sent():
    one = ready()
    one.run(0, 0.0, 0.2, to=(0.0, 0.0))
    assert one.where(0, 5.0) == (0.0, 0.0, 0.0, 0.0)
