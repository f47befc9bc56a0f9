"""Who begins which bout by the list: as the engine moves the roles, once round; of teams and keepers only where there are any."""

from __future__ import annotations

import re

from sim.game.loader import load_game
from sim.rules.rotation import starting_roles
from sim.words.down_the_list import moving_down

LIST = "bouts.rotate=list"


def test_who_begins_inside_is_printed_bout_by_bout_as_it_is_played():
    game = load_game("hunt-in-turn")
    said = moving_down(game)
    assert said.startswith(
        "Between bouts the roles move down the list. Inside players in bout 1: 6 and 7; bout 2: 1 and 2;"
    )
    rows = re.findall(r"bout (\d+): (\d+) and (\d+)", said)
    assert len(rows) == game.bouts.count
    for bout, *two in rows:
        roles = starting_roles(game, int(bout) - 1)
        assert {
            str(player.number) for player, role in zip(game.players, roles, strict=True) if role == "inside"
        } == set(two)


def test_the_list_is_printed_once_round():
    said = moving_down(load_game("hunt-in-turn", ["bouts.count=9"]))
    assert said.count("bout ") == 7 and said.endswith("bout 7: 4 and 5; then from the top again.")


def test_teams_and_keepers_are_named_where_there_are_any():
    assert (
        moving_down(load_game("even-goals", [LIST]))
        == "Between bouts the roles move down the list of each team, keepers apart."
    )
