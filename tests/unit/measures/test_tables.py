"""Tables: fixed levels, columns and types, whatever happened."""

from __future__ import annotations

import pytest

from sim.measures.tables import tables
from tests.unit.measures.handmade import Bout, goals_game, square_bout, square_game

LEVELS = ["event", "pass_run", "defending_spell", "player", "bout", "summary"]


@pytest.fixture(scope="module")
def full():
    return tables(square_game(), [square_bout(0, 0), square_bout(0, 1), square_bout(1, 0)])


def test_levels(full):
    assert list(full) == LEVELS


@pytest.mark.parametrize("logs", [[], [Bout(goals_game()).log()]], ids=["no bout", "a bout without events"])
def test_columns_and_types_are_the_same_when_there_is_nothing(full, logs):
    empty = tables(goals_game(), logs)
    for level in LEVELS:
        assert list(empty[level].columns) == list(full[level].columns)
        assert list(empty[level].dtypes) == list(full[level].dtypes), level
    assert len(empty["pass_run"]) == 0 and len(full["pass_run"]) == 9


def test_tables_agree_with_each_other(full):
    player, bout = full["player"], full["bout"]
    for column in ("touches", "passes", "completed", "distance_m"):
        by_bout = player.groupby(["replicate", "bout"])[column].sum()
        assert by_bout.tolist() == pytest.approx(bout[column].tolist())
    spells = full["defending_spell"].groupby(["replicate", "bout"])["defending_s"].sum()
    assert spells.tolist() == player.groupby(["replicate", "bout"])["defending_s"].sum().tolist()
    causes = [column for column in bout if column.startswith("lost_by_")]
    assert bout[causes].sum(axis=1).tolist() == bout["turnovers"].tolist()
    assert (player.groupby(["replicate", "bout", "player"])["time_s"].sum() == 60).all()


def test_the_summary_takes_bouts_with_one_number_as_one_session(full):
    assert set(full["summary"]["n"]) == {2}
    assert full["summary"]["mean"].notna().any()


def test_events_are_the_log(full):
    log = square_bout(0, 0)
    first = full["event"].query("replicate == 0 and bout == 0")
    assert first["kind"].tolist() == [event[2] for event in log.events]
    assert first["t"].tolist() == [event[0] for event in log.events]
