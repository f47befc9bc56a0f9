"""The engine reads its constants by place: the names in capitals must stand in the order of the table."""

from __future__ import annotations

import pytest

from sim.pitch import assumptions, columns
from sim.pitch.assumptions import ENGINE
from sim.pitch.setup import constants


def test_every_place_has_the_name_of_its_row():
    names = [row.name for row in ENGINE]
    assert len(set(names)) == len(names)
    assert [getattr(assumptions, name.upper()) for name in names] == list(range(len(names)))


def test_replaced_constants_stand_in_their_place_and_no_other():
    usual, changed = constants(), constants({"replan": 0.4})
    assert changed[assumptions.REPLAN] == 0.4
    assert [k for k in range(len(ENGINE)) if usual[k] != changed[k]] == [assumptions.REPLAN]


@pytest.mark.parametrize("row", ENGINE, ids=lambda row: row.name)
def test_judgements_are_marked_and_carry_a_range(row):
    assert row.provenance == "judgement" or (row.provenance == "open data" and "computed from" in row.note)
    assert row.low <= row.value <= row.high and row.low < row.high


def test_columns_of_the_ball_and_of_players_do_not_overlap():
    ball = [columns.MODE, columns.BX, columns.HOLDER, columns.PX0, columns.AIM, columns.FRAME_X, columns.AG_SIDEWAYS]
    assert len(set(ball)) == len(ball) and max(ball) < columns.BALL_COLUMNS
    players = [columns.VMAX, columns.DUEL, columns.SIDE, columns.SPREAD, columns.BUSY, columns.SHAPEY, columns.RESERVE]
    assert len(set(players)) == len(players) and max(players) < columns.PLAYER_COLUMNS
