"""The columns of a tally are a contract: what is printed is read back by these names in this order."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.own_counts.columns import COLUMNS, COUNTS, MOST_COUNTS, columns_of, counts_of

WORTH = {
    "tight-square": ("losses", "wins", "longest_run"),
    "two-squares": ("losses", "wins", "reached"),
    "home-grids": ("losses", "longest_run", "reached"),
    "break-away": ("losses", "reached", "goals"),
    "even-goals": ("losses", "outs", "goals"),
    "even-keep-ball": ("losses", "longest_run", "reached"),
}


def test_the_columns_are_what_was_agreed():
    agreed = "date bout minutes clock losses wins outs passes longest_run reached goals changed players"
    assert tuple(agreed.split()) == COLUMNS and COLUMNS[4:11] == COUNTS


@pytest.mark.parametrize("name", WORTH)
def test_at_most_three_are_counted_and_the_columns_keep_their_order(name: str):
    game = load_game(name)
    assert counts_of(game) == WORTH[name] and len(WORTH[name]) <= MOST_COUNTS
    columns = columns_of(game)
    assert columns == tuple(one for one in COLUMNS if one in columns)
    assert set(columns) == set(COLUMNS) - set(COUNTS) | set(WORTH[name])
