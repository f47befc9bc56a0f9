"""What games give those who are there: laid out for them, on the ground that there is, and played."""

from __future__ import annotations

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.planning.block_loads import loads_of
from sim.planning.kept_loads import Shelf
from sim.weeks.table import COLUMNS, PLAYED_BOUTS, has_room, laid_out, offers

SHORT = [f"bouts.count={PLAYED_BOUTS}", "bouts.seconds=12", "bouts.rest_seconds=6"]


@pytest.fixture(scope="module")
def square():
    return load_game("tight-square", SHORT)


def test_as_many_groups_as_they_fill_in_every_size(square):
    found = laid_out([square], 12)
    assert [(one.size, len(one.groups), one.playing) for one in found] == [(1.0, 2, 12), (1.25, 2, 12)]
    assert [one.groups[0].areas[0].length for one in found] == [11, 14]


def test_who_waits_is_counted_in(square):
    laid = laid_out([square], 7, sizes=(1.0,))[0]
    assert (laid.people, laid.playing) == (7, 6)


def test_what_has_no_room_on_the_ground_is_left_out(square):
    assert laid_out([square], 12, ground=(10.0, 50.0)) == []
    laid = laid_out([square], 12, sizes=(1.0,))[0]
    assert has_room(laid, (22.0, 11.0))
    assert not has_room(laid, (21.0, 11.0))


def test_an_offer_is_what_its_games_give_a_player_and_bout(square):
    laid = laid_out([square], 7, sizes=(1.0,))
    shelf = Shelf()
    offer = offers(laid, shelf, sessions=2, workers=1)[0]
    loads = loads_of([square], shelf, sessions=2, workers=1)[0]
    for measure, columns in COLUMNS.items():
        whole = np.sum([loads.of(name) for name in columns], axis=0)
        assert offer.each[measure] == pytest.approx(whole.mean() / PLAYED_BOUTS * 6 / 7)
        assert offer.spread[measure] == pytest.approx(whole.std() / PLAYED_BOUTS * 6 / 7)
    assert (offer.game, offer.purpose, offer.people, offer.places) == ("tight-square", "keep", 7, ())
    assert offer.bout_min == pytest.approx(0.3)
    assert offer.least * offer.bout_min >= 2.0


def test_a_floater_never_defends_and_whoever_may_be_sent_in_does():
    """Nobody may be sent in by luck not having happened: what counts is the rules."""
    shelf = Shelf()
    game = load_game("even-keep-ball", [f"bouts.count={PLAYED_BOUTS}", "bouts.seconds=6", "bouts.rest_seconds=6"])
    assert (
        offers(laid_out([game], len(game.players), sizes=(1.0,)), shelf, sessions=1, workers=1)[0].places
        == (frozenset(["no defending"]),) * 2
    )
