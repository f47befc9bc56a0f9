"""The rotation that is offered shares the roles out evenly after as many bouts as are said, and not before."""

from __future__ import annotations

from collections import Counter

import pytest

from sim.game.loader import load_game
from sim.rules.rotation import starting_roles
from sim.words.evening_out import bouts_until_even, evened_out


def even_after(game, bouts: int) -> bool:
    """Whether all of a team have begun in every role equally often."""
    counted = [Counter() for _ in game.players]
    for bout in range(bouts):
        for i, role in enumerate(starting_roles(game, bout)):
            counted[i][role] += 1
    return all(one == counted[0] for one in counted)


@pytest.mark.parametrize(("name", "bouts"), [("tight-square", 3), ("smaller-ground", 3), ("two-squares", 13)])
def test_it_is_even_after_so_many_bouts_and_not_before(name, bouts):
    game = load_game(name)
    by_list = game.model_copy(update={"bouts": game.bouts.model_copy(update={"rotate": "list"})})
    assert bouts_until_even(game) == bouts
    assert [even_after(by_list, n) for n in range(1, bouts + 1)] == [False] * (bouts - 1) + [True]
    assert "equally often after" in evened_out(game)[0]
    assert evened_out(by_list) == []


@pytest.mark.parametrize("name", ["three-colours", "even-keep-ball", "on-the-line"])
def test_nothing_is_said_where_no_list_could_do_it(name):
    assert evened_out(load_game(name)) == []


def test_it_is_said_in_words_and_not_as_it_is_written_in_a_file():
    (said,) = evened_out(load_game("tight-square"))
    assert said == (
        "To even it out, move down the list between bouts: everybody has begun in every role equally often after three bouts."
    )
